//! The pages, one topic a file. Each registers its routes.

mod calculators;
mod order;
mod order_head;
mod orders;

use crate::assets;
use crate::routes::Routes;

/// Registers the routes of a topic.
type Topic = fn(Routes) -> Routes;

/// Every topic.
pub(crate) const TOPICS: &[Topic] = &[assets::routes, calculators::routes, orders::routes];
pub(crate) const TOPICS: &[Topic] = &[assets::routes, orders::routes, order::routes];

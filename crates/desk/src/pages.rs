//! The pages, one topic a file. Each registers its routes.

mod catalog;
mod order_head;
mod orders;
mod settings;

use crate::assets;
use crate::routes::Routes;

/// Registers the routes of a topic.
type Topic = fn(Routes) -> Routes;

/// Every topic.
pub(crate) const TOPICS: &[Topic] = &[assets::routes, orders::routes, catalog::routes, settings::routes];

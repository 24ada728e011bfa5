//! The pages, one topic a file. Each registers its routes.

mod calculators;
mod health;
mod order_head;
mod orders;
mod simulator;

use crate::{api, assets};
use crate::routes::Routes;

/// Registers the routes of a topic.
type Topic = fn(Routes) -> Routes;

/// Every topic.
pub(crate) const TOPICS: &[Topic] = &[assets::routes, api::routes, calculators::routes, orders::routes, health::routes, simulator::routes];

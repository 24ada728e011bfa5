//! The pages, one topic a file. Each registers its routes.

mod account;
mod accounts;
mod calculators;
mod catalog;
mod export;
mod health;
mod import;
mod order;
mod order_compare;
mod order_drawings;
mod order_floor;
mod order_head;
mod order_history;
pub(crate) mod order_leaf;
mod order_messages;
mod order_move;
mod order_papers;
mod order_photos;
mod orders;
mod second_entry;
mod settings;
mod sign_in;
mod simulator;

pub(crate) use settings::weakened;

use crate::assets;
use crate::routes::Routes;

/// Registers the routes of a topic.
type Topic = fn(Routes) -> Routes;

/// Every topic.
pub(crate) const TOPICS: &[Topic] = &[
    assets::routes,
    sign_in::routes,
    account::routes,
    accounts::routes,
    calculators::routes,
    orders::routes,
    order::routes,
    order_move::routes,
    order_papers::routes,
    order_drawings::routes,
    order_messages::routes,
    order_photos::routes,
    catalog::routes,
    settings::routes,
    order_history::routes,
    order_compare::routes,
    order_floor::routes,
    second_entry::routes,
    import::routes,
    export::routes,
    crate::api::routes,
    health::routes,
    simulator::routes,
];

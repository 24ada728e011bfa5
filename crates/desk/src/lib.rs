//! The desk: pages, forms and the JSON interface over the order book.
//!
//! [`Desk`] holds what every page needs; [`router`] gives its pages, [`serve`] answers requests until it is told to stop.
//! Everything that is shown about an order comes from `axle::review`; the desk adds no logic of its own. It reads no clock: the
//! time comes in through [`DeskOptions`].
//!
//! Every page stands in `pages/`, one topic a file, and registers its routes with who may use them ([`table`]). What
//! is not registered cannot be reached, and the table of routes that the tests walk through is that of the registration.

mod answering;
mod api;
mod assets;
mod desk;
mod door;
mod effects;
mod error;
mod files;
mod folder_watch;
mod forwarding;
mod marks;
mod measuring;
mod pages;
mod presence;
mod printing;
mod rate;
mod rereviewing;
mod reviewing;
mod routes;
mod rows;
mod security;
mod serve;
mod shell;
mod shop;
mod simulating;
mod viewer;
mod words;

pub use desk::{Access, Clock, Desk, DeskOptions, HOST};
pub use error::DeskError;
pub use routes::{Entry, Who, table};
pub use serve::{Patience, Tls, TlsFiles, serve};
pub use simulating::even_numbers;

use axum::Router;
use axum::middleware;
use tower_http::compression::CompressionLayer;

/// The pages of a desk.
pub fn router(desk: Desk) -> Router {
    let routes = routes::all(desk.clone());
    let observed = middleware::from_fn_with_state(desk.clone(), measuring::observe);
    let seen_through = middleware::from_fn_with_state(desk.clone(), forwarding::see_through);
    security::layered(desk, routes.into_router()).layer(observed).layer(seen_through).layer(CompressionLayer::new())
}

//! The papers of an order, set as PDF.
//!
//! A [`Job`] is an order with its review and everything that the papers need beside it: the shop, date, revision, paper and
//! approval. Each paper is a struct in [`pages`] and a template of the same name in `templates/`; a [`Press`] sets them, one
//! by one or as a packet. Nothing here does I/O or reads a clock: the same job gives the same bytes.

mod found;
mod frame;
mod job;
pub mod pages;
mod paper;
mod press;
mod printable;
mod qr;
mod shop;
mod wording;
mod world;

pub use found::{Found, FoundWhat};
pub use frame::Frame;
pub use job::{Approval, Job, PageSize};
pub use paper::{PAPERS, Paper};
pub use press::{Press, PressError, Pressed, TemplateFault};
pub use shop::{Logo, LogoKind, PAGE_SIZES, PAPER_UNITS, PaperUnits, Shop, ShopDetails, read_shop};
pub use wording::{closeness, held_to, over_pins, size};

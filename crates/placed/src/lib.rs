//! Reads TOML so that every fault in a file is reported at once, with its place and what would be
//! accepted.
//!
//! [`Document::parse`] takes a text and always gives a document. A [`TableReader`] takes keys from it
//! one by one, an [`Item`] turns a value into text, number, date or length. None of them stops at a
//! fault: it goes into the document's list, and [`Document::outcome`] gives the value or all
//! [`Faults`].
//!
//! Nothing here opens a file; the name of the file is only for the faults.

mod date;
mod document;
mod fault;
mod item;
mod item_quantity;
mod mended_text;
mod node;
mod position;
mod string_places;
mod syntax;
mod syntax_message;
mod table_reader;

pub use date::Date;
pub use document::Document;
pub use fault::{Fault, Faults};
pub use item::Item;
pub use position::Position;
pub use table_reader::TableReader;

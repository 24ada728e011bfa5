//! A shop's folder on disk, in the one place that reads and writes it: `*.toml` files of the catalog, `shop.toml`, the logo
//! that it names, and `templates/*.typ`.
//!
//! What is wrong comes back as data ([`Problem`]), so that the command line can print it and the desk can show it beside the
//! field. Writing goes through a lock and a file that replaces the old one whole: a reader sees the old text or the new one, and
//! of two writers the second sees what the first has written.

mod catalog_files;
mod letterhead;
mod lock;
mod logo;
mod mark;
mod problem;
mod text_file;

pub use catalog_files::{catalog_texts, load_catalog, load_catalog_by_hand, toml_files};
pub use letterhead::{LoadedShop, load_shop};
pub use lock::FolderLock;
pub use logo::{LARGEST_LOGO, LOGO_ACCEPTED, check_logo};
pub use mark::FolderMark;
pub use problem::{Problem, Problems};
pub use text_file::{Unreadable, read, replace, words_for, words_for_writing, write};

//! The desk as people meet it: the built program, with a book of its own in a temporary folder, in a real browser.
//!
//! The browser is Chromium without a screen, driven through `chromedriver` (Debian: `chromium` and `chromium-driver`; `./test`
//! installs them). Nothing waits for a fixed time: what is expected is asked for again and again until it is so, or until a
//! limit that is far longer than a loaded machine needs.

#![allow(clippy::unwrap_used, clippy::panic, reason = "the functions that the tests share fail like the tests")]

mod addresses;
mod browser;
mod orders;
mod page;
mod pictures;
mod program;
mod rules;
mod waiting;

mod before_saving;
mod correction;
mod drafts;
mod entry;
mod every_page;
mod floor;
mod life;
mod list;
mod looks;
mod second_entry;
mod two_desks;
mod without_scripts;

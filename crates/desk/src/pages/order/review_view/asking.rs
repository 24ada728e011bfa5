//! A question to the customer, to be read over before it is written down.

use maud::{Markup, html};

use super::super::entered::SAY;
use super::Address;

/// The fold-out with the words of a question, which says what it is about where nothing above it does. They go into the messages as they then stand; nothing is sent.
pub(super) fn asking(address: Address<'_>, key: &str, about: Option<&str>, words: &str) -> Markup {
    let name = format!("{SAY}{key}");
    html! {
        details .asking id={ "asking-" (key) } {
            summary { "Ask the customer" @if let Some(about) = about { span .unseen { ": " (about) } } }
            label { "Written down word for word; the desk sends nothing" textarea name=(name) { (words) } }
            button formaction={ (address) "/ask" } name="chosen" value=(name) { "Write it down" }
        }
    }
}

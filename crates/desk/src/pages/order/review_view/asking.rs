//! A question to the customer, to be read over before it is written down.

use maud::{Markup, html};

use super::super::entered::SAY;
use super::Address;

/// The fold-out with the words of a question. They go into the messages as they then stand; nothing is sent.
pub(super) fn asking(address: Address<'_>, key: &str, about: &str, words: &str) -> Markup {
    let name = format!("{SAY}{key}");
    html! {
        details .asking id={ "asking-" (key) } {
            summary { "Ask the customer" span .unseen { ": " (about) } }
            label for=(name) { "The message, word for word" }
            textarea id=(name) name=(name) rows="4" { (words) }
            p .buttons {
                button formaction={ (address) "/ask" } name="chosen" value=(name) { "Write it down" span .unseen { ": " (about) } }
                span .soft { "The desk sends nothing by itself." }
            }
        }
    }
}

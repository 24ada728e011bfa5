//! The record: who signed in or tried to, and the end of the log.

use axum::extract::State;
use book::{Event, SignIn, SignInOutcome};
use maud::{Markup, html};
use serde_json::Value;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words;

/// So many of each are shown.
const SHOWN: i64 = 100;
/// So many letters of one of the particulars of an event.
const PARTICULAR: usize = 120;
/// Digests have so many hexadecimal digits.
const DIGEST: usize = 64;

pub(super) async fn page(State(desk): State<Desk>, viewer: Viewer) -> Result<Markup, DeskError> {
    let sign_ins = desk.book().sign_ins(SHOWN, &viewer.person()).await?;
    let events = desk.book().latest_events(SHOWN).await?;
    let body = html! {
        div .bar { h1 { "Who signed in, what happened" } a .button href="/accounts" { "Accounts" } }
        section .card {
            h2 { "Sign-ins" }
            @if sign_ins.is_empty() { p .soft { "Nobody has signed in yet." } } @else {
                div .scroll tabindex="0" role="group" aria-label="Sign-ins, table" { table .happenings {
                    thead { tr { th { "When" } th { "Name" } th { "From" } th { "What became of it" } } }
                    tbody { @for one in &sign_ins { (sign_in(one)) } }
                } }
            }
        }
        section .card {
            h2 { "The end of the log" }
            p .soft { "Every event is chained to the one before it; " code { "axlewright book check" } " walks the chain. Times are in UTC." }
            div .scroll tabindex="0" role="group" aria-label="End of the log, table" { table .happenings {
                thead { tr { th .number { "No." } th { "When" } th { "Who" } th { "What" } th .number { "Order" } th { "Particulars" } } }
                tbody { @for one in &events { (event(one)) } }
            } }
        }
    };
    Ok(shell::page(&viewer, Place::Settings, "Who signed in, what happened", &body))
}

fn sign_in(one: &SignIn) -> Markup {
    let refused = !matches!(one.outcome, SignInOutcome::SignedIn | SignInOutcome::SignedOut);
    html! {
        tr {
            td .moment { (words::time(one.at)) }
            td { (one.name) }
            td data-label="from" { (one.address) }
            td { @if refused { span .fault { (one.outcome.words()) } } @else { (one.outcome.words()) } }
        }
    }
}

fn event(one: &Event) -> Markup {
    let particulars = particulars(&one.body);
    html! {
        tr {
            td .number data-label="No." { (one.sequence) }
            td .moment { (words::time(one.at)) }
            td { (one.who) }
            td { (one.kind.words()) }
            td .number data-label="order" { @if let Some(order) = one.order { a href={ "/orders/" (order) } { (order) } } }
            td .particulars {
                @for (at, (key, value)) in particulars.told.iter().enumerate() {
                    @if at > 0 { "\u{a0}· " } (key) "\u{a0}" span .said { (value) }
                }
                @if !particulars.is_whole {
                    details { summary { "as it is kept" } code { (one.body.to_string()) } }
                }
            }
        }
    }
}

/// What an event says beyond its kind.
struct Particulars {
    told: Vec<(String, String)>,
    /// Whether nothing was left out that has a meaning.
    is_whole: bool,
}

/// The particulars in words. Digests and what is empty say nothing to people.
fn particulars(body: &Value) -> Particulars {
    let mut particulars = Particulars { told: Vec::new(), is_whole: true };
    let Some(body) = body.as_object() else {
        return Particulars { told: Vec::new(), is_whole: false };
    };
    for (key, value) in body {
        // A chance is written here as on every other page.
        let chance = value.as_f64().filter(|_| key == "fit").map(words::percent);
        let Some(words) = chance.or_else(|| value_in_words(value)) else {
            particulars.is_whole &= value.is_null() || value.as_str() == Some("");
            continue;
        };
        let mut shown: String = words.chars().take(PARTICULAR).collect();
        if shown.len() < words.len() {
            shown.push('…');
            particulars.is_whole = false;
        }
        // States of an order are kept by their keys.
        if matches!(key.as_str(), "from" | "to") {
            shown = shown.replace('-', " ");
        }
        particulars.told.push((key.replace('_', " ").replace("rereview", "re-review"), shown));
    }
    particulars
}

/// A value in words; none for digests, for what is empty, and for what has parts.
fn value_in_words(value: &Value) -> Option<String> {
    match value {
        Value::Null | Value::Object(_) => None,
        Value::Bool(flag) => Some(if *flag { "yes" } else { "no" }.to_owned()),
        Value::Number(number) => {
            Some(number.as_f64().filter(|_| number.is_f64()).map_or_else(|| number.to_string(), figures))
        }
        Value::String(text) => {
            let is_digest = text.len() == DIGEST && text.bytes().all(|byte| byte.is_ascii_hexdigit());
            (!text.is_empty() && !is_digest).then(|| text.clone())
        }
        Value::Array(list) => {
            let words: Option<Vec<String>> = list.iter().map(value_in_words).collect();
            words.filter(|words| !words.is_empty()).map(|words| words.join(", "))
        }
    }
}

/// A number with as many decimals as say something here; the text as it is kept has them all.
fn figures(number: f64) -> String {
    let text = format!("{number:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::particulars;

    #[test]
    fn particulars_are_words_without_digests_and_nothing_is_lost() {
        let told =
            particulars(&json!({"revision": 2, "due": null, "overruled": false, "sheet_sha256": "a1".repeat(32)}));
        assert_eq!(
            told.told,
            [("revision", "2"), ("overruled", "no")].map(|(key, value)| (key.to_owned(), value.to_owned())).to_vec()
        );
        assert!(!told.is_whole);
        let told =
            particulars(&json!({"verdicts_changed": 0, "fit": 0.994_888_833_185, "contact": "", "catalog": null}));
        let told_of = |key: &str| told.told.iter().find(|(known, _)| known == key).map(|(_, value)| value.as_str());
        assert_eq!((told_of("verdicts changed"), told_of("fit"), told.told.len()), (Some("0"), Some("99.4\u{a0}%"), 2));
        assert!(told.is_whole);
        assert!(!particulars(&json!({"reason": "x".repeat(500)})).is_whole);
        assert!(!particulars(&json!({"sizes": {"overall length": 3}})).is_whole);
    }
}

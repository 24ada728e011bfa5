//! The form of a row: one entry for each key of its file, in words as people write them, with what is wrong beside it.

use std::collections::BTreeMap;

use maud::{Markup, html};
use toml_edit::Value;

use crate::rows::{Field, Kind, PlacedFaults, Shape, accepted_form, called, label, paths_of, shown_of, texts_of};
use crate::words::{capitalised, sentence};

use super::key_words;

/// What was entered: the name of each entry with its text.
pub(crate) type Entered = BTreeMap<String, String>;

/// The four phrases of a source.
const SOURCES: [&str; 4] = ["shop: ", "common practice, no source", "from memory, check", "invented for the demo"];

/// The list that entries of a source choose from.
pub(crate) fn source_choices() -> Markup {
    html! { datalist #sources { @for source in SOURCES { option value=(source) {} } } }
}

/// What is entered for a row.
pub(super) fn entered_of(kind: &Kind, fields: &crate::rows::Fields) -> Entered {
    let mut entered = Entered::new();
    for field in kind.fields {
        let value = fields.iter().find(|(key, _)| key == field.key).map(|(_, value)| value);
        entered.extend(paths_of(field).into_iter().zip(texts_of(field, value)));
    }
    entered
}

/// The entries of one key.
pub(crate) fn field_entry(
    field: &Field,
    entered: &Entered,
    meaning: Option<&str>,
    below: Option<&Value>,
    faults: &PlacedFaults,
    row: &str,
) -> Markup {
    let paths = paths_of(field);
    let key = field.key;
    let label = label(key);
    // What stands there tells a size from words where the key alone does not, as in the settings.
    let shipped = below.and_then(Value::as_str).unwrap_or_default();
    let sample = |path: &str| match shipped {
        "" => entered.get(path).map(String::as_str).unwrap_or_default(),
        shipped => shipped,
    };
    html! {
        div .field .wide[matches!(field.shape, Shape::Words | Shape::Entries | Shape::List | Shape::Shares | Shape::Part(_))] {
            @if paths.len() == 1 {
                @let path = paths.first().map(String::as_str).unwrap_or_default();
                label for={ "entry-" (path) } { (label) @if field.optional { span .soft { " (may be left out)" } } }
                (entry(field, path, entered, faults, row))
                (hint(key, meaning, below, field, sample(path)))
                (entry_faults(faults, row, path))
            } @else {
                fieldset aria-describedby={ "hint-" (key) } {
                    legend { (label) @if field.optional { span .soft { " (may be left out)" } } }
                    div .entries-in-row {
                        @for path in &paths {
                            @let part = path.rsplit('.').next().unwrap_or_default();
                            div {
                                label for={ "entry-" (path) } { (part_label(field, part)) }
                                (entry(field, path, entered, faults, row))
                                @if let Some(how) = part_form(field, part) { span .hint { (how) } }
                                (entry_faults(faults, row, path))
                            }
                        }
                    }
                    (hint(key, meaning, below, field, ""))
                    (entry_faults(faults, row, key))
                }
            }
        }
    }
}

pub(super) fn part_words(field: &Field, part: &str) -> String {
    match (field.shape, part) {
        (Shape::Spread, "deviation") => "one standard deviation".to_owned(),
        (Shape::Range, "least") => "smallest".to_owned(),
        (Shape::Range, "most") => "largest".to_owned(),
        _ => called(part),
    }
}

/// The same over its entry: symbols stay as they are.
fn part_label(field: &Field, part: &str) -> String {
    if matches!(field.shape, Shape::Part(_)) { label(part) } else { capitalised(&part_words(field, part)) }
}

/// Unit and form of one part of a key that has parts of its own.
fn part_form(field: &Field, part: &str) -> Option<&'static str> {
    let Shape::Part(parts) = field.shape else { return None };
    accepted_form(parts.iter().find(|one| one.key == part)?, "")
}

fn entry(field: &Field, path: &str, entered: &Entered, faults: &PlacedFaults, row: &str) -> Markup {
    let text = entered.get(path).map(String::as_str).unwrap_or_default();
    let id = format!("entry-{path}");
    let wrong = (faults.of(row, path).next().is_some()).then_some("true");
    let described = match wrong {
        Some(_) => format!("hint-{} fault-{path}", field.key),
        None => format!("hint-{}", field.key),
    };
    html! {
        @match field.shape {
            Shape::Choice(words) => {
                select id=(id) name=(path) aria-invalid=[wrong] aria-describedby=(described) {
                    option value="" selected[text.is_empty()] { @if field.optional { "left out" } @else { "choose" } }
                    @for word in words { option value=(word) selected[*word == text] { (word) } }
                    @if !text.is_empty() && !words.contains(&text) { option value=(text) selected { (text) } }
                }
            }
            Shape::Flag => {
                select id=(id) name=(path) aria-invalid=[wrong] aria-describedby=(described) {
                    option value="" selected[text.is_empty()] { "left out" }
                    option value="yes" selected[text == "true" || text == "yes"] { "yes" }
                    option value="no" selected[text == "false" || text == "no"] { "no" }
                }
            }
            Shape::Words | Shape::List | Shape::Entries | Shape::Shares => {
                textarea id=(id) name=(path) rows="4" aria-invalid=[wrong] aria-describedby=(described) { (text) }
            }
            _ => {
                input id=(id) name=(path) value=(text) autocomplete="off" aria-invalid=[wrong] aria-describedby=(described)
                    list=[path.ends_with("source").then_some("sources")]
                    inputmode=[matches!(field.shape, Shape::Number).then_some("decimal")];
            }
        }
    }
}

fn hint(key: &str, meaning: Option<&str>, below: Option<&Value>, field: &Field, sample: &str) -> Markup {
    let how = accepted_form(field, sample);
    html! {
        span .hint id={ "hint-" (key) } {
            @if let Some(meaning) = meaning {
                // A comment of the settings ends in a stop, which a semicolon takes the place of.
                @if how.is_some() { (meaning.trim_end_matches('.')) "; " } @else { (meaning) }
            }
            @if let Some(how) = how { (how) }
            @if let Some(below) = below { span .below { "shipped: " (shown_of(key, below)) } }
        }
    }
}

/// What is wrong with an entry.
pub(crate) fn entry_faults(faults: &PlacedFaults, row: &str, path: &str) -> Markup {
    html! {
        @for fault in faults.of(row, path) {
            span .fault id={ "fault-" (path) } { (sentence(&fault.problem)) " " span .accepted { "Accepted: " (fault.accepted) } }
        }
    }
}

/// An entry within a list of faults: `Race offset, mean`.
fn entry_words(path: &str) -> String {
    let bare = path.split('[').next().unwrap_or_default();
    match bare.split_once('.') {
        Some((key, part)) => format!("{}, {}", label(key), called(part)),
        None => label(bare),
    }
}

/// What is wrong and belongs to no entry of the form.
pub(crate) fn faults_elsewhere(faults: &PlacedFaults, row: &str, paths: &[String]) -> Markup {
    let has_entry = |path: &str| {
        paths
            .iter()
            .any(|known| path == known || path.strip_prefix(known.as_str()).is_some_and(|rest| rest.starts_with('[')))
    };
    let (at_entries, stray): (Vec<_>, Vec<_>) =
        faults.placed.iter().partition(|fault| fault.row == row && has_entry(&fault.path));
    // A key with several entries has none of its own name: its first one stands for it.
    let entry_of = |path: &str| {
        let bare = path.split('[').next().unwrap_or_default();
        let within =
            |known: &&String| known.strip_prefix(bare).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
        paths.iter().find(within).map_or_else(|| bare.to_owned(), Clone::clone)
    };
    if faults.is_empty() {
        return html! {};
    }
    html! {
        div .notice .bad role="alert" {
            p { strong { "Nothing was saved. " }
                @match faults.placed.len() + faults.elsewhere.len() { 1 => "One thing has to be put right first.", many => { (many) " things have to be put right first." } } }
            @if !at_entries.is_empty() {
                ul {
                    @for fault in at_entries {
                        li { a href={ "#entry-" (entry_of(&fault.path)) } { (entry_words(&fault.path)) } ": " (fault.problem) }
                    }
                }
            }
            @for fault in stray {
                p { @if fault.row != row { (fault.row) ": " } @if !fault.path.is_empty() { (key_words(&fault.path)) ": " }
                    (sentence(&fault.problem)) " " span .accepted { "Accepted: " (fault.accepted) } }
            }
            @for fault in &faults.elsewhere {
                p { code { (fault.file) ":" (fault.line) ":" (fault.column) } " " (sentence(&fault.problem)) " "
                    span .accepted { "Accepted: " (fault.accepted) } }
            }
        }
    }
}

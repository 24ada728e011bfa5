//! What a change of the catalog changes from what to what, before it is saved.

use maud::{Markup, html};
use toml_edit::Value;

use crate::rows::{Kind, Layers, Row, label, same_value, shown_of};

use super::shown_name;

/// So many values are listed; an import of a whole table has more.
const SHOWN: usize = 60;

/// One value that changes.
struct Changed<'r> {
    row: &'r str,
    key: &'r str,
    was: Option<&'r Value>,
    becomes: Option<&'r Value>,
}

/// The rows of a kind as they would be with another text of the shop's own file.
pub(super) fn layers_with(kind: &Kind, files: &[(String, String)], text: &str) -> Layers {
    let is_own = |path: &str| path.rsplit(['/', '\\']).next() == Some(kind.file);
    let mut files: Vec<(String, String)> = files.to_vec();
    match files.iter_mut().find(|(path, _)| is_own(path)) {
        Some((_, stands)) => text.clone_into(stands),
        None => files.push((kind.file.to_owned(), text.to_owned())),
    }
    Layers::of(kind, &files)
}

/// Every value that changes, row by row, with what it is now and what it would be.
pub(super) fn changed_values(kind: &Kind, now: &Layers, then: &Layers) -> Markup {
    let found = found(now, then);
    if found.is_empty() {
        return html! {};
    }
    html! {
        section .card {
            h2 { "What is changed" }
            div .scroll tabindex="0" role="group" aria-label="What is changed, table" {
                table .effects {
                    thead { tr { th { "Row" } th { "What" } th { "Now" } th { "With the change" } } }
                    tbody {
                        @for (at, one) in found.iter().take(SHOWN).enumerate() {
                            @let again = at.checked_sub(1).and_then(|before| found.get(before)).is_some_and(|before| before.row == one.row);
                            tr .again[again] {
                                th scope="row" { @if again { span .unseen { (shown_name(kind, one.row)) } } @else { (shown_name(kind, one.row)) } }
                                td { (label(one.key)) }
                                td data-label="now" { (value(one.key, one.was)) }
                                td data-label="with the change" { (value(one.key, one.becomes)) }
                            }
                        }
                    }
                }
            }
            @if found.len() > SHOWN { p .soft { "The first " (SHOWN) " of " (found.len()) " values." } }
        }
    }
}

fn value(key: &str, value: Option<&Value>) -> Markup {
    html! { @match value { Some(value) => (shown_of(key, value)), None => span .soft { "–" } } }
}

fn found<'r>(now: &'r Layers, then: &'r Layers) -> Vec<Changed<'r>> {
    let counting = |layers: &'r Layers, name: &str| layers.row(name).filter(|row| row.counts());
    let mut found = Vec::new();
    for row in then.rows.iter().filter(|row| row.counts()) {
        differences(&row.name, counting(now, &row.name), Some(row), &mut found);
    }
    for row in now.rows.iter().filter(|row| row.counts()) {
        if counting(then, &row.name).is_none() {
            differences(&row.name, Some(row), None, &mut found);
        }
    }
    found
}

fn differences<'r>(name: &'r str, now: Option<&'r Row>, then: Option<&'r Row>, found: &mut Vec<Changed<'r>>) {
    let keys = then.into_iter().chain(now).flat_map(|row| row.fields.iter().map(|(key, _)| key.as_str()));
    let mut seen: Vec<&str> = Vec::new();
    for key in keys.filter(|key| *key != "remove") {
        if seen.contains(&key) {
            continue;
        }
        seen.push(key);
        let (was, becomes) = (now.and_then(|row| row.value(key)), then.and_then(|row| row.value(key)));
        let is_same = match (was, becomes) {
            (Some(was), Some(becomes)) => same_value(was, becomes),
            (was, becomes) => was.is_none() && becomes.is_none(),
        };
        if !is_same {
            found.push(Changed { row: name, key, was, becomes });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{changed_values, found, layers_with};
    use crate::rows::{Layers, kind_at};

    #[test]
    fn what_changes_is_told_from_what_to_what() {
        let kind = kind_at("bearings").unwrap();
        let now = Layers::of(kind, &[]);
        let text = "[[bearing]]\nname = \"35x72x17 ball\"\nweight = 3\nsource = \"shop: counted\"\n";
        let then = layers_with(kind, &[], text);
        let changed = found(&now, &then);
        assert_eq!(changed.iter().map(|one| one.key).collect::<Vec<_>>(), ["weight", "source"]);
        let page = changed_values(kind, &now, &then).into_string();
        assert!(page.contains("<td data-label=\"now\">2</td><td data-label=\"with the change\">3</td>"), "{page}");
        assert!(found(&now, &now).is_empty());
        let without = "[[bearing]]\nname = \"35x72x17 ball\"\nremove = true\n";
        let gone = layers_with(kind, &[], without);
        assert!(found(&now, &gone).iter().all(|one| one.row == "35x72x17 ball" && one.becomes.is_none()));
    }
}

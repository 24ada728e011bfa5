//! Names that a sheet may only use where the catalog holds them.

use placed::Item;
use quantity::nearest_word;

/// So many names are listed in a fault; of more only the number is said.
const LISTED: usize = 14;

/// The name that `item` states, one of `known`. `what` is the singular word for what the names stand for.
pub(super) fn known_name<'n>(item: &Item<'_>, what: &str, known: impl Iterator<Item = &'n str>) -> Option<String> {
    let name = item.text()?;
    let known: Vec<&str> = known.collect();
    if known.contains(&name) {
        return Some(name.to_owned());
    }
    let nearest = nearest_word(name, known.iter().copied());
    let hint = nearest.map_or_else(String::new, |nearest| format!(", did you mean {nearest:?}?"));
    item.fault(format!("the catalog holds no {what} {name:?}{hint}"), accepted(what, &known));
    None
}

/// Which names would have been accepted.
fn accepted(what: &str, known: &[&str]) -> String {
    if known.is_empty() {
        format!("nothing yet: the catalog holds no {what}")
    } else if known.len() > LISTED {
        format!("the name of a {what}: the catalog holds {}", known.len())
    } else {
        known.iter().map(|name| format!("{name:?}")).collect::<Vec<_>>().join(", ")
    }
}

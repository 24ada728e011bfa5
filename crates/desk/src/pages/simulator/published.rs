//! The simulations of docs/simulation.md, read out of that very file, so that page and document cannot part.

use maud::{Markup, html};

use super::tables::{Tenth, Way, calibration, handlings};

const DOCUMENT: &str = include_str!("../../../../../docs/simulation.md");

/// One published simulation.
#[derive(Debug, Clone, PartialEq)]
struct Published {
    /// `20000 simulated orders, full sheets, seed 1`.
    title: String,
    tenths: Vec<Tenth>,
    ways: Vec<Way>,
}

/// What was published, the largest simulation first.
pub(super) fn section() -> Markup {
    html! {
        section aria-labelledby="published-title" {
            h2 #published-title { "What was published with this program" }
            p .soft { "With the shipped catalog. docs/simulation.md holds the same numbers with the commands that print them anew, what they "
                "show of people who measure worse than the catalog says, and which goals are not reached." }
            @for one in published() {
                article .card.printed {
                    h3 { (one.title) }
                    (calibration(&one.tenths))
                    (handlings(&one.ways))
                }
            }
        }
    }
}

fn published() -> Vec<Published> {
    let mut found: Vec<Published> = Vec::new();
    for line in DOCUMENT.lines() {
        let line = line.trim();
        if line.contains(" simulated orders, ") && line.starts_with(|first: char| first.is_ascii_digit()) {
            found.push(Published { title: line.to_owned(), tenths: Vec::new(), ways: Vec::new() });
        }
        let Some(last) = found.last_mut() else { continue };
        last.tenths.extend(tenth(line));
        last.ways.extend(way(line));
    }
    found
}

/// `90 to 100 %   11795   94.9 %   95.4 %  95.0 % to 95.8 %  +0.5 points`.
fn tenth(line: &str) -> Option<Tenth> {
    let words: Vec<&str> = line.split_whitespace().filter(|word| *word != "%").collect();
    match words[..] {
        [from, "to", _, orders, stated, came_true, low, "to", high, off, ..] => Some(Tenth {
            from: from.parse().ok()?,
            orders: orders.parse().ok()?,
            stated: stated.parse().ok()?,
            came_true: came_true.parse().ok()?,
            band: (low.parse().ok()?, high.parse().ok()?),
            // `+0.5 points`, or `too few`.
            off: off.parse().ok(),
        }),
        _ => None,
    }
}

/// `the classical tests  10936  1663 (15.21 %)  11495  2222 (19.33 %)`.
fn way(line: &str) -> Option<Way> {
    let names = ["this review", "the classical tests", "no check at all"];
    let (name, rest) = names.iter().find_map(|name| Some((*name, line.strip_prefix(name)?)))?;
    let numbers: Vec<usize> = rest.split_whitespace().filter_map(|word| word.parse().ok()).collect();
    match numbers[..] {
        [cut, wrong, good, held] => Some(Way { name: name.to_owned(), cut, wrong, good, held }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::published;

    #[test]
    fn every_published_simulation_is_read_whole() {
        let found = published();
        assert_eq!(found.len(), 3);
        for one in &found {
            assert_eq!((one.tenths.len(), one.ways.len()), (10, 3), "{}", one.title);
        }
        assert!(found.iter().all(|one| one.tenths.iter().all(|tenth| tenth.band.0 <= tenth.came_true)));
    }
}

//! What somebody types into the search, taken apart into terms.

use axle::DimensionKind;
use quantity::{LengthExt, LengthUnit, Notation, WrittenLength, read_length};

use super::words::{folded, query_word};
use crate::reviewed::nanometres;

/// One thing that an order must have to be found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Term {
    /// A word that begins like this.
    Word(String),
    /// A decided size of one of these kinds, within one of these windows in nanometres, ends included.
    Size { kinds: Vec<DimensionKind>, windows: Vec<(i64, i64)> },
}

/// The most words of one size: `29 1/32 in`.
const MOST_RUNS_OF_A_SIZE: usize = 3;
/// The most terms that are looked for; what is typed behind them is left out of the search.
pub(crate) const MOST_TERMS: usize = 8;

/// Takes a query apart. A size is one where the words before it name a dimension, from its first letters on: `shoulder 2.85`,
/// `overall length 29 1/32"`, `journal 40 mm`. Everything else is words.
pub(crate) fn terms_of(query: &str) -> Vec<Term> {
    let runs: Vec<&str> = query.split_whitespace().collect();
    let mut terms = Vec::new();
    let mut index = 0;
    while index < runs.len() && terms.len() < MOST_TERMS {
        if let Some((term, used)) = size_at(&runs[index..]) {
            terms.push(term);
            index += used;
            continue;
        }
        let word = query_word(runs[index]);
        if !word.is_empty() {
            terms.push(Term::Word(word));
        }
        index += 1;
    }
    terms
}

/// A size at the beginning of the runs, with how many of them it takes.
fn size_at(runs: &[&str]) -> Option<(Term, usize)> {
    // The most words that name a dimension stand before the number, so the longest name wins.
    let names = runs.iter().take_while(|run| run.starts_with(char::is_alphabetic)).count();
    if names == 0 {
        return None;
    }
    let kinds = kinds_named(&runs[..names]);
    if kinds.is_empty() {
        return None;
    }
    let behind = &runs[names..];
    for used in (1..=MOST_RUNS_OF_A_SIZE.min(behind.len())).rev() {
        let windows = windows_of(&behind[..used].join(" "));
        if !windows.is_empty() {
            return Some((Term::Size { kinds, windows }, names + used));
        }
    }
    None
}

/// The dimensions whose words begin like these, each of them one of its words.
fn kinds_named(names: &[&str]) -> Vec<DimensionKind> {
    let names: Vec<String> = names.iter().map(|name| folded(name)).collect();
    DimensionKind::all()
        .filter(|kind| {
            let mut words = kind.key().split('_');
            names.iter().all(|name| words.any(|word| word.starts_with(name.as_str())))
        })
        .collect()
}

/// The windows that a written size stands for. A number without a unit is looked for in inches and in millimetres; no shaft has a
/// dimension for which both could be meant.
fn windows_of(text: &str) -> Vec<(i64, i64)> {
    let mut windows: Vec<(i64, i64)> = [LengthUnit::Inch, LengthUnit::Millimetre]
        .into_iter()
        .filter_map(|unit| read_length(text, Some(unit)).ok())
        .map(|written| window(&written))
        .collect();
    windows.dedup();
    windows
}

/// Half of the last written digit, or of the written fraction, to either side: `2.85` stands for 2.845 to 2.855.
fn window(written: &WrittenLength) -> (i64, i64) {
    let last = match written.notation() {
        Notation::Whole => 1.0,
        Notation::Decimal { places } => 10_f64.powi(-i32::from(places)),
        Notation::Fraction { denominator } => 1.0 / f64::from(denominator),
    };
    let half = 0.5 * last * written.unit().times(1.0).millimetres();
    let middle = written.value().millimetres();
    (nanometres(middle - half), nanometres(middle + half))
}

#[cfg(test)]
mod tests {
    use axle::DimensionKind;

    use super::{Term, terms_of};

    #[test]
    fn a_size_behind_the_beginning_of_a_name_is_a_size() {
        let Term::Size { kinds, windows } = &terms_of("shoulder 2.85")[0] else { panic!("no size") };
        assert_eq!(kinds, &[DimensionKind::ShoulderDistance]);
        // 2.845 in to 2.855 in, and 2.845 mm to 2.855 mm.
        assert_eq!(windows, &[(72_263_000, 72_517_000), (2_845_000, 2_855_000)]);
    }

    #[test]
    fn a_fraction_and_a_unit_belong_to_the_size() {
        let terms = terms_of("hay overall length 29 1/32 in");
        // `hay` names no dimension, so the first words are words.
        assert_eq!(terms[0], Term::Word("hay".to_owned()));
        let Term::Size { kinds, windows } = &terms[1] else { panic!("{terms:?}") };
        assert_eq!(kinds, &[DimensionKind::OverallLength]);
        // 29 1/32 in is 737.39375 mm; half of 1/32 in is 0.396875 mm.
        assert_eq!(windows, &[(736_996_875, 737_790_625)]);
    }

    #[test]
    fn what_names_no_dimension_is_words() {
        assert_eq!(terms_of("drum 10"), [Term::Word("drum".to_owned()), Term::Word("10".to_owned())]);
        assert_eq!(terms_of("Q-01 --"), [Term::Word("q01".to_owned())]);
        assert_eq!(terms_of("shoulder"), [Term::Word("shoulder".to_owned())]);
        assert_eq!(terms_of(""), []);
    }
}

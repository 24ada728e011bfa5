//! The readings as they stood with a revision, out of the history of their changes, and two such sets in pairs.

use book::ReadingChange;
use catalog::Measurand;

/// One reading as it stood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stood {
    pub measurand: String,
    pub side: String,
    pub words: String,
}

/// A reading of two sets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pair {
    pub measurand: String,
    pub side: String,
    pub was: Option<String>,
    pub becomes: Option<String>,
}

/// The readings that stood with a revision.
pub(super) fn at(changes: &[ReadingChange], revision: i64) -> Vec<Stood> {
    let mut stood: Vec<Stood> = Vec::new();
    for change in changes.iter().filter(|change| change.revision <= revision) {
        let place = change.was.as_ref().and_then(|was| {
            stood
                .iter()
                .position(|one| one.measurand == change.measurand && one.side == change.side && one.words == *was)
        });
        match (place, &change.becomes) {
            (Some(place), Some(becomes)) => stood[place].words.clone_from(becomes),
            (Some(place), None) => {
                stood.remove(place);
            }
            (None, Some(becomes)) => stood.push(Stood {
                measurand: change.measurand.clone(),
                side: change.side.clone(),
                words: becomes.clone(),
            }),
            (None, None) => {}
        }
    }
    stood
}

/// Both sets reading by reading, in the order of a sheet. Of several readings of the same thing those that agree are paired first.
pub(super) fn pairs(old: &[Stood], new: &[Stood]) -> Vec<Pair> {
    let mut left: Vec<&Stood> = old.iter().collect();
    let mut rows: Vec<Pair> = Vec::new();
    let mut open: Vec<&Stood> = Vec::new();
    let row = |one: &Stood, was: Option<&Stood>, becomes: Option<&Stood>| Pair {
        measurand: one.measurand.clone(),
        side: one.side.clone(),
        was: was.map(|was| was.words.clone()),
        becomes: becomes.map(|becomes| becomes.words.clone()),
    };
    for one in new {
        match left.iter().position(|old| *old == one) {
            Some(place) => {
                let was = left.remove(place);
                rows.push(row(one, Some(was), Some(one)));
            }
            None => open.push(one),
        }
    }
    for one in open {
        let place = left.iter().position(|old| old.measurand == one.measurand && old.side == one.side);
        let was = place.map(|place| left.remove(place));
        rows.push(row(one, was, Some(one)));
    }
    rows.extend(left.into_iter().map(|one| row(one, Some(one), None)));
    rows.sort_by_key(|row| {
        (Measurand::from_key(&row.measurand).map_or(usize::MAX, Measurand::index), row.side.clone())
    });
    rows
}

#[cfg(test)]
mod tests {
    use super::{Stood, pairs};

    fn stood(measurand: &str, side: &str, words: &str) -> Stood {
        Stood { measurand: measurand.to_owned(), side: side.to_owned(), words: words.to_owned() }
    }

    #[test]
    fn what_agrees_is_paired_before_what_differs() {
        let old = [stood("overall_length", "left", "30 in"), stood("overall_length", "left", "31 in")];
        let new = [stood("overall_length", "left", "31 in"), stood("overall_length", "left", "32 in")];
        let rows = pairs(&old, &new);
        assert_eq!(rows.len(), 2);
        assert_eq!((rows[0].was.as_deref(), rows[0].becomes.as_deref()), (Some("31 in"), Some("31 in")));
        assert_eq!((rows[1].was.as_deref(), rows[1].becomes.as_deref()), (Some("30 in"), Some("32 in")));
    }

    #[test]
    fn what_is_new_and_what_is_gone_stands_alone() {
        let rows = pairs(&[stood("reach", "left", "1 in")], &[stood("reach", "right", "1 in")]);
        assert_eq!(rows.iter().filter(|row| row.was.is_none()).count(), 1);
        assert_eq!(rows.iter().filter(|row| row.becomes.is_none()).count(), 1);
    }
}

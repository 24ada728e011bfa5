//! Which known word a mistyped one was probably meant to be.

/// The known word nearest to a word that is not known, or nothing where none is near.
///
/// Near means that a third of the letters at most, and one at least, were changed, left out, put in
/// or swapped with their neighbour (the distance of Damerau, Communications of the ACM 7 (1964)
/// 171-176, in its form without overlapping swaps). Of several equally near, one that begins with the
/// same letter is preferred, then the first, so the answer hangs on the order of the words alone.
///
/// ```
/// use quantity::nearest_word;
/// assert_eq!(nearest_word("lenght", ["width", "length"]), Some("length"));
/// assert_eq!(nearest_word("colour", ["width", "length"]), None);
/// ```
pub fn nearest_word<'w>(word: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let letters: Vec<char> = word.chars().take(LONGEST).collect();
    let mut nearest: Option<((usize, bool), &'w str)> = None;
    for candidate in known {
        let candidate_letters: Vec<char> = candidate.chars().take(LONGEST).collect();
        let longer = letters.len().max(candidate_letters.len());
        let allowed = (longer / 3).max(1);
        // One letter changed in a word of one letter is another word.
        if longer < 2 || letters.len().abs_diff(candidate_letters.len()) > allowed {
            continue;
        }
        let distance = edits(&letters, &candidate_letters);
        let rank = (distance, letters.first() != candidate_letters.first());
        if distance <= allowed && nearest.is_none_or(|(best, _)| rank < best) {
            nearest = Some((rank, candidate));
        }
    }
    nearest.map(|(_, candidate)| candidate)
}

/// Longer words are compared by their beginning only, so that a wild text costs little.
const LONGEST: usize = 64;

/// The number of single edits that turn one row of letters into the other.
fn edits(from: &[char], to: &[char]) -> usize {
    let width = to.len() + 1;
    let mut before_last: Vec<usize> = vec![0; width];
    let mut last: Vec<usize> = (0..width).collect();
    for (row, letter) in from.iter().enumerate() {
        let mut current = vec![row + 1; width];
        for (column, other) in to.iter().enumerate() {
            let change = last[column] + usize::from(letter != other);
            let mut best = change.min(last[column + 1] + 1).min(current[column] + 1);
            let swapped =
                row > 0 && column > 0 && from[row - 1] == *other && to[column - 1] == *letter && letter != other;
            if swapped {
                best = best.min(before_last[column - 1] + 1);
            }
            current[column + 1] = best;
        }
        before_last = std::mem::replace(&mut last, current);
    }
    last[to.len()]
}

#[cfg(test)]
mod tests {
    use super::{edits, nearest_word};

    fn distance(from: &str, to: &str) -> usize {
        let from: Vec<char> = from.chars().collect();
        let to: Vec<char> = to.chars().collect();
        edits(&from, &to)
    }

    #[test]
    fn single_edits_count_one() {
        assert_eq!(distance("length", "length"), 0);
        assert_eq!(distance("lenght", "length"), 1);
        assert_eq!(distance("lngth", "length"), 1);
        assert_eq!(distance("lengthh", "length"), 1);
        assert_eq!(distance("lengte", "length"), 1);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("kitten", "sitting"), 3);
    }

    #[test]
    fn the_first_of_equally_near_words_wins() {
        assert_eq!(nearest_word("bat", ["cat", "hat"]), Some("cat"));
        assert_eq!(nearest_word("bat", ["hat", "cat"]), Some("hat"));
        assert_eq!(nearest_word("bat", ["hat", "bit"]), Some("bit"));
        assert_eq!(nearest_word("x", ["y"]), None);
        assert_eq!(nearest_word("", [""]), None);
    }
}

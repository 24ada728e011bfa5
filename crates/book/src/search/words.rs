//! Words as the search compares them.

use std::collections::BTreeSet;

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::order::Details;
use crate::reviewed::ReviewedSheet;

/// Longer words are compared by their beginning.
const LONGEST_WORD: usize = 60;

/// A text without accents, in small letters.
pub(crate) fn folded(text: &str) -> String {
    text.nfkd().filter(|character| !is_combining_mark(*character)).flat_map(char::to_lowercase).collect()
}

/// The words of a text, as they are searched for. What stands between blanks is a word without its other marks; where marks part it,
/// its pieces are words as well, so that `Q-0101` is found by `q0101`, `q` and `0101`.
pub(crate) fn words_of(text: &str) -> BTreeSet<String> {
    let mut words = BTreeSet::new();
    for run in folded(text).split_whitespace() {
        let pieces: Vec<&str> =
            run.split(|one: char| !one.is_alphanumeric()).filter(|piece| !piece.is_empty()).collect();
        words.extend(pieces.iter().map(|piece| short(piece)));
        if pieces.len() > 1 {
            words.insert(short(&pieces.concat()));
        }
    }
    words
}

/// A word of a query: what stands between two blanks, without its marks.
pub(crate) fn query_word(run: &str) -> String {
    short(&folded(run).chars().filter(|one| one.is_alphanumeric()).collect::<String>())
}

/// The form in which two references are the same.
pub(crate) fn reference_key(reference: &str) -> String {
    let key: String = folded(reference).chars().filter(|one| one.is_alphanumeric()).collect();
    // A reference of marks alone is its own key.
    if key.is_empty() { reference.trim().to_owned() } else { key }
}

fn short(word: &str) -> String {
    word.chars().take(LONGEST_WORD).collect()
}

/// Every word by which an order is found.
pub(crate) fn order_words(reviewed: &ReviewedSheet, details: &Details) -> BTreeSet<String> {
    let mut words = words_of(&reviewed.sheet.reference);
    words.insert(reference_key(&reviewed.sheet.reference));
    for text in [&details.customer, &details.contact, &details.vehicle] {
        words.extend(words_of(text));
    }
    if let Some(axle) = &reviewed.sheet.axle {
        words.extend(words_of(axle));
    }
    for part in &reviewed.summary.parts {
        words.extend(words_of(part));
    }
    words
}

#[cfg(test)]
mod tests {
    use super::{query_word, reference_key, words_of};

    #[test]
    fn a_word_is_found_whole_and_in_pieces() {
        let words: Vec<String> = words_of("Q-0101 Müller, 40x80x18").into_iter().collect();
        assert_eq!(words, ["0101", "40x80x18", "muller", "q", "q0101"]);
        assert_eq!(query_word("Q-01"), "q01");
        assert_eq!(reference_key(" q 0101"), reference_key("Q-0101"));
        assert_ne!(reference_key("--"), reference_key("---"));
    }
}

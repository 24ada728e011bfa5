//! Sentences out of words that may have begun and ended anywhere.

/// What ends a sentence, or leads on to what stands behind it; no stop is set there.
const ENDS: [char; 5] = ['.', '?', '!', ':', '\u{2026}'];

/// The words with a capital at their beginning.
///
/// ```
/// assert_eq!(quantity::capitalised("flange diameter"), "Flange diameter");
/// assert_eq!(quantity::capitalised("40x80x18 ball"), "40x80x18 ball");
/// ```
#[must_use]
pub fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The words with a full stop at their end, where nothing ends them yet.
///
/// ```
/// assert_eq!(quantity::end_of_sentence("a new one every time"), "a new one every time.");
/// assert_eq!(quantity::end_of_sentence("which one?"), "which one?");
/// ```
#[must_use]
pub fn end_of_sentence(words: &str) -> String {
    let words = words.trim_end();
    if words.is_empty() || words.ends_with(ENDS) { words.to_owned() } else { format!("{words}.") }
}

/// The words as a sentence: a capital first and a full stop last. The name of a file or a key with which they begin stays as it
/// is written.
///
/// ```
/// assert_eq!(quantity::sentence("nothing gives the bolt circle"), "Nothing gives the bolt circle.");
/// assert_eq!(quantity::sentence("sheet.toml:2:3: no number"), "sheet.toml:2:3: no number.");
/// ```
#[must_use]
pub fn sentence(words: &str) -> String {
    let words = words.trim();
    let first = words.split_whitespace().next().unwrap_or_default();
    let is_name = first.trim_end_matches(|letter: char| !letter.is_alphanumeric()).contains(['.', ':', '_']);
    if is_name { end_of_sentence(words) } else { end_of_sentence(&capitalised(words)) }
}

#[cfg(test)]
mod tests {
    use super::{end_of_sentence, sentence};

    #[test]
    fn a_sentence_begins_with_a_capital_and_ends_with_a_stop() {
        assert_eq!(sentence(" nothing gives the bolt circle "), "Nothing gives the bolt circle.");
        assert_eq!(sentence("there is no state `lost`"), "There is no state `lost`.");
        assert_eq!(sentence("lock-ring face, left: read again"), "Lock-ring face, left: read again.");
        assert_eq!(sentence("éclat"), "Éclat.");
        assert_eq!(sentence(""), "");
    }

    #[test]
    fn what_ends_already_gets_no_stop() {
        for words in ["Not now.", "Which one?", "Stop!", "Read again:", "Waiting\u{2026}"] {
            assert_eq!(sentence(words), words);
        }
        assert_eq!(end_of_sentence("not now.  "), "not now.");
    }

    #[test]
    fn names_of_files_and_keys_stay_as_they_are() {
        assert_eq!(sentence("sheet.toml:2:3: no number"), "sheet.toml:2:3: no number.");
        assert_eq!(sentence("width_deviation is missing"), "width_deviation is missing.");
        assert_eq!(sentence("teeth: not a whole number"), "Teeth: not a whole number.");
    }
}

//! Keys of the review in plain words.

/// A key in plain words: its underscores are spaces.
pub fn key_in_words(key: &str) -> String {
    key.replace('_', " ")
}

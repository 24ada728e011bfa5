//! A copy of a text with small repairs, and the way back to the places of the original.

use std::ops::Range;

/// A text in which lines were blanked and closing brackets put in.
#[derive(Debug)]
pub(crate) struct MendedText {
    text: String,
    /// Where bytes were put in: place in the original and their number, in the order of places.
    insertions: Vec<(usize, usize)>,
}

impl MendedText {
    pub(crate) fn new(text: &str) -> MendedText {
        MendedText { text: text.to_owned(), insertions: Vec::new() }
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// The place in the original of a place in the mended text.
    pub(crate) fn original(&self, place: usize) -> usize {
        let mut inserted_before = 0;
        for (at, length) in &self.insertions {
            let mended_at = at + inserted_before;
            if place <= mended_at {
                break;
            }
            // A place inside the inserted bytes stands for the place where they were put in.
            inserted_before += (*length).min(place - mended_at);
        }
        place - inserted_before
    }

    fn mended(&self, original: usize) -> usize {
        let before = self.insertions.iter().filter(|(at, _)| *at < original);
        original + before.map(|(_, length)| length).sum::<usize>()
    }

    /// Puts bytes in at a place of the mended text. False, and nothing done, if it is no place
    /// between characters.
    pub(crate) fn insert(&mut self, place: usize, inserted: &str) -> bool {
        if !self.text.is_char_boundary(place) {
            return false;
        }
        let at = self.original(place);
        self.text.insert_str(place, inserted);
        let index = self.insertions.partition_point(|(other, _)| *other <= at);
        self.insertions.insert(index, (at, inserted.len()));
        true
    }

    /// Puts blanks in the place of a range of the original, line ends kept, and some text at its
    /// beginning if there is room. False, and nothing done, if it is blank already.
    pub(crate) fn blank(&mut self, original: Range<usize>, beginning: &str) -> bool {
        let range = self.mended(original.start)..self.mended(original.end);
        let Some(old) = self.text.get(range.clone()) else {
            return false;
        };
        let mut blanked: String = old.bytes().map(|byte| if byte == b'\n' { '\n' } else { ' ' }).collect();
        if let Some(room) = blanked.get(..beginning.len())
            && !room.contains('\n')
        {
            blanked.replace_range(..beginning.len(), beginning);
        }
        if blanked == old {
            return false;
        }
        self.text.replace_range(range, &blanked);
        true
    }
}

#[cfg(test)]
mod tests {
    use super::MendedText;

    #[test]
    fn places_are_found_again_behind_insertions() {
        let mut mended = MendedText::new("[t\na=1\n[[u\nb=2\n");
        assert!(mended.insert(10, "]]"));
        assert!(mended.insert(2, "]"));
        assert_eq!(mended.text(), "[t]\na=1\n[[u]]\nb=2\n");
        let original = "[t\na=1\n[[u\nb=2\n";
        for (place, byte) in mended.text().bytes().enumerate() {
            if byte != b']' {
                assert_eq!(original.as_bytes()[mended.original(place)], byte, "{place}");
            }
        }
        assert_eq!(mended.original(3), 2);
        assert!(mended.blank(3..6, ""));
        assert_eq!(mended.text(), "[t]\n   \n[[u]]\nb=2\n");
        assert!(!mended.blank(3..6, ""));
    }

    #[test]
    fn blanks_keep_the_number_of_bytes() {
        let mut mended = MendedText::new("a = [½,\n2\nb = 1");
        assert!(mended.blank(4..10, "\"\""));
        assert_eq!(mended.text(), "a = \"\"  \n \nb = 1");
        assert!(!mended.insert(99, "]"));
    }
}

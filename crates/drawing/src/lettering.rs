//! Lettering in single strokes, after the grid of ISO 3098 type B: strokes a tenth of the height wide, small letters seven
//! tenths high, two tenths between letters.
//!
//! Every width is known here and nowhere else, so that all outputs agree on how much room a text takes.

mod glyphs;

pub use glyphs::Glyph;

/// Between two letters, in tenths of the height.
const BETWEEN: f64 = 2.0;

/// The glyph of a character; a box where there is none.
#[must_use]
pub fn glyph(character: char) -> &'static Glyph {
    // The printable characters of ASCII lead the table without a gap; nearly every letter of a drawing is one of them.
    if (' '..='~').contains(&character) {
        return &glyphs::GLYPHS[character as usize - ' ' as usize].1;
    }
    let found = glyphs::GLYPHS.binary_search_by(|(known, _)| known.cmp(&character));
    found.map_or(&glyphs::BOX, |at| &glyphs::GLYPHS[at].1)
}

/// Where each character of a line begins, in tenths of the height, and the width of the whole line.
pub fn spaced(text: &str) -> (impl Iterator<Item = (char, f64)> + '_, f64) {
    let advance = |character: char| glyph(character).width + BETWEEN;
    let whole = text.chars().map(advance).sum::<f64>() - if text.is_empty() { 0.0 } else { BETWEEN };
    let mut next = 0.0;
    let placed = text.chars().map(move |character| {
        let here = next;
        next += advance(character);
        (character, here)
    });
    (placed, whole)
}

/// Width of a line at that height, in the unit of the height.
///
/// ```
/// // Five digits, each five tenths wide, with two tenths between them.
/// assert!((drawing::lettering::width("20468", 10.0) - 33.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn width(text: &str, height: f64) -> f64 {
    spaced(text).1 * height / 10.0
}

/// How far a line reaches below its foot, in the unit of the height.
#[must_use]
pub fn depth(text: &str, height: f64) -> f64 {
    let deepest = text.chars().map(|character| glyph(character).depth).fold(0.0, f64::max);
    deepest * height / 10.0
}

#[cfg(test)]
mod tests {
    use super::{glyph, glyphs};

    #[test]
    fn the_table_is_in_order_and_every_printable_character_of_ascii_has_a_glyph() {
        assert!(glyphs::GLYPHS.windows(2).all(|pair| pair[0].0 < pair[1].0));
        for character in ' '..='~' {
            assert!(!std::ptr::eq(glyph(character), &glyphs::BOX), "{character}");
        }
        for (character, own) in &glyphs::GLYPHS {
            assert!(std::ptr::eq(glyph(*character), own), "{character}");
        }
    }

    #[test]
    fn every_stroke_lies_within_its_width_and_depth() {
        for (character, glyph) in &glyphs::GLYPHS {
            let numbers: Vec<f64> = glyph
                .strokes
                .split(|c: char| c.is_ascii_alphabetic() || c == ' ')
                .filter(|word| !word.is_empty())
                .map(|word| word.parse().unwrap_or(f64::NAN))
                .collect();
            assert!(numbers.len().is_multiple_of(2), "{character}");
            for pair in numbers.chunks(2) {
                assert!((0.0..=glyph.width).contains(&pair[0]), "{character}: {pair:?}");
                assert!((-glyph.depth..=11.0).contains(&pair[1]), "{character}: {pair:?}");
            }
        }
    }
}

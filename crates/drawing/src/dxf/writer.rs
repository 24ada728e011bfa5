//! Pairs of a group code and a value, with handles.

use std::fmt::{Display, Write};

use crate::point::Point;

/// The text of a file while it is written.
pub(super) struct Writer {
    pub out: String,
    next_handle: u32,
}

impl Writer {
    pub fn new() -> Self {
        Self { out: String::with_capacity(256 * 1024), next_handle: 1 }
    }

    /// One pair.
    pub fn pair(&mut self, code: u16, value: impl Display) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.out, "{code}\n{value}");
    }

    /// A number, to the millionth.
    pub fn number(&mut self, code: u16, value: f64) {
        let rounded = (value * 1e6).round() / 1e6;
        // No minus before a nought.
        self.pair(code, rounded + 0.0);
    }

    /// A point in the plane, its x at this code, its y ten further on, its z twenty.
    pub fn point(&mut self, code: u16, point: Point) {
        self.number(code, point.x);
        self.number(code + 10, point.y);
        self.pair(code + 20, 0);
    }

    /// A handle that no other object has.
    pub fn handle(&mut self) -> u32 {
        let handle = self.next_handle;
        self.next_handle += 1;
        handle
    }

    /// The handle that the next object would have.
    pub fn seed(&self) -> u32 {
        self.next_handle
    }

    /// The beginning of an object: its kind and its handle.
    pub fn begin(&mut self, kind: &str, handle: u32) {
        self.pair(0, kind);
        self.pair(5, hex(handle));
    }
}

/// A handle as DXF writes it.
pub(super) fn hex(handle: u32) -> String {
    format!("{handle:X}")
}

/// Text in the seven bits that every reader agrees on: ⌀, ± and ° by their own codes, dashes and × by
/// what stands for them on a keyboard, everything else by its number.
pub(super) fn coded(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for character in text.chars() {
        match character {
            '⌀' => out.push_str("%%c"),
            '±' => out.push_str("%%p"),
            '°' => out.push_str("%%d"),
            '–' | '—' | '−' => out.push('-'),
            '×' => out.push('x'),
            '’' => out.push('\''),
            '%' => out.push_str("%%%"),
            ' '..='~' => out.push(character),
            control if control.is_control() => out.push(' '),
            other => {
                let _ = write!(out, "\\U+{:04X}", other as u32);
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{Writer, coded};
    use crate::point::at;

    #[test]
    fn text_is_coded_in_seven_bits() {
        assert_eq!(coded("⌀38.1 ±0.01, 45°"), "%%c38.1 %%p0.01, 45%%d");
        assert_eq!(coded("5 × 10 %"), "5 x 10 %%%");
        assert_eq!(coded("1.2–1.3 ü"), "1.2-1.3 \\U+00FC");
        assert_eq!(coded("a\nb"), "a b");
    }

    #[test]
    fn a_point_has_three_numbers_and_no_minus_nought() {
        let mut writer = Writer::new();
        writer.point(10, at(-0.000_000_01, 2.5));
        assert_eq!(writer.out, "10\n0\n20\n2.5\n30\n0\n");
    }
}

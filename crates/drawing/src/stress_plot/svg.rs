//! The words of an SVG picture: numbers, texts and shapes.

use std::fmt::Write;

/// A point of the picture, in its own pixels: to the right, and down.
pub type Point = (f64, f64);

/// Which end of a text stands at its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The text begins there.
    Start,
    /// The text stands across it.
    Middle,
    /// The text ends there.
    End,
}

/// A picture that is being written.
#[derive(Debug, Default)]
pub struct Svg {
    text: String,
}

impl Svg {
    /// What was written.
    pub fn into_text(self) -> String {
        self.text
    }

    /// Writes something that is already SVG.
    pub fn raw(&mut self, svg: &str) {
        self.text.push_str(svg);
        self.text.push('\n');
    }

    /// Opens a group.
    pub fn open(&mut self, attributes: &[(&str, &str)]) {
        self.element("g", attributes, ">");
    }

    /// Closes the group that was opened last.
    pub fn close(&mut self) {
        self.raw("</g>");
    }

    /// A straight line.
    pub fn line(&mut self, class: &str, from: Point, to: Point) {
        let numbers = [number(from.0), number(from.1), number(to.0), number(to.1)];
        let [x1, y1, x2, y2] = numbers.each_ref().map(String::as_str);
        self.element("line", &[("class", class), ("x1", x1), ("y1", y1), ("x2", x2), ("y2", y2)], "/>");
    }

    /// Straight lines through points.
    pub fn polyline(&mut self, class: &str, points: &[Point]) {
        self.element("polyline", &[("class", class), ("points", &point_list(points))], "/>");
    }

    /// An area within points.
    pub fn polygon(&mut self, class: &str, points: &[Point]) {
        self.element("polygon", &[("class", class), ("points", &point_list(points))], "/>");
    }

    /// A rectangle by its upper left corner, width and height.
    pub fn rectangle(&mut self, class: &str, corner: Point, width: f64, height: f64) {
        let numbers = [number(corner.0), number(corner.1), number(width), number(height)];
        let [x, y, width, height] = numbers.each_ref().map(String::as_str);
        self.element("rect", &[("class", class), ("x", x), ("y", y), ("width", width), ("height", height)], "/>");
    }

    /// A path that is drawn about a point.
    pub fn path_at(&mut self, class: &str, at: Point, path: &str) {
        let place = format!("translate({} {})", number(at.0), number(at.1));
        self.element("path", &[("class", class), ("transform", &place), ("d", path)], "/>");
    }

    /// A line of text whose foot stands at a point.
    pub fn words(&mut self, class: &str, at: Point, anchor: Anchor, words: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let (x, y) = (number(at.0), number(at.1));
        let _ = writeln!(
            self.text,
            "<text class=\"{class}\" x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\">{}</text>",
            escaped(words)
        );
    }

    fn element(&mut self, name: &str, attributes: &[(&str, &str)], end: &str) {
        let _ = write!(self.text, "<{name}");
        for (key, value) in attributes {
            let _ = write!(self.text, " {key}=\"{}\"", escaped(value));
        }
        self.text.push_str(end);
        self.text.push('\n');
    }
}

/// Two decimals are far below what an eye sees, and keep the same bytes on every machine.
pub fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn point_list(points: &[Point]) -> String {
    let pairs: Vec<String> = points.iter().map(|(x, y)| format!("{},{}", number(*x), number(*y))).collect();
    pairs.join(" ")
}

/// Text as it may stand in SVG.
pub fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// How wide a text is at most: a sans-serif letter is about half as wide as the type is high, and room is left for wide ones.
pub fn text_width(words: &str, height: f64) -> f64 {
    const WIDTH: f64 = 0.56;
    words.chars().count() as f64 * height * WIDTH
}

#[cfg(test)]
mod tests {
    use super::{Anchor, Svg, number};

    #[test]
    fn numbers_are_short_and_have_no_negative_nought() {
        assert_eq!(number(12.0), "12");
        assert_eq!(number(0.375), "0.38");
        assert_eq!(number(-0.001), "0");
    }

    #[test]
    fn words_cannot_break_out_of_their_text() {
        let mut svg = Svg::default();
        svg.words("small", (0.0, 0.0), Anchor::Start, "a < b & \"c\"");
        assert!(svg.into_text().contains(">a &lt; b &amp; &quot;c&quot;</text>"));
    }
}

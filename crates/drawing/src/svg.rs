//! SVG: readable on a light and on a dark page, each dimension a group with its name.

use std::collections::BTreeSet;
use std::fmt::Write;

use crate::ink::{INKS, Ink};
use crate::item::{Dimension, Drawing, Item, Text};
use crate::lettering::{self, glyph};
use crate::point::{Point, Rectangle, at};

/// The drawing as an SVG document, in millimetres.
///
/// Each dimension is a group with the attributes `id="dimension-NAME"`, `data-dimension="NAME"`, `data-basis` and, where the
/// size is known, `data-mm`. Text is drawn in strokes, so that it looks alike everywhere; what it says stands in `aria-label`.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    let (width, height) = drawing.style.paper;
    within(drawing, Rectangle::around(at(0.0, 0.0), at(width, height)))
}

/// The drawing as [`svg`] has it, without the edge of the paper around its frame: for a page that has an edge of its own.
#[must_use]
pub fn svg_of_frame(drawing: &Drawing) -> String {
    within(drawing, frame_room(drawing))
}

/// The frame with its line, half of which lies outside of it.
pub(crate) fn frame_room(drawing: &Drawing) -> Rectangle {
    drawing.style.frame().grown(0.5 * drawing.style.thick)
}

fn within(drawing: &Drawing, room: Rectangle) -> String {
    let mut out = String::with_capacity(96 * 1024);
    let (left, top) = (room.left, drawing.style.paper.1 - room.top);
    let (width, height) = (room.width(), room.height());
    let title = escaped(&drawing.title);
    // Writing to a string cannot fail; the results carry no news.
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"{left} {top} {width} {height}\" \
         role=\"img\" aria-labelledby=\"drawing-title\">\n<title id=\"drawing-title\">{title}</title>\n"
    );
    out.push_str(&sheet_of_styles(drawing));
    write_body(&mut out, drawing, room, "");
    out.push_str("</svg>\n");
    out
}

/// Everything between the styles and the end. Every id begins with the prefix.
pub(crate) fn write_body(out: &mut String, drawing: &Drawing, room: Rectangle, prefix: &str) {
    let paper_height = drawing.style.paper.1;
    let (left, top) = (room.left, paper_height - room.top);
    let (width, height) = (room.width(), room.height());
    let mut used = BTreeSet::new();
    for item in &drawing.items {
        item.each_text(&mut |text| used.extend(text.words.chars()));
    }
    out.push_str("<defs>\n");
    for character in used.iter().filter(|character| !glyph(**character).strokes.is_empty()) {
        let _ = writeln!(out, "<path id=\"{prefix}g{:x}\" d=\"{}\"/>", *character as u32, glyph(*character).strokes);
    }
    out.push_str("</defs>\n");
    let corner = if (left, top) == (0.0, 0.0) { String::new() } else { format!(" x=\"{left}\" y=\"{top}\"") };
    let _ = writeln!(out, "<rect class=\"paper\"{corner} width=\"{width}\" height=\"{height}\"/>");
    // The display list runs upwards, SVG downwards.
    let _ = writeln!(out, "<g transform=\"matrix(1 0 0 -1 0 {paper_height})\">");
    for item in &drawing.items {
        write_item(out, item, prefix);
    }
    out.push_str("</g>\n");
}

fn sheet_of_styles(drawing: &Drawing) -> String {
    let mut css = String::from(
        "<style>\n.paper{fill:#fff}\ng,path,line,circle,use{fill:none;stroke:#16191d;stroke-linecap:round;\
         stroke-linejoin:round}\n.f{fill:#16191d;stroke:none}\n.t use{vector-effect:none}\n",
    );
    for ink in INKS {
        let (weight, pattern) = (ink.weight(&drawing.style), ink.pattern());
        let _ = write!(css, ".{}{{stroke-width:{weight}", ink.word());
        if !pattern.is_empty() {
            let dashes: Vec<String> = pattern.iter().map(ToString::to_string).collect();
            // Round ends add the width of the line to every dash.
            let _ = write!(css, ";stroke-dasharray:{};stroke-linecap:butt", dashes.join(" "));
        }
        css.push_str("}\n");
    }
    css.push_str(
        "@media (prefers-color-scheme:dark){.paper{fill:#14171b}g,path,line,circle,use{stroke:#e4e7ea}\
         .f{fill:#e4e7ea;stroke:none}}\n</style>\n",
    );
    css
}

fn write_item(out: &mut String, item: &Item, prefix: &str) {
    match item {
        Item::Line { ink, points, closed } => {
            let _ = write!(out, "<path class=\"{}\" d=\"", ink.word());
            write_path(out, points, *closed);
            out.push_str("\"/>\n");
        }
        Item::Fill { points, .. } => {
            out.push_str("<path class=\"f\" d=\"");
            write_path(out, points, true);
            out.push_str("\"/>\n");
        }
        Item::Circle { ink, centre, radius } => {
            let _ = write!(out, "<circle class=\"{}\" cx=\"", ink.word());
            write_number(out, centre.x);
            out.push_str("\" cy=\"");
            write_number(out, centre.y);
            out.push_str("\" r=\"");
            write_number(out, *radius);
            out.push_str("\"/>\n");
        }
        Item::Arc { ink, centre, radius, from, to } => {
            let (begin, end) = (centre.towards(*from, *radius), centre.towards(*to, *radius));
            let large = u8::from(to - from > 180.0);
            let _ = write!(out, "<path class=\"{}\" d=\"M", ink.word());
            write_point(out, begin);
            out.push('A');
            write_number(out, *radius);
            out.push(' ');
            write_number(out, *radius);
            // Against the clock with y upwards is the positive sweep before the sheet is turned over.
            let _ = write!(out, " 0 {large} 1 ");
            write_point(out, end);
            out.push_str("\"/>\n");
        }
        Item::Hatch { lines } => {
            if lines.is_empty() {
                return;
            }
            let _ = write!(out, "<path class=\"{}\" d=\"", Ink::Hatch.word());
            for (from, to) in lines {
                write_path(out, &[*from, *to], false);
            }
            out.push_str("\"/>\n");
        }
        Item::Text(text) => write_text(out, text, prefix),
        Item::Dimension(dimension) => write_dimension(out, dimension, prefix),
        Item::Note(note) => note.items.iter().for_each(|item| write_item(out, item, prefix)),
    }
}

fn write_dimension(out: &mut String, dimension: &Dimension, prefix: &str) {
    let side = dimension.side.map_or_else(String::new, |side| format!("-{}", side.words()));
    let name = escaped(&dimension.name);
    let _ = write!(
        out,
        "<g id=\"{prefix}dimension-{name}{side}\" data-dimension=\"{name}\" data-basis=\"{}\"",
        dimension.basis.word()
    );
    if let Some(side) = dimension.side {
        let _ = write!(out, " data-side=\"{}\"", side.words());
    }
    if let Some(size) = dimension.size_mm {
        let _ = write!(out, " data-mm=\"{size:.4}\"");
    }
    out.push_str(">\n");
    for item in &dimension.items {
        write_item(out, item, prefix);
    }
    out.push_str("</g>\n");
}

/// Strokes a tenth of the height wide, as the grid of the letters has them.
fn write_text(out: &mut String, text: &Text, prefix: &str) {
    let scale = text.height / 10.0;
    let _ = write!(out, "<g class=\"t\" role=\"img\" aria-label=\"{}\" transform=\"", escaped(&text.words));
    if text.upwards {
        out.push_str("matrix(0 ");
        write_number(out, scale);
        out.push(' ');
        write_number(out, -scale);
        out.push_str(" 0 ");
    } else {
        out.push_str("matrix(");
        write_number(out, scale);
        out.push_str(" 0 0 ");
        write_number(out, scale);
        out.push(' ');
    }
    write_point(out, text.foot);
    out.push_str(")\">");
    for (character, x) in lettering::spaced(&text.words).0 {
        if glyph(character).strokes.is_empty() {
            continue;
        }
        let _ = write!(out, "<use href=\"#{prefix}g{:x}\"", character as u32);
        if x != 0.0 {
            out.push_str(" x=\"");
            write_number(out, x);
            out.push('"');
        }
        out.push_str("/>");
    }
    out.push_str("</g>\n");
}

fn write_path(out: &mut String, points: &[Point], closed: bool) {
    for (number, point) in points.iter().enumerate() {
        out.push(if number == 0 { 'M' } else { 'L' });
        write_point(out, *point);
    }
    if closed {
        out.push('Z');
    }
}

fn write_point(out: &mut String, point: Point) {
    write_number(out, point.x);
    out.push(' ');
    write_number(out, point.y);
}

/// Thousandths of a millimetre, without noughts at the end.
fn write_number(out: &mut String, number: f64) {
    let thousandths = (number * 1000.0).round() as i64;
    let (whole, part) = (thousandths / 1000, (thousandths % 1000).unsigned_abs());
    if thousandths < 0 && whole == 0 {
        out.push('-');
    }
    let _ = write!(out, "{whole}");
    if part != 0 {
        let digits = format!("{part:03}");
        out.push('.');
        out.push_str(digits.trim_end_matches('0'));
    }
}

/// Text for an attribute or an element.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            // Control characters are not allowed in XML at all.
            control if control.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

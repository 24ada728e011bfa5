//! The entities: lines, circles, texts, and dimensions that a CAD program knows as such.

use super::tables::{APPLICATION, DIMENSION_STYLE, TEXT_STYLE, layer};
use super::writer::{Writer, coded, hex};
use crate::ink::Ink;
use crate::item::{Dimension, Item, Measure, Text};
use crate::lettering::glyph;
use crate::point::{Point, at};

/// Characters that the fonts of CAD programs lack; they are drawn.
const DRAWN: [char; 2] = ['⌖', '↗'];

/// Writes an item as the entities of a block. A dimension becomes one entity, its picture being in the block of that number.
pub(super) fn write(
    writer: &mut Writer,
    owner: u32,
    item: &Item,
    next_dimension: &mut usize,
    (scale, factor): (f64, f64),
) {
    match item {
        Item::Line { ink, points, closed } => polyline(writer, owner, *ink, points, *closed),
        Item::Arc { ink, centre, radius, from, to } => {
            begin(writer, owner, "ARC", *ink, "AcDbCircle");
            writer.point(10, *centre);
            writer.number(40, *radius);
            writer.pair(100, "AcDbArc");
            writer.number(50, *from);
            writer.number(51, *to);
        }
        Item::Circle { ink, centre, radius } => {
            begin(writer, owner, "CIRCLE", *ink, "AcDbCircle");
            writer.point(10, *centre);
            writer.number(40, *radius);
        }
        Item::Fill { ink, points } => fill(writer, owner, *ink, points),
        Item::Text(words) => text(writer, owner, words),
        Item::Hatch { lines } => {
            for (from, to) in lines {
                line(writer, owner, Ink::Hatch, *from, *to);
            }
        }
        Item::Note(note) => {
            note.items.iter().for_each(|item| write(writer, owner, item, next_dimension, (scale, factor)));
        }
        Item::Dimension(one) => {
            dimension(writer, owner, one, &super::block_name(*next_dimension), (scale, factor));
            *next_dimension += 1;
        }
    }
}

fn begin(writer: &mut Writer, owner: u32, kind: &str, ink: Ink, class: &str) {
    let handle = writer.handle();
    writer.begin(kind, handle);
    writer.pair(330, hex(owner));
    writer.pair(100, "AcDbEntity");
    writer.pair(8, layer(ink));
    writer.pair(100, class);
}

fn line(writer: &mut Writer, owner: u32, ink: Ink, from: Point, to: Point) {
    begin(writer, owner, "LINE", ink, "AcDbLine");
    writer.point(10, from);
    writer.point(11, to);
}

fn polyline(writer: &mut Writer, owner: u32, ink: Ink, points: &[Point], closed: bool) {
    if let ([from, to], false) = (points, closed) {
        line(writer, owner, ink, *from, *to);
        return;
    }
    begin(writer, owner, "LWPOLYLINE", ink, "AcDbPolyline");
    writer.pair(90, points.len());
    writer.pair(70, u8::from(closed));
    for point in points {
        writer.number(10, point.x);
        writer.number(20, point.y);
    }
}

/// A solid has three or four corners, the last two in turned order; a shape with more is a fan of them.
fn fill(writer: &mut Writer, owner: u32, ink: Ink, points: &[Point]) {
    let Some((first, rest)) = points.split_first() else { return };
    for pair in rest.windows(2) {
        begin(writer, owner, "SOLID", ink, "AcDbTrace");
        for (code, point) in [(10, *first), (11, pair[0]), (12, pair[1]), (13, pair[1])] {
            writer.point(code, point);
        }
    }
}

/// Text that is fitted between its two ends, so that it takes the same room in every font.
fn text(writer: &mut Writer, owner: u32, words: &Text) {
    let mut characters = words.words.chars();
    if let (Some(only), None) = (characters.next(), characters.next())
        && DRAWN.contains(&only)
    {
        for points in strokes(glyph(only).strokes) {
            let scale = 0.1 * words.height;
            let place = |point: &Point| words.foot.by(scale * point.x, scale * point.y);
            let points: Vec<Point> = points.iter().map(place).collect();
            polyline(writer, owner, words.ink, &points, false);
        }
        return;
    }
    let width = words.width();
    let end = if words.upwards { words.foot.by(0.0, width) } else { words.foot.by(width, 0.0) };
    begin(writer, owner, "TEXT", words.ink, "AcDbText");
    writer.point(10, words.foot);
    writer.number(40, words.height);
    writer.pair(1, coded(&words.words));
    if words.upwards {
        writer.pair(50, 90);
    }
    writer.pair(7, TEXT_STYLE);
    writer.pair(72, 5);
    writer.point(11, end);
    writer.pair(100, "AcDbText");
    writer.pair(73, 0);
}

/// The strokes of a glyph as lines; curves in six pieces.
fn strokes(commands: &str) -> Vec<Vec<Point>> {
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let starts: Vec<usize> = commands.match_indices(|c: char| c.is_ascii_alphabetic()).map(|(at, _)| at).collect();
    for (number, start) in starts.iter().enumerate() {
        let end = starts.get(number + 1).copied().unwrap_or(commands.len());
        let numbers: Vec<f64> =
            commands[start + 1..end].split_whitespace().filter_map(|word| word.parse().ok()).collect();
        let points: Vec<Point> = numbers.chunks_exact(2).map(|pair| at(pair[0], pair[1])).collect();
        if commands[*start..].starts_with('M') {
            runs.push(points);
            continue;
        }
        let Some(run) = runs.last_mut() else { continue };
        let Some(from) = run.last().copied() else { continue };
        match points.as_slice() {
            [to] => run.push(*to),
            [control, to] => run.extend(curve(&[from, *control, *to])),
            [one, other, to] => run.extend(curve(&[from, *one, *other, *to])),
            _ => {}
        }
    }
    runs
}

/// Points on a Bézier curve after its beginning, by de Casteljau.
fn curve(controls: &[Point]) -> Vec<Point> {
    (1..=6)
        .map(|part| {
            let share = f64::from(part) / 6.0;
            let mut points = controls.to_vec();
            while points.len() > 1 {
                points = points
                    .windows(2)
                    .map(|pair| pair[0].by(share * (pair[1].x - pair[0].x), share * (pair[1].y - pair[0].y)))
                    .collect();
            }
            points.first().copied().unwrap_or(at(0.0, 0.0))
        })
        .collect()
}

/// A dimension with its block, its measurement in the leading unit, and its name as extended data.
fn dimension(writer: &mut Writer, owner: u32, one: &Dimension, block: &str, (scale, factor): (f64, f64)) {
    begin(writer, owner, "DIMENSION", Ink::Dimension, "AcDbDimension");
    writer.pair(2, block);
    let (from, to) = one.between;
    let on_line = match one.measure {
        Measure::Level { line } => at(to.x, line),
        Measure::Upright { line } => at(line, to.y),
        Measure::Diameter => to,
    };
    writer.point(10, on_line);
    writer.point(11, one.text_middle);
    // Bits: the block is this dimension's own, and its text stands where it was put.
    let kind = if one.measure == Measure::Diameter { 3 } else { 0 };
    writer.pair(70, kind + 32 + 128);
    writer.pair(71, 5);
    if let Some(size) = one.size_mm {
        writer.number(42, size * scale * factor);
    }
    writer.pair(1, coded(&one.words));
    writer.pair(3, DIMENSION_STYLE);
    match one.measure {
        Measure::Diameter => {
            writer.pair(100, "AcDbDiametricDimension");
            writer.point(15, from);
            writer.pair(40, 0);
        }
        Measure::Level { .. } | Measure::Upright { .. } => {
            writer.pair(100, "AcDbAlignedDimension");
            writer.point(13, from);
            writer.point(14, to);
            if matches!(one.measure, Measure::Upright { .. }) {
                writer.pair(50, 90);
            }
            writer.pair(100, "AcDbRotatedDimension");
        }
    }
    writer.pair(1001, APPLICATION);
    writer.pair(1000, coded(&one.name));
    writer.pair(1000, one.side.map_or("both", |side| side.words()));
    writer.pair(1000, one.basis.word());
    writer.pair(1000, if one.scale.is_some() { "to scale" } else { "not to scale" });
    if let Some(size) = one.size_mm {
        writer.number(1040, size);
    }
}

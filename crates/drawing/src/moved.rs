//! Items moved over the paper, and the room that they take.

use crate::item::{Dimension, Item, Measure, Note, Text};
use crate::point::{Point, Rectangle};

/// An item moved by so much.
#[must_use]
pub fn moved(item: Item, x: f64, y: f64) -> Item {
    let all = |points: Vec<Point>| points.into_iter().map(|point| point.by(x, y)).collect();
    match item {
        Item::Line { ink, points, closed } => Item::Line { ink, points: all(points), closed },
        Item::Arc { ink, centre, radius, from, to } => Item::Arc { ink, centre: centre.by(x, y), radius, from, to },
        Item::Circle { ink, centre, radius } => Item::Circle { ink, centre: centre.by(x, y), radius },
        Item::Fill { ink, points } => Item::Fill { ink, points: all(points) },
        Item::Text(text) => Item::Text(Text { foot: text.foot.by(x, y), ..text }),
        Item::Hatch { lines } => {
            Item::Hatch { lines: lines.into_iter().map(|(from, to)| (from.by(x, y), to.by(x, y))).collect() }
        }
        Item::Note(note) => {
            Item::Note(Note { items: note.items.into_iter().map(|item| moved(item, x, y)).collect(), ..note })
        }
        Item::Dimension(dimension) => Item::Dimension(Dimension {
            measure: match dimension.measure {
                Measure::Level { line } => Measure::Level { line: line + y },
                Measure::Upright { line } => Measure::Upright { line: line + x },
                other => other,
            },
            between: (dimension.between.0.by(x, y), dimension.between.1.by(x, y)),
            text_middle: dimension.text_middle.by(x, y),
            items: dimension.items.into_iter().map(|item| moved(item, x, y)).collect(),
            ..dimension
        }),
    }
}

/// The room that items take together; none where there are none.
#[must_use]
pub fn room_of(items: &[Item]) -> Option<Rectangle> {
    let mut room: Option<Rectangle> = None;
    let mut add = |other: Rectangle| {
        room = Some(room.map_or(other, |room| Rectangle {
            left: room.left.min(other.left),
            bottom: room.bottom.min(other.bottom),
            right: room.right.max(other.right),
            top: room.top.max(other.top),
        }));
    };
    for item in items {
        item.each_stroke(&mut |from, to| add(Rectangle::around(from, to)));
        item.each_text(&mut |text| add(text.room()));
    }
    room
}

//! The display list: what lies on the paper, in millimetres, without a thought of any format.

use axle::Side;

use crate::ink::Ink;
use crate::lettering;
use crate::point::{Point, Rectangle, at};
use crate::shape::SizeBasis;
use crate::style::Style;

/// One thing on the paper.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A line through these points.
    Line {
        /// What it is for.
        ink: Ink,
        /// The points, two at least.
        points: Vec<Point>,
        /// Whether it returns to its first point.
        closed: bool,
    },
    /// Part of a circle, against the clock.
    Arc {
        /// What it is for.
        ink: Ink,
        /// The middle.
        centre: Point,
        /// The radius.
        radius: f64,
        /// Where it begins, degrees.
        from: f64,
        /// Where it ends, degrees, more than `from`.
        to: f64,
    },
    /// A circle.
    Circle {
        /// What it is for.
        ink: Ink,
        /// The middle.
        centre: Point,
        /// The radius.
        radius: f64,
    },
    /// A filled shape, such as an arrowhead.
    Fill {
        /// What it is for.
        ink: Ink,
        /// The corners, three or four.
        points: Vec<Point>,
    },
    /// A line of text.
    Text(Text),
    /// Section lining.
    Hatch {
        /// The lines, each with its ends.
        lines: Vec<(Point, Point)>,
    },
    /// A dimension with everything that it is drawn with.
    Dimension(Dimension),
    /// A note that asks for something, with its leader or frame.
    Note(Note),
}

/// A note that asks for something that an inspector looks at.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// Its name, alone in its drawing: `flange_fillet`.
    pub name: &'static str,
    /// Its lines, arrowheads and texts.
    pub items: Vec<Item>,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What it is for.
    pub ink: Ink,
    /// The left end of its foot, as it is read.
    pub foot: Point,
    /// Height of the capitals.
    pub height: f64,
    /// Whether it reads upwards, from the right side of the paper.
    pub upwards: bool,
    /// What it says.
    pub words: String,
}

impl Text {
    /// Its width.
    #[must_use]
    pub fn width(&self) -> f64 {
        lettering::width(&self.words, self.height)
    }

    /// The room that it takes, strokes included.
    #[must_use]
    pub fn room(&self) -> Rectangle {
        let (width, depth) = (self.width(), lettering::depth(&self.words, self.height));
        let room = if self.upwards {
            Rectangle::around(self.foot.by(depth, 0.0), self.foot.by(-self.height, width))
        } else {
            Rectangle::around(self.foot.by(0.0, -depth), self.foot.by(width, self.height))
        };
        room.grown(0.05 * self.height)
    }
}

/// Which way a dimension is measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// Along x, between two points; the dimension line lies at this y.
    Level {
        /// Where the dimension line lies.
        line: f64,
    },
    /// Along y; the dimension line lies at this x.
    Upright {
        /// Where the dimension line lies.
        line: f64,
    },
    /// A diameter between two opposite points of a circle.
    Diameter,
}

/// A dimension. What is drawn for it is in `items`; the rest says what it means.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// Its name, alone in its drawing: `overall_length`.
    pub name: String,
    /// The side, where a drawing shows both.
    pub side: Option<Side>,
    /// Which way it is measured.
    pub measure: Measure,
    /// The two points it is measured between, on the paper.
    pub between: (Point, Point),
    /// The size in millimetres; none where it is not known.
    pub size_mm: Option<f64>,
    /// Paper millimetres for one millimetre of the part; none where the way between the points is not to scale, as across a
    /// break.
    pub scale: Option<f64>,
    /// How the size came about.
    pub basis: SizeBasis,
    /// What it says, in one line.
    pub words: String,
    /// The middle of its text.
    pub text_middle: Point,
    /// Its lines, arrowheads and texts.
    pub items: Vec<Item>,
}

/// A whole drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// One line that says what it is.
    pub title: String,
    /// The style that it follows.
    pub style: Style,
    /// Paper millimetres for one millimetre of the part.
    pub scale: f64,
    /// What lies on the paper.
    pub items: Vec<Item>,
}

/// A line between two points.
#[must_use]
pub fn line(ink: Ink, from: Point, to: Point) -> Item {
    Item::Line { ink, points: vec![from, to], closed: false }
}

/// A line through several points.
#[must_use]
pub fn polyline(ink: Ink, points: Vec<Point>) -> Item {
    Item::Line { ink, points, closed: false }
}

/// A line through several points and back.
#[must_use]
pub fn outline(ink: Ink, points: Vec<Point>) -> Item {
    Item::Line { ink, points, closed: true }
}

/// A rectangle.
#[must_use]
pub fn rectangle(ink: Ink, room: Rectangle) -> Item {
    let Rectangle { left, bottom, right, top } = room;
    outline(ink, vec![at(left, bottom), at(right, bottom), at(right, top), at(left, top)])
}

/// A circle.
#[must_use]
pub fn circle(ink: Ink, centre: Point, radius: f64) -> Item {
    Item::Circle { ink, centre, radius }
}

/// Where a text stands on its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// The point is its left end.
    Left,
    /// The point is its middle.
    Middle,
    /// The point is its right end.
    Right,
}

/// A level text on its point, which is at its foot.
#[must_use]
pub fn text(ink: Ink, point: Point, height: f64, stand: Stand, words: impl Into<String>) -> Text {
    let words = words.into();
    let width = lettering::width(&words, height);
    let back = match stand {
        Stand::Left => 0.0,
        Stand::Middle => 0.5 * width,
        Stand::Right => width,
    };
    Text { ink, foot: point.by(-back, 0.0), height, upwards: false, words }
}

impl Item {
    /// Calls back with every straight piece of its lines; curves come as chords that leave the curve by less than a tenth of a
    /// millimetre.
    pub fn each_stroke(&self, found: &mut impl FnMut(Point, Point)) {
        match self {
            Self::Line { points, closed, .. } => {
                for pair in points.windows(2) {
                    found(pair[0], pair[1]);
                }
                if let (true, [first, .., last]) = (*closed, points.as_slice()) {
                    found(*last, *first);
                }
            }
            Self::Fill { points, .. } => {
                for (at, point) in points.iter().enumerate() {
                    found(*point, points[(at + 1) % points.len()]);
                }
            }
            Self::Arc { centre, radius, from, to, .. } => chords(*centre, *radius, (*from, *to), found),
            Self::Circle { centre, radius, .. } => chords(*centre, *radius, (0.0, 360.0), found),
            Self::Hatch { lines } => lines.iter().for_each(|(from, to)| found(*from, *to)),
            Self::Dimension(dimension) => dimension.items.iter().for_each(|item| item.each_stroke(found)),
            Self::Note(note) => note.items.iter().for_each(|item| item.each_stroke(found)),
            Self::Text(_) => {}
        }
    }

    /// Calls back with every text.
    pub fn each_text<'a>(&'a self, found: &mut impl FnMut(&'a Text)) {
        match self {
            Self::Text(text) => found(text),
            Self::Dimension(dimension) => dimension.items.iter().for_each(|item| item.each_text(found)),
            Self::Note(note) => note.items.iter().for_each(|item| item.each_text(found)),
            _ => {}
        }
    }

    /// Calls back with every dimension.
    pub fn each_dimension<'a>(&'a self, found: &mut impl FnMut(&'a Dimension)) {
        if let Self::Dimension(dimension) = self {
            found(dimension);
        }
    }
}

fn chords(centre: Point, radius: f64, (from, to): (f64, f64), found: &mut impl FnMut(Point, Point)) {
    let step = 2.0 * (1.0 - (0.1 / radius).min(1.0)).acos();
    let count = (((to - from).to_radians() / step).ceil() as usize).max(2);
    let point = |part: usize| centre.towards(from + (to - from) * part as f64 / count as f64, radius);
    for part in 0..count {
        found(point(part), point(part + 1));
    }
}

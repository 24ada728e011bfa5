//! The paper while it is drawn on: it knows what lies where, so that nothing is written over anything.

use crate::cells::Cells;
use crate::ink::Ink;
use crate::item::{Item, Measure};
use crate::point::{Point, Rectangle};

/// Room that is kept between a text and a line, in millimetres.
const CLEAR: f64 = 0.8;

/// Room that is kept between a text and the next below it.
const BETWEEN_TEXTS: f64 = 2.0;

/// Room that is kept between a text and the next beside it.
const BESIDE_TEXTS: f64 = 2.2;

/// Between two dimension lines side by side (ISO 129-1: 7 mm or more).
const BETWEEN_LINES: f64 = 7.0;

/// Between two dimension lines that cross a part side by side.
const BETWEEN_STEMS: f64 = 3.0;

/// Side of the cells that texts and strokes are sorted into, in millimetres: about that of a text.
const CELL: f64 = 20.0;

/// Items with what they take up.
#[derive(Debug, Clone)]
pub struct Board {
    field: Rectangle,
    items: Vec<Item>,
    texts: Cells<Rectangle>,
    strokes: Cells<(Point, Point)>,
    /// The left end of all texts and strokes.
    leftmost: f64,
    runs: Vec<Run>,
    silhouette: Vec<Rectangle>,
    /// The room that is drawn on.
    drawn: Option<Rectangle>,
}

/// A dimension line: level or upright, where it lies, from where to where it runs, and whether it crosses the part.
#[derive(Debug, Clone, Copy)]
struct Run {
    upright: bool,
    at: f64,
    from: f64,
    to: f64,
    crosses: bool,
}

/// What a few items take up.
#[derive(Default)]
struct Taken {
    texts: Vec<Rectangle>,
    strokes: Vec<(Point, Point)>,
    runs: Vec<Run>,
}

impl Taken {
    fn by<'a>(items: impl IntoIterator<Item = &'a Item>) -> Self {
        let mut taken = Self::default();
        for item in items {
            taken.add(item);
        }
        taken
    }

    fn add(&mut self, item: &Item) {
        item.each_text(&mut |text| self.texts.push(text.room()));
        item.each_stroke(&mut |from, to| self.strokes.push((from, to)));
        self.add_boxes(item);
        item.each_dimension(&mut |dimension| {
            let (one, other) = dimension.between;
            let run = match dimension.measure {
                Measure::Level { line } => Run { upright: false, at: line, from: one.x, to: other.x, crosses: false },
                Measure::Upright { line } => {
                    let crosses = (line - one.x).abs() < 1e-9;
                    Run { upright: true, at: line, from: one.y, to: other.y, crosses }
                }
                _ => return,
            };
            self.runs.push(run);
        });
    }

    /// The box of a control frame or a datum is as free of other lines as the text in it.
    fn add_boxes(&mut self, item: &Item) {
        match item {
            Item::Line { ink: Ink::Dimension, points, closed: true } => {
                if let [one, _, other, _] = points.as_slice() {
                    self.texts.push(Rectangle::around(*one, *other).grown(-0.7 * CLEAR));
                }
            }
            Item::Dimension(dimension) => dimension.items.iter().for_each(|item| self.add_boxes(item)),
            Item::Note(note) => note.items.iter().for_each(|item| self.add_boxes(item)),
            _ => {}
        }
    }
}

/// The room of a text, grown by [`CLEAR`], with what must lie between it and other texts.
fn apart(room: Rectangle) -> Rectangle {
    let (beside, below) = (BESIDE_TEXTS - CLEAR, BETWEEN_TEXTS - CLEAR);
    Rectangle {
        left: room.left - beside,
        bottom: room.bottom - below,
        right: room.right + beside,
        top: room.top + below,
    }
}

impl Run {
    fn crowds(&self, other: &Self) -> bool {
        let apart = if self.crosses && other.crosses { BETWEEN_STEMS } else { BETWEEN_LINES };
        self.upright == other.upright
            && (self.at - other.at).abs() < apart
            && self.from < other.to - 1e-6
            && other.from < self.to - 1e-6
    }
}

impl Board {
    /// An empty board; what is placed must stay within the field.
    #[must_use]
    pub fn new(field: Rectangle) -> Self {
        Self {
            field,
            items: Vec::new(),
            texts: Cells::over(field, CELL),
            strokes: Cells::over(field, CELL),
            leftmost: f64::INFINITY,
            runs: Vec::new(),
            silhouette: Vec::new(),
            drawn: None,
        }
    }

    /// Narrows the field to so much, counted from the left end of what is drawn so far.
    pub fn ends_right_at(&mut self, width: f64) {
        if self.leftmost.is_finite() {
            self.field = Rectangle { left: self.leftmost, right: self.leftmost + width, ..self.field };
        }
    }

    /// Draws whatever it is, wherever it is.
    pub fn draw(&mut self, item: Item) {
        let taken = Taken::by([&item]);
        for room in taken.texts {
            self.drawn = Some(self.drawn.map_or(room, |drawn| drawn.with(&room)));
            self.leftmost = self.leftmost.min(room.left - CLEAR);
            self.texts.add(&room, room);
        }
        for (from, to) in taken.strokes {
            let room = Rectangle::around(from, to);
            self.drawn = Some(self.drawn.map_or(room, |drawn| drawn.with(&room)));
            self.leftmost = self.leftmost.min(room.left);
            self.strokes.add(&room, (from, to));
        }
        self.runs.extend(taken.runs);
        self.items.push(item);
    }

    /// Draws several.
    pub fn draw_all(&mut self, items: impl IntoIterator<Item = Item>) {
        items.into_iter().for_each(|item| self.draw(item));
    }

    /// Says that the part itself lies there: lines may cross it, texts may not stand on it.
    pub fn part_lies_at(&mut self, room: Rectangle) {
        self.silhouette.push(room);
    }

    /// Whether these can be drawn without a text over a text, a line through a text, dimension lines too close to each
    /// other, or anything outside of the field.
    #[must_use]
    pub fn takes(&self, items: &[Item]) -> bool {
        let taken = Taken::by(items);
        // What is quick to see comes first: most ways fail, and there are thousands.
        taken.texts.iter().all(|room| self.field.holds(&room.grown(CLEAR)))
            && taken.strokes.iter().all(|(from, to)| self.field.holds(&Rectangle::around(*from, *to)))
            && taken.runs.iter().all(|run| !self.runs.iter().any(|other| run.crowds(other)))
            && taken.texts.iter().map(|room| room.grown(CLEAR)).all(|room| {
                let apart = apart(room);
                !self.silhouette.iter().any(|other| room.overlaps(other))
                    && !self.texts.any_near(&apart, |other| apart.overlaps(other))
                    && !self.strokes.any_near(&room, |(from, to)| room.is_crossed(*from, *to))
            })
            && taken.strokes.iter().all(|(from, to)| {
                let around = Rectangle::around(*from, *to).grown(CLEAR);
                !self.texts.any_near(&around, |room| room.grown(CLEAR).is_crossed(*from, *to))
            })
    }

    /// Draws the first of several ways to draw one thing that the board takes; says whether there was one.
    pub fn place(&mut self, ways: impl IntoIterator<Item = Vec<Item>>) -> bool {
        for way in ways {
            if self.takes(&way) {
                self.draw_all(way);
                return true;
            }
        }
        false
    }

    /// Where the level dimension line lies that was drawn last; none where something else was.
    #[must_use]
    pub fn last_level(&self) -> Option<f64> {
        match self.items.last() {
            Some(Item::Dimension(dimension)) => match dimension.measure {
                Measure::Level { line } => Some(line),
                _ => None,
            },
            _ => None,
        }
    }

    /// Whether everything that is drawn goes into a room of this size.
    #[must_use]
    pub fn goes_into(&self, room: &Rectangle) -> bool {
        let goes_in = |drawn: Rectangle| drawn.width() <= room.width() + 1e-6 && drawn.height() <= room.height() + 1e-6;
        self.drawn.is_none_or(goes_in)
    }

    /// The items.
    #[must_use]
    pub fn into_items(self) -> Vec<Item> {
        self.items
    }
}

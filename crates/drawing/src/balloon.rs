//! Balloons: a number in a circle beside each dimension, so that an inspection report can name it.
//!
//! A balloon stands at the nearest free place around the text of its dimension, and a leader ties it to the text where it
//! could be taken for another's. A size keeps its number over all drawings that share [`Numbers`].

mod taken;

use axle::Side;

use taken::Taken;

use crate::ink::Ink;
use crate::item::{Drawing, Item, Stand, circle, line, text};
use crate::lettering;
use crate::point::{Point, Rectangle, at};

/// A dimension, or a note that asks for something, with its number.
#[derive(Debug, Clone, PartialEq)]
pub struct Balloon {
    /// The number in the circle.
    pub number: u32,
    /// Name of the dimension or the note: `overall_length`.
    pub name: String,
    /// The side, where the drawing shows both.
    pub side: Option<Side>,
    /// What it says, in one line.
    pub words: String,
    /// Whether the circle found room on the drawing.
    pub drawn: bool,
}

/// The numbers that were given out, in the order in which they were.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Numbers {
    given: Vec<String>,
}

impl Numbers {
    /// The number of a dimension: the one that it has, or the next.
    pub fn of(&mut self, name: &str) -> u32 {
        let at = self.given.iter().position(|given| given == name).unwrap_or_else(|| {
            self.given.push(name.to_owned());
            self.given.len() - 1
        });
        u32::try_from(at + 1).unwrap_or(u32::MAX)
    }
}

/// Radius of a balloon, in heights of small lettering.
const RADIUS: f64 = 1.15;

/// Between a balloon and what it must not touch, in millimetres.
const CLEAR: f64 = 1.0;

/// How many distances are tried in the plain directions, each [`STEP`] farther than the one before.
const PLAIN_RINGS: u32 = 20;

/// How many distances are tried all around.
const RINGS: u32 = 90;

/// Between two distances that are tried, in millimetres.
const STEP: f64 = 0.7;

/// How many places are tried before a balloon may stand as near to another text as to its own.
const CLEARLY_ITS_OWN: usize = 16 * 14;

/// Room between a balloon and the text of another dimension, in millimetres, where there is a choice.
const AMONG_OTHERS: f64 = 2.0;

/// Farther from the text than this, in millimetres, a leader ties the balloon to it.
const TIED_FROM: f64 = 1.6;

/// Gives every dimension of a drawing its balloon, and every note that asks for something: the dimensions first.
///
/// ```
/// use drawing::{Numbers, Request, Standard, Units, View};
/// let catalog = axle::Catalog::shipped()?;
/// let text = "[order]\nreference = \"KB-0001\"\nuse = \"street\"\nunit = \"mm\"\nsides = [\"left\"]\n";
/// let sheet = axle::read_sheet("sheet.toml", text, &catalog)?;
/// let review = axle::review(&sheet, &catalog)?;
/// let request = Request {
///     view: View::Shaft,
///     side: axle::Side::Left,
///     standard: Standard::Iso,
///     units: Units::Millimetre,
///     date: "not dated",
///     revision: "1",
///     approved: false,
/// };
/// let mut drawn = drawing::draw(&sheet, &review, &request);
/// let mut numbers = Numbers::default();
/// let balloons = drawing::with_balloons(&mut drawn, &mut numbers);
/// assert_eq!(balloons[0].number, 1);
/// assert!(balloons.iter().any(|balloon| balloon.name == "overall_length"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn with_balloons(drawing: &mut Drawing, numbers: &mut Numbers) -> Vec<Balloon> {
    let style = drawing.style;
    let mut taken = Taken::by(&drawing.items, style.frame().grown(-1.0));
    let mut balloons = Vec::new();
    for Numbered { name, side, words, room } in numbered(&drawing.items) {
        let number = numbers.of(&name);
        // First where nobody could take it for the balloon of another text, and not far away; then wherever there is room.
        let place = places(&room, RADIUS * style.small)
            .take(CLEARLY_ITS_OWN)
            .find(|place| place.is_free(&taken) && place.is_of(&room, &taken))
            .or_else(|| places(&room, RADIUS * style.small).find(|place| place.is_free(&taken)));
        if let Some(place) = &place {
            taken.add_text(place.room());
            if let Some((from, to)) = place.leader {
                taken.add_stroke(from, to);
            }
            drawing.items.extend(place.items(number, style.small));
        }
        balloons.push(Balloon { number, name, side, words, drawn: place.is_some() });
    }
    balloons
}

/// What gets a number, with the room of its text.
struct Numbered {
    name: String,
    side: Option<Side>,
    words: String,
    room: Rectangle,
}

fn numbered(items: &[Item]) -> Vec<Numbered> {
    let dimensions = items.iter().filter_map(|item| match item {
        Item::Dimension(dimension) => Some(Numbered {
            name: dimension.name.clone(),
            side: dimension.side,
            words: dimension.words.clone(),
            room: text_room(&dimension.items, dimension.text_middle),
        }),
        _ => None,
    });
    let notes = items.iter().filter_map(|item| match item {
        Item::Note(note) => {
            let mut said = Vec::new();
            note.items.iter().for_each(|item| item.each_text(&mut |text| said.push(text)));
            let first = said.first()?.foot;
            let words = said.iter().map(|text| text.words.as_str()).collect::<Vec<_>>().join(" ");
            Some(Numbered { name: note.name.to_owned(), side: None, words, room: text_room(&note.items, first) })
        }
        _ => None,
    });
    dimensions.chain(notes).collect()
}

/// A place for a balloon.
#[derive(Debug, Clone, Copy)]
struct Place {
    centre: Point,
    radius: f64,
    /// From the circle to the text, where a leader ties them.
    leader: Option<(Point, Point)>,
}

/// Places around a text: first those in the plain directions, where a balloon is read with its text, then all around at ever
/// greater distance.
fn places(text: &Rectangle, radius: f64) -> impl Iterator<Item = Place> {
    let text = *text;
    // Left and right of the text before above and below it.
    let plain = [
        (-1.0, 0.0),
        (1.0, 0.0),
        (-1.0, 1.0),
        (1.0, 1.0),
        (-1.0, -1.0),
        (1.0, -1.0),
        (0.0, 1.0),
        (0.0, -1.0),
        (-1.0, 0.5),
        (1.0, 0.5),
        (-1.0, -0.5),
        (1.0, -0.5),
        (-0.5, 1.0),
        (0.5, 1.0),
        (-0.5, -1.0),
        (0.5, -1.0),
    ];
    let reach = move |ring: u32| CLEAR + STEP * f64::from(ring) + radius;
    let plain = (0..PLAIN_RINGS).flat_map(move |ring| {
        plain.into_iter().map(move |(across, up): (f64, f64)| {
            // On the slant the corner of the text is as far away as its side is on the level.
            let slant = if across != 0.0 && up != 0.0 { std::f64::consts::FRAC_1_SQRT_2 } else { 1.0 };
            text.middle().by(
                across * (0.5 * text.width() + slant * reach(ring)),
                up * (0.5 * text.height() + slant * reach(ring)),
            )
        })
    });
    let around = (0..RINGS).flat_map(move |ring| {
        let room = text.grown(reach(ring));
        let (columns, rows) = ((room.width() / STEP).ceil() as u32, (room.height() / STEP).ceil() as u32);
        let level = (0..=columns).flat_map(move |column| {
            let x = room.left + room.width() * f64::from(column) / f64::from(columns);
            [at(x, room.top), at(x, room.bottom)]
        });
        let upright = (1..rows).flat_map(move |row| {
            let y = room.bottom + room.height() * f64::from(row) / f64::from(rows);
            [at(room.left, y), at(room.right, y)]
        });
        upright.chain(level)
    });
    plain.chain(around).map(move |centre| Place::tied(centre, radius, &text))
}

impl Place {
    /// A balloon there, with a leader to its text where it stands apart from it.
    fn tied(centre: Point, radius: f64, text: &Rectangle) -> Self {
        let near = at(centre.x.clamp(text.left, text.right), centre.y.clamp(text.bottom, text.top));
        let far = centre.distance(near);
        let share =
            |part: f64| at(centre.x + (near.x - centre.x) * part / far, centre.y + (near.y - centre.y) * part / far);
        let leader = (far - radius > TIED_FROM).then(|| (share(radius), share(far - 0.3)));
        Self { centre, radius, leader }
    }

    /// Whether no other text is about as near as its own.
    fn is_of(&self, text: &Rectangle, taken: &Taken) -> bool {
        let around = self.room().grown(AMONG_OTHERS);
        !taken.holds_text_beside(&around, text)
    }

    fn is_free(&self, taken: &Taken) -> bool {
        taken.is_free(&self.room().grown(0.5 * CLEAR))
            && self.leader.is_none_or(|leader| taken.is_free_of_texts(leader))
    }

    fn room(&self) -> Rectangle {
        Rectangle::around(self.centre, self.centre).grown(self.radius)
    }

    fn items(&self, number: u32, height: f64) -> Vec<Item> {
        let words = number.to_string();
        // Two digits go into the same circle in smaller letters.
        let height = height.min(1.45 * self.radius / lettering::width(&words, 1.0));
        let foot = self.centre.by(0.0, -0.5 * height);
        let mut items = vec![
            circle(Ink::Note, self.centre, self.radius),
            Item::Text(text(Ink::Note, foot, height, Stand::Middle, words)),
        ];
        items.extend(self.leader.map(|(from, to)| line(Ink::Dimension, from, to)));
        items
    }
}

/// The room of all texts with the boxes that they stand in; a point where there are none.
fn text_room(items: &[Item], otherwise: Point) -> Rectangle {
    let mut texts = Vec::new();
    items.iter().for_each(|item| item.each_text(&mut |text| texts.push(text.room())));
    let boxes = items.iter().filter_map(|item| match item {
        Item::Line { points, closed: true, .. } => {
            let (first, rest) = points.split_first()?;
            let box_room = rest
                .iter()
                .fold(Rectangle::around(*first, *first), |room, point| room.with(&Rectangle::around(*point, *point)));
            texts.iter().any(|text| box_room.holds(text)).then_some(box_room)
        }
        _ => None,
    });
    let whole = boxes.chain(texts.iter().copied()).reduce(|known, room| known.with(&room));
    whole.unwrap_or(Rectangle::around(otherwise, otherwise))
}

#[cfg(test)]
mod tests {
    use super::Numbers;

    #[test]
    fn a_size_keeps_its_number() {
        let mut numbers = Numbers::default();
        assert_eq!(["a", "b", "a", "c"].map(|name| numbers.of(name)), [1, 2, 1, 3]);
    }
}

//! The views, each on a sheet of its own.

mod axis;
mod contour;
mod flange;
mod housing;
mod pair;
mod parts;
mod placing;
mod shaft;
mod sheet;

use axle::{Review, Sheet, Side};

use crate::item::{Drawing, Item};
use crate::shape::{ShaftShape, Surroundings};
use crate::style::{Standard, Style, Units};

use placing::{Patience, Picture, Placing};

pub use shaft::FACE_RUNOUT_MM;

/// What a drawing shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum View {
    /// One shaft, for the shop floor.
    Shaft,
    /// The outboard face of its flange.
    Flange,
    /// The shaft in its housing end and its side gear.
    Housing,
    /// Both shafts with the differential between them.
    Pair,
}

/// What is wanted.
#[derive(Debug, Clone, Copy)]
pub struct Request<'a> {
    /// The view.
    pub view: View,
    /// The side; the pair shows both.
    pub side: Side,
    /// The standard.
    pub standard: Standard,
    /// The units.
    pub units: Units,
    /// The date, in words.
    pub date: &'a str,
    /// The revision.
    pub revision: &'a str,
    /// Whether somebody has approved the drawing for manufacture. It is never believed of an order that stops.
    pub approved: bool,
}

/// The scales that are tried, the largest first, with their names (ISO 5455).
const SCALES: [(f64, &str); 4] = [(1.0, "1:1"), (0.5, "1:2"), (0.2, "1:5"), (0.1, "1:10")];

/// Draws a reviewed order. An order that is not complete draws what is known and says on the face what is not.
///
/// ```
/// use drawing::{Request, Standard, Units, View};
/// let catalog = axle::Catalog::shipped()?;
/// let text = "[order]\nreference = \"KB-0001\"\nuse = \"street\"\nunit = \"in\"\nsides = [\"left\"]\n";
/// let sheet = axle::read_sheet("sheet.toml", text, &catalog)?;
/// let review = axle::review(&sheet, &catalog)?;
/// let request = Request {
///     view: View::Shaft,
///     side: axle::Side::Left,
///     standard: Standard::Asme,
///     units: Units::Inch,
///     date: "not dated",
///     revision: "1",
///     approved: false,
/// };
/// let drawing = drawing::draw(&sheet, &review, &request);
/// assert!(drawing::svg(&drawing).contains("NOT KNOWN"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn draw(sheet: &Sheet, review: &Review, request: &Request<'_>) -> Drawing {
    let style = Style::of(request.standard, request.units);
    let shape = ShaftShape::of(review, request.side);
    let around = Surroundings::of(review, request.side);
    let [left, right] =
        [Side::Left, Side::Right].map(|side| (ShaftShape::of(review, side), Surroundings::of(review, side)));
    let sides = [(&left.0, &left.1), (&right.0, &right.1)];
    let facts = sheet::Facts { shape: &shape, around: &around, sides };
    let room = sheet::picture_room(&style);
    let trapped = housing::Trapped::of(sheet, review);
    let picture = |scale, patience| match request.view {
        View::Shaft => shaft::picture(&shape, &style, scale, room, patience),
        View::Flange => flange::picture(&shape, &style, scale, room, patience),
        View::Housing => housing::picture(&shape, &around, trapped, (&style, scale), room, patience),
        View::Pair => pair::picture(sides, &style, scale, room, patience),
    };
    let mut best: Option<(usize, Picture, f64, &str)> = None;
    // The largest scale at which everything has its room, or else the one that lacks least.
    for patience in [Patience::WholeOrNothing(room), Patience::AsMuchAsGoes] {
        best = None;
        for (scale, name) in SCALES {
            let picture = picture(scale, patience);
            let lack = picture.lack(room);
            if best.as_ref().is_none_or(|(least, ..)| lack < *least) {
                best = Some((lack, picture, scale, name));
            }
            if lack == 0 {
                break;
            }
        }
        if best.as_ref().is_some_and(|(lack, ..)| *lack == 0) {
            break;
        }
    }
    let (_, mut chosen, scale, name) = best.unwrap_or((0, Picture::default(), 1.0, "1:1"));
    let mut items: Vec<Item> = chosen.centred(room);
    items.extend(sheet::around(&style, sheet, review, request, &facts, name, &chosen.left_off));
    let title = format!("{}, {}", sheet::subject(request), review.reference);
    Drawing { title, style, scale, items }
}

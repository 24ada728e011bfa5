//! What stands around the picture: frame, title block, and the column with tables and notes.

use axle::{FittedSpline, Review, Sheet, Verdict};
use quantity::LengthExt;

use super::{Request, View};
use crate::column::Column;
use crate::ink::Ink;
use crate::item::{Item, line, rectangle};
use crate::label::{Closeness, in_words, limits_in_words};
use crate::point::{Rectangle, at};
use crate::shape::{ShaftShape, SizeBasis};
use crate::style::Style;
use crate::title_block::{HEIGHT, Title, title_block};

/// Width of the column beside the picture.
const COLUMN: f64 = 104.0;

/// The room of the picture, with a little air on every side.
pub(super) fn picture_room(style: &Style) -> Rectangle {
    let frame = style.frame();
    Rectangle { right: frame.right - COLUMN, ..frame }.grown(-4.0)
}

/// What the drawing shows, in words.
pub(super) fn subject(request: &Request<'_>) -> String {
    let side = request.side.words();
    match request.view {
        View::Shaft => format!("Axle shaft, {side}"),
        View::Flange => "Flange of the axle shaft".to_owned(),
        View::Housing => format!("Axle shaft in its housing, {side}"),
        View::Pair => "Both axle shafts with the differential".to_owned(),
    }
}

/// Frame, title block and column.
pub(super) fn around(
    style: &Style,
    sheet: &Sheet,
    review: &Review,
    request: &Request<'_>,
    shape: &ShaftShape,
    scale: &str,
    left_off: &[String],
) -> Vec<Item> {
    let frame = style.frame();
    let room = Rectangle { left: frame.right - COLUMN, ..frame };
    let mut items =
        vec![rectangle(Ink::Outline, frame), line(Ink::Outline, at(room.left, room.bottom), at(room.left, room.top))];
    let verdict = match review.verdict {
        Verdict::Cut => "may be cut",
        Verdict::Ask => "ask first",
        Verdict::Stop => "stopped",
    };
    let title = Title {
        what: subject(request),
        reference: &review.reference,
        revision: request.revision,
        date: request.date,
        scale: scale.to_owned(),
        verdict,
        approved: request.approved && review.verdict == Verdict::Cut,
    };
    let block = Rectangle { top: room.bottom + HEIGHT, ..room };
    items.extend(title_block(style, block, &title));
    let mut column = Column::new(style, Rectangle { bottom: block.top, ..room });
    stopped(&mut column, review);
    unknown(&mut column, review, shape, left_off);
    if matches!(request.view, View::Shaft)
        && let Some(spline) = &shape.spline
    {
        spline_table(&mut column, spline, style);
    }
    origins(&mut column, shape);
    notes(&mut column, sheet, shape, request, style);
    items.extend(column.into_items());
    items
}

fn stopped(column: &mut Column<'_>, review: &Review) {
    let reasons: Vec<_> = review.reasons.iter().filter(|reason| reason.verdict == Verdict::Stop).collect();
    if reasons.is_empty() {
        return;
    }
    column.heading("This must not be made");
    for reason in reasons {
        column.paragraph(&reason.words);
    }
}

/// What is not known, or found no room on the picture.
fn unknown(column: &mut Column<'_>, review: &Review, shape: &ShaftShape, left_off: &[String]) {
    let sizes: Vec<&str> = shape.sizes().into_iter().filter(|size| !size.is_known()).map(|size| size.words).collect();
    if sizes.is_empty() && review.missing.is_empty() && left_off.is_empty() && shape.spline.is_some() {
        return;
    }
    column.heading("Not known");
    if !sizes.is_empty() {
        column.paragraph(&format!("Not known, and the picture is out of proportion there: {}.", sizes.join(", ")));
    }
    if shape.spline.is_none() {
        column.paragraph("The spline is in no series that is known; it has no table.");
    }
    for missing in &review.missing {
        column.paragraph(&missing.words);
    }
    if !left_off.is_empty() {
        column.paragraph(&format!("No room on the picture for: {}.", left_off.join(", ")));
    }
}

fn spline_table(column: &mut Column<'_>, spline: &FittedSpline, style: &Style) {
    column.heading("Spline");
    if !spline.decided {
        column.paragraph("The likeliest one; the evidence does not settle it. Do not cut by this table.");
    }
    let size = |length: quantity::Length| in_words(length.millimetres(), Closeness::Ground, style);
    column.row("standard", &spline.standard);
    column.row("number of teeth", &spline.teeth.to_string());
    column.row("pitch", &spline.pitch);
    column.row("pressure angle", &format!("{}°", spline.pressure_angle_degrees));
    column.row("root", &spline.root);
    column.row("pitch diameter", &size(spline.pitch_diameter));
    column.row("base diameter", &size(spline.base_diameter));
    column.row("major diameter, at most", &size(spline.major_diameter));
    if let Some(form) = spline.form_diameter {
        column.row("form diameter, at most", &size(form));
    }
    column.row("minor diameter, at most", &size(spline.minor_diameter));
    let class =
        spline.class.map_or_else(|| "not held for this standard".to_owned(), |class| format!("{class}, assumed"));
    column.row("tolerance class", &class);
    let (least, most) = spline.tooth_thickness;
    let words = if spline.class.is_some() {
        limits_in_words(least.millimetres(), most.millimetres(), Closeness::Ground, style)
    } else {
        size(most)
    };
    column.row("tooth thickness, arc", &words);
    match &spline.over_pins {
        Some(over) => {
            column.row("pin diameter", &size(over.pin));
            let (least, most) = (over.least.millimetres(), over.most.millimetres());
            let words = if spline.class.is_some() {
                limits_in_words(least, most, Closeness::Ground, style)
            } else {
                format!("{}, nominal", size(over.most))
            };
            column.row("size over two pins", &words);
        }
        None => column.row("size over two pins", "no pin touches the flanks"),
    }
}

/// Which sizes were measured, derived and assumed.
fn origins(column: &mut Column<'_>, shape: &ShaftShape) {
    column.heading("Where the sizes come from");
    for basis in [SizeBasis::Measured, SizeBasis::Derived, SizeBasis::Assumed] {
        let names: Vec<&str> =
            shape.sizes().into_iter().filter(|size| size.basis == basis).map(|size| size.words).collect();
        if !names.is_empty() {
            let word = basis.word();
            let first = word.chars().take(1).flat_map(char::to_uppercase).chain(word.chars().skip(1));
            column.paragraph(&format!("{}: {}.", first.collect::<String>(), names.join(", ")));
        }
    }
}

fn notes(column: &mut Column<'_>, sheet: &Sheet, shape: &ShaftShape, request: &Request<'_>, style: &Style) {
    column.heading("Notes");
    let stated = if shape.steel_is_stated { "" } else { ", assumed" };
    let axle = sheet.axle.as_ref().map_or_else(String::new, |axle| format!("Axle: {axle}."));
    if !axle.is_empty() {
        column.paragraph(&axle);
    }
    if matches!(request.view, View::Shaft) {
        column.paragraph(&format!("Steel: {}{stated}.", shape.steel));
        column.paragraph(
            "All distances run from the wheel face. Break sharp edges. Surfaces without a mark: Ra 3.2 at most (common \
             practice, no source). Put the retainer plate on before bearing and lock ring.",
        );
    }
    let _ = style;
    column.paragraph(
        "This drawing supports and does not replace the judgement of a qualified person. Local law on vehicle modification \
         and licensed practice come first. Press on the inner ring only, behind a shield. A new lock ring every time, dry. \
         No torch near ring or bearing.",
    );
}

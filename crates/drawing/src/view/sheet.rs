//! What stands around the picture: frame, title block, and the column with tables and notes.

use axle::{FittedSpline, Review, Sheet, Verdict};
use quantity::{LengthExt, sentence};

use super::housing::Trapped;
use super::{Request, View};
use crate::column::Column;
use crate::ink::Ink;
use crate::item::{Item, line, rectangle};
use crate::label::{Closeness, Manner, in_words, label, limits_in_words};
use crate::point::{Rectangle, at};
use crate::shape::{END_CHAMFER_MM, PILOT_CHAMFER_MM, ShaftShape, Size, SizeBasis, Surroundings};
use crate::style::{Roughness, Style};
use crate::title_block::{HEIGHT, Title, title_block};

/// Width of the column beside the picture.
const COLUMN: f64 = 104.0;

/// What stands on every drawing.
const CAUTIONS: &str = "This drawing supports and does not replace the judgement of a qualified person. Local law on vehicle \
     modification and licensed practice come first. Press on the inner ring only, behind a shield. A new lock ring every \
     time, pressed on dry. No torch near ring or bearing. No heat to straighten a shaft.";

/// What the column tells of.
pub(super) struct Facts<'a> {
    /// The shaft of the view.
    pub shape: &'a ShaftShape,
    /// What lies around it.
    pub around: &'a Surroundings,
    /// Both sides, left first.
    pub sides: [(&'a ShaftShape, &'a Surroundings); 2],
}

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
        View::Flange => "Flange of the axle shafts".to_owned(),
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
    facts: &Facts<'_>,
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
        approved: request.approved && review.verdict != Verdict::Stop,
    };
    let block = Rectangle { top: room.bottom + HEIGHT, ..room };
    items.extend(title_block(style, block, &title));
    let mut column = Column::new(style, Rectangle { bottom: block.top, ..room });
    column.foot(CAUTIONS);
    stopped(&mut column, review);
    let sizes = sizes(request.view, facts);
    unknown(&mut column, review, request, facts, &sizes, left_off);
    match request.view {
        View::Shaft => {
            if let Some(spline) = &facts.shape.spline {
                spline_table(&mut column, spline, style);
            }
            hard_case(&mut column, facts.shape, style);
        }
        View::Flange => {}
        View::Housing => {
            size_table(&mut column, "Sizes", &sizes, style);
            parts(&mut column, review, facts.around);
        }
        View::Pair => {
            for (shape, around) in facts.sides {
                let heading = format!("{} side", shape.side.words());
                size_table(&mut column, &heading, &side_sizes(shape, around), style);
            }
            let (shape, around) = facts.sides[0];
            size_table(
                &mut column,
                "Both sides",
                &[&shape.shoulder_distance, &around.half_pin, &around.gear_reach],
                style,
            );
            parts(&mut column, review, around);
        }
    }
    notes(&mut column, style, (sheet, Trapped::of(sheet, review).retainer), facts.shape, request);
    // Last, since the picture says of every assumed size that it is assumed.
    if matches!(request.view, View::Shaft | View::Flange) {
        origins(&mut column, &sizes);
    }
    items.extend(column.into_items());
    items
}

/// The sizes that a view shows.
fn sizes<'a>(view: View, facts: &Facts<'a>) -> Vec<&'a Size> {
    let (shape, around) = (facts.shape, facts.around);
    match view {
        View::Shaft => {
            // The flange has a picture of its own, and where the spline starts says how long it is.
            let elsewhere = ["bolt_circle", "stud_hole", "access_hole", "access_hole_circle", "spline_length"];
            shape.sizes().into_iter().filter(|size| !elsewhere.contains(&size.name)).collect()
        }
        View::Flange => {
            let mut sizes = vec![
                &shape.flange_diameter,
                &shape.register_diameter,
                &shape.wheel_pilot_diameter,
                &shape.bolt_circle,
                &shape.stud_hole,
            ];
            if shape.has_access_hole == Some(true) {
                sizes.extend([&shape.access_hole, &shape.access_hole_circle]);
            }
            sizes
        }
        View::Housing => {
            let mut sizes = vec![&shape.overall_length, &shape.shoulder_distance];
            sizes.extend(around.sizes());
            sizes
        }
        View::Pair => facts.sides.iter().flat_map(|(shape, around)| side_sizes(shape, around)).collect(),
    }
}

fn side_sizes<'a>(shape: &'a ShaftShape, around: &'a Surroundings) -> Vec<&'a Size> {
    vec![&shape.overall_length, &around.brake_offset, &around.half_width, &around.end_gap, &around.engagement]
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
fn unknown(
    column: &mut Column<'_>,
    review: &Review,
    request: &Request<'_>,
    facts: &Facts<'_>,
    sizes: &[&Size],
    left_off: &[String],
) {
    let mut said = Vec::new();
    let names = named(sizes.iter().copied().filter(|size| !size.is_known()));
    if !names.is_empty() {
        said.push(format!("Out of proportion on the picture, because nobody knows it: {}.", names.join(", ")));
    }
    if request.view == View::Shaft && facts.shape.spline.is_none() {
        said.push("The spline is in no series that is known; it has no table.".to_owned());
    }
    if request.view == View::Flange {
        if facts.shape.holes.is_none() || !facts.shape.bolt_circle.is_known() {
            said.push("The bolt circle is not known; no holes are drawn.".to_owned());
        }
        if !facts.shape.stud_hole.is_known() {
            said.push("The stud hole is not known.".to_owned());
        }
        match (
            facts.shape.has_access_hole,
            facts.shape.access_hole.is_known(),
            facts.shape.access_hole_circle.is_known(),
        ) {
            (None, ..) => said.push("Whether the flange has an access hole.".to_owned()),
            (Some(true), true, true) | (Some(false), ..) => {}
            (Some(true), ..) => said.push(
                "The access hole that was measured through: its size and its place are not known, and it is not drawn."
                    .to_owned(),
            ),
        }
    }
    said.extend(review.missing.iter().map(|missing| sentence(&missing.words)));
    if !left_off.is_empty() {
        said.push(format!("No room on the picture for: {}.", left_off.join(", ")));
    }
    if said.is_empty() {
        return;
    }
    column.heading("Not known");
    for words in said {
        column.paragraph(&words);
    }
}

fn named<'a>(sizes: impl Iterator<Item = &'a Size>) -> Vec<&'static str> {
    let mut names: Vec<&'static str> = Vec::new();
    for size in sizes {
        if !names.contains(&size.words) {
            names.push(size.words);
        }
    }
    names
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

/// The hard case, whose surface the thick chain line marks.
fn hard_case(column: &mut Column<'_>, shape: &ShaftShape, style: &Style) {
    let Some(case) = &shape.case else { return };
    column.heading("Induction hardened along the thick chain line");
    column.row("hardness, at least", &format!("{} HRC", case.rockwell_c));
    for (size, what) in [(&case.depth, "depth in the body"), (&case.spline_depth, "depth under the spline roots")] {
        let value = size.value_mm.map_or_else(
            || "not known".to_owned(),
            |value| format!("{}, {}", in_words(value, Closeness::Turned, style), size.basis.word()),
        );
        column.row(what, &value);
    }
}

/// Which sizes were measured, derived and assumed.
fn origins(column: &mut Column<'_>, sizes: &[&Size]) {
    column.heading("Where the sizes come from");
    for basis in [SizeBasis::Measured, SizeBasis::Derived, SizeBasis::Assumed] {
        let names = named(sizes.iter().copied().filter(|size| size.basis == basis));
        if !names.is_empty() {
            let word = basis.word();
            column.paragraph(&sentence(&format!("{word}: {}", names.join(", "))));
        }
    }
}

/// Each size with how it came about.
fn size_table(column: &mut Column<'_>, heading: &str, sizes: &[&Size], style: &Style) {
    column.heading(heading);
    for size in sizes {
        let value = match size.value_mm {
            None => "not known".to_owned(),
            Some(_) => {
                let words = label(size, "", Manner::PlusMinus, Closeness::Turned, style).words();
                format!("{}, {}", words.trim_end_matches(" ASSUMED"), size.basis.word())
            }
        };
        column.row(size.words, &value);
    }
}

fn parts(column: &mut Column<'_>, review: &Review, around: &Surroundings) {
    column.heading("Parts");
    column.row("bearing", &around.bearing);
    column.row("housing end", &around.housing_end);
    let differential = review.fitted.differential.name.as_deref().unwrap_or("not named");
    column.row("differential", differential);
    column.paragraph("They are drawn for their place; where they have no size here, their shape is a picture.");
}

fn notes(
    column: &mut Column<'_>,
    style: &Style,
    (sheet, retainer): (&Sheet, &str),
    shape: &ShaftShape,
    request: &Request<'_>,
) {
    column.heading("Notes");
    if let Some(axle) = &sheet.axle {
        column.paragraph(&format!("Axle: {axle}."));
    }
    match request.view {
        View::Shaft => {
            let stated = if shape.steel_is_stated { "" } else { ", assumed" };
            column.paragraph(&format!("Steel: {}{stated}.", shape.steel));
            column.paragraph(&format!(
                "All distances run from the wheel face. Break sharp edges. Surfaces without a mark: {} at most (common \
                 practice, no source); all Ra in {}. Put the {} on before bearing and lock ring.",
                style.roughness(Roughness::Turned),
                style.roughness_unit(),
                retainer
            ));
            column.paragraph(&format!(
                "Chamfers: {} at 45° on the wheel pilot, {} at 45° on the end of the spline.",
                in_words(PILOT_CHAMFER_MM, Closeness::Turned, style),
                in_words(END_CHAMFER_MM, Closeness::Turned, style)
            ));
            column.paragraph(
                "Sizes in parentheses have no limits of their own; the shop's general tolerance holds for them.",
            );
        }
        View::Flange => {
            if shape.has_access_hole == Some(false) {
                column.paragraph("The flange has no access hole.");
            }
            column.paragraph(
                "Datum B is the wheel face, datum C the axis of the register. The position of the holes is common practice, \
                 no source.",
            );
        }
        View::Housing => column.paragraph("All distances from the wheel face. The shaft is fully home."),
        View::Pair => column.paragraph("Seen from above. Left and right are those of one who faces forward."),
    }
}

//! The sections of a sheet that say what is known or claimed of the parts.

use catalog::{BearingKind, BrakeKind, Catalog, Measurand};
use placed::{Item, TableReader};
use quantity::{Length, both, millimetres};

use super::known_name::known_name;
use super::loads;
use super::size::{SheetUnit, size};
use crate::sheet::{AccessHole, BrakeClaim, LoadClaims, Parts, Retainer};

/// Everything that the sheet says of the parts that the shafts go with; what it says of their strength goes to `claims`.
pub(super) fn parts(root: &TableReader<'_>, unit: SheetUnit, catalog: &Catalog, claims: &mut LoadClaims) -> Parts {
    let mut parts = Parts::default();
    if let Some(table) = root.table("bearing") {
        (parts.bearing, parts.bearing_kind) = bearing(&table, catalog);
        table.finish();
    }
    if let Some(table) = root.table("housing_end") {
        let names = catalog.housing_ends.iter().map(|row| row.name.as_str());
        parts.housing_end = table.optional("row").and_then(|item| known_name(&item, "housing end", names));
        table.finish();
    }
    if let Some(table) = root.table("brake") {
        parts.brake = brake(&table, unit, catalog);
        table.finish();
    }
    if let Some(table) = root.table("stud") {
        parts.stud = table.optional("thread").and_then(|item| item.thread());
        let hole = table.optional("hole");
        parts.stud_hole = hole.and_then(|item| like_reading(&item, unit, Measurand::StudHole, catalog));
        loads::inputs(&table, "stud", unit, claims);
        table.finish();
    }
    if let Some(table) = root.table("flange") {
        parts.access_hole = access_hole(&table, unit, catalog);
        table.finish();
    }
    if let Some(table) = root.table("spline") {
        let names = catalog.splines.iter().map(|row| row.name.as_str());
        parts.spline_series = table.optional("series").and_then(|item| known_name(&item, "spline series", names));
        loads::inputs(&table, "spline", unit, claims);
        table.finish();
    }
    parts
}

/// The bearing row and kind that are claimed.
fn bearing(table: &TableReader<'_>, catalog: &Catalog) -> (Option<String>, Option<BearingKind>) {
    let names = catalog.bearings.iter().map(|row| row.name.as_str());
    let name = table.optional("row").and_then(|item| known_name(&item, "bearing", names));
    let kind_item = table.optional("kind");
    let kind = kind_item
        .as_ref()
        .and_then(|item| item.one_of(&[("ball", BearingKind::Ball), ("tapered", BearingKind::Tapered)]));
    let row = name.as_ref().and_then(|name| catalog.bearing(name));
    if let (Some(item), Some(kind), Some(row)) = (&kind_item, kind, row)
        && kind != row.kind
    {
        let words = match row.kind {
            BearingKind::Ball => "ball",
            BearingKind::Tapered => "tapered",
        };
        contradiction(item, &row.name, words);
    }
    (name, kind)
}

/// What is claimed of the brake.
fn brake(table: &TableReader<'_>, unit: SheetUnit, catalog: &Catalog) -> BrakeClaim {
    let names = catalog.brakes.iter().map(|row| row.name.as_str());
    let name = table.optional("row").and_then(|item| known_name(&item, "brake", names));
    let kind_item = table.optional("kind");
    let kind = kind_item.as_ref().and_then(|item| item.one_of(&[("drum", BrakeKind::Drum), ("disc", BrakeKind::Disc)]));
    let row = name.as_ref().and_then(|name| catalog.brake(name));
    if let (Some(item), Some(kind), Some(row)) = (&kind_item, kind, row)
        && kind != row.kind
    {
        let words = match row.kind {
            BrakeKind::Drum => "drum",
            BrakeKind::Disc => "disc",
        };
        contradiction(item, &row.name, words);
    }

    let changed = table.optional("changed").and_then(|item| item.boolean()).unwrap_or(false);
    let offset = table.optional("required_offset");
    let required_offset = offset.and_then(|item| like_reading(&item, unit, Measurand::BrakeOffset, catalog));
    let retainer = table
        .optional("retainer")
        .and_then(|item| item.one_of(&[("plate", Retainer::Plate), ("caliper bracket", Retainer::CaliperBracket)]));
    let bracket_item = table.optional("bracket_sent_in");
    let bracket_sent_in = bracket_item.as_ref().and_then(|item| item.boolean()).unwrap_or(false);
    if let (Some(item), Some(Retainer::Plate), true) = (&bracket_item, retainer, bracket_sent_in) {
        item.fault(
            "a bracket is sent in, and the retainer is a plate",
            "`bracket_sent_in = true` only with `retainer = \"caliper bracket\"`",
        );
    }
    BrakeClaim { row: name, kind, changed, required_offset, retainer, bracket_sent_in }
}

/// The least and the largest access hole that are accepted, in millimetres: what a socket goes through, and what stays between
/// register and rim of any flange.
const ACCESS_HOLE_MM: (f64, f64) = (6.0, 80.0);

/// The access hole that is wanted: a size or `"none"`, and the circle that it lies on.
fn access_hole(table: &TableReader<'_>, unit: SheetUnit, catalog: &Catalog) -> Option<AccessHole> {
    let hole = table.optional("access_hole");
    let circle_item = table.optional("access_hole_circle");
    let circle = circle_item.as_ref().and_then(|item| like_reading(item, unit, Measurand::BoltCircle, catalog));
    let without = hole.as_ref().is_some_and(|item| item.is_text() && item.text() == Some("none"));
    if let (Some(item), true) = (&circle_item, without || hole.is_none()) {
        item.fault("there is no access hole whose circle this could be", "`access_hole` with a size beside it");
        return None;
    }
    if without {
        return Some(AccessHole::Without);
    }
    let item = hole?;
    if item.is_text() && item.text().is_some_and(|text| !text.contains(|letter: char| letter.is_ascii_digit())) {
        item.fault(
            format!("{} is no access hole", item.raw()),
            "a size such as `'1 1/8\"'` or `\"28 mm\"`, or `\"none\"`",
        );
        return None;
    }
    let written = unit.length(&item)?;
    let (least, most) = (millimetres(ACCESS_HOLE_MM.0), millimetres(ACCESS_HOLE_MM.1));
    if !unit.within(&written, least, most) {
        let leading = unit.leading(&written);
        item.fault(
            format!("an access hole of {} cannot be", both(written.value(), leading)),
            format!("a size from {} to {}, or `\"none\"`", both(least, leading), both(most, leading)),
        );
        return None;
    }
    Some(AccessHole::Round { diameter: written.value(), circle })
}

/// Faults a kind that is not the kind of the row beside it.
fn contradiction(kind: &Item<'_>, row: &str, row_kind: &str) {
    kind.fault(
        format!("the kind is {}, but {row:?} is of the kind {row_kind:?}", kind.raw()),
        format!("{row_kind:?}, or another row; where the row is named, `kind` may be left out"),
    );
}

/// A size that is accepted in the same range as readings of `measurand`.
fn like_reading(item: &Item<'_>, unit: SheetUnit, measurand: Measurand, catalog: &Catalog) -> Option<Length> {
    size(item, unit, catalog.measurand(measurand)).map(|written| written.value())
}

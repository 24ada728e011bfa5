//! An order sheet as it is written down, a TOML text, to [`Sheet`].
//!
//! This is the one place that knows the sheet's keys. It reports every fault of the text at once, each at its place and
//! with what would be accepted. A sheet that lacks something is no fault: what is missing for the shafts is a finding of
//! the review.

mod known_name;
mod loads;
mod parts;
mod readings;
mod size;
mod truth;

use catalog::Catalog;
use placed::{Document, Faults, Item, TableReader};

use self::known_name::known_name;
use self::size::{SheetUnit, UnitEvidence};
use super::{Fitting, Sheet, Side, Use};

pub use self::truth::read_truth;

/// Reads the text of an order sheet.
///
/// `name` is the file's name as the faults should state it; it is not opened. The catalog supplies the names that a sheet
/// may use (instruments, bearings, housing ends, brakes, spline series, differentials) and the range that each reading is
/// accepted in.
///
/// The readings come back in the order in which they stand in the text.
///
/// # Errors
///
/// Every fault in the text, by place: text that is not TOML; unknown or doubled keys; a value of the wrong type; a size
/// without a unit where the sheet sets none, or with an unknown one; a size that is not finite, negative, zero or outside
/// the accepted range of its measurand; a name that the catalog does not hold; a reading in a section that cannot hold it.
///
/// ```
/// let catalog = catalog::Catalog::shipped()?;
/// let text = r#"
/// [order]
/// reference = "B-2041"
/// use = "street"
/// unit = "in"
/// sides = ["left"]
///
/// [left]
/// overall_length = { value = '28 13/16"', instrument = "tape" }
/// "#;
/// let sheet = axle::read_sheet("B-2041.toml", text, &catalog)?;
/// assert_eq!(sheet.readings.len(), 1);
///
/// let faults = axle::read_sheet("B-2041.toml", &text.replace("tape", "taep"), &catalog).unwrap_err();
/// assert!(faults.to_string().starts_with(
///     "B-2041.toml:9:54: the catalog holds no instrument \"taep\", did you mean \"tape\"?"
/// ));
/// # Ok::<(), placed::Faults>(())
/// ```
pub fn read_sheet(name: &str, text: &str, catalog: &Catalog) -> Result<Sheet, Faults> {
    let document = Document::parse(name, text);
    let root = document.root();
    let sheet = sheet_from(&root, catalog);
    root.finish();
    document.outcome(sheet)
}

/// Reads every section, so that a fault in one does not hide the faults of the next; nothing where `[order]` is not whole.
fn sheet_from(root: &TableReader<'_>, catalog: &Catalog) -> Option<Sheet> {
    let order = root.required_table("order");
    let unit = order.as_ref().map_or(SheetUnit::Unstated, SheetUnit::read);
    let fitting = fitting(root);
    let mut loads = loads::loads(root, unit, catalog);
    let parts = parts::parts(root, unit, catalog, &mut loads);
    let evidence = UnitEvidence::default();
    let readings = readings::readings(root, unit, &evidence, catalog);
    if let Some(order) = &order {
        evidence.judge(order, unit);
    }

    let order = order?;
    let reference = order.required("reference").and_then(|item| filled(&item));
    let axle = order.optional("axle").and_then(|item| filled(&item));
    let use_ = order.required("use").and_then(|item| {
        item.one_of(&[
            ("street", Use::Street),
            ("tow", Use::Tow),
            ("off-road", Use::OffRoad),
            ("competition", Use::Competition),
        ])
    });
    let differential = order
        .optional("differential")
        .and_then(|item| known_name(&item, "differential", catalog.differentials.iter().map(|row| row.name.as_str())));
    let wanted = order.required("sides").and_then(|item| wanted_sides(&item));
    let note = order.optional("note").and_then(|item| filled(&item));
    order.finish();

    Some(Sheet {
        reference: reference?,
        axle,
        use_: use_?,
        unit: unit.stated(),
        differential,
        wanted: wanted?,
        note,
        parts,
        fitting,
        loads,
        readings,
    })
}

/// The sides for which a shaft is wanted, left first.
fn wanted_sides(item: &Item<'_>) -> Option<Vec<Side>> {
    const ACCEPTED: &str = "`[\"left\"]`, `[\"right\"]` or `[\"left\", \"right\"]`";
    let entries = item.list()?;
    if entries.is_empty() {
        item.fault("no side is named, so no shaft is wanted", ACCEPTED);
        return None;
    }
    let mut wanted = Vec::new();
    let mut sound = true;
    for entry in entries {
        match entry.one_of(&[("left", Side::Left), ("right", Side::Right)]) {
            Some(side) if wanted.contains(&side) => {
                entry.fault(format!("the {} side is named twice", side.words()), ACCEPTED);
                sound = false;
            }
            Some(side) => wanted.push(side),
            None => sound = false,
        }
    }
    wanted.sort();
    sound.then_some(wanted)
}

/// What the shop is to fit.
fn fitting(root: &TableReader<'_>) -> Fitting {
    let Some(table) = root.table("fitting") else {
        return Fitting::default();
    };
    let by_shop = |key| table.optional(key).and_then(|item| item.one_of(&[("shop", true), ("customer", false)]));
    let fitting = Fitting { bearings_by_shop: by_shop("bearings"), studs_by_shop: by_shop("studs") };
    table.finish();
    fitting
}

/// Text that says something, for the keys that hold free words.
fn filled(item: &Item<'_>) -> Option<String> {
    item.filled_text().map(str::to_owned)
}

//! The truth of a finished order as it is written down, a TOML text, to [`Truth`].

use catalog::Catalog;
use placed::{Document, Faults, Item, TableReader};
use quantity::{Leading, LengthExt, Notation, WrittenLength, both, millimetres, resolution};

use super::filled;
use super::known_name::known_name;
use super::readings::{SECTIONS, check_section, count_in_range, row_of};
use super::size::{SheetUnit, length_in_range, size};
use crate::truth::{TrueParts, TrueSize, Truth};

/// Reads the text of a truth file: what the parts of a finished order really measure.
///
/// `name` is the file's name as the faults should state it; it is not opened. The sizes stand under the keys of an order
/// sheet, each with one value; a size that nobody knows is left out.
///
/// # Errors
///
/// Every fault in the text, by place: all that [`read_sheet`](crate::read_sheet) faults in readings, parts and keys; and sizes
/// that cannot belong to one axle, such as a housing width that is not the sum of the half widths.
///
/// ```
/// let catalog = catalog::Catalog::shipped()?;
/// let text = r#"
/// [truth]
/// order = "B-2041"
/// unit = "in"
///
/// [parts]
/// differential = "open"
///
/// [shared]
/// flange_thickness = 0.4203
///
/// [left]
/// overall_length = 28.8122
/// "#;
/// let truth = axle::read_truth("B-2041.truth.toml", text, &catalog)?;
/// assert_eq!(truth.sizes.len(), 2);
/// # Ok::<(), placed::Faults>(())
/// ```
pub fn read_truth(name: &str, text: &str, catalog: &Catalog) -> Result<Truth, Faults> {
    let document = Document::parse(name, text);
    let root = document.root();
    let truth = truth_from(&root, catalog);
    root.finish();
    if let Some(truth) = &truth
        && document.faults().is_empty()
    {
        check(truth, &document, catalog);
    }
    document.outcome(truth)
}

fn truth_from(root: &TableReader<'_>, catalog: &Catalog) -> Option<Truth> {
    let head = root.required_table("truth");
    let unit = head.as_ref().map_or(SheetUnit::Unstated, SheetUnit::read);
    // How well the sizes were taken. A gauge room knows them to a hundredth of a millimetre; ten millimetres is no truth.
    let uncertainty = head.as_ref().and_then(|head| head.optional("uncertainty")).map(|item| {
        length_in_range(&item, unit, "the uncertainty of a true size", (0.0, 10.0)).map(|length| length.millimetres())
    });
    let parts = root.table("parts").map(|table| {
        let parts = parts(&table, catalog);
        table.finish();
        parts
    });
    let mut sizes = Vec::new();
    let mut stated = 0;
    for (section, side) in SECTIONS {
        let Some(table) = root.table(section) else { continue };
        for (key, item) in table.entries() {
            stated += 1;
            let Some(row) = row_of(key, &item, catalog) else { continue };
            check_section(&item, row, side);
            let measurand = row.measurand;
            let read = if measurand.is_count() {
                count_in_range(&item, row).map(|count| (f64::from(count), 0.0))
            } else if item.is_list() || item.is_table() {
                item.fault(format!("the true {} is one size", row.words), "one size, such as \"27.4468 in\"");
                None
            } else {
                size(&item, unit, row).map(|written| (written.value().millimetres(), resolution(last_place(&written))))
            };
            if let Some((value, written)) = read {
                let standard_uncertainty = match uncertainty.flatten() {
                    Some(stated) if !measurand.is_count() => written.hypot(stated),
                    _ => written,
                };
                sizes.push(TrueSize { measurand, side, value, standard_uncertainty, span: item.span() });
            }
        }
        table.finish();
    }
    let head = head?;
    let order = head.required("order").and_then(|item| filled(&item));
    // Where the truth comes from: for people.
    let _ = head.optional("found_by").and_then(|item| filled(&item));
    head.finish();
    if stated == 0 {
        root.fault("no true size is stated", "at least one size under [shared], [left] or [right]");
    }
    sizes.sort_by_key(|size| size.span.start);
    Some(Truth { order: order?, parts: parts.unwrap_or_default(), sizes })
}

/// The last place that a size was written to, in millimetres: a size written as 27.45 in was found to a hundredth.
fn last_place(written: &WrittenLength) -> f64 {
    let share = match written.notation() {
        Notation::Whole => 1.0,
        Notation::Fraction { denominator } => 1.0 / f64::from(denominator),
        Notation::Decimal { places } => 10_f64.powi(-i32::from(places)),
    };
    // The accepted ranges keep nought out.
    share * written.value().millimetres() / written.number()
}

/// The parts that were there.
fn parts(table: &TableReader<'_>, catalog: &Catalog) -> TrueParts {
    let named = |key: &str, what: &str, names: &mut dyn Iterator<Item = &str>| {
        let names: Vec<&str> = names.collect();
        table.optional(key).and_then(|item: Item<'_>| known_name(&item, what, names.iter().copied()))
    };
    TrueParts {
        bearing: named("bearing", "bearing", &mut catalog.bearings.iter().map(|row| row.name.as_str())),
        housing_end: named("housing_end", "housing end", &mut catalog.housing_ends.iter().map(|row| row.name.as_str())),
        differential: named(
            "differential",
            "differential",
            &mut catalog.differentials.iter().map(|row| row.name.as_str()),
        ),
        spline_series: named(
            "spline_series",
            "spline series",
            &mut catalog.splines.iter().map(|row| row.name.as_str()),
        ),
    }
}

/// Faults the sizes that cannot belong to one axle.
fn check(truth: &Truth, document: &Document, catalog: &Catalog) {
    let Ok(found) = truth.contradictions(catalog) else {
        document.root().fault("the catalog's sizes make no axle for these", "a catalog whose sizes make a sound model");
        return;
    };
    for (size, said) in found {
        let words = &catalog.measurand(size.measurand).words;
        let text = |value: f64| {
            if size.measurand.is_count() { format!("{value:.0}") } else { both(millimetres(value), Leading::Inches) }
        };
        document.fault(
            size.span.clone(),
            format!(
                "the {words} does not go with the other true sizes: {} stands here, {} goes with them",
                text(size.value),
                text(said)
            ),
            format!("true sizes that agree within {}", text(truth.agreement(catalog))),
        );
    }
}

//! Simulated orders as finished ones: the sheet as it came to the desk and the truth behind it, also as texts.

use std::fmt::Write as _;

use catalog::{Catalog, MEASURANDS, Measurand, Sides};
use placed::Position;
use quantity::{LengthExt, decimal_inches, millimetres};

use super::chance::Chance;
use super::measure::{People, Zeal, measure};
use super::vehicle::{Vehicle, draw_vehicle};
use crate::learn::FinishedOrder;
use crate::sheet::{Reading, Sheet, Side, Value};
use crate::truth::{TrueParts, TrueSize, Truth};

/// The true sizes are written to so many decimals of an inch.
const PLACES: usize = 5;

/// Draws one order and its truth; none where the catalog allows no vehicle that works. The same chance draws the same order as
/// in [`Trials::run`](super::Trials::run).
///
/// A reading that lies outside what a sheet accepts never reaches a desk, so it is left out here.
#[must_use]
pub fn draw_finished(
    catalog: &Catalog,
    zeal: Zeal,
    people: &People,
    reference: &str,
    chance: &mut Chance<'_>,
) -> Option<FinishedOrder> {
    let differential = chance.weighted(&catalog.differentials, |_| 1.0)?;
    let vehicle = draw_vehicle(catalog, differential, chance)?;
    let mut sheet = measure(&vehicle, catalog, zeal, people, chance).sheet;
    reference.clone_into(&mut sheet.reference);
    sheet.readings.retain(|reading| is_accepted(reading, catalog));
    for (at, reading) in sheet.readings.iter_mut().enumerate() {
        reading.position = Position { line: at + 1, column: 1 };
    }
    Some(FinishedOrder { sheet, truth: truth(&vehicle, catalog, reference) })
}

fn is_accepted(reading: &Reading, catalog: &Catalog) -> bool {
    let (least, most) = catalog.measurand(reading.measurand).accepted;
    match &reading.value {
        Value::Length(repeats) => repeats.iter().all(|one| (least..=most).contains(&one.value())),
        Value::Count(count) => (least.millimetres()..=most.millimetres()).contains(&f64::from(*count)),
    }
}

/// Everything that the vehicle measures.
fn truth(vehicle: &Vehicle<'_>, catalog: &Catalog, reference: &str) -> Truth {
    let mut sizes = Vec::new();
    // A size over pins hangs on the pins, so it is no size of the vehicle alone.
    for (measurand, _) in MEASURANDS.iter().filter(|(measurand, _)| *measurand != Measurand::SplineOverPins) {
        let sides: &[Option<Side>] = match catalog.measurand(*measurand).sides {
            Sides::Each => &[Some(Side::Left), Some(Side::Right)],
            Sides::Whole | Sides::Either => &[None],
        };
        for side in sides {
            let Some((geometry, unknowns)) = vehicle.topic_of(*measurand, *side) else { continue };
            let Some(form) = geometry.form(*measurand, *side) else { continue };
            let value = form.at(unknowns);
            let value = if measurand.is_count() { value.round() } else { value };
            sizes.push(TrueSize { measurand: *measurand, side: *side, value, standard_uncertainty: 0.0, span: 0..0 });
        }
    }
    let parts = &vehicle.chain.parts;
    Truth {
        order: reference.to_owned(),
        parts: TrueParts {
            bearing: parts.bearing.map(|row| row.name.clone()),
            housing_end: parts.housing_end.map(|row| row.name.clone()),
            differential: Some(vehicle.chain.differential.name.clone()),
            spline_series: vehicle.spline.listed.as_ref().map(|(series, _, _)| series.name.clone()),
        },
        sizes,
    }
}

/// A simulated sheet as the text of an order sheet.
#[must_use]
pub fn sheet_text(sheet: &Sheet) -> String {
    let mut text = String::from("# A simulated order: nobody measured this.\n\n[order]\n");
    let _ = writeln!(text, "reference = {}", quoted(&sheet.reference));
    let _ = writeln!(text, "use = \"street\"\nunit = \"in\"");
    if let Some(differential) = &sheet.differential {
        let _ = writeln!(text, "differential = {}", quoted(differential));
    }
    text += "sides = [\"left\", \"right\"]\n";
    if let Some(kind) = sheet.parts.bearing_kind {
        let _ = writeln!(text, "\n[bearing]\nkind = \"{}\"", format!("{kind:?}").to_lowercase());
    }
    if let Some(kind) = sheet.parts.brake.kind {
        let _ = writeln!(text, "\n[brake]\nkind = \"{}\"", format!("{kind:?}").to_lowercase());
    }
    if let Some(thread) = sheet.parts.stud {
        let _ = writeln!(text, "\n[stud]\nthread = {}", quoted(&thread.to_string()));
    }
    if let Some(series) = &sheet.parts.spline_series {
        let _ = writeln!(text, "\n[spline]\nseries = {}", quoted(series));
    }
    let entries = sheet.readings.iter().map(|reading| {
        let value = match &reading.value {
            Value::Count(count) => count.to_string(),
            Value::Length(repeats) => {
                let written: Vec<String> = repeats.iter().map(|one| quoted(one.text())).collect();
                if let [once] = written.as_slice() { once.clone() } else { format!("[{}]", written.join(", ")) }
            }
        };
        (reading.measurand, reading.side, value)
    });
    text + &sections(entries.collect())
}

/// A truth as the text of a truth file.
#[must_use]
pub fn truth_text(truth: &Truth) -> String {
    let mut text = String::from("# What a simulated axle really measures.\n\n[truth]\n");
    let _ = writeln!(text, "order = {}\n\n[parts]", quoted(&truth.order));
    let parts = &truth.parts;
    let named = [
        ("bearing", &parts.bearing),
        ("housing_end", &parts.housing_end),
        ("differential", &parts.differential),
        ("spline_series", &parts.spline_series),
    ];
    for (key, name) in named {
        if let Some(name) = name {
            let _ = writeln!(text, "{key} = {}", quoted(name));
        }
    }
    let entries = truth.sizes.iter().map(|size| {
        let value = if size.measurand.is_count() {
            format!("{:.0}", size.value)
        } else {
            quoted(&decimal_inches(millimetres(size.value), PLACES))
        };
        (size.measurand, size.side, value)
    });
    text + &sections(entries.collect())
}

/// The sections of readings or sizes.
fn sections(entries: Vec<(Measurand, Option<Side>, String)>) -> String {
    let mut text = String::new();
    for (section, side) in [("shared", None), ("left", Some(Side::Left)), ("right", Some(Side::Right))] {
        let own: Vec<_> = entries.iter().filter(|(_, at, _)| *at == side).collect();
        if !own.is_empty() {
            let _ = writeln!(text, "\n[{section}]");
        }
        for (measurand, _, value) in own {
            let _ = writeln!(text, "{} = {value}", measurand.key());
        }
    }
    text
}

/// A TOML text.
fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

//! Random sheets: whatever the reader accepts.

use catalog::{CONDITIONS, Catalog, Measurand, Sides};
use proptest::prelude::*;
use quantity::LengthExt;

/// What one reading of a random sheet is made from; every number is taken modulo what there is to choose from.
#[derive(Debug, Clone)]
pub struct Draw {
    measurand: usize,
    side: usize,
    /// Where in its range the value lies, 0 to 1, and whether the range is the usual or the accepted one.
    place: f64,
    far_out: bool,
    instrument: usize,
    conditions: usize,
    repeats: usize,
    in_millimetres: bool,
}

/// A random reading. One in eight lies at the very end of what is accepted.
pub fn draw() -> impl Strategy<Value = Draw> {
    let place = prop_oneof![6 => 0.0..=1.0_f64, 1 => Just(0.0), 1 => Just(1.0)];
    let far_out = prop_oneof![3 => Just(false), 1 => Just(true)];
    (0_usize..46, 0_usize..2, place, far_out, 0_usize..40, 0_usize..64, 1_usize..5, any::<bool>()).prop_map(
        |(measurand, side, place, far_out, instrument, conditions, repeats, in_millimetres)| Draw {
            measurand,
            side,
            place,
            far_out,
            instrument,
            conditions,
            repeats,
            in_millimetres,
        },
    )
}

/// The sections before the readings.
pub fn head() -> impl Strategy<Value = String> {
    let sides = prop_oneof![Just(r#"["left"]"#), Just(r#"["right"]"#), Just(r#"["left", "right"]"#)];
    let differential = prop_oneof![Just(""), Just("differential = \"open\"\n"), Just("differential = \"spool\"\n")];
    let bearing = prop_oneof![
        Just(""),
        Just("[bearing]\nkind = \"tapered\"\n"),
        Just("[bearing]\nkind = \"ball\"\n"),
        Just("[bearing]\nrow = \"40x80x18 ball\"\n"),
        Just("[bearing]\nrow = \"25x52x16.25 tapered\"\n"),
    ];
    let brake = prop_oneof![
        Just(""),
        Just("[brake]\nrow = \"disc 11 5/8 in\"\nchanged = true\n"),
        Just("[brake]\nchanged = true\nkind = \"disc\"\nrequired_offset = \"2.5 in\"\n"),
        Just("[brake]\nretainer = \"caliper bracket\"\n"),
    ];
    let stud = prop_oneof![Just(""), Just("[stud]\nthread = \"1/2-20\"\n"), Just("[stud]\nhole = \"0.6 in\"\n")];
    let spline = prop_oneof![Just(""), Just("[spline]\nseries = \"module 1, 30°\"\n")];
    let end = prop_oneof![Just(""), Just("[housing_end]\nrow = \"52 mm bore, 2.65 x 1.95 in\"\n")];
    (sides, differential, bearing, brake, stud, spline, end).prop_map(
        |(sides, differential, bearing, brake, stud, spline, end)| {
            format!(
                "[order]\nreference = \"R\"\nuse = \"street\"\nunit = \"in\"\nsides = {sides}\n{differential}\
                 [fitting]\nbearings = \"shop\"\n{bearing}{brake}{stud}{spline}{end}"
            )
        },
    )
}

/// A sheet with these readings, as TOML.
pub fn sheet_text(head: &str, draws: &[Draw], catalog: &Catalog) -> String {
    let mut text = head.to_owned();
    for (number, section) in ["shared", "left", "right"].into_iter().enumerate() {
        text.push_str(&format!("[{section}]\n"));
        for row in &catalog.measurands {
            let tables: Vec<String> = draws
                .iter()
                .filter(|draw| catalog.measurands[draw.measurand].measurand == row.measurand)
                .filter(|draw| section_of(draw, row.sides) == number)
                .map(|draw| table(draw, catalog))
                .collect();
            if !tables.is_empty() {
                text.push_str(&format!("{} = [{}]\n", row.measurand.key(), tables.join(", ")));
            }
        }
    }
    text
}

/// Which section a reading stands in: 0 for both sides alike, 1 for the left, 2 for the right.
fn section_of(draw: &Draw, sides: Sides) -> usize {
    match sides {
        Sides::Each => 1 + draw.side,
        Sides::Whole => 0,
        Sides::Either => (draw.instrument + draw.side) % 3,
    }
}

fn table(draw: &Draw, catalog: &Catalog) -> String {
    let row = &catalog.measurands[draw.measurand];
    let (least, most) = if draw.far_out { row.accepted } else { row.usual };
    let (least, most) = (least.millimetres(), most.millimetres());
    if row.measurand.is_count() {
        return format!("{{ value = {:.0} }}", least + draw.place * (most - least));
    }
    // A hair within the range, so that what is written never rounds out of it.
    let hair = 1e-4;
    let written = |at: usize| {
        let spread = 1.0 - 0.001 * at as f64;
        let size = least + hair + (draw.place * spread).clamp(0.0, 1.0) * (most - least - 2.0 * hair);
        if draw.in_millimetres { format!("\"{size:.5} mm\"") } else { format!("\"{:.6} in\"", size / 25.4) }
    };
    let values: Vec<String> = (0..draw.repeats).map(written).collect();
    let mut table = format!("{{ value = [{}]", values.join(", "));
    if let Some(instrument) = catalog.instruments.get(draw.instrument) {
        table.push_str(&format!(", instrument = {:?}", instrument.name));
    }
    let conditions: Vec<&str> = CONDITIONS
        .iter()
        .enumerate()
        .filter(|(at, _)| draw.conditions == 8 + at)
        .map(|(_, (_, words))| *words)
        .collect();
    if !conditions.is_empty() {
        table.push_str(&format!(", conditions = {conditions:?}"));
    }
    if row.measurand == Measurand::SplineOverPins {
        // A twentieth of the size over pins is about what touches the flanks.
        table.push_str(&format!(", pin = \"{:.4} mm\"", 0.06 * (least + draw.place * (most - least))));
    }
    table.push_str(" }");
    table
}

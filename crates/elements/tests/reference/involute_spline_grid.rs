//! Inch splines over a grid of forms, pitches, counts, classes and pins, against mpmath.
//!
//! Recipe: `validation/involute_spline/recipe.py`, which names library and version.

use std::collections::BTreeMap;

use elements::involute_spline::{
    InchSpline, PinContact, Pitch, PressureAngle, RootForm, SplineClass, SplineError, SplineFit,
};

/// Forty-five units in the last place of a double: the pins take a chain of about twenty rounded steps.
const RELATIVE_TOLERANCE: f64 = 1e-14;

const FEWEST_CASES: usize = 2000;

type Row<'a> = BTreeMap<&'a str, &'a str>;

fn number(row: &Row<'_>, column: &str) -> f64 {
    row[column].parse().unwrap()
}

fn spline(row: &Row<'_>) -> InchSpline {
    let diametral = number(row, "diametral");
    InchSpline::new(
        row["teeth"].parse().unwrap(),
        Pitch::new(diametral, 2.0 * diametral).unwrap(),
        PressureAngle::from_degrees(number(row, "angle")).unwrap(),
        match row["root"] {
            "flat" => RootForm::Flat,
            "fillet" => RootForm::Fillet,
            other => panic!("root form {other}"),
        },
        match row["fit"] {
            "side" => SplineFit::Side,
            "major" => SplineFit::MajorDiameter,
            other => panic!("fit {other}"),
        },
    )
    .unwrap()
}

/// The recipe's word for how a pin lies.
fn state(contact: &Result<PinContact, SplineError>) -> &'static str {
    match contact {
        Ok(_) => "touches",
        Err(SplineError::PinFallsThrough { .. }) => "falls",
        Err(SplineError::PinOffFlank { .. }) => "off",
        Err(SplineError::PinSunk { .. }) => "sunk",
        Err(SplineError::PinOnRoot { .. }) => "root",
        Err(other) => panic!("{other}"),
    }
}

#[test]
fn sizes_agree_with_mpmath_over_a_grid_of_counts_pitches_angles_classes_and_pins() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../validation/involute_spline/cases.csv");
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let columns: Vec<&str> = lines.next().unwrap().split(',').collect();

    let mut deviations: Vec<(f64, String)> = Vec::new();
    let mut cases = 0;
    let mut refused = 0;
    for line in lines {
        let row: Row<'_> = columns.iter().copied().zip(line.split(',')).collect();
        let spline = spline(&row);
        let class = SplineClass::from_number(row["class"].parse().unwrap()).unwrap();
        let external = spline.external();
        let internal = spline.internal();
        let tolerance = spline.tolerance(class).unwrap();
        let pin = number(&row, "pin");
        let thickness = spline.basic_width_in() - tolerance.total_in();
        let width = spline.basic_width_in() + tolerance.total_in();
        if spline.fit() == SplineFit::Side {
            let tooth = spline.tooth_thickness_limits(class).unwrap();
            let space = spline.space_width_limits(class).unwrap();
            assert_eq!((tooth.actual_min, space.actual_max), (thickness, width));
        }
        let over = spline.over_pins(thickness, pin);
        let between = spline.between_pins(width, pin);
        assert_eq!(state(&over), row["over_state"], "{line}");
        assert_eq!(state(&between), row["between_state"], "{line}");

        let mut values = vec![
            ("pitch_diameter", spline.pitch_diameter_in()),
            ("base_diameter", spline.base_diameter_in()),
            ("basic", spline.basic_width_in()),
            ("external_major", external.major_in),
            ("external_form", external.form_in),
            ("external_minor", external.minor_in),
            ("internal_major", internal.major_in),
            ("internal_form", internal.form_in),
            ("internal_minor", internal.minor_in),
            ("machining", tolerance.machining_in),
            ("variation", tolerance.variation_in),
            ("thickness", thickness),
            ("width", width),
        ];
        // Off the flank the geometry is still defined, so the bare flanks are compared there too.
        if row["over_state"] != "falls" {
            let bare = spline.flanks().over_pins(thickness, pin).unwrap();
            values.push(("over_size", bare.size));
            values.push(("over_contact", bare.contact_diameter));
            let back = spline.flanks().thickness_from_over_pins(number(&row, "over_size"), pin);
            values.push(("thickness", back.unwrap()));
        }
        if row["between_state"] != "falls" {
            let bare = spline.flanks().between_pins(width, pin).unwrap();
            values.push(("between_size", bare.size));
            values.push(("between_contact", bare.contact_diameter));
            let back = spline.flanks().width_from_between_pins(number(&row, "between_size"), pin);
            values.push(("width", back.unwrap()));
        }
        for (column, got) in values {
            let expected = number(&row, column);
            // Thickness and width come back as a difference of numbers of the size of the pitch
            // diameter, so that is what their error is measured by.
            let scale = match column {
                "thickness" | "width" => spline.pitch_diameter_in(),
                _ => expected,
            };
            deviations.push(((got - expected).abs() / scale, format!("{column} of {line}")));
        }
        cases += 1;
        refused += usize::from(over.is_err()) + usize::from(between.is_err());
    }
    assert!(cases >= FEWEST_CASES, "only {cases} cases");

    deviations.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (usual, _) = deviations[deviations.len() / 2];
    let (worst, place) = &deviations[deviations.len() - 1];
    crate::table::say(&format!(
        "involute_spline against mpmath: {cases} cases, {} values, {refused} pins refused alike; \
         worst relative deviation {worst:.2e}, usual {usual:.2e}",
        deviations.len()
    ));
    assert!(*worst <= RELATIVE_TOLERANCE, "{worst:e} at {place}");
}

//! Limits and fits against printed tables and textbook examples.

use elements::limits_fits::{Fit, FitError, FitKind, Grade, Zone, standard_tolerance_um, tolerance_unit_um};

use crate::table::{Standing, Table};

const SOURCE: &str = "JIS B 0401 (1999) shaft table (numbers of ISO 286-2), a DIN ISO 286 extract \
     (studylib.net/doc/27157987), Shigley 9e example 7-7, Jindal, Machine Design, example 4-2, \
     Budynas & Nisbett solution manual problem 7-23, and pressfit 0.1.0";

/// Zone, upper and lower deviation in micrometres.
type Printed = (&'static str, f64, f64);

const SHAFTS_30_TO_40: [Printed; 13] = [
    ("f7", -25.0, -50.0),
    ("g6", -9.0, -25.0),
    ("h5", 0.0, -11.0),
    ("h6", 0.0, -16.0),
    ("h7", 0.0, -25.0),
    ("k5", 13.0, 2.0),
    ("k6", 18.0, 2.0),
    ("m5", 20.0, 9.0),
    ("m6", 25.0, 9.0),
    ("n6", 33.0, 17.0),
    ("p6", 42.0, 26.0),
    ("r6", 50.0, 34.0),
    ("s6", 59.0, 43.0),
];

const SHAFTS_50_TO_65: [Printed; 13] = [
    ("f7", -30.0, -60.0),
    ("g6", -10.0, -29.0),
    ("h5", 0.0, -13.0),
    ("h6", 0.0, -19.0),
    ("h7", 0.0, -30.0),
    ("k5", 15.0, 2.0),
    ("k6", 21.0, 2.0),
    ("m5", 24.0, 11.0),
    ("m6", 30.0, 11.0),
    ("n6", 39.0, 20.0),
    ("p6", 51.0, 32.0),
    ("r6", 60.0, 41.0),
    ("s6", 72.0, 53.0),
];

const HOLES_30_TO_50: [Printed; 5] =
    [("H7", 25.0, 0.0), ("H8", 39.0, 0.0), ("F7", 50.0, 25.0), ("G6", 25.0, 9.0), ("G7", 34.0, 9.0)];

/// Id, nominal size, fit, smallest and largest clearance, hole from and to, shaft from and to, kind.
type PrintedFit = (&'static str, f64, &'static str, [f64; 2], [f64; 2], [f64; 2], FitKind);

const FITS: [PrintedFit; 5] = [
    ("D3-08", 40.0, "H7/k6", [-18.0, 23.0], [40.0, 40.025], [40.002, 40.018], FitKind::Transition),
    ("D3-09", 40.0, "H7/m6", [-25.0, 16.0], [40.0, 40.025], [40.009, 40.025], FitKind::Transition),
    ("D3-10", 60.0, "H7/p6", [-51.0, -2.0], [60.0, 60.030], [60.032, 60.051], FitKind::Interference),
    ("D3-11", 38.0, "H8/f7", [25.0, 89.0], [38.0, 38.039], [37.950, 37.975], FitKind::Clearance),
    ("D3-12", 28.0, "H7/k6", [-15.0, 19.0], [28.0, 28.021], [28.002, 28.015], FitKind::Transition),
];

/// A sum of a size and a deviation in millimetres carries rounding of this order.
const ROUNDING_MM: f64 = 1e-12;

fn zones(table: &mut Table, id: &'static str, sizes_mm: [f64; 2], printed: &[Printed]) {
    for &(zone, upper, lower) in printed {
        for size_mm in sizes_mm {
            let limits = Zone::parse(zone).unwrap().limits(size_mm).unwrap();
            let what = format!("{zone} at {size_mm}");
            table.within(id, what.clone(), limits.upper_um, upper, 0.0, Standing::Published);
            table.within(id, what, limits.lower_um, lower, 0.0, Standing::Published);
        }
    }
}

#[test]
fn zones_and_fits_agree_with_printed_tables_and_textbook_examples() {
    let mut table = Table::new("limits_fits", SOURCE);
    // Just over the lower end of the step and on its upper end.
    zones(&mut table, "D3-01", [30.001, 40.0], &SHAFTS_30_TO_40);
    zones(&mut table, "D3-02", [50.001, 65.0], &SHAFTS_50_TO_65);
    zones(&mut table, "D3-03", [30.001, 50.0], &HOLES_30_TO_50);

    for (number, printed) in [(5, 13.0), (6, 19.0), (7, 30.0), (8, 46.0), (9, 74.0)] {
        let grade = Grade::numbered(number).unwrap();
        let got = standard_tolerance_um(63.25, grade).unwrap();
        let what = format!("IT{number} over 50 to 80");
        table.within("D3-04", what, got, printed, 0.0, Standing::Published);
    }
    let unit = tolerance_unit_um(63.25).unwrap();
    for (what, got, expected, tolerance) in [
        ("tolerance unit", unit, 1.856, 5e-4),
        ("10 i", 10.0 * unit, 18.6, 0.05),
        ("16 i", 16.0 * unit, 29.7, 0.05),
        ("25 i", 25.0 * unit, 46.4, 0.05),
    ] {
        table.within("D3-04", what, got, expected, tolerance, Standing::Computed);
    }

    let hole = Zone::parse("H11").unwrap().limits(34.0).unwrap();
    let shaft = Zone::parse("c11").unwrap().limits(34.0).unwrap();
    for (what, got, expected) in [
        ("smallest hole", hole.smallest_mm(), 34.000),
        ("largest hole", hole.largest_mm(), 34.160),
        ("smallest shaft", shaft.smallest_mm(), 33.720),
        ("largest shaft", shaft.largest_mm(), 33.880),
    ] {
        table.within("D3-05", what, got, expected, ROUNDING_MM, Standing::Published);
    }

    let clearance = Fit::parse("H7/r6").unwrap().clearance(25.0).unwrap();
    table.within("D3-06", "most", -clearance.smallest_um, 41.0, 0.0, Standing::Published);
    table.within("D3-06", "least", -clearance.largest_um, 7.0, 0.0, Standing::Published);

    // One inch, printed to a tenth of a thousandth.
    let hole = Zone::parse("H8").unwrap().limits(25.4).unwrap();
    let shaft = Zone::parse("f7").unwrap().limits(25.4).unwrap();
    for (what, got_mm, expected_in) in [
        ("smallest hole", hole.smallest_mm(), 1.0000),
        ("largest hole", hole.largest_mm(), 1.0013),
        ("smallest shaft", shaft.smallest_mm(), 0.9984),
        ("largest shaft", shaft.largest_mm(), 0.9992),
    ] {
        let got_in = got_mm / 25.4;
        table.within("D3-07", what, got_in, expected_in, 5e-5, Standing::Published);
    }

    for (id, size_mm, text, clearance, hole, shaft, kind) in FITS {
        let fit = Fit::parse(text).unwrap();
        let got = fit.clearance(size_mm).unwrap();
        let got_hole = fit.hole().limits(size_mm).unwrap();
        let got_shaft = fit.shaft().limits(size_mm).unwrap();
        assert_eq!(got.kind(), kind, "{id} {text}");
        for (what, got, expected, tolerance) in [
            ("smallest clearance", got.smallest_um, clearance[0], 0.0),
            ("largest clearance", got.largest_um, clearance[1], 0.0),
            ("smallest hole", got_hole.smallest_mm(), hole[0], ROUNDING_MM),
            ("largest hole", got_hole.largest_mm(), hole[1], ROUNDING_MM),
            ("smallest shaft", got_shaft.smallest_mm(), shaft[0], ROUNDING_MM),
            ("largest shaft", got_shaft.largest_mm(), shaft[1], ROUNDING_MM),
        ] {
            table.within(id, what, got, expected, tolerance, Standing::Computed);
        }
    }
    table.finish(&[
        "D3-01", "D3-02", "D3-03", "D3-04", "D3-05", "D3-06", "D3-07", "D3-08", "D3-09", "D3-10", "D3-11", "D3-12",
    ]);
}

#[test]
fn blank_places_of_the_tables_are_refused() {
    for (zone, size_mm) in [
        ("t6", 24.0),
        ("v6", 14.0),
        ("y6", 18.0),
        ("cd6", 10.5),
        ("a11", 1.0),
        ("j8", 10.0),
        ("J5", 10.0),
        ("K9", 10.0),
        ("M2", 10.0),
        ("h14", 1.0),
    ] {
        let refused = Zone::parse(zone).unwrap().limits(size_mm);
        assert!(matches!(refused, Err(FitError::NotDefined { .. })), "{zone} at {size_mm}: {refused:?}");
    }
    let zone = Zone::parse("H7").unwrap();
    for size_mm in [0.0, -5.0, 500.1, f64::NAN, f64::INFINITY] {
        assert!(matches!(zone.limits(size_mm), Err(FitError::Size { .. })));
    }
    for text in ["", "7", "H", "h", "Js7", "w7", "H7x", "H-1"] {
        assert!(Zone::parse(text).is_err(), "{text:?}");
    }
    for text in ["H19", "H00", "H1.5"] {
        assert!(matches!(Zone::parse(text), Err(FitError::NoSuchGrade { .. })));
    }
    assert!(Fit::parse("h6/H7").is_err());
    let message = Zone::parse("t6").unwrap().limits(20.0).unwrap_err();
    assert_eq!(message.to_string(), "t6 is not defined at 20 mm: it starts above 24 mm");
}

//! Rows against published sources. The ids are those of the rows in the project's list of reference values.

use catalog::{BearingKind, Catalog, SplineSeries, SplineSystem};
use elements::involute_spline::{InchSpline, Pitch, PressureAngle, RootForm, SplineFit};
use quantity::{LengthExt, inches, millimetres};

/// Row D5-16, ISO 15:2017, boundary dimensions of radial bearings: series 62 and 63, d × D × B in mm.
#[test]
fn iso_15_ball_bearings() {
    let catalog = Catalog::shipped().unwrap();
    for [bore, outside, width] in [[25, 52, 15], [30, 62, 16], [35, 72, 17], [40, 80, 18], [35, 80, 21]] {
        let row = catalog.bearing(&format!("{bore}x{outside}x{width} ball")).unwrap();
        let found = [row.bore, row.outside, row.outer_width, row.inner_width].map(|size| size.millimetres());
        assert_eq!(found, [bore, outside, width, width].map(f64::from), "{}", row.name);
        assert_eq!(row.kind, BearingKind::Ball);
        assert_eq!(row.race_offset.mean.millimetres(), 0.0, "both rings are flush");
    }
}

/// Row D5-17, ISO 355, metric single-row tapered roller bearings: d × D × T × B × C in mm.
#[test]
fn iso_355_tapered_bearings() {
    let catalog = Catalog::shipped().unwrap();
    let rows = [[25.0, 52.0, 16.25, 15.0, 13.0], [30.0, 62.0, 17.25, 16.0, 14.0], [35.0, 72.0, 18.25, 17.0, 15.0]];
    for [bore, outside, whole, inner, outer] in rows {
        let row = catalog.bearing(&format!("{bore}x{outside}x{whole} tapered")).unwrap();
        let found = [row.bore, row.outside, row.inner_width, row.outer_width].map(|size| size.millimetres());
        assert_eq!(found, [bore, outside, inner, outer], "{}", row.name);
        assert_eq!(row.kind, BearingKind::Tapered);
        // The width T over both rings is B less the offset of the outer ring, which points outboard.
        assert_eq!(row.inner_width.millimetres() - row.race_offset.mean.millimetres(), whole, "{}", row.name);
    }
}

/// Row D4-12 for over 30 to 50 mm: theoretical interference 0.009 to 0.032 mm of an m5 shaft of ISO 286-2 in a bore of the
/// Normal class of ISO 492 (0/−0.012 mm). Over 18 to 30 mm: m5 is +0.017/+0.008 mm (ISO 286-2 as held by the library
/// pressfit 0.1.0, `pressfit.fit("28 H7/m5")`), the bore 0/−0.010 mm (ISO 492, from memory, check).
#[test]
fn iso_286_m5_seats() {
    let catalog = Catalog::shipped().unwrap();
    let mut checked = 0;
    for row in catalog.bearings.iter().filter(|row| row.source.to_string().contains("ISO 286-2:2010 m5")) {
        let expected = if row.bore > millimetres(30.0) { (0.009, 0.032) } else { (0.008, 0.027) };
        let (least, most) = row.seat_interference;
        assert_eq!((least.millimetres(), most.millimetres()), expected, "{}", row.name);
        checked += 1;
    }
    assert_eq!(checked, 10);
}

fn series<'c>(catalog: &'c Catalog, name: &str) -> &'c SplineSeries {
    catalog.spline(name).unwrap_or_else(|| panic!("{name}"))
}

/// ANSI B92.1-1996: the external major diameter is (N + 1)/P. Rows D1-01 to D1-08 give it for 28, 30, 31, 33, 35 and 40
/// teeth of 24/48.
#[test]
fn ansi_b92_1_major_diameters_of_24_48() {
    let catalog = Catalog::shipped().unwrap();
    let row = series(&catalog, "24/48, 45°, fillet root");
    let SplineSystem::Inch { pitch, stub_pitch, fillet_root: true } = row.system else { panic!("{:?}", row.system) };
    let published = [(28, 1.208), (30, 1.292), (31, 1.333), (33, 1.417), (35, 1.500), (40, 1.708)];
    for (teeth, major_in) in published {
        assert!(row.counts.iter().any(|count| count.teeth == teeth), "{teeth} teeth");
        let pitch = Pitch::new(pitch, stub_pitch).unwrap();
        let spline =
            InchSpline::new(teeth, pitch, PressureAngle::FortyFive, RootForm::Fillet, SplineFit::Side).unwrap();
        let found = spline.external().major_in;
        // Held at the printed precision of three decimals.
        assert!((found - major_in).abs() <= 0.0005, "{teeth} teeth: {found}");
    }
}

/// Rows D1-18 to D1-20 and the designation of DIN 5480-1:2006: reference diameter, module, teeth.
#[test]
fn din_5480_designations() {
    let catalog = Catalog::shipped().unwrap();
    for (name, reference, teeth) in
        [("module 2, reference diameter stated", 40.0, 18), ("module 1.25, reference diameter stated", 30.0, 22)]
    {
        let counts = &series(&catalog, name).counts;
        let held =
            counts.iter().any(|count| count.teeth == teeth && count.reference_diameter == Some(millimetres(reference)));
        assert!(held, "{name}: {reference} mm, {teeth} teeth");
    }
}

/// Row D9-07, permissible errors of OIML R 35: class II at 3, 5 and 8 m; class I the same; in mm.
#[test]
fn oiml_r_35_tapes() {
    let catalog = Catalog::shipped().unwrap();
    for (name, errors) in [("metric tape, class I", [0.4, 0.6, 0.9]), ("metric tape, class II", [0.9, 1.3, 1.9])] {
        let tape = catalog.instrument(name).unwrap();
        for (metres, error) in [3.0, 5.0, 8.0].into_iter().zip(errors) {
            let half_width =
                tape.limit.standard_uncertainty(millimetres(metres * 1000.0)).millimetres() * f64::sqrt(3.0);
            assert!((half_width - error).abs() < 1e-9, "{name} at {metres} m: {half_width}");
        }
    }
}

/// NIST Handbook 44, section 5.52: a metal tape up to 6 ft may be off by 1/32 in.
#[test]
fn nist_handbook_44_tape() {
    let tape = Catalog::shipped().unwrap().instrument("tape").cloned().unwrap();
    let half_width = tape.limit.standard_uncertainty(inches(30.0)).inches() * f64::sqrt(3.0);
    assert!((half_width - 1.0 / 32.0).abs() < 1e-9, "{half_width}");
}

/// Rows D6-19 to D6-21: strengths in MPa as printed there.
#[test]
fn steel_strengths() {
    let catalog = Catalog::shipped().unwrap();
    for (grade, treatment, tensile, yielding) in [
        ("4140", "annealed", 655.0, 417.0),
        ("4140", "normalised", 1020.0, 655.0),
        ("4140", "oil quenched, tempered at 425 °C", 1248.0, 1138.0),
        ("4140", "oil quenched, tempered at 540 °C", 951.0, 834.0),
        ("4140", "oil quenched, tempered at 650 °C", 758.0, 655.0),
        ("4340", "2 in round, oil quenched, tempered at 650 °C", 931.0, 834.0),
        ("1050", "hot-rolled", 620.0, 338.0),
        ("1050", "cold-drawn", 690.0, 579.0),
    ] {
        let row = catalog.steel(grade, treatment).unwrap_or_else(|| panic!("{grade}, {treatment}"));
        assert_eq!((row.tensile_strength_mpa, row.yield_strength_mpa), (tensile, yielding), "{grade}, {treatment}");
    }
}

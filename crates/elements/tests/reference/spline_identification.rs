//! Worn shafts whose spline is known are told again. What is expected is the shaft that the size was worked out from, by the
//! formulas of the standards as rows D1-01 to D1-23 hold them; no number here comes from the function under test.

use elements::involute_spline::{
    Din5480Spline, InchSpline, Iso4156Spline, MeasuredSize, Pitch, PressureAngle, RootForm, SplineError,
    SplineEvidence, SplineFit, SplineWear, StandardSpline, ToothDeviation, identify,
};

const WEAR: SplineWear = SplineWear { tips_mm: 1.27, flanks_mm: 0.1 };

fn measured(size_mm: f64) -> MeasuredSize {
    MeasuredSize { size_mm, uncertainty_mm: 0.02 }
}

/// Rows D1-01 to D1-12: count, angle, major diameter and size over pins of 0.0800 in at the thinnest tooth of the class, in.
const INCH: [(u32, PressureAngle, f64, f64); 10] = [
    (28, PressureAngle::FortyFive, 1.20833, 1.29885),
    (33, PressureAngle::FortyFive, 1.41667, 1.50563),
    (35, PressureAngle::FortyFive, 1.50000, 1.58907),
    (30, PressureAngle::FortyFive, 1.29167, 1.38222),
    (28, PressureAngle::Thirty, 1.20833, 1.28665),
    (31, PressureAngle::Thirty, 1.33333, 1.41001),
    (35, PressureAngle::Thirty, 1.50000, 1.57693),
    (40, PressureAngle::Thirty, 1.70833, 1.78679),
    (30, PressureAngle::ThirtySevenAndHalf, 1.29167, 1.37655),
    (30, PressureAngle::Thirty, 1.29167, 1.37003),
];

fn inch_spline(teeth: u32, angle: PressureAngle) -> StandardSpline {
    let pitch = Pitch::new(24.0, 48.0).unwrap();
    StandardSpline::Inch(InchSpline::new(teeth, pitch, angle, RootForm::Fillet, SplineFit::Side).unwrap())
}

#[test]
fn ansi_b92_1_rows_with_tips_turned_small_are_the_first_named_by_count_and_both_sizes() {
    for (teeth, angle, major_in, over_in) in INCH {
        let evidence = SplineEvidence {
            teeth: Some(teeth),
            major: Some(measured(25.4 * (major_in - 0.020))),
            over_pins: Some((measured(25.4 * over_in), 25.4 * 0.080)),
        };
        let found = identify(&evidence, WEAR).unwrap();
        assert_eq!(found[0].spline, inch_spline(teeth, angle), "{teeth} {angle}: {}", found[0].spline);
        assert_eq!(found[0].misfit, 0.0);
        assert!((found[0].tips_under_mm.unwrap() - 0.508).abs() < 2e-3);
    }
}

#[test]
fn ansi_b92_1_rows_are_among_those_named_whatever_is_left_out() {
    for (teeth, angle, major_in, over_in) in INCH {
        let major = Some(measured(25.4 * (major_in - 0.020)));
        let over_pins = Some((measured(25.4 * over_in), 25.4 * 0.080));
        for evidence in [
            SplineEvidence { teeth: Some(teeth), major, over_pins: None },
            SplineEvidence { teeth: Some(teeth), major: None, over_pins },
            SplineEvidence { teeth: None, major, over_pins },
            SplineEvidence { teeth: None, major, over_pins: None },
            SplineEvidence { teeth: None, major: None, over_pins },
        ] {
            let found = identify(&evidence, WEAR).unwrap();
            assert!(found.iter().any(|one| one.spline == inch_spline(teeth, angle)), "{teeth} {angle}: {evidence:?}");
            assert!(found.windows(2).all(|pair| pair[0].misfit <= pair[1].misfit));
        }
    }
}

/// Row D1-18: DIN 5480 dB 40, module 2, 18 teeth: 43.8456 mm over pins of 4 mm at the nominal thickness, tips 39.6 mm.
#[test]
fn din_5480_and_iso_4156_splines_are_told_too() {
    let evidence =
        SplineEvidence { teeth: Some(18), major: Some(measured(39.5)), over_pins: Some((measured(43.75), 4.0)) };
    let found = identify(&evidence, WEAR).unwrap();
    let expected = StandardSpline::Din5480(Din5480Spline::new(40.0, 2.0, 18).unwrap());
    assert_eq!(found[0].spline, expected, "{}", found[0].spline);

    // Row D1-21: 24 teeth, module 2, 30°: D 48 mm; DEE max = m(z + 1) = 50 mm.
    let spline = Iso4156Spline::new(24, 2.0, PressureAngle::Thirty, RootForm::Fillet).unwrap();
    assert!((spline.major_external_mm(ToothDeviation::H) - 50.0).abs() < 1e-12);
    let evidence = SplineEvidence { teeth: Some(24), major: Some(measured(49.8)), over_pins: None };
    let found = identify(&evidence, WEAR).unwrap();
    assert!(found.iter().any(|one| one.spline == StandardSpline::Iso4156(spline)));
}

/// No tip of an odd count stands opposite a tip: jaws span a tip and a chord over two, D(1 + cos(π/N))/2.
#[test]
fn plane_geometry_a_caliper_across_an_odd_count_reads_small() {
    let read_in = 1.33333 * (1.0 + (std::f64::consts::PI / 31.0).cos()) / 2.0;
    let no_wear = SplineWear { tips_mm: 0.0, flanks_mm: 0.0 };
    let size = MeasuredSize { size_mm: 25.4 * read_in, uncertainty_mm: 0.001 };
    let found = |teeth| {
        let evidence = SplineEvidence { teeth: Some(teeth), major: Some(size), over_pins: None };
        identify(&evidence, no_wear).unwrap()
    };
    assert!(found(31).iter().any(|one| one.spline == inch_spline(31, PressureAngle::Thirty)));
    // The same reading fits no even count of that pitch.
    assert!(found(30).iter().all(|one| one.spline != inch_spline(30, PressureAngle::Thirty)));
}

#[test]
fn what_tells_nothing_is_refused() {
    let nothing = SplineEvidence { teeth: Some(30), ..SplineEvidence::default() };
    assert_eq!(identify(&nothing, WEAR), Err(SplineError::NoEvidence));
    let bad = SplineEvidence { major: Some(measured(-1.0)), ..SplineEvidence::default() };
    assert!(matches!(identify(&bad, WEAR), Err(SplineError::NotPositive { .. })));
    let many = SplineEvidence { teeth: Some(101), major: Some(measured(30.0)), ..SplineEvidence::default() };
    assert!(matches!(identify(&many, WEAR), Err(SplineError::Teeth { .. })));
    let sizes = SplineEvidence { major: Some(measured(30.0)), ..SplineEvidence::default() };
    let wear = SplineWear { tips_mm: f64::NAN, flanks_mm: 0.0 };
    assert!(matches!(identify(&sizes, wear), Err(SplineError::TooSmall { .. })));
}

//! Involute splines against published formulas worked out apart, and published examples.
//!
//! The long rows D1-01 to D1-12 are the formulas of ANSI B92.1 worked out with mpmath to 30 digits;
//! for 30 and 31 teeth a search for the circle that touches two involutes found the same sizes to
//! 1e-6 in. The standard prints its tables to 0.0001 in, these rows hold 0.00001 in.

use std::f64::consts::FRAC_PI_2;

use elements::involute_spline::{
    Din5480Spline, InchSpline, InvoluteFlanks, Iso4156Spline, Pitch, PressureAngle, RootCut, RootForm, SplineClass,
    SplineError, SplineFit, ToothDeviation,
};

use crate::table::{Standing, Table};

const SOURCE: &str = "ANSI B92.1-1970 (R1993) and -1996, ISO 4156-1:2005 and DIN 5480 as public \
     transcriptions give their formulas, worked out with mpmath 1.4.1; gear handbook text on \
     measurement over wires; \"Elements of metric gear technology\" table 10-1";

struct Inch {
    id: &'static str,
    teeth: u32,
    angle: PressureAngle,
    class: SplineClass,
    pitch_base: [f64; 2],
    /// Major, form, minor.
    external: [f64; 3],
    /// Major, form, minor.
    internal: [f64; 3],
    basic: f64,
    /// Machining, variation, total.
    tolerance: [f64; 3],
    thinnest: f64,
    /// Pin, and sizes at basic, largest and smallest actual thickness.
    over: (f64, [f64; 3]),
    /// Pin, and sizes at basic, smallest and largest actual width.
    between: (f64, [f64; 3]),
}

const INCH: [Inch; 12] = [
    Inch {
        id: "D1-01",
        teeth: 28,
        angle: PressureAngle::FortyFive,
        class: SplineClass::Five,
        pitch_base: [1.166667, 0.824958],
        external: [1.20833, 1.13767, 1.12500],
        internal: [1.22500, 1.21233, 1.14167],
        basic: 0.073783,
        tolerance: [0.001296, 0.001436, 0.002732],
        thinnest: 0.071051,
        over: (0.0800, [1.30148, 1.30010, 1.29885]),
        between: (0.0800, [1.04659, 1.04808, 1.04942]),
    },
    Inch {
        id: "D1-02",
        teeth: 33,
        angle: PressureAngle::FortyFive,
        class: SplineClass::Five,
        pitch_base: [1.375000, 0.972272],
        external: [1.41667, 1.34600, 1.33333],
        internal: [1.43333, 1.42067, 1.35000],
        basic: 0.073783,
        tolerance: [0.001331, 0.001496, 0.002827],
        thinnest: 0.070956,
        over: (0.0800, [1.50836, 1.50692, 1.50563]),
        between: (0.0800, [1.25353, 1.25507, 1.25644]),
    },
    Inch {
        id: "D1-03",
        teeth: 35,
        angle: PressureAngle::FortyFive,
        class: SplineClass::Five,
        pitch_base: [1.458333, 1.031197],
        external: [1.50000, 1.42933, 1.41667],
        internal: [1.51667, 1.50400, 1.43333],
        basic: 0.073783,
        tolerance: [0.001345, 0.001520, 0.002865],
        thinnest: 0.070918,
        over: (0.0800, [1.59184, 1.59037, 1.58907]),
        between: (0.0800, [1.33698, 1.33855, 1.33993]),
    },
    Inch {
        id: "D1-04",
        teeth: 30,
        angle: PressureAngle::FortyFive,
        class: SplineClass::Five,
        pitch_base: [1.250000, 0.883883],
        external: [1.29167, 1.22100, 1.20833],
        internal: [1.30833, 1.29567, 1.22500],
        basic: 0.073783,
        tolerance: [0.001310, 0.001460, 0.002770],
        thinnest: 0.071013,
        over: (0.0800, [1.38488, 1.38348, 1.38222]),
        between: (0.0800, [1.12998, 1.13149, 1.13284]),
    },
    Inch {
        id: "D1-05",
        teeth: 28,
        angle: PressureAngle::Thirty,
        class: SplineClass::Five,
        pitch_base: [1.166667, 1.010363],
        external: [1.20833, 1.12100, 1.08333],
        internal: [1.24167, 1.21233, 1.12500],
        basic: 0.065450,
        tolerance: [0.001296, 0.001436, 0.002732],
        thinnest: 0.062718,
        over: (0.0800, [1.29096, 1.28870, 1.28665]),
        between: (0.0720, [1.06263, 1.06535, 1.06779]),
    },
    Inch {
        id: "D1-06",
        teeth: 31,
        angle: PressureAngle::Thirty,
        class: SplineClass::Five,
        pitch_base: [1.291667, 1.118616],
        external: [1.33333, 1.24600, 1.20833],
        internal: [1.36667, 1.33733, 1.25000],
        basic: 0.065450,
        tolerance: [0.001317, 0.001472, 0.002789],
        thinnest: 0.062661,
        over: (0.0800, [1.41444, 1.41210, 1.41001]),
        between: (0.0720, [1.18617, 1.18893, 1.19137]),
    },
    Inch {
        id: "D1-07",
        teeth: 35,
        angle: PressureAngle::Thirty,
        class: SplineClass::Five,
        pitch_base: [1.458333, 1.262954],
        external: [1.50000, 1.41267, 1.37500],
        internal: [1.53333, 1.50400, 1.41667],
        basic: 0.065450,
        tolerance: [0.001345, 0.001520, 0.002865],
        thinnest: 0.062585,
        over: (0.0800, [1.58152, 1.57909, 1.57693]),
        between: (0.0720, [1.35318, 1.35599, 1.35847]),
    },
    Inch {
        id: "D1-08",
        teeth: 40,
        angle: PressureAngle::Thirty,
        class: SplineClass::Five,
        pitch_base: [1.666667, 1.443376],
        external: [1.70833, 1.62100, 1.58333],
        internal: [1.74167, 1.71233, 1.62500],
        basic: 0.065450,
        tolerance: [0.001380, 0.001580, 0.002960],
        thinnest: 0.062490,
        over: (0.0800, [1.79158, 1.78903, 1.78679]),
        between: (0.0720, [1.56310, 1.56600, 1.56852]),
    },
    Inch {
        id: "D1-09",
        teeth: 30,
        angle: PressureAngle::ThirtySevenAndHalf,
        class: SplineClass::Five,
        pitch_base: [1.250000, 0.991692],
        external: [1.29167, 1.21267, 1.19583],
        internal: [1.31667, 1.29567, 1.21667],
        basic: 0.069617,
        tolerance: [0.001310, 0.001460, 0.002770],
        thinnest: 0.066847,
        over: (0.0800, [1.37995, 1.37816, 1.37655]),
        between: (0.0720, [1.14990, 1.15188, 1.15365]),
    },
    Inch {
        id: "D1-10",
        teeth: 35,
        angle: PressureAngle::FortyFive,
        class: SplineClass::Seven,
        pitch_base: [1.458333, 1.031197],
        external: [1.50000, 1.42933, 1.41667],
        internal: [1.51667, 1.50400, 1.43333],
        basic: 0.073783,
        tolerance: [0.002690, 0.003040, 0.005730],
        thinnest: 0.068053,
        over: (0.0800, [1.59184, 1.58890, 1.58630]),
        between: (0.0800, [1.33698, 1.34011, 1.34287]),
    },
    Inch {
        id: "D1-11",
        teeth: 28,
        angle: PressureAngle::Thirty,
        class: SplineClass::Four,
        pitch_base: [1.166667, 1.010363],
        external: [1.20833, 1.12100, 1.08333],
        internal: [1.24167, 1.21233, 1.12500],
        basic: 0.065450,
        tolerance: [0.000920, 0.001020, 0.001940],
        thinnest: 0.063510,
        over: (0.0800, [1.29096, 1.28935, 1.28790]),
        between: (0.0720, [1.06263, 1.06457, 1.06630]),
    },
    Inch {
        id: "D1-12",
        teeth: 30,
        angle: PressureAngle::Thirty,
        class: SplineClass::Five,
        pitch_base: [1.250000, 1.082532],
        external: [1.29167, 1.20433, 1.16667],
        internal: [1.32500, 1.29567, 1.20833],
        basic: 0.065450,
        tolerance: [0.001310, 0.001460, 0.002770],
        thinnest: 0.062680,
        over: (0.0800, [1.37442, 1.37211, 1.37003]),
        between: (0.0720, [1.14607, 1.14882, 1.15126]),
    },
];

struct Din {
    id: &'static str,
    reference_diameter: f64,
    module: f64,
    teeth: u32,
    pins: [f64; 2],
    /// Shift, base, tip of shaft, tip of hub, thickness.
    dimensions: [f64; 5],
    /// Size and contact diameter over pins, then between pins.
    gauging: [f64; 4],
}

const DIN: [Din; 3] = [
    Din {
        id: "D1-18",
        reference_diameter: 40.0,
        module: 2.0,
        teeth: 18,
        pins: [4.0, 3.5],
        dimensions: [0.9000, 31.1769, 39.6000, 36.0000, 4.1808],
        gauging: [43.8456, 37.4856, 32.7390, 38.1423],
    },
    Din {
        id: "D1-19",
        reference_diameter: 30.0,
        module: 1.25,
        teeth: 22,
        pins: [2.5, 2.25],
        dimensions: [0.5625, 23.8157, 29.7500, 27.5000, 2.6130],
        gauging: [32.4451, 28.4991, 25.2758, 28.7201],
    },
    Din {
        id: "D1-20",
        reference_diameter: 45.0,
        module: 2.0,
        teeth: 21,
        pins: [4.0, 3.5],
        dimensions: [0.4000, 36.3731, 44.6000, 41.0000, 3.6035],
        gauging: [48.9383, 42.8247, 37.6035, 42.9764],
    },
];

struct Iso {
    id: &'static str,
    teeth: u32,
    module: f64,
    angle: PressureAngle,
    class: SplineClass,
    length: f64,
    /// Pitch diameter, base diameter, basic width, largest external form diameter, mm.
    diameters: [f64; 4],
    /// Total, pitch, profile, helix, variation, in micrometres.
    tolerances: [f64; 5],
}

#[expect(clippy::approx_constant, reason = "the basic width of module 2 is a rounded pi because it is printed so")]
const ISO: [Iso; 3] = [
    Iso {
        id: "D1-21",
        teeth: 24,
        module: 2.0,
        angle: PressureAngle::Thirty,
        class: SplineClass::Five,
        length: 30.0,
        diameters: [48.000, 41.5692, 3.1416, 45.7891],
        tolerances: [69.32, 39.83, 22.50, 10.48, 28.16],
    },
    Iso {
        id: "D1-22",
        teeth: 32,
        module: 1.25,
        angle: PressureAngle::FortyFive,
        class: SplineClass::Six,
        length: 30.0,
        diameters: [40.000, 28.2843, 1.9635, 38.7702],
        tolerances: [96.02, 52.13, 32.00, 13.15, 37.54],
    },
    Iso {
        id: "D1-23",
        teeth: 30,
        module: 1.0,
        angle: PressureAngle::ThirtySevenAndHalf,
        class: SplineClass::Five,
        length: 25.0,
        diameters: [30.000, 23.8006, 1.5708, 28.9355],
        tolerances: [56.43, 33.37, 19.44, 10.00, 23.94],
    },
];

/// A value printed to five decimals stands within half of the last one, and the rounding of its
/// inputs adds up to as much again.
const INCH_TOLERANCE: f64 = 1e-5;

fn inch_spline(teeth: u32, diametral: f64, angle: PressureAngle, root: RootForm) -> Result<InchSpline, SplineError> {
    let pitch = Pitch::new(diametral, 2.0 * diametral)?;
    InchSpline::new(teeth, pitch, angle, root, SplineFit::Side)
}

fn inch_rows(table: &mut Table) -> Result<(), SplineError> {
    for row in &INCH {
        let spline = inch_spline(row.teeth, 24.0, row.angle, RootForm::Fillet)?;
        let external = spline.external();
        let internal = spline.internal();
        let tolerance = spline.tolerance(row.class)?;
        let tooth = spline.tooth_thickness_limits(row.class)?;
        let space = spline.space_width_limits(row.class)?;
        let (over_pin, over) = row.over;
        let (between_pin, between) = row.between;
        assert_eq!(spline.external_pin_in(), over_pin, "{}", row.id);
        assert_eq!(spline.internal_pin_in(), between_pin, "{}", row.id);
        let mut values = vec![
            ("pitch diameter", spline.pitch_diameter_in(), row.pitch_base[0]),
            ("base diameter", spline.base_diameter_in(), row.pitch_base[1]),
            ("external major", external.major_in, row.external[0]),
            ("external form", external.form_in, row.external[1]),
            ("external minor", external.minor_in, row.external[2]),
            ("internal major", internal.major_in, row.internal[0]),
            ("internal form", internal.form_in, row.internal[1]),
            ("internal minor", internal.minor_in, row.internal[2]),
            ("basic width", spline.basic_width_in(), row.basic),
            ("machining tolerance", tolerance.machining_in, row.tolerance[0]),
            ("variation", tolerance.variation_in, row.tolerance[1]),
            ("total tolerance", tolerance.total_in(), row.tolerance[2]),
            ("thinnest tooth", tooth.actual_min, row.thinnest),
        ];
        let thicknesses = [tooth.effective_max, tooth.actual_max, tooth.actual_min];
        for (thickness, expected) in thicknesses.into_iter().zip(over) {
            let size = spline.over_pins(thickness, over_pin)?.size;
            values.push(("size over pins", size, expected));
            // And back from the printed size: the slope dM/dt is above one, so the tolerance holds.
            let back = spline.thickness_from_over_pins(expected, over_pin)?;
            values.push(("thickness back from the size", back, thickness));
        }
        let widths = [space.effective_min, space.actual_min, space.actual_max];
        for (width, expected) in widths.into_iter().zip(between) {
            let size = spline.between_pins(width, between_pin)?.size;
            values.push(("size between pins", size, expected));
            let back = spline.width_from_between_pins(expected, between_pin)?;
            values.push(("width back from the size", back, width));
        }
        for (what, got, expected) in values {
            table.within(row.id, what, got, expected, INCH_TOLERANCE, Standing::Computed);
        }
    }
    Ok(())
}

fn gear_rows(table: &mut Table) -> Result<(), SplineError> {
    let angle = 20_f64.to_radians();
    for (diametral, expected) in [(1.0, 34.4130), (4.0, 8.6032)] {
        let gear = InvoluteFlanks::new(32, 32.0 / diametral, angle)?;
        let size = gear.over_pins(FRAC_PI_2 / diametral, 1.728 / diametral)?.size;
        let what = format!("32 teeth over wires, pitch {diametral}");
        table.within("D1-13", what, size, expected, 1e-4, Standing::Published);
    }
    for (teeth, expected) in [(20, 22.3900), (25, 27.3511)] {
        let gear = InvoluteFlanks::new(teeth, f64::from(teeth), angle)?;
        let size = gear.over_pins(FRAC_PI_2, 1.728)?.size;
        let what = format!("{teeth} teeth over wires");
        table.within("D1-14", what, size, expected, 1e-4, Standing::Computed);
    }
    let ring = InvoluteFlanks::new(28, 28.0, angle)?;
    let size = ring.between_pins(FRAC_PI_2, 1.44)?.size;
    table.within("D1-15", "ring between wires", size, 26.6640, 1e-4, Standing::Computed);

    // z 12, m 10, x +0.3, tip 3 mm above the shifted addendum of 10 mm.
    let gear = InvoluteFlanks::new(12, 120.0, angle)?;
    let thickness = 10.0 * (FRAC_PI_2 + 2.0 * 0.3 * angle.tan());
    let half_angle = (thickness / 120.0).to_degrees();
    for (what, got, expected) in [
        ("circular thickness", thickness, 17.8918),
        ("half angle", half_angle, 8.54270),
        ("chord", gear.chordal_thickness(thickness)?, 17.8256),
        ("chordal height", gear.chordal_height(thickness, 13.0)?, 13.6657),
    ] {
        table.within("D1-16", what, got, expected, 1e-4, Standing::Published);
    }
    Ok(())
}

fn din_rows(table: &mut Table) -> Result<(), SplineError> {
    let spline = Din5480Spline::new(50.0, 2.0, 24)?;
    let thickness = spline.tooth_thickness_mm();
    let over = spline.over_pins(thickness, 4.0)?.size;
    let span = spline.flanks().span(thickness, 4)?;
    table.within("D1-17", "over pins", over, 54.218, 1e-3, Standing::Published);
    table.within("D1-17", "span over 4 teeth", span, 21.179, 1e-3, Standing::Published);
    for row in &DIN {
        let spline = Din5480Spline::new(row.reference_diameter, row.module, row.teeth)?;
        let width = spline.tooth_thickness_mm();
        let over = spline.over_pins(width, row.pins[0])?;
        let between = spline.between_pins(width, row.pins[1])?;
        for (what, got, expected) in [
            ("profile shift", spline.profile_shift_mm(), row.dimensions[0]),
            ("base diameter", spline.base_diameter_mm(), row.dimensions[1]),
            ("tip of the shaft", spline.tip_external_mm(), row.dimensions[2]),
            ("tip of the hub", spline.tip_internal_mm(), row.dimensions[3]),
            ("thickness", width, row.dimensions[4]),
            ("over pins", over.size, row.gauging[0]),
            ("contact over pins", over.contact_diameter, row.gauging[1]),
            ("between pins", between.size, row.gauging[2]),
            ("contact between pins", between.contact_diameter, row.gauging[3]),
        ] {
            table.within(row.id, what, got, expected, 5e-4, Standing::Computed);
        }
    }
    Ok(())
}

fn iso_rows(table: &mut Table) -> Result<(), SplineError> {
    for row in &ISO {
        let root = RootForm::Fillet;
        let spline = Iso4156Spline::new(row.teeth, row.module, row.angle, root)?;
        let tolerance = spline.tolerance(row.class, row.length)?;
        for (what, got, expected) in [
            ("pitch diameter", spline.pitch_diameter_mm(), row.diameters[0]),
            ("base diameter", spline.base_diameter_mm(), row.diameters[1]),
            ("basic width", spline.basic_width_mm(), row.diameters[2]),
            ("form diameter", spline.form_external_mm(ToothDeviation::H), row.diameters[3]),
        ] {
            table.within(row.id, what, got, expected, 5e-5, Standing::Computed);
        }
        for (what, got, expected) in [
            ("total tolerance", tolerance.total_um, row.tolerances[0]),
            ("pitch deviation", tolerance.pitch_um, row.tolerances[1]),
            ("profile deviation", tolerance.profile_um, row.tolerances[2]),
            ("helix deviation", tolerance.helix_um, row.tolerances[3]),
            ("variation", tolerance.variation_um, row.tolerances[4]),
        ] {
            table.within(row.id, what, got, expected, 0.05, Standing::Computed);
        }
    }
    // Fundamental deviations from 30 to 50 mm and what they take off the diameters.
    let angles = PressureAngle::ALL;
    for (deviation, expected_um, expected_mm) in [
        (ToothDeviation::D, -80.0, Some([0.139, 0.104, 0.080])),
        (ToothDeviation::E, -50.0, Some([0.087, 0.065, 0.050])),
        (ToothDeviation::F, -25.0, None),
        (ToothDeviation::H, 0.0, None),
    ] {
        for (index, angle) in angles.into_iter().enumerate() {
            let spline = Iso4156Spline::new(40, 1.0, angle, RootForm::Fillet)?;
            let got_um = spline.deviation_um(deviation);
            let what = format!("{deviation:?}");
            table.within("D1-24", what, got_um, expected_um, 0.0, Standing::Published);
            if let Some(expected_mm) = expected_mm {
                // The handbook prints the magnitude.
                let got_mm = -spline.deviation_in_diameter_mm(deviation);
                let what = format!("{deviation:?} over tan {angle}");
                table.within("D1-24", what, got_mm, expected_mm[index], 5e-4, Standing::Published);
            }
        }
    }
    Ok(())
}

#[test]
fn splines_agree_with_the_standards_formulas_and_published_examples() {
    let mut table = Table::new("involute_spline", SOURCE);
    inch_rows(&mut table).unwrap();
    gear_rows(&mut table).unwrap();
    din_rows(&mut table).unwrap();
    iso_rows(&mut table).unwrap();
    table.finish(&[
        "D1-01", "D1-02", "D1-03", "D1-04", "D1-05", "D1-06", "D1-07", "D1-08", "D1-09", "D1-10", "D1-11", "D1-12",
        "D1-13", "D1-14", "D1-15", "D1-16", "D1-17", "D1-18", "D1-19", "D1-20", "D1-21", "D1-22", "D1-23", "D1-24",
    ]);
}

#[test]
fn a_pin_that_misses_the_flank_is_refused_with_the_pins_that_do_not() {
    let spline = inch_spline(28, 24.0, PressureAngle::FortyFive, RootForm::Fillet).unwrap();
    let thickness = spline.basic_width_in();
    let Err(SplineError::PinOffFlank { smallest_pin, largest_pin, lowest, highest, .. }) =
        spline.over_pins(thickness, 0.030)
    else {
        panic!("a pin of 0.030 in drops to the root of 24/48");
    };
    assert!(smallest_pin < 0.080 && 0.080 < largest_pin);
    // The two pins touch at the ends of the flank, to the rounding of the arithmetic.
    for (pin, end) in [(smallest_pin, lowest), (largest_pin, highest)] {
        let contact = spline.flanks().over_pins(thickness, pin).unwrap();
        assert!((contact.contact_diameter - end).abs() < 1e-12);
    }
    assert!(matches!(spline.over_pins(thickness, 0.5), Err(SplineError::PinOffFlank { .. })));
    // Ten teeth of 30° are so far apart that a thin pin reaches the base circle between them.
    let wide = inch_spline(10, 24.0, PressureAngle::Thirty, RootForm::Fillet).unwrap();
    assert!(matches!(wide.over_pins(wide.basic_width_in(), 1e-6), Err(SplineError::PinFallsThrough { .. })));
    assert!(matches!(spline.best_external_pin(thickness, &[0.02, 0.5]), Err(SplineError::NoPinFits { .. })));
}

#[test]
fn what_the_standard_does_not_hold_is_refused() {
    let pitch = Pitch::new(24.0, 48.0).unwrap();
    for (angle, root, fit) in [
        (PressureAngle::FortyFive, RootForm::Flat, SplineFit::Side),
        (PressureAngle::Thirty, RootForm::Fillet, SplineFit::MajorDiameter),
    ] {
        assert_eq!(InchSpline::new(28, pitch, angle, root, fit), Err(SplineError::NoSuchForm { angle, root, fit }));
    }
    assert!(matches!(
        inch_spline(28, 8.0, PressureAngle::FortyFive, RootForm::Fillet),
        Err(SplineError::PitchNotInForm { .. })
    ));
    assert!(matches!(
        inch_spline(5, 24.0, PressureAngle::FortyFive, RootForm::Fillet),
        Err(SplineError::Teeth { teeth: 5, .. })
    ));
    let coarse = inch_spline(16, 3.0, PressureAngle::Thirty, RootForm::Flat).unwrap();
    assert!(matches!(coarse.tolerance(SplineClass::Five), Err(SplineError::ToleranceNotHeld { .. })));
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(coarse.over_pins(bad, 0.6).is_err());
        assert!(coarse.over_pins(0.5, bad).is_err());
        assert!(coarse.thickness_from_over_pins(bad, 0.6).is_err());
        assert!(Iso4156Spline::new(24, bad, PressureAngle::Thirty, RootForm::Flat).is_err());
        assert!(Din5480Spline::new(bad, 2.0, 24).is_err());
    }
    // 50 × 2 takes 24 teeth; 23 would need a shift of +0.45 and more, 25 one below −0.05.
    assert!(Din5480Spline::new(50.0, 2.0, 25).is_err());
}

#[test]
fn a_size_over_pins_that_lies_under_the_pitch_circle_cannot_be() {
    // A printed table gives 5.4380 in over pins for 45 teeth of pitch 8; the pitch diameter alone
    // is 5.625 in.
    let spline = inch_spline(45, 8.0, PressureAngle::Thirty, RootForm::Fillet).unwrap();
    let pin_in = spline.external_pin_in();
    assert!(spline.thickness_from_over_pins(5.4380, pin_in).is_err());
    let over = spline.over_pins(spline.basic_width_in(), pin_in).unwrap();
    assert!(over.size > 5.625);
}

/// Source: a public worksheet of DIN 5480, 6 × 0.8 × 6, hub and shaft broached (page "DIN5480 shaft Reference diameter module
/// number of teeth pressure angle", xueke.org); it prints two decimals.
#[test]
fn din_5480_public_worksheet_of_6_by_0_8_by_6() {
    let spline = Din5480Spline::new(6.0, 0.8, 6).unwrap();
    for (what, got, printed) in [
        ("pitch diameter", spline.pitch_diameter_mm(), 4.8),
        ("shift", spline.profile_shift_mm(), 0.16),
        ("tip of the shaft", spline.tip_external_mm(), 5.84),
        ("root of the shaft", spline.root_external_mm(RootCut::Broached), 4.24),
        ("tip of the hub", spline.tip_internal_mm(), 4.4),
        ("root of the hub", spline.root_internal_mm(RootCut::Broached), 6.0),
    ] {
        assert!((got - printed).abs() <= 0.005, "{what}: {got}, printed {printed}");
    }
    // The nominal width, printed to three decimals.
    assert!((spline.tooth_thickness_mm() - 1.441).abs() <= 0.0005);
    // A deeper cut leaves a thinner root.
    let cuts = [RootCut::Broached, RootCut::Hobbed, RootCut::Shaped, RootCut::Rolled];
    let roots = cuts.map(|cut| spline.root_external_mm(cut));
    assert!(roots.windows(2).all(|pair| pair[1] < pair[0]));
}

/// Rows D1-17 to D1-20 name the pins of their splines; the rule that is held gives them. ISO 3:1973 holds the pins of ISO 4156.
#[test]
fn metric_pins_are_those_of_the_worked_rows_and_rest_on_the_flanks() {
    for (reference, module, teeth, over, between) in
        [(50.0, 2.0, 24, 4.0, 3.5), (40.0, 2.0, 18, 4.0, 3.5), (30.0, 1.25, 22, 2.5, 2.25), (45.0, 2.0, 21, 4.0, 3.5)]
    {
        let spline = Din5480Spline::new(reference, module, teeth).unwrap();
        assert_eq!((spline.external_pin_mm(), spline.internal_pin_mm()), (Some(over), Some(between)));
        let nominal = spline.tooth_thickness_mm();
        assert!(spline.over_pins(nominal, over).is_ok() && spline.between_pins(nominal, between).is_ok());
    }
    assert_eq!(Din5480Spline::new(6.0, 0.8, 6).unwrap().external_pin_mm(), None);
    for (teeth, module, angle) in [
        (24, 2.0, PressureAngle::Thirty),
        (32, 1.25, PressureAngle::FortyFive),
        (30, 1.0, PressureAngle::ThirtySevenAndHalf),
    ] {
        let spline = Iso4156Spline::new(teeth, module, angle, RootForm::Fillet).unwrap();
        let width = spline.basic_width_mm();
        let over = spline.flanks().over_pins(width, spline.external_pin_mm(width).unwrap()).unwrap();
        let between = spline.flanks().between_pins(width, spline.internal_pin_mm(width).unwrap()).unwrap();
        // A preferred number is never further off than 3 %, so that the pin touches close to the pitch circle.
        for contact in [over, between] {
            let ratio = contact.contact_diameter / spline.pitch_diameter_mm();
            assert!((ratio - 1.0).abs() < 0.02, "{teeth} {module}: {ratio}");
        }
    }
}

//! The involute and the pins on it, held against each other and against mpmath.

use elements::involute_spline::{InvoluteFlanks, SplineError, inverse_involute, involute};

/// Degrees and involute, mpmath 1.4.1 to 25 digits, printed to 15.
const INVOLUTES: [(f64, f64); 8] = [
    (14.5, 0.005_544_842_816_712_49),
    (20.0, 0.014_904_383_867_336_4),
    (25.0, 0.029_975_345_156_416_2),
    (30.0, 0.053_751_493_591_326_9),
    (37.5, 0.112_828_518_481_087),
    (45.0, 0.214_601_836_602_552),
    (60.0, 0.684_853_256_372_28),
    (80.0, 4.275_018_418_022_25),
];

#[test]
fn the_involute_and_its_inverse_agree_with_mpmath() {
    let (mut worst_value, mut worst_angle) = (0.0_f64, 0.0_f64);
    for (degrees, expected) in INVOLUTES {
        let angle = degrees.to_radians();
        worst_value = worst_value.max((involute(angle) - expected).abs() / expected);
        let back = inverse_involute(expected).unwrap();
        worst_angle = worst_angle.max((back - angle).abs() / angle);
    }
    crate::table::say(&format!("involute against mpmath: worst {worst_value:.2e}, inverse {worst_angle:.2e}"));
    // The difference tan φ − φ cancels up to two digits at 14.5°, which the inverse does not feel.
    assert!(worst_value < 1e-13, "{worst_value:e}");
    assert!(worst_angle < 5e-15, "{worst_angle:e}");
}

#[test]
fn the_inverse_finds_every_angle_and_refuses_what_is_none() {
    for step in 1..=1550 {
        let angle = f64::from(step) / 1000.0;
        let back = inverse_involute(involute(angle)).unwrap();
        // An involute near zero is the small difference of two angles: its own rounding, of the
        // size of the angle, comes back magnified by the flat start of the curve, 1/tan².
        let magnified = f64::EPSILON * angle * (1.0 + 1.0 / angle.tan().powi(2));
        assert!((back - angle).abs() < 4.0 * magnified, "{angle}");
    }
    assert_eq!(inverse_involute(0.0), Ok(0.0));
    for bad in [-1e-9, 55.1, f64::NAN, f64::INFINITY] {
        assert!(matches!(inverse_involute(bad), Err(SplineError::Range { .. })));
    }
}

fn grid() -> impl Iterator<Item = (InvoluteFlanks, f64, f64)> {
    [9_u32, 16, 27, 28, 31, 40, 83].into_iter().flat_map(|teeth| {
        [20.0_f64, 30.0, 37.5, 45.0].into_iter().flat_map(move |degrees| {
            [0.44, 0.5, 0.56].into_iter().filter_map(move |share| {
                let pitch_diameter = f64::from(teeth) / 24.0;
                let flanks = InvoluteFlanks::new(teeth, pitch_diameter, degrees.to_radians()).ok()?;
                Some((flanks, share * flanks.circular_pitch(), 0.072))
            })
        })
    })
}

#[test]
fn the_slope_of_the_size_is_that_of_small_differences() {
    for (flanks, width, pin) in grid() {
        let step = 1e-6 * width;
        let over = |width| flanks.over_pins(width, pin).unwrap();
        let slope = (over(width + step).size - over(width - step).size) / (2.0 * step);
        assert!((over(width).size_per_width / slope - 1.0).abs() < 1e-6);
        // Inside, the pin of the narrow spaces of few teeth has no place.
        let between = |width| flanks.between_pins(width, pin).map(|contact| contact.size);
        if let (Ok(more), Ok(less)) = (between(width + step), between(width - step)) {
            let slope = (more - less) / (2.0 * step);
            let got = flanks.between_pins(width, pin).unwrap().size_per_width;
            assert!((got / slope - 1.0).abs() < 1e-5);
        }
    }
}

#[test]
fn the_pin_touches_where_the_tooth_is_as_thick_as_it_leaves_room() {
    // The string from the base circle through the pin's centre meets the axis of the space at
    // 90° − φe, so the point of contact stands d/2 cos φe off that axis; and it stands there by the
    // tooth's thickness at its own diameter. Two separate formulas, one point.
    for (flanks, thickness, pin) in grid() {
        let contact = flanks.over_pins(thickness, pin).unwrap();
        let radius = contact.contact_diameter / 2.0;
        let tooth = flanks.thickness_at(thickness, contact.contact_diameter).unwrap();
        let half_space = std::f64::consts::PI / f64::from(flanks.teeth()) - tooth / contact.contact_diameter;
        let by_tooth = radius * half_space.sin();
        let by_pin = pin / 2.0 * flanks.base_diameter() / contact.centre_diameter;
        assert!((by_tooth - by_pin).abs() < 1e-14);
    }
}

#[test]
fn a_pin_chosen_for_a_diameter_touches_there() {
    for (flanks, width, _) in grid() {
        let pitch_diameter = flanks.pitch_diameter();
        let pin = flanks.external_pin_touching(width, pitch_diameter).unwrap();
        let contact = flanks.over_pins(width, pin).unwrap();
        assert!((contact.contact_diameter / pitch_diameter - 1.0).abs() < 1e-13);
        if let Ok(pin) = flanks.internal_pin_touching(width, pitch_diameter) {
            let contact = flanks.between_pins(width, pin).unwrap();
            assert!((contact.contact_diameter / pitch_diameter - 1.0).abs() < 1e-13);
        }
    }
}

//! `axlewright spline`.

use crate::program::{assert_numbers, assert_refused, json, page, quantity};

/// Rows D1-04, D1-10 and D1-12: 30 and 35 teeth 24/48. Source: ANSI B92.1-1970 (R1993) formulas as two public
/// transcriptions give them; numbers by mpmath at 30 digits. The rows print five decimals of an inch.
#[test]
fn ansi_b92_1_the_sizes_of_24_48_splines() {
    let output = json("spline --teeth 30 --pitch 24/48 --angle 45 --root fillet --class 5 --pin 0.080 in");
    let expected = [
        ("shaft_diameters/pitch_diameter/value/inches", 1.250_000),
        ("shaft_diameters/base_diameter/value/inches", 0.883_883),
        ("shaft_diameters/major_diameter/value/inches", 1.291_67),
        ("shaft_diameters/minor_diameter/value/inches", 1.208_33),
        ("shaft_diameters/form_diameter/value/inches", 1.221_00),
        ("hub_diameters/minor_diameter/value/inches", 1.225_00),
        ("hub_diameters/major_diameter/value/inches", 1.308_33),
        ("hub_diameters/form_diameter/value/inches", 1.295_67),
        ("tooth_thickness/basic/value/inches", 0.073_783),
        ("tooth_thickness/actual/least/inches", 0.071_013),
        ("tooth_thickness/effective/most/inches", 0.073_783),
        ("space_width/machining_tolerance/value/inches", 0.001_310),
        ("space_width/effective_variation/value/inches", 0.001_460),
        ("over_pins/size_at_basic_width/value/inches", 1.384_88),
        ("over_pins/size/most/inches", 1.383_48),
        ("over_pins/size/least/inches", 1.382_22),
        ("between_pins/size_at_basic_width/value/inches", 1.129_98),
        ("between_pins/size/least/inches", 1.131_49),
        ("between_pins/size/most/inches", 1.132_84),
    ];
    assert_numbers("D1-04", &output, &expected, 1e-5);
    assert_eq!(quantity(&output, "over_pins", "pin")["remark"], "as asked for");
    assert_eq!(quantity(&output, "between_pins", "pin")["remark"], "the standard's");

    let output = json("spline --teeth 35 --pitch 24/48 --angle 45 --class 7");
    let expected = [
        ("over_pins/size/most/inches", 1.588_90),
        ("over_pins/size/least/inches", 1.586_30),
        ("between_pins/size/least/inches", 1.340_11),
        ("between_pins/size/most/inches", 1.342_87),
    ];
    assert_numbers("D1-10", &output, &expected, 1e-5);

    let output = json("spline --teeth 30 --pitch 24/48 --angle 30");
    let expected = [
        ("over_pins/size/most/inches", 1.372_11),
        ("over_pins/size/least/inches", 1.370_03),
        ("between_pins/pin/value/inches", 0.072),
        ("between_pins/size/least/inches", 1.148_82),
        ("between_pins/size/most/inches", 1.151_26),
    ];
    assert_numbers("D1-12", &output, &expected, 1e-5);
}

/// Row D1-22: 32 teeth, module 1.25, 45°. Source: ISO 4156-1:2005 formulas in a public transcription; numbers computed from
/// them. The row prints 0.01 µm; the total tolerance is the distance of the actual from the effective limit.
#[test]
fn iso_4156_a_45_degree_spline_of_class_6() {
    let output = json("spline --teeth 32 --module 1.25 --angle 45 --class 6 --length 30 mm");
    let expected = [
        ("shaft_diameters/pitch_diameter/value/millimetres", 40.0),
        ("shaft_diameters/base_diameter/value/millimetres", 28.2843),
        ("shaft_diameters/form_diameter/value/millimetres", 38.7702),
        ("tooth_thickness/actual/least/millimetres", 1.963_495 - 0.096_02),
        ("tooth_thickness/actual/most/millimetres", 1.963_495 - 0.037_54),
        ("space_width/actual/most/millimetres", 1.963_495 + 0.096_02),
    ];
    assert_numbers("D1-22", &output, &expected, 5e-5);
}

/// Rows D1-17 to D1-19. Source: DIN 5480-1:2006 formulas; D1-17 printed in the public tutorial "Some concepts about DIN 5480
/// spline dimension", part 2; the others by mpmath.
#[test]
fn din_5480_sizes_over_and_between_pins() {
    let output = json("spline --reference-diameter 50 --module 2 --teeth 24 --pin 4.000 mm");
    assert_numbers("D1-17", &output, &[("over_pins/size_at_basic_width/value/millimetres", 54.218)], 1e-3);
    let output = json("spline --reference-diameter 40 mm --module 2 mm --teeth 18 --pin 4 mm --hub-pin 3.5 mm");
    let expected = [
        ("diameters/profile_shift/value/millimetres", 0.9),
        ("diameters/shaft_tip_diameter/value/millimetres", 39.6),
        ("diameters/hub_tip_diameter/value/millimetres", 36.0),
        ("diameters/tooth_thickness/value/millimetres", 4.1808),
        ("over_pins/size_at_basic_width/value/millimetres", 43.8456),
        ("over_pins/contact_diameter/value/millimetres", 37.4856),
        ("between_pins/size_at_basic_width/value/millimetres", 32.7390),
        ("between_pins/contact_diameter/value/millimetres", 38.1423),
    ];
    assert_numbers("D1-18", &output, &expected, 5e-4);
}

#[test]
fn the_teeth_of_din_5480_are_taken_only_where_no_other_count_fits() {
    let output = json("spline --reference-diameter 31 --module 2");
    assert!(output["taken"][0].as_str().unwrap().starts_with("14 teeth, the only count"), "{output}");
    let said = ["--teeth: more than one number of teeth", "accepted: 26 or 27"];
    assert_refused("spline --reference-diameter 35 --module 1.25", &said);
}

#[test]
fn what_cannot_be_used_is_placed_and_answered() {
    assert_refused(
        "spline --teeth 30 --pitch 24/49 --angle 44 --pin 0.02 furlongs",
        &[
            "--pitch: 24/49 is not a standard spline pitch; accepted are 2.5/5",
            "--angle: 44° is not a standard pressure angle of splines; accepted are 30, 37.5 and 45",
            "  --pin 0.02 furlongs\n             ^^^^^^^^\n  accepted: in or",
        ],
    );
    assert_refused(
        "spline",
        &[
            "--pitch: neither the pitch nor the module is given",
            "--angle: the pressure",
            "--teeth: the number of teeth",
        ],
    );
    let said = ["--pin: the number has no unit", "accepted: the number with its unit"];
    assert_refused("spline --teeth 30 --pitch 24/48 --angle 45 --pin 0.08", &said[1..]);
    assert_refused("spline --teeth 3 --pitch 24/48 --angle 45", &["--teeth: 3 teeth are outside the range; 6 to 100"]);
    assert_refused("spline --teeth three --pitch 24/48 --angle 45", &["--teeth: this is no whole number"]);
    assert_refused(
        "spline --teeth 30 --pitch 24/48 --angle 45 --pin 0.5 mm",
        &["--pin: the pin would touch at diameter", "  --pin 0.5 mm\n        ^^^^^^\n  accepted: a pin from 0.0431"],
    );
    assert_refused("spline --teeth 30 --pitch 24/48 --angle 45 --root flat", &["--root: the standard has no 45° flat"]);
    assert_refused("spline --teeth 30 --pitch 24/48 --angle 45 --class 8", &["--class: ", "accepted: 4, 5, 6, 7"]);
    assert_refused(
        "spline --teeth 30 --pitch 2.5/5 --angle 30 --class 5",
        &["--pitch: class tolerances of pitch 2.5/5"],
    );
    assert_refused("spline --teeth 30 --module 40 --angle 30", &["--module: the module in mm is 40; it must lie from"]);
    assert_refused("spline --teeth 24 --module 2 --angle 30 --class 5", &["--length: the tolerances of ISO 4156"]);
    assert_refused(
        "spline --teeth 18 --module 2 --reference-diameter 60",
        &["--reference-diameter: the profile shift"],
    );
    assert_refused("spline --teeth 30 --pitch 24/48 --module 1", &["cannot be used with"]);
    assert_refused("spline --teeth 18 --module 2 --reference-diameter 40 --angle 45", &["--angle: ", "accepted: 30"]);
    assert_refused("spline --teeth 18 --module 2 --reference-diameter 40 --class 5", &["--class: this has no meaning"]);
}

/// A limit that is not held is told of where nobody asked for it.
#[test]
fn a_pitch_whose_tolerances_are_not_held_keeps_its_diameters() {
    let text = page("spline --teeth 30 --pitch 2.5/5 --angle 30");
    assert!(text.contains("12.00000"), "{text}");
    assert_eq!(text.matches("tolerances of pitch 2.5/5 are not held").count(), 2, "{text}");
}

/// Regression: the shape of a page that was looked at and found good.
#[test]
fn the_page_keeps_its_shape() {
    insta::assert_snapshot!("spline_inch", page("spline --teeth 30 --pitch 24/48 --angle 45"));
    let line = "spline --teeth 24 --module 1.25 --angle 30 --length 30 mm --pin 2.5 mm";
    insta::assert_snapshot!("spline_module", page(line));
}

/// Rows D1-04 and D1-10, read backwards: the size over pins at the largest actual thickness gives that thickness. Source: ANSI
/// B92.1-1970 (R1993) formulas as two public transcriptions give them; numbers by mpmath. The rows print five decimals.
#[test]
fn ansi_b92_1_a_measured_size_over_pins_gives_the_thickness_and_is_judged() {
    let output = json("spline --teeth 30 --pitch 24/48 --angle 45 --over-pins 1.38348 in");
    // Half of the last printed place of the size is a hundred-thousandth of the thickness.
    let expected = [("measured_tooth/tooth_thickness/value/inches", 0.073_783 - 0.001_460)];
    assert_numbers("D1-04", &output, &expected, 1e-5);
    let output = json("spline --teeth 30 --pitch 24/48 --angle 45 --between-pins 1.13284 in");
    let expected = [("measured_space/space_width/value/inches", 0.073_783 + 0.002_770)];
    assert_numbers("D1-04", &output, &expected, 1e-5);

    // Between the least of class 7, 0.068053, and that of class 6.
    let output = json("spline --teeth 35 --pitch 24/48 --angle 45 --class 6 --over-pins 1.5870 in");
    let words = |key: &str| quantity(&output, "measured_tooth", key)["words"].as_str().unwrap().to_owned();
    assert!(words("actual_limit").starts_with("too thin, by 0.0"), "{}", words("actual_limit"));
    assert_eq!(words("effective_limit"), "not past its limit");
    assert_eq!(words("closest_class_that_it_meets"), "class 7");
}

#[test]
fn a_tooth_is_judged_against_both_of_its_limits() {
    let words = |size: &str, key: &str| {
        let output = json(&format!("spline --teeth 30 --pitch 24/48 --angle 45 --over-pins {size} in"));
        quantity(&output, "measured_tooth", key)["words"].as_str().unwrap().to_owned()
    };
    // Row D1-04: 1.38222 to 1.38348 is within class 5, 1.38488 the basic thickness.
    assert_eq!(words("1.3830", "actual_limit"), "not past its limit");
    assert_eq!(words("1.3830", "effective_limit"), "not past its limit");
    assert_eq!(words("1.3825", "closest_class_that_it_meets"), "class 5");
    assert_eq!(words("1.3830", "closest_class_that_it_meets"), "class 4");
    assert!(words("1.3820", "actual_limit").starts_with("too thin"));
    assert_eq!(words("1.3840", "effective_limit"), "only a ring gauge can tell whether it goes in");
    assert!(words("1.3860", "effective_limit").starts_with("too thick for any hub"));
}

#[test]
fn a_size_over_pins_that_no_tooth_has_is_refused_in_its_place() {
    assert_refused(
        "spline --teeth 30 --pitch 24/48 --angle 45 --over-pins 0.5 in",
        &["--over-pins: ", "  --over-pins 0.5 in", "accepted: "],
    );
    assert_refused("spline --reference-diameter 10 --module 0.5 --teeth 18 --over-pins 11 mm", &["--pin: "]);
}

#[test]
fn a_worn_spline_is_told_from_any_sizes_that_there_are() {
    let first = |line: &str| {
        let output = json(&format!("spline --identify {line}"));
        quantity(&output, "candidates", "first")["words"].as_str().unwrap().to_owned()
    };
    // Row D1-06: 31 teeth 24/48 30°, over pins of 0.0800 in 1.41001 at the thinnest of class 5; tips 0.02 in under 1.3333.
    assert_eq!(first("--over-pins 1.4100 in --pin 0.0800 in --teeth 31"), "31 teeth 24/48 30°, ANSI B92.1");
    assert_eq!(
        first("--over-pins 1.4100 in --pin 0.0800 in --teeth 31 --major-diameter 1.313 in"),
        "31 teeth 24/48 30°, ANSI B92.1"
    );
    assert!(first("--teeth 31 --major-diameter 1.313 in").starts_with("31 teeth 24/48 "));
    let output = json("spline --identify --over-pins 1.4100 in --pin 0.0800 in --major-diameter 1.313 in");
    let places = ["first", "second", "third", "fourth", "fifth", "sixth"];
    let blocks = output["blocks"].as_array().unwrap();
    let named = blocks.iter().flat_map(|block| block["quantities"].as_array().unwrap());
    let named: Vec<&str> = named
        .filter(|one| places.contains(&one["quantity"].as_str().unwrap()))
        .map(|one| one["words"].as_str().unwrap())
        .collect();
    assert!(named.contains(&"31 teeth 24/48 30°, ANSI B92.1"), "{named:?}");
}

#[test]
fn a_count_alone_tells_no_spline() {
    assert_refused("spline --identify --teeth 30", &["--major-diameter: ", "accepted: "]);
    assert_refused("spline --identify --over-pins 1.4 in", &["--pin: "]);
    assert_refused("spline --identify --pin 0.08 in --major-diameter 1.3 in", &["--pin: no size over pins"]);
    assert_refused("spline --identify --teeth 300 --major-diameter 1.3 in", &["--teeth: ", "6 to 100"]);
}

#[test]
fn a_width_off_the_basic_one_says_to_which_side() {
    let from_basic = |line: &str, block: &str| {
        let output = json(&format!("spline --teeth 30 --pitch 24/48 --angle 45 {line}"));
        let entry = quantity(&output, block, "from_basic");
        (entry["value"]["inches"].as_f64().unwrap(), entry["remark"].as_str().unwrap().to_owned())
    };
    // Row D1-04: 1.38488 in over and 1.12998 in between pins at the basic width.
    let (thin, words) = from_basic("--over-pins 1.3800 in", "measured_tooth");
    assert!(thin > 0.0 && words.starts_with("thinner"), "{thin} {words}");
    let (thick, words) = from_basic("--over-pins 1.3900 in", "measured_tooth");
    assert!(thick > 0.0 && words.starts_with("thicker"), "{thick} {words}");
    let (wide, words) = from_basic("--between-pins 1.1330 in", "measured_space");
    assert!(wide > 0.0 && words.starts_with("wider"), "{wide} {words}");
    let (narrow, words) = from_basic("--between-pins 1.1270 in", "measured_space");
    assert!(narrow > 0.0 && words.starts_with("narrower"), "{narrow} {words}");
}

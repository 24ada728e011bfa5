//! `axlewright stud`.

use crate::program::{assert_numbers, assert_refused, json, page};

/// Rows D7-01 and D7-02. Source: public tables of stress areas (inch after ASME B1.1, metric after ISO 898-1) and the
/// formulas; 0.0002 in² and 0.1 mm².
#[test]
fn published_stress_areas() {
    for (thread, area) in
        [("7/16-20", 0.118_72), ("1/2-20", 0.159_95), ("9/16-18", 0.202_98), ("5/8-18", 0.255_96), ("1/2-13", 0.141_90)]
    {
        let expected = [("thread/stress_area/value/square_inches", area)];
        assert_numbers("D7-01", &json(&format!("stud {thread} --grade 8")), &expected, 2e-4);
    }
    for (thread, area) in [("M12x1.5", 88.13), ("M12x1.75", 84.27), ("M14x1.5", 124.55), ("M16x2", 156.67)] {
        let expected = [("thread/stress_area/value/square_millimetres", area)];
        assert_numbers("D7-02", &json(&format!("stud {thread} --grade 10.9")), &expected, 0.1);
    }
}

/// Rows D7-03 to D7-05. Source: SAE J429 as Shigley & Mischke prints it; ISO 898-1, mechanical properties and proof loads.
#[test]
fn published_strengths_and_proof_loads() {
    for (grade, strengths) in [("2", [55.0, 57.0, 74.0]), ("5", [85.0, 92.0, 120.0]), ("8", [120.0, 130.0, 150.0])] {
        let output = json(&format!("stud 1/2-20 --grade {grade}"));
        for (key, value) in ["proof_stress", "yield_strength", "tensile_strength"].into_iter().zip(strengths) {
            let place = format!("strength/{key}/value/kips_per_square_inch");
            assert_numbers("D7-03", &output, &[(place.as_str(), value)], 1e-4);
        }
    }
    for (class, proof, load) in [("8.8", 580.0, 48_900.0), ("10.9", 830.0, 70_000.0), ("12.9", 970.0, 81_800.0)] {
        let output = json(&format!("stud M12x1.75 --grade {class}"));
        assert_numbers("D7-04", &output, &[("strength/proof_stress/value/megapascals", proof)], 1e-9);
        assert_numbers("D7-05", &output, &[("strength/proof_load/value/newtons", load)], load * 3e-3);
    }
}

/// Row D7-06. Source: public table of clamp loads after fastener-institute data: 1/2-20 grade 8 at 75 % of proof, to 1 %.
#[test]
fn clamp_and_torque_of_a_grade_8_stud() {
    let line = "stud 1/2-20 --grade 8 --share 0.75 --nut-factor";
    let dry = json(&format!("{line} 0.20"));
    assert_numbers("D7-06", &dry, &[("tightening/preload/value/pounds_force", 14_400.0)], 144.0);
    assert_numbers("D7-06", &dry, &[("tightening/torque/value/pound_force_feet", 120.0)], 1.2);
    let oiled = json(&format!("{line} 0.15"));
    assert_numbers("D7-06", &oiled, &[("tightening/torque/value/pound_force_feet", 90.0)], 0.9);
}

/// Rows D7-11 and D7-12. Source: Coulomb friction, computed; printed to 0.1 N·m.
#[test]
fn the_torque_at_which_a_wheel_slips() {
    let slip = "wheel_joint/slip_torque/value/newton_metres";
    let line = "stud M12x1.5 --grade 10.9 --clamp 45 kN --studs 5 --circle 114.3 mm --friction 0.15";
    assert_numbers("D7-11", &json(line), &[(slip, 1928.8)], 0.1);
    let line = "stud M14x1.5 --grade 10.9 --clamp 60 kN --studs 6 --circle 139.7 mm --friction 0.12 --scatter 0.25";
    let output = json(line);
    assert_numbers("D7-12", &output, &[(slip, 3017.5)], 0.1);
    // By hand: three quarters and five quarters of it.
    let scattered = [
        ("wheel_joint/slip_torque_with_scatter/least/newton_metres", 2263.1),
        ("wheel_joint/slip_torque_with_scatter/most/newton_metres", 3771.9),
    ];
    assert_numbers("by hand", &output, &scattered, 0.1);
}

/// Row D7-13, common practice without a source: a hole 0.2 to 0.4 mm under the knurl.
#[test]
fn common_practice_the_hole_for_a_knurl() {
    let output = json("stud M12x1.5 --grade 10.9 --knurl 14.3 mm");
    let expected =
        [("hole_for_the_knurl/hole/least/millimetres", 13.9), ("hole_for_the_knurl/hole/most/millimetres", 14.1)];
    assert_numbers("D7-13", &output, &expected, 1e-6);
    let output = json("stud 1/2-20 --grade 8");
    let expected = [("hole_for_the_knurl/hole/least/inches", 0.600), ("hole_for_the_knurl/hole/most/inches", 0.612)];
    assert_numbers("catalog", &output, &expected, 1e-6);
}

/// By hand: 0.44 + 0.10 + 0.50 + 0.75 = 1.79 in.
#[test]
fn the_length_under_the_head() {
    let line = "stud 1/2-20 --grade 8 --flange 0.44 in --wheel 1/2 in --nut 0.75 in";
    assert_numbers("by hand", &json(line), &[("length/length_under_head/value/inches", 1.69)], 1e-9);
    let line = format!("{line} --drum 0.10 in");
    assert_numbers("by hand", &json(&line), &[("length/length_under_head/value/inches", 1.79)], 1e-9);
    assert_refused("stud 1/2-20 --grade 8 --drum 0.1 in", &["--flange: ", "--wheel: ", "--nut: "]);
}

#[test]
fn what_is_tightened_past_its_proof_load_is_said() {
    let passes = "At the tight end of the scatter the stud passes its proof load";
    assert!(page("stud 1/2-20 --grade 8 --share 0.9").contains(passes));
    assert!(!page("stud 1/2-20 --grade 8").contains(passes));
    let text = page("stud 1/2-20 --grade 8");
    for caution in axle::CAUTIONS {
        assert!(text.contains(caution), "{caution} is not in\n{text}");
    }
}

#[test]
fn what_cannot_be_used_is_placed_and_answered() {
    assert_refused("stud 1/2-20", &["--grade: the strength of the stud is not given", "accepted: SAE grade 2, 5 or 8"]);
    assert_refused("stud 1/2-20 --grade 10.9", &["--grade: this is no grade of such a thread", "SAE grade 2, 5 or 8"]);
    assert_refused("stud M12x1.5 --grade 8", &["--grade: this is no grade of such a thread", "8.8, 10.9 or 12.9"]);
    assert_refused("stud 1/2-20 --grade 8 --proof 120 ksi", &["cannot be used with"]);
    assert_refused(
        "stud 1/2-20 --proof 207 GPa",
        &["--proof: no stud has such a proof stress", "  --proof 207 GPa", "from 100 to 2000 MPa (14.5 to 290 ksi)"],
    );
    assert_refused("stud half-inch --grade 8", &["THREAD: ", "  THREAD half-inch\n         ^", "accepted: "]);
    assert_refused("stud 1/8-40 --grade 8", &["accepted: "]);
    assert_refused("stud 1/2-20 --grade 8 --share 1.2", &["--share: the share of the proof stress is 1.2", "0.1 to 1"]);
    assert_refused("stud 1/2-20 --grade 8 --nut-factor 2", &["--nut-factor: the nut factor is 2", "0.05 to 0.5"]);
    assert_refused("stud 1/2-20 --grade 8 --scatter 1", &["--scatter: so much scatter"]);
    assert_refused("stud 1/2-20 --grade 8 --studs 5", &["--circle"]);
    assert_refused("stud 1/2-20 --grade 8 --studs 5 --circle 4.5", &["--circle: ", "or --unit in or --unit mm"]);
    assert_refused(
        "stud 1/2-20 --grade 8 --studs 0 --circle 4.5 in",
        &["--studs: the number of studs must be greater"],
    );
    assert_refused(
        "stud 1/2-20 --grade 8 --studs 5 --circle 4.5 in --friction 3",
        &["--friction: the friction is 3; it must lie from 0.01 to 1"],
    );
    assert_refused("stud 1/2-20 --grade 8 --knurl 2 mm", &["--knurl: the crest of the serrations in mm is 2"]);
    assert_refused("stud 1/2-20 --grade 8 --clamp 45", &["--clamp: the number has no unit"]);
}

/// Regression: the shape of a page that was looked at and found good.
#[test]
fn the_page_keeps_its_shape() {
    let line = "stud 1/2-20 --grade 8 --share 0.75 --nut-factor 0.20 --studs 5 --circle 120.65 mm --friction 0.15 \
                --flange 0.44 in --drum 0.10 in --wheel 0.50 in --nut 0.75 in";
    insta::assert_snapshot!("stud_inch", page(line));
    insta::assert_snapshot!("stud_metric", page("stud M12x1.5 --grade 10.9"));
}

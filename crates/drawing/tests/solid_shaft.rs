//! Shafts as solids: volume and holes from the sizes alone, and refusals that say what is missing.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::f64::consts::PI;

use axle::simulate::{Chance, People, Zeal, draw_vehicle, measure};
use axle::{Catalog, Review, Sheet, Side};
use drawing::{
    END_CHAMFER_MM, PILOT_CHAMFER_MM, ShaftShape, SolidRefusal, SolidShaft, StepKind, StepRequest, StepUnit, step,
};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use solid::Surface;

fn reviewed(name: &str, text: &str) -> (Sheet, Review) {
    let catalog = Catalog::shipped().unwrap();
    let sheet = axle::read_sheet(name, text, &catalog).unwrap();
    let review = axle::review(&sheet, &catalog).unwrap();
    (sheet, review)
}

fn demo_text(name: &str) -> String {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders");
    std::fs::read_to_string(folder.join(name)).unwrap()
}

fn demo(name: &str) -> (Sheet, Review) {
    reviewed(name, &demo_text(name))
}

fn every_demo() -> Vec<(Sheet, Review)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/orders");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    files.sort();
    files.iter().map(|file| demo(file.to_str().unwrap())).collect()
}

fn request(side: Side, teeth: bool, unit: StepUnit) -> StepRequest<'static> {
    StepRequest { side, teeth, unit, date: Some("2026-11-25"), revision: "1", approved: true }
}

/// The volume from the sizes alone: cylinders and cones, less chamfers and holes, with the fillets by Pappus.
fn volume_by_hand(shape: &ShaftShape) -> f64 {
    let cone = |length: f64, r: f64, q: f64| PI * length * (r * r + r * q + q * q) / 3.0;
    let steps = shape.steps();
    let mut volume = 0.0;
    for (index, step) in steps.iter().enumerate() {
        let (outer, inner, length) = (0.5 * step.outer_mm, 0.5 * step.inner_mm, step.to_mm - step.from_mm);
        volume += cone(length, outer, inner);
        match step.kind {
            StepKind::WheelPilot => {
                let cut = PILOT_CHAMFER_MM;
                volume -= cone(cut, outer, outer) - cone(cut, outer - cut, outer);
            }
            StepKind::Spline => {
                let cut = END_CHAMFER_MM;
                volume -= cone(cut, inner, inner) - cone(cut, inner - cut, inner);
            }
            StepKind::Shoulder | StepKind::Journal => {
                let asked = if step.kind == StepKind::Shoulder { &shape.flange_fillet } else { &shape.shoulder_fillet };
                let fillet = asked.value_mm.unwrap().min(0.5 * steps[index - 1].inner_mm - outer).min(length);
                // A square of side f less a quarter of a circle, each with its middle.
                let square = fillet * fillet * (outer + 0.5 * fillet);
                let quarter = 0.25 * PI * fillet * fillet * (outer + fillet - 4.0 * fillet / (3.0 * PI));
                volume += 2.0 * PI * (square - quarter);
            }
            _ => {}
        }
    }
    let thickness = shape.flange_thickness.value_mm.unwrap();
    let hole = |diameter: f64| 0.25 * PI * diameter * diameter * thickness;
    if let (Some(count), Some(size), Some(_)) = (shape.holes, shape.stud_hole.value_mm, shape.bolt_circle.value_mm) {
        volume -= f64::from(count) * hole(size);
    }
    if shape.has_access_hole == Some(true) {
        volume -= shape.access_hole.value_mm.map_or(0.0, hole);
    }
    volume
}

#[test]
fn volume_and_holes_of_the_demo_are_those_of_the_sizes() {
    let (mut made, mut refused) = (0, Vec::new());
    for (sheet, review) in every_demo() {
        for side in sheet.wanted {
            let shape = ShaftShape::of(&review, side);
            match SolidShaft::of(&shape, false) {
                Ok(shaft) => {
                    let (volume, expected) = (shaft.solid().unwrap().volume_mm3(), volume_by_hand(&shape));
                    assert!((volume / expected - 1.0).abs() < 1e-12, "{}: {volume}, {expected}", review.reference);
                    made += 1;
                }
                Err(SolidRefusal::Missing { sizes }) => {
                    assert!(sizes.iter().all(|size| !size.given_by.is_empty()));
                    refused.push(review.reference.clone());
                }
                Err(other) => panic!("{}: {other}", review.reference),
            }
        }
    }
    // The apiary truck tells nothing of wheel pilot and register.
    refused.dedup();
    assert_eq!((made, refused), (49, vec!["Q-0111".to_owned()]));
}

#[test]
fn teeth_are_cut_on_request_and_are_as_many_as_the_name_says() {
    for name in ["01-hay-truck.toml", "13-metric-camper.toml", "26-camp-kitchen.toml"] {
        let (_, review) = demo(name);
        let shape = ShaftShape::of(&review, Side::Left);
        let spline = shape.spline.clone().unwrap();
        let [plain, toothed] = [false, true].map(|teeth| SolidShaft::of(&shape, teeth).unwrap().solid().unwrap());
        assert!(toothed.volume_mm3() < plain.volume_mm3());
        let flanks = toothed.shell().faces.iter().filter(|face| matches!(face.surface, Surface::Moved { .. })).count();
        assert_eq!(flanks, 2 * spline.teeth as usize);
        let (text, _) = step(&review, &request(Side::Left, true, StepUnit::Millimetre)).unwrap();
        let told = format!("spline with teeth: {} {} teeth, {}, ", spline.standard, spline.teeth, spline.pitch);
        assert!(text.contains(&told), "{told}");
    }
}

#[test]
fn the_head_tells_what_the_solid_is() {
    let (_, review) = demo("01-hay-truck.toml");
    let made = |side, unit| step(&review, &request(side, false, unit)).unwrap().0;
    let inch = made(Side::Left, StepUnit::Inch);
    assert_eq!(inch, made(Side::Left, StepUnit::Inch));
    assert!(inch.is_ascii());
    let name = "Q-0101 axle shaft left, spline as a cylinder: ANSI B92.1 31 teeth, 24/48, 45 deg, major 1.3133 in, minor \
                1.2500 in";
    for told in [
        format!("PRODUCT('Q-0101-left','{name}',"),
        "'2026-11-25T00:00:00'".to_owned(),
        "Review: may be cut. Approved for manufacture.".to_owned(),
        "Assumed: bearing shoulder diameter; flange fillet; shoulder fillet;".to_owned(),
        "CONVERSION_BASED_UNIT('INCH'".to_owned(),
    ] {
        assert!(inch.contains(&told), "{told}");
    }
    let right = made(Side::Right, StepUnit::Millimetre);
    assert!(right.contains("Q-0101 axle shaft right") && right.contains("major 33.35"));
    assert!(!right.contains("CONVERSION_BASED_UNIT"));
    let undated = StepRequest { date: None, approved: false, ..request(Side::Left, false, StepUnit::Inch) };
    let (undated, _) = step(&review, &undated).unwrap();
    assert!(
        undated.contains("not dated. Review: may be cut. Not for manufacture.") && undated.contains("'1970-01-01T00")
    );
    let odd = StepRequest { date: Some("yesterday"), ..request(Side::Left, false, StepUnit::Inch) };
    assert!(matches!(step(&review, &odd), Err(SolidRefusal::File(_))));
}

#[test]
fn an_order_that_stops_is_never_approved() {
    let stopped = every_demo().into_iter().find(|(_, review)| review.verdict == axle::Verdict::Stop).unwrap();
    let side = stopped.0.wanted[0];
    let (text, _) = step(&stopped.1, &request(side, false, StepUnit::Inch)).unwrap();
    assert!(text.contains("Review: stopped, this must not be made. Not for manufacture."));
}

#[test]
fn the_access_hole_follows_the_sheet() {
    // A hole on its own circle, one on the bolt circle by assumption, none, and nothing said.
    let holes = |name| {
        let (_, review) = demo(name);
        let shape = ShaftShape::of(&review, Side::Left);
        (SolidShaft::of(&shape, false).unwrap().part.holes, step(&review, &request(Side::Left, false, StepUnit::Inch)))
    };
    let (own, _) = holes("02-market-wagon.toml");
    let access = own.last().unwrap();
    assert_eq!(own.len(), 6);
    assert!((access.diameter_mm - 25.4).abs() < 1e-12 && access.x_mm.abs() < 1e-12);
    assert!((access.y_mm + 0.5 * 4.25 * 25.4).abs() < 1e-12);
    // Midway between its neighbours.
    let mut near: Vec<f64> =
        own[..5].iter().map(|one| libm::hypot(one.x_mm - access.x_mm, one.y_mm - access.y_mm)).collect();
    near.sort_by(f64::total_cmp);
    assert!((near[0] - near[1]).abs() < 1e-9 && near[2] > near[1] + 1.0);

    let (assumed, text) = holes("13-metric-camper.toml");
    let (_, review) = demo("13-metric-camper.toml");
    let circle = ShaftShape::of(&review, Side::Left).bolt_circle.value_mm.unwrap();
    assert!((assumed.last().unwrap().y_mm + 0.5 * circle).abs() < 1e-12);
    assert!(text.unwrap().0.contains("The access hole is taken to lie on the bolt circle."));

    let (none, text) = holes("03-quarry-tug.toml");
    assert_eq!(none.len(), 5);
    assert!(!text.unwrap().0.contains("access hole"));
    let (unsaid, text) = holes("01-hay-truck.toml");
    assert_eq!(unsaid.len(), 5);
    assert!(text.unwrap().0.contains("Nothing says whether the flange has an access hole"));
}

#[test]
fn a_hole_that_was_measured_through_is_there_and_its_size_is_not_known() {
    let text = demo_text("01-hay-truck.toml");
    let line = text.lines().find(|line| line.starts_with("shoulder_distance")).unwrap().to_owned();
    let through = "shoulder_distance = { value = '2.181\"', conditions = [\"through the access hole\"] }";
    let (_, review) = reviewed("sheet.toml", &text.replace(&line, through));
    assert_eq!(review.fitted.access_hole.there, Some(true));
    let (_, left_out) = step(&review, &request(Side::Left, false, StepUnit::Inch)).unwrap();
    assert_eq!(left_out, ["The access hole: its size or its place is not known."]);
}

#[test]
fn sizes_that_cannot_be_on_one_shaft_are_refused_by_name() {
    let (_, review) = demo("01-hay-truck.toml");
    let whole = ShaftShape::of(&review, Side::Left);
    let mut thick = whole.clone();
    thick.flange_thickness.value_mm = Some(90.0);
    let refusal = SolidShaft::of(&thick, false).unwrap_err();
    assert!(matches!(refusal, SolidRefusal::Contradiction { what: "shoulder distance", .. }), "{refusal}");
    let mut wide = whole.clone();
    wide.bolt_circle.value_mm = wide.flange_diameter.value_mm;
    let refusal = SolidShaft::of(&wide, false).unwrap_err();
    assert!(matches!(refusal, SolidRefusal::HoleLeavesFlange { what: "a stud hole", .. }), "{refusal}");
    let mut unknown = whole.clone();
    (unknown.overall_length.value_mm, unknown.ring_seat_end.value_mm) = (None, None);
    let refusal = SolidShaft::of(&unknown, false).unwrap_err().to_string();
    assert_eq!(
        refusal,
        "a solid needs every size of the shaft, and nothing gives the end of the ring seat and the overall length\n  accepted: \
         `width` in [lock_ring]; a reading of overall_length on that side, or of reach with the brake offset"
    );
    let mut plain = whole.clone();
    plain.spline = None;
    assert_eq!(SolidShaft::of(&plain, true), Err(SolidRefusal::NoToothData));
    let mut holeless = whole;
    holeless.holes = None;
    let shaft = SolidShaft::of(&holeless, false).unwrap();
    assert!(shaft.part.holes.is_empty());
    assert_eq!(shaft.left_out, ["The stud holes: the bolt circle is not known."]);
}

#[test]
fn simulated_orders_become_solids_or_say_what_is_missing() {
    let catalog = Catalog::shipped().unwrap();
    let (mut made, mut missing, mut below, mut odd) = (0, 0, 0, Vec::new());
    for number in 0..60_u64 {
        let mut source = StdRng::seed_from_u64(77_000 + number);
        let mut even = || source.random_range(f64::EPSILON..1.0);
        let mut chance = Chance::new(&mut even);
        let differential = chance.weighted(&catalog.differentials, |_| 1.0).unwrap();
        let Some(vehicle) = draw_vehicle(&catalog, differential, &mut chance) else { continue };
        let zeal = if number % 4 == 0 { Zeal::Lean } else { Zeal::Full };
        let sheet = measure(&vehicle, &catalog, zeal, &People::default(), &mut chance).sheet;
        let review = axle::review_without_questions(&sheet, &catalog).unwrap();
        for side in sheet.wanted {
            let shape = ShaftShape::of(&review, side);
            for teeth in [false, true] {
                match SolidShaft::of(&shape, teeth).and_then(|shaft| shaft.solid()) {
                    Ok(solid) => {
                        assert!(solid.volume_mm3() > 0.0);
                        made += 1;
                    }
                    Err(SolidRefusal::Missing { .. } | SolidRefusal::NoToothData) => missing += 1,
                    // The simulation draws the two heights apart from each other, so that one may lie below the other.
                    Err(SolidRefusal::Contradiction { what: "wheel pilot height", .. })
                        if shape.wheel_pilot_height.value_mm < shape.register_height.value_mm =>
                    {
                        below += 1;
                    }
                    Err(other) => odd.push(format!("{number}, {side:?}, teeth {teeth}: {other}")),
                }
            }
        }
    }
    println!("{made} made, {missing} lack something, {below} have the pilot below the register: {odd:#?}");
    assert!(odd.is_empty(), "{odd:#?}");
    assert!(made > 5 * below && made > 180, "{made} made, {below} refused");
}

//! What is refused, and in which words.

#![allow(clippy::unwrap_used, reason = "a part that should be refused must be")]

use solid::{AxialHole, HoleEnd, PartError, Profile, RevolvedPart, Solid, SplineTeeth, StepError, StepHeader, Turn};

/// A flange of 100 mm by 10 mm on a bar of 40 mm, 60 mm long.
fn flange() -> Profile {
    Profile::starting_at(0.0, 0.0)
        .line_to(0.0, 50.0)
        .line_to(10.0, 50.0)
        .line_to(10.0, 20.0)
        .line_to(60.0, 20.0)
        .line_to(60.0, 0.0)
}

fn hole(x_mm: f64, diameter_mm: f64) -> AxialHole {
    AxialHole { x_mm, y_mm: 0.0, diameter_mm, from_z_mm: 0.0, to_z_mm: 10.0, end: HoleEnd::Through }
}

/// 20 teeth of 2 mm of diameter each, at 45 degrees.
fn teeth() -> SplineTeeth {
    SplineTeeth {
        teeth: 20,
        pitch_diameter_mm: 38.0,
        pressure_angle_deg: 45.0,
        tooth_thickness_mm: 2.9,
        root_diameter_mm: 36.0,
        from_z_mm: 40.0,
        to_z_mm: 60.0,
    }
}

fn profile_error(profile: Profile) -> PartError {
    Solid::new(&RevolvedPart { profile, holes: Vec::new(), splines: Vec::new() }).unwrap_err()
}

fn holes_error(holes: &[AxialHole]) -> PartError {
    Solid::new(&RevolvedPart { profile: flange(), holes: holes.to_vec(), splines: Vec::new() }).unwrap_err()
}

fn spline_error(spline: SplineTeeth) -> PartError {
    Solid::new(&RevolvedPart { profile: flange(), holes: Vec::new(), splines: vec![spline] }).unwrap_err()
}

/// The error says this.
fn says(error: &PartError, words: &str) {
    let text = error.to_string();
    assert!(text.contains(words), "`{text}` lacks `{words}`");
    assert!(!text.contains("  "), "`{text}` has a gap");
}

#[test]
fn the_pattern_is_accepted() {
    let part = RevolvedPart { profile: flange(), holes: vec![hole(35.0, 12.0)], splines: vec![teeth()] };
    assert!(Solid::new(&part).is_ok());
}

#[test]
fn a_number_that_is_no_length() {
    let error = profile_error(Profile::starting_at(0.0, 0.0).line_to(f64::NAN, 3.0).line_to(1.0, 0.0));
    assert!(matches!(error, PartError::NotFinite { what: "z", .. }));
    says(&error, "segment 1: z is NaN");
    says(&holes_error(&[hole(35.0, 12.0), hole(f64::INFINITY, 12.0)]), "hole 2: x is inf");
    says(&spline_error(SplineTeeth { root_diameter_mm: f64::NAN, ..teeth() }), "spline 1: the root diameter is NaN");
    says(&profile_error(Profile::starting_at(0.0, 1e6)), "from -100000 to 100000 mm is accepted");
}

#[test]
fn a_profile_that_is_not_closed() {
    assert_eq!(profile_error(Profile::starting_at(0.0, 0.0)), PartError::NoSegments);
    let error = profile_error(Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).line_to(9.0, 20.0));
    says(&error, "ends at z = 9 mm, r = 20 mm; it must begin and end on the axis (r = 0), or end where it began");
}

#[test]
fn a_segment_without_length() {
    let error = profile_error(Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).line_to(0.0, 20.0).line_to(5.0, 0.0));
    assert!(matches!(error, PartError::SegmentTooShort { segment: 2, length_mm: 0.0, .. }));
    says(&error, "segment 2 at z = 0 mm, r = 20 mm is 0 mm long; at least 0.001 mm is accepted");
}

#[test]
fn a_line_that_is_almost_square() {
    let end = |z: f64| Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).line_to(30.0, 20.0).line_to(z, 0.0);
    says(&profile_error(end(30.0 + 5e-7)), "segment 3 runs across the axis but for");
    // Rounding is no slope.
    let solid =
        |profile: Profile| Solid::new(&RevolvedPart { profile, holes: Vec::new(), splines: Vec::new() }).unwrap();
    assert_eq!(solid(end(30.0 + 4e-15)).shell(), solid(end(30.0)).shell());
    assert!(solid(end(30.0 + 2e-6)).volume_mm3() > solid(end(30.0)).volume_mm3());
}

#[test]
fn an_arc_that_does_not_reach() {
    let arc = Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).arc_to(10.0, 20.0, 4.0, Turn::Clockwise);
    says(&profile_error(arc.line_to(10.0, 0.0)), "radius 4 mm over a chord of 10 mm; from 5 mm, half the chord");
}

#[test]
fn a_profile_that_meets_the_axis() {
    let through = Profile::starting_at(0.0, 0.0).line_to(0.0, 5.0).line_to(5.0, -1.0).line_to(9.0, 0.0);
    says(&profile_error(through), "segment 2 comes to r = -1 mm at z = 5 mm");
    let touching =
        Profile::starting_at(0.0, 0.0).line_to(0.0, 5.0).line_to(5.0, 0.0).line_to(9.0, 5.0).line_to(9.0, 0.0);
    says(&profile_error(touching), "segment 2 comes to r = 0 mm at z = 5 mm");
    let along = Profile::starting_at(0.0, 0.0).line_to(0.0, 5.0).line_to(5.0, 5.0).line_to(5.0, 0.0).line_to(0.0, 0.0);
    assert!(matches!(profile_error(along), PartError::MeetsAxis { .. }));
    let dip =
        Profile::starting_at(0.0, 0.0).line_to(0.0, 4.0).arc_to(10.0, 4.0, 5.0, Turn::Anticlockwise).line_to(10.0, 0.0);
    says(&profile_error(dip), "segment 2 comes to r = -1 mm at z = 5 mm");
    let lens = Profile::starting_at(-15.0, 0.0).arc_to(15.0, 0.0, 25.0, Turn::Clockwise);
    says(&profile_error(lens), "ends on the axis at z = -15 mm with its centre at r = -20 mm");
}

#[test]
fn a_profile_that_crosses_itself() {
    let bow = Profile::starting_at(0.0, 0.0).line_to(0.0, 9.0).line_to(8.0, 3.0).line_to(8.0, 9.0).line_to(0.0, 3.0);
    let error = profile_error(bow.line_to(-5.0, 0.0));
    assert!(matches!(
        error,
        PartError::ProfileCrosses { first: 1, second: 4, .. } | PartError::ProfileCrosses { first: 2, second: 4, .. }
    ));
    says(&error, "must stay at least 0.001 mm apart");
    // A groove so deep that it touches the other side.
    let groove = Profile::starting_at(0.0, 5.0)
        .line_to(0.0, 9.0)
        .line_to(4.0, 9.0)
        .arc_to(8.0, 9.0, 4.0, Turn::Anticlockwise)
        .line_to(12.0, 9.0)
        .line_to(12.0, 5.0);
    let bottom = 9.0 - (4.0 - 12.0_f64.sqrt());
    let error = profile_error(groove.clone().line_to(6.0, bottom - 0.0005).line_to(0.0, 5.0));
    assert!(matches!(error, PartError::ProfileCrosses { first: 3, .. }), "{error}");
    let clear = groove.line_to(6.0, bottom - 0.002).line_to(0.0, 5.0);
    assert!(Solid::new(&RevolvedPart { profile: clear, holes: Vec::new(), splines: Vec::new() }).is_ok());
    let back = Profile::starting_at(0.0, 0.0).line_to(0.0, 9.0).line_to(0.0, 5.0).line_to(4.0, 0.0);
    says(&profile_error(back), "segments 1 and 2 turn straight back at z = 0 mm, r = 9 mm");
}

#[test]
fn a_hole_without_a_face() {
    let error = holes_error(&[AxialHole { from_z_mm: 1.0, ..hole(35.0, 12.0) }]);
    says(&error, "hole 1 needs a plane face at z = 1 mm that reaches from r = 29 mm to r = 41 mm");
    says(&error, "plane faces that way round: z = 0 mm from r = 0 to 50 mm");
    // Over the rim; into the bar on the way out; from a face that looks the other way.
    says(&holes_error(&[hole(46.0, 12.0)]), "from r = 40 mm to r = 52 mm");
    says(&holes_error(&[hole(24.0, 12.0)]), "at z = 10 mm");
    says(&holes_error(&[AxialHole { to_z_mm: -10.0, ..hole(35.0, 12.0) }]), "z = 10 mm from r = 20 to 50 mm");
    says(&holes_error(&[hole(35.0, 0.0)]), "hole 1: the diameter is 0 mm");
    says(&holes_error(&[AxialHole { to_z_mm: 0.0, ..hole(35.0, 12.0) }]), "hole 1: the depth is 0 mm");
}

#[test]
fn a_hole_that_leaves_the_material() {
    let blind = |to_z_mm: f64| AxialHole { to_z_mm, end: HoleEnd::FlatBottom, ..hole(35.0, 12.0) };
    says(&holes_error(&[blind(12.0)]), "hole 1 cuts segment 3 of the profile between z = 0 mm and z = 12 mm");
    assert!(matches!(holes_error(&[blind(9.9995)]), PartError::HoleLeavesMaterial { segment: 3, .. }));
    let part = RevolvedPart { profile: flange(), holes: vec![blind(9.998)], splines: Vec::new() };
    assert!(Solid::new(&part).is_ok());
}

#[test]
fn holes_that_run_into_each_other() {
    let error = holes_error(&[hole(35.0, 12.0), hole(-35.0, 12.0), AxialHole { y_mm: 11.0, ..hole(35.0, 11.0) }]);
    assert!(matches!(error, PartError::HolesOverlap { first: 1, second: 3, .. }));
    says(&error, "holes 1 and 3 are 11 mm apart from centre to centre; more than 11.501 mm keeps them apart");
}

#[test]
fn a_hole_in_the_teeth() {
    let deep = |x_mm: f64| AxialHole { from_z_mm: 60.0, to_z_mm: 50.0, end: HoleEnd::FlatBottom, ..hole(x_mm, 4.0) };
    let error = |hole: AxialHole| {
        Solid::new(&RevolvedPart { profile: flange(), holes: vec![hole], splines: vec![teeth()] }).unwrap_err()
    };
    // The end face is whole up to the roots only.
    says(&error(deep(17.0)), "z = 60 mm");
    let from_the_flange = AxialHole { to_z_mm: 50.0, end: HoleEnd::FlatBottom, ..hole(17.0, 4.0) };
    assert_eq!(error(from_the_flange), PartError::HoleCutsTeeth { hole: 1, spline: 1 });
    let part = RevolvedPart { profile: flange(), holes: vec![deep(15.0)], splines: vec![teeth()] };
    assert!(Solid::new(&part).is_ok());
}

#[test]
fn a_spline_without_a_cylinder() {
    let error = spline_error(SplineTeeth { from_z_mm: 5.0, ..teeth() });
    says(&error, "no single outer cylinder over that length; outer cylinders: z = 0 to 10 mm; z = 10 to 60 mm");
    says(&spline_error(SplineTeeth { from_z_mm: 60.0, ..teeth() }), "spline 1: the length is 0 mm");
    says(&spline_error(SplineTeeth { to_z_mm: 59.9999, ..teeth() }), "the plain length beside the teeth");
}

#[test]
fn teeth_that_cannot_be() {
    says(&spline_error(SplineTeeth { teeth: 3, ..teeth() }), "3 teeth; 4 to 400 are accepted");
    says(&spline_error(SplineTeeth { pressure_angle_deg: f64::NAN, ..teeth() }), "pressure angle of NaN degrees");
    says(&spline_error(SplineTeeth { root_diameter_mm: 26.0, ..teeth() }), "from 26.87");
    says(&spline_error(SplineTeeth { root_diameter_mm: 40.0, ..teeth() }), "to below 40 mm");
    says(&spline_error(SplineTeeth { tooth_thickness_mm: 1.0, ..teeth() }), "for the tip of a tooth");
    says(&spline_error(SplineTeeth { tooth_thickness_mm: 5.0, ..teeth() }), "for the bottom of a space");
}

#[test]
fn splines_that_meet() {
    let part = |first: SplineTeeth, second: SplineTeeth| RevolvedPart {
        profile: flange(),
        holes: Vec::new(),
        splines: vec![first, second],
    };
    let (left, right) = (SplineTeeth { from_z_mm: 20.0, to_z_mm: 30.0, ..teeth() }, teeth());
    assert!(Solid::new(&part(left, right)).is_ok());
    let error = Solid::new(&part(SplineTeeth { to_z_mm: 40.0, ..left }, right)).unwrap_err();
    assert_eq!(error, PartError::SplinesMeet { first: 1, second: 2 });
}

#[test]
fn teeth_below_which_there_is_nothing() {
    // A bore of 37 mm in the end of the bar is wider than the roots.
    let bored = Profile::starting_at(0.0, 0.0)
        .line_to(0.0, 50.0)
        .line_to(10.0, 50.0)
        .line_to(10.0, 20.0)
        .line_to(60.0, 20.0)
        .line_to(60.0, 18.5)
        .line_to(30.0, 18.5)
        .line_to(30.0, 0.0);
    let error = Solid::new(&RevolvedPart { profile: bored, holes: Vec::new(), splines: vec![teeth()] }).unwrap_err();
    assert_eq!(error, PartError::TeethLeaveMaterial { spline: 1, segment: 6 });
}

#[test]
fn a_header_that_says_too_little() {
    let solid = Solid::new(&RevolvedPart { profile: flange(), holes: Vec::new(), splines: Vec::new() }).unwrap();
    let header = StepHeader { name: "Flange", time_stamp: "2026-01-31T08:30:00", ..StepHeader::default() };
    assert!(solid.to_step(&header).is_ok());
    assert_eq!(solid.to_step(&StepHeader { name: " ", ..header }), Err(StepError::NoName));
    let error = solid.to_step(&StepHeader { time_stamp: "yesterday", ..header }).unwrap_err();
    assert!(error.to_string().contains("`yesterday` is no time stamp; one such as 2026-01-31T08:30:00"));
}

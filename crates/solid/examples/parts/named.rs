//! The parts that lie in `validation/solid/parts`: shafts, and one part for each kind of surface and of joint.

use solid::{AxialHole, HoleEnd, Profile, RevolvedPart, Turn};

use crate::shaft::{Inch, Shaft};

/// All of them, by name.
pub fn parts() -> Vec<(String, RevolvedPart)> {
    let inch = |teeth: u32, pressure_angle_deg: f64| Inch { teeth, pressure_angle_deg };
    let shaft = |overall_length: f64, holes: u32, spline: Inch, teeth: bool| Shaft {
        overall_length,
        holes,
        access_hole: holes == 5,
        spline,
        teeth,
        body_radius: f64::midpoint(spline.root_radius(), spline.tip_radius()),
    };
    let mut parts = vec![
        ("shaft_5_holes", shaft(795.3, 5, inch(31, 30.0), false).part()),
        ("shaft_4_holes", shaft(610.0, 4, inch(28, 30.0), false).part()),
        ("shaft_6_holes", shaft(900.0, 6, inch(35, 30.0), false).part()),
        ("shaft_8_holes", shaft(1002.5, 8, inch(40, 30.0), false).part()),
        ("shaft_28_teeth_30", shaft(795.3, 5, inch(28, 30.0), true).part()),
        ("shaft_35_teeth_37_5", shaft(650.0, 6, inch(35, 37.5), true).part()),
        ("shaft_40_teeth_45", shaft(650.0, 8, inch(40, 45.0), true).part()),
    ];
    parts.extend(surfaces());
    parts.extend(ends_of_teeth());
    parts.into_iter().map(|(name, part)| (name.to_owned(), part)).collect()
}

fn turned(profile: Profile) -> RevolvedPart {
    RevolvedPart { profile, holes: Vec::new(), splines: Vec::new() }
}

/// One part for each kind of surface, and for each way in which it meets the axis.
fn surfaces() -> Vec<(&'static str, RevolvedPart)> {
    let ball = Profile::starting_at(-10.0, 0.0).arc_to(10.0, 0.0, 10.0, Turn::Clockwise);
    let ring = Profile::starting_at(-3.0, 20.0).arc_to(3.0, 20.0, 3.0, Turn::Clockwise).arc_to(
        -3.0,
        20.0,
        3.0,
        Turn::Clockwise,
    );
    // Against the usual direction on purpose. The bore has a groove, and one edge of it is round.
    let collar = Profile::starting_at(0.0, 20.0)
        .line_to(8.0, 20.0)
        .line_to(8.0, 22.0)
        .line_to(12.0, 22.0)
        .line_to(12.0, 20.0)
        .line_to(25.0, 20.0)
        .line_to(25.0, 38.0)
        .arc_to(23.0, 40.0, 2.0, Turn::Anticlockwise)
        .line_to(2.0, 40.0)
        .line_to(0.0, 38.0)
        .line_to(0.0, 20.0);
    // A centre hole of 60 degrees, closed to a point, in a bar with a ball end; flat-bottomed holes from both sides.
    let bar = Profile::starting_at(6.0, 0.0)
        .line_to(0.0, 3.5)
        .line_to(0.0, 30.0)
        .line_to(50.0, 30.0)
        .line_to(50.0, 12.0)
        .line_to(60.0, 12.0)
        .arc_to(72.0, 0.0, 12.0, Turn::Clockwise);
    let blind = |x_mm: f64, y_mm: f64, from_z_mm: f64, to_z_mm: f64| AxialHole {
        x_mm,
        y_mm,
        diameter_mm: 7.0,
        from_z_mm,
        to_z_mm,
        end: HoleEnd::FlatBottom,
    };
    // Two holes on one line, with a web between their bottoms.
    let drilled = RevolvedPart {
        profile: bar,
        holes: vec![
            blind(20.0, 0.0, 0.0, 20.0),
            blind(20.0, 0.0, 50.0, 25.0),
            blind(-15.0, 15.0, 0.0, 30.0),
            AxialHole { end: HoleEnd::Through, ..blind(0.0, -21.0, 50.0, 0.0) },
        ],
        splines: Vec::new(),
    };
    // Arcs whose whole circle reaches over the axis: outside and inside.
    let barrel = Profile::starting_at(-20.0, 0.0)
        .line_to(-20.0, 10.0)
        .arc_to(20.0, 10.0, 40.0, Turn::Clockwise)
        .line_to(20.0, 0.0);
    let waist = Profile::starting_at(-20.0, 0.0)
        .line_to(-20.0, 30.0)
        .arc_to(20.0, 30.0, 30.0, Turn::Anticlockwise)
        .line_to(20.0, 0.0);
    let dimple = Profile::starting_at(5.0, 0.0)
        .arc_to(0.0, 5.0, 5.0, Turn::Anticlockwise)
        .line_to(0.0, 15.0)
        .line_to(10.0, 25.0)
        .line_to(30.0, 0.0);
    vec![
        ("ball", turned(ball)),
        ("round_ring", turned(ring)),
        ("collar", turned(collar)),
        ("drilled_bar", drilled),
        ("barrel", turned(barrel)),
        ("waist", turned(waist)),
        ("dimple", turned(dimple)),
    ]
}

/// Six teeth, with each way in which a part can go on beyond them.
fn ends_of_teeth() -> Vec<(&'static str, RevolvedPart)> {
    let spline = Inch { teeth: 6, pressure_angle_deg: 45.0 };
    let (root, tip) = (spline.root_radius(), spline.tip_radius());
    let stepped = |before: f64, behind: f64| {
        let profile = Profile::starting_at(0.0, 0.0)
            .line_to(0.0, before)
            .line_to(10.0, before)
            .line_to(10.0, tip)
            .line_to(30.0, tip)
            .line_to(30.0, behind)
            .line_to(35.0, behind)
            .line_to(35.0, 0.0);
        RevolvedPart { profile, holes: Vec::new(), splines: vec![spline.over(10.0, 30.0)] }
    };
    let bar = |profile: Profile, from: f64, to: f64| RevolvedPart {
        profile,
        holes: Vec::new(),
        splines: vec![spline.over(from, to)],
    };
    let plain = Profile::starting_at(0.0, 0.0).line_to(0.0, tip).line_to(40.0, tip).line_to(40.0, 0.0);
    let between = Profile::starting_at(-5.0, 0.0)
        .line_to(0.0, tip)
        .line_to(40.0, tip)
        .arc_to(44.0, tip + 4.0, 4.0, Turn::Anticlockwise)
        .line_to(46.0, tip + 4.0)
        .line_to(46.0, 0.0);
    // A tube: the part ends at both ends of the teeth.
    let tube = Profile::starting_at(0.0, 2.0).line_to(0.0, tip).line_to(40.0, tip).line_to(40.0, 2.0).line_to(0.0, 2.0);
    vec![
        ("teeth_below_root_above_tip", stepped(root - 1.0, tip + 3.0)),
        ("teeth_above_tip_below_root", stepped(tip + 3.0, root - 1.0)),
        ("teeth_at_root_and_between", stepped(root, f64::midpoint(root, tip))),
        ("teeth_between_and_at_root", stepped(f64::midpoint(root, tip), root)),
        ("teeth_within_a_bar", bar(plain.clone(), 10.0, 25.0)),
        ("teeth_over_a_bar", bar(plain, 0.0, 40.0)),
        ("teeth_between_cone_and_fillet", bar(between, 0.0, 40.0)),
        ("teeth_over_a_tube", bar(tube, 0.0, 40.0)),
    ]
}

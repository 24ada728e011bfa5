//! Every part that is accepted gives a closed boundary, and no part, however odd, makes the crate fall over.

#![allow(clippy::unwrap_used, reason = "a part that is valid by its making must be accepted")]

mod soundness;

use std::f64::consts::{PI, TAU};

use proptest::prelude::*;
use solid::{
    AxialHole, HoleEnd, Place, Profile, RevolvedPart, Segment, Shell, Solid, SplineTeeth, StepHeader, StepUnit, Turn,
};

const HEADER: StepHeader<'static> = StepHeader {
    name: "x",
    time_stamp: "2026-01-31T08:30:00",
    id: "",
    notes: &[],
    unit: StepUnit::Millimetre,
    author: "",
    organisation: "",
    written_by: "",
};

/// How two cylinders of a stepped shaft meet, or how one ends.
#[derive(Debug, Clone, Copy)]
struct Joint {
    chamfer: bool,
    fillet: bool,
}

/// A stepped shaft that is valid by its making.
#[derive(Debug, Clone)]
struct Stepped {
    /// Length and radius of each cylinder, no two neighbours alike.
    cylinders: Vec<(f64, f64)>,
    joints: Vec<Joint>,
    /// How it ends: flat, in a point or in a ball; both flat where it is bored through.
    ends_in: u8,
    bored: bool,
    backwards: bool,
    holes: u32,
    through: bool,
    teeth: Option<(prop::sample::Index, u32, f64, f64)>,
}

fn stepped() -> impl Strategy<Value = Stepped> {
    let cylinder = (6.0..30.0f64, 12u32..60);
    let joint = (any::<bool>(), any::<bool>()).prop_map(|(chamfer, fillet)| Joint { chamfer, fillet });
    (
        prop::collection::vec((cylinder, joint), 1..7),
        0u8..3,
        any::<bool>(),
        any::<bool>(),
        0u32..7,
        any::<bool>(),
        prop::option::of((any::<prop::sample::Index>(), 6u32..24, 0.0..0.4f64, 0.0..0.4f64)),
    )
        .prop_map(|(pieces, ends_in, bored, backwards, holes, through, teeth)| {
            let mut cylinders: Vec<(f64, f64)> = Vec::new();
            let mut joints = Vec::new();
            for ((length, half_radius), joint) in pieces {
                let radius = f64::from(half_radius) / 2.0;
                // Steps of 2 mm at least leave room for chamfer and fillet.
                if cylinders.last().is_none_or(|before| (before.1 - radius).abs() >= 2.0) {
                    cylinders.push((length, radius));
                    joints.push(joint);
                }
            }
            let ends_in = if bored { 0 } else { ends_in };
            Stepped { cylinders, joints, ends_in, bored, backwards, holes, through, teeth }
        })
}

impl Stepped {
    fn profile(&self) -> Profile {
        let bore = if self.bored { 1.5 } else { 0.0 };
        let first = self.cylinders[0].1;
        let mut profile = Profile::starting_at(0.0, bore).line_to(0.0, first - 0.5).line_to(0.5, first);
        let mut z = 0.0;
        for (index, (length, radius)) in self.cylinders.iter().copied().enumerate() {
            z += length;
            let joint = self.joints[index];
            let Some((_, next)) = self.cylinders.get(index + 1).copied() else {
                profile = match self.ends_in {
                    0 => profile.line_to(z, radius).line_to(z, bore),
                    1 => profile.line_to(z, radius).line_to(z + 7.0, 0.0),
                    _ => profile.line_to(z, radius).arc_to(z + radius, 0.0, radius, Turn::Clockwise),
                };
                break;
            };
            // The larger one is chamfered, the smaller one runs out in a fillet.
            let chamfer = if joint.chamfer { 0.5 } else { 0.0 };
            let fillet = if joint.fillet { 0.7 } else { 0.0 };
            if next < radius {
                profile = profile.line_to(z - chamfer, radius);
                if joint.chamfer {
                    profile = profile.line_to(z, radius - chamfer);
                }
                profile = profile.line_to(z, next + fillet);
                if joint.fillet {
                    profile = profile.arc_to(z + fillet, next, fillet, Turn::Anticlockwise);
                }
            } else {
                profile = profile.line_to(z - fillet, radius);
                if joint.fillet {
                    profile = profile.arc_to(z, radius + fillet, fillet, Turn::Anticlockwise);
                }
                profile = profile.line_to(z, next - chamfer);
                if joint.chamfer {
                    profile = profile.line_to(z + chamfer, next);
                }
            }
        }
        if self.bored {
            profile = profile.line_to(0.0, bore);
        }
        if self.backwards { backwards(&profile) } else { profile }
    }

    /// Holes in the face at z = 0, at half of its radius.
    fn holes(&self) -> Vec<AxialHole> {
        let (length, radius) = self.cylinders[0];
        let through = self.through && self.cylinders.len() == 1 && self.ends_in == 0;
        (0..self.holes)
            .map(|place| {
                let angle = TAU * f64::from(place) / f64::from(self.holes);
                AxialHole {
                    x_mm: radius / 2.0 * angle.cos(),
                    y_mm: radius / 2.0 * angle.sin(),
                    diameter_mm: 0.3 * radius,
                    from_z_mm: 0.0,
                    to_z_mm: if through { length } else { length - 2.0 },
                    end: if through { HoleEnd::Through } else { HoleEnd::FlatBottom },
                }
            })
            .collect()
    }

    /// Teeth of 45 degrees on one of the cylinders, over all of it where both shares are small.
    fn splines(&self, profile: &Profile) -> Vec<SplineTeeth> {
        let Some((index, teeth, before, behind)) = self.teeth else {
            return Vec::new();
        };
        let mut from = profile.start;
        let mut cylinders = Vec::new();
        for segment in &profile.segments {
            let to = segment.to();
            if matches!(segment, Segment::Line { .. }) && to.r_mm == from.r_mm && to.r_mm > 1.5 {
                cylinders.push((from.z_mm.min(to.z_mm), from.z_mm.max(to.z_mm), to.r_mm));
            }
            from = to;
        }
        // The same one whichever way the profile runs.
        cylinders.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (low, high, tip) = *index.get(&cylinders);
        // A fillet that ends just above the root would leave a web of less than a micrometre.
        let root = tip * f64::from(teeth - 1) / f64::from(teeth + 1);
        if profile.segments.iter().any(|segment| (segment.to().r_mm - root).abs() < 0.2) {
            return Vec::new();
        }
        let share = |share: f64| if share < 0.2 { 0.0 } else { share * (high - low) };
        let pitch_diameter_mm = 2.0 * tip * f64::from(teeth) / f64::from(teeth + 1);
        vec![SplineTeeth {
            teeth,
            pitch_diameter_mm,
            pressure_angle_deg: 45.0,
            tooth_thickness_mm: PI * pitch_diameter_mm / f64::from(2 * teeth),
            root_diameter_mm: 2.0 * root,
            from_z_mm: low + share(before),
            to_z_mm: high - share(behind),
        }]
    }

    fn part(&self) -> RevolvedPart {
        let profile = self.profile();
        let splines = self.splines(&profile);
        RevolvedPart { profile, holes: self.holes(), splines }
    }
}

fn backwards(profile: &Profile) -> Profile {
    let mut places = vec![profile.start];
    places.extend(profile.segments.iter().map(|segment| segment.to()));
    let segments = profile.segments.iter().enumerate().rev().map(|(index, segment)| match *segment {
        Segment::Line { .. } => Segment::Line { to: places[index] },
        Segment::Arc { radius_mm, turn, .. } => Segment::Arc {
            to: places[index],
            radius_mm,
            turn: if turn == Turn::Clockwise { Turn::Anticlockwise } else { Turn::Clockwise },
        },
    });
    Profile { start: places[places.len() - 1], segments: segments.collect() }
}

fn handles(part: &RevolvedPart) -> usize {
    let ends = part.profile.segments.last().map(|segment| segment.to());
    let ring = usize::from(ends == Some(part.profile.start));
    ring + part.holes.iter().filter(|hole| hole.end == HoleEnd::Through).count()
}

fn all_faults(solid: &Solid, part: &RevolvedPart) -> Vec<String> {
    let shell = solid.shell();
    let mut faults = soundness::faults(&shell, handles(part));
    faults.extend(soundness::plane_loops(&shell));
    faults
}

/// Whole and half millimetres, so that segments often meet, touch and coincide; now and then a number that is none.
fn odd_number(low: i32, high: i32) -> impl Strategy<Value = f64> {
    prop_oneof![
        60 => (low * 2..high * 2).prop_map(|half| f64::from(half) / 2.0),
        4 => -3.0..9.0f64,
        1 => prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(1e300), Just(1e-300), Just(-0.0), Just(1e5)],
    ]
}

fn odd_part() -> impl Strategy<Value = RevolvedPart> {
    let place = || (odd_number(-2, 8), odd_number(0, 6)).prop_map(|(z_mm, r_mm)| Place { z_mm, r_mm });
    let turn = || any::<bool>().prop_map(|left| if left { Turn::Anticlockwise } else { Turn::Clockwise });
    let segment = prop_oneof![
        3 => place().prop_map(|to| Segment::Line { to }),
        1 => (place(), odd_number(1, 8), turn())
            .prop_map(|(to, radius_mm, turn)| Segment::Arc { to, radius_mm, turn }),
    ];
    let hole =
        (odd_number(-4, 4), odd_number(-4, 4), odd_number(0, 3), odd_number(-2, 8), odd_number(-2, 8), any::<bool>())
            .prop_map(|(x_mm, y_mm, diameter_mm, from_z_mm, to_z_mm, through)| AxialHole {
                x_mm,
                y_mm,
                diameter_mm,
                from_z_mm,
                to_z_mm,
                end: if through { HoleEnd::Through } else { HoleEnd::FlatBottom },
            });
    let spline = (
        0u32..12,
        odd_number(2, 12),
        odd_number(25, 50),
        odd_number(0, 3),
        odd_number(2, 12),
        odd_number(-2, 8),
        odd_number(-2, 8),
    )
        .prop_map(|(teeth, pitch, angle, thickness, root, from_z_mm, to_z_mm)| SplineTeeth {
            teeth,
            pitch_diameter_mm: pitch,
            pressure_angle_deg: angle,
            tooth_thickness_mm: thickness,
            root_diameter_mm: root,
            from_z_mm,
            to_z_mm,
        });
    // Half of the profiles are brought to a close, so that some get past the first check.
    (
        place(),
        prop::collection::vec(segment, 0..6),
        any::<bool>(),
        any::<bool>(),
        prop::collection::vec(hole, 0..2),
        prop::collection::vec(spline, 0..2),
    )
        .prop_map(|(mut start, mut segments, on_axis, close, holes, splines)| {
            if close && on_axis {
                start.r_mm = 0.0;
                let z_mm = segments.last().map_or(1.0, |segment: &Segment| segment.to().z_mm);
                segments.push(Segment::Line { to: Place { z_mm, r_mm: 0.0 } });
            } else if close {
                segments.push(Segment::Line { to: start });
            }
            RevolvedPart { profile: Profile { start, segments }, holes, splines }
        })
}

#[test]
fn a_broken_boundary_is_noticed() {
    let profile = Profile::starting_at(0.0, 0.0).line_to(0.0, 20.0).line_to(30.0, 20.0).line_to(40.0, 0.0);
    let part = RevolvedPart { profile, holes: Vec::new(), splines: Vec::new() };
    let sound = Solid::new(&part).unwrap().shell();
    let noticed = |spoil: fn(&mut Shell)| {
        let mut shell = sound.clone();
        spoil(&mut shell);
        !soundness::faults(&shell, 0).is_empty() || !soundness::plane_loops(&shell).is_empty()
    };
    assert!(!noticed(|_| {}));
    assert!(noticed(|shell| shell.faces[0].loops[0][0].forward ^= true));
    assert!(noticed(|shell| drop(shell.faces.pop())));
    assert!(noticed(|shell| shell.faces[1].loops[0].swap(0, 1)));
    assert!(noticed(|shell| shell.corners.push([0.0; 3])));
    assert!(noticed(|shell| shell.corners[0][0] += 1e-6));
    assert!(!soundness::faults(&sound, 1).is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_stepped_shaft_gives_a_closed_boundary(shaft in stepped()) {
        let part = shaft.part();
        let solid = Solid::new(&part).unwrap();
        prop_assert_eq!(all_faults(&solid, &part), Vec::<String>::new());
        prop_assert!(solid.volume_mm3() > 0.0 && solid.area_mm2() > 0.0);
        prop_assert_eq!(solid.to_step(&HEADER).unwrap(), Solid::new(&part).unwrap().to_step(&HEADER).unwrap());
    }

    #[test]
    fn a_profile_may_run_either_way_round(shaft in stepped()) {
        let there = Solid::new(&shaft.part()).unwrap();
        let back = Solid::new(&Stepped { backwards: !shaft.backwards, ..shaft }.part()).unwrap();
        prop_assert!((there.volume_mm3() / back.volume_mm3() - 1.0).abs() < 1e-12);
        prop_assert!((there.area_mm2() / back.area_mm2() - 1.0).abs() < 1e-12);
        prop_assert_eq!(there.shell().faces.len(), back.shell().faces.len());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_odd_part_is_refused_in_words_or_gives_a_closed_boundary(part in odd_part()) {
        match Solid::new(&part) {
            Err(error) => prop_assert!(!error.to_string().is_empty()),
            Ok(solid) => {
                prop_assert_eq!(all_faults(&solid, &part), Vec::<String>::new());
                prop_assert!(solid.volume_mm3() > 0.0 && solid.area_mm2() > 0.0);
                prop_assert!(!solid.to_step(&HEADER).unwrap().contains("NaN"));
            }
        }
    }
}

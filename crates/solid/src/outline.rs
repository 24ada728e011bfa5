//! A profile that has been checked: lines and arcs that enclose material, with the material on the right.

use crate::curve::{Curve, Flat};
use crate::error::PartError;
use crate::marks::Marks;
use crate::profile::{Place, Profile, Segment, Turn};
use crate::{LARGEST_MM, LEAST_GAP_MM};

/// A line that leaves the direction across or along the axis by less than this, in millimetres, would turn into a cone
/// that no reader can tell from a plane or a cylinder.
const LEAST_SLOPE_MM: f64 = 1e-6;

/// Two tangents that are this close to opposite leave an edge of no width.
const LEAST_EDGE_RAD: f64 = 1e-4;

/// The checked profile. Its curves run so that the material is on their right; `number` is the caller's count of each.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Outline {
    pub curves: Vec<Curve>,
    pub numbers: Vec<usize>,
    /// A ring, as against a chain from axis to axis.
    pub closed: bool,
    pub marks: Marks,
}

impl Outline {
    pub fn of(profile: &Profile) -> Result<Self, PartError> {
        let mut marks = Marks::new();
        let (curves, closed) = curves_of(profile, &mut marks)?;
        check_axis(&curves, closed)?;
        check_crossings(&curves, closed)?;
        let mut outline = Self { numbers: (1..=curves.len()).collect(), curves, closed, marks };
        if outline.curves.iter().map(Curve::area_below).sum::<f64>() < 0.0 {
            outline.curves = outline.curves.iter().rev().map(|curve| curve.reversed()).collect();
            outline.numbers.reverse();
        }
        Ok(outline)
    }
}

/// Refuses a number that is no place on a part.
pub(crate) fn length(place: impl Fn() -> String, what: &'static str, value: f64) -> Result<f64, PartError> {
    if !value.is_finite() {
        return Err(PartError::NotFinite { place: place(), what, value });
    }
    if value.abs() > LARGEST_MM {
        return Err(PartError::TooLarge { place: place(), what, value });
    }
    // A negative zero would show in the file.
    Ok(value + 0.0)
}

fn flat(place: impl Fn() -> String, point: Place, marks: &mut Marks) -> Result<Flat, PartError> {
    let (z, r) = (length(&place, "z", point.z_mm)?, length(&place, "r", point.r_mm)?);
    Ok(Flat { z: marks.add_z(z), r: marks.add_r(r) })
}

fn curves_of(profile: &Profile, marks: &mut Marks) -> Result<(Vec<Curve>, bool), PartError> {
    let start = flat(|| "start of the profile".to_owned(), profile.start, marks)?;
    if profile.segments.is_empty() {
        return Err(PartError::NoSegments);
    }
    let mut curves: Vec<Curve> = Vec::with_capacity(profile.segments.len());
    let mut from = start;
    for (index, segment) in profile.segments.iter().enumerate() {
        let place = || format!("segment {}", index + 1);
        let to = flat(place, segment.to(), marks)?;
        let chord_mm = from.distance(to);
        if chord_mm < LEAST_GAP_MM {
            return Err(PartError::SegmentTooShort {
                segment: index + 1,
                z_mm: from.z,
                r_mm: from.r,
                length_mm: chord_mm,
            });
        }
        curves.push(match *segment {
            Segment::Line { .. } => {
                for (direction, off_mm) in [("across", (to.z - from.z).abs()), ("along", (to.r - from.r).abs())] {
                    if off_mm != 0.0 && off_mm < LEAST_SLOPE_MM {
                        return Err(PartError::AlmostSquare { segment: index + 1, direction, off_mm });
                    }
                }
                Curve::line(from, to)
            }
            Segment::Arc { radius_mm, turn, .. } => {
                let radius_mm = length(place, "the radius", radius_mm)?;
                Curve::arc(from, to, radius_mm, turn == Turn::Anticlockwise).ok_or(PartError::ArcRadius {
                    segment: index + 1,
                    radius_mm,
                    chord_mm,
                })?
            }
        });
        from = to;
    }
    let closed = from == start;
    let from_axis_to_axis = start.r == 0.0 && from.r == 0.0;
    if !closed && !from_axis_to_axis {
        return Err(PartError::NotClosed { from_z_mm: start.z, from_r_mm: start.r, to_z_mm: from.z, to_r_mm: from.r });
    }
    Ok((curves, closed))
}

/// Only the two ends of a chain lie on the axis, and they do not run along it.
fn check_axis(curves: &[Curve], closed: bool) -> Result<(), PartError> {
    for (index, curve) in curves.iter().enumerate() {
        let begins_on_axis = !closed && index == 0;
        let ends_on_axis = !closed && index + 1 == curves.len();
        let on_axis = [begins_on_axis.then_some(curve.from), ends_on_axis.then_some(curve.to)];
        if let (Some(round), Some(end)) = (curve.round, on_axis.into_iter().flatten().next())
            && round.centre.r != 0.0
        {
            return Err(PartError::ArcEndsOnAxis { segment: index + 1, z_mm: end.z, centre_r_mm: round.centre.r });
        }
        let (first, last) = curve.tangents();
        let touching = [
            (!begins_on_axis || first.r.abs() < LEAST_EDGE_RAD).then_some(curve.from),
            (!ends_on_axis || last.r.abs() < LEAST_EDGE_RAD).then_some(curve.to),
            curve.bottom(),
        ];
        if let Some(low) = touching.into_iter().flatten().find(|point| point.r < LEAST_GAP_MM) {
            return Err(PartError::MeetsAxis { segment: index + 1, z_mm: low.z, r_mm: low.r });
        }
    }
    Ok(())
}

fn check_crossings(curves: &[Curve], closed: bool) -> Result<(), PartError> {
    let count = curves.len();
    for first in 0..count {
        for second in first + 1..count {
            let (one, two) = (&curves[first], &curves[second]);
            let joins = second == first + 1;
            let closes = closed && first == 0 && second + 1 == count;
            let mut joints = Vec::new();
            if joins {
                joints.push((one.to, one.tangents().1, two.tangents().0));
            }
            if closes {
                joints.push((two.to, two.tangents().1, one.tangents().0));
            }
            let (numbers, crosses) = ((first + 1, second + 1), |at: Flat| PartError::ProfileCrosses {
                first: first + 1,
                second: second + 1,
                z_mm: at.z,
                r_mm: at.r,
            });
            if joints.is_empty() {
                let (distance, at) = one.closest(two);
                if distance < LEAST_GAP_MM {
                    return Err(crosses(at));
                }
                continue;
            }
            for (at, before, behind) in &joints {
                let across = before.z * behind.r - before.r * behind.z;
                let along = before.z * behind.z + before.r * behind.r;
                if along < 0.0 && across.abs() < LEAST_EDGE_RAD {
                    return Err(PartError::TurnsBack { first: numbers.0, second: numbers.1, z_mm: at.z, r_mm: at.r });
                }
            }
            // Neighbours share their joint and nothing else.
            let apart = |point: Flat| joints.iter().all(|(joint, ..)| joint.distance(point) > LEAST_GAP_MM / 1000.0);
            let mut met = one.meetings(two);
            met.extend([one.from, one.to].into_iter().filter(|end| two.distance_to(*end) < LEAST_GAP_MM));
            met.extend([two.from, two.to].into_iter().filter(|end| one.distance_to(*end) < LEAST_GAP_MM));
            if let Some(at) = met.into_iter().find(|point| apart(*point)) {
                return Err(crosses(at));
            }
        }
    }
    Ok(())
}

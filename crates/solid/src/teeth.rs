//! The section of involute teeth: widths, area, perimeter, and the flanks as curves.
//!
//! With pitch diameter `D`, pressure angle `α`, thickness `t` on the pitch circle, base radius `r_b = ½ D cos α` and
//! `u = tan φ` at the radius `r = r_b √(1 + u²)`, half of the tooth spans the angle
//!
//! ```text
//! ψ(r) = t/D + inv α − inv φ            inv φ = tan φ − φ = u − atan u
//! ```
//!
//! and the flank is `r_b e^{iψ_b} e^{−iu} (1 + iu)` with `ψ_b = t/D + inv α`. Source: definition of the involute;
//! ISO 21771:2007, 4.2 and 5.3.

use std::f64::consts::{PI, TAU};

use crate::LEAST_GAP_MM;
use crate::error::{FEWEST_TEETH, MOST_TEETH, PartError};
use crate::marks::Marks;
use crate::outline::length;
use crate::part::SplineTeeth;

/// How far the curve of a flank may lie off the involute, in millimetres: a hundredth of a micrometre.
pub const FLANK_TOLERANCE_MM: f64 = 1e-5;

/// Checked teeth of one spline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Teeth {
    pub count: u32,
    pub base_radius: f64,
    pub root_radius: f64,
    pub tip_radius: f64,
    /// Half of the angle that a tooth would span at the base circle.
    half_at_base: f64,
}

impl Teeth {
    pub fn of(spline: usize, given: &SplineTeeth, tip_radius: f64, marks: &Marks) -> Result<Self, PartError> {
        let place = || format!("spline {spline}");
        let positive = |what: &'static str, value: f64| {
            let value_mm = length(place, what, value)?;
            if value_mm < LEAST_GAP_MM {
                return Err(PartError::TooSmall { place: place(), what, value_mm });
            }
            Ok(value_mm)
        };
        if !(FEWEST_TEETH..=MOST_TEETH).contains(&given.teeth) {
            return Err(PartError::Teeth { spline, teeth: given.teeth });
        }
        let angle_deg = given.pressure_angle_deg;
        if !(angle_deg > 0.0 && angle_deg <= 60.0) {
            return Err(PartError::PressureAngle { spline, angle_deg });
        }
        let pitch = positive("the pitch diameter", given.pitch_diameter_mm)?;
        let thickness = positive("the tooth thickness", given.tooth_thickness_mm)?;
        let root_mm = positive("the root diameter", given.root_diameter_mm)?;
        let angle = angle_deg.to_radians();
        let base_radius = pitch / 2.0 * libm::cos(angle);
        let root_radius = marks.r(root_mm / 2.0);
        if root_radius < base_radius || root_radius > tip_radius - LEAST_GAP_MM {
            return Err(PartError::RootDiameter {
                spline,
                root_mm,
                base_mm: 2.0 * base_radius,
                tip_mm: 2.0 * tip_radius,
            });
        }
        let teeth = Self {
            count: given.teeth,
            base_radius,
            root_radius,
            tip_radius,
            half_at_base: thickness / pitch + libm::tan(angle) - angle,
        };
        let tip = 2.0 * tip_radius * teeth.half_angle(tip_radius);
        let space = 2.0 * teeth.root_radius * (PI / f64::from(teeth.count) - teeth.half_angle(teeth.root_radius));
        for (what, left_mm) in [("tip of a tooth", tip), ("bottom of a space", space)] {
            if left_mm < LEAST_GAP_MM {
                return Err(PartError::ToothThickness { spline, thickness_mm: thickness, what, left_mm });
            }
        }
        Ok(teeth)
    }

    /// `tan φ` at a radius, which is also the angle through which the involute has unrolled.
    pub fn unrolled(&self, radius: f64) -> f64 {
        ((radius - self.base_radius).max(0.0) * (radius + self.base_radius)).sqrt() / self.base_radius
    }

    /// Half of the angle that a tooth spans at a radius.
    pub fn half_angle(&self, radius: f64) -> f64 {
        let u = self.unrolled(radius);
        self.half_at_base - (u - libm::atan(u))
    }

    /// Point of the flank on the side of greater angles, for a tooth whose middle stands on the x axis.
    pub fn flank_point(&self, u: f64) -> [f64; 2] {
        let (sine, cosine) = libm::sincos(self.half_at_base - u);
        [self.base_radius * (cosine - u * sine), self.base_radius * (sine + u * cosine)]
    }

    /// How the point of [`Self::flank_point`] moves with `u`.
    pub fn flank_slope(&self, u: f64) -> [f64; 2] {
        let (sine, cosine) = libm::sincos(self.half_at_base - u);
        [self.base_radius * u * cosine, self.base_radius * u * sine]
    }

    /// The places at which the pieces of a flank's curve join, from root to tip, with those asked for among them.
    ///
    /// A cubic that agrees with the involute in place and slope at both ends of a piece of width `h` lies off it by at
    /// most `h⁴/384` times the largest fourth derivative, which is `r_b √(9 + u²)`.
    pub fn joints(&self, radii_between: &[f64]) -> Vec<f64> {
        let mut stops: Vec<f64> = vec![self.root_radius, self.tip_radius];
        stops.extend(radii_between.iter().filter(|radius| (self.root_radius..self.tip_radius).contains(*radius)));
        stops.sort_by(f64::total_cmp);
        stops.dedup();
        let mut joints = vec![self.unrolled(self.root_radius)];
        for pair in stops.windows(2) {
            let (from, to) = (self.unrolled(pair[0]), self.unrolled(pair[1]));
            let bend = self.base_radius * (9.0 + to * to).sqrt();
            let width = (384.0 * FLANK_TOLERANCE_MM / bend).sqrt().sqrt();
            let pieces = ((to - from) / width).ceil().max(1.0);
            let mut piece = 1.0;
            while piece < pieces {
                joints.push(from + (to - from) * piece / pieces);
                piece += 1.0;
            }
            joints.push(to);
        }
        joints
    }

    /// Area of all teeth between two radii, in mm², by
    /// `∫ r inv φ dr = ½ r² inv φ − r_b² u³/6`.
    pub fn area_between(&self, from: f64, to: f64) -> f64 {
        let below = |radius: f64| {
            let u = self.unrolled(radius);
            let involute = u - libm::atan(u);
            radius * radius / 2.0 * (self.half_at_base - involute)
                + self.base_radius * self.base_radius * u * u * u / 6.0
        };
        2.0 * f64::from(self.count) * (below(to) - below(from))
    }

    /// Area of the whole section, core and teeth, in mm².
    pub fn section_area(&self) -> f64 {
        PI * self.root_radius * self.root_radius + self.area_between(self.root_radius, self.tip_radius)
    }

    /// Length of the section's outline in mm: tips, roots and flanks, each flank an involute of `½ r_b (u₂² − u₁²)`.
    pub fn perimeter(&self) -> f64 {
        let (root, tip) = (self.unrolled(self.root_radius), self.unrolled(self.tip_radius));
        let flanks = self.base_radius * (tip - root) * (tip + root);
        let tips = 2.0 * self.tip_radius * self.half_angle(self.tip_radius);
        let roots = self.root_radius * (TAU / f64::from(self.count) - 2.0 * self.half_angle(self.root_radius));
        f64::from(self.count) * (flanks + tips + roots)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 28 teeth of 24/48 pitch at 30 degrees, as basic sizes.
    fn teeth() -> Teeth {
        let pitch = 28.0 / 24.0 * 25.4;
        let given = SplineTeeth {
            teeth: 28,
            pitch_diameter_mm: pitch,
            pressure_angle_deg: 30.0,
            tooth_thickness_mm: PI / 48.0 * 25.4,
            root_diameter_mm: 26.65 / 24.0 * 25.4,
            from_z_mm: 0.0,
            to_z_mm: 10.0,
        };
        Teeth::of(1, &given, 29.0 / 48.0 * 25.4, &Marks::new()).unwrap()
    }

    #[test]
    fn a_tooth_is_as_thick_on_the_pitch_circle_as_asked() {
        let pitch_radius = 14.0 / 24.0 * 25.4;
        assert!((2.0 * pitch_radius * teeth().half_angle(pitch_radius) - PI / 48.0 * 25.4).abs() < 1e-13);
    }

    #[test]
    fn area_and_perimeter_are_those_of_a_fine_polygon() {
        let teeth = teeth();
        let (root, tip) = (teeth.unrolled(teeth.root_radius), teeth.unrolled(teeth.tip_radius));
        let steps = 20_000;
        let points: Vec<[f64; 2]> =
            (0..=steps).map(|i| teeth.flank_point(root + (tip - root) * f64::from(i) / f64::from(steps))).collect();
        let arc = |radius: f64, half: f64| radius * radius * half;
        // Half a tooth as seen from the centre: under the flank, less the sector that the flank sweeps beyond the tip.
        let swept: f64 = points.windows(2).map(|p| (p[0][0] * p[1][1] - p[0][1] * p[1][0]) / 2.0).sum();
        let half_space = PI / 28.0 - teeth.half_angle(teeth.root_radius);
        let area = 28.0
            * (arc(teeth.tip_radius, teeth.half_angle(teeth.tip_radius)) - 2.0 * swept
                + arc(teeth.root_radius, half_space));
        assert!((area - teeth.section_area()).abs() < 1e-6 * area, "{area} {}", teeth.section_area());
        let flank: f64 = points.windows(2).map(|p| libm::hypot(p[1][0] - p[0][0], p[1][1] - p[0][1])).sum();
        let arcs =
            28.0 * 2.0 * (teeth.tip_radius * teeth.half_angle(teeth.tip_radius) + teeth.root_radius * half_space);
        assert!((56.0 * flank + arcs - teeth.perimeter()).abs() < 1e-6);
    }

    #[test]
    fn a_flank_begins_at_the_root_and_ends_at_the_tip() {
        let teeth = teeth();
        let joints = teeth.joints(&[14.5]);
        assert!(joints.windows(2).all(|pair| pair[0] < pair[1]));
        assert!(joints.iter().any(|u| *u == teeth.unrolled(14.5)));
        for (u, radius) in [(joints[0], teeth.root_radius), (joints[joints.len() - 1], teeth.tip_radius)] {
            let [x, y] = teeth.flank_point(u);
            assert!((libm::hypot(x, y) - radius).abs() < 1e-13);
            assert!((libm::atan2(y, x) - teeth.half_angle(radius)).abs() < 1e-14);
        }
    }
}

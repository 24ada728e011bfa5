//! Lines and arcs in the half plane of the profile: where they are, what they enclose, how close they come.
//!
//! `z` runs along the axis and `r` away from it. Angles turn from `z` towards `r`. Sine, cosine and their inverses are
//! those of `libm`, which gives the same last bit on every machine.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A point or a direction in the half plane, millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Flat {
    pub z: f64,
    pub r: f64,
}

impl Flat {
    pub fn distance(self, other: Self) -> f64 {
        libm::hypot(self.z - other.z, self.r - other.r)
    }

    fn towards(self, angle: f64, length: f64) -> Self {
        Self { z: self.z + length * libm::cos(angle), r: self.r + length * libm::sin(angle) }
    }

    fn angle_to(self, other: Self) -> f64 {
        libm::atan2(other.r - self.r, other.z - self.z)
    }
}

/// The circle that an arc is part of, with where the arc begins and how far it turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Round {
    pub centre: Flat,
    pub radius: f64,
    /// Angle of the arc's beginning.
    pub begins: f64,
    /// How far it turns; positive from `z` towards `r`.
    pub sweep: f64,
}

/// A segment of the profile with everything worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Curve {
    pub from: Flat,
    pub to: Flat,
    /// `None` for a straight line.
    pub round: Option<Round>,
}

impl Curve {
    pub fn line(from: Flat, to: Flat) -> Self {
        Self { from, to, round: None }
    }

    /// The arc of at most half a circle; `None` where the radius does not reach from end to end.
    pub fn arc(from: Flat, to: Flat, radius: f64, anticlockwise: bool) -> Option<Self> {
        let half_chord = from.distance(to) / 2.0;
        // Half a circle is often given by coordinates that are rounded; a billionth is no difference in shape.
        if radius < half_chord * (1.0 - 1e-9) {
            return None;
        }
        let radius = radius.max(half_chord);
        let height = ((radius - half_chord) * (radius + half_chord)).sqrt();
        let side = if anticlockwise { 1.0 } else { -1.0 };
        let (across_z, across_r) = (-(to.r - from.r) / (2.0 * half_chord), (to.z - from.z) / (2.0 * half_chord));
        let centre = Flat {
            z: f64::midpoint(from.z, to.z) + side * height * across_z,
            r: f64::midpoint(from.r, to.r) + side * height * across_r,
        };
        // A centre that misses the axis by rounding only belongs on it, where the arc turns into a sphere.
        let centre = if centre.r.abs() < 1e-9 { Flat { r: 0.0, ..centre } } else { centre };
        let sweep = side * 2.0 * libm::asin((half_chord / radius).min(1.0));
        Some(Self { from, to, round: Some(Round { centre, radius, begins: centre.angle_to(from), sweep }) })
    }

    pub fn reversed(self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            round: self.round.map(|round| Round { begins: round.begins + round.sweep, sweep: -round.sweep, ..round }),
        }
    }

    /// A straight line across the axis, which turns into a plane.
    pub fn is_across(&self) -> bool {
        self.round.is_none() && self.from.z == self.to.z
    }

    /// A straight line along the axis, which turns into a cylinder.
    pub fn is_along(&self) -> bool {
        self.round.is_none() && self.from.r == self.to.r
    }

    /// Direction at the beginning and at the end, of length one.
    pub fn tangents(&self) -> (Flat, Flat) {
        match self.round {
            None => {
                let length = self.from.distance(self.to);
                let along = Flat { z: (self.to.z - self.from.z) / length, r: (self.to.r - self.from.r) / length };
                (along, along)
            }
            Some(round) => {
                let ahead = FRAC_PI_2 * round.sweep.signum();
                let at = |angle: f64| Flat { z: libm::cos(angle + ahead), r: libm::sin(angle + ahead) };
                (at(round.begins), at(round.begins + round.sweep))
            }
        }
    }

    /// The point of an arc at which it runs along the axis, with the material of its circle above.
    pub fn bottom(&self) -> Option<Flat> {
        self.round
            .filter(|round| round.holds(-FRAC_PI_2))
            .map(|round| Flat { z: round.centre.z, r: round.centre.r - round.radius })
    }

    /// `∫ r dz` along the curve: the area between it and the axis, in mm².
    pub fn area_below(&self) -> f64 {
        match self.round {
            None => (self.to.z - self.from.z) * f64::midpoint(self.from.r, self.to.r),
            Some(round) => -round.over(|angle| self.height(&round, angle) * libm::sin(angle)),
        }
    }

    /// `π ∫ r² dz` along the curve: the volume between what it turns into and the axis, in mm³.
    pub fn volume_below(&self) -> f64 {
        match self.round {
            None => {
                let (r0, r1) = (self.from.r, self.to.r);
                PI * (self.to.z - self.from.z) * (r0 * r0 + r0 * r1 + r1 * r1) / 3.0
            }
            Some(round) => {
                let slice = |angle: f64| {
                    let r = self.height(&round, angle);
                    r * r * libm::sin(angle)
                };
                -PI * round.over(slice)
            }
        }
    }

    /// `2π ∫ r ds` along the curve: the area of the surface that it turns into, in mm².
    pub fn surface(&self) -> f64 {
        match self.round {
            None => PI * (self.from.r + self.to.r) * self.from.distance(self.to),
            Some(round) => TAU * round.over(|angle| self.height(&round, angle)) * round.sweep.signum(),
        }
    }

    /// Distance of the arc's point from the axis, counted from the arc's beginning: the centre of a flat arc is so far
    /// away that too few digits would be left.
    fn height(&self, round: &Round, angle: f64) -> f64 {
        let (half_turned, middle) = ((angle - round.begins) / 2.0, f64::midpoint(angle, round.begins));
        self.from.r + 2.0 * round.radius * libm::sin(half_turned) * libm::cos(middle)
    }

    /// Distance of a point from the curve.
    pub fn distance_to(&self, point: Flat) -> f64 {
        let ends = point.distance(self.from).min(point.distance(self.to));
        match self.round {
            None => {
                let (z, r) = (self.to.z - self.from.z, self.to.r - self.from.r);
                let share = ((point.z - self.from.z) * z + (point.r - self.from.r) * r) / (z * z + r * r);
                if (0.0..=1.0).contains(&share) {
                    point.distance(Flat { z: self.from.z + share * z, r: self.from.r + share * r })
                } else {
                    ends
                }
            }
            Some(round) if round.holds(round.centre.angle_to(point)) => {
                (point.distance(round.centre) - round.radius).abs()
            }
            Some(_) => ends,
        }
    }

    /// The least distance between two curves, with a point of this one where it is met.
    pub fn closest(&self, other: &Self) -> (f64, Flat) {
        if let Some(met) = self.meetings(other).first() {
            return (0.0, *met);
        }
        let mut best = (f64::INFINITY, self.from);
        let mut offer = |distance: f64, at: Flat| {
            if distance < best.0 {
                best = (distance, at);
            }
        };
        for point in self.turning_points(other) {
            offer(other.distance_to(point), point);
        }
        for point in other.turning_points(self) {
            offer(self.distance_to(point), point);
        }
        best
    }

    /// Points of this curve at which the distance to the other may be least while they do not meet.
    fn turning_points(&self, other: &Self) -> Vec<Flat> {
        let mut points = vec![self.from, self.to];
        match (self.round, other.round) {
            (None, Some(round)) => {
                let (z, r) = (self.to.z - self.from.z, self.to.r - self.from.r);
                let share = ((round.centre.z - self.from.z) * z + (round.centre.r - self.from.r) * r) / (z * z + r * r);
                if (0.0..=1.0).contains(&share) {
                    points.push(Flat { z: self.from.z + share * z, r: self.from.r + share * r });
                }
            }
            (Some(round), Some(second)) if round.centre != second.centre => {
                let angle = round.centre.angle_to(second.centre);
                points.extend(
                    [angle, angle + PI]
                        .into_iter()
                        .filter(|angle| round.holds(*angle))
                        .map(|angle| round.centre.towards(angle, round.radius)),
                );
            }
            _ => {}
        }
        points
    }

    /// Points that both curves share, as far as they cross properly.
    pub fn meetings(&self, other: &Self) -> Vec<Flat> {
        let candidates = match (self.round, other.round) {
            (None, None) => return self.crossing_of_lines(other).into_iter().collect(),
            (None, Some(round)) => line_through_circle(self, round),
            (Some(round), None) => line_through_circle(other, round),
            (Some(round), Some(second)) => circle_through_circle(round, second),
        };
        candidates.into_iter().filter(|point| self.covers(*point) && other.covers(*point)).collect()
    }

    fn crossing_of_lines(&self, other: &Self) -> Option<Flat> {
        let (z, r) = (self.to.z - self.from.z, self.to.r - self.from.r);
        let (other_z, other_r) = (other.to.z - other.from.z, other.to.r - other.from.r);
        let (gap_z, gap_r) = (other.from.z - self.from.z, other.from.r - self.from.r);
        let across = z * other_r - r * other_z;
        let share = (gap_z * other_r - gap_r * other_z) / across;
        let other_share = (gap_z * r - gap_r * z) / across;
        let within = |share: f64| (0.0..=1.0).contains(&share);
        (within(share) && within(other_share))
            .then_some(Flat { z: self.from.z + share * z, r: self.from.r + share * r })
    }

    /// Whether a point that is known to lie on the whole line or circle lies on this piece of it.
    fn covers(&self, point: Flat) -> bool {
        match self.round {
            None => {
                let (z, r) = (self.to.z - self.from.z, self.to.r - self.from.r);
                let share = ((point.z - self.from.z) * z + (point.r - self.from.r) * r) / (z * z + r * r);
                (0.0..=1.0).contains(&share)
            }
            Some(round) => round.holds(round.centre.angle_to(point)),
        }
    }
}

impl Round {
    /// Whether the arc passes through this angle.
    fn holds(&self, angle: f64) -> bool {
        let low = if self.sweep > 0.0 { self.begins } else { self.begins + self.sweep };
        let turned = (angle - low).rem_euclid(TAU);
        // An arc that begins exactly at the angle may find it a whole turn further on.
        turned <= self.sweep.abs() || turned > TAU - 1e-12
    }

    /// Radius times the integral over the arc's angle, by ten points of Gauss and Legendre on each half. Of products of
    /// three sines over a quarter of a turn, they leave less than the last digit of a double out.
    fn over(&self, value: impl Fn(f64) -> f64) -> f64 {
        let (quarter, mut sum) = (self.sweep / 4.0, 0.0);
        for middle in [self.begins + quarter, self.begins + 3.0 * quarter] {
            for (place, weight) in GAUSS_LEGENDRE {
                sum += weight * (value(middle - quarter * place) + value(middle + quarter * place));
            }
        }
        self.radius * quarter * sum
    }
}

/// Places and weights of the rule of Gauss and Legendre with ten points, one of each pair. M. Abramowitz and I. A. Stegun,
/// *Handbook of Mathematical Functions*, table 25.4.
const GAUSS_LEGENDRE: [(f64, f64); 5] = [
    (0.148_874_338_981_631_2, 0.295_524_224_714_752_87),
    (0.433_395_394_129_247_2, 0.269_266_719_309_996_36),
    (0.679_409_568_299_024_4, 0.219_086_362_515_982_04),
    (0.865_063_366_688_984_5, 0.149_451_349_150_580_6),
    (0.973_906_528_517_171_7, 0.066_671_344_308_688_14),
];

fn line_through_circle(line: &Curve, round: Round) -> Vec<Flat> {
    let (along, _) = line.tangents();
    let reach = (round.centre.z - line.from.z) * along.z + (round.centre.r - line.from.r) * along.r;
    let foot = Flat { z: line.from.z + reach * along.z, r: line.from.r + reach * along.r };
    let apart = foot.distance(round.centre);
    if apart > round.radius {
        return Vec::new();
    }
    let half = ((round.radius - apart) * (round.radius + apart)).sqrt();
    [-half, half].into_iter().map(|step| Flat { z: foot.z + step * along.z, r: foot.r + step * along.r }).collect()
}

fn circle_through_circle(first: Round, second: Round) -> Vec<Flat> {
    let apart = first.centre.distance(second.centre);
    if apart == 0.0 || apart > first.radius + second.radius || apart < (first.radius - second.radius).abs() {
        return Vec::new();
    }
    let reach = (apart * apart + (first.radius - second.radius) * (first.radius + second.radius))
        / (2.0 * apart * first.radius);
    let (angle, half) = (first.centre.angle_to(second.centre), libm::acos(reach.clamp(-1.0, 1.0)));
    [angle - half, angle + half].into_iter().map(|angle| first.centre.towards(angle, first.radius)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(z: f64, r: f64) -> Flat {
        Flat { z, r }
    }

    fn close(value: f64, expected: f64) {
        assert!((value - expected).abs() < 1e-12 * expected.abs().max(1.0), "{value} is not {expected}");
    }

    #[test]
    fn the_centre_of_an_arc_is_on_the_side_it_turns_to() {
        let arc = Curve::arc(at(10.0, 23.0), at(13.0, 20.0), 3.0, true).unwrap();
        let round = arc.round.unwrap();
        close(round.centre.z, 13.0);
        close(round.centre.r, 23.0);
        close(round.sweep, FRAC_PI_2);
        assert!(Curve::arc(at(0.0, 1.0), at(10.0, 1.0), 4.9, true).is_none());
        let back = arc.reversed().round.unwrap();
        close(back.begins + back.sweep, round.begins);
    }

    #[test]
    fn a_half_circle_about_the_axis_is_a_sphere() {
        let arc = Curve::arc(at(-2.0, 0.0), at(2.0, 0.0), 2.0, false).unwrap();
        close(arc.volume_below(), 4.0 / 3.0 * PI * 8.0);
        close(arc.surface(), 4.0 * PI * 4.0);
        close(arc.area_below(), PI * 4.0 / 2.0);
    }

    #[test]
    fn two_half_circles_are_a_torus() {
        let upper = Curve::arc(at(-1.0, 5.0), at(1.0, 5.0), 1.0, false).unwrap();
        let lower = Curve::arc(at(1.0, 5.0), at(-1.0, 5.0), 1.0, false).unwrap();
        close(upper.volume_below() + lower.volume_below(), 2.0 * PI * PI * 5.0);
        close(upper.surface() + lower.surface(), 4.0 * PI * PI * 5.0);
    }

    #[test]
    fn a_nearly_flat_arc_is_measured_as_well_as_a_line() {
        // It bulges by 8 µm over 80 mm. The segment's area is ½ R² (θ − sin θ), by its series; the square of the bulge is
        // that of a parabola, 8/15 of the highest.
        let (chord, radius) = (80.0, 100_000.0);
        let arc = Curve::arc(at(0.0, 20.0), at(chord, 20.0), radius, false).unwrap();
        let (bulge, angle) = (chord * chord / (8.0 * radius), 2.0 * libm::asin(chord / (2.0 * radius)));
        let segment = radius * radius * angle.powi(3) / 12.0 * (1.0 - angle * angle / 20.0);
        close(arc.area_below(), chord * 20.0 + segment);
        close(arc.volume_below(), PI * (chord * 400.0 + 40.0 * segment + 8.0 / 15.0 * chord * bulge * bulge));
    }

    #[test]
    fn distances_are_least_distances() {
        let line = Curve::line(at(0.0, 0.0), at(10.0, 0.0));
        let dip = Curve::arc(at(3.0, 5.0), at(7.0, 5.0), 2.0, true).unwrap();
        close(line.closest(&dip).0, 3.0);
        close(dip.closest(&line).0, 3.0);
        let hill = Curve::arc(at(3.0, 5.0), at(7.0, 5.0), 2.0, false).unwrap();
        close(line.closest(&hill).0, 5.0);
        close(dip.closest(&Curve::line(at(0.0, 4.0), at(10.0, 4.0))).0, 0.0);
        let bowl = Curve::arc(at(1.0, 2.5), at(9.0, 2.5), 4.0, true).unwrap();
        // The end (1, 2.5) of the larger arc is √(4² + 2.5²) from the centre of the smaller one, whose radius is 2.
        close(dip.closest(&bowl).0, 22.25_f64.sqrt() - 2.0);
        let far = Curve::line(at(20.0, 0.0), at(20.0, 3.0));
        close(line.closest(&far).0, 10.0);
    }

    #[test]
    fn the_bottom_of_an_arc_may_lie_between_its_ends() {
        let dip = Curve::arc(at(3.0, 5.0), at(7.0, 5.0), 2.0, true).unwrap();
        close(dip.bottom().unwrap().r, 3.0);
        let hill = Curve::arc(at(3.0, 5.0), at(7.0, 4.0), 9.0, false).unwrap();
        assert_eq!(hill.bottom(), None);
    }
}

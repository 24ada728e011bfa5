//! Where a shaft lies: bearing, housing end, brake, side gear and cross pin, each size with how it came about.

use axle::{BearingKind, DimensionKind, Review, Side};

use super::Size;
use super::of_review::{of_dimension, of_fitted};

/// What lies around one shaft. Distances run from the wheel face, inboard positive, unless they say otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Surroundings {
    /// Which side.
    pub side: Side,
    /// Wheel face to the outboard face of the bearing's outer ring.
    pub race_distance: Size,
    /// Wheel face to the housing end.
    pub brake_offset: Size,
    /// Outside of the bearing.
    pub bearing_outside: Size,
    /// Width of its inner ring.
    pub inner_width: Size,
    /// Width of its outer ring.
    pub outer_width: Size,
    /// Whether it is a tapered one.
    pub tapered: bool,
    /// Its row in words, or that it is in none.
    pub bearing: String,
    /// Width of the lock ring.
    pub ring_width: Size,
    /// Bearing bore of the housing end.
    pub housing_bore: Size,
    /// Depth of the bearing bore.
    pub bore_depth: Size,
    /// Long side of the bolt rectangle.
    pub rectangle_long: Size,
    /// Short side of the bolt rectangle.
    pub rectangle_short: Size,
    /// Bolt hole of the housing end.
    pub bolt_hole: Size,
    /// Its row in words, or that it is in none.
    pub housing_end: String,
    /// Housing end to differential centre.
    pub half_width: Size,
    /// Inner end of the shaft to differential centre.
    pub end_gap: Size,
    /// Overlap of the shaft's spline with the side gear's.
    pub engagement: Size,
    /// Half of the cross pin or centre block.
    pub half_pin: Size,
    /// Cross pin to the outer end of the side gear's spline.
    pub gear_reach: Size,
    /// Bore of drum or rotor.
    pub drum_bore: Size,
    /// Inside of drum or rotor hat.
    pub drum_inside: Size,
    /// Web of drum or rotor hat.
    pub drum_web: Size,
    /// What is trapped under the retainer.
    pub trapped: Size,
}

impl Surroundings {
    /// What lies around the shaft of one side.
    #[must_use]
    pub fn of(review: &Review, side: Side) -> Self {
        let fitted = &review.fitted;
        let (bearing, end) = (&fitted.bearing, &fitted.housing_end);
        let own = fitted.differential.sides.iter().find(|one| one.side == side);
        let both = |kind, name, words| of_dimension(review, kind, None, name, words);
        let size = |found, name, words| of_fitted(Some(found), name, words);
        let row = |name: &Option<String>| name.clone().unwrap_or_else(|| "in no row of the catalog".to_owned());
        Self {
            side,
            race_distance: both(DimensionKind::RaceDistance, "race_distance", "race distance"),
            brake_offset: both(DimensionKind::BrakeOffset, "brake_offset", "brake offset"),
            bearing_outside: size(&bearing.outside, "bearing_outside", "bearing outside"),
            inner_width: size(&bearing.inner_width, "bearing_inner_width", "width of the inner ring"),
            outer_width: size(&bearing.outer_width, "bearing_outer_width", "width of the outer ring"),
            tapered: bearing.kind == Some(BearingKind::Tapered),
            bearing: row(&bearing.name),
            ring_width: of_fitted(fitted.shaft.ring_width.as_ref(), "ring_width", "width of the lock ring"),
            housing_bore: size(&end.bore, "housing_bore_diameter", "bearing bore of the housing end"),
            bore_depth: size(&end.depth, "housing_bore_depth", "depth of the bearing bore"),
            rectangle_long: size(&end.rectangle_long, "bolt_rectangle_long", "bolt rectangle, long side"),
            rectangle_short: size(&end.rectangle_short, "bolt_rectangle_short", "bolt rectangle, short side"),
            bolt_hole: size(&end.bolt_hole, "housing_bolt_hole", "bolt hole of the housing end"),
            housing_end: row(&end.name),
            half_width: of_fitted(own.map(|own| &own.half_width), "half_width", "half width of the housing"),
            end_gap: of_fitted(own.and_then(|own| own.end_gap.as_ref()), "end_gap", "end gap"),
            engagement: of_fitted(own.and_then(|own| own.engagement.as_ref()), "engagement", "engagement"),
            half_pin: size(&fitted.differential.half_pin, "half_pin", "half of the cross pin or centre block"),
            gear_reach: size(&fitted.differential.gear_reach, "gear_reach", "reach of the side gear"),
            drum_bore: size(&fitted.brake.bore, "drum_bore", "bore of drum or rotor"),
            drum_inside: size(&fitted.brake.inside, "drum_inside", "inside of drum or rotor hat"),
            drum_web: size(&fitted.brake.web, "drum_web", "web of drum or rotor"),
            trapped: size(&fitted.brake.trapped, "trapped_thickness", "thickness trapped under the retainer"),
        }
    }

    /// Every size.
    #[must_use]
    pub fn sizes(&self) -> Vec<&Size> {
        vec![
            &self.race_distance,
            &self.brake_offset,
            &self.half_width,
            &self.end_gap,
            &self.engagement,
            &self.bearing_outside,
            &self.inner_width,
            &self.outer_width,
            &self.ring_width,
            &self.housing_bore,
            &self.bore_depth,
            &self.rectangle_long,
            &self.rectangle_short,
            &self.bolt_hole,
            &self.half_pin,
            &self.gear_reach,
            &self.drum_bore,
            &self.drum_inside,
            &self.drum_web,
            &self.trapped,
        ]
    }
}

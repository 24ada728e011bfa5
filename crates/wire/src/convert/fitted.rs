//! The parts and places that the shafts go with, from the core to the wire.

use crate::fitted::{
    BrakeKind, Fitted, FittedAccessHole, FittedBearing, FittedBrake, FittedDifferential, FittedHousingEnd, FittedShaft,
    FittedSide, FittedSize, FittedSpline, OverPins,
};
use crate::number::plain;
use crate::review::Side;

pub(super) fn fitted(fitted: &axle::Fitted) -> Fitted {
    let (bearing, end) = (&fitted.bearing, &fitted.housing_end);
    let (brake, differential) = (&fitted.brake, &fitted.differential);
    Fitted {
        bearing: FittedBearing {
            name: bearing.name.clone(),
            bearing_kind: bearing.kind.map(Into::into),
            bore: size(&bearing.bore),
            outside: size(&bearing.outside),
            inner_width: size(&bearing.inner_width),
            outer_width: size(&bearing.outer_width),
        },
        housing_end: FittedHousingEnd {
            name: end.name.clone(),
            bore: size(&end.bore),
            depth: size(&end.depth),
            rectangle_long: size(&end.rectangle_long),
            rectangle_short: size(&end.rectangle_short),
            bolt_hole: size(&end.bolt_hole),
        },
        brake: FittedBrake {
            brake_kind: match brake.kind {
                axle::BrakeKind::Drum => BrakeKind::Drum,
                axle::BrakeKind::Disc => BrakeKind::Disc,
            },
            bore: size(&brake.bore),
            inside: size(&brake.inside),
            web: size(&brake.web),
            trapped: size(&brake.trapped),
        },
        differential: FittedDifferential {
            name: differential.name.clone(),
            half_pin: size(&differential.half_pin),
            gear_reach: size(&differential.gear_reach),
            sides: differential.sides.iter().map(side).collect(),
        },
        holes: fitted.holes,
        access_hole: FittedAccessHole {
            there: fitted.access_hole.there,
            diameter: optional(fitted.access_hole.diameter.as_ref()),
            circle: optional(fitted.access_hole.circle.as_ref()),
        },
        spline: fitted.spline.as_ref().map(spline),
        shaft: shaft(&fitted.shaft),
    }
}

fn size(size: &axle::FittedSize) -> FittedSize {
    FittedSize {
        size: size.size.into(),
        standard_uncertainty: size.standard_uncertainty.map(Into::into),
        basis: size.basis.into(),
        source: size.source.clone(),
    }
}

fn optional(found: Option<&axle::FittedSize>) -> Option<FittedSize> {
    found.map(size)
}

fn side(side: &axle::FittedSide) -> FittedSide {
    FittedSide {
        side: match side.side {
            axle::Side::Left => Side::Left,
            axle::Side::Right => Side::Right,
        },
        half_width: size(&side.half_width),
        end_gap: optional(side.end_gap.as_ref()),
        engagement: optional(side.engagement.as_ref()),
    }
}

fn spline(spline: &axle::FittedSpline) -> FittedSpline {
    FittedSpline {
        name: spline.name.clone(),
        standard: spline.standard.clone(),
        decided: spline.decided,
        teeth: spline.teeth,
        pitch: spline.pitch.clone(),
        pressure_angle_degrees: plain(spline.pressure_angle_degrees),
        root: spline.root.clone(),
        pitch_diameter: spline.pitch_diameter.into(),
        base_diameter: spline.base_diameter.into(),
        major_diameter: spline.major_diameter.into(),
        form_diameter: spline.form_diameter.map(Into::into),
        minor_diameter: spline.minor_diameter.into(),
        class: spline.class,
        tooth_thickness_least: spline.tooth_thickness.0.into(),
        tooth_thickness_most: spline.tooth_thickness.1.into(),
        over_pins: spline.over_pins.map(|over| OverPins {
            pin: over.pin.into(),
            least: over.least.into(),
            most: over.most.into(),
        }),
        source: spline.source.clone(),
    }
}

fn shaft(shaft: &axle::FittedShaft) -> FittedShaft {
    FittedShaft {
        flange_fillet: optional(shaft.flange_fillet.as_ref()),
        shoulder_fillet: optional(shaft.shoulder_fillet.as_ref()),
        ring_width: optional(shaft.ring_width.as_ref()),
        body_diameter: optional(shaft.body_diameter.as_ref()),
        case_depth: optional(shaft.case_depth.as_ref()),
        spline_case_depth: optional(shaft.spline_case_depth.as_ref()),
        case_hardness: shaft.case_hardness.map(plain),
        steel: shaft.steel.clone(),
        steel_is_stated: shaft.steel_is_stated,
        hole_position: shaft.hole_position.into(),
    }
}

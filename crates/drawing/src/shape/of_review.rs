//! From the review to the shape.

use axle::{DimensionKind, FittedSize, Review, Side};
use quantity::LengthExt;

use super::{HardCase, ShaftShape, Size, SizeBasis};

/// The larger diameter at the bearing shoulder over the journal: the shoulder stands about a tenth above it.
/// From memory, check.
const SHOULDER_RATIO: f64 = 1.1;

/// How much longer the spline is cut than it engages, over its major diameter: run-out and reserve. Common practice, no
/// source.
const SPLINE_RESERVE: f64 = 0.5;

pub(super) fn of_dimension(
    review: &Review,
    kind: DimensionKind,
    side: Option<Side>,
    name: &'static str,
    words: &'static str,
) -> Size {
    match review.dimension(kind, side) {
        Some(found) => Size {
            name,
            words,
            value_mm: Some(found.cut.millimetres()),
            limits_mm: Some((found.least.millimetres(), found.most.millimetres())),
            basis: found.basis.into(),
            source: "the review's dimensions to cut".to_owned(),
        },
        None => unknown(name, words),
    }
}

pub(super) fn of_fitted(found: Option<&FittedSize>, name: &'static str, words: &'static str) -> Size {
    match found {
        Some(found) => Size {
            name,
            words,
            value_mm: Some(found.size.millimetres()),
            limits_mm: None,
            basis: found.basis.into(),
            source: found.source.clone(),
        },
        None => unknown(name, words),
    }
}

fn unknown(name: &'static str, words: &'static str) -> Size {
    let source = "nothing says".to_owned();
    Size { name, words, value_mm: None, limits_mm: None, basis: SizeBasis::Unknown, source }
}

fn assumed(name: &'static str, words: &'static str, value_mm: Option<f64>, source: &str) -> Size {
    match value_mm {
        Some(_) => {
            let source = source.to_owned();
            Size { name, words, value_mm, limits_mm: None, basis: SizeBasis::Assumed, source }
        }
        None => unknown(name, words),
    }
}

/// A distance that is the sum of others: as sure as the least sure of them.
fn summed(name: &'static str, words: &'static str, parts: &[&Size], source: &str) -> Size {
    let value_mm = parts.iter().map(|part| part.value_mm).sum::<Option<f64>>();
    let basis = parts.iter().map(|part| part.basis).max().unwrap_or(SizeBasis::Unknown);
    let basis = if basis == SizeBasis::Measured { SizeBasis::Derived } else { basis };
    Size { name, words, value_mm, limits_mm: None, basis, source: source.to_owned() }
}

impl ShaftShape {
    /// The shaft of one side.
    #[must_use]
    pub fn of(review: &Review, side: Side) -> Self {
        use DimensionKind as D;
        let both = |kind, name, words| of_dimension(review, kind, None, name, words);
        let fitted = &review.fitted;
        let shaft = &fitted.shaft;
        let overall_length = of_dimension(review, D::OverallLength, Some(side), "overall_length", "overall length");
        let shoulder_distance = both(D::ShoulderDistance, "shoulder_distance", "shoulder distance");
        let journal_diameter = both(D::JournalDiameter, "journal_diameter", "journal diameter");
        let ring_width = of_fitted(shaft.ring_width.as_ref(), "ring_width", "width of the lock ring");
        let inner_width = of_fitted(Some(&fitted.bearing.inner_width), "inner_width", "width of the inner ring");
        let journal_end = summed(
            "journal_end",
            "end of the journal",
            &[&shoulder_distance, &inner_width],
            "shoulder distance + width of the inner ring",
        );
        let ring_seat_end = summed(
            "ring_seat_end",
            "end of the ring seat",
            &[&journal_end, &ring_width],
            "end of the journal + width of the lock ring",
        );
        let mut seal_journal_end = summed(
            "seal_journal_end",
            "end of the seal journal",
            &[&ring_seat_end, &ring_width],
            "the seal journal is taken to be as long as the lock ring is wide: own judgement",
        );
        if seal_journal_end.is_known() {
            seal_journal_end.basis = SizeBasis::Assumed;
        }
        let seal_journal_diameter = both(D::SealJournalDiameter, "seal_journal_diameter", "seal journal diameter");
        let spline_major_diameter = both(D::SplineMajorDiameter, "spline_major_diameter", "spline major diameter");
        let spline_minor_diameter = match &fitted.spline {
            Some(spline) => Size {
                name: "spline_minor_diameter",
                words: "spline minor diameter",
                value_mm: Some(spline.minor_diameter.millimetres()),
                limits_mm: None,
                basis: SizeBasis::Derived,
                source: spline.source.clone(),
            },
            None => unknown("spline_minor_diameter", "spline minor diameter"),
        };
        let engagement = fitted
            .differential
            .sides
            .iter()
            .find(|one| one.side == side)
            .and_then(|one| one.engagement.as_ref())
            .map(|found| found.size.millimetres());
        let spline_length = assumed(
            "spline_length",
            "spline length",
            spline_major_diameter
                .value_mm
                .map(|major| engagement.unwrap_or(1.5 * major).max(major) + SPLINE_RESERVE * major),
            "engagement + half of the major diameter: common practice, no source",
        );
        let mut spline_start = summed(
            "spline_start",
            "start of the spline",
            &[&overall_length, &spline_length],
            "overall length − spline length",
        );
        spline_start.value_mm = overall_length.value_mm.zip(spline_length.value_mm).map(|(all, own)| all - own);
        let shoulder_fillet = of_fitted(shaft.shoulder_fillet.as_ref(), "shoulder_fillet", "shoulder fillet");
        let stated_body = shaft.body_diameter.as_ref();
        let between = |one: &Size, other: &Size| Some(0.5 * (one.value_mm? + other.value_mm?));
        let body = |name, words, value, source: &str| match stated_body {
            Some(_) => of_fitted(stated_body, name, words),
            None => assumed(name, words, value, source),
        };
        let body_outer = body(
            "body_outer",
            "body, wheel end",
            between(&seal_journal_diameter, &spline_major_diameter),
            "half way from the seal journal to the spline: own judgement",
        );
        let body_inner = body(
            "body_inner",
            "body, spline end",
            spline_major_diameter.value_mm,
            "as the tips of the spline: own judgement",
        );
        let case = shaft.case_hardness.map(|rockwell_c| HardCase {
            depth: of_fitted(shaft.case_depth.as_ref(), "case_depth", "case depth"),
            spline_depth: of_fitted(
                shaft.spline_case_depth.as_ref(),
                "spline_case_depth",
                "case depth under the spline roots",
            ),
            rockwell_c,
        });
        Self {
            side,
            flange_diameter: both(D::FlangeDiameter, "flange_diameter", "flange diameter"),
            flange_thickness: both(D::FlangeThickness, "flange_thickness", "flange thickness"),
            register_diameter: both(D::RegisterDiameter, "register_diameter", "register diameter"),
            register_height: both(D::RegisterHeight, "register_height", "register height"),
            wheel_pilot_diameter: both(D::WheelPilotDiameter, "wheel_pilot_diameter", "wheel pilot diameter"),
            wheel_pilot_height: both(D::WheelPilotHeight, "wheel_pilot_height", "wheel pilot height"),
            bolt_circle: both(D::BoltCircle, "bolt_circle", "bolt circle"),
            holes: fitted.holes,
            stud_hole: both(D::StudHole, "stud_hole", "stud hole"),
            has_access_hole: fitted.access_hole.there,
            access_hole: of_fitted(fitted.access_hole.diameter.as_ref(), "access_hole", "access hole"),
            access_hole_circle: of_fitted(
                fitted.access_hole.circle.as_ref(),
                "access_hole_circle",
                "circle of the access hole",
            ),
            hole_position_mm: shaft.hole_position.millimetres(),
            shoulder_diameter: assumed(
                "shoulder_diameter",
                "bearing shoulder diameter",
                journal_diameter
                    .value_mm
                    .map(|journal| (SHOULDER_RATIO * journal).max(journal + 2.0 * shoulder_fillet.drawn(0.0))),
                "a tenth more than the journal (from memory, check), and no less than its fillet takes up",
            ),
            flange_fillet: of_fitted(shaft.flange_fillet.as_ref(), "flange_fillet", "flange fillet"),
            shoulder_fillet,
            ring_seat_diameter: both(D::RingSeatDiameter, "ring_seat_diameter", "ring seat diameter"),
            overall_length,
            shoulder_distance,
            journal_diameter,
            journal_end,
            ring_seat_end,
            seal_journal_diameter,
            seal_journal_end,
            body_outer,
            body_inner,
            spline_length,
            spline_start,
            spline_major_diameter,
            spline_minor_diameter,
            spline: fitted.spline.clone(),
            case,
            steel: shaft.steel.clone(),
            steel_is_stated: shaft.steel_is_stated,
        }
    }
}

//! The dimension chain: shaft, bearing, housing end, housing and differential, with both sides in one model.
//!
//! With `s` the shoulder distance, `δ` the race offset of the bearing, `C` the width of its outer ring, `p` the depth of the
//! bearing bore, `H` the half width, `c` half of the cross pin and `e` the end clearance:
//!
//! ```text
//! race distance   R = s + δ                 reach = H − c
//! brake offset    O = R + C − p             overall length L = O + reach − e
//! ```
//!
//! Left and right share shaft dimensions, bearing and housing end. Their reaches are `mid ± pinion offset`, and each has an
//! end clearance of its own.

use catalog::{Bearing, Catalog, Differential, HousingEnd, Measurand, MistakeKind, Spread};
use quantity::{Length, LengthExt};
use reconcile::{Form, Prior};

use crate::evidence::Taken;
use crate::geometry::{Geometry, Tie, known, typical, usual};
use crate::sheet::Side;

/// The unknowns of the chain, by their index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unknown {
    Shoulder,
    RaceOffset,
    OuterWidth,
    InnerWidth,
    BoreDepth,
    ReachMiddle,
    PinionOffset,
    HalfPin,
    EndClearanceLeft,
    EndClearanceRight,
    GearReach,
    FlangeThickness,
    PilotHeight,
    DrumWeb,
    BrakePlate,
    CaliperBracket,
    LockRing,
    Fillet,
    Trapped,
    BearingBore,
    BearingOutside,
    Interference,
    RingSeatStep,
    SealJournalStep,
    HousingBore,
    RectangleLong,
    RectangleShort,
    BoltHole,
}

/// Every unknown, in the order of its index.
const ALL_UNKNOWNS: [Unknown; UNKNOWNS] = [
    Unknown::Shoulder,
    Unknown::RaceOffset,
    Unknown::OuterWidth,
    Unknown::InnerWidth,
    Unknown::BoreDepth,
    Unknown::ReachMiddle,
    Unknown::PinionOffset,
    Unknown::HalfPin,
    Unknown::EndClearanceLeft,
    Unknown::EndClearanceRight,
    Unknown::GearReach,
    Unknown::FlangeThickness,
    Unknown::PilotHeight,
    Unknown::DrumWeb,
    Unknown::BrakePlate,
    Unknown::CaliperBracket,
    Unknown::LockRing,
    Unknown::Fillet,
    Unknown::Trapped,
    Unknown::BearingBore,
    Unknown::BearingOutside,
    Unknown::Interference,
    Unknown::RingSeatStep,
    Unknown::SealJournalStep,
    Unknown::HousingBore,
    Unknown::RectangleLong,
    Unknown::RectangleShort,
    Unknown::BoltHole,
];

const UNKNOWNS: usize = Unknown::BoltHole as usize + 1;

/// The form that is one unknown.
fn of(unknown: Unknown) -> Form {
    Form::of(unknown as usize)
}

fn sum(terms: &[(Unknown, f64)]) -> Form {
    Form::new(terms.iter().map(|(unknown, a)| (*unknown as usize, *a)), 0.0)
}

/// One choice of bearing and housing end; none stands for a part that is in no row of the catalog.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ChainParts<'a> {
    pub bearing: Option<&'a Bearing>,
    pub housing_end: Option<&'a HousingEnd>,
}

/// The chain with these parts.
pub(crate) struct Chain<'a> {
    pub parts: ChainParts<'a>,
    pub differential: &'a Differential,
    pub catalog: &'a Catalog,
    /// The side whose spline contact is meant when a reading names none.
    pub first_side: Side,
}

/// A place of the chain or a size of one of its parts, that something beside the chain asks for.
pub(crate) use Unknown as Place;

/// The form that is such a place.
pub(crate) fn place(place: Place) -> Form {
    of(place)
}

/// The reach of one side.
pub(crate) fn reach(side: Side) -> Form {
    let offset = if side == Side::Left { 1.0 } else { -1.0 };
    sum(&[(Unknown::ReachMiddle, 1.0), (Unknown::PinionOffset, offset)])
}

/// The end clearance of one side of the old axle.
pub(crate) fn end_clearance(side: Side) -> Form {
    match side {
        Side::Left => of(Unknown::EndClearanceLeft),
        Side::Right => of(Unknown::EndClearanceRight),
    }
}

/// The shoulder distance of the old shaft.
pub(crate) fn shoulder() -> Form {
    of(Unknown::Shoulder)
}

/// Thickness of the flange.
pub(crate) fn flange_thickness() -> Form {
    of(Unknown::FlangeThickness)
}

/// Height of the wheel pilot.
pub(crate) fn pilot_height() -> Form {
    of(Unknown::PilotHeight)
}

/// From the shoulder to the housing end: what the bearing adds to the shoulder distance to give the brake offset.
pub(crate) fn shoulder_to_housing_end() -> Form {
    sum(&[(Unknown::RaceOffset, 1.0), (Unknown::OuterWidth, 1.0), (Unknown::BoreDepth, -1.0)])
}

/// Race distance minus shoulder distance.
pub(crate) fn race_offset() -> Form {
    of(Unknown::RaceOffset)
}

/// How far the outer ring stands proud of the housing end, from what is trapped under the retainer.
pub(crate) fn retainer_clearance() -> Form {
    sum(&[(Unknown::Trapped, 1.0), (Unknown::OuterWidth, -1.0), (Unknown::BoreDepth, 1.0)])
}

/// From the cross pin to the outer end of the side gear's spline.
pub(crate) fn gear_reach() -> Form {
    of(Unknown::GearReach)
}

/// The journal of the old shaft.
pub(crate) fn journal() -> Form {
    sum(&[(Unknown::BearingBore, 1.0), (Unknown::Interference, 1.0)])
}

/// Its ring seat.
pub(crate) fn ring_seat() -> Form {
    journal().minus(&of(Unknown::RingSeatStep))
}

/// Its seal journal.
pub(crate) fn seal_journal() -> Form {
    ring_seat().minus(&of(Unknown::SealJournalStep))
}

pub(crate) fn brake_offset() -> Form {
    of(Unknown::Shoulder).plus(&shoulder_to_housing_end())
}

fn overall_length(side: Side) -> Form {
    brake_offset().plus(&reach(side)).minus(&end_clearance(side))
}

impl Chain<'_> {
    fn usual(&self, measurand: Measurand) -> Prior {
        let (least, most) = self.catalog.measurand(measurand).usual;
        usual((least.millimetres(), most.millimetres()))
    }

    /// The diagonal of the bolt rectangle, straight from its sides at the sides that are likeliest here.
    ///
    /// `d(√(l² + s²)) = (l dl + s ds) / √(l² + s²)`; the curvature over a millimetre of play is under 0.01 mm.
    fn diagonal(&self) -> Form {
        let priors = self.priors();
        let (long, short) =
            (priors[Unknown::RectangleLong as usize].mean, priors[Unknown::RectangleShort as usize].mean);
        let diagonal = long.hypot(short);
        sum(&[(Unknown::RectangleLong, long / diagonal), (Unknown::RectangleShort, short / diagonal)])
    }

    /// Whether a reading is of bearing or housing end alone, whose row fixes it.
    pub fn is_of_the_parts(measurand: Measurand) -> bool {
        matches!(
            measurand,
            Measurand::JournalDiameter
                | Measurand::BearingBore
                | Measurand::BearingOutside
                | Measurand::BearingInnerWidth
                | Measurand::BearingOuterWidth
                | Measurand::HousingBoreDiameter
                | Measurand::HousingBoreDepth
                | Measurand::BoltRectangleLong
                | Measurand::BoltRectangleShort
                | Measurand::HousingBoltHole
        )
    }

    fn retained(&self, side: Option<Side>) -> Side {
        side.unwrap_or(self.first_side)
    }
}

impl Geometry for Chain<'_> {
    fn priors(&self) -> Vec<Prior> {
        let stray = &self.catalog.settings.stray;
        let spread = |spread: &Spread| (spread.mean.millimetres(), spread.standard_deviation.millimetres());
        let firm = |of: &Spread| known(spread(of).0, spread(of).1);
        let loose = |of: &Spread| typical(spread(of).0, spread(of).1);
        let beliefs = &self.catalog.settings.beliefs;
        let made = |size: Length, deviation: Length| known(size.millimetres(), deviation.millimetres());

        let mut priors = vec![Prior { mean: 0.0, standard_deviation: 1.0, firm: false }; UNKNOWNS];
        let mut set = |unknown: Unknown, prior: Prior| priors[unknown as usize] = prior;
        set(Unknown::Shoulder, self.usual(Measurand::ShoulderDistance));
        set(Unknown::ReachMiddle, self.usual(Measurand::Reach));
        set(Unknown::PinionOffset, loose(&stray.pinion_offset));
        set(Unknown::HalfPin, firm(&self.differential.half_pin));
        set(Unknown::EndClearanceLeft, firm(&self.differential.end_clearance));
        set(Unknown::EndClearanceRight, firm(&self.differential.end_clearance));
        set(Unknown::GearReach, firm(&self.differential.gear_reach));
        set(Unknown::FlangeThickness, self.usual(Measurand::FlangeThickness));
        set(Unknown::PilotHeight, self.usual(Measurand::WheelPilotHeight));
        set(Unknown::DrumWeb, loose(&stray.drum_web));
        set(Unknown::BrakePlate, loose(&stray.brake_plate));
        set(Unknown::CaliperBracket, loose(&stray.caliper_bracket));
        set(Unknown::LockRing, loose(&stray.lock_ring));
        set(Unknown::Fillet, loose(&stray.shoulder_fillet));
        set(Unknown::Trapped, self.usual(Measurand::TrappedThickness));
        set(Unknown::RingSeatStep, loose(&stray.ring_seat_step));
        set(Unknown::SealJournalStep, loose(&stray.seal_journal_step));
        match self.parts.bearing {
            Some(bearing) => {
                let width = bearing.width_deviation.millimetres();
                let (least, most) = bearing.seat_interference;
                set(Unknown::RaceOffset, firm(&bearing.race_offset));
                set(Unknown::OuterWidth, known(bearing.outer_width.millimetres(), width));
                set(Unknown::InnerWidth, known(bearing.inner_width.millimetres(), width));
                set(Unknown::BearingBore, made(bearing.bore, beliefs.ring_deviation));
                set(Unknown::BearingOutside, made(bearing.outside, beliefs.ring_deviation));
                let fit = usual((least.millimetres(), most.millimetres()));
                set(Unknown::Interference, known(fit.mean, fit.standard_deviation));
            }
            None => {
                set(Unknown::RaceOffset, loose(&beliefs.unlisted_race_offset));
                set(Unknown::OuterWidth, self.usual(Measurand::BearingOuterWidth));
                set(Unknown::InnerWidth, self.usual(Measurand::BearingInnerWidth));
                set(Unknown::BearingBore, self.usual(Measurand::BearingBore));
                set(Unknown::BearingOutside, self.usual(Measurand::BearingOutside));
                set(Unknown::Interference, loose(&beliefs.unlisted_interference));
            }
        }
        match self.parts.housing_end {
            Some(end) => {
                set(Unknown::BoreDepth, firm(&end.bore_depth));
                set(Unknown::HousingBore, made(end.bore_diameter, beliefs.housing_bore_deviation));
                set(Unknown::RectangleLong, made(end.bolt_rectangle_long, beliefs.hole_pattern_deviation));
                set(Unknown::RectangleShort, made(end.bolt_rectangle_short, beliefs.hole_pattern_deviation));
                set(Unknown::BoltHole, made(end.bolt_hole, beliefs.bolt_hole_deviation));
            }
            None => {
                set(Unknown::BoreDepth, self.usual(Measurand::HousingBoreDepth));
                set(Unknown::RectangleLong, self.usual(Measurand::BoltRectangleLong));
                set(Unknown::RectangleShort, self.usual(Measurand::BoltRectangleShort));
                set(Unknown::BoltHole, self.usual(Measurand::HousingBoltHole));
                set(Unknown::HousingBore, self.usual(Measurand::HousingBoreDiameter));
            }
        }
        priors
    }

    fn unknowns(&self) -> Vec<(&'static str, String)> {
        let usual = |measurand| self.catalog.measurand(measurand).source.to_string();
        let stray = self.catalog.settings.stray.source.to_string();
        let beliefs = self.catalog.settings.beliefs.source.to_string();
        let bearing = self.parts.bearing.map_or(beliefs, |row| format!("bearing {}: {}", row.name, row.source));
        let end = self.parts.housing_end;
        let end =
            |measurand| end.map_or_else(|| usual(measurand), |row| format!("housing end {}: {}", row.name, row.source));
        let differential = format!("differential {}: {}", self.differential.name, self.differential.source);
        ALL_UNKNOWNS
            .into_iter()
            .map(|unknown| match unknown {
                Unknown::Shoulder => ("shoulder distance", usual(Measurand::ShoulderDistance)),
                Unknown::RaceOffset => ("race offset of the bearing", bearing.clone()),
                Unknown::OuterWidth => ("width of the outer ring", bearing.clone()),
                Unknown::InnerWidth => ("width of the inner ring", bearing.clone()),
                Unknown::BoreDepth => ("depth of the bearing bore", end(Measurand::HousingBoreDepth)),
                Unknown::ReachMiddle => ("mean reach of both sides", usual(Measurand::Reach)),
                Unknown::PinionOffset => ("pinion offset", stray.clone()),
                Unknown::HalfPin => ("half of the cross pin or centre block", differential.clone()),
                Unknown::EndClearanceLeft => ("end clearance, left", differential.clone()),
                Unknown::EndClearanceRight => ("end clearance, right", differential.clone()),
                Unknown::GearReach => ("reach of the side gear", differential.clone()),
                Unknown::FlangeThickness => ("flange thickness", usual(Measurand::FlangeThickness)),
                Unknown::PilotHeight => ("height of the wheel pilot", usual(Measurand::WheelPilotHeight)),
                Unknown::DrumWeb => ("web of drum or rotor", stray.clone()),
                Unknown::BrakePlate => ("thickness of the brake plate", stray.clone()),
                Unknown::CaliperBracket => ("thickness of the caliper bracket", stray.clone()),
                Unknown::LockRing => ("width of the lock ring", stray.clone()),
                Unknown::Fillet => ("fillet at the shoulder", stray.clone()),
                Unknown::Trapped => ("thickness trapped under the retainer", usual(Measurand::TrappedThickness)),
                Unknown::BearingBore => ("bore of the bearing", bearing.clone()),
                Unknown::BearingOutside => ("outside of the bearing", bearing.clone()),
                Unknown::Interference => ("interference of the inner ring", bearing.clone()),
                Unknown::RingSeatStep => ("step from journal to ring seat", stray.clone()),
                Unknown::SealJournalStep => ("step from ring seat to seal journal", stray.clone()),
                Unknown::HousingBore => ("bearing bore of the housing end", end(Measurand::HousingBoreDiameter)),
                Unknown::RectangleLong => ("long side of the bolt rectangle", end(Measurand::BoltRectangleLong)),
                Unknown::RectangleShort => ("short side of the bolt rectangle", end(Measurand::BoltRectangleShort)),
                Unknown::BoltHole => ("bolt hole of the housing end", end(Measurand::HousingBoltHole)),
            })
            .collect()
    }

    fn form(&self, measurand: Measurand, side: Option<Side>) -> Option<Form> {
        let form = match measurand {
            Measurand::OverallLength => overall_length(side?),
            Measurand::ShoulderDistance => of(Unknown::Shoulder),
            Measurand::RaceDistance => of(Unknown::Shoulder).plus(&race_offset()),
            Measurand::BrakeOffset => brake_offset(),
            Measurand::ShoulderToEnd => overall_length(side?).minus(&of(Unknown::Shoulder)),
            Measurand::FlangeThickness => of(Unknown::FlangeThickness),
            Measurand::WheelPilotHeight => of(Unknown::PilotHeight),
            Measurand::SplineContactLength => gear_reach().minus(&end_clearance(self.retained(side))),
            Measurand::Reach => reach(side?),
            Measurand::HalfWidth => reach(side?).plus(&of(Unknown::HalfPin)),
            Measurand::HousingWidth => housing_width(),
            Measurand::FaceToFace => housing_width().plus(&brake_offset().times(2.0)),
            Measurand::HousingBoreDepth => of(Unknown::BoreDepth),
            Measurand::TrappedThickness => of(Unknown::Trapped),
            Measurand::JournalDiameter => journal(),
            Measurand::RingSeatDiameter => ring_seat(),
            Measurand::SealJournalDiameter => seal_journal(),
            Measurand::BearingBore => of(Unknown::BearingBore),
            Measurand::BearingOutside => of(Unknown::BearingOutside),
            Measurand::BearingInnerWidth => of(Unknown::InnerWidth),
            Measurand::BearingOuterWidth => of(Unknown::OuterWidth),
            Measurand::HousingBoreDiameter => of(Unknown::HousingBore),
            Measurand::BoltRectangleLong => of(Unknown::RectangleLong),
            Measurand::BoltRectangleShort => of(Unknown::RectangleShort),
            Measurand::BoltRectangleDiagonal => self.diagonal(),
            Measurand::HousingBoltHole => of(Unknown::BoltHole),
            _ => return None,
        };
        Some(form)
    }

    fn mistaken(&self, kind: MistakeKind, taken: &Taken<'_>) -> Option<Form> {
        use Measurand as M;
        // Most mistakes cannot befall most readings; what it claims to be is then of no use.
        let own = || self.form(taken.measurand, taken.side);
        let from_wheel_face =
            matches!(taken.measurand, M::OverallLength | M::ShoulderDistance | M::RaceDistance | M::BrakeOffset);
        let form = match (kind, taken.measurand) {
            (MistakeKind::WrongFlangeFace, _) if from_wheel_face => own()?.minus(&of(Unknown::FlangeThickness)),
            (MistakeKind::PilotCountedIn, _) if from_wheel_face => own()?.plus(&of(Unknown::PilotHeight)),
            (MistakeKind::DrumLeftOn, _) if from_wheel_face => own()?.plus(&of(Unknown::DrumWeb)),
            (MistakeKind::BrakePlateLeftOn, measurand) => {
                own()?.plus(&left_on_housing(measurand, Unknown::BrakePlate)?)
            }
            (MistakeKind::CaliperBracketLeftOn, measurand) => {
                own()?.plus(&left_on_housing(measurand, Unknown::CaliperBracket)?)
            }
            (MistakeKind::RaceForShoulder, M::ShoulderDistance) => own()?.plus(&race_offset()),
            (MistakeKind::ShoulderForRace, M::RaceDistance) => own()?.minus(&race_offset()),
            (MistakeKind::FarFaceOfRing, M::ShoulderDistance) => own()?.plus(&of(Unknown::InnerWidth)),
            (MistakeKind::FarFaceOfRing, M::RaceDistance) => own()?.plus(&of(Unknown::OuterWidth)),
            (MistakeKind::LockRingFaceForShoulder, M::ShoulderDistance) => {
                own()?.plus(&of(Unknown::InnerWidth)).plus(&of(Unknown::LockRing))
            }
            (MistakeKind::OffsetForRace, M::RaceDistance) => brake_offset(),
            (MistakeKind::StraightedgeOnFillet, M::ShoulderDistance) => own()?.minus(&of(Unknown::Fillet)),
            (MistakeKind::RingSeatForJournal, M::JournalDiameter) => ring_seat(),
            (MistakeKind::SealJournalForJournal, M::JournalDiameter) => seal_journal(),
            (MistakeKind::OneSideForOther, M::OverallLength | M::ShoulderToEnd | M::Reach | M::HalfWidth) => {
                self.form(taken.measurand, taken.side.map(Side::other))?
            }
            (MistakeKind::EdgeForCentre, M::BoltRectangleLong | M::BoltRectangleShort | M::BoltRectangleDiagonal) => {
                own()?.minus(&of(Unknown::BoltHole))
            }
            _ => return None,
        };
        Some(form)
    }

    /// Left and right swapped: the two shafts on the bench, both reaches, or both half widths, each one slip, made when that
    /// pair was written down; and all of them, where somebody stood before the axle instead of behind it.
    fn tied(&self, taken: &[Taken<'_>]) -> Vec<Tie> {
        let groups: [&[Measurand]; 3] =
            [&[Measurand::OverallLength, Measurand::ShoulderToEnd], &[Measurand::Reach], &[Measurand::HalfWidth]];
        let together = |ties: &[Tie]| {
            let mut readings: Vec<(usize, Form)> = ties.iter().flat_map(|tie| tie.readings.clone()).collect();
            readings.sort_by_key(|(at, _)| *at);
            Tie { kind: MistakeKind::LeftRightSwapped, whole: true, readings }
        };
        let mut tied: Vec<Tie> = Vec::new();
        for group in groups {
            let members: Vec<(usize, &Taken<'_>)> =
                taken.iter().enumerate().filter(|(_, one)| group.contains(&one.measurand)).collect();
            let on = |side| members.iter().any(|(_, one)| one.side == Some(side));
            if on(Side::Left) && on(Side::Right) {
                let swapped = members
                    .iter()
                    .filter_map(|(at, one)| Some((*at, self.form(one.measurand, one.side.map(Side::other))?)))
                    .collect();
                tied.push(Tie { kind: MistakeKind::LeftRightSwapped, whole: false, readings: swapped });
            }
        }
        let whole = (tied.len() > 1).then(|| together(&tied));
        // Somebody who stands before the housing instead of behind it has its sides the wrong way round, but not those of the
        // shafts, which lie on a bench.
        let of_housing = (tied.len() == groups.len()).then(|| together(&tied[1..]));
        tied.into_iter().chain(of_housing).chain(whole).collect()
    }
}

fn housing_width() -> Form {
    sum(&[(Unknown::ReachMiddle, 2.0), (Unknown::HalfPin, 2.0)])
}

/// What a plate left on the housing end does to a reading that starts or ends there.
fn left_on_housing(measurand: Measurand, plate: Unknown) -> Option<Form> {
    match measurand {
        Measurand::BrakeOffset => Some(of(plate).times(-1.0)),
        Measurand::Reach | Measurand::HalfWidth | Measurand::HousingBoreDepth => Some(of(plate)),
        Measurand::HousingWidth => Some(of(plate).times(2.0)),
        _ => None,
    }
}

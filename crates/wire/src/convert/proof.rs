//! From the core's proof to the wire.

use crate::number::plain;
use crate::proof::{
    AssumedInput, CaseProof, FigureKind, LoadCase, NotProved, Outcome, Proof, ProofCheck, ProofFigure, ProofKind,
    SafetyRange, Sensitivity, StatedInput, StationProof,
};

/// Puts a proof on the wire.
pub fn proof(proof: &axle::Proof) -> Proof {
    Proof {
        checks: proof.checks.iter().map(check).collect(),
        cases: proof.cases.iter().map(case).collect(),
        sensitivity: proof.sensitivity.iter().map(sensitivity).collect(),
        figures: proof.figures.iter().map(figure).collect(),
        not_proved: proof.not_proved.iter().map(not_proved).collect(),
        stated: proof.stated.iter().map(stated).collect(),
        assumed: proof.assumed.iter().map(assumed).collect(),
    }
}

/// A safety; none where nothing acts, for JSON has no word for endless.
fn safety(value: f64) -> Option<f64> {
    value.is_finite().then(|| plain(value))
}

fn range(range: axle::SafetyRange) -> SafetyRange {
    SafetyRange { harsh: safety(range.harsh), mild: safety(range.mild) }
}

fn check(check: &axle::ProofCheck) -> ProofCheck {
    ProofCheck {
        check: check.kind.into(),
        words: check.words.clone(),
        safety: range(check.safety),
        required: plain(check.required),
        outcome: check.outcome.into(),
        detail: check.detail.clone(),
        remedy: check.remedy.clone(),
        source: check.source.clone(),
    }
}

fn case(case: &axle::CaseProof) -> CaseProof {
    CaseProof {
        case: case.case.into(),
        vertical_n: plain(case.vertical_n),
        side_n: plain(case.side_n),
        torque_nm: plain(case.torque_nm),
        bending_nm: plain(case.bending_nm),
        weakest: case.weakest.to_owned(),
        yield_safety: range(case.yield_safety),
        weakest_in_fatigue: case.fatigue.map(|(section, _)| section.to_owned()),
        fatigue_safety: case.fatigue.map(|(_, safety)| range(safety)),
        stations: case.stations.iter().map(station).collect(),
        stations_at_mild: case.stations_at_mild.iter().map(station).collect(),
    }
}

fn station(station: &axle::StationProof) -> StationProof {
    StationProof {
        section: station.section.to_owned(),
        at_mm: plain(station.at_mm),
        diameter_mm: plain(station.diameter_mm),
        bending_nm: plain(station.bending_nm),
        torque_nm: plain(station.torque_nm),
        stress_mpa: plain(station.stress_mpa),
        yield_safety: safety(station.yield_safety),
        fatigue_safety: station.fatigue_safety.and_then(safety),
    }
}

fn sensitivity(one: &axle::Sensitivity) -> Sensitivity {
    Sensitivity {
        input: one.input.map(|input| input.key().to_owned()),
        words: one.words.clone(),
        from: plain(one.from),
        to: plain(one.to),
    }
}

fn figure(one: &axle::ProofFigure) -> ProofFigure {
    ProofFigure {
        figure: match one.kind {
            axle::FigureKind::RingPressOn => FigureKind::RingPressOn,
            axle::FigureKind::BearingClearance => FigureKind::BearingClearance,
            axle::FigureKind::FatigueDamage => FigureKind::FatigueDamage,
        },
        harsh: safety(one.harsh),
        mild: safety(one.mild),
        words: one.words.clone(),
        source: one.source.clone(),
    }
}

fn not_proved(one: &axle::NotProved) -> NotProved {
    NotProved { what: one.what.clone(), needs: one.needs.clone() }
}

fn stated(one: &axle::StatedInput) -> StatedInput {
    StatedInput { input: one.input.key().to_owned(), value: one.value.clone(), line: one.line }
}

fn assumed(one: &axle::AssumedInput) -> AssumedInput {
    AssumedInput {
        input: one.input.map(|input| input.key().to_owned()),
        words: one.words.clone(),
        mild: one.mild.clone(),
        harsh: one.harsh.clone(),
        source: one.source.clone(),
    }
}

impl From<axle::ProofKind> for ProofKind {
    fn from(kind: axle::ProofKind) -> Self {
        match kind {
            axle::ProofKind::Yield => Self::Yield,
            axle::ProofKind::Fatigue => Self::Fatigue,
            axle::ProofKind::LockRing => Self::LockRing,
            axle::ProofKind::BearingSeat => Self::BearingSeat,
            axle::ProofKind::BearingStatic => Self::BearingStatic,
            axle::ProofKind::BearingLife => Self::BearingLife,
            axle::ProofKind::Spline => Self::Spline,
            axle::ProofKind::Studs => Self::Studs,
        }
    }
}

impl From<axle::Outcome> for Outcome {
    fn from(outcome: axle::Outcome) -> Self {
        match outcome {
            axle::Outcome::Holds => Self::Holds,
            axle::Outcome::Unconfirmed => Self::Unconfirmed,
            axle::Outcome::Fails => Self::Fails,
        }
    }
}

impl From<axle::LoadCase> for LoadCase {
    fn from(case: axle::LoadCase) -> Self {
        match case {
            axle::LoadCase::Straight => Self::Straight,
            axle::LoadCase::Launch => Self::Launch,
            axle::LoadCase::Braking => Self::Braking,
            axle::LoadCase::CornerOuter => Self::CornerOuter,
            axle::LoadCase::CornerInner => Self::CornerInner,
            axle::LoadCase::Bump => Self::Bump,
            axle::LoadCase::Towing => Self::Towing,
        }
    }
}

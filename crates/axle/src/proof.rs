//! The proof of an order: whether the reviewed shafts carry their load and stay in the housing.
//!
//! Every check is worked out twice: with the inputs that a sheet leaves open at the mild end of their bounds, and at the harsh
//! end. What holds at both ends is proved. What holds at neither cannot be made as ordered, whatever the open inputs turn out
//! to be, and stops the order. What holds at one end only is marked, with the inputs that would settle it. What cannot be
//! worked out at all is listed as not proved, with what is needed; nothing passes in silence.

mod bearing;
mod clearance;
mod damage;
mod detail;
mod facts;
mod figure;
mod inputs;
mod loads;
mod lock_ring;
mod prove;
mod sections;
mod sensitivity;
mod spline;
mod strength;
mod studs;

use catalog::LoadInput;

pub(crate) use detail::shaft_detail;
pub(crate) use prove::{caveat, prove, stops};

/// What was proved of an order, and what was not.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Proof {
    /// The checks, the weakest first.
    pub checks: Vec<ProofCheck>,
    /// The load cases with what the shaft bears in each, at the harsh end of what is assumed.
    pub cases: Vec<CaseProof>,
    /// The inputs that move the weakest safety most, the strongest first, three at most.
    pub sensitivity: Vec<Sensitivity>,
    /// What the shop has to see or to choose, worked out beside the checks.
    pub figures: Vec<ProofFigure>,
    /// What could not be worked out, and what is needed for it.
    pub not_proved: Vec<NotProved>,
    /// The inputs that the sheet states.
    pub stated: Vec<StatedInput>,
    /// The inputs that were taken from bounds.
    pub assumed: Vec<AssumedInput>,
}

/// What is checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ProofKind {
    /// The shaft against yielding.
    Yield,
    /// The shaft against fatigue.
    Fatigue,
    /// The lock ring against side thrust.
    LockRing,
    /// The inner ring of the bearing against creeping on its journal.
    BearingSeat,
    /// The bearing against the worst load at rest.
    BearingStatic,
    /// The bearing over the life of the shaft.
    BearingLife,
    /// The spline against torque.
    Spline,
    /// The wheel joint against slipping.
    Studs,
}

/// A safety at both ends of what is assumed; the two are one where everything is stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SafetyRange {
    /// With every open input at its harsh end.
    pub harsh: f64,
    /// With every open input at its mild end.
    pub mild: f64,
}

/// How a check came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// It holds whatever the open inputs are within their bounds.
    Holds,
    /// It holds at one end of the bounds only: the open inputs decide.
    Unconfirmed,
    /// It fails at both ends.
    Fails,
}

/// One check of strength.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofCheck {
    /// What is checked.
    pub kind: ProofKind,
    /// In words.
    pub words: String,
    /// Its safety.
    pub safety: SafetyRange,
    /// The least safety that passes.
    pub required: f64,
    /// How it came out.
    pub outcome: Outcome,
    /// Where and against what, at the harsh end.
    pub detail: String,
    /// What would help.
    pub remedy: String,
    /// The method or standard.
    pub source: String,
}

/// A load case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LoadCase {
    /// Straight ahead with the load at rest.
    Straight,
    /// The hardest launch that engine and tyres allow.
    Launch,
    /// The hardest braking that the tyres allow.
    Braking,
    /// The wheel outside of a corner at the limit of grip.
    CornerOuter,
    /// The wheel inside of it.
    CornerInner,
    /// A kerb or bump.
    Bump,
    /// A launch with a trailer.
    Towing,
}

/// A load case with what it does to the shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseProof {
    /// Which case.
    pub case: LoadCase,
    /// Vertical load of the wheel, N.
    pub vertical_n: f64,
    /// Side force on the wheel, N.
    pub side_n: f64,
    /// Torque in the shaft, N·m.
    pub torque_nm: f64,
    /// Bending moment in the plane of the bearing, N·m.
    pub bending_nm: f64,
    /// Section that is weakest against yielding.
    pub weakest: &'static str,
    /// Least safety against yielding.
    pub yield_safety: SafetyRange,
    /// Least safety against fatigue with its section; none for a case that does not repeat.
    pub fatigue: Option<(&'static str, SafetyRange)>,
    /// The shaft, section by section from the wheel face inboard, with every open input at its harsh end.
    pub stations: Vec<StationProof>,
    /// The same at the mild end. The body may be thicker there, and the ring narrower, so that sections move.
    pub stations_at_mild: Vec<StationProof>,
}

/// One section of the shaft in one load case.
#[derive(Debug, Clone, PartialEq)]
pub struct StationProof {
    /// The section.
    pub section: &'static str,
    /// Its distance from the wheel face, mm.
    pub at_mm: f64,
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Bending moment, N·m.
    pub bending_nm: f64,
    /// Torque, N·m.
    pub torque_nm: f64,
    /// Von Mises stress at the surface without notches, MPa.
    pub stress_mpa: f64,
    /// Safety against yielding.
    pub yield_safety: f64,
    /// Safety against fatigue; none for a case that does not repeat.
    pub fatigue_safety: Option<f64>,
}

/// How much the weakest safety moves with one input.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// The input; none for the differential.
    pub input: Option<LoadInput>,
    /// The move in words.
    pub words: String,
    /// The safety before.
    pub from: f64,
    /// The safety after.
    pub to: f64,
}

/// What a figure says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FigureKind {
    /// The least force that the press must show when the lock ring goes on, N.
    RingPressOn,
    /// The clearance that pressing on leaves in a bearing of normal clearance, µm: the least as harsh, the most as mild.
    BearingClearance,
    /// The damage of all load cases together over the life of the shaft: it breaks about at 1.
    FatigueDamage,
}

/// A figure that decides something in the shop, and no check of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofFigure {
    /// What it says.
    pub kind: FigureKind,
    /// With every open input at its harsh end.
    pub harsh: f64,
    /// At its mild end.
    pub mild: f64,
    /// In words, with what follows from it.
    pub words: String,
    /// The method or standard.
    pub source: String,
}

/// Something that could not be worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotProved {
    /// What it is.
    pub what: String,
    /// What is needed for it.
    pub needs: String,
}

/// An input that the sheet states.
#[derive(Debug, Clone, PartialEq)]
pub struct StatedInput {
    /// Which one.
    pub input: LoadInput,
    /// Its value in words.
    pub value: String,
    /// Line of the sheet.
    pub line: usize,
}

/// Something that was assumed because the sheet does not say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AssumedInput {
    /// The input, where it is one of the load cases'.
    pub input: Option<LoadInput>,
    /// What it is.
    pub words: String,
    /// The mild end in words.
    pub mild: String,
    /// The harsh end in words; the same where it is but one value.
    pub harsh: String,
    /// Where the bounds come from.
    pub source: String,
}

//! The proof of strength on the wire.

use schemars::JsonSchema;
use serde::Serialize;

/// Whether the shafts carry their load and stay in the housing.
///
/// It supports and does not replace the judgement of a qualified person; `cautions` of the review bear on it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Proof {
    /// The checks, the weakest first.
    pub checks: Vec<ProofCheck>,
    /// The load cases, with every open input at its harsh end.
    pub cases: Vec<CaseProof>,
    /// The inputs that move the weakest safety most, the strongest first.
    pub sensitivity: Vec<Sensitivity>,
    /// What the shop has to see or to choose.
    pub figures: Vec<ProofFigure>,
    /// What could not be worked out.
    pub not_proved: Vec<NotProved>,
    /// The inputs that the sheet states.
    pub stated: Vec<StatedInput>,
    /// What was assumed because the sheet does not say.
    pub assumed: Vec<AssumedInput>,
}

/// What is checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ProofKind {
    /// The shaft against yielding.
    Yield,
    /// The shaft against fatigue.
    Fatigue,
    /// The lock ring against side thrust.
    LockRing,
    /// The inner ring of the bearing against creeping on its journal.
    BearingSeat,
    /// The bearing against the worst load.
    BearingStatic,
    /// The bearing over the life of the shaft.
    BearingLife,
    /// The spline against torque.
    Spline,
    /// The wheel joint against slipping.
    Studs,
}

/// How a check came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// It holds whatever the open inputs are within their bounds.
    Holds,
    /// It holds at one end of the bounds only.
    Unconfirmed,
    /// It fails at both ends and stops the order.
    Fails,
}

/// A safety at both ends of what is assumed; null where nothing acts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SafetyRange {
    /// With every open input at its harsh end.
    pub harsh: Option<f64>,
    /// With every open input at its mild end.
    pub mild: Option<f64>,
}

/// One check of strength.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProofCheck {
    /// What is checked.
    pub check: ProofKind,
    /// In plain words.
    pub words: String,
    /// Its safety.
    pub safety: SafetyRange,
    /// The least safety that passes.
    pub required: f64,
    /// How it came out.
    pub outcome: Outcome,
    /// Where and against what, with every open input at its harsh end.
    pub detail: String,
    /// What would help.
    pub remedy: String,
    /// The method or standard.
    pub source: String,
}

/// A load case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum LoadCase {
    Straight,
    Launch,
    Braking,
    CornerOuter,
    CornerInner,
    Bump,
    Towing,
}

/// A load case with what it does to the shaft.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
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
    /// The section that is weakest against yielding.
    pub weakest: String,
    /// Least safety against yielding.
    pub yield_safety: SafetyRange,
    /// The section that is weakest against fatigue; null for a case that does not repeat.
    pub weakest_in_fatigue: Option<String>,
    /// Least safety against fatigue; null for a case that does not repeat.
    pub fatigue_safety: Option<SafetyRange>,
    /// The shaft, section by section from the wheel face inboard, with every open input at its harsh end.
    pub stations: Vec<StationProof>,
    /// The same with every open input at its mild end.
    pub stations_at_mild: Vec<StationProof>,
}

/// One section of the shaft in one load case.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationProof {
    /// The section.
    pub section: String,
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
    /// Safety against yielding; null where nothing acts.
    pub yield_safety: Option<f64>,
    /// Safety against fatigue; null where nothing acts or nothing repeats.
    pub fatigue_safety: Option<f64>,
}

/// How much the weakest safety moves with one input.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sensitivity {
    /// Key of the input; null for the differential.
    pub input: Option<String>,
    /// The move in plain words.
    pub words: String,
    /// The safety before.
    pub from: f64,
    /// The safety after.
    pub to: f64,
}

/// What a figure says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FigureKind {
    /// The least force that the press must show when the lock ring goes on, N.
    RingPressOn,
    /// The clearance that pressing on leaves in a bearing of normal clearance, µm: the least as harsh, the most as mild.
    BearingClearance,
    /// The share of the shaft's life that all load cases use together.
    FatigueDamage,
}

/// A figure that decides something in the shop.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProofFigure {
    /// What it says.
    pub figure: FigureKind,
    /// With every open input at its harsh end; null where it is endless.
    pub harsh: Option<f64>,
    /// At its mild end; null where it is endless.
    pub mild: Option<f64>,
    /// In plain words.
    pub words: String,
    /// The method or standard.
    pub source: String,
}

/// Something that could not be worked out.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NotProved {
    /// What it is.
    pub what: String,
    /// What is needed for it.
    pub needs: String,
}

/// An input that the sheet states.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StatedInput {
    /// Its key.
    pub input: String,
    /// Its value in words.
    pub value: String,
    /// Line of the sheet, counted from 1.
    pub line: usize,
}

/// Something that was assumed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AssumedInput {
    /// Key of the input; null for what a sheet states otherwise.
    pub input: Option<String>,
    /// What it is.
    pub words: String,
    /// The mild end in words.
    pub mild: String,
    /// The harsh end in words.
    pub harsh: String,
    /// Where the bounds come from.
    pub source: String,
}

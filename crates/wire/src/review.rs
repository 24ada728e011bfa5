//! The review on the wire.

use schemars::JsonSchema;
use serde::Serialize;

use super::fitted::Fitted;
use super::number::Length;
use super::proof::Proof;

/// What to do with the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The shafts may be cut.
    Cut,
    /// Something has to be asked first.
    Ask,
    /// Something cannot work or must not be made.
    Stop,
}

/// A multiple of what the instruments' rows say, by which all readings of the sheet may scatter.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Scatter {
    /// The multiple of every standard uncertainty.
    pub multiple: f64,
    /// The probability, 0 to 1, that the readings scatter so.
    pub probability: f64,
}

/// A side of the axle, seen from behind and facing forward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum Side {
    Left,
    Right,
}

/// The review of one order.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Review {
    /// The sheet as it was named on the command line.
    pub sheet: String,
    /// The shop's reference for the order.
    pub reference: String,
    /// What to do with the order.
    pub verdict: Verdict,
    /// The chance, 0 to 1, that shafts cut to `dimensions` assemble and work without rework; null while something that the
    /// shafts need is missing.
    pub fit_probability: Option<f64>,
    /// By how much `fit_probability` may be off because it was integrated numerically; null where that is.
    pub fit_probability_error: Option<f64>,
    /// Every reason for the verdict, the weightiest first.
    pub reasons: Vec<Reason>,
    /// The dimensions to cut. They are released only where the verdict is `cut`.
    pub dimensions: Vec<Dimension>,
    /// Lengths that had better be cut long and trimmed at fitting.
    pub trims: Vec<Trim>,
    /// The likeliest explanations of the sheet, the likeliest first.
    pub explanations: Vec<Explanation>,
    /// Prior probability of the explanations that were not weighed: those with more mistakes than were looked at.
    pub prior_left_out: f64,
    /// How far the errors of this sheet are likely to be larger than the instruments' rows say, the smallest multiple first;
    /// the probabilities sum to one.
    pub scatter: Vec<Scatter>,
    /// Each reading, in the order of the sheet, and what became of it.
    pub readings: Vec<Reading>,
    /// What the shafts need and the sheet does not hold.
    pub missing: Vec<Missing>,
    /// What to ask next, the most helpful first.
    pub questions: Vec<Question>,
    /// The parts that the evidence points to.
    pub identified: Vec<Identified>,
    /// The fit conditions, the least certain first.
    pub conditions: Vec<Condition>,
    /// The classical tests and the checks of parts against each other.
    pub checks: Vec<Check>,
    /// Whether the shafts carry their load and stay in the housing.
    pub proof: Proof,
    /// The parts and places that the shafts go with.
    pub fitted: Fitted,
    /// The cautions that bear on every order.
    pub cautions: Vec<String>,
}

/// Why the verdict is what it is.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reason {
    /// The verdict that this reason alone would give.
    pub verdict: Verdict,
    /// The reason in plain words.
    pub words: String,
    /// What would change it, in plain words.
    pub remedy: Option<String>,
}

/// A size that the shop can be told to make.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum DimensionKind {
    OverallLength,
    ShoulderDistance,
    RaceDistance,
    BrakeOffset,
    FlangeDiameter,
    FlangeThickness,
    RegisterDiameter,
    RegisterHeight,
    WheelPilotDiameter,
    WheelPilotHeight,
    JournalDiameter,
    RingSeatDiameter,
    SealJournalDiameter,
    BoltCircle,
    StudHole,
    SplineMajorDiameter,
}

/// How a dimension came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Read by somebody.
    Measured,
    /// Follows from other readings or from the parts.
    Derived,
    /// A usual size, because nothing says otherwise.
    Assumed,
}

/// One dimension to cut.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Dimension {
    /// Which dimension.
    pub dimension: DimensionKind,
    /// The side; null where both are alike.
    pub side: Option<Side>,
    /// The size to make: that of least expected loss.
    pub cut: Length,
    /// The smallest size that passes inspection.
    pub least: Length,
    /// The largest size that passes inspection.
    pub most: Length,
    /// The mean of what the size should be, over all explanations.
    pub mean: Length,
    /// Its standard uncertainty, over all explanations.
    pub standard_uncertainty: Length,
    /// How it came about.
    pub basis: Basis,
    /// Why it is this size, step by step.
    pub trace: Vec<TraceStep>,
}

/// A shaft that is cut long and trimmed at fitting, because its length is known too badly for cutting to size.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Trim {
    /// The side.
    pub side: Option<Side>,
    /// The overall length to cut.
    pub cut: Length,
    /// The overall length that may be needed at the least.
    pub least: Length,
    /// The length of spline at full depth that is needed, counted from the inner end.
    pub spline: Length,
    /// Expected loss of cutting to size, in scrapped shafts.
    pub loss_to_size: f64,
    /// Expected loss of this plan, the work of trimming with it.
    pub loss_trimmed: f64,
}

/// One step in the origin of a number.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TraceStep {
    /// The step in words: an equation, a reading, a part or a setting.
    pub words: String,
    /// The number that it contributes.
    pub value: Option<Length>,
    /// Its standard uncertainty.
    pub standard_uncertainty: Option<Length>,
    /// Where it comes from: a place in the sheet, a row of the catalog, a standard.
    pub source: String,
}

/// One explanation of the sheet: which readings hold which mistakes, and which parts are fitted.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Explanation {
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// The mistakes that it holds; empty when every reading means what it says.
    pub mistakes: Vec<Mistake>,
    /// The parts that it takes to be fitted, in words.
    pub parts: Vec<String>,
}

/// A mistake within an explanation.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Mistake {
    /// Key of the mistake, a row of the catalog's mistakes.
    pub mistake: String,
    /// The readings that it spoils, as indices into `readings`, counted from 0.
    pub readings: Vec<usize>,
    /// The whole sentence.
    pub words: String,
    /// What the first of those readings should then have said, all readings weighed.
    pub would_say: Option<Length>,
    /// What each of those readings should have said if the mistake in it is undone and nothing else; a reading of which the mistake
    /// leaves nothing has none.
    pub corrections: Vec<Correction>,
}

/// A reading with a mistake undone.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Correction {
    /// The reading, as an index into `readings`, counted from 0.
    pub reading: usize,
    /// What it should have said, as `taken_as` of the sheet takes it; repeats with `;` between them.
    pub written: String,
    /// Whether that is what was on the scale, and nothing in it was computed: the digits, the mark, the unit or the side was wrong.
    pub is_literal: bool,
}

/// What a sheet takes a reading to have meant.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TakenAs {
    /// What it should have said, as it was written.
    pub written: String,
    /// Who at the desk takes it so; null where the sheet does not say.
    pub taken_by: Option<String>,
    /// Who confirmed it; null as long as nobody has, and the reading counts as it was written.
    pub confirmed_by: Option<String>,
}

/// What became of one reading.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Key of what was measured, as the sheet writes it.
    pub measurand: String,
    /// The side that the sheet names; null where it names none.
    pub side: Option<Side>,
    /// What was written.
    pub written: String,
    /// What the sheet takes it to have meant; null where nobody corrected it.
    pub taken_as: Option<TakenAs>,
    /// Line of the sheet, counted from 1.
    pub line: usize,
    /// The length that was taken in: as it was written, or as a correction has it that was confirmed; null for a count.
    pub value: Option<Length>,
    /// The count; null for a length.
    pub count: Option<u32>,
    /// Standard uncertainty of the reading.
    pub standard_uncertainty: Option<Length>,
    /// What it should have said, under the likeliest explanation.
    pub reconciled: Option<Length>,
    /// Normalised residual in the reconciliation that takes every reading at its word: beyond about 2 it disagrees.
    pub normalised_residual: Option<f64>,
    /// Redundancy number, 0 to 1: 0 means that nothing checks this reading, 1 that the others settle it without it.
    pub redundancy: f64,
    /// The probability, 0 to 1, that the reading is mistaken.
    pub probability_mistaken: f64,
    /// The likeliest mistake, where the reading is worth doubting.
    pub likely_mistake: Option<LikelyMistake>,
    /// A sentence about it, where there is something to say.
    pub remark: Option<String>,
}

/// The likeliest mistake of a reading.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LikelyMistake {
    /// Key of the mistake, a row of the catalog's mistakes.
    pub mistake: String,
    /// Its probability, 0 to 1.
    pub probability: f64,
}

/// Something that the shafts need and the sheet does not hold.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Missing {
    /// Keys of the readings that would fill the gap, the handiest first.
    pub measurands: Vec<String>,
    /// The part that it would identify, where it is one.
    pub part: Option<PartKind>,
    /// The side, where it is missing on one.
    pub side: Option<Side>,
    /// What is missing, in plain words.
    pub words: String,
}

/// A reading that belongs to a question.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FurtherReading {
    /// Key of what to read.
    pub measurand: String,
    /// On which side.
    pub side: Option<Side>,
}

/// A question to ask next.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// Key of what to read; null for a question about a part.
    pub measurand: Option<String>,
    /// On which side.
    pub side: Option<Side>,
    /// What to read with it.
    pub with: Vec<FurtherReading>,
    /// The question in plain words.
    pub words: String,
    /// How to answer it.
    pub how: String,
    /// The instrument to use.
    pub instrument: Option<String>,
    /// Whether the order cannot be cut without the answer.
    pub required: bool,
    /// By how much, 0 to 1, the answer is expected to raise the fit probability; 0 for what is required.
    pub gain: f64,
    /// Effort in minutes.
    pub effort_minutes: f64,
}

/// A kind of part that is identified from evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum PartKind {
    Bearing,
    HousingEnd,
    Spline,
    BoltCircle,
    Stud,
}

/// How a wheel bearing carries its load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BearingKind {
    /// Sealed deep-groove ball unit.
    Ball,
    /// Tapered roller unit with its own outer seal.
    Tapered,
}

/// A part and how sure it is.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Identified {
    /// What kind of part.
    pub part: PartKind,
    /// The candidates that are worth naming, the likeliest first.
    pub candidates: Vec<Candidate>,
    /// Whether the first is sure enough to go by.
    pub decided: bool,
    /// What to say about it.
    pub remark: Option<String>,
}

/// A candidate for a part.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Candidate {
    /// Name of the catalog row, or the size of a part that is in none.
    pub name: String,
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// The kind of bearing, where it is one.
    pub bearing_kind: Option<BearingKind>,
    /// Where the row comes from.
    pub source: String,
}

/// What a failed fit condition costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Consequence {
    /// The shaft cannot be saved.
    Scrap,
    /// It can be recut.
    Rework,
    /// It works, but not as it should.
    Nuisance,
}

/// One fit condition.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// The condition in plain words.
    pub words: String,
    /// The side, where it is a condition of one side.
    pub side: Option<Side>,
    /// The chance, 0 to 1, that it holds.
    pub probability: f64,
    /// What it costs where it does not hold.
    pub consequence: Consequence,
}

/// A check with its outcome.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Check {
    /// What is checked.
    pub words: String,
    /// Whether it passed.
    pub passed: bool,
    /// The statistic of a classical test.
    pub statistic: Option<f64>,
    /// Its limit.
    pub limit: Option<f64>,
    /// Its degrees of freedom.
    pub degrees_of_freedom: Option<f64>,
    /// The method or standard.
    pub source: String,
}

/// Where one dimension comes from.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Explained {
    /// The sheet as it was named on the command line.
    pub sheet: String,
    /// The shop's reference for the order.
    pub reference: String,
    /// What to do with the order; the size is released only where this is `cut`.
    pub verdict: Verdict,
    /// The dimension that was asked for, with its trace; two where the sides differ and no side was asked for.
    pub explained: Vec<Dimension>,
    /// The cautions that bear on every order.
    pub cautions: Vec<String>,
}

//! What the core says about one order: the types of a [`Review`].

use catalog::{BearingKind, Measurand, MistakeKind};
use quantity::Length;

use crate::fitted::Fitted;
use crate::proof::Proof;
use crate::sheet::Side;

/// What the desk should do with the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// The shafts may be cut.
    Cut,
    /// Something has to be asked first.
    Ask,
    /// Something cannot work or must not be made.
    Stop,
}

/// The whole answer to one order sheet.
#[derive(Debug, Clone)]
pub struct Review {
    /// The shop's reference for the order.
    pub reference: String,
    /// What to do.
    pub verdict: Verdict,
    /// Every reason for it, the weightiest first.
    pub reasons: Vec<Reason>,
    /// The chance that shafts cut to [`Review::dimensions`] assemble and work without rework, 0 to 1; none while something
    /// that the shafts need is missing.
    pub fit_probability: Option<Probability>,
    /// The fit conditions, the least certain first.
    pub conditions: Vec<ConditionReview>,
    /// The dimensions to cut.
    pub dimensions: Vec<Dimension>,
    /// Lengths that had better be cut long and trimmed at fitting.
    pub trims: Vec<TrimPlan>,
    /// Each reading, in the order of the sheet, and what became of it.
    pub readings: Vec<ReadingReview>,
    /// The likeliest explanations of the sheet, the likeliest first.
    pub explanations: Vec<ExplanationReview>,
    /// Prior probability of the explanations that were not enumerated: those with more mistakes than were weighed.
    pub prior_left_out: f64,
    /// How far the errors of this sheet are likely to be larger than the instruments' rows say, the smallest multiple first;
    /// the probabilities sum to one.
    pub scatter: Vec<ScatterReview>,
    /// What to ask next, the most helpful first.
    pub questions: Vec<Question>,
    /// The parts that the evidence points to.
    pub identified: Vec<Identified>,
    /// The classical tests and the checks of parts against each other.
    pub checks: Vec<Check>,
    /// What the shafts need and the sheet does not hold.
    pub missing: Vec<Missing>,
    /// Whether the shafts carry their load and stay in the housing.
    pub proof: Proof,
    /// The parts and places that the shafts go with.
    pub fitted: Fitted,
}

/// A probability with the error of its numerical evaluation (three standard errors).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Probability {
    /// The probability, 0 to 1.
    pub value: f64,
    /// By how much the number may be off because it was integrated numerically.
    pub error: f64,
}

/// A multiple of what the instruments' rows say, by which all readings of the sheet may scatter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScatterReview {
    /// The multiple of every standard uncertainty.
    pub multiple: f64,
    /// The probability that the readings scatter so.
    pub probability: f64,
}

/// Why the verdict is what it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    /// How much it weighs: the verdict that this reason alone would give.
    pub verdict: Verdict,
    /// In plain words.
    pub words: String,
    /// What would change it, in plain words.
    pub remedy: Option<String>,
}

/// One fit condition.
#[derive(Debug, Clone)]
pub struct ConditionReview {
    /// Short name: `inner end clears the cross pin, left`.
    pub words: String,
    /// The side, where it is a condition of one side.
    pub side: Option<Side>,
    /// The chance that it holds.
    pub probability: f64,
    /// What happens where it does not hold: `scrap`, `rework` or `nuisance`.
    pub consequence: Consequence,
}

/// What a failed condition costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum Consequence {
    Scrap,
    Rework,
    Nuisance,
}

/// A size that the shop can be told to make.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// Read by somebody and left as it was read, but for the reconciliation with the other readings.
    Measured,
    /// Follows from other readings or from the parts.
    Derived,
    /// A usual size, because nothing says otherwise.
    Assumed,
}

/// One dimension to cut.
#[derive(Debug, Clone)]
pub struct Dimension {
    /// Which dimension.
    pub kind: DimensionKind,
    /// The side, where the sides differ.
    pub side: Option<Side>,
    /// The size to make: that of least expected loss.
    pub cut: Length,
    /// The smallest size that passes inspection.
    pub least: Length,
    /// The largest size that passes inspection.
    pub most: Length,
    /// The mean of what the size should be, over all explanations; for what follows from the bearing, over those with the
    /// likeliest one.
    pub mean: Length,
    /// Its standard uncertainty, over all explanations.
    pub standard_uncertainty: Length,
    /// How it came about.
    pub basis: Basis,
    /// Why it is this size: one line for each step, equation, parts and readings, with the source of each.
    pub trace: Vec<TraceStep>,
}

/// A shaft that is cut long and trimmed at fitting, because its length is known too badly for cutting to size.
#[derive(Debug, Clone, PartialEq)]
pub struct TrimPlan {
    /// The side.
    pub side: Option<Side>,
    /// The overall length to cut: longer than what will be needed, but for one time in a hundred.
    pub cut: Length,
    /// The overall length that may be needed at the least, but for one time in a hundred.
    pub least: Length,
    /// The length of spline at full depth that every length between them needs, counted from the inner end.
    pub spline: Length,
    /// Expected loss of cutting to size, in scrapped shafts.
    pub loss_to_size: f64,
    /// Expected loss of this plan, the work of trimming with it.
    pub loss_trimmed: f64,
}

/// One step in the origin of a number.
#[derive(Debug, Clone)]
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

/// What a sheet takes a reading to have meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenAsReview {
    /// What it should have said, as it was written.
    pub written: String,
    /// Who at the desk takes it so.
    pub taken_by: Option<String>,
    /// Who confirmed it; none as long as nobody has, and the reading counts as it was written.
    pub confirmed_by: Option<String>,
}

/// What became of one reading.
#[derive(Debug, Clone)]
pub struct ReadingReview {
    /// What was measured.
    pub measurand: Measurand,
    /// On which side.
    pub side: Option<Side>,
    /// What was written.
    pub written: String,
    /// What the sheet takes it to have meant, where somebody corrected it.
    pub taken_as: Option<TakenAsReview>,
    /// Line of the sheet.
    pub line: usize,
    /// The value that was taken in: as it was written, or as a correction has it that was confirmed; none for a count.
    pub value: Option<Length>,
    /// The value of a count.
    pub count: Option<u32>,
    /// Standard uncertainty of the reading as the GUM adds it up.
    pub standard_uncertainty: Option<Length>,
    /// What it should have said, under the likeliest explanation.
    pub reconciled: Option<Length>,
    /// Normalised residual in the reconciliation that takes every reading at its word: beyond about 2 it disagrees.
    pub normalised_residual: Option<f64>,
    /// Redundancy number, 0 to 1: 0 means that nothing checks this reading, 1 that the others settle it without it.
    pub redundancy: f64,
    /// The probability that the reading is mistaken.
    pub probability_mistaken: f64,
    /// The likeliest mistake, with its probability, where the reading is worth doubting.
    pub likely_mistake: Option<(MistakeKind, f64)>,
    /// A sentence about it where there is something to say.
    pub remark: Option<String>,
}

/// One explanation of the sheet.
#[derive(Debug, Clone)]
pub struct ExplanationReview {
    /// Its probability.
    pub probability: f64,
    /// The mistakes it holds; empty when every reading means what it says.
    pub mistakes: Vec<MistakeReview>,
    /// The parts it takes to be fitted, in words.
    pub parts: Vec<String>,
}

/// A mistake within an explanation.
#[derive(Debug, Clone)]
pub struct MistakeReview {
    /// Which mistake.
    pub kind: MistakeKind,
    /// The readings it spoils, as indices into [`Review::readings`].
    pub readings: Vec<usize>,
    /// The whole sentence: `the left overall length (31 5/16") was taken from the inboard face of the flange`.
    pub words: String,
    /// What the first of those readings should then have said, all readings weighed.
    pub would_say: Option<Length>,
    /// What each of those readings should have said if the mistake in it is undone and nothing else; a reading of which the mistake
    /// leaves nothing has none.
    pub corrections: Vec<Correction>,
}

/// A reading with a mistake undone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// The reading, as an index into [`Review::readings`].
    pub reading: usize,
    /// What it should have said, as it would be typed; repeats with `;` between them.
    pub written: String,
    /// Whether that is what was on the scale, and nothing in it was computed: the digits, the mark, the unit or the side was wrong.
    pub is_literal: bool,
}

/// A question to ask next.
#[derive(Debug, Clone)]
pub struct Question {
    /// What to read; none for a question about a part.
    pub measurand: Option<Measurand>,
    /// On which side.
    pub side: Option<Side>,
    /// What to read with it.
    pub with: Vec<(Measurand, Option<Side>)>,
    /// The question in plain words.
    pub words: String,
    /// How to answer it.
    pub how: String,
    /// The instrument to use.
    pub instrument: Option<String>,
    /// Whether the order cannot be cut without it.
    pub required: bool,
    /// By how much the answer is expected to raise the fit probability, 0 to 1; nought for what is required, which is not
    /// weighed against anything.
    pub gain: f64,
    /// Effort in minutes.
    pub effort_minutes: f64,
}

/// A kind of part that is identified from evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each variant says what its name says")]
pub enum PartKind {
    Bearing,
    HousingEnd,
    Spline,
    BoltCircle,
    Stud,
}

/// A part and how sure it is.
#[derive(Debug, Clone)]
pub struct Identified {
    /// What kind of part.
    pub kind: PartKind,
    /// The candidates that are worth naming, the likeliest first.
    pub candidates: Vec<Candidate>,
    /// Whether the first is sure enough to go by.
    pub decided: bool,
    /// What to say about it.
    pub remark: Option<String>,
}

/// A candidate for a part.
#[derive(Debug, Clone)]
pub struct Candidate {
    /// Name of the catalog row, or the size of a part that is in none.
    pub name: String,
    /// Its probability.
    pub probability: f64,
    /// The kind of bearing, where it is one.
    pub bearing_kind: Option<BearingKind>,
    /// Where the row comes from.
    pub source: String,
}

/// A check with its outcome.
#[derive(Debug, Clone)]
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

/// Something that the shafts need and the sheet does not hold.
#[derive(Debug, Clone)]
pub struct Missing {
    /// What would fill the gap, the handiest first.
    pub measurands: Vec<Measurand>,
    /// The part that it would identify, where it is one.
    pub part: Option<PartKind>,
    /// The side, where it is missing on one.
    pub side: Option<Side>,
    /// In plain words.
    pub words: String,
}

/// The cautions that every review, drawing and paper shows.
pub const CAUTIONS: [&str; 8] = [
    "This supports and does not replace the judgement of a qualified person.",
    "Local law on vehicle modification and licensed practice come first.",
    "Press on the inner ring only, behind a shield.",
    "A new lock ring every time, pressed on dry.",
    "No torch near ring or bearing.",
    "No heat to straighten a shaft.",
    "Work on rated stands.",
    "Re-torque the wheel nuts after 50 to 100 miles (80 to 160 km).",
];

impl Review {
    /// The dimension of that kind, on that side where the sides differ.
    #[must_use]
    pub fn dimension(&self, kind: DimensionKind, side: Option<Side>) -> Option<&Dimension> {
        self.dimensions.iter().find(|dimension| dimension.kind == kind && dimension.side == side)
    }
}

//! The domain of Axlewright: order sheet, dimension chain, identification of parts, fit conditions, and [`review`].
//!
//! A sheet of hand measurements goes in, a reasoned verdict comes out. The crate does no I/O, reads no clock and draws no
//! random numbers: the same sheet and the same catalog give the same [`Review`].

mod assemble;
mod block;
mod blocks;
mod candidates;
mod chain;
mod checks;
mod choices;
mod circle;
mod confirm;
mod correction;
mod decide;
mod demand;
mod demands;
mod dimension_kind;
mod evidence;
mod explanations;
mod face;
mod fit;
mod fitted;
mod geometry;
mod hands;
mod identify;
pub mod learn;
mod meanings;
mod missing;
mod outlook;
mod proof;
mod questions;
mod review;
mod scatter;
mod sheet;
pub mod simulate;
mod slips;
mod spline;
mod trace;
mod trim;
mod truth;
mod verdict;
mod worth;

pub use assemble::{review, review_without_questions};
pub use catalog::{BearingKind, BrakeKind, Catalog, Measurand, Sides};
pub use fitted::{
    Fitted, FittedAccessHole, FittedBearing, FittedBrake, FittedDifferential, FittedHousingEnd, FittedShaft,
    FittedSide, FittedSize, FittedSpline, OverPins,
};
pub use proof::{
    AssumedInput, CaseProof, FigureKind, LoadCase, NotProved, Outcome, Proof, ProofCheck, ProofFigure, ProofKind,
    SafetyRange, Sensitivity, StatedInput, StationProof,
};
pub use reconcile::ModelError;
pub use review::{
    Basis, CAUTIONS, Candidate, Check, ConditionReview, Consequence, Correction, Dimension, DimensionKind,
    ExplanationReview, Identified, Missing, MistakeReview, PartKind, Probability, Question, ReadingReview, Reason,
    Review, ScatterReview, TakenAsReview, TraceStep, TrimPlan, Verdict,
};
pub use sheet::{
    AccessHole, BrakeClaim, Fitting, LoadClaims, Parts, Reading, Retainer, Sheet, Side, SteelClaim, TakenAs, Use,
    Value, read_sheet, read_truth,
};

pub use truth::{TrueParts, TrueSize, Truth};

/// The unit that leads where lengths are printed: that of the sheet, or inches.
#[must_use]
pub fn leading(sheet: &Sheet) -> quantity::Leading {
    match sheet.unit {
        Some(unit) if unit.is_metric() => quantity::Leading::Millimetres,
        _ => quantity::Leading::Inches,
    }
}

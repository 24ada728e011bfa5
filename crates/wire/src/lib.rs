//! What goes out as JSON: types of its own, so that the core may change its shape without a reader noticing.
//!
//! The module `convert` is the only place where a core type becomes one of these; `schema` describes them to other programs.

mod calculation;
mod convert;
mod fault;
mod fitted;
mod number;
mod output;
mod proof;
mod review;
mod schema;

pub use calculation::{Calculation, calculation, calculation_schema_text};
pub use convert::{explained, review};
pub use fault::{Fault, UnreadSheet};
pub use fitted::{
    BrakeKind, Fitted, FittedBearing, FittedBrake, FittedDifferential, FittedHousingEnd, FittedShaft, FittedSide,
    FittedSize, FittedSpline, OverPins,
};
pub use number::Length;
pub use output::{Output, SheetOutput};
pub use proof::{
    AssumedInput, CaseProof, LoadCase, NotProved, Outcome, Proof, ProofCheck, ProofKind, SafetyRange, Sensitivity,
    StatedInput, StationProof,
};
pub use review::{
    Basis, BearingKind, Candidate, Check, Condition, Consequence, Correction, Dimension, DimensionKind, Explained,
    Explanation, FurtherReading, Identified, LikelyMistake, Missing, Mistake, PartKind, Question, Reading, Reason,
    Review, Side, TakenAs, TraceStep, Trim, Verdict,
};
pub use schema::schema_text;

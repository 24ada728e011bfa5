//! Linear-Gaussian data reconciliation with readings that may mean something else than they say.
//!
//! The unknowns have normal priors; a reading is a linear form of them plus a normal error; a [`Mistake`] gives one or
//! several readings another meaning, at a rate that is known beforehand; a [`Model`] is one choice of what else is given.
//! [`explain`] weighs every explanation and returns the [`Mixture`] of their posteriors, from which come values and
//! uncertainties, the probability that a reading is mistaken, the probability that conditions hold together, and the worth
//! of a further reading. [`classical`] is the usual least-squares test beside it.
//!
//! The crate knows nothing of what the numbers stand for. It reads no clock, draws no random numbers and uses no threads.

mod classical;
mod exchange;
mod explanation;
mod factor;
mod form;
mod further_reading;
mod joint;
mod marginal;
mod mixture;
mod model;
mod normal;
mod orthogonal;
mod pairs;
mod posterior;
mod projection;
mod rough;
mod search;

pub use classical::{Classical, classical};
pub use explanation::{Explanation, MistakeSet, Options, explain};
pub use form::Form;
pub use further_reading::FurtherReading;
pub use joint::{Bounded, Joint};
pub use marginal::{Marginal, MarginalPart};
pub use mixture::{Kept, Mixture};
pub use model::{Evidence, Mistake, Model, ModelError, Place, Prior};
pub use posterior::Normal;
pub use projection::{Between, Part, Projection, Seen};

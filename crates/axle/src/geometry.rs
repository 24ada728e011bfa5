//! What a topic of the order (the chain, the bolt circle, the spline, the face) tells the reconciliation.

use catalog::{Measurand, MistakeKind};
use reconcile::{Form, Prior};

use crate::evidence::Taken;
use crate::sheet::Side;

/// The geometry of one topic under one choice of parts.
pub(crate) trait Geometry {
    /// What is known of each unknown beforehand, in millimetres or counts.
    fn priors(&self) -> Vec<Prior>;

    /// Each unknown in words, and where what is known of it beforehand comes from.
    fn unknowns(&self) -> Vec<(&'static str, String)>;

    /// The form that a reading claims to be; none where the topic has no such measurand.
    fn form(&self, measurand: Measurand, side: Option<Side>) -> Option<Form>;

    /// Whether it makes sense to ask for a reading: five holes have no opposite one to measure to.
    fn can_be_taken(&self, _measurand: Measurand) -> bool {
        true
    }

    /// The form that this very reading claims to be, where that depends on more than measurand and side.
    fn form_of(&self, taken: &Taken<'_>) -> Option<Form> {
        self.form(taken.measurand, taken.side)
    }

    /// What a reading means where this mistake of the wrong thing, the wrong face or the wrong place was made, or none
    /// where it cannot befall that measurand. Slips of fixed size and of the pen are not geometry and live in `slips`.
    fn mistaken(&self, kind: MistakeKind, taken: &Taken<'_>) -> Option<Form>;

    /// Mistakes that confuse several readings with each other.
    fn tied(&self, _taken: &[Taken<'_>]) -> Vec<Tie> {
        Vec::new()
    }
}

/// A mistake that spoils several readings together.
pub(crate) struct Tie {
    pub kind: MistakeKind,
    /// Whether it is made throughout, as often as the catalog says for all readings together.
    pub whole: bool,
    /// The readings by their place in the topic, with what they then mean.
    pub readings: Vec<(usize, Form)>,
}

/// What is usual: a broad prior from a range, its mean ± one standard deviation.
pub(crate) fn usual(range: (f64, f64)) -> Prior {
    Prior { mean: 0.5 * (range.0 + range.1), standard_deviation: 0.5 * (range.1 - range.0), firm: false }
}

/// A size from a table of parts.
pub(crate) fn known(mean: f64, standard_deviation: f64) -> Prior {
    Prior { mean, standard_deviation, firm: true }
}

/// A size that is only typical.
pub(crate) fn typical(mean: f64, standard_deviation: f64) -> Prior {
    Prior { mean, standard_deviation, firm: false }
}

//! Several readings that are taken in one go.

use crate::measurand::Measurand;
use crate::provenance::Source;

/// One row of `inquiries.toml`: a way of getting several readings at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Inquiry {
    /// What it is known by.
    pub name: String,
    /// The request, as the customer hears it.
    pub words: String,
    /// How it is done.
    pub how: String,
    /// The measurands that it gives, each on every side that is wanted, with its better instrument.
    pub readings: Vec<Measurand>,
    /// Whether there must be an old shaft for it.
    pub needs_old_shaft: bool,
    /// Effort in minutes for the one who measures.
    pub effort_minutes: f64,
    /// Where the row comes from.
    pub source: Source,
}

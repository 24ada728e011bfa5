//! What the shop found on the finished shafts and wrote down beside them, as the papers carry it.

use axle::{DimensionKind, Side};

/// What was measured or written down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FoundWhat {
    /// A size of the shaft.
    Size(DimensionKind),
    /// The size of the spline over two pins.
    OverPins,
    /// The force that the bearing took to press on.
    BearingPressForce,
    /// The force that the lock ring took to press on.
    RingPressForce,
    /// The heat that the steel is of.
    HeatNumber,
}

/// One thing that was found, as it was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// What.
    pub what: FoundWhat,
    /// On which shaft; none where it was said of all of them.
    pub side: Option<Side>,
    /// As it was written, with its unit.
    pub words: String,
    /// Whether it lies within its limits; none where nothing is required, or it cannot be held against what is.
    pub passes: Option<bool>,
    /// Who wrote it down.
    pub who: String,
    /// On which day, such as `2026-03-04`.
    pub day: String,
}

impl Found {
    /// Whether it is of this shaft.
    pub(crate) fn is_of(&self, side: Side) -> bool {
        self.side.is_none_or(|of| of == side)
    }
}

/// What was found of one thing on one shaft, the latest first.
pub(crate) fn of(found: &[Found], what: FoundWhat, side: Side) -> impl Iterator<Item = &Found> {
    found.iter().rev().filter(move |one| one.what == what && one.is_of(side))
}

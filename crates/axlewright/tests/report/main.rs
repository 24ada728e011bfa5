//! The report and the JSON of reviews that are made by hand, so that every part of a review is shown once.
//!
//! The snapshots are regression tests: they hold the shape that was looked at and found good.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

mod json;
mod made;
mod snapshots;
mod text;

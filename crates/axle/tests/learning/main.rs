//! Learning from finished orders: what is recovered of people whose rates and uncertainties are known, what a review gains by it,
//! and what has to hold whatever was read.
//!
//! The orders are simulated with fixed seeds, so the counts are the same at every run.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod contract;
mod demo_orders;
mod outside_reference;
mod people;
mod recovery;
mod review;
mod truth_faults;

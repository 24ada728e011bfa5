//! The calculations through the program itself: published values, input that cannot be used, and the shape of the pages.
//!
//! A test that is named after an outside source holds the program against it; the snapshots are regression tests: they hold
//! the shape that was looked at and found good.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may fail where it stands")]

mod bearing;
mod bolt_circle;
mod fit;
mod page;
mod program;
mod spline;
mod stud;

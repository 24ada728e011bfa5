//! Who gets in, and what gets nobody in.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod desk_access {
    pub mod attacks;
    pub mod behind;
    pub mod matrix;
    pub mod signing_in;
    pub mod wire;
}
mod desk_under_test;

//! What the desk does not let go wrong: papers of what was made, bounds that nobody loosens unasked, and people who wait for work in
//! the background.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod desk_guards {
    pub mod giving_way;
    pub mod one_folder;
    pub mod refusals;
    pub mod reprints;
    pub mod weakenings;
}
mod desk_under_test;

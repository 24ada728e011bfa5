//! The desk as a process of its own: killed while it writes, told to stop while it answers, started where it cannot be.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod desk_faults {
    pub mod killed;
    pub mod process;
    pub mod refused;
    pub mod stopped;
}
#[allow(dead_code, reason = "only the tests of the book kill the server")]
#[path = "../../book/tests/book/server.rs"]
mod server;

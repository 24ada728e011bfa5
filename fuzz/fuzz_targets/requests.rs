//! Feeds `request::request`, with every route that the desk has.
#![no_main]

#[path = "../../crates/axlewright/tests/hostile_input/request.rs"]
mod request;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| request::request(bytes));

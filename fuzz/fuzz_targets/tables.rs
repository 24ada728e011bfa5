//! Feeds `feed::table`.
#![no_main]
#![allow(dead_code, reason = "each target feeds one door")]

#[path = "../../crates/axlewright/tests/hostile_input/feed.rs"]
mod feed;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| feed::table(bytes));

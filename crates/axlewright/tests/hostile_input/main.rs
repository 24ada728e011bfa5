//! Bytes of strangers at every door: the inputs that are kept from fuzzing, and changed ones of them.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod feed;
mod request;

use std::path::PathBuf;

use proptest::prelude::{ProptestConfig, any, prop};
use proptest::test_runner::TestRunner;

/// The seeds of a door: what fuzzing began with, and what it found and was mended since.
fn seeds(door: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../fuzz/seeds").join(door);
    let mut files: Vec<PathBuf> = folder.read_dir().unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    assert!(!files.is_empty(), "no seeds in {}", folder.display());
    files.into_iter().map(|path| (path.clone(), std::fs::read(&path).unwrap())).collect()
}

fn doors() -> Vec<feed::Door> {
    let mut doors = feed::DOORS.to_vec();
    doors.push(("requests", request::request));
    doors
}

#[test]
fn every_seed_goes_through_its_door() {
    for (door, feed) in doors() {
        for (path, bytes) in seeds(door) {
            println!("{}", path.display());
            feed(&bytes);
        }
    }
}

/// What happens to an input: at a place, bytes are put in, taken out, written over or doubled.
fn changed(bytes: &[u8], changes: &[(u16, u8, Vec<u8>)]) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    for (place, what, with) in changes {
        let at = usize::from(*place) % (bytes.len() + 1);
        let end = (at + with.len()).min(bytes.len());
        match what % 4 {
            0 => drop(bytes.splice(at..at, with.iter().copied())),
            1 => drop(bytes.drain(at..end)),
            2 => drop(bytes.splice(at..end, with.iter().copied())),
            _ => {
                let piece = bytes[at..end].to_vec();
                drop(bytes.splice(at..at, piece));
            }
        }
    }
    bytes
}

/// So many changed inputs at each door; `PROPTEST_CASES` asks for more.
const CASES: u32 = 64;

#[test]
fn changed_seeds_go_through_every_door_as_well() {
    for (door, feed) in doors() {
        let seeds = seeds(door);
        let mut config = ProptestConfig { failure_persistence: None, ..ProptestConfig::default() };
        if std::env::var_os("PROPTEST_CASES").is_none() {
            config.cases = CASES;
        }
        let change = (any::<u16>(), any::<u8>(), prop::collection::vec(any::<u8>(), 1..12));
        let input = (any::<prop::sample::Index>(), prop::collection::vec(change, 1..6));
        TestRunner::new_with_rng(config, proptest::test_runner::TestRng::deterministic_rng(Default::default()))
            .run(&input, |(seed, changes)| {
                feed(&changed(&seed.get(&seeds).1, &changes));
                Ok(())
            })
            .unwrap_or_else(|error| panic!("{door}: {error}"));
    }
}

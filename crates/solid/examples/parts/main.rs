//! Writes STEP files of invented parts for programs that read such files.
//!
//! - `cargo run -p solid --example parts -- fixed FOLDER` writes the parts that lie in `validation/solid/parts`.
//! - `cargo run -p solid --example parts -- sweep FOLDER` writes several hundred parts, and `expected.csv` beside them
//!   with what this crate says of each.

mod named;
mod shaft;
mod sweep;

use std::error::Error;
use std::fmt::Write;
use std::fs;
use std::path::Path;

use solid::{RevolvedPart, Solid, StepHeader};

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["fixed", folder] => write_all(Path::new(folder), &named::parts(), false),
        ["sweep", folder] => write_all(Path::new(folder), &sweep::parts(), true),
        _ => Err("usage: parts fixed FOLDER, or parts sweep FOLDER".into()),
    }
}

fn write_all(folder: &Path, parts: &[(String, RevolvedPart)], with_expected: bool) -> Result<(), Box<dyn Error>> {
    fs::create_dir_all(folder)?;
    let mut expected = String::from("part,volume_mm3,area_mm2,faces,holes\n");
    for (name, part) in parts {
        let solid = Solid::new(part).map_err(|error| format!("{name}: {error}"))?;
        fs::write(folder.join(format!("{name}.step")), solid.to_step(&header(name))?)?;
        let (volume, area, faces) = (solid.volume_mm3(), solid.area_mm2(), solid.shell().faces.len());
        writeln!(expected, "{name},{volume},{area},{faces},{}", part.holes.len())?;
    }
    if with_expected {
        fs::write(folder.join("expected.csv"), expected)?;
    }
    println!("{} parts in {}", parts.len(), folder.display());
    Ok(())
}

fn header(name: &str) -> StepHeader<'_> {
    StepHeader { name, time_stamp: "2026-01-31T08:30:00", ..StepHeader::default() }
}

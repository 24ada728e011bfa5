//! From TOML text to a checked catalog.
//!
//! One file a topic, here as in `catalog/`: every module of this folder reads the rows of one file and knows what a sound
//! row looks like. What they share (a row that extends an earlier one, lists of named rows) stands in `row` and `rows`.

mod bearings;
mod bolt_circles;
mod brakes;
mod differentials;
mod housing_ends;
mod inquiries;
mod instruments;
mod learning_settings;
mod loads;
mod measurands;
mod mistakes;
mod proof_settings;
mod row;
mod rows;
mod settings;
mod splines;
mod steels;
mod studs;

use placed::{Document, Faults};
use quantity::nearest_word;

use crate::Catalog;
use crate::inquiry::Inquiry;
use crate::load_input::LoadBound;
use crate::parts::{Bearing, BoltCircleRow, Brake, Differential, HousingEnd, SplineSeries, Steel, Stud};
use crate::shipped::{FILES, File, LEARNED_FILES};

use rows::read_rows;

/// Reads the shipped files, or the texts that stand in for them, and on top of them those of a shop.
pub(crate) fn load(instead: &[(String, String)], folder: &[(String, String)]) -> Result<Catalog, Faults> {
    let text_of = |name: &str, shipped: &'static str| -> &str {
        instead.iter().find(|(known, _)| known == name).map_or(shipped, |(_, text)| text)
    };
    let mut documents: Vec<(File, Document)> =
        FILES.iter().map(|(file, name, text)| (*file, Document::parse(name, text_of(name, text)))).collect();
    let mut strangers = Vec::new();
    // What was learned stands on top of what was written by hand, however the files are called.
    let (learned, own): (Vec<_>, Vec<_>) = folder.iter().partition(|(path, _)| is_learned_file(path));
    for (path, text) in own.into_iter().chain(learned) {
        let document = Document::parse(path, text);
        match file_of(path) {
            Ok(file) => documents.push((file, document)),
            Err(accepted) => {
                document.root().fault(format!("{path:?} is not a file of the catalog"), accepted);
                strangers.push(document);
            }
        }
    }
    let catalog = assemble(&documents);
    let mut faults = Faults::default();
    for document in documents.iter().map(|(_, document)| document).chain(&strangers) {
        faults = faults.merge(document.faults());
    }
    match catalog {
        Some(catalog) if faults.is_empty() => Ok(catalog),
        // A missing part is always a fault of its file; an error without any would tell nobody anything.
        None if faults.is_empty() => Document::parse("the catalog", "").outcome(None),
        _ => Err(faults),
    }
}

/// The last part of a path.
fn name_of(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}

/// Whether a file of a shop's folder is one that was learned from finished orders, by its name.
///
/// ```
/// assert!(catalog::is_learned_file("our-catalog/learned_mistakes.toml"));
/// assert!(!catalog::is_learned_file("our-catalog/mistakes.toml"));
/// ```
#[must_use]
pub fn is_learned_file(path: &str) -> bool {
    LEARNED_FILES.iter().any(|(_, known)| *known == name_of(path))
}

/// The topic of a file, by the last part of its path; or what would be accepted.
fn file_of(path: &str) -> Result<File, String> {
    let name = name_of(path);
    let known = || FILES.iter().map(|(file, name, _)| (*file, *name)).chain(LEARNED_FILES);
    let names = known().map(|(_, name)| name);
    match known().find(|(_, known)| *known == name) {
        Some((file, _)) => Ok(file),
        None => Err(match nearest_word(name, names.clone()) {
            Some(near) => format!("{near}, perhaps; the files are {}", names.collect::<Vec<_>>().join(", ")),
            None => format!("one of {}", names.collect::<Vec<_>>().join(", ")),
        }),
    }
}

/// Puts the catalog together; nothing where a file is so wrong that a part of the catalog is missing, which is then among
/// the faults of its document.
fn assemble(documents: &[(File, Document)]) -> Option<Catalog> {
    let of = |file: File| -> Vec<&Document> {
        documents.iter().filter(|(topic, _)| *topic == file).map(|(_, document)| document).collect()
    };
    let instruments = read_rows(&of(File::Instruments));
    let measurands = measurands::read(&of(File::Measurands), &instruments);
    let mistakes = mistakes::read(&of(File::Mistakes));
    let bearings = read_rows::<Bearing>(&of(File::Bearings)).rows;
    let housing_ends = read_rows::<HousingEnd>(&of(File::HousingEnds)).rows;
    let splines = read_rows::<SplineSeries>(&of(File::Splines)).rows;
    let bolt_circles = read_rows::<BoltCircleRow>(&of(File::BoltCircles)).rows;
    let studs = read_rows::<Stud>(&of(File::Studs)).rows;
    let brakes = read_rows::<Brake>(&of(File::Brakes)).rows;
    let differentials = read_rows::<Differential>(&of(File::Differentials)).rows;
    let steels = read_rows::<Steel>(&of(File::Steels)).rows;
    let inquiries = read_rows::<Inquiry>(&of(File::Inquiries)).rows;
    let loads = read_rows::<LoadBound>(&of(File::Loads)).rows;
    let settings = settings::read(&of(File::Settings));
    let measurands = measurands?;
    Some(Catalog {
        named: measurands::named_instruments(&measurands, &instruments.rows)?,
        measurands,
        instruments: instruments.rows,
        mistakes: mistakes?,
        bearings,
        housing_ends,
        splines,
        bolt_circles,
        studs,
        brakes,
        differentials,
        steels,
        inquiries,
        loads,
        settings: settings?,
    })
}

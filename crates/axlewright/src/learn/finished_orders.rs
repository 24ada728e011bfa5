//! Reads finished orders: sheets and truths, which belong together by the order's reference.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use axle::learn::FinishedOrder;
use axle::{Sheet, Truth};
use catalog::Catalog;
use placed::{Document, Faults};

use crate::streams::Streams;
use shop_folder::Unreadable;

/// What a folder of finished orders holds.
const WANTED: &str = "a folder with order sheets and their truths, *.toml files";

/// The orders that can be learned from.
pub struct Orders {
    /// Sheet and truth of each.
    pub finished: Vec<FinishedOrder>,
    /// How many sheets have no truth yet.
    pub without_truth: usize,
}

/// Reads every file. Nothing comes back where one cannot be used; every fault is then written to the error output.
///
/// # Errors
///
/// A stream takes no more.
pub fn read(paths: &[PathBuf], catalog: &Catalog, streams: &mut Streams) -> io::Result<Option<Orders>> {
    let mut sheets: BTreeMap<String, (String, Sheet)> = BTreeMap::new();
    let mut truths: BTreeMap<String, (String, Truth)> = BTreeMap::new();
    let mut faults = Faults::default();
    let mut sound = true;
    for file in files(paths, streams, &mut sound)? {
        let name = file.display().to_string();
        let text = match shop_folder::read(&file, "an order sheet or a truth: a text file in TOML, saved as UTF-8") {
            Ok(text) => text,
            Err(unreadable) => {
                streams.complain_of_file(&name, &unreadable)?;
                sound = false;
                continue;
            }
        };
        let read = match kind_of(&name, &text) {
            Kind::Sheet => axle::read_sheet(&name, &text, catalog)
                .map(|sheet| twice(&mut sheets, sheet.reference.clone(), &name, sheet, "sheet")),
            Kind::Truth => axle::read_truth(&name, &text, catalog)
                .map(|truth| twice(&mut truths, truth.order.clone(), &name, truth, "truth")),
            Kind::Neither(why) => Err(why),
        };
        match read {
            Ok(None) => {}
            Ok(Some((name, doubled))) => {
                streams.complain_of_file(&name, &doubled)?;
                sound = false;
            }
            Err(found) => faults = faults.merge(found),
        }
    }
    if !faults.is_empty() {
        streams.complain(&faults.to_string())?;
        sound = false;
    }
    let mut finished = Vec::new();
    for (reference, (name, truth)) in truths {
        match sheets.remove(&reference) {
            Some((_, sheet)) => finished.push(FinishedOrder { sheet, truth }),
            // A sheet that could not be read is complained of already.
            None if sound => {
                let alone = Unreadable {
                    problem: format!("no sheet among these files has the reference {reference:?}"),
                    accepted: "a truth beside the order sheet that it belongs to".to_owned(),
                };
                streams.complain_of_file(&name, &alone)?;
                sound = false;
            }
            None => {}
        }
    }
    Ok(sound.then_some(Orders { finished, without_truth: sheets.len() }))
}

/// Keeps a sheet or a truth by its reference; complains where another has it already.
fn twice<T>(
    kept: &mut BTreeMap<String, (String, T)>,
    reference: String,
    name: &str,
    found: T,
    what: &str,
) -> Option<(String, Unreadable)> {
    if let Some((other, _)) = kept.get(&reference) {
        let doubled = Unreadable {
            problem: format!("{other} is a {what} with the reference {reference:?} as well"),
            accepted: format!("one {what} for each order, so that nothing is learned twice"),
        };
        return Some((name.to_owned(), doubled));
    }
    kept.insert(reference, (name.to_owned(), found));
    None
}

/// What a file is, by its sections.
enum Kind {
    Sheet,
    Truth,
    Neither(Faults),
}

fn kind_of(name: &str, text: &str) -> Kind {
    let document = Document::parse(name, text);
    let root = document.root();
    let (sheet, truth) = (root.has("order"), root.has("truth"));
    match (sheet, truth) {
        (true, false) => Kind::Sheet,
        (false, true) => Kind::Truth,
        // Where the syntax hides what it is, its own faults are what helps.
        (false, false) if !document.faults().is_empty() => Kind::Neither(document.faults()),
        (false, false) => {
            root.fault("this is neither an order sheet nor a truth", "a file with [order] or with [truth]");
            Kind::Neither(document.faults())
        }
        (true, true) => {
            root.fault("this is an order sheet and a truth in one", "a file with [order], and another with [truth]");
            Kind::Neither(document.faults())
        }
    }
}

/// The files that were named, and those of the folders that were named, each once and by name.
fn files(paths: &[PathBuf], streams: &mut Streams, sound: &mut bool) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for path in paths {
        if !path.is_dir() {
            files.push(path.clone());
            continue;
        }
        match shop_folder::toml_files(path, WANTED) {
            Ok(found) => files.extend(found),
            Err(unreadable) => {
                streams.complain_of_file(&path.display().to_string(), &unreadable)?;
                *sound = false;
            }
        }
    }
    files.sort_by(|one: &PathBuf, other| Path::cmp(one, other));
    files.dedup();
    Ok(files)
}

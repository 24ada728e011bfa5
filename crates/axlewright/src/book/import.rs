//! `axlewright book import`.

use std::io;
use std::path::{Path, PathBuf};

use book::{Book, BookError, Details, MarkedCatalog, Person, ReviewedSheet, RowFault, RowSheet};
use jiff::Timestamp;

use super::arguments::ImportOrders;
use super::{marked_catalog, refused};
use crate::exit_status::ExitStatus;
use crate::streams::Streams;
use shop_folder::Unreadable;

/// The largest table that is read, in bytes.
const LARGEST_TABLE: u64 = 64 * 1024 * 1024;
const ACCEPTED: &str = "order sheets (.toml), tables (.csv, .xlsx), or folders of them";

/// Takes orders in.
pub(super) async fn import(
    place: &str,
    arguments: &ImportOrders,
    who: &Person,
    streams: &mut Streams,
) -> io::Result<ExitStatus> {
    let Some(catalog) = marked_catalog(arguments.catalog.as_deref(), streams)? else {
        return Ok(ExitStatus::Unusable);
    };
    let mut orders = Vec::new();
    let mut sound = true;
    for named in &arguments.files {
        for file in files_in(named) {
            match file.and_then(|path| read(&path, &catalog)) {
                Ok(more) => orders.extend(more),
                Err(words) => {
                    streams.complain(&words)?;
                    sound = false;
                }
            }
        }
    }
    if !sound {
        streams.complain("Nothing was taken in: an import is all or nothing.")?;
        return Ok(ExitStatus::Unusable);
    }
    let outcome = async {
        let book = Book::open(place, Timestamp::now()).await?;
        let lines = book.import(&orders, who, Timestamp::now()).await?;
        book.close().await;
        Ok::<_, BookError>(lines)
    };
    match outcome.await {
        Ok(lines) => {
            let numbers = match (lines.first(), lines.last()) {
                (Some(first), Some(last)) => format!(", numbers {} to {}", first.number, last.number),
                _ => String::new(),
            };
            streams.print(&format!("{place}: {} orders taken in{numbers}\n", lines.len()))?;
            Ok(ExitStatus::AllCut)
        }
        Err(error) => refused(&error, streams),
    }
}

/// The files that a name stands for: itself, or those of a folder that can be read, by name.
fn files_in(named: &Path) -> Vec<Result<PathBuf, String>> {
    if !named.is_dir() {
        return vec![Ok(named.to_owned())];
    }
    let refuse = |problem: &str| format!("{}: {problem}\n  accepted: {ACCEPTED}", named.display());
    let entries = match named.read_dir() {
        Ok(entries) => entries,
        Err(error) => return vec![Err(refuse(&shop_folder::words_for(&error)))],
    };
    let mut files: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| matches!(kind_of(path).as_str(), "toml" | "csv" | "xlsx"))
        .collect();
    files.sort();
    if files.is_empty() {
        vec![Err(refuse("the folder holds none that can be read"))]
    } else {
        files.into_iter().map(Ok).collect()
    }
}

fn kind_of(path: &Path) -> String {
    path.extension().map(|extension| extension.to_string_lossy().to_lowercase()).unwrap_or_default()
}

/// The orders of one file, or every fault in it.
fn read(path: &Path, catalog: &MarkedCatalog) -> Result<Vec<(ReviewedSheet, Details)>, String> {
    let name = path.display().to_string();
    let unreadable = |file: Unreadable| format!("{name}: {}\n  accepted: {}", file.problem, file.accepted);
    match kind_of(path).as_str() {
        "toml" => {
            let text =
                shop_folder::read(path, "an order sheet: a text file in TOML, saved as UTF-8").map_err(unreadable)?;
            let reviewed = ReviewedSheet::read(&name, &text, catalog).map_err(|error| error.to_string())?;
            Ok(vec![(reviewed, Details::default())])
        }
        "csv" => reviewed(book::read_csv(&name, &bytes(path)?), catalog),
        "xlsx" => reviewed(book::read_xlsx(&name, &bytes(path)?), catalog),
        _ => Err(format!("{name}: this is no file that orders can be read from\n  accepted: {ACCEPTED}")),
    }
}

fn bytes(path: &Path) -> Result<Vec<u8>, String> {
    let refuse = |problem: String| format!("{}: {problem}\n  accepted: a table of at most 64 MiB", path.display());
    let size = std::fs::metadata(path).map_err(|error| refuse(shop_folder::words_for(&error)))?.len();
    if size > LARGEST_TABLE {
        return Err(refuse("the file is too large".to_owned()));
    }
    std::fs::read(path).map_err(|error| refuse(shop_folder::words_for(&error)))
}

/// Reviews every row; the faults of all rows come together.
fn reviewed(
    rows: Result<Vec<RowSheet>, Vec<RowFault>>,
    catalog: &MarkedCatalog,
) -> Result<Vec<(ReviewedSheet, Details)>, String> {
    let words = |faults: Vec<RowFault>| faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    let mut orders = Vec::new();
    let mut faults = Vec::new();
    for row in rows.map_err(words)? {
        match row.review(catalog) {
            Ok(reviewed) => orders.push((reviewed, row.details().clone())),
            Err(more) => faults.extend(more),
        }
    }
    if faults.is_empty() { Ok(orders) } else { Err(words(faults)) }
}

//! `axlewright book import`.

use std::io;
use std::path::{Path, PathBuf};

use book::{
    Book, BookError, Details, DetailsRow, ExportedOrder, MarkedCatalog, Person, ReviewedSheet, RowFault, RowSheet,
    State,
};
use jiff::Timestamp;

use super::arguments::ImportOrders;
use super::{marked_catalog, refused};
use crate::exit_status::ExitStatus;
use crate::streams::Streams;
use shop_folder::Unreadable;

/// The largest table that is read, in bytes.
const LARGEST_TABLE: u64 = 64 * 1024 * 1024;
/// The largest export: a hundred thousand orders with their logs.
const LARGEST_EXPORT: u64 = 4 * 1024 * 1024 * 1024;
const ACCEPTED: &str = "order sheets (.toml), tables (.csv, .xlsx), orders.json of an export, or folders of them";
/// The file that an export holds everything in.
const EXPORT: &str = "orders.json";

/// Everything that is to be taken in.
#[derive(Debug, Default)]
struct Incoming {
    /// Sheets, beside which nothing stands yet.
    sheets: Vec<ReviewedSheet>,
    /// Rows of tables.
    rows: Vec<(ReviewedSheet, Details)>,
    /// Orders of another book.
    exported: Vec<ExportedOrder>,
}

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
    let mut incoming = Incoming::default();
    let mut sound = true;
    for named in &arguments.files {
        for file in files_in(named) {
            if let Err(words) = file.and_then(|path| read(&path, &catalog, &mut incoming)) {
                streams.complain(&words)?;
                sound = false;
            }
        }
    }
    let Incoming { sheets, mut rows, exported } = incoming;
    let mut without = 0;
    match beside(sheets, arguments, sound) {
        Ok((sheets, alone)) => {
            without = alone;
            rows.splice(0..0, sheets);
        }
        Err(words) => {
            streams.complain(&words)?;
            sound = false;
        }
    }
    if !sound {
        streams.complain("Nothing was taken in: an import is all or nothing.")?;
        return Ok(ExitStatus::Unusable);
    }
    let outcome = async {
        let book = Book::open(place, Timestamp::now()).await?;
        let lines = book.take_over(&exported, &rows, who, Timestamp::now()).await?;
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
            if without > 0 {
                streams.print(&format!("The table of --details does not speak of {without} of the sheets.\n"))?;
            }
            for (order, line) in exported.iter().zip(&lines) {
                if line.state == State::Questioned && order.state() != State::Questioned {
                    let (was, verdict) = (order.state(), line.judgement.words());
                    streams
                        .print(&format!("{}: was {was}, is questioned: the review says {verdict}\n", line.reference))?;
                }
            }
            Ok(ExitStatus::AllCut)
        }
        Err(error) => refused(&error, streams),
    }
}

/// Puts beside each sheet what the table or the options say; tells how many the table does not speak of.
fn beside(
    sheets: Vec<ReviewedSheet>,
    arguments: &ImportOrders,
    sound: bool,
) -> Result<(Vec<(ReviewedSheet, Details)>, usize), String> {
    let all = Details {
        customer: arguments.customer.clone().unwrap_or_default(),
        contact: arguments.contact.clone().unwrap_or_default(),
        vehicle: arguments.vehicle.clone().unwrap_or_default(),
        due: arguments.due,
    };
    let is_asked_for = all != Details::default() || arguments.details.is_some();
    if sheets.is_empty() && is_asked_for && sound {
        return Err(
            "there is no sheet that customer, contact, vehicle or due could stand beside\n  accepted: order sheets \
                    (.toml); tables and exports bring their own"
                .to_owned(),
        );
    }
    let table: Vec<DetailsRow> = match &arguments.details {
        None => Vec::new(),
        Some(path) => {
            book::read_details(&path.display().to_string(), &bytes(path, LARGEST_TABLE)?).map_err(in_lines)?
        }
    };
    // Where a sheet could not be read, its row has nothing to stand beside, and the sheet's own fault says enough.
    if sound && let Some(row) = table.iter().find(|row| !sheets.iter().any(|one| row.is_for(&one.sheet.reference))) {
        let name = arguments.details.as_deref().unwrap_or(Path::new("")).display();
        return Err(format!(
            "{name}, row {}, column `reference`: there is no sheet {}\n  accepted: the reference of a sheet that is taken in",
            row.row, row.reference
        ));
    }
    let mut without = 0;
    let beside = sheets
        .into_iter()
        .map(|sheet| {
            let row = table.iter().find(|row| row.is_for(&sheet.sheet.reference));
            if row.is_none() && arguments.details.is_some() {
                without += 1;
            }
            let details = row.map_or_else(|| all.clone(), |row| row.details.clone());
            (sheet, details)
        })
        .collect();
    Ok((beside, without))
}

/// The files that a name stands for: itself, or those of a folder that can be read, by name. The folder of an export stands for
/// its `orders.json`, which holds its sheets as well.
fn files_in(named: &Path) -> Vec<Result<PathBuf, String>> {
    if !named.is_dir() {
        return vec![Ok(named.to_owned())];
    }
    let export = named.join(EXPORT);
    if export.is_file() {
        return vec![Ok(export)];
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

/// Adds the orders of one file, or tells every fault in it.
fn read(path: &Path, catalog: &MarkedCatalog, incoming: &mut Incoming) -> Result<(), String> {
    let name = path.display().to_string();
    let unreadable = |file: Unreadable| format!("{name}: {}\n  accepted: {}", file.problem, file.accepted);
    match kind_of(path).as_str() {
        "toml" => {
            let text =
                shop_folder::read(path, "an order sheet: a text file in TOML, saved as UTF-8").map_err(unreadable)?;
            incoming.sheets.push(ReviewedSheet::read(&name, &text, catalog).map_err(|error| error.to_string())?);
        }
        "csv" => incoming.rows.extend(reviewed(book::read_csv(&name, &bytes(path, LARGEST_TABLE)?), catalog)?),
        "xlsx" => incoming.rows.extend(reviewed(book::read_xlsx(&name, &bytes(path, LARGEST_TABLE)?), catalog)?),
        "json" => {
            let folder = path.parent().unwrap_or(Path::new(""));
            let photo = |file: &str| std::fs::read(folder.join(file)).map_err(|error| shop_folder::words_for(&error));
            let read = book::read_export(&name, &bytes(path, LARGEST_EXPORT)?, catalog, photo);
            incoming.exported.extend(read.map_err(|faults| faults.join("\n"))?);
        }
        _ => return Err(format!("{name}: this is no file that orders can be read from\n  accepted: {ACCEPTED}")),
    }
    Ok(())
}

fn bytes(path: &Path, largest: u64) -> Result<Vec<u8>, String> {
    let mebibytes = largest / 1024 / 1024;
    let refuse =
        |problem: String| format!("{}: {problem}\n  accepted: a file of at most {mebibytes} MiB", path.display());
    let size = std::fs::metadata(path).map_err(|error| refuse(shop_folder::words_for(&error)))?.len();
    if size > largest {
        return Err(refuse("the file is too large".to_owned()));
    }
    std::fs::read(path).map_err(|error| refuse(shop_folder::words_for(&error)))
}

fn in_lines(faults: Vec<RowFault>) -> String {
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

/// Reviews every row; the faults of all rows come together.
fn reviewed(
    rows: Result<Vec<RowSheet>, Vec<RowFault>>,
    catalog: &MarkedCatalog,
) -> Result<Vec<(ReviewedSheet, Details)>, String> {
    let mut orders = Vec::new();
    let mut faults = Vec::new();
    for row in rows.map_err(in_lines)? {
        match row.review(catalog) {
            Ok(reviewed) => orders.push((reviewed, row.details().clone())),
            Err(more) => faults.extend(more),
        }
    }
    if faults.is_empty() { Ok(orders) } else { Err(in_lines(faults)) }
}

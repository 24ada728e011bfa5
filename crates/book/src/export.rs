//! The whole book in open formats: every sheet as a file, every photo, and everything else as JSON.

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

use jiff::Timestamp;
use quantity::LengthExt;
use serde_json::{Value as Json, json};

use crate::Book;
use crate::error::BookError;
use crate::order::Order;
use crate::search::list::{ListRequest, Sort};
use crate::work_record::Amount;

/// What was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ExportSummary {
    /// Orders, with one sheet each.
    pub orders: usize,
    /// Photos.
    pub photos: usize,
}

impl Book {
    /// Writes the book into a new folder: `orders.json`, `sheets/` with the sheet of each order as it stands, `photos/`. Passwords
    /// and sessions are not part of it.
    ///
    /// # Errors
    ///
    /// The folder is there and not empty, a file cannot be written, or the database refuses.
    pub async fn export(&self, folder: &Path, now: Timestamp) -> Result<ExportSummary, BookError> {
        must_be_new(folder)?;
        let sheets = folder.join("sheets");
        let photos = folder.join("photos");
        for made in [&sheets, &photos] {
            std::fs::create_dir_all(made).map_err(|error| BookError::file(made, &error))?;
        }
        let path = folder.join("orders.json");
        let failed = |error: std::io::Error| BookError::file(&path, &error);
        let mut out = BufWriter::new(File::create(&path).map_err(failed)?);
        write!(out, "{{\"exported_at\": {}, \"orders\": [", json!(now.to_string())).map_err(failed)?;

        let mut summary = ExportSummary::default();
        let mut after = None;
        loop {
            let request = ListRequest { sort: Sort::Newest, after, at_most: 200, ..ListRequest::default() };
            let page = self.list(&request).await?;
            for line in page.lines {
                let order = self.order(line.number).await?;
                let file = sheets.join(format!("{:05}-{}.toml", order.line.number, plain(&order.line.reference)));
                std::fs::write(&file, &order.sheet).map_err(|error| BookError::file(&file, &error))?;
                for photo in self.photos(order.line.number).await? {
                    let file = photos.join(photo_file(photo.number, &photo.media_type));
                    let picture = self.photo_picture(photo.number).await?;
                    std::fs::write(&file, picture).map_err(|error| BookError::file(&file, &error))?;
                    summary.photos += 1;
                }
                let comma = if summary.orders > 0 { ",\n" } else { "\n" };
                write!(out, "{comma}{}", self.order_json(&order).await?).map_err(failed)?;
                summary.orders += 1;
            }
            after = page.next;
            if after.is_none() {
                break;
            }
        }
        writeln!(out, "\n]}}").map_err(failed)?;
        out.into_inner().map_err(|error| failed(error.into_error()))?.sync_all().map_err(failed)?;
        Ok(summary)
    }

    /// An order with everything that the book holds of it, as JSON. Times are in UTC.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn order_json(&self, order: &Order) -> Result<Json, BookError> {
        let line = &order.line;
        let number = line.number;
        let revisions: Vec<Json> = self
            .revisions(number)
            .await?
            .into_iter()
            .map(|one| {
                json!({
                    "revision": one.revision,
                    "base": one.base,
                    "at": one.at.to_string(),
                    "who": one.who,
                    "reason": one.reason,
                    "customer": one.details.customer,
                    "contact": one.details.contact,
                    "vehicle": one.details.vehicle,
                    "due": one.details.due.map(|date| date.to_string()),
                    "sheet": one.sheet,
                })
            })
            .collect();
        let readings: Vec<Json> = self
            .reading_history(number)
            .await?
            .into_iter()
            .map(|one| {
                json!({
                    "revision": one.revision,
                    "measurand": one.measurand,
                    "side": one.side,
                    "was": one.was,
                    "becomes": one.becomes,
                })
            })
            .collect();
        let messages: Vec<Json> = self
            .messages(number)
            .await?
            .into_iter()
            .map(|one| json!({"at": one.at.to_string(), "who": one.who, "direction": one.direction.words(), "words": one.words}))
            .collect();
        let photos: Vec<Json> = self
            .photos(number)
            .await?
            .into_iter()
            .map(|one| {
                json!({
                    "file": format!("photos/{}", photo_file(one.number, &one.media_type)),
                    "at": one.at.to_string(),
                    "who": one.who,
                    "name": one.name,
                    "caption": one.caption,
                    "sha256": one.digest,
                })
            })
            .collect();
        let inspections: Vec<Json> = self
            .inspections(number)
            .await?
            .into_iter()
            .map(|one| {
                json!({
                    "revision": one.revision,
                    "at": one.at.to_string(),
                    "who": one.who,
                    "dimension": one.kind.key(),
                    "side": one.side.map(axle::Side::words),
                    "written": one.written,
                    "size_mm": one.size.millimetres(),
                    "passed": one.passed,
                })
            })
            .collect();
        let records: Vec<Json> = self
            .work_records(number)
            .await?
            .into_iter()
            .map(|one| {
                let (amount, pin) = match one.record.amount {
                    Amount::None => (None, None),
                    Amount::Newtons(newtons) => (Some(newtons), None),
                    Amount::OverPins { size, pin } => (Some(size.millimetres()), Some(pin.millimetres())),
                };
                json!({
                    "revision": one.revision,
                    "at": one.at.to_string(),
                    "who": one.who,
                    "kind": one.record.kind.key(),
                    "side": one.record.side.map(axle::Side::words),
                    "written": one.record.written,
                    "amount": amount,
                    "pin_mm": pin,
                    "passed": one.record.passed,
                })
            })
            .collect();
        let events: Vec<Json> = self
            .events(number)
            .await?
            .into_iter()
            .map(|one| {
                json!({
                    "sequence": one.sequence,
                    "at": one.at.to_string(),
                    "who": one.who,
                    "kind": one.kind.words(),
                    "body": one.body,
                    "hash": one.hash,
                })
            })
            .collect();
        Ok(json!({
            "number": number,
            "reference": line.reference,
            "customer": line.details.customer,
            "contact": line.details.contact,
            "vehicle": line.details.vehicle,
            "due": line.details.due.map(|date| date.to_string()),
            "axle": line.axle,
            "state": line.state.key(),
            "state_since": line.state_since.to_string(),
            "revision": line.revision,
            "approved_revision": line.approved_revision,
            "overruled": line.overruled,
            "verdict": line.judgement.words(),
            "fit": line.fit,
            "doubt": line.doubt,
            "placed_at": line.placed_at.to_string(),
            "placed_by": line.placed_by,
            "changed_at": line.changed_at.to_string(),
            "revisions": revisions,
            "readings": readings,
            "messages": messages,
            "photos": photos,
            "inspections": inspections,
            "records": records,
            "events": events,
        }))
    }
}

fn must_be_new(folder: &Path) -> Result<(), BookError> {
    let empty = match folder.read_dir() {
        Ok(mut entries) => entries.next().is_none(),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => true,
        Err(error) => return Err(BookError::file(folder, &error)),
    };
    if empty {
        return Ok(());
    }
    Err(BookError::refused(format!("the folder {} is not empty", folder.display()), "a new or an empty folder"))
}

fn photo_file(number: i64, media_type: &str) -> String {
    format!("{number:06}.{}", if media_type == "image/png" { "png" } else { "jpg" })
}

/// A reference as part of a file's name.
fn plain(reference: &str) -> String {
    reference.chars().map(|one| if one.is_alphanumeric() { one } else { '-' }).take(60).collect()
}

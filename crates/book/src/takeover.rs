//! Orders of another book are taken over out of its export, with everything that the export holds of them.
//!
//! The log of this book does not pretend that it was there. It gets one event for each order: who took it over when, what came in
//! (each revision, message, photo and size with its author, time and digest), and word for word the log that the other book kept of
//! the order. A check holds the tables against that event as it does with all others.

mod exported;

use jiff::Timestamp;
use serde_json::{Value as Json, json};

use crate::Book;
use crate::check::{BookCheck, Measured, check_measured};
use crate::database::{Row, Transaction, Value};
use crate::digest::sha256;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::order::{Details, OrderLine, line_in, next_number};
use crate::person::Person;
use crate::placing::{LONGEST_WORDS, check_texts, must_be_free, must_be_short, place_in, write_sizes, write_words};
use crate::reviewed::ReviewedSheet;
use crate::role::Role;
use crate::search::words::reference_key;
use crate::state::State;
use crate::work_record::{self, KeptRecord};

pub use exported::{ExportedOrder, read_export};

impl Book {
    /// Takes orders over out of exports, and beside them new ones, all of them or none. They keep their revisions, readings,
    /// messages, photos, measured sizes, state and times; their numbers are this book's own.
    ///
    /// An order that was approved to cut or is in work stays so only where its approval holds with the review that was made now:
    /// else it comes in as `questioned`, and the log says why.
    ///
    /// # Errors
    ///
    /// The person may not, a reference is taken, a text is too long, or the database refuses.
    pub async fn take_over(
        &self,
        exported: &[ExportedOrder],
        fresh: &[(ReviewedSheet, Details)],
        who: &Person,
        now: Timestamp,
    ) -> Result<Vec<OrderLine>, BookError> {
        who.must_be("import orders", &[Role::Owner, Role::Desk])?;
        for order in exported {
            check_lengths(order)?;
        }
        for (reviewed, details) in fresh {
            check_texts(reviewed, details, "")?;
        }
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let mut lines = Vec::with_capacity(exported.len() + fresh.len());
        for order in exported {
            lines.push(take_over_in(&mut transaction, &mut log, order, who, now).await?);
        }
        for (reviewed, details) in fresh {
            lines.push(place_in(&mut transaction, &mut log, reviewed, details, who, now).await?);
        }
        transaction.commit().await?;
        Ok(lines)
    }
}

/// A file may have been written by hand, so its texts have to pass what every text has to pass.
fn check_lengths(order: &ExportedOrder) -> Result<(), BookError> {
    for revision in &order.revisions {
        must_be_short("sheet", &revision.sheet, crate::placing::LONGEST_SHEET)?;
        let Details { customer, contact, vehicle, .. } = &revision.details;
        let texts = [("customer", customer), ("contact", contact), ("vehicle", vehicle), ("reason", &revision.reason)];
        for (what, text) in texts.into_iter().chain([("author", &revision.who)]) {
            must_be_short(what, text, LONGEST_WORDS)?;
        }
    }
    for message in &order.messages {
        must_be_short("message", &message.words, LONGEST_WORDS)?;
        must_be_short("author", &message.who, LONGEST_WORDS)?;
    }
    for photo in &order.photos {
        for (what, text) in [("caption", &photo.caption), ("name", &photo.name), ("author", &photo.who)] {
            must_be_short(what, text, LONGEST_WORDS)?;
        }
    }
    for change in &order.readings {
        let texts = [Some(&change.measurand), Some(&change.side), change.was.as_ref(), change.becomes.as_ref()];
        for text in texts.into_iter().flatten() {
            must_be_short("reading", text, LONGEST_WORDS)?;
        }
    }
    for size in &order.inspections {
        must_be_short("measured size", &size.written, LONGEST_WORDS)?;
        must_be_short("author", &size.who, LONGEST_WORDS)?;
    }
    for record in &order.records {
        must_be_short("author", &record.who, LONGEST_WORDS)?;
    }
    must_be_short("author", &order.placed_by, LONGEST_WORDS)?;
    must_be_short("reason", order.overruled.as_deref().unwrap_or_default(), LONGEST_WORDS)
}

async fn take_over_in(
    transaction: &mut Transaction,
    log: &mut LogEnd,
    order: &ExportedOrder,
    who: &Person,
    now: Timestamp,
) -> Result<OrderLine, BookError> {
    let reviewed = &order.reviewed;
    must_be_free(transaction, &reviewed.sheet.reference, None).await?;
    let number = next_number(transaction, "order").await?;
    let details = order.revisions.last().map(|last| last.details.clone()).unwrap_or_default();
    let last = order.revisions.last().map_or(1, |last| last.revision);
    let summary = &reviewed.summary;
    transaction
        .write(
            "INSERT INTO orders (number, reference, reference_key, customer, contact, vehicle, axle, due, state, state_since, \
             revision, approved_revision, overruled, verdict, fit, doubt, catalog_mark, reviewed_at, placed_at, placed_by, \
             changed_at) \
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21)",
            &[
                number.into(),
                (&reviewed.sheet.reference).into(),
                reference_key(&reviewed.sheet.reference).into(),
                (&details.customer).into(),
                (&details.contact).into(),
                (&details.vehicle).into(),
                reviewed.sheet.axle.clone().unwrap_or_default().into(),
                details.due.map(|date| date.to_string()).into(),
                order.state.key().into(),
                order.state_since.into(),
                last.into(),
                order.approved_revision.into(),
                order.overruled.clone().into(),
                summary.judgement.words().into(),
                summary.fit.into(),
                summary.doubt.clone().into(),
                (&summary.catalog_mark).into(),
                now.into(),
                order.placed_at.into(),
                (&order.placed_by).into(),
                order.changed_at.into(),
            ],
        )
        .await?;
    let told = json!({
        "exported_at": order.exported_at.to_string(),
        "was_number": order.number,
        "state": order.state.key(),
        "state_since": order.state_since.to_string(),
        "approved_revision": order.approved_revision,
        "overruled": order.overruled,
        "placed_at": order.placed_at.to_string(),
        "placed_by": order.placed_by,
        "verdict": summary.judgement.words(),
        "fit": summary.fit,
        "revisions": write_revisions(transaction, number, order).await?,
        "messages": write_messages(transaction, number, order).await?,
        "photos": write_photos(transaction, number, order).await?,
        "sizes": write_inspections(transaction, number, order).await?,
        "records": write_records(transaction, number, order).await?,
        "events": order.events,
    });
    write_sizes(transaction, number, summary).await?;
    write_words(transaction, number, reviewed, &details).await?;
    log.append(transaction, now, who, EventKind::TakenOver, Some(number), &told).await?;
    if matches!(order.state, State::Approved | State::InWork) && !order.approval_holds() {
        put_to_question(transaction, log, number, order, who, now).await?;
    }
    line_in(transaction, number).await
}

/// What was approved elsewhere is not approved here where the review says otherwise.
async fn put_to_question(
    transaction: &mut Transaction,
    log: &mut LogEnd,
    number: i64,
    order: &ExportedOrder,
    who: &Person,
    now: Timestamp,
) -> Result<(), BookError> {
    transaction
        .write(
            "UPDATE orders SET state = $2, state_since = $3, approved_revision = NULL, overruled = NULL, changed_at = $3 \
             WHERE number = $1",
            &[number.into(), State::Questioned.key().into(), now.into()],
        )
        .await?;
    let verdict = order.reviewed.summary.judgement.words();
    let revision = order.revisions.last().map_or(1, |last| last.revision);
    let reason = format!("it was {} in the other book, and its review here says {verdict}", order.state);
    let body = json!({
        "from": order.state.key(),
        "to": State::Questioned.key(),
        "reason": reason,
        "revision": revision,
        "verdict": verdict,
        "overruled": false,
    });
    log.append(transaction, now, who, EventKind::Moved, Some(number), &body).await
}

async fn write_revisions(
    transaction: &mut Transaction,
    number: i64,
    order: &ExportedOrder,
) -> Result<Vec<Json>, BookError> {
    let mut told = Vec::with_capacity(order.revisions.len());
    for one in &order.revisions {
        let due = one.details.due.map(|date| date.to_string());
        let row = vec![
            number.into(),
            one.revision.into(),
            one.base.into(),
            one.at.into(),
            (&one.who).into(),
            (&one.reason).into(),
            (&one.details.customer).into(),
            (&one.details.contact).into(),
            (&one.details.vehicle).into(),
            due.clone().into(),
            (&one.sheet).into(),
        ];
        let columns = [
            "order_number",
            "revision",
            "base",
            "at",
            "who",
            "reason",
            "customer",
            "contact",
            "vehicle",
            "due",
            "sheet",
        ];
        transaction.insert("revision", &columns, &[row]).await?;
        told.push(json!({
            "revision": one.revision,
            "base": one.base,
            "at": one.at.to_string(),
            "who": one.who,
            "reason": one.reason,
            "customer": one.details.customer,
            "contact": one.details.contact,
            "vehicle": one.details.vehicle,
            "due": due,
            "sheet_sha256": sha256(one.sheet.as_bytes()),
        }));
    }
    let mut position = 0;
    let mut revision = 0;
    let mut changes: Vec<Vec<Value>> = Vec::with_capacity(order.readings.len());
    let mut readings: Vec<_> = order.readings.iter().collect();
    readings.sort_by_key(|one| one.revision);
    for one in readings {
        position = if one.revision == revision { position + 1 } else { 1 };
        revision = one.revision;
        changes.push(vec![
            number.into(),
            revision.into(),
            i64::from(position).into(),
            (&one.measurand).into(),
            (&one.side).into(),
            one.was.clone().into(),
            one.becomes.clone().into(),
        ]);
    }
    let columns = ["order_number", "revision", "position", "measurand", "side", "was", "becomes"];
    transaction.insert("reading_change", &columns, &changes).await?;
    Ok(told)
}

async fn write_messages(
    transaction: &mut Transaction,
    order_number: i64,
    order: &ExportedOrder,
) -> Result<Vec<Json>, BookError> {
    let mut told = Vec::with_capacity(order.messages.len());
    for one in &order.messages {
        let number = next_number(transaction, "message").await?;
        let row = vec![
            number.into(),
            order_number.into(),
            one.at.into(),
            (&one.who).into(),
            one.direction.words().into(),
            (&one.words).into(),
        ];
        let columns = ["number", "order_number", "at", "who", "direction", "words"];
        transaction.insert("message", &columns, &[row]).await?;
        told.push(json!({
            "message": number,
            "at": one.at.to_string(),
            "who": one.who,
            "direction": one.direction.words(),
            "sha256": sha256(one.words.as_bytes()),
        }));
    }
    Ok(told)
}

async fn write_photos(
    transaction: &mut Transaction,
    order_number: i64,
    order: &ExportedOrder,
) -> Result<Vec<Json>, BookError> {
    let mut told = Vec::with_capacity(order.photos.len());
    for one in &order.photos {
        let photo = crate::photo::Photo {
            number: next_number(transaction, "photo").await?,
            order: order_number,
            at: one.at,
            who: one.who.clone(),
            name: one.name.clone(),
            caption: one.caption.clone(),
            media_type: one.picture.media_type.to_owned(),
            width: one.picture.width.into(),
            height: one.picture.height.into(),
            size: i64::try_from(one.picture.bytes.len()).unwrap_or(i64::MAX),
            digest: sha256(&one.picture.bytes),
        };
        crate::photo::write_photo(transaction, &photo, &one.picture).await?;
        told.push(json!({
            "photo": photo.number,
            "at": photo.at.to_string(),
            "who": photo.who,
            "name": photo.name,
            "caption": photo.caption,
            "sha256": photo.digest,
            "exported_sha256": one.digest,
        }));
    }
    Ok(told)
}

async fn write_inspections(
    transaction: &mut Transaction,
    number: i64,
    order: &ExportedOrder,
) -> Result<Vec<Json>, BookError> {
    let side_words = |side: Option<axle::Side>| side.map_or("", axle::Side::words);
    let rows: Vec<Vec<Value>> = order
        .inspections
        .iter()
        .zip(1_i64..)
        .map(|(one, position)| {
            vec![
                number.into(),
                position.into(),
                one.revision.into(),
                one.at.into(),
                (&one.who).into(),
                one.kind.key().into(),
                side_words(one.side).into(),
                (&one.written).into(),
                one.size.into(),
                one.passed.into(),
            ]
        })
        .collect();
    let columns = ["order_number", "position", "revision", "at", "who", "kind", "side", "written", "size", "passed"];
    transaction.insert("inspected_size", &columns, &rows).await?;
    Ok(order
        .inspections
        .iter()
        .map(|one| {
            json!({
                "revision": one.revision,
                "at": one.at.to_string(),
                "who": one.who,
                "kind": one.kind.key(),
                "side": side_words(one.side),
                "written": one.written,
                "passed": one.passed,
            })
        })
        .collect())
}

async fn write_records(
    transaction: &mut Transaction,
    number: i64,
    order: &ExportedOrder,
) -> Result<Vec<Json>, BookError> {
    let rows: Vec<Vec<Value>> = order
        .records
        .iter()
        .zip(1_i64..)
        .map(|(one, position)| one.record.row(number, position, one.revision, one.at, &one.who))
        .collect();
    transaction.insert("work_record", work_record::COLUMNS, &rows).await?;
    let told = |one: &KeptRecord| {
        let mut told = one.record.told();
        told["revision"] = one.revision.into();
        told["at"] = one.at.to_string().into();
        told["who"] = one.who.as_str().into();
        told
    };
    Ok(order.records.iter().map(told).collect())
}

/// Holds what was taken over against the event that tells of it.
pub(crate) async fn check(
    transaction: &mut Transaction,
    check: &mut BookCheck,
    order: i64,
    body: &Json,
) -> Result<(), BookError> {
    let list = |key: &str| body[key].as_array().cloned().unwrap_or_default();
    for told in list("revisions") {
        check.revisions += 1;
        let revision = told["revision"].as_i64().unwrap_or(0);
        let statement = "SELECT sheet, who, at, reason, customer, contact, vehicle, due FROM revision \
                         WHERE order_number = $1 AND revision = $2";
        let row = transaction.row(statement, &[order.into(), revision.into()]).await?;
        let same = |row: Row| {
            Ok::<_, BookError>(
                sha256(row.text(0)?.as_bytes()) == said(&told, "sheet_sha256")
                    && row.text(1)? == said(&told, "who")
                    && row.integer(2)? == time_said(&told)
                    && row.text(3)? == said(&told, "reason")
                    && row.text(4)? == said(&told, "customer")
                    && row.text(5)? == said(&told, "contact")
                    && row.text(6)? == said(&told, "vehicle")
                    && row.maybe_text(7)?.unwrap_or_default() == said(&told, "due"),
            )
        };
        must_be_same(check, format!("order {order}, revision {revision}"), row.map(same).transpose()?);
    }
    for (key, table) in [("sizes", "inspected_size"), ("records", "work_record")] {
        for (told, position) in list(key).iter().zip(1_i64..) {
            let revision = told["revision"].as_i64().unwrap_or(0);
            let by = Measured { order, revision, position, who: said(told, "who"), at: time_said(told) };
            check_measured(transaction, check, table, &by, told).await?;
        }
    }
    for told in list("messages") {
        check.messages += 1;
        let number = told["message"].as_i64().unwrap_or(0);
        let statement = "SELECT words, direction, who, at FROM message WHERE number = $1";
        let row = transaction.row(statement, &[number.into()]).await?;
        let same = |row: Row| {
            Ok::<_, BookError>(
                sha256(row.text(0)?.as_bytes()) == said(&told, "sha256")
                    && row.text(1)? == said(&told, "direction")
                    && row.text(2)? == said(&told, "who")
                    && row.integer(3)? == time_said(&told),
            )
        };
        must_be_same(check, format!("message {number}"), row.map(same).transpose()?);
    }
    for told in list("photos") {
        check.photos += 1;
        let number = told["photo"].as_i64().unwrap_or(0);
        let statement = "SELECT picture FROM photo_picture WHERE photo_number = $1";
        let row = transaction.row(statement, &[number.into()]).await?;
        let same = |row: Row| Ok::<_, BookError>(sha256(&row.bytes(0)?) == said(&told, "sha256"));
        must_be_same(check, format!("photo {number}"), row.map(same).transpose()?);
    }
    Ok(())
}

fn said<'j>(told: &'j Json, key: &str) -> &'j str {
    told[key].as_str().unwrap_or_default()
}

/// The time that is told, in microseconds, as the tables keep it.
fn time_said(told: &Json) -> i64 {
    said(told, "at").parse::<Timestamp>().map_or(i64::MIN, Timestamp::as_microsecond)
}

fn must_be_same(check: &mut BookCheck, place: String, same: Option<bool>) {
    match same {
        None => check.fault(place, "is gone"),
        Some(false) => check.fault(place, "is not the one that was taken over"),
        Some(true) => {}
    }
}

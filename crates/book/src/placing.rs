//! Orders come in, and revisions of them.

use std::collections::BTreeSet;

use jiff::Timestamp;
use serde_json::{Value as Json, json};

use crate::Book;
use crate::database::{Transaction, Value};
use crate::digest::sha256;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::order::{Details, OrderLine, line_in, must_have_seen, next_number};
use crate::person::Person;
use crate::reviewed::{ReadingText, ReviewedSheet, Summary};
use crate::role::Role;
use crate::search::words::{order_words, reference_key};
use crate::state::State;

const DESK: &[Role] = &[Role::Owner, Role::Desk];

/// The longest sheet that is taken in, in bytes. The longest order of the demo has 4000.
pub(crate) const LONGEST_SHEET: usize = 200_000;
/// The longest of the short texts, in bytes.
pub(crate) const LONGEST_WORDS: usize = 20_000;

/// The longest reference, in characters: it stands on one line of every list and paper.
const LONGEST_REFERENCE: usize = 60;

/// Refuses texts that are longer than anybody writes by hand.
pub(crate) fn must_be_short(what: &str, text: &str, most: usize) -> Result<(), BookError> {
    if text.len() <= most && !text.contains('\0') {
        return Ok(());
    }
    let problem = if text.contains('\0') {
        "holds a character that is none".to_owned()
    } else {
        format!("has {} bytes", text.len())
    };
    Err(BookError::refused(format!("the {what} {problem}"), format!("a text of at most {most} bytes")))
}

impl Book {
    /// Takes an order in, and gives back how it stands.
    ///
    /// # Errors
    ///
    /// The person may not, the reference is taken, a text is too long, or the database refuses.
    pub async fn place(
        &self,
        reviewed: &ReviewedSheet,
        details: &Details,
        who: &Person,
        now: Timestamp,
    ) -> Result<OrderLine, BookError> {
        who.must_be_guest_or("place an order", DESK)?;
        check_texts(reviewed, details, "")?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let line = place_in(&mut transaction, &mut log, reviewed, details, who, now).await?;
        transaction.commit().await?;
        Ok(line)
    }

    /// Writes a new revision of an order that was built on the revision `seen`, and gives back how the order stands.
    ///
    /// An approval is for one revision. An order that was approved to cut or is in work falls back to `questioned`, since what
    /// was approved is no longer what stands in the book. Once the shafts are inspected the sheet stands still; a remake may
    /// change it again.
    ///
    /// # Errors
    ///
    /// Somebody else was first ([`BookError::Overtaken`]), the order is past changing, the person may not, no reason is given,
    /// or the database refuses.
    #[expect(clippy::too_many_arguments, reason = "each of them is another thing that a revision has to carry")]
    pub async fn revise(
        &self,
        number: i64,
        seen: i64,
        reviewed: &ReviewedSheet,
        details: &Details,
        reason: &str,
        who: &Person,
        now: Timestamp,
    ) -> Result<OrderLine, BookError> {
        who.must_be_guest_or("change an order", DESK)?;
        check_texts(reviewed, details, reason)?;
        if reason.trim().is_empty() {
            return Err(BookError::refused("no reason is given for the change", "a few words that say why"));
        }
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let before = line_in(&mut transaction, number).await?;
        must_have_seen(&mut transaction, &before, seen).await?;
        may_be_revised(&before, who)?;
        let revision = before.revision + 1;
        must_be_free(&mut transaction, &reviewed.sheet.reference, Some(number)).await?;

        let rows = transaction
            .rows(
                "SELECT sheet FROM revision WHERE order_number = $1 AND revision = $2",
                &[number.into(), before.revision.into()],
            )
            .await?;
        let sheet_before = rows.first().map_or(Ok(String::new()), |row| row.text(0))?;
        if sheet_before == reviewed.text && before.details == *details {
            return Err(BookError::refused("nothing was changed", "a change of the sheet or of what stands beside it"));
        }
        let readings_before = standing_readings(&mut transaction, number).await?;
        write_revision(&mut transaction, number, revision, before.revision, reviewed, details, reason, who, now)
            .await?;
        write_changes(&mut transaction, number, revision, &readings_before, &reviewed.reading_texts).await?;
        transaction
            .write(
                "UPDATE orders SET reference = $2, reference_key = $3, customer = $4, contact = $5, vehicle = $6, axle = $7, \
                 due = $8, revision = $9, changed_at = $10 WHERE number = $1",
                &[
                    number.into(),
                    (&reviewed.sheet.reference).into(),
                    reference_key(&reviewed.sheet.reference).into(),
                    (&details.customer).into(),
                    (&details.contact).into(),
                    (&details.vehicle).into(),
                    reviewed.sheet.axle.clone().unwrap_or_default().into(),
                    details.due.map(|date| date.to_string()).into(),
                    revision.into(),
                    now.into(),
                ],
            )
            .await?;
        write_summary(&mut transaction, number, &reviewed.summary, now).await?;
        write_words(&mut transaction, number, reviewed, details).await?;
        log.append(
            &mut transaction,
            now,
            who,
            EventKind::Revised,
            Some(number),
            &revision_body(revision, before.revision, reviewed, details, reason),
        )
        .await?;
        if matches!(before.state, State::Approved | State::InWork) {
            let why = format!("revision {revision} is not what was approved");
            transaction
                .write(
                    "UPDATE orders SET state = $2, state_since = $3, approved_revision = NULL, overruled = NULL WHERE number = $1",
                    &[number.into(), State::Questioned.key().into(), now.into()],
                )
                .await?;
            let body =
                json!({"from": before.state.key(), "to": State::Questioned.key(), "reason": why, "revision": revision});
            log.append(&mut transaction, now, who, EventKind::Moved, Some(number), &body).await?;
        }
        let line = line_in(&mut transaction, number).await?;
        transaction.commit().await?;
        Ok(line)
    }
}

/// Takes an order in within a transaction, so that an import is all or nothing.
pub(crate) async fn place_in(
    transaction: &mut Transaction,
    log: &mut LogEnd,
    reviewed: &ReviewedSheet,
    details: &Details,
    who: &Person,
    now: Timestamp,
) -> Result<OrderLine, BookError> {
    must_be_free(transaction, &reviewed.sheet.reference, None).await?;
    let number = next_number(transaction, "order").await?;
    let summary = &reviewed.summary;
    transaction
        .write(
            "INSERT INTO orders (number, reference, reference_key, customer, contact, vehicle, axle, due, state, state_since, \
             revision, verdict, fit, doubt, catalog_mark, reviewed_at, placed_at, placed_by, changed_at) \
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, 1, $11, $12, $13, $14, $10, $10, $15, $10)",
            &[
                number.into(),
                (&reviewed.sheet.reference).into(),
                reference_key(&reviewed.sheet.reference).into(),
                (&details.customer).into(),
                (&details.contact).into(),
                (&details.vehicle).into(),
                reviewed.sheet.axle.clone().unwrap_or_default().into(),
                details.due.map(|date| date.to_string()).into(),
                State::Received.key().into(),
                now.into(),
                summary.judgement.words().into(),
                summary.fit.into(),
                summary.doubt.clone().into(),
                (&summary.catalog_mark).into(),
                (&who.name).into(),
            ],
        )
        .await?;
    write_revision(transaction, number, 1, 0, reviewed, details, "taken in", who, now).await?;
    write_changes(transaction, number, 1, &[], &reviewed.reading_texts).await?;
    write_sizes(transaction, number, summary).await?;
    write_words(transaction, number, reviewed, details).await?;
    let body = revision_body(1, 0, reviewed, details, "taken in");
    log.append(transaction, now, who, EventKind::Placed, Some(number), &body).await?;
    line_in(transaction, number).await
}

pub(crate) fn check_texts(reviewed: &ReviewedSheet, details: &Details, reason: &str) -> Result<(), BookError> {
    must_be_short("sheet", &reviewed.text, LONGEST_SHEET)?;
    must_be_a_reference(&reviewed.sheet.reference)?;
    must_be_short("customer", &details.customer, LONGEST_WORDS)?;
    must_be_short("contact", &details.contact, LONGEST_WORDS)?;
    must_be_short("vehicle", &details.vehicle, LONGEST_WORDS)?;
    for (what, text) in [("customer", &details.customer), ("contact", &details.contact), ("vehicle", &details.vehicle)]
    {
        must_read_as_written(what, text)?;
    }
    must_be_short("reason", reason, LONGEST_WORDS)
}

/// Two references that look alike must be alike, on every screen and every paper.
fn must_be_a_reference(reference: &str) -> Result<(), BookError> {
    const ACCEPTED: &str = "a reference of at most 60 letters, digits and signs that can be seen, on one line";
    let length = reference.chars().count();
    if length > LONGEST_REFERENCE {
        return Err(BookError::refused(format!("the reference has {length} characters"), ACCEPTED));
    }
    match reference.chars().find(|sign| sign.is_control() || is_unseen(*sign)) {
        None => Ok(()),
        Some(sign) => {
            let problem = format!("the reference holds the character U+{:04X}, which nobody can see", u32::from(sign));
            Err(BookError::refused(problem, ACCEPTED))
        }
    }
}

/// Signs that take no room, look like a blank or turn the direction of what follows.
fn is_unseen(sign: char) -> bool {
    turns_the_text(sign)
        || matches!(sign, '\u{200b}'..='\u{200f}' | '\u{2060}'..='\u{2069}' | '\u{feff}' | '\u{3164}')
        || matches!(sign, '\u{115f}' | '\u{1160}' | '\u{ad}')
}

/// Signs of Unicode's bidirectional algorithm (UAX 9) that make a text read otherwise than it is written.
fn turns_the_text(sign: char) -> bool {
    matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

fn must_read_as_written(what: &str, text: &str) -> Result<(), BookError> {
    let is_layout = |sign: char| matches!(sign, '\n' | '\r' | '\t');
    match text.chars().find(|sign| turns_the_text(*sign) || (sign.is_control() && !is_layout(*sign))) {
        None => Ok(()),
        Some(sign) => {
            let problem =
                format!("the {what} holds the character U+{:04X}, which is no part of a text", u32::from(sign));
            Err(BookError::refused(problem, "letters, digits, signs, blanks and line ends"))
        }
    }
}

fn may_be_revised(line: &OrderLine, who: &Person) -> Result<(), BookError> {
    let guest_only_before_approval = who.role.is_none() && !matches!(line.state, State::Received | State::Questioned);
    if guest_only_before_approval {
        return Err(BookError::not_allowed(who, &format!("change an order that is {}", line.state), DESK));
    }
    if matches!(line.state, State::Inspected | State::Shipped | State::Closed) {
        return Err(BookError::refused(
            format!("order {} is {}, so its sheet stands still", line.reference, line.state),
            "a move to remade first, with a reason",
        ));
    }
    Ok(())
}

/// Two orders must not go by the same reference.
pub(crate) async fn must_be_free(
    transaction: &mut Transaction,
    reference: &str,
    except: Option<i64>,
) -> Result<(), BookError> {
    let key = reference_key(reference);
    let taken = transaction
        .row(
            "SELECT number, customer FROM orders WHERE reference_key = $1 AND number <> $2",
            &[key.into(), except.unwrap_or(0).into()],
        )
        .await?;
    match taken {
        None => Ok(()),
        Some(row) => Err(BookError::refused(
            format!("the reference {reference} is taken by order {} ({})", row.integer(0)?, row.text(1)?),
            "a reference that no other order has; large and small letters, blanks and hyphens make no difference",
        )),
    }
}

/// What the log keeps of a revision: everything but the sheet itself, and of that the digest.
fn revision_body(revision: i64, base: i64, reviewed: &ReviewedSheet, details: &Details, reason: &str) -> Json {
    json!({
        "revision": revision,
        "base": base,
        "reason": reason,
        "reference": reviewed.sheet.reference,
        "customer": details.customer,
        "contact": details.contact,
        "vehicle": details.vehicle,
        "due": details.due.map(|date| date.to_string()),
        "sheet_sha256": sha256(reviewed.text.as_bytes()),
        "verdict": reviewed.summary.judgement.words(),
        "fit": reviewed.summary.fit,
    })
}

#[expect(clippy::too_many_arguments, reason = "one for each column")]
async fn write_revision(
    transaction: &mut Transaction,
    number: i64,
    revision: i64,
    base: i64,
    reviewed: &ReviewedSheet,
    details: &Details,
    reason: &str,
    who: &Person,
    now: Timestamp,
) -> Result<(), BookError> {
    transaction
        .write(
            "INSERT INTO revision (order_number, revision, base, at, who, reason, customer, contact, vehicle, due, sheet) \
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)",
            &[
                number.into(),
                revision.into(),
                base.into(),
                now.into(),
                (&who.name).into(),
                reason.into(),
                (&details.customer).into(),
                (&details.contact).into(),
                (&details.vehicle).into(),
                details.due.map(|date| date.to_string()).into(),
                (&reviewed.text).into(),
            ],
        )
        .await
        .map(|_| ())
}

/// The readings that stand, as the history of changes makes them.
async fn standing_readings(
    transaction: &mut Transaction,
    number: i64,
) -> Result<Vec<(String, String, String)>, BookError> {
    let rows = transaction
        .rows(
            "SELECT measurand, side, was, becomes FROM reading_change WHERE order_number = $1 ORDER BY revision, position",
            &[number.into()],
        )
        .await?;
    let mut standing: Vec<(String, String, String)> = Vec::new();
    for row in rows {
        let (measurand, side, was, becomes) = (row.text(0)?, row.text(1)?, row.maybe_text(2)?, row.maybe_text(3)?);
        let place =
            was.and_then(|was| standing.iter().position(|one| one.0 == measurand && one.1 == side && one.2 == was));
        match (place, becomes) {
            (Some(place), Some(becomes)) => standing[place].2 = becomes,
            (Some(place), None) => {
                standing.remove(place);
            }
            (None, Some(becomes)) => standing.push((measurand, side, becomes)),
            (None, None) => {}
        }
    }
    Ok(standing)
}

/// Writes down what changed from one set of readings to the next. Readings of the same thing on the same side are paired in the
/// order of the sheet, those that say the same first.
async fn write_changes(
    transaction: &mut Transaction,
    number: i64,
    revision: i64,
    before: &[(String, String, String)],
    after: &[ReadingText],
) -> Result<(), BookError> {
    let mut left: Vec<&(String, String, String)> = before.iter().collect();
    let mut fresh: Vec<&ReadingText> = Vec::new();
    for one in after {
        match left.iter().position(|old| old.0 == one.measurand && old.1 == one.side && old.2 == one.words) {
            Some(place) => {
                left.remove(place);
            }
            None => fresh.push(one),
        }
    }
    let mut changes: Vec<(String, String, Option<String>, Option<String>)> = Vec::new();
    for one in fresh {
        let was =
            left.iter().position(|old| old.0 == one.measurand && old.1 == one.side).map(|place| left.remove(place));
        changes.push((
            one.measurand.to_owned(),
            one.side.to_owned(),
            was.map(|was| was.2.clone()),
            Some(one.words.clone()),
        ));
    }
    changes.extend(left.into_iter().map(|old| (old.0.clone(), old.1.clone(), Some(old.2.clone()), None)));
    let rows: Vec<Vec<Value>> = changes
        .into_iter()
        .zip(1_i64..)
        .map(|((measurand, side, was, becomes), position)| {
            vec![
                number.into(),
                revision.into(),
                position.into(),
                measurand.into(),
                side.into(),
                was.into(),
                becomes.into(),
            ]
        })
        .collect();
    let columns = ["order_number", "revision", "position", "measurand", "side", "was", "becomes"];
    transaction.insert("reading_change", &columns, &rows).await
}

/// Writes what the latest review says.
pub(crate) async fn write_summary(
    transaction: &mut Transaction,
    number: i64,
    summary: &Summary,
    now: Timestamp,
) -> Result<(), BookError> {
    transaction
        .write(
            "UPDATE orders SET verdict = $2, fit = $3, doubt = $4, catalog_mark = $5, reviewed_at = $6 WHERE number = $1",
            &[
                number.into(),
                summary.judgement.words().into(),
                summary.fit.into(),
                summary.doubt.clone().into(),
                (&summary.catalog_mark).into(),
                now.into(),
            ],
        )
        .await?;
    write_sizes(transaction, number, summary).await
}

/// Writes the sizes by which an order is found. Another review of the same readings seldom decides otherwise, and each size that is
/// written anew makes two pages of the database to be written.
pub(crate) async fn write_sizes(
    transaction: &mut Transaction,
    number: i64,
    summary: &Summary,
) -> Result<(), BookError> {
    let known = transaction
        .rows("SELECT kind, side, size FROM decided_size WHERE order_number = $1", &[number.into()])
        .await?
        .iter()
        .map(|row| Ok((row.text(0)?, row.text(1)?, row.integer(2)?)))
        .collect::<Result<BTreeSet<_>, BookError>>()?;
    let decided: BTreeSet<(String, String, i64)> = summary
        .sizes
        .iter()
        .map(|(kind, side, size)| (kind.key().to_owned(), side.map_or("", axle::Side::words).to_owned(), *size))
        .collect();
    if known == decided {
        return Ok(());
    }
    transaction.write("DELETE FROM decided_size WHERE order_number = $1", &[number.into()]).await?;
    let rows: Vec<Vec<Value>> = decided
        .into_iter()
        .map(|(kind, side, size)| vec![number.into(), kind.into(), side.into(), size.into()])
        .collect();
    transaction.insert("decided_size", &["order_number", "kind", "side", "size"], &rows).await
}

/// Writes the words by which an order is found.
pub(crate) async fn write_words(
    transaction: &mut Transaction,
    number: i64,
    reviewed: &ReviewedSheet,
    details: &Details,
) -> Result<(), BookError> {
    transaction.write("DELETE FROM search_word WHERE order_number = $1", &[number.into()]).await?;
    let rows: Vec<Vec<Value>> =
        order_words(reviewed, details).into_iter().map(|word| vec![word.into(), number.into()]).collect();
    transaction.insert("search_word", &["word", "order_number"], &rows).await
}

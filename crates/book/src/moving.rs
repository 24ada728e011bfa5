//! Orders move from state to state.

use std::collections::BTreeMap;

use jiff::Timestamp;
use serde_json::json;

use crate::Book;
use crate::database::Transaction;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::judgement::Judgement;
use crate::order::{OrderLine, line_in, must_have_seen};
use crate::person::Person;
use crate::placing::{LONGEST_WORDS, must_be_short, write_summary};
use crate::reviewed::ReviewedSheet;
use crate::state::{Move, Need, State};

/// A move that somebody asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MoveRequest<'a> {
    /// The revision that they saw.
    pub seen_revision: i64,
    /// The state that they saw.
    pub from: State,
    /// Where it is to go.
    pub to: State,
    /// Why. At an approval it is the reason with which `ask` is overruled.
    pub reason: Option<&'a str>,
}

impl Book {
    /// Moves an order, and gives back how it stands.
    ///
    /// # Errors
    ///
    /// The order has moved on or was revised meanwhile, the move is none that is allowed, the person may not, or what it asks
    /// for is not there: a reason, or a verdict.
    pub async fn move_order(
        &self,
        number: i64,
        request: MoveRequest<'_>,
        who: &Person,
        now: Timestamp,
    ) -> Result<OrderLine, BookError> {
        self.moved(number, request, None, who, now).await
    }

    /// Moves an order by a review that was just made of it, and gives back how it stands. What the book keeps of its latest review
    /// becomes what this one says, and an approval remembers the sizes that were approved ([`ReviewedSheet::sizes_mark`]), so that
    /// a later change of the catalog cannot change them unseen, and the mark of the catalog ([`Book::keep_catalog`] keeps the whole).
    ///
    /// # Errors
    ///
    /// As for [`Book::move_order`], or the review is of another sheet than that of the revision that stands.
    pub async fn move_reviewed(
        &self,
        number: i64,
        request: MoveRequest<'_>,
        reviewed: &ReviewedSheet,
        who: &Person,
        now: Timestamp,
    ) -> Result<OrderLine, BookError> {
        self.moved(number, request, Some(reviewed), who, now).await
    }

    async fn moved(
        &self,
        number: i64,
        request: MoveRequest<'_>,
        reviewed: Option<&ReviewedSheet>,
        who: &Person,
        now: Timestamp,
    ) -> Result<OrderLine, BookError> {
        let reason = request.reason.map(str::trim).filter(|reason| !reason.is_empty());
        must_be_short("reason", reason.unwrap_or_default(), LONGEST_WORDS)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let mut line = line_in(&mut transaction, number).await?;
        must_have_seen(&mut transaction, &line, request.seen_revision).await?;
        if line.state != request.from {
            return Err(BookError::MovedOn { reference: line.reference, seen: request.from, now: line.state });
        }
        let asked = allowed(&line, request.to)?;
        who.must_be(&format!("move an order from {} to {}", asked.from, asked.to), asked.roles)?;
        if let Some(reviewed) = reviewed {
            must_be_of(&mut transaction, &line, reviewed).await?;
            write_summary(&mut transaction, number, &reviewed.summary, now).await?;
            line.judgement = reviewed.summary.judgement;
        }
        if asked.needs == Need::Measured && reason.is_none() {
            must_be_measured(&mut transaction, &line, request.to).await?;
        }
        let overrules = must_have(&line, asked, reason)?;

        let (approved, overruled) = match request.to {
            State::Approved => (Some(line.revision), if overrules { reason } else { None }),
            // What was made, or is being made, was approved once.
            State::InWork | State::Inspected | State::Shipped | State::Closed => {
                (line.approved_revision, if overrules { reason } else { line.overruled.as_deref() })
            }
            State::Received | State::Questioned | State::Remade => (None, None),
        };
        transaction
            .write(
                "UPDATE orders SET state = $2, state_since = $3, approved_revision = $4, overruled = $5, changed_at = $3 \
                 WHERE number = $1",
                &[number.into(), request.to.key().into(), now.into(), approved.into(), overruled.into()],
            )
            .await?;
        let body = json!({
            "from": line.state.key(),
            "to": request.to.key(),
            "reason": reason,
            "revision": line.revision,
            "verdict": line.judgement.words(),
            "overruled": overrules,
            "sizes": reviewed.map(ReviewedSheet::sizes_mark),
            "catalog": reviewed.map(|reviewed| reviewed.summary.catalog_mark.as_str()),
        });
        log.append(&mut transaction, now, who, EventKind::Moved, Some(number), &body).await?;
        let line = line_in(&mut transaction, number).await?;
        transaction.commit().await?;
        Ok(line)
    }
}

/// The review must be of the sheet that stands.
async fn must_be_of(
    transaction: &mut Transaction,
    line: &OrderLine,
    reviewed: &ReviewedSheet,
) -> Result<(), BookError> {
    let row = transaction
        .row(
            "SELECT sheet FROM revision WHERE order_number = $1 AND revision = $2",
            &[line.number.into(), line.revision.into()],
        )
        .await?;
    if row.map_or(Ok(String::new()), |row| row.text(0))? == reviewed.text {
        return Ok(());
    }
    Err(BookError::refused(
        "the review is of another sheet than the one that stands",
        "a review of the order as it stands",
    ))
}

/// Sizes must have been measured on what was made, and the latest of each must lie within its limits.
async fn must_be_measured(transaction: &mut Transaction, line: &OrderLine, to: State) -> Result<(), BookError> {
    let rows = transaction
        .rows(
            "SELECT kind, side, passed FROM inspected_size WHERE order_number = $1 AND revision = $2 ORDER BY position",
            &[line.number.into(), line.revision.into()],
        )
        .await?;
    let mut latest: BTreeMap<(String, String), bool> = BTreeMap::new();
    for row in &rows {
        latest.insert((row.text(0)?, row.maybe_text(1)?.unwrap_or_default()), row.flag(2)?);
    }
    // What was written down beside the sizes counts where the review asks something of it.
    let records = transaction
        .rows(
            "SELECT kind, side, passed FROM work_record \
             WHERE order_number = $1 AND revision = $2 AND passed IS NOT NULL ORDER BY position",
            &[line.number.into(), line.revision.into()],
        )
        .await?;
    let mut latest_record: BTreeMap<(String, String), bool> = BTreeMap::new();
    for row in &records {
        latest_record.insert((row.text(0)?, row.maybe_text(1)?.unwrap_or_default()), row.flag(2)?);
    }
    let accepted = "measured sizes, the latest of each within its limits; or a reason, which is kept";
    if latest.is_empty() {
        return Err(refuse(line, to, "nothing was measured on its shafts", accepted));
    }
    let out: Vec<String> = latest
        .iter()
        .chain(&latest_record)
        .filter(|(_, passed)| !**passed)
        .map(|((kind, side), _)| format!("{} {side}", kind.replace('_', " ")).trim().to_owned())
        .collect();
    if out.is_empty() {
        return Ok(());
    }
    Err(refuse(line, to, &format!("out of limits: {}", out.join(", ")), accepted))
}

fn refuse(line: &OrderLine, to: State, problem: &str, accepted: &str) -> BookError {
    BookError::Move {
        reference: line.reference.clone(),
        from: line.state,
        to,
        problem: problem.to_owned(),
        accepted: accepted.to_owned(),
    }
}

/// The row of the table, or which rows there are.
fn allowed(line: &OrderLine, to: State) -> Result<&'static Move, BookError> {
    line.state.moves().find(|one| one.to == to).ok_or_else(|| {
        let others: Vec<&str> = line.state.moves().map(|one| one.to.words()).collect();
        refuse(line, to, "there is no such move", &others.join(", "))
    })
}

/// Holds the order against what the move needs; says whether `ask` is overruled.
fn must_have(line: &OrderLine, asked: &Move, reason: Option<&str>) -> Result<bool, BookError> {
    let to = asked.to;
    let stop = "an order whose review does not say stop; nobody can overrule that without changing the order";
    match asked.needs {
        Need::Nothing => Ok(false),
        Need::Reason if reason.is_none() => Err(refuse(line, to, "no reason is given", "a few words that say why")),
        Need::Reason => Ok(false),
        Need::NoStop | Need::Measured | Need::Verdict if line.judgement == Judgement::Stop => {
            Err(refuse(line, to, "its review says stop", stop))
        }
        // What was approved as `cut`, or by a reason, goes on; what became `ask` since then needs a reason of its own.
        Need::NoStop | Need::Measured if line.judgement != Judgement::Unreadable && line.overruled.is_some() => {
            Ok(false)
        }
        Need::NoStop | Need::Measured | Need::Verdict => match line.judgement {
            Judgement::Cut => Ok(false),
            Judgement::Ask if reason.is_some() => Ok(true),
            Judgement::Ask => Err(refuse(
                line,
                to,
                "its review says ask",
                "the verdict cut, or a reason with which ask is overruled and which is kept",
            )),
            Judgement::Stop => Err(refuse(line, to, "its review says stop", stop)),
            Judgement::Unreadable => Err(refuse(
                line,
                to,
                "its sheet can no longer be read with the catalog",
                "a revision that names rows of the catalog",
            )),
        },
    }
}

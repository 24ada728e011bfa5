//! What the floor measured on finished shafts.

use axle::{DimensionKind, Side};
use jiff::Timestamp;
use quantity::{Length, LengthExt, WrittenLength, millimetres};
use serde_json::json;

use crate::Book;
use crate::database::Value;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::order::{line_in, must_have_seen};
use crate::person::Person;
use crate::reviewed::nanometres;
use crate::role::Role;
use crate::state::State;
use crate::work_record::{self, WorkRecord};

/// A size that was measured on a finished shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct InspectedSize {
    /// Which dimension.
    pub kind: DimensionKind,
    /// On which side, where the sides differ.
    pub side: Option<Side>,
    /// As it was read and written.
    pub written: WrittenLength,
    /// Whether it lies within the limits of the review.
    pub passed: bool,
}

/// A size that was measured, as the book keeps it.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptInspection {
    /// The revision that was made.
    pub revision: i64,
    /// When it was measured.
    pub at: Timestamp,
    /// By whom.
    pub who: String,
    /// Which dimension.
    pub kind: DimensionKind,
    /// On which side, where the sides differ.
    pub side: Option<Side>,
    /// As it was read and written.
    pub written: String,
    /// The size.
    pub size: Length,
    /// Whether it lay within the limits.
    pub passed: bool,
}

impl Book {
    /// Writes down what was measured on the shafts of the revision `seen`, and what else the work left: heat numbers, press forces,
    /// sizes over pins. What was written down before stays.
    ///
    /// # Errors
    ///
    /// The order is not in work or inspected, was revised meanwhile, the person may not, or the database refuses.
    pub async fn inspect(
        &self,
        order: i64,
        seen: i64,
        sizes: &[InspectedSize],
        records: &[WorkRecord],
        who: &Person,
        now: Timestamp,
    ) -> Result<(), BookError> {
        who.must_be("write down what was measured", &[Role::Owner, Role::Desk, Role::Floor])?;
        if sizes.is_empty() && records.is_empty() {
            return Err(BookError::refused("nothing was measured or written down", "at least one size or record"));
        }
        for record in records {
            record.must_be_whole()?;
        }
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let line = line_in(&mut transaction, order).await?;
        must_have_seen(&mut transaction, &line, seen).await?;
        if !matches!(line.state, State::InWork | State::Inspected) {
            return Err(BookError::refused(
                format!("order {} is {}, so there is nothing to measure", line.reference, line.state),
                "an order that is in work or inspected",
            ));
        }
        let row = transaction
            .row("SELECT COALESCE(MAX(position), 0) FROM inspected_size WHERE order_number = $1", &[order.into()])
            .await?;
        let first = row.map_or(Ok(0), |row| row.integer(0))? + 1;
        let side_words = |side: Option<Side>| side.map_or("", Side::words);
        let rows: Vec<Vec<Value>> = sizes
            .iter()
            .zip(first..)
            .map(|(size, position)| {
                vec![
                    order.into(),
                    position.into(),
                    line.revision.into(),
                    now.into(),
                    (&who.name).into(),
                    size.kind.key().into(),
                    side_words(size.side).into(),
                    size.written.text().into(),
                    nanometres(size.written.value().millimetres()).into(),
                    size.passed.into(),
                ]
            })
            .collect();
        let columns =
            ["order_number", "position", "revision", "at", "who", "kind", "side", "written", "size", "passed"];
        transaction.insert("inspected_size", &columns, &rows).await?;
        let first_record = work_record::write(&mut transaction, order, line.revision, records, &who.name, now).await?;
        let told: Vec<_> = sizes
            .iter()
            .map(|size| {
                json!({
                    "kind": size.kind.key(),
                    "side": side_words(size.side),
                    "written": size.written.text(),
                    "passed": size.passed,
                })
            })
            .collect();
        let written: Vec<_> = records.iter().map(WorkRecord::told).collect();
        let body = json!({
            "revision": line.revision,
            "first": first,
            "sizes": told,
            "first_record": first_record,
            "records": written,
        });
        log.append(&mut transaction, now, who, EventKind::Inspected, Some(order), &body).await?;
        transaction.write("UPDATE orders SET changed_at = $2 WHERE number = $1", &[order.into(), now.into()]).await?;
        transaction.commit().await
    }

    /// What was measured on the shafts of an order, the first size first.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn inspections(&self, order: i64) -> Result<Vec<KeptInspection>, BookError> {
        let rows = self
            .database
            .rows(
                "SELECT revision, at, who, kind, side, written, size, passed FROM inspected_size \
                 WHERE order_number = $1 ORDER BY position",
                &[order.into()],
            )
            .await?;
        rows.iter()
            .map(|row| {
                let kind = row.text(3)?;
                let side = row.text(4)?;
                #[expect(clippy::cast_precision_loss, reason = "an f64 holds the nanometres of any shaft exactly")]
                let size = millimetres(row.integer(6)? as f64 / 1e6);
                Ok(KeptInspection {
                    revision: row.integer(0)?,
                    at: row.time(1)?,
                    who: row.text(2)?,
                    kind: DimensionKind::from_key(&kind)
                        .ok_or_else(|| BookError::Unexpected { problem: format!("a dimension `{kind}`") })?,
                    side: [Side::Left, Side::Right].into_iter().find(|one| one.words() == side),
                    written: row.text(5)?,
                    size,
                    passed: row.flag(7)?,
                })
            })
            .collect()
    }
}

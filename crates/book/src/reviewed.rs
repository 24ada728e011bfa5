//! A sheet with its review, and what the book keeps of it so that lists are fast.

use std::sync::Arc;

use axle::{DimensionKind, Review, Sheet, Side, Value};
use catalog::Catalog;
use quantity::LengthExt;

use crate::digest::sha256;
use crate::error::BookError;
use crate::judgement::Judgement;

/// A doubt below this is not worth a line in a list.
const WORTH_A_LINE: f64 = 0.05;

/// A catalog with a mark that changes when anything in it changes.
#[derive(Debug, Clone)]
pub struct MarkedCatalog {
    catalog: Arc<Catalog>,
    mark: String,
}

impl MarkedCatalog {
    /// Marks a catalog.
    ///
    /// ```
    /// let shipped = book::MarkedCatalog::new(catalog::Catalog::shipped()?);
    /// assert_eq!(shipped.mark(), book::MarkedCatalog::new(catalog::Catalog::shipped()?).mark());
    /// # Ok::<(), placed::Faults>(())
    /// ```
    #[must_use]
    pub fn new(catalog: Catalog) -> Self {
        // The debugging text holds every field of every row, in the order of the files, and every digit of every number.
        let mark = sha256(format!("{catalog:?}").as_bytes());
        Self { catalog: Arc::new(catalog), mark }
    }

    /// The catalog.
    #[must_use]
    pub fn catalog(&self) -> &Catalog {
        &self.catalog
    }

    /// Its mark.
    #[must_use]
    pub fn mark(&self) -> &str {
        &self.mark
    }
}

/// A sheet that was read and reviewed, ready for the book.
#[derive(Debug, Clone)]
pub struct ReviewedSheet {
    /// The sheet as it was written.
    pub text: String,
    /// The sheet as it was read.
    pub sheet: Sheet,
    /// Its review.
    pub review: Review,
    pub(crate) summary: Summary,
    pub(crate) reading_texts: Vec<ReadingText>,
}

impl ReviewedSheet {
    /// Reads and reviews a sheet. This computes for some milliseconds and touches no book; `name` stands in front of faults.
    ///
    /// ```
    /// use book::{MarkedCatalog, ReviewedSheet};
    ///
    /// let catalog = MarkedCatalog::new(catalog::Catalog::shipped()?);
    /// let refused = ReviewedSheet::read("new order", "[order]\nreference = 5\n", &catalog).unwrap_err();
    /// assert!(refused.to_string().contains("new order:2:"));
    /// # Ok::<(), placed::Faults>(())
    /// ```
    ///
    /// # Errors
    ///
    /// The sheet holds faults, or the catalog makes no sound model.
    pub fn read(name: &str, text: &str, catalog: &MarkedCatalog) -> Result<Self, BookError> {
        let sheet = axle::read_sheet(name, text, catalog.catalog())?;
        let review = axle::review_without_questions(&sheet, catalog.catalog()).map_err(BookError::Model)?;
        Ok(Self::with_review(text, sheet, review, catalog))
    }

    /// A mark of the sizes to cut with their limits: two reviews have the same one where a shop would make the same.
    #[must_use]
    pub fn sizes_mark(&self) -> String {
        let mut text = String::new();
        for one in &self.review.dimensions {
            let [cut, least, most] = [one.cut, one.least, one.most].map(|size| nanometres(size.millimetres()));
            let side = one.side.map_or("", Side::words);
            text.push_str(&format!("{} {side} {cut} {least} {most}\n", one.kind.key()));
        }
        sha256(text.as_bytes())
    }

    /// Out of a sheet and a review that are there already.
    #[must_use]
    pub fn with_review(text: &str, sheet: Sheet, review: Review, catalog: &MarkedCatalog) -> Self {
        let summary = Summary::of(&sheet, &review, catalog);
        let reading_texts = reading_texts(&sheet);
        Self { text: text.to_owned(), sheet, review, summary, reading_texts }
    }
}

/// What the book keeps of a review.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Summary {
    pub judgement: Judgement,
    /// The chance that the shafts fit; none while something is missing.
    pub fit: Option<f64>,
    /// The reading that is most to be doubted, in words.
    pub doubt: Option<String>,
    /// The sizes that were decided, in nanometres.
    pub sizes: Vec<(DimensionKind, Option<Side>, i64)>,
    /// Names of parts, to be searched for.
    pub parts: Vec<String>,
    pub catalog_mark: String,
}

impl Summary {
    fn of(sheet: &Sheet, review: &Review, catalog: &MarkedCatalog) -> Self {
        let sizes =
            review.dimensions.iter().map(|one| (one.kind, one.side, nanometres(one.cut.millimetres()))).collect();
        let mut parts: Vec<String> = review
            .identified
            .iter()
            .filter_map(|one| one.candidates.first())
            .map(|candidate| candidate.name.clone())
            .collect();
        let claims = &sheet.parts;
        parts.extend(
            [&claims.bearing, &claims.housing_end, &claims.brake.row, &claims.spline_series, &sheet.differential]
                .into_iter()
                .flatten()
                .cloned(),
        );
        Self {
            judgement: review.verdict.into(),
            fit: review.fit_probability.map(|fit| fit.value),
            doubt: worst_doubt(review, catalog.catalog()),
            sizes,
            parts,
            catalog_mark: catalog.mark().to_owned(),
        }
    }

    /// What stands where a sheet can no longer be read.
    pub fn unreadable(catalog: &MarkedCatalog) -> Self {
        Self {
            judgement: Judgement::Unreadable,
            fit: None,
            doubt: None,
            sizes: Vec::new(),
            parts: Vec::new(),
            catalog_mark: catalog.mark().to_owned(),
        }
    }
}

/// The reading that is most to be doubted: `left overall length 28 13/16", 94.3 % likely mistaken`.
fn worst_doubt(review: &Review, catalog: &Catalog) -> Option<String> {
    let worst = review
        .readings
        .iter()
        .filter(|one| one.probability_mistaken >= WORTH_A_LINE)
        .max_by(|one, other| one.probability_mistaken.total_cmp(&other.probability_mistaken))?;
    let side = worst.side.map(|side| format!("{} ", side.words())).unwrap_or_default();
    Some(format!(
        "{side}{} {}, {} likely mistaken",
        catalog.measurand(worst.measurand).words,
        worst.written,
        quantity::percent(worst.probability_mistaken)
    ))
}

/// Millimetres in whole nanometres; every 64th of an inch is a whole number of them.
#[expect(clippy::cast_possible_truncation, reason = "a shaft is some 10^9 nm long, an i64 holds 10^18")]
pub(crate) fn nanometres(millimetres: f64) -> i64 {
    (millimetres * 1e6).round() as i64
}

/// One reading in words that can be compared between two revisions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct ReadingText {
    pub measurand: &'static str,
    pub side: &'static str,
    pub words: String,
}

/// Every reading of a sheet: what it says and how it was taken.
fn reading_texts(sheet: &Sheet) -> Vec<ReadingText> {
    sheet
        .readings
        .iter()
        .map(|reading| {
            let mut words = value_text(&reading.value);
            if let Some(pin) = reading.pin_diameter {
                words.push_str(&format!(", pins {} mm", pin.millimetres()));
            }
            if let Some(instrument) = &reading.instrument {
                words.push_str(&format!(", {instrument}"));
            }
            for condition in &reading.conditions {
                words.push_str(&format!(", {}", condition_key(*condition)));
            }
            if let Some(by) = &reading.by {
                words.push_str(&format!(", by {by}"));
            }
            if let Some(taken) = &reading.taken_as {
                words.push_str(&format!(", taken as {}", value_text(&taken.value)));
                if let Some(by) = &taken.taken_by {
                    words.push_str(&format!(" by {by}"));
                }
                match &taken.confirmed_by {
                    Some(by) => words.push_str(&format!(", confirmed by {by}")),
                    None => words.push_str(", not confirmed"),
                }
            }
            ReadingText { measurand: reading.measurand.key(), side: reading.side.map_or("", Side::words), words }
        })
        .collect()
}

/// What a reading says as it was written, each length with its unit: `2.432 in; 2.436 in`.
#[must_use]
pub fn value_text(value: &Value) -> String {
    match value {
        Value::Length(repeats) => repeats
            .iter()
            .map(|one| {
                // A number without a unit is in the unit of the sheet, which a revision may change.
                let unit = if one.text() == one.digits() { format!(" {}", one.unit()) } else { String::new() };
                format!("{}{unit}", one.text())
            })
            .collect::<Vec<_>>()
            .join("; "),
        Value::Count(count) => count.to_string(),
    }
}

fn condition_key(condition: catalog::Condition) -> &'static str {
    catalog::CONDITIONS.iter().find(|(known, _)| *known == condition).map_or("", |(_, key)| key)
}

//! The packing label, with the reference of the order as a QR code.

use axle::DimensionKind;
use drawing::Closeness;
use serde::Serialize;

use crate::job::Job;
use crate::qr;
use crate::wording::size;

/// The packing label.
#[derive(Debug, Clone, Serialize)]
pub struct PackingLabel {
    /// The shafts in the crate.
    pub shafts: Vec<PackedShaft>,
    /// The stud thread and number of holes, in words.
    pub pattern: String,
    /// Whether bearings are on the shafts.
    pub bearings: &'static str,
    /// Where the code lies; none where the reference is too long for one.
    pub code_path: Option<&'static str>,
    /// The code.
    #[serde(skip)]
    pub code: Option<String>,
}

/// A shaft in the crate.
#[derive(Debug, Clone, Serialize)]
pub struct PackedShaft {
    /// `left` or `right`.
    pub side: &'static str,
    /// Its overall length.
    pub length: String,
}

impl PackingLabel {
    /// The label of a job.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let style = job.style();
        let shafts = job
            .sides()
            .into_iter()
            .map(|side| PackedShaft {
                side: side.words(),
                length: job
                    .review
                    .dimension(DimensionKind::OverallLength, Some(side))
                    .map_or_else(|| "not known".to_owned(), |one| size(one.cut, Closeness::Turned, &style)),
            })
            .collect();
        let circle = job.review.dimension(DimensionKind::BoltCircle, None);
        let pattern = match (job.review.fitted.holes, circle) {
            (Some(holes), Some(circle)) => {
                // Studs that the customer presses in are not in the crate.
                let what = if job.sheet.fitting.studs_by_shop == Some(false) { "holes" } else { "studs" };
                format!("{holes} {what} on {}", size(circle.cut, Closeness::Turned, &style))
            }
            _ => "bolt circle not known".to_owned(),
        };
        let code = qr::svg(&job.review.reference);
        Self {
            shafts,
            pattern,
            bearings: match job.sheet.fitting.bearings_by_shop {
                Some(true) => "bearings and lock rings fitted",
                Some(false) => "without bearings and lock rings",
                None => "bearings: see the parts list",
            },
            code_path: code.as_ref().map(|_| "/code.svg"),
            code,
        }
    }
}

//! The certificate: material and heat, hardness, crack detection. What the shop has to fill in stays blank and is listed.

use axle::{Basis, DimensionKind, FittedSize, Side};
use drawing::Closeness;
use serde::Serialize;

use super::inspection_report::ring_force;
use crate::found::{self, FoundWhat};
use crate::job::Job;
use crate::wording::fitted;

/// The certificate.
#[derive(Debug, Clone, Serialize)]
pub struct Certificate {
    /// What it is for.
    pub what: String,
    /// The sides that it is for.
    pub sides: Vec<&'static str>,
    /// Its rows.
    pub groups: Vec<CertificateGroup>,
    /// Every blank that is still to be filled in.
    pub blanks: Vec<String>,
}

/// Rows that belong together.
#[derive(Debug, Clone, Serialize)]
pub struct CertificateGroup {
    /// Heading.
    pub heading: &'static str,
    /// The rows.
    pub rows: Vec<CertificateRow>,
}

/// One thing that is certified.
#[derive(Debug, Clone, Serialize)]
pub struct CertificateRow {
    /// What it is.
    pub what: &'static str,
    /// What is required; empty where nothing is.
    pub required: String,
    /// What is known already of every shaft alike; none is a blank, or differs.
    pub value: Option<String>,
    /// What is known of each shaft, in the order of the sides; none is a blank.
    pub values: Vec<Option<String>>,
}

fn blank(what: &'static str, required: impl Into<String>) -> CertificateRow {
    CertificateRow { what, required: required.into(), value: None, values: Vec::new() }
}

/// A row of what the floor wrote down, the latest of each shaft.
fn kept(job: &Job<'_>, what: &'static str, required: impl Into<String>, kept_as: FoundWhat) -> CertificateRow {
    let value = |side: Side| {
        let found = found::of(job.found, kept_as, side).next()?;
        let out = if found.passes == Some(false) { ", out of its limits" } else { "" };
        Some(format!("{}{out}", found.words))
    };
    CertificateRow { values: job.sides().into_iter().map(value).collect(), ..blank(what, required) }
}

/// How many sizes were measured on each shaft, and whether the latest of each lies within its limits; a blank where none was.
fn measured(job: &Job<'_>) -> CertificateRow {
    let value = |side: Side| {
        let latest: Vec<_> =
            DimensionKind::all().filter_map(|kind| found::of(job.found, FoundWhat::Size(kind), side).next()).collect();
        let out = latest.iter().filter(|one| one.passes == Some(false)).count();
        (!latest.is_empty()).then(|| match out {
            0 => format!("{} sizes, within limits", latest.len()),
            out => format!("{} sizes, {out} out of limits", latest.len()),
        })
    };
    let required = "the latest of each within its limits";
    CertificateRow { values: job.sides().into_iter().map(value).collect(), ..blank("Sizes as measured", required) }
}

impl Certificate {
    /// The certificate of a job.
    #[must_use]
    pub fn of(job: &Job<'_>) -> Self {
        let style = job.style();
        let shaft = &job.review.fitted.shaft;
        let grade = if shaft.steel_is_stated { shaft.steel.clone() } else { format!("{} (assumed)", shaft.steel) };
        let depth = |found: Option<&FittedSize>| {
            let assumed = found.is_some_and(|found| found.basis == Basis::Assumed);
            format!("{}{}", fitted(found, Closeness::Turned, &style), if assumed { " (assumed)" } else { "" })
        };
        let mut groups = vec![CertificateGroup {
            heading: "Material",
            rows: vec![
                blank("Grade and treatment as delivered", grade),
                kept(job, "Heat number", "one heat for each shaft", FoundWhat::HeatNumber),
                blank("Certificate of the steel maker", "number and date"),
            ],
        }];
        let hardness = match shaft.case_hardness {
            Some(hardness) => vec![
                blank("Hardness of the case", format!("{hardness} HRC at least")),
                blank("Depth of the case, body", depth(shaft.case_depth.as_ref())),
                blank("Depth of the case, spline roots", depth(shaft.spline_case_depth.as_ref())),
                blank("Hardness of the core", "as the steel and its treatment require"),
            ],
            None => vec![blank("Hardness", "as the steel and its treatment require")],
        };
        groups.push(CertificateGroup { heading: "Heat treatment and hardness", rows: hardness });
        groups.push(CertificateGroup {
            heading: "Magnetic-particle inspection",
            rows: vec![
                blank("Procedure", "method and standard"),
                blank("Result", "no indication"),
                blank("Inspector and qualification", ""),
            ],
        });
        let mut rows = vec![
            CertificateRow {
                what: "Drawing and revision",
                required: String::new(),
                value: Some(format!("{}, revision {}", job.review.reference, job.revision)),
                values: Vec::new(),
            },
            measured(job),
            kept(job, "Spline over pins", "as on the shop drawing", FoundWhat::OverPins),
        ];
        if job.sheet.fitting.bearings_by_shop != Some(false) {
            rows.push(kept(job, "Press force of the bearing", "written down", FoundWhat::BearingPressForce));
            rows.push(kept(job, "Press force of the lock ring", ring_force(job), FoundWhat::RingPressForce));
        }
        rows.push(blank("Inspection report", "number and date; every row filled in"));
        rows.push(blank("Nonconformances", "none, or each with who released it"));
        groups.push(CertificateGroup { heading: "Dimensions and assembly", rows });
        let sides: Vec<&'static str> = job.sides().into_iter().map(axle::Side::words).collect();
        for row in groups.iter_mut().flat_map(|group| &mut group.rows) {
            if row.values.is_empty() {
                row.values = sides.iter().map(|_| row.value.clone()).collect();
            }
        }
        let blanks = groups
            .iter()
            .flat_map(|group| &group.rows)
            .filter(|row| row.values.iter().any(Option::is_none))
            .map(|row| row.what.to_lowercase())
            .collect();
        Self { what: format!("Axle shaft, {}", sides.join(" and ")), sides, groups, blanks }
    }
}

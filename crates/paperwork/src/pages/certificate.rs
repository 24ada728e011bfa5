//! The certificate: material and heat, hardness, crack detection. What the shop has to fill in stays blank and is listed.

use axle::{Basis, FittedSize};
use drawing::Closeness;
use serde::Serialize;

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
    /// What is known already; none is a blank.
    pub value: Option<String>,
}

fn blank(what: &'static str, required: impl Into<String>) -> CertificateRow {
    CertificateRow { what, required: required.into(), value: None }
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
                blank("Heat number", "one heat for each shaft"),
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
        groups.push(CertificateGroup {
            heading: "Dimensions",
            rows: vec![
                CertificateRow {
                    what: "Drawing and revision",
                    required: String::new(),
                    value: Some(format!("{}, revision {}", job.review.reference, job.revision)),
                },
                blank("Inspection report", "number and date; every row filled in"),
                blank("Nonconformances", "none, or each with who released it"),
            ],
        });
        let blanks = groups
            .iter()
            .flat_map(|group| &group.rows)
            .filter(|row| row.value.is_none())
            .map(|row| row.what.to_lowercase())
            .collect();
        let sides: Vec<&'static str> = job.sides().into_iter().map(axle::Side::words).collect();
        Self { what: format!("Axle shaft, {}", sides.join(" and ")), sides, groups, blanks }
    }
}

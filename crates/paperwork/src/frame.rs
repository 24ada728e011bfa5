//! What stands on every page: whose paper it is, of which order, how far it may be trusted.

use axle::{CAUTIONS, Reason, Review, Verdict};
use quantity::sentence;
use serde::Serialize;

use crate::job::{Approval, Job, PageSize};
use crate::paper::Paper;
use crate::wording::{first_sentence, verdict_words};

/// What every template finds in `/frame.json`.
#[derive(Debug, Clone, Serialize)]
pub struct Frame {
    /// Title of the document.
    pub title: String,
    /// The shop's name.
    pub shop: String,
    /// Its address.
    pub address: Vec<String>,
    /// How it is reached.
    pub contact: Vec<String>,
    /// Where the logo lies; none where there is none.
    pub logo: Option<&'static str>,
    /// The shop's terms.
    pub terms: Vec<String>,
    /// The shop's reference of the order.
    pub reference: String,
    /// What the axle is called by its owner.
    pub axle: Option<String>,
    /// The revision.
    pub revision: String,
    /// The date: `2026-11-25`.
    pub date: String,
    /// Year, month and day.
    pub day: (u16, u8, u8),
    /// The page as the typesetter calls it.
    pub page: &'static str,
    /// The language as the typesetter calls it: region `us` or `gb`.
    pub region: &'static str,
    /// The units of the numbers, in words.
    pub units: &'static str,
    /// Whether the papers are approved for manufacture.
    pub approved: bool,
    /// Who approved them and why, or that nobody has.
    pub status: String,
    /// Whether the order must not be made.
    pub stopped: bool,
    /// What the review says, in words.
    pub verdict: &'static str,
    /// Why it must not be made, or what is not known.
    pub open: Vec<String>,
    /// The first of that, without what would change it, and how much more there is.
    pub open_in_brief: Vec<String>,
    /// The cautions.
    pub cautions: Vec<&'static str>,
}

impl Frame {
    /// The frame of a paper, or of the packet.
    #[must_use]
    pub fn of(job: &Job<'_>, paper: Option<Paper>, logo: Option<&'static str>) -> Self {
        let review = job.review;
        let approved = job.approved_by();
        let status = match (approved, job.overruling()) {
            (Some(name), None) => format!("Approved for manufacture by {name}."),
            (Some(name), Some(reason)) => {
                let reason = reason.trim().trim_end_matches('.');
                format!("Approved for manufacture by {name}, although the review would ask first: {reason}.")
            }
            (None, _) if review.verdict == Verdict::Stop => "Not for manufacture. This must not be made.".to_owned(),
            (None, _) => "Not for manufacture until it is approved.".to_owned(),
        };
        let status = match job.approval {
            Approval::Made { .. } if approved.is_some() => {
                format!("{status} Printed again as it was approved and made; the catalog has changed since then.")
            }
            _ => status,
        };
        let stops = review.reasons.iter().filter(|reason| reason.verdict == Verdict::Stop);
        let mut open: Vec<String> = stops.map(with_remedy).collect();
        let asks = review.reasons.iter().filter(|reason| reason.verdict == Verdict::Ask).map(|reason| &reason.words);
        for words in asks.chain(review.missing.iter().map(|missing| &missing.words)) {
            let words = sentence(words);
            if !open.contains(&words) {
                open.push(words);
            }
        }
        let open_in_brief = in_brief(review, &open);
        let what = paper.map_or("Papers", Paper::title);
        Self {
            title: format!("{what}, {}", review.reference),
            shop: job.shop.name.clone(),
            address: job.shop.address.clone(),
            contact: job.shop.contact.clone(),
            logo,
            terms: job.shop.terms.clone(),
            reference: review.reference.clone(),
            axle: job.sheet.axle.clone(),
            revision: job.revision.to_owned(),
            date: job.date.to_string(),
            day: (job.date.year, job.date.month, job.date.day),
            page: match job.page_size {
                PageSize::Letter => "us-letter",
                PageSize::A4 => "a4",
            },
            region: if job.page_size == PageSize::Letter { "us" } else { "gb" },
            units: job.units.words(),
            approved: approved.is_some(),
            status,
            stopped: review.verdict == Verdict::Stop,
            verdict: verdict_words(review.verdict),
            open,
            open_in_brief,
            cautions: CAUTIONS.to_vec(),
        }
    }
}

/// So many of the open matters stand on a paper that has little room.
const BRIEFLY: usize = 2;

/// The first open matters, a sentence each and without their remedies, for a paper that has no room for all.
fn in_brief(review: &Review, open: &[String]) -> Vec<String> {
    let stops = review.reasons.iter().filter(|reason| reason.verdict == Verdict::Stop);
    let stops: Vec<String> = stops.map(|reason| sentence(&reason.words)).collect();
    let rest = open.iter().skip(stops.len()).cloned();
    let mut brief: Vec<String> =
        stops.iter().cloned().chain(rest).take(BRIEFLY).map(|words| first_sentence(&words).to_owned()).collect();
    match open.len().saturating_sub(BRIEFLY) {
        0 => {}
        1 => brief.push("One thing more, which the confirmation has.".to_owned()),
        more => brief.push(format!("{more} things more, which the confirmation lists.")),
    }
    brief
}

/// A reason, and what would change it.
fn with_remedy(reason: &Reason) -> String {
    let words = sentence(&reason.words);
    reason
        .remedy
        .as_ref()
        .map_or_else(|| words.clone(), |remedy| format!("{words} What would change it: {}", sentence(remedy)))
}

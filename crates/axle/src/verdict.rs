//! The verdict: cut, ask or stop, with every reason.

use catalog::Catalog;
use quantity::percent;

use crate::questions::is_undecided;
use crate::review::{Identified, Missing, PartKind, Probability, Reason, Verdict};

/// Weighs everything that was found. The verdict is the gravest of the reasons.
pub(crate) fn verdict(
    catalog: &Catalog,
    against: Vec<Reason>,
    missing: &[Missing],
    identified: &[Identified],
    fit: Option<Probability>,
) -> (Verdict, Vec<Reason>) {
    let mut reasons = against;
    for gap in missing {
        let mut words = gap.words.clone();
        if let Some(first) = words.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        reasons.push(Reason {
            verdict: Verdict::Ask,
            words: format!("{words}."),
            remedy: (!gap.measurands.is_empty()).then(|| {
                let names: Vec<&str> =
                    gap.measurands.iter().take(3).map(|one| catalog.measurand(*one).words.as_str()).collect();
                format!("The {} would give it.", names.join(", or the "))
            }),
        });
    }
    for part in identified.iter().filter(|part| is_undecided(part, missing) && decides_the_shaft(part.kind)) {
        if let Some(remark) = &part.remark {
            reasons.push(Reason {
                verdict: Verdict::Ask,
                words: format!("The {} is not certain: {remark}.", part_words(part.kind)),
                remedy: None,
            });
        }
    }
    let threshold = catalog.settings.thresholds.cut_at;
    if let Some(fit) = fit {
        let chance = percent(fit.value);
        let wanted = percent(threshold);
        // What the numerical error leaves open is not claimed.
        let enough = fit.value - fit.error >= threshold;
        reasons.push(Reason {
            verdict: if enough { Verdict::Cut } else { Verdict::Ask },
            words: if enough {
                format!("The chance that the shafts fit the first time is {chance}, and the shop cuts from {wanted}.")
            } else {
                format!("The chance that the shafts fit the first time is {chance}; the shop cuts from {wanted}.")
            },
            remedy: (!enough).then(|| "The questions below raise it most.".to_owned()),
        });
    }
    reasons.sort_by_key(|reason| std::cmp::Reverse(reason.verdict));
    let verdict = reasons.iter().map(|reason| reason.verdict).max().unwrap_or(Verdict::Ask);
    (verdict, reasons)
}

/// Whether the shaft itself follows from the part.
pub(crate) fn decides_the_shaft(kind: PartKind) -> bool {
    matches!(kind, PartKind::Bearing | PartKind::Spline | PartKind::BoltCircle)
}

/// What a kind of part is called in a sentence.
pub(crate) fn part_words(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Bearing => "bearing",
        PartKind::HousingEnd => "housing end",
        PartKind::Spline => "spline",
        PartKind::BoltCircle => "bolt circle",
        PartKind::Stud => "stud",
    }
}

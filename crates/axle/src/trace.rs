//! Where a dimension comes from: its equation, the readings and parts behind it with their weights, and the rule by which
//! the size was chosen.

use catalog::Catalog;
use quantity::millimetres;
use reconcile::Explanation;

use crate::block::Block;
use crate::decide::{Decided, Following};
use crate::explanations::counted;
use crate::geometry::Geometry;
use crate::review::{DimensionKind, TraceStep};
use crate::sheet::Sheet;

/// A reading or part that moves the dimension by less than this for each unit of its own is not named.
const NAMED_FROM: f64 = 0.02;

/// The steps behind a dimension that was decided by its demand.
pub(crate) fn decided_trace<C: Geometry>(
    one: &Decided,
    block: &Block<'_, C>,
    sheet: &Sheet,
    catalog: &Catalog,
    brake_rules: bool,
) -> Vec<TraceStep> {
    let mut steps = vec![TraceStep {
        words: equation(one.demand.kind, brake_rules).to_owned(),
        value: None,
        standard_uncertainty: None,
        source: "dimension chain".to_owned(),
    }];
    let brake = &sheet.parts.brake;
    if one.demand.kind == DimensionKind::RegisterDiameter && brake.kind.is_none() && brake.row.is_none() {
        steps.push(TraceStep {
            words: "the sheet does not say drum or disc: the narrower window of a drum is kept".to_owned(),
            value: None,
            standard_uncertainty: None,
            source: "clearances of the catalog".to_owned(),
        });
    }
    if let Some(explanation) = block.likeliest() {
        steps.extend(behind(one, block, explanation, sheet, catalog));
    }
    steps.push(TraceStep {
        words: "mean over all explanations of the sheet".to_owned(),
        value: Some(millimetres(one.mean)),
        standard_uncertainty: Some(millimetres(one.deviation)),
        source: "reconciliation of all readings".to_owned(),
    });
    let ends = [("smallest", &one.demand.least), ("largest", &one.demand.most)];
    for ((end, limit), seen) in ends.into_iter().zip(one.limits) {
        let Some((limit, (mean, deviation))) = limit.as_ref().zip(seen) else { continue };
        steps.push(TraceStep {
            words: format!("{end} size for which {}", limit.words),
            value: Some(millimetres(mean)),
            standard_uncertainty: Some(millimetres(deviation)),
            source: "clearances of the catalog".to_owned(),
        });
    }
    steps.push(TraceStep {
        words: "size of least expected loss: scrap, rework and nuisance as the catalog weighs them".to_owned(),
        value: Some(millimetres(one.size)),
        standard_uncertainty: None,
        source: catalog.settings.losses.source.to_string(),
    });
    steps
}

/// The readings and the known sizes of parts behind a dimension, under the likeliest explanation.
fn behind<C: Geometry>(
    one: &Decided,
    block: &Block<'_, C>,
    explanation: &Explanation,
    sheet: &Sheet,
    catalog: &Catalog,
) -> Vec<TraceStep> {
    let Some((_, posterior)) = block.likeliest_posterior() else { return Vec::new() };
    let model = &block.models[explanation.model];
    let mut meanings = model.readings.clone();
    let mut remarks: Vec<Option<String>> = vec![None; meanings.len()];
    for mistake in explanation.mistakes.iter() {
        for (at, meaning) in &model.mistakes[*mistake].spoils {
            meanings[*at] = meaning.clone();
            let kind = block.tags(explanation.model)[*mistake].kind;
            remarks[*at] = Some(catalog.mistake(kind).words.clone());
        }
    }
    let mut steps = Vec::new();
    for (at, meaning) in meanings.iter().enumerate() {
        // A reading moves the estimate by C a / u² for each unit of its own.
        let variance = meaning.standard_uncertainty * meaning.standard_uncertainty;
        let weight = posterior.covariance_of(&one.demand.ideal, &meaning.form) / variance;
        if weight.abs() < NAMED_FROM {
            continue;
        }
        let taken = &block.taken[at];
        let reading = &sheet.readings[taken.index];
        let side = taken.side.map(|side| format!("{} ", side.words())).unwrap_or_default();
        let remark = remarks[at].as_ref().map(|words| format!(", taken to be {words}")).unwrap_or_default();
        let instrument = &taken.instrument.name;
        let weight = format!("weight {weight:+.2}");
        let text = counted(reading);
        let is_count = taken.measurand.is_count();
        steps.push(TraceStep {
            words: format!("{side}{} {text}, by {instrument}{remark}: {weight}", taken.row.words),
            value: (!is_count).then(|| millimetres(meaning.value)),
            standard_uncertainty: (!is_count).then(|| millimetres(meaning.standard_uncertainty)),
            source: format!("order sheet, line {}", reading.position.line),
        });
    }
    let names = block.unknowns(explanation.model, catalog);
    for (unknown, prior) in model.priors.iter().enumerate() {
        let variance = prior.standard_deviation * prior.standard_deviation;
        let weight = posterior.covariance_of(&one.demand.ideal, &reconcile::Form::of(unknown)) / variance;
        if weight.abs() < NAMED_FROM {
            continue;
        }
        let (words, source) = &names[unknown];
        let kind = if prior.firm { "known from its row" } else { "usual size" };
        steps.push(TraceStep {
            words: format!("{words}, {kind}: weight {weight:+.2}"),
            value: Some(millimetres(prior.mean)),
            standard_uncertainty: Some(millimetres(prior.standard_deviation)),
            source: source.clone(),
        });
    }
    steps
}

/// The steps behind a dimension that follows from a part or from other dimensions.
pub(crate) fn following_trace(one: &Following) -> Vec<TraceStep> {
    let rule = TraceStep {
        words: one.rule.0.clone(),
        value: Some(one.size),
        standard_uncertainty: None,
        source: one.rule.1.clone(),
    };
    let old = TraceStep {
        words: "the old part, as the readings have it".to_owned(),
        value: Some(millimetres(one.mean)),
        standard_uncertainty: Some(millimetres(one.deviation)),
        source: "reconciliation of all readings".to_owned(),
    };
    if one.deviation > 0.0 { vec![rule, old] } else { vec![rule] }
}

fn equation(kind: DimensionKind, brake_rules: bool) -> &'static str {
    match kind {
        DimensionKind::OverallLength => {
            "overall length = shoulder distance + race offset + outer-ring width − depth of the bearing bore \
             + reach − end clearance"
        }
        DimensionKind::ShoulderDistance if brake_rules => {
            "shoulder distance = brake offset that the brake requires − race offset − outer-ring width \
             + depth of the bearing bore"
        }
        DimensionKind::ShoulderDistance => "shoulder distance as on the old shaft",
        DimensionKind::RegisterDiameter => "register = bore of drum or rotor − clearance",
        DimensionKind::WheelPilotDiameter => "wheel pilot as on the old shaft, with clearance in the bore of the wheel",
        DimensionKind::FlangeDiameter => "flange as on the old shaft, or what drum or rotor hat leaves room for",
        DimensionKind::BoltCircle => "bolt circle D: the distance to the k-th of n holes is D sin(k 180°/n)",
        _ => "as on the old shaft",
    }
}

//! From the core's review to the wire: the only place where one becomes the other.

mod fitted;
mod proof;

use super::number::{optional_length, plain, probability};
use super::review::{
    Basis, BearingKind, Candidate, Check, Condition, Consequence, Correction, Dimension, DimensionKind, Explained,
    Explanation, FurtherReading, Identified, LikelyMistake, Missing, Mistake, PartKind, Question, Reading, Reason,
    Review, Scatter, Side, TakenAs, TraceStep, Trim, Verdict,
};

/// Puts a review on the wire, with the name of the sheet that it answers.
pub fn review(sheet: &str, review: &axle::Review) -> Review {
    Review {
        sheet: sheet.to_owned(),
        reference: review.reference.clone(),
        verdict: review.verdict.into(),
        fit_probability: review.fit_probability.map(|chance| probability(chance.value)),
        fit_probability_error: review.fit_probability.map(|chance| plain(chance.error)),
        reasons: review.reasons.iter().map(reason).collect(),
        dimensions: review.dimensions.iter().map(dimension).collect(),
        trims: review.trims.iter().map(trim).collect(),
        explanations: review.explanations.iter().map(explanation).collect(),
        prior_left_out: probability(review.prior_left_out),
        scatter: review.scatter.iter().map(scatter).collect(),
        readings: review.readings.iter().map(reading).collect(),
        missing: review.missing.iter().map(missing).collect(),
        questions: review.questions.iter().map(question).collect(),
        identified: review.identified.iter().map(identified).collect(),
        conditions: review.conditions.iter().map(condition).collect(),
        checks: review.checks.iter().map(check).collect(),
        proof: proof::proof(&review.proof),
        fitted: fitted::fitted(&review.fitted),
        cautions: cautions(),
    }
}

/// Puts the origin of some of a review's dimensions on the wire.
pub fn explained(sheet: &str, review: &axle::Review, dimensions: &[&axle::Dimension]) -> Explained {
    Explained {
        sheet: sheet.to_owned(),
        reference: review.reference.clone(),
        verdict: review.verdict.into(),
        explained: dimensions.iter().map(|one| dimension(one)).collect(),
        cautions: cautions(),
    }
}

fn cautions() -> Vec<String> {
    axle::CAUTIONS.iter().map(|&words| words.to_owned()).collect()
}

fn scatter(scatter: &axle::ScatterReview) -> Scatter {
    Scatter { multiple: plain(scatter.multiple), probability: probability(scatter.probability) }
}

fn reason(reason: &axle::Reason) -> Reason {
    Reason { verdict: reason.verdict.into(), words: reason.words.clone(), remedy: reason.remedy.clone() }
}

fn dimension(dimension: &axle::Dimension) -> Dimension {
    Dimension {
        dimension: dimension.kind.into(),
        side: side(dimension.side),
        cut: dimension.cut.into(),
        least: dimension.least.into(),
        most: dimension.most.into(),
        mean: dimension.mean.into(),
        standard_uncertainty: dimension.standard_uncertainty.into(),
        basis: dimension.basis.into(),
        trace: dimension.trace.iter().map(trace_step).collect(),
    }
}

fn trace_step(step: &axle::TraceStep) -> TraceStep {
    TraceStep {
        words: step.words.clone(),
        value: optional_length(step.value),
        standard_uncertainty: optional_length(step.standard_uncertainty),
        source: step.source.clone(),
    }
}

fn explanation(explanation: &axle::ExplanationReview) -> Explanation {
    Explanation {
        probability: probability(explanation.probability),
        mistakes: explanation.mistakes.iter().map(mistake).collect(),
        parts: explanation.parts.clone(),
    }
}

fn mistake(mistake: &axle::MistakeReview) -> Mistake {
    Mistake {
        mistake: mistake.kind.key().to_owned(),
        readings: mistake.readings.clone(),
        words: mistake.words.clone(),
        would_say: optional_length(mistake.would_say),
        corrections: mistake
            .corrections
            .iter()
            .map(|one| Correction { reading: one.reading, written: one.written.clone(), is_literal: one.is_literal })
            .collect(),
    }
}

fn reading(reading: &axle::ReadingReview) -> Reading {
    Reading {
        measurand: reading.measurand.key().to_owned(),
        side: side(reading.side),
        written: reading.written.clone(),
        taken_as: reading.taken_as.as_ref().map(|taken| TakenAs {
            written: taken.written.clone(),
            taken_by: taken.taken_by.clone(),
            confirmed_by: taken.confirmed_by.clone(),
        }),
        line: reading.line,
        value: optional_length(reading.value),
        count: reading.count,
        standard_uncertainty: optional_length(reading.standard_uncertainty),
        reconciled: optional_length(reading.reconciled),
        normalised_residual: reading.normalised_residual.map(plain),
        redundancy: probability(reading.redundancy),
        probability_mistaken: probability(reading.probability_mistaken),
        likely_mistake: reading
            .likely_mistake
            .map(|(kind, chance)| LikelyMistake { mistake: kind.key().to_owned(), probability: probability(chance) }),
        remark: reading.remark.clone(),
    }
}

fn trim(trim: &axle::TrimPlan) -> Trim {
    Trim {
        side: side(trim.side),
        cut: trim.cut.into(),
        least: trim.least.into(),
        spline: trim.spline.into(),
        loss_to_size: plain(trim.loss_to_size),
        loss_trimmed: plain(trim.loss_trimmed),
    }
}

fn missing(missing: &axle::Missing) -> Missing {
    Missing {
        measurands: missing.measurands.iter().map(|measurand| measurand.key().to_owned()).collect(),
        part: missing.part.map(PartKind::from),
        side: side(missing.side),
        words: missing.words.clone(),
    }
}

fn question(question: &axle::Question) -> Question {
    Question {
        measurand: question.measurand.map(|measurand| measurand.key().to_owned()),
        side: side(question.side),
        with: question
            .with
            .iter()
            .map(|(measurand, own)| FurtherReading { measurand: measurand.key().to_owned(), side: side(*own) })
            .collect(),
        words: question.words.clone(),
        how: question.how.clone(),
        instrument: question.instrument.clone(),
        required: question.required,
        gain: probability(question.gain),
        effort_minutes: plain(question.effort_minutes),
    }
}

fn identified(identified: &axle::Identified) -> Identified {
    Identified {
        part: identified.kind.into(),
        candidates: identified.candidates.iter().map(candidate).collect(),
        decided: identified.decided,
        remark: identified.remark.clone(),
    }
}

fn candidate(candidate: &axle::Candidate) -> Candidate {
    Candidate {
        name: candidate.name.clone(),
        probability: probability(candidate.probability),
        bearing_kind: candidate.bearing_kind.map(BearingKind::from),
        source: candidate.source.clone(),
    }
}

fn condition(condition: &axle::ConditionReview) -> Condition {
    Condition {
        words: condition.words.clone(),
        side: side(condition.side),
        probability: probability(condition.probability),
        consequence: condition.consequence.into(),
    }
}

fn check(check: &axle::Check) -> Check {
    Check {
        words: check.words.clone(),
        passed: check.passed,
        statistic: check.statistic.map(plain),
        limit: check.limit.map(plain),
        degrees_of_freedom: check.degrees_of_freedom.map(plain),
        source: check.source.clone(),
    }
}

fn side(side: Option<axle::Side>) -> Option<Side> {
    side.map(|side| match side {
        axle::Side::Left => Side::Left,
        axle::Side::Right => Side::Right,
    })
}

impl From<axle::Verdict> for Verdict {
    fn from(verdict: axle::Verdict) -> Self {
        match verdict {
            axle::Verdict::Cut => Self::Cut,
            axle::Verdict::Ask => Self::Ask,
            axle::Verdict::Stop => Self::Stop,
        }
    }
}

impl From<axle::Basis> for Basis {
    fn from(basis: axle::Basis) -> Self {
        match basis {
            axle::Basis::Measured => Self::Measured,
            axle::Basis::Derived => Self::Derived,
            axle::Basis::Assumed => Self::Assumed,
        }
    }
}

impl From<axle::DimensionKind> for DimensionKind {
    fn from(kind: axle::DimensionKind) -> Self {
        match kind {
            axle::DimensionKind::OverallLength => Self::OverallLength,
            axle::DimensionKind::ShoulderDistance => Self::ShoulderDistance,
            axle::DimensionKind::RaceDistance => Self::RaceDistance,
            axle::DimensionKind::BrakeOffset => Self::BrakeOffset,
            axle::DimensionKind::FlangeDiameter => Self::FlangeDiameter,
            axle::DimensionKind::FlangeThickness => Self::FlangeThickness,
            axle::DimensionKind::RegisterDiameter => Self::RegisterDiameter,
            axle::DimensionKind::RegisterHeight => Self::RegisterHeight,
            axle::DimensionKind::WheelPilotDiameter => Self::WheelPilotDiameter,
            axle::DimensionKind::WheelPilotHeight => Self::WheelPilotHeight,
            axle::DimensionKind::JournalDiameter => Self::JournalDiameter,
            axle::DimensionKind::RingSeatDiameter => Self::RingSeatDiameter,
            axle::DimensionKind::SealJournalDiameter => Self::SealJournalDiameter,
            axle::DimensionKind::BoltCircle => Self::BoltCircle,
            axle::DimensionKind::StudHole => Self::StudHole,
            axle::DimensionKind::SplineMajorDiameter => Self::SplineMajorDiameter,
        }
    }
}

impl From<axle::PartKind> for PartKind {
    fn from(kind: axle::PartKind) -> Self {
        match kind {
            axle::PartKind::Bearing => Self::Bearing,
            axle::PartKind::HousingEnd => Self::HousingEnd,
            axle::PartKind::Spline => Self::Spline,
            axle::PartKind::BoltCircle => Self::BoltCircle,
            axle::PartKind::Stud => Self::Stud,
        }
    }
}

impl From<catalog::BearingKind> for BearingKind {
    fn from(kind: catalog::BearingKind) -> Self {
        match kind {
            catalog::BearingKind::Ball => Self::Ball,
            catalog::BearingKind::Tapered => Self::Tapered,
        }
    }
}

impl From<axle::Consequence> for Consequence {
    fn from(consequence: axle::Consequence) -> Self {
        match consequence {
            axle::Consequence::Scrap => Self::Scrap,
            axle::Consequence::Rework => Self::Rework,
            axle::Consequence::Nuisance => Self::Nuisance,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::DimensionKind;

    #[test]
    fn the_wire_names_a_dimension_by_the_key_of_the_command_line() {
        for kind in axle::DimensionKind::all() {
            let on_wire = serde_json::to_value(DimensionKind::from(kind)).unwrap();
            assert_eq!(on_wire, serde_json::Value::from(kind.key()));
            assert_eq!(axle::DimensionKind::from_key(kind.key()), Some(kind));
        }
    }
}

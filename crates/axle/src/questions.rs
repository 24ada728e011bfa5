//! What to ask next: first what the shafts cannot do without, then the readings that say most for their effort.
//!
//! A further reading is worth the share of variance that it takes from the dimensions that have to fit, each counted by the
//! chance that it does not: a size that is badly known but has all the room it needs is not worth a question. The variance is that of the whole mixture, between explanations as well as within them, so a
//! reading that tells two explanations apart is worth much.

use catalog::{BearingKind, Catalog, Measurand, MeasurandRow, Sides};
use reconcile::{Form, Normal};

use crate::block::Block;
use crate::blocks::Blocks;
use crate::decide::{Decided, Decisions, Topic, measurand_of};
use crate::evidence::planned_uncertainty;
use crate::geometry::Geometry;
use crate::review::{Consequence, DimensionKind, Identified, Missing, PartKind, Question};
use crate::sheet::{Sheet, Side};

/// A reading fills a gap where it takes away at least this share of what is open.
const FILLS_FROM: f64 = 0.8;
/// A reading that takes away less than this is not worth asking for.
const WORTH_FROM: f64 = 0.02;

/// What the shafts need and nothing on the sheet gives.
pub(crate) fn missing(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
    identified: &[Identified],
) -> Vec<Missing> {
    let mut all = Vec::new();
    for open in decisions.decided.iter().filter(|one| one.open && is_needed(one.demand.kind)) {
        let measurands = match open.topic {
            Topic::Chain => fillers(&blocks.chain, open, sheet, catalog),
            Topic::Circle => fillers(&blocks.circle, open, sheet, catalog),
            Topic::Face => fillers(&blocks.face, open, sheet, catalog),
        };
        let side = open.demand.side;
        let on = side.map(|side| format!(", {}", side.words())).unwrap_or_default();
        let words = format!("nothing on the sheet gives the {}{on}", dimension_words(open.demand.kind));
        all.push(Missing { measurands, part: None, side, words });
    }
    let reads = |measurand: Measurand| sheet.readings.iter().any(|reading| reading.measurand == measurand);
    if !reads(Measurand::ToothCount) {
        let words = "the spline's teeth are not counted".to_owned();
        all.push(Missing { measurands: vec![Measurand::ToothCount], part: Some(PartKind::Spline), side: None, words });
    }
    if !reads(Measurand::HoleCount) {
        let words = "the wheel studs or holes are not counted".to_owned();
        all.push(Missing {
            measurands: vec![Measurand::HoleCount],
            part: Some(PartKind::BoltCircle),
            side: None,
            words,
        });
    }
    let no_bearing_evidence = sheet.parts.bearing.is_none()
        && ![
            Measurand::JournalDiameter,
            Measurand::BearingBore,
            Measurand::BearingOutside,
            Measurand::HousingBoreDiameter,
        ]
        .into_iter()
        .any(reads);
    if no_bearing_evidence {
        let words = "nothing on the sheet tells the bearing".to_owned();
        let measurands = vec![Measurand::BearingOutside, Measurand::JournalDiameter, Measurand::BearingOuterWidth];
        all.push(Missing { measurands, part: Some(PartKind::Bearing), side: None, words });
    } else if identified
        .iter()
        .any(|part| part.kind == PartKind::Bearing && part.candidates.first().is_some_and(|one| one.source == "no row"))
    {
        let words =
            "the bearing is in no row of the catalog and has to be entered there, with its bore, outside, widths and \
                     race offset"
                .to_owned();
        let measurands = vec![Measurand::BearingOuterWidth, Measurand::BearingInnerWidth, Measurand::BearingBore];
        all.push(Missing { measurands, part: Some(PartKind::Bearing), side: None, words });
    }
    let brake = &sheet.parts.brake;
    if brake.changed && brake.row.is_none() {
        if brake.required_offset.is_none() {
            let words = "the brake is another one, and the offset that its maker requires is not given".to_owned();
            all.push(Missing { measurands: Vec::new(), part: None, side: None, words });
        }
        if !reads(Measurand::DrumInside) {
            let words = "the brake is another one, and the room inside its drum or hat is not given".to_owned();
            all.push(Missing { measurands: vec![Measurand::DrumInside], part: None, side: None, words });
        }
    }
    if sheet.parts.stud.is_none() && sheet.parts.stud_hole.is_none() && !reads(Measurand::StudHole) {
        let words = "neither the stud thread nor the stud hole is given".to_owned();
        all.push(Missing { measurands: vec![Measurand::StudHole], part: None, side: None, words });
    }
    if sheet.differential.is_none() {
        let words =
            "the kind of differential is not given: cross pin and side gear differ from kind to kind".to_owned();
        all.push(Missing { measurands: Vec::new(), part: None, side: None, words });
    }
    all
}

/// Whether a shaft cannot be made without this dimension: heights and thickness have usual sizes.
fn is_needed(kind: DimensionKind) -> bool {
    !matches!(kind, DimensionKind::FlangeThickness | DimensionKind::RegisterHeight | DimensionKind::WheelPilotHeight)
}

/// The readings that would fill a gap, the handiest first.
fn fillers<C: Geometry>(block: &Block<'_, C>, open: &Decided, sheet: &Sheet, catalog: &Catalog) -> Vec<Measurand> {
    let Some((choice, overall)) = likeliest(block) else { return Vec::new() };
    let mut found: Vec<(f64, Measurand)> = candidates(sheet, catalog)
        .into_iter()
        .filter(|candidate| candidate.side.is_none() || candidate.side == open.demand.side)
        .filter(|candidate| choice.can_be_taken(candidate.row.measurand))
        .filter_map(|candidate| {
            let form = choice.form(candidate.row.measurand, candidate.side)?;
            let uncertainty = planned_uncertainty(candidate.row, catalog.usual_instrument(candidate.row));
            let share = overall.variance_reduction(&open.demand.ideal, &form, uncertainty);
            // The dimension's own reading may need another that is missing as well, and is still the one to take.
            let own = measurand_of(open.demand.kind) == Some(candidate.row.measurand);
            (share >= FILLS_FROM || own).then_some((candidate.row.effort_minutes, candidate.row.measurand))
        })
        .collect();
    // The dimension itself first, then what is quickest to take.
    let direct = measurand_of(open.demand.kind);
    let indirect = |measurand: Measurand| Some(measurand) != direct;
    found.sort_by(|one, other| {
        indirect(one.1).cmp(&indirect(other.1)).then(one.0.total_cmp(&other.0)).then(one.1.cmp(&other.1))
    });
    found.dedup_by_key(|(_, measurand)| *measurand);
    found.into_iter().map(|(_, measurand)| measurand).collect()
}

fn likeliest<'b, C: Geometry>(block: &'b Block<'_, C>) -> Option<(&'b C, Normal)> {
    let explanation = block.likeliest()?;
    Some((&block.choices[explanation.model], block.mixture.overall()?))
}

/// A reading that could be taken.
struct Possible<'a> {
    row: &'a MeasurandRow,
    side: Option<Side>,
    /// Whether it was taken before, so that it would be taken again with more care.
    again: bool,
}

/// Every reading that could be taken for this order, on each side that is wanted. Where no shaft was read at all there is
/// none to read.
fn candidates<'a>(sheet: &Sheet, catalog: &'a Catalog) -> Vec<Possible<'a>> {
    let shaft_there = sheet.readings.iter().any(|reading| is_of_the_shaft(reading.measurand));
    let reached = sheet.readings.iter().any(|reading| reading.measurand == Measurand::Reach);
    let mut all = Vec::new();
    for row in &catalog.measurands {
        if is_of_the_shaft(row.measurand) && !shaft_there && reached {
            continue;
        }
        let sides: Vec<Option<Side>> = match row.sides {
            Sides::Each => sheet.wanted.iter().copied().map(Some).collect(),
            Sides::Whole | Sides::Either => vec![None],
        };
        for side in sides {
            let same = |reading: &&crate::sheet::Reading| {
                reading.measurand == row.measurand && (side.is_none() || reading.side == side)
            };
            all.push(Possible { row, side, again: sheet.readings.iter().any(|reading| same(&reading)) });
        }
    }
    all
}

/// Whether a reading needs an old shaft.
fn is_of_the_shaft(measurand: Measurand) -> bool {
    matches!(
        measurand,
        Measurand::OverallLength
            | Measurand::ShoulderDistance
            | Measurand::RaceDistance
            | Measurand::BrakeOffset
            | Measurand::ShoulderToEnd
            | Measurand::FlangeThickness
            | Measurand::RegisterHeight
            | Measurand::WheelPilotHeight
            | Measurand::SplineContactLength
            | Measurand::FaceToFace
            | Measurand::FlangeDiameter
            | Measurand::RegisterDiameter
            | Measurand::WheelPilotDiameter
            | Measurand::JournalDiameter
            | Measurand::RingSeatDiameter
            | Measurand::SealJournalDiameter
            | Measurand::ToothCount
            | Measurand::SplineMajorDiameter
            | Measurand::SplineOverPins
    )
}

/// The questions of an order, what is required first, then by the share of variance that they take away.
pub(crate) fn questions(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
    missing: &[Missing],
    identified: &[Identified],
    again: &[usize],
) -> Vec<Question> {
    let mut all: Vec<Question> = missing.iter().map(|gap| required(gap, catalog)).collect();
    all.extend(again.iter().map(|reading| confirming(&sheet.readings[*reading], catalog)));
    all.extend(
        identified
            .iter()
            .filter(|part| is_undecided(part, missing))
            .filter_map(|part| which_part(part, sheet, catalog)),
    );

    let mut ranked = Vec::new();
    let total: f64 = decisions.decided.iter().filter(|one| counts(one)).map(|one| weight(decisions, one)).sum();
    if total > 0.0 {
        worth(&blocks.chain, Topic::Chain, total, sheet, catalog, blocks, decisions, &mut ranked);
        worth(&blocks.circle, Topic::Circle, total, sheet, catalog, blocks, decisions, &mut ranked);
        worth(&blocks.face, Topic::Face, total, sheet, catalog, blocks, decisions, &mut ranked);
    }
    ranked.sort_by(|one: &Question, other: &Question| {
        other
            .variance_reduction
            .total_cmp(&one.variance_reduction)
            .then(one.effort_minutes.total_cmp(&other.effort_minutes))
            .then(one.measurand.cmp(&other.measurand))
            .then(one.side.cmp(&other.side))
    });
    let asked = |question: &Question, all: &[Question]| {
        all.iter().any(|other| other.measurand == question.measurand && other.side == question.side)
    };
    for question in ranked {
        if !asked(&question, &all) {
            all.push(question);
        }
    }
    all.truncate(catalog.settings.thresholds.questions_shown);
    all
}

/// Whether a part is undecided and nothing that is asked for anyway would decide it.
pub(crate) fn is_undecided(part: &Identified, missing: &[Missing]) -> bool {
    !part.decided && missing.iter().all(|gap| gap.part != Some(part.kind))
}

/// Whether a dimension can spoil the fit and is determined at all; what is open is asked for by name.
fn counts(one: &Decided) -> bool {
    !one.open && (one.demand.least.is_some() || one.demand.most.is_some())
}

/// The chance that a dimension comes out too small or too large for more than a nuisance: so much is there to gain on it.
fn weight(decisions: &Decisions<'_>, one: &Decided) -> f64 {
    let projection = &decisions.outlooks.of(one.topic).projection;
    let limits = [&one.demand.least, &one.demand.most].into_iter().flatten();
    limits
        .zip(one.aim.between(one.size))
        .filter(|(limit, _)| limit.consequence != Consequence::Nuisance)
        .map(|(_, between)| 1.0 - projection.probability_between(&between))
        .sum::<f64>()
        .max(0.0)
}

#[expect(clippy::too_many_arguments, reason = "one call for each topic, whose types differ")]
fn worth<C: Geometry>(
    block: &Block<'_, C>,
    topic: Topic,
    total: f64,
    sheet: &Sheet,
    catalog: &Catalog,
    _blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
    found: &mut Vec<Question>,
) {
    let Some((choice, overall)) = likeliest(block) else { return };
    let wanted: Vec<(&Form, f64)> = decisions
        .decided
        .iter()
        .filter(|one| one.topic == topic && counts(one))
        .map(|one| (&one.demand.ideal, weight(decisions, one)))
        .collect();
    for candidate in candidates(sheet, catalog) {
        let row = candidate.row;
        let form = choice.form(row.measurand, candidate.side).filter(|_| choice.can_be_taken(row.measurand));
        let Some(form) = form else { continue };
        let instrument = if candidate.again { &row.better_instrument } else { &row.instrument };
        let Some(instrument) = catalog.instrument(instrument) else { continue };
        let uncertainty = planned_uncertainty(row, instrument);
        let reduction: f64 =
            wanted.iter().map(|(ideal, weight)| weight * overall.variance_reduction(ideal, &form, uncertainty)).sum();
        let share = reduction / total;
        if share >= WORTH_FROM {
            let side = candidate.side.map(|side| format!("{} ", side.words())).unwrap_or_default();
            let again = if candidate.again { " again, by another person if there is one" } else { "" };
            found.push(Question {
                measurand: Some(row.measurand),
                side: candidate.side,
                words: format!("Take the {side}{}{again}, with {}.", row.words, article(&instrument.name)),
                how: row.how.clone(),
                instrument: Some(instrument.name.clone()),
                required: false,
                variance_reduction: share,
                effort_minutes: row.effort_minutes,
            });
        }
    }
}

/// `a caliper`, `an eye`.
fn article(noun: &str) -> String {
    let vowel = noun.starts_with(['a', 'e', 'i', 'o', 'u']);
    if noun.ends_with('s') {
        noun.to_owned()
    } else if vowel {
        format!("an {noun}")
    } else {
        format!("a {noun}")
    }
}

fn required(gap: &Missing, catalog: &Catalog) -> Question {
    let rows: Vec<&MeasurandRow> = gap.measurands.iter().map(|measurand| catalog.measurand(*measurand)).collect();
    let names: Vec<&str> = rows.iter().take(3).map(|row| row.words.as_str()).collect();
    let side = gap.side.map(|side| format!("{} ", side.words())).unwrap_or_default();
    let ask = match names.as_slice() {
        [] => format!("Ask the customer: {}.", gap.words),
        names => format!("Take the {side}{}: {}.", names.join(" or the "), gap.words),
    };
    Question {
        measurand: gap.measurands.first().copied(),
        side: gap.side,
        words: ask,
        how: rows.first().map(|row| row.how.clone()).unwrap_or_default(),
        instrument: rows.first().map(|row| row.instrument.clone()),
        required: true,
        variance_reduction: 1.0,
        effort_minutes: rows.first().map_or(2.0, |row| row.effort_minutes),
    }
}

/// The question that has a reading taken again.
fn confirming(reading: &crate::sheet::Reading, catalog: &Catalog) -> Question {
    let row = catalog.measurand(reading.measurand);
    let instrument = catalog.better_instrument(row);
    let side = reading.side.map(|side| format!("{} ", side.words())).unwrap_or_default();
    Question {
        measurand: Some(reading.measurand),
        side: reading.side,
        words: format!("Take the {side}{} again, by another person if there is one.", row.words),
        how: row.how.clone(),
        instrument: Some(instrument.name.clone()),
        required: true,
        variance_reduction: 1.0,
        effort_minutes: row.effort_minutes,
    }
}

/// The question that tells the candidates of an undecided part apart.
fn which_part(part: &Identified, sheet: &Sheet, catalog: &Catalog) -> Option<Question> {
    let reads = |measurand: Measurand| sheet.readings.iter().any(|reading| reading.measurand == measurand);
    let unread = |candidates: &[Measurand]| candidates.iter().copied().find(|measurand| !reads(*measurand));
    let kinds: Vec<Option<BearingKind>> = part.candidates.iter().take(2).map(|one| one.bearing_kind).collect();
    let kind_said = sheet.parts.bearing_kind.is_some();
    let kinds_differ = matches!(kinds.as_slice(), [Some(one), Some(other)] if one != other);
    if part.kind == PartKind::Bearing && kinds_differ && !kind_said {
        return Some(Question {
            measurand: None,
            side: None,
            words: "Ask which kind the bearing is: a sealed ball unit, or a tapered roller unit with its own outer seal."
                .to_owned(),
            how: "Turn the outer ring by hand and look at its outboard side: a tapered unit has a separate outer seal and \
                  some end play, a ball unit is closed by two flush shields."
                .to_owned(),
            instrument: None,
            required: true,
            variance_reduction: 1.0,
            effort_minutes: 2.0,
        });
    }
    let measurand = match part.kind {
        PartKind::Bearing => unread(&[
            Measurand::BearingOutside,
            Measurand::BearingOuterWidth,
            Measurand::JournalDiameter,
            Measurand::BearingInnerWidth,
            Measurand::BearingBore,
            Measurand::HousingBoreDiameter,
        ]),
        PartKind::Spline => unread(&[Measurand::ToothCount, Measurand::SplineMajorDiameter, Measurand::SplineOverPins]),
        PartKind::BoltCircle => unread(&[
            Measurand::HoleCount,
            Measurand::ChordAdjacent,
            Measurand::ChordAlternate,
            Measurand::EdgeSpan,
            Measurand::EdgeGap,
        ]),
        // Nothing on the shaft follows from the bolt pattern of the housing end.
        PartKind::HousingEnd | PartKind::Stud => None,
    }?;
    let row = catalog.measurand(measurand);
    let why = match part.candidates.as_slice() {
        [first, second, ..] => format!("it tells {} from {}", first.name, second.name),
        [first] => format!("the evidence points to {}", first.name),
        [] => "nothing points to any".to_owned(),
    };
    Some(Question {
        measurand: Some(measurand),
        side: None,
        words: format!("Take the {}: {why}.", row.words),
        how: row.how.clone(),
        instrument: Some(row.instrument.clone()),
        required: true,
        variance_reduction: 1.0,
        effort_minutes: row.effort_minutes,
    })
}

/// What a dimension is called in a sentence.
pub(crate) fn dimension_words(kind: DimensionKind) -> &'static str {
    match kind {
        DimensionKind::OverallLength => "overall length",
        DimensionKind::ShoulderDistance => "shoulder distance",
        DimensionKind::RaceDistance => "race distance",
        DimensionKind::BrakeOffset => "brake offset",
        DimensionKind::FlangeDiameter => "flange diameter",
        DimensionKind::FlangeThickness => "flange thickness",
        DimensionKind::RegisterDiameter => "register diameter",
        DimensionKind::RegisterHeight => "register height",
        DimensionKind::WheelPilotDiameter => "wheel pilot diameter",
        DimensionKind::WheelPilotHeight => "wheel pilot height",
        DimensionKind::JournalDiameter => "journal diameter",
        DimensionKind::RingSeatDiameter => "ring seat diameter",
        DimensionKind::SealJournalDiameter => "seal journal diameter",
        DimensionKind::BoltCircle => "bolt circle",
        DimensionKind::StudHole => "stud hole",
        DimensionKind::SplineMajorDiameter => "spline major diameter",
    }
}

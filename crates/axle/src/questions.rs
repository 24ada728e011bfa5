//! What to ask next: first what the shafts cannot do without, then what raises the fit probability most for its effort.
//!
//! Every reading that could be taken, or taken again with more care, is weighed ([`crate::worth`]); so are two that say little
//! alone, what can be measured in one go, and what the customer may know. A minute of the customer's time has its price in the
//! catalog.

use catalog::{BearingKind, Catalog, Measurand, MeasurandRow, Sides};

use crate::blocks::Blocks;
use crate::candidates::{candidates, is_of_the_shaft};
use crate::decide::Decisions;
use crate::review::{Identified, Missing, PartKind, Question};
use crate::sheet::{Sheet, Side};
use crate::worth::{Planned, Worth};

/// What raises the fit probability by less than this is not worth asking for.
const WORTH_FROM: f64 = 0.002;
/// Two readings are asked for together where they bring so much more than the sum of what each brings alone.
const TOGETHER_FROM: f64 = 0.01;
/// So many of the best single readings are tried in pairs.
const PAIRED: usize = 3;

/// The questions of an order, what is required first, then by what they are worth.
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
    let shown = catalog.settings.thresholds.questions_shown;
    // Where what is required fills the list, nothing else would be seen: it need not be weighed, which takes long.
    if all.len() < shown {
        let mut named: Vec<(Measurand, Option<Side>)> = all.iter().flat_map(readings_of).collect();
        for question in ranked(sheet, catalog, blocks, decisions) {
            let own = readings_of(&question);
            // What is asked for above, alone or with others, is not asked for again.
            if own.is_empty() || own.iter().any(|reading| !named.contains(reading)) {
                named.extend(own);
                all.push(question);
            }
        }
    }
    all.truncate(shown);
    all
}

/// The readings that a question asks for.
fn readings_of(question: &Question) -> Vec<(Measurand, Option<Side>)> {
    question.measurand.map(|first| (first, question.side)).into_iter().chain(question.with.iter().copied()).collect()
}

/// What could be asked, the worthiest first.
fn ranked(sheet: &Sheet, catalog: &Catalog, blocks: &Blocks<'_>, decisions: &Decisions<'_>) -> Vec<Question> {
    let pin_diameter = blocks.spline.likeliest().and_then(|one| blocks.spline.choice(one.model).usual_pin());
    let plan = |row: &'_ MeasurandRow, side, careful: bool| Planned {
        row: catalog.measurand(row.measurand),
        side,
        instrument: if careful { catalog.better_instrument(row) } else { catalog.usual_instrument(row) },
        pin_diameter: pin_diameter.filter(|_| row.measurand == Measurand::SplineOverPins),
    };
    let singles = candidates(sheet, catalog);
    let mut planned: Vec<Planned<'_>> = singles.iter().map(|one| plan(one.row, one.side, one.again)).collect();
    let mut inquiries: Vec<Vec<usize>> = Vec::new();
    let shaft_there = sheet.readings.iter().any(|reading| is_of_the_shaft(reading.measurand));
    for inquiry in &catalog.inquiries {
        let from = planned.len();
        if shaft_there || !inquiry.needs_old_shaft {
            for measurand in &inquiry.readings {
                let row = catalog.measurand(*measurand);
                let sides: Vec<Option<Side>> = match row.sides {
                    Sides::Each => sheet.wanted.iter().copied().map(Some).collect(),
                    Sides::Whole | Sides::Either => vec![None],
                };
                planned.extend(sides.into_iter().map(|side| plan(row, side, true)));
            }
        }
        inquiries.push((from..planned.len()).collect());
    }
    let worth = Worth::new(blocks, decisions, &planned, catalog);
    let minute = catalog.settings.losses.minute;
    let mut found: Vec<Question> = Vec::new();
    let gains: Vec<f64> = (0..singles.len()).map(|at| worth.gain(&[at])).collect();
    for (at, one) in singles.iter().enumerate() {
        let again = if one.again { " again, by another person if there is one" } else { "" };
        let with = &planned[at].instrument.name;
        found.push(Question {
            measurand: Some(one.row.measurand),
            side: one.side,
            with: Vec::new(),
            words: format!("Take the {}{again}, with {}.", called(one.row, one.side), article(with)),
            how: one.row.how.clone(),
            instrument: Some(with.clone()),
            required: false,
            gain: gains[at],
            effort_minutes: one.row.effort_minutes,
        });
    }
    let mut best: Vec<usize> = (0..singles.len()).filter(|at| gains[*at] > 0.0).collect();
    let net = |at: &usize| gains[*at] - minute * singles[*at].row.effort_minutes;
    best.sort_by(|one, other| net(other).total_cmp(&net(one)).then(one.cmp(other)));
    best.truncate(PAIRED);
    let mut pairs: Vec<[usize; 2]> = worth.promising_pairs(singles.len());
    for (place, one) in best.iter().enumerate() {
        pairs.extend(best[place + 1..].iter().map(|other| [*one.min(other), *one.max(other)]));
    }
    pairs.sort_unstable();
    pairs.dedup();
    for [one, other] in pairs {
        let gain = worth.gain(&[one, other]);
        if gain < gains[one] + gains[other] + TOGETHER_FROM {
            continue;
        }
        let (first, second) = (&singles[one], &singles[other]);
        found.push(Question {
            measurand: Some(first.row.measurand),
            side: first.side,
            with: vec![(second.row.measurand, second.side)],
            words: format!(
                "Take the {} and the {}: they say more together than each alone.",
                called(first.row, first.side),
                called(second.row, second.side)
            ),
            how: format!("{} {}", first.row.how, second.row.how),
            instrument: None,
            required: false,
            gain,
            effort_minutes: first.row.effort_minutes + second.row.effort_minutes,
        });
    }
    for (inquiry, readings) in catalog.inquiries.iter().zip(&inquiries).filter(|(_, readings)| !readings.is_empty()) {
        let mut asked = readings.iter().map(|at| (planned[*at].row.measurand, planned[*at].side));
        let first = asked.next();
        found.push(Question {
            measurand: first.map(|(measurand, _)| measurand),
            side: first.and_then(|(_, side)| side),
            with: asked.collect(),
            words: inquiry.words.clone(),
            how: inquiry.how.clone(),
            instrument: None,
            required: false,
            gain: worth.gain(readings),
            effort_minutes: inquiry.effort_minutes,
        });
    }
    found.extend(answers(sheet, catalog, &worth));
    found.retain(|question| question.gain >= WORTH_FROM);
    let net = |question: &Question| question.gain - minute * question.effort_minutes;
    found.sort_by(|one, other| {
        let by_worth = net(other).total_cmp(&net(one)).then(one.effort_minutes.total_cmp(&other.effort_minutes));
        by_worth
            .then(one.measurand.cmp(&other.measurand))
            .then(one.side.cmp(&other.side))
            .then(one.with.cmp(&other.with))
    });
    found
}

/// What the customer may simply know.
fn answers(sheet: &Sheet, catalog: &Catalog, worth: &Worth<'_>) -> Vec<Question> {
    let right = catalog.settings.beliefs.claim_right;
    let mut all = Vec::new();
    if sheet.parts.bearing_kind.is_none() && sheet.parts.bearing.is_none() {
        all.push(Question { required: false, gain: worth.gain_of_bearing_kind(right), ..kind_of_bearing() });
    }
    if sheet.parts.spline_series.is_none() {
        all.push(Question {
            measurand: None,
            side: None,
            with: Vec::new(),
            words: "Ask which series the spline is: pitch, pressure angle and root, from the maker's number or the side gear."
                .to_owned(),
            how: "The number on the side gear, or a short piece of it held against a known shaft, tells more than a count."
                .to_owned(),
            instrument: None,
            required: false,
            gain: worth.gain_of_spline_series(right, catalog),
            effort_minutes: 5.0,
        });
    }
    all
}

/// What a reading is called in a question.
fn called(row: &MeasurandRow, side: Option<Side>) -> String {
    let side = side.map(|side| format!("{} ", side.words())).unwrap_or_default();
    format!("{side}{}", row.words)
}

/// Whether a part is undecided and nothing that is asked for anyway would decide it.
pub(crate) fn is_undecided(part: &Identified, missing: &[Missing]) -> bool {
    !part.decided && missing.iter().all(|gap| gap.part != Some(part.kind))
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
        with: Vec::new(),
        words: ask,
        how: rows.first().map(|row| row.how.clone()).unwrap_or_default(),
        instrument: rows.first().map(|row| row.instrument.clone()),
        required: true,
        gain: 0.0,
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
        with: Vec::new(),
        words: format!("Take the {side}{} again, by another person if there is one.", row.words),
        how: row.how.clone(),
        instrument: Some(instrument.name.clone()),
        required: true,
        gain: 0.0,
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
        return Some(kind_of_bearing());
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
        with: Vec::new(),
        words: format!("Take the {}: {why}.", row.words),
        how: row.how.clone(),
        instrument: Some(row.instrument.clone()),
        required: true,
        gain: 0.0,
        effort_minutes: row.effort_minutes,
    })
}

/// The question for the kind of bearing.
fn kind_of_bearing() -> Question {
    Question {
        measurand: None,
        side: None,
        with: Vec::new(),
        words: "Ask which kind the bearing is: a sealed ball unit, or a tapered roller unit with its own outer seal."
            .to_owned(),
        how: "Turn the outer ring by hand and look at its outboard side: a tapered unit has a separate outer seal and some \
              end play, a ball unit is closed by two flush shields."
            .to_owned(),
        instrument: None,
        required: true,
        gain: 0.0,
        effort_minutes: 2.0,
    }
}

//! Reads `measurands.toml`.

use placed::{Document, Item};
use quantity::{Instrument, Length};

use crate::NamedInstruments;
use crate::measurand::{MEASURANDS, Measurand, MeasurandRow, Sides};

use super::row::{Row, Size, count_as_length, in_order, length, pair};
use super::rows::{Rows, by_key};

const SIDES: [(&str, Sides); 3] = [("each", Sides::Each), ("whole", Sides::Whole), ("either", Sides::Either)];

/// Longest effort in minutes that anybody would be asked for.
const LONGEST_EFFORT: f64 = 240.0;

/// Finds the instruments that the measurands name; nothing where one is missing, which [`read`] has then recorded.
pub(super) fn named_instruments(
    rows: &[MeasurandRow],
    instruments: &[Instrument],
) -> Option<[NamedInstruments; MEASURANDS.len()]> {
    let find = |name: &str| instruments.iter().find(|row| row.name == name).cloned();
    let named: Option<Vec<NamedInstruments>> = rows
        .iter()
        .map(|row| Some(NamedInstruments { usual: find(&row.instrument)?, better: find(&row.better_instrument)? }))
        .collect();
    named?.try_into().ok()
}

/// Reads the measurands, one row for each.
pub(super) fn read(
    files: &[&Document],
    instruments: &Rows<'_, Instrument>,
) -> Option<[MeasurandRow; MEASURANDS.len()]> {
    let rows = by_key(files, "measurand", &MEASURANDS, |row, measurand, inherited| {
        read_row(row, measurand, inherited, instruments)
    })?;
    // A shop that takes an instrument out has to name another one wherever it was named.
    for (instrument, place) in &instruments.removed {
        let named = |row: &&MeasurandRow| [&row.instrument, &row.better_instrument].contains(&&instrument.name);
        let still_there = instruments.rows.iter().any(|row| row.name == instrument.name);
        if let Some(row) = rows.iter().find(named).filter(|_| !still_there) {
            place.fault(
                format!("{} still names the instrument {:?}", row.measurand.key(), instrument.name),
                "another instrument in measurands.toml first",
            );
        }
    }
    rows.try_into().ok()
}

fn read_row(
    row: &Row<'_>,
    measurand: Measurand,
    old: Option<&MeasurandRow>,
    instruments: &Rows<'_, Instrument>,
) -> Option<MeasurandRow> {
    let words = row.words("words", old.map(|old| &old.words));
    let sides = row.value("sides", old.map(|old| old.sides), |item| item.one_of(&SIDES));
    let accepted = row.value("accepted", old.map(|old| old.accepted), |item| range(&item, measurand));
    let usual = row.value("usual", old.map(|old| old.usual), |item| range(&item, measurand));
    let instrument = row.value("instrument", old.map(|old| old.instrument.clone()), |item| known(&item, instruments));
    let better_instrument =
        row.value("better_instrument", old.map(|old| old.better_instrument.clone()), |item| known(&item, instruments));
    let set_up = row.length("set_up", old.map(|old| old.set_up), Size::NotNegative);
    let effort_minutes = row.positive("effort_minutes", old.map(|old| old.effort_minutes), LONGEST_EFFORT);
    let how = row.words("how", old.map(|old| &old.how));
    let source = row.source();
    let (accepted, usual) = (accepted?, usual?);
    if usual.0 < accepted.0 || usual.1 > accepted.1 {
        row.fault_at("usual", "the usual range leaves the accepted one", "a usual range within the accepted one");
        return None;
    }
    if usual.0 == usual.1 {
        row.fault_at(
            "usual",
            "the usual range is a single size",
            "two different sizes: it is a mean ± one standard deviation",
        );
        return None;
    }
    Some(MeasurandRow {
        measurand,
        words: words?,
        sides: sides?,
        accepted,
        usual,
        instrument: instrument?,
        better_instrument: better_instrument?,
        set_up: set_up?,
        how: how?,
        effort_minutes: effort_minutes?,
        source: source?,
    })
}

/// A smallest and a largest size, or count.
fn range(item: &Item<'_>, measurand: Measurand) -> Option<(Length, Length)> {
    let (least, most) = if measurand.is_count() {
        pair(item, count_as_length)?
    } else {
        pair(item, |item| length(item, Size::Positive))?
    };
    in_order(item, least, most)
}

/// The name of an instrument that the catalog holds. One that the shop has taken out passes here: if the name still stands
/// when all is read, it is the taking out that is the fault.
fn known(item: &Item<'_>, instruments: &Rows<'_, Instrument>) -> Option<String> {
    let name = item.filled_text()?;
    if instruments.removed.iter().any(|(row, _)| row.name == name) {
        return Some(name.to_owned());
    }
    let names: Vec<(&str, ())> = instruments.rows.iter().map(|row| (row.name.as_str(), ())).collect();
    item.one_of(&names).map(|()| name.to_owned())
}

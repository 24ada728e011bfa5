//! Reads `mistakes.toml`.

use placed::{Document, Item};
use quantity::{Length, millimetres};

use crate::measurand::{MEASURANDS, Measurand};
use crate::mistake::{CONDITIONS, Condition, MISTAKES, MistakeKind, MistakeRow};

use super::row::{Row, Size, length, positive};
use super::rows::by_key;

/// The largest sum of the rates of all mistakes that can spoil one reading: most readings must mean what they say, or no
/// reading could doubt another.
const LARGEST_SUM: f64 = 0.5;

/// How near to one the shares of the sizes must add up.
const SHARES_WITHIN: f64 = 1e-6;

/// Reads the mistakes, one row for each.
pub(super) fn read(files: &[&Document]) -> Option<[MistakeRow; MISTAKES.len()]> {
    let rows = by_key(files, "mistake", &MISTAKES, read_row)?;
    check_sums(files, &rows);
    rows.try_into().ok()
}

fn read_row(row: &Row<'_>, kind: MistakeKind, old: Option<&MistakeRow>) -> Option<MistakeRow> {
    let words = row.words("words", old.map(|old| &old.words));
    let rate = row.number("rate", old.map(|old| old.rate), 0.0..=MistakeRow::LARGEST_RATE);
    let together = row
        .value_or("together", old.map(|old| old.together), 0.0, |item| item.number_in(0.0..=MistakeRow::LARGEST_RATE));
    let rate_when = row.value_or("rate_when", old.map(|old| old.rate_when.clone()), Vec::new(), |item| rates(&item));
    let spoils = row.value_or("spoils", old.map(|old| old.spoils.clone()), Vec::new(), |item| spoilt(&item));
    let sizes = row.value_or("sizes", old.map(|old| old.sizes.clone()), Vec::new(), |item| sizes(&item));
    let spread =
        row.value_or("spread", old.map(|old| old.spread), millimetres(0.0), |item| length(&item, Size::NotNegative));
    let source = row.source();
    let (rate, rate_when) = (rate?, rate_when?);
    if let Some((_, lower)) = rate_when.iter().find(|(_, under)| *under < rate) {
        row.fault_at(
            "rate_when",
            format!("a rate of {lower} under a condition is below the usual rate of {rate}, so it never applies"),
            format!("a rate from {rate} to {}: the largest that applies counts", MistakeRow::LARGEST_RATE),
        );
        return None;
    }
    Some(MistakeRow {
        kind,
        words: words?,
        rate,
        together: together?,
        rate_when,
        spoils: spoils?,
        sizes: sizes?,
        spread: spread?,
        source: source?,
    })
}

/// The rates under conditions, `{ "rusty" = 0.1 }`.
fn rates(item: &Item<'_>) -> Option<Vec<(Condition, f64)>> {
    let phrases: Vec<&str> = CONDITIONS.iter().map(|(_, phrase)| *phrase).collect();
    let mut rates = Vec::new();
    let mut sound = true;
    for (phrase, item) in item.table()?.entries() {
        match CONDITIONS.iter().find(|(_, known)| *known == phrase) {
            Some((condition, _)) => match item.number_in(0.0..=MistakeRow::LARGEST_RATE) {
                Some(rate) => rates.push((*condition, rate)),
                None => sound = false,
            },
            None => {
                super::rows::unknown(&item, "condition", phrase, &phrases);
                sound = false;
            }
        }
    }
    rates.sort_by_key(|(condition, _)| *condition);
    sound.then_some(rates)
}

/// A list of measurands, such as those that a mistake can spoil, in the order of [`MEASURANDS`].
pub(super) fn spoilt(item: &Item<'_>) -> Option<Vec<Measurand>> {
    let mut known: Vec<(&str, Vec<Measurand>)> =
        MEASURANDS.iter().map(|(measurand, key)| (*key, vec![*measurand])).collect();
    let all = MEASURANDS.iter().map(|(measurand, _)| *measurand);
    known.push(("every length", all.clone().filter(|measurand| !measurand.is_count()).collect()));
    known.push(("every count", all.filter(|measurand| measurand.is_count()).collect()));
    let mut spoilt: Vec<Measurand> = Vec::new();
    let mut sound = true;
    for item in item.list()? {
        match item.one_of(&known) {
            Some(named) if named.iter().any(|measurand| spoilt.contains(measurand)) => {
                item.fault("named twice", "each measurand once");
                sound = false;
            }
            Some(named) => spoilt.extend(named),
            None => sound = false,
        }
    }
    spoilt.sort();
    sound.then_some(spoilt)
}

/// The sizes with their shares, `[{ size = "+1/16 in", share = 1 }]`.
fn sizes(item: &Item<'_>) -> Option<Vec<(Length, f64)>> {
    let mut sizes = Vec::new();
    let mut sound = true;
    for entry in item.list()? {
        let row = Row::new(entry.table()?);
        let size = row.length("size", None, Size::Signed);
        let share = row.value("share", None, |item| positive(&item, 1.0));
        row.finish();
        match size.zip(share) {
            Some(entry) => sizes.push(entry),
            None => sound = false,
        }
    }
    let sum: f64 = sizes.iter().map(|(_, share)| share).sum();
    if sound && !sizes.is_empty() && (sum - 1.0).abs() > SHARES_WITHIN {
        item.fault(format!("the shares add up to {sum}"), "shares that add up to 1");
        return None;
    }
    sound.then_some(sizes)
}

/// Holds the sum of the rates for every measurand against its limit. The fault stands at the rate that was written last
/// among those that make up the sum.
fn check_sums(files: &[&Document], rows: &[MistakeRow]) {
    for (measurand, key) in MEASURANDS {
        let spoilers = || rows.iter().filter(|row| row.spoils.contains(&measurand));
        let sum: f64 = spoilers().map(|row| row.rate).sum();
        if sum <= LARGEST_SUM {
            continue;
        }
        let last = files.iter().rev().find_map(|file| last_rate(file, spoilers()));
        if let Some(rate) = last {
            rate.fault(
                format!("with it, {sum:.3} of the readings of {key} would be mistaken"),
                format!("rates that add up to {LARGEST_SUM} at most for each measurand"),
            );
            return;
        }
    }
}

/// The rate that stands last in a file, of those of these mistakes.
fn last_rate<'d, 'r>(file: &&'d Document, rows: impl Iterator<Item = &'r MistakeRow>) -> Option<Item<'d>> {
    let root = file.root();
    rows.filter_map(|row| root.table(row.kind.key())?.optional("rate")).max_by_key(|rate| rate.span().start)
}

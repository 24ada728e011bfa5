//! Reads `bearings.toml`.

use crate::parts::{Bearing, BearingKind, BearingRating};

use super::row::{Row, Size};
use super::rows::KeyedRow;

const KINDS: [(&str, BearingKind); 2] = [("ball", BearingKind::Ball), ("tapered", BearingKind::Tapered)];

impl KeyedRow for Bearing {
    const TABLE: &'static str = "bearing";
    type Key = String;

    fn read_key(row: &Row<'_>) -> Option<String> {
        row.words("name", None)
    }

    fn is(&self, key: &String) -> bool {
        self.name == *key
    }

    fn read(row: &Row<'_>, name: String, old: Option<&Self>) -> Option<Self> {
        let kind = row.value("kind", old.map(|old| old.kind), |item| item.one_of(&KINDS));
        let bore = row.length("bore", old.map(|old| old.bore), Size::Positive);
        let outside = row.length("outside", old.map(|old| old.outside), Size::Positive);
        let inner_width = row.length("inner_width", old.map(|old| old.inner_width), Size::Positive);
        let outer_width = row.length("outer_width", old.map(|old| old.outer_width), Size::Positive);
        let race_offset = row.spread("race_offset", old.map(|old| old.race_offset), Size::Signed);
        let width_deviation = row.length("width_deviation", old.map(|old| old.width_deviation), Size::Positive);
        let seat_interference = row.range("seat_interference", old.map(|old| old.seat_interference), Size::NotNegative);
        let rating = rating(row, kind, old.and_then(|old| old.rating.as_ref()));
        let weight = row.weight(old.map(|old| old.weight));
        let source = row.source();
        let bearing = Self {
            name,
            kind: kind?,
            bore: bore?,
            outside: outside?,
            inner_width: inner_width?,
            outer_width: outer_width?,
            race_offset: race_offset?,
            width_deviation: width_deviation?,
            seat_interference: seat_interference?,
            rating: rating?,
            weight: weight?,
            source: source?,
        };
        is_sound(row, &bearing).then_some(bearing)
    }
}

/// What the bearing carries, where the row says so. A rating is given whole: half of one bearing's numbers and half of
/// another's would be no bearing.
fn rating(row: &Row<'_>, kind: Option<BearingKind>, old: Option<&BearingRating>) -> Option<Option<BearingRating>> {
    /// No wheel bearing carries more, in kN.
    const STRONGEST_KN: f64 = 1000.0;
    row.value_or("rating", old.cloned().map(Some), None, |item| {
        let inner = Row::new(item.table()?);
        let dynamic_kn = inner.positive("dynamic_kn", None, STRONGEST_KN);
        let static_kn = inner.positive("static_kn", None, STRONGEST_KN);
        let factor = |key, range| inner.number(key, None, range);
        let (mut f0, mut e, mut y, mut y0) = (None, None, None, None);
        let whole = match kind {
            Some(BearingKind::Ball) => {
                f0 = factor("f0", 10.0..=20.0);
                f0.is_some()
            }
            Some(BearingKind::Tapered) => {
                e = factor("e", 0.1..=1.5);
                y = factor("y", 0.3..=4.0);
                y0 = factor("y0", 0.2..=3.0);
                e.is_some() && y.is_some() && y0.is_some()
            }
            None => false,
        };
        let source = inner.source();
        inner.finish();
        let rating = BearingRating { dynamic_kn: dynamic_kn?, static_kn: static_kn?, f0, e, y, y0, source: source? };
        whole.then_some(Some(rating))
    })
}

/// Whether the dimensions go together; what does not is recorded.
fn is_sound(row: &Row<'_>, bearing: &Bearing) -> bool {
    if bearing.bore >= bearing.outside {
        row.fault_at("bore", "the bore is not smaller than the outside", "a bore smaller than the outside diameter");
        return false;
    }
    let widest = bearing.inner_width.max(bearing.outer_width);
    if bearing.race_offset.mean.abs() >= widest {
        row.fault_at(
            "race_offset",
            "the rings would stand clear of each other",
            "a race offset smaller than the wider ring",
        );
        return false;
    }
    if bearing.seat_interference.1 >= bearing.bore * 0.01 {
        row.fault_at(
            "seat_interference",
            "an interference of a hundredth of the bore or more would burst the ring",
            "the difference of two diameters, such as [\"0.0005 in\", \"0.0015 in\"]",
        );
        return false;
    }
    true
}

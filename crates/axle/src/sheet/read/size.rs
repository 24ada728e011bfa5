//! The sheet's unit, and sizes that must lie in the accepted range of a measurand.

use std::cell::Cell;

use catalog::MeasurandRow;
use placed::{Item, TableReader};
use quantity::{Leading, Length, LengthUnit, WrittenLength, both, millimetres, read_length};

/// Units that a number is tried in when it makes no sense in its own. Tapes and calipers show no others.
const UNITS_ON_SCALES: [LengthUnit; 3] = [LengthUnit::Inch, LengthUnit::Millimetre, LengthUnit::Centimetre];

/// What the sheet says about the unit of numbers that name none.
#[derive(Debug, Clone, Copy)]
pub(super) enum SheetUnit {
    /// Nothing: every number names its own.
    Unstated,
    /// This unit.
    Stated(LengthUnit),
    /// Something that is no unit. That is a fault already, and the numbers that rely on it are not faulted as well.
    Unreadable,
}

impl SheetUnit {
    /// Reads the key `unit` of `[order]`.
    pub(super) fn read(order: &TableReader<'_>) -> Self {
        let Some(item) = order.optional("unit") else {
            return Self::Unstated;
        };
        let spelled = item.is_text().then(|| item.text().and_then(LengthUnit::from_spelling)).flatten();
        match spelled {
            Some(unit @ (LengthUnit::Inch | LengthUnit::Millimetre)) => Self::Stated(unit),
            _ => item
                .one_of(&[("in", LengthUnit::Inch), ("mm", LengthUnit::Millimetre)])
                .map_or(Self::Unreadable, Self::Stated),
        }
    }

    /// The unit, where the sheet states one.
    pub(super) fn stated(self) -> Option<LengthUnit> {
        match self {
            Self::Stated(unit) => Some(unit),
            Self::Unstated | Self::Unreadable => None,
        }
    }

    /// The unit that a length without one is read in. Where the sheet's own is unreadable any unit does, to see whether the
    /// rest of the text is a length.
    pub(super) fn default_unit(self) -> Option<LengthUnit> {
        if matches!(self, Self::Unreadable) { Some(LengthUnit::Inch) } else { self.stated() }
    }

    /// A length as it stands, whatever its size.
    pub(super) fn length(self, item: &Item<'_>) -> Option<WrittenLength> {
        item.length(self.default_unit())
    }

    /// Whether the length lies between `least` and `most`, in the sheet's unit or, where that is unreadable, in any.
    pub(super) fn within(self, written: &WrittenLength, least: Length, most: Length) -> bool {
        // Written so that a size that is no number lies outside.
        let inside = |length: Length| length >= least && length <= most;
        inside(written.value())
            || (matches!(self, Self::Unreadable) && UNITS_ON_SCALES.iter().any(|unit| inside(written.as_if_in(*unit))))
    }

    /// The unit that comes first in what is said about a length.
    pub(super) fn leading(self, written: &WrittenLength) -> Leading {
        if self.stated().unwrap_or(written.unit()).is_metric() { Leading::Millimetres } else { Leading::Inches }
    }
}

/// The numbers that rely on the unit of the sheet, and what they say about it.
#[derive(Debug, Default)]
pub(super) struct UnitEvidence {
    all: Cell<usize>,
    outside: Cell<usize>,
    outside_in_the_other: Cell<usize>,
}

impl UnitEvidence {
    /// Takes a size into account where it names no unit of its own.
    fn take(&self, written: &WrittenLength, unit: LengthUnit, row: &MeasurandRow) {
        if read_length(written.text(), None).is_ok() {
            return;
        }
        let (least, most) = row.accepted;
        let outside = |length: Length| usize::from(!(length >= least && length <= most));
        self.all.set(self.all.get() + 1);
        self.outside.set(self.outside.get() + outside(written.value()));
        self.outside_in_the_other.set(self.outside_in_the_other.get() + outside(written.as_if_in(other_unit(unit))));
    }

    /// Faults the unit of the sheet where most numbers that rely on it cannot be in it, and all of them can be in the other: one
    /// slip then explains them all. A shaft of 800 in or a flange of 6 mm is so far beyond any that no odds need be weighed.
    pub(super) fn judge(&self, order: &TableReader<'_>, unit: SheetUnit) {
        let (all, outside) = (self.all.get(), self.outside.get());
        let Some((stated, item)) = unit.stated().zip(order.optional("unit")) else { return };
        if outside >= FEWEST_OUTSIDE && 2 * outside > all && self.outside_in_the_other.get() == 0 {
            let other = other_unit(stated);
            item.fault(
                format!(
                    "{outside} of the {all} sizes that name no unit cannot be in `{}`, and all of them can be in `{}`: the whole \
                     sheet seems to be in that unit",
                    stated.symbol(),
                    other.symbol()
                ),
                format!("`unit = \"{}\"`, if that is so; what then still cannot be is faulted by itself", other.symbol()),
            );
        }
    }
}

/// With fewer sizes that cannot be, each may be a slip of its own.
const FEWEST_OUTSIDE: usize = 3;

/// The unit that a sheet in `unit` may be in by mistake.
fn other_unit(unit: LengthUnit) -> LengthUnit {
    if unit.is_metric() { LengthUnit::Inch } else { LengthUnit::Millimetre }
}

/// The size that `item` states, in the accepted range of the measurand in `row`; a reading, that tells of the sheet's unit.
pub(super) fn read_size(
    item: &Item<'_>,
    unit: SheetUnit,
    row: &MeasurandRow,
    evidence: &UnitEvidence,
) -> Option<WrittenLength> {
    if let Some(stated) = unit.stated()
        && item.is_text()
        && let Some(written) = item.text().and_then(|text| read_length(text, Some(stated)).ok())
    {
        evidence.take(&written, stated, row);
    }
    size(item, unit, row)
}

/// The size that `item` states, in the accepted range of the measurand in `row`.
pub(super) fn size(item: &Item<'_>, unit: SheetUnit, row: &MeasurandRow) -> Option<WrittenLength> {
    let written = unit.length(item)?;
    let (least, most) = row.accepted;
    if unit.within(&written, least, most) {
        return Some(written);
    }
    let leading = unit.leading(&written);
    item.fault(
        format!("{} cannot be {}", row.words, both(written.value(), leading)),
        format!("a size from {} to {}{}", both(least, leading), both(most, leading), in_another_unit(&written, row)),
    );
    None
}

/// A length between two limits in millimetres, for what is no reading. `words` name it with its article.
pub(super) fn length_in_range(
    item: &Item<'_>,
    unit: SheetUnit,
    words: &str,
    (least, most): (f64, f64),
) -> Option<Length> {
    let written = unit.length(item)?;
    let (least, most) = (millimetres(least), millimetres(most));
    if unit.within(&written, least, most) {
        return Some(written.value());
    }
    let leading = unit.leading(&written);
    item.fault(
        format!("{words} cannot be {}", both(written.value(), leading)),
        format!("a size from {} to {}", both(least, leading), both(most, leading)),
    );
    None
}

/// A remark where the number would lie in the range if it were in another unit. It is only said, never assumed.
fn in_another_unit(written: &WrittenLength, row: &MeasurandRow) -> String {
    let (least, most) = row.accepted;
    let fitting: Vec<String> = UNITS_ON_SCALES
        .into_iter()
        .filter(|unit| {
            let length = written.as_if_in(*unit);
            length >= least && length <= most
        })
        .map(|unit| format!("`{} {}`", written.digits(), unit.symbol()))
        .collect();
    if fitting.is_empty() {
        String::new()
    } else {
        format!("; {} would lie in it: if that was meant, write the unit", fitting.join(" or "))
    }
}

//! One run shows every fault of a file: syntax and meaning, in the order of the file, each in its
//! place, and no fault hides what stands behind it.

#![allow(clippy::unwrap_used, reason = "a test may fail where it stands")]

use placed::{Date, Document, Faults, TableReader};
use quantity::{LengthExt, LengthUnit};

/// A small invented order, read in full.
#[derive(Debug, PartialEq)]
struct Order {
    customer: String,
    due: Date,
    teeth: u32,
    length: f64,
    side: Side,
    readings: Vec<f64>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Side {
    Left,
    Right,
}

fn read_order(document: &Document) -> Result<Order, Faults> {
    let root = document.root();
    let customer = root.required("customer").and_then(|item| item.filled_text());
    let due = root.required("due").and_then(|item| item.date());
    let shaft = root.required_table("shaft").and_then(|table| read_shaft(&table, table_end));
    let readings: Vec<Option<f64>> = root
        .tables("reading")
        .into_iter()
        .map(|table| {
            let value = table.required("value").and_then(|item| item.length(None));
            let _ = table.optional("note").and_then(|item| item.text());
            table.finish();
            value.map(|value| value.value().inches())
        })
        .collect();
    root.finish();
    let readings: Option<Vec<f64>> = readings.into_iter().collect();
    let order = (|| {
        let (teeth, length, side) = shaft?;
        Some(Order {
            customer: customer?.to_owned(),
            due: due?,
            teeth,
            length,
            side,
            readings: readings?,
        })
    })();
    document.outcome(order)
}

fn table_end(_: &TableReader<'_>) {}

fn read_shaft(
    table: &TableReader<'_>,
    _end: fn(&TableReader<'_>),
) -> Option<(u32, f64, Side)> {
    let teeth = table.required("teeth").and_then(|item| item.count());
    let length = table
        .required("length")
        .and_then(|item| item.length(Some(LengthUnit::Inch)));
    let side = table
        .required("side")
        .and_then(|item| item.one_of(&[("left", Side::Left), ("right", Side::Right)]));
    Some((teeth?, length?.value().inches(), side?))
}

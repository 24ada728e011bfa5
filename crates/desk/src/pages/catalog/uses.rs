//! What goes by a row: open orders whose sheet names it or whose review identifies it, and other rows.

use axle::Sheet;
use book::{ListRequest, State};
use toml_edit::Value;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;
use crate::rows::{KINDS, Kind, Layers, Row, SETTINGS};

/// So many open orders are looked at, the newest first.
pub(super) const LOOKED_AT: usize = 200;

/// An order that goes by a row.
#[derive(Debug)]
pub(super) struct Use {
    pub number: i64,
    pub reference: String,
    pub how: &'static str,
}

/// The orders that go by a row.
#[derive(Debug, Default)]
pub(super) struct Orders {
    pub found: Vec<Use>,
    /// Whether there are more open orders than were looked at.
    pub cut_short: bool,
}

/// The open orders that go by a row.
///
/// # Errors
///
/// The book refuses.
pub(super) async fn orders(desk: &Desk, kind: &Kind, row: &Row) -> Result<Orders, DeskError> {
    let can_be_identified = matches!(kind.address, "bearings" | "housing-ends" | "splines" | "bolt-circles");
    let can_be_claimed = can_be_identified
        || matches!(kind.address, "studs" | "brakes" | "differentials" | "steels" | "instruments" | "measurands");
    if !can_be_claimed || !row.counts() {
        return Ok(Orders::default());
    }
    let request = ListRequest { states: State::OPEN.to_vec(), at_most: LOOKED_AT, ..ListRequest::default() };
    let list = desk.book().list(&request).await?;
    let catalog = desk.shop().catalog();
    let mut orders = Orders { found: Vec::new(), cut_short: list.next.is_some() };
    // The book keeps the names of identified parts to search by, so that not every order has to be reviewed for this page.
    let identified: Vec<i64> = if can_be_identified {
        let request = ListRequest { search: row.name.clone(), ..request };
        desk.book().list(&request).await?.lines.iter().map(|line| line.number).collect()
    } else {
        Vec::new()
    };
    for line in list.lines {
        let sheet_text = desk.book().order(line.number).await?.sheet;
        let Ok(sheet) = axle::read_sheet(&line.reference, &sheet_text, catalog.catalog()) else { continue };
        let mut how = claims(kind, row, &sheet).then_some("the sheet names it");
        if how.is_none() && identified.contains(&line.number) {
            let reviewed =
                desk.reviewing().review(&line.reference, &sheet_text, &catalog, Depth::WithoutQuestions).await?;
            let first = reviewed.review.identified.iter().filter_map(|one| one.candidates.first());
            how = first.map(|one| one.name.as_str()).any(|name| name == row.name).then_some("the review identifies it");
        }
        if let Some(how) = how {
            orders.found.push(Use { number: line.number, reference: line.reference, how });
        }
    }
    Ok(orders)
}

/// Whether a sheet names a row.
fn claims(kind: &Kind, row: &Row, sheet: &Sheet) -> bool {
    let is = |name: &Option<String>| name.as_deref() == Some(row.name.as_str());
    match kind.address {
        "bearings" => is(&sheet.parts.bearing),
        "housing-ends" => is(&sheet.parts.housing_end),
        "splines" => is(&sheet.parts.spline_series),
        "brakes" => is(&sheet.parts.brake.row),
        "differentials" => is(&sheet.differential),
        "studs" => {
            let thread = quantity::read_thread(&row.name).ok();
            thread.is_some() && sheet.parts.stud == thread
        }
        "steels" => {
            let (grade, treatment) = (row.text("grade"), row.text("treatment"));
            sheet
                .loads
                .steel
                .row
                .as_ref()
                .is_some_and(|(one, other)| Some(one.as_str()) == grade && Some(other.as_str()) == treatment)
        }
        "instruments" => sheet.readings.iter().any(|reading| is(&reading.instrument)),
        "measurands" => sheet.readings.iter().any(|reading| reading.measurand.key() == row.name),
        _ => false,
    }
}

/// Other rows that name a row: kind, row and key.
pub(super) fn rows(kind: &Kind, row: &Row, files: &[(String, String)]) -> Vec<(&'static Kind, String, String)> {
    let naming: &[&str] = match kind.address {
        "instruments" => &["measurands"],
        "measurands" => &["mistakes", "inquiries"],
        "steels" => &["settings"],
        _ => return Vec::new(),
    };
    let mut found = Vec::new();
    for other in KINDS.iter().chain([&SETTINGS]).filter(|other| naming.contains(&other.address)) {
        for one in Layers::of(other, files).rows {
            if other.address == "settings" {
                let same = one.text("steel_grade") == row.text("grade")
                    && one.text("steel_treatment") == row.text("treatment");
                if same && one.text("steel_grade").is_some() {
                    found.push((other, one.name.clone(), "steel_grade".to_owned()));
                }
                continue;
            }
            if let Some((key, _)) = one.fields.iter().find(|(_, value)| names(value, &row.name)) {
                found.push((other, one.name.clone(), key.clone()));
            }
        }
    }
    found
}

fn names(value: &Value, name: &str) -> bool {
    match value {
        Value::String(text) => text.value() == name,
        Value::Array(list) => list.iter().any(|one| names(one, name)),
        _ => false,
    }
}

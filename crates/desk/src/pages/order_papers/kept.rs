//! What the book has kept of the finished shafts, as the papers carry it.

use book::RecordKind;
use jiff::tz::TimeZone;
use paperwork::{Found, FoundWhat};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::pages::order_floor::{self, records};
use crate::pages::order_leaf::ReviewedOrder;

/// Everything that was measured on the shafts of the revision that stands, or written down beside it, the first first.
///
/// # Errors
///
/// The book refuses.
pub(super) async fn found(desk: &Desk, reviewed: &ReviewedOrder) -> Result<Vec<Found>, DeskError> {
    let line = &reviewed.order.line;
    let leading = axle::leading(&reviewed.reviewed.sheet);
    let unit = reviewed.reviewed.sheet.unit.map_or("in", |unit| unit.symbol());
    let day = |at| TimeZone::UTC.to_datetime(at).strftime("%Y-%m-%d").to_string();
    let mut found: Vec<Found> = Vec::new();
    for one in desk.book().inspections(line.number).await?.into_iter().filter(|one| one.revision == line.revision) {
        // A number alone was read in the unit of the sheet, which the paper need not be in.
        let bare = one.written.chars().all(|letter| letter.is_ascii_digit() || ".,/ -".contains(letter));
        found.push(Found {
            what: FoundWhat::Size(one.kind),
            side: one.side,
            words: if bare { format!("{} {unit}", one.written) } else { one.written.clone() },
            passes: Some(order_floor::passes(reviewed, &one)),
            day: day(one.at),
            who: one.who,
        });
    }
    for one in desk.book().work_records(line.number).await?.into_iter().filter(|one| one.revision == line.revision) {
        found.push(Found {
            what: match one.record.kind {
                RecordKind::HeatNumber => FoundWhat::HeatNumber,
                RecordKind::SizeOverPins => FoundWhat::OverPins,
                RecordKind::BearingPressForce => FoundWhat::BearingPressForce,
                RecordKind::RingPressForce => FoundWhat::RingPressForce,
            },
            side: one.record.side,
            words: records::words(&one.record, leading),
            passes: records::passes(&reviewed.reviewed.review, &one.record),
            day: day(one.at),
            who: one.who,
        });
    }
    Ok(found)
}

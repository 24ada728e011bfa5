//! What pressing a ball bearing of the catalog on its journal leaves of its clearance.

use catalog::{Bearing, BearingKind};
use elements::bearing_clearance::{
    BearingClearanceError, ClearanceGroup, ClearanceRange, clearance_left, inner_raceway_mm, new_clearance,
};
use elements::interference_fit::{SeatFinish, effective_interference_mm};
use quantity::{LengthExt, millimetres};

use crate::{Block, Quantity};

const SOURCE: &str = "ISO 5753-1 and the rule for the inner raceway by bearing catalogues (both from memory, check); Lamé, growth of a \
     ring on a solid shaft";

/// The block; none for a tapered bearing, or where the bearing lies outside of the table of clearances.
pub fn clearance_block(row: &Bearing) -> Option<Block> {
    if row.kind != BearingKind::Ball {
        return None;
    }
    let (bore_mm, outside_mm) = (row.bore.millimetres(), row.outside.millimetres());
    let effective = |measured_mm| effective_interference_mm(measured_mm, bore_mm, SeatFinish::Ground).ok();
    let (least, most) = row.seat_interference;
    let interference_mm = (effective(least.millimetres())?, effective(most.millimetres())?);
    let raceway_mm = inner_raceway_mm(bore_mm, outside_mm).ok()?;
    let left = |group| -> Result<ClearanceRange, BearingClearanceError> {
        clearance_left(new_clearance(group, bore_mm)?, interference_mm, bore_mm, raceway_mm)
    };
    let mut block = Block::new("clearance_pressed_on", SOURCE);
    let deviation = |mm: f64| Quantity::Deviation(millimetres(mm));
    block.range("interference", deviation(least.millimetres()), deviation(most.millimetres()), "of the catalog's row");
    block.size("inner_raceway", millimetres(raceway_mm), "about, (4 bore + outside)/5");
    for (group, key) in ClearanceGroup::ALL.into_iter().zip(["group_2", "group_normal", "group_3", "group_4"]) {
        let left = left(group).ok()?;
        let (least, most) = (deviation(left.least_um / 1000.0), deviation(left.most_um / 1000.0));
        block.range(key, least, most, format!("radial, {group}; below nought it is preloaded"));
    }
    block.note("the outer ring is taken to be loose in its bore, and the bearing to be cold");
    Some(block)
}

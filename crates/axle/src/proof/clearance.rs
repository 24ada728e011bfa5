//! What pressing on leaves of the clearance in a ball bearing.

use catalog::BearingKind;
use elements::bearing_clearance::{ClearanceGroup, clearance_left, inner_raceway_mm, new_clearance};
use elements::interference_fit::{SeatFinish, effective_interference_mm};
use quantity::{LengthExt, both_fine_range, millimetres};

use super::facts::Facts;
use super::figure::Gap;
use super::{FigureKind, ProofFigure};

const SOURCE: &str = "ISO 5753-1, clearance of new bearings, and the rule for the inner raceway by bearing catalogues (both \
     from memory, check); Lamé, growth of a ring on a solid shaft; a new outer ring loose in its bore";

/// Which group of clearance the bearing should be ordered with.
///
/// The groups are those of plain deep groove ball bearings. What the bearing in hand has is for its maker to say.
pub(super) fn clearance(facts: &Facts<'_>) -> Result<ProofFigure, Gap> {
    let bearing = facts.bearing()?;
    if bearing.kind == BearingKind::Tapered {
        return Err(Gap("the end play or preload of the tapered bearing, from its maker's sheet".to_owned()));
    }
    let (bore, outside) = (bearing.bore.millimetres(), bearing.outside.millimetres());
    let effective = |measured| effective_interference_mm(measured, bore, SeatFinish::Ground).map_err(Gap::formula);
    let (least, most) = bearing.seat_interference;
    let interference = (effective(least.millimetres())?, effective(most.millimetres())?);
    let raceway = inner_raceway_mm(bore, outside).map_err(Gap::formula)?;
    let left = |group| {
        let new = new_clearance(group, bore).map_err(Gap::formula)?;
        clearance_left(new, interference, bore, raceway).map_err(Gap::formula)
    };
    let mut told = Vec::new();
    let mut stays_free = None;
    for group in [ClearanceGroup::Normal, ClearanceGroup::Three, ClearanceGroup::Four] {
        let left = left(group)?;
        let (least, most) = (millimetres(left.least_um / 1000.0), millimetres(left.most_um / 1000.0));
        told.push(format!("{group} {}", both_fine_range(least, most, facts.leading)));
        if left.least_um >= 0.0 && stays_free.is_none() {
            stays_free = Some(group);
        }
    }
    let normal = left(ClearanceGroup::Normal)?;
    let advice = match stays_free {
        Some(ClearanceGroup::Normal) => "A bearing of normal clearance stays free.".to_owned(),
        Some(group) => {
            format!(
                "{group} is the closest group that stays free even where the tightest fit meets the closest bearing."
            )
        }
        None => {
            "No group stays free where the tightest fit meets the closest bearing: grind the journal towards its lower \
                 limit."
                .to_owned()
        }
    };
    Ok(ProofFigure {
        kind: FigureKind::BearingClearance,
        harsh: normal.least_um,
        mild: normal.most_um,
        words: format!(
            "Pressed on with {} of interference, a deep groove ball bearing of this size keeps a radial \
             clearance by its group: {}. {advice}",
            both_fine_range(least, most, facts.leading),
            told.join(", ")
        ),
        source: SOURCE.to_owned(),
    })
}

//! What pressing on leaves of the clearance in a ball bearing.

use catalog::BearingKind;
use elements::bearing_clearance::{ClearanceGroup, clearance_left, inner_raceway_mm, new_clearance};
use elements::interference_fit::{SeatFinish, effective_interference_mm};
use quantity::LengthExt;

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
        told.push(format!("{group} {} to {} µm", signed(left.least_um), signed(left.most_um)));
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
            "Pressed on with {:.0} to {:.0} µm of interference, a deep groove ball bearing of this size keeps a radial \
             clearance by its group: {}. {advice}",
            1000.0 * least.millimetres(),
            1000.0 * most.millimetres(),
            told.join(", ")
        ),
        source: SOURCE.to_owned(),
    })
}

/// A whole number with the sign that typesetters use.
fn signed(micrometres: f64) -> String {
    let whole = micrometres.round();
    if whole < 0.0 { format!("−{:.0}", -whole) } else { format!("{:.0}", whole.abs()) }
}

#[cfg(test)]
mod tests {
    use super::signed;

    #[test]
    fn a_clearance_below_nought_has_a_minus_and_nought_has_none() {
        assert_eq!(signed(-13.6), "−14");
        assert_eq!(signed(-0.2), "0");
        assert_eq!(signed(12.4), "12");
    }
}

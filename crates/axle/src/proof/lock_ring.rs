//! The lock ring against side thrust: it alone keeps the shaft in the vehicle.

use catalog::LoadInput;
use elements::interference_fit::{
    Elastic, FrictionRange, PressFit, SeatFinish, effective_interference_mm, holding_force,
};

use super::facts::Facts;
use super::figure::{Figure, Gap, force_text};
use super::inputs::Values;
use super::loads::one_g_side_force;
use crate::review::DimensionKind;

/// Young's modulus in MPa and Poisson's ratio of steel: Budynas & Nisbett, Shigley's Mechanical Engineering Design, table A-5.
const STEEL: (f64, f64) = (207e3, 0.292);

pub(super) const SOURCE: &str = "Lamé, solid shaft in a ring (Budynas & Nisbett, Shigley's Mechanical Engineering Design, \
     sections 3-14 and 3-16); seat smoothing by bearing catalogues (from memory, check)";

/// Holding force over the side load of a corner at 1 g, on the wheel outside of the turn.
///
/// The road pulls on the ring of the wheel *inside* of a turn, whose load is smaller. The larger load of the other wheel is
/// taken, for a slide into a kerb can turn it round.
pub(super) fn lock_ring(values: &Values, facts: &Facts<'_>) -> Result<Figure, Gap> {
    let seat = facts.size(DimensionKind::RingSeatDiameter, "ring seat diameter")?;
    let smallest = facts.smallest(DimensionKind::RingSeatDiameter, "ring seat diameter")?;
    let interference = match facts.ring_bore {
        Some(bore) => smallest - bore,
        None => values.get(LoadInput::RingInterference)?,
    };
    let side = one_g_side_force(values)?;
    let remedy = "A lock ring with a smaller bore, or a larger ring seat ground to the ring in hand; a ring that is thicker or \
         wider. A new one every time, pressed on dry.";
    if interference <= 0.0 {
        return Ok(Figure {
            safety: 0.0,
            detail: format!(
                "the ring does not grip: its bore is {:.3} mm larger than the smallest seat",
                -interference
            ),
            remedy: remedy.to_owned(),
        });
    }
    let elastic = Elastic::new(STEEL.0, STEEL.1).map_err(Gap::formula)?;
    let outside = seat + 2.0 * values.get(LoadInput::RingWall)?;
    let fit = PressFit::new(0.0, seat, outside, elastic, elastic).map_err(Gap::formula)?;
    let effective = effective_interference_mm(interference, seat, SeatFinish::Ground).map_err(Gap::formula)?;
    let pressure = fit.pressure(effective).map_err(Gap::formula)?;
    let coefficient = values.get(LoadInput::RingFriction)?;
    let friction = FrictionRange::exactly(coefficient).map_err(Gap::formula)?;
    let width = values.get(LoadInput::RingWidth)?;
    let hold = holding_force(pressure, seat, width, friction).map_err(Gap::formula)?.lowest;
    Ok(Figure {
        safety: hold / side,
        detail: format!(
            "{:.3} mm ({:.4} in) of interference hold {} with a friction of {}; a corner at 1 g pushes with {}; hoop stress {:.0} MPa",
            interference,
            interference / 25.4,
            force_text(hold),
            coefficient,
            force_text(side),
            fit.hub_bore_hoop(pressure),
        ),
        remedy: remedy.to_owned(),
    })
}

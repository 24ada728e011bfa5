//! The lock ring against side thrust: it alone keeps the shaft in the vehicle.

use catalog::LoadInput;
use elements::interference_fit::{
    Elastic, FrictionRange, PressFit, SeatFinish, effective_interference_mm, holding_force, least_press_on_force,
};

use super::facts::Facts;
use super::figure::{Figure, Gap, force_text};
use super::inputs::Values;
use super::loads::one_g_side_force;
use super::{FigureKind, ProofFigure};
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

/// The least force that the press must show when the ring goes on.
///
/// Nobody knows the friction of the joint, but pressing on is a test of it: the ring slides on against the very friction that
/// will hold it. Who sees this force at the end of the stroke knows that the ring holds what the check asks for.
pub(super) fn press_on(harsh: &Values, mild: &Values, rules: &catalog::Proof) -> Result<ProofFigure, Gap> {
    let least = |values: &Values| -> Result<f64, Gap> {
        let width = values.get(LoadInput::RingWidth)?;
        least_press_on_force(rules.lock_ring.value * one_g_side_force(values)?, width, width).map_err(Gap::formula)
    };
    let (at_harsh, at_mild) = (least(harsh)?, least(mild)?);
    let stated = if force_text(at_harsh) == force_text(at_mild) {
        String::new()
    } else {
        format!(
            " That is for the heaviest load that the sheet leaves open; for the lightest it is {}.",
            force_text(at_mild)
        )
    };
    Ok(ProofFigure {
        kind: FigureKind::RingPressOn,
        harsh: at_harsh,
        mild: at_mild,
        words: format!(
            "At fitting the lock ring must take at least {} to press on, at the end of its stroke, dry and straight; if it \
             goes on with less, fit a tighter one.{stated}",
            force_text(at_harsh)
        ),
        source: format!(
            "Coulomb friction of the same joint: what presses it on holds it; {:.1} times the side load of a corner at 1 g \
             ({}). One workshop's rule for such rings is 2.7 tons, \
             24.0 kN where short tons are meant",
            rules.lock_ring.value, rules.lock_ring.source
        ),
    })
}

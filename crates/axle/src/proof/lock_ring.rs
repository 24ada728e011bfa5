//! The lock ring against side thrust: it alone keeps the shaft in the vehicle.

use catalog::LoadInput;
use elements::interference_fit::{
    Elastic, FrictionRange, PressFit, SeatFinish, effective_interference_mm, holding_force, least_press_on_force,
};
use quantity::{Leading, POUND_FORCE_N, both_to, millimetres};

use super::facts::Facts;
use super::figure::{Figure, Gap, force_text, stress_text};
use super::inputs::Values;
use super::loads::one_g_side_force;
use super::{FigureKind, ProofFigure};
use crate::review::DimensionKind;

/// Young's modulus in MPa and Poisson's ratio of steel: Budynas & Nisbett, Shigley's Mechanical Engineering Design, table A-5.
const STEEL: (f64, f64) = (207e3, 0.292);

/// A short ton of force, 2000 lbf.
const SHORT_TON_N: f64 = 2000.0 * POUND_FORCE_N;

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
                "the ring does not grip: its bore is {} larger than the smallest seat",
                both_to(millimetres(-interference), facts.leading, 4, 3)
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
            "{} of interference hold {} with a friction of {}; a corner at 1 g pushes with {}; hoop stress {}",
            both_to(millimetres(interference), facts.leading, 4, 3),
            force_text(hold, facts.leading),
            coefficient,
            force_text(side, facts.leading),
            stress_text(fit.hub_bore_hoop(pressure), facts.leading),
        ),
        remedy: remedy.to_owned(),
    })
}

/// The least force that the press must show when the ring goes on.
///
/// Nobody knows the friction of the joint, but pressing on is a test of it: the ring slides on against the very friction that
/// will hold it. Who sees this force at the end of the stroke knows that the ring holds what the check asks for.
pub(super) fn press_on(
    harsh: &Values,
    mild: &Values,
    rules: &catalog::Proof,
    leading: Leading,
) -> Result<ProofFigure, Gap> {
    let force = |newtons| force_text(newtons, leading);
    let least = |values: &Values| -> Result<f64, Gap> {
        let width = values.get(LoadInput::RingWidth)?;
        least_press_on_force(rules.lock_ring.value * one_g_side_force(values)?, width, width).map_err(Gap::formula)
    };
    let (at_harsh, at_mild) = (least(harsh)?, least(mild)?);
    let stated = if force(at_harsh) == force(at_mild) {
        String::new()
    } else {
        format!(" That is for the heaviest load that the sheet leaves open; for the lightest it is {}.", force(at_mild))
    };
    Ok(ProofFigure {
        kind: FigureKind::RingPressOn,
        harsh: at_harsh,
        mild: at_mild,
        words: format!(
            "At fitting the lock ring must take at least {} to press on, at the end of its stroke, dry and straight; if it \
             goes on with less, fit a tighter one.{stated}",
            force(at_harsh)
        ),
        source: format!(
            "Coulomb friction of the same joint: what presses it on holds it; {:.1} times the side load of a corner at 1 g \
             ({}). One workshop's rule for such rings is 2.7 tons, \
             {} where short tons are meant",
            rules.lock_ring.value,
            rules.lock_ring.source,
            force(2.7 * SHORT_TON_N)
        ),
    })
}

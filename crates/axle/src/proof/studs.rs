//! The wheel joint against slipping.

use catalog::LoadInput;
use elements::bolted_joint::{preload, stress_area_inch, stress_area_metric, wheel_slip_torque};
use quantity::{SQUARE_INCH_MM2, Thread};

use super::facts::Facts;
use super::figure::{Figure, Gap, force_text, torque_text};
use super::inputs::Values;
use super::loads::Cases;
use crate::review::DimensionKind;

pub(super) const SOURCE: &str = "ISO 898-1 and ASME B1.1, stress area; Budynas & Nisbett, Shigley's Mechanical Engineering \
     Design, section 8-9, preload; Coulomb friction in one interface";

/// Slip torque of the clamped wheel over the worst torque at it, driving or braking.
pub(super) fn studs(values: &Values, facts: &Facts<'_>, cases: &Cases) -> Result<Figure, Gap> {
    let thread = facts.stud.ok_or_else(|| Gap::size("stud thread: `thread` in [stud] of the sheet"))?;
    let holes = facts.holes.ok_or_else(|| Gap::size("number of wheel studs"))?;
    let circle = facts.size(DimensionKind::BoltCircle, "bolt circle")?;
    let area = match thread {
        Thread::Metric { diameter_mm, pitch_mm } => stress_area_metric(diameter_mm, pitch_mm),
        Thread::Unified { diameter_in, per_inch } => {
            stress_area_inch(diameter_in, per_inch).map(|area| area * SQUARE_INCH_MM2)
        }
    }
    .map_err(Gap::formula)?;
    let clamp = preload(values.get(LoadInput::StudProof)?, area, values.get(LoadInput::StudShare)?);
    let clamp = clamp.map_err(Gap::formula)?;
    let slip = wheel_slip_torque(holes, clamp, values.get(LoadInput::JointFriction)?, circle / 1000.0);
    let slip = slip.map_err(Gap::formula)?;
    let worst = cases.largest_torque().max(cases.brake_torque_nm);
    Ok(Figure {
        safety: slip / worst,
        detail: format!(
            "{holes} studs {thread} clamp with {} each and slip at {}; the wheel sees {}",
            force_text(clamp, facts.leading),
            torque_text(slip, facts.leading),
            torque_text(worst, facts.leading),
        ),
        remedy: "Studs of a higher class or a larger thread, more of them, or a larger bolt circle; and wheel nuts re-torqued \
                 after 50 to 100 miles (80 to 160 km)."
            .to_owned(),
    })
}

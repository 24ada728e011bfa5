//! The load cases of one wheel.

use std::f64::consts::PI;

use catalog::LoadInput;
use elements::vehicle_load::{
    CornerWheel, GRAVITY, VehicleLoadError, WheelForce, accelerating_rear_load, axle_torque, braking_rear_load,
    corner_loads, grip_torque, rear_wheel_drive_limit,
};

use super::LoadCase;
use super::figure::Gap;
use super::inputs::Values;

/// What the road and the engine do to one shaft.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Loading {
    pub force: WheelForce,
    pub wheel: CornerWheel,
    /// Torque in the shaft, N·m.
    pub torque_nm: f64,
}

/// A load case: its limit, and what repeats of it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Case {
    pub case: LoadCase,
    pub limit: Loading,
    /// What repeats, with how many times in the life of the shaft.
    pub repeated: Option<(Loading, f64)>,
    /// The share of the life's revolutions.
    pub share: f64,
}

/// Torque that the brake puts on the wheel joint, N·m.
pub(crate) struct Cases {
    pub cases: Vec<Case>,
    pub brake_torque_nm: f64,
    /// Revolutions in the life of the shaft.
    pub revolutions: f64,
    /// Full launches in it.
    pub launches: f64,
}

impl Cases {
    /// The largest torque in the shaft.
    pub fn largest_torque(&self) -> f64 {
        self.cases.iter().map(|case| case.limit.torque_nm).fold(0.0, f64::max)
    }
}

/// All load cases. `launch_metres` is how long a full launch lasts.
pub(crate) fn cases(values: &Values, launch_metres: f64) -> Result<Cases, Gap> {
    use LoadInput as I;
    let axle = values.get(I::AxleLoad)? * GRAVITY;
    let radius = values.metres(I::TyreRadius)?;
    let grip = values.get(I::Grip)?;
    let kilometres = values.get(I::Distance)?;
    let revolutions = kilometres * 1000.0 / (2.0 * PI * radius);
    let launches = kilometres * 1000.0 * values.get(I::Launches)? / launch_metres;
    let corners = values.get(I::Corners)?;
    let bumps = values.get(I::Bumps)?;
    let straight_share = (1.0 - corners - bumps).max(0.0);

    let plain = |vertical_n: f64, side_n: f64, along_n: f64, wheel| Loading {
        force: WheelForce { vertical_n, side_n, along_n },
        wheel,
        torque_nm: 0.0,
    };
    let at_rest = plain(axle / 2.0, 0.0, 0.0, CornerWheel::Outer);
    let mut cases = vec![Case {
        case: LoadCase::Straight,
        limit: at_rest,
        repeated: Some((at_rest, revolutions * straight_share)),
        share: straight_share,
    }];

    let mut launched = |case, trailer_kg: f64| -> Result<(), Gap> {
        let limit = launch(values, trailer_kg)?;
        cases.push(Case { case, limit, repeated: Some((limit, launches)), share: 0.0 });
        Ok(())
    };
    launched(LoadCase::Launch, 0.0)?;
    if let Some(trailer_kg) = values.optional(I::TongueLoad).filter(|kilograms| *kilograms > 0.0) {
        launched(LoadCase::Towing, trailer_kg)?;
    }

    let weight = values.get(I::Mass)? * GRAVITY;
    let height_ratio = values.get(I::CentreHeight)? / values.get(I::Wheelbase)?;
    let braking = match braking_rear_load(axle, weight, height_ratio, grip) {
        Ok(load) => load,
        // The rear wheels lift and carry nothing.
        Err(VehicleLoadError::Negative { .. }) => 0.0,
        Err(error) => return Err(Gap::formula(error)),
    };
    // The brake acts between wheel and housing, outboard of the shaft: it bends the shaft and does not twist it.
    let limit = plain(braking / 2.0, 0.0, grip * braking / 2.0, CornerWheel::Outer);
    cases.push(Case { case: LoadCase::Braking, limit, repeated: None, share: 0.0 });
    let brake_torque_nm = grip_torque(braking / 2.0, grip, radius).map_err(Gap::formula)?;

    let usual = values.get(I::UsualCorner)?;
    let height = values.metres(I::CentreHeight)?;
    let track = values.metres(I::Track)?;
    let limits = corner_loads(axle, grip, height, track).map_err(Gap::formula)?;
    let often = corner_loads(axle, usual, height, track).map_err(Gap::formula)?;
    for (case, wheel, limit, repeated) in [
        (LoadCase::CornerOuter, CornerWheel::Outer, limits.outer_n, often.outer_n),
        (LoadCase::CornerInner, CornerWheel::Inner, limits.inner_n, often.inner_n),
    ] {
        cases.push(Case {
            case,
            limit: plain(limit, grip * limit, 0.0, wheel),
            // Half of the corners turn the other way.
            repeated: Some((plain(repeated, usual * repeated, 0.0, wheel), revolutions * corners / 2.0)),
            share: corners / 2.0,
        });
    }

    let struck = plain(values.get(I::ImpactFactor)? * axle / 2.0, 0.0, 0.0, CornerWheel::Outer);
    cases.push(Case {
        case: LoadCase::Bump,
        limit: struck,
        repeated: Some((struck, revolutions * bumps)),
        share: bumps,
    });
    Ok(Cases { cases, brake_torque_nm, revolutions, launches })
}

/// The hardest launch: what the engine gives, or what the tyre takes with the weight that moves back, whichever is less.
fn launch(values: &Values, trailer_kg: f64) -> Result<Loading, Gap> {
    use LoadInput as I;
    let axle = (values.get(I::AxleLoad)? + trailer_kg) * GRAVITY;
    let weight = (values.get(I::Mass)? + trailer_kg) * GRAVITY;
    let height_ratio = values.get(I::CentreHeight)? / values.get(I::Wheelbase)?;
    let (grip, radius) = (values.get(I::Grip)?, values.metres(I::TyreRadius)?);
    let engine = axle_torque(
        values.get(I::EngineTorque)?,
        values.get(I::FirstGear)?,
        values.get(I::FinalDrive)?,
        values.get(I::Converter)?,
        values.get(I::Efficiency)?,
    )
    .map_err(Gap::formula)?;
    let tyres = rear_wheel_drive_limit(axle, weight, height_ratio, grip).map_err(Gap::formula)?;
    let force = tyres.force_n.min(engine / radius);
    let pushed = accelerating_rear_load(axle, weight, height_ratio, force / weight).map_err(Gap::formula)?;
    let wheel_load = pushed.min(tyres.rear_load_n) / 2.0;
    let share = if values.locks { engine } else { engine / 2.0 };
    let torque_nm = share.min(grip_torque(wheel_load, grip, radius).map_err(Gap::formula)?);
    Ok(Loading {
        force: WheelForce { vertical_n: wheel_load, side_n: 0.0, along_n: torque_nm / radius },
        wheel: CornerWheel::Outer,
        torque_nm,
    })
}

/// Side force on the wheel outside of a corner at 1 g, N.
pub(crate) fn one_g_side_force(values: &Values) -> Result<f64, Gap> {
    use LoadInput as I;
    let axle = values.get(I::AxleLoad)? * GRAVITY;
    let loads = corner_loads(axle, 1.0, values.metres(I::CentreHeight)?, values.metres(I::Track)?);
    Ok(loads.map_err(Gap::formula)?.outer_n)
}

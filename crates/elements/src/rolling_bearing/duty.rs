//! One load in place of a duty cycle.

use super::{BearingError, RollingElement, not_negative};

/// One step of a duty cycle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DutyStep {
    /// Equivalent load during the step, zero or more.
    pub load: f64,
    /// Speed during the step, rev/min, zero or more.
    pub speed_rev_per_min: f64,
    /// Share of the time, or the time itself, zero or more.
    pub time: f64,
}

/// The load and speed that do the same as the cycle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanLoad {
    /// Mean equivalent load.
    pub load: f64,
    /// Mean speed, rev/min.
    pub speed_rev_per_min: f64,
}

/// Mean load of a duty cycle.
///
/// ```text
/// Pm = [Σ Pi^p ni ti / Σ ni ti]^(1/p)      nm = Σ ni ti / Σ ti
/// ```
///
/// Weighted by *revolutions*, not by time: a fast step wears more than a slow one of equal length.
///
/// # Errors
///
/// [`BearingError::Negative`] for a number below zero, [`BearingError::NoDuty`] when nothing turns.
///
/// Source: Palmgren-Miner sum with the life exponent; Jindal, Machine Design, example 18-9.
///
/// ```
/// use elements::rolling_bearing::{DutyStep, RollingElement, mean_load};
/// let steps = [
///     DutyStep { load: 2.0, speed_rev_per_min: 400.0, time: 0.6 },
///     DutyStep { load: 4.0, speed_rev_per_min: 600.0, time: 0.3 },
///     DutyStep { load: 8.0, speed_rev_per_min: 300.0, time: 0.1 },
/// ];
/// let mean = mean_load(&steps, RollingElement::Ball)?;
/// assert!((mean.load - 4.0).abs() < 1e-12);
/// assert!((mean.speed_rev_per_min - 450.0).abs() < 1e-12);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn mean_load(steps: &[DutyStep], element: RollingElement) -> Result<MeanLoad, BearingError> {
    let exponent = element.exponent();
    let (mut time, mut revolutions, mut damage) = (0.0, 0.0, 0.0);
    for step in steps {
        let step_time = not_negative("time of a step", step.time)?;
        let turned = step_time * not_negative("speed in rev/min", step.speed_rev_per_min)?;
        time += step_time;
        revolutions += turned;
        damage += turned * not_negative("load of a step", step.load)?.powf(exponent);
    }
    if revolutions > 0.0 {
        Ok(MeanLoad { load: (damage / revolutions).powf(1.0 / exponent), speed_rev_per_min: revolutions / time })
    } else {
        Err(BearingError::NoDuty)
    }
}

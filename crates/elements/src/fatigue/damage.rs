//! Life at a stress, and damage of several loads added together.

use super::{FatigueError, in_range, positive};

/// Past the knee of the S-N line, steel that has been hurt by harder loads tires under softer ones too.
const KNEE_CYCLES: f64 = 1e6;

/// Cycles that steel bears at a share of its endurance limit.
///
/// ```text
/// s = S/Se
/// s ≥ 1    N = 10⁶ s^(−k)             k = 1/m, the slope of the line from 10³ to 10⁶ cycles
/// s < 1    N = 10⁶ s^(−(2k − 1))      beyond the knee
/// ```
///
/// `share` is the fully reversed stress over the endurance limit, above zero; `exponent` is `m` as in
/// [`finite_life_strength`](super::finite_life_strength), 0.03 to 0.25. Below a thousand cycles the
/// line runs on, which is on the safe side of the flat curve there.
///
/// # Errors
///
/// [`FatigueError::NotPositive`] or [`FatigueError::Range`].
///
/// Source: the straight line of the logarithmic S-N diagram, Budynas & Nisbett, Shigley's Mechanical
/// Engineering Design, 9th edition, section 6-8; slope beyond the knee after E. Haibach (1970; from
/// memory, check).
///
/// ```
/// use elements::fatigue::{cycles_at, finite_life_strength};
/// // The same line read the other way.
/// let strength = finite_life_strength(100.0, 1e5, 0.09)?;
/// assert!((cycles_at(strength / 100.0, 0.09)? / 1e5 - 1.0).abs() < 1e-9);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn cycles_at(share: f64, exponent: f64) -> Result<f64, FatigueError> {
    let share = positive("stress over the endurance limit", share)?;
    let slope = 1.0 / in_range("exponent of the S-N line", exponent, 0.03, 0.25)?;
    Ok(KNEE_CYCLES * share.powf(if share >= 1.0 { -slope } else { 1.0 - 2.0 * slope }))
}

/// Fully reversed stress that hurts as much as an alternating stress on a mean one, after Goodman:
/// `σ = σa/(1 − σm/Sut)`.
///
/// `alternating` and `mean` zero or more, `tensile` above the mean, all in one unit.
///
/// # Errors
///
/// [`FatigueError::Negative`], [`FatigueError::NotPositive`], or [`FatigueError::Range`] for a mean
/// stress at or above the tensile strength, which breaks the part at once.
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 6-12 and
/// example 6-12 (from memory, check).
///
/// ```
/// use elements::fatigue::reversed_stress;
/// assert!((reversed_stress(100.0, 300.0, 900.0)? - 150.0).abs() < 1e-9);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn reversed_stress(alternating: f64, mean: f64, tensile: f64) -> Result<f64, FatigueError> {
    let alternating = super::not_negative("alternating stress", alternating)?;
    let tensile = positive("tensile strength", tensile)?;
    let share = super::not_negative("mean stress", mean)? / tensile;
    if share >= 1.0 {
        return Err(FatigueError::Range { what: "mean stress", value: mean, lowest: 0.0, highest: tensile });
    }
    Ok(alternating / (1.0 - share))
}

/// Damage of several loads, `D = Σ n/N`: the part breaks about where it reaches 1.
///
/// Each pair is the number `n` of cycles that a load comes, zero or more, and the number `N` that the
/// part would bear of it alone, above zero and endless where it does no harm.
///
/// # Errors
///
/// [`FatigueError::Negative`] or [`FatigueError::NotPositive`].
///
/// Source: A. Palmgren (1924), M. A. Miner (1945); Budynas & Nisbett, Shigley's Mechanical Engineering
/// Design, 9th edition, section 6-15.
///
/// ```
/// use elements::fatigue::miner_damage;
/// assert_eq!(miner_damage(&[(1e5, 4e5), (2e6, 8e6), (1e9, f64::INFINITY)])?, 0.5);
/// # Ok::<(), elements::fatigue::FatigueError>(())
/// ```
pub fn miner_damage(loads: &[(f64, f64)]) -> Result<f64, FatigueError> {
    let mut damage = 0.0;
    for &(cycles, borne) in loads {
        let cycles = super::not_negative("number of cycles", cycles)?;
        // An endless life is the one number here that need not be finite.
        let borne = if borne == f64::INFINITY { borne } else { positive("number of cycles that are borne", borne)? };
        damage += cycles / borne;
    }
    Ok(damage)
}

//! Equivalent dynamic and static loads.

use super::{BearingError, in_range, not_negative, positive};

/// Radial and axial load of one bearing, in one unit of force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BearingLoad {
    /// Radial load `Fr`, above zero.
    pub radial: f64,
    /// Axial load `Fa`, zero or more.
    pub axial: f64,
}

impl BearingLoad {
    fn checked(&self) -> Result<Self, BearingError> {
        Ok(Self { radial: positive("radial load", self.radial)?, axial: not_negative("axial load", self.axial)? })
    }
}

/// Factors of a deep groove ball bearing at one relative axial load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BallFactors {
    /// Limit of `Fa/Fr` up to which the axial load does not count.
    pub e: f64,
    /// Radial factor beyond that limit.
    pub x: f64,
    /// Axial factor beyond that limit.
    pub y: f64,
}

/// `f0 Fa/C0`, `e`, `Y`.
const BALL_FACTORS: [(f64, f64, f64); 9] = [
    (0.172, 0.19, 2.30),
    (0.345, 0.22, 1.99),
    (0.689, 0.26, 1.71),
    (1.03, 0.28, 1.55),
    (1.38, 0.30, 1.45),
    (2.07, 0.34, 1.31),
    (3.45, 0.38, 1.15),
    (5.17, 0.42, 1.04),
    (6.89, 0.44, 1.00),
];

/// Factors `e`, `X`, `Y` of a single-row deep groove ball bearing of normal clearance.
///
/// `relative_axial_load` is `f0 Fa/C0`, 0 to 6.89; linear between the printed rows, and the first
/// row below 0.172 (common practice, no source). Older and ANSI texts tabulate by `Fa/C0` without
/// `f0`, and multiply the radial load by 1.2 when the outer ring turns: ISO does neither.
///
/// # Errors
///
/// [`BearingError::Range`] outside 0 to 6.89.
///
/// Source: ISO 281:2007, table of X and Y for radial ball bearings; public transcription.
///
/// ```
/// use elements::rolling_bearing::ball_factors;
/// let factors = ball_factors(1.1798)?;
/// assert!((factors.e - 0.2886).abs() < 1e-4);
/// assert!((factors.y - 1.5072).abs() < 1e-4);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn ball_factors(relative_axial_load: f64) -> Result<BallFactors, BearingError> {
    let (first, last) = (BALL_FACTORS[0], BALL_FACTORS[BALL_FACTORS.len() - 1]);
    let load = in_range("relative axial load f0·Fa/C0", relative_axial_load, 0.0, last.0)?;
    let mut below = first;
    for row in BALL_FACTORS {
        if load <= row.0 {
            let width = row.0 - below.0;
            let share = if load > below.0 { (load - below.0) / width } else { 0.0 };
            return Ok(BallFactors {
                e: below.1 + share * (row.1 - below.1),
                x: 0.56,
                y: below.2 + share * (row.2 - below.2),
            });
        }
        below = row;
    }
    // The range check leaves nothing above the last row.
    Ok(BallFactors { e: last.1, x: 0.56, y: last.2 })
}

/// Relative axial load `f0 Fa/C0` of a deep groove ball bearing, by which [`ball_factors`] goes.
///
/// `axial` zero or more, `static_rating` `C0` above zero, both in one unit of force; `f0` the factor of
/// the catalogue, 10 to 20.
///
/// # Errors
///
/// [`BearingError::NotPositive`], [`BearingError::Negative`] or [`BearingError::Range`].
///
/// Source: ISO 281:2007, table of X and Y for radial ball bearings.
///
/// ```
/// use elements::rolling_bearing::relative_axial_load;
/// assert!((relative_axial_load(1.5, 17.8, 14.0)? - 1.1798).abs() < 1e-4);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn relative_axial_load(axial: f64, static_rating: f64, f0: f64) -> Result<f64, BearingError> {
    let axial = not_negative("axial load", axial)?;
    let static_rating = positive("static load rating", static_rating)?;
    Ok(in_range("factor f0", f0, 10.0, 20.0)? * axial / static_rating)
}

/// Equivalent dynamic load of a deep groove ball bearing.
///
/// ```text
/// P = Fr                  Fa/Fr ≤ e
/// P = 0.56 Fr + Y Fa      Fa/Fr > e
/// ```
///
/// `static_rating` is `C0`, `f0` the factor of the catalogue, 10 to 20.
///
/// # Errors
///
/// [`BearingError::NotPositive`], [`BearingError::Negative`] or [`BearingError::Range`].
///
/// Source: ISO 281:2007, dynamic equivalent radial load.
///
/// ```
/// use elements::rolling_bearing::{BearingLoad, ball_equivalent};
/// let load_kn = BearingLoad { radial: 4.0, axial: 1.5 };
/// assert!((ball_equivalent(load_kn, 17.8, 14.0)? - 4.5008).abs() < 1e-4);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn ball_equivalent(load: BearingLoad, static_rating: f64, f0: f64) -> Result<f64, BearingError> {
    let load = load.checked()?;
    let factors = ball_factors(relative_axial_load(load.axial, static_rating, f0)?)?;
    Ok(if load.axial / load.radial <= factors.e {
        load.radial
    } else {
        factors.x * load.radial + factors.y * load.axial
    })
}

/// Equivalent static load of a deep groove ball bearing, `max(Fr, 0.6 Fr + 0.5 Fa)`.
///
/// # Errors
///
/// [`BearingError::NotPositive`] or [`BearingError::Negative`].
///
/// Source: ISO 76:2006, static equivalent radial load.
pub fn ball_static_equivalent(load: BearingLoad) -> Result<f64, BearingError> {
    let load = load.checked()?;
    Ok(load.radial.max(0.6 * load.radial + 0.5 * load.axial))
}

/// Equivalent dynamic load of a single-row tapered roller bearing.
///
/// ```text
/// P = Fr                 Fa/Fr ≤ e
/// P = 0.4 Fr + Y Fa      Fa/Fr > e
/// ```
///
/// `e` from 0.1 to 1.5 and `y` from 0.3 to 4 are those of the bearing's catalogue; `axial` is the
/// whole axial load of this bearing, the other's induced load included.
///
/// # Errors
///
/// [`BearingError::NotPositive`], [`BearingError::Negative`] or [`BearingError::Range`].
///
/// Source: ISO 281:2007, radial roller bearings.
///
/// ```
/// use elements::rolling_bearing::{BearingLoad, tapered_equivalent};
/// let load_kn = BearingLoad { radial: 6.0, axial: 3.0 };
/// assert!((tapered_equivalent(load_kn, 0.37, 1.6)? - 7.2).abs() < 1e-12);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn tapered_equivalent(load: BearingLoad, e: f64, y: f64) -> Result<f64, BearingError> {
    let load = load.checked()?;
    let e = in_range("limit e", e, 0.1, 1.5)?;
    let y = in_range("axial factor Y", y, 0.3, 4.0)?;
    Ok(if load.axial / load.radial <= e { load.radial } else { 0.4 * load.radial + y * load.axial })
}

/// Axial load that a tapered roller bearing makes by itself under a radial one, `Fr/(2Y)`.
///
/// # Errors
///
/// [`BearingError::Negative`] or [`BearingError::Range`].
///
/// Source: bearing catalogues, single-row tapered roller bearings.
///
/// ```
/// use elements::rolling_bearing::tapered_induced;
/// assert!((tapered_induced(6.0, 1.6)? - 1.875).abs() < 1e-12);
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn tapered_induced(radial: f64, y: f64) -> Result<f64, BearingError> {
    let radial = not_negative("radial load", radial)?;
    Ok(radial / (2.0 * in_range("axial factor Y", y, 0.3, 4.0)?))
}

/// Axial loads of two tapered roller bearings that are set against each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpposedLoads {
    /// Axial load of the bearing that the outside force pushes on.
    pub pushed: f64,
    /// Axial load of the other one.
    pub other: f64,
}

/// Axial loads of two tapered roller bearings that are set against each other, without preload or
/// play.
///
/// ```text
/// S  = Fr/(2Y)                          what each bearing makes by itself
/// S₂ + K ≥ S₁     Fa₁ = S₂ + K          Fa₂ = S₂
/// S₂ + K < S₁     Fa₁ = S₁              Fa₂ = S₁ − K
/// ```
///
/// `induced_pushed` `S₁` and `induced_other` `S₂` by [`tapered_induced`]; `outside` `K`, the outside
/// axial force on the first bearing; all zero or more, in one unit of force.
///
/// # Errors
///
/// [`BearingError::Negative`].
///
/// Source: bearing catalogues, paired single-row tapered roller bearings (from memory, check); the
/// equilibrium of the shaft with both bearings pressed together gives the same.
///
/// ```
/// use elements::rolling_bearing::opposed_axial_loads;
/// // 2 kN from outside against a bearing that makes 1.5 kN, beside one that makes 1 kN.
/// let loads = opposed_axial_loads(1.5, 1.0, 2.0)?;
/// assert_eq!((loads.pushed, loads.other), (3.0, 1.0));
/// // With little from outside the first bearing loads both.
/// let loads = opposed_axial_loads(1.5, 1.0, 0.25)?;
/// assert_eq!((loads.pushed, loads.other), (1.5, 1.25));
/// # Ok::<(), elements::rolling_bearing::BearingError>(())
/// ```
pub fn opposed_axial_loads(
    induced_pushed: f64,
    induced_other: f64,
    outside: f64,
) -> Result<OpposedLoads, BearingError> {
    let own = not_negative("axial load that the pushed bearing makes", induced_pushed)?;
    let across = not_negative("axial load that the other bearing makes", induced_other)?;
    let outside = not_negative("outside axial force", outside)?;
    Ok(if across + outside >= own {
        OpposedLoads { pushed: across + outside, other: across }
    } else {
        OpposedLoads { pushed: own, other: own - outside }
    })
}

/// Equivalent static load of a single-row tapered roller bearing, `max(Fr, 0.5 Fr + Y0 Fa)`.
///
/// # Errors
///
/// [`BearingError::NotPositive`], [`BearingError::Negative`] or [`BearingError::Range`].
///
/// Source: ISO 76:2006, static equivalent radial load.
pub fn tapered_static_equivalent(load: BearingLoad, y0: f64) -> Result<f64, BearingError> {
    let load = load.checked()?;
    let y0 = in_range("static axial factor Y0", y0, 0.2, 3.0)?;
    Ok(load.radial.max(0.5 * load.radial + y0 * load.axial))
}

/// Static safety `s0 = C0/P0`.
///
/// # Errors
///
/// [`BearingError::NotPositive`].
///
/// Source: ISO 76:2006.
pub fn static_safety(static_rating: f64, static_equivalent: f64) -> Result<f64, BearingError> {
    Ok(positive("static load rating", static_rating)? / positive("equivalent static load", static_equivalent)?)
}

//! Shoulder fillets of round shafts.

use super::{ConcentrationError, Loading, in_range, positive};

/// One row of the fitted charts: `Kt = A (r/d)^b` at a ratio of diameters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShoulderFit {
    /// Larger over smaller diameter, `D/d`.
    pub diameter_ratio: f64,
    /// Coefficient `A`.
    pub coefficient: f64,
    /// Exponent `b`, below zero.
    pub exponent: f64,
}

const fn fit(diameter_ratio: f64, coefficient: f64, exponent: f64) -> ShoulderFit {
    ShoulderFit { diameter_ratio, coefficient, exponent }
}

const BENDING: [ShoulderFit; 11] = [
    fit(1.01, 0.91938, -0.17032),
    fit(1.02, 0.96048, -0.17711),
    fit(1.03, 0.98061, -0.18381),
    fit(1.05, 0.98137, -0.19653),
    fit(1.07, 0.97527, -0.20958),
    fit(1.1, 0.95120, -0.23757),
    fit(1.2, 0.97098, -0.21796),
    fit(1.5, 0.93836, -0.25759),
    fit(2.0, 0.90879, -0.28598),
    fit(3.0, 0.89334, -0.30860),
    fit(6.0, 0.87868, -0.33243),
];

const TORSION: [ShoulderFit; 4] = [
    fit(1.09, 0.90337, -0.12692),
    fit(1.2, 0.83425, -0.21649),
    fit(1.33, 0.84897, -0.23161),
    fit(2.0, 0.86331, -0.23865),
];

const AXIAL: [ShoulderFit; 6] = [
    fit(1.05, 1.00480, -0.17076),
    fit(1.1, 0.98450, -0.20818),
    fit(1.2, 0.96272, -0.25527),
    fit(1.3, 0.99682, -0.25751),
    fit(1.5, 0.99957, -0.28221),
    fit(2.0, 1.01470, -0.30035),
];

const SMALLEST_RADIUS_RATIO: f64 = 0.01;
const LARGEST_RADIUS_RATIO: f64 = 0.30;

/// Printed fits for one loading, from the smallest ratio of diameters.
///
/// Source: R. L. Norton, Machine Design, appendix C, as a public source file transcribes it.
/// Another copy prints −0.26759 for bending at 1.5, which its own chart contradicts.
#[must_use]
pub fn shoulder_fits(loading: Loading) -> &'static [ShoulderFit] {
    match loading {
        Loading::Bending => &BENDING,
        Loading::Torsion => &TORSION,
        Loading::Axial => &AXIAL,
    }
}

/// Largest ratio of diameters that the fits of a loading hold: 6 in bending, 2 otherwise.
///
/// The charts flatten out there; who takes the last row for a larger shoulder should say so.
#[must_use]
pub fn highest_diameter_ratio(loading: Loading) -> f64 {
    shoulder_fits(loading).iter().map(|fit| fit.diameter_ratio).fold(0.0, f64::max)
}

/// Theoretical stress concentration factor `Kt` of a shoulder fillet on the nominal stress of the
/// smaller diameter.
///
/// ```text
/// Kt = A (r/d)^b      A, b by D/d; between two rows Kt itself is interpolated along D/d
/// ```
///
/// `smaller`, `larger` and `radius` in any one unit. Valid from the first to the last printed
/// ratio of the loading (bending 1.01 to 6, torsion 1.09 to 2, axial 1.05 to 2) and for `r/d` of
/// 0.01 to 0.30 (that range from memory, check). The charts behind the fits are good to about 5 %.
/// A fit below 1 is given as 1.
///
/// # Errors
///
/// [`ConcentrationError::NotPositive`] or [`ConcentrationError::Range`].
///
/// Source: as [`shoulder_fits`]; the interpolation is this library's own choice.
///
/// ```
/// use elements::stress_concentration::{Loading, shoulder_factor};
/// let factor = shoulder_factor(Loading::Bending, 40.0, 60.0, 4.0)?;
/// assert!((factor - 1.6981).abs() < 1e-3);
/// # Ok::<(), elements::stress_concentration::ConcentrationError>(())
/// ```
pub fn shoulder_factor(loading: Loading, smaller: f64, larger: f64, radius: f64) -> Result<f64, ConcentrationError> {
    let smaller = positive("smaller diameter", smaller)?;
    let ratio = positive("larger diameter", larger)? / smaller;
    let radius_ratio = in_range(
        "fillet radius over smaller diameter",
        positive("fillet radius", radius)? / smaller,
        SMALLEST_RADIUS_RATIO,
        LARGEST_RADIUS_RATIO,
    )?;
    let fits = shoulder_fits(loading);
    let at = |fit: &ShoulderFit| fit.coefficient * radius_ratio.powf(fit.exponent);
    let lowest = fits[0].diameter_ratio;
    let ratio = in_range("larger over smaller diameter", ratio, lowest, highest_diameter_ratio(loading))?;
    let mut factor = at(&fits[0]);
    for pair in fits.windows(2) {
        let (below, above) = (&pair[0], &pair[1]);
        if ratio > below.diameter_ratio {
            let share = (ratio - below.diameter_ratio) / (above.diameter_ratio - below.diameter_ratio);
            // Past the pair the next one overwrites this; the share only matters within it.
            factor = at(below) + share.min(1.0) * (at(above) - at(below));
        }
    }
    Ok(factor.max(1.0))
}

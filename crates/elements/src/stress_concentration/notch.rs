//! Notch sensitivity in fatigue.

use super::{ConcentrationError, Loading, in_range, positive};

/// `√a` in √in at tensile strengths in ksi.
const TABULATED: [(f64, f64); 11] = [
    (50.0, 0.130),
    (60.0, 0.108),
    (80.0, 0.080),
    (100.0, 0.062),
    (120.0, 0.049),
    (140.0, 0.039),
    (160.0, 0.031),
    (180.0, 0.024),
    (200.0, 0.018),
    (220.0, 0.013),
    (240.0, 0.009),
];

/// Neuber's `√a` of steel in √in, from the tabulated values, linear between them.
///
/// `tensile_ksi` from 50 to 240. For torsion Norton reads the table at a strength 20 ksi higher.
///
/// # Errors
///
/// [`ConcentrationError::Range`].
///
/// Source: R. L. Norton, Machine Design, table 6-6, as a public source file transcribes it (some
/// rows of the printed table left out).
///
/// ```
/// use elements::stress_concentration::neuber_root_tabulated_sqrt_in;
/// assert_eq!(neuber_root_tabulated_sqrt_in(140.0)?, 0.039);
/// # Ok::<(), elements::stress_concentration::ConcentrationError>(())
/// ```
pub fn neuber_root_tabulated_sqrt_in(tensile_ksi: f64) -> Result<f64, ConcentrationError> {
    let (first, last) = (TABULATED[0], TABULATED[TABULATED.len() - 1]);
    let tensile_ksi = in_range("tensile strength in ksi", tensile_ksi, first.0, last.0)?;
    let mut root = first.1;
    for pair in TABULATED.windows(2) {
        let ((from, at_from), (to, at_to)) = (pair[0], pair[1]);
        if tensile_ksi >= to {
            root = at_to;
        } else if tensile_ksi > from {
            root = at_from + (tensile_ksi - from) / (to - from) * (at_to - at_from);
        }
    }
    Ok(root)
}

/// Neuber's `√a` of steel in √in, by the cubic fits.
///
/// ```text
/// bending  √a = 0.246 − 3.08e-3 S + 1.51e-5 S² − 2.67e-8 S³
/// torsion  √a = 0.190 − 2.51e-3 S + 1.35e-5 S² − 2.67e-8 S³      S tensile strength, ksi
/// ```
///
/// Valid from 50 to 220 ksi, where both stay above zero. In √mm it is 5.04 (√25.4) times as much.
///
/// # Errors
///
/// [`ConcentrationError::Range`], or [`ConcentrationError::NoAxialConstant`].
///
/// Source: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition, equations
/// 6-35a and 6-35b.
///
/// ```
/// use elements::stress_concentration::{Loading, neuber_root_sqrt_in};
/// let root = neuber_root_sqrt_in(105.0, Loading::Bending)?;
/// assert!((root - 0.0582).abs() < 1e-4);
/// # Ok::<(), elements::stress_concentration::ConcentrationError>(())
/// ```
pub fn neuber_root_sqrt_in(tensile_ksi: f64, loading: Loading) -> Result<f64, ConcentrationError> {
    let s = in_range("tensile strength in ksi", tensile_ksi, 50.0, 220.0)?;
    let (constant, linear, square) = match loading {
        Loading::Bending => (0.246, 3.08e-3, 1.51e-5),
        Loading::Torsion => (0.190, 2.51e-3, 1.35e-5),
        Loading::Axial => return Err(ConcentrationError::NoAxialConstant),
    };
    Ok(constant - linear * s + square * s.powi(2) - 2.67e-8 * s.powi(3))
}

/// Notch sensitivity `q = 1/(1 + √a/√r)`, radius in inches.
///
/// # Errors
///
/// [`ConcentrationError::NotPositive`] for the radius, [`ConcentrationError::Range`] for `√a`
/// outside 0 to 0.2.
///
/// Source: as [`neuber_root_sqrt_in`], equation 6-34.
pub fn notch_sensitivity(neuber_root_sqrt_in: f64, radius_in: f64) -> Result<f64, ConcentrationError> {
    let root = in_range("Neuber root in √in", neuber_root_sqrt_in, 0.0, 0.2)?;
    Ok(1.0 / (1.0 + root / positive("notch radius in inches", radius_in)?.sqrt()))
}

/// Fatigue stress concentration factor `Kf = 1 + q (Kt − 1)`.
///
/// # Errors
///
/// [`ConcentrationError::Range`] unless `q` is 0 to 1 and `Kt` 1 to 10.
///
/// Source: as [`neuber_root_sqrt_in`], equation 6-32.
///
/// ```
/// use elements::stress_concentration::fatigue_factor;
/// assert!((fatigue_factor(1.8, 0.86)? - 1.688).abs() < 1e-12);
/// # Ok::<(), elements::stress_concentration::ConcentrationError>(())
/// ```
pub fn fatigue_factor(theoretical: f64, sensitivity: f64) -> Result<f64, ConcentrationError> {
    let theoretical = in_range("stress concentration factor", theoretical, 1.0, 10.0)?;
    Ok(1.0 + in_range("notch sensitivity", sensitivity, 0.0, 1.0)? * (theoretical - 1.0))
}

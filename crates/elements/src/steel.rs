//! Strengths of shaft steels by grade and heat treatment, and torsional yield by hardness.
//!
//! Published numbers are of single heats and small bars. They say nothing of the spread from heat
//! to heat: what is given beside each is only how well the source could be read.

use thiserror::Error;

/// Why a strength cannot be given.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum SteelError {
    /// The hardness is outside the table.
    #[error("a hardness of {rockwell_c} HRC is outside the table; 0 to 52 is accepted")]
    Hardness {
        /// Hardness that was given.
        rockwell_c: f64,
    },
}

/// A steel in one condition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteelCondition {
    /// Grade by its standard number (SAE, AISI).
    pub grade: &'static str,
    /// Heat treatment or delivery condition.
    pub condition: &'static str,
    /// Tensile strength, MPa.
    pub tensile_mpa: f64,
    /// Yield strength, MPa.
    pub yield_mpa: f64,
    /// How well the source could be read, as a share of the strengths.
    pub reading_share: f64,
    /// Where the numbers come from.
    pub source: &'static str,
}

const ALLOY_PAGE: &str = "public alloy data page for AISI 4140";
const ALLOY_DATA: &str = "public material data sheet for AISI 4340";
const TEXTBOOK: &str = "textbook appendix (scan partly illegible)";

const fn row(
    grade: &'static str,
    condition: &'static str,
    (tensile_mpa, yield_mpa): (f64, f64),
    reading_share: f64,
    source: &'static str,
) -> SteelCondition {
    SteelCondition { grade, condition, tensile_mpa, yield_mpa, reading_share, source }
}

const CONDITIONS: [SteelCondition; 12] = [
    row("4140", "oil quenched, tempered 205 °C", (1772.0, 1641.0), 0.02, ALLOY_PAGE),
    row("4140", "oil quenched, tempered 315 °C", (1551.0, 1434.0), 0.02, ALLOY_PAGE),
    row("4140", "oil quenched, tempered 425 °C", (1248.0, 1138.0), 0.02, ALLOY_PAGE),
    row("4140", "oil quenched, tempered 540 °C", (951.0, 834.0), 0.02, ALLOY_PAGE),
    row("4140", "oil quenched, tempered 650 °C", (758.0, 655.0), 0.02, ALLOY_PAGE),
    row("4140", "annealed", (655.0, 417.0), 0.02, ALLOY_PAGE),
    row("4140", "normalized", (1020.0, 655.0), 0.02, ALLOY_PAGE),
    row("4340", "2 in round, quenched, tempered 650 °C", (931.0, 834.0), 0.02, ALLOY_DATA),
    row("1050", "hot-rolled", (620.0, 338.0), 0.03, TEXTBOOK),
    row("1050", "cold-drawn", (690.0, 579.0), 0.03, TEXTBOOK),
    row("1050", "quenched, tempered 1300 °F", (662.0, 421.0), 0.03, TEXTBOOK),
    row("1050", "quenched, tempered 400 °F", (986.0, 758.0), 0.03, TEXTBOOK),
];

/// Every steel and condition that is held, in a fixed order.
///
/// ```
/// use elements::steel::steel_conditions;
/// let annealed = steel_conditions()
///     .iter()
///     .find(|steel| steel.grade == "4140" && steel.condition == "annealed");
/// assert_eq!(annealed.map(|steel| steel.yield_mpa), Some(417.0));
/// ```
#[must_use]
pub fn steel_conditions() -> &'static [SteelCondition] {
    &CONDITIONS
}

/// Hardness and the yield strengths that go with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HardnessRow {
    /// Rockwell C hardness.
    pub rockwell_c: f64,
    /// Brinell hardness.
    pub brinell: f64,
    /// Yield strength in tension, MPa, as printed.
    pub tensile_yield_mpa: f64,
    /// Yield strength in torsion, MPa, as printed; 0.6 of that in tension by the source's own rule.
    pub torsional_yield_mpa: f64,
}

const fn hardness(rockwell_c: f64, brinell: f64, tensile_yield_mpa: f64, torsional_yield_mpa: f64) -> HardnessRow {
    HardnessRow { rockwell_c, brinell, tensile_yield_mpa, torsional_yield_mpa }
}

const HARDNESS: [HardnessRow; 7] = [
    hardness(0.0, 150.0, 366.0, 221.0),
    hardness(10.0, 187.0, 503.0, 303.0),
    hardness(20.0, 226.0, 614.0, 366.0),
    hardness(30.0, 286.0, 941.0, 503.0),
    hardness(40.0, 371.0, 1152.0, 690.0),
    hardness(50.0, 481.0, 1524.0, 917.0),
    hardness(52.0, 514.0, 1614.0, 966.0),
];

/// The printed rows, from the softest.
///
/// The row at 30 HRC contradicts the rule of its own table: 0.6 times 941 is 565, not 503. The
/// torsional column runs smoothly through 503 and the tensile one does not through 941, so the
/// tensile value is the doubtful one.
///
/// Source: an article on induction case depth, figure 1, after SAE J413
/// (studylib.net/doc/18154429).
#[must_use]
pub fn hardness_rows() -> &'static [HardnessRow] {
    &HARDNESS
}

/// Yield strength in torsion at a hardness, MPa, linear between the printed rows.
///
/// Valid from 0 to 52 HRC. Below 20 HRC the Rockwell C scale is stretched past its standard; the
/// source prints it so.
///
/// # Errors
///
/// [`SteelError::Hardness`].
///
/// Source: as [`hardness_rows`].
///
/// ```
/// use elements::steel::torsional_yield_mpa;
/// assert_eq!(torsional_yield_mpa(40.0)?, 690.0);
/// assert_eq!(torsional_yield_mpa(45.0)?, 803.5);
/// # Ok::<(), elements::steel::SteelError>(())
/// ```
pub fn torsional_yield_mpa(rockwell_c: f64) -> Result<f64, SteelError> {
    HARDNESS
        .windows(2)
        .find(|pair| (pair[0].rockwell_c..=pair[1].rockwell_c).contains(&rockwell_c))
        .map(|pair| {
            let share = (rockwell_c - pair[0].rockwell_c) / (pair[1].rockwell_c - pair[0].rockwell_c);
            pair[0].torsional_yield_mpa + share * (pair[1].torsional_yield_mpa - pair[0].torsional_yield_mpa)
        })
        .ok_or(SteelError::Hardness { rockwell_c })
}

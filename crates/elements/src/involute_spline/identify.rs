//! Which standard splines a worn shaft may have been, from whatever could be measured of it.

use std::f64::consts::PI;
use std::fmt;

use super::{
    Din5480Spline, InchSpline, InvoluteFlanks, Iso4156Spline, Pitch, PressureAngle, RootForm, SplineClass, SplineError,
    SplineFit, ToothDeviation, at_least, positive, teeth_in_range,
};

/// A size with its standard uncertainty, both in millimetres and above zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredSize {
    /// What was measured, mm.
    pub size_mm: f64,
    /// Its standard uncertainty, mm.
    pub uncertainty_mm: f64,
}

/// What was measured of a shaft's spline. Any part may be missing, but a count alone tells no series.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SplineEvidence {
    /// Number of teeth.
    pub teeth: Option<u32>,
    /// Over the tips, with a caliper.
    pub major: Option<MeasuredSize>,
    /// Over two pins, with the diameter of the pins in mm.
    pub over_pins: Option<(MeasuredSize, f64)>,
}

/// How far a real shaft may stay under its standard, mm, each zero or more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplineWear {
    /// On the major diameter: tips are turned small, and wear.
    pub tips_mm: f64,
    /// On the thickness of a tooth at the pitch circle, beyond the widest class.
    pub flanks_mm: f64,
}

/// A spline of one of the standards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StandardSpline {
    /// ANSI B92.1. The root cannot be told apart by these sizes; fillet root and side fit stand for all.
    Inch(InchSpline),
    /// ISO 4156.
    Iso4156(Iso4156Spline),
    /// DIN 5480.
    Din5480(Din5480Spline),
}

impl fmt::Display for StandardSpline {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Inch(spline) => {
                write!(f, "{} teeth {} {}, ANSI B92.1", spline.teeth(), spline.pitch(), spline.pressure_angle())
            }
            Self::Iso4156(spline) => {
                let (teeth, angle) = (spline.flanks().teeth(), spline.pressure_angle());
                write!(f, "{teeth} teeth, module {} {angle}, ISO 4156", spline.module_mm())
            }
            Self::Din5480(spline) => {
                let (reference_mm, module_mm) = (spline.reference_diameter_mm(), spline.module_mm());
                write!(f, "{reference_mm} × {module_mm} × {}, DIN 5480", spline.flanks().teeth())
            }
        }
    }
}

/// A spline that the shaft may have been.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SplineCandidate {
    /// Which.
    pub spline: StandardSpline,
    /// By how much the tips stay under the standard, mm.
    pub tips_under_mm: Option<f64>,
    /// By how much a tooth is thinner than the standard's largest, mm.
    pub thinner_mm: Option<f64>,
    /// How far the sizes lie outside of what wear explains, in standard uncertainties; zero where it explains
    /// them.
    pub misfit: f64,
}

/// Farther outside than this no candidate is named.
const LARGEST_MISFIT: f64 = 3.0;

/// Modules of ISO 4156 and DIN 5480 that are met, mm.
const MODULES_MM: [f64; 14] = [0.5, 0.75, 0.8, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0];

/// Reference diameters of DIN 5480, mm. From memory, check.
const REFERENCES_MM: [f64; 49] = [
    6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 15.0, 16.0, 17.0, 18.0, 20.0, 22.0, 25.0, 26.0, 28.0, 30.0, 32.0, 35.0, 37.0,
    38.0, 40.0, 42.0, 45.0, 47.0, 48.0, 50.0, 52.0, 55.0, 58.0, 60.0, 62.0, 65.0, 68.0, 70.0, 72.0, 75.0, 78.0, 80.0,
    82.0, 85.0, 88.0, 90.0, 92.0, 95.0, 98.0, 100.0, 105.0, 110.0,
];

/// Tolerance of tooth thickness where the standard's own is not held, mm: about class 7 at a 2 mm module.
/// Own judgement.
const UNKNOWN_TOLERANCE_MM: f64 = 0.15;

/// Names the standard splines that a shaft may have been, the best first.
///
/// ```text
/// tips     0 ≤ D_standard − D_measured ≤ wear of the tips + drop
///          drop = D (1 − cos(π/N))/2 for an odd count, where no tip stands opposite a tip
/// flanks   0 ≤ t_largest − t_measured ≤ wear of the flanks + tolerance of class 7 (and deviation d)
/// misfit   how far outside, over the standard uncertainty; both together by the root of the squares
/// ```
///
/// Among those that wear explains, the one whose sizes stand nearest to the middle of what is usual comes
/// first; the order says little there. Counts of 6 to 100 are tried where none is given.
///
/// # Errors
///
/// [`SplineError::NoEvidence`] without any size, [`SplineError::Teeth`] for a count outside 6 to 100,
/// [`SplineError::NotPositive`] or [`SplineError::TooSmall`] for sizes and wear.
///
/// Source: the geometry of the standards as their own types give it; what real shafts stay under is common
/// practice, no source.
///
/// ```
/// use elements::involute_spline::{MeasuredSize, SplineEvidence, SplineWear, identify};
/// let inches = |size_in: f64| MeasuredSize { size_mm: 25.4 * size_in, uncertainty_mm: 0.02 };
/// let evidence = SplineEvidence {
///     teeth: Some(30),
///     major: Some(inches(1.280)),
///     over_pins: Some((inches(1.3825), 25.4 * 0.080)),
/// };
/// let found = identify(&evidence, SplineWear { tips_mm: 1.27, flanks_mm: 0.02 })?;
/// assert_eq!(found[0].spline.to_string(), "30 teeth 24/48 45°, ANSI B92.1");
/// # Ok::<(), elements::involute_spline::SplineError>(())
/// ```
pub fn identify(evidence: &SplineEvidence, wear: SplineWear) -> Result<Vec<SplineCandidate>, SplineError> {
    let checked = evidence.checked()?;
    let wear = SplineWear {
        tips_mm: at_least("wear of the tips in mm", wear.tips_mm, 0.0)?,
        flanks_mm: at_least("wear of the flanks in mm", wear.flanks_mm, 0.0)?,
    };
    let counts = checked.teeth.map_or(6..=100, |teeth| teeth..=teeth);
    let mut ranked: Vec<(f64, SplineCandidate)> = Vec::new();
    for teeth in counts {
        for spline in standard_splines(teeth) {
            ranked.extend(judge(&checked, wear, spline).filter(|(_, one)| one.misfit <= LARGEST_MISFIT));
        }
    }
    ranked.sort_by(|one, other| one.1.misfit.total_cmp(&other.1.misfit).then(one.0.total_cmp(&other.0)));
    Ok(ranked.into_iter().map(|(_, candidate)| candidate).collect())
}

impl SplineEvidence {
    fn checked(&self) -> Result<Self, SplineError> {
        if self.major.is_none() && self.over_pins.is_none() {
            return Err(SplineError::NoEvidence);
        }
        if let Some(teeth) = self.teeth {
            teeth_in_range(teeth, 6, 100)?;
        }
        for size in self.major.iter().chain(self.over_pins.iter().map(|(size, _)| size)) {
            positive("measured size in mm", size.size_mm)?;
            positive("standard uncertainty in mm", size.uncertainty_mm)?;
        }
        if let Some((_, pin_mm)) = self.over_pins {
            positive("pin diameter in mm", pin_mm)?;
        }
        Ok(*self)
    }
}

/// Every spline of that count that the standards hold.
fn standard_splines(teeth: u32) -> Vec<StandardSpline> {
    let mut splines = Vec::new();
    for angle in PressureAngle::ALL {
        let inch = Pitch::ALL
            .into_iter()
            .filter_map(|pitch| InchSpline::new(teeth, pitch, angle, RootForm::Fillet, SplineFit::Side).ok());
        splines.extend(inch.map(StandardSpline::Inch));
        let metric = MODULES_MM
            .into_iter()
            .filter_map(|module_mm| Iso4156Spline::new(teeth, module_mm, angle, RootForm::Fillet).ok());
        splines.extend(metric.map(StandardSpline::Iso4156));
    }
    for module_mm in MODULES_MM {
        let sized =
            REFERENCES_MM.into_iter().filter_map(|reference| Din5480Spline::new(reference, module_mm, teeth).ok());
        splines.extend(sized.map(StandardSpline::Din5480));
    }
    splines
}

/// What the standard says of a spline, mm.
struct Standard<'a> {
    flanks: &'a InvoluteFlanks,
    /// Millimetres of the flanks' unit.
    unit_mm: f64,
    major_mm: f64,
    largest_mm: f64,
    tolerance_mm: f64,
}

impl StandardSpline {
    fn standard(&self) -> Standard<'_> {
        match self {
            Self::Inch(spline) => Standard {
                flanks: spline.flanks(),
                unit_mm: 25.4,
                major_mm: 25.4 * spline.external().major_in,
                largest_mm: 25.4 * spline.basic_width_in(),
                tolerance_mm: spline
                    .tolerance(SplineClass::Seven)
                    .map_or(UNKNOWN_TOLERANCE_MM, |tolerance| 25.4 * tolerance.total_in()),
            },
            Self::Iso4156(spline) => {
                // The total tolerance does not go by the length.
                let total = spline.tolerance(SplineClass::Seven, 1.0).map(|tolerance| tolerance.total_um / 1000.0);
                Standard {
                    flanks: spline.flanks(),
                    unit_mm: 1.0,
                    major_mm: spline.major_external_mm(ToothDeviation::H),
                    largest_mm: spline.basic_width_mm(),
                    tolerance_mm: total.unwrap_or(UNKNOWN_TOLERANCE_MM)
                        - spline.deviation_um(ToothDeviation::D) / 1000.0,
                }
            }
            Self::Din5480(spline) => Standard {
                flanks: spline.flanks(),
                unit_mm: 1.0,
                major_mm: spline.tip_external_mm(),
                largest_mm: spline.tooth_thickness_mm(),
                tolerance_mm: UNKNOWN_TOLERANCE_MM,
            },
        }
    }
}

/// Holds a spline against the evidence; none where its pins cannot rest as they did. The first number ranks those that wear
/// explains.
fn judge(evidence: &SplineEvidence, wear: SplineWear, spline: StandardSpline) -> Option<(f64, SplineCandidate)> {
    let standard = spline.standard();
    let teeth = standard.flanks.teeth();
    let mut misfit: f64 = 0.0;
    let mut off_middle: f64 = 0.0;
    let mut weigh = |under_mm: f64, room_mm: f64, uncertainty_mm: f64| {
        let outside_mm = (-under_mm).max(under_mm - room_mm).max(0.0);
        misfit = misfit.hypot(outside_mm / uncertainty_mm);
        let half_mm = room_mm / 2.0 + uncertainty_mm;
        off_middle = off_middle.hypot((under_mm - room_mm / 2.0) / half_mm);
    };
    let tips_under_mm = evidence.major.map(|major| {
        let drop_mm =
            if teeth.is_multiple_of(2) { 0.0 } else { standard.major_mm * (1.0 - (PI / f64::from(teeth)).cos()) / 2.0 };
        let under_mm = standard.major_mm - major.size_mm;
        weigh(under_mm, wear.tips_mm + drop_mm, major.uncertainty_mm);
        under_mm
    });
    let thinner_mm = match evidence.over_pins {
        None => None,
        Some((over, pin_mm)) => {
            let (size, pin) = (over.size_mm / standard.unit_mm, pin_mm / standard.unit_mm);
            let thickness = standard.flanks.thickness_from_over_pins(size, pin).ok()?;
            let rate = standard.flanks.over_pins(thickness, pin).ok()?.size_per_width;
            let under_mm = standard.largest_mm - thickness * standard.unit_mm;
            weigh(under_mm, wear.flanks_mm + standard.tolerance_mm, over.uncertainty_mm / rate);
            Some(under_mm)
        }
    };
    Some((off_middle, SplineCandidate { spline, tips_under_mm, thinner_mm, misfit }))
}

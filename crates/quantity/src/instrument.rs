//! Measuring instruments and the uncertainty of what is read with them.

use crate::budget::{Budget, Component};
use crate::length::{Length, LengthExt, metres, millimetres};
use crate::uncertainty::{Shape, repeats, resolution, type_b};
use crate::written_length::WrittenLength;

/// How well the repeatability of an instrument is known before it is used, in degrees of freedom.
///
/// A standard uncertainty that is itself good to a quarter has eight degrees of freedom
/// (JCGM 100:2008, G.4.2, equation (G.3) and its example). That is how well a shop can know the
/// scatter of an ordinary user: common practice, no source.
pub const REPEATABILITY_DEGREES_OF_FREEDOM: f64 = 8.0;

/// A kind of measuring instrument in the hands of an ordinary user.
#[derive(Clone, Debug, PartialEq)]
pub struct Instrument {
    /// What it is called.
    pub name: String,
    /// How far its scale may be off.
    pub limit: Limit,
    /// One step of its scale or display.
    pub step: Length,
    /// Standard uncertainty of setting it up: straightedge, access hole, hook.
    pub set_up: Length,
    /// One standard deviation of a single reading by an ordinary user.
    pub repeatability: Length,
    /// Where these numbers come from.
    pub source: String,
}

/// How far the scale of an instrument may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// The error stays within `constant + per_metre × L` to either side.
    HalfWidth {
        /// The part that does not depend on the length.
        constant: Length,
        /// What each metre adds.
        per_metre: Length,
        /// Whether L is rounded up to whole metres first, as the classes of OIML R 35-1:2007
        /// (material measures of length) are.
        whole_metres: bool,
        /// How the error is spread between the limits.
        shape: Shape,
    },
    /// The standard uncertainty itself is stated.
    Standard(Length),
}

impl Limit {
    /// The standard uncertainty of the scale at this length (JCGM 100:2008, 4.3.7 and 4.3.3).
    ///
    /// ```
    /// use quantity::{LengthExt, Limit, Shape, millimetres};
    /// let class_two_tape = Limit::HalfWidth {
    ///     constant: millimetres(0.3),
    ///     per_metre: millimetres(0.2),
    ///     whole_metres: true,
    ///     shape: Shape::Rectangular,
    /// };
    /// let uncertainty = class_two_tape.standard_uncertainty(millimetres(795.3));
    /// assert!((uncertainty.millimetres() - 0.289).abs() < 0.0005);
    /// ```
    pub fn standard_uncertainty(&self, length: Length) -> Length {
        match *self {
            Limit::HalfWidth { constant, per_metre, whole_metres, shape } => {
                let metres_long = length.value.abs();
                let counted = if whole_metres { metres_long.ceil() } else { metres_long };
                metres(type_b((constant + per_metre * counted).value, shape))
            }
            Limit::Standard(standard) => standard,
        }
    }
}

impl Instrument {
    /// The uncertainty budget, in millimetres, of the mean of one or several readings of one thing.
    ///
    /// Four components: the scale's own error (type B, 4.3.7), resolution (F.2.2.1, from the mean of
    /// the steps that the readings were rounded to, see [`WrittenLength::step`]), set-up, and the
    /// scatter of the readings. Scale, resolution and set-up are the same in every repeat, so they do
    /// not average out.
    ///
    /// The scatter pools what is known of the instrument with what the repeats show, as 4.2.4 of JCGM
    /// 100:2008 allows: `s² = (ν₀ r² + Σ (x − x̄)²) / (ν₀ + n − 1)`, `u = s / √n`, with
    /// `ν₀ + n − 1` degrees of freedom; r is the repeatability and ν₀ is
    /// [`REPEATABILITY_DEGREES_OF_FREEDOM`]. One reading gives r itself. Few repeats that happen to
    /// agree make nobody more certain than he should be, and repeats that scatter widely count.
    ///
    /// No reading at all gives an infinite uncertainty.
    pub fn budget(&self, written: &[WrittenLength]) -> Budget {
        if written.is_empty() {
            return Budget::new(vec![Component::known("no reading", f64::INFINITY)]);
        }
        let count = written.len() as f64;
        let values: Vec<f64> = written.iter().map(|reading| reading.value().millimetres()).collect();
        let mean = values.iter().sum::<f64>() / count;
        let mean_step = written.iter().map(|reading| reading.step(self.step).millimetres()).sum::<f64>() / count;
        let observed = repeats(&values).map_or(0.0, |found| found.standard_deviation.powi(2) * (count - 1.0));
        self.components(millimetres(mean), mean_step, observed, count)
    }

    /// The combined standard uncertainty of the mean of one or several readings of one thing.
    pub fn standard_uncertainty(&self, written: &[WrittenLength]) -> Length {
        millimetres(self.budget(written).combined())
    }

    /// The budget, in millimetres, of readings that are yet to be taken: so many repeats, written
    /// down to the instrument's own step, of a thing about so long.
    ///
    /// No repeats at all give an infinite uncertainty.
    pub fn planned_budget(&self, expected: Length, repeats: u32) -> Budget {
        if repeats == 0 {
            return self.budget(&[]);
        }
        let count = f64::from(repeats);
        let step = self.step.millimetres();
        // Repeats yet to come are taken to scatter as the instrument's repeatability says.
        let scatter = self.repeatability.millimetres().powi(2) * (count - 1.0);
        self.components(expected, step, scatter, count)
    }

    /// The combined standard uncertainty of readings that are yet to be taken.
    pub fn planned_standard_uncertainty(&self, expected: Length, repeats: u32) -> Length {
        millimetres(self.planned_budget(expected, repeats).combined())
    }

    /// The four components; `squares` is the sum of the squared deviations of the repeats.
    fn components(&self, length: Length, step: f64, squares: f64, count: f64) -> Budget {
        let known_squares = REPEATABILITY_DEGREES_OF_FREEDOM * self.repeatability.millimetres().powi(2);
        let degrees_of_freedom = REPEATABILITY_DEGREES_OF_FREEDOM + count - 1.0;
        let scatter = ((known_squares + squares) / degrees_of_freedom).sqrt();
        Budget::new(vec![
            Component::known("limit of the instrument", self.limit.standard_uncertainty(length).millimetres()),
            Component::known("resolution", resolution(step)),
            Component::known("set-up", self.set_up.millimetres()),
            Component {
                name: "repeatability".to_owned(),
                standard_uncertainty: scatter / count.sqrt(),
                sensitivity: 1.0,
                degrees_of_freedom,
            },
        ])
    }
}

//! Tolerance zones and their limits.

use std::fmt;

use super::tables::{self, CD, EF, FG, fine, fine_step, main_step};
use super::{FitError, Grade, not_defined, standard_tolerance_um};

/// Hole (internal feature, capital letters) or shaft (external feature, small letters).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Feature {
    /// Internal feature.
    Hole,
    /// External feature.
    Shaft,
}

/// Fundamental deviation: which side of the nominal size the zone lies on, and how far.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the letter or letters that it is named by")]
pub enum Deviation {
    A,
    B,
    C,
    Cd,
    D,
    E,
    Ef,
    F,
    Fg,
    G,
    H,
    Js,
    J,
    K,
    M,
    N,
    P,
    R,
    S,
    T,
    U,
    V,
    X,
    Y,
    Z,
    Za,
    Zb,
    Zc,
}

impl Deviation {
    /// All of them in the order of the standard.
    pub const ALL: [Self; 28] = [
        Self::A,
        Self::B,
        Self::C,
        Self::Cd,
        Self::D,
        Self::E,
        Self::Ef,
        Self::F,
        Self::Fg,
        Self::G,
        Self::H,
        Self::Js,
        Self::J,
        Self::K,
        Self::M,
        Self::N,
        Self::P,
        Self::R,
        Self::S,
        Self::T,
        Self::U,
        Self::V,
        Self::X,
        Self::Y,
        Self::Z,
        Self::Za,
        Self::Zb,
        Self::Zc,
    ];

    /// The letters as written for a shaft.
    fn small_letters(self) -> String {
        format!("{self:?}").to_lowercase()
    }
}

/// A tolerance zone, such as `H7` or `m6`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Zone {
    /// Hole or shaft.
    pub feature: Feature,
    /// Fundamental deviation.
    pub deviation: Deviation,
    /// Standard tolerance grade.
    pub grade: Grade,
}

/// Limits of a zone at a nominal size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizeLimits {
    /// Nominal size, millimetres.
    pub nominal_mm: f64,
    /// Lower deviation from the nominal size, micrometres.
    pub lower_um: f64,
    /// Upper deviation from the nominal size, micrometres.
    pub upper_um: f64,
}

impl SizeLimits {
    /// Smallest size, millimetres.
    #[must_use]
    pub fn smallest_mm(&self) -> f64 {
        self.nominal_mm + self.lower_um / 1000.0
    }

    /// Largest size, millimetres.
    #[must_use]
    pub fn largest_mm(&self) -> f64 {
        self.nominal_mm + self.upper_um / 1000.0
    }
}

/// What the tables say of a letter at a size: how far the near limit lies from the nominal size.
enum Near {
    /// The shaft's upper limit lies this far below.
    Below(f64),
    /// The shaft's lower limit lies this far above.
    Above(f64),
    /// The zone straddles the nominal size evenly.
    Even,
    /// `j`, whose limits are printed by grade.
    Printed,
}

impl Zone {
    /// A zone as written, such as `H7`, `js6` or `ZA8`.
    ///
    /// # Errors
    ///
    /// [`FitError::NotAZone`] or [`FitError::NoSuchGrade`].
    ///
    /// ```
    /// use elements::limits_fits::{Deviation, Feature, Zone};
    /// let zone = Zone::parse("m6")?;
    /// assert_eq!((zone.feature, zone.deviation), (Feature::Shaft, Deviation::M));
    /// assert!(Zone::parse("Hs7").is_err());
    /// # Ok::<(), elements::limits_fits::FitError>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, FitError> {
        let trimmed = text.trim();
        let digits_at = trimmed.find(|character: char| character.is_ascii_digit()).unwrap_or(trimmed.len());
        let (letters, digits) = trimmed.split_at(digits_at);
        let small = letters.to_lowercase();
        let feature = if letters == small { Feature::Shaft } else { Feature::Hole };
        let deviation = Deviation::ALL.into_iter().find(|deviation| deviation.small_letters() == small);
        let whole_case = letters == small || letters == letters.to_uppercase();
        match deviation {
            Some(deviation) if whole_case && !digits.is_empty() => {
                Ok(Self { feature, deviation, grade: Grade::parse(digits)? })
            }
            _ => Err(FitError::NotAZone { text: text.to_owned() }),
        }
    }

    /// Limits at a nominal size.
    ///
    /// ```text
    /// shafts  a … h    upper = −|deviation|               lower = upper − IT
    ///         js       ± IT/2
    ///         j        lower printed by grade (5, 6, 7; 8 up to 3 mm), upper = lower + IT
    ///         k … zc   lower = deviation                  upper = lower + IT
    /// holes   A … H    lower = |deviation|                upper = lower + IT
    ///         JS       ± IT/2
    ///         J        upper printed by grade (6, 7, 8),  lower = upper − IT
    ///         K … N    to IT8, P … ZC to IT7: upper = −deviation + Δ, Δ = IT(n) − IT(n−1)
    ///                  above those grades:    upper = −deviation, but N: 0; no Δ up to 3 mm
    /// ```
    ///
    /// `k` is above zero in grades 4 to 7 only. M6 over 250 up to 315 mm has an upper deviation of
    /// −9 where the rule gives −11.
    ///
    /// # Errors
    ///
    /// [`FitError::Size`] outside 0 to 500 mm; [`FitError::NotDefined`] where the standard's
    /// tables are blank: `cd`, `ef`, `fg` above 10 mm, `t` up to 24 mm, `v` up to 14 mm, `y` up to
    /// 18 mm, `a` and `b` up to 1 mm, `j` in other grades, `K` above IT8, and holes from `K` on in
    /// grades closer than IT3.
    ///
    /// Source: ISO 286-1:2010, tables of fundamental deviations of holes and shafts.
    ///
    /// ```
    /// use elements::limits_fits::Zone;
    /// let seat = Zone::parse("m6")?.limits(40.0)?;
    /// assert_eq!((seat.lower_um, seat.upper_um), (9.0, 25.0));
    /// let bore = Zone::parse("K7")?.limits(80.0)?;
    /// assert_eq!((bore.lower_um, bore.upper_um), (-21.0, 9.0));
    /// # Ok::<(), elements::limits_fits::FitError>(())
    /// ```
    pub fn limits(&self, nominal_mm: f64) -> Result<SizeLimits, FitError> {
        let tolerance_um = standard_tolerance_um(nominal_mm, self.grade)?;
        let between = |lower_um, upper_um| SizeLimits { nominal_mm, lower_um, upper_um };
        Ok(match (self.feature, self.near(nominal_mm)?) {
            (_, Near::Even) => between(-tolerance_um / 2.0, tolerance_um / 2.0),
            (Feature::Shaft, Near::Printed) => {
                let lower_um = self.shaft_j_um(nominal_mm)?;
                between(lower_um, lower_um + tolerance_um)
            }
            (Feature::Hole, Near::Printed) => {
                let upper_um = self.hole_j_um(nominal_mm)?;
                between(upper_um - tolerance_um, upper_um)
            }
            (Feature::Shaft, Near::Below(deviation_um)) => {
                // Zero minus, so that h and H give a plain zero and not a negative one.
                let upper_um = 0.0 - deviation_um;
                between(upper_um - tolerance_um, upper_um)
            }
            (Feature::Shaft, Near::Above(deviation_um)) => between(deviation_um, deviation_um + tolerance_um),
            (Feature::Hole, Near::Below(deviation_um)) => between(deviation_um, deviation_um + tolerance_um),
            (Feature::Hole, Near::Above(deviation_um)) => {
                let upper_um = self.hole_upper_um(nominal_mm, deviation_um)?;
                between(upper_um - tolerance_um, upper_um)
            }
        })
    }

    /// Looks up the letter, as a shaft's.
    fn near(&self, size_mm: f64) -> Result<Near, FitError> {
        use tables::main;
        let step = main_step(size_mm)?;
        let fine_step = fine_step(size_mm)?;
        let by_step = |values: [u16; 13]| f64::from(values[step]);
        let by_fine_step = |values: [u16; 25]| f64::from(values[fine_step]);
        let up_to_ten = |values: [u16; 3]| {
            values
                .get(step)
                .map(|&value| Near::Below(f64::from(value)))
                .ok_or_else(|| not_defined(self, size_mm, "it ends at 10 mm"))
        };
        let starting = |values: [u16; 25], reason| {
            let value = by_fine_step(values);
            if value > 0.0 { Ok(Near::Above(value)) } else { Err(not_defined(self, size_mm, reason)) }
        };
        match self.deviation {
            Deviation::A | Deviation::B if size_mm <= 1.0 => Err(not_defined(self, size_mm, "it starts above 1 mm")),
            Deviation::A => Ok(Near::Below(by_fine_step(fine::A))),
            Deviation::B => Ok(Near::Below(by_fine_step(fine::B))),
            Deviation::C => Ok(Near::Below(by_fine_step(fine::C))),
            Deviation::Cd => up_to_ten(CD),
            Deviation::D => Ok(Near::Below(by_step(main::D))),
            Deviation::E => Ok(Near::Below(by_step(main::E))),
            Deviation::Ef => up_to_ten(EF),
            Deviation::F => Ok(Near::Below(by_step(main::F))),
            Deviation::Fg => up_to_ten(FG),
            Deviation::G => Ok(Near::Below(by_step(main::G))),
            Deviation::H => Ok(Near::Below(0.0)),
            Deviation::Js => Ok(Near::Even),
            Deviation::J => Ok(Near::Printed),
            // The shaft k starts at the nominal size in grades closer than 4 and wider than 7.
            Deviation::K if self.feature == Feature::Shaft && (self.grade.is_up_to(3) || !self.grade.is_up_to(7)) => {
                Ok(Near::Above(0.0))
            }
            Deviation::K => Ok(Near::Above(by_step(main::K))),
            Deviation::M => Ok(Near::Above(by_step(main::M))),
            Deviation::N => Ok(Near::Above(by_step(main::N))),
            Deviation::P => Ok(Near::Above(by_step(main::P))),
            Deviation::R => Ok(Near::Above(by_fine_step(fine::R))),
            Deviation::S => Ok(Near::Above(by_fine_step(fine::S))),
            Deviation::T => starting(fine::T, "it starts above 24 mm"),
            Deviation::U => Ok(Near::Above(by_fine_step(fine::U))),
            Deviation::V => starting(fine::V, "it starts above 14 mm"),
            Deviation::X => Ok(Near::Above(by_fine_step(fine::X))),
            Deviation::Y => starting(fine::Y, "it starts above 18 mm"),
            Deviation::Z => Ok(Near::Above(by_fine_step(fine::Z))),
            Deviation::Za => Ok(Near::Above(by_fine_step(fine::ZA))),
            Deviation::Zb => Ok(Near::Above(by_fine_step(fine::ZB))),
            Deviation::Zc => Ok(Near::Above(by_fine_step(fine::ZC))),
        }
    }

    /// Upper deviation of a hole from `K` to `ZC`.
    fn hole_upper_um(&self, size_mm: f64, deviation_um: f64) -> Result<f64, FitError> {
        let small = size_mm <= 3.0;
        let is_k_to_n = matches!(self.deviation, Deviation::K | Deviation::M | Deviation::N);
        let raised_up_to = if is_k_to_n { 8 } else { 7 };
        if !self.grade.is_up_to(raised_up_to) {
            return match self.deviation {
                Deviation::K if !small => Err(not_defined(self, size_mm, "above grade 8 it ends at 3 mm")),
                Deviation::N if size_mm <= 1.0 => Err(not_defined(self, size_mm, "above grade 8 it starts above 1 mm")),
                Deviation::N if !small => Ok(0.0),
                _ => Ok(0.0 - deviation_um),
            };
        }
        if !self.grade.is_three_to(raised_up_to) {
            return Err(not_defined(self, size_mm, "holes from K on start at grade 3"));
        }
        // The one exception that the standard prints.
        if self.deviation == Deviation::M && self.grade == Grade::numbered(6)? && size_mm > 250.0 && size_mm <= 315.0 {
            return Ok(-9.0);
        }
        let raise_um = if small {
            0.0
        } else {
            standard_tolerance_um(size_mm, self.grade)? - standard_tolerance_um(size_mm, self.grade.closer())?
        };
        Ok(raise_um - deviation_um)
    }

    fn shaft_j_um(&self, size_mm: f64) -> Result<f64, FitError> {
        let step = main_step(size_mm)?;
        match self.grade.to_string().as_str() {
            "5" | "6" => Ok(-f64::from(tables::main::J5_J6[step])),
            "7" => Ok(-f64::from(tables::main::J7[step])),
            "8" if size_mm <= 3.0 => Ok(-6.0),
            _ => Err(not_defined(self, size_mm, "j has grades 5, 6 and 7, and 8 up to 3 mm")),
        }
    }

    fn hole_j_um(&self, size_mm: f64) -> Result<f64, FitError> {
        let step = main_step(size_mm)?;
        match self.grade.to_string().as_str() {
            "6" => Ok(f64::from(tables::main::HOLE_J6[step])),
            "7" => Ok(f64::from(tables::main::HOLE_J7[step])),
            "8" => Ok(f64::from(tables::main::HOLE_J8[step])),
            _ => Err(not_defined(self, size_mm, "J has grades 6, 7 and 8")),
        }
    }
}

impl fmt::Display for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let small = self.deviation.small_letters();
        match self.feature {
            Feature::Shaft => f.write_str(&small)?,
            Feature::Hole => f.write_str(&small.to_uppercase())?,
        }
        write!(f, "{}", self.grade)
    }
}

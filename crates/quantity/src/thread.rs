//! Screw threads by their designation.

use std::fmt;

use crate::length::{Length, LengthExt, inches, millimetres};
use crate::length_format::nearest_fraction;

/// A screw thread: its form, nominal diameter and pitch.
///
/// Shown as the standards write it: `M12×1.5` (ISO 965-1) and `1/2-20 UNF` (ASME B1.1); the
/// tolerance class is not part of it.
///
/// ```
/// use quantity::Thread;
/// let thread = Thread::Unified { diameter_in: 0.5, per_inch: 20.0 };
/// assert_eq!(thread.to_string(), "1/2-20 UNF");
/// assert_eq!(Thread::Metric { diameter_mm: 12.0, pitch_mm: 1.5 }.to_string(), "M12×1.5");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Thread {
    /// ISO metric thread (ISO 261).
    Metric {
        /// Nominal diameter in millimetres.
        diameter_mm: f64,
        /// Pitch in millimetres.
        pitch_mm: f64,
    },
    /// Unified inch thread (ASME B1.1).
    Unified {
        /// Nominal diameter in inches.
        diameter_in: f64,
        /// Threads in one inch of length.
        per_inch: f64,
    },
}

/// The coarse, fine and extra-fine series: 64ths of an inch, then threads per inch of UNC, UNF, UNEF.
///
/// ASME B1.1-2019, table of standard series; checked against three public transcriptions.
const SERIES: [(u32, u32, u32, u32); 10] = [
    (16, 20, 28, 32),
    (20, 18, 24, 32),
    (24, 16, 24, 32),
    (28, 14, 20, 28),
    (32, 13, 20, 28),
    (36, 12, 18, 24),
    (40, 11, 18, 24),
    (48, 10, 16, 20),
    (56, 9, 14, 20),
    (64, 8, 12, 20),
];

impl Thread {
    /// The nominal diameter.
    pub fn diameter(&self) -> Length {
        match *self {
            Thread::Metric { diameter_mm, .. } => millimetres(diameter_mm),
            Thread::Unified { diameter_in, .. } => inches(diameter_in),
        }
    }

    /// The distance from one turn to the next.
    pub fn pitch(&self) -> Length {
        match *self {
            Thread::Metric { pitch_mm, .. } => millimetres(pitch_mm),
            Thread::Unified { per_inch, .. } => inches(1.0 / per_inch),
        }
    }

    /// The unified series that the thread belongs to, `UNC`, `UNF` or `UNEF`; none if it is in none
    /// of them, is larger than 1 in, or is metric.
    pub fn series(&self) -> Option<&'static str> {
        let Thread::Unified { diameter_in, per_inch } = *self else {
            return None;
        };
        let (_, coarse, fine, extra_fine) =
            SERIES.into_iter().find(|(sixty_fourths, ..)| f64::from(*sixty_fourths) == diameter_in * 64.0)?;
        [(coarse, "UNC"), (fine, "UNF"), (extra_fine, "UNEF")]
            .into_iter()
            .find(|(standard, _)| f64::from(*standard) == per_inch)
            .map(|(_, name)| name)
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Thread::Metric { diameter_mm, pitch_mm } => write!(formatter, "M{diameter_mm}×{pitch_mm}"),
            Thread::Unified { per_inch, .. } => {
                let fraction = nearest_fraction(self.diameter(), 64);
                if fraction.is_exact() {
                    write!(formatter, "{}", fraction.text().trim_end_matches('"'))?;
                } else {
                    write!(formatter, "{}", self.diameter().inches())?;
                }
                write!(formatter, "-{per_inch}")?;
                match self.series() {
                    Some(series) => write!(formatter, " {series}"),
                    None => Ok(()),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Thread;
    use crate::length::{LengthExt, inches};

    #[test]
    fn series_of_asme_b1_1() {
        let series = |diameter_in, per_inch| Thread::Unified { diameter_in, per_inch }.series();
        assert_eq!(series(0.4375, 20.0), Some("UNF"));
        assert_eq!(series(0.5, 13.0), Some("UNC"));
        assert_eq!(series(0.5625, 18.0), Some("UNF"));
        assert_eq!(series(0.625, 24.0), Some("UNEF"));
        assert_eq!(series(0.625, 20.0), None);
        assert_eq!(series(0.51, 20.0), None);
    }

    #[test]
    fn dimensions_come_in_lengths() {
        let stud = Thread::Unified { diameter_in: 0.4375, per_inch: 20.0 };
        assert_eq!(stud.diameter(), inches(0.4375));
        assert_eq!(stud.pitch().millimetres(), 1.27);
        let metric = Thread::Metric { diameter_mm: 14.0, pitch_mm: 1.5 };
        assert_eq!(metric.diameter().millimetres(), 14.0);
        assert_eq!(metric.pitch().millimetres(), 1.5);
        assert_eq!(metric.series(), None);
    }

    #[test]
    fn designations_are_written_as_the_standards_do() {
        for (thread, text) in [
            (Thread::Unified { diameter_in: 1.0, per_inch: 14.0 }, "1-14"),
            (Thread::Unified { diameter_in: 0.51, per_inch: 20.0 }, "0.51-20"),
            (Thread::Metric { diameter_mm: 12.0, pitch_mm: 1.25 }, "M12×1.25"),
        ] {
            assert_eq!(thread.to_string(), text);
        }
    }
}

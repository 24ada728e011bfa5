//! The standard that a drawing follows, and what follows from it: paper, weights, lettering, arrows.

use crate::point::{Rectangle, at};

/// Which family of standards a drawing follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standard {
    /// ISO 128 and 129, ISO 1101, ISO 5457: A3, first-angle projection, text above its dimension line.
    Iso,
    /// ASME Y14.1, Y14.2, Y14.5: size B, third-angle projection, level text that breaks its dimension line.
    Asme,
}

/// The units of the numbers on the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Inches.
    Inch,
    /// Millimetres.
    Millimetre,
    /// Both: those of the order first, the others in brackets below.
    Dual {
        /// Whether inches come first.
        inches_first: bool,
    },
}

impl Units {
    /// Whether the leading numbers are inches.
    #[must_use]
    pub fn leads_with_inches(self) -> bool {
        matches!(self, Self::Inch | Self::Dual { inches_first: true })
    }

    /// Whether both are shown.
    #[must_use]
    pub fn is_dual(self) -> bool {
        matches!(self, Self::Dual { .. })
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Inch => "inch",
            Self::Millimetre => "millimetre",
            Self::Dual { inches_first: true } => "inch [millimetre]",
            Self::Dual { inches_first: false } => "millimetre [inch]",
        }
    }
}

/// How smooth a surface is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Roughness {
    /// Whatever is not marked. Common practice, no source.
    Turned,
    /// Seats that a bearing or ring is pressed on.
    Ground,
    /// Where the lip of a seal runs: neither rough nor too smooth to hold oil.
    UnderSeal,
}

/// Everything that follows from the standard. Lengths in millimetres on the paper.
///
/// Weights and heights are those for A3 and size B: ISO 128-2, ISO 3098-1, ASME Y14.2 (from memory, check).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// The standard.
    pub standard: Standard,
    /// The units.
    pub units: Units,
    /// Width of thick lines.
    pub thick: f64,
    /// Width of thin lines.
    pub thin: f64,
    /// Height of the capitals of a dimension.
    pub lettering: f64,
    /// Height of the capitals of notes and tables.
    pub small: f64,
    /// Length of an arrowhead.
    pub arrow: f64,
    /// Half of its width.
    pub arrow_half: f64,
    /// Between an outline and its extension line.
    pub gap: f64,
    /// How far an extension line passes its dimension line.
    pub overshoot: f64,
    /// Between an outline and the first dimension line.
    pub first_row: f64,
    /// Width and height of the paper.
    pub paper: (f64, f64),
    /// Name of the paper.
    pub paper_name: &'static str,
    /// From the edge of the paper to the frame.
    pub margin: f64,
}

impl Style {
    /// The style of that standard.
    #[must_use]
    pub fn of(standard: Standard, units: Units) -> Self {
        match standard {
            Standard::Iso => Self {
                standard,
                units,
                thick: 0.5,
                thin: 0.25,
                lettering: 3.5,
                small: 2.5,
                arrow: 3.5,
                arrow_half: 0.46,
                gap: 0.8,
                overshoot: 2.0,
                first_row: 10.0,
                paper: (420.0, 297.0),
                paper_name: "A3",
                margin: 10.0,
            },
            Standard::Asme => Self {
                standard,
                units,
                thick: 0.6,
                thin: 0.3,
                lettering: 3.0,
                small: 2.5,
                arrow: 3.0,
                arrow_half: 0.5,
                gap: 1.5,
                overshoot: 3.0,
                first_row: 10.0,
                paper: (431.8, 279.4),
                paper_name: "B (11 x 17 in)",
                margin: 9.65,
            },
        }
    }

    /// Whether text stands above its unbroken dimension line and turns with it.
    #[must_use]
    pub fn text_above_line(&self) -> bool {
        self.standard == Standard::Iso
    }

    /// Between the feet of two lines of a dimension's text.
    #[must_use]
    pub fn line_pitch(&self) -> f64 {
        1.5 * self.lettering
    }

    /// The largest roughness average of a surface, or the range that it has to lie in: `Ra 32`. A drawing in inches has
    /// microinches, one in millimetres micrometres, and one in both the second in brackets, as its lengths have them. Both
    /// numbers are those of one row of the grades (ISO 21920-1, ASME B46.1; from memory, check).
    #[must_use]
    pub fn roughness(&self, roughness: Roughness) -> String {
        let (inch, metric) = match roughness {
            Roughness::Turned => ("125", "3.2"),
            Roughness::Ground => ("32", "0.8"),
            Roughness::UnderSeal => ("8 TO 20", "0.2 TO 0.5"),
        };
        match self.units {
            Units::Inch => format!("Ra {inch}"),
            Units::Millimetre => format!("Ra {metric}"),
            Units::Dual { inches_first: true } => format!("Ra {inch} [{metric}]"),
            Units::Dual { inches_first: false } => format!("Ra {metric} [{inch}]"),
        }
    }

    /// The unit of [`Self::roughness`].
    #[must_use]
    pub fn roughness_unit(&self) -> &'static str {
        match self.units {
            Units::Inch => "µin",
            Units::Millimetre => "µm",
            Units::Dual { inches_first: true } => "µin [µm]",
            Units::Dual { inches_first: false } => "µm [µin]",
        }
    }

    /// The inside of the frame.
    #[must_use]
    pub fn frame(&self) -> Rectangle {
        Rectangle::around(at(0.0, 0.0), at(self.paper.0, self.paper.1)).grown(-self.margin)
    }
}

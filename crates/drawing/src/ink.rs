//! What a line is for, and how it therefore looks: weight and pattern.
//!
//! Lines follow ISO 128-2:2022 (kinds 01, 02, 04, 05) and ASME Y14.2 in their roles: visible outlines thick, everything that
//! explains them thin, half as thick. The numbers of the patterns are from memory, check.

use crate::style::Style;

/// What a line, a fill or a text is for. Each has a layer of its own in formats that know layers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ink {
    /// Visible outline.
    Outline,
    /// Edge that is not sharp, root of a spline, end of a usable length; outline of a part that is shown for its place only.
    Edge,
    /// Axis, bolt circle, pitch line.
    Centre,
    /// Section lining.
    Hatch,
    /// Limit of a partial view or of a broken one.
    Break,
    /// Surface that is treated: hardened.
    Treatment,
    /// Dimension, leader, control frame.
    Dimension,
    /// Note.
    Note,
    /// Frame, title block, table.
    Frame,
}

/// All inks, in the order of their layers.
pub const INKS: [Ink; 9] = [
    Ink::Outline,
    Ink::Edge,
    Ink::Centre,
    Ink::Hatch,
    Ink::Break,
    Ink::Treatment,
    Ink::Dimension,
    Ink::Note,
    Ink::Frame,
];

impl Ink {
    /// One word for it: the class in SVG, the layer in DXF.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Outline => "outline",
            Self::Edge => "edge",
            Self::Centre => "centre",
            Self::Hatch => "hatch",
            Self::Break => "break",
            Self::Treatment => "treatment",
            Self::Dimension => "dimension",
            Self::Note => "note",
            Self::Frame => "frame",
        }
    }

    /// Width of its lines in millimetres.
    #[must_use]
    pub fn weight(self, style: &Style) -> f64 {
        match self {
            Self::Outline | Self::Treatment => style.thick,
            _ => style.thin,
        }
    }

    /// Lengths of dashes and gaps in turn, in millimetres; empty for a line without gaps.
    #[must_use]
    pub fn pattern(self) -> &'static [f64] {
        match self {
            Self::Centre => &[8.0, 1.2, 0.8, 1.2],
            Self::Treatment => &[6.0, 1.5, 1.0, 1.5],
            _ => &[],
        }
    }
}

//! A measured size against its limits. Errors are not alike: what is too big on the outside, and what is too small in a hole, can be
//! cut again; the reverse is scrap.

use axle::{Dimension, DimensionKind};
use quantity::{Leading, Length, LengthExt, decimal_inches, millimetres, millimetres_text};

/// What a measured size means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Judged {
    /// It passes.
    Inside,
    /// There is material left that can still go.
    Recut(Length),
    /// Too much is gone.
    Scrap(Length),
    /// It lies out of its limits, and what that means hangs on another size.
    Out(Length, &'static str),
}

impl Judged {
    /// Whether the size passes.
    pub fn is_inside(self) -> bool {
        self == Self::Inside
    }

    /// In words, with the unit that leads.
    pub fn words(self, leading: Leading) -> String {
        match self {
            Self::Inside => "within limits".to_owned(),
            Self::Recut(by) => format!("{}: can be cut again", far(by, leading)),
            Self::Scrap(by) => format!("{}: scrap", far(by, leading)),
            Self::Out(by, what) => format!("{}: {what}", far(by, leading)),
        }
    }

    /// A sign that needs no colour.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Inside => "✓",
            Self::Recut(_) => "↻",
            Self::Scrap(_) => "✕",
            Self::Out(..) => "≠",
        }
    }

    /// The class of the mark.
    pub fn class(self) -> &'static str {
        match self {
            Self::Inside => "inside",
            Self::Recut(_) | Self::Out(..) => "recut",
            Self::Scrap(_) => "scrap",
        }
    }
}

/// By how much a size lies beyond its limit, which way.
fn far(by: Length, leading: Leading) -> String {
    let way = if by > millimetres(0.0) { "too big" } else { "too small" };
    let size = millimetres(by.millimetres().abs());
    let words = if leading == Leading::Inches { decimal_inches(size, 4) } else { millimetres_text(size, 3) };
    format!("{way} by {words}")
}

/// Holds a size against the limits of its dimension.
pub(super) fn judged(dimension: &Dimension, size: Length) -> Judged {
    let (least, most) = (dimension.least, dimension.most);
    let by = if size > most {
        size - most
    } else if size < least {
        size - least
    } else {
        return Judged::Inside;
    };
    let too_big = size > most;
    match dimension.kind {
        DimensionKind::BoltCircle => Judged::Out(by, "the holes are where they are"),
        DimensionKind::RaceDistance | DimensionKind::BrakeOffset => {
            Judged::Out(by, "look at the shoulder distance and whether the bearing is home")
        }
        DimensionKind::StudHole if too_big => Judged::Scrap(by),
        DimensionKind::StudHole => Judged::Recut(by),
        _ if too_big => Judged::Recut(by),
        _ => Judged::Scrap(by),
    }
}

#[cfg(test)]
mod tests {
    use axle::{Basis, Dimension, DimensionKind};
    use quantity::{Leading, inches};

    use super::{Judged, judged};

    fn dimension(kind: DimensionKind) -> Dimension {
        Dimension {
            kind,
            side: None,
            cut: inches(1.0),
            least: inches(0.999),
            most: inches(1.001),
            mean: inches(1.0),
            standard_uncertainty: inches(0.001),
            basis: Basis::Measured,
            trace: Vec::new(),
        }
    }

    /// The rule of the trade: too long, a hole too small or a diameter too big can be recut; the reverse is scrap.
    #[test]
    fn what_can_be_cut_again_and_what_cannot() {
        let of = |kind, size| judged(&dimension(kind), inches(size));
        for kind in [DimensionKind::OverallLength, DimensionKind::JournalDiameter] {
            assert_eq!(of(kind, 1.0), Judged::Inside);
            assert!(matches!(of(kind, 1.002), Judged::Recut(_)));
            assert!(matches!(of(kind, 0.998), Judged::Scrap(_)));
        }
        assert!(matches!(of(DimensionKind::StudHole, 1.002), Judged::Scrap(_)));
        assert!(matches!(of(DimensionKind::StudHole, 0.998), Judged::Recut(_)));
        assert!(matches!(of(DimensionKind::BoltCircle, 0.998), Judged::Out(..)));
        assert_eq!(
            of(DimensionKind::OverallLength, 1.0035).words(Leading::Inches),
            "too big by 0.0025 in: can be cut again"
        );
    }
}

//! The bolt circle: holes on a diameter, read by chords, edges and rules of thumb.
//!
//! With `n` holes of diameter `h` on a circle `D`, the distance from a hole to its `k`-th neighbour is `D sin(kπ/n)`
//! ([`elements::bolt_circle`]); edge readings add or subtract a hole.

use catalog::{BoltCircleRow, Catalog, Measurand, MistakeKind};
use elements::bolt_circle::{chord_ratio, highest_rank};
use quantity::LengthExt;
use reconcile::{Form, Prior};

use crate::evidence::Taken;
use crate::geometry::{Geometry, known, usual};
use crate::sheet::Side;

const DIAMETER: usize = 0;
/// The unknown that is the diameter of the stud holes.
pub(crate) const HOLE: usize = 1;
/// The unknown that is the number of holes.
pub(crate) const COUNT: usize = 2;
const KNURL: usize = 3;

/// The form of the circle's diameter.
pub(crate) fn diameter() -> Form {
    Form::of(DIAMETER)
}

/// The stud hole of the old flange.
pub(crate) fn stud_hole() -> Form {
    Form::of(HOLE)
}

/// A number of holes, on a circle that is a row of the catalog or on any other.
pub(crate) struct Circle<'a> {
    pub holes: u32,
    pub row: Option<&'a BoltCircleRow>,
    pub catalog: &'a Catalog,
}

impl Circle<'_> {
    /// The chord to the `rank`-th neighbour; none where so few holes have no such neighbour.
    fn chord(&self, rank: u32) -> Option<Form> {
        chord_ratio(self.holes, rank).ok().map(|ratio| diameter().times(ratio))
    }

    /// The chord to the farthest hole, which is the circle itself for an even count.
    fn farthest(&self) -> Option<Form> {
        self.chord(highest_rank(self.holes).ok()?)
    }

    fn hole(&self, times: f64) -> Form {
        Form::new([(HOLE, times)], 0.0)
    }

    fn usual(&self, measurand: Measurand) -> Prior {
        let (least, most) = self.catalog.measurand(measurand).usual;
        usual((least.millimetres(), most.millimetres()))
    }
}

impl Geometry for Circle<'_> {
    fn priors(&self) -> Vec<Prior> {
        let beliefs = &self.catalog.settings.beliefs;
        let diameter = match self.row {
            Some(row) => known(row.diameter.millimetres(), beliefs.bolt_circle_deviation.millimetres()),
            None => self.usual(Measurand::BoltCircle),
        };
        vec![
            diameter,
            self.usual(Measurand::StudHole),
            known(f64::from(self.holes), COUNT_DEVIATION),
            self.usual(Measurand::KnurlDiameter),
        ]
    }

    fn unknowns(&self) -> Vec<(&'static str, String)> {
        let usual = |measurand| self.catalog.measurand(measurand).source.to_string();
        let circle = self.row.map_or_else(|| usual(Measurand::BoltCircle), |row| row.source.to_string());
        vec![
            ("bolt circle", circle.clone()),
            ("stud hole of the old flange", usual(Measurand::StudHole)),
            ("number of holes", circle),
            ("knurl of the stud", usual(Measurand::KnurlDiameter)),
        ]
    }

    fn form(&self, measurand: Measurand, _side: Option<Side>) -> Option<Form> {
        match measurand {
            Measurand::BoltCircle => Some(diameter()),
            Measurand::ChordAdjacent => self.chord(1),
            Measurand::ChordAlternate => self.chord(2),
            Measurand::ChordOpposite => self.farthest(),
            Measurand::EdgeGap => Some(self.chord(1)?.plus(&self.hole(-1.0))),
            Measurand::EdgeSpan => Some(self.chord(1)?.plus(&self.hole(1.0))),
            Measurand::CentreToFarEdge => Some(self.farthest()?.plus(&self.hole(0.5))),
            Measurand::StudHole => Some(Form::of(HOLE)),
            Measurand::HoleCount => Some(Form::of(COUNT)),
            Measurand::KnurlDiameter => Some(Form::of(KNURL)),
            _ => None,
        }
    }

    /// An odd count has no hole opposite another, so its circle cannot be measured straight across; the rule from a centre to
    /// a far edge is for odd counts only. With four holes the next but one is the opposite one.
    fn can_be_taken(&self, measurand: Measurand) -> bool {
        let odd = self.holes % 2 == 1;
        match measurand {
            Measurand::BoltCircle | Measurand::ChordOpposite => !odd,
            Measurand::CentreToFarEdge => odd,
            Measurand::ChordAlternate => self.holes > 4,
            _ => true,
        }
    }

    fn mistaken(&self, kind: MistakeKind, taken: &Taken<'_>) -> Option<Form> {
        use Measurand as M;
        match (kind, taken.measurand) {
            (MistakeKind::AdjacentChordForCircle, M::BoltCircle) => self.chord(1),
            // With four holes the next but one is the opposite one, and the circle is right.
            (MistakeKind::AlternateChordForCircle, M::BoltCircle) if self.holes > 4 => self.chord(2),
            (MistakeKind::CentreToFarEdgeForCircle, M::BoltCircle) => Some(self.farthest()?.plus(&self.hole(0.5))),
            (MistakeKind::AdjacentForAlternate, M::ChordAlternate) => self.chord(1),
            (MistakeKind::AlternateForAdjacent, M::ChordAdjacent) => self.chord(2),
            (MistakeKind::EdgeForCentre, M::BoltCircle | M::ChordAdjacent | M::ChordAlternate | M::ChordOpposite) => {
                Some(self.form(taken.measurand, taken.side)?.plus(&self.hole(-1.0)))
            }
            _ => None,
        }
    }
}

/// A count is a whole number; this only keeps the arithmetic regular.
const COUNT_DEVIATION: f64 = 0.01;

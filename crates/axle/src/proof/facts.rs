//! The sizes of the reviewed shaft that its proof starts from, in millimetres.

use catalog::{Bearing, Catalog, Proof as Rules, Steel};
use quantity::{Leading, LengthExt, Thread};

use super::figure::Gap;
use super::spline::{SplineSizes, spline_sizes};
use crate::blocks::Blocks;
use crate::decide::Decisions;
use crate::review::{Dimension, DimensionKind};
use crate::sheet::Sheet;

/// Everything that is known of the shaft and its parts. A size that is missing is a gap where it is asked for.
pub(crate) struct Facts<'a> {
    dimensions: &'a [Dimension],
    pub bearing: Option<&'a Bearing>,
    pub spline: Option<SplineSizes>,
    pub holes: Option<u32>,
    pub stud: Option<Thread>,
    /// Bore of the lock ring, where the sheet states it.
    pub ring_bore: Option<f64>,
    /// The steel; none where the settings name a row that the catalog does not hold.
    pub steel: Option<&'a Steel>,
    pub steel_is_stated: bool,
    pub hardened: bool,
    pub hardening_is_stated: bool,
    /// How far the spline engages the side gear.
    pub engagement: f64,
    pub rules: &'a Rules,
    /// The system of units that stands first in what is said.
    pub leading: Leading,
}

impl<'a> Facts<'a> {
    pub fn gather(
        sheet: &Sheet,
        catalog: &'a Catalog,
        blocks: &Blocks<'a>,
        decisions: &Decisions<'a>,
        dimensions: &'a [Dimension],
    ) -> Self {
        let rules = &catalog.settings.proof;
        let claim = &sheet.loads.steel;
        let (grade, treatment) = claim
            .row
            .as_ref()
            .map_or((&rules.steel_grade, &rules.steel_treatment), |(grade, treatment)| (grade, treatment));
        let differential = crate::choices::differential(sheet, catalog);
        let spline = blocks.spline.choices.get(decisions.spline.0).and_then(|choice| {
            let (series, count, _) = choice.listed.as_ref()?;
            spline_sizes(series, *count)
        });
        let reads_circle = !blocks.circle.taken.is_empty();
        Self {
            dimensions,
            bearing: decisions.bearing.0,
            spline,
            holes: blocks.circle.choices.get(decisions.circle.0).filter(|_| reads_circle).map(|choice| choice.holes),
            stud: sheet.parts.stud,
            ring_bore: sheet.loads.ring_bore.map(|bore| bore.millimetres()),
            steel: catalog.steel(grade, treatment),
            steel_is_stated: claim.row.is_some(),
            hardened: claim.induction_hardened.unwrap_or(rules.induction_hardened),
            hardening_is_stated: claim.induction_hardened.is_some(),
            engagement: (differential.gear_reach.mean - differential.end_clearance.mean).millimetres(),
            rules,
            leading: crate::leading(sheet),
        }
    }

    /// A size to cut; the shorter of two sides.
    pub fn size(&self, kind: DimensionKind, words: &str) -> Result<f64, Gap> {
        self.least_of(kind, words, |dimension| dimension.cut.millimetres())
    }

    /// The smallest size that passes inspection.
    pub fn smallest(&self, kind: DimensionKind, words: &str) -> Result<f64, Gap> {
        self.least_of(kind, words, |dimension| dimension.least.millimetres())
    }

    fn least_of(&self, kind: DimensionKind, words: &str, of: impl Fn(&Dimension) -> f64) -> Result<f64, Gap> {
        let sizes = self.dimensions.iter().filter(|dimension| dimension.kind == kind).map(of);
        sizes.reduce(f64::min).ok_or_else(|| Gap::size(words))
    }

    pub fn bearing(&self) -> Result<&'a Bearing, Gap> {
        self.bearing.ok_or_else(|| Gap::size("bearing, which is in no row of the catalog"))
    }

    pub fn spline(&self) -> Result<&SplineSizes, Gap> {
        self.spline.as_ref().ok_or_else(|| Gap::size("spline, which is in no series of the catalog"))
    }
}

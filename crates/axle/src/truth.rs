//! What an axle really measures, as far as somebody found out: the truth behind a finished order.

use std::ops::Range;

use catalog::{Catalog, Differential, Measurand, SplineCount};
use quantity::LengthExt;
use reconcile::{Evidence, Form, Model, ModelError, Normal, Options, Prior, explain};

use crate::chain::{Chain, ChainParts};
use crate::circle::Circle;
use crate::evidence::side_to_side;
use crate::face::Face;
use crate::geometry::Geometry;
use crate::sheet::{Sheet, Side};
use crate::spline::Spline;

/// The truth behind one order: the parts that were there, and the sizes that were found. Not every size has to be known.
#[derive(Debug, Clone, PartialEq)]
pub struct Truth {
    /// The reference of the order that it belongs to.
    pub order: String,
    /// The parts.
    pub parts: TrueParts,
    /// The sizes, in the order of the file.
    pub sizes: Vec<TrueSize>,
}

/// The parts that were there, by the names of their rows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TrueParts {
    /// The bearing.
    pub bearing: Option<String>,
    /// The housing end.
    pub housing_end: Option<String>,
    /// The differential.
    pub differential: Option<String>,
    /// The spline series.
    pub spline_series: Option<String>,
}

/// A size that is known.
#[derive(Debug, Clone, PartialEq)]
pub struct TrueSize {
    /// What it is a size of.
    pub measurand: Measurand,
    /// Of which side; none where both are alike or there is only one.
    pub side: Option<Side>,
    /// The size in millimetres, or the count.
    pub value: f64,
    /// How well it is known: a standard uncertainty in millimetres; nought for a count.
    pub standard_uncertainty: f64,
    /// Where it stands in its file, in bytes; nothing where it came from no file.
    pub span: Range<usize>,
}

/// True sizes may part from each other by so many times what the sides of an old axle do: what stands further apart cannot
/// belong to one axle, and is a slip in the file.
const AGREE_WITHIN: f64 = 3.0;

/// To find contradictions, everything but geometry is taken to be this much wider than the catalog has it.
const WIDENED: f64 = 20.0;

/// No size is known better than this, in millimetres: it keeps the arithmetic regular.
const LEAST_UNCERTAINTY: f64 = 1e-3;

impl Truth {
    /// The size of a measurand on a side: that of the side itself, or the one that both sides share.
    pub(crate) fn size(&self, measurand: Measurand, side: Option<Side>) -> Option<&TrueSize> {
        let of = |at: Option<Side>| self.sizes.iter().find(|size| size.measurand == measurand && size.side == at);
        of(side).or_else(|| of(None))
    }

    fn count(&self, measurand: Measurand) -> Option<u32> {
        // A count was read as a whole number within the range of its measurand.
        self.sizes.iter().find(|size| size.measurand == measurand).map(|size| size.value as u32)
    }

    /// The differential that was there, or that the sheet names, or one that stands for all.
    pub(crate) fn differential(&self, sheet: Option<&Sheet>, catalog: &Catalog) -> Differential {
        let named = self.parts.differential.as_deref().or(sheet.and_then(|sheet| sheet.differential.as_deref()));
        let row = named.and_then(|name| catalog.differential(name));
        row.cloned().unwrap_or_else(|| catalog.any_differential())
    }

    /// The sizes that cannot belong to one axle with the others, each with what the others say of it, in millimetres.
    ///
    /// # Errors
    /// [`ModelError`] where the numbers of the catalog make no sound model.
    pub(crate) fn contradictions(&self, catalog: &Catalog) -> Result<Vec<(&TrueSize, f64)>, ModelError> {
        let differential = self.differential(None, catalog);
        let topics = Topics::new(self, None, catalog, &differential);
        let limit = self.agreement(catalog);
        let mut found = Vec::new();
        for geometry in topics.all() {
            let wide = |prior: Prior| Prior { standard_deviation: WIDENED * prior.standard_deviation, ..prior };
            let priors = geometry.priors().into_iter().map(wide).collect();
            let Some(axle) = posterior(self, geometry, priors, catalog)? else { continue };
            for size in &self.sizes {
                let Some(form) = geometry.form(size.measurand, size.side) else { continue };
                let said = axle.mean_of(&form);
                if (said - size.value).abs() > limit {
                    found.push((size, said));
                }
            }
        }
        Ok(found)
    }

    /// How far true sizes may part from what the others say of them, in millimetres.
    pub(crate) fn agreement(&self, catalog: &Catalog) -> f64 {
        AGREE_WITHIN * catalog.settings.stray.side_to_side.millimetres()
    }
}

/// The geometry of an order whose truth is known, topic by topic.
pub(crate) struct Topics<'a> {
    chain: Chain<'a>,
    /// None where the number of holes is not known: a chord then means nothing.
    circle: Option<Circle<'a>>,
    spline: Spline<'a>,
    face: Face<'a>,
    odd_teeth: Option<bool>,
}

impl<'a> Topics<'a> {
    /// The geometry with the parts that were there.
    pub fn new(truth: &Truth, sheet: Option<&Sheet>, catalog: &'a Catalog, differential: &'a Differential) -> Self {
        let parts = ChainParts {
            bearing: truth.parts.bearing.as_deref().and_then(|name| catalog.bearing(name)),
            housing_end: truth.parts.housing_end.as_deref().and_then(|name| catalog.housing_end(name)),
        };
        let first_side = sheet.and_then(|sheet| sheet.wanted.first().copied()).unwrap_or(Side::Left);
        let claim = sheet.map(|sheet| &sheet.parts.brake);
        let brake = claim.and_then(|claim| claim.row.as_deref()).and_then(|name| catalog.brake(name));
        let kind = claim.and_then(|claim| claim.kind).or(brake.map(|row| row.kind)).unwrap_or(catalog::BrakeKind::Drum);
        let teeth = truth.count(Measurand::ToothCount);
        Self {
            chain: Chain { parts, differential, catalog, first_side },
            circle: truth.count(Measurand::HoleCount).map(|holes| Circle { holes, row: None, catalog }),
            spline: spline(truth, teeth, catalog).unwrap_or(Spline { listed: None, catalog }),
            face: Face { brake_changed: claim.is_some_and(|claim| claim.changed), brake, kind, catalog },
            odd_teeth: teeth.map(|teeth| teeth % 2 == 1),
        }
    }

    /// Every topic that is there.
    pub fn all(&self) -> Vec<&dyn Geometry> {
        let mut all: Vec<&dyn Geometry> = vec![&self.chain];
        all.extend(self.circle.as_ref().map(|circle| circle as &dyn Geometry));
        all.push(&self.spline);
        all.push(&self.face);
        all
    }

    /// Whether the true number of teeth is odd; none where it is not known.
    pub fn odd_teeth(&self) -> Option<bool> {
        self.odd_teeth
    }
}

/// The spline of the series and the count that were there, if both are known and the series has it.
fn spline<'a>(truth: &Truth, teeth: Option<u32>, catalog: &'a Catalog) -> Option<Spline<'a>> {
    let series = catalog.spline(truth.parts.spline_series.as_deref()?)?;
    let count: &SplineCount = series.counts.iter().find(|count| Some(count.teeth) == teeth)?;
    Spline::listed(series, *count, catalog)
}

/// What the true sizes say of the unknowns of a topic, on top of these priors; none where the topic has none of them.
///
/// # Errors
/// [`ModelError`] where the numbers of the catalog make no sound model.
pub(crate) fn posterior(
    truth: &Truth,
    geometry: &dyn Geometry,
    priors: Vec<Prior>,
    catalog: &Catalog,
) -> Result<Option<Normal>, ModelError> {
    let readings: Vec<Evidence> = truth
        .sizes
        .iter()
        .filter_map(|size| {
            let form: Form = geometry.form(size.measurand, size.side)?;
            // A size of one side says a little less about what both sides share.
            let row = catalog.measurand(size.measurand);
            let alike = row.sides == catalog::Sides::Either && size.side.is_some();
            let sides = if alike { side_to_side(row, catalog) } else { 0.0 };
            let standard_uncertainty = size.standard_uncertainty.hypot(sides).max(LEAST_UNCERTAINTY);
            Some(Evidence { form, value: size.value, standard_uncertainty })
        })
        .collect();
    if readings.is_empty() {
        return Ok(None);
    }
    let model = Model { weight: 1.0, priors, readings, mistakes: Vec::new() };
    let mixture = explain(&[model], &Options { most_mistakes: 0, ..Options::default() })?;
    Ok(mixture.explanations().first().and_then(|likeliest| mixture.posterior(likeliest)))
}

//! The spline: tooth count, major diameter and size over pins, against the series that are met.
//!
//! A count and a series fix every basic size ([`elements::involute_spline`]); real parts stay under the basic major
//! diameter, and their teeth are thinner than nominal by tolerance and wear.

use catalog::{Catalog, Measurand, MistakeKind, SplineCount, SplineSeries, SplineSystem};
use elements::involute_spline::{
    Din5480Spline, InchSpline, InvoluteFlanks, Iso4156Spline, Pitch, PressureAngle, RootForm, SplineFit, ToothDeviation,
};
use quantity::{LengthExt, inches};
use reconcile::{Form, Prior};

use crate::evidence::Taken;
use crate::geometry::{Geometry, known, typical, usual};
use crate::sheet::Side;

/// The unknown that is the number of teeth.
pub(crate) const TEETH: usize = 0;
const MAJOR_DIAMETER: usize = 1;
const THINNING: usize = 2;
const OVER_PINS: usize = 3;

/// The form of the major diameter.
pub(crate) fn major_diameter() -> Form {
    Form::of(MAJOR_DIAMETER)
}

/// Basic sizes of one spline, in millimetres.
pub(crate) struct Basic {
    pub major_diameter: f64,
    flanks: Option<InvoluteFlanks>,
    tooth_thickness: f64,
}

/// A count in a series, or a spline that is in none.
pub(crate) struct Spline<'a> {
    pub listed: Option<(&'a SplineSeries, SplineCount, Basic)>,
    pub catalog: &'a Catalog,
}

impl<'a> Spline<'a> {
    /// The spline of that series and count; none where the standard has no such spline.
    pub fn listed(series: &'a SplineSeries, count: SplineCount, catalog: &'a Catalog) -> Option<Self> {
        let basic = basic_sizes(series, count)?;
        Some(Self { listed: Some((series, count, basic)), catalog })
    }

    /// What people call it: `31 teeth, 24/48, 45°, fillet root`, or as its standard has it.
    pub fn name(&self) -> Option<String> {
        let (series, count, _) = self.listed.as_ref()?;
        Some(match (series.system, count.reference_diameter) {
            (SplineSystem::Din5480 { module_mm }, Some(reference)) => {
                format!("DIN 5480 {} x {module_mm} x {}", reference.millimetres(), count.teeth)
            }
            _ => format!("{} teeth, {}", count.teeth, series.name),
        })
    }

    /// Diameter, in millimetres, of the pins that the size over pins is usually taken with: 1.92 over the diametral pitch, as
    /// ANSI B92.1 has it for external splines; the same multiple of the module for metric ones is from memory.
    pub fn usual_pin(&self) -> Option<f64> {
        let (series, _, _) = self.listed.as_ref()?;
        let module = match series.system {
            SplineSystem::Inch { pitch, .. } => inches(1.0 / pitch).millimetres(),
            SplineSystem::Iso4156 { module_mm } | SplineSystem::Din5480 { module_mm } => module_mm,
        };
        Some(1.92 * module)
    }

    fn usual(&self, measurand: Measurand) -> Prior {
        let (least, most) = self.catalog.measurand(measurand).usual;
        usual((least.millimetres(), most.millimetres()))
    }

    /// Size over pins as a form of the thinning of the teeth, straight from the nominal thickness less the usual thinning:
    /// over some hundredths of a millimetre the curve is straight to a thousandth.
    fn over_pins(&self, pin_diameter: f64) -> Option<Form> {
        let (_, _, basic) = self.listed.as_ref()?;
        let thinning = self.catalog.settings.beliefs.tooth_thinning.mean.millimetres();
        let thickness = basic.tooth_thickness - thinning;
        let contact = basic.flanks.as_ref()?.over_pins(thickness, pin_diameter).ok()?;
        let slope = contact.size_per_width;
        Some(Form::new([(THINNING, -slope)], contact.size + slope * thinning))
    }
}

impl Geometry for Spline<'_> {
    fn priors(&self) -> Vec<Prior> {
        let thinning = &self.catalog.settings.beliefs.tooth_thinning;
        let over_pins = self.usual(Measurand::SplineOverPins);
        let thinning = typical(thinning.mean.millimetres(), thinning.standard_deviation.millimetres());
        match &self.listed {
            Some((series, count, basic)) => {
                let undersize = series.undersize.mean.millimetres();
                let deviation = series.undersize.standard_deviation.millimetres();
                let major = known(basic.major_diameter - undersize, deviation);
                vec![known(f64::from(count.teeth), 0.01), major, thinning, over_pins]
            }
            None => {
                vec![self.usual(Measurand::ToothCount), self.usual(Measurand::SplineMajorDiameter), thinning, over_pins]
            }
        }
    }

    fn unknowns(&self) -> Vec<(&'static str, String)> {
        let usual = |measurand| self.catalog.measurand(measurand).source.to_string();
        let listed = |measurand| {
            self.listed.as_ref().map_or_else(|| usual(measurand), |(series, _, _)| series.source.to_string())
        };
        vec![
            ("number of teeth", listed(Measurand::ToothCount)),
            ("major diameter", listed(Measurand::SplineMajorDiameter)),
            ("thinning of the teeth", self.catalog.settings.beliefs.source.to_string()),
            ("size over pins of an unknown spline", usual(Measurand::SplineOverPins)),
        ]
    }

    fn form(&self, measurand: Measurand, _side: Option<Side>) -> Option<Form> {
        match measurand {
            Measurand::ToothCount => Some(Form::of(TEETH)),
            Measurand::SplineMajorDiameter => Some(major_diameter()),
            Measurand::SplineOverPins => Some(Form::of(OVER_PINS)),
            _ => None,
        }
    }

    fn form_of(&self, taken: &Taken<'_>) -> Option<Form> {
        let listed = match (taken.measurand, taken.pin_diameter) {
            // Pins that do not touch the flanks of this spline say nothing about it.
            (Measurand::SplineOverPins, Some(pin)) => self.over_pins(pin),
            _ => None,
        };
        listed.or_else(|| self.form(taken.measurand, taken.side))
    }

    fn mistaken(&self, kind: MistakeKind, taken: &Taken<'_>) -> Option<Form> {
        let odd = self.listed.as_ref().is_none_or(|(_, count, _)| count.teeth % 2 == 1);
        match (kind, taken.measurand) {
            // Flat jaws touch one tip on one side and two on the other: (D/2)(1 + cos 180°/N).
            (MistakeKind::OddCountAcross, Measurand::SplineMajorDiameter) if odd => {
                let teeth = self.listed.as_ref().map_or(30.0, |(_, count, _)| f64::from(count.teeth));
                Some(major_diameter().times(0.5 * (1.0 + (std::f64::consts::PI / teeth).cos())))
            }
            _ => None,
        }
    }
}

fn basic_sizes(series: &SplineSeries, count: SplineCount) -> Option<Basic> {
    let angle = PressureAngle::from_degrees(series.pressure_angle_degrees).ok()?;
    match series.system {
        SplineSystem::Inch { pitch, stub_pitch, fillet_root } => {
            let pitch = Pitch::new(pitch, stub_pitch).ok()?;
            let root = if fillet_root { RootForm::Fillet } else { RootForm::Flat };
            let spline = InchSpline::new(count.teeth, pitch, angle, root, SplineFit::Side).ok()?;
            let millimetres = |size: f64| inches(size).millimetres();
            Some(Basic {
                major_diameter: millimetres(spline.external().major_in),
                flanks: InvoluteFlanks::new(count.teeth, millimetres(spline.pitch_diameter_in()), angle.radians()).ok(),
                tooth_thickness: millimetres(spline.basic_width_in()),
            })
        }
        SplineSystem::Iso4156 { module_mm } => {
            let spline = Iso4156Spline::new(count.teeth, module_mm, angle, RootForm::Fillet).ok()?;
            Some(Basic {
                major_diameter: spline.major_external_mm(ToothDeviation::H),
                flanks: Some(*spline.flanks()),
                tooth_thickness: spline.basic_width_mm(),
            })
        }
        SplineSystem::Din5480 { module_mm } => {
            let reference = count.reference_diameter?.millimetres();
            let spline = Din5480Spline::new(reference, module_mm, count.teeth).ok()?;
            Some(Basic {
                major_diameter: spline.tip_external_mm(),
                flanks: Some(*spline.flanks()),
                tooth_thickness: spline.tooth_thickness_mm(),
            })
        }
    }
}

//! The spline of the new shafts in full, as its table on a drawing has it.

use catalog::{Catalog, Measurand, SplineCount, SplineSeries, SplineSystem};
use elements::involute_spline::{
    Din5480Spline, InchSpline, InvoluteFlanks, Iso4156Spline, Pitch, PressureAngle, RootForm, SplineClass, SplineFit,
    ToothDeviation,
};
use quantity::{Length, LengthExt, inches, millimetres};

use crate::blocks::Blocks;
use crate::decide::Decisions;
use crate::sheet::Sheet;

/// Shafts of this kind are made to class 5 to 7; the closest of them is drawn. Common practice, no source.
const CLASS: SplineClass = SplineClass::Five;

/// The spline of the new shafts.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedSpline {
    /// What people call it.
    pub name: String,
    /// The standard that it follows.
    pub standard: String,
    /// Whether the evidence is sure enough to go by.
    pub decided: bool,
    /// Number of teeth.
    pub teeth: u32,
    /// Diametral and stub pitch, or the module: `24/48` or `module 1.25`.
    pub pitch: String,
    /// Pressure angle in degrees.
    pub pressure_angle_degrees: f64,
    /// Shape of the root.
    pub root: String,
    /// Pitch diameter.
    pub pitch_diameter: Length,
    /// Base diameter.
    pub base_diameter: Length,
    /// Major diameter, the largest allowed.
    pub major_diameter: Length,
    /// Form diameter, the largest allowed; none where the standard's formula is not held.
    pub form_diameter: Option<Length>,
    /// Minor diameter, the largest allowed.
    pub minor_diameter: Length,
    /// Tolerance class, which is assumed; none where the standard's classes are not held.
    pub class: Option<u32>,
    /// Circular tooth thickness: least actual and largest effective; the nominal one twice where no class is held.
    pub tooth_thickness: (Length, Length),
    /// Size over two pins; none where no pin touches the flanks.
    pub over_pins: Option<OverPins>,
    /// Where the row comes from.
    pub source: String,
}

/// Size over two pins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OverPins {
    /// Diameter of the pins.
    pub pin: Length,
    /// The smallest size that passes.
    pub least: Length,
    /// The largest size that passes; the same as the smallest where no class is held.
    pub most: Length,
}

/// The spline that was decided on; none where it is in no series.
pub(super) fn fitted_spline(
    sheet: &Sheet,
    catalog: &Catalog,
    blocks: &Blocks<'_>,
    decisions: &Decisions<'_>,
) -> Option<FittedSpline> {
    let (at, probability) = decisions.spline;
    let choice = blocks.spline.choices.get(at)?;
    let (series, count, _) = choice.listed.as_ref()?;
    let read = |one: &&crate::sheet::Reading| one.measurand == Measurand::SplineOverPins;
    let pin_read = sheet.readings.iter().find(read).and_then(|one| one.pin_diameter).map(|pin| pin.millimetres());
    let sizes = sizes(series, *count, pin_read)?;
    let pin = |over: (f64, f64, f64)| OverPins {
        pin: millimetres(over.0),
        least: millimetres(over.1),
        most: millimetres(over.2),
    };
    Some(FittedSpline {
        name: choice.name()?,
        standard: sizes.standard.to_owned(),
        decided: probability >= catalog.settings.thresholds.identified_at,
        teeth: count.teeth,
        pitch: sizes.pitch,
        pressure_angle_degrees: series.pressure_angle_degrees,
        root: sizes.root.to_string(),
        pitch_diameter: millimetres(sizes.flanks.pitch_diameter()),
        base_diameter: millimetres(sizes.flanks.base_diameter()),
        major_diameter: millimetres(sizes.major),
        form_diameter: sizes.form.map(millimetres),
        minor_diameter: millimetres(sizes.minor),
        class: sizes.class,
        tooth_thickness: (millimetres(sizes.thickness.0), millimetres(sizes.thickness.1)),
        over_pins: sizes.over_pins.map(pin),
        source: series.source.to_string(),
    })
}

/// Everything in millimetres.
struct Sizes {
    standard: &'static str,
    pitch: String,
    root: RootForm,
    flanks: InvoluteFlanks,
    major: f64,
    form: Option<f64>,
    minor: f64,
    class: Option<u32>,
    /// Least actual and largest effective.
    thickness: (f64, f64),
    /// Pin, least, most.
    over_pins: Option<(f64, f64, f64)>,
}

fn sizes(series: &SplineSeries, count: SplineCount, pin_read: Option<f64>) -> Option<Sizes> {
    let angle = PressureAngle::from_degrees(series.pressure_angle_degrees).ok()?;
    match series.system {
        SplineSystem::Inch { pitch, stub_pitch, fillet_root } => {
            let root = if fillet_root { RootForm::Fillet } else { RootForm::Flat };
            let pitch = Pitch::new(pitch, stub_pitch).ok()?;
            inch(InchSpline::new(count.teeth, pitch, angle, root, SplineFit::Side).ok()?, pin_read)
        }
        SplineSystem::Iso4156 { module_mm } => {
            let spline = Iso4156Spline::new(count.teeth, module_mm, angle, RootForm::Fillet).ok()?;
            iso_4156(&spline, module_mm, pin_read)
        }
        SplineSystem::Din5480 { module_mm } => {
            let reference = count.reference_diameter?.millimetres();
            din_5480(&Din5480Spline::new(reference, module_mm, count.teeth).ok()?, reference, module_mm, pin_read)
        }
    }
}

fn inch(spline: InchSpline, pin_read: Option<f64>) -> Option<Sizes> {
    let mm = |size: f64| inches(size).millimetres();
    let external = spline.external();
    let limits = spline.tooth_thickness_limits(CLASS).ok();
    let basic = spline.basic_width_in();
    let pin = pin_read.map_or_else(|| spline.external_pin_in(), |pin| pin / 25.4);
    let (least, most) = limits.map_or((basic, basic), |limits| (limits.actual_min, limits.actual_max));
    let over = spline.over_pins(least, pin).ok().zip(spline.over_pins(most, pin).ok());
    let flanks = spline.flanks();
    let flanks =
        InvoluteFlanks::new(flanks.teeth(), mm(flanks.pitch_diameter()), spline.pressure_angle().radians()).ok()?;
    Some(Sizes {
        standard: "ANSI B92.1",
        pitch: spline.pitch().to_string(),
        root: spline.root(),
        flanks,
        major: mm(external.major_in),
        form: Some(mm(external.form_in)),
        minor: mm(external.minor_in),
        class: limits.map(|_| CLASS.number()),
        thickness: limits.map_or((mm(basic), mm(basic)), |limits| (mm(limits.actual_min), mm(limits.effective_max))),
        over_pins: over.map(|(least, most)| (mm(pin), mm(least.size), mm(most.size))),
    })
}

/// The length over which deviations of the helix are allowed for: that of a usual engagement.
const ENGAGED_MM: f64 = 40.0;

fn iso_4156(spline: &Iso4156Spline, module_mm: f64, pin_read: Option<f64>) -> Option<Sizes> {
    let h = ToothDeviation::H;
    let basic = spline.basic_width_mm();
    let limits = spline.tooth_thickness_limits(CLASS, h, ENGAGED_MM).ok();
    let (least, most) = limits.map_or((basic, basic), |limits| (limits.actual_min, limits.actual_max));
    Some(Sizes {
        standard: "ISO 4156",
        pitch: format!("module {module_mm}"),
        root: RootForm::Fillet,
        flanks: *spline.flanks(),
        major: spline.major_external_mm(h),
        form: Some(spline.form_external_mm(h)),
        minor: spline.minor_external_mm(h),
        class: limits.map(|_| CLASS.number()),
        thickness: limits.map_or((basic, basic), |limits| (limits.actual_min, limits.effective_max)),
        over_pins: over_pins(spline.flanks(), (least, most), pin_read),
    })
}

fn din_5480(spline: &Din5480Spline, reference: f64, module_mm: f64, pin_read: Option<f64>) -> Option<Sizes> {
    let nominal = spline.tooth_thickness_mm();
    Some(Sizes {
        standard: "DIN 5480",
        pitch: format!("module {module_mm}"),
        root: RootForm::Flat,
        flanks: *spline.flanks(),
        major: spline.tip_external_mm(),
        form: None,
        // Roots by a gear shaper, the deepest that are cut: 0.65 m under the generating line (from memory, check).
        minor: reference - 2.4 * module_mm,
        class: None,
        thickness: (nominal, nominal),
        over_pins: over_pins(spline.flanks(), (nominal, nominal), pin_read),
    })
}

/// Over pins that were read with, or over those that touch the flanks at the pitch circle, rounded to the next 0.05 mm.
fn over_pins(flanks: &InvoluteFlanks, thickness: (f64, f64), pin_read: Option<f64>) -> Option<(f64, f64, f64)> {
    let touching = || flanks.external_pin_touching(thickness.1, flanks.pitch_diameter()).ok();
    let pin = pin_read.or_else(|| touching().map(|pin| (pin / 0.05).ceil() * 0.05))?;
    let least = flanks.over_pins(thickness.0, pin).ok()?;
    let most = flanks.over_pins(thickness.1, pin).ok()?;
    Some((pin, least.size, most.size))
}

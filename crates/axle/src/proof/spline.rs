//! The spline against torque, by the handbook method.

use std::f64::consts::PI;

use catalog::{LoadInput, SplineCount, SplineSeries, SplineSystem};
use elements::involute_spline::{
    Din5480Spline, InchSpline, InvoluteFlanks, Iso4156Spline, Pitch, PressureAngle, RootCut, RootForm, SplineFit,
    ToothDeviation,
};
use elements::spline_capacity::{
    FlankMotion, LoadFactors, SplineHub, SplineMaterial, SplineTeeth, TorqueReversal, allowable_stress, bursting,
    distribution_factor, fatigue_life_factor, flank_compression, pitch_line_shear, root_shear, wear_life_factor,
};
use quantity::{LengthExt, POUND_FOOT_NM};

use super::facts::Facts;
use super::figure::{Figure, Gap, size_text, torque_text};
use super::inputs::Values;
use super::loads::Cases;

pub(super) const SOURCE: &str =
    "D. W. Dudley, When splines need stress control, Product Engineering, 1957; Machinery's Handbook, involute splines";

/// Sizes of an external spline, mm.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SplineSizes {
    pub teeth: u32,
    pub major: f64,
    pub minor: f64,
    pitch: f64,
    /// Chordal thickness of a tooth at the pitch circle.
    chord: f64,
    /// Radial height of contact.
    height: f64,
    /// Major diameter of the hub's spline, at its roots.
    hub_major: f64,
    angle: PressureAngle,
}

/// The sizes of a spline; none where the standard has no such spline.
pub(super) fn spline_sizes(series: &SplineSeries, count: SplineCount) -> Option<SplineSizes> {
    let angle = PressureAngle::from_degrees(series.pressure_angle_degrees).ok()?;
    let teeth = count.teeth;
    let of = |flanks: &InvoluteFlanks, thickness: f64, unit: f64, [major, minor, height, hub_major]: [f64; 4]| {
        Some(SplineSizes {
            teeth,
            major: major * unit,
            minor: minor * unit,
            pitch: flanks.pitch_diameter() * unit,
            chord: flanks.chordal_thickness(thickness).ok()? * unit,
            height: height * unit,
            hub_major: hub_major * unit,
            angle,
        })
    };
    match series.system {
        SplineSystem::Inch { pitch, stub_pitch, fillet_root } => {
            let (root, height) =
                if fillet_root { (RootForm::Fillet, 1.0 / pitch) } else { (RootForm::Flat, 0.9 / pitch) };
            let spline =
                InchSpline::new(teeth, Pitch::new(pitch, stub_pitch).ok()?, angle, root, SplineFit::Side).ok()?;
            let external = spline.external();
            // The handbook's height is that of 30°; at 37.5° and 45° shaft and hub overlap by less.
            let internal = spline.internal();
            let height = height.min((external.major_in - internal.minor_in) / 2.0);
            let sizes = [external.major_in, external.minor_in, height, internal.major_in];
            of(spline.flanks(), spline.basic_width_in(), 25.4, sizes)
        }
        SplineSystem::Iso4156 { module_mm } => {
            let spline = Iso4156Spline::new(teeth, module_mm, angle, RootForm::Fillet).ok()?;
            let h = ToothDeviation::H;
            let (major, minor) = (spline.major_external_mm(h), spline.minor_external_mm(h));
            let height = module_mm.min((major - spline.minor_internal_mm()) / 2.0);
            of(spline.flanks(), spline.basic_width_mm(), 1.0, [major, minor, height, spline.major_internal_mm()])
        }
        SplineSystem::Din5480 { module_mm } => {
            let reference = count.reference_diameter?.millimetres();
            let spline = Din5480Spline::new(reference, module_mm, teeth).ok()?;
            // Roots by a gear shaper, the deepest that are cut.
            let minor = spline.root_external_mm(RootCut::Shaped);
            let sizes = [spline.tip_external_mm(), minor, 0.9 * module_mm, spline.root_internal_mm(RootCut::Broached)];
            of(spline.flanks(), spline.tooth_thickness_mm(), 1.0, sizes)
        }
    }
}

/// Form factor of the hub's teeth: the handbook's at 30°. Teeth at 37.5° and 45° are lower and wider at their roots, so that it
/// is on the safe side there.
const HUB_FORM_FACTOR: f64 = 1.5;

/// One N·m in lbf·in.
const POUND_INCHES: f64 = 12.0 / POUND_FOOT_NM;

/// Allowable over actual stress, the least of shear under the roots, shear at the pitch line and compression of the flanks.
///
/// The torque is the largest that engine and tyres allow, shocks included, so that the application factor is 1. The side gear
/// carries the spline without sliding under load, so that it counts as fixed: own judgement.
/// Where the sheet states the hub's outside, its bursting counts too, with the steel of the shaft: a side gear is harder.
pub(super) fn spline(values: &Values, facts: &Facts<'_>, cases: &Cases) -> Result<Figure, Gap> {
    let sizes = facts.spline()?;
    let material = material(facts)?;
    let allowable = allowable_stress(material);
    let engaged = facts.engagement;
    let engaged_in = engaged / 25.4;
    let factors = LoadFactors {
        application: 1.0,
        distribution: distribution_factor(0.001, engaged_in).map_err(Gap::formula)?,
        fatigue_life: fatigue_life_factor(cases.launches.max(1.0), TorqueReversal::Unidirectional)
            .map_err(Gap::formula)?,
        wear_life: wear_life_factor(cases.revolutions.max(1.0)).map_err(Gap::formula)?,
    };
    let torque_nm = cases.largest_torque();
    let torque = torque_nm * POUND_INCHES;
    let teeth = SplineTeeth {
        teeth: sizes.teeth,
        pitch_diameter_in: sizes.pitch / 25.4,
        engaged_length_in: engaged_in,
        chordal_thickness_in: sizes.chord / 25.4,
        height_in: sizes.height / 25.4,
    };
    let roots = root_shear(torque, &factors, sizes.minor / 25.4, 0.0).map_err(Gap::formula)?;
    let pitch_line = pitch_line_shear(torque, &factors, &teeth).map_err(Gap::formula)?;
    let flanks = flank_compression(torque, &factors, &teeth, FlankMotion::Fixed).map_err(Gap::formula)?;
    let mut ratios = vec![
        ("shear of the shaft below its teeth", allowable.shear_psi / roots, false),
        ("shear of its teeth", allowable.shear_psi / pitch_line, true),
    ];
    if let Some(straight) = allowable.compressive_straight_psi {
        ratios.push(("pressure on its flanks", straight / flanks, true));
    }
    if let Some(outside) = values.optional(LoadInput::HubOutside) {
        let hub = SplineHub {
            outside_in: outside / 25.4,
            internal_major_in: sizes.hub_major / 25.4,
            length_in: engaged_in,
            pressure_angle_rad: sizes.angle.radians(),
            form_factor: HUB_FORM_FACTOR,
            // A wheel turns too slowly to strain its side gear: 9 psi at a thousand turns a minute.
            speed_rev_per_min: 0.0,
        };
        let burst = bursting(torque, &factors, &teeth, &hub).map_err(Gap::formula)?;
        ratios.push(("bursting of the side gear's hub", allowable.tensile_psi / burst.total_psi, true));
    }
    let by_length = ratios.iter().filter(|(_, _, by_length)| *by_length).map(|(_, ratio, _)| *ratio);
    let needed = engaged / by_length.fold(f64::INFINITY, f64::min);
    let (words, safety, _) = ratios
        .into_iter()
        .reduce(|least, next| if next.1 < least.1 { next } else { least })
        .ok_or_else(|| Gap::size("allowable stress of the spline"))?;
    // Stress goes with the third power of the root diameter.
    let wanted = sizes.minor * (facts.rules.spline_safety.value / safety).cbrt();
    let pitch = PI * sizes.pitch / f64::from(sizes.teeth);
    Ok(Figure {
        safety,
        detail: format!(
            "weakest in {words}, at {} over {:.0} launches; its teeth need {} of engagement and have {}",
            torque_text(torque_nm, facts.leading),
            cases.launches,
            size_text(needed, facts.leading),
            size_text(engaged, facts.leading),
        ),
        remedy: format!(
            "A spline with a root diameter of {} at least, which is {:.0} teeth more of this pitch; a harder one; or less torque.",
            size_text(wanted, facts.leading),
            (PI * (wanted - sizes.minor) / pitch).max(0.0).ceil(),
        ),
    })
}

/// The row of the method's table for the steel and its hardening; where none covers it the next softer one.
fn material(facts: &Facts<'_>) -> Result<SplineMaterial, Gap> {
    if facts.hardened {
        return match facts.rules.case_hardness.value {
            hardness if hardness >= 48.0 => Ok(SplineMaterial::SurfaceHardened48To53),
            _ => Ok(SplineMaterial::Brinell302To351),
        };
    }
    let steel = facts.steel.ok_or_else(|| Gap::size("steel: [proof] of the settings names no row of the steels"))?;
    match steel.tensile_strength_mpa / 3.4 {
        brinell if brinell >= 302.0 => Ok(SplineMaterial::Brinell302To351),
        brinell if brinell >= 230.0 => Ok(SplineMaterial::Brinell230To260),
        brinell if brinell >= 160.0 => Ok(SplineMaterial::Brinell160To200),
        brinell => {
            Err(Gap(format!("a steel of 160 HB at least for the handbook method; this one has about {brinell:.0}")))
        }
    }
}

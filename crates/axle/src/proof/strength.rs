//! Stress and safety of the sections: first-cycle yield and fatigue, in the surface and in the core under a hard case.

use elements::fatigue::{
    Criterion, FatigueStrength, ShaftLoad, ShaftStress, cycles_at, finite_life_strength, miner_damage,
    reliability_factor, reversed_stress, safety, shaft_stress, size_factor, surface_factor, uncorrected_endurance_mpa,
};
use elements::shaft_strength::{ShaftSection, von_mises};
use elements::steel::{HardnessRow, hardness_rows, torsional_yield_mpa};
use elements::stress_concentration::{
    Loading as Kind, fatigue_factor, highest_diameter_ratio, neuber_root_sqrt_in, notch_sensitivity, shoulder_factor,
    shoulder_fits,
};
use quantity::{KSI_MPA, Leading};

use super::StationProof;
use super::facts::Facts;
use super::figure::{Gap, stress_text};
use super::loads::{Cases, Loading};
use super::sections::{Beam, Notch, Section};

/// Strengths of one material, MPa.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Strengths {
    yield_strength: f64,
    tensile: f64,
}

/// A section with everything about it that does not depend on the load.
pub(crate) struct Prepared {
    pub section: Section,
    surface: Strengths,
    core: Strengths,
    surface_endurance: f64,
    core_endurance: f64,
    bending_factor: f64,
    torsion_factor: f64,
    /// Stress at the border of the case over that at the surface; none without a case.
    border: Option<f64>,
}

/// 99 of 100 shafts are to survive.
const RELIABILITY_PERCENT: f64 = 99.0;

/// Tensile strength over Brinell hardness, MPa: Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th edition,
/// equation 2-21.
const TENSILE_PER_BRINELL: f64 = 3.4;

/// Yield strength in torsion over that in tension: the hardness table's own rule.
const TORSION_SHARE: f64 = 0.6;

/// Share of the tensile strength that is left at a thousand cycles, for hard steel: the lowest of figure 6-18 of the same
/// book (from memory, check).
const AT_A_THOUSAND_CYCLES: f64 = 0.77;

/// The fits of the notch constant end here, in ksi.
const HARDEST_NOTCH_KSI: f64 = 220.0;

/// Prepares every section of the beam.
pub(crate) fn prepare(facts: &Facts<'_>, beam: &Beam) -> Result<Vec<Prepared>, Gap> {
    let steel = facts.steel.ok_or_else(|| Gap::size("steel: [proof] of the settings names no row of the steels"))?;
    let core = if facts.hardened {
        core_strengths(steel.tensile_strength_mpa, facts.leading)?
    } else {
        Strengths { yield_strength: steel.yield_strength_mpa, tensile: steel.tensile_strength_mpa }
    };
    let hard = case_strengths(facts.rules.case_hardness.value)?;
    beam.sections
        .iter()
        .map(|section| {
            let surface = if section.case_depth.is_some() { hard } else { core };
            let (bending_factor, torsion_factor) = notch_factors(section, surface.tensile, facts)?;
            let size = size_factor(section.diameter).map_err(Gap::formula)?;
            let reliability = reliability_factor(RELIABILITY_PERCENT).map_err(Gap::formula)?;
            let endurance = |strengths: Strengths| uncorrected_endurance_mpa(strengths.tensile).map_err(Gap::formula);
            let finish = surface_factor(section.finish, surface.tensile).map_err(Gap::formula)?;
            Ok(Prepared {
                section: *section,
                surface,
                core,
                surface_endurance: endurance(surface)? * finish * size * reliability,
                core_endurance: endurance(core)? * size * reliability,
                bending_factor,
                torsion_factor,
                border: section.case_depth.map(|depth| (1.0 - 2.0 * depth / section.diameter).max(0.0)),
            })
        })
        .collect()
}

/// Strengths of an induction-hardened case.
fn case_strengths(rockwell_c: f64) -> Result<Strengths, Gap> {
    let torsional = torsional_yield_mpa(rockwell_c).map_err(Gap::formula)?;
    let brinell = between(rockwell_c, |row| row.rockwell_c, |row| row.brinell)
        .ok_or_else(|| Gap::size("hardness of the case, within 0 to 52 HRC"))?;
    Ok(Strengths { yield_strength: torsional / TORSION_SHARE, tensile: TENSILE_PER_BRINELL * brinell })
}

/// Strengths of the core under a hard case: yield by its hardness, from the table that the case is judged by.
fn core_strengths(tensile: f64, leading: Leading) -> Result<Strengths, Gap> {
    let torsional = between(tensile / TENSILE_PER_BRINELL, |row| row.brinell, |row| row.torsional_yield_mpa)
        .ok_or_else(|| {
            let tensile = stress_text(tensile, leading);
            Gap(format!("a core of 150 to 514 HB; a tensile strength of {tensile} is outside"))
        })?;
    Ok(Strengths { yield_strength: torsional / TORSION_SHARE, tensile })
}

/// A value of the hardness table, linear between its rows; none outside of them.
fn between(at: f64, of: impl Fn(&HardnessRow) -> f64, value: impl Fn(&HardnessRow) -> f64) -> Option<f64> {
    let pair = hardness_rows().windows(2).find(|pair| (of(&pair[0])..=of(&pair[1])).contains(&at))?;
    let share = (at - of(&pair[0])) / (of(&pair[1]) - of(&pair[0]));
    Some(value(&pair[0]) + share * (value(&pair[1]) - value(&pair[0])))
}

/// Fatigue notch factors in bending and in torsion.
fn notch_factors(section: &Section, tensile: f64, facts: &Facts<'_>) -> Result<(f64, f64), Gap> {
    match section.notch {
        Notch::Plain => Ok((1.0, 1.0)),
        Notch::PressFit => Ok((facts.rules.press_fit_notch.value, facts.rules.press_fit_notch.value)),
        Notch::SplineRoots => Ok((facts.rules.spline_notch.value, facts.rules.spline_notch.value)),
        Notch::Shoulder { larger, radius } => {
            let factor = |kind| -> Result<f64, Gap> {
                let lowest = shoulder_fits(kind).first().map_or(1.0, |fit| fit.diameter_ratio);
                // A lower step than the chart's lowest raises the stress less, and past its highest the chart is flat:
                // the nearest row is taken, on the safe side for the first.
                let ratio = (larger / section.diameter).clamp(lowest, highest_diameter_ratio(kind));
                let radius = radius.min(0.3 * section.diameter);
                let theoretical = shoulder_factor(kind, section.diameter, ratio * section.diameter, radius);
                let theoretical = theoretical.map_err(Gap::formula)?;
                let ksi = tensile / KSI_MPA;
                // Harder than the fits reach, steel is fully sensitive to notches.
                let sensitivity = if ksi > HARDEST_NOTCH_KSI {
                    1.0
                } else {
                    let root = neuber_root_sqrt_in(ksi, kind).map_err(Gap::formula)?;
                    notch_sensitivity(root, radius / 25.4).map_err(Gap::formula)?
                };
                fatigue_factor(theoretical, sensitivity).map_err(Gap::formula)
            };
            Ok((factor(Kind::Bending)?, factor(Kind::Torsion)?))
        }
    }
}

/// A section under a load: its limit once, and what repeats, if anything does.
pub(crate) fn station(
    prepared: &Prepared,
    beam: &Beam,
    limit: &Loading,
    repeated: Option<&(Loading, f64)>,
) -> Result<StationProof, Gap> {
    let section = &prepared.section;
    let round = ShaftSection::solid(section.diameter).map_err(Gap::formula)?;
    let bending_nm = beam.bending(limit, section.at)?;
    let normal = round.bending_stress(1e3 * bending_nm).map_err(Gap::formula)?;
    let shear = round.shear_stress(1e3 * limit.torque_nm).map_err(Gap::formula)?;
    let stress_mpa = von_mises(normal, shear).map_err(Gap::formula)?;
    let at_surface = prepared.surface.yield_strength / stress_mpa;
    let yield_safety = match prepared.border {
        // The stress falls in a straight line to the axis.
        Some(border) => at_surface.min(prepared.core.yield_strength / (stress_mpa * border)),
        None => at_surface,
    };
    let fatigue_safety = match repeated {
        Some((loading, cycles)) if *cycles >= 1.0 => Some(fatigue(prepared, beam, loading, *cycles)?),
        _ => None,
    };
    Ok(StationProof {
        section: section.name,
        at_mm: section.at,
        diameter_mm: section.diameter,
        bending_nm,
        torque_nm: limit.torque_nm,
        stress_mpa,
        yield_safety,
        fatigue_safety,
    })
}

/// A place in a section where it can tire: its stress, and what the steel bears there.
struct Place {
    stress: ShaftStress,
    endurance: f64,
    strengths: Strengths,
}

/// The places where a section can tire under a load: in the surface, and under the case where there is one. Bending turns with
/// the shaft, torque comes and goes.
fn places(prepared: &Prepared, beam: &Beam, loading: &Loading) -> Result<Vec<Place>, Gap> {
    let section = &prepared.section;
    let place = |bending_factor, torsion_factor, scale: f64, endurance, strengths| -> Result<Place, Gap> {
        let load = ShaftLoad {
            alternating_moment: scale * 1e3 * beam.bending(loading, section.at)?,
            mean_moment: 0.0,
            alternating_torque: scale * 5e2 * loading.torque_nm,
            mean_torque: scale * 5e2 * loading.torque_nm,
            bending_factor,
            torsion_factor,
        };
        let stress = shaft_stress(&load, section.diameter).map_err(Gap::formula)?;
        Ok(Place { stress, endurance, strengths })
    };
    let (bending, torsion) = (prepared.bending_factor, prepared.torsion_factor);
    let mut places = vec![place(bending, torsion, 1.0, prepared.surface_endurance, prepared.surface)?];
    if let Some(border) = prepared.border {
        // Under the case the notch in the surface is no longer felt.
        places.push(place(1.0, 1.0, border, prepared.core_endurance, prepared.core)?);
    }
    Ok(places)
}

/// Safety against fatigue, the lower of Goodman's and the ASME-elliptic criterion, in the surface and under the case.
fn fatigue(prepared: &Prepared, beam: &Beam, loading: &Loading, cycles: f64) -> Result<f64, Gap> {
    let mut least = f64::INFINITY;
    for place in places(prepared, beam, loading)? {
        if place.stress.alternating + place.stress.mean <= 0.0 {
            continue;
        }
        let strength = FatigueStrength {
            endurance: at_cycles(place.endurance, place.strengths.tensile, cycles)?,
            tensile: place.strengths.tensile,
            yield_strength: place.strengths.yield_strength,
        };
        for criterion in [Criterion::Goodman, Criterion::AsmeElliptic] {
            least = least.min(safety(criterion, place.stress, strength).map_err(Gap::formula)?);
        }
    }
    Ok(least)
}

/// Damage of everything that repeats in a section, the larger of surface and core.
pub(crate) fn case_damage(prepared: &Prepared, beam: &Beam, cases: &Cases) -> Result<f64, Gap> {
    let mut at_place: [Vec<(f64, f64)>; 2] = [Vec::new(), Vec::new()];
    for (loading, cycles) in cases.cases.iter().filter_map(|case| case.repeated.as_ref()) {
        for (loads, place) in at_place.iter_mut().zip(places(prepared, beam, loading)?) {
            loads.push((*cycles, borne(&place)?));
        }
    }
    let mut worst: f64 = 0.0;
    for loads in &at_place {
        worst = worst.max(miner_damage(loads).map_err(Gap::formula)?);
    }
    Ok(worst)
}

/// Cycles that a place bears of its stress.
fn borne(place: &Place) -> Result<f64, Gap> {
    let tensile = place.strengths.tensile;
    if place.stress.alternating <= 0.0 {
        return Ok(f64::INFINITY);
    }
    if place.stress.mean >= tensile {
        // It breaks the first time.
        return Ok(1.0);
    }
    let reversed = reversed_stress(place.stress.alternating, place.stress.mean, tensile).map_err(Gap::formula)?;
    cycles_at(reversed / place.endurance, exponent(place.endurance, tensile)).map_err(Gap::formula)
}

/// Fatigue strength at a number of cycles: the straight line from a thousand to a million in logarithms, the endurance limit
/// beyond, and the strength of a thousand for fewer.
fn at_cycles(endurance: f64, tensile: f64, cycles: f64) -> Result<f64, Gap> {
    if cycles >= 1e6 {
        return Ok(endurance);
    }
    finite_life_strength(endurance, cycles.max(1e3), exponent(endurance, tensile)).map_err(Gap::formula)
}

/// Exponent of the line from a thousand to a million cycles.
fn exponent(endurance: f64, tensile: f64) -> f64 {
    (AT_A_THOUSAND_CYCLES * tensile / endurance).log10() / 3.0
}

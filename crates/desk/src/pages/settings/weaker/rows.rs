//! Rows that claim more strength, less load or less doubt than before.

use catalog::{CONDITIONS, Catalog, LOAD_USES, LoadInput, MISTAKES, Spread, Steel};
use quantity::{Leading, Length, LengthExt, Limit, LoadKind, both_load, both_to};

fn steel<'c>(catalog: &'c Catalog, grade: &str, treatment: &str) -> Option<&'c Steel> {
    catalog.steels.iter().find(|row| row.grade == grade && row.treatment == treatment)
}

/// The steel that the shop makes its shafts of where a sheet names none.
pub(super) fn steel_of_the_shop(now: &Catalog, then: &Catalog) -> Vec<String> {
    let (was, becomes) = (&now.settings.proof, &then.settings.proof);
    let mut found = Vec::new();
    if becomes.induction_hardened && !was.induction_hardened {
        found.push("Shafts are taken to be hardened by induction where a sheet does not say, and were not: the same shaft looks \
                    stronger."
            .to_owned());
    }
    let name = |grade: &str, treatment: &str| format!("{grade} {treatment}").trim().to_owned();
    let (old, new) =
        (name(&was.steel_grade, &was.steel_treatment), name(&becomes.steel_grade, &becomes.steel_treatment));
    if old == new {
        return found;
    }
    let before = steel(now, &was.steel_grade, &was.steel_treatment);
    let after = steel(then, &becomes.steel_grade, &becomes.steel_treatment);
    let stronger = match (before, after) {
        (Some(before), Some(after)) => {
            after.yield_strength_mpa > before.yield_strength_mpa
                || after.tensile_strength_mpa > before.tensile_strength_mpa
        }
        _ => true,
    };
    if stronger {
        found.push(format!(
            "Shafts are taken to be of {new} where a sheet names no steel, and were of {old}: a stronger steel is claimed, and is not \
             in the rack for it."
        ));
    }
    found
}

fn less(found: &mut Vec<String>, what: &str, was: Length, becomes: Length) {
    if becomes < was {
        found.push(format!(
            "{what} falls from {} to {}, so reviews doubt less.",
            both_to(was, Leading::Millimetres, 5, 4),
            both_to(becomes, Leading::Millimetres, 5, 4)
        ));
    }
}

fn narrower(found: &mut Vec<String>, what: &str, was: &Spread, becomes: &Spread) {
    less(found, what, was.standard_deviation, becomes.standard_deviation);
}

/// Steels, bearings and what else has a strength or a spread.
pub(super) fn parts(now: &Catalog, then: &Catalog) -> Vec<String> {
    let mut found = Vec::new();
    for was in &now.steels {
        let Some(becomes) = steel(then, &was.grade, &was.treatment) else { continue };
        let strengths = [
            ("yield strength", was.yield_strength_mpa, becomes.yield_strength_mpa),
            ("tensile strength", was.tensile_strength_mpa, becomes.tensile_strength_mpa),
        ];
        for (what, before, after) in strengths.into_iter().filter(|(_, before, after)| after > before) {
            found.push(format!(
                "The {what} of {} {} rises from {} to {}: the same shaft looks stronger.",
                was.grade,
                was.treatment,
                both_load(before, LoadKind::Stress, Leading::Millimetres),
                both_load(after, LoadKind::Stress, Leading::Millimetres)
            ));
        }
    }
    let no_more = |found: &mut Vec<String>, what: &str, name: &str| {
        found
            .push(format!("Reviews no longer think of the {what} {name}: what is left looks more certain than it is."));
    };
    for was in &now.bearings {
        let Some(becomes) = then.bearings.iter().find(|row| row.name == was.name) else {
            no_more(&mut found, "bearing", &was.name);
            continue;
        };
        if let Some(before) = &was.rating
            && becomes.rating.as_ref().is_none_or(|after| {
                after.dynamic_kn > before.dynamic_kn
                    || after.static_kn > before.static_kn
                    || (after.f0, after.e, after.y, after.y0) != (before.f0, before.e, before.y, before.y0)
            })
        {
            found.push(format!(
                "The load ratings of the bearing {} are no longer those that were there, nor all lower.",
                was.name
            ));
        }
        narrower(
            &mut found,
            &format!("The spread of the race offset of {}", was.name),
            &was.race_offset,
            &becomes.race_offset,
        );
        less(
            &mut found,
            &format!("The spread of the widths of {}", was.name),
            was.width_deviation,
            becomes.width_deviation,
        );
    }
    for was in &now.housing_ends {
        match then.housing_ends.iter().find(|row| row.name == was.name) {
            Some(becomes) => {
                narrower(
                    &mut found,
                    &format!("The spread of the bore depth of {}", was.name),
                    &was.bore_depth,
                    &becomes.bore_depth,
                );
            }
            None => no_more(&mut found, "housing end", &was.name),
        }
    }
    for was in &now.splines {
        match then.splines.iter().find(|row| row.name == was.name) {
            Some(becomes) => {
                narrower(
                    &mut found,
                    &format!("The spread of the undersize of {}", was.name),
                    &was.undersize,
                    &becomes.undersize,
                );
                for count in
                    was.counts.iter().filter(|count| !becomes.counts.iter().any(|one| one.teeth == count.teeth))
                {
                    no_more(&mut found, "spline", &format!("{} with {} teeth", was.name, count.teeth));
                }
            }
            None => no_more(&mut found, "splines", &was.name),
        }
    }
    for was in &now.bolt_circles {
        if !then.bolt_circles.iter().any(|row| row.holes == was.holes && row.diameter == was.diameter) {
            no_more(
                &mut found,
                "bolt circle",
                &format!("of {} holes on {:.2} mm", was.holes, was.diameter.millimetres()),
            );
        }
    }
    for was in &now.differentials {
        let Some(becomes) = then.differentials.iter().find(|row| row.name == was.name) else { continue };
        let of = |what: &str| format!("The spread of the {what} of the differential {}", was.name);
        narrower(&mut found, &of("half pin"), &was.half_pin, &becomes.half_pin);
        narrower(&mut found, &of("clearance at the end"), &was.end_clearance, &becomes.end_clearance);
        narrower(&mut found, &of("reach of the gear"), &was.gear_reach, &becomes.gear_reach);
        if was.locks && !becomes.locks {
            found.push(format!(
                "The differential {} no longer counts as one that locks: one wheel never takes all torque.",
                was.name
            ));
        }
    }
    found
}

/// Instruments, measurands and mistakes.
pub(super) fn measuring(now: &Catalog, then: &Catalog) -> Vec<String> {
    let mut found = Vec::new();
    for was in &now.instruments {
        let Some(becomes) = then.instruments.iter().find(|row| row.name == was.name) else { continue };
        let of = |what: &str| format!("The {what} of the instrument {}", was.name);
        less(&mut found, &of("step"), was.step, becomes.step);
        less(&mut found, &of("uncertainty of the set-up"), was.set_up, becomes.set_up);
        less(&mut found, &of("spread of a reading"), was.repeatability, becomes.repeatability);
        match (&was.limit, &becomes.limit) {
            (Limit::Standard(before), Limit::Standard(after)) => {
                less(&mut found, &of("standard uncertainty"), *before, *after)
            }
            (
                Limit::HalfWidth { constant, per_metre, whole_metres, shape },
                Limit::HalfWidth {
                    constant: new_constant,
                    per_metre: new_per_metre,
                    whole_metres: whole,
                    shape: new_shape,
                },
            ) if (whole_metres, shape) == (whole, new_shape) => {
                less(&mut found, &of("limit of error"), *constant, *new_constant);
                less(&mut found, &of("limit of error for each metre"), *per_metre, *new_per_metre);
            }
            _ => found.push(format!("{} is stated in another way than before.", of("limit of error"))),
        }
    }
    for (was, becomes) in now.measurands.iter().zip(&then.measurands) {
        less(&mut found, &format!("The uncertainty of setting up for {}", was.words), was.set_up, becomes.set_up);
        if was.instrument != becomes.instrument {
            found.push(format!(
                "A reading of {} that names no instrument is taken to be by {}, and was by {}.",
                was.words, becomes.instrument, was.instrument
            ));
        }
    }
    for ((_, key), (was, becomes)) in MISTAKES.iter().zip(now.mistakes.iter().zip(&then.mistakes)) {
        let what = key.replace('_', " ");
        let conditions = CONDITIONS.map(|(condition, _)| condition);
        let rarer = becomes.rate < was.rate
            || becomes.together < was.together
            || conditions.iter().any(|one| becomes.rate_under(&[*one]) < was.rate_under(&[*one]));
        if rarer {
            found.push(format!("The mistake {what} is held to be rarer than before, so it is looked for less."));
        }
        if was.spoils.iter().any(|one| !becomes.spoils.contains(one)) {
            found.push(format!("The mistake {what} is no longer looked for in everything that it was looked for in."));
        }
        less(&mut found, &format!("The spread of the mistake {what}"), was.spread, becomes.spread);
    }
    found
}

/// What a proof takes the vehicle and its use to be where a sheet does not say.
pub(super) fn loads(now: &Catalog, then: &Catalog) -> Vec<String> {
    let mut found = Vec::new();
    for (use_, key) in LOAD_USES {
        for input in LoadInput::all() {
            let Some(was) = now.load_bound(use_, input) else { continue };
            let words = input.words();
            let Some(becomes) = then.load_bound(use_, input) else {
                found
                    .push(format!("For {key}, nothing is assumed of the {words} any more where a sheet does not say."));
                continue;
            };
            let harder = if was.harsh < was.mild { -1.0 } else { 1.0 };
            for (end, before, after) in [("harsh", was.harsh, becomes.harsh), ("mild", was.mild, becomes.mild)] {
                if (after - before) * harder < 0.0 {
                    found.push(format!(
                        "For {key}, the {end} end of the {words} asks less of a shaft: {} where it was {}.",
                        input.text(after, Leading::Millimetres),
                        input.text(before, Leading::Millimetres)
                    ));
                }
            }
        }
    }
    found
}

//! What a change of the catalog would hold to less strictly. Nobody weakens a bound without being told.

mod believed;
mod rows;

use catalog::{Catalog, Settings, Window};
use quantity::LengthExt;

use crate::words::percent;

/// Everything that is held to less strictly than now, or claimed to be better than it was, in a sentence each.
pub(crate) fn weakened(now: &Catalog, then: &Catalog) -> Vec<String> {
    let mut found = bounds(&now.settings, &then.settings);
    found.extend(believed::tolerances(&now.settings.tolerances, &then.settings.tolerances));
    found.extend(believed::beliefs(&now.settings, &then.settings));
    found.extend(rows::steel_of_the_shop(now, then));
    found.extend(rows::parts(now, then));
    found.extend(rows::measuring(now, then));
    found.extend(rows::loads(now, then));
    found
}

/// Thresholds, least safeties and clearances.
fn bounds(now: &Settings, then: &Settings) -> Vec<String> {
    let mut found = Vec::new();
    let (was, becomes) = (&now.thresholds, &then.thresholds);
    if becomes.cut_at < was.cut_at {
        found.push(format!(
            "Orders may be cut from a chance of {} that the shafts fit, where it was {}: of a hundred orders that just pass, {:.1} \
             will not go together, where it was {:.1}.",
            percent(becomes.cut_at),
            percent(was.cut_at),
            100.0 * (1.0 - becomes.cut_at),
            100.0 * (1.0 - was.cut_at)
        ));
    }
    if becomes.identified_at < was.identified_at {
        found.push(format!(
            "A part counts as identified from {} on, where it was {}: more shafts will be made for a part that is not there.",
            percent(becomes.identified_at),
            percent(was.identified_at)
        ));
    }
    if becomes.blame_at > was.blame_at {
        found.push("A reading has to be more likely mistaken than before until it is called so.".to_owned());
    }
    if becomes.checked_at < was.checked_at {
        found.push(format!(
            "A reading counts as checked by the others from a redundancy of {} on, where it was {}.",
            becomes.checked_at, was.checked_at
        ));
    }
    if becomes.significance < was.significance {
        found.push(format!(
            "The classical test of the readings raises its hand at a significance of {}, where it was {}: it lets more pass.",
            becomes.significance, was.significance
        ));
    }
    let (was, becomes) = (&now.proof, &then.proof);
    let safeties = [
        ("against yielding", was.yield_safety.value, becomes.yield_safety.value),
        ("against fatigue", was.fatigue_safety.value, becomes.fatigue_safety.value),
        ("of the lock ring, which alone keeps the shaft in the vehicle", was.lock_ring.value, becomes.lock_ring.value),
        ("of the bearing at rest", was.bearing_static.value, becomes.bearing_static.value),
        ("of the bearing's life", was.bearing_life.value, becomes.bearing_life.value),
        ("of the spline", was.spline_safety.value, becomes.spline_safety.value),
        ("of the studs", was.stud_safety.value, becomes.stud_safety.value),
    ];
    for (what, was, becomes) in safeties {
        if becomes < was {
            found.push(format!("The least safety {what} falls from {was} to {becomes}: weaker shafts will pass."));
        }
    }
    let assumed = [
        ("the notch factor of a press fit", was.press_fit_notch.value, becomes.press_fit_notch.value),
        ("the notch factor of the spline", was.spline_notch.value, becomes.spline_notch.value),
        ("the way of a full launch", was.launch_metres.value, becomes.launch_metres.value),
        ("the least hardness of the case", was.case_hardness.value, becomes.case_hardness.value),
    ];
    for (what, was, becomes) in assumed {
        if becomes < was {
            found.push(format!(
                "The proof takes {what} as {becomes} where it was {was}, so the same shaft looks stronger."
            ));
        }
    }
    let (was, becomes) = (&now.clearances, &then.clearances);
    let least = [
        ("room between flange and drum", was.flange_in_drum, becomes.flange_in_drum),
        ("material between a stud hole and the edge of the flange", was.hole_to_edge, becomes.hole_to_edge),
    ];
    for (what, was, becomes) in least {
        if becomes < was {
            found.push(format!(
                "The least {what} falls from {:.3} to {:.3} mm.",
                was.millimetres(),
                becomes.millimetres()
            ));
        }
    }
    if becomes.engagement_ratio < was.engagement_ratio {
        found.push(format!(
            "The spline needs to reach into the side gear by only {} of its diameter, where it was {}.",
            becomes.engagement_ratio, was.engagement_ratio
        ));
    }
    let windows = [
        ("inner end to cross pin", &was.end_to_pin, &becomes.end_to_pin),
        ("brake offset", &was.brake_offset, &becomes.brake_offset),
        ("register in drum", &was.register_in_drum, &becomes.register_in_drum),
        ("register in rotor", &was.register_in_rotor, &becomes.register_in_rotor),
        ("pilot in wheel", &was.pilot_in_wheel, &becomes.pilot_in_wheel),
        ("bolt circle", &was.bolt_circle, &becomes.bolt_circle),
        ("retainer of a ball bearing", &was.retainer_ball, &becomes.retainer_ball),
        ("retainer of a tapered bearing", &was.retainer_tapered, &becomes.retainer_tapered),
    ];
    for (what, was, becomes) in windows {
        if wider(was, becomes) {
            found.push(format!(
                "The window of {what} grows from {:.3} to {:.3} mm to {:.3} to {:.3} mm.",
                was.least.millimetres(),
                was.most.millimetres(),
                becomes.least.millimetres(),
                becomes.most.millimetres()
            ));
        }
    }
    found
}

fn wider(was: &Window, becomes: &Window) -> bool {
    becomes.least < was.least || becomes.most > was.most
}

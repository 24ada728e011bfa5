//! Reads the section `[proof]` of `settings.toml`.

use std::ops::RangeInclusive;

use crate::settings::{Proof, ProofNumber};

use super::row::Row;

/// No least safety lies outside: below, it would be none, above, nothing would pass.
const SAFETIES: RangeInclusive<f64> = 0.5..=10.0;

/// What a proof of strength goes by.
pub(super) fn proof(row: &Row<'_>, old: Option<&Proof>) -> Option<Proof> {
    let number = |key: &str, old: Option<&ProofNumber>, range: RangeInclusive<f64>| {
        row.value(key, old.cloned(), |item| {
            let inner = Row::new(item.table()?);
            let value = inner.number("value", old.map(|old| old.value), range);
            let source = inner.source();
            inner.finish();
            Some(ProofNumber { value: value?, source: source? })
        })
    };
    let yield_safety = number("yield_safety", old.map(|old| &old.yield_safety), SAFETIES);
    let fatigue_safety = number("fatigue_safety", old.map(|old| &old.fatigue_safety), SAFETIES);
    let lock_ring = number("lock_ring", old.map(|old| &old.lock_ring), SAFETIES);
    let bearing_static = number("bearing_static", old.map(|old| &old.bearing_static), SAFETIES);
    let bearing_life = number("bearing_life", old.map(|old| &old.bearing_life), SAFETIES);
    let spline_safety = number("spline_safety", old.map(|old| &old.spline_safety), SAFETIES);
    let stud_safety = number("stud_safety", old.map(|old| &old.stud_safety), SAFETIES);
    let press_fit_notch = number("press_fit_notch", old.map(|old| &old.press_fit_notch), 1.0..=10.0);
    let spline_notch = number("spline_notch", old.map(|old| &old.spline_notch), 1.0..=10.0);
    let launch_metres = number("launch_metres", old.map(|old| &old.launch_metres), 1.0..=1000.0);
    let case_hardness = number("case_hardness", old.map(|old| &old.case_hardness), 0.0..=52.0);
    let grade = row.words("steel_grade", old.map(|old| &old.steel_grade));
    let treatment = row.words("steel_treatment", old.map(|old| &old.steel_treatment));
    let hardened = row.value("induction_hardened", old.map(|old| old.induction_hardened), |item| item.boolean());
    // A shop that changes a number alone vouches for it there; the section's source is that of steel and hardening.
    let plain = ["steel_grade", "steel_treatment", "induction_hardened", "source"];
    let source = match old {
        Some(old) if !plain.iter().any(|key| row.gives(key)) => Some(old.source.clone()),
        _ => row.source(),
    };
    Some(Proof {
        yield_safety: yield_safety?,
        fatigue_safety: fatigue_safety?,
        lock_ring: lock_ring?,
        bearing_static: bearing_static?,
        bearing_life: bearing_life?,
        spline_safety: spline_safety?,
        stud_safety: stud_safety?,
        press_fit_notch: press_fit_notch?,
        spline_notch: spline_notch?,
        launch_metres: launch_metres?,
        case_hardness: case_hardness?,
        steel_grade: grade?,
        steel_treatment: treatment?,
        induction_hardened: hardened?,
        source: source?,
    })
}

//! The sections of a sheet that say what the shafts will carry and what they are made of.

use catalog::{Catalog, LoadInput};
use placed::TableReader;
use quantity::{Leading, LengthUnit};

use super::known_name::known_name;
use super::size::{SheetUnit, length_in_range};
use crate::sheet::{LoadClaims, SteelClaim};

/// Sections that hold nothing but inputs of the load cases.
const PLAIN_SECTIONS: [&str; 3] = ["vehicle", "life", "shaft"];

/// Everything that the sheet says of loads, but for what `[stud]` says.
pub(super) fn loads(root: &TableReader<'_>, unit: SheetUnit, catalog: &Catalog) -> LoadClaims {
    let mut claims = LoadClaims::default();
    for section in PLAIN_SECTIONS {
        if let Some(table) = root.table(section) {
            inputs(&table, section, unit, &mut claims);
            if section == "vehicle" {
                check_vehicle(&table, &claims, unit);
            }
            table.finish();
        }
    }
    if let Some(table) = root.table("steel") {
        inputs(&table, "steel", unit, &mut claims);
        claims.steel = steel(&table, catalog);
        table.finish();
    }
    if let Some(table) = root.table("lock_ring") {
        inputs(&table, "lock_ring", unit, &mut claims);
        if let Some(item) = table.optional("bore") {
            if table.has(LoadInput::RingInterference.key()) {
                item.fault(
                    "both the bore of the lock ring and its interference are given, and one follows from the other",
                    "`bore` or `interference`, not both",
                );
            }
            // A lock ring goes on a ring seat, so it is no larger and no smaller than one.
            claims.ring_bore = length_in_range(&item, unit, "the bore of the lock ring", (15.0, 100.0));
        }
        table.finish();
    }
    claims
}

/// The inputs of one section.
pub(super) fn inputs(table: &TableReader<'_>, section: &str, unit: SheetUnit, claims: &mut LoadClaims) {
    for input in LoadInput::all().filter(|input| input.section() == section) {
        if let Some(item) = table.optional(input.key())
            && let Some(value) = input.read(&item, unit.default_unit())
        {
            claims.stated.insert(input, (value, item.position().line));
        }
    }
}

/// No axle carries more than the whole vehicle.
fn check_vehicle(table: &TableReader<'_>, claims: &LoadClaims, unit: SheetUnit) {
    let is_metric = unit.stated().is_some_and(LengthUnit::is_metric);
    let leading = if is_metric { Leading::Millimetres } else { Leading::Inches };
    let value = |input| claims.stated.get(&input).map(|(value, _)| *value);
    if let (Some(axle), Some(mass)) = (value(LoadInput::AxleLoad), value(LoadInput::Mass))
        && axle > mass
        && let Some(item) = table.optional(LoadInput::AxleLoad.key())
    {
        item.fault(
            format!(
                "the axle carries {}, more than the whole vehicle, {}",
                LoadInput::AxleLoad.text(axle, leading),
                LoadInput::Mass.text(mass, leading)
            ),
            "an axle load of no more than `mass`",
        );
    }
}

/// The steel, a row of the catalog, and whether it is hardened by induction.
fn steel(table: &TableReader<'_>, catalog: &Catalog) -> SteelClaim {
    let grades = catalog.steels.iter().map(|row| row.grade.as_str());
    let grade = table.optional("grade").and_then(|item| known_name(&item, "steel", grades));
    let treatment = table.optional("treatment").and_then(|item| {
        let Some(grade) = &grade else {
            // Where the grade itself is at fault one fault is enough.
            if !table.has("grade") {
                item.fault("a treatment without a grade", "`grade` beside it, as in steels.toml");
            }
            return None;
        };
        let rows = catalog.steels.iter().filter(|row| row.grade == *grade);
        known_name(&item, "treatment of that steel", rows.map(|row| row.treatment.as_str()))
    });
    if let (Some(grade), false) = (&grade, table.has("treatment")) {
        let treatments = catalog.steels.iter().filter(|row| row.grade == *grade);
        let words: Vec<String> = treatments.map(|row| format!("{:?}", row.treatment)).collect();
        table.fault(format!("{grade:?} is strong or weak by its treatment, and none is given"), words.join(", "));
    }
    let induction_hardened =
        table.optional("hardening").and_then(|item| item.one_of(&[("induction", true), ("none", false)]));
    SteelClaim { row: grade.zip(treatment), induction_hardened }
}

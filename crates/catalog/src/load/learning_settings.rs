//! Reads the section `[learning]` of `settings.toml`.

use crate::settings::Learning;

use super::row::Row;

/// How finished orders change the catalog. The ranges keep out what would make no distribution: a rate that is worth less
/// than a reading has no interval, and an uncertainty below one degree of freedom no mean.
pub(super) fn learning(row: &Row<'_>, old: Option<&Learning>) -> Option<Learning> {
    let rates = row.number("rates_are_worth", old.map(|old| old.rates_are_worth), 1.0..=1e6);
    let uncertainties = row.number("uncertainties_are_worth", old.map(|old| old.uncertainties_are_worth), 1.0..=1e5);
    let parts = row.number("parts_are_worth", old.map(|old| old.parts_are_worth), 1.0..=1e5);
    let credible = row.number("credible", old.map(|old| old.credible), 0.5..=0.99);
    let written_from = row.number("written_from", old.map(|old| old.written_from), 0.0..=1.0);
    let source = row.source();
    Some(Learning {
        rates_are_worth: rates?,
        uncertainties_are_worth: uncertainties?,
        parts_are_worth: parts?,
        credible: credible?,
        written_from: written_from?,
        source: source?,
    })
}

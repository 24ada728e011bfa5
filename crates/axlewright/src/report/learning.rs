//! The report on what finished orders teach.

use std::collections::BTreeMap;

use axle::learn::{Learned, LearnedRate, LearnedUncertainty, Occasion, SkipReason, UncertaintyPart};
use catalog::{CONDITIONS, Catalog};
use quantity::{Instrument, Length, LengthExt, percent};

use super::ink::Ink;
use super::lines::Lines;
use super::table::{Alignment, Cell, Table};

/// What the orders taught: before and after, how sure, and how many readings spoke. `closing` says what was done with it.
pub fn learning_report(
    learned: &Learned,
    catalog: &Catalog,
    prior: &str,
    without_truth: usize,
    closing: &[String],
    columns: usize,
) -> String {
    let settings = &catalog.settings.learning;
    let mut lines = Lines::new(columns);
    lines.rule();
    lines.words(
        &format!("Learned from {} readings of {} finished orders", learned.readings, learned.orders),
        Ink::Strong,
    );
    lines.words(
        &format!(
            "Before: {prior}. In it, a rate is worth {} readings, and the uncertainty of an instrument {}.",
            settings.rates_are_worth, settings.uncertainties_are_worth
        ),
        Ink::Plain,
    );
    lines.rule();

    let band = format!("{:.0} % between", 100.0 * settings.credible);
    lines.heading("How well it is measured");
    let (changed, same): (Vec<_>, Vec<_>) =
        learned.uncertainties.iter().partition(|one| one.changed_by(settings.written_from));
    let (set_ups, instruments): (Vec<_>, Vec<_>) =
        changed.into_iter().partition(|one| matches!(one.part, UncertaintyPart::SetUp(_)));
    for (what, found) in [("instrument", instruments), ("set-up of", set_ups)] {
        if !found.is_empty() {
            lines.table(&uncertainties(what, &found, catalog, &band));
            lines.gap();
        }
    }
    lines.words(&about_the_rest(same.len(), learned.uncertainties.len(), settings.written_from), Ink::Faint);
    if let Some(words) = careless(learned) {
        lines.gap();
        lines.words(&words, Ink::Plain);
    }

    lines.heading("What goes wrong, and how often");
    let (changed, same): (Vec<_>, Vec<_>) = learned.rates.iter().partition(|one| one.changed_by(settings.written_from));
    if !changed.is_empty() {
        lines.table(&rates(&changed, &band));
    }
    lines.words(&about_the_rest(same.len(), learned.rates.len(), settings.written_from), Ink::Faint);

    if !learned.skipped.is_empty() || without_truth > 0 {
        lines.heading("What taught nothing");
        let mut reasons: BTreeMap<SkipReason, usize> = BTreeMap::new();
        for one in &learned.skipped {
            *reasons.entry(one.reason).or_default() += 1;
        }
        for (reason, count) in reasons {
            lines.item(&format!("{count:4}"), Ink::Plain, &readings_that(count, reason), Ink::Plain);
        }
        if without_truth > 0 {
            let words = if without_truth == 1 { "order has no truth yet." } else { "orders have no truth yet." };
            lines.item(&format!("{without_truth:4}"), Ink::Plain, words, Ink::Plain);
        }
    }
    if !learned.settled {
        lines.gap();
        let words = format!("The estimate did not settle in {} turns; what is shown is where it stood.", learned.turns);
        lines.words(&words, Ink::Doubtful);
    }
    if !closing.is_empty() {
        lines.gap();
        for words in closing {
            lines.words(words, Ink::Plain);
        }
    }
    lines.into_text()
}

/// What is said of the values that are not in the table.
fn about_the_rest(same: usize, of: usize, share: f64) -> String {
    let share = 100.0 * share;
    match (same, of) {
        (_, 0) => "The orders say nothing of it, so everything stays as it is.".to_owned(),
        (0, _) => "What the orders say nothing of stays as it is.".to_owned(),
        (1, _) => format!(
            "One more changed by less than {share:.0} % and stays as it is, as does what the orders say nothing of."
        ),
        _ => format!(
            "{same} more changed by less than {share:.0} % and stay as they are, as does what the orders say nothing of."
        ),
    }
}

/// How many orders scatter more than the rest; nothing to say where the catalog believes that all scatter alike.
fn careless(learned: &Learned) -> Option<String> {
    let (_, larger) = learned.scatter.split_first()?;
    let parts: Vec<String> = larger
        .iter()
        .map(|level| format!("{:.1} by {} times ({:.1} expected)", level.orders, level.multiple, level.expected))
        .collect();
    (!parts.is_empty() && learned.orders > 0).then(|| {
        format!(
            "Orders of which every reading scatters more than the rest: about {}. What is learned here is beside that.",
            parts.join(" and ")
        )
    })
}

fn readings_that(count: usize, reason: SkipReason) -> String {
    let (one, several) = match reason {
        SkipReason::NoTruth => (
            "reading whose true size is not stated and follows from no others.",
            "readings whose true sizes are not stated and follow from no others.",
        ),
        SkipReason::NoHoleCount => (
            "reading of the bolt circle without the true number of holes.",
            "readings of the bolt circle without the true number of holes.",
        ),
        SkipReason::RepeatsDisagree => {
            ("reading whose repeats contradict each other.", "readings whose repeats contradict each other.")
        }
    };
    if count == 1 { one.to_owned() } else { several.to_owned() }
}

fn uncertainties(what: &str, changed: &[&LearnedUncertainty], catalog: &Catalog, band: &str) -> Table {
    let mut table = Table::default();
    table.column(what, Alignment::Rest);
    table.column("before", Alignment::Right);
    table.column("now", Alignment::Right);
    table.column("times", Alignment::Right);
    table.column(band, Alignment::By('–'));
    table.column("readings", Alignment::Right);
    for one in changed {
        let (words, instrument) = match &one.part {
            UncertaintyPart::Limit(name) => (format!("{name}, limit"), catalog.instrument(name)),
            UncertaintyPart::Repeatability(name) => (format!("{name}, repeatability"), catalog.instrument(name)),
            UncertaintyPart::SetUp(measurand) => {
                let row = catalog.measurand(*measurand);
                (row.words.clone(), Some(catalog.usual_instrument(row)))
            }
        };
        let metric = instrument.is_some_and(is_metric);
        table.row(vec![
            Cell::new(words),
            Cell::new(size(one.before, metric)),
            Cell::new(size(one.after, metric)),
            Cell::new(format!("{:.2}", one.factor())),
            Cell::new(format!("{}–{}", bare(one.interval.0, metric), size(one.interval.1, metric))),
            Cell::new(one.readings.to_string()),
        ]);
    }
    table
}

fn rates(changed: &[&LearnedRate], band: &str) -> Table {
    let mut table = Table::default();
    table.column("mistake", Alignment::Rest);
    table.column("before", Alignment::Right);
    table.column("now", Alignment::Right);
    table.column("times", Alignment::Right);
    table.column(band, Alignment::By('–'));
    table.column("about", Alignment::Right);
    table.column("of readings", Alignment::Right);
    for one in changed {
        let mut words = one.kind.key().replace('_', " ");
        match one.occasion {
            Occasion::Usual => {}
            Occasion::Marked(condition) => {
                let phrase = CONDITIONS.iter().find(|(known, _)| *known == condition).map_or("", |(_, phrase)| phrase);
                words = format!("{words}, where marked {phrase}");
            }
            Occasion::Throughout => words = format!("{words}, throughout"),
        }
        table.row(vec![
            Cell::new(words),
            Cell::new(share(one.before)),
            Cell::new(share(one.after)),
            Cell::new(format!("{:.2}", one.after / one.before)),
            Cell::new(format!("{:.2}–{}", 100.0 * one.interval.0, share(one.interval.1))),
            Cell::new(format!("{:.1}", one.spoilt)),
            Cell::new(format!("{:.0}", one.readings)),
        ]);
    }
    table
}

/// A rate in per cent, with two decimals where it is small.
fn share(rate: f64) -> String {
    if rate < 0.1 { format!("{:.2} %", 100.0 * rate) } else { percent(rate) }
}

/// Whether the instrument has a metric scale.
fn is_metric(instrument: &Instrument) -> bool {
    let step = instrument.step.millimetres();
    step >= 0.1 && (10.0 * step - (10.0 * step).round()).abs() < 1e-6
}

fn bare(length: Length, metric: bool) -> String {
    if metric { format!("{:.2}", length.millimetres()) } else { format!("{:.4}", length.inches()) }
}

fn size(length: Length, metric: bool) -> String {
    format!("{} {}", bare(length, metric), if metric { "mm" } else { "in" })
}

//! The operations with their sizes as a table.

use axle::{Dimension, DimensionKind, Sheet, Side};
use book::KeptInspection;
use maud::{Markup, html};
use paperwork::Job;
use paperwork::pages::Traveler;
use quantity::{Leading, WrittenLength, both};

use super::limits::judged;
use super::{earlier, field_name};
use crate::words::time;

/// What was typed for one dimension.
#[derive(Debug, Clone)]
pub(super) struct Typed {
    pub kind: DimensionKind,
    pub side: Option<Side>,
    pub text: String,
    pub entry: Entry,
}

/// What a typed text is.
#[derive(Debug, Clone)]
pub(super) enum Entry {
    /// A size.
    Size(WrittenLength),
    /// None, with what is wrong and what would be accepted.
    Fault(String, String),
}

/// One row: a size with its limits, and the dimension that the book keeps it under, where there is one.
struct Row {
    words: String,
    limits: String,
    dimension: Option<Dimension>,
    /// The shaft that it is measured on.
    side: Option<Side>,
}

/// One operation with its rows.
struct Station {
    number: usize,
    what: &'static str,
    notes: Vec<String>,
    gauges: &'static str,
    hold: bool,
    rows: Vec<Row>,
}

/// The bench of an order.
pub(super) struct Bench {
    stations: Vec<Station>,
    typed: Vec<Typed>,
    kept: Vec<KeptInspection>,
    revision: i64,
    leading: Leading,
}

impl Bench {
    /// The operations of the traveler. A dimension that no operation makes stands with the inspection.
    pub fn of(job: &Job<'_>, typed: &[Typed], kept: &[KeptInspection], revision: i64) -> Self {
        let leading = axle::leading(job.sheet);
        let mut open: Vec<&Dimension> = job.review.dimensions.iter().collect();
        let mut stations: Vec<Station> = Vec::new();
        for operation in Traveler::of(job).operations {
            let mut rows = Vec::new();
            for (words, limits) in operation.sizes {
                let place = open.iter().position(|one| words_of(one).eq_ignore_ascii_case(&words));
                match place.map(|place| open.remove(place)) {
                    Some(dimension) => rows.extend(rows_of(job, &words, &limits, dimension)),
                    None => rows.push(Row { words, limits, dimension: None, side: None }),
                }
            }
            stations.push(Station {
                number: operation.number,
                what: operation.what,
                notes: operation.notes,
                gauges: operation.gauges,
                hold: operation.hold,
                rows,
            });
        }
        let last =
            stations.iter().position(|one| one.what.starts_with("Inspect")).unwrap_or(stations.len().saturating_sub(1));
        if let Some(station) = stations.get_mut(last) {
            station.rows.extend(open.into_iter().flat_map(|one| {
                let limits = format!("{} to {}", both(one.least, leading), both(one.most, leading));
                rows_of(job, &capitalised(&words_of(one)), &limits, one)
            }));
        }
        Self { stations, typed: typed.to_vec(), kept: kept.to_vec(), revision, leading }
    }

    /// The table, with fields or without.
    pub fn table(&self, writes: bool) -> Markup {
        html! {
            @for station in &self.stations {
                section .station {
                    h2 { span .its-number { (station.number) } " " (station.what) @if station.hold { " " strong .hold { "■ hold point" } } }
                    p .soft { "Gauges: " (station.gauges) }
                    @for note in &station.notes { p { (note) } }
                    @if !station.rows.is_empty() {
                        table {
                            thead { tr {
                                th scope="col" { "Size" } th scope="col" { "Limits" }
                                @if writes { th scope="col" { "Measured" } }
                                th scope="col" { "Found" }
                            } }
                            tbody { @for row in &station.rows { (self.row(row, writes)) } }
                        }
                    }
                }
            }
        }
    }

    fn row(&self, row: &Row, writes: bool) -> Markup {
        let Some(dimension) = &row.dimension else {
            return html! { tr { th scope="row" { (row.words) } td .limits { (row.limits) } @if writes { td .soft { "on the report" } } td {} } };
        };
        let name = field_name(dimension.kind, row.side);
        let id = name.replace('.', "-");
        let typed = self.typed.iter().find(|one| one.kind == dimension.kind && one.side == row.side);
        html! {
            tr {
                th scope="row" { @if writes { label for=(id) { (row.words) } } @else { (row.words) } }
                td .limits { (row.limits) }
                @if writes {
                    td .measured {
                        input #(id) name=(name) value=[typed.map(|one| one.text.as_str())] inputmode="decimal" autocomplete="off"
                            aria-describedby={ (id) "-found" };
                    }
                }
                td .found #{ (id) "-found" } data-part {
                    @if let Some(typed) = typed { (self.entry(dimension, &typed.entry)) }
                    @for one in earlier(&self.kept, dimension.kind, row.side) { (self.kept(dimension, one)) }
                }
            }
        }
    }

    fn entry(&self, dimension: &Dimension, entry: &Entry) -> Markup {
        match entry {
            Entry::Fault(problem, accepted) => html! { p .fault { (problem) ". Accepted: " (accepted) } },
            Entry::Size(written) => {
                let judged = judged(dimension, written.value());
                html! { p class={ "judged " (judged.class()) } { strong { (judged.sign()) " " (judged.words(self.leading)) } } }
            }
        }
    }

    /// What was measured before, with the verdict of its day where the sheet has changed since.
    fn kept(&self, dimension: &Dimension, one: &KeptInspection) -> Markup {
        let now = (one.revision == self.revision).then(|| judged(dimension, one.size));
        let class = now.map_or(if one.passed { "inside" } else { "recut" }, |judged| judged.class());
        html! {
            p class={ "judged kept " (class) } {
                @match now {
                    Some(judged) => { strong { (judged.sign()) " " (one.written) } " " (judged.words(self.leading)) },
                    None => { (one.written) ", revision " (one.revision) ", " @if one.passed { "passed then" } @else { "did not pass then" } },
                }
                " " span .soft { (one.who) ", " (time(one.at)) }
            }
        }
    }

    /// How many sizes are measured, and how many of those do not pass.
    pub fn tally(&self) -> Markup {
        let rows = self.stations.iter().flat_map(|station| &station.rows);
        let rows: Vec<(&Dimension, Option<Side>)> =
            rows.filter_map(|row| row.dimension.as_ref().map(|dimension| (dimension, row.side))).collect();
        let latest = |dimension: &Dimension, side: Option<Side>| {
            earlier(&self.kept, dimension.kind, side).find(|one| one.revision == self.revision).map(|one| one.size)
        };
        let measured: Vec<_> =
            rows.iter().filter_map(|(one, side)| latest(one, *side).map(|size| judged(one, size))).collect();
        let out = measured.iter().filter(|judged| !judged.is_inside()).count();
        html! {
            span .tally {
                (measured.len()) " of " (rows.len()) " sizes measured"
                @if out > 0 { ", " strong .fault { (out) " out of limits" } } @else if !measured.is_empty() { ", all within limits" }
                "."
            }
        }
    }
}

/// A row for each shaft that the dimension is measured on.
fn rows_of(job: &Job<'_>, words: &str, limits: &str, dimension: &Dimension) -> Vec<Row> {
    let sides = sides_of(job.sheet, dimension);
    let several = sides.len() > 1;
    sides
        .into_iter()
        .map(|side| Row {
            words: match side.filter(|_| several) {
                Some(side) => format!("{words}, {}", side.words()),
                None => words.to_owned(),
            },
            limits: limits.to_owned(),
            dimension: Some(dimension.clone()),
            side,
        })
        .collect()
}

/// The shafts that a dimension is measured on: its own side, or every shaft that is made where both are alike.
pub(super) fn sides_of(sheet: &Sheet, dimension: &Dimension) -> Vec<Option<Side>> {
    match dimension.side {
        Some(side) => vec![Some(side)],
        None if sheet.wanted.is_empty() => vec![None],
        None => sheet.wanted.iter().copied().map(Some).collect(),
    }
}

/// As the traveler words it: `overall length, left`.
fn words_of(dimension: &Dimension) -> String {
    match dimension.side {
        Some(side) => format!("{}, {}", dimension.kind.words(), side.words()),
        None => dimension.kind.words().to_owned(),
    }
}

fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

//! The operations with their sizes as a table.

use axle::{Dimension, DimensionKind, Review, Sheet, Side};
use book::{KeptInspection, KeptRecord, RecordKind};
use maud::{Markup, html};
use paperwork::Job;
use paperwork::pages::Traveler;
use quantity::{Leading, WrittenLength};

use super::limits::judged;
use super::records::{self, TypedRecord};
use super::{earlier, field_name};
use crate::words::{capitalised, moment, unbroken};

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

/// What a row is kept under.
enum Subject {
    /// A dimension of the review.
    Size(Dimension),
    /// Something that is written down beside the sizes.
    Record(RecordKind),
    /// Nothing; it is on the inspection report alone.
    Paper,
}

/// One row: what is found there, and what it has to be.
struct Row {
    words: String,
    limits: String,
    subject: Subject,
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
pub(super) struct Bench<'b> {
    stations: Vec<Station>,
    entries: &'b Entries,
    review: &'b Review,
    revision: i64,
    leading: Leading,
}

/// What was typed, and what was kept before.
pub(super) struct Entries {
    pub sizes: Vec<Typed>,
    pub records: Vec<TypedRecord>,
    pub kept_sizes: Vec<KeptInspection>,
    pub kept_records: Vec<KeptRecord>,
}

impl<'b> Bench<'b> {
    /// The operations of the traveler. A dimension that no operation makes stands with the inspection.
    pub fn of(job: &Job<'b>, entries: &'b Entries, revision: i64) -> Self {
        let leading = axle::leading(job.sheet);
        let mut open: Vec<&Dimension> = job.review.dimensions.iter().collect();
        let mut stations: Vec<Station> = Vec::new();
        for operation in Traveler::of(job).operations {
            let written = recorded(job, operation.what);
            let mut rows = Vec::new();
            for (words, limits) in operation.sizes {
                if written.contains(&RecordKind::SizeOverPins) && words.starts_with("Over two pins") {
                    continue;
                }
                let place = open.iter().position(|one| words_of(one).eq_ignore_ascii_case(&words));
                match place.map(|place| open.remove(place)) {
                    Some(dimension) => rows.extend(rows_of(job, &words, dimension)),
                    None => rows.push(Row { words, limits: unbroken(&limits), subject: Subject::Paper, side: None }),
                }
            }
            for kind in &written {
                rows.extend(rows_of_record(job, *kind));
            }
            // A blank is for the pen: what has a field here is asked for by it, and nothing else is.
            let is_blank = |note: &String| note.contains("____");
            stations.push(Station {
                number: operation.number,
                what: operation.what,
                notes: operation.notes.into_iter().filter(|note| !is_blank(note)).map(|note| unbroken(&note)).collect(),
                gauges: operation.gauges,
                hold: operation.hold,
                rows,
            });
        }
        let last =
            stations.iter().position(|one| one.what.starts_with("Inspect")).unwrap_or(stations.len().saturating_sub(1));
        if let Some(station) = stations.get_mut(last) {
            station.rows.extend(open.into_iter().flat_map(|one| rows_of(job, &capitalised(&words_of(one)), one)));
        }
        Self { stations, entries, review: job.review, revision, leading }
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
        let dimension = match &row.subject {
            Subject::Size(dimension) => dimension,
            Subject::Record(kind) => return self.record_row(row, *kind, writes),
            Subject::Paper => {
                return html! { tr { th scope="row" { (row.words) } td .limits { (row.limits) } @if writes { td .soft { "on the report" } } td {} } };
            }
        };
        let name = field_name(dimension.kind, row.side);
        let id = name.replace('.', "-");
        let typed = self.entries.sizes.iter().find(|one| one.kind == dimension.kind && one.side == row.side);
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
                    @for one in earlier(&self.entries.kept_sizes, dimension.kind, row.side) { (self.kept(dimension, one)) }
                }
            }
        }
    }

    /// A row of something that is written down: what, what is asked of it, its field, and what was written before.
    fn record_row(&self, row: &Row, kind: RecordKind, writes: bool) -> Markup {
        let name = records::field_name(kind, row.side);
        let id = name.replace('.', "-");
        let typed = self.entries.records.iter().find(|one| one.kind == kind && one.side == row.side);
        let hint = match kind {
            RecordKind::HeatNumber => None,
            RecordKind::SizeOverPins => Some("inch or mm"),
            RecordKind::BearingPressForce | RecordKind::RingPressForce => Some("with its unit: kN or lbf"),
        };
        let pin = || typed.map(|one| one.pin.clone()).or_else(|| records::asked_pin(self.review, self.leading));
        html! {
            tr {
                th scope="row" { @if writes { label for=(id) { (row.words) } } @else { (row.words) } }
                td .limits .in-words[kind != RecordKind::SizeOverPins] { (row.limits) }
                @if writes {
                    td .measured {
                        input #(id) name=(name) value=[typed.map(|one| one.text.as_str())] autocomplete="off"
                            maxlength=[(kind == RecordKind::HeatNumber).then_some(records::LONGEST_HEAT)]
                            aria-describedby={ @if hint.is_some() { (id) "-hint " } (id) "-found" };
                        @if let Some(hint) = hint { span .hint #{ (id) "-hint" } { (hint) } }
                        @if kind == RecordKind::SizeOverPins {
                            span .pins {
                                label for={ (id) "-pin" } { "over pins of" }
                                input #{ (id) "-pin" } name={ (name) ".pin" } value=[pin()] inputmode="decimal" autocomplete="off";
                            }
                        }
                    }
                }
                td .found #{ (id) "-found" } data-part {
                    @if let Some(typed) = typed { (self.record_entry(typed)) }
                    @for one in earlier_records(&self.entries.kept_records, kind, row.side) { (self.kept_record(one)) }
                }
            }
        }
    }

    fn record_entry(&self, typed: &TypedRecord) -> Markup {
        match &typed.entry {
            Err((problem, accepted)) => html! { p .fault { (problem) ". Accepted: " (accepted) } },
            Ok(record) => {
                let judged = records::judged(self.review, record.kind, record.amount);
                html! { p class={ "judged " (class_of(judged)) } { strong { (sign_of(judged)) " " (records::words(record, self.leading)) } (said(record.kind, judged)) } }
            }
        }
    }

    fn kept_record(&self, one: &KeptRecord) -> Markup {
        let record = &one.record;
        let now = (one.revision == self.revision).then(|| records::judged(self.review, record.kind, record.amount));
        let judged = now.unwrap_or_else(|| {
            record.passed.map(|passed| (passed, if passed { "passed then" } else { "did not pass then" }))
        });
        html! {
            p class={ "judged kept " (class_of(judged)) } {
                strong { (sign_of(judged)) " " (records::words(record, self.leading)) }
                @if now.is_none() { ", revision " (one.revision) }
                (said(record.kind, judged))
                " " span .soft { (one.who) ", " (moment(one.at)) }
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
                " " span .soft { (one.who) ", " (moment(one.at)) }
            }
        }
    }

    /// How many sizes are measured, and how many of those do not pass.
    pub fn tally(&self) -> Markup {
        let all = || self.stations.iter().flat_map(|station| &station.rows);
        let rows: Vec<(&Dimension, Option<Side>)> = all()
            .filter_map(|row| match &row.subject {
                Subject::Size(dimension) => Some((dimension, row.side)),
                Subject::Record(_) | Subject::Paper => None,
            })
            .collect();
        // What nobody has written down of this revision yet.
        let mut open: Vec<&str> = all()
            .filter_map(|row| match row.subject {
                Subject::Record(kind) => {
                    let mut kept = earlier_records(&self.entries.kept_records, kind, row.side);
                    (!kept.any(|one| one.revision == self.revision)).then(|| kind.words())
                }
                Subject::Size(_) | Subject::Paper => None,
            })
            .collect();
        open.dedup();
        let latest = |dimension: &Dimension, side: Option<Side>| {
            earlier(&self.entries.kept_sizes, dimension.kind, side)
                .find(|one| one.revision == self.revision)
                .map(|one| one.size)
        };
        let measured: Vec<_> =
            rows.iter().filter_map(|(one, side)| latest(one, *side).map(|size| judged(one, size))).collect();
        let out = measured.iter().filter(|judged| !judged.is_inside()).count();
        html! {
            span .tally {
                (measured.len()) " of " (rows.len()) " sizes measured"
                @if out > 0 { ", " strong .fault { (out) " out of limits" } } @else if !measured.is_empty() { ", all within limits" }
                "."
                @if !open.is_empty() { " Still to be written down: " (open.join(", ")) "." }
            }
        }
    }
}

/// A row for each shaft that the dimension is measured on.
fn rows_of(job: &Job<'_>, words: &str, dimension: &Dimension) -> Vec<Row> {
    let limits = unbroken(&paperwork::held_to(dimension, &job.style()));
    let sides = sides_of(job.sheet, dimension);
    let several = sides.len() > 1;
    sides
        .into_iter()
        .map(|side| Row {
            words: match side.filter(|_| several) {
                Some(side) => format!("{words}, {}", side.words()),
                None => words.to_owned(),
            },
            limits: limits.clone(),
            subject: Subject::Size(dimension.clone()),
            side,
        })
        .collect()
}

/// What is written down at an operation beside its sizes, named by the beginning of what is done there.
fn recorded(job: &Job<'_>, what: &str) -> Vec<RecordKind> {
    let by_shop = job.sheet.fitting.bearings_by_shop != Some(false);
    if what.starts_with("Take the blank") {
        vec![RecordKind::HeatNumber]
    } else if what.starts_with("Cut the spline") {
        vec![RecordKind::SizeOverPins]
    } else if what.starts_with("Retainer first") && by_shop {
        vec![RecordKind::BearingPressForce, RecordKind::RingPressForce]
    } else {
        Vec::new()
    }
}

/// A row for each shaft that something is written down of.
fn rows_of_record(job: &Job<'_>, kind: RecordKind) -> Vec<Row> {
    let sides = records::sides_of(job.sheet);
    let words = capitalised(kind.words());
    sides
        .into_iter()
        .map(|side| Row {
            words: side.map_or_else(|| words.clone(), |side| format!("{words}, {}", side.words())),
            limits: unbroken(&records::required(job.review, kind, &job.style(), axle::leading(job.sheet))),
            subject: Subject::Record(kind),
            side,
        })
        .collect()
}

/// What was written down of one thing on one shaft, the latest first.
fn earlier_records(kept: &[KeptRecord], kind: RecordKind, side: Option<Side>) -> impl Iterator<Item = &KeptRecord> {
    kept.iter()
        .rev()
        .filter(move |one| one.record.kind == kind && (one.record.side == side || one.record.side.is_none()))
}

fn class_of(judged: Option<(bool, &'static str)>) -> &'static str {
    match judged {
        Some((true, _)) => "inside",
        Some((false, _)) => "scrap",
        None => "",
    }
}

fn sign_of(judged: Option<(bool, &'static str)>) -> &'static str {
    match judged {
        Some((true, _)) => "✓",
        Some((false, _)) => "✕",
        None => "",
    }
}

/// The words behind a record; that it cannot be judged is said where one might wait for it.
fn said(kind: RecordKind, judged: Option<(bool, &'static str)>) -> Markup {
    html! {
        @match judged {
            Some((_, words)) => { ": " (words) },
            None if kind == RecordKind::SizeOverPins => ": not judged, the limits are for other pins or not known",
            None => {},
        }
    }
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

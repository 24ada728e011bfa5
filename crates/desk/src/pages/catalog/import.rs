//! Rows of the shop's own from a table, and the rows of a kind as one.

use axum::extract::{Multipart, Path, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::rows::{Change, Kind, Layers, PlacedFaults, Row, label, name_of_row, paths_of, same_value, texts_of};
use crate::shell::{self, Place};
use crate::viewer::Viewer;
use crate::words::{capitalised, sentence};

use super::change::{fields_of, own_fields};
use super::form::{Entered, faults_elsewhere, part_words};
use super::{key_words, kind_or_none, propose};

mod cells;

use cells::{Cells, TableFault, with_mark};

/// No more rows at once; more would be another shop's whole catalog.
const MOST_ROWS: usize = 2000;

/// The page.
pub(super) async fn page(viewer: Viewer, Path(kind): Path<String>) -> Result<Markup, DeskError> {
    let kind = kind_or_none(&kind)?;
    Ok(shown(&viewer, kind, None))
}

/// A row of the table with what it would be.
struct Line {
    /// The row of the table, counted as a spreadsheet counts.
    number: usize,
    name: String,
    is_new: bool,
    entered: Entered,
}

/// A table that was taken in and holds faults.
struct Refused {
    lines: Vec<Line>,
    columns: Vec<String>,
    table: Vec<TableFault>,
    faults: PlacedFaults,
}

/// Every column that a table of a kind may have.
fn columns(kind: &Kind) -> Vec<String> {
    kind.fields.iter().flat_map(paths_of).collect()
}

/// What a column is called on screens and in the tables that go out: `race offset, one standard deviation`.
fn column_words(kind: &Kind, path: &str) -> String {
    let (key, part) = path.split_once('.').unwrap_or((path, ""));
    let field = kind.fields.iter().find(|field| field.key == key);
    match field.filter(|_| !part.is_empty()) {
        Some(field) => format!("{}, {}", key_words(key), part_words(field, part)),
        None => key_words(path),
    }
}

/// A heading without what people write differently: case, spaces, marks.
fn bare(heading: &str) -> String {
    heading.chars().filter(|one| one.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Takes a table in: every row is held against the catalog, and nothing is saved before its effect was seen.
pub(super) async fn enter(
    State(desk): State<Desk>,
    viewer: Viewer,
    Path(kind): Path<String>,
    mut form: Multipart,
) -> Result<Response, DeskError> {
    let kind = kind_or_none(&kind)?;
    let broken = |error: axum::extract::multipart::MultipartError| {
        DeskError::refused(format!("the file did not arrive whole: {error}"), "a table of at most 4 MiB")
    };
    let mut table = None;
    while let Some(field) = form.next_field().await.map_err(broken)? {
        if field.name() == Some("table") {
            let name = field.file_name().unwrap_or_default().to_owned();
            table = Some((name, field.bytes().await.map_err(broken)?));
        }
    }
    let Some((name, bytes)) = table.filter(|(_, bytes)| !bytes.is_empty()) else {
        return Ok(refused(&viewer, kind, Refused::of_table("no file was chosen", "a .csv or .xlsx file")));
    };
    let reading = tokio::task::spawn_blocking(move || cells::read(&name, &bytes));
    let read = reading.await.map_err(|error| DeskError::failed(format!("the table could not be read: {error}")))?;
    let cells = match read {
        Ok(cells) => cells,
        Err(fault) => return Ok(refused(&viewer, kind, Refused { table: vec![fault], ..Refused::empty() })),
    };
    let layers = Layers::of(kind, &desk.shop().files());
    let (lines, table, columns) = lines_of(kind, &layers, &cells);
    if !table.is_empty() || lines.is_empty() {
        let table = if table.is_empty() {
            vec![TableFault::new(
                1,
                "",
                "the table holds no row",
                "a row of headings and a row for each row of the catalog",
            )]
        } else {
            table
        };
        return Ok(refused(&viewer, kind, Refused { lines, columns, table, faults: PlacedFaults::default() }));
    }
    let mut changes = Vec::new();
    let mut new = 0;
    for line in &lines {
        let fields = fields_of(kind, &line.entered);
        let row = layers.same_as(kind, &fields).or_else(|| layers.row(&line.name));
        let says_the_same = |row: &Row| {
            row.counts()
                && row.fields.len() == fields.len()
                && fields.iter().all(|(key, value)| row.value(key).is_some_and(|stands| same_value(stands, value)))
        };
        if row.is_some_and(says_the_same) {
            continue;
        }
        new += usize::from(line.is_new);
        let name = row.map_or_else(|| line.name.clone(), |row| row.name.clone());
        changes.push(Change::Set { row: name, fields: own_fields(kind, row, fields) });
    }
    if changes.is_empty() {
        let table =
            Refused::of_table("the table says what the catalog holds already", "a table with something new in it");
        return Ok(refused(&viewer, kind, Refused { lines, columns, ..table }));
    }
    let changed = changes.len() - new;
    let words = format!("Import {}: {new} new, {changed} changed", kind.words.to_lowercase());
    let back = format!("/catalog/{}", kind.address);
    Ok(match propose(&desk, kind, changes, words, back).await? {
        Ok(address) => Redirect::to(&address).into_response(),
        Err(faults) => refused(&viewer, kind, Refused { lines, columns, table: Vec::new(), faults }),
    })
}

impl Refused {
    fn empty() -> Self {
        Self { lines: Vec::new(), columns: Vec::new(), table: Vec::new(), faults: PlacedFaults::default() }
    }

    fn of_table(problem: &str, accepted: &str) -> Self {
        Self { table: vec![TableFault::new(0, "", problem, accepted)], ..Self::empty() }
    }
}

/// The rows of a table with what is wrong with its headings, its names and its size.
fn lines_of(kind: &Kind, layers: &Layers, cells: &Cells) -> (Vec<Line>, Vec<TableFault>, Vec<String>) {
    let known = columns(kind);
    let mut faults = Vec::new();
    let mut found = Vec::new();
    for (at, heading) in cells.headings.iter().enumerate() {
        let text = bare(heading);
        if text.is_empty() {
            continue;
        }
        // A heading is a name of the screen, of the tables that go out, or a key of the file, however it is spelled.
        let meant = known.iter().find(|path| {
            [(*path).clone(), column_words(kind, path), label(path)].iter().any(|known| bare(known) == text)
        });
        let Some(key) = meant.cloned() else {
            let words: Vec<String> = known.iter().map(|path| column_words(kind, path)).collect();
            let near = quantity::nearest_word(&heading.trim().to_lowercase(), words.iter().map(String::as_str));
            let accepted = near.map_or_else(
                || words.join("; "),
                |near| format!("{near}, perhaps; the columns are {}", words.join("; ")),
            );
            faults.push(TableFault::new(1, heading, "no such column", &accepted));
            continue;
        };
        if found.iter().any(|(_, known)| *known == key) {
            faults.push(TableFault::new(1, heading, "this column is there twice", "each column once"));
        } else {
            found.push((at, key));
        }
    }
    if cells.rows.len() > MOST_ROWS {
        faults.push(TableFault::new(MOST_ROWS + 2, "", "too many rows", &format!("{MOST_ROWS} rows at once")));
    }
    let mut lines: Vec<Line> = Vec::new();
    for (number, texts) in cells.rows.iter().take(MOST_ROWS) {
        let cell = |at: usize| texts.get(at).map(String::as_str).unwrap_or_default().trim();
        if texts.iter().all(|text| text.trim().is_empty()) {
            continue;
        }
        let mut entered: Entered = found.iter().map(|(at, key)| (key.clone(), cell(*at).to_owned())).collect();
        let fields = fields_of(kind, &entered);
        // A kind with a closed list is known by its key, which stands in a column of its own in an exported table.
        let name = name_of_row(kind, &fields);
        if name.is_empty() {
            let key = kind.keys().join(" and ");
            faults.push(TableFault::new(*number, &key, "nothing says which row this is", "a name in every row"));
            continue;
        }
        let there = layers.same_as(kind, &fields).filter(|row| row.counts());
        if let Some(there) = there {
            // A cell that is left empty leaves the value as it is.
            for field in kind.fields.iter().filter(|field| field.key != "source") {
                for (path, text) in paths_of(field).into_iter().zip(texts_of(field, there.value(field.key))) {
                    let entry = entered.entry(path).or_default();
                    if entry.is_empty() {
                        *entry = text;
                    }
                }
            }
        }
        let name = there.map_or(name, |row| row.name.clone());
        if let Some(twice) = lines.iter().find(|line| line.name == name) {
            let accepted = format!("each row once; it stands in row {} already", twice.number);
            faults.push(TableFault::new(
                *number,
                &kind.keys().join(" and "),
                &format!("{name} is given twice"),
                &accepted,
            ));
        }
        lines.push(Line { number: *number, name, is_new: there.is_none(), entered });
    }
    let columns = found.into_iter().map(|(_, key)| key).collect();
    (lines, faults, columns)
}

fn refused(viewer: &Viewer, kind: &Kind, refused: Refused) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, shown(viewer, kind, Some(&refused))).into_response()
}

fn shown(viewer: &Viewer, kind: &Kind, refused: Option<&Refused>) -> Markup {
    let title = format!("Import {}", kind.words.to_lowercase());
    let body = html! {
        nav .trail aria-label="Place" {
            a href="/catalog" { "Catalog" } " › " a href={ "/catalog/" (kind.address) } { (kind.words) } " › "
        }
        div .bar { h1 { (title) } }
        @if let Some(refused) = refused { (faults_shown(kind, refused)) }
        @if kind.is_open() {
            form .card method="post" enctype="multipart/form-data" action={ "/catalog/import/" (kind.address) } {
                div .field {
                    label for="table" { "Table" }
                    input #table type="file" name="table" required accept=".csv,.xlsx";
                    span .hint { "CSV in UTF-8, with commas or semicolons, or the first sheet of an XLSX workbook, up to 4 MiB." }
                }
                p .bar { button .main { "Check it, and see what would change" } }
            }
        } @else {
            p .notice { (kind.words) " are a closed list and each is changed on its own page." }
        }
        section .card {
            h2 { "How the table looks" }
            p { "The first row holds the headings, as the screen words them or as the keys of the file, in capitals or not. Every other row is a row of the catalog. A name that the catalog holds changes that row: "
                "a cell that is left empty leaves its value as it is. A new name adds a row, which must be whole. " strong { "source" }
                " is asked for in every row." }
            p { a href={ "/catalog/export/" (kind.address) } { "The table of all " (kind.words.to_lowercase()) } " is a template that is filled already." }
            div .scroll tabindex="0" role="group" aria-label="Rows of the file, table" {
                table .headings {
                    thead { tr { th { "Heading" } th { "Or the key" } th { "Holds" } } }
                    tbody {
                        @let words = crate::rows::header_words(kind.file);
                        @for field in kind.fields {
                            @let paths = paths_of(field);
                            @for (at, path) in paths.iter().enumerate() {
                                tr {
                                    th scope="row" { (capitalised(&column_words(kind, path))) }
                                    td { code { (path) } }
                                    // What a key holds is said once for all of its columns.
                                    @if at == 0 { td rowspan=[(paths.len() > 1).then_some(paths.len())] { (words.iter().find(|(key, _)| key == field.key).map(|(_, words)| words.as_str()).unwrap_or_default())
                                        @if field.optional { " (may be empty)" } } }
                                }
                            }
                        }
                    }
                }
            }
            p .soft { "Sizes carry their unit. A list stands in one cell with semicolons between: " code { "teeth = 28, weight = 6; teeth = 31, weight = 6" } "." }
        }
    };
    shell::page(viewer, Place::Catalog, &title, &body)
}

/// The rows of the table with what is wrong, by row and column.
fn faults_shown(kind: &Kind, refused: &Refused) -> Markup {
    let row_number = |name: &str| refused.lines.iter().find(|line| line.name == name).map(|line| line.number);
    let (placed, elsewhere): (Vec<_>, Vec<_>) =
        refused.faults.placed.iter().cloned().partition(|fault| row_number(&fault.row).is_some());
    let elsewhere = PlacedFaults { placed: elsewhere, elsewhere: refused.faults.elsewhere.clone() };
    let bad =
        |line: &Line, column: &str| placed.iter().any(|fault| fault.row == line.name && fault.path.starts_with(column));
    html! {
        div .notice .bad role="alert" {
            p { strong { "Nothing was saved. " } "Put right what stands here, and send the table again." }
            ul {
                @for fault in &refused.table {
                    li { @if fault.row > 0 { "Row " (fault.row) @if !fault.column.is_empty() { ", column " code { (fault.column) } } ": " }
                        (sentence(&fault.problem)) " " span .accepted { "Accepted: " (fault.accepted) } }
                }
                @for fault in &placed {
                    li { "Row " (row_number(&fault.row).unwrap_or_default())
                        @if !fault.path.is_empty() { ", column “" (column_words(kind, &fault.path)) "”" } ": "
                        (sentence(&fault.problem)) " " span .accepted { "Accepted: " (fault.accepted) } }
                }
            }
        }
        @if !elsewhere.is_empty() { (faults_elsewhere(&elsewhere, "", &[])) }
        @if !refused.lines.is_empty() {
            div .scroll tabindex="0" role="group" aria-label="What would change, table" {
                table .preview {
                    caption { "The table as it was read" }
                    thead { tr { th { "Row" } th { (capitalised(kind.one)) } th { } @for column in &refused.columns { th { (capitalised(&column_words(kind, column))) } } } }
                    tbody {
                        @for line in &refused.lines {
                            tr {
                                td .number { (line.number) }
                                th scope="row" { (line.name) }
                                td { (if line.is_new { "new" } else { "changed" }) }
                                @for column in &refused.columns {
                                    td .wrong[bad(line, column)] { (line.entered.get(column).map(String::as_str).unwrap_or_default())
                                        @if bad(line, column) { span .fault { " ← see above" } } }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The rows of a kind as a table.
pub(super) async fn export(State(desk): State<Desk>, Path(kind): Path<String>) -> Result<Response, DeskError> {
    let kind = kind_or_none(&kind)?;
    let layers = Layers::of(kind, &desk.shop().files());
    let failed = |error: csv::Error| DeskError::failed(format!("the table could not be written: {error}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut headings: Vec<String> = columns(kind).iter().map(|path| column_words(kind, path)).collect();
    if !kind.is_open() {
        headings.insert(0, kind.one.to_owned());
    }
    writer.write_record(&headings).map_err(failed)?;
    for row in layers.rows.iter().filter(|row| row.counts()) {
        let mut cells: Vec<String> = if kind.is_open() { Vec::new() } else { vec![row.name.clone()] };
        for field in kind.fields {
            cells.extend(texts_of(field, row.value(field.key)).into_iter().map(|text| text.replace('\n', "; ")));
        }
        writer.write_record(cells.into_iter().map(with_mark)).map_err(failed)?;
    }
    let bytes =
        writer.into_inner().map_err(|error| DeskError::failed(format!("the table could not be written: {error}")))?;
    let name = format!("attachment; filename=\"{}.csv\"", kind.address);
    Ok(([(CONTENT_TYPE, "text/csv; charset=utf-8".to_owned()), (CONTENT_DISPOSITION, name)], bytes).into_response())
}

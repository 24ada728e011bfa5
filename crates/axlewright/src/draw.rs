//! `axlewright draw`: draws a reviewed order, or writes its shafts as solids.

mod solid_file;

use std::io;
use std::path::Path;

use axle::{Sheet, Side, Verdict};
use drawing::{Request, Standard, Units, View};
use quantity::Leading;

use crate::arguments::{DrawArguments, DrawFormat, DrawStandard, DrawUnits, DrawView};
use crate::exit_status::ExitStatus;
use crate::intake::{self, Reviewed};
use crate::streams::Streams;

/// Reviews the sheet, draws what was asked for, and writes it to a file or to the output.
///
/// # Errors
///
/// A stream takes no more.
pub fn draw(arguments: &DrawArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    let format = match format(arguments) {
        Ok(format) => format,
        Err(message) => {
            streams.complain(&message)?;
            return Ok(ExitStatus::Unusable);
        }
    };
    if let Some(message) = contradiction(arguments, format) {
        streams.complain(&message)?;
        return Ok(ExitStatus::Unusable);
    }
    let Some(catalog) = streams.catalog(arguments.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    let order = intake::take_in_one(&arguments.sheet, &catalog);
    let Reviewed { sheet, review } = match &order.outcome {
        Ok(reviewed) => reviewed,
        Err(unread) => {
            streams.complain_of_sheet(&order.name, unread)?;
            return Ok(ExitStatus::Unusable);
        }
    };
    if let Some(side) = arguments.side.map(Side::from).filter(|side| !sheet.wanted.contains(side)) {
        let wanted = side.other().words();
        let message = format!("{}: the order wants no shaft on that side\n  accepted: {wanted}", order.name);
        streams.complain(&message)?;
        return Ok(ExitStatus::Unusable);
    }
    let write = match format {
        DrawFormat::Svg => drawing::svg,
        DrawFormat::Dxf => drawing::dxf,
        DrawFormat::Step => return solid_file::write(arguments, sheet, review, streams),
    };
    let first = sheet.wanted.first().copied().unwrap_or(Side::Left);
    let request = Request {
        view: view(arguments.view.unwrap_or(DrawView::Shaft)),
        side: arguments.side.map_or(first, Side::from),
        standard: standard(arguments, sheet),
        units: units(arguments, sheet),
        date: arguments.date.as_deref().unwrap_or("not dated"),
        revision: &arguments.revision,
        approved: arguments.approved && review.verdict == Verdict::Cut,
    };
    let drawn = drawing::draw(sheet, review, &request);
    to_file_or_output(&write(&drawn), &drawn.title, arguments.out.as_deref(), streams)
}

/// The format that is named, or the one that the name of the file ends with.
fn format(arguments: &DrawArguments) -> Result<DrawFormat, String> {
    if let Some(format) = arguments.format {
        return Ok(format);
    }
    let Some(out) = &arguments.out else { return Ok(DrawFormat::Svg) };
    let ending = out.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    match ending.as_deref() {
        Some("svg") => Ok(DrawFormat::Svg),
        Some("dxf") => Ok(DrawFormat::Dxf),
        Some("step" | "stp") => Ok(DrawFormat::Step),
        _ => Err(format!(
            "{}: the name of the file does not say which format is wanted\n  accepted: a name that ends with .svg, \
             .dxf or .step, or --format",
            out.display()
        )),
    }
}

/// What cannot be asked for together.
fn contradiction(arguments: &DrawArguments, format: DrawFormat) -> Option<String> {
    if format != DrawFormat::Step {
        return arguments.teeth.then(|| {
            "--teeth: a sheet shows the spline by its outline and its table, and no teeth\n  accepted: --teeth with --format step"
                .to_owned()
        });
    }
    if arguments.view.is_some_and(|view| view != DrawView::Shaft) {
        return Some(
            "--view: a STEP file holds the shaft itself and no view of it\n  accepted: --format step without --view, or \
             --view with --format svg or dxf"
                .to_owned(),
        );
    }
    if arguments.standard.is_some() {
        return Some(
            "--standard: a STEP file has no lines, lettering or projection that a standard could rule\n  accepted: --format \
             step without --standard"
                .to_owned(),
        );
    }
    (arguments.units == Some(DrawUnits::Dual)).then(|| {
        "--units dual: the lengths of a STEP file have one unit\n  accepted: --units inch, --units millimetre, or neither for the \
         unit of the order"
            .to_owned()
    })
}

fn view(view: DrawView) -> View {
    match view {
        DrawView::Shaft => View::Shaft,
        DrawView::Flange => View::Flange,
        DrawView::Housing => View::Housing,
        DrawView::Pair => View::Pair,
    }
}

fn inches_lead(sheet: &Sheet) -> bool {
    axle::leading(sheet) == Leading::Inches
}

fn standard(arguments: &DrawArguments, sheet: &Sheet) -> Standard {
    match arguments.standard {
        Some(DrawStandard::Iso) => Standard::Iso,
        Some(DrawStandard::Asme) => Standard::Asme,
        None if inches_lead(sheet) => Standard::Asme,
        None => Standard::Iso,
    }
}

fn units(arguments: &DrawArguments, sheet: &Sheet) -> Units {
    match arguments.units {
        Some(DrawUnits::Inch) => Units::Inch,
        Some(DrawUnits::Millimetre) => Units::Millimetre,
        Some(DrawUnits::Dual) => Units::Dual { inches_first: inches_lead(sheet) },
        None if inches_lead(sheet) => Units::Inch,
        None => Units::Millimetre,
    }
}

/// Writes a text to a file, with one line on the output that says what is in it, or to the output.
fn to_file_or_output(text: &str, title: &str, out: Option<&Path>, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(path) = out else {
        streams.print(text)?;
        return Ok(ExitStatus::AllCut);
    };
    match std::fs::write(path, text) {
        Ok(()) => {
            streams.print(&format!("{}: {}\n", path.display(), title))?;
            Ok(ExitStatus::AllCut)
        }
        Err(error) => {
            let problem = shop_folder::words_for_writing(&error);
            streams.complain(&format!(
                "{}: {problem}\n  accepted: a file in a folder that is there and may be written to",
                path.display()
            ))?;
            Ok(ExitStatus::Unusable)
        }
    }
}

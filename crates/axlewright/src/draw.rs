//! `axlewright draw`: draws a reviewed order.

use std::io;
use std::path::Path;

use axle::{Sheet, Side};
use drawing::{Drawing, Request, Standard, Units, View};
use quantity::Leading;

use crate::arguments::{DrawArguments, DrawFormat, DrawStandard, DrawUnits, DrawView};
use crate::catalog_folder;
use crate::exit_status::ExitStatus;
use crate::intake::{self, Reviewed};
use crate::streams::Streams;
use crate::text_file;

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
    let Some(catalog) = catalog_folder::load(arguments.catalog.as_deref(), streams)? else {
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
    let side = match side(arguments, sheet) {
        Ok(side) => side,
        Err(wanted) => {
            let message = format!("{}: the order wants no shaft on that side\n  accepted: {wanted}", order.name);
            streams.complain(&message)?;
            return Ok(ExitStatus::Unusable);
        }
    };
    let request = Request {
        view: view(arguments.view),
        side,
        standard: standard(arguments, sheet),
        units: units(arguments, sheet),
        date: arguments.date.as_deref().unwrap_or("not dated"),
        revision: &arguments.revision,
        approved: arguments.approved,
    };
    let drawn = drawing::draw(sheet, review, &request);
    let text = match format {
        DrawFormat::Svg => drawing::svg(&drawn),
        DrawFormat::Dxf => drawing::dxf(&drawn),
    };
    write(&text, &drawn, arguments.out.as_deref(), streams)
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
        _ => Err(format!(
            "{}: the name of the file does not say which format is wanted\n  accepted: a name that ends with .svg or \
             .dxf, or --format",
            out.display()
        )),
    }
}

fn side(arguments: &DrawArguments, sheet: &Sheet) -> Result<Side, &'static str> {
    match arguments.side.map(Side::from) {
        None => Ok(sheet.wanted.first().copied().unwrap_or(Side::Left)),
        Some(side) if sheet.wanted.contains(&side) => Ok(side),
        Some(side) => Err(side.other().words()),
    }
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

fn write(text: &str, drawn: &Drawing, out: Option<&Path>, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(path) = out else {
        streams.print(text)?;
        return Ok(ExitStatus::AllCut);
    };
    match std::fs::write(path, text) {
        Ok(()) => {
            streams.print(&format!("{}: {}\n", path.display(), drawn.title))?;
            Ok(ExitStatus::AllCut)
        }
        Err(error) => {
            let problem = text_file::words_for_writing(&error);
            streams.complain(&format!(
                "{}: {problem}\n  accepted: a file in a folder that is there and may be written to",
                path.display()
            ))?;
            Ok(ExitStatus::Unusable)
        }
    }
}

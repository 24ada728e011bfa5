//! The faults of a sheet, each at the field that it belongs to.

use book::BookError;

use crate::error::DeskError;

use super::entered::FieldFault;
use super::written::{Written, field_name};

/// Places the faults of a text; anything that is no fault of the sheet is given back.
///
/// # Errors
///
/// The error is none of the sheet.
pub(super) fn placed(text: &str, error: DeskError) -> Result<Vec<FieldFault>, DeskError> {
    let faults = match error {
        DeskError::Book(BookError::Sheet(faults)) | DeskError::Faults(faults) => faults,
        other => return Err(other),
    };
    let written = Written::read(text);
    let fault = |fault: &placed::Fault| FieldFault {
        field: field(written.as_ref(), fault),
        line: Some(fault.line),
        problem: fault.problem.clone(),
        accepted: fault.accepted.clone(),
    };
    Ok(faults.iter().map(fault).collect())
}

/// The field of a fault. A key that is missing has no place of its own: its table has.
fn field(written: Option<&Written>, fault: &placed::Fault) -> Option<String> {
    let written = written?;
    let at = written.field_at(fault.span.start);
    let missing = fault.problem.strip_prefix('`').and_then(|rest| rest.split_once("` is missing in "));
    match (missing, at) {
        (Some((key, place)), None) => {
            let section = place.trim().strip_prefix('[').and_then(|place| place.strip_suffix(']'))?;
            Some(field_name(section, key))
        }
        (Some((key, _)), Some(reading)) if reading.starts_with("r.") && key != "value" => {
            Some(format!("{reading}.{key}"))
        }
        (_, at) => at.map(str::to_owned),
    }
}

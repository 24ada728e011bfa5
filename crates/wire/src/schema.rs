//! The JSON Schema of the output.

use schemars::schema_for;

use super::output::Output;

/// The JSON Schema (draft 2020-12) of [`Output`] as indented text, with a line break at its end.
///
/// # Errors
///
/// None that a schema can give rise to; the serialiser's own error type is passed on.
pub fn schema_text() -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&schema_for!(Output))?;
    text.push('\n');
    Ok(text)
}

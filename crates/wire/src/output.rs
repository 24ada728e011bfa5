//! Everything that this program may print as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::fault::UnreadSheet;
use super::review::{Explained, Review};

/// What `axlewright check --format json` and `axlewright explain --format json` print.
///
/// `check` prints one object for one sheet, and for several sheets an array with one object for each in the order in
/// which they were named. `explain` prints one object.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Output {
    /// One sheet.
    Sheet(SheetOutput),
    /// Several sheets.
    Several(Vec<SheetOutput>),
    /// Where one dimension comes from.
    Explained(Explained),
}

/// What `check` says about one sheet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum SheetOutput {
    /// Its review.
    Review(Box<Review>),
    /// Why it could not be reviewed.
    Unread(UnreadSheet),
}

impl Output {
    /// The JSON text, indented, with a line break at its end.
    ///
    /// # Errors
    ///
    /// None that these types can give rise to; the serialiser's own error type is passed on.
    pub fn text(&self) -> Result<String, serde_json::Error> {
        let mut text = serde_json::to_string_pretty(self)?;
        text.push('\n');
        Ok(text)
    }
}

//! What programs send.

use schemars::JsonSchema;
use serde::Deserialize;

/// An order to be taken in.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewOrder {
    /// The sheet in TOML, as docs/order-sheet.md has it.
    pub sheet: String,
    /// Who ordered.
    #[serde(default)]
    pub customer: String,
    /// How to reach them.
    #[serde(default)]
    pub contact: String,
    /// The vehicle, as its owner calls it.
    #[serde(default)]
    pub vehicle: String,
    /// When it is wanted: `2026-04-01`.
    #[serde(default)]
    pub due: Option<String>,
}

/// A new revision of an order. What is left out of the details stays as it was.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ChangedOrder {
    /// The revision that was seen. Where it is no longer the one that stands, nothing is written.
    pub seen_revision: i64,
    /// Why.
    pub reason: String,
    /// The sheet in TOML; left out, it stays as it was.
    #[serde(default)]
    pub sheet: Option<String>,
    /// Who ordered.
    #[serde(default)]
    pub customer: Option<String>,
    /// How to reach them.
    #[serde(default)]
    pub contact: Option<String>,
    /// The vehicle, as its owner calls it.
    #[serde(default)]
    pub vehicle: Option<String>,
    /// When it is wanted: `2026-04-01`; an empty text for no date.
    #[serde(default)]
    pub due: Option<String>,
}

/// A move of an order from one state to another.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AskedMove {
    /// The revision that was seen.
    pub seen_revision: i64,
    /// The state that was seen.
    pub from: String,
    /// Where it is to go.
    pub to: String,
    /// Why. At an approval it is the reason with which `ask` is overruled.
    #[serde(default)]
    pub reason: Option<String>,
}

/// A message to be written down.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct NewMessage {
    /// `from customer`, `to customer` or `note`.
    pub direction: String,
    /// What it says.
    pub words: String,
}

/// A sheet to be reviewed and not kept.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SheetToReview {
    /// The sheet in TOML.
    pub sheet: String,
    /// Whether the questions are ranked too, which takes longer than all the rest.
    #[serde(default)]
    pub questions: bool,
}

/// What a list of orders is to hold.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(crate) struct OrdersAsked {
    pub search: String,
    pub state: String,
    pub verdict: String,
    pub sort: String,
    pub from: String,
    pub at_most: Option<usize>,
}

/// How deep a review goes.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(crate) struct ReviewAsked {
    pub questions: bool,
}

//! Where a row of the catalog comes from.

use std::fmt;

/// The origin of a row; every row of the catalog has one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// A published standard or handbook, with its edition or section.
    Published(String),
    /// What the trade does, without a published source.
    CommonPractice,
    /// Recalled and not seen in print: to be checked before it is relied on.
    FromMemory,
    /// Invented for the demo shop.
    InventedForDemo,
    /// Decided or measured by the shop itself, in its own words.
    Shop(String),
}

impl Source {
    /// Reads the text of a row's `source` key. `common practice, no source`, `from memory, check` and `invented for the
    /// demo` are fixed phrases; `shop: …` is the shop's own; everything else names a publication.
    ///
    /// ```
    /// use catalog::Source;
    /// assert_eq!(Source::from_text("from memory, check"), Source::FromMemory);
    /// assert_eq!(Source::from_text("ISO 15:2017"), Source::Published("ISO 15:2017".to_owned()));
    /// ```
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        match text.trim() {
            "common practice, no source" => Self::CommonPractice,
            "from memory, check" => Self::FromMemory,
            "invented for the demo" => Self::InventedForDemo,
            other => match other.strip_prefix("shop:") {
                Some(words) => Self::Shop(words.trim().to_owned()),
                None => Self::Published(other.to_owned()),
            },
        }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Published(words) => out.write_str(words),
            Self::CommonPractice => out.write_str("common practice, no source"),
            Self::FromMemory => out.write_str("from memory, check"),
            Self::InventedForDemo => out.write_str("invented for the demo"),
            Self::Shop(words) => write!(out, "shop: {words}"),
        }
    }
}

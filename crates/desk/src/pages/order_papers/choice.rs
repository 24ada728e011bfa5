//! On which paper, in which units and by which standard something is wanted.

use axle::Sheet;
use drawing::{Standard, Units};
use maud::{Markup, html};
use paperwork::PageSize;
use quantity::Leading;
use serde::Deserialize;

use crate::error::DeskError;

/// What an address asks for; whatever it leaves open follows the unit of the sheet.
#[derive(Debug, Clone, Default, Deserialize)]
pub(crate) struct Choice {
    /// `letter` or `a4`.
    pub page: Option<String>,
    /// `inch`, `millimetre` or `dual`.
    pub units: Option<String>,
    /// `asme` or `iso`.
    pub standard: Option<String>,
    /// `left` or `right`.
    pub side: Option<String>,
    /// Whether a solid has its teeth: `yes` or `no`.
    pub teeth: Option<String>,
}

/// What is made.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Chosen {
    /// The paper.
    pub page_size: PageSize,
    /// The units.
    pub units: Units,
    /// The standard of the drawings.
    pub standard: Standard,
}

const PAGES: [(&str, &str, PageSize); 2] = [("letter", "Letter", PageSize::Letter), ("a4", "A4", PageSize::A4)];
const STANDARDS: [(&str, &str, Standard); 2] =
    [("asme", "ASME Y14.5", Standard::Asme), ("iso", "ISO 128", Standard::Iso)];
const UNITS: [(&str, &str); 3] = [("inch", "inch"), ("millimetre", "millimetre"), ("dual", "both")];

impl Choice {
    /// The choice with what it leaves open.
    ///
    /// # Errors
    ///
    /// A word is none of those that are known.
    pub fn chosen(&self, sheet: &Sheet) -> Result<Chosen, DeskError> {
        let inches_first = axle::leading(sheet) == Leading::Inches;
        let page_size = match self.page.as_deref().filter(|word| !word.is_empty()) {
            None => {
                if inches_first {
                    PageSize::Letter
                } else {
                    PageSize::A4
                }
            }
            Some(word) => find(word, &PAGES, "paper", "letter or a4")?,
        };
        let units = match self.units.as_deref().filter(|word| !word.is_empty()) {
            None => {
                if inches_first {
                    Units::Inch
                } else {
                    Units::Millimetre
                }
            }
            Some("inch") => Units::Inch,
            Some("millimetre") => Units::Millimetre,
            Some("dual") => Units::Dual { inches_first },
            Some(word) => return Err(unknown("unit", word, "inch, millimetre or dual")),
        };
        let standard = match self.standard.as_deref().filter(|word| !word.is_empty()) {
            None => {
                if units.leads_with_inches() {
                    Standard::Asme
                } else {
                    Standard::Iso
                }
            }
            Some(word) => find(word, &STANDARDS, "standard", "asme or iso")?,
        };
        Ok(Chosen { page_size, units, standard })
    }
}

fn find<T: Copy>(word: &str, known: &[(&str, &str, T)], what: &str, accepted: &str) -> Result<T, DeskError> {
    known
        .iter()
        .find(|(key, _, _)| *key == word)
        .map(|(_, _, value)| *value)
        .ok_or_else(|| unknown(what, word, accepted))
}

fn unknown(what: &str, word: &str, accepted: &str) -> DeskError {
    DeskError::refused(format!("there is no {what} `{word}`"), accepted)
}

impl Chosen {
    fn page_key(&self) -> &'static str {
        PAGES.iter().find(|(_, _, page)| *page == self.page_size).map_or("", |(key, _, _)| key)
    }

    fn units_key(&self) -> &'static str {
        match self.units {
            Units::Inch => "inch",
            Units::Millimetre => "millimetre",
            Units::Dual { .. } => "dual",
        }
    }

    fn standard_key(&self) -> &'static str {
        STANDARDS.iter().find(|(_, _, standard)| *standard == self.standard).map_or("", |(key, _, _)| key)
    }

    /// The choice behind the `?` of an address.
    pub fn query(&self) -> String {
        format!("page={}&units={}&standard={}", self.page_key(), self.units_key(), self.standard_key())
    }

    /// The choice as fields of a form.
    pub fn fields(&self) -> Markup {
        let select = |name: &str, label: &str, known: &[(&str, &str)], at: &str| {
            html! {
                label { (label) " "
                    select name=(name) {
                        @for (key, words) in known { option value=(key) selected[*key == at] { (words) } }
                    }
                }
            }
        };
        let pages: Vec<_> = PAGES.iter().map(|(key, words, _)| (*key, *words)).collect();
        let standards: Vec<_> = STANDARDS.iter().map(|(key, words, _)| (*key, *words)).collect();
        html! {
            (select("page", "Paper", &pages, self.page_key()))
            (select("units", "Units", &UNITS, self.units_key()))
            (select("standard", "Drawings by", &standards, self.standard_key()))
        }
    }
}

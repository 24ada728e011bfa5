//! The catalog as it is written: rows of TOML files with their layers, as people read and change them.
//!
//! The review goes by the typed catalog; these pages show and change the text that it is made from. Whether a text is sound is
//! never decided here but by the catalog's own loader, whose faults are put beside the field that they belong to.

mod accepted;
mod change;
mod faults;
mod field_text;
mod kinds;
mod layers;
mod shown;
mod words;

pub(crate) use accepted::accepted_form;
pub(crate) use change::{Change, changed_text, same as same_value};
pub(crate) use faults::{PlacedFaults, place_faults};
pub(crate) use field_text::{field_of_texts, paths_of, texts_of};
pub(crate) use kinds::{Field, KINDS, Kind, SETTINGS, Shape, kind_at};
pub(crate) use layers::{Fields, Layers, Row, Standing, name_of_row, value_in};
pub(crate) use shown::{other_unit, shown_in_column, shown_load, shown_of, shown_range};
pub(crate) use words::{called, header_words, label, section_words, settings_fields, unit_of};

#[cfg(test)]
mod tests;

//! What a form brought: the fields of the sheet, what stands beside it, and what it was built on.

use std::collections::BTreeMap;

use axum::Form;
use axum::extract::rejection::FormRejection;
use book::Details;
use jiff::civil::Date;

use crate::error::DeskError;

use super::rewrite::{PROPERTIES, changes, lines, rewritten};
use super::written::{Fields, Written};

/// What the name of a field with words to the customer begins with; a button beside it stands for it by that name.
pub(super) const SAY: &str = "say.";

/// What the name of a field with who confirmed a correction begins with.
pub(super) const WHO: &str = "who.";

/// A form with many fields, whatever they are called.
pub(super) type Posted = Result<Form<Vec<(String, String)>>, FormRejection>;

/// Something wrong with a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FieldFault {
    /// The field, where it belongs to one.
    pub field: Option<String>,
    /// The line of the sheet, where it has one.
    pub line: Option<usize>,
    /// What is wrong.
    pub problem: String,
    /// What would be accepted.
    pub accepted: String,
}

/// What was typed.
#[derive(Debug, Clone, Default)]
pub(super) struct Entered {
    /// The fields of the sheet.
    pub fields: Fields,
    /// The text that the fields were taken from.
    pub base: String,
    /// The sheet as text, as it came back.
    pub text: Option<String>,
    /// The revision that was on the screen; 0 for a new order.
    pub seen: i64,
    pub customer: String,
    pub contact: String,
    pub vehicle: String,
    pub due: String,
    pub reason: String,
    /// What is to be drawn.
    pub view: String,
    pub units: String,
    /// The mark of a page of a new order, under which its draft is kept.
    pub draft: String,
    /// The draft that such a page carries on with, see [`super::drafts::carried_from`].
    pub carried: String,
    /// Which correction, question or part a button stands for.
    pub chosen: String,
    /// What stands in a field beside such a button, by its name: words to the customer, or who confirmed something.
    pub said: BTreeMap<String, String>,
}

impl Entered {
    /// Takes a posted form.
    ///
    /// # Errors
    ///
    /// It is no form or too long.
    pub fn of(posted: Posted) -> Result<Self, DeskError> {
        let Form(pairs) = posted.map_err(|rejection| {
            DeskError::refused(rejection.body_text(), "the form of this page, with at most two megabytes")
        })?;
        Ok(Self::of_pairs(pairs))
    }

    /// Out of names and values.
    pub fn of_pairs(pairs: Vec<(String, String)>) -> Self {
        let mut entered = Self::default();
        for (name, value) in pairs {
            match name.as_str() {
                "base" => entered.base = lines(&value),
                "text" => entered.text = Some(lines(&value)),
                "seen" => entered.seen = value.parse().unwrap_or_default(),
                "customer" => entered.customer = value,
                "contact" => entered.contact = value,
                "vehicle" => entered.vehicle = value,
                "due" => entered.due = value,
                "reason" => entered.reason = value,
                "view" => entered.view = value,
                "units" => entered.units = value,
                "chosen" => entered.chosen = value,
                "draft" => entered.draft = value,
                "carried" => entered.carried = value,
                _ if name.starts_with(SAY) || name.starts_with(WHO) => {
                    entered.said.insert(name, value);
                }
                _ if name.starts_with("r.") || name.starts_with("f.") => {
                    entered.fields.insert(name, value);
                }
                _ => {}
            }
        }
        entered
    }

    /// What a form shows that nobody has typed into.
    pub fn untouched(text: &str, revision: i64, details: &Details) -> Self {
        Self {
            base: text.to_owned(),
            seen: revision,
            customer: details.customer.clone(),
            contact: details.contact.clone(),
            vehicle: details.vehicle.clone(),
            due: details.due.map(|due| due.to_string()).unwrap_or_default(),
            ..Self::default()
        }
    }

    /// The names and values again, to be kept as a draft.
    pub fn pairs(&self) -> Vec<(String, String)> {
        let beside = [
            ("base", &self.base),
            ("customer", &self.customer),
            ("contact", &self.contact),
            ("vehicle", &self.vehicle),
            ("due", &self.due),
            ("reason", &self.reason),
        ];
        let beside = beside.into_iter().map(|(name, value)| (name.to_owned(), value.clone()));
        let seen = std::iter::once(("seen".to_owned(), self.seen.to_string()));
        let text = self.text.iter().map(|text| ("text".to_owned(), text.clone()));
        beside.chain(seen).chain(text).chain(self.fields.clone()).collect()
    }

    /// Puts the bytes of a kept sheet in the place of a base that is the same but for its line ends.
    pub fn stands_on(&mut self, kept: &str) {
        if self.base.is_empty() || lines(kept).trim_start_matches('\n') == self.base.trim_start_matches('\n') {
            self.base = kept.to_owned();
        }
    }

    /// The text of the sheet with what was typed; the base itself where that is no TOML.
    ///
    /// Where the sheet was changed as text as well, that text is the ground, and of the fields only those count that were
    /// changed and that the text left alone.
    pub fn text(&self) -> String {
        let formed = rewritten(&self.base, &self.fields).unwrap_or_else(|| self.base.clone());
        let alike = |one: &str, other: &str| lines(one).trim() == lines(other).trim();
        let Some(text) = self.text.as_ref().filter(|text| !alike(text, &self.base) && !alike(text, &formed)) else {
            return formed;
        };
        let (Some(before), Some(after)) = (Written::read(&self.base), Written::read(text)) else { return text.clone() };
        let typed: Fields = changes(&before, &self.fields)
            .into_iter()
            .filter(|(name, (was, _))| after.fields.get(name).map_or("", String::as_str) == was)
            .map(|(name, (_, typed))| (name, typed))
            .collect();
        rewritten(text, &typed).unwrap_or_else(|| text.clone())
    }

    /// Fields that were changed in the form and in the text as well, and not to the same: what the form says, what the text says.
    /// Nobody but the one who typed can tell which of the two is meant.
    pub fn contested(&self) -> BTreeMap<String, (String, String)> {
        let Some(text) = self.text.as_ref() else { return BTreeMap::new() };
        let (Some(before), Some(after)) = (Written::read(&self.base), Written::read(text)) else {
            return BTreeMap::new();
        };
        changes(&before, &self.fields)
            .into_iter()
            .filter_map(|(name, (was, typed))| {
                let says = after.fields.get(&name).map_or("", |says| says.trim());
                (says != was.trim() && lines(says) != typed).then(|| (name, (typed, says.to_owned())))
            })
            .collect()
    }

    /// The value of a field: as it was typed, or else as the base has it.
    pub fn value<'v>(&'v self, written: &'v Written, name: &str) -> &'v str {
        self.fields.get(name).or_else(|| written.fields.get(name)).map_or("", String::as_str)
    }

    /// What stands beside the sheet.
    ///
    /// # Errors
    ///
    /// The date is none.
    pub fn details(&self) -> Result<Details, FieldFault> {
        let due = match self.due.trim() {
            "" => None,
            text => Some(text.parse::<Date>().map_err(|_| FieldFault {
                field: Some("due".to_owned()),
                line: None,
                problem: format!("{text} is no date"),
                accepted: "year-month-day, such as 2026-03-14".to_owned(),
            })?),
        };
        let kept = |text: &str| text.trim().to_owned();
        Ok(Details { customer: kept(&self.customer), contact: kept(&self.contact), vehicle: kept(&self.vehicle), due })
    }

    /// Readings of which somebody wrote how they were taken and not what was read.
    pub fn without_value(&self, written: &Written) -> Vec<FieldFault> {
        let mut faults = Vec::new();
        for (name, _) in self.fields.iter().filter(|(name, typed)| name.starts_with("r.") && !typed.trim().is_empty()) {
            let Some((reading, property)) = name.rsplit_once('.').filter(|(_, last)| PROPERTIES.contains(last)) else {
                continue;
            };
            let was_there = !written.fields.get(reading).map_or("", String::as_str).is_empty();
            if self.value(written, reading).trim().is_empty() && !was_there {
                faults.push(FieldFault {
                    field: Some(reading.to_owned()),
                    line: None,
                    problem: format!("the {} is given and no value", property.replace('_', " ")),
                    accepted: "what was read, such as 29 1/32\", 2.345 or 795.3 mm; or empty the other fields"
                        .to_owned(),
                });
            }
        }
        faults.dedup();
        faults
    }
}

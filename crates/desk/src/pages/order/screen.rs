//! What a page of an order shows: what was typed, what the review says of it, and what is wrong.

use std::collections::BTreeMap;
use std::sync::Arc;

use book::{Details, MarkedCatalog, OrderLine, ReviewedSheet};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::reviewing::Depth;

use super::entered::{Entered, FieldFault};
use super::faults;
use super::fields::called;
use super::rewrite::{changes, lines, rewritten};
use super::written::{Fields, Written};

/// The sheet that a new order begins with.
pub(super) const BLANK: &str = "[order]\nreference = \"\"\nunit      = \"in\"\nsides     = [\"left\", \"right\"]\n";

/// Stands in for a reference that nobody has given yet, so that readings are weighed before.
const NOT_NAMED: &str = "not named yet";

/// The revision that what was typed is held against.
#[derive(Debug, Clone, Default)]
pub(super) struct Kept {
    /// Its sheet.
    pub text: String,
    /// What stands beside it.
    pub details: Details,
}

/// What a page shows.
pub(super) struct Screen {
    /// The order as it stands; none for a new one.
    pub line: Option<OrderLine>,
    /// What was typed. Its base is the whole text by now.
    pub entered: Entered,
    /// The text, taken apart; none where it is no TOML.
    pub written: Option<Written>,
    /// What is wrong, the places first.
    pub faults: Vec<FieldFault>,
    /// What a review cannot do without and nobody has filled in yet.
    pub needs: Vec<FieldFault>,
    /// The review, where there is one.
    pub reviewed: Option<Arc<ReviewedSheet>>,
    /// What was changed against the revision that was seen, in words.
    pub changed: Vec<String>,
    /// Whether the text is the one that was seen, so that the form need not carry it.
    pub is_as_kept: bool,
    /// The text that the form was built on, where form and text say different things: both go on from there until they agree.
    pub built_on: Option<String>,
    /// The catalog that all of it goes by.
    pub catalog: Arc<MarkedCatalog>,
}

impl Screen {
    /// Reads and reviews what was typed.
    ///
    /// # Errors
    ///
    /// The catalog makes no sound model, or the desk is stopping.
    pub async fn of(
        desk: &Desk,
        line: Option<OrderLine>,
        kept: &Kept,
        mut entered: Entered,
        depth: Depth,
    ) -> Result<Self, DeskError> {
        let catalog = desk.shop().catalog();
        entered.stands_on(&kept.text);
        let before = Written::read(&entered.base);
        let text = entered.text();
        let written = Written::read(&text);
        let contested = entered.contested();
        let built_on = (!contested.is_empty()).then(|| entered.base.clone());
        let mut faults = before.as_ref().map(|before| entered.without_value(before)).unwrap_or_default();
        entered.base = text;
        entered.text = None;
        if let Some(written) = &written {
            // Everything else stands in the text by now.
            entered.fields.retain(|name, typed| {
                let reading = name.rsplit_once('.').map_or("", |(reading, _)| reading);
                let lacks = name.starts_with("r.") && !written.fields.contains_key(name);
                let is_lost = lacks && !typed.trim().is_empty() && !written.fields.contains_key(reading);
                is_lost || contested.contains_key(name)
            });
        }
        let mut reviewed = None;
        let unnamed = written.as_ref().is_some_and(|written| {
            written.fields.get("f.order.reference").is_none_or(|reference| reference.trim().is_empty())
        });
        let named = if unnamed {
            let name: Fields = BTreeMap::from([("f.order.reference".to_owned(), NOT_NAMED.to_owned())]);
            rewritten(&entered.base, &name).unwrap_or_else(|| entered.base.clone())
        } else {
            entered.base.clone()
        };
        match desk.reviewing().review("sheet", &named, &catalog, depth).await {
            Ok(found) => reviewed = Some(found),
            Err(error) => faults.extend(faults::placed(&named, error)?),
        }
        if let Err(fault) = entered.details() {
            faults.push(fault);
        }
        let blank = |fault: &FieldFault| {
            let name = fault.field.as_deref().filter(|name| name.starts_with("f."));
            name.is_some_and(|name| written.as_ref().is_some_and(|all| entered.value(all, name).trim().is_empty()))
        };
        let (mut needs, mut faults): (Vec<FieldFault>, Vec<FieldFault>) = faults.into_iter().partition(blank);
        faults.extend(contested.into_iter().map(|(name, (form, text))| two_values(name, &form, &text)));
        if unnamed {
            needs.insert(
                0,
                FieldFault {
                    field: Some("f.order.reference".to_owned()),
                    line: None,
                    problem: "the reference of the shop".to_owned(),
                    accepted: "a name that no other order has".to_owned(),
                },
            );
        }
        let changed = changed_words(kept, &entered, written.as_ref(), &catalog);
        let is_as_kept = entered.base == kept.text;
        Ok(Self { line, entered, written, faults, needs, reviewed, changed, is_as_kept, built_on, catalog })
    }

    /// Whether it can be written into the book.
    pub fn may_be_kept(&self) -> bool {
        self.faults.is_empty() && self.needs.is_empty() && self.reviewed.is_some()
    }

    /// What to write over the parts that the page showed last, where this sheet cannot be reviewed and has none: they stay in
    /// sight, greyed, until it can be again.
    pub fn absent(&self) -> Option<&'static str> {
        match (&self.reviewed, self.faults.is_empty(), self.needs.is_empty()) {
            (Some(_), _, _) | (None, true, true) => None,
            (None, false, _) => Some("As before this fault"),
            (None, true, false) => Some("As before, until the sheet says again what it needs to"),
        }
    }

    /// The reason that is written where nobody gives one.
    pub fn suggested_reason(&self) -> String {
        const NAMED: usize = 3;
        let more = self.changed.len().saturating_sub(NAMED);
        let mut words = self.changed.iter().take(NAMED).cloned().collect::<Vec<_>>().join("; ");
        if more > 0 {
            words.push_str(&format!("; and {more} more"));
        }
        words
    }

    /// The reason: as it was typed, or the suggested one.
    pub fn reason(&self) -> String {
        let typed = self.entered.reason.trim();
        if typed.is_empty() { self.suggested_reason() } else { typed.to_owned() }
    }

    /// The faults of one field.
    pub fn faults_of<'s>(&'s self, name: &'s str) -> impl Iterator<Item = &'s FieldFault> {
        self.faults.iter().filter(move |fault| fault.field.as_deref() == Some(name))
    }

    /// The value of a field.
    pub fn value(&self, name: &str) -> &str {
        self.written.as_ref().map_or("", |written| self.entered.value(written, name))
    }
}

/// The fault of a field that says one thing in the form and another in the text.
fn two_values(name: String, form: &str, text: &str) -> FieldFault {
    let said = |value: &str| if value.is_empty() { "nothing".to_owned() } else { format!("`{value}`") };
    FieldFault {
        problem: format!("the form says {} here and the sheet as text says {}", said(form), said(text)),
        accepted: "the same in both: change the one that is wrong".to_owned(),
        line: None,
        field: Some(name),
    }
}

/// What was changed, one phrase a field.
fn changed_words(kept: &Kept, entered: &Entered, written: Option<&Written>, catalog: &MarkedCatalog) -> Vec<String> {
    let mut words = Vec::new();
    if let (Some(before), Some(after)) = (Written::read(&kept.text), written) {
        for (name, (was, is)) in differences(&before, &after.fields) {
            let what = called(&name, catalog.catalog());
            words.push(match (was.as_str(), is.as_str()) {
                ("", is) => format!("{what} {is} added"),
                (was, "") => format!("{what} {was} taken out"),
                (was, is) => format!("{what} {was} becomes {is}"),
            });
        }
    }
    let beside = [
        ("customer", &kept.details.customer, &entered.customer),
        ("contact", &kept.details.contact, &entered.contact),
        ("vehicle", &kept.details.vehicle, &entered.vehicle),
        ("due date", &kept.details.due.map(|due| due.to_string()).unwrap_or_default(), &entered.due),
    ];
    for (what, was, is) in beside {
        if was.trim() != is.trim() {
            words.push(format!("{what} {}", if is.trim().is_empty() { "taken out" } else { is.trim() }));
        }
    }
    if words.is_empty() && lines(&kept.text) != lines(&entered.base) {
        words.push("words of the sheet".to_owned());
    }
    words
}

/// Every field in which two texts differ: what it was and what it is.
pub(super) fn differences(before: &Written, after: &Fields) -> BTreeMap<String, (String, String)> {
    let mut all = changes(before, after);
    for (name, was) in before.fields.iter().filter(|(name, was)| !after.contains_key(*name) && !was.is_empty()) {
        all.insert(name.clone(), (was.clone(), String::new()));
    }
    all
}

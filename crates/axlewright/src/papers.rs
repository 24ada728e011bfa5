//! `axlewright papers`: sets the papers of a reviewed order.

use std::io;
use std::path::{Path, PathBuf};

use axle::{Sheet, Verdict};
use drawing::Units;
use paperwork::{Approval, Job, PAPERS, PageSize, Paper, Press, Pressed, ShopDetails};
use quantity::Leading;

use crate::arguments::{DrawUnits, PapersArguments, PapersPage};
use crate::catalog_folder;
use crate::exit_status::ExitStatus;
use crate::intake::{self, Reviewed};
use crate::shop_folder;
use crate::streams::Streams;
use crate::text_file;
use crate::today::today;

/// What the letterhead says where no shop is named.
const NO_SHOP: &str = "Axlewright";

/// Reviews the sheet, sets its papers, and writes them into a folder.
///
/// # Errors
///
/// A stream takes no more.
pub fn papers(arguments: &PapersArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(catalog) = catalog_folder::load(arguments.catalog.as_deref(), streams)? else {
        return Ok(ExitStatus::Unusable);
    };
    let shop = match &arguments.shop {
        None => paperwork::Shop {
            details: ShopDetails { name: NO_SHOP.to_owned(), ..ShopDetails::default() },
            ..paperwork::Shop::default()
        },
        Some(folder) => match shop_folder::load(folder, streams)? {
            Some(shop) => shop,
            None => return Ok(ExitStatus::Unusable),
        },
    };
    let order = intake::take_in_one(&arguments.sheet, &catalog);
    let Reviewed { sheet, review } = match &order.outcome {
        Ok(reviewed) => reviewed,
        Err(unread) => {
            streams.complain_of_sheet(&order.name, unread)?;
            return Ok(ExitStatus::Unusable);
        }
    };
    let approval = arguments
        .approved_by
        .as_deref()
        .map_or(Approval::NotYet, |name| Approval::By { name, overruling: arguments.overruling.as_deref() });
    let job = Job {
        sheet,
        review,
        catalog: &catalog,
        shop: &shop.details,
        date: arguments.date.unwrap_or_else(today),
        revision: &arguments.revision,
        page_size: page_size(arguments, sheet),
        units: units(arguments, sheet),
        approval,
    };
    if arguments.approved_by.is_some() && job.approved_by().is_none() {
        streams.complain(not_approved(review.verdict))?;
    }
    let mut writer = Writer { folder: &arguments.out, reference: &review.reference, warned: Vec::new() };
    if let Err(message) = writer.prepare() {
        streams.complain(&message)?;
        return Ok(ExitStatus::Unusable);
    }
    let press = Press::new(&shop);
    let wanted: &[Paper] = if arguments.only.is_empty() { &PAPERS } else { &arguments.only };
    let packet = arguments.only.is_empty().then_some(("packet", PAPERS.as_slice()));
    let single = wanted.iter().map(|paper| (paper.key(), std::slice::from_ref(paper)));
    for (name, papers) in packet.into_iter().chain(single) {
        match press.press(&job, papers) {
            Ok(pressed) => {
                if let Err(message) = writer.write(name, &pressed, streams)? {
                    streams.complain(&message)?;
                    return Ok(ExitStatus::Unusable);
                }
            }
            Err(error) => {
                streams.complain(&format!("{error}\n  accepted: a template that can be set, see docs/papers.md"))?;
                return Ok(ExitStatus::Unusable);
            }
        }
    }
    Ok(ExitStatus::AllCut)
}

/// Why an approval does not count.
fn not_approved(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Stop => {
            "the review stops this order, so its papers stay \"not for manufacture\"\n  accepted: an order that is changed \
             until the review no longer stops it"
        }
        _ => {
            "the review would ask first, so the papers stay \"not for manufacture\"\n  accepted: --overruling with the reason \
             why the order is made all the same"
        }
    }
}

fn page_size(arguments: &PapersArguments, sheet: &Sheet) -> PageSize {
    match arguments.paper {
        Some(PapersPage::Letter) => PageSize::Letter,
        Some(PapersPage::A4) => PageSize::A4,
        None if axle::leading(sheet) == Leading::Inches => PageSize::Letter,
        None => PageSize::A4,
    }
}

fn units(arguments: &PapersArguments, sheet: &Sheet) -> Units {
    let inches_lead = axle::leading(sheet) == Leading::Inches;
    match arguments.units {
        Some(DrawUnits::Inch) => Units::Inch,
        Some(DrawUnits::Millimetre) => Units::Millimetre,
        Some(DrawUnits::Dual) => Units::Dual { inches_first: inches_lead },
        None if inches_lead => Units::Inch,
        None => Units::Millimetre,
    }
}

/// Writes the papers into their folder.
struct Writer<'a> {
    folder: &'a Path,
    reference: &'a str,
    /// Each warning is said once, though every paper has it.
    warned: Vec<String>,
}

impl Writer<'_> {
    fn prepare(&self) -> Result<(), String> {
        std::fs::create_dir_all(self.folder).map_err(|error| complaint(self.folder, &error))
    }

    fn write(&mut self, name: &str, pressed: &Pressed, streams: &mut Streams) -> io::Result<Result<(), String>> {
        for warning in &pressed.warnings {
            if !self.warned.contains(warning) {
                streams.complain(warning)?;
                self.warned.push(warning.clone());
            }
        }
        let path = self.folder.join(file_name(self.reference, name));
        if let Err(error) = std::fs::write(&path, &pressed.pdf) {
            return Ok(Err(complaint(&path, &error)));
        }
        let pages = if pressed.pages == 1 { "page" } else { "pages" };
        streams.print(&format!("{}: {} {pages}\n", path.display(), pressed.pages))?;
        Ok(Ok(()))
    }
}

fn complaint(path: &Path, error: &io::Error) -> String {
    let problem = text_file::words_for_writing(error);
    format!("{}: {problem}\n  accepted: a folder that may be written to", path.display())
}

/// The reference may hold anything; the name of a file may not.
fn file_name(reference: &str, name: &str) -> PathBuf {
    let safe: String = reference
        .chars()
        .map(
            |character| {
                if character.is_alphanumeric() || matches!(character, '-' | '_' | '.') { character } else { '-' }
            },
        )
        .collect();
    PathBuf::from(format!("{}-{name}.pdf", safe.trim_start_matches('.')))
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn a_reference_never_leads_out_of_the_folder() {
        assert_eq!(file_name("Q-0102", "packet").to_str(), Some("Q-0102-packet.pdf"));
        assert_eq!(file_name("../a b/c", "label").to_str(), Some("-a-b-c-label.pdf"));
    }
}

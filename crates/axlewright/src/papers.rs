//! `axlewright papers`: sets the papers of reviewed orders.

mod printed;

use std::io;
use std::sync::mpsc;

use axle::{Catalog, Sheet, Verdict};
use drawing::Units;
use indicatif::{ProgressBar, ProgressStyle};
use paperwork::{Approval, Job, PAPERS, PageSize, Paper, Press, Shop, ShopDetails};
use quantity::Leading;
use rayon::iter::{IndexedParallelIterator, IntoParallelRefIterator, ParallelIterator};

use crate::arguments::{DrawUnits, PapersArguments, PapersPage};
use crate::exit_status::ExitStatus;
use crate::intake::{self, Order, Reviewed};
use crate::streams::Streams;
use crate::today::today;

use printed::Printed;

/// What the letterhead says where no shop is named.
const NO_SHOP: &str = "Axlewright";

/// Reviews the sheets, sets their papers side by side, and writes them into a folder. An order whose papers cannot be made
/// does not hold up the others.
///
/// # Errors
///
/// A stream takes no more.
pub fn papers(arguments: &PapersArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    if arguments.sheets.len() > 1 && arguments.overruling.is_some() {
        streams.complain(
            "a reason is that of one order, and several sheets are named\n  accepted: --overruling with one sheet",
        )?;
        return Ok(ExitStatus::Unusable);
    }
    let Some(catalog) = streams.catalog(arguments.catalog.as_deref())? else {
        return Ok(ExitStatus::Unusable);
    };
    let shop = match &arguments.shop {
        None => Shop { details: ShopDetails { name: NO_SHOP.to_owned(), ..ShopDetails::default() }, ..Shop::default() },
        Some(folder) => match streams.shop(folder)? {
            Some(shop) => shop,
            None => return Ok(ExitStatus::Unusable),
        },
    };
    if let Err(message) = printed::make_folder(&arguments.out) {
        streams.complain(&message)?;
        return Ok(ExitStatus::Unusable);
    }
    let run =
        Run { arguments, catalog: &catalog, shop: &shop.details, press: &Press::new(&shop), date: date(arguments) };
    let orders = intake::take_in(&arguments.sheets, &catalog);
    let twice = printed::twice_named(&orders);
    let outcomes = side_by_side(&orders, |at, reviewed| match twice.get(&at) {
        Some(message) => Printed { failure: Some(message.clone()), ..Printed::default() },
        None => run.papers_of(reviewed),
    });
    say(&orders, &outcomes, streams)
}

/// Does the work for each order that could be reviewed, on all cores, with a bar that shows how far it is. The outcomes come
/// back in the order of the orders.
fn side_by_side(orders: &[Order], work: impl Fn(usize, &Reviewed) -> Printed + Sync) -> Vec<Option<Printed>> {
    let bar = if orders.len() > 1 { ProgressBar::new(orders.len() as u64) } else { ProgressBar::hidden() };
    let bar = bar.with_style(ProgressStyle::default_bar()).with_message("orders");
    let mut outcomes: Vec<Option<Printed>> = Vec::new();
    outcomes.resize_with(orders.len(), || None);
    let (sender, receiver) = mpsc::channel();
    let work = &work;
    rayon::in_place_scope(|scope| {
        scope.spawn(move |_| {
            orders.par_iter().enumerate().for_each_with(sender, |sender, (at, order)| {
                let printed = order.outcome.as_ref().ok().map(|reviewed| work(at, reviewed));
                // Nobody hangs up before the last outcome is there.
                let _ = sender.send((at, printed));
            });
        });
        // The bar is drawn here and not by a worker: the streams hold the error output for this thread.
        for (at, printed) in receiver {
            outcomes[at] = printed;
            bar.inc(1);
        }
    });
    bar.finish_and_clear();
    outcomes
}

/// Says what was written and what went wrong, in the order in which the sheets were named.
fn say(orders: &[Order], outcomes: &[Option<Printed>], streams: &mut Streams) -> io::Result<ExitStatus> {
    let mut status = ExitStatus::AllCut;
    // A doubt about the shop's folder and a fault in its template are said once, though every order has them.
    let mut said: Vec<&str> = Vec::new();
    for (order, outcome) in orders.iter().zip(outcomes) {
        if let Err(unread) = &order.outcome {
            streams.complain_of_sheet(&order.name, unread)?;
            status = ExitStatus::Unusable;
        }
        let Some(printed) = outcome else { continue };
        if let Some(message) = printed.not_approved {
            streams.complain(&format!("{}: {message}", order.name))?;
        }
        for line in printed.warnings.iter().chain(&printed.failure) {
            if !said.contains(&line.as_str()) {
                streams.complain(line)?;
                said.push(line);
            }
        }
        if printed.failure.is_some() {
            status = ExitStatus::Unusable;
        }
        for (path, pages) in &printed.files {
            let words = if *pages == 1 { "page" } else { "pages" };
            streams.print(&format!("{}: {pages} {words}\n", path.display()))?;
        }
    }
    Ok(status)
}

fn date(arguments: &PapersArguments) -> placed::Date {
    arguments.date.unwrap_or_else(today)
}

/// What all orders of a run share.
struct Run<'a> {
    arguments: &'a PapersArguments,
    catalog: &'a Catalog,
    shop: &'a ShopDetails,
    press: &'a Press,
    date: placed::Date,
}

impl Run<'_> {
    /// Sets and writes the papers of an order.
    fn papers_of(&self, order: &Reviewed) -> Printed {
        let arguments = self.arguments;
        let Reviewed { sheet, review } = order;
        let approval = arguments
            .approved_by
            .as_deref()
            .map_or(Approval::NotYet, |name| Approval::By { name, overruling: arguments.overruling.as_deref() });
        let job = Job {
            sheet,
            review,
            catalog: self.catalog,
            shop: self.shop,
            date: self.date,
            revision: &arguments.revision,
            page_size: page_size(arguments, self.shop, sheet),
            units: units(arguments, self.shop, sheet),
            approval,
            // The book keeps what was measured; a sheet alone does not.
            found: &[],
        };
        let mut printed = Printed::default();
        if arguments.approved_by.is_some() && job.approved_by().is_none() {
            printed.not_approved = Some(not_approved(review.verdict));
        }
        for (name, papers) in wanted(arguments) {
            match self.press.press(&job, papers) {
                Ok(pressed) => printed.write(&arguments.out, &review.reference, name, pressed),
                Err(error) => {
                    printed.failure =
                        Some(format!("{error}\n  accepted: a template that can be set, see docs/papers.md"));
                }
            }
            if printed.failure.is_some() {
                break;
            }
        }
        printed
    }
}

/// The files that are wanted, each with its papers: the packet, or papers singly.
fn wanted(arguments: &PapersArguments) -> Vec<(&'static str, &[Paper])> {
    if !arguments.singly && arguments.only.is_empty() {
        return vec![("packet", PAPERS.as_slice())];
    }
    let papers: &[Paper] = if arguments.only.is_empty() { &PAPERS } else { &arguments.only };
    papers.iter().map(|paper| (paper.key(), std::slice::from_ref(paper))).collect()
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

fn page_size(arguments: &PapersArguments, shop: &ShopDetails, sheet: &Sheet) -> PageSize {
    match arguments.paper {
        Some(PapersPage::Letter) => PageSize::Letter,
        Some(PapersPage::A4) => PageSize::A4,
        None => shop.page_size_for(axle::leading(sheet) == Leading::Inches),
    }
}

fn units(arguments: &PapersArguments, shop: &ShopDetails, sheet: &Sheet) -> Units {
    let inches_lead = axle::leading(sheet) == Leading::Inches;
    match arguments.units {
        Some(DrawUnits::Inch) => Units::Inch,
        Some(DrawUnits::Millimetre) => Units::Millimetre,
        Some(DrawUnits::Dual) => Units::Dual { inches_first: inches_lead },
        None => shop.units_for(inches_lead),
    }
}

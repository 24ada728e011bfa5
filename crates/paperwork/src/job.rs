//! An order with everything that its papers need.

use axle::{Catalog, Review, Sheet, Side, Verdict};
use drawing::{Request, Standard, Style, Units, View};
use placed::Date;

use crate::found::Found;
use crate::shop::ShopDetails;

/// The size of the pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PageSize {
    /// 8 1/2 by 11 inches.
    Letter,
    /// 210 by 297 millimetres.
    A4,
}

/// Whether somebody has approved the papers for manufacture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Approval<'a> {
    /// Nobody has.
    NotYet,
    /// Somebody has.
    By {
        /// Who.
        name: &'a str,
        /// Why the order is made although the review would ask first.
        overruling: Option<&'a str>,
    },
    /// Somebody had, what they approved was made, and the papers are printed again as they were then.
    Made {
        /// Who.
        name: &'a str,
        /// As for [`Approval::By`].
        overruling: Option<&'a str>,
    },
}

/// An order with its review, and what else stands on its papers.
#[derive(Debug, Clone, Copy)]
pub struct Job<'a> {
    /// The order.
    pub sheet: &'a Sheet,
    /// Its review.
    pub review: &'a Review,
    /// What the order was reviewed with; it tells how each reading is taken.
    pub catalog: &'a Catalog,
    /// The shop.
    pub shop: &'a ShopDetails,
    /// The date of the papers.
    pub date: Date,
    /// The revision of the papers.
    pub revision: &'a str,
    /// The size of the pages.
    pub page_size: PageSize,
    /// The units of the numbers.
    pub units: Units,
    /// Whether somebody has approved them.
    pub approval: Approval<'a>,
    /// What the shop found on the shafts of this revision, the first first.
    pub found: &'a [Found],
}

impl<'a> Job<'a> {
    /// Who approved it, as far as an approval counts: never that of an order that stops, and that of an order that is to be
    /// asked about only with a reason.
    #[must_use]
    pub fn approved_by(&self) -> Option<&'a str> {
        let (Approval::By { name, overruling } | Approval::Made { name, overruling }) = self.approval else {
            return None;
        };
        let counts = match self.review.verdict {
            Verdict::Cut => true,
            Verdict::Ask => overruling.is_some(),
            Verdict::Stop => false,
        };
        counts.then_some(name)
    }

    /// The reason that an approval gives for making an order that is to be asked about.
    #[must_use]
    pub fn overruling(&self) -> Option<&'a str> {
        match self.approval {
            Approval::By { overruling, .. } | Approval::Made { overruling, .. }
                if self.approved_by().is_some() && self.review.verdict == Verdict::Ask =>
            {
                overruling
            }
            _ => None,
        }
    }

    /// The standard of the drawings: that of the leading unit.
    #[must_use]
    pub fn standard(&self) -> Standard {
        if self.units.leads_with_inches() { Standard::Asme } else { Standard::Iso }
    }

    /// How numbers are written.
    #[must_use]
    pub fn style(&self) -> Style {
        Style::of(self.standard(), self.units)
    }

    /// The sides that the order wants; the left where it names none.
    pub(crate) fn sides(&self) -> Vec<Side> {
        if self.sheet.wanted.is_empty() { vec![Side::Left] } else { self.sheet.wanted.clone() }
    }

    /// What is asked of a drawing.
    pub(crate) fn drawing_request<'d>(&'d self, view: View, side: Side, date: &'d str) -> Request<'d> {
        Request {
            view,
            side,
            standard: self.standard(),
            units: self.units,
            date,
            revision: self.revision,
            approved: self.approved_by().is_some(),
        }
    }
}

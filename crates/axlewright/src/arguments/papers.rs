//! The arguments of `axlewright papers`.

use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};

use super::DrawUnits;

/// What `papers --help` shows at its end.
pub(super) const EXAMPLES: &str = "\
Examples:
  axlewright papers order.toml --out papers
      the packet: every paper in one file, none of them for manufacture yet
  axlewright papers order.toml --out papers --shop our-shop --approved-by \"Tove Lind\" --revision 2
      with the shop's letterhead, approved
  axlewright papers order.toml --out papers --only measuring-sheet --paper a4
      one paper
  axlewright papers orders/*.toml --out papers
      the packets of many orders, on all cores

Without --paper and --units they follow the unit of each order: inch and Letter, or millimetre and A4.

Exit status:
  0  the papers were made, whatever the verdicts are; what is not known stands on their face
  2  a sheet, the catalog, the shop's folder, a template, the command line or a file could not be used";

/// The arguments of `papers`.
#[derive(Debug, Args)]
pub struct PapersArguments {
    /// Order sheets, TOML files
    #[arg(required = true, value_name = "SHEET", value_hint = clap::ValueHint::FilePath)]
    pub sheets: Vec<PathBuf>,

    /// The folder to write to; it is made where it is not there
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub out: PathBuf,

    /// Every paper in a file of its own, in place of the packet
    #[arg(long)]
    pub singly: bool,

    /// Only these papers, each in a file of its own
    #[arg(long, value_name = "PAPER", value_parser = paper_parser())]
    pub only: Vec<paperwork::Paper>,

    /// The size of the pages
    #[arg(long, value_enum, value_name = "SIZE")]
    pub paper: Option<PapersPage>,

    /// The units of the numbers
    #[arg(long, value_enum, value_name = "UNITS")]
    pub units: Option<DrawUnits>,

    /// The shop's own folder, with shop.toml, its logo and its templates
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub shop: Option<PathBuf>,

    /// The date of the papers, as 2026-11-25; without it, today in universal time
    #[arg(long, value_name = "DATE", value_parser = crate::today::read_date)]
    pub date: Option<placed::Date>,

    /// The revision of the papers
    #[arg(long, value_name = "REVISION", default_value = "1")]
    pub revision: String,

    /// Who approves the papers for manufacture; it is never believed of an order that stops
    #[arg(long, value_name = "NAME")]
    pub approved_by: Option<String>,

    /// Why an order is made that the review would ask about first; it stands on the papers
    #[arg(long, value_name = "REASON", requires = "approved_by")]
    pub overruling: Option<String>,

    /// Folder of the shop's own catalog, *.toml files whose rows extend or override the shipped ones
    #[arg(long, value_name = "DIR", value_hint = clap::ValueHint::DirPath)]
    pub catalog: Option<PathBuf>,
}

/// The size of the pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PapersPage {
    /// 8 1/2 x 11 in
    Letter,
    /// 210 x 297 mm
    A4,
}

fn paper_parser() -> impl TypedValueParser<Value = paperwork::Paper> {
    let keys = paperwork::PAPERS.map(paperwork::Paper::key);
    PossibleValuesParser::new(keys).try_map(|key| paperwork::Paper::from_key(&key).ok_or("no such paper"))
}

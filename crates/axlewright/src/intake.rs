//! Takes orders in: reads each sheet and has it reviewed.

use std::path::{Path, PathBuf};

use axle::{ModelError, Review, Sheet};
use catalog::Catalog;
use placed::Faults;
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use wire::UnreadSheet;

use shop_folder::Unreadable;

/// One order that was named on the command line.
#[derive(Debug)]
pub struct Order {
    /// The sheet as it was named.
    pub name: String,
    /// The sheet with its review, or why there is none.
    pub outcome: Result<Reviewed, Unread>,
}

/// A sheet with its review.
#[derive(Debug)]
pub struct Reviewed {
    /// The sheet.
    pub sheet: Sheet,
    /// Its review.
    pub review: Review,
}

/// Why a sheet could not be reviewed.
#[derive(Debug, Clone)]
pub enum Unread {
    /// The file itself cannot be read.
    File(Unreadable),
    /// The sheet holds faults.
    Faults(Faults),
    /// The catalog's numbers make no model that the sheet could be weighed with.
    Model(ModelError),
}

impl Unread {
    /// What would be accepted where the catalog makes no model.
    pub const SOUND_MODEL: &str = "a catalog whose rates and sizes make a sound model";

    /// How many faults there are.
    pub fn count(&self) -> usize {
        match self {
            Self::File(_) | Self::Model(_) => 1,
            Self::Faults(faults) => faults.len(),
        }
    }

    /// Why, on the wire.
    pub fn on_the_wire(&self, sheet: &str) -> UnreadSheet {
        match self {
            Self::File(file) => UnreadSheet::without_place(sheet, file.problem.clone(), &file.accepted),
            Self::Faults(faults) => UnreadSheet::with_faults(sheet, faults),
            Self::Model(error) => UnreadSheet::without_place(sheet, error.to_string(), Self::SOUND_MODEL),
        }
    }
}

/// Reads and reviews several sheets side by side; the outcomes come back in the order in which the sheets were named.
pub fn take_in(paths: &[PathBuf], catalog: &Catalog) -> Vec<Order> {
    paths.par_iter().map(|path| take_in_one(path, catalog)).collect()
}

/// Reads and reviews one sheet.
pub fn take_in_one(path: &Path, catalog: &Catalog) -> Order {
    let name = path.display().to_string();
    Order { outcome: reviewed(path, &name, catalog), name }
}

fn reviewed(path: &Path, name: &str, catalog: &Catalog) -> Result<Reviewed, Unread> {
    let text = shop_folder::read(path, "an order sheet: a text file in TOML, saved as UTF-8").map_err(Unread::File)?;
    let sheet = axle::read_sheet(name, &text, catalog).map_err(Unread::Faults)?;
    let review = axle::review(&sheet, catalog).map_err(Unread::Model)?;
    Ok(Reviewed { sheet, review })
}

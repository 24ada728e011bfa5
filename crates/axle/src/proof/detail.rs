//! Details of the shaft that the load cases ask for and that a drawing shows.

use catalog::{Catalog, LoadInput};
use quantity::millimetres;

use crate::fitted::FittedSize;
use crate::review::Basis;
use crate::sheet::Sheet;

/// A length among the inputs: as the sheet states it, or the middle of its bounds. None where there are no bounds.
pub(crate) fn shaft_detail(sheet: &Sheet, catalog: &Catalog, input: LoadInput) -> Option<FittedSize> {
    if let Some((value, line)) = sheet.loads.stated.get(&input) {
        let source = format!("order sheet, line {line}");
        let (size, basis) = (millimetres(*value), Basis::Measured);
        return Some(FittedSize { size, standard_uncertainty: None, basis, source });
    }
    let bound = catalog.load_bound(sheet.use_.of_loads(), input)?;
    Some(FittedSize {
        size: millimetres(0.5 * (bound.mild + bound.harsh)),
        standard_uncertainty: None,
        basis: Basis::Assumed,
        source: format!("middle of the bounds of the catalog: {}", bound.source),
    })
}

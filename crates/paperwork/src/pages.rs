//! What stands on each paper: one struct for each template, in the words and numbers that the template prints.

mod certificate;
mod confirmation;
mod fitting_sheet;
mod inspection_report;
mod measuring_sheet;
mod packing_label;
mod parts_list;
mod shop_drawing;
mod traveler;

pub use certificate::{Certificate, CertificateGroup, CertificateRow};
pub use confirmation::{ChangedReading, Confirmation, ConfirmedPart, ConfirmedSize, Group};
pub use fitting_sheet::{FittingSheet, FittingStep};
pub use inspection_report::{Characteristic, InspectedShaft, InspectionReport};
pub use measuring_sheet::{MeasuringGroup, MeasuringRow, MeasuringSheet, Purpose};
pub use packing_label::{PackedShaft, PackingLabel};
pub use parts_list::{PartRow, PartsList};
pub use shop_drawing::{DrawingOnPage, DrawingPage, Drawings, DrawnSheet};
pub use traveler::{Operation, Traveler};

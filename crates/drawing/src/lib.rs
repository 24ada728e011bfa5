//! Drawings of the reviewed shafts.
//!
//! [`ShaftShape`] is the geometry of one shaft out of the review, each size with how it came about. [`draw`] turns it into a
//! [`Drawing`], a display list that knows of no format; [`svg`] and [`dxf`] write that list out. Nothing here does I/O or
//! reads a clock: the date of a drawing is an argument.

mod arrow;
mod board;
mod column;
mod dimension;
mod dxf;
mod hatch;
mod ink;
mod item;
mod label;
mod leader;
pub mod lettering;
mod moved;
mod point;
mod shape;
mod style;
mod svg;
mod title_block;
mod view;

pub use dxf::dxf;
pub use ink::{INKS, Ink};
pub use item::{Dimension, Drawing, Item, Measure, Text};
pub use point::{Point, Rectangle};
pub use shape::{HardCase, ShaftShape, Size, SizeBasis, Step, StepKind, Surroundings};
pub use style::{Standard, Style, Units};
pub use svg::svg;
pub use view::{Request, View, draw};

//! Drawings of the reviewed shafts.
//!
//! [`ShaftShape`] is the geometry of one shaft out of the review, each size with how it came about. [`draw`] turns it into a
//! [`Drawing`], a display list that knows of no format; [`svg`] and [`dxf`] write that list out. [`step`] turns the same shape
//! into a solid and writes that. Nothing here does I/O or reads a clock: the date of a drawing is an argument.

mod arrow;
mod balloon;
mod board;
mod cells;
mod column;
mod dimension;
mod dxf;
mod figure;
mod hatch;
mod ink;
mod item;
mod label;
mod leader;
pub mod lettering;
mod moved;
mod point;
mod shape;
mod solid_shaft;
mod stress_plot;
mod style;
mod svg;
mod title_block;
mod view;

pub use balloon::{Balloon, Numbers, with_balloons};
pub use dxf::dxf;
pub use figure::{figure_styles, svg_figure};
pub use ink::{INKS, Ink};
pub use item::{Dimension, Drawing, Item, Measure, Note, Text};
pub use label::{Closeness, at_most_in_words, in_words, limits_in_words};
pub use point::{Point, Rectangle};
pub use shape::{
    END_CHAMFER_MM, HardCase, OutlinePiece, PILOT_CHAMFER_MM, ShaftShape, Size, SizeBasis, Step, StepKind, Surroundings,
};
pub use solid::{StepError, StepUnit};
pub use solid_shaft::{MissingSize, SolidRefusal, SolidShaft, StepRequest, step};
pub use stress_plot::{stress_figure, stress_plot};
pub use style::{Roughness, Standard, Style, Units};
pub use svg::{svg, svg_of_frame};
pub use view::{FACE_RUNOUT_MM, Request, View, draw};

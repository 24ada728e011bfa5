//! Lengths as people write them, measuring instruments, and standard uncertainty.
//!
//! Nothing here does I/O, reads a clock or keeps state; every function is pure.
//!
//! * [`read_length`] reads `31 5/16"` or `795.3 mm` and keeps how it was written ([`WrittenLength`]);
//!   [`read_count`] and [`read_thread`] read counts and thread designations, [`read_load`] masses, forces, torques,
//!   distances and stresses.
//! * [`decimal_inches`], [`fraction_inches`], [`millimetres_text`] and [`both`] write lengths out, [`both_load`] loads.
//! * [`capitalised`], [`sentence`], [`end_of_sentence`] and [`percent`] write words and probabilities alike everywhere.
//! * [`Instrument`] turns written readings into an uncertainty [`Budget`], after JCGM 100:2008.

mod alignment;
mod budget;
mod conversion;
mod count_text;
mod cursor;
mod instrument;
mod length;
mod length_format;
mod length_text;
mod length_text_error;
mod length_unit;
mod load_format;
mod load_text;
mod nearest_word;
mod percent;
mod quantile;
mod thread;
mod thread_text;
mod uncertainty;
mod uncertainty_error;
mod wording;
mod written_length;

pub use alignment::{bow_excess, slant_excess};
pub use budget::{Budget, Component, Expanded, SecondOrder};
pub use conversion::{
    FAHRENHEIT_PER_KELVIN, KSI_MPA, MILE_KM, POUND_FOOT_NM, POUND_FORCE_N, POUND_KG, SQUARE_INCH_MM2,
};
pub use count_text::{CountTextError, read_count};
pub use instrument::{Instrument, Limit, REPEATABILITY_DEGREES_OF_FREEDOM};
pub use length::{Length, LengthExt, inches, millimetres};
pub use length_format::{
    InchFraction, Leading, both, both_fine, both_fine_range, both_to, decimal_inches, fraction_inches,
    millimetres_text, nearest_fraction,
};
pub use length_text::read_length;
pub use length_text_error::LengthTextError;
pub use length_unit::LengthUnit;
pub use load_format::{LONGEST_USEFUL_KM, both_lives, both_load, cut_to_three_figures, load_text};
pub use load_text::{LoadKind, LoadTextError, read_load, read_written_load};
pub use nearest_word::nearest_word;
pub use percent::percent;
pub use quantile::{beta_quantile, chi_squared_quantile, normal_quantile, student_t_quantile};
pub use thread::Thread;
pub use thread_text::{ThreadTextError, read_thread};
pub use uncertainty::{Repeats, Shape, WeightedMean, combine, repeats, resolution, type_b, weighted_mean};
pub use uncertainty_error::UncertaintyError;
pub use wording::{capitalised, end_of_sentence, sentence};
pub use written_length::{Notation, WrittenLength};

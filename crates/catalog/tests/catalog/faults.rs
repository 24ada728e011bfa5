//! Every kind of fault, each at its exact line and column: the mark § in a text is the place where it must be found.

mod bearings_and_ends;
mod files_and_rows;
mod measuring;
mod other_parts;
mod settings;
mod splines;

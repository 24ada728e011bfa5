//! Outside check values for the machine elements, one table a topic.
//!
//! Every row names where its number comes from. A number that this crate produced is not a row.

#![cfg(test)]

mod bearing_clearance;
mod bolt_circle;
mod bolted_joint;
mod interference_fit;
mod involute_geometry;
mod involute_spline;
mod involute_spline_grid;
mod limits_fits;
mod limits_fits_grid;
mod rolling_bearing;
mod shaft;
mod shaft_fatigue_grid;
mod spline_capacity;
mod spline_identification;
mod table;
mod vehicle_load;

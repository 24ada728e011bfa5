//! Machine elements as pure functions: one topic a module, every formula with its source.
//!
//! Inside a formula a number is a plain `f64` with its unit in the name, such as `diameter_mm`.
//! Where any consistent unit of length works, the name carries none and the text says so.
//! A value outside the range in which a formula holds is an error that names the value and the
//! range. Where a table is entered between or beyond its printed points, the text says how.
//!
//! | module | what it gives | follows |
//! |---|---|---|
//! | [`bearing_clearance`] | clearance of a new bearing, and what pressing on leaves of it | ISO 5753-1, Lamé |
//! | [`bearing_seat`] | limits of a bearing's bore, usual shaft zones | ISO 492, seat tables |
//! | [`bolt_circle`] | circle from chords, edge gaps and spans, weighted best circle | plane geometry |
//! | [`bolted_joint`] | stress area, strengths, preload, torque, slip of a wheel joint | ISO 898-1, SAE J429, textbooks |
//! | [`fatigue`] | endurance limit and its factors, named criteria, shaft diameter | textbooks |
//! | [`interference_fit`] | pressure, stresses, holding force, heating, growth of a ring | Lamé |
//! | [`involute_spline`] | diameters, tooth thickness, sizes over and between pins, limits by class | ANSI B92.1, ISO 4156, DIN 5480 |
//! | [`limits_fits`] | tolerance zones of holes and shafts, fits | ISO 286 |
//! | [`rolling_bearing`] | equivalent load, rating life, duty, reliability, boundary dimensions | ISO 281, ISO 76, ISO 15 |
//! | [`shaft_strength`] | stresses, twist, stiffness, case depth | textbooks |
//! | [`spline_capacity`] | shear, compression and bursting of splines | Dudley, handbook method |
//! | [`steel`] | strengths by grade and treatment, torsional yield by hardness | published data |
//! | [`stress_concentration`] | shoulder fillets, notch sensitivity | fitted charts, Neuber |
//! | [`vehicle_load`] | weight transfer, drive limits, bending and bearing forces of a half shaft | vehicle-dynamics texts |

pub mod bearing_clearance;
pub mod bearing_seat;
pub mod bolt_circle;
pub mod bolted_joint;
pub mod fatigue;
pub mod interference_fit;
pub mod involute_spline;
pub mod limits_fits;
pub mod rolling_bearing;
pub mod shaft_strength;
pub mod spline_capacity;
pub mod steel;
pub mod stress_concentration;
pub mod vehicle_load;

//! What the units of one system are worth in the other.
//!
//! The factors are those of NIST Special Publication 811 (2008), appendix B.8. Those of pound, pound-force, inch, foot and mile are
//! exact; what follows from them is given to the last figure that the number holds.

/// Kilograms of an avoirdupois pound: exact.
pub const POUND_KG: f64 = 0.453_592_37;

/// Newtons of a pound-force, the pound times standard gravity, 9.80665 m/s²: exact.
pub const POUND_FORCE_N: f64 = 4.448_221_615_260_5;

/// Newton metres of a pound-force foot, the pound-force times 0.3048 m: exact to the last figure given.
pub const POUND_FOOT_NM: f64 = 1.355_817_948_331_400_4;

/// Megapascals of a thousand pounds-force per square inch.
pub const KSI_MPA: f64 = 6.894_757_293_168_361;

/// Square millimetres of a square inch, 25.4 mm by 25.4 mm: exact.
pub const SQUARE_INCH_MM2: f64 = 645.16;

/// Kilometres of a mile, 5280 ft of 0.3048 m: exact.
pub const MILE_KM: f64 = 1.609_344;

/// Degrees Fahrenheit of a difference of one kelvin.
pub const FAHRENHEIT_PER_KELVIN: f64 = 1.8;

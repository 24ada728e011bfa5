//! What the units of one system are worth in the other.
//!
//! The factors are those of NIST Special Publication 811 (2008), appendix B.8.

/// Newtons of a pound-force.
pub const POUND_FORCE_N: f64 = 4.448_221_615_260_5;

/// Newton metres of a pound-force foot.
pub const POUND_FOOT_NM: f64 = 1.355_817_948_331_400_4;

/// Megapascals of a thousand pounds-force per square inch.
pub const KSI_MPA: f64 = 6.894_757_293_168_361;

/// Square millimetres of a square inch.
pub const SQUARE_INCH_MM2: f64 = 645.16;

/// Kilometres of a statute mile.
pub const MILE_KM: f64 = 1.609_344;

/// Degrees Fahrenheit of a difference of one kelvin.
pub const FAHRENHEIT_PER_KELVIN: f64 = 1.8;

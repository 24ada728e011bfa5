//! Writes masses, forces, torques, distances and stresses out, in one system of units or in both.

use crate::conversion::{KSI_MPA, MILE_KM, POUND_FOOT_NM, POUND_FORCE_N, POUND_KG};
use crate::length_format::Leading;
use crate::load_text::LoadKind;

/// A life beyond this many kilometres is of no use to any vehicle, and its number says nothing any more: as far as an order sheet
/// may ask a shaft to last.
pub const LONGEST_USEFUL_KM: f64 = 2e6;

/// A load in one system of units, held as [`read_load`](crate::read_load) gives it: kg, N, N·m, km, MPa.
///
/// ```
/// use quantity::{Leading, LoadKind, load_text};
/// assert_eq!(load_text(816.466_266, LoadKind::Mass, Leading::Inches), "1800 lb");
/// assert_eq!(load_text(308.2, LoadKind::Stress, Leading::Millimetres), "308 MPa");
/// ```
#[must_use]
pub fn load_text(value: f64, kind: LoadKind, system: Leading) -> String {
    let (inch, metric) = texts(value, kind);
    if system == Leading::Inches { inch } else { metric }
}

/// A load in both systems of units.
///
/// ```
/// use quantity::{Leading, LoadKind, both_load};
/// assert_eq!(both_load(13_878.0, LoadKind::Force, Leading::Millimetres), "13.9 kN (3120 lbf)");
/// assert_eq!(both_load(434.0, LoadKind::Torque, Leading::Inches), "320 lb·ft (434 N·m)");
/// ```
#[must_use]
pub fn both_load(value: f64, kind: LoadKind, leading: Leading) -> String {
    let (inch, metric) = texts(value, kind);
    leading.pair(&inch, &metric)
}

/// A life in kilometres and miles to three figures, which is what the life of a bearing bears, cut off and not rounded: what is
/// short of a distance never reads as if it reached it.
///
/// ```
/// use quantity::{Leading, both_lives};
/// assert_eq!(both_lives(239_477.0, Leading::Millimetres), "239000 km (148000 mi)");
/// assert_eq!(both_lives(7.3e9, Leading::Inches), "more than 1240000 mi (2000000 km)");
/// ```
#[must_use]
pub fn both_lives(kilometres: f64, leading: Leading) -> String {
    let shown = kilometres.min(LONGEST_USEFUL_KM);
    let (inch, metric) = (cut_to_three_figures(shown / MILE_KM), cut_to_three_figures(shown));
    let more = if kilometres > LONGEST_USEFUL_KM { "more than " } else { "" };
    format!("{more}{}", leading.pair(&format!("{inch} mi"), &format!("{metric} km")))
}

/// A number that is not negative with three figures, cut off and not rounded.
///
/// ```
/// use quantity::cut_to_three_figures;
/// assert_eq!(cut_to_three_figures(239_977.0), "239000");
/// assert_eq!(cut_to_three_figures(1.2399), "1.23");
/// ```
#[must_use]
pub fn cut_to_three_figures(number: f64) -> String {
    const FIGURES: i32 = 3;
    /// So much that a number of three figures is not cut off for the dust of its binary form.
    const DUST: f64 = 1e-9;
    if !number.is_finite() || number <= 0.0 {
        return format!("{number:.0}");
    }
    // Numbers of this kind have far fewer figures than any integer holds.
    let places = FIGURES - 1 - number.log10().floor() as i32;
    let step = 10_f64.powi(-places);
    let cut = (number / step * (1.0 + DUST)).floor() * step;
    format!("{cut:.*}", usize::try_from(places).unwrap_or(0))
}

fn texts(value: f64, kind: LoadKind) -> (String, String) {
    match kind {
        LoadKind::Mass => (format!("{:.0} lb", value / POUND_KG), format!("{value:.0} kg")),
        LoadKind::Force => (format!("{:.0} lbf", value / POUND_FORCE_N), format!("{:.1} kN", value / 1000.0)),
        LoadKind::Torque => (format!("{:.0} lb·ft", value / POUND_FOOT_NM), format!("{value:.0} N·m")),
        LoadKind::Distance => (format!("{:.0} mi", value / MILE_KM), format!("{value:.0} km")),
        LoadKind::Stress => (format!("{:.1} ksi", value / KSI_MPA), format!("{value:.0} MPa")),
    }
}

#[cfg(test)]
mod tests {
    use super::{both_lives, both_load, cut_to_three_figures, load_text};
    use crate::length_format::Leading;
    use crate::load_text::{LoadKind, read_load};

    #[test]
    fn every_load_is_written_in_both_systems_the_leading_one_first() {
        for (value, kind, inch, metric) in [
            (816.466_266, LoadKind::Mass, "1800 lb", "816 kg"),
            (24_020.4, LoadKind::Force, "5400 lbf", "24.0 kN"),
            (135.581_795, LoadKind::Torque, "100 lb·ft", "136 N·m"),
            (160_934.4, LoadKind::Distance, "100000 mi", "160934 km"),
            (827.370_875, LoadKind::Stress, "120.0 ksi", "827 MPa"),
        ] {
            assert_eq!(both_load(value, kind, Leading::Inches), format!("{inch} ({metric})"));
            assert_eq!(both_load(value, kind, Leading::Millimetres), format!("{metric} ({inch})"));
            // What is written can be read again.
            for system in [Leading::Inches, Leading::Millimetres] {
                let read = read_load(&load_text(value, kind, system), kind).unwrap();
                assert!((read / value - 1.0).abs() < 5e-3, "{read} of {value}");
            }
        }
    }

    #[test]
    fn a_life_has_three_figures_and_never_reads_as_more_than_it_is() {
        assert_eq!(both_lives(249_999.0, Leading::Millimetres), "249000 km (155000 mi)");
        assert_eq!(both_lives(2e6, Leading::Millimetres), "2000000 km (1240000 mi)");
        assert_eq!(both_lives(2_000_001.0, Leading::Millimetres), "more than 2000000 km (1240000 mi)");
        assert_eq!(both_lives(f64::INFINITY, Leading::Inches), "more than 1240000 mi (2000000 km)");
        assert_eq!(both_lives(0.0, Leading::Millimetres), "0 km (0 mi)");
    }

    #[test]
    fn a_number_of_three_figures_stays_as_it_is() {
        for (number, text) in [(123.0, "123"), (0.07, "0.0700"), (9.99, "9.99"), (1000.0, "1000"), (0.0, "0")] {
            assert_eq!(cut_to_three_figures(number), text);
        }
        for thousands in 100..=999_u32 {
            let number = f64::from(thousands) * 1000.0;
            assert_eq!(cut_to_three_figures(number), format!("{thousands}000"));
            assert_eq!(cut_to_three_figures(number / 1e5), format!("{:.2}", f64::from(thousands) / 100.0));
        }
    }
}

//! What a tape reads too much when it is not held along the thing that it measures.

use crate::length::{Length, metres};

/// What a straight tape reads too much if its end lies off the line that is measured.
///
/// `√(L² + h²) − L`; `length` L is the true distance along the line, `offset` h the distance of the
/// tape's end from it. Any L and h of nought or more; the sign of h does not matter.
///
/// Source: the theorem of Pythagoras; for small angles it is the cosine error `h² / 2L` of length
/// metrology. It is written so that no digits cancel.
///
/// ```
/// use quantity::{LengthExt, millimetres, slant_excess};
/// let excess = slant_excess(millimetres(750.0), millimetres(5.0));
/// assert!((excess.millimetres() - 0.01667).abs() < 5e-6);
/// ```
pub fn slant_excess(length: Length, offset: Length) -> Length {
    if offset.value == 0.0 {
        return metres(0.0);
    }
    let slanted = length.value.hypot(offset.value);
    metres(offset.value * offset.value / (slanted + length.value))
}

/// What a tape reads too much if it bows out between its ends.
///
/// `8 s² / 3L`; `length` L is the true distance between the ends, above nought, `sag` s the greatest
/// distance of the tape from the straight line.
///
/// Source: the length of a flat parabola, first term of its series. The next term is smaller by
/// `12 s² / 5L²`, so the value is 2.4 % too big at s = L/10; beyond that use another way to measure.
///
/// ```
/// use quantity::{LengthExt, bow_excess, inches};
/// let excess = bow_excess(inches(30.0), inches(0.5));
/// assert!((excess.inches() - 0.0222).abs() < 5e-5);
/// ```
pub fn bow_excess(length: Length, sag: Length) -> Length {
    if sag.value == 0.0 {
        return metres(0.0);
    }
    metres(8.0 * sag.value * sag.value / (3.0 * length.value))
}

#[cfg(test)]
mod tests {
    use super::{bow_excess, slant_excess};
    use crate::length::{LengthExt, inches, millimetres};

    #[test]
    fn a_slanted_tape_at_thirty_inches() {
        // A slant of 5 degrees is an offset of 30 in times its tangent.
        let five_degrees = 30.0 * 5_f64.to_radians().tan();
        for (offset, excess) in [(1.0, 0.017), (2.0, 0.067), (five_degrees, 0.115)] {
            let found = slant_excess(inches(30.0), inches(offset)).inches();
            assert!((found - excess).abs() < 5e-4, "{offset}: {found}");
        }
        assert_eq!(slant_excess(inches(0.0), inches(0.0)), inches(0.0));
        assert_eq!(slant_excess(inches(0.0), inches(2.0)), inches(2.0));
    }

    #[test]
    fn a_bowed_tape_matches_the_exact_length_of_a_parabola() {
        let (length, sag) = (800.0_f64, 16.0_f64);
        let steepness = 4.0 * sag / length;
        let exact = 0.5 * length * (steepness.hypot(1.0) + steepness.asinh() / steepness);
        let excess = bow_excess(millimetres(length), millimetres(sag)).millimetres();
        let next_term = 12.0 / 5.0 * (sag / length).powi(2);
        let relative = (excess - (exact - length)) / excess;
        assert!((relative - next_term).abs() < 0.01 * next_term, "{relative}");
    }
}

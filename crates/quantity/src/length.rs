//! A length in the two units the trade reads: the inch and the millimetre.

use std::marker::PhantomData;

pub use uom::si::f64::Length;

/// Makes a length of so many inches.
///
/// The inch is 25.4 mm exactly (NIST Special Publication 811, 2008 edition, appendix B.6; the
/// international yard and pound agreement of 1959). The product with 254 is exact for every multiple of 1/64 in, so such a length is rounded
/// once only.
///
/// ```
/// use quantity::{LengthExt, inches};
/// assert_eq!(inches(31.3125).millimetres(), 795.3375);
/// ```
pub const fn inches(number: f64) -> Length {
    metres(number * 254.0 / 10_000.0)
}

/// Makes a length of so many millimetres.
///
/// ```
/// use quantity::{LengthExt, millimetres};
/// assert_eq!(millimetres(25.4).inches(), 1.0);
/// ```
pub const fn millimetres(number: f64) -> Length {
    metres(number / 1000.0)
}

/// The one place where a bare number becomes a length; `uom` keeps metres.
pub(crate) const fn metres(number: f64) -> Length {
    Length { dimension: PhantomData, units: PhantomData, value: number }
}

/// Reads a length in the units of the trade.
pub trait LengthExt {
    /// The length in inches.
    ///
    /// A number of inches with up to nine decimals comes back just as it went in.
    fn inches(&self) -> f64;

    /// The length in millimetres.
    ///
    /// A number of millimetres with up to nine decimals comes back just as it went in.
    fn millimetres(&self) -> f64;
}

impl LengthExt for Length {
    fn inches(&self) -> f64 {
        without_conversion_dust(self.value * 10_000.0 / 254.0)
    }

    fn millimetres(&self) -> f64 {
        without_conversion_dust(self.value * 1000.0)
    }
}

/// Gives the number with nine decimals at most that a converted number stands for.
///
/// The way to metres and back rounds two or three times, so the last two bits of a converted number
/// say nothing. Where a number of nine decimals (a millionth of a micrometre, or less) lies within
/// these bits, it is the number that was meant: 31.313 and not 31.313000000000002.
pub(crate) fn without_conversion_dust(number: f64) -> f64 {
    const DECIMALS: f64 = 1e9;
    let clean = (number * DECIMALS).round() / DECIMALS;
    if (clean - number).abs() <= 4.0 * f64::EPSILON * number.abs() { clean } else { number }
}

#[cfg(test)]
mod tests {
    use super::{Length, LengthExt, inches, metres, millimetres};

    #[test]
    fn nist_sp_811_the_inch_is_25_4_millimetres() {
        const INCH: Length = inches(1.0);
        assert_eq!(INCH, millimetres(25.4));
        assert_eq!(INCH.value, 0.0254);
    }

    #[test]
    fn every_64th_up_to_a_hundred_inches_comes_back_exactly() {
        for sixty_fourths in 0..6400 {
            let number = f64::from(sixty_fourths) / 64.0;
            assert_eq!(inches(number).inches(), number);
            // One 64th is 0.396875 mm, so the millimetres end after six decimals.
            let micro = (f64::from(sixty_fourths) * 396_875.0) / 1e6;
            assert_eq!(inches(number).millimetres(), micro);
        }
    }

    #[test]
    fn every_thousandth_of_a_millimetre_comes_back_exactly() {
        for thousandths in 0..1_000_000 {
            let number = f64::from(thousandths) / 1000.0;
            assert_eq!(millimetres(number).millimetres(), number);
        }
    }

    #[test]
    fn every_ten_thousandth_of_an_inch_comes_back_exactly() {
        for ten_thousandths in 0..400_000 {
            let number = f64::from(ten_thousandths) / 10_000.0;
            assert_eq!(inches(number).inches(), number);
        }
    }

    #[test]
    fn numbers_that_are_not_clean_are_left_alone() {
        let third = metres(1.0 / 3.0);
        assert_eq!(third.millimetres(), 1000.0 / 3.0);
        assert!(metres(f64::NAN).inches().is_nan());
        assert_eq!(metres(f64::INFINITY).inches(), f64::INFINITY);
        assert_eq!(metres(f64::NEG_INFINITY).millimetres(), f64::NEG_INFINITY);
        assert_eq!(inches(-0.5).inches(), -0.5);
    }
}

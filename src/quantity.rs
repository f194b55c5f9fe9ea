//! Exact numbers, units and measures. Arithmetic is checked: what does not
//! fit is an error for the author, never a wrapped number.

pub mod date;
pub mod number;
pub mod unit;

use num_rational::Ratio;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, ToPrimitive, Zero};

pub use number::{NumberFault, parse_number};
pub use unit::{Heap, Measure, PieceUnit, Size, Unit};

/// An exact fraction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Exact(Ratio<i64>);

impl Exact {
    pub const fn whole(value: i64) -> Self {
        Self(Ratio::new_raw(value, 1))
    }

    /// `None` for a zero denominator.
    pub fn fraction(numerator: i64, denominator: i64) -> Option<Self> {
        if denominator == 0 || denominator == i64::MIN || numerator == i64::MIN {
            return None;
        }
        Some(Self(Ratio::new(numerator, denominator)))
    }

    pub fn zero() -> Self {
        Self(Ratio::zero())
    }

    pub fn is_zero(self) -> bool {
        self.0.is_zero()
    }

    pub fn plus(self, other: Self) -> Option<Self> {
        self.0.checked_add(&other.0).map(Self)
    }

    pub fn times(self, other: Self) -> Option<Self> {
        self.0.checked_mul(&other.0).map(Self)
    }

    pub fn over(self, other: Self) -> Option<Self> {
        if other.is_zero() {
            return None;
        }
        self.0.checked_div(&other.0).map(Self)
    }

    pub fn value(self) -> f64 {
        self.0.to_f64().unwrap_or(f64::NAN)
    }

    pub fn numerator(self) -> i64 {
        *self.0.numer()
    }

    pub fn denominator(self) -> i64 {
        *self.0.denom()
    }

    /// The whole part and the fraction that is left, for mixed numbers.
    pub fn split(self) -> (i64, Self) {
        (self.0.trunc().to_integer(), Self(self.0.fract()))
    }
}

/// As a person would type it: `2`, `1/2`, `1 1/2`; a decimal where the
/// denominator is a power of ten.
impl std::fmt::Display for Exact {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (whole, rest) = self.split();
        let denominator = rest.denominator();
        if rest.is_zero() {
            return write!(f, "{whole}");
        }
        if denominator > 16 || matches!(denominator, 5 | 10) {
            return write!(f, "{}", self.value());
        }
        if whole != 0 {
            write!(f, "{whole} ")?;
        }
        write!(f, "{}/{}", rest.numerator(), denominator)
    }
}

/// A quantity that may be a range (`5 to 6`); the ends are equal otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Range {
    pub low: Exact,
    pub high: Exact,
}

impl Range {
    pub fn exactly(value: Exact) -> Self {
        Self { low: value, high: value }
    }

    pub fn is_single(self) -> bool {
        self.low == self.high
    }

    pub fn middle(self) -> f64 {
        (self.low.value() + self.high.value()) / 2.0
    }
}

impl std::fmt::Display for Range {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.is_single() { self.low.fmt(f) } else { write!(f, "{} to {}", self.low, self.high) }
    }
}

/// Rounds half to even on the decimal value: the binary number is first read
/// as the shortest decimal of 12 significant digits, so that 2.675 is the
/// half it looks like and not the binary neighbour below it.
pub fn round_half_even(value: f64, decimals: u8) -> f64 {
    if !value.is_finite() || value == 0.0 {
        return value;
    }
    let printed = format!("{value:.11e}");
    let Some((digits, exponent)) = printed.split_once('e') else {
        return value;
    };
    let Ok(exponent) = exponent.parse::<i32>() else {
        return value;
    };
    let Ok(mantissa) = digits.replace('.', "").parse::<i128>() else {
        return value;
    };
    // value = mantissa · 10^(exponent - 11); keep `decimals` digits.
    let drop = 11 - exponent - i32::from(decimals);
    if drop <= 0 {
        return value;
    }
    if drop > 30 {
        return 0.0;
    }
    let unit = 10_i128.pow(drop.unsigned_abs());
    let (mut quotient, rest) = (mantissa / unit, (mantissa % unit).abs());
    let sign = if mantissa < 0 { -1 } else { 1 };
    if rest * 2 > unit || (rest * 2 == unit && quotient % 2 != 0) {
        quotient += sign;
    }
    // Parsing the decimal gives the nearest double; a power of ten would not.
    format!("{quotient}e-{decimals}").parse().unwrap_or(value)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn rounding_is_half_to_even_on_the_decimal() {
        // The halves that binary floating point gets wrong.
        assert_eq!(round_half_even(2.675, 2), 2.68);
        assert_eq!(round_half_even(2.665, 2), 2.66);
        assert_eq!(round_half_even(0.5, 0), 0.0);
        assert_eq!(round_half_even(1.5, 0), 2.0);
        assert_eq!(round_half_even(-2.5, 0), -2.0);
        assert_eq!(round_half_even(1234.56, 1), 1234.6);
        assert_eq!(round_half_even(1e-40, 3), 0.0);
    }

    #[test]
    fn fractions_print_as_typed() {
        assert_eq!(Exact::fraction(3, 2).unwrap().to_string(), "1 1/2");
        assert_eq!(Exact::fraction(1, 10).unwrap().to_string(), "0.1");
        assert_eq!(Exact::whole(4).to_string(), "4");
        assert_eq!(Exact::fraction(1, 0), None);
    }
}

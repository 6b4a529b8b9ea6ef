//! Lengths and moments of music as exact fractions of a quarter note.

use std::cmp::Ordering;
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length or a moment in quarter notes, as an exact fraction in lowest terms.
///
/// Sums of triplets, dots and bars stay exact; floating point begins where a clock does ([`Quarters::to_f64`]). Values that
/// a song can hold (numerators and denominators up to 2^31) never overflow a sum; beyond that the result saturates
/// instead of wrapping, and a zero denominator reads as zero.
///
/// ```
/// # use breathmark::music::quarters::Quarters;
/// let dotted = Quarters::new(3, 2);
/// assert_eq!((dotted + Quarters::new(1, 3)).to_string(), "11/6");
/// assert_eq!(Quarters::from(4).to_string(), "4");
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Quarters {
    numerator: i64,
    denominator: i64,
}

impl Quarters {
    /// No time at all.
    pub const ZERO: Self = Self {
        numerator: 0,
        denominator: 1,
    };
    /// One quarter note.
    pub const ONE: Self = Self {
        numerator: 1,
        denominator: 1,
    };

    /// An eighth note.
    pub const EIGHTH: Self = Self {
        numerator: 1,
        denominator: 2,
    };

    /// `numerator/denominator` quarter notes, reduced; zero where the denominator is zero.
    #[must_use]
    pub fn new(numerator: i64, denominator: i64) -> Self {
        reduced(i128::from(numerator), i128::from(denominator))
    }

    /// The part above the line, in lowest terms; it carries the sign.
    #[must_use]
    pub const fn numerator(self) -> i64 {
        self.numerator
    }

    /// The part below the line, in lowest terms; 1 or more.
    #[must_use]
    pub const fn denominator(self) -> i64 {
        self.denominator
    }

    /// The nearest floating-point number.
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "the one border between exact time and clocks"
    )]
    pub fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }

    /// The largest whole number not above this one.
    #[must_use]
    pub const fn floor(self) -> i64 {
        self.numerator.div_euclid(self.denominator)
    }

    /// Whether this is more than nothing.
    #[must_use]
    pub const fn is_positive(self) -> bool {
        self.numerator > 0
    }

    /// Whether this is exactly nothing.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.numerator == 0
    }

    /// What remains after whole multiples of `unit` are taken away: from zero up to, not including, `unit`.
    /// Zero where `unit` is not positive.
    #[must_use]
    pub fn modulo(self, unit: Self) -> Self {
        if unit.is_positive() {
            self - unit * (self / unit).floor()
        } else {
            Self::ZERO
        }
    }
}

fn reduced(numerator: i128, denominator: i128) -> Quarters {
    if denominator == 0 {
        return Quarters::ZERO;
    }
    let (mut a, mut b) = (numerator.unsigned_abs(), denominator.unsigned_abs());
    while b != 0 {
        (a, b) = (b, a % b);
    }
    let divisor = i128::try_from(a).unwrap_or(1).max(1) * denominator.signum();
    Quarters {
        numerator: saturated(numerator / divisor),
        denominator: saturated(denominator / divisor).max(1),
    }
}

fn saturated(value: i128) -> i64 {
    i64::try_from(value).unwrap_or(if value < 0 { i64::MIN + 1 } else { i64::MAX })
}

impl Default for Quarters {
    /// No time at all.
    fn default() -> Self {
        Self::ZERO
    }
}

impl From<i64> for Quarters {
    fn from(whole: i64) -> Self {
        Self {
            numerator: whole,
            denominator: 1,
        }
    }
}

impl Add for Quarters {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        if self.denominator == other.denominator && self.denominator == 1 {
            return Self {
                numerator: self.numerator.saturating_add(other.numerator),
                denominator: 1,
            };
        }
        reduced(
            i128::from(self.numerator) * i128::from(other.denominator)
                + i128::from(other.numerator) * i128::from(self.denominator),
            i128::from(self.denominator) * i128::from(other.denominator),
        )
    }
}

impl Neg for Quarters {
    type Output = Self;
    fn neg(self) -> Self {
        Self {
            numerator: self.numerator.saturating_neg(),
            denominator: self.denominator,
        }
    }
}

impl Sub for Quarters {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self + -other
    }
}

impl AddAssign for Quarters {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl SubAssign for Quarters {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Mul for Quarters {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        reduced(
            i128::from(self.numerator) * i128::from(other.numerator),
            i128::from(self.denominator) * i128::from(other.denominator),
        )
    }
}

impl Mul<i64> for Quarters {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        self * Self::from(times)
    }
}

impl Div for Quarters {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        reduced(
            i128::from(self.numerator) * i128::from(other.denominator),
            i128::from(self.denominator) * i128::from(other.numerator),
        )
    }
}

impl Div<i64> for Quarters {
    type Output = Self;
    fn div(self, parts: i64) -> Self {
        self / Self::from(parts)
    }
}

impl Sum for Quarters {
    fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
        values.fold(Self::ZERO, Add::add)
    }
}

impl PartialOrd for Quarters {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Quarters {
    fn cmp(&self, other: &Self) -> Ordering {
        let left = i128::from(self.numerator) * i128::from(other.denominator);
        left.cmp(&(i128::from(other.numerator) * i128::from(self.denominator)))
    }
}

impl fmt::Display for Quarters {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.denominator == 1 {
            write!(f, "{}", self.numerator)
        } else {
            write!(f, "{}/{}", self.numerator, self.denominator)
        }
    }
}

impl fmt::Debug for Quarters {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_of_triplets_are_whole() {
        let third = Quarters::new(1, 3);
        assert_eq!(third + third + third, Quarters::ONE);
        assert_eq!([third; 6].into_iter().sum::<Quarters>(), Quarters::from(2));
    }

    #[test]
    fn remainder_counts_from_below() {
        assert_eq!(
            Quarters::from(-1).modulo(Quarters::from(3)),
            Quarters::from(2)
        );
        assert_eq!(
            Quarters::new(7, 2).modulo(Quarters::from(3)),
            Quarters::new(1, 2)
        );
        assert_eq!(Quarters::ONE.modulo(Quarters::ZERO), Quarters::ZERO);
    }

    #[test]
    fn extremes_saturate_and_never_wrap() {
        let huge = Quarters::from(i64::MAX);
        assert_eq!(huge + huge, huge);
        assert_eq!(huge / 0, Quarters::ZERO);
        assert!(huge * huge > Quarters::ZERO);
        assert_eq!(Quarters::new(1, i64::MIN).denominator().signum(), 1);
    }
}

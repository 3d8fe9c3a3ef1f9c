//! Decimal numbers of any length, so that a literal and its unit are rounded once.

use std::fmt::Write;

use crate::factor::Factor;

/// π as a whole number of 36 digits, times 10^-35. The digits are those of OEIS A000796.
const PI_DIGITS: u128 = 314_159_265_358_979_323_846_264_338_327_950_288;
const PI_EXPONENT: i64 = -35;

/// Digits kept of a quotient that does not end. A number that close to halfway between two
/// floating-point numbers does not occur by chance (one in 10^43).
const QUOTIENT_DIGITS: usize = 60;

/// Decimal exponents beyond this are the same as infinitely large or small.
const EXPONENT_LIMIT: i64 = 1_000_000_000;

/// A number that is not negative: the whole number `digits` times 10^`exponent`.
///
/// Every operation is exact except a quotient that does not end, which is cut after 60 digits
/// with a last digit that marks the rest, so that it still rounds to the right side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Decimal {
    negative: bool,
    /// Most significant first, without leading zeros; empty is 0.
    digits: Vec<u8>,
    exponent: i64,
}

impl Decimal {
    pub(crate) fn from_integer(value: u128) -> Self {
        let digits = value.to_string().bytes().map(|byte| byte - b'0').collect();
        Self::normalised(false, digits, 0)
    }

    /// The shortest decimal that stands for this number; `None` when it is not finite.
    pub(crate) fn from_f64(value: f64) -> Option<Self> {
        if !value.is_finite() {
            return None;
        }
        let mut decimal = Self::parse(&format!("{:e}", value.abs()))?;
        decimal.negative = value < 0.0;
        Some(decimal)
    }

    /// Reads `12`, `12.5`, `.5`, `5.`, `6.2e6`, `1E-3`; no sign, no separators.
    pub(crate) fn parse(text: &str) -> Option<Self> {
        let end = text.bytes().position(|byte| matches!(byte, b'e' | b'E'));
        let (mantissa, exponent) = text.split_at(end.unwrap_or(text.len()));
        let exponent = exponent.get(1..).map_or(Some(0), parse_exponent)?;
        let mut digits = Vec::with_capacity(mantissa.len());
        let mut places = None;
        for byte in mantissa.bytes() {
            match byte {
                b'.' if places.is_none() => places = Some(0),
                b'0'..=b'9' => {
                    digits.push(byte - b'0');
                    places = places.map(|places| places + 1);
                }
                _ => return None,
            }
        }
        if digits.is_empty() {
            return None;
        }
        let exponent = exponent - places.unwrap_or(0);
        Some(Self::normalised(false, digits, exponent))
    }

    pub(crate) fn is_zero(&self) -> bool {
        self.digits.is_empty()
    }

    /// The product with the size of a unit.
    pub(crate) fn times(self, factor: Factor) -> Self {
        let mut result = self.multiply(factor.numerator);
        result.exponent += i64::from(factor.decimal_exponent);
        for _ in 0..factor.pi_exponent {
            result = result.multiply(PI_DIGITS);
            result.exponent += PI_EXPONENT;
        }
        for _ in factor.pi_exponent..0 {
            result = result.divide(PI_DIGITS);
            result.exponent -= PI_EXPONENT;
        }
        result.divide(factor.denominator)
    }

    /// The sum of two numbers that are not negative.
    ///
    /// Their exponents must be of a size that floating-point numbers have, since the digits are
    /// lined up.
    pub(crate) fn plus(self, other: Self) -> Self {
        let exponent = self.exponent.min(other.exponent);
        let (left, right) = (self.reversed_from(exponent), other.reversed_from(exponent));
        let length = left.len().max(right.len()) + 1;
        let mut sum = Vec::with_capacity(length);
        let mut carry = 0;
        for index in 0..length {
            let digit = |digits: &[u8]| digits.get(index).copied().unwrap_or(0);
            let total = digit(&left) + digit(&right) + carry;
            sum.push(total % 10);
            carry = total / 10;
        }
        sum.reverse();
        Self::normalised(false, sum, exponent)
    }

    /// The nearest floating-point number, which may be infinite or 0.
    pub(crate) fn to_f64(&self) -> f64 {
        if self.is_zero() {
            return 0.0;
        }
        let mut text = String::with_capacity(self.digits.len() + 16);
        if self.negative {
            text.push('-');
        }
        text.extend(self.digits.iter().map(|digit| char::from(b'0' + digit)));
        // Writing to a text never fails, and the text is a number by construction.
        let _ = write!(text, "e{}", self.exponent);
        text.parse().unwrap_or(f64::NAN)
    }

    pub(crate) fn multiply(self, factor: u128) -> Self {
        debug_assert!(factor < Factor::LIMIT);
        if factor == 1 {
            return self;
        }
        let mut product = Vec::with_capacity(self.digits.len() + 40);
        let mut carry = 0;
        for digit in self.digits.iter().rev() {
            let total = u128::from(*digit) * factor + carry;
            product.push(last_digit(total));
            carry = total / 10;
        }
        while carry > 0 {
            product.push(last_digit(carry));
            carry /= 10;
        }
        product.reverse();
        Self::normalised(self.negative, product, self.exponent)
    }

    /// The quotient by a number that is not 0.
    pub(crate) fn divide(self, divisor: u128) -> Self {
        debug_assert!(divisor > 0 && divisor < Factor::LIMIT);
        if divisor == 1 || self.is_zero() {
            return self;
        }
        let mut exponent = self.exponent;
        let mut quotient = Vec::with_capacity(self.digits.len() + QUOTIENT_DIGITS);
        let mut remainder = 0;
        let mut significant = 0;
        let mut digits = self.digits.iter();
        loop {
            let next = match digits.next() {
                Some(digit) => *digit,
                None if remainder == 0 => break,
                None if significant >= QUOTIENT_DIGITS => {
                    exponent -= 1;
                    quotient.push(1);
                    break;
                }
                None => {
                    exponent -= 1;
                    0
                }
            };
            let partial = remainder * 10 + u128::from(next);
            let digit = last_digit(partial / divisor);
            remainder = partial % divisor;
            if significant > 0 || digit > 0 {
                significant += 1;
            }
            quotient.push(digit);
        }
        Self::normalised(self.negative, quotient, exponent)
    }

    /// The digits from the least significant, of the number as a multiple of 10^`exponent`.
    fn reversed_from(&self, exponent: i64) -> Vec<u8> {
        let zeros = usize::try_from(self.exponent - exponent).unwrap_or(0);
        let mut digits = vec![0; zeros];
        digits.extend(self.digits.iter().rev());
        digits
    }

    fn normalised(negative: bool, mut digits: Vec<u8>, mut exponent: i64) -> Self {
        let leading = digits.iter().take_while(|digit| **digit == 0).count();
        digits.drain(..leading);
        while digits.last() == Some(&0) {
            digits.pop();
            exponent += 1;
        }
        Self {
            negative: negative && !digits.is_empty(),
            exponent: if digits.is_empty() { 0 } else { exponent },
            digits,
        }
    }
}

fn last_digit(value: u128) -> u8 {
    (value % 10) as u8
}

/// The exponent of a literal; one beyond all bounds stands for infinitely large or small.
fn parse_exponent(text: &str) -> Option<i64> {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let size = digits.parse().unwrap_or(EXPONENT_LIMIT).min(EXPONENT_LIMIT);
    Some(if text.starts_with('-') { -size } else { size })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn number(text: &str) -> Decimal {
        Decimal::parse(text).unwrap()
    }

    #[test]
    fn reads_what_a_literal_can_be() {
        for (text, value) in [
            ("12", 12.0),
            ("0012.50", 12.5),
            (".5", 0.5),
            ("5.", 5.0),
            ("6.2e6", 6.2e6),
            ("1E-3", 1e-3),
            ("0e999", 0.0),
        ] {
            assert_eq!(number(text).to_f64(), value, "{text}");
        }
        for text in [
            "", ".", "e5", "1e", "1e+", "-1", "1_000", "1,5", "1..5", "½", "1e5.0", "inf",
        ] {
            assert_eq!(Decimal::parse(text), None, "{text}");
        }
        assert_eq!(number("1e99999999999999999999").to_f64(), f64::INFINITY);
        assert_eq!(number("1e-99999999999999999999").to_f64(), 0.0);
    }

    #[test]
    fn sums_line_up_their_digits() {
        assert_eq!(number("1.8288").plus(number("0.0762")), number("1.905"));
        assert_eq!(number("999").plus(number("1")), number("1000"));
        assert_eq!(number("0").plus(number("1e3")), number("1000"));
    }

    #[test]
    fn quotients_end_or_are_cut_beyond_what_a_number_holds() {
        assert_eq!(number("3").divide(4), number("0.75"));
        assert_eq!(number("1").divide(3).to_f64(), 1.0 / 3.0);
        assert_eq!(number("1").divide(3).digits.len(), QUOTIENT_DIGITS + 1);
        assert_eq!(number("1e300").divide(7).to_f64(), 1e300 / 7.0);
    }

    #[test]
    fn pi_is_right_to_the_last_bit() {
        let pi = Decimal::from_integer(1).times(Factor::PI).to_f64();
        assert_eq!(pi, std::f64::consts::PI);
        let inverse = Decimal::from_integer(1)
            .times(Factor::PI.inverse())
            .to_f64();
        assert_eq!(inverse, std::f64::consts::FRAC_1_PI);
    }

    proptest! {
        #[test]
        fn whole_number_arithmetic_agrees(a in 0..u64::MAX, b in 1..u64::MAX) {
            let product = u128::from(a) * u128::from(b);
            let decimal = Decimal::from_integer(a.into()).multiply(b.into());
            prop_assert_eq!(&decimal, &Decimal::from_integer(product));
            prop_assert_eq!(decimal.divide(b.into()), Decimal::from_integer(a.into()));
            let sum = Decimal::from_integer(a.into()).plus(Decimal::from_integer(b.into()));
            prop_assert_eq!(sum, Decimal::from_integer(u128::from(a) + u128::from(b)));
        }

        #[test]
        fn a_number_comes_back(value in proptest::num::f64::NORMAL | proptest::num::f64::SUBNORMAL) {
            prop_assert_eq!(Decimal::from_f64(value).unwrap().to_f64(), value);
        }

        #[test]
        fn any_text_is_answered(text in "[0-9.eE+-]{0,20}") {
            if let Some(decimal) = Decimal::parse(&text) {
                prop_assert_eq!(decimal.to_f64(), text.parse::<f64>().unwrap());
            }
        }
    }
}

//! Numbers as engineers write them.

/// A number to so many significant digits: `41.21`, `6.207e6`, `0`.
///
/// Plain digits from 0.001 to below 1e6, otherwise with a power of ten. Rounding is of the exact
/// value, halves to even; -0 does not appear, nor does a number that is not finite: the numbers
/// of [`Quantity`](crate::Quantity) are always finite.
pub fn format_number(value: f64, digits: u8) -> String {
    if value == 0.0 {
        return "0".to_string();
    }
    let places = usize::from(digits.max(1)) - 1;
    let rounded = format!("{value:.places$e}");
    let Some((mantissa, exponent)) = rounded.split_once('e') else {
        return rounded;
    };
    let exponent: i32 = exponent.parse().unwrap_or(0);
    match usize::try_from(exponent) {
        Ok(exponent) if exponent < 6 && exponent <= places => shift_right(mantissa, exponent),
        Ok(exponent) if exponent < 6 => {
            let zeros = "0".repeat(exponent - places);
            format!("{}{zeros}", mantissa.replace('.', ""))
        }
        Err(_) if exponent >= -3 => {
            let zeros = "0".repeat(usize::try_from(-1 - exponent).unwrap_or(0));
            let (sign, size) = split_sign(mantissa);
            format!("{sign}0.{zeros}{}", size.replace('.', ""))
        }
        _ => rounded,
    }
}

/// `1.234` with its point moved two places to the right: `123.4`.
fn shift_right(mantissa: &str, places: usize) -> String {
    let (sign, size) = split_sign(mantissa);
    let mut text = String::with_capacity(mantissa.len());
    text.push_str(sign);
    let digits = size.chars().filter(|digit| *digit != '.');
    for (index, digit) in digits.enumerate() {
        if index == places + 1 {
            text.push('.');
        }
        text.push(digit);
    }
    text
}

fn split_sign(text: &str) -> (&str, &str) {
    match text.strip_prefix('-') {
        Some(size) => ("-", size),
        None => ("", text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn plain_digits_in_the_usual_range() {
        for (value, text) in [
            (41.2069, "41.21"),
            (-41.2069, "-41.21"),
            (12.0, "12.00"),
            (165.0004, "165.0"),
            (1234.6, "1235"),
            (123456.0, "123500"),
            (0.5, "0.5000"),
            (0.001, "0.001000"),
            (-0.001234, "-0.001234"),
            (0.0, "0"),
            (-0.0, "0"),
            (9.9996, "10.00"),
        ] {
            assert_eq!(format_number(value, 4), text);
        }
        assert_eq!(format_number(7.0, 1), "7");
        assert_eq!(format_number(72.0, 1), "70");
        assert_eq!(format_number(123456.789, 9), "123456.789");
    }

    #[test]
    fn a_power_of_ten_beyond_it() {
        for (value, text) in [
            (6.2069e6, "6.207e6"),
            (999_960.0, "1.000e6"),
            (999_940.0, "999900"),
            (0.00099999, "0.001000"),
            (0.00099, "9.900e-4"),
            (-1.2e-5, "-1.200e-5"),
            (f64::MAX, "1.798e308"),
        ] {
            assert_eq!(format_number(value, 4), text);
        }
        assert_eq!(format_number(6.2e6, 1), "6e6");
    }

    #[test]
    fn halves_go_to_even() {
        assert_eq!(format_number(0.125, 2), "0.12");
        assert_eq!(format_number(0.375, 2), "0.38");
    }

    proptest! {
        #[test]
        fn within_half_a_unit_of_the_last_digit(value in proptest::num::f64::NORMAL, digits in 1..17u8) {
            let read: f64 = format_number(value, digits).parse().unwrap();
            let exact: f64 = format!("{value:.*e}", usize::from(digits) - 1).parse().unwrap();
            prop_assert_eq!(read, exact);
        }

        #[test]
        fn seventeen_digits_come_back(value in proptest::num::f64::NORMAL) {
            prop_assert_eq!(format_number(value, 17).parse::<f64>().unwrap(), value);
        }
    }
}

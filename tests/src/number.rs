//! A number as a page writes it: its value and how far the digits written reach.

use haunch_quantity::Unit;

/// A number with its unit, in SI, and half of its last digit.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// In SI units.
    pub si: f64,
    /// Half of the last digit written, in SI units.
    pub half_digit: f64,
}

impl Written {
    /// Reads `41.21 mm`, `1.5`, `6.2e6 mm^4`.
    pub fn read(text: &str) -> Result<Written, String> {
        let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
        let value: f64 = number
            .parse()
            .map_err(|_| format!("`{number}` is no number"))?;
        let factor = match unit.trim() {
            "" => 1.0,
            unit => Unit::parse(unit)
                .map_err(|_| format!("`{unit}` is no unit"))?
                .factor(),
        };
        let (mantissa, power) = number.split_once('e').unwrap_or((number, "0"));
        let power: i32 = power
            .parse()
            .map_err(|_| format!("`{number}` is no number"))?;
        let places = mantissa
            .split_once('.')
            .map_or(0, |(_, fraction)| fraction.len());
        let exponent = power - i32::try_from(places).map_err(|_| "too many digits".to_string())?;
        let digit: f64 = format!("1e{exponent}")
            .parse()
            .map_err(|_| "no digit".to_string())?;
        Ok(Written {
            si: value * factor,
            half_digit: 0.5 * digit * factor.abs(),
        })
    }

    /// Whether a value agrees to the digits written. The working was rounded once to them, and the
    /// program's own rounding is far below: a thousandth more is allowed for a tie.
    pub fn agrees(&self, si: f64) -> bool {
        (si - self.si).abs() <= self.half_digit * 1.001
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_decide_how_close() {
        let written = Written::read("41.21 mm").unwrap();
        assert!(written.agrees(0.041_214_9) && !written.agrees(0.041_216));
        let written = Written::read("6.2e6 mm^4").unwrap();
        assert!(written.agrees(6.249e-6) && !written.agrees(6.26e-6));
        assert!(Written::read("0 mm").unwrap().agrees(0.0));
        assert!(Written::read("4 mmm").is_err() && Written::read("x mm").is_err());
    }
}

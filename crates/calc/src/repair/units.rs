//! Units of a wanted dimension that are near a written one.

use haunch_quantity::{Dimension, Preferences, Unit};

/// What may have been left out after a unit, or may be one power too many.
const ENDS: &[&str] = &[
    "", "^2", "^3", "^4", "/m", "/ft", "*m", "*ft", "/m^2", "/m^3",
];

/// Spellings of units of the wanted dimension: first the written unit with a length or a power put
/// right, then the unit that results are shown in, then the trade's usual one.
pub(crate) fn near(
    written: Option<&str>,
    wanted: Dimension,
    preferences: &Preferences,
) -> Vec<String> {
    let mut units: Vec<Unit> = Vec::new();
    if let Some(written) = written {
        let is_power = |c: char| c == '^' || c.is_ascii_digit() || matches!(c, '²' | '³' | '⁴');
        let word = written.trim_end_matches(is_power);
        for end in ENDS {
            for base in [written, word] {
                units.extend(Unit::parse(&format!("{base}{end}")));
            }
        }
    }
    units.push(preferences.unit_for(wanted));
    units.push(wanted.typical_unit());
    units.retain(|unit| unit.dimension() == wanted && !unit.is_one());
    let mut texts: Vec<String> = Vec::new();
    for text in units.iter().map(Unit::source_text) {
        if !texts.contains(&text) {
            texts.push(text);
        }
    }
    texts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_written_unit_is_kept_where_it_can_be() {
        let near = |written, wanted| near(Some(written), wanted, &Preferences::default());
        assert_eq!(near("kN", Dimension::FORCE_PER_LENGTH)[0], "kN/m");
        assert_eq!(near("lbf", Dimension::FORCE_PER_LENGTH)[1], "lbf/ft");
        assert_eq!(near("cm^2", Dimension::SECOND_MOMENT_OF_AREA)[0], "cm^4");
        assert_eq!(near("mm^2", Dimension::LENGTH)[0], "mm");
    }
}

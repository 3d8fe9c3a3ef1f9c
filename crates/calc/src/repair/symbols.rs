//! What letters usually stand for. They help to rank repairs and to find the place of a slip, and
//! never decide what a name means.
//!
//! The letters follow ISO 3898 (names and symbols of physical quantities in structural design; from
//! memory) and the habits of the trade (common practice, no source).

use haunch_quantity::Dimension;

use Dimension as D;

const CUSTOMARY: &[(&str, &[Dimension])] = &[
    ("A", &[D::AREA]),
    ("E", &[D::STRESS]),
    ("G", &[D::STRESS, D::FORCE]),
    ("I", &[D::SECOND_MOMENT_OF_AREA]),
    ("J", &[D::SECOND_MOMENT_OF_AREA]),
    ("S", &[D::FIRST_MOMENT_OF_AREA]),
    ("W", &[D::FIRST_MOMENT_OF_AREA]),
    ("Z", &[D::FIRST_MOMENT_OF_AREA]),
    ("Q", &[D::FIRST_MOMENT_OF_AREA, D::FORCE]),
    ("M", &[D::MOMENT]),
    ("T", &[D::MOMENT, D::FORCE]),
    ("F", &[D::FORCE]),
    ("N", &[D::FORCE]),
    ("P", &[D::FORCE]),
    ("R", &[D::FORCE]),
    ("V", &[D::FORCE]),
    ("H", &[D::FORCE, D::LENGTH]),
    ("q", &[D::FORCE_PER_LENGTH]),
    ("w", &[D::FORCE_PER_LENGTH]),
    ("f", &[D::STRESS, D::FREQUENCY]),
    ("k", &[D::FORCE_PER_LENGTH, D::MOMENT]),
    ("EI", &[D::FLEXURAL_RIGIDITY]),
    ("rho", &[D::DENSITY, D::RATIO]),
    ("ρ", &[D::DENSITY, D::RATIO]),
    ("kappa", &[D::CURVATURE]),
    ("κ", &[D::CURVATURE]),
    ("sigma", &[D::STRESS]),
    ("σ", &[D::STRESS]),
    ("tau", &[D::STRESS]),
    ("τ", &[D::STRESS]),
    ("L", &[D::LENGTH]),
    ("l", &[D::LENGTH]),
    ("b", &[D::LENGTH]),
    ("d", &[D::LENGTH]),
    ("e", &[D::LENGTH]),
    ("h", &[D::LENGTH]),
    ("r", &[D::LENGTH]),
    ("t", &[D::LENGTH]),
    ("x", &[D::LENGTH]),
    ("y", &[D::LENGTH]),
    ("z", &[D::LENGTH]),
    ("ybar", &[D::LENGTH]),
];

/// The letter of a name: what stands before an underscore or a number.
pub(super) fn letter(name: &str) -> &str {
    let name = name.split('_').next().unwrap_or(name);
    name.trim_end_matches(|c: char| c.is_ascii_digit() || ('₀'..='₉').contains(&c) || c == '\'')
}

/// Whether a name usually stands for a quantity of this dimension; `None` for other names.
pub(crate) fn is_customary(name: &str, dimension: Dimension) -> Option<bool> {
    let letter = letter(name);
    // Ix, Sy: a letter with its axis.
    let without_axis = letter.strip_suffix(['x', 'y', 'z']).unwrap_or(letter);
    let row = CUSTOMARY
        .iter()
        .find(|(symbol, _)| *symbol == letter)
        .or_else(|| CUSTOMARY.iter().find(|(symbol, _)| *symbol == without_axis))?;
    Some(row.1.contains(&dimension))
}

/// Whether a single name of a formula usually stands for a quantity of this dimension, whatever its
/// letter: the kinds that sections, loads and stresses are written with.
pub(super) fn is_common(dimension: Dimension) -> bool {
    [
        D::LENGTH,
        D::AREA,
        D::FIRST_MOMENT_OF_AREA,
        D::SECOND_MOMENT_OF_AREA,
        D::FORCE,
        D::MOMENT,
        D::STRESS,
        D::FORCE_PER_LENGTH,
    ]
    .contains(&dimension)
}

/// Whether a name tells what is allowed or can be carried (ISO 3898 and EN 1990 for the letters f and R
/// and the index Rd; from memory; else common practice, no source).
pub(crate) fn is_bound(name: &str) -> bool {
    const WORDS: &[&str] = &[
        "allow",
        "allowable",
        "allowed",
        "adm",
        "lim",
        "limit",
        "Rd",
        "Rk",
        "req",
        "capacity",
        "yield",
        "strength",
        "resistance",
    ];
    matches!(letter(name), "f" | "R" | "limit") || name.split('_').any(|part| WORDS.contains(&part))
}

/// How unlikely it is that this name is raised to this power: depths, lengths and radii are, moduli,
/// loads and breadths hardly ever.
pub(super) fn reluctance_to_powers(base: &str, power: i32) -> f64 {
    if power == 1 {
        return 0.0;
    }
    match letter(base) {
        "h" | "d" | "L" | "l" | "D" | "H" | "span" | "r" | "y" | "x" | "a" => 0.0,
        "E" | "G" | "M" | "P" | "F" | "N" | "V" | "w" | "q" | "I" | "W" | "S" | "J" => 0.5,
        _ => 0.2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_with_what_hangs_on_them() {
        assert_eq!(is_customary("A_web", D::AREA), Some(true));
        assert_eq!(is_customary("Ix", D::SECOND_MOMENT_OF_AREA), Some(true));
        assert_eq!(is_customary("S1", D::SECOND_MOMENT_OF_AREA), Some(false));
        assert_eq!(is_customary("purlin", D::AREA), None);
    }
}

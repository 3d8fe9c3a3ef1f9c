//! What a name says: which result is meant on the left side, and what a factor is on the right.
//!
//! Letters are read as ISO 3898 (from memory) and the habits of the trade use them; where countries
//! differ (J, S and Z) a name is open to all that it is used for. Common practice, no source.

use super::symbols::Role;
use super::{Gives, Shape};

/// What a name says of a result.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Said {
    /// The name stands for another one.
    No,
    /// It may stand for this one or for others.
    Open,
    /// It stands for this one.
    Yes,
}

use Said::{No, Open, Yes};

/// A name as its first letters and what hangs on them: `I_flange`, `sigma_v`, `A1`, `Wpl_y`.
fn split(name: &str) -> (&str, &str) {
    let (head, tail) = name.split_once('_').unwrap_or((name, ""));
    let head = head
        .trim_end_matches(|c: char| c.is_ascii_digit() || ('₀'..='₉').contains(&c) || c == '\'');
    (head, tail)
}

/// The first letters of a name, without an index.
pub(crate) fn head(name: &str) -> &str {
    split(name).0
}

/// A letter with the axis written behind it (`Ix`, `Wyy`) or below it (`I_x`, `W_el_y`).
fn axis<'a>(head: &'a str, tail: &'a str) -> &'a str {
    let behind = head.trim_start_matches(|c: char| !matches!(c, 'x' | 'y' | 'z'));
    if !behind.is_empty() && head.chars().count() == 1 + behind.len() && is_axis(behind) {
        return behind;
    }
    tail.split('_').find(|word| is_axis(word)).unwrap_or("")
}

/// Whether the name on the left says that a second moment or a modulus is about the axis across the
/// section, from side to side: `Ix`, `I_xx`.
pub(crate) fn is_about_x(name: &str) -> bool {
    let (head, tail) = split(name);
    axis(head, tail).starts_with('x')
}

/// Whether the name is a letter alone.
pub(crate) fn is_plain(name: &str) -> bool {
    name.chars().count() == 1
}

/// Whether nothing in the name says that it is about several parts: it is a letter with no more than
/// its axis, a number, or a word for elastic or plastic, as `Ixx` and `W_el_y`.
pub(crate) fn is_of_one(name: &str) -> bool {
    let (head, tail) = split(name);
    let mut letters = head.chars();
    letters.next();
    let is_known = |word: &str| {
        let number = word.chars().all(|c| c.is_ascii_digit());
        number || is_axis(word) || marks(word, "el") || marks(word, "pl")
    };
    is_known(letters.as_str()) && tail.split('_').all(is_known)
}

fn is_axis(word: &str) -> bool {
    matches!(word, "x" | "y" | "z" | "xx" | "yy" | "zz")
}

/// Whether a word is a mark such as `pl`, with or without an axis: `ply`.
fn marks(word: &str, mark: &str) -> bool {
    let axis = word.strip_prefix(mark);
    axis.is_some_and(|axis| axis.is_empty() || is_axis(axis))
}

/// Whether a name is one of a product of area: `Ixy`, `I_yz`.
fn is_of_two_axes(head: &str, tail: &str) -> bool {
    let index = head.get(1..).unwrap_or("");
    let index = if index.is_empty() { tail } else { index };
    let axes = index.split('_').next().unwrap_or("").as_bytes();
    matches!(axes, [one @ b'x'..=b'z', other @ b'x'..=b'z'] if one != other)
}

/// What the name on the left says of a result.
pub(crate) fn said(name: &str, gives: Gives) -> Said {
    let (head, tail) = split(name);
    let first = head.chars().next().unwrap_or(' ');
    let is = |yes: bool| if yes { Yes } else { Open };
    match gives {
        Gives::Area => is(matches!(head, "A" | "area")),
        Gives::Centroid => is(matches!(head, "ybar" | "xbar" | "zbar" | "centroid")
            || (matches!(head, "y" | "x" | "z") && matches!(tail, "c" | "s" | "0" | "bar"))),
        Gives::SecondMoment | Gives::PolarMoment | Gives::TorsionConstant => {
            fourth(name, head, tail, first, gives)
        }
        Gives::SectionModulus
        | Gives::PlasticModulus
        | Gives::TorsionModulus
        | Gives::FirstMoment => third(name, head, tail, first, gives),
        Gives::Gyration => {
            let of_axis = matches!(tail, "x" | "y" | "z" | "min");
            if head == "i" || (head == "r" && of_axis) || name.contains("gyration") {
                Yes
            } else if head == "r" {
                // Mostly a plain radius.
                Open
            } else {
                No
            }
        }
        Gives::NormalStress | Gives::Equivalent | Gives::ShearStress => {
            stress(name, head, tail, gives)
        }
        Gives::ShearFlow => is(matches!(head, "q" | "f" | "flow" | "shear")),
        Gives::Moment => is(matches!(first, 'M') && head.len() <= 2),
        Gives::Reaction => match head {
            _ if is_critical(name, tail) => No,
            "R" | "V" | "reaction" | "shear" | "A" | "B" => Yes,
            _ => Open,
        },
        Gives::Deflection => is(matches!(
            head,
            "v" | "w" | "u" | "f" | "y" | "z" | "d" | "delta" | "δ" | "Δ" | "deflection" | "sag"
        )),
        Gives::Slope => is(matches!(
            head,
            "theta" | "θ" | "phi" | "φ" | "slope" | "rotation" | "twist"
        )),
        Gives::CriticalLoad => match first {
            'N' | 'P' | 'F' if is_critical(name, tail) => Yes,
            _ if name.contains("euler") || name.contains("critical") => Yes,
            'R' | 'V' => No,
            _ => Open,
        },
        Gives::ShearModulus => match first {
            'G' => Yes,
            'E' => No,
            _ => Open,
        },
        Gives::Other => Open,
    }
}

fn is_critical(name: &str, tail: &str) -> bool {
    let word = |word: &str| matches!(word, "cr" | "crit" | "e" | "E" | "euler" | "buckling");
    tail.split('_').any(word) || name.ends_with("cr")
}

fn fourth(name: &str, head: &str, tail: &str, first: char, gives: Gives) -> Said {
    let torsion = matches!(gives, Gives::PolarMoment | Gives::TorsionConstant);
    if name.contains("inertia") || name.contains("second_moment") {
        return if torsion { Open } else { Yes };
    }
    match first {
        'J' => {
            if torsion {
                Yes
            } else {
                Open
            }
        }
        'I' if is_of_two_axes(head, tail) => No,
        'I' => match (axis(head, tail), tail.split('_').next().unwrap_or("")) {
            // `I_o` may be a polar one, and that of what lies outside.
            ("", "p" | "P" | "polar") => {
                if torsion {
                    Yes
                } else {
                    No
                }
            }
            ("", "t" | "T" | "tor" | "torsion" | "D") => Open,
            ("", "w" | "omega" | "W") => No,
            ("", _) => {
                if torsion {
                    Open
                } else {
                    Yes
                }
            }
            _ => {
                if torsion {
                    No
                } else {
                    Yes
                }
            }
        },
        _ => Open,
    }
}

fn third(name: &str, head: &str, tail: &str, first: char, gives: Gives) -> Said {
    let is_marked = |mark: &str| {
        let behind = head.get(first.len_utf8()..).unwrap_or("");
        marks(behind, mark) || tail.split('_').any(|word| marks(word, mark))
    };
    let elastic = is_marked("el") || tail.split('_').any(|word| word == "e");
    let plastic = is_marked("pl");
    let yes_or = |yes: Gives, other: Said| if gives == yes { Yes } else { other };
    if name.contains("section_modulus") {
        return yes_or(Gives::SectionModulus, No);
    }
    if name.contains("plastic_modulus") {
        return yes_or(Gives::PlasticModulus, No);
    }
    match first {
        'W' | 'S' | 'Z' if elastic => yes_or(Gives::SectionModulus, No),
        'W' | 'S' | 'Z' if plastic => yes_or(Gives::PlasticModulus, No),
        // Polar, plastic, torsion, timber: an index of many meanings.
        'W' | 'S' | 'Z' if matches!(tail, "p" | "P" | "t" | "T") => Open,
        'W' if gives == Gives::FirstMoment => No,
        'W' | 'S' | 'Z' => yes_or(Gives::SectionModulus, Open),
        'Q' => yes_or(Gives::FirstMoment, No),
        _ => Open,
    }
}

fn stress(name: &str, head: &str, tail: &str, gives: Gives) -> Said {
    let equivalent = name.contains("mises")
        || name.contains("equivalent")
        || (matches!(head, "sigma" | "σ")
            && matches!(tail, "v" | "V" | "vm" | "vM" | "VM" | "eq" | "eqv"));
    if equivalent {
        return match gives {
            Gives::Equivalent => Yes,
            Gives::ShearStress => No,
            _ => Open,
        };
    }
    match (head, gives) {
        ("tau" | "τ", Gives::ShearStress) => Yes,
        ("tau" | "τ", _) => No,
        ("sigma" | "σ", Gives::ShearStress) => No,
        ("sigma" | "σ", Gives::NormalStress) => Yes,
        _ => Open,
    }
}

/// What a name says that stands where another role is needed, as `a diameter`; `None` where it does
/// not contradict.
///
/// `round` tells that the formula is one of a circle, where `d` can only be its diameter.
pub(crate) fn contradiction(role: Role, text: &str, round: bool) -> Option<&'static str> {
    let own = text.rsplit('.').next().unwrap_or(text);
    let is_member = own.len() < text.len();
    let (head, tail) = split(own);
    let is_diameter = matches!(head, "D" | "dia" | "diameter") || (head == "d" && round);
    match role {
        Role::Radius if is_diameter => Some("a diameter"),
        Role::Diameter if matches!(head, "r" | "R" | "radius") => Some("a radius"),
        Role::ToEdge => match own {
            "h" | "H" | "depth" | "height" => Some("the whole depth"),
            "width" if is_member => Some("the whole width"),
            "D" | "diameter" => Some("the whole diameter"),
            _ => None,
        },
        Role::Elastic if head == "G" => Some("a shear modulus"),
        Role::ShearModulus if head == "E" => Some("a modulus of elasticity"),
        Role::FirstMoment if is_member && own.contains("modulus") => Some("a section modulus"),
        Role::FirstMoment if !is_member && matches!(head, "W" | "Z" | "Wel" | "Wx" | "Wy") => {
            Some("a section modulus")
        }
        Role::SectionModulus if is_member && own.starts_with("first_moment") => {
            Some("a first moment of area")
        }
        Role::SectionModulus if head == "Q" && tail.is_empty() => Some("a first moment of area"),
        Role::NormalStress if matches!(head, "tau" | "τ") => Some("a shear stress"),
        Role::ShearStress if matches!(head, "sigma" | "σ") => Some("a normal stress"),
        Role::SecondMoment if is_member && own == "torsion_constant" => Some("a torsion constant"),
        _ => None,
    }
}

/// Whether a result of a section about one axis stands beside a distance along the same axis:
/// `tee.Ixx` with `tee.to_left`.
pub(crate) fn axes_differ(second_moment: &str, to_edge: &str) -> bool {
    let own = |text: &'_ str| text.rsplit_once('.').map(|(_, own)| own.to_owned());
    let (Some(moment), Some(edge)) = (own(second_moment), own(to_edge)) else {
        return false;
    };
    let upright = matches!(edge.as_str(), "to_top" | "to_bottom");
    let sideways = matches!(edge.as_str(), "to_left" | "to_right");
    (moment == "Ixx" && sideways) || (moment == "Iyy" && upright)
}

/// Whether a name is one of a breadth.
pub(crate) fn is_breadth(text: &str) -> bool {
    matches!(text, "b" | "B" | "width" | "breadth")
}

/// Whether a name is one of a depth.
pub(crate) fn is_depth(text: &str) -> bool {
    matches!(text, "h" | "H" | "depth" | "height")
}

/// Whether a name is one that the trade has for a size of this role.
pub(crate) fn is_usual(role: Role, text: &str) -> bool {
    let own = text.rsplit('.').next().unwrap_or(text);
    let usual: &[&str] = match role {
        Role::Breadth => &["b", "B", "w", "width", "breadth"],
        // Where the depth is called d, as in the United States, b stands beside it.
        Role::Depth => &["h", "H", "d", "D", "depth", "height"],
        Role::Diameter => &["d", "D", "dia", "diameter", "phi", "φ", "ø", "Ø"],
        Role::Radius => &["r", "R", "radius"],
        _ => return true,
    };
    usual.contains(&head(own))
}

/// Shapes that a word of a name means.
const SHAPE_WORDS: &[(&[&str], &[Shape])] = &[
    (
        &[
            "flange",
            "web",
            "plate",
            "rect",
            "rectangle",
            "leg",
            "stem",
            "board",
            "strip",
            "shelf",
            "plank",
            "joist",
        ],
        &[Shape::Rectangle, Shape::HollowRectangle, Shape::ThinPlate],
    ),
    (
        &["tube", "pipe"],
        &[Shape::Tube, Shape::ThinTube, Shape::Cell],
    ),
    (
        &["rod", "circle", "disc", "shaft", "bolt", "wire", "round"],
        &[Shape::Circle, Shape::Tube, Shape::ThinTube],
    ),
    (&["triangle", "tri"], &[Shape::Triangle]),
];

/// Cases of a beam that a word of the name on the left means.
const CASE_WORDS: &[(&[&str], &[Shape])] = &[
    (&["simple", "simply"], &[Shape::Simple]),
    (
        &["cantilever", "cant"],
        &[Shape::Cantilever, Shape::Overhang],
    ),
    (&["propped"], &[Shape::Propped]),
];

/// The shapes that words of these names mean; none where there is no such word or they disagree.
pub(crate) fn shapes<'a>(names: impl Iterator<Item = &'a str>) -> Option<&'static [Shape]> {
    meant(SHAPE_WORDS, names)
}

/// The cases of a beam that words of the name on the left mean.
pub(crate) fn cases(left: &str) -> Option<&'static [Shape]> {
    meant(CASE_WORDS, std::iter::once(left))
}

fn meant<'a>(
    table: &'static [(&'static [&'static str], &'static [Shape])],
    names: impl Iterator<Item = &'a str>,
) -> Option<&'static [Shape]> {
    let mut meant: Option<&'static [Shape]> = None;
    for name in names {
        // Most names are a letter with a number.
        if name.trim_end_matches(|c: char| c.is_ascii_digit()).len() < 3 {
            continue;
        }
        for word in name.split(['_', '.']) {
            let word = word.trim_end_matches(|c: char| c.is_ascii_digit());
            let row = table
                .iter()
                .find(|(words, _)| words.iter().any(|known| known.eq_ignore_ascii_case(word)));
            let Some((_, shapes)) = row else { continue };
            match meant {
                Some(known) if known != *shapes => return None,
                _ => meant = Some(shapes),
            }
        }
    }
    meant
}

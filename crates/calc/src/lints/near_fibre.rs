//! A stress, or a strength in bending, at the nearer of two outermost fibres.
//!
//! Which fibre governs is seen from the distances of both; whether the nearer one is meant, from the
//! line's name and from the other lines, which may look at the farther one.

use haunch_quantity::{Dimension, Quantity, format_quantity};
use haunch_syntax::{ExpressionId, ExpressionKind, Factor, Path, Statement};
use smol_str::SmolStr;

use super::Line;
use super::among_lines::Among;
use super::product::{Product, products};
use super::together::Question;
use crate::finding::{Code, Finding, Severity};
use crate::line::LineId;
use crate::resolve::Target;
use crate::value::Evaluated;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "near-fibre",
    severity: Severity::Warning,
    summary: "a bending stress is worked out at the nearer fibre, where the farther one governs",
    page: include_str!("../findings/pages/near-fibre.md"),
};

/// Fibres that differ by less than this are equally far; common practice, no source.
const SAME: f64 = 0.01;
/// How far a distance may be from that of a fibre to be the same, by rounding only.
const ROUNDING: f64 = 1e-9;

/// Words in a name that say which fibre is meant; common practice, no source.
const SAYING: [&str; 24] = [
    "top",
    "bottom",
    "bot",
    "upper",
    "lower",
    "left",
    "right",
    "inner",
    "outer",
    "near",
    "far",
    "t",
    "c",
    "tension",
    "compression",
    "flange",
    "web",
    "stem",
    "tip",
    "toe",
    "heel",
    "edge",
    "weld",
    "glue",
];

/// Distance and modulus of each of two opposite fibres.
type Pair = [(&'static str, &'static str); 2];

/// Words of opposite fibres in the names of a hand calculation.
const OPPOSITES: [(&str, &str); 5] = [
    ("top", "bottom"),
    ("top", "bot"),
    ("upper", "lower"),
    ("left", "right"),
    ("inner", "outer"),
];

/// Second moments of area, each with the size over all, and with the distances and moduli of its two
/// outermost fibres.
const OF_SECTION: [(&str, &str, Pair); 2] = [
    (
        "Ixx",
        "depth",
        [
            ("to_top", "section_modulus_top"),
            ("to_bottom", "section_modulus_bottom"),
        ],
    ),
    (
        "Iyy",
        "width",
        [
            ("to_left", "section_modulus_left"),
            ("to_right", "section_modulus_right"),
        ],
    ),
];

/// Whether a line could have the finding, by itself: it names a second moment of area or a section
/// modulus.
pub(super) fn concerns(line: Line<'_>) -> bool {
    let is_stated = matches!(
        line.tree.statement,
        Statement::Value(_) | Statement::Verify(_)
    );
    let mut expressions = line.tree.expressions.iter().zip(line.evaluated);
    is_stated
        && expressions.any(|(expression, evaluated)| {
            matches!(expression.kind, ExpressionKind::Path(_))
                && matches!(
                    evaluated.kind.dimension(),
                    Some(Dimension::SECOND_MOMENT_OF_AREA | Dimension::FIRST_MOMENT_OF_AREA)
                )
        })
}

/// A fibre that a product is worked out at.
struct Fibre {
    /// Where it stands.
    id: ExpressionId,
    /// What it is called here.
    name: String,
    value: Evaluated,
    /// It is half the depth, where no outermost fibre is.
    is_half: bool,
    other: Other,
}

/// The fibre opposite.
struct Other {
    name: String,
    value: Evaluated,
    /// What the name begins with, for lines that look at it.
    first: SmolStr,
    /// What makes a line one that looks at it.
    looks: Question,
}

pub(super) fn findings(among: Among<'_>, line: Line<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for product in products(line) {
        findings.extend(by_function(among, line, &product));
        let fibre = of_section(among, line, &product).or_else(|| by_names(among, line, &product));
        findings.extend(fibre.and_then(|fibre| told(among, line, fibre)));
    }
    if let Statement::Value(value) = &line.tree.statement
        && !findings.is_empty()
        && among.any_reader(&value.name.text, Question::SaysFibre)
    {
        return Vec::new();
    }
    findings
}

/// The finding, if the fibre is the nearer one and no other line looks at the farther one.
fn told(among: Among<'_>, line: Line<'_>, fibre: Fibre) -> Option<Finding> {
    let (here, there) = (fibre.value.as_quantity()?, fibre.other.value.as_quantity()?);
    let is_distance = here.dimension() == Dimension::LENGTH;
    let (least, most) = if is_distance {
        (here, there)
    } else {
        (there, here)
    };
    let is_nearer = least.si() > 0.0 && least.si() * (1.0 + SAME) < most.si();
    let Other { first, looks, .. } = &fibre.other;
    if !is_nearer || among.any_reader(first, looks.clone()) {
        return None;
    }
    let shown = |quantity| format_quantity(quantity, None, among.preferences());
    let (near, far) = (shown(here), shown(there));
    let Fibre {
        id,
        name,
        is_half,
        other,
        ..
    } = fibre;
    let other_name = &other.name;
    let message = if is_half {
        format!(
            "{name}, {near}, is no fibre's distance, since the centroid is not in the middle. The \
             stress is greatest at the farther fibre, {other_name}, {far} away. Use that one, or state \
             both."
        )
    } else if is_distance {
        format!(
            "{name}, {near}, is the distance to the nearer outermost fibre. The stress is greatest \
             at the farther one, {other_name}, {far} away. Use that one, or state both."
        )
    } else {
        format!(
            "{name}, {near}, is the section modulus of the nearer outermost fibre. The stress is \
             greatest at the farther one, with {other_name}, {far}. Use that one, or state both."
        )
    };
    let place = line.place(line.expression(id)?.span);
    let mut finding = Finding::new(&CODE, place, message);
    if !is_half && place.span.text(line.text) == name {
        finding = finding.with_repair(format!("Write {other_name}"), place, other_name.clone());
    }
    Some(finding)
}

/// Whether a line looks at a fibre of a section: by the name of one of these results, or by a distance
/// that is as long.
pub(super) fn looks_at(
    section: &SmolStr,
    members: &[&str],
    distance: &Evaluated,
    line: Line<'_>,
) -> bool {
    let by_name = line.tree.paths().any(|path| {
        let names = path.names.as_slice();
        let last = names.last().map_or("", |name| name.text.as_str());
        names.len() > 1 && names[0].text == *section && members.contains(&last)
    });
    by_name
        || line
            .evaluated
            .iter()
            .any(|own| own.as_dimension(Dimension::LENGTH).is_some() && is_same(own, distance))
}

/// The larger of both moduli, or the smaller of both distances, where the other one governs:
/// `f*max(tee.section_modulus_top, tee.section_modulus_bottom)`.
fn by_function(among: Among<'_>, line: Line<'_>, product: &Product) -> Option<Finding> {
    product.factors.iter().find_map(|factor| {
        let path = line.path(factor.id)?;
        let ([function], Some([one, other])) =
            (path.names.as_slice(), path.arguments.as_deref())
        else {
            return None;
        };
        let (one, other) = (result(among, line, *one)?, result(among, line, *other)?);
        let pair = of_modulus(&one.2).or_else(|| of_distance(&one.2))?;
        let is_modulus = of_modulus(&one.2).is_some();
        let of_kind = |both: (&'static str, &'static str)| if is_modulus { both.1 } else { both.0 };
        let both = [of_kind(pair[0]), of_kind(pair[1])];
        let is_pair = one.1 == other.1
            && one.2 != other.2
            && both.contains(&one.2.as_str())
            && both.contains(&other.2.as_str());
        let (near, far) = if is_modulus {
            ("max", "min")
        } else {
            ("min", "max")
        };
        let divides = factor.divides == is_modulus;
        let is_equal = is_same(&among.member(one.1, both[0]), &among.member(one.1, both[1]));
        if !is_pair
            || function.text != near
            || is_equal
            || !is_of_bending(line, product, factor.id, divides)
            || says_which(line.name().unwrap_or(""), &among.names_in(one.1))
        {
            return None;
        }
        let what = if is_modulus {
            "section modulus"
        } else {
            "distance"
        };
        let message = format!(
            "the {near} of both is the {what} of the nearer outermost fibre. The stress is greatest \
             at the farther one, with the {far} of both."
        );
        let place = line.place(line.expression(factor.id)?.span);
        let name = line.place(function.span);
        Some(
            Finding::new(&CODE, place, message)
                .with_repair(format!("Write {far}"), name, far),
        )
    })
}

/// The fibre of a product that names a section: `M*y/tee.Ixx`, `M/tee.section_modulus_top`.
fn of_section(among: Among<'_>, line: Line<'_>, product: &Product) -> Option<Fibre> {
    let factors = &product.factors;
    for factor in factors {
        let Some((path, heading, member)) = result(among, line, factor.id) else {
            continue;
        };
        let section = path.names.first()?.text.clone();
        let prefix = |member: &str| {
            let names = path.names.iter().map(|name| name.text.as_str());
            let names: Vec<&str> = names.take(path.names.len() - 1).chain([member]).collect();
            names.join(".")
        };
        let value = |member: &str| among.member(heading, member);
        let is_modulus = of_modulus(&member).is_some();
        let Some(pair) = of_modulus(&member).or_else(|| of_second_moment(&member)) else {
            continue;
        };
        let far = usize::from(!is_farther(&value(pair[0].0), &value(pair[1].0)));
        let size = size_over_all(&member).map_or(Evaluated::UNKNOWN, value);
        let half = half_of(&size);
        let mut is_half = false;
        let (at, divides, index) = if is_modulus {
            let index = usize::from(pair[1].1 == member);
            (factor.id, factor.divides, index)
        } else {
            let distance = |other: &&Factor| {
                other.divides != factor.divides
                    && line.dimension(**other) == Some(Dimension::LENGTH)
            };
            let mut distances = factors.iter().filter(distance);
            let own = distances.find_map(|own| {
                let known = line.evaluated(own.id);
                let index = pair.iter().position(|(to, _)| is_same(known, &value(to)));
                let halved = factors.iter().any(|factor| {
                    factor.divides != own.divides && line.bare_number(factor.id) == Some("2")
                });
                is_half = match half {
                    Some(_) if halved => is_same(known, &size),
                    Some(half) => is_same(known, &Evaluated::quantity(half)),
                    None => false,
                };
                let index = index.or(is_half.then_some(1 - far))?;
                Some((own.id, !own.divides, index))
            });
            let Some(own) = own else { continue };
            own
        };
        if !is_of_bending(line, product, at, divides) {
            continue;
        }
        let says = says_which(line.name().unwrap_or(""), &among.names_in(heading));
        if says || !among.is_of_one_material(heading) {
            return None;
        }
        let (here, there) = (pair[index], pair[1 - index]);
        let of_kind = |both: (&'static str, &'static str)| if is_modulus { both.1 } else { both.0 };
        return Some(Fibre {
            id: at,
            name: match is_half {
                true => format!("half the {}", size_over_all(&member)?),
                false => prefix(of_kind(here)),
            },
            value: match half.filter(|_| is_half) {
                Some(half) => Evaluated::quantity(half),
                None => value(of_kind(here)),
            },
            is_half,
            other: Other {
                name: prefix(of_kind(there)),
                value: value(of_kind(there)),
                first: section,
                looks: Question::LooksAt {
                    members: [there.0, there.1],
                    distance: value(there.0),
                },
            },
        });
    }
    None
}

/// The fibre of a product by the names of a hand calculation: `M*y_top/I` beside y_bottom.
fn by_names(among: Among<'_>, line: Line<'_>, product: &Product) -> Option<Fibre> {
    if says_which(line.name().unwrap_or(""), &[]) {
        return None;
    }
    let factors = &product.factors;
    for factor in factors {
        let Some(name) = line.plain_name(factor.id) else {
            continue;
        };
        let divides = match line.dimension(*factor) {
            Some(Dimension::LENGTH) => {
                let is_second_moment = |other: &Factor| {
                    other.divides != factor.divides
                        && line.dimension(*other) == Some(Dimension::SECOND_MOMENT_OF_AREA)
                };
                if !factors.iter().any(is_second_moment) {
                    continue;
                }
                !factor.divides
            }
            Some(Dimension::FIRST_MOMENT_OF_AREA) => factor.divides,
            _ => continue,
        };
        if !is_of_bending(line, product, factor.id, divides) {
            continue;
        }
        let value = line.evaluated(factor.id).clone();
        let opposite = opposites(name).find_map(|other| {
            let found = among.value(&other)?.clone();
            (found.kind == value.kind).then_some((other, found))
        });
        let Some((other, found)) = opposite else {
            continue;
        };
        return Some(Fibre {
            id: factor.id,
            name: name.to_owned(),
            value,
            is_half: false,
            other: Other {
                name: other.clone(),
                value: found,
                first: other.into(),
                // One distance is often the depth less the other one.
                looks: Question::UsesElsewhere { than: name.into() },
            },
        });
    }
    None
}

/// Whether the product is one of bending: a moment is divided by the section modulus, a stress
/// multiplied by it, or there is the modulus alone. `divides` says on which side the modulus is.
fn is_of_bending(line: Line<'_>, product: &Product, at: ExpressionId, divides: bool) -> bool {
    let factors = &product.factors;
    if divides && line.evaluated(product.id).kind.dimension() == Some(Dimension::STRESS) {
        return true;
    }
    let mut is_alone = true;
    for factor in factors.iter().filter(|factor| factor.id != at) {
        match line.dimension(*factor) {
            Some(Dimension::MOMENT) => return factor.divides != divides,
            Some(Dimension::STRESS) => return factor.divides == divides,
            Some(Dimension::SECOND_MOMENT_OF_AREA) => {}
            Some(dimension) if dimension.is_ratio() => {}
            _ => is_alone = false,
        }
    }
    let modulus = factors.iter().any(|factor| {
        line.dimension(*factor) == Some(Dimension::SECOND_MOMENT_OF_AREA) && !factor.divides
    });
    is_alone && modulus
}

/// The result of a section in this file that an expression is, directly or by a value of the file
/// that is nothing else.
fn result<'a>(
    among: Among<'a>,
    line: Line<'a>,
    id: ExpressionId,
) -> Option<(&'a Path, LineId, SmolStr)> {
    let mut path = line.path(id)?;
    if path.names.len() == 1 {
        let defining = among.defining(&path.names[0].text)?;
        path = defining.path(defining.body()?)?;
    }
    match among.resolve(path) {
        Target::Block { heading, member } if path.arguments.is_none() => {
            (!member.is_empty()).then_some((path, heading, member))
        }
        _ => None,
    }
}

/// The two fibres of a second moment of area.
fn of_second_moment(member: &str) -> Option<Pair> {
    let found = OF_SECTION.iter().find(|(own, ..)| *own == member)?;
    Some(found.2)
}

/// The two fibres of which a section modulus is one's.
fn of_modulus(member: &str) -> Option<Pair> {
    let is_one = |pair: &Pair| pair.iter().any(|(_, modulus)| *modulus == member);
    let found = OF_SECTION.iter().find(|(.., pair)| is_one(pair))?;
    Some(found.2)
}

/// The two fibres of which a distance is one's.
fn of_distance(member: &str) -> Option<Pair> {
    let is_one = |pair: &Pair| pair.iter().any(|(distance, _)| *distance == member);
    let found = OF_SECTION.iter().find(|(.., pair)| is_one(pair))?;
    Some(found.2)
}

/// The size over all that goes with a second moment of area.
fn size_over_all(member: &str) -> Option<&'static str> {
    let found = OF_SECTION.iter().find(|(own, ..)| *own == member)?;
    Some(found.1)
}

/// Half a length.
fn half_of(length: &Evaluated) -> Option<Quantity> {
    let length = length.as_quantity()?;
    Quantity::new(0.5 * length.si(), length.dimension())
}

fn is_farther(one: &Evaluated, other: &Evaluated) -> bool {
    let length = |own: &Evaluated| own.as_quantity().map(|own| own.si());
    length(one) > length(other)
}

fn is_same(one: &Evaluated, other: &Evaluated) -> bool {
    let (Some(one), Some(other)) = (one.as_quantity(), other.as_quantity()) else {
        return false;
    };
    (one.si() - other.si()).abs() <= ROUNDING * other.si().abs()
}

/// Whether a name says which fibre it is about: by a word for one, or by a part or point of the
/// section.
fn says_which(name: &str, of_section: &[SmolStr]) -> bool {
    let words = name.split('_').skip(1);
    let mut words = words.map(str::to_lowercase);
    words.any(|word| {
        SAYING.contains(&word.as_str()) || of_section.iter().any(|own| own.to_lowercase() == word)
    }) || names_a_fibre(name)
}

fn names_a_fibre(name: &str) -> bool {
    opposites(name).next().is_some()
}

/// The names of the opposite fibre.
fn opposites(name: &str) -> impl Iterator<Item = String> {
    let both = OPPOSITES.iter().flat_map(|&(a, b)| [(a, b), (b, a)]);
    both.filter(|(own, _)| name.contains(own))
        .map(|(own, other)| name.replacen(own, other, 1))
}

/// Whether a line that uses the result says which fibre it is at: `expect s = on_it.stress_top`.
pub(super) fn says_fibre(line: Line<'_>) -> bool {
    line.tree.paths().any(|path| {
        let last = path.names.last().map_or("", |name| name.text.as_str());
        path.names.len() > 1 && (names_a_fibre(last) || last == "stress")
    })
}

//! How much a product looks like the formulas of the trade ([`super::shapes`]): by its dimensions, powers,
//! letters and usual numbers.

use std::hash::BuildHasher;
use std::sync::LazyLock;

use haunch_quantity::Dimension;
use rustc_hash::{FxBuildHasher, FxHashMap};

use super::shapes::{ROLES, Role, SHAPES};
use super::symbols::{is_customary, letter};

/// What a name that fits its place badly takes from the likeness, at most.
const MISFIT: f64 = 0.35;
/// What a number that is usual in the formula adds to it.
const USUAL_NUMBER: f64 = 0.1;

/// What it takes from the likeness that a formula of the list is solved for another part.
const SOLVED: f64 = 0.1;
/// What it takes from it that one formula is put into another.
const PUT_TOGETHER: f64 = 0.15;
/// Most parts of formulas that are put together.
const MOST_PARTS: usize = 7;
/// What is commonly written out in a formula: loads, moments and properties of sections.
const PUT_IN: [Dimension; 6] = [
    Dimension::FORCE,
    Dimension::FORCE_PER_LENGTH,
    Dimension::MOMENT,
    Dimension::AREA,
    Dimension::FIRST_MOMENT_OF_AREA,
    Dimension::SECOND_MOMENT_OF_AREA,
];

/// One factor of a shape or of a product: half powers, so that roots can be told, negative below the
/// stroke.
#[derive(Clone, Copy)]
struct Part {
    role: &'static Role,
    halves: i32,
}

#[derive(Clone)]
struct Shape {
    left: &'static Role,
    parts: Vec<Part>,
    numbers: Vec<&'static str>,
    /// What it takes from the likeness that the formula is not in the list as it stands.
    derived: f64,
}

/// All shapes, and where those stand that have the same dimensions and powers.
struct Index {
    shapes: Vec<Shape>,
    of: FxHashMap<u64, Vec<usize>>,
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let listed: Vec<Shape> = SHAPES.lines().filter_map(Shape::read).collect();
    let mut shapes = listed.clone();
    for shape in &listed {
        shapes.extend(shape.solved_for_its_parts());
        shapes.extend(shape.with_parts_put_in(&listed));
    }
    let mut of: FxHashMap<u64, Vec<usize>> = FxHashMap::default();
    for (index, shape) in shapes.iter().enumerate() {
        let parts = shape.parts.iter().map(|part| (part.role.1, part.halves));
        of.entry(signature(parts)).or_default().push(index);
    }
    Index { shapes, of }
});

/// The same for the same dimensions and powers in any order.
fn signature(parts: impl Iterator<Item = (Dimension, i32)>) -> u64 {
    let hash = |part| FxBuildHasher.hash_one(part);
    parts.map(hash).fold(0, u64::wrapping_add)
}

impl Shape {
    fn read(line: &'static str) -> Option<Shape> {
        let role = |name: &str| ROLES.iter().find(|(known, ..)| *known == name);
        let (formula, numbers) = line.split_once(':').unwrap_or((line, ""));
        let (left, right) = formula.split_once('=')?;
        let (above, below) = right.split_once('/').unwrap_or((right, ""));
        let (left, whole) = match left.trim().strip_suffix("^2") {
            Some(root) => (root, 1),
            None => (left.trim(), 2),
        };
        let mut parts = Vec::new();
        for (side, sign) in [(above, whole), (below, -whole)] {
            for word in side.split_whitespace() {
                let (name, power) = word.split_once('^').unwrap_or((word, "1"));
                let role = role(name)?;
                // A ratio beside the quantities tells nothing.
                if !role.1.is_ratio() {
                    parts.push(Part {
                        role,
                        halves: sign * power.parse::<i32>().ok()?,
                    });
                }
            }
        }
        Some(Shape {
            left: role(left)?,
            parts,
            numbers: numbers.split_whitespace().collect(),
            derived: 0.0,
        })
    }

    /// Solved for each of its parts: `P = w L` also gives `w = P / L`.
    fn solved_for_its_parts(&self) -> Vec<Shape> {
        let names = || {
            self.parts
                .iter()
                .map(|part| part.role.0)
                .chain([self.left.0])
        };
        let is_once = |name: &str| names().filter(|own| *own == name).count() == 1;
        if self.parts.len() < 2 || !names().all(is_once) {
            return Vec::new();
        }
        let solved = |(index, of): (usize, &Part)| {
            let mut parts = Vec::new();
            let halves =
                |numerator: i32| (numerator % of.halves == 0).then(|| numerator / of.halves);
            parts.push(Part {
                role: self.left,
                halves: halves(4)?,
            });
            for (other, part) in self.parts.iter().enumerate() {
                if other != index {
                    parts.push(Part {
                        role: part.role,
                        halves: halves(-2 * part.halves)?,
                    });
                }
            }
            Some(Shape {
                left: of.role,
                parts,
                numbers: self.numbers.clone(),
                derived: SOLVED,
            })
        };
        self.parts.iter().enumerate().filter_map(solved).collect()
    }

    /// With one of its parts in terms of what it comes from: `sigma = M / W` with `M = w L^2`.
    fn with_parts_put_in(&self, listed: &[Shape]) -> Vec<Shape> {
        let mut found = Vec::new();
        for (index, part) in self.parts.iter().enumerate() {
            let is_it = |shape: &&Shape| {
                let same = shape.left.0 == part.role.0 || part.role.1 == Dimension::FORCE;
                PUT_IN.contains(&part.role.1) && same && shape.left.1 == part.role.1
            };
            for inner in listed.iter().filter(is_it).filter(|s| s.parts.len() > 1) {
                let mut parts: Vec<Part> = self.parts.clone();
                parts.remove(index);
                for own in &inner.parts {
                    let halves = own.halves * part.halves / 2;
                    match parts.iter_mut().find(|known| known.role.0 == own.role.0) {
                        Some(known) => known.halves += halves,
                        None => parts.push(Part {
                            role: own.role,
                            halves,
                        }),
                    }
                }
                parts.retain(|part| part.halves != 0);
                let is_whole = part.halves % 2 == 0;
                if is_whole && (2..=MOST_PARTS).contains(&parts.len()) {
                    found.push(Shape {
                        left: self.left,
                        parts,
                        numbers: [&self.numbers[..], &inner.numbers].concat(),
                        derived: PUT_TOGETHER,
                    });
                }
            }
        }
        found
    }
}

/// A factor of a product that is compared with the shapes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Factor<'a> {
    pub(super) name: Name<'a>,
    pub(super) dimension: Dimension,
    pub(super) halves: i32,
}

/// What is known of a factor's name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Name<'a> {
    Is(&'a str),
    /// A sum, a call or a quantity.
    None,
    /// The name that would be right, whichever it is.
    Right,
}

/// How well a name fits a role of its dimension.
fn fit(role: &Role, name: Name<'_>) -> f64 {
    let name = match name {
        Name::Is(name) => name,
        Name::None => return 0.6,
        Name::Right => return 0.8,
    };
    let letter = letter(name);
    let without_axis = letter.strip_suffix(['x', 'y', 'z']).unwrap_or(letter);
    // A word at the end of a name tells as much: `wall_thk`.
    let last = name.rsplit('_').next().filter(|word| word.len() > 2);
    let is_it =
        |word: &str| word == letter || word == without_axis || word == name || Some(word) == last;
    let mut words = role.2.split(' ').enumerate();
    let found = words.find(|(_, word)| is_it(word));
    match found {
        Some((0, _)) => 1.0,
        Some((1 | 2, _)) => 0.9,
        Some(_) => 0.8,
        None if is_customary(name, role.1).is_some() => 0.2,
        None => 0.5,
    }
}

/// How much a product looks like one of the trade, from 0 to 1 and a little more for its numbers: the best
/// of all shapes.
pub(super) fn likeness(factors: &[Factor<'_>], left: Option<&str>, numbers: &[&str]) -> f64 {
    let mut best = 0.0_f64;
    let parts = factors
        .iter()
        .map(|factor| (factor.dimension, factor.halves));
    let alike_ones = INDEX.of.get(&signature(parts)).into_iter().flatten();
    for shape in alike_ones.filter_map(|index| INDEX.shapes.get(*index)) {
        if let Some(fits) = alike(shape, factors, left, numbers) {
            best = best.max(fits);
        }
    }
    best
}

fn alike(
    shape: &Shape,
    factors: &[Factor<'_>],
    left: Option<&str>,
    numbers: &[&str],
) -> Option<f64> {
    let mut taken = 0_u32;
    let mut misfits = left.map_or(0.0, |left| 1.0 - fit(shape.left, Name::Is(left)));
    for part in &shape.parts {
        let mut best: Option<(f64, usize)> = None;
        for (index, factor) in factors.iter().enumerate() {
            let is_free = taken & (1 << index) == 0;
            if is_free && factor.halves == part.halves && factor.dimension == part.role.1 {
                let fits = fit(part.role, factor.name);
                if best.is_none_or(|(most, _)| fits > most) {
                    best = Some((fits, index));
                }
            }
        }
        let (fits, index) = best?;
        taken |= 1 << index;
        misfits += 1.0 - fits;
    }
    let is_usual = shape.numbers.iter().any(|number| numbers.contains(number));
    let usual = if is_usual { USUAL_NUMBER } else { 0.0 };
    Some((1.0 - MISFIT * misfits + usual - shape.derived).max(0.0))
}

#[cfg(test)]
mod tests {
    use Dimension as D;

    use super::*;

    #[test]
    fn every_shape_is_right() {
        let mut wrong = Vec::new();
        for line in SHAPES.lines().filter(|line| !line.trim().is_empty()) {
            let shape = Shape::read(line);
            let found = shape.as_ref().and_then(|shape| {
                shape.parts.iter().try_fold(D::RATIO, |product, part| {
                    let power = haunch_quantity::Rational::new(part.halves, 2)?;
                    product.checked_multiply(part.role.1.checked_power(power)?)
                })
            });
            if found.is_none() || found != shape.map(|shape| shape.left.1) {
                wrong.push(line);
            }
        }
        assert_eq!(wrong, [""; 0]);
    }

    #[test]
    fn the_right_partner_is_the_likelier() {
        let factor = |name, dimension, halves| Factor {
            name: Name::Is(name),
            dimension,
            halves,
        };
        let stress = |below| {
            let moment = factor("M_d", D::MOMENT, 2);
            let modulus = factor(below, D::FIRST_MOMENT_OF_AREA, -2);
            likeness(&[moment, modulus], Some("sigma"), &[])
        };
        assert!(stress("W_y") > stress("Q"));
        assert!(stress("Q") > 0.5);
    }
}

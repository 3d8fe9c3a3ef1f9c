//! From a list of parts to a checked section.

use std::cmp::Ordering;

use haunch_quantity::typed::{Area, Ratio, Typed};

use super::combine::{difference, intersection};
use super::integrals::Moments;
use super::outline::{LONGEST_REACH, RELATIVE_TOLERANCE};
use super::pieces::{pieces, touching};
use super::problem::Problem;
use super::region::Region;
use super::shape::Shape;
use super::vector::Extent;

/// The least thickness of a part, in lengths that count as nothing: 1e-5 of the section's size.
/// What is thinner would be lost in rounding, above all where it lies at an angle.
const LEAST_THICKNESS: f64 = 1e4;

/// One line of a section: a shape that is added or taken away.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Where it is and how large.
    pub shape: Shape,
    /// Whether it adds or takes away.
    pub role: Role,
}

/// What a part does to the section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Role {
    /// It is material.
    Material {
        /// Its modulus of elasticity over that of the material the section is referred to; 1
        /// where there is one material.
        modular_ratio: Ratio,
    },
    /// It is taken out of every part that it overlaps.
    Deduction,
}

impl Part {
    /// A part of the material that the section is referred to.
    pub fn material(shape: Shape) -> Self {
        Self::with_modular_ratio(shape, Ratio::from_si(1.0))
    }

    /// A part whose modulus of elasticity is this many times that of the reference material.
    pub fn with_modular_ratio(shape: Shape, modular_ratio: Ratio) -> Self {
        Self {
            shape,
            role: Role::Material { modular_ratio },
        }
    }

    /// A deduction.
    pub fn deduction(shape: Shape) -> Self {
        Self {
            shape,
            role: Role::Deduction,
        }
    }
}

/// A part of material, with what deductions leave of it.
#[derive(Clone, Debug)]
pub(super) struct Member {
    /// Its place in the list as given.
    pub(super) index: usize,
    pub(super) ratio: f64,
    /// Its own shape.
    pub(super) gross: Region,
    pub(super) gross_moments: Moments,
    /// What deductions leave of it.
    pub(super) net: Region,
    pub(super) net_moments: Moments,
}

/// A deduction, with what it takes from each part.
#[derive(Clone, Debug)]
pub(super) struct Removal {
    /// Its place in the list as given.
    pub(super) index: usize,
    pub(super) region: Region,
    pub(super) moments: Moments,
    /// What it takes: the position among the members, and the area taken.
    pub(super) taken: Vec<(usize, Moments)>,
}

/// The parts of a section in an order that does not depend on the order of the lines, so that
/// every sum has the same rounding however the lines are arranged.
#[derive(Clone, Debug)]
pub(super) struct Assembly {
    pub(super) members: Vec<Member>,
    pub(super) removals: Vec<Removal>,
    pub(super) warnings: Vec<Problem>,
    pub(super) tolerance: f64,
}

/// Works out what material the parts leave and checks that it is sound.
pub(super) fn assemble(parts: &[Part]) -> Result<Assembly, Vec<Problem>> {
    let (mut members, mut removals) = sound_parts(parts)?;
    let tolerance = check_sizes(&members, &removals)?;
    members.sort_by(|a, b| {
        a.ratio
            .total_cmp(&b.ratio)
            .then_with(|| order(&a.gross, &b.gross))
    });
    removals.sort_by(|a, b| order(&a.region, &b.region));

    let mut problems = Vec::new();
    for removal in &mut removals {
        take_out(&mut members, removal, tolerance, &mut problems);
    }
    for member in &mut members {
        match remaining(member, tolerance) {
            Ok(moments) => member.net_moments = moments,
            Err(problem) => problems.push(problem),
        }
    }
    let nets: Vec<_> = members.iter().map(|own| (own.index, &own.net)).collect();
    problems.extend(
        overlaps(&nets, tolerance)
            .into_iter()
            .map(|(first, second, area)| Problem::Overlap {
                first,
                second,
                area: Area::from_si(area),
            }),
    );
    if problems.is_empty() {
        let cuts: Vec<_> = removals
            .iter()
            .map(|own| (own.index, &own.region))
            .collect();
        let common = overlaps(&cuts, tolerance).into_iter();
        let mut warnings: Vec<Problem> = common
            .map(|(first, second, _)| Problem::DeductionsOverlap { first, second })
            .collect();
        warnings.extend(not_connected(&members, &removals, tolerance));
        return Ok(Assembly {
            members,
            removals,
            warnings,
            tolerance,
        });
    }
    problems.sort_by_key(first_part);
    Err(problems)
}

/// The parts of material and the deductions, each with its region.
fn sound_parts(parts: &[Part]) -> Result<(Vec<Member>, Vec<Removal>), Vec<Problem>> {
    let mut members = Vec::new();
    let mut removals = Vec::new();
    let mut problems = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let sound = part.shape.region().and_then(|region| {
            let moments = region.moments(0.0).ok_or(super::ShapeProblem::NoArea)?;
            Ok((region, moments))
        });
        let (region, moments) = match sound {
            Ok(sound) => sound,
            Err(problem) => {
                problems.push(Problem::Shape {
                    part: index,
                    problem,
                });
                continue;
            }
        };
        match part.role {
            Role::Material { modular_ratio } => {
                let ratio = modular_ratio.si();
                if !(ratio.is_finite() && ratio > 0.0) {
                    problems.push(Problem::ModularRatio { part: index });
                }
                members.push(Member {
                    index,
                    ratio,
                    net: region.clone(),
                    net_moments: moments,
                    gross: region,
                    gross_moments: moments,
                });
            }
            Role::Deduction => removals.push(Removal {
                index,
                region,
                moments,
                taken: Vec::new(),
            }),
        }
    }
    if problems.is_empty() && members.is_empty() {
        problems.push(Problem::NoMaterial);
    }
    if problems.is_empty() {
        Ok((members, removals))
    } else {
        Err(problems)
    }
}

/// The length that counts as nothing, if the sizes of the parts fit together.
fn check_sizes(members: &[Member], removals: &[Removal]) -> Result<f64, Vec<Problem>> {
    let gross = members
        .iter()
        .map(|own| (own.index, &own.gross, own.gross_moments));
    let regions = gross.chain(
        removals
            .iter()
            .map(|own| (own.index, &own.region, own.moments)),
    );
    let extents = regions.clone().filter_map(|(_, region, _)| region.extent());
    let Some(whole) = extents.reduce(Extent::with) else {
        return Err(vec![Problem::NoMaterial]);
    };
    let size = whole.size();
    let reach = [whole.low.x, whole.low.y, whole.high.x, whole.high.y];
    if reach
        .iter()
        .any(|coordinate| coordinate.abs() > LONGEST_REACH * size)
    {
        return Err(vec![Problem::TooFarAway]);
    }
    let tolerance = RELATIVE_TOLERANCE * size;
    let mut thin: Vec<usize> = regions
        .filter(|(.., moments)| moments.thickness() < LEAST_THICKNESS * tolerance)
        .map(|(index, ..)| index)
        .collect();
    thin.sort_unstable();
    if thin.is_empty() {
        Ok(tolerance)
    } else {
        Err(thin
            .into_iter()
            .map(|part| Problem::TooThin { part })
            .collect())
    }
}

/// Takes one deduction out of every part; tells if it lies outside the material.
fn take_out(
    members: &mut [Member],
    removal: &mut Removal,
    tolerance: f64,
    problems: &mut Vec<Problem>,
) {
    let least = least_area(&removal.region, tolerance);
    let extent = removal.region.extent();
    let mut inside = 0.0;
    for (position, member) in members.iter_mut().enumerate() {
        if !overlap_possible(member.gross.extent(), extent, tolerance) {
            continue;
        }
        let of_gross = intersection(&member.gross, &removal.region, tolerance);
        inside += of_gross.moments(least).map_or(0.0, |own| own.area);
        let of_net = intersection(&member.net, &removal.region, tolerance);
        if let Some(moments) = of_net.moments(least) {
            removal.taken.push((position, moments));
            member.net = difference(&member.net, &removal.region, tolerance);
        }
    }
    let outside = removal.moments.area - inside;
    if outside > least {
        problems.push(Problem::DeductionOutside {
            deduction: removal.index,
            area: Area::from_si(outside),
            wholly: inside == 0.0,
        });
    }
}

/// The moments of what deductions leave of a part, worked out from what is left: the part less
/// the deductions would cancel where little is left.
fn remaining(member: &Member, tolerance: f64) -> Result<Moments, Problem> {
    let part = member.index;
    let moments = member.net.moments(least_area(&member.gross, tolerance));
    let moments = moments.ok_or(Problem::NothingLeft { part })?;
    if moments.thickness() < LEAST_THICKNESS * tolerance {
        return Err(Problem::TooThin { part });
    }
    Ok(moments)
}

/// Pairs of regions that cover the same area: the lower index, the higher, and the area.
fn overlaps(regions: &[(usize, &Region)], tolerance: f64) -> Vec<(usize, usize, f64)> {
    let extents: Vec<Option<Extent>> = regions.iter().map(|(_, own)| own.extent()).collect();
    let mut found = Vec::new();
    for (first, &(i, a)) in regions.iter().enumerate() {
        for (second, &(j, b)) in regions.iter().enumerate().skip(first + 1) {
            if !overlap_possible(extents[first], extents[second], tolerance) {
                continue;
            }
            let least = least_area(a, tolerance).min(least_area(b, tolerance));
            if let Some(common) = intersection(a, b, tolerance).moments(least) {
                found.push((i.min(j), i.max(j), common.area));
            }
        }
    }
    found.sort_by_key(|&(first, second, _)| (first, second));
    found
}

fn not_connected(members: &[Member], removals: &[Removal], tolerance: f64) -> Option<Problem> {
    let is_cut = |position: usize| {
        removals
            .iter()
            .any(|own| own.taken.iter().any(|&(from, _)| from == position))
    };
    let nodes: Vec<(usize, Region)> = members
        .iter()
        .enumerate()
        .flat_map(|(position, member)| {
            let own = if is_cut(position) {
                pieces(&member.net, tolerance)
            } else {
                vec![member.net.clone()]
            };
            own.into_iter().map(|piece| (member.index, piece))
        })
        .collect();
    let (indices, regions): (Vec<usize>, Vec<Region>) = nodes.into_iter().unzip();
    let mut found: Vec<Vec<usize>> = touching(&regions, tolerance)
        .into_iter()
        .map(|group| {
            let mut parts: Vec<usize> = group.into_iter().map(|node| indices[node]).collect();
            parts.sort_unstable();
            parts.dedup();
            parts
        })
        .collect();
    found.sort();
    (found.len() > 1).then_some(Problem::NotConnected { pieces: found })
}

/// Whether two regions of these extents may come closer than touching.
fn overlap_possible(a: Option<Extent>, b: Option<Extent>, tolerance: f64) -> bool {
    a.zip(b)
        .is_some_and(|(one, other)| one.is_near(other, -tolerance))
}

/// The area that counts as nothing beside a region.
fn least_area(region: &Region, tolerance: f64) -> f64 {
    tolerance * region.extent().map_or(0.0, Extent::size)
}

/// An order of regions by their coordinates alone.
fn order(a: &Region, b: &Region) -> Ordering {
    let numbers = |region: &Region| -> Vec<f64> {
        let edges = region.edges.iter();
        edges
            .flat_map(|edge| [edge.from.x, edge.from.y, edge.middle().x, edge.middle().y])
            .collect()
    };
    let (a, b) = (numbers(a), numbers(b));
    let differing = a
        .iter()
        .zip(&b)
        .map(|(x, y)| x.total_cmp(y))
        .find(|order| order.is_ne());
    differing.unwrap_or_else(|| a.len().cmp(&b.len()))
}

fn first_part(problem: &Problem) -> usize {
    match problem {
        Problem::Overlap { first, .. } => *first,
        Problem::DeductionOutside { deduction, .. } => *deduction,
        Problem::NothingLeft { part } | Problem::TooThin { part } => *part,
        _ => 0,
    }
}

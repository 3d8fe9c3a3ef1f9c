//! Saint-Venant's torsion of any section of one material, solved numerically.

mod curves;
mod delaunay;
mod division;
mod elements;
mod mesh;
mod predicates;
mod problem;
mod refine;

use haunch_quantity::typed::{Length, Ratio, SecondMomentOfArea, Typed, WarpingConstant};

use crate::section::{Point, Section};
use curves::{Curves, Frame};
use division::Division;
use mesh::Mesh;
use problem::Solution;

/// Why there is no numerical solution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoTorsion {
    /// Parts of different materials.
    SeveralMaterials,
    /// The material is in pieces that do not touch each other along an edge: each twists by
    /// itself.
    InPieces,
    /// Parts touch, or an outline touches itself, in a point alone, across which no shear flows.
    TouchesInAPoint,
    /// A wall is so thin for its length that more than 20,000 points would be needed: about a
    /// ten-thousandth of the length of all walls.
    TooSlender,
    /// The section could not be divided into sound elements: parts of its boundary run closer to
    /// each other than about 1e-8 of its size.
    NoMesh,
}

/// Torsion and warping of a section, worked out by finite elements.
///
/// Two solutions on the same mesh enclose the torsion constant: Prandtl's stress function gives
/// one that is too small, the warping function one that is too large. Arcs are followed by
/// parabolas of the same area; what that may amount to is in the bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SaintVenant {
    /// The torsion constant J: the twist per length is T/(G·J). Midway between the bounds.
    pub torsion_constant: SecondMomentOfArea,
    /// J is at least this,
    pub least: SecondMomentOfArea,
    /// and at most this.
    pub greatest: SecondMomentOfArea,
    /// The shear centre of Trefftz: the place about which twisting does no work on bending. It
    /// does not depend on Poisson's ratio; definitions that do agree with it for a ratio of 0 and
    /// for thin walls (Weinstein 1947, Q. Appl. Math. 5, from memory).
    pub shear_centre: Point,
    /// How far it may be off, an estimate: the change from another mesh, or half the size of the
    /// section times the relative error of J if that is more.
    pub shear_centre_error: Length,
    /// The warping constant ∫ω² dA about the shear centre, warping over the thickness of walls
    /// included.
    pub warping_constant: WarpingConstant,
    /// How far it may be off, an estimate: the change from another mesh, or five times the
    /// relative error of J if that is more.
    pub warping_constant_error: WarpingConstant,
    /// The number of triangles.
    pub elements: usize,
}

impl SaintVenant {
    /// Half the distance of the bounds over the torsion constant.
    pub fn relative_error(&self) -> Ratio {
        (self.greatest - self.least) / self.torsion_constant / 2.0
    }
}

/// What rounding may do to a warping constant, over the sixth power of the size.
const ROUNDING: f64 = 1e-14;

/// Meshes are refined at most this often.
const MOST_MESHES: usize = 6;

/// Where J is known but the shear centre or the warping constant still change, meshes of fewer than
/// this many triangles are refined
const PLENTY: usize = 1500;
/// at most this often.
const MORE_MESHES: usize = 3;

/// The size of elements in the first mesh, as a factor of the rules of division,
const FIRST_FACTOR: f64 = 1.7;
/// and in one to compare it with.
const COARSE_FACTOR: f64 = 2.5;
/// or, where the outline itself is finely divided, in one instead of it.
const FINE_FACTOR: f64 = 0.55;

/// A wish for more than this cannot be met.
const BEST_ACCURACY: f64 = 1e-6;

/// The power of the size of the elements with which the error falls, as measured over many shapes.
const ORDER: f64 = 3.5;

/// Solves Saint-Venant's problem to a relative error of the torsion constant, 0.001 for 0.1 %.
///
/// Meshes are refined until the bounds are that close, or until the next mesh would be too large:
/// [`SaintVenant::relative_error`] tells what was reached. A tenth of a per cent takes 1 to 50 ms on
/// usual sections, more where walls are thinner than about a five-hundredth of the section. Parts that touch along an edge count as
/// joined there. The same section gives the same bits.
///
/// # Errors
/// See [`NoTorsion`].
pub fn saint_venant(section: &Section, accuracy: Ratio) -> Result<SaintVenant, NoTorsion> {
    if !section.is_of_one_material() {
        return Err(NoTorsion::SeveralMaterials);
    }
    let bounds = section.bounds();
    let size = bounds.width().si().max(bounds.depth().si());
    let frame = Frame {
        origin: [bounds.left.si(), bounds.bottom.si()],
        size,
    };
    let curves = Curves::new(&section.material_boundary(), frame, section.tolerance())?;
    // What is no number asks for the best.
    let accuracy = accuracy.si().max(BEST_ACCURACY);
    let mut factor = FIRST_FACTOR;
    let mut found = solution(&curves, factor)?;
    // Of two meshes at least, to see what changes: if the first is good enough, a coarser one.
    let mut other = None;
    for _ in 0..MOST_MESHES {
        let error = relative_error(&found.0);
        if error <= accuracy {
            break;
        }
        let wanted = libm::pow(accuracy / error, 1.0 / ORDER);
        factor *= (0.9 * wanted).clamp(0.3, 0.8);
        match solution(&curves, factor) {
            Ok(finer) => other = Some(std::mem::replace(&mut found, finer).0),
            // Finer elements would be too many: what was found stands.
            Err(_) => break,
        }
    }
    let mut other = match other {
        Some(other) => other,
        None => match solution(&curves, COARSE_FACTOR)? {
            (coarser, fewer) if fewer < found.1 => coarser,
            // The boundary itself is so finely divided that nothing became coarser.
            _ => {
                factor = FINE_FACTOR;
                std::mem::replace(&mut found, solution(&curves, factor)?).0
            }
        },
    };
    for _ in 0..MORE_MESHES {
        if found.1 > PLENTY || Change::between(&other, &found.0).is_small(&found.0) {
            break;
        }
        factor *= 0.6;
        let Ok(finer) = solution(&curves, factor) else {
            break;
        };
        other = std::mem::replace(&mut found, finer).0;
    }
    let (solution, elements) = found;
    let change = Change::between(&other, &solution);
    Ok(result(&solution, elements, change, frame))
}

/// What changes from one mesh to another.
#[derive(Clone, Copy, Debug)]
struct Change {
    shear_centre: f64,
    warping_constant: f64,
}

impl Change {
    fn between(one: &Solution, other: &Solution) -> Self {
        Self {
            shear_centre: curves::distance(one.shear_centre, other.shear_centre),
            warping_constant: (one.warping_constant - other.warping_constant).abs(),
        }
    }

    /// Whether the results are known well enough for three digits.
    fn is_small(self, solution: &Solution) -> bool {
        self.shear_centre <= 5e-4 && self.warping_constant <= 1e-2 * solution.warping_constant
    }
}

fn solution(curves: &Curves, factor: f64) -> Result<(Solution, usize), NoTorsion> {
    let mut division = Division::new(curves, factor)?;
    let triangles = refine::triangles(curves, &mut division, factor)?;
    let mesh = Mesh::new(curves, &division, &triangles);
    if mesh.loops_outside != 1 {
        return Err(NoTorsion::InPieces);
    }
    Ok((problem::solve(&mesh)?, triangles.len()))
}

/// The widening of the bounds for the boundary of the mesh. Where it moves by δ the constant
/// changes by ∮ (∂φ/∂n)² δ ds; of thin walls, the cube of the thickness matters: three times the
/// share of the area.
fn of_boundary(solution: &Solution) -> f64 {
    3.0 * solution.misfit
}

fn relative_error(solution: &Solution) -> f64 {
    let middle = (solution.least + solution.greatest) / 2.0;
    (solution.greatest - solution.least).abs() / middle / 2.0 + of_boundary(solution)
}

fn result(solution: &Solution, elements: usize, change: Change, frame: Frame) -> SaintVenant {
    let size = frame.size;
    let fourth = size * size * size * size;
    let sixth = fourth * size * size;
    let middle = (solution.least + solution.greatest) / 2.0;
    let error = relative_error(solution);
    // Both are integrals of the warping function, whose error is that of J on the same mesh: the
    // factors cover, with a margin, all that was found against far finer meshes over 240 random
    // shapes.
    let warping_error = change
        .warping_constant
        .max(5.0 * error * solution.warping_constant)
        + ROUNDING;
    let constant = |value: f64| SecondMomentOfArea::from_si(value * fourth);
    SaintVenant {
        torsion_constant: constant(middle),
        least: constant(middle * (1.0 - error)),
        greatest: constant(middle * (1.0 + error)),
        shear_centre: Point::new(
            Length::from_si(frame.origin[0] + solution.shear_centre[0] * size),
            Length::from_si(frame.origin[1] + solution.shear_centre[1] * size),
        ),
        shear_centre_error: Length::from_si(change.shear_centre.max(error / 2.0) * size),
        warping_constant: WarpingConstant::from_si(solution.warping_constant * sixth),
        warping_constant_error: WarpingConstant::from_si(warping_error * sixth),
        elements,
    }
}

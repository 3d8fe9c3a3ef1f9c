//! Systems of straight thin walls, open or with any number of cells.

use haunch_quantity::typed::{
    Area, Length, Moment, SecondMomentOfArea, Stress, Typed, WarpingConstant,
};

use super::equations::Equations;
use super::thin_walls::Thinness;
use crate::section::Point;

/// A straight wall of one thickness between two nodes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// The node where it starts, by its position in the list.
    pub from: usize,
    /// The node where it ends.
    pub to: usize,
    /// Of the wall.
    pub thickness: Length,
}

/// The middle lines of thin walls.
#[derive(Clone, Debug, PartialEq)]
pub struct Walls {
    /// Where walls start, end and meet.
    pub nodes: Vec<Point>,
    /// The walls; curved ones as many short straight walls.
    pub walls: Vec<Wall>,
}

/// What is wrong with a system of walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WallsProblem {
    /// There is no wall.
    NoWalls,
    /// A wall starts or ends at a node that is not there.
    NoSuchNode {
        /// The wall.
        wall: usize,
    },
    /// A coordinate is not a finite number, or is too large to be squared.
    NotFinite,
    /// A wall has no length.
    NoLength {
        /// The wall.
        wall: usize,
    },
    /// A thickness is not a positive number.
    NoThickness {
        /// The wall.
        wall: usize,
    },
    /// The walls do not hang together.
    InPieces,
    /// All walls lie in one line: the shear centre is not defined.
    Straight,
}

/// Torsion and warping of thin walls.
#[derive(Clone, Debug, PartialEq)]
pub struct ThinWalled {
    /// Σ l·t
    pub area: Area,
    /// Of the middle lines, weighted with the thickness.
    pub centroid: Point,
    /// J, that of the cells and that of the strips added.
    pub torsion_constant: SecondMomentOfArea,
    /// The part of J from shear flow round cells; 0 for open walls.
    pub of_cells: SecondMomentOfArea,
    /// The part of J from the walls as strips, Σ l·t³/3.
    pub of_strips: SecondMomentOfArea,
    /// The shear centre, about which twisting does no work on bending.
    pub shear_centre: Point,
    /// The warping constant ∫ω² dA about the shear centre, with warping along the middle lines;
    /// 0 for an angle or a tee, where only the warping over the thickness is left.
    pub warping_constant: WarpingConstant,
    /// How thin the walls are.
    pub thinness: Thinness,
    /// Of each wall: shear flow over torque in 1/m², and thickness.
    flows: Vec<(f64, f64)>,
}

impl ThinWalled {
    /// The greatest shear stress in a wall under a torque: from the flow round cells, q/t, and on
    /// the surface from the wall as a strip, T·t/J. `None` when there is no such wall.
    pub fn shear_stress(&self, wall: usize, torque: Moment) -> Option<Stress> {
        let &(flow, thickness) = self.flows.get(wall)?;
        let of_strip = thickness / self.torsion_constant.si();
        Some(Stress::from_si(
            torque.si() * (flow.abs() / thickness + of_strip),
        ))
    }
}

/// A wall with its numbers, from the centroid.
struct Strip {
    from: usize,
    to: usize,
    length: f64,
    thickness: f64,
}

impl Walls {
    /// Torsion constant, shear centre and warping constant.
    ///
    /// The warping ω at the nodes makes Σ (t/l)·(ω_j − ω_i + x_i·y_j − x_j·y_i)² least, whose value
    /// is the torsion constant of the cells: Bredt's formulas for any number of cells, and
    /// Vlasov's sectorial coordinate where there is none (Vlasov 1961, Thin-Walled Elastic Beams;
    /// Timoshenko & Gere, Theory of Elastic Stability, ch. 5). The shear centre (xₛ, yₛ) makes
    /// ω − yₛ·x + xₛ·y free of any moment.
    ///
    /// # Errors
    /// See [`WallsProblem`].
    pub fn torsion(&self) -> Result<ThinWalled, WallsProblem> {
        let strips = self.strips()?;
        let area: f64 = strips.iter().map(|own| own.length * own.thickness).sum();
        let at = |axis: usize| -> Vec<f64> {
            let pick = |node: &Point| if axis == 0 { node.x.si() } else { node.y.si() };
            self.nodes.iter().map(pick).collect()
        };
        let (x, y) = (at(0), at(1));
        let ones = vec![1.0; self.nodes.len()];
        let centroid = [&x, &y].map(|own| integral(&strips, own, &ones) / area);
        let from_centroid = |values: Vec<f64>, middle: f64| -> Vec<f64> {
            values.into_iter().map(|own| own - middle).collect()
        };
        let (x, y) = (from_centroid(x, centroid[0]), from_centroid(y, centroid[1]));

        let mut warping = warping(&strips, &x, &y).ok_or(WallsProblem::InPieces)?;
        let mean = integral(&strips, &warping, &ones) / area;
        for own in &mut warping {
            *own -= mean;
        }
        let (xx, yy, xy) = (
            integral(&strips, &x, &x),
            integral(&strips, &y, &y),
            integral(&strips, &x, &y),
        );
        let determinant = xx * yy - xy * xy;
        if determinant <= 1e-12 * (xx + yy) * (xx + yy) {
            return Err(WallsProblem::Straight);
        }
        let (with_x, with_y) = (
            integral(&strips, &warping, &x),
            integral(&strips, &warping, &y),
        );
        let shear_y = (yy * with_x - xy * with_y) / determinant;
        let shear_x = (xy * with_x - xx * with_y) / determinant;
        let about: Vec<f64> = warping
            .iter()
            .zip(x.iter().zip(&y))
            .map(|(own, (x, y))| own - shear_y * x + shear_x * y)
            .collect();

        let excess = |own: &Strip| {
            warping[own.to] - warping[own.from] + x[own.from] * y[own.to] - x[own.to] * y[own.from]
        };
        let stiffness = |own: &Strip| own.thickness / own.length;
        let of_cells: f64 = strips
            .iter()
            .map(|own| stiffness(own) * excess(own) * excess(own))
            .sum();
        // Of open walls rounding is left.
        let of_cells = if of_cells <= 1e-20 * (xx + yy) {
            0.0
        } else {
            of_cells
        };
        let of_strips: f64 = strips
            .iter()
            .map(|own| own.length * own.thickness * own.thickness * own.thickness / 3.0)
            .sum();
        let constant = of_cells + of_strips;
        let flow = |own: &Strip| {
            let flow = if of_cells == 0.0 {
                0.0
            } else {
                stiffness(own) * excess(own) / constant
            };
            (flow, own.thickness)
        };
        let thinness = strips.iter().map(|own| own.thickness / own.length);
        Ok(ThinWalled {
            area: Area::from_si(area),
            centroid: place(centroid[0], centroid[1]),
            torsion_constant: SecondMomentOfArea::from_si(constant),
            of_cells: SecondMomentOfArea::from_si(of_cells),
            of_strips: SecondMomentOfArea::from_si(of_strips),
            shear_centre: place(centroid[0] + shear_x, centroid[1] + shear_y),
            warping_constant: WarpingConstant::from_si(integral(&strips, &about, &about)),
            thinness: Thinness::new(thinness.fold(0.0, f64::max)),
            flows: strips.iter().map(flow).collect(),
        })
    }

    fn strips(&self) -> Result<Vec<Strip>, WallsProblem> {
        let sound = |node: &Point| {
            let square = node.x.si() * node.x.si() + node.y.si() * node.y.si();
            square.is_finite()
        };
        if !self.nodes.iter().all(sound) {
            return Err(WallsProblem::NotFinite);
        }
        let strip = |(wall, own): (usize, &Wall)| {
            let ends = self.nodes.get(own.from).zip(self.nodes.get(own.to));
            let (from, to) = ends.ok_or(WallsProblem::NoSuchNode { wall })?;
            let (x, y) = ((to.x - from.x).si(), (to.y - from.y).si());
            let length = (x * x + y * y).sqrt();
            if length == 0.0 {
                return Err(WallsProblem::NoLength { wall });
            }
            let thickness = own.thickness.si();
            if !(thickness.is_finite() && thickness > 0.0) {
                return Err(WallsProblem::NoThickness { wall });
            }
            Ok(Strip {
                from: own.from,
                to: own.to,
                length,
                thickness,
            })
        };
        let strips: Vec<Strip> = self
            .walls
            .iter()
            .enumerate()
            .map(strip)
            .collect::<Result<_, _>>()?;
        if strips.is_empty() {
            return Err(WallsProblem::NoWalls);
        }
        Ok(strips)
    }
}

/// The warping at the nodes, 0 at the last; `None` if some are not joined to it.
fn warping(strips: &[Strip], x: &[f64], y: &[f64]) -> Option<Vec<f64>> {
    let count = x.len() - 1;
    let places: Vec<[f64; 2]> = x.iter().zip(y).map(|(&x, &y)| [x, y]).take(count).collect();
    let groups: Vec<Vec<usize>> = strips
        .iter()
        .map(|own| {
            let ends = [own.from, own.to].into_iter();
            ends.filter(|&node| node < count).collect()
        })
        .collect();
    let mut equations = Equations::new(&places, 0, groups.iter());
    let mut right = vec![0.0; count];
    for own in strips {
        let stiffness = own.thickness / own.length;
        let sector = stiffness * (x[own.from] * y[own.to] - x[own.to] * y[own.from]);
        for (node, other, sign) in [(own.from, own.to, 1.0), (own.to, own.from, -1.0)] {
            if node == count {
                continue;
            }
            right[node] += sign * sector;
            equations.add(node, node, stiffness);
            if other < count {
                equations.add(node, other, -stiffness);
            }
        }
    }
    let mut warping = equations.solve(&right)?;
    warping.push(0.0);
    Some(warping)
}

/// ∫ f·g·t ds of functions that are linear along each wall.
fn integral(strips: &[Strip], f: &[f64], g: &[f64]) -> f64 {
    let along = |own: &Strip| {
        let (a, b, c, d) = (f[own.from], f[own.to], g[own.from], g[own.to]);
        own.length * own.thickness * (2.0 * a * c + a * d + b * c + 2.0 * b * d) / 6.0
    };
    strips.iter().map(along).sum()
}

fn place(x: f64, y: f64) -> Point {
    Point::new(Length::from_si(x), Length::from_si(y))
}

//! Triangles with six nodes, their sides on the boundary curved.

use super::curves::{Curves, GRID};
use super::delaunay::NONE;
use super::division::Division;

/// Triangles of second order, in lengths of the section's longer side.
#[derive(Clone, Debug)]
pub(super) struct Mesh {
    pub(super) nodes: Vec<[f64; 2]>,
    /// Three corners, anticlockwise, then the nodes between first and second, second and third,
    /// third and first.
    pub(super) elements: Vec<[usize; 6]>,
    /// The loop of the boundary on which a node lies; 0 is the outer one.
    pub(super) on_loop: Vec<Option<usize>>,
    /// The area inside each loop.
    pub(super) loop_areas: Vec<f64>,
    /// How many loops run round material from outside; more than one where it is in pieces.
    pub(super) loops_outside: usize,
    /// The area by which the boundary may be off: curved sides, and the rounding to the grid.
    pub(super) misfit: f64,
}

/// A curved side of the boundary: how far its middle lies from the chord, and what it encloses.
#[derive(Clone, Copy)]
struct Bulge {
    /// From the middle of the chord.
    offset: [f64; 2],
    /// Between the chord and the side, positive to the right of the direction of running.
    area: f64,
    misfit: f64,
}

impl Mesh {
    pub(super) fn new(curves: &Curves, division: &Division, triangles: &[[usize; 3]]) -> Self {
        let step = 1.0 / GRID as f64;
        let place = |point: usize| division.points[point].map(|own| own as f64 * step);
        let mut mesh = Self {
            nodes: Vec::new(),
            elements: Vec::with_capacity(triangles.len()),
            on_loop: Vec::new(),
            loop_areas: Vec::new(),
            loops_outside: 0,
            misfit: 0.0,
        };
        // Corners first, in the order of the points.
        let mut used = vec![false; division.points.len()];
        for &point in triangles.iter().flatten() {
            used[point] = true;
        }
        let mut node_of = vec![usize::MAX; used.len()];
        for point in (0..used.len()).filter(|&point| used[point]) {
            node_of[point] = mesh.nodes.len();
            mesh.nodes.push(place(point));
        }
        mesh.on_loop = vec![None; mesh.nodes.len()];

        // Bulges and loops of the boundary.
        let mut bulges: Vec<Option<Bulge>> = vec![None; used.len()];
        let mut loop_of: Vec<Option<usize>> = vec![None; used.len()];
        let mut loops: Vec<(f64, Vec<usize>)> = Vec::new();
        for points in division.loops() {
            let mut area = 0.0;
            for &point in &points {
                let (from, to) = (place(point), place(division.next[point] as usize));
                area += (from[0] * to[1] - from[1] * to[0]) / 2.0;
                mesh.misfit += super::curves::distance(from, to) * step / 2.0;
                if let Some(bulge) = bulge(curves, division, point, from, to) {
                    area += bulge.area;
                    mesh.misfit += bulge.misfit;
                    bulges[point] = Some(bulge);
                }
            }
            loops.push((area, points));
        }
        loops.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (number, (area, points)) in loops.iter().enumerate() {
            mesh.loop_areas.push(area.abs());
            mesh.loops_outside += usize::from(*area > 0.0);
            for &point in points {
                loop_of[point] = Some(number);
                mesh.on_loop[node_of[point]] = Some(number);
            }
        }

        // A node in the middle of each side, found from both of its triangles.
        let mut sides: Vec<(usize, usize, usize, usize)> = Vec::with_capacity(3 * triangles.len());
        for (index, corners) in triangles.iter().enumerate() {
            mesh.elements.push([0; 6]);
            for side in 0..3 {
                let (from, to) = (corners[side], corners[(side + 1) % 3]);
                mesh.elements[index][side] = node_of[from];
                sides.push((from.min(to), from.max(to), index, side));
            }
        }
        sides.sort_unstable();
        let mut before = None;
        for (low, high, element, side) in sides {
            if before != Some((low, high)) {
                before = Some((low, high));
                let (one, other) = (place(low), place(high));
                let mut middle = [(one[0] + other[0]) / 2.0, (one[1] + other[1]) / 2.0];
                let start = [(low, high), (high, low)]
                    .into_iter()
                    .find(|&(from, to)| division.next[from] == to as u32)
                    .map(|(from, _)| from);
                if let Some(bulge) = start.and_then(|from| bulges[from]) {
                    middle[0] += bulge.offset[0];
                    middle[1] += bulge.offset[1];
                }
                mesh.nodes.push(middle);
                mesh.on_loop.push(start.and_then(|from| loop_of[from]));
            }
            mesh.elements[element][3 + side] = mesh.nodes.len() - 1;
        }
        mesh
    }
}

/// The bulge of a piece of an arc: a parabola through both ends that encloses the same area with
/// the chord as the arc does, so that the area is kept and with it most of the result.
fn bulge(
    curves: &Curves,
    division: &Division,
    point: usize,
    from: [f64; 2],
    to: [f64; 2],
) -> Option<Bulge> {
    if division.next[point] == NONE {
        return None;
    }
    let arc = curves.curves[division.pieces[point]?.curve].arc?;
    let step = 1.0 / GRID as f64;
    let radius = arc.radius * step;
    let chord = [to[0] - from[0], to[1] - from[1]];
    let length = (chord[0] * chord[0] + chord[1] * chord[1]).sqrt();
    let half_angle = libm::asin((length / (2.0 * radius)).min(1.0));
    let sagitta = radius * (1.0 - libm::cos(half_angle));
    // r²/2·(θ − sin θ); by its series where θ is so small that the difference loses digits.
    let angle = 2.0 * half_angle;
    let square = angle * angle;
    let segment = if angle < 0.05 {
        angle * square / 6.0 * (1.0 - square / 20.0 * (1.0 - square / 42.0))
    } else {
        angle - libm::sin(angle)
    };
    let area = radius * radius / 2.0 * segment;
    // A parabola encloses ⅔ of chord times rise.
    let rise = 1.5 * area / length;
    let sense = arc.sweep.signum();
    // To the right of the direction of running lies the outside, where anticlockwise arcs bulge.
    Some(Bulge {
        offset: [
            sense * rise * chord[1] / length,
            -sense * rise * chord[0] / length,
        ],
        area: sense * area,
        misfit: (area - length * sagitta / 1.5).abs(),
    })
}

//! From the divided boundary to triangles of good shape.
//!
//! Method: Ruppert (1995), A Delaunay refinement algorithm for quality 2-dimensional mesh
//! generation, J. Algorithms 18: the centres of the circles round badly shaped triangles are
//! added, or pieces of the boundary divided where such a centre comes too close to them.

use super::NoTorsion;
use super::curves::{Curves, GRID, distance};
use super::delaunay::{Cavity, FRAME, NONE, Triangulation};
use super::division::{Division, MOST_POINTS};
use super::predicates::GridPoint;

/// A triangle is badly shaped if the radius of its circle is more than this many times its
/// shortest side: an angle below 20.7°.
const WORST_SHAPE: f64 = std::f64::consts::SQRT_2;

/// Triangles grow with their distance from the boundary by this share of it, times the factor of
/// fineness; and by the second number at most.
const GROWTH: f64 = 0.4;
const MOST_GROWTH: f64 = 0.7;

/// Pieces of the boundary are not divided below this share of their length at the start.
const LEAST_SHARE: f64 = 0.2;

/// Triangles that fill the boundary, in numbers of the division's points, anticlockwise.
pub(super) fn triangles(
    curves: &Curves,
    division: &mut Division,
    factor: f64,
) -> Result<Vec<[usize; 3]>, NoTorsion> {
    let mut refinement = Refinement {
        curves,
        growth: (GROWTH * factor).min(MOST_GROWTH),
        least: vec![0.0; division.points.len()],
        triangulation: Triangulation::around(GRID),
        division,
    };
    for point in 0..refinement.division.points.len() {
        if refinement.division.next[point] != NONE {
            refinement.least[point] = LEAST_SHARE * refinement.division.length(point);
        }
        refinement.insert(point)?;
    }
    // Each round at least halves what is too large, so that few rounds suffice.
    for _ in 0..60 {
        let inside = refinement.fill_boundary()?;
        if !refinement.improve(&inside)? {
            let triangles = refinement.triangulation.triangles();
            let kept = inside.iter().map(|&index| triangles[index]);
            return Ok(kept
                .map(|corners| corners.map(|own| own as usize - FRAME))
                .collect());
        }
    }
    Err(NoTorsion::NoMesh)
}

struct Refinement<'a> {
    curves: &'a Curves,
    division: &'a mut Division,
    triangulation: Triangulation,
    growth: f64,
    /// The least length of the piece that leaves each point.
    least: Vec<f64>,
}

impl Refinement<'_> {
    /// Whether a piece of the boundary leads from one point of the triangulation to another.
    fn is_piece(&self, from: u32, to: u32) -> bool {
        let frame = FRAME as u32;
        from >= frame && to >= frame && self.division.next[(from - frame) as usize] == to - frame
    }

    /// Divides the boundary until each of its pieces is a side of triangles, and gives the
    /// triangles inside.
    fn fill_boundary(&mut self) -> Result<Vec<usize>, NoTorsion> {
        for _ in 0..60 {
            let triangles = self.triangulation.triangles();
            let mut on_left = vec![NONE; self.division.points.len()];
            for (index, corners) in triangles.iter().enumerate() {
                for side in 0..3 {
                    let (from, to) = (corners[side], corners[(side + 1) % 3]);
                    if self.is_piece(from, to) {
                        on_left[from as usize - FRAME] = index as u32;
                    }
                }
            }
            let missing: Vec<usize> = (0..on_left.len())
                .filter(|&point| self.division.next[point] != NONE && on_left[point] == NONE)
                .collect();
            if missing.is_empty() {
                return Ok(self.flooded(&on_left));
            }
            for point in missing {
                if !self.split(point)? {
                    return Err(NoTorsion::NoMesh);
                }
            }
            if self.division.points.len() > MOST_POINTS {
                return Err(NoTorsion::TooSlender);
            }
        }
        Err(NoTorsion::NoMesh)
    }

    /// The triangles that can be reached from those left of the boundary without crossing it.
    fn flooded(&self, on_left: &[u32]) -> Vec<usize> {
        let triangles = self.triangulation.triangles();
        let mut inside = vec![false; triangles.len()];
        let mut reached: Vec<u32> = on_left.iter().copied().filter(|own| *own != NONE).collect();
        while let Some(here) = reached.pop() {
            if std::mem::replace(&mut inside[here as usize], true) {
                continue;
            }
            let corners = triangles[here as usize];
            for (side, &beyond) in self.triangulation.neighbours()[here as usize]
                .iter()
                .enumerate()
            {
                let (from, to) = (corners[(side + 1) % 3], corners[(side + 2) % 3]);
                if beyond != NONE && !self.is_piece(from, to) {
                    reached.push(beyond);
                }
            }
        }
        (0..inside.len()).filter(|&index| inside[index]).collect()
    }

    /// Divides the piece that leaves a point; whether the grid is fine enough for it.
    fn split(&mut self, point: usize) -> Result<bool, NoTorsion> {
        let Some(new) = self.division.split(self.curves, point) else {
            return Ok(false);
        };
        self.least.push(self.least[point]);
        self.insert(new)?;
        Ok(true)
    }

    /// Puts the last point of the division into the triangulation.
    fn insert(&mut self, point: usize) -> Result<(), NoTorsion> {
        let near = match point {
            0 => 0,
            _ => self.division.near[point] + FRAME,
        };
        let place = self.division.points[point];
        let number = self.triangulation.insert(place, near as u32);
        // Two points of the boundary in one place have one number.
        if number as usize == point + FRAME {
            Ok(())
        } else {
            Err(NoTorsion::NoMesh)
        }
    }

    /// One round over the badly shaped triangles; whether any could be improved.
    fn improve(&mut self, inside: &[usize]) -> Result<bool, NoTorsion> {
        let mut improved = false;
        let bad: Vec<(usize, [u32; 3], Bad)> = inside
            .iter()
            .filter_map(|&index| {
                let corners = self.triangulation.triangles()[index];
                Some((index, corners, self.bad(corners)?))
            })
            .collect();
        let mut crowded = Vec::new();
        for (index, corners, Bad { centre, size }) in bad {
            if self.triangulation.triangles()[index] != corners
                || !self.triangulation.reaches(centre)
            {
                continue;
            }
            let Ok(cavity) = self.triangulation.cavity(centre, corners[0]) else {
                continue;
            };
            let near = (corners[0] as usize).saturating_sub(FRAME);
            let close = self.crowded_by(centre, &cavity);
            if close.is_empty() {
                self.triangulation.fill(&cavity);
                self.division.push_inside(centre, size, near);
                self.least.push(0.0);
                improved = true;
            } else {
                crowded.extend(close);
            }
            if self.division.points.len() > MOST_POINTS {
                return Err(NoTorsion::TooSlender);
            }
        }
        crowded.sort_unstable();
        crowded.dedup();
        for point in crowded {
            if self.division.length(point) > 2.0 * self.least[point] {
                improved |= self.split(point)?;
            }
        }
        Ok(improved)
    }

    /// The pieces of the boundary that a new point would cut off or come too close to: those in
    /// whose circle, with the piece as its diameter, it would lie. By their starts.
    fn crowded_by(&self, point: GridPoint, cavity: &Cavity) -> Vec<usize> {
        let mut found = Vec::new();
        for &[one, other] in &cavity.inner {
            for (from, to) in [(one, other), (other, one)] {
                if self.is_piece(from, to) {
                    found.push(from as usize - FRAME);
                }
            }
        }
        for side in &cavity.rim {
            for (from, to) in [(side.from, side.to), (side.to, side.from)] {
                if self.is_piece(from, to) {
                    let arm = |own: u32| {
                        let end = self.triangulation.point(own);
                        [end[0] - point[0], end[1] - point[1]]
                    };
                    let (one, other) = (arm(from), arm(to));
                    if one[0] * other[0] + one[1] * other[1] <= 0 {
                        found.push(from as usize - FRAME);
                    }
                }
            }
        }
        found
    }

    /// What would improve a triangle: the centre of its circle, if its shape is bad or if it is too
    /// large for its place.
    fn bad(&self, corners: [u32; 3]) -> Option<Bad> {
        let [a, b, c] = corners.map(|own| self.triangulation.point(own).map(|own| own as f64));
        let (bx, by, cx, cy) = (b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]);
        let double_area = bx * cy - by * cx;
        let (b_square, c_square) = (bx * bx + by * by, cx * cx + cy * cy);
        let x = (cy * b_square - by * c_square) / (2.0 * double_area);
        let y = (bx * c_square - cx * b_square) / (2.0 * double_area);
        let shortest = b_square.min(c_square).sqrt().min(distance(b, c));
        let radius = (x * x + y * y).sqrt();
        let sizes = corners.map(|own| self.division.sizes[own as usize - FRAME]);
        let size = sizes.into_iter().fold(f64::INFINITY, f64::min) + self.growth * radius;
        let is_bad = radius > WORST_SHAPE * shortest || radius > size;
        (is_bad && radius < GRID as f64).then(|| Bad {
            centre: [a[0] + x, a[1] + y].map(|own| libm::round(own) as i64),
            size,
        })
    }
}

/// The point that improves a triangle, and how long sides may be about it.
struct Bad {
    centre: GridPoint,
    size: f64,
}

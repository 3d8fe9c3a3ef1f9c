//! The Delaunay triangulation of points on a grid, one point after another.
//!
//! Method: Bowyer (1981) and Watson (1981), Computer Journal 24: the triangles whose circles
//! contain the new point are replaced by triangles from the new point to their rim. As every
//! decision is exact, no set of points can break it.

use super::predicates::{GridPoint, is_in_circle, turn};

/// No triangle, no point.
pub(super) const NONE: u32 = u32::MAX;

/// The number of corners of the square round everything, which come first among the points.
pub(super) const FRAME: usize = 4;

/// Triangles inside a square far round the points.
#[derive(Clone, Debug)]
pub(super) struct Triangulation {
    points: Vec<GridPoint>,
    /// Corners, anticlockwise.
    triangles: Vec<[u32; 3]>,
    /// Across the side opposite each corner.
    neighbours: Vec<[u32; 3]>,
    /// A triangle at each point.
    at_point: Vec<u32>,
    /// When a triangle was last found to be in a cavity.
    stamp: Vec<u32>,
    time: u32,
}

/// A side of the rim of a cavity, anticlockwise, and the triangle beyond.
#[derive(Clone, Copy, Debug)]
pub(super) struct RimSide {
    pub(super) from: u32,
    pub(super) to: u32,
    beyond: u32,
}

/// The triangles that a new point would replace.
#[derive(Clone, Debug, Default)]
pub(super) struct Cavity {
    point: GridPoint,
    triangles: Vec<u32>,
    pub(super) rim: Vec<RimSide>,
    /// The sides inside, which would vanish; each once.
    pub(super) inner: Vec<[u32; 2]>,
}

impl Triangulation {
    /// Two triangles that make up a square of three sides' lengths round points between 0 and
    /// `size` in x and y.
    pub(super) fn around(size: i64) -> Self {
        let (low, high) = (-size, 2 * size);
        Self {
            points: vec![[low, low], [high, low], [high, high], [low, high]],
            triangles: vec![[0, 1, 2], [0, 2, 3]],
            neighbours: vec![[NONE, 1, NONE], [NONE, NONE, 0]],
            at_point: vec![0, 0, 0, 1],
            stamp: vec![0; 2],
            time: 0,
        }
    }

    pub(super) fn point(&self, index: u32) -> GridPoint {
        self.points[index as usize]
    }

    pub(super) fn triangles(&self) -> &[[u32; 3]] {
        &self.triangles
    }

    pub(super) fn neighbours(&self) -> &[[u32; 3]] {
        &self.neighbours
    }

    /// Whether a point lies inside the square.
    pub(super) fn reaches(&self, point: GridPoint) -> bool {
        let ([low, _], [high, _]) = (self.points[0], self.points[2]);
        point.iter().all(|&own| own > low && own < high)
    }

    /// Puts a point in and gives its number; that of a point already there if it is the same. It
    /// is looked for from another point, which is quick if that lies near.
    pub(super) fn insert(&mut self, point: GridPoint, near: u32) -> u32 {
        match self.cavity(point, near) {
            Ok(cavity) => self.fill(&cavity),
            Err(known) => known,
        }
    }

    /// What a new point would replace; the number of the point that lies there already.
    pub(super) fn cavity(&mut self, point: GridPoint, near: u32) -> Result<Cavity, u32> {
        let start = self.locate(point, near);
        let corners = self.triangles[start as usize];
        if let Some(&known) = corners.iter().find(|&&own| self.point(own) == point) {
            return Err(known);
        }
        self.time += 1;
        let mut cavity = Cavity {
            point,
            triangles: vec![start],
            ..Cavity::default()
        };
        self.stamp[start as usize] = self.time;
        let mut next = 0;
        while let Some(&triangle) = cavity.triangles.get(next) {
            next += 1;
            for side in 0..3 {
                let beyond = self.neighbours[triangle as usize][side];
                let corners = self.triangles[triangle as usize];
                let (from, to) = (corners[(side + 1) % 3], corners[(side + 2) % 3]);
                if beyond != NONE && self.stamp[beyond as usize] == self.time {
                    if triangle < beyond {
                        cavity.inner.push([from, to]);
                    }
                } else if beyond != NONE && self.is_in_circle_of(beyond, point) {
                    self.stamp[beyond as usize] = self.time;
                    cavity.triangles.push(beyond);
                    if triangle < beyond {
                        cavity.inner.push([from, to]);
                    }
                } else {
                    cavity.rim.push(RimSide { from, to, beyond });
                }
            }
        }
        Ok(cavity)
    }

    /// Replaces a cavity, found in the triangulation as it is, by triangles round its point.
    pub(super) fn fill(&mut self, cavity: &Cavity) -> u32 {
        let new = self.points.len() as u32;
        self.points.push(cavity.point);
        let fresh = self.triangles.len() as u32..;
        let slots: Vec<u32> = cavity
            .triangles
            .iter()
            .copied()
            .chain(fresh)
            .take(cavity.rim.len())
            .collect();
        for (side, &slot) in cavity.rim.iter().zip(&slots) {
            self.at_point[side.from as usize] = slot;
        }
        for (side, &slot) in cavity.rim.iter().zip(&slots) {
            let corners = [side.from, side.to, new];
            if slot as usize == self.triangles.len() {
                self.triangles.push(corners);
                self.neighbours.push([NONE; 3]);
                self.stamp.push(0);
            } else {
                self.triangles[slot as usize] = corners;
            }
        }
        for (side, &slot) in cavity.rim.iter().zip(&slots) {
            let following = self.at_point[side.to as usize];
            self.neighbours[slot as usize][0] = following;
            self.neighbours[following as usize][1] = slot;
            self.neighbours[slot as usize][2] = side.beyond;
            if side.beyond != NONE {
                let beyond = side.beyond as usize;
                let corners = self.triangles[beyond];
                let opposite = corners
                    .iter()
                    .position(|own| *own != side.from && *own != side.to);
                if let Some(place) = opposite {
                    self.neighbours[beyond][place] = slot;
                }
            }
        }
        self.at_point.push(slots.first().copied().unwrap_or(0));
        new
    }

    fn is_in_circle_of(&self, triangle: u32, point: GridPoint) -> bool {
        let [a, b, c] = self.triangles[triangle as usize].map(|own| self.point(own));
        is_in_circle(a, b, c, point)
    }

    /// A triangle that contains the point, found by walking towards it. In a Delaunay
    /// triangulation the walk does not go in circles.
    fn locate(&self, point: GridPoint, near: u32) -> u32 {
        let mut here = self.at_point[near as usize];
        'walk: loop {
            let corners = self.triangles[here as usize];
            for side in 0..3 {
                let (from, to) = (corners[(side + 1) % 3], corners[(side + 2) % 3]);
                let beyond = self.neighbours[here as usize][side];
                if beyond != NONE && turn(self.point(from), self.point(to), point) < 0 {
                    here = beyond;
                    continue 'walk;
                }
            }
            return here;
        }
    }
}

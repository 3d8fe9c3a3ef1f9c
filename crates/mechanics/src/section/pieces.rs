//! The connected pieces of a region, and which pieces of material touch.

use super::combine::boundaries_touch;
use super::integrals::Integrals;
use super::region::Region;
use super::vector::Vector;

/// Sets of things that belong together, each known by the least of its members.
struct Groups {
    parent: Vec<usize>,
}

impl Groups {
    fn apart(count: usize) -> Self {
        Self {
            parent: (0..count).collect(),
        }
    }

    fn of(&self, mut member: usize) -> usize {
        while self.parent[member] != member {
            member = self.parent[member];
        }
        member
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        self.parent[a.max(b)] = a.min(b);
    }

    /// The members of each set, ascending; the sets by their least member.
    fn members(&self) -> Vec<Vec<usize>> {
        let mut sets = vec![Vec::new(); self.parent.len()];
        for member in 0..self.parent.len() {
            sets[self.of(member)].push(member);
        }
        sets.retain(|set| !set.is_empty());
        sets
    }
}

/// The pieces of a region that hang together, at least in a point; each with its holes.
pub(super) fn pieces(region: &Region, tolerance: f64) -> Vec<Region> {
    let edges = &region.edges;
    let mut strings = Groups::apart(edges.len());
    for (i, a) in edges.iter().enumerate() {
        for (j, b) in edges.iter().enumerate().skip(i + 1) {
            let ends = [
                (a.from, b.from),
                (a.from, b.to),
                (a.to, b.from),
                (a.to, b.to),
            ];
            if ends
                .iter()
                .any(|(one, other)| one.distance(*other) <= tolerance)
            {
                strings.join(i, j);
            }
        }
    }
    let loops: Vec<Region> = strings
        .members()
        .into_iter()
        .map(|set| Region {
            edges: set.into_iter().map(|index| edges[index]).collect(),
        })
        .collect();
    let (mut outer, holes): (Vec<_>, Vec<_>) = loops
        .into_iter()
        .map(|own| (signed_area(&own), own))
        .partition(|(area, _)| *area > 0.0);
    // The smallest outer boundary round a hole is the one that it belongs to.
    outer.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found: Vec<Region> = outer.into_iter().map(|(_, own)| own).collect();
    let boundaries = found.clone();
    for (_, hole) in holes {
        let place = hole.edges.first().map(|edge| edge.from);
        let owner = place.and_then(|point| boundaries.iter().position(|own| own.surrounds(point)));
        if let Some(index) = owner {
            found[index].edges.extend(hole.edges);
        }
    }
    found
}

fn signed_area(region: &Region) -> f64 {
    let middle = region
        .extent()
        .map_or(Vector::new(0.0, 0.0), |extent| extent.middle());
    Integrals::of(region.edges.iter().map(|edge| edge.moved(-middle))).area
}

/// Which of these regions hang together by touching one another.
pub(super) fn touching(regions: &[Region], tolerance: f64) -> Vec<Vec<usize>> {
    let extents: Vec<_> = regions.iter().map(Region::extent).collect();
    let mut groups = Groups::apart(regions.len());
    for (i, a) in regions.iter().enumerate() {
        for (j, b) in regions.iter().enumerate().skip(i + 1) {
            let near = extents[i]
                .zip(extents[j])
                .is_some_and(|(one, other)| one.is_near(other, tolerance));
            if near && groups.of(i) != groups.of(j) && boundaries_touch(a, b, tolerance) {
                groups.join(i, j);
            }
        }
    }
    groups.members()
}

//! Whether supports and hinges hold the beam: exact, from their places alone.
//!
//! Between hinges the beam moves as a rigid line, which has two freedoms. Going along the beam,
//! each such part is held by its own supports and, at the hinge on its left, by the parts before
//! it if these hold that hinge by themselves. Two places (or a fixed support) hold a part. With one
//! place it can still turn about it: that is a mechanism unless the hinge on its right is held by
//! what follows. With none it can turn about that hinge even if the hinge is held.

use super::error::Mechanism;
use super::structure::{Hold, Node, Structure};
use haunch_quantity::typed::{Length, Typed};

/// The first motion, from the start, that nothing holds.
pub(super) fn mechanism(structure: &Structure) -> Option<Mechanism> {
    let nodes = &structure.nodes;
    let last = nodes.len() - 1;
    let inner_hinges = (1..last).filter(|&i| nodes[i].hinge.is_some());
    let mut ends: Vec<usize> = std::iter::once(0).chain(inner_hinges).collect();
    ends.push(last);

    // The first node of the parts, up to the one looked at, that wait to be held from the right.
    let mut waiting_from = None;
    for part in ends.windows(2) {
        let (left, right) = (part[0], part[1]);
        let held_from_left = left != 0 && waiting_from.is_none();
        let start = waiting_from.unwrap_or(left);
        let own = &nodes[left..=right];
        match places_held(own, held_from_left) {
            Held::Firmly => waiting_from = None,
            Held::At(pivot) if right != last && pivot != nodes[right].x => {
                waiting_from = Some(start);
            }
            _ => return Some(motion(structure, start, right)),
        }
    }
    None
}

enum Held {
    Firmly,
    /// At one place only.
    At(f64),
    Nowhere,
}

fn places_held(part: &[Node], held_from_left: bool) -> Held {
    let mut place = (held_from_left).then(|| part[0].x);
    for node in part {
        let Some((_, hold)) = node.support else {
            continue;
        };
        if hold == Hold::Fixed {
            return Held::Firmly;
        }
        match place {
            Some(other) if other != node.x => return Held::Firmly,
            _ => place = Some(node.x),
        }
    }
    place.map_or(Held::Nowhere, Held::At)
}

fn motion(structure: &Structure, left: usize, right: usize) -> Mechanism {
    let nodes = &structure.nodes;
    let hinges: Vec<usize> = nodes[left..=right]
        .iter()
        .filter_map(|node| node.hinge)
        .collect();
    if !hinges.is_empty() {
        let (from, to) = (
            Length::from_si(nodes[left].x),
            Length::from_si(nodes[right].x),
        );
        return Mechanism::Hinges { from, to, hinges };
    }
    match nodes.iter().find_map(|node| node.support) {
        Some((support, _)) => Mechanism::TurnsAbout { support },
        None => Mechanism::NothingHolds,
    }
}

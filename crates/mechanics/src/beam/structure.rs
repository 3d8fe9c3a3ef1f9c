//! The beam in plain SI numbers: checked, in order along the beam, with nearly equal places made one.

use super::action::Piece;
use super::diagram::SAME_PLACE;
use super::error::BeamError;
use super::model::{Beam, Stiffness, Stretch, Support, SupportKind};
use haunch_quantity::typed::{Length, Typed};

/// How a support holds the beam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Hold {
    /// No deflection.
    Pin,
    /// No deflection, no turning.
    Fixed,
    /// Reaction in N per metre of deflection.
    Spring(f64),
}

/// A place where the beam is held, hinged, or changes its rigidity; and the two ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Node {
    pub(super) x: f64,
    /// Index of the support and what it holds.
    pub(super) support: Option<(usize, Hold)>,
    /// Index of the hinge.
    pub(super) hinge: Option<usize>,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Structure {
    pub(super) length: f64,
    /// In order along the beam; the first at 0, the last at the length.
    pub(super) nodes: Vec<Node>,
    /// EI between neighbouring nodes; 1 if it is not known.
    pub(super) rigidity: Vec<f64>,
    /// Places of the supports in the caller's order.
    pub(super) support_places: Vec<f64>,
    /// Whether slopes and deflections mean something.
    pub(super) rigidity_known: bool,
}

impl Structure {
    pub(super) fn new(beam: &Beam) -> Result<Self, BeamError> {
        let length = beam.length.si();
        if !(length.is_finite() && length > 0.0) {
            return Err(BeamError::Length);
        }
        let mut structure = Self {
            length,
            nodes: vec![Node {
                x: 0.0,
                support: None,
                hinge: None,
            }],
            rigidity: Vec::new(),
            support_places: Vec::with_capacity(beam.supports.len()),
            rigidity_known: false,
        };
        structure.nodes.push(Node {
            x: length,
            support: None,
            hinge: None,
        });
        for (index, support) in beam.supports.iter().enumerate() {
            structure.add_support(index, support)?;
        }
        for (index, &hinge) in beam.hinges.iter().enumerate() {
            structure.add_hinge(index, hinge)?;
        }
        structure.add_rigidity(&beam.stiffness)?;
        Ok(structure)
    }

    pub(super) fn tolerance(&self) -> f64 {
        SAME_PLACE * self.length
    }

    /// The place brought to the nearest node if it is the same place; `None` outside the beam.
    pub(super) fn place(&self, x: f64) -> Option<f64> {
        let near = self
            .nodes
            .iter()
            .find(|node| (node.x - x).abs() <= self.tolerance());
        match near {
            Some(node) => Some(node.x),
            None => (x > 0.0 && x < self.length).then_some(x),
        }
    }

    /// The stretch between a node and the next one, without loads.
    pub(super) fn stretch(&self, node: usize) -> Piece {
        Piece {
            length: self.nodes[node + 1].x - self.nodes[node].x,
            rigidity: self.rigidity[node],
            ..Piece::default()
        }
    }

    /// The number of restraints that statics could do without. Only for a beam that is held.
    pub(super) fn redundants(&self) -> usize {
        let restraints: usize = self
            .nodes
            .iter()
            .filter_map(|node| node.support)
            .map(|(_, hold)| if hold == Hold::Fixed { 2 } else { 1 })
            .sum();
        let hinges = self
            .nodes
            .iter()
            .filter(|node| node.hinge.is_some())
            .count();
        restraints.saturating_sub(2 + hinges)
    }

    /// The node at this place, made if there is none.
    fn node_at(&mut self, x: f64) -> &mut Node {
        let index = match self.nodes.binary_search_by(|node| node.x.total_cmp(&x)) {
            Ok(index) => index,
            Err(index) => {
                self.nodes.insert(
                    index,
                    Node {
                        x,
                        support: None,
                        hinge: None,
                    },
                );
                index
            }
        };
        &mut self.nodes[index]
    }

    fn add_support(&mut self, index: usize, support: &Support) -> Result<(), BeamError> {
        let place = self.place(support.at.si());
        let x = place.ok_or(BeamError::SupportOutside { support: index })?;
        let hold = match support.kind {
            SupportKind::Pin | SupportKind::Roller => Hold::Pin,
            SupportKind::Fixed => Hold::Fixed,
            SupportKind::Spring(stiffness) => {
                let stiffness = stiffness.si();
                if !(stiffness.is_finite() && stiffness > 0.0) {
                    return Err(BeamError::SpringNotPositive { support: index });
                }
                Hold::Spring(stiffness)
            }
        };
        let node = self.node_at(x);
        if let Some((first, _)) = node.support {
            return Err(BeamError::SupportsCoincide {
                first,
                second: index,
            });
        }
        node.support = Some((index, hold));
        self.support_places.push(x);
        Ok(())
    }

    fn add_hinge(&mut self, index: usize, at: Length) -> Result<(), BeamError> {
        let length = self.length;
        let place = self.place(at.si()).filter(|&x| x > 0.0 && x < length);
        let x = place.ok_or(BeamError::HingeNotInside { hinge: index })?;
        let node = self.node_at(x);
        if let Some(first) = node.hinge {
            return Err(BeamError::HingesCoincide {
                first,
                second: index,
            });
        }
        if let Some((support, Hold::Fixed)) = node.support {
            return Err(BeamError::HingeAtFixedSupport {
                hinge: index,
                support,
            });
        }
        node.hinge = Some(index);
        Ok(())
    }

    fn add_rigidity(&mut self, stiffness: &Stiffness) -> Result<(), BeamError> {
        match stiffness {
            Stiffness::Unknown | Stiffness::UnknownUniform => {
                self.rigidity = vec![1.0; self.nodes.len() - 1];
                Ok(())
            }
            Stiffness::Uniform(rigidity) => {
                let value = positive(rigidity.si(), 0)?;
                self.rigidity = vec![value; self.nodes.len() - 1];
                self.rigidity_known = true;
                Ok(())
            }
            Stiffness::Stepped(stretches) => {
                self.rigidity_known = true;
                self.add_stretches(stretches)
            }
        }
    }

    fn add_stretches(&mut self, stretches: &[Stretch]) -> Result<(), BeamError> {
        let mut ordered = Vec::with_capacity(stretches.len());
        for (index, stretch) in stretches.iter().enumerate() {
            let value = positive(stretch.rigidity.si(), index)?;
            let wrong = BeamError::StretchPlace { stretch: index };
            let from = self.place(stretch.from.si()).ok_or(wrong.clone())?;
            let to = self.place(stretch.to.si()).ok_or(wrong.clone())?;
            if to - from <= self.tolerance() {
                return Err(wrong);
            }
            ordered.push((from, to, value, index));
        }
        ordered.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.3.cmp(&b.3)));
        let mut covered = 0.0;
        let mut last: Option<usize> = None;
        for (from, to, _, index) in &mut ordered {
            match last {
                Some(before) if covered - *from > self.tolerance() => {
                    let (first, second) = (before.min(*index), before.max(*index));
                    return Err(BeamError::StretchesOverlap { first, second });
                }
                _ if *from - covered > self.tolerance() => return Err(gap(covered, *from)),
                _ => {}
            }
            // Neighbours meet exactly.
            *from = covered;
            covered = *to;
            last = Some(*index);
        }
        if covered < self.length {
            return Err(gap(covered, self.length));
        }
        for &(from, ..) in &ordered {
            self.node_at(from);
        }
        self.rigidity = self.nodes[..self.nodes.len() - 1]
            .iter()
            .filter_map(|node| ordered.iter().rev().find(|(from, ..)| *from <= node.x))
            .map(|&(_, _, value, _)| value)
            .collect();
        Ok(())
    }
}

fn positive(rigidity: f64, stretch: usize) -> Result<f64, BeamError> {
    if rigidity.is_finite() && rigidity > 0.0 {
        Ok(rigidity)
    } else {
        Err(BeamError::RigidityNotPositive { stretch })
    }
}

fn gap(from: f64, to: f64) -> BeamError {
    BeamError::RigidityGap {
        from: Length::from_si(from),
        to: Length::from_si(to),
    }
}

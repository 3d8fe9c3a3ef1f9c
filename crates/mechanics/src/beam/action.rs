//! One load case in plain SI numbers, checked, on the places where anything changes.

use super::error::BeamError;
use super::model::{Load, Loading, Sense};
use super::state::{Scale, State};
use super::structure::Structure;
use haunch_quantity::typed::Typed;

/// A stretch of the beam over which nothing begins or ends.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Piece {
    pub(super) length: f64,
    pub(super) rigidity: f64,
    /// Load intensity at the left end, positive downward.
    pub(super) load_left: f64,
    /// Load intensity at the right end.
    pub(super) load_right: f64,
    /// The curvature it would take up by itself, positive sagging.
    pub(super) free_curvature: f64,
}

/// What acts at one place.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct PlaceAction {
    pub(super) x: f64,
    /// Positive downward.
    pub(super) force: f64,
    /// Positive clockwise.
    pub(super) couple: f64,
    /// Settlement of the support here, positive downward.
    pub(super) settlement: f64,
}

/// A load case on the places where anything changes, in order along the beam.
#[derive(Debug, Clone)]
pub(super) struct Action {
    pub(super) places: Vec<PlaceAction>,
    /// One between each two places.
    pub(super) pieces: Vec<Piece>,
    /// For every node of the structure, the index of its place.
    pub(super) node_places: Vec<usize>,
    /// The sum of all forces without their signs, couples counted by the mean distance of nodes.
    pub(super) total: f64,
}

/// A piece on the way from one node to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step<'a> {
    pub(super) piece: &'a Piece,
    /// What acts at its beginning.
    pub(super) action: Option<&'a PlaceAction>,
}

impl Step<'_> {
    /// The state at the beginning of the piece, given the one at the end of the piece before.
    pub(super) fn beginning(&self, before: &State, scale: &Scale) -> State {
        self.action
            .map_or(*before, |action| before.past(&scale.place(action)))
    }
}

/// A load in plain numbers; [`order`] sorts by every field, so that equal loads only are tied.
#[derive(Debug, Clone, Copy)]
struct PlainLoad {
    kind: Kind,
    from: f64,
    to: f64,
    left: f64,
    right: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Force,
    Couple,
    Distributed,
    Settlement,
    Curvature,
}

fn order(a: &PlainLoad, b: &PlainLoad) -> std::cmp::Ordering {
    a.kind
        .cmp(&b.kind)
        .then_with(|| a.from.total_cmp(&b.from))
        .then_with(|| a.to.total_cmp(&b.to))
        .then_with(|| a.left.total_cmp(&b.left))
        .then_with(|| a.right.total_cmp(&b.right))
}

impl Action {
    /// Checks a load case and puts it on its places.
    ///
    /// All sums run over loads sorted by their content, so that the caller's order does not matter.
    pub(super) fn new(
        structure: &Structure,
        case: usize,
        loading: &Loading,
    ) -> Result<Self, BeamError> {
        let mut loads = Vec::with_capacity(loading.loads.len());
        for (index, load) in loading.loads.iter().enumerate() {
            loads.push(plain(structure, case, index, load)?);
        }
        loads.sort_by(order);

        let mut action = Self::unloaded(structure, &loads);
        let mean_distance = structure.length / (structure.nodes.len() - 1) as f64;
        for load in &loads {
            let first = action.index_of(load.from);
            let last = action.index_of(load.to);
            match load.kind {
                Kind::Force => {
                    action.places[first].force += load.left;
                    action.total += load.left.abs();
                }
                Kind::Couple => {
                    action.places[first].couple += load.left;
                    action.total += load.left.abs() / mean_distance;
                }
                Kind::Settlement => action.places[first].settlement += load.left,
                Kind::Curvature => {
                    for piece in &mut action.pieces[first..last] {
                        piece.free_curvature += load.left;
                    }
                }
                Kind::Distributed => action.add_distributed(load, first, last),
            }
        }
        Ok(action)
    }

    /// The places of the structure and of the loads, with nothing acting yet.
    fn unloaded(structure: &Structure, loads: &[PlainLoad]) -> Self {
        let mut all: Vec<f64> = structure.nodes.iter().map(|node| node.x).collect();
        all.extend(loads.iter().flat_map(|load| [load.from, load.to]));
        all.sort_by(f64::total_cmp);
        // Loads at nodes have exactly the node's place, so that a node is never merged away.
        all.dedup();
        let mut places: Vec<PlaceAction> = Vec::with_capacity(all.len());
        let is_node = |x: f64| structure.nodes.iter().any(|node| node.x == x);
        for x in all {
            let close = places
                .last()
                .is_some_and(|last| x - last.x <= structure.tolerance());
            if !close || is_node(x) {
                places.push(PlaceAction {
                    x,
                    ..PlaceAction::default()
                });
            }
        }
        let mut node_places = Vec::with_capacity(structure.nodes.len());
        let mut pieces = Vec::with_capacity(places.len());
        for (index, place) in places.iter().enumerate() {
            if structure
                .nodes
                .get(node_places.len())
                .is_some_and(|node| node.x == place.x)
            {
                node_places.push(index);
            }
            if let Some(next) = places.get(index + 1) {
                pieces.push(Piece {
                    length: next.x - place.x,
                    rigidity: structure.rigidity[node_places.len() - 1],
                    ..Piece::default()
                });
            }
        }
        Self {
            places,
            pieces,
            node_places,
            total: 0.0,
        }
    }

    /// The place nearest to `x`; every load's place is there, if not merged with one just before.
    fn index_of(&self, x: f64) -> usize {
        self.places
            .partition_point(|place| place.x <= x)
            .saturating_sub(1)
    }

    /// The pieces between a node and the next one, with what acts at the beginning of each.
    pub(super) fn steps_of(&self, node: usize) -> impl Iterator<Item = Step<'_>> {
        let (first, end) = (self.node_places[node], self.node_places[node + 1]);
        (first..end).map(move |index| Step {
            piece: &self.pieces[index],
            // What acts at the node itself belongs to the conditions there.
            action: (index > first).then(|| &self.places[index]),
        })
    }

    fn add_distributed(&mut self, load: &PlainLoad, first: usize, last: usize) {
        let length = load.to - load.from;
        let intensity = |x: f64| {
            let share = (x - load.from) / length;
            if share >= 1.0 {
                load.right
            } else {
                load.left + (load.right - load.left) * share
            }
        };
        for index in first..last {
            let (left, right) = (self.places[index].x, self.places[index + 1].x);
            let (at_left, at_right) = (intensity(left), intensity(right));
            let piece = &mut self.pieces[index];
            piece.load_left += at_left;
            piece.load_right += at_right;
            self.total += at_left.abs().max(at_right.abs()) * piece.length;
        }
    }
}

fn plain(
    structure: &Structure,
    loading: usize,
    load: usize,
    given: &Load,
) -> Result<PlainLoad, BeamError> {
    let finite = |value: f64| {
        if value.is_finite() {
            Ok(value)
        } else {
            Err(BeamError::LoadNotFinite { loading, load })
        }
    };
    let place = |x: f64| {
        structure
            .place(finite(x)?)
            .ok_or(BeamError::LoadOutside { loading, load })
    };
    let stretch = |from: f64, to: f64| {
        let (from, to) = (place(from)?, place(to)?);
        if to - from > structure.tolerance() {
            Ok((from, to))
        } else {
            Err(BeamError::LoadStretch { loading, load })
        }
    };
    let single = |kind: Kind, x: f64, value: f64| PlainLoad {
        kind,
        from: x,
        to: x,
        left: value,
        right: value,
    };
    match *given {
        Load::Force { at, down } => Ok(single(Kind::Force, place(at.si())?, finite(down.si())?)),
        Load::Couple { at, moment, sense } => {
            let x = place(at.si())?;
            let hinged = structure
                .nodes
                .iter()
                .find(|node| node.x == x)
                .and_then(|node| node.hinge);
            if let Some(hinge) = hinged {
                return Err(BeamError::CoupleAtHinge {
                    loading,
                    load,
                    hinge,
                });
            }
            let moment = finite(moment.si())?;
            let clockwise = if sense == Sense::Clockwise {
                moment
            } else {
                -moment
            };
            Ok(single(Kind::Couple, x, clockwise))
        }
        Load::Distributed {
            from,
            to,
            down_at_from,
            down_at_to,
        } => {
            let (from, to) = stretch(from.si(), to.si())?;
            let (left, right) = (finite(down_at_from.si())?, finite(down_at_to.si())?);
            Ok(PlainLoad {
                kind: Kind::Distributed,
                from,
                to,
                left,
                right,
            })
        }
        Load::Settlement { support, down } => {
            let x = structure.support_places.get(support).copied();
            let x = x.ok_or(BeamError::NoSuchSupport { loading, load })?;
            Ok(single(Kind::Settlement, x, finite(down.si())?))
        }
        Load::Curvature { from, to, sagging } => {
            let (from, to) = stretch(from.si(), to.si())?;
            let curvature = finite(sagging.si())?;
            Ok(PlainLoad {
                kind: Kind::Curvature,
                from,
                to,
                left: curvature,
                right: curvature,
            })
        }
    }
}

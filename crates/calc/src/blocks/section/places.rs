//! Where each part goes.
//!
//! A part is placed on another, which may stand on any line, also further down. Positions are
//! worked out from the part without a place, or one `at` coordinates, outwards.

use haunch_quantity::Dimension;
use haunch_quantity::typed::Typed;
use haunch_syntax::{Adjustment, Edge, Name, PartPlace, Side};
use haunch_text::Span;

use super::reading::{PartLine, Reading};
use crate::blocks::context::BlockLine;
use crate::findings::part_places;

/// The upright rectangle round a placed part, in m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Frame {
    pub(super) left: f64,
    pub(super) bottom: f64,
    width: f64,
    depth: f64,
}

/// How a part is placed in one direction.
#[derive(Debug, Clone, Copy)]
enum Along {
    /// Its middle on the middle of a part.
    Centred(usize),
    /// Its lower edge (left, bottom) in line with that of a part, moved in.
    FlushLow(usize, f64),
    /// Its upper edge (right, top) in line with that of a part, moved in.
    FlushHigh(usize, f64),
    /// Its lower edge at the upper edge of a part.
    After(usize),
    /// Its upper edge at the lower edge of a part.
    Before(usize),
    /// Its lower edge at a coordinate.
    At(f64),
    /// By itself: its middle on 0 sideways, its bottom on 0 upwards.
    ByItself,
}

impl Along {
    fn needs(self) -> Option<usize> {
        match self {
            Along::Centred(part)
            | Along::FlushLow(part, _)
            | Along::FlushHigh(part, _)
            | Along::After(part)
            | Along::Before(part) => Some(part),
            Along::At(_) | Along::ByItself => None,
        }
    }

    /// The lower edge of a part of this size, where `by_itself` is where it goes by itself.
    fn low(self, frames: &[Option<(f64, f64)>], size: f64, by_itself: f64) -> Option<f64> {
        let of = |part: usize| frames.get(part).copied().flatten();
        Some(match self {
            Along::Centred(part) => {
                let (low, length) = of(part)?;
                low + length / 2.0 - size / 2.0
            }
            Along::FlushLow(part, inset) => of(part)?.0 + inset,
            Along::FlushHigh(part, inset) => {
                let (low, length) = of(part)?;
                low + length - size - inset
            }
            Along::After(part) => {
                let (low, length) = of(part)?;
                low + length
            }
            Along::Before(part) => of(part)?.0 - size,
            Along::At(low) => low,
            Along::ByItself => by_itself,
        })
    }
}

/// A part's place, sideways and upwards.
#[derive(Debug, Clone, Copy)]
struct Placing {
    x: Along,
    y: Along,
}

/// The frames of all parts in the order of their lines; none where one of them is not known.
pub(super) fn place(reading: &mut Reading<'_>) -> Option<Vec<Frame>> {
    two_without(reading);
    let placings: Vec<Option<Placing>> = (0..reading.parts.len())
        .map(|index| placing(reading, index))
        .collect();
    let order = order(reading, &placings)?;
    let shapes: Option<Vec<_>> = reading
        .parts
        .iter()
        .map(|part| part.shape.clone())
        .collect();
    let (shapes, placings) = (shapes?, placings.into_iter().collect::<Option<Vec<_>>>()?);
    let mut x: Vec<Option<(f64, f64)>> = vec![None; shapes.len()];
    let mut y = x.clone();
    for index in order {
        let (shape, placing) = (shapes.get(index)?, placings.get(index)?);
        let (width, depth) = (shape.width().si(), shape.depth().si());
        let left = placing.x.low(&x, width, -width / 2.0)?;
        let bottom = placing.y.low(&y, depth, 0.0)?;
        *x.get_mut(index)? = Some((left, width));
        *y.get_mut(index)? = Some((bottom, depth));
    }
    x.into_iter()
        .zip(y)
        .map(|(x, y)| {
            let ((left, width), (bottom, depth)) = (x?, y?);
            Some(Frame {
                left,
                bottom,
                width,
                depth,
            })
        })
        .collect()
}

/// The part that has no place of its own.
pub(super) fn by_itself(parts: &[PartLine<'_>]) -> Option<usize> {
    parts.iter().position(|part| has_no_place(part))
}

/// Whether a part says nothing of where it goes. The corners of a polygon are its place.
fn has_no_place(own: &PartLine<'_>) -> bool {
    own.part.place == PartPlace::Unplaced && own.part.shape.text != "polygon"
}

fn two_without(reading: &mut Reading<'_>) {
    let Some(first) = by_itself(&reading.parts) else {
        return;
    };
    let found: Vec<_> = reading
        .parts
        .iter()
        .skip(first + 1)
        .filter(|own| has_no_place(own))
        .map(|own| {
            let first = &reading.parts[first];
            let earlier = (first.name(), first.name_place());
            part_places::two_without(own.name_place(), own.name(), earlier)
        })
        .collect();
    for finding in found {
        reading.refuse(finding);
    }
}

/// What the words of a part's place say; none, with a finding, where they cannot be followed.
fn placing(reading: &mut Reading<'_>, index: usize) -> Option<Placing> {
    let own = reading.parts.get(index)?;
    let (line, part) = (own.line, own.part);
    match &part.place {
        PartPlace::Unplaced if !has_no_place(own) => {
            let shape = own.shape.as_ref()?;
            Some(Placing {
                x: Along::At(shape.left().si()),
                y: Along::At(shape.bottom().si()),
            })
        }
        PartPlace::Unplaced => Some(Placing {
            x: Along::ByItself,
            y: Along::ByItself,
        }),
        PartPlace::At { x, y, .. } => {
            let at = |id| Some(Along::At(line.quantity(id, Dimension::LENGTH)?.si()));
            let placing = at(*x).zip(at(*y)).map(|(x, y)| Placing { x, y });
            reading.complete &= placing.is_some();
            placing
        }
        PartPlace::Relative {
            relation,
            on,
            adjustments,
            ..
        } => relative(reading, &line, &part.name, *relation, on, adjustments),
    }
}

/// The two directions of a place while its words are read.
struct Words {
    x: Option<Along>,
    y: Option<Along>,
    /// The edge that an inset is measured from: the last one named.
    last: Option<Edge>,
}

fn relative(
    reading: &mut Reading<'_>,
    line: &BlockLine<'_>,
    name: &Name,
    relation: Side,
    on: &Name,
    adjustments: &[Adjustment],
) -> Option<Placing> {
    let on = reading.part_named(line, on);
    // With the part unknown the other words are still looked at.
    let base = on.unwrap_or(0);
    let mut words = match relation {
        Side::Above => Words::new(None, Some(Along::After(base))),
        Side::Below => Words::new(None, Some(Along::Before(base))),
        Side::RightOf => Words::new(Some(Along::After(base)), None),
        Side::LeftOf => Words::new(Some(Along::Before(base)), None),
        Side::In => Words::new(None, None),
    };
    let mut sound = on.is_some();
    let mut centre: Option<(usize, Span)> = None;
    for adjustment in adjustments {
        let finding = match adjustment {
            Adjustment::CentredOn(other) => match (reading.part_named(line, other), centre) {
                (None, _) => {
                    sound = false;
                    continue;
                }
                (Some(_), Some(_)) => part_places::said_twice(line.place(other.span), &name.text),
                (Some(other_part), None) => {
                    centre = Some((other_part, other.span));
                    continue;
                }
            },
            Adjustment::Flush(edge, span) => match words.flush(relation, *edge, base) {
                Ok(()) => continue,
                Err(Mistake::WrongEdge) => {
                    let (side, edges) = side_words(relation);
                    part_places::wrong_edge(line.place(*span), &name.text, side, edges)
                }
                Err(Mistake::Twice) => part_places::said_twice(line.place(*span), &name.text),
            },
            Adjustment::Inset(by, span) => {
                let by = line.quantity(*by, Dimension::LENGTH);
                match by.map(|by| words.inset(by.si())) {
                    Some(true) => continue,
                    Some(false) => part_places::inset_without_edge(line.place(*span), &name.text),
                    None => {
                        reading.complete = false;
                        sound = false;
                        continue;
                    }
                }
            }
        };
        reading.refuse(finding);
        sound = false;
    }
    if let Some((_, span)) = centre
        && words.x.is_some()
        && words.y.is_some()
    {
        let place = line.place(span);
        reading.refuse(part_places::said_twice(place, &name.text));
        return None;
    }
    let middle = Along::Centred(centre.map_or(base, |(part, _)| part));
    sound.then(|| Placing {
        x: words.x.unwrap_or(middle),
        y: words.y.unwrap_or(middle),
    })
}

/// Why `flush` does not fit.
enum Mistake {
    WrongEdge,
    Twice,
}

impl Words {
    fn new(x: Option<Along>, y: Option<Along>) -> Words {
        Words { x, y, last: None }
    }

    fn flush(&mut self, relation: Side, edge: Edge, base: usize) -> Result<(), Mistake> {
        let sideways = matches!(edge, Edge::Left | Edge::Right);
        let fits = match relation {
            Side::Above | Side::Below => sideways,
            Side::LeftOf | Side::RightOf => !sideways,
            Side::In => true,
        };
        if !fits {
            return Err(Mistake::WrongEdge);
        }
        let slot = if sideways { &mut self.x } else { &mut self.y };
        if slot.is_some() {
            return Err(Mistake::Twice);
        }
        *slot = Some(match edge {
            Edge::Left | Edge::Bottom => Along::FlushLow(base, 0.0),
            Edge::Right | Edge::Top => Along::FlushHigh(base, 0.0),
        });
        self.last = Some(edge);
        Ok(())
    }

    /// Moves the part in from the edge named last; false where none is named, or one twice.
    fn inset(&mut self, by: f64) -> bool {
        let slot = match self.last.take() {
            Some(Edge::Left | Edge::Right) => &mut self.x,
            Some(Edge::Top | Edge::Bottom) => &mut self.y,
            None => return false,
        };
        match slot {
            Some(Along::FlushLow(_, inset) | Along::FlushHigh(_, inset)) => *inset = by,
            _ => return false,
        }
        true
    }
}

fn side_words(relation: Side) -> (&'static str, &'static str) {
    match relation {
        Side::Above => ("above", "left or right"),
        Side::Below => ("below", "left or right"),
        Side::LeftOf => ("left of", "top or bottom"),
        Side::RightOf => ("right of", "top or bottom"),
        Side::In => ("in", "left, right, top or bottom"),
    }
}

/// The parts in an order in which each comes after those that it is placed on; none, with a
/// finding for each ring, where there is no such order.
fn order(reading: &mut Reading<'_>, placings: &[Option<Placing>]) -> Option<Vec<usize>> {
    let needs = |index: usize| -> Vec<usize> {
        let placing = placings.get(index).copied().flatten();
        let mut needs: Vec<usize> = placing
            .into_iter()
            .flat_map(|placing| [placing.x.needs(), placing.y.needs()])
            .flatten()
            .collect();
        needs.sort_unstable();
        needs.dedup();
        needs
    };
    let mut open: Vec<usize> = (0..placings.len())
        .map(|index| needs(index).len())
        .collect();
    let mut users: Vec<Vec<usize>> = vec![Vec::new(); placings.len()];
    for index in 0..placings.len() {
        for needed in needs(index) {
            if let Some(users) = users.get_mut(needed) {
                users.push(index);
            }
        }
    }
    let mut order: Vec<usize> = (0..placings.len())
        .filter(|&index| open[index] == 0)
        .collect();
    let mut next = 0;
    while let Some(&placed) = order.get(next) {
        next += 1;
        for &user in &users[placed] {
            open[user] -= 1;
            if open[user] == 0 {
                order.push(user);
            }
        }
    }
    if order.len() == placings.len() {
        return Some(order);
    }
    for ring in rings(&open, needs) {
        report_ring(reading, &ring);
    }
    None
}

/// The rings among the parts that could not be ordered, each from its first part.
fn rings(open: &[usize], needs: impl Fn(usize) -> Vec<usize>) -> Vec<Vec<usize>> {
    let mut visited = vec![0; open.len()];
    let mut rings = Vec::new();
    for start in (0..open.len()).filter(|&index| open[index] > 0) {
        let walk = start + 1;
        let mut path = Vec::new();
        let mut here = start;
        while visited[here] == 0 {
            visited[here] = walk;
            path.push(here);
            // Each of these parts needs another of them.
            match needs(here).into_iter().find(|&next| open[next] > 0) {
                Some(next) => here = next,
                None => break,
            }
        }
        if visited[here] == walk
            && let Some(from) = path.iter().position(|&part| part == here)
        {
            let mut ring = path.split_off(from);
            let first = ring.iter().enumerate().min_by_key(|(_, part)| **part);
            let first = first.map_or(0, |(position, _)| position);
            ring.rotate_left(first);
            rings.push(ring);
        }
    }
    rings
}

fn report_ring(reading: &mut Reading<'_>, ring: &[usize]) {
    let parts: Vec<&PartLine<'_>> = ring
        .iter()
        .filter_map(|&index| reading.parts.get(index))
        .collect();
    let [first, others @ ..] = parts.as_slice() else {
        return;
    };
    let names: Vec<&str> = parts.iter().map(|part| part.name()).collect();
    let others: Vec<_> = others
        .iter()
        .map(|part| (part.name_place(), part.name()))
        .collect();
    let finding = part_places::ring(first.name_place(), &names, &others);
    reading.refuse(finding);
}

//! The smallest part of a formula that is at fault, as far as the line tells by itself: the place of
//! the likeliest slip that would explain it.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind};

use super::candidates::of_structure;
use super::line::Line;
use super::needed::{Need, spread};

/// Slips whose costs differ by less are equally likely.
const ALIKE: f64 = 0.15;

/// The part at fault of an expression that has to be `wanted`; the expression itself, out of its
/// parentheses, where no single slip explains it. With it the dimension that it would need, all else
/// staying as it is, where that is one that the trade has a name for.
pub(crate) fn part(
    line: &Line<'_>,
    id: ExpressionId,
    wanted: Dimension,
) -> (ExpressionId, Option<Dimension>) {
    let needs = spread(line, vec![(id, wanted)]);
    let at_fault = smallest(line, id, &needs);
    let needed = needs
        .iter()
        .find(|(part, needed)| *part == at_fault && needed.name().is_some())
        .map(|(_, needed)| *needed);
    (at_fault, needed)
}

fn smallest(line: &Line<'_>, id: ExpressionId, needs: &[Need]) -> ExpressionId {
    let slips = of_structure(line, needs);
    let Some(least) = slips.iter().map(|slip| slip.cost).min_by(f64::total_cmp) else {
        return inside(line, id);
    };
    let places = slips
        .iter()
        .filter(|slip| slip.cost < least + ALIKE)
        .map(|slip| slip.place)
        .reduce(|a, b| a.cover(b));
    let Some(place) = places else {
        return id;
    };
    // Children come before their parents: the first that covers the place is the smallest.
    let covering = line
        .tree
        .expressions
        .iter()
        .position(|e| e.span.start <= place.start && place.end <= e.span.end);
    match covering {
        Some(index) if line.span(id).start <= place.start && place.end <= line.span(id).end => {
            inside(line, ExpressionId(index as u32))
        }
        _ => inside(line, id),
    }
}

fn inside(line: &Line<'_>, mut id: ExpressionId) -> ExpressionId {
    while let Some(ExpressionKind::Group(inner) | ExpressionKind::Negate(inner)) = line.kind(id) {
        id = *inner;
    }
    id
}

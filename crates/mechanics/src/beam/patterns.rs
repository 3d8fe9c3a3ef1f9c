//! Unfavourable patterns: which of several loads that may act or not make a result extreme.

use super::diagram::{Diagram, Side};
use super::response::Response;
use haunch_quantity::typed::{Length, Typed};
use std::collections::BTreeSet;

/// Every choice of terms that makes shear, moment, slope, deflection or a reaction extreme
/// somewhere, for each term whether it acts; in an order of their own, without doubles.
///
/// At one place the sum is largest where exactly the terms act that are positive there, and
/// smallest where the negative ones do. Between two neighbouring places where a term changes its
/// sign the choice stays the same, so that the choices of all these stretches are all that can
/// govern: exact, and far fewer than all choices together (superposition; for influence lines see
/// any textbook of structural analysis). Signs of the terms decide, not their sizes: the choices hold
/// for any larger or smaller loads, and whatever acts besides.
pub fn unfavourable_patterns(terms: &[(f64, &Response)]) -> Vec<Vec<bool>> {
    let mut patterns = BTreeSet::new();
    of_diagrams(&with(terms, |r| Some(r.shear())), &mut patterns);
    of_diagrams(&with(terms, |r| Some(r.moment())), &mut patterns);
    of_diagrams(&with(terms, Response::slope), &mut patterns);
    of_diagrams(&with(terms, Response::deflection), &mut patterns);
    let reactions: Vec<_> = terms
        .iter()
        .map(|(factor, response)| (factor, response.reactions()))
        .collect();
    let count = reactions.first().map_or(0, |(_, first)| first.len());
    for support in 0..count {
        let of = |moment: bool| {
            let value = |(factor, all): &(&f64, Vec<super::Reaction>)| {
                let reaction = all.get(support);
                let value = reaction.and_then(|reaction| match moment {
                    true => reaction.moment.map(Typed::si),
                    false => Some(reaction.force.si()),
                });
                *factor * value.unwrap_or(0.0)
            };
            reactions.iter().map(value).collect::<Vec<f64>>()
        };
        for values in [of(false), of(true)] {
            add(&values, &mut patterns);
        }
    }
    if patterns.is_empty() {
        patterns.insert(vec![false; terms.len()]);
    }
    patterns.into_iter().collect()
}

fn with<'a, Q>(
    terms: &[(f64, &'a Response)],
    diagram: impl Fn(&'a Response) -> Option<&'a Diagram<Q>>,
) -> Vec<(f64, &'a Diagram<Q>)> {
    terms
        .iter()
        .filter_map(|(factor, response)| Some((*factor, diagram(response)?)))
        .collect()
}

/// The choices along the beam, a place and both of its sides looked at between changes of sign.
fn of_diagrams<Q: Typed>(terms: &[(f64, &Diagram<Q>)], patterns: &mut BTreeSet<Vec<bool>>) {
    let mut changes: Vec<f64> = terms
        .iter()
        .flat_map(|(_, diagram)| diagram.sign_changes())
        .collect();
    changes.sort_by(f64::total_cmp);
    changes.dedup();
    for ends in changes.windows(2) {
        let middle = Length::from_si(0.5 * (ends[0] + ends[1]));
        let value = |(factor, diagram): &(f64, &Diagram<Q>)| {
            let value = diagram.at(middle, Side::After);
            factor * value.map_or(0.0, Typed::si)
        };
        add(&terms.iter().map(value).collect::<Vec<f64>>(), patterns);
    }
}

/// The choice for the largest sum and that for the smallest.
fn add(values: &[f64], patterns: &mut BTreeSet<Vec<bool>>) {
    if values.is_empty() {
        return;
    }
    patterns.insert(values.iter().map(|value| *value > 0.0).collect());
    patterns.insert(values.iter().map(|value| *value < 0.0).collect());
}

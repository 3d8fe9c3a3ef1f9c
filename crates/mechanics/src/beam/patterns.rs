//! Unfavourable patterns: which of several loads that may act or not make a result extreme.

use super::diagram::{Diagram, Side};
use super::polynomial::Polynomial;
use super::response::{Response, together};
use haunch_quantity::typed::{Force, Length, Moment, Typed};
use std::collections::BTreeSet;

/// Every choice of terms that makes shear, moment, slope, deflection or a reaction extreme
/// somewhere, or anything that is convex in moment and shear together, such as a stress of both; for
/// each term whether it acts; in an order of their own, without doubles.
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
    of_both(
        &with(terms, |r| Some(r.moment())),
        &with(terms, |r| Some(r.shear())),
        &mut patterns,
    );
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

/// Directions closer than this, in radians, are one.
const ONE_DIRECTION: f64 = 1e-9;

/// The choices for moment and shear together.
///
/// At one place each term is a vector (M, V), and the sums of all choices lie in a polygon whose
/// corners are the choices of all terms that point to one side of some line through the origin:
/// something convex is largest at a corner. Which choices these are changes along the beam only where
/// two of the vectors come to lie on one line, where M₁·V₂ − M₂·V₁ changes its sign, or where one of
/// them turns its sign.
fn of_both(
    moments: &[(f64, &Diagram<Moment>)],
    shears: &[(f64, &Diagram<Force>)],
    patterns: &mut BTreeSet<Vec<bool>>,
) {
    let places: Vec<_> = moments
        .iter()
        .map(|(_, moment)| moment.places_si())
        .chain(shears.iter().map(|(_, shear)| shear.places_si()))
        .collect();
    if places.is_empty() {
        return;
    }
    for ends in together(&places).windows(2) {
        let (left, right) = (ends[0], ends[1]);
        let terms: Vec<(f64, Polynomial, Polynomial)> = moments
            .iter()
            .zip(shears)
            .map(|((factor, moment), (_, shear))| {
                let moment = moment.polynomial_between(left, right);
                (*factor, moment, shear.polynomial_between(left, right))
            })
            .collect();
        let mut changes = vec![0.0, 1.0];
        for (index, (_, moment, shear)) in terms.iter().enumerate() {
            for own in [moment, shear] {
                changes.extend(own.sign_changes().as_slice());
            }
            for (_, other_moment, other_shear) in &terms[index + 1..] {
                let one = moment.times(other_shear);
                let across = one.plus_scaled(-1.0, &other_moment.times(shear));
                changes.extend(across.sign_changes().as_slice());
            }
        }
        changes.sort_by(f64::total_cmp);
        changes.dedup();
        for ends in changes.windows(2) {
            let t = 0.5 * (ends[0] + ends[1]);
            let vector = |(factor, moment, shear): &(f64, Polynomial, Polynomial)| {
                (factor * moment.value(t), factor * shear.value(t))
            };
            add_corners(&terms.iter().map(vector).collect::<Vec<_>>(), patterns);
        }
    }
}

/// The choices at the corners of the polygon of all sums of some vectors.
fn add_corners(vectors: &[(f64, f64)], patterns: &mut BTreeSet<Vec<bool>>) {
    let largest = |of: fn(&(f64, f64)) -> f64| vectors.iter().map(of).fold(0.0, f64::max);
    let (most, most_across) = (largest(|v| v.0.abs()), largest(|v| v.1.abs()));
    if most == 0.0 || most_across == 0.0 {
        // The choices for one of them alone are all that there are.
        return;
    }
    let scaled: Vec<(f64, f64)> = vectors
        .iter()
        .map(|(a, b)| (a / most, b / most_across))
        .collect();
    // A term changes sides where the direction is square to it.
    let square = std::f64::consts::FRAC_PI_2;
    let mut turns: Vec<f64> = scaled
        .iter()
        .filter(|(a, b)| a.abs().max(b.abs()) > ONE_DIRECTION)
        .flat_map(|(a, b)| {
            let angle = libm::atan2(*b, *a);
            [angle + square, angle - square]
        })
        .map(|angle| angle.rem_euclid(4.0 * square))
        .collect();
    turns.sort_by(f64::total_cmp);
    turns.extend(turns.first().map(|first| first + 4.0 * square));
    for pair in turns.windows(2) {
        if pair[1] - pair[0] > ONE_DIRECTION {
            let direction = 0.5 * (pair[0] + pair[1]);
            let (across, along) = (libm::sin(direction), libm::cos(direction));
            let acts = |(a, b): &(f64, f64)| a * along + b * across > 0.0;
            patterns.insert(scaled.iter().map(acts).collect());
        }
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

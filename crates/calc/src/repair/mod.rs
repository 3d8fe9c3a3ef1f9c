//! Repairs that depend on what else the file holds: the smallest edits that make a line
//! dimensionally right, best first.
//!
//! They are searched for when they are asked for, outside a line's cached result, since every name
//! in scope can matter. The search is bounded: names of the nearest [`scope::MOST_NAMES`] values,
//! at most [`MOST_TRIED`] candidates tried by reading the mended line again, at most
//! [`MOST_OFFERED`] offered.
//!
//! Ranking, by cost, smaller first; equal costs by the distance of the lines that define the new
//! names, then by the text itself:
//! - 1.0 a name, or every name of a sum, changes to one of the same series (`y1 + y2` to
//!   `A1 + A2`), or one result of a block to another of the same block;
//! - 1.1 a power changes or is taken away;
//! - 1.3 a power is added;
//! - 1.4 a bare number gets a unit, or a unit changes to one that fits;
//! - 1.5 a product becomes a quotient or the other way round; a fraction is turned over;
//! - 1.7 a name changes to one of another series;
//! - 1.8 a factor is taken away; the brackets ask for another unit;
//! - 2.0 a square root is taken;
//! - 2.2 a factor from the file is put in.
//!
//! A name that nothing used before costs 0.3 less, one that has no value itself 0.4 more. Names that
//! need the line at fault are left out: they would make a ring.

mod candidates;
mod needed;
mod scope;
mod trial;
pub(crate) mod units;

use std::cmp::Ordering;

use crate::finding::{Finding, Place, Repair};
use crate::findings;
use crate::state::State;

/// How many candidates are tried by reading the mended line again.
const MOST_TRIED: usize = 40;
/// How many repairs are offered.
const MOST_OFFERED: usize = 5;

/// One way to mend a line, before it is tried.
#[derive(Debug, Clone)]
struct Candidate {
    cost: f64,
    /// Lines between the mended line and the definition of the name that comes in.
    distance: u64,
    title: String,
    /// Replacements in the line.
    edits: Vec<(haunch_text::Span, String)>,
}

impl Candidate {
    fn rank(&self, other: &Candidate) -> Ordering {
        self.cost
            .total_cmp(&other.cost)
            .then(self.distance.cmp(&other.distance))
            .then_with(|| self.title.cmp(&other.title))
            .then_with(|| self.edits.cmp(&other.edits))
    }
}

/// The repairs of a finding, best first: those that it carries, and those that the file suggests.
pub(crate) fn repairs(state: &State, finding: &Finding) -> Vec<Repair> {
    let code = finding.code.name;
    let searched = if code == findings::unit_mismatch::CODE.name {
        search(state, finding)
    } else if code == findings::unknown_name::CODE.name {
        spelling(state, finding)
    } else {
        return finding.repairs.clone();
    };
    let mut all: Vec<(f64, Repair)> = searched
        .into_iter()
        .map(|candidate| {
            let edits = candidate
                .edits
                .into_iter()
                .map(|(span, text)| {
                    (
                        Place {
                            span,
                            ..finding.place
                        },
                        text,
                    )
                })
                .collect();
            let repair = Repair {
                title: candidate.title,
                edits,
            };
            (candidate.cost, repair)
        })
        .collect();
    all.extend(finding.repairs.iter().map(|repair| (1.8, repair.clone())));
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut repairs: Vec<Repair> = Vec::new();
    for (_, repair) in all {
        if !repairs.iter().any(|known| known.edits == repair.edits) {
            repairs.push(repair);
        }
    }
    repairs.truncate(MOST_OFFERED);
    repairs
}

/// Edits that make the line dimensionally right.
fn search(state: &State, finding: &Finding) -> Vec<Candidate> {
    let Some(cell) = state.cell(finding.place.line) else {
        return Vec::new();
    };
    let scope = scope::Scope::around(state, finding.place.line);
    let mut candidates = candidates::all(state, cell, &scope);
    candidates.sort_by(Candidate::rank);
    candidates.dedup_by(|a, b| a.edits == b.edits);
    candidates.truncate(MOST_TRIED);
    candidates.retain(|candidate| trial::mends(state, finding.place.line, cell, &candidate.edits));
    candidates.truncate(MOST_OFFERED);
    candidates
}

/// Names that are nearly spelled like an unknown one; those of the dimension that the place needs
/// come first.
fn spelling(state: &State, finding: &Finding) -> Vec<Candidate> {
    let line = finding.place.line;
    let Some(cell) = state.cell(line) else {
        return Vec::new();
    };
    let written = finding.place.span.text(&cell.text).to_owned();
    let scope = scope::Scope::around(state, line);
    let names = scope.names.iter().map(|name| name.name.as_str());
    let mut candidates: Vec<Candidate> = crate::spelling::nearest(&written, names)
        .into_iter()
        .enumerate()
        .map(|(rank, near)| {
            let edits = vec![(finding.place.span, near.to_owned())];
            let mends = trial::mends(state, line, cell, &edits);
            Candidate {
                cost: 1.0 + rank as f64 * 0.01 + if mends { 0.0 } else { 0.5 },
                distance: 0,
                title: format!("Write {near}"),
                edits,
            }
        })
        .collect();
    candidates.sort_by(Candidate::rank);
    candidates
}

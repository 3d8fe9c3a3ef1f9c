//! Repairs that depend on what else the file holds: the smallest edits that make a line
//! dimensionally right, best first.
//!
//! They are searched for when they are asked for, outside a line's cached result, since every name
//! in scope can matter. The search is bounded: names of the nearest [`scope::MOST_NAMES`] values,
//! at most [`MOST_TRIED`] candidates tried by reading the mended line again, at most
//! [`MOST_OFFERED`] offered.
//!
//! Ranking, by cost, smaller first; equal costs by the distance of the lines that define the new
//! names, then by the text itself. The costs say how likely each slip is (common practice, no
//! source):
//! - 0.9 a factor that stands twice in a product is left out; brackets change to what the name
//!   usually stands for ([`symbols`]);
//! - 1.0 a name, or every name of a sum, changes to one of the same series (`y1 + y2` to
//!   `A1 + A2`), or one result of a block to another of the same block; 1.3 to a name that begins
//!   alike, 1.55 to any other;
//! - 1.1 a power changes or is taken away, 1.3 one is added; more for large steps and for letters that
//!   are hardly ever raised;
//! - 1.2 a fraction is turned over, a root is taken of what stands in parentheses (1.6 of another
//!   product); 1.3 a weighted sum is divided by its weights;
//! - 1.4 factors go to the other side of the stroke; a unit changes to one that fits;
//! - 1.65 a factor from the file is put in, 2.6 one above and one below the stroke; a difference
//!   becomes a ratio;
//! - 1.8 a factor is left out; the brackets ask for another unit: 0.6 more where lines that use the
//!   value fit what is asked, 0.9 less where none of them does.
//!
//! A name costs less for its company ([`company`]): 0.35 where it has the same place in a series as a
//! name of the same product or the name on the left, 0.15 where its letter is a customary partner of
//! one beside it, and up to 0.4 by the share of the line's other names that stand with it on some other
//! line; 0.45 in all. A given number that nothing used before costs 0.5 less (no name is left over), a result that
//! nothing uses 0.2 more unless it stands in one of the few lines above, a name defined further down 0.3 more, one without a value 0.4 more, one that
//! the product has already 0.35 more, and 0.3 more where the name that goes would be left over. Names
//! that need the line at fault are left out: they would make a ring.
//!
//! A mended line is compared with the formulas of the trade ([`shapes`]): its cost falls by up to
//! [`shapes::WEIGHT`] the more its products look like one of them, by dimensions, powers, letters and usual
//! numbers. It costs 0.8 more where a line that uses it would get an error from what it comes to. The same likeness, with the right name left open, helps to find the place of the slip ([`blame`]).

mod blame;
mod candidates;
mod company;
mod line;
mod needed;
mod product;
mod scope;
mod shapes;
mod symbols;
mod term;
mod trial;
pub(crate) mod units;

pub(crate) use blame::part as part_at_fault;
pub(crate) use line::Line;
pub(crate) use symbols::is_customary;

use std::cmp::Ordering;

use crate::finding::{Finding, Place, Repair};
use crate::findings;
use crate::state::State;
use crate::statements::expected;
use haunch_syntax::{Statement, ValueBody};

/// How many candidates are tried by reading the mended line again.
const MOST_TRIED: usize = 40;
/// What it costs that a line which uses the mended one would have an error.
const BREAKS_A_USER: f64 = 0.8;
/// How many repairs are offered.
const MOST_OFFERED: usize = 5;

/// One way to mend a line, before it is tried.
#[derive(Debug, Clone)]
struct Candidate {
    cost: f64,
    /// Lines between the mended line and the definition of the name that comes in.
    distance: u64,
    /// The part that changes.
    place: haunch_text::Span,
    title: String,
    /// Replacements in the line.
    edits: Vec<(haunch_text::Span, String)>,
    /// What it changes in its product, for slips that a line tells by itself.
    slip: Option<Slip>,
}

/// A slip in the product around an expression.
#[derive(Debug, Clone)]
struct Slip {
    at: haunch_syntax::ExpressionId,
    changes: Vec<term::Change>,
}

impl Slip {
    fn of(at: haunch_syntax::ExpressionId, change: term::Change) -> Option<Slip> {
        Some(Slip {
            at,
            changes: vec![change],
        })
    }
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
    let own = own_cost(state, finding);
    all.extend(finding.repairs.iter().map(|repair| (own, repair.clone())));
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut repairs: Vec<Repair> = Vec::new();
    for (_, repair) in all {
        let is_known = |known: &Repair| known.edits == repair.edits || known.title == repair.title;
        if !repairs.iter().any(is_known) {
            repairs.push(repair);
        }
    }
    repairs.truncate(MOST_OFFERED);
    repairs
}

/// What it costs to change what a line asks for: little where its name usually stands for what the
/// formula gives, or where the lines that use it do not fit what it asks for; more the other way
/// round.
fn own_cost(state: &State, finding: &Finding) -> f64 {
    let line = finding.place.line;
    let Some(cell) = state.cell(line) else {
        return 1.8;
    };
    let Statement::Value(value) = &cell.tree.statement else {
        return 1.8;
    };
    let (ValueBody::Expression(body), Some(shown)) = (&value.body, &value.shown) else {
        return 1.8;
    };
    let found = Line::of(cell).found(*body);
    let asked = expected::shown_dimension(&shown.kind);
    let customary = |dimension: Option<haunch_quantity::Dimension>| {
        dimension.and_then(|dimension| symbols::is_customary(&value.name.text, dimension))
    };
    let mut cost = match (customary(found), customary(asked)) {
        (Some(true), Some(false)) => 0.9,
        (Some(false), Some(true)) => 2.6,
        _ => 1.8,
    };
    // A dimension that the trade has no name for is hardly ever meant.
    if found.is_none_or(|found| found.name().is_none()) {
        cost += 0.6;
    }
    let users = state.dependents(line);
    let is_wrong = |user: &crate::line::LineId| {
        state.cell(*user).is_some_and(|cell| {
            let findings = &cell.outcome.findings;
            findings
                .iter()
                .any(|f| f.code == &findings::unit_mismatch::CODE)
        })
    };
    let wrong = users.iter().filter(|user| is_wrong(user)).count();
    match (users.len(), wrong) {
        (0, _) => cost,
        (_, 0) => cost + 0.6,
        (all, wrong) if all == wrong => cost - 0.9,
        _ => cost,
    }
}

/// Edits that make the line dimensionally right.
fn search(state: &State, finding: &Finding) -> Vec<Candidate> {
    let Some(cell) = state.cell(finding.place.line) else {
        return Vec::new();
    };
    let scope = scope::Scope::around(state, finding.place.line);
    let mut candidates = candidates::all(state, cell, &scope);
    candidates.sort_by(Candidate::rank);
    candidates.dedup_by(|a, b| a.edits == b.edits || a.title == b.title);
    candidates.truncate(MOST_TRIED);
    candidates.retain_mut(|candidate| {
        let mended = trial::mended(state, finding.place.line, cell, &candidate.edits);
        let likeness = mended.as_ref().and_then(|mended| mended.likeness);
        candidate.cost += likeness.map_or(0.0, |likeness| (0.5 - likeness) * shapes::WEIGHT);
        candidate.cost += match &mended {
            Some(mended) if mended.breaks_a_user => BREAKS_A_USER,
            _ => 0.0,
        };
        mended.is_some()
    });
    candidates.sort_by(Candidate::rank);
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
    // Any letter is one letter away from any other: spelling alone says nothing then.
    let is_letter = written.chars().count() < 2;
    let mut candidates: Vec<Candidate> = crate::spelling::nearest(&written, names)
        .into_iter()
        .enumerate()
        .filter_map(|(rank, near)| {
            let edits = vec![(finding.place.span, near.to_owned())];
            let mends = trial::mended(state, line, cell, &edits).is_some();
            if is_letter && !mends && !near.eq_ignore_ascii_case(&written) {
                return None;
            }
            Some(Candidate {
                cost: 1.0 + rank as f64 * 0.01 + if mends { 0.0 } else { 0.5 },
                distance: 0,
                place: finding.place.span,
                title: format!("Write {near}"),
                edits,
                slip: None,
            })
        })
        .collect();
    candidates.sort_by(Candidate::rank);
    candidates
}

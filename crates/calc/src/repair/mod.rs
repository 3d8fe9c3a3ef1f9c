//! Repairs that depend on what else the file holds: the smallest edits that make a line
//! dimensionally right, best first.
//!
//! They are searched for when they are asked for, outside a line's cached result, since every name
//! in scope can matter. The search is bounded: names of the nearest [`scope::MOST_NAMES`] values,
//! at most [`MOST_TRIED`] candidates tried by reading the mended line again, at most
//! [`MOST_OFFERED`] offered.
//!
//! Ranking, by cost, smaller first; equal costs by the distance of the lines that define the new
//! names, then by the text itself. A cost is the sum of what speaks for and against a repair
//! ([`costs`]): which slip it undoes, how the name that comes in is used and goes with those beside it
//! ([`company`]), whether a name would be left over, whether the mended line looks like the formulas of
//! the trade ([`likeness`]) and like its neighbours ([`pattern`]), and whether the lines that use its value
//! would still be right. Names that need the line at fault are left out: they would make a ring.
//!
//! The same likeness, with the right name left open, helps to find the place of the slip ([`blame`]).

mod blame;
mod candidates;
mod company;
pub(crate) mod costs;
mod factors;
mod likeness;
mod line;
mod names;
mod needed;
mod parentheses;
mod pattern;
mod product;
mod quantities;
mod scope;
mod shapes;
mod structure;
mod symbols;
mod term;
mod trial;
pub(crate) mod units;

pub(crate) use blame::part as part_at_fault;
pub use costs::{Reason, Reasons};
pub(crate) use line::Line;
pub(crate) use symbols::is_bound as is_name_of_bound;
pub(crate) use symbols::is_customary;

use std::cmp::Ordering;

use crate::finding::{Finding, Place, Repair};
use crate::findings;
use crate::state::State;
use crate::statements::expected;
use haunch_syntax::{Statement, ValueBody};

/// How many candidates are tried by reading the mended line again.
const MOST_TRIED: usize = 32;
/// How many repairs are offered.
const MOST_OFFERED: usize = 5;

/// One way to mend a line, before it is tried.
#[derive(Debug, Clone, Default)]
struct Candidate {
    cost: f64,
    reasons: costs::Reasons,
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

    fn weighed(self, finding: &Finding) -> Weighed {
        let place = |span| Place {
            span,
            ..finding.place
        };
        let edits = self.edits.into_iter();
        Weighed {
            repair: Repair {
                title: self.title,
                edits: edits.map(|(span, text)| (place(span), text)).collect(),
            },
            reasons: self.reasons,
        }
    }
}

/// A repair with what speaks for and against it.
#[derive(Debug, Clone)]
pub struct Weighed {
    /// The repair.
    pub repair: Repair,
    /// What its place among the others comes from; empty where it is not ranked by a cost.
    pub reasons: Reasons,
}

/// The repairs of a finding, best first: those that it carries, and those that the file suggests.
pub(crate) fn repairs(state: &State, finding: &Finding) -> Vec<Repair> {
    let repairs = weighed(state, finding, MOST_TRIED).into_iter();
    repairs.take(MOST_OFFERED).map(|one| one.repair).collect()
}

/// All repairs of a finding that hold among so many that are tried, best first.
pub(crate) fn weighed(state: &State, finding: &Finding, most_tried: usize) -> Vec<Weighed> {
    let (searched, of_brackets) = if finding.code == &findings::unit_mismatch::CODE {
        let searched = search(state, finding, most_tried);
        (searched, of_brackets(state, finding))
    } else if finding.code == &findings::unknown_name::CODE {
        (spelling(state, finding), Reasons::default())
    } else {
        (Vec::new(), Reasons::default())
    };
    let own = finding.repairs.iter().map(|repair| Weighed {
        repair: repair.clone(),
        reasons: of_brackets.clone(),
    });
    let mut all: Vec<Weighed> = searched
        .into_iter()
        .map(|candidate| candidate.weighed(finding))
        .chain(own)
        .collect();
    all.sort_by(|a, b| a.reasons.cost().total_cmp(&b.reasons.cost()));
    let mut repairs: Vec<Weighed> = Vec::new();
    for one in all {
        let is_known = |known: &Weighed| {
            known.repair.edits == one.repair.edits || known.repair.title == one.repair.title
        };
        if !repairs.iter().any(is_known) {
            repairs.push(one);
        }
    }
    repairs
}

/// What speaks for a change of what a line asks for: its name usually stands for what the formula
/// gives, or the lines that use it do not fit what it asks for.
fn of_brackets(state: &State, finding: &Finding) -> Reasons {
    let reasons = Reasons::of(Reason::Brackets);
    let line = finding.place.line;
    let Some(cell) = state.cell(line) else {
        return reasons;
    };
    let Statement::Value(value) = &cell.tree.statement else {
        return reasons;
    };
    let (ValueBody::Expression(body), Some(shown)) = (&value.body, &value.shown) else {
        return reasons;
    };
    let found = Line::of(cell).found(*body);
    let asked = expected::shown_dimension(&shown.kind);
    let customary = |dimension: Option<haunch_quantity::Dimension>| {
        dimension.and_then(|dimension| symbols::is_customary(&value.name.text, dimension))
    };
    let fits = (customary(found), customary(asked));
    let is_unnamed = found.is_none_or(|found| found.name().is_none());
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
    let are_right = !users.is_empty() && wrong == 0;
    let are_wrong = !users.is_empty() && wrong == users.len();
    reasons
        .and_if(fits == (Some(true), Some(false)), Reason::BracketsFitName)
        .and_if(
            fits == (Some(false), Some(true)),
            Reason::BracketsAgainstName,
        )
        .and_if(is_unnamed, Reason::BracketsUnnamed)
        .and_if(are_right, Reason::BracketsFitUsers)
        .and_if(are_wrong, Reason::BracketsAgainstUsers)
}

/// Edits that make the line dimensionally right.
fn search(state: &State, finding: &Finding, most_tried: usize) -> Vec<Candidate> {
    let Some(cell) = state.cell(finding.place.line) else {
        return Vec::new();
    };
    let scope = scope::Scope::around(state, finding.place.line);
    let mut candidates = candidates::all(state, cell, &scope);
    for candidate in &mut candidates {
        candidate.cost = candidate.reasons.cost();
    }
    candidates.sort_by(Candidate::rank);
    candidates.dedup_by(|a, b| a.edits == b.edits || a.title == b.title);
    candidates.truncate(most_tried);
    let others = pattern::Patterns::around(state, finding.place.line);
    candidates.retain_mut(|candidate| {
        let Some(mended) = trial::mended(state, finding.place.line, cell, &candidate.edits) else {
            return false;
        };
        let unlike = mended.likeness.map_or(0.0, |likeness| 0.5 - likeness);
        candidate.reasons = std::mem::take(&mut candidate.reasons)
            .and(Reason::Unlike, unlike)
            .and_if(mended.breaks_a_user, Reason::BreaksUser)
            .and_if(mended.is_standard, Reason::Standard)
            .and_if(mended.is_warned, Reason::Warned)
            .and_if(mended.patterns.is_whole_among(&others), Reason::LikeLine)
            .and_if(
                mended.patterns.is_exactly_among(&others),
                Reason::SameAsLine,
            )
            .and(Reason::LikeTerms, mended.patterns.terms_among(&others))
            .and(Reason::Magnitude, mended.magnitude);
        candidate.cost = candidate.reasons.cost();
        true
    });
    candidates.sort_by(Candidate::rank);
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
            let mends = trial::mends(state, line, cell, &edits);
            if is_letter && !mends && !near.eq_ignore_ascii_case(&written) {
                return None;
            }
            Some(Candidate {
                // Those that mend the line first, then those that are spelled most alike.
                cost: if mends { 0.0 } else { 1.0 },
                distance: rank as u64,
                place: finding.place.span,
                title: format!("Write {near}"),
                edits,
                ..Candidate::default()
            })
        })
        .collect();
    candidates.sort_by(Candidate::rank);
    candidates
}

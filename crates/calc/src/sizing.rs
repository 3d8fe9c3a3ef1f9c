//! `smallest FROM to TO step STEP for BLOCK`: the first size of a range for which all limits of a
//! block hold.
//!
//! The block depends on the size, and the size on the block. What keeps this from being a ring: the
//! line never uses the block as it stands in the file. It uses what the lines *between* it and the
//! block use ([`Between`]), and works those lines out again by itself, in a state of its own, with
//! each size in turn. So its value is a function of the text like any other, and whatever it
//! depends on is computed before it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use haunch_quantity::{Dimension, Quantity, format_quantity, format_utilisation};
use haunch_syntax::{ExpressionId, SearchDirection, Sizing};
use imbl::OrdMap;

use crate::compute::compute;
use crate::expression::Context;
use crate::findings;
use crate::graph::{Lines, insert, lines_of, remove};
use crate::line::LineId;
use crate::outcome::{Capacity, Check, Meaning, NamedValue, Outcome, Read};
use crate::reads::{names_of, sizing_of};
use crate::resolve::Target;
use crate::state::{Map, State};
use crate::value::{Evaluated, Kind};

/// How many sizes one line may try.
const MOST_SIZES: f64 = 200.0;

/// The lines that search a range of sizes. Each watches what its block depends on, so that a change
/// asks only those again that watch one of its lines.
#[derive(Debug, Clone, Default)]
pub(crate) struct Searches {
    watched: OrdMap<LineId, Arc<[LineId]>>,
    watching: Map<LineId, Lines>,
}

impl Searches {
    pub(crate) fn contains(&self, search: &LineId) -> bool {
        self.watched.contains_key(search)
    }

    /// The searches that watch a line.
    pub(crate) fn watching(&self, line: LineId) -> &[LineId] {
        lines_of(&self.watching, &line)
    }

    /// Enters a search, which watches nothing yet.
    pub(crate) fn insert(&mut self, search: LineId) {
        self.watched.entry(search).or_default();
    }

    pub(crate) fn remove(&mut self, search: LineId) {
        if let Some(watched) = self.watched.remove(&search) {
            for line in watched.iter() {
                remove(&mut self.watching, line, search);
            }
        }
    }

    /// Has a search watch these lines and no others.
    pub(crate) fn watch(&mut self, search: LineId, lines: Vec<LineId>) {
        let same = |watched: &Arc<[LineId]>| **watched == *lines;
        if self.watched.get(&search).is_some_and(same) {
            return;
        }
        self.remove(search);
        for &line in &lines {
            insert(&mut self.watching, line, search);
        }
        self.watched.insert(search, lines.into());
    }
}

/// The lines between a search and its block.
#[derive(Debug, Default)]
pub(crate) struct Between {
    /// The block's heading.
    heading: Option<LineId>,
    /// Everything that the block depends on, but not through another search.
    pub(crate) watched: BTreeSet<LineId>,
    /// The searches where that ends.
    searches: BTreeSet<LineId>,
    /// What has to be worked out again for each size.
    lines: BTreeSet<LineId>,
    /// What those lines use, and are not themselves.
    pub(crate) reads: Vec<Read>,
    /// Another search lies between.
    is_nested: bool,
}

impl Between {
    /// The lines between the search on a line and its block, as their names now stand.
    pub(crate) fn of(state: &State, search: LineId) -> Between {
        let mut between = Between::default();
        let Some(cell) = state.cell(search) else {
            return between;
        };
        let Some(sizing) = sizing_of(&cell.tree.statement) else {
            return between;
        };
        let target = state.resolve(cell.file, &names_of(&sizing.block)).target;
        let Target::Block { heading, member } = target else {
            return between;
        };
        if !member.is_empty() {
            return between;
        }
        between.heading = Some(heading);
        let users = between.walk(state, heading);
        let mut affected = BTreeSet::new();
        let mut stack = vec![search];
        while let Some(line) = stack.pop() {
            for &user in users.get(&line).into_iter().flatten() {
                if affected.insert(user) {
                    stack.push(user);
                }
            }
        }
        let is_search = |line: &LineId| state.searches.contains(line);
        between.is_nested = affected.iter().any(is_search);
        for &line in &affected {
            between.lines.insert(line);
            if state
                .cell(line)
                .is_some_and(|cell| cell.block_kind().is_some())
            {
                between.lines.extend(state.lines_under(line));
            }
        }
        between.lines.retain(|line| !is_search(line));
        for &line in &between.lines {
            let Some(cell) = state.cell(line) else {
                continue;
            };
            for read in cell.reads.iter() {
                let is_between = read
                    .provider
                    .is_some_and(|p| p == search || between.lines.contains(&p));
                if !is_between && !between.reads.contains(read) {
                    between.reads.push(read.clone());
                }
            }
        }
        between
    }

    /// Everything that the block depends on; gives for each line those that use it.
    fn walk(&mut self, state: &State, heading: LineId) -> BTreeMap<LineId, Vec<LineId>> {
        let mut users: BTreeMap<LineId, Vec<LineId>> = BTreeMap::new();
        let mut stack = vec![heading];
        while let Some(line) = stack.pop() {
            if state.searches.contains(&line) {
                self.searches.insert(line);
                continue;
            }
            if !self.watched.insert(line) {
                continue;
            }
            let Some(cell) = state.cell(line) else {
                continue;
            };
            let mut used: Vec<LineId> = cell.reads.iter().filter_map(|r| r.provider).collect();
            if cell.block_kind().is_some() {
                used.extend(state.lines_under(line));
            }
            for provider in used {
                users.entry(provider).or_default().push(line);
                stack.push(provider);
            }
        }
        users
    }

    /// The lines that decide which lines lie between: while none of them changes, no other does.
    pub(crate) fn decided_by(&self) -> Vec<LineId> {
        self.watched.union(&self.searches).copied().collect()
    }

    /// The lines in the order in which they are computed; none where they need each other.
    fn order(&self, state: &State) -> Option<Vec<LineId>> {
        let seeds: Vec<LineId> = self.lines.iter().copied().collect();
        let mut order = Vec::new();
        for component in state.reached(&seeds).components.into_iter().rev() {
            let is_own = |line: &LineId| self.lines.contains(line);
            match component.as_slice() {
                [only] => order.extend(Some(*only).filter(is_own)),
                several if several.iter().any(is_own) => return None,
                _ => {}
            }
        }
        Some(order)
    }
}

/// The sizes of a range.
struct Range {
    from: f64,
    step: f64,
    count: usize,
    dimension: Dimension,
}

impl Range {
    fn size(&self, index: usize) -> Option<Quantity> {
        Quantity::new(self.from + index as f64 * self.step, self.dimension)
    }
}

/// What the limits of a block say of one size.
struct Verdict {
    holds: bool,
    governing: Check,
}

/// The first size for which all limits hold, and the check that comes nearest to its bound there.
pub(crate) fn search(context: &mut Context<'_>, sizing: &Sizing) -> (Evaluated, Option<Capacity>) {
    let range = match range(context, sizing) {
        Ok(range) => range,
        Err(evaluated) => return (evaluated, None),
    };
    let unknown = (Evaluated::dimension_only(range.dimension), None);
    let state = context.state;
    let names = names_of(&sizing.block);
    let block = names.join(".");
    let block_span = match (sizing.block.names.first(), sizing.block.names.last()) {
        (Some(first), Some(last)) => first.span.cover(last.span),
        _ => return unknown,
    };
    let block_place = context.place(block_span);
    let wrong_kind =
        || findings::reference::wrong_kind(block_place, &block, "a beam or a set of forces");
    match state.resolve(context.file, &names).target {
        Target::Block { heading, member } if member.is_empty() => {
            use haunch_syntax::BlockKind::{Beam, Forces};
            let kind = state.cell(heading).and_then(|cell| cell.block_kind());
            if !matches!(kind, Some(Beam | Forces)) {
                context.report(wrong_kind());
                return unknown;
            }
        }
        Target::Undefined => {
            let what = "beam or forces block";
            context.report(findings::unknown_name::block(block_place, &block, what));
            return unknown;
        }
        Target::Several(_) | Target::Broken(_) | Target::FileMissing(_) => return unknown,
        _ => {
            context.report(wrong_kind());
            return unknown;
        }
    }
    let place = context.place(sizing.span);
    let between = Between::of(state, context.line);
    let Some(heading) = between.heading else {
        return unknown;
    };
    if between.is_nested {
        let what = "a search for a size whose block depends on another one";
        context.report(findings::not_supported::value(place, what));
        return unknown;
    }
    if !between.lines.contains(&heading) {
        context.report(findings::sizing::not_used(place, &block));
        return unknown;
    }
    // Lines that need each other have a finding of their own.
    let Some(order) = between.order(state) else {
        return unknown;
    };
    let mut best: Option<(Quantity, Check)> = None;
    let mut has_limits = false;
    for index in 0..range.count {
        let index = match sizing.direction {
            SearchDirection::Smallest => index,
            SearchDirection::Largest => range.count - 1 - index,
        };
        let Some(size) = range.size(index) else {
            continue;
        };
        let tried = tried(state, context.line, size, &order);
        let Some(Meaning::Block(outcome)) = tried.cell(heading).map(|c| &c.outcome.meaning) else {
            continue;
        };
        has_limits |= !outcome.checks.is_empty();
        let Some(verdict) = verdict(&outcome.checks) else {
            continue;
        };
        if verdict.holds {
            let check = verdict.governing;
            let capacity = Capacity {
                governing: check.name,
                place: check.place,
                combination: None,
            };
            return (Evaluated::quantity(size), Some(capacity));
        }
        let is_better = best
            .as_ref()
            .is_none_or(|(_, other)| verdict.governing.utilisation < other.utilisation);
        if is_better {
            best = Some((size, verdict.governing));
        }
    }
    let finding = match best {
        Some((size, check)) => {
            let size = format_quantity(size, None, context.preferences);
            let used = check.utilisation.unwrap_or(f64::INFINITY);
            let used = format_utilisation(used, context.preferences.digits()).to_string();
            findings::sizing::none_holds(place, &block, &size, &check.name, &used)
        }
        None if has_limits => findings::sizing::none_known(place, &block),
        None => findings::sizing::no_limit(place, &block),
    };
    context.report(finding);
    unknown
}

/// The state with a size in place of the search, and the lines between worked out from it.
fn tried(state: &State, search: LineId, size: Quantity, order: &[LineId]) -> State {
    let mut tried = state.clone();
    let value = NamedValue {
        evaluated: Evaluated::quantity(size),
        unit: None,
        unit_asked: false,
        capacity: None,
    };
    put(
        &mut tried,
        search,
        Outcome {
            findings: Vec::new(),
            expressions: Arc::default(),
            meaning: Meaning::Value(Box::new(value)),
        },
    );
    for &line in order {
        let outcome = compute(&tried, line);
        put(&mut tried, line, outcome);
    }
    tried
}

fn put(state: &mut State, line: LineId, outcome: Outcome) {
    if let Some(Some(cell)) = state.cells.get_mut(line.0 as usize) {
        Arc::make_mut(cell).outcome = Arc::new(outcome);
    }
}

/// Whether all limits hold, and the one that comes nearest; none where one of them is not known.
fn verdict(checks: &[Check]) -> Option<Verdict> {
    let mut governing: Option<&Check> = None;
    let mut holds = true;
    for check in checks {
        holds &= check.holds?;
        let used = check.utilisation?;
        if governing.is_none_or(|other| used > other.utilisation.unwrap_or(0.0)) {
            governing = Some(check);
        }
    }
    Some(Verdict {
        holds,
        governing: governing?.clone(),
    })
}

/// The sizes to try; otherwise what is known of the kind, what is wrong being told.
fn range(context: &mut Context<'_>, sizing: &Sizing) -> Result<Range, Evaluated> {
    let all = [sizing.from, sizing.to, sizing.step];
    let mut dimension: Option<Dimension> = None;
    for id in all {
        match context.kind(id) {
            Kind::Quantity(found) => match dimension {
                None => dimension = Some(found),
                Some(wanted) if wanted == found => {}
                Some(wanted) => {
                    let finding = findings::unit_mismatch::needed(
                        context.place_of(id),
                        context.source(id),
                        found,
                        wanted,
                        "this range of sizes",
                    );
                    context.report(finding);
                    return Err(Evaluated::dimension_only(wanted));
                }
            },
            Kind::Zero | Kind::Unknown => {}
            kind => {
                let (place, source) = (context.place_of(id), context.source(id));
                context.report(findings::not_a_quantity::finding(place, source, kind));
                return Err(Evaluated::UNKNOWN);
            }
        }
    }
    let Some(dimension) = dimension else {
        return Err(Evaluated::UNKNOWN);
    };
    let unknown = Evaluated::dimension_only(dimension);
    let si = |id: ExpressionId| {
        let quantity = context.get(id).as_dimension(dimension)?;
        Some(quantity.si())
    };
    let (Some(from), Some(to), Some(step)) = (si(sizing.from), si(sizing.to), si(sizing.step))
    else {
        return Err(unknown);
    };
    if step <= 0.0 {
        let place = context.place_of(sizing.step);
        let finding = findings::impossible_value::not_positive(place, "the step of a range");
        context.report(finding);
        return Err(unknown);
    }
    let place = context.place(context.span(sizing.from).cover(context.span(sizing.to)));
    let steps = (to - from) / step;
    if to < from {
        context.report(findings::sizing::wrong_way(place));
        return Err(unknown);
    }
    // The upper end counts where only rounding keeps it from being a whole number of steps.
    let count = libm::floor(steps + 1e-9) + 1.0;
    if !(1.0..=MOST_SIZES).contains(&count) {
        context.report(findings::sizing::too_many(place, MOST_SIZES as usize));
        return Err(unknown);
    }
    Ok(Range {
        from,
        step,
        count: count as usize,
        dimension,
    })
}

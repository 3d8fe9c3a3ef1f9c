//! What a result that changed can have changed by: the changed lines that it depends on, through lines
//! whose results changed. Which of them matter, `trials` finds out.
//!
//! A line's result is a function of its text and of what the lines that it uses came to. So what a result
//! can depend on are the changed lines that can be reached from it, in either version, without passing a
//! line whose result is as before. That list is complete: with exactly those lines as they were, the
//! result is as it was. Two changes that cancel each other out on the way could break this, so a line
//! that is as before is passed after all where a change below it is a cause already.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::rc::Rc;

use haunch_calc::{Meaning, Use};
use haunch_syntax::Statement;
use smol_str::SmolStr;

use crate::outcome::Cause;
use crate::pairs::Pairs;
use crate::subject::Subject;

/// What of a line is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Aspect {
    /// Its values, which no limit has a part in.
    Values,
    /// Everything, limits included; of limits only those on this, where it is said.
    Limits(Option<&'static str>),
    /// The check that a limit line of the block states.
    Own(usize),
    /// The check that the limits of the block's materials state, of this kind.
    Materials(&'static str),
}

/// A use of one line by another.
struct Edge {
    to: usize,
    member: Option<SmolStr>,
}

/// The members of blocks that lines use.
#[derive(Debug, Default)]
pub(crate) struct UsedMembers(BTreeMap<usize, BTreeSet<SmolStr>>);

impl UsedMembers {
    /// Whether a line uses a member of a block, or it is the block's utilisation.
    pub(crate) fn contains(&self, block: usize, member: &str) -> bool {
        let used = self.0.get(&block);
        member == "utilisation" || used.is_some_and(|used| used.contains(member))
    }
}

/// Who uses whom in both versions together.
pub(crate) struct Causes<'a> {
    pairs: &'a Pairs<'a>,
    /// Which change each line is.
    changes: &'a [Option<usize>],
    uses: Vec<Vec<Edge>>,
    /// The lines that use each line.
    used_by: Vec<Vec<usize>>,
    /// Lines that a change can reach.
    reached: Vec<bool>,
    memory: BTreeMap<(usize, Aspect), Rc<[Cause]>>,
}

impl<'a> Causes<'a> {
    pub(crate) fn new(pairs: &'a Pairs<'a>, changes: &'a [Option<usize>]) -> Causes<'a> {
        let count = pairs.all.len();
        let mut causes = Causes {
            pairs,
            changes,
            uses: Vec::with_capacity(count),
            used_by: Vec::new(),
            reached: vec![false; count],
            memory: BTreeMap::new(),
        };
        if changes.iter().all(Option::is_none) {
            return causes;
        }
        let mut used_by: Vec<Vec<usize>> = vec![Vec::new(); count];
        for (at, pair) in pairs.all.iter().enumerate() {
            let mut edges: Vec<Edge> = Vec::new();
            let mut add = |uses: Vec<Use>, of: &dyn Fn(haunch_calc::LineId) -> Option<usize>| {
                for used in uses {
                    let Some(to) = of(used.line) else { continue };
                    let edge = Edge {
                        to,
                        member: used.member,
                    };
                    if edges.iter().all(|e| e.to != to || e.member != edge.member) {
                        edges.push(edge);
                    }
                }
            };
            if let Some(line) = pair.new {
                add(pairs.new.uses(line), &|line| pairs.of_new(line));
            }
            if let Some(line) = pair.old {
                add(pairs.old.uses(line), &|line| pairs.of_old(line));
            }
            for edge in &edges {
                if let Some(list) = used_by.get_mut(edge.to) {
                    list.push(at);
                }
            }
            causes.uses.push(edges);
        }
        let mut stack: Vec<usize> = (0..count)
            .filter(|&at| changes.get(at).is_some_and(Option::is_some))
            .collect();
        while let Some(at) = stack.pop() {
            match causes.reached.get_mut(at) {
                Some(reached) if !*reached => *reached = true,
                _ => continue,
            }
            stack.extend(used_by.get(at).into_iter().flatten());
        }
        causes.used_by = used_by;
        causes
    }

    /// Changes that can reach lines which others can reach too, in groups that have no line in common; no
    /// more are looked for where they are more than `most`.
    pub(crate) fn meeting(&self, most: usize) -> Vec<BTreeSet<usize>> {
        let mut first: Vec<Option<usize>> = vec![None; self.changes.len()];
        let mut groups: Vec<BTreeSet<usize>> = Vec::new();
        for (start, change) in self.changes.iter().enumerate() {
            let Some(change) = *change else { continue };
            if groups.iter().map(BTreeSet::len).sum::<usize>() > most {
                break;
            }
            let mut group = BTreeSet::from([change]);
            let mut seen = BTreeSet::from([start]);
            let mut stack = vec![start];
            while let Some(at) = stack.pop() {
                if let Some(first) = first.get_mut(at) {
                    group.insert(*first.get_or_insert(change));
                }
                let users = self.used_by.get(at).into_iter().flatten();
                stack.extend(users.copied().filter(|&user| seen.insert(user)));
            }
            if group.len() > 1 {
                let (joined, others) = groups
                    .into_iter()
                    .partition(|other| !other.is_disjoint(&group));
                groups = others;
                group.extend(joined.into_iter().flatten());
                groups.push(group);
            }
        }
        groups
    }

    /// Whether a change can have reached a line.
    pub(crate) fn is_reached(&self, at: usize) -> bool {
        self.reached.get(at).copied().unwrap_or(false)
    }

    /// The members of blocks that lines use.
    pub(crate) fn used_members(&self) -> UsedMembers {
        let mut used = UsedMembers::default();
        for edge in self.uses.iter().flatten() {
            if let Some(member) = &edge.member {
                used.0.entry(edge.to).or_default().insert(member.clone());
            }
        }
        used
    }

    /// The causes of what a line came to.
    pub(crate) fn of(&mut self, at: usize, aspect: Aspect) -> Rc<[Cause]> {
        if let Some(known) = self.memory.get(&(at, aspect)) {
            return known.clone();
        }
        let found: Rc<[Cause]> = self.search(at, aspect).into();
        self.memory.insert((at, aspect), found.clone());
        found
    }

    fn search(&self, start: usize, aspect: Aspect) -> Vec<Cause> {
        let mut from: BTreeMap<(usize, Aspect), Option<(usize, Aspect)>> = BTreeMap::new();
        let mut queue = VecDeque::from([(start, aspect)]);
        from.insert((start, aspect), None);
        let mut found: BTreeMap<usize, (usize, Aspect)> = BTreeMap::new();
        let mut passed: Vec<((usize, Aspect), (usize, Aspect))> = Vec::new();
        loop {
            while let Some(node) = queue.pop_front() {
                if let Some(change) = self.changes.get(node.0).copied().flatten() {
                    found.entry(change).or_insert(node);
                }
                for edge in self.uses.get(node.0).into_iter().flatten() {
                    let Some(aspect) = self.step(node, edge) else {
                        continue;
                    };
                    let next = (edge.to, aspect);
                    if from.contains_key(&next) {
                        continue;
                    }
                    if self.is_as_before(edge) {
                        passed.push((next, node));
                    } else {
                        from.insert(next, Some(node));
                        queue.push_back(next);
                    }
                }
            }
            passed.retain(|(next, _)| !from.contains_key(next));
            let shared = passed
                .iter()
                .position(|(next, _)| self.reaches_any(next.0, &found));
            let Some(index) = shared else { break };
            let (next, node) = passed.remove(index);
            from.insert(next, Some(node));
            queue.push_back(next);
        }
        found
            .into_iter()
            .map(|(change, node)| Cause {
                change,
                through: self.names_between(start, node, &from),
            })
            .collect()
    }

    /// What is asked about a line that another uses; none where it has no part in the answer.
    fn step(&self, (at, aspect): (usize, Aspect), edge: &Edge) -> Option<Aspect> {
        if !self.is_reached(edge.to) {
            return None;
        }
        let to = self.pairs.get(edge.to)?;
        let is_child = to.heading == Some(at);
        if is_child && to.subject == Subject::Limit {
            let is_looked_at = match aspect {
                Aspect::Values | Aspect::Materials(_) => false,
                Aspect::Limits(None) => true,
                Aspect::Limits(Some(kind)) => self.limits(edge.to, kind),
                Aspect::Own(own) => own == edge.to,
            };
            return is_looked_at.then_some(Aspect::Limits(None));
        }
        if is_child {
            return Some(Aspect::Limits(None));
        }
        // From one block to another, or from a line to what it uses.
        Some(match (aspect, &edge.member) {
            (_, Some(member)) if member.ends_with("utilisation") => Aspect::Limits(None),
            (_, Some(_)) => Aspect::Values,
            (Aspect::Materials(kind), None) => Aspect::Limits(Some(kind)),
            (Aspect::Own(_), None) => Aspect::Values,
            (aspect, None) => aspect,
        })
    }

    /// Whether a limit line is on this.
    fn limits(&self, at: usize, kind: &str) -> bool {
        let Some(pair) = self.pairs.get(at) else {
            return false;
        };
        let of = |snapshot, line| match Pairs::statement(snapshot, line) {
            Some(Statement::Limit(limit)) => limit.subject.text == kind,
            _ => false,
        };
        of(self.pairs.new, pair.new) || of(self.pairs.old, pair.old)
    }

    /// Whether what is used came to the same in both versions.
    fn is_as_before(&self, edge: &Edge) -> bool {
        let Some(pair) = self.pairs.get(edge.to) else {
            return true;
        };
        if pair.is_unfollowed {
            return false;
        }
        let (Some(old), Some(new)) = (pair.old, pair.new) else {
            return false;
        };
        let (Some(old), Some(new)) = (self.pairs.old.line(old), self.pairs.new.line(new)) else {
            return false;
        };
        match (old.meaning(), new.meaning()) {
            (Meaning::Block(old), Meaning::Block(new)) => {
                edge.member.as_ref().is_some_and(|name| {
                    match (old.member(name), new.member(name)) {
                        (Some(old), Some(new)) => old == new,
                        _ => false,
                    }
                })
            }
            (Meaning::Value(old), Meaning::Value(new)) => old.evaluated == new.evaluated,
            (Meaning::Line(old), Meaning::Line(new)) => {
                old == new && self.changes.get(edge.to).copied().flatten().is_none()
            }
            _ => false,
        }
    }

    fn reaches_any(&self, at: usize, found: &BTreeMap<usize, (usize, Aspect)>) -> bool {
        let mut seen = BTreeSet::from([at]);
        let mut stack = vec![at];
        while let Some(at) = stack.pop() {
            let change = self.changes.get(at).copied().flatten();
            if change.is_some_and(|change| found.contains_key(&change)) {
                return true;
            }
            for edge in self.uses.get(at).into_iter().flatten() {
                if self.is_reached(edge.to) && seen.insert(edge.to) {
                    stack.push(edge.to);
                }
            }
        }
        false
    }

    /// The names of the lines between a changed line and the one that is asked about.
    fn names_between(
        &self,
        start: usize,
        node: (usize, Aspect),
        from: &BTreeMap<(usize, Aspect), Option<(usize, Aspect)>>,
    ) -> Vec<String> {
        let mut names = Vec::new();
        let mut here = from.get(&node).copied().flatten();
        while let Some(node) = here {
            if node.0 == start {
                break;
            }
            let name = self.pairs.get(node.0).and_then(|pair| pair.name.clone());
            names.extend(name.filter(|name| names.last() != Some(name)));
            here = from.get(&node).copied().flatten();
        }
        names
    }
}

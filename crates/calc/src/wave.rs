//! Computes lines again in the order of dependence.
//!
//! From the lines that must be computed again, everything that could depend on them is found and
//! put in order (strongly connected components, Tarjan 1972, with an explicit stack). A component
//! of more than one line is a ring. A line downstream is computed only when a value that it uses
//! is not what it was.

use haunch_syntax::Statement;
use rustc_hash::{FxBuildHasher, FxHashMap, FxHashSet};

use crate::compute::{compute, ring};
use crate::graph::Scope;
use crate::line::LineId;
use crate::outcome::Meaning;
use crate::state::State;
use crate::update::Update;

/// What a change can reach.
pub(crate) struct Reached {
    /// Lines that depend on each other all round, dependents before what they use.
    pub(crate) components: Vec<Vec<LineId>>,
    /// The direct dependents of each line that has any.
    dependents: FxHashMap<LineId, Vec<LineId>>,
}

impl State {
    /// The lines whose results use this line's result directly, sorted.
    pub(crate) fn dependents(&self, line: LineId) -> Vec<LineId> {
        let mut dependents = Vec::new();
        let Some(cell) = self.cell(line) else {
            return dependents;
        };
        let mut use_it = |readers: &[LineId]| {
            dependents.extend(readers.iter().copied().filter(|&reader| {
                self.cell(reader)
                    .is_some_and(|r| r.reads.iter().any(|read| read.provider == Some(line)))
            }));
        };
        match &cell.defines {
            // A name that is given several times provides nothing.
            Some((scope, name)) if self.graph.definitions(*scope, name).len() > 1 => {}
            Some((Scope::File(file), name)) => use_it(self.graph.readers(*file, name)),
            Some((Scope::Block(heading), name)) => {
                if let Some(block) = self.heading_name(*heading) {
                    use_it(self.graph.member_readers(cell.file, &block, name));
                }
            }
            None => {}
        }
        if let Some((heading, _)) = self.block_of(cell) {
            dependents.push(heading);
        }
        dependents.sort_unstable();
        dependents.dedup();
        dependents
    }

    /// Every line that a change of this one can reach, itself included.
    pub(crate) fn downstream(&self, line: LineId) -> FxHashSet<LineId> {
        self.reached(&[line])
            .components
            .into_iter()
            .flatten()
            .collect()
    }

    /// All lines that the given ones can change.
    pub(crate) fn reached(&self, seeds: &[LineId]) -> Reached {
        struct Frame {
            line: LineId,
            dependents: Vec<LineId>,
            next: usize,
        }
        #[derive(Clone, Copy)]
        struct Mark {
            index: usize,
            low: usize,
            on_stack: bool,
        }
        let mut marks: FxHashMap<LineId, Mark> =
            FxHashMap::with_capacity_and_hasher(seeds.len(), FxBuildHasher);
        let mut stack: Vec<LineId> = Vec::new();
        let mut components = Vec::new();
        let mut all_dependents: FxHashMap<LineId, Vec<LineId>> = FxHashMap::default();
        let mut frames: Vec<Frame> = Vec::new();
        for &seed in seeds {
            if marks.contains_key(&seed) {
                continue;
            }
            let mut entering = Some(seed);
            loop {
                if let Some(line) = entering.take() {
                    let index = marks.len();
                    marks.insert(
                        line,
                        Mark {
                            index,
                            low: index,
                            on_stack: true,
                        },
                    );
                    stack.push(line);
                    frames.push(Frame {
                        line,
                        dependents: self.dependents(line),
                        next: 0,
                    });
                }
                let Some(frame) = frames.last_mut() else {
                    break;
                };
                let line = frame.line;
                if let Some(&dependent) = frame.dependents.get(frame.next) {
                    frame.next += 1;
                    match marks.get(&dependent).copied() {
                        None => entering = Some(dependent),
                        Some(mark) if mark.on_stack => {
                            if let Some(own) = marks.get_mut(&line) {
                                own.low = own.low.min(mark.index);
                            }
                        }
                        Some(_) => {}
                    }
                    continue;
                }
                if let Some(done) = frames.pop()
                    && !done.dependents.is_empty()
                {
                    all_dependents.insert(line, done.dependents);
                }
                let Some(own) = marks.get(&line).copied() else {
                    continue;
                };
                if let Some(above) = frames.last()
                    && let Some(mark) = marks.get_mut(&above.line)
                {
                    mark.low = mark.low.min(own.low);
                }
                if own.low == own.index {
                    let mut component = Vec::new();
                    while let Some(member) = stack.pop() {
                        if let Some(mark) = marks.get_mut(&member) {
                            mark.on_stack = false;
                        }
                        component.push(member);
                        if member == line {
                            break;
                        }
                    }
                    components.push(component);
                }
            }
        }
        Reached {
            components,
            dependents: all_dependents,
        }
    }
}

impl Update<'_> {
    /// Computes the seeds and whatever their new values reach. Gives the number of lines computed.
    pub(crate) fn wave(&mut self) -> usize {
        let mut seeds: Vec<LineId> = self.seeds.iter().copied().collect();
        seeds.sort_unstable();
        let Reached {
            components,
            dependents,
        } = self.state.reached(&seeds);
        let mut stale: FxHashSet<LineId> = self.seeds.clone();
        let mut recomputed = 0;
        for mut component in components.into_iter().rev() {
            let needs_itself = |&line: &LineId| {
                self.state
                    .cell(line)
                    .is_some_and(|cell| cell.reads.iter().any(|read| read.provider == Some(line)))
            };
            let in_ring = component.len() > 1 || component.first().is_some_and(needs_itself);
            if in_ring {
                component.sort_by_key(|&line| self.state.order(line));
            }
            for &line in &component {
                let Some(cell) = self.state.cell(line).cloned() else {
                    continue;
                };
                if !in_ring && !cell.in_ring && !stale.contains(&line) {
                    continue;
                }
                let outcome = if in_ring {
                    ring(self.state, line, &component)
                } else {
                    compute(self.state, line)
                };
                recomputed += 1;
                // A call works the formula's body out again, with whatever the body uses.
                let dependents = dependents.get(&line).map_or(&[][..], Vec::as_slice);
                if matches!(cell.tree.statement, Statement::Formula(_)) {
                    stale.extend(dependents);
                } else {
                    let concerned = self.state.concerned(
                        line,
                        dependents,
                        &cell.outcome.meaning,
                        &outcome.meaning,
                    );
                    stale.extend(concerned);
                }
                // A block also asks whether its lines are sound, and for the blocks that they name.
                let names_block = match &cell.tree.statement {
                    Statement::Part(part) => part.of.is_some(),
                    Statement::SectionStretch(_) => true,
                    _ => false,
                };
                if names_block || outcome.findings != cell.outcome.findings {
                    stale.extend(self.state.block_of(&cell).map(|(heading, _)| heading));
                }
                let differs = self.seeds.contains(&line)
                    || outcome != *cell.outcome
                    || in_ring != cell.in_ring;
                drop(cell);
                if differs {
                    self.set_outcome(line, outcome, in_ring);
                }
            }
        }
        recomputed
    }
}

impl State {
    /// The direct dependents that a change of meaning concerns: of a block only those that use a
    /// result which is not what it was.
    fn concerned(
        &self,
        line: LineId,
        dependents: &[LineId],
        before: &Meaning,
        after: &Meaning,
    ) -> Vec<LineId> {
        if dependents.is_empty() || before == after {
            return Vec::new();
        }
        let (Meaning::Block(before), Meaning::Block(after)) = (before, after) else {
            return dependents.to_vec();
        };
        let uses_a_changed_result = |&reader: &LineId| {
            self.cell(reader).is_some_and(|cell| {
                let mut reads = cell.reads.iter();
                reads.any(|read| {
                    let member = || read.names.get(1..).unwrap_or(&[]).join(".");
                    read.provider == Some(line) && !before.same_member(after, &member())
                })
            })
        };
        dependents
            .iter()
            .copied()
            .filter(uses_a_changed_result)
            .collect()
    }
}

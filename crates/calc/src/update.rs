//! One change in progress: what it touched, and which lines must be computed again.

use std::collections::BTreeSet;
use std::sync::Arc;

use haunch_quantity::{Preferences, Unit};
use haunch_syntax::{BlockKind, Statement};
use haunch_text::{Edit, Splice, split_lines};
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;

use crate::graph::{Key, Scope};
use crate::host::Changed;
use crate::line::{FileId, LineId};
use crate::lints::follow::has_findings;
use crate::lints::together::Name;
use crate::outcome::{Outcome, Read};
use crate::reads::{sizing_of, static_reads};
use crate::sizing::Between;
use crate::state::{Cell, State, enter};

/// What kind of definition a line is: when this and the line stay, what refers to it stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum DefinitionClass {
    Value,
    Formula,
    Block(BlockKind),
    Use,
    Part,
    Named,
    Broken,
}

fn class(statement: &Statement) -> DefinitionClass {
    match statement {
        Statement::Value(_) => DefinitionClass::Value,
        Statement::Formula(_) => DefinitionClass::Formula,
        Statement::Heading(heading) => DefinitionClass::Block(heading.kind),
        Statement::Use(_) => DefinitionClass::Use,
        Statement::Part(_) => DefinitionClass::Part,
        Statement::Broken { .. } => DefinitionClass::Broken,
        _ => DefinitionClass::Named,
    }
}

/// One change in progress.
pub(crate) struct Update<'a> {
    pub(crate) state: &'a mut State,
    /// Lines that must be computed again.
    pub(crate) seeds: FxHashSet<LineId>,
    /// Names with the lines that defined them before, and how; only those that were taken out.
    taken: FxHashMap<(Key, LineId), DefinitionClass>,
    /// Names of which definitions came, went or changed their class.
    pub(crate) touched: FxHashSet<Key>,
    /// Names that are given several times and were not before.
    pub(crate) became_several: FxHashSet<Key>,
    /// Names whose readers came or went.
    readers_changed: FxHashSet<(FileId, SmolStr)>,
    /// Files of which `results in` lines came or went.
    settings_changed: FxHashSet<FileId>,
    /// Files touched.
    pub(crate) files: FxHashSet<FileId>,
    /// Headings of blocks in which a name that only the block's own lines know came or went.
    renamed_in: FxHashSet<LineId>,
    /// Lines that were computed.
    pub(crate) computed: Vec<LineId>,
    /// Lines that came, went or changed in which a name stands that lints asked about.
    pub(crate) answering: Vec<(Name, LineId)>,
}

impl<'a> Update<'a> {
    pub(crate) fn new(state: &'a mut State) -> Update<'a> {
        Update {
            state,
            seeds: FxHashSet::default(),
            taken: FxHashMap::default(),
            touched: FxHashSet::default(),
            became_several: FxHashSet::default(),
            readers_changed: FxHashSet::default(),
            settings_changed: FxHashSet::default(),
            files: FxHashSet::default(),
            renamed_in: FxHashSet::default(),
            computed: Vec::new(),
            answering: Vec::new(),
        }
    }

    pub(crate) fn set_text(&mut self, path: &str, text: &str) {
        let file = self.state.intern(path);
        let was_present = self.set_present(file, true);
        let removed = self.state.file(file).map_or(0, |f| f.physical.len());
        let splice = Splice {
            first: 0,
            removed,
            inserted: split_lines(text).map(str::to_owned).collect(),
        };
        self.splice(file, splice);
        if !was_present {
            self.presence_changed(file);
        }
    }

    pub(crate) fn edit(&mut self, path: &str, edits: &[Edit]) {
        let Some(&file) = self.state.paths.get(path) else {
            return;
        };
        for edit in edits {
            let Some(state) = self.state.file(file).filter(|f| f.present) else {
                return;
            };
            let splice = edit.splice(state.physical.len(), |number| {
                self.state.physical_line(file, number).unwrap_or("")
            });
            self.splice(file, splice);
        }
    }

    pub(crate) fn remove(&mut self, path: &str) {
        let Some(&file) = self.state.paths.get(path) else {
            return;
        };
        if !self.set_present(file, false) {
            return;
        }
        let Some(state) = self.state.file_mut(file) else {
            return;
        };
        let mut lines: Vec<LineId> = std::mem::take(&mut state.physical).into_iter().collect();
        lines.dedup();
        for line in lines {
            self.remove_line(line);
        }
        self.files.insert(file);
        self.presence_changed(file);
    }

    fn set_present(&mut self, file: FileId, present: bool) -> bool {
        let was_present = self
            .state
            .file_mut(file)
            .is_some_and(|state| std::mem::replace(&mut state.present, present));
        self.state.follow_wanted(file);
        was_present
    }

    /// A file came or went: every name that leads into it may mean something else.
    fn presence_changed(&mut self, file: FileId) {
        for line in self.state.graph.users(file).to_vec() {
            self.seeds.insert(line);
            if let Some(key) = self.state.cell(line).and_then(|cell| cell.defines.clone()) {
                self.touched.insert(key);
            }
        }
    }

    fn splice(&mut self, file: FileId, splice: Splice) {
        self.files.insert(file);
        let relaid = self.relay(file, splice);
        let is_owner = |line: &&LineId| self.state.cell(**line).is_some_and(|cell| cell.is_owner());
        let last_heading = relaid.changed.iter().rev().find(is_owner).copied();
        let mut touched = relaid.changed;
        for (line, before) in relaid.moved {
            touched.push(line);
            self.renamed_in.extend(before);
            self.seeds.extend(before);
        }
        // What stands under a heading depends on its kind. The changed lines follow each other, so
        // that only the last heading among them has other lines under it.
        if let Some(heading) = last_heading {
            touched.extend(self.state.lines_under(heading));
        }
        let mut entered = FxHashSet::default();
        for line in touched {
            if entered.insert(line) {
                self.enter_definition(line);
                self.seeds.insert(line);
            }
        }
    }

    /// Takes a line's entries out of the graph and the file's lists, before its text is replaced.
    pub(crate) fn forget(&mut self, line: LineId) {
        let Some(cell) = self.state.cell(line).cloned() else {
            return;
        };
        self.take_definition(line, &cell);
        self.set_looked(line, None);
        self.answers_again(line, &cell.reads);
        for read in cell.reads.iter() {
            self.state.graph.remove_read(read, line);
            self.readers_changed.extend(read.keys());
        }
        if let Some(owner) = cell
            .owner
            .filter(|_| cell.tree.belongs_to_block() && !cell.is_empty())
        {
            self.seeds.insert(owner);
            if names_for_siblings(&cell.tree.statement) {
                self.renamed_in.insert(owner);
            }
        }
        if matches!(cell.tree.statement, Statement::Use(_))
            && let Some(used) = self.state.used_file(line)
        {
            self.state.graph.remove_user(used, line);
            self.state.follow_wanted(used);
        }
        self.state.searches.remove(line);
        let is_setting = matches!(cell.tree.statement, Statement::ResultsIn(_));
        if let Some(file) = self.state.file_mut(cell.file) {
            file.with_findings.remove(&line);
            file.unused.remove(&line);
            file.allows.remove(&line);
            file.settings.remove(&line);
        }
        if is_setting {
            self.settings_changed.insert(cell.file);
        }
    }

    pub(crate) fn remove_line(&mut self, line: LineId) {
        self.forget(line);
        self.seeds.remove(&line);
        self.state.cells.set(line.0 as usize, None);
        self.state.free.push_back(line);
    }

    fn take_definition(&mut self, line: LineId, cell: &Cell) {
        let Some(key) = cell.defines.clone() else {
            return;
        };
        self.state.graph.undefine(&key, line);
        self.touched.insert(key.clone());
        self.taken
            .entry((key, line))
            .or_insert_with(|| class(&cell.tree.statement));
    }

    /// Enters what a line defines, under its present heading.
    fn enter_definition(&mut self, line: LineId) {
        let Some(cell) = self.state.cell(line).cloned() else {
            return;
        };
        self.take_definition(line, &cell);
        let defines = self.state.defined_by(&cell);
        if let Some(key) = &defines {
            self.state.graph.define(key.clone(), line);
            self.touched.insert(key.clone());
        }
        if let Some(owner) = cell
            .owner
            .filter(|_| cell.tree.belongs_to_block() && !cell.is_empty())
        {
            self.seeds.insert(owner);
            if names_for_siblings(&cell.tree.statement) {
                self.renamed_in.insert(owner);
            }
        }
        if sizing_of(&cell.tree.statement).is_some() {
            self.state.searches.insert(line);
        }
        match &cell.tree.statement {
            Statement::Use(_) => {
                if let Some(path) = self.state.used_path(&cell.tree.statement, cell.file) {
                    let used = self.state.intern(&path);
                    self.state.graph.add_user(used, line);
                    self.state.follow_wanted(used);
                }
            }
            Statement::Allow(_) => {
                if let Some(file) = self.state.file_mut(cell.file) {
                    file.allows.insert(line);
                }
            }
            Statement::ResultsIn(_) => {
                if let Some(file) = self.state.file_mut(cell.file) {
                    file.settings.insert(line);
                }
                self.settings_changed.insert(cell.file);
            }
            _ => {}
        }
        if defines != cell.defines {
            drop(cell);
            self.set_cell(line, |cell| cell.defines = defines);
        }
    }

    /// Works out the preferences again of files whose `results in` lines changed. Messages quote numbers
    /// in preferred units, so a change computes the whole file again.
    fn follow_settings(&mut self) {
        for file in std::mem::take(&mut self.settings_changed) {
            let Some(state) = self.state.file(file) else {
                continue;
            };
            let mut lines = state.settings.iter();
            let preferences = match (lines.next(), lines.next()) {
                (Some(&line), None) => self.state.preferences_of(line),
                _ => Preferences::default(),
            };
            // Each says that there are several, also where that changes no preference.
            self.seeds.extend(state.settings.iter().copied());
            if *state.preferences == preferences {
                continue;
            }
            let physical = state.physical.clone();
            self.seeds.extend(physical);
            if let Some(state) = self.state.file_mut(file) {
                state.preferences = Arc::new(preferences);
            }
        }
    }

    /// Changes a line in place, unless a snapshot has it, too: hold no clone of it meanwhile.
    pub(crate) fn set_cell(&mut self, line: LineId, change: impl FnOnce(&mut Cell)) {
        if let Some(Some(cell)) = self.state.cells.get_mut(line.0 as usize) {
            change(Arc::make_mut(cell));
        }
    }

    /// Computes again what must be, in the order of dependence, and says what was touched.
    pub(crate) fn finish(mut self) -> Changed {
        self.follow_settings();
        self.seed_readers_of_siblings();
        self.seeds.retain(|&line| self.state.cell(line).is_some());
        self.seed_touched_names();
        self.link_seeds();
        let recomputed = self.wave();
        self.look_at_together();
        self.update_unused();
        let mut files: Vec<FileId> = self.files.into_iter().collect();
        files.sort();
        Changed { files, recomputed }
    }

    /// Lines that know names of their own block: load cases in a combination, supports in a limit.
    fn seed_readers_of_siblings(&mut self) {
        for heading in std::mem::take(&mut self.renamed_in) {
            for line in self.state.lines_under(heading) {
                let cell = self.state.cell(line);
                if cell.is_some_and(|cell| reads_siblings(&cell.tree.statement)) {
                    self.seeds.insert(line);
                }
            }
        }
    }

    /// Lines that define or use a name whose definitions are not what they were.
    fn seed_touched_names(&mut self) {
        let mut taken: FxHashMap<Key, Vec<(LineId, DefinitionClass)>> = FxHashMap::default();
        for ((key, line), class) in std::mem::take(&mut self.taken) {
            taken.entry(key).or_default().push((line, class));
        }
        let touched = std::mem::take(&mut self.touched);
        let mut seeds = Vec::new();
        let mut headings: FxHashSet<LineId> = FxHashSet::default();
        for key in &touched {
            if let Some(lines) = self.follow_several(key) {
                seeds.extend(lines);
                continue;
            }
            let (scope, name) = key;
            let now = self.state.graph.definitions(*scope, name);
            let before = taken.get(key).map_or(&[][..], Vec::as_slice);
            let same = now.len() == 1
                && before.len() == 1
                && before[0].0 == now[0]
                && self
                    .state
                    .cell(now[0])
                    .is_some_and(|cell| class(&cell.tree.statement) == before[0].1)
                && !matches!(before[0].1, DefinitionClass::Use);
            if same {
                continue;
            }
            seeds.extend_from_slice(now);
            match scope {
                Scope::File(file) => {
                    seeds.extend_from_slice(self.state.graph.readers(*file, name));
                }
                Scope::Block(heading) => {
                    headings.insert(*heading);
                }
            }
        }
        for heading in headings {
            seeds.push(heading);
            let file = self.state.cell(heading).map(|cell| cell.file);
            if let (Some(file), Some(block)) = (file, self.state.heading_name(heading)) {
                seeds.extend_from_slice(self.state.graph.readers(file, &block));
            }
        }
        self.touched = touched;
        seeds.retain(|&line| self.state.cell(line).is_some());
        self.seeds.extend(seeds);
    }

    /// Enters what each seed uses, as its names now stand. A search over sizes uses what the lines
    /// between it and its block use: it comes last, whenever one of them is computed again.
    fn link_seeds(&mut self) {
        let mut seeds: Vec<LineId> = self.seeds.iter().copied().collect();
        seeds.sort_unstable();
        let is_search = |line: &LineId| self.state.searches.contains(line);
        let watching = |&line: &LineId| self.state.searches.watching(line);
        let mut searches: BTreeSet<LineId> = seeds.iter().flat_map(watching).copied().collect();
        searches.extend(seeds.extract_if(.., |line| is_search(line)));
        for line in seeds {
            if let Some(cell) = self.state.cell(line) {
                let reads = static_reads(self.state, cell);
                self.link(line, reads);
            }
        }
        for line in searches {
            let Some(cell) = self.state.cell(line).cloned() else {
                continue;
            };
            let mut between = Between::of(self.state, line);
            let mut reads = static_reads(self.state, &cell);
            for read in std::mem::take(&mut between.reads) {
                if !reads.contains(&read) {
                    reads.push(read);
                }
            }
            if *reads != *cell.reads || between.watched.iter().any(|l| self.seeds.contains(l)) {
                self.seeds.insert(line);
            }
            drop(cell);
            self.state.searches.watch(line, between.decided_by());
            self.link(line, reads);
        }
    }

    fn link(&mut self, line: LineId, reads: Vec<Read>) {
        let Some(before) = self.state.cell(line).map(|cell| cell.reads.clone()) else {
            return;
        };
        if *reads == *before {
            return;
        }
        self.answers_again(line, &before);
        self.answers_again(line, &reads);
        for read in before.iter() {
            self.state.graph.remove_read(read, line);
            self.readers_changed.extend(read.keys());
        }
        for read in &reads {
            self.state.graph.add_read(read, line);
            self.readers_changed.extend(read.keys());
        }
        self.set_cell(line, |cell| cell.reads = reads.into());
    }

    /// Enters an outcome, and the line in the list of those with findings.
    pub(crate) fn set_outcome(&mut self, line: LineId, outcome: Outcome, in_ring: bool) {
        let Some(cell) = self.state.cell(line) else {
            return;
        };
        let has_findings = has_findings(&outcome, cell.looked.as_deref());
        let file = cell.file;
        let reads = cell.reads.clone();
        self.answers_again(line, &reads);
        self.computed.push(line);
        self.files.insert(file);
        if let Some(state) = self.state.file_mut(file) {
            enter(&mut state.with_findings, line, has_findings);
        }
        self.set_cell(line, |cell| {
            cell.outcome = Arc::new(outcome);
            cell.in_ring = in_ring;
        });
    }

    fn update_unused(&mut self) {
        let mut lines: Vec<LineId> = Vec::new();
        let read = self.readers_changed.iter();
        let read = read.map(|(file, name)| (Scope::File(*file), name.clone()));
        for key in read.chain(self.touched.iter().cloned()) {
            if !self.stays_several(&key) {
                lines.extend_from_slice(self.state.graph.definitions(key.0, &key.1));
            }
        }
        lines.sort_unstable();
        lines.dedup();
        for line in lines {
            let Some(cell) = self.state.cell(line).cloned() else {
                continue;
            };
            let unused = match &cell.defines {
                // One finding a mistake: a name defined twice, or kept, has one already.
                Some((scope @ Scope::File(file), name)) => {
                    is_given_number(&cell)
                        && !crate::expression::is_kept(name)
                        && self.state.graph.definitions(*scope, name).len() == 1
                        && self.state.graph.readers(*file, name).is_empty()
                }
                _ => false,
            };
            if let Some(state) = self.state.file_mut(cell.file)
                && enter(&mut state.unused, line, unused)
            {
                self.files.insert(cell.file);
            }
        }
    }
}

/// Whether a line gives a name that only lines of its own block know.
fn names_for_siblings(statement: &Statement) -> bool {
    matches!(statement, Statement::Load(_) | Statement::Broken { .. })
}

/// Whether a line uses such names.
fn reads_siblings(statement: &Statement) -> bool {
    matches!(statement, Statement::Combination(_))
}

/// Whether a line gives a name to a plain number with or without a unit.
fn is_given_number(cell: &Cell) -> bool {
    use haunch_syntax::{ExpressionKind, ValueBody};
    let Statement::Value(value) = &cell.tree.statement else {
        return false;
    };
    let ValueBody::Expression(id) = value.body else {
        return false;
    };
    let mut id = id;
    loop {
        match cell.tree.expressions.get(id.0 as usize).map(|e| &e.kind) {
            Some(ExpressionKind::Literal(_)) => return true,
            Some(ExpressionKind::Negate(inner) | ExpressionKind::Group(inner)) => id = *inner,
            _ => return false,
        }
    }
}

impl State {
    /// The preferences that a `results in` line states; units that are none are left out (they
    /// have findings of their own).
    fn preferences_of(&self, line: LineId) -> Preferences {
        let Some(cell) = self.cell(line) else {
            return Preferences::default();
        };
        let Statement::ResultsIn(results) = &cell.tree.statement else {
            return Preferences::default();
        };
        let units = results
            .units
            .iter()
            .filter_map(|unit| Unit::parse(&unit.text).ok())
            .collect();
        let digits = results
            .digits
            .as_ref()
            .and_then(|digits| digits.text.parse().ok())
            .filter(|digits| (1..=Preferences::MOST_DIGITS).contains(digits))
            .unwrap_or(Preferences::USUAL_DIGITS);
        Preferences::new(units, digits)
    }
}

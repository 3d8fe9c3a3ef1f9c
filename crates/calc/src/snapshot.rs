//! A consistent view of everything the host knows. Cheap to clone and to send to another thread.

use std::sync::Arc;

use haunch_quantity::{Dimension, Preferences};
use haunch_syntax::{ExpressionId, Statement, Tree};
use haunch_text::{Edit, Position, Range, Span};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

use crate::allowance::Allowances;
use crate::blocks::{self, Annotation, BlockContext, BlockMeaning};
use crate::compute::defined_span;
use crate::finding::{Finding, Place};
use crate::findings;
use crate::graph::Scope;
use crate::host::{Change, Host};
use crate::inference::Inferred;
use crate::line::{FileId, LineId};
use crate::outcome::{Check, Meaning, NamedValue, Outcome};
use crate::repair::Weighed;
use crate::resolve::Target;
use crate::state::{Cell, State};
use crate::value::Evaluated;

/// A consistent view of everything.
#[derive(Debug, Clone)]
pub struct Snapshot {
    state: Arc<State>,
}

/// One logical line of a snapshot.
#[derive(Debug, Clone, Copy)]
pub struct LineView<'a> {
    id: LineId,
    cell: &'a Cell,
    state: &'a State,
    /// The number of its first physical line, where the line was met in a walk along its file.
    met_at: Option<usize>,
}

impl<'a> LineView<'a> {
    /// Its identity.
    pub fn id(self) -> LineId {
        self.id
    }

    /// Its file.
    pub fn file(self) -> FileId {
        self.cell.file
    }

    /// Its text, continuations and terminators included.
    pub fn text(self) -> &'a str {
        &self.cell.text
    }

    /// Its tree.
    pub fn tree(self) -> &'a Tree {
        &self.cell.tree
    }

    /// What was computed from it.
    pub fn outcome(self) -> &'a Outcome {
        &self.cell.outcome
    }

    /// What it means to other lines.
    pub fn meaning(self) -> &'a Meaning {
        &self.cell.outcome.meaning
    }

    /// Kind and value of one of its expressions.
    pub fn evaluated(self, id: ExpressionId) -> &'a Evaluated {
        self.cell
            .outcome
            .expressions
            .get(id.0 as usize)
            .unwrap_or(&Evaluated::UNKNOWN)
    }

    /// The first-column line that an indented line stands under.
    pub fn owner(self) -> Option<LineId> {
        self.cell
            .owner
            .filter(|_| self.cell.tree.belongs_to_block())
    }

    /// The block that a heading heads.
    pub fn block(self) -> Option<&'a Arc<BlockMeaning>> {
        match &self.cell.outcome.meaning {
            Meaning::Block(block) => Some(block),
            _ => None,
        }
    }

    /// The value of a value line or field.
    pub fn value(self) -> Option<&'a NamedValue> {
        match &self.cell.outcome.meaning {
            Meaning::Value(value) => Some(value),
            _ => None,
        }
    }

    /// The number of physical lines that it takes.
    pub fn height(self) -> usize {
        self.cell.height()
    }

    /// The number of its first physical line, from 0. It costs nothing for a line that was met in a walk along
    /// its file; for others it is searched for.
    pub fn first_physical(self) -> Option<usize> {
        self.met_at.or_else(|| self.state.first_physical(self.id))
    }

    /// A number that grows from line to line of a file. It says nothing of how far two lines are apart, and it
    /// may be another after an edit elsewhere.
    pub fn order(self) -> u128 {
        self.state.order(self.id)
    }

    /// The stretch of the file that a span of the line is.
    pub fn range(self, span: Span) -> Option<Range> {
        Some(self.cell.range(self.first_physical()?, span))
    }
}

/// What a path in an expression stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Definition {
    /// A line that defines the name, and where on it.
    Line(Place),
    /// A result of the block whose heading is here.
    Result {
        /// The heading's name.
        place: Place,
        /// The heading.
        heading: LineId,
        /// The result's name after the block's.
        member: SmolStr,
    },
}

/// A value with its full dotted name.
#[derive(Debug, Clone, PartialEq)]
pub struct FullValue {
    /// The full dotted name.
    pub name: String,
    /// Kind and value.
    pub evaluated: Evaluated,
    /// The unit asked for or written.
    pub unit: Option<haunch_quantity::Unit>,
    /// The line that gives it: its own, or the heading of its block.
    pub line: LineId,
}

impl Snapshot {
    pub(crate) fn new(state: Arc<State>) -> Snapshot {
        Snapshot { state }
    }

    /// The id of a path, if its text is known.
    pub fn file(&self, path: &str) -> Option<FileId> {
        let id = *self.state.paths.get(path)?;
        self.state.file(id).filter(|file| file.present)?;
        Some(id)
    }

    /// Every file whose text is known, in the order in which they came.
    pub fn files(&self) -> Vec<FileId> {
        self.state
            .files
            .iter()
            .enumerate()
            .filter(|(_, file)| file.present)
            .map(|(index, _)| FileId(index as u32))
            .collect()
    }

    /// The path of a file.
    pub fn path(&self, file: FileId) -> &str {
        self.state.file(file).map_or("", |file| &file.path)
    }

    /// The whole text of a file.
    pub fn text(&self, file: FileId) -> String {
        self.state.text(file)
    }

    /// The number of physical lines of a file.
    pub fn line_count(&self, file: FileId) -> usize {
        self.state.file(file).map_or(0, |file| file.physical.len())
    }

    /// A physical line with its terminator.
    pub fn physical_line(&self, file: FileId, number: usize) -> &str {
        self.state.physical_line(file, number).unwrap_or("")
    }

    /// The units and digits in which a file shows its results.
    pub fn preferences(&self, file: FileId) -> Arc<Preferences> {
        self.state
            .file(file)
            .map(|file| file.preferences.clone())
            .unwrap_or_default()
    }

    /// A line by its id.
    pub fn line(&self, id: LineId) -> Option<LineView<'_>> {
        self.met(id, None)
    }

    fn met(&self, id: LineId, met_at: Option<usize>) -> Option<LineView<'_>> {
        let state = &*self.state;
        let cell = state.cell(id)?;
        Some(LineView {
            id,
            cell,
            state,
            met_at,
        })
    }

    /// The logical line at a physical line.
    pub fn line_at(&self, file: FileId, number: usize) -> Option<LineView<'_>> {
        let id = *self.state.file(file)?.physical.get(number)?;
        self.line(id)
    }

    /// The logical lines that touch a stretch of physical lines, in order.
    pub fn lines_in(
        &self,
        file: FileId,
        physical: std::ops::Range<usize>,
    ) -> impl Iterator<Item = LineView<'_>> {
        let end = physical.end.min(self.line_count(file));
        let top = self.line_at(file, physical.start);
        let mut number = top
            .filter(|_| physical.start < end)
            .and_then(LineView::first_physical)
            .unwrap_or(end);
        std::iter::from_fn(move || {
            if number >= end {
                return None;
            }
            let id = *self.state.file(file)?.physical.get(number)?;
            let line = self.met(id, Some(number))?;
            number += line.height();
            Some(line)
        })
    }

    /// Every logical line of a file, in order.
    pub fn lines(&self, file: FileId) -> impl Iterator<Item = LineView<'_>> {
        self.lines_in(file, 0..self.line_count(file))
    }

    /// The lines under a heading, blank ones and comments left out.
    pub fn lines_under(&self, heading: LineId) -> Vec<LineView<'_>> {
        self.state
            .lines_under(heading)
            .into_iter()
            .filter_map(|line| self.line(line))
            .collect()
    }

    /// The number of a line's first physical line, from 0.
    pub fn first_physical(&self, line: LineId) -> Option<usize> {
        self.state.first_physical(line)
    }

    /// The stretch of the file that a place is.
    pub fn range(&self, place: Place) -> Option<Range> {
        self.state.range(place)
    }

    /// The file that a line belongs to.
    pub fn file_of(&self, line: LineId) -> Option<FileId> {
        self.state.cell(line).map(|cell| cell.file)
    }

    /// The logical line at a position, and the offset in it.
    pub fn locate(&self, file: FileId, position: Position) -> Option<(LineId, u32)> {
        self.state.locate(file, position)
    }

    /// All findings of a file in the order of their places, those that are allowed left out.
    pub fn findings(&self, file: FileId) -> Vec<Finding> {
        let Some(state) = self.state.file(file) else {
            return Vec::new();
        };
        let mut findings: Vec<Finding> = state
            .with_findings
            .iter()
            .filter_map(|&line| self.state.cell(line))
            .flat_map(|cell| {
                let together = cell.looked.iter().flat_map(|looked| &looked.findings);
                cell.outcome.findings.iter().chain(together).cloned()
            })
            .collect();
        for &line in &state.unused {
            if let Some(name) = self.defined_name(line) {
                let span = defined_span(&self.state, line);
                findings.push(findings::unused_value::finding(Place { line, span }, &name));
            }
        }
        let allowances = Allowances::of(&self.state, file);
        findings.retain(|finding| !allowances.silence(finding));
        findings.sort_by(|a, b| {
            let key = |f: &Finding| {
                (
                    self.state.order(f.place.line),
                    f.place.span.start,
                    f.place.span.end,
                    f.code.name,
                )
            };
            key(a).cmp(&key(b)).then_with(|| a.message.cmp(&b.message))
        });
        findings
    }

    /// The repairs of a finding, best first. Searched for when asked: those that the rest of the
    /// file suggests are not part of the finding itself.
    pub fn repairs(&self, finding: &Finding) -> Vec<crate::finding::Repair> {
        crate::repair::repairs(&self.state, finding)
    }

    /// Every repair of a finding that holds among the likeliest `most_tried`, best first, with what speaks
    /// for and against each: for measuring how repairs are ranked.
    pub fn weighed_repairs(&self, finding: &Finding, most_tried: usize) -> Vec<Weighed> {
        crate::repair::weighed(&self.state, finding, most_tried)
    }

    fn defined_name(&self, line: LineId) -> Option<SmolStr> {
        Some(self.state.cell(line)?.defines.as_ref()?.1.clone())
    }

    /// Every named value and every result of a file under its full dotted name, in the order of
    /// the lines; a block's results follow its heading in alphabetical order.
    pub fn values(&self, file: FileId) -> Vec<FullValue> {
        self.lines(file)
            .flat_map(|line| self.values_of_line(line))
            .collect()
    }

    /// Those of one line.
    pub fn values_of(&self, line: LineId) -> Vec<FullValue> {
        self.line(line)
            .map_or_else(Vec::new, |line| self.values_of_line(line))
    }

    fn values_of_line(&self, line: LineView<'_>) -> Vec<FullValue> {
        match line.meaning() {
            Meaning::Value(value) => {
                let Some(name) = self.full_name(line) else {
                    return Vec::new();
                };
                vec![FullValue {
                    name,
                    evaluated: value.evaluated.clone(),
                    unit: value.unit.clone(),
                    line: line.id,
                }]
            }
            Meaning::Block(block) => {
                let preferences = self.preferences(line.file());
                let results = self.results_of(line.id).into_iter();
                results
                    .map(|(member, evaluated)| FullValue {
                        name: format!("{}.{member}", block.name),
                        unit: block.unit_of(&member, &preferences),
                        evaluated,
                        line: line.id,
                    })
                    .collect()
            }
            _ => Vec::new(),
        }
    }

    /// The results of the block that a line heads, by their names after the block's, sorted. None of a
    /// block whose name another line has too; a line of the block that gives a value of that name itself
    /// stands for it.
    pub fn results_of(&self, heading: LineId) -> Vec<(SmolStr, Evaluated)> {
        let block = self.line(heading).and_then(LineView::block);
        let Some(block) = block.filter(|block| !block.name.is_empty()) else {
            return Vec::new();
        };
        if self.is_named_twice(heading) {
            return Vec::new();
        }
        let mut results = block.members();
        let lines = self.state.lines_under(heading);
        let fields: Vec<&SmolStr> = lines
            .iter()
            .filter_map(|&line| self.state.cell(line))
            .filter(|cell| matches!(cell.tree.statement, Statement::Value(_)))
            .filter_map(|cell| Some(&cell.defines.as_ref()?.1))
            .collect();
        results.retain(|(name, _)| !fields.contains(&name));
        results
    }

    /// The full dotted name of a value line; none where another line has it too.
    fn full_name(&self, line: LineView<'_>) -> Option<String> {
        let (scope, name) = line.cell.defines.as_ref()?;
        if self.state.graph.definitions(*scope, name).len() != 1 {
            return None;
        }
        Some(match scope {
            Scope::File(_) => name.to_string(),
            Scope::Block(heading) => match self.state.heading_name(*heading) {
                Some(block) => format!("{block}.{name}"),
                None => {
                    let kind = self.state.cell(*heading)?.block_kind()?;
                    format!("{}.{name}", crate::blocks::keyword(kind))
                }
            },
        })
    }

    /// What the editor shows at the lines of a block beside the lines' own values. Worked out when
    /// asked for.
    pub fn annotations(&self, heading: LineId) -> Vec<Annotation> {
        let block = self.line(heading).and_then(LineView::block);
        let preferences = self.file_of(heading).map(|file| self.preferences(file));
        let (Some(block), Some(preferences)) = (block, preferences) else {
            return Vec::new();
        };
        let context = BlockContext::of(&self.state, heading, &preferences);
        context.map_or(Vec::new(), |context| blocks::annotations(&context, block))
    }

    /// Whether another line defines the name that a line defines.
    pub(crate) fn is_named_twice(&self, line: LineId) -> bool {
        let defines = self.state.cell(line).and_then(|cell| cell.defines.as_ref());
        defines.is_some_and(|(scope, name)| self.state.graph.definitions(*scope, name).len() > 1)
    }

    /// Every check of a file in the order of the lines that state them.
    pub fn checks(&self, file: FileId) -> Vec<Check> {
        let mut checks: Vec<Check> = Vec::new();
        for line in self.lines(file) {
            match line.meaning() {
                Meaning::Check(check) => checks.push(check.clone()),
                Meaning::Block(block) => checks.extend(block.checks.iter().cloned()),
                _ => {}
            }
        }
        let mut before: FxHashMap<String, usize> = FxHashMap::default();
        let numbered = |check: &&mut Check| check.kind != "verify" && check.kind != "expect";
        for check in checks.iter_mut().filter(numbered) {
            let same = before.entry(check.name.clone()).or_default();
            *same += 1;
            if *same > 1 {
                check.name = format!("{}.{same}", check.name);
            }
        }
        checks
    }

    /// What a path stands for where it stands in `file`.
    pub fn definition(&self, file: FileId, names: &[SmolStr]) -> Option<Definition> {
        let at = |line| {
            Definition::Line(Place {
                line,
                span: defined_span(&self.state, line),
            })
        };
        match self.state.resolve(file, names).target {
            Target::Line(line)
            | Target::NoMember(line)
            | Target::Broken(line)
            | Target::BlockLine(line)
            | Target::FileMissing(line)
            | Target::PartSize { part: line, .. } => Some(at(line)),
            Target::Several(key) => {
                let first = self.state.graph.several(&key)?.first()?;
                Some(Definition::Line(*first))
            }
            Target::Block { heading, member } => Some(Definition::Result {
                place: Place {
                    line: heading,
                    span: defined_span(&self.state, heading),
                },
                heading,
                member,
            }),
            Target::Undefined | Target::File(_) => None,
        }
    }

    /// The lines that use what a line gives, in the order of the file.
    pub fn used_by(&self, line: LineId) -> Vec<LineId> {
        self.in_order(&self.state.dependents(line))
    }

    /// The name that a line gives, in its file or its block.
    pub fn name_of(&self, line: LineId) -> Option<&SmolStr> {
        Some(&self.state.cell(line)?.defines.as_ref()?.1)
    }

    /// The lines that give a name in a file, in order; more than one where it is given twice.
    pub fn defining(&self, file: FileId, name: &SmolStr) -> Vec<LineId> {
        self.in_order(self.state.graph.definitions(Scope::File(file), name))
    }

    /// The lines that give a name in a block, in order.
    pub fn defining_in_block(&self, heading: LineId, name: &SmolStr) -> Vec<LineId> {
        self.in_order(self.state.graph.definitions(Scope::Block(heading), name))
    }

    /// The lines, of any file, in which a name of `file` stands.
    pub fn naming(&self, file: FileId, name: &SmolStr) -> Vec<LineId> {
        self.in_order(self.state.graph.readers(file, name))
    }

    /// The `use` lines that name a file.
    pub fn uses_of_file(&self, file: FileId) -> Vec<LineId> {
        self.in_order(self.state.graph.users(file))
    }

    /// The `allow` lines of a file.
    pub fn allow_lines(&self, file: FileId) -> Vec<LineId> {
        let state = self.state.file(file);
        state.map_or_else(Vec::new, |state| state.allows.iter().copied().collect())
    }

    fn in_order(&self, lines: &[LineId]) -> Vec<LineId> {
        let mut lines = lines.to_vec();
        lines.sort_by_key(|&line| {
            (
                self.state.cell(line).map(|cell| cell.file),
                self.state.order(line),
            )
        });
        lines
    }

    /// The path of the file that a `use` line names, whether or not its text is known.
    pub fn used_path(&self, line: LineId) -> Option<String> {
        let cell = self.state.cell(line)?;
        self.state.used_path(&cell.tree.statement, cell.file)
    }

    /// The dimensions that a line's places ask for, by the expression that stands there.
    pub fn asked(&self, line: LineId) -> Vec<(ExpressionId, Dimension)> {
        let Some(cell) = self.state.cell(line) else {
            return Vec::new();
        };
        let block = self.state.block_of(cell).map(|(_, kind)| kind);
        crate::statements::expected::asked(&cell.tree.statement, block).collect()
    }

    /// What the unknown names of a line have to be, and the arguments of the formula that it is. Worked out
    /// when asked.
    pub fn inferred(&self, line: LineId) -> Vec<Inferred> {
        crate::inference::of_line(&self.state, line)
    }

    /// What everything would mean after some edits, this view unaffected. The edits of a file count in
    /// its text as it is here and do not overlap.
    pub fn after(&self, edits: &[(FileId, Range, String)]) -> Snapshot {
        let mut host = Host::of(self.state.clone());
        let mut edits: Vec<_> = edits.iter().collect();
        // From the end of each file, so that the places before an edit stay where they are.
        edits.sort_by_key(|(file, range, _)| (*file, std::cmp::Reverse(range.start)));
        for edits in edits.chunk_by(|(one, ..), (other, ..)| one == other) {
            let Some((file, ..)) = edits.first() else {
                continue;
            };
            let edit = |(_, range, text): &&(FileId, Range, String)| Edit {
                range: *range,
                text: text.clone(),
            };
            host.apply(Change::Edit {
                path: self.path(*file).to_owned(),
                edits: edits.iter().map(edit).collect(),
            });
        }
        host.snapshot()
    }

    /// What a line uses: the lines that its names stand for, and the lines under a heading.
    pub fn uses(&self, line: LineId) -> Vec<crate::uses::Use> {
        crate::uses::of(&self.state, line)
    }

    /// The names known in a file, sorted, each with the first line that defines it.
    pub fn names(&self, file: FileId) -> Vec<(SmolStr, LineId)> {
        self.names_in(Scope::File(file))
    }

    /// The names that the lines of a block define, sorted, each with the first of them.
    pub fn names_in_block(&self, heading: LineId) -> Vec<(SmolStr, LineId)> {
        self.names_in(Scope::Block(heading))
    }

    fn names_in(&self, scope: Scope) -> Vec<(SmolStr, LineId)> {
        let first = |lines: &[LineId]| lines.iter().copied().min_by_key(|&l| self.state.order(l));
        let known = self.state.graph.names(scope);
        let mut names: Vec<_> = known
            .filter_map(|(name, lines)| Some((name.clone(), first(lines)?)))
            .collect();
        names.sort();
        names
    }

    /// The file that a `use` line names, if its text is known.
    pub fn used_file(&self, line: LineId) -> Option<FileId> {
        let file = self.state.used_file(line)?;
        self.state.file(file).filter(|state| state.present)?;
        Some(file)
    }

    /// Where a line gives its name.
    pub fn name_span(&self, line: LineId) -> Span {
        defined_span(&self.state, line)
    }
}

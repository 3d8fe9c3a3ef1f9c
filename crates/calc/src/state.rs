//! Everything the core knows, in persistent collections: a snapshot is a clone of a few roots.

use std::hash::BuildHasherDefault;
use std::sync::Arc;

use haunch_quantity::Preferences;
use haunch_syntax::{BlockKind, Statement, Tree};
use haunch_text::{Position, Range, Span, content};
use imbl::{OrdSet, Vector};
use rustc_hash::FxHasher;
use smol_str::SmolStr;

use crate::finding::Place;
use crate::graph::{Graph, Key};
use crate::line::{FileId, LineId};
use crate::lints::together::{Looked, Together};
use crate::outcome::{Outcome, Read};
use crate::read_lately::tree_of;
use crate::sizing::Searches;

/// A map whose order never depends on the process.
pub(crate) type Map<K, V> =
    imbl::GenericHashMap<K, V, BuildHasherDefault<FxHasher>, imbl::shared_ptr::DefaultSharedPtr>;

/// One logical line with what was read and computed from it.
#[derive(Debug, Clone)]
pub(crate) struct Cell {
    pub(crate) file: FileId,
    /// The logical line's text, terminators included.
    pub(crate) text: Arc<str>,
    /// Where its second and later physical lines start; empty for most lines.
    pub(crate) breaks: Arc<[u32]>,
    pub(crate) tree: Arc<Tree>,
    /// The nearest line above in the first column that ends a block, for a line that does not end one.
    pub(crate) owner: Option<LineId>,
    pub(crate) outcome: Arc<Outcome>,
    /// The name that it defines, as entered in the graph.
    pub(crate) defines: Option<Key>,
    /// The names that it uses, as entered in the graph.
    pub(crate) reads: Arc<[Read]>,
    /// Whether the line was in a ring of definitions when last computed.
    pub(crate) in_ring: bool,
    /// What lints say that look at it together with other lines, if they do.
    pub(crate) looked: Option<Arc<Looked>>,
}

impl Cell {
    pub(crate) fn read(file: FileId, text: &str, breaks: &[u32]) -> Cell {
        Cell {
            file,
            text: text.into(),
            breaks: if breaks.is_empty() {
                Arc::default()
            } else {
                breaks.into()
            },
            tree: tree_of(text),
            owner: None,
            outcome: Outcome::unknown(),
            defines: None,
            reads: Arc::default(),
            in_ring: false,
            looked: None,
        }
    }

    /// Number of physical lines.
    pub(crate) fn height(&self) -> usize {
        self.breaks.len() + 1
    }

    /// The stretch of the file that a span is, where `first` is the number of the first physical line.
    pub(crate) fn range(&self, first: usize, span: Span) -> Range {
        Range {
            start: self.position(first, span.start),
            end: self.position(first, span.end),
        }
    }

    fn position(&self, first: usize, offset: u32) -> Position {
        let part = self.breaks.partition_point(|&start| start <= offset);
        let start = part.checked_sub(1).map_or(0, |p| self.breaks[p]);
        let text = content(self.physical(part));
        Position {
            line: (first + part) as u32,
            column: (offset - start).min(text.len() as u32),
        }
    }

    /// Whether it is blank or a comment, which never ends a block.
    pub(crate) fn is_empty(&self) -> bool {
        self.tree.statement == Statement::Empty
    }

    /// Whether it ends the block above and may own the indented lines below.
    pub(crate) fn is_owner(&self) -> bool {
        !self.tree.belongs_to_block() && !self.is_empty()
    }

    /// The kind of block that it heads. A heading that could not be read still heads its block.
    pub(crate) fn block_kind(&self) -> Option<BlockKind> {
        if self.tree.indented {
            return None;
        }
        match &self.tree.statement {
            Statement::Heading(heading) => Some(heading.kind),
            _ => None,
        }
    }

    /// Whether it was meant as a heading but could not be read as one.
    pub(crate) fn is_broken_owner(&self) -> bool {
        !self.tree.belongs_to_block() && matches!(self.tree.statement, Statement::Broken { .. })
    }

    /// Physical line `part` of the logical line, with its terminator.
    pub(crate) fn physical(&self, part: usize) -> &str {
        let start = match part {
            0 => 0,
            _ => self
                .breaks
                .get(part - 1)
                .map_or(self.text.len(), |&b| b as usize),
        };
        let end = self
            .breaks
            .get(part)
            .map_or(self.text.len(), |&b| b as usize);
        &self.text[start..end]
    }
}

/// One file.
#[derive(Debug, Clone)]
pub(crate) struct FileState {
    pub(crate) path: Arc<str>,
    /// Whether a text was given; otherwise the file is only named by a `use`.
    pub(crate) present: bool,
    /// The logical line of every physical line.
    pub(crate) physical: Vector<LineId>,
    /// Lines that have findings of their own or of their block.
    pub(crate) with_findings: OrdSet<LineId>,
    /// Values that are numbers and that nothing reads.
    pub(crate) unused: OrdSet<LineId>,
    /// How many lines lints look at together with others.
    pub(crate) looked_at_together: usize,
    /// `allow` lines.
    pub(crate) allows: OrdSet<LineId>,
    /// `results in` lines.
    pub(crate) settings: OrdSet<LineId>,
    /// Units and digits of results.
    pub(crate) preferences: Arc<Preferences>,
}

/// Everything the core knows.
#[derive(Debug, Clone, Default)]
pub(crate) struct State {
    /// Each apart, so that a change copies only its own file's lists out of what a snapshot has.
    pub(crate) files: Vector<Arc<FileState>>,
    pub(crate) paths: Map<Arc<str>, FileId>,
    pub(crate) cells: Vector<Option<Arc<Cell>>>,
    /// A label for each line; labels grow down the file.
    pub(crate) orders: Vector<u128>,
    pub(crate) free: Vector<LineId>,
    pub(crate) graph: Graph,
    /// Files that `use` lines name and whose text is not known.
    pub(crate) wanted: OrdSet<FileId>,
    /// Lines that search a range of sizes.
    pub(crate) searches: Searches,
    /// What was asked by lints that look at lines together.
    pub(crate) together: Together,
}

impl State {
    pub(crate) fn cell(&self, line: LineId) -> Option<&Arc<Cell>> {
        self.cells.get(line.0 as usize)?.as_ref()
    }

    pub(crate) fn file(&self, file: FileId) -> Option<&FileState> {
        self.files.get(file.0 as usize).map(Arc::as_ref)
    }

    pub(crate) fn order(&self, line: LineId) -> u128 {
        self.orders.get(line.0 as usize).copied().unwrap_or(0)
    }

    /// The id of a path, given out at its first mention.
    pub(crate) fn intern(&mut self, path: &str) -> FileId {
        if let Some(&id) = self.paths.get(path) {
            return id;
        }
        let id = FileId(self.files.len() as u32);
        let path: Arc<str> = path.into();
        self.files.push_back(Arc::new(FileState {
            path: path.clone(),
            present: false,
            physical: Vector::new(),
            with_findings: OrdSet::new(),
            unused: OrdSet::new(),
            looked_at_together: 0,
            allows: OrdSet::new(),
            settings: OrdSet::new(),
            preferences: Arc::new(Preferences::default()),
        }));
        self.paths.insert(path, id);
        id
    }

    pub(crate) fn file_mut(&mut self, file: FileId) -> Option<&mut FileState> {
        self.files.get_mut(file.0 as usize).map(Arc::make_mut)
    }

    /// Enters a file among the wanted ones, or takes it out, after it or a `use` line of it came or went.
    pub(crate) fn follow_wanted(&mut self, file: FileId) {
        let is_present = self.file(file).is_none_or(|file| file.present);
        let is_wanted = !is_present && !self.graph.users(file).is_empty();
        enter(&mut self.wanted, file, is_wanted);
    }

    /// The number of the first physical line of a logical line.
    pub(crate) fn first_physical(&self, line: LineId) -> Option<usize> {
        let cell = self.cell(line)?;
        let physical = &self.file(cell.file)?.physical;
        let wanted = self.order(line);
        let (mut low, mut high) = (0, physical.len());
        while low < high {
            let middle = low + (high - low) / 2;
            if self.order(physical[middle]) < wanted {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        (physical.get(low) == Some(&line)).then_some(low)
    }

    pub(crate) fn range(&self, place: Place) -> Option<Range> {
        let first = self.first_physical(place.line)?;
        Some(self.cell(place.line)?.range(first, place.span))
    }

    /// The logical line and the offset in it of a place in a file.
    pub(crate) fn locate(&self, file: FileId, position: Position) -> Option<(LineId, u32)> {
        let physical = &self.file(file)?.physical;
        let number = position.line as usize;
        let line = *physical.get(number)?;
        let cell = self.cell(line)?;
        let part = number - self.first_physical(line)?;
        let start = part.checked_sub(1).map_or(0, |p| cell.breaks[p]);
        let text = content(cell.physical(part));
        let mut column = (position.column as usize).min(text.len());
        while !text.is_char_boundary(column) {
            column -= 1;
        }
        Some((line, start + column as u32))
    }

    pub(crate) fn physical_line(&self, file: FileId, number: usize) -> Option<&str> {
        let line = *self.file(file)?.physical.get(number)?;
        let cell = self.cell(line)?;
        // Most lines have no continuation: none of them is searched for.
        let part = match cell.height() {
            1 => 0,
            _ => number - self.first_physical(line)?,
        };
        Some(cell.physical(part))
    }

    /// The lines under a heading, in order, blank ones left out. Marks of a merge with no line of the block
    /// after them are not among them: what they part stands below it.
    pub(crate) fn lines_under(&self, heading: LineId) -> Vec<LineId> {
        let mut lines = Vec::new();
        let Some(first) = self.first_physical(heading) else {
            return lines;
        };
        let Some(cell) = self.cell(heading) else {
            return lines;
        };
        let Some(file) = self.file(cell.file) else {
            return lines;
        };
        let mut number = first + cell.height();
        while let Some(&line) = file.physical.get(number) {
            let Some(cell) = self.cell(line) else { break };
            if cell.is_owner() {
                break;
            }
            if !cell.is_empty() {
                lines.push(line);
            }
            number += cell.height();
        }
        let is_marker =
            |line: &LineId| (self.cell(*line)).is_some_and(|cell| cell.tree.is_conflict_marker());
        while lines.last().is_some_and(is_marker) {
            lines.pop();
        }
        lines
    }

    /// The whole text of a file.
    pub(crate) fn text(&self, file: FileId) -> String {
        let mut text = String::new();
        let Some(state) = self.file(file) else {
            return text;
        };
        let mut last = None;
        for &line in &state.physical {
            if last != Some(line) {
                if let Some(cell) = self.cell(line) {
                    text.push_str(&cell.text);
                }
                last = Some(line);
            }
        }
        text
    }

    /// The name by which a heading's block is known.
    pub(crate) fn heading_name(&self, heading: LineId) -> Option<SmolStr> {
        match &self.cell(heading)?.tree.statement {
            Statement::Heading(heading) => heading.name.as_ref().map(|name| name.text.clone()),
            Statement::Broken { name, .. } => name.as_ref().map(|name| name.text.clone()),
            _ => None,
        }
    }
}

/// Enters something in a list or takes it out; whether that changed the list. Asking first spares a copy
/// of what snapshots have, too.
pub(crate) fn enter<T: Ord + Copy>(list: &mut OrdSet<T>, one: T, belongs: bool) -> bool {
    if list.contains(&one) == belongs {
        return false;
    }
    if belongs {
        list.insert(one);
    } else {
        list.remove(&one);
    }
    true
}

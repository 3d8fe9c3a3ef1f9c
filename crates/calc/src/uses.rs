//! What a line uses, for those who ask why a result is what it is.

use smol_str::SmolStr;

use crate::graph::Scope;
use crate::line::LineId;
use crate::outcome::Read;
use crate::reads::sizing_of;
use crate::sizing::Between;
use crate::state::State;

/// One use of a line by another.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Use {
    /// The line that is used.
    pub line: LineId,
    /// The result that is used, by its name after the block's, where the line heads a block and one
    /// result of it is named; none for all of it.
    pub member: Option<SmolStr>,
}

/// Everything that what a line comes to is a function of, besides its own text, one step away. A
/// search over sizes uses all that its block depends on.
pub(crate) fn of(state: &State, line: LineId) -> Vec<Use> {
    let Some(cell) = state.cell(line) else {
        return Vec::new();
    };
    let whole = |line| Use { line, member: None };
    let mut uses: Vec<Use> = Vec::new();
    for read in cell.reads.iter() {
        if let Some((file, name)) = &read.through {
            let definitions = state.graph.definitions(Scope::File(*file), name);
            uses.extend(definitions.iter().copied().map(whole));
        }
        uses.extend(provided(state, read));
    }
    // A name that is given several times has no value.
    if let Some((scope, name)) = &cell.defines {
        let others = state.graph.definitions(*scope, name);
        uses.extend(others.iter().copied().map(whole));
    }
    if cell.block_kind().is_some() || cell.is_broken_owner() {
        uses.extend(state.lines_under(line).into_iter().map(whole));
    }
    if sizing_of(&cell.tree.statement).is_some() {
        let between = Between::of(state, line);
        uses.extend(between.watched.iter().copied().map(whole));
    }
    uses.retain(|used| used.line != line);
    uses.sort();
    uses.dedup();
    uses
}

/// The lines that decide what one name is: its definition, or all of them where it has several.
fn provided(state: &State, read: &Read) -> Vec<Use> {
    let Some((first, rest)) = read.names.split_first() else {
        return Vec::new();
    };
    let whole = |line| Use { line, member: None };
    let definitions = state.graph.definitions(Scope::File(read.file), first);
    let mut uses: Vec<Use> = Vec::new();
    for &definition in definitions {
        let is_block = state
            .cell(definition)
            .is_some_and(|cell| cell.block_kind().is_some());
        let member = (is_block && !rest.is_empty() && definitions.len() == 1)
            .then(|| SmolStr::from(rest.join(".")));
        uses.push(Use {
            line: definition,
            member,
        });
        if let (true, Some(name)) = (is_block, rest.first()) {
            let inner = state.graph.definitions(Scope::Block(definition), name);
            uses.extend(inner.iter().copied().map(whole));
        }
    }
    uses
}

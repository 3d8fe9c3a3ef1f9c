//! Which names a line uses, known from its tree and from what its names stand for.

use haunch_syntax::{
    BlockKind, ExpressionId, ExpressionKind, Path, Sizing, Statement, Tree, ValueBody,
};
use rustc_hash::FxHashSet;
use smol_str::SmolStr;

use crate::expression::functions::is_built_in;
use crate::graph::Scope;
use crate::outcome::Read;
use crate::state::{Cell, State};

/// The names of a path.
pub(crate) fn names_of(path: &Path) -> Vec<SmolStr> {
    path.names.iter().map(|name| name.text.clone()).collect()
}

/// The argument of `block.stress(POINT, …)` and the like that names a point of a section, not a
/// value.
pub fn point_argument(tree: &Tree, path: &Path) -> Option<ExpressionId> {
    let takes_point = path.names.len() > 1
        && path
            .names
            .last()
            .is_some_and(|name| crate::blocks::takes_point(&name.text));
    let first = *path.arguments.as_ref().filter(|_| takes_point)?.first()?;
    match &tree.expressions.get(first.0 as usize)?.kind {
        ExpressionKind::Path(argument) if argument.arguments.is_none() => Some(first),
        _ => None,
    }
}

/// Everything that a line uses.
pub(crate) fn static_reads(state: &State, cell: &Cell) -> Vec<Read> {
    let tree = &*cell.tree;
    let mut reads: Vec<Read> = Vec::new();
    let mut known: FxHashSet<Read> = FxHashSet::default();
    let mut add = |read: Read| {
        if known.insert(read.clone()) {
            reads.push(read);
        }
    };
    let parameters: &[haunch_syntax::Name] = match &tree.statement {
        Statement::Formula(formula) => &formula.parameters,
        _ => &[],
    };
    let point = |path| {
        let id = point_argument(tree, path)?;
        match &tree.expressions.get(id.0 as usize)?.kind {
            ExpressionKind::Path(point) => Some(std::ptr::from_ref(point)),
            _ => None,
        }
    };
    let points: FxHashSet<*const Path> = tree.paths().filter_map(point).collect();
    let in_beam = state.block_of(cell).map(|(_, kind)| kind) == Some(BlockKind::Beam);
    let knows_span = in_beam && matches!(tree.statement, Statement::Limit(_));
    for path in tree.paths() {
        let Some(first) = path.names.first() else {
            continue;
        };
        let is_local = path.names.len() == 1
            && ((knows_span && first.text == "span")
                || parameters.iter().any(|p| p.text == first.text)
                || (path.arguments.is_some() && is_built_in(&first.text)));
        if is_local || points.contains(&std::ptr::from_ref(path)) {
            continue;
        }
        add(state.resolve(cell.file, &names_of(path)).read);
    }
    if let Some(block) = tree.named_block() {
        let mut read = state.resolve(cell.file, &names_of(block)).read;
        if sizing_of(&tree.statement).is_some() {
            // Which block it is matters here; what the block is made of is added where lines are
            // linked.
            read.provider = None;
        }
        add(read);
    }
    for expression in &tree.expressions {
        let ExpressionKind::Literal(literal) = &expression.kind else {
            continue;
        };
        let units = literal.parts.iter().filter_map(|part| part.unit.as_ref());
        for word in units.flat_map(|unit| &unit.later_words) {
            // Only whether such a name exists matters, not its value.
            let mut read = state
                .resolve(cell.file, std::slice::from_ref(&word.text))
                .read;
            read.provider = None;
            add(read);
        }
    }
    reads
}

/// The search over a range of sizes that a statement is.
pub(crate) fn sizing_of(statement: &Statement) -> Option<&Sizing> {
    match statement {
        Statement::Value(value) => match &value.body {
            ValueBody::Sizing(sizing) => Some(sizing),
            _ => None,
        },
        _ => None,
    }
}

impl State {
    /// Whether a name is defined in a file.
    pub(crate) fn is_defined(&self, file: crate::line::FileId, name: &SmolStr) -> bool {
        !self.graph.definitions(Scope::File(file), name).is_empty()
    }
}

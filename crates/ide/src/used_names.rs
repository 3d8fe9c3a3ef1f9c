//! The names that a line uses, each with its present value.

use std::collections::BTreeSet;

use haunch_calc::{LineId, Place, Snapshot, point_argument};
use haunch_syntax::{ExpressionId, ExpressionKind};

use crate::mention::{Referent, mentions};
use crate::show;
use crate::working::as_written;

/// A name that a line uses.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UsedName {
    /// The name as it stands there, with its arguments.
    pub name: String,
    /// What it comes to, with the unit; none where it has no value.
    pub value: Option<String>,
    /// Where it is given; of a result the name of its block.
    pub place: Place,
}

/// The names that a line uses directly, each once, in the order in which they stand.
pub fn used_names(snapshot: &Snapshot, line: LineId) -> Vec<UsedName> {
    let Some(line) = snapshot.line(line) else {
        return Vec::new();
    };
    let tree = line.tree();
    let preferences = snapshot.preferences(line.file());
    let mentions = mentions(snapshot, line);
    let given = |path: &haunch_syntax::Path| {
        let last = path.names.last()?;
        let mention = mentions.iter().find(|mention| mention.span == last.span)?;
        let given = match &mention.referent {
            Referent::Line(given) => *given,
            Referent::Result { heading, .. } => *heading,
            _ => return None,
        };
        (given != line.id()).then(|| Place {
            line: given,
            span: snapshot.name_span(given),
        })
    };
    let points: Vec<ExpressionId> = tree
        .paths()
        .filter_map(|path| point_argument(tree, path))
        .collect();
    let mut known: BTreeSet<String> = BTreeSet::new();
    let mut used: Vec<(u32, UsedName)> = Vec::new();
    for (index, expression) in tree.expressions.iter().enumerate() {
        let id = ExpressionId(index as u32);
        let ExpressionKind::Path(path) = &expression.kind else {
            continue;
        };
        if points.contains(&id) {
            continue;
        }
        let name = as_written(line, expression.span);
        if let Some(place) = given(path)
            && known.insert(name.clone())
        {
            let unit = show::unit_of(snapshot, line.file(), path);
            let value = show::value(line.evaluated(id), unit.as_ref(), &preferences);
            used.push((expression.span.start, UsedName { name, value, place }));
        }
    }
    used.sort_by_key(|(start, _)| *start);
    used.into_iter().map(|(_, used)| used).collect()
}

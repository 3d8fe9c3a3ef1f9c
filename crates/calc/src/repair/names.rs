//! A name that changes to another of the file.

use haunch_quantity::Dimension;
use haunch_syntax::{ExpressionId, ExpressionKind, Path, Relation};
use haunch_text::Span;

use super::candidates::Search;
use super::company::Company;
use super::costs::{Reason, Reasons};
use super::line::Line;
use super::scope::{InScope, same_series, series};
use super::structure::is_raised;
use crate::expression::sum::terms;
use crate::outcome::Meaning;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::value::Kind;

impl<'a> Search<'a> {
    /// How often a name stands in the line.
    fn times(&self, name: &str) -> usize {
        let is_it = |path: &&Path| path.names.len() == 1 && path.names[0].text == name;
        self.line.tree.paths().filter(is_it).count()
    }

    pub(super) fn name(&mut self, id: ExpressionId, path: &Path, wanted: Dimension) {
        if path.names.len() > 1 {
            self.member(id, path, wanted);
            return;
        }
        let Some(own) = path.names.first() else {
            return;
        };
        // A name that stands twice, or that this line alone uses, is less or more likely meant.
        let twice = self.times(&own.text) > 1;
        let only_here = self
            .scope
            .find(&own.text)
            .is_some_and(|name| name.readers < 2);
        if crate::expression::is_kept(&own.text) {
            return;
        }
        // A plain number instead of a quantity, or the other way round, is another kind of slip.
        let plain = self.line.found(id).is_some_and(Dimension::is_ratio) != wanted.is_ratio();
        let line = self.line;
        let leaving = Reasons::default()
            .and_if(twice, Reason::Twice)
            .and_if(only_here, Reason::LeftOver)
            .and_if(plain, Reason::PlainNumber)
            .and_if(is_raised(&line, id), Reason::Raised);
        let side = side_of_bound(&line, id);
        let is_bounded = side.is_some_and(|side| side < 0.0);
        let says = |name: &str, word: &str| name.split('_').any(|part| part == word);
        let company = Company::of(&line, line.span(id), Some(&own.text), &self.scope.own);
        let offers: Vec<(Reasons, u64, String)> = self
            .scope
            .of(wanted)
            .filter(|name| name.name != own.text)
            .map(|name| {
                let alike = if same_series(&own.text, &name.name) {
                    Reason::NameOfSeries
                } else if shared_start(&own.text, &name.name) < 64 {
                    Reason::NameAlike
                } else {
                    Reason::NameOther
                };
                (
                    Reasons::of(alike)
                        .with(&leaving)
                        .with(&self.of_name(name))
                        .with(&company.reasons(name))
                        .and_if(is_bounded && says(&name.name, "max"), Reason::Greatest)
                        .and_if(is_bounded && says(&name.name, "min"), Reason::Least)
                        .and_if(
                            side.is_some() && name.unused && !name.given,
                            Reason::UnusedInCheck,
                        )
                        .and(
                            Reason::Bound,
                            match side {
                                Some(side) if super::symbols::is_bound(&name.name) => side,
                                _ => 0.0,
                            },
                        ),
                    name.distance,
                    name.name.to_string(),
                )
            })
            .collect();
        if wanted == Dimension::ACCELERATION {
            let reasons = Reasons::of(Reason::Weight).with(&leaving);
            self.replace(reasons, 0, id, "g_n".to_owned());
        }
        for (reasons, distance, name) in offers {
            self.replace(reasons, distance, id, name);
        }
    }

    /// Another result of the same block; elastic ones before plastic ones.
    fn member(&mut self, id: ExpressionId, path: &Path, wanted: Dimension) {
        let names = names_of(path);
        let Target::Block { heading, member } = self.state.resolve(self.cell.file, &names).target
        else {
            return;
        };
        let Some(Meaning::Block(block)) =
            self.state.cell(heading).map(|cell| &cell.outcome.meaning)
        else {
            return;
        };
        let full = self.line.source(id).to_owned();
        let Some(prefix) = full.strip_suffix(member.as_str()) else {
            return;
        };
        let mut offers: Vec<(bool, bool, u64, String)> = block
            .members()
            .iter()
            .filter(|(name, evaluated)| *name != member && evaluated.kind == Kind::Quantity(wanted))
            .map(|(name, _)| {
                let text = format!("{prefix}{name}");
                (
                    name.starts_with("plastic"),
                    !same_series(name, &member),
                    shared_start(name, &member),
                    text,
                )
            })
            .collect();
        offers.sort();
        for (rank, (.., text)) in offers.into_iter().take(6).enumerate() {
            self.replace(Reasons::of(Reason::Member), rank as u64, id, text);
        }
    }

    /// Every name of a sum changes to the one at the same place of another series.
    pub(super) fn sum(&mut self, id: ExpressionId, wanted: Dimension) {
        let line = self.line;
        let mut names: Vec<(Span, &str)> = Vec::new();
        for term in terms(line.tree, id) {
            match line.kind(term) {
                Some(ExpressionKind::Path(path))
                    if path.names.len() == 1 && path.arguments.is_none() =>
                {
                    names.push((line.span(term), path.names[0].text.as_str()));
                }
                _ => return,
            }
        }
        let places: Vec<&str> = names.iter().map(|(_, name)| series(name).1).collect();
        for (replaced, distance) in self.series_of(&places, wanted) {
            if names
                .iter()
                .zip(&replaced)
                .any(|((_, own), name)| *own == name.name)
            {
                continue;
            }
            let reasons = replaced
                .iter()
                .map(|name| self.of_name(name))
                .min_by(|a, b| a.cost().total_cmp(&b.cost()))
                .unwrap_or_default()
                .and(Reason::SumOfSeries, 1.0);
            let edits: Vec<(Span, String)> = names
                .iter()
                .zip(&replaced)
                .map(|((span, _), name)| (*span, name.name.to_string()))
                .collect();
            let text = line.source_with(id, &edits);
            let title = format!("Write {text} instead of {}", line.source(id));
            self.offer(reasons, distance, line.span(id), title, edits);
        }
    }

    /// The series of this dimension that have a name at each of these places, with how far away.
    fn series_of(&self, places: &[&str], wanted: Dimension) -> Vec<(Vec<&'a InScope>, u64)> {
        let Some(first) = places.first() else {
            return Vec::new();
        };
        if places.iter().any(|place| place.is_empty()) {
            return Vec::new();
        }
        let scope = self.scope;
        let mut starts: Vec<&str> = scope
            .of(wanted)
            .filter(|name| series(&name.name).1 == *first)
            .map(|name| series(&name.name).0)
            .collect();
        starts.dedup();
        let whole = |start: &str| {
            let names: Option<Vec<&InScope>> = places
                .iter()
                .map(|place| {
                    scope
                        .find(&format!("{start}{place}"))
                        .filter(|name| name.dimension == wanted)
                })
                .collect();
            let names = names?;
            let distance = names.iter().map(|name| name.distance).sum();
            Some((names, distance))
        };
        starts.into_iter().filter_map(whole).collect()
    }
}

/// 1 where an expression is in the upper bound of a comparison, -1 where it has one.
fn side_of_bound(line: &Line<'_>, id: ExpressionId) -> Option<f64> {
    let holds = |side: ExpressionId| line.span(side).contains(line.span(id));
    line.tree.expressions.iter().find_map(|own| {
        let ExpressionKind::Compare {
            relation,
            left,
            right,
            ..
        } = &own.kind
        else {
            return None;
        };
        let (less, more) = match relation {
            Relation::LessOrEqual | Relation::Less => (*left, *right),
            Relation::GreaterOrEqual | Relation::Greater => (*right, *left),
        };
        if holds(less) {
            Some(-1.0)
        } else {
            holds(more).then_some(1.0)
        }
    })
}

/// How unlike two names begin: smaller for a longer common start.
fn shared_start(left: &str, right: &str) -> u64 {
    let shared = left
        .chars()
        .zip(right.chars())
        .take_while(|(a, b)| a == b)
        .count();
    (64 - shared.min(64)) as u64
}

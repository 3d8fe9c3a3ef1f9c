//! Checks that ask less than before: removed limits, higher bounds, wider tolerances, cases dropped
//! from combinations, findings newly allowed.

use std::collections::BTreeMap;

use haunch_calc::blocks::Model;
use haunch_calc::{Evaluated, LineId, LineView, Snapshot};
use haunch_quantity::typed::Typed;
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{ExpressionId, ExpressionKind, Limit, LimitPlace, Relation, Statement};

use crate::causes::Causes;
use crate::outcome::{Concern, ConcernKind};
use crate::pairs::{Hand, Pairs};
use crate::shown::{Showing, both, same_number};
use crate::subject::Subject;

/// Everything that asks less, in the order of files and lines.
pub(crate) fn concerns(pairs: &Pairs<'_>, causes: &Causes<'_>) -> Vec<Concern> {
    let mut found = Vec::new();
    for at in 0..pairs.all.len() {
        let Some(pair) = pairs.get(at) else { continue };
        if pair.hand == Hand::Same && !(pair.subject == Subject::Limit && causes.is_reached(at)) {
            continue;
        }
        let look = Look {
            pairs,
            at,
            old: pair.old.and_then(|line| pairs.old.line(line)),
            new: pair.new.and_then(|line| pairs.new.line(line)),
        };
        for (kind, words) in look.concerns(pair.hand, pair.subject) {
            let (old, new) = (pairs.written_old(at), pairs.written_new(at));
            let place = new.as_ref().or(old.as_ref());
            found.push(Concern {
                kind,
                file: pairs.path(pair.file),
                line: place.map_or(1, |written| written.line),
                words,
                old: old.map(|written| written.text),
                new: new.map(|written| written.text),
            });
        }
    }
    found.sort_by(|a, b| (a.kind, &a.file, a.line).cmp(&(b.kind, &b.file, b.line)));
    found
}

struct Look<'a> {
    pairs: &'a Pairs<'a>,
    at: usize,
    old: Option<LineView<'a>>,
    new: Option<LineView<'a>>,
}

impl Look<'_> {
    fn concerns(&self, hand: Hand, subject: Subject) -> Vec<(ConcernKind, String)> {
        use ConcernKind::{Allowed, Loosened, Removed, Restated};
        match (self.old, self.new) {
            (Some(_), None) => match subject {
                Subject::Limit => {
                    vec![(Removed, format!("a limit{} was removed", self.of_block()))]
                }
                Subject::Check => vec![(Removed, "a check was removed".to_owned())],
                Subject::Combination => vec![(
                    Removed,
                    format!("a combination{} is no longer looked at", self.of_block()),
                )],
                _ => Vec::new(),
            },
            (None, Some(_)) if subject == Subject::Allowance => {
                vec![(Allowed, "a finding is newly allowed".to_owned())]
            }
            (Some(old), Some(new)) => match (&old.tree().statement, &new.tree().statement) {
                (Statement::Allow(_), Statement::Allow(_)) if hand == Hand::Changed => {
                    vec![(Allowed, "another finding is allowed than before".to_owned())]
                }
                (Statement::Limit(was), Statement::Limit(is)) => {
                    self.limit(old, new, was, is, hand)
                }
                (Statement::Expect(was), Statement::Expect(is)) if hand == Hand::Changed => {
                    let tolerance = |line: LineView<'_>, id: Option<ExpressionId>| {
                        id.map(|id| line.evaluated(id).clone())
                    };
                    let wider = tolerance(old, was.tolerance)
                        .zip(tolerance(new, is.tolerance))
                        .and_then(|(old, new)| self.grown(&old, &new, true));
                    match wider {
                        Some(words) => vec![(Loosened, format!("a tolerance is wider: {words}"))],
                        None if source(old, was.expected) != source(new, is.expected) => {
                            vec![(
                                Restated,
                                "the value to compare with is another one".to_owned(),
                            )]
                        }
                        None => Vec::new(),
                    }
                }
                (Statement::Verify(was), Statement::Verify(is)) if hand == Hand::Changed => {
                    self.verify((old, *was), (new, *is))
                }
                (Statement::Combination(was), Statement::Combination(is))
                    if hand == Hand::Changed =>
                {
                    self.combination((old, was.sum), (new, is.sum))
                }
                _ => Vec::new(),
            },
            _ => Vec::new(),
        }
    }

    fn of_block(&self) -> String {
        self.pairs
            .block_name(self.at)
            .map_or(String::new(), |name| format!(" of {name}"))
    }

    fn limit(
        &self,
        old: LineView<'_>,
        new: LineView<'_>,
        was: &Limit,
        is: &Limit,
        hand: Hand,
    ) -> Vec<(ConcernKind, String)> {
        let mut found = Vec::new();
        let subject = format!("the limit on {}{}", is.subject.text, self.of_block());
        if was.relation == Relation::Less && is.relation == Relation::LessOrEqual {
            found.push(format!("{subject} may be reached itself"));
        }
        match (&was.under, &is.under) {
            (None, Some(under)) => {
                found.push(format!("{subject} counts only under {}", under.text));
            }
            (Some(was), Some(is)) if was.text != is.text => found.push(format!(
                "{subject} counts under {} and not under {}",
                is.text, was.text
            )),
            _ => {}
        }
        if was.place == LimitPlace::Everywhere && is.place != LimitPlace::Everywhere {
            found.push(format!("{subject} counts only at one place"));
        }
        let bounds = bound(self.pairs.old, old, was).zip(bound(self.pairs.new, new, is));
        // A bound that is a share of the span follows the span.
        let by_hand = hand == Hand::Changed;
        let is_own = old.evaluated(was.bound).value.is_some();
        if let Some((a, b)) = bounds
            && (by_hand || is_own)
            && let Some(words) = self.grown(&a, &b, true)
        {
            found.push(format!("{subject} is higher: {words}"));
        }
        found
            .into_iter()
            .map(|words| (ConcernKind::Loosened, words))
            .collect()
    }

    /// Both values in words, where the new one is larger (or smaller).
    fn grown(&self, old: &Evaluated, new: &Evaluated, larger: bool) -> Option<String> {
        let (a, b) = (old.as_quantity()?, new.as_quantity()?);
        if a.dimension() != b.dimension() || same_number(a.si(), b.si()) {
            return None;
        }
        if (b.si() > a.si()) != larger {
            return None;
        }
        let preferences = self.pairs.new.preferences(self.new?.file());
        let per_cent = haunch_quantity::Unit::parse("%").ok();
        let showing = Showing {
            unit: per_cent.as_ref().filter(|_| a.dimension().is_ratio()),
            preferences: &preferences,
        };
        let (old, new) = both(old, new, showing, showing);
        Some(format!("{} before, {} now", old?, new?))
    }

    fn verify(
        &self,
        (old, was): (LineView<'_>, ExpressionId),
        (new, is): (LineView<'_>, ExpressionId),
    ) -> Vec<(ConcernKind, String)> {
        let restated = || {
            let words = "a check asks something else than before".to_owned();
            vec![(ConcernKind::Restated, words)]
        };
        let (Some(a), Some(b)) = (sides(old, was), sides(new, is)) else {
            return restated();
        };
        let upper = |relation| matches!(relation, Relation::Less | Relation::LessOrEqual);
        if source(old, a.1) != source(new, b.1) || upper(a.0) != upper(b.0) {
            return restated();
        }
        let (was, is) = (old.evaluated(a.2), new.evaluated(b.2));
        let mut found = Vec::new();
        if let Some(words) = self.grown(was, is, upper(b.0)) {
            found.push((ConcernKind::Loosened, format!("a check asks less: {words}")));
        }
        let strict = |relation| matches!(relation, Relation::Less | Relation::Greater);
        if strict(a.0) && !strict(b.0) {
            let words = "a check's bound may be reached itself".to_owned();
            found.push((ConcernKind::Loosened, words));
        }
        let (Some(x), Some(y)) = (was.as_quantity(), is.as_quantity()) else {
            return restated();
        };
        if found.is_empty() && same_number(x.si(), y.si()) && a.0 == b.0 {
            return Vec::new();
        }
        found
    }

    fn combination(
        &self,
        (old, was): (LineView<'_>, ExpressionId),
        (new, is): (LineView<'_>, ExpressionId),
    ) -> Vec<(ConcernKind, String)> {
        let name = self.pairs.get(self.at).and_then(|pair| pair.name.clone());
        let name = name.unwrap_or_default();
        let (before, after) = (
            factors(self.pairs.old, old.id()),
            factors(self.pairs.new, new.id()),
        );
        let (Some(before), Some(after)) = (before, after) else {
            // Without results of the beam, the names that the sum uses still tell.
            let now = names(new, is);
            let dropped = names(old, was)
                .into_iter()
                .filter(|case| !now.contains(case));
            let mut found: Vec<_> = dropped
                .map(|case| (ConcernKind::Loosened, dropped_words(&case, &name)))
                .collect();
            if found.is_empty() {
                let words = format!("the combination {name} is another sum than before");
                found.push((ConcernKind::Restated, words));
            }
            return found;
        };
        let mut found = Vec::new();
        for (case, factor) in &before {
            let words = match after.get(case) {
                None => dropped_words(case, &name),
                Some(now) if now.abs() < factor.abs() => format!(
                    "the factor of {case} in the combination {name} is lower: {factor} before, {now} now"
                ),
                Some(_) => continue,
            };
            found.push((ConcernKind::Loosened, words));
        }
        found
    }
}

fn dropped_words(case: &str, combination: &str) -> String {
    format!("the case {case} was dropped from the combination {combination}")
}

/// The names that an expression and its line's other expressions use.
fn names(line: LineView<'_>, root: ExpressionId) -> Vec<String> {
    let expressions = line.tree().expressions.iter().take(root.0 as usize + 1);
    let mut names: Vec<String> = expressions
        .filter_map(|expression| match &expression.kind {
            ExpressionKind::Path(path) => Some(path.names.first()?.text.to_string()),
            _ => None,
        })
        .collect();
    names.dedup();
    names
}

/// The text of an expression without its white space.
fn source(line: LineView<'_>, id: ExpressionId) -> String {
    let expression = line.tree().expressions.get(id.0 as usize);
    let text = expression.map_or("", |expression| expression.span.text(line.text()));
    text.split_whitespace().collect()
}

/// The relation and the sides of a comparison.
fn sides(line: LineView<'_>, id: ExpressionId) -> Option<(Relation, ExpressionId, ExpressionId)> {
    match line.tree().expressions.get(id.0 as usize)?.kind {
        ExpressionKind::Compare {
            relation,
            left,
            right,
            ..
        } => Some((relation, left, right)),
        _ => None,
    }
}

/// The bound of a limit; of one that is a share of the span, the largest over the spans.
fn bound(snapshot: &Snapshot, line: LineView<'_>, limit: &Limit) -> Option<Evaluated> {
    let own = line.evaluated(limit.bound);
    if own.value.is_some() {
        return Some(own.clone());
    }
    let block = snapshot.line(line.owner()?)?.block()?;
    let Some(Model::Beam(beam)) = &block.model else {
        return None;
    };
    let stated = beam
        .limits
        .iter()
        .find(|own| own.stated.line == line.id())?;
    let bounds = stated.deflections.iter().map(|own| own.bound.si());
    let largest = bounds.max_by(f64::total_cmp)?;
    Quantity::new(largest, Dimension::LENGTH).map(Evaluated::quantity)
}

/// The factor of each case in a combination.
fn factors(snapshot: &Snapshot, line: LineId) -> Option<BTreeMap<String, f64>> {
    let block = snapshot.line(snapshot.line(line)?.owner()?)?.block()?;
    let Some(Model::Beam(beam)) = &block.model else {
        return None;
    };
    let mut factors = BTreeMap::new();
    for combination in beam.combinations.iter().filter(|c| c.line == Some(line)) {
        for (case, factor) in &combination.factors {
            let name = beam.cases.get(*case)?.name.to_string();
            factors.insert(name, *factor);
        }
    }
    (!factors.is_empty()).then_some(factors)
}

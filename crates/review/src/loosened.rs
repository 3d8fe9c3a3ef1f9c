//! Checks that ask less than before: removed limits, higher bounds, wider tolerances, cases dropped
//! from combinations, findings newly allowed.

use std::collections::BTreeMap;

use haunch_calc::blocks::Model;
use haunch_calc::{Definition, Evaluated, LineId, LineView, Snapshot};
use haunch_quantity::typed::Typed;
use haunch_quantity::{Dimension, Quantity, Unit};
use haunch_syntax::{
    Expect, ExpressionId, ExpressionKind, Limit, LimitPlace, Relation, Statement, Value, ValueBody,
};
use smol_str::SmolStr;

use crate::causes::Causes;
use crate::lines::words;
use crate::outcome::{Concern, ConcernKind};
use crate::pairs::{Hand, Pairs};
use crate::renames::Renames;
use crate::shown::{Showing, both, same, same_number};
use crate::subject::Subject;

/// Everything that asks less, in the order of files and lines.
pub(crate) fn concerns(pairs: &Pairs<'_>, causes: &Causes<'_>) -> Vec<Concern> {
    let mut found = Vec::new();
    for at in 0..pairs.all.len() {
        let Some(pair) = pairs.get(at) else { continue };
        let has_bound = matches!(
            pair.subject,
            Subject::Limit | Subject::Check | Subject::Combination
        );
        if pair.hand == Hand::Same && !(has_bound && causes.is_reached(at)) {
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
        use ConcernKind::{Allowed, Removed};
        match (self.old, self.new) {
            (Some(_), None) => match subject {
                Subject::Limit => {
                    vec![(Removed, format!("a limit{} was removed", self.of_block()))]
                }
                Subject::Check => vec![(Removed, "a check was removed".to_owned())],
                Subject::Combination => {
                    let name = self.pairs.get(self.at).and_then(|pair| pair.name.clone());
                    let name = name.unwrap_or_default();
                    vec![(
                        Removed,
                        format!(
                            "the combination {name}{} is no longer looked at",
                            self.of_block()
                        ),
                    )]
                }
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
                (Statement::Expect(was), Statement::Expect(is)) => {
                    self.expect((old, was), (new, is), hand)
                }
                (Statement::Verify(was), Statement::Verify(is)) => {
                    self.verify((old, *was), (new, *is), hand)
                }
                (Statement::Value(was), Statement::Value(is)) => self.search(was, is),
                (Statement::Combination(was), Statement::Combination(is)) => {
                    self.combination((old, was.sum), (new, is.sum), hand)
                }
                _ => Vec::new(),
            },
            _ => Vec::new(),
        }
    }

    /// A search that looks at another combination, or at one alone.
    fn search(&self, was: &Value, is: &Value) -> Vec<(ConcernKind, String)> {
        let (ValueBody::Search(before), ValueBody::Search(after)) = (&was.body, &is.body) else {
            return Vec::new();
        };
        let name = &is.name.text;
        let words = match (&before.under, &after.under) {
            (None, Some(is)) => format!("the search for {name} looks only at {}", is.text),
            (Some(was), Some(is)) => {
                let block = before.block.names.iter();
                let path: Vec<&SmolStr> = block.chain([was]).map(|name| &name.text).collect();
                if self.is_now(&path, None, &is.text) {
                    return Vec::new();
                }
                format!(
                    "the search for {name} looks at {} and not at {}",
                    is.text, was.text
                )
            }
            (_, None) => return Vec::new(),
        };
        vec![(ConcernKind::Loosened, words)]
    }

    fn renames(&self) -> Option<&Renames> {
        let pair = self.pairs.get(self.at)?;
        self.pairs.renames.get(pair.file)
    }

    /// Whether a name of the old version, the last of a path, is this one now: itself, or what it was renamed to.
    fn is_now(&self, path: &[&SmolStr], block: Option<&str>, is: &SmolStr) -> bool {
        let renames = self.renames();
        let renamed = renames.and_then(|renames| renames.path(path, block).pop());
        renamed.as_ref().or(path.last().copied()) == Some(is)
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
            (Some(was), Some(is))
                if !self.is_now(&[&was.text], self.pairs.block_name(self.at), &is.text) =>
            {
                found.push(format!(
                    "{subject} counts under {} and not under {}",
                    is.text, was.text
                ));
            }
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
            && let Some(words) = self.grown((&a, &b), Some(is.bound), true)
        {
            found.push(format!("{subject} is higher: {words}"));
        }
        found
            .into_iter()
            .map(|words| (ConcernKind::Loosened, words))
            .collect()
    }

    /// Both values in words, where the new one is larger (or smaller), in the unit in which the new one is
    /// written where it is one number.
    fn grown(
        &self,
        (old, new): (&Evaluated, &Evaluated),
        written: Option<ExpressionId>,
        larger: bool,
    ) -> Option<String> {
        let (a, b) = (old.as_quantity()?, new.as_quantity()?);
        if a.dimension() != b.dimension() || same_number(a.si(), b.si()) {
            return None;
        }
        if (b.si() > a.si()) != larger {
            return None;
        }
        let line = self.new?;
        let preferences = self.pairs.new.preferences(line.file());
        let unit = written.and_then(|id| written_unit(line, id)).or_else(|| {
            let per_cent = Unit::parse("%").ok();
            per_cent.filter(|_| a.dimension().is_ratio())
        });
        let showing = Showing {
            unit: unit.as_ref(),
            preferences: &preferences,
        };
        let (old, new) = both(old, new, showing, showing);
        Some(format!("{} before, {} now", old?, new?))
    }

    /// Whether two expressions say the same, the names of the old one as they are in the new version.
    fn says_the_same(
        &self,
        (old, was): (LineView<'_>, ExpressionId),
        (new, is): (LineView<'_>, ExpressionId),
    ) -> bool {
        let before = words(source(old, was));
        let before = match self.renames().filter(|renames| !renames.is_empty()) {
            Some(renames) => renames.apply(&before, self.pairs.block_name(self.at)),
            None => before,
        };
        before == words(source(new, is))
    }

    /// Whether an expression is the name of a number that was given anew.
    fn is_given_anew(&self, (line, id): (LineView<'_>, ExpressionId)) -> bool {
        let tree = line.tree();
        let expression = tree.expressions.get(tree.inside(id).0 as usize);
        let Some(ExpressionKind::Path(path)) = expression.map(|expression| &expression.kind) else {
            return false;
        };
        let names: Vec<SmolStr> = path.names.iter().map(|name| name.text.clone()).collect();
        let defined = self.pairs.new.definition(line.file(), &names);
        let Some(Definition::Line(place)) = defined.filter(|_| path.arguments.is_none()) else {
            return false;
        };
        let given = self
            .pairs
            .of_new(place.line)
            .and_then(|at| self.pairs.get(at));
        given.is_some_and(|given| given.subject == Subject::Given && given.hand == Hand::Changed)
    }

    fn expect(
        &self,
        (old, was): (LineView<'_>, &Expect),
        (new, is): (LineView<'_>, &Expect),
        hand: Hand,
    ) -> Vec<(ConcernKind, String)> {
        let mut found = Vec::new();
        let by_hand = hand == Hand::Changed;
        if let (Some(before), Some(after)) = (was.tolerance, is.tolerance)
            && (by_hand || self.is_given_anew((new, after)))
            && let values = (old.evaluated(before), new.evaluated(after))
            && let Some(words) = self.grown(values, Some(after), true)
        {
            found.push((
                ConcernKind::Loosened,
                format!("a tolerance is wider: {words}"),
            ));
        }
        let is_itself = |line, own: &Expect| {
            words(source(line, own.actual)) == words(source(line, own.expected))
        };
        if is_itself(new, is) && !is_itself(old, was) {
            let words = "the value to compare with is the result itself".to_owned();
            found.push((ConcernKind::Restated, words));
            return found;
        }
        let expected = (old.evaluated(was.expected), new.evaluated(is.expected));
        let is_same = same(expected.0, expected.1) && expected.0.value.is_some();
        if by_hand && !is_same && !self.says_the_same((old, was.expected), (new, is.expected)) {
            let words = "the value to compare with is another one";
            let moved = |larger| self.grown(expected, Some(is.expected), larger);
            let words = match [true, false].into_iter().find_map(moved) {
                Some(values) => format!("{words}: {values}"),
                None => words.to_owned(),
            };
            found.push((ConcernKind::Restated, words));
        }
        found
    }

    fn verify(
        &self,
        (old, was): (LineView<'_>, ExpressionId),
        (new, is): (LineView<'_>, ExpressionId),
        hand: Hand,
    ) -> Vec<(ConcernKind, String)> {
        let by_hand = hand == Hand::Changed;
        let restated = || {
            let words = "a check asks something else than before".to_owned();
            let said = by_hand.then_some((ConcernKind::Restated, words));
            said.into_iter().collect()
        };
        let (Some(a), Some(b)) = (sides(old, was), sides(new, is)) else {
            return restated();
        };
        let upper = |relation| matches!(relation, Relation::Less | Relation::LessOrEqual);
        let same_left = self.says_the_same((old, a.1), (new, b.1));
        let same_right = self.says_the_same((old, a.2), (new, b.2));
        if upper(a.0) != upper(b.0) || !(same_left || same_right) {
            return restated();
        }
        // The bound is the side that is written otherwise, or that is given anew; else the right one.
        let is_left = match by_hand {
            true => !same_left,
            false if self.is_given_anew((new, b.2)) => false,
            false if self.is_given_anew((new, b.1)) => true,
            false => return Vec::new(),
        };
        let (before, after) = if is_left { (a.1, b.1) } else { (a.2, b.2) };
        let (was, is) = (old.evaluated(before), new.evaluated(after));
        let mut found = Vec::new();
        if let Some(words) = self.grown((was, is), Some(after), upper(b.0) != is_left) {
            found.push((ConcernKind::Loosened, format!("a check asks less: {words}")));
        }
        let strict = |relation| matches!(relation, Relation::Less | Relation::Greater);
        if strict(a.0) && !strict(b.0) {
            let words = "a check's bound may be reached itself".to_owned();
            found.push((ConcernKind::Loosened, words));
        }
        let is_known = was.as_quantity().is_some() && is.as_quantity().is_some();
        if is_known { found } else { restated() }
    }

    fn combination(
        &self,
        (old, was): (LineView<'_>, ExpressionId),
        (new, is): (LineView<'_>, ExpressionId),
        hand: Hand,
    ) -> Vec<(ConcernKind, String)> {
        let name = self.pairs.get(self.at).and_then(|pair| pair.name.clone());
        let name = name.unwrap_or_default();
        let (before, after) = (
            factors(self.pairs.old, old.id()),
            factors(self.pairs.new, new.id()),
        );
        let (Some(before), Some(after)) = (before, after) else {
            if hand != Hand::Changed {
                return Vec::new();
            }
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

/// The text of an expression.
fn source(line: LineView<'_>, id: ExpressionId) -> &str {
    let expression = line.tree().expressions.get(id.0 as usize);
    expression.map_or("", |expression| expression.span.text(line.text()))
}

/// The unit of an expression that is one number.
fn written_unit(line: LineView<'_>, id: ExpressionId) -> Option<Unit> {
    let tree = line.tree();
    match &tree.expressions.get(tree.inside(id).0 as usize)?.kind {
        ExpressionKind::Literal(literal) => match literal.parts.as_slice() {
            [part] => Unit::parse(&part.unit.as_ref()?.text).ok(),
            _ => None,
        },
        _ => None,
    }
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

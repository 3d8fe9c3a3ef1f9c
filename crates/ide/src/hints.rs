//! Live values beside the lines.

use std::cell::OnceCell;
use std::ops::Range;
use std::sync::Arc;

use haunch_calc::blocks::{AnnotatedResult, Annotation, BlockMeaning, is_utilisation};
use haunch_calc::{Check, FileId, LineId, LineView, Meaning, Place, Snapshot};
use haunch_quantity::Preferences;
use haunch_syntax::{
    Adjustment, BlockKind, ExpressionKind, PartPlace, Path, Side, Statement, Tree, Value, ValueBody,
};
use haunch_text::{Position, Span};

use crate::hover::about_line;
use crate::mention::{Referent, mentions};
use crate::show;

/// A text that is shown in a line but is not in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// The logical line.
    pub line: LineId,
    /// Where, between two characters of a physical line.
    pub at: Position,
    /// The text, with the space that sets it off in front.
    pub label: String,
    /// Stretches of the text, in bytes, and the heading of the block that each comes from.
    pub sources: Vec<(Range<usize>, LineId)>,
    /// What it is.
    pub kind: HintKind,
}

/// What a hint shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HintKind {
    /// The value of a formula, beside it.
    Value,
    /// Results at the end of a line.
    Result,
    /// Something that holds because nothing else was said.
    Default,
}

/// Which hints are shown, and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HintOptions {
    /// Whether values beside their formulas are.
    pub values: bool,
    /// Whether results at the ends of lines are.
    pub results: bool,
    /// Whether that which holds because nothing else was said is.
    pub defaults: bool,
    /// How many digits, in place of what the file asks for.
    pub digits: Option<u8>,
}

impl Default for HintOptions {
    fn default() -> HintOptions {
        HintOptions {
            values: true,
            results: true,
            defaults: true,
            digits: None,
        }
    }
}

/// The hints of some physical lines. `stop` is polled; when it says so, what was found is returned.
pub fn hints(
    snapshot: &Snapshot,
    file: FileId,
    lines: Range<usize>,
    stop: &dyn Fn() -> bool,
) -> Vec<Hint> {
    hints_with(snapshot, file, lines, HintOptions::default(), stop)
}

/// The line that a value's hint comes from: that of the first name in its formula.
pub fn hint_source(snapshot: &Snapshot, hint: &Hint) -> Option<Place> {
    let line = snapshot.line(hint.line)?;
    let source =
        mentions(snapshot, line)
            .into_iter()
            .find_map(|mention| match mention.referent {
                Referent::Line(line) if line != hint.line => Some(line),
                Referent::Result { heading, .. } => Some(heading),
                _ => None,
            })?;
    Some(Place {
        line: source,
        span: snapshot.name_span(source),
    })
}

/// The working behind a hint, in Markdown.
pub fn hint_tooltip(snapshot: &Snapshot, hint: &Hint) -> Option<String> {
    let file = snapshot.file_of(hint.line)?;
    about_line(snapshot, hint.line, &snapshot.preferences(file))
}

/// The hints of some physical lines that are asked for.
pub fn hints_with(
    snapshot: &Snapshot,
    file: FileId,
    lines: Range<usize>,
    options: HintOptions,
    stop: &dyn Fn() -> bool,
) -> Vec<Hint> {
    let mut preferences = snapshot.preferences(file);
    if let Some(digits) = options.digits {
        preferences = Arc::new(Preferences::new(preferences.units().to_vec(), digits));
    }
    let mut hints = Vec::new();
    let mut showing = Showing::default();
    for line in snapshot.lines_in(file, lines) {
        if stop() {
            break;
        }
        showing.meet(snapshot, line);
        let mut found = Line {
            snapshot,
            line,
            preferences: &preferences,
            showing: &showing,
            hints: &mut hints,
        };
        if options.values {
            found.value();
        }
        if options.defaults {
            found.defaults();
        }
        if options.results {
            found.at_end();
        }
    }
    hints
}

/// How many spans a line of a beam gives.
fn spans(tree: &Tree) -> usize {
    match &tree.statement {
        Statement::Value(value) if value.name.text == "spans" => match &value.body {
            ValueBody::List(lengths) => lengths.len(),
            _ => 1,
        },
        _ => 0,
    }
}

/// Blocks whose results stand at a point of the section that they use; of the others the number is said.
const MOST_USING: usize = 6;

/// The blocks that may have something to show at a line: its own, and at a point those that use it. They
/// are the same from one line of a block to the next.
#[derive(Default)]
struct Showing {
    heading: Option<LineId>,
    own: Option<Shown>,
    using: OnceCell<Using>,
}

/// Blocks that use a section.
struct Using {
    first: Vec<Shown>,
    more: usize,
}

/// A block with what it has to show, worked out where it is looked at.
struct Shown {
    heading: LineId,
    block: Arc<BlockMeaning>,
    annotations: OnceCell<Vec<Annotation>>,
}

impl Shown {
    fn of(snapshot: &Snapshot, heading: LineId) -> Option<Shown> {
        Some(Shown {
            heading,
            block: snapshot.line(heading)?.block()?.clone(),
            annotations: OnceCell::new(),
        })
    }
}

impl Showing {
    fn meet(&mut self, snapshot: &Snapshot, line: LineView<'_>) {
        let heading = line.owner().unwrap_or(line.id());
        if self.heading != Some(heading) {
            *self = Showing {
                heading: Some(heading),
                own: Shown::of(snapshot, heading),
                using: OnceCell::new(),
            };
        }
    }

    fn using(&self, snapshot: &Snapshot) -> Option<&Using> {
        let heading = self.own.as_ref()?.heading;
        Some(self.using.get_or_init(|| {
            // A line of a block may use another block: a stretch of a beam its section.
            let head = |line| snapshot.line(line)?.owner().or(Some(line));
            let is_block = |line: &LineId| snapshot.line(*line).and_then(LineView::block).is_some();
            let users = snapshot.used_by(heading).into_iter().filter_map(head);
            let mut using: Vec<LineId> = users
                .filter(|line| *line != heading && is_block(line))
                .collect();
            using.dedup();
            let first = using.iter().take(MOST_USING);
            Using {
                first: first
                    .filter_map(|line| Shown::of(snapshot, *line))
                    .collect(),
                more: using.len().saturating_sub(MOST_USING),
            }
        }))
    }
}

struct Line<'a> {
    snapshot: &'a Snapshot,
    line: LineView<'a>,
    preferences: &'a Preferences,
    showing: &'a Showing,
    hints: &'a mut Vec<Hint>,
}

impl Line<'_> {
    fn push(&mut self, offset: u32, label: String, kind: HintKind) {
        if let Some(range) = self.line.range(Span::new(offset as usize, offset as usize)) {
            self.hints.push(Hint {
                line: self.line.id(),
                at: range.start,
                label,
                sources: Vec::new(),
                kind,
            });
        }
    }

    /// `= 41.21` between a formula and its brackets, `= 41.21 mm` at the end of one without.
    fn value(&mut self) {
        let (Statement::Value(statement), Some(named)) =
            (&self.line.tree().statement, self.line.value())
        else {
            return;
        };
        let Some(end) = end_of_formula(self.line, statement) else {
            return;
        };
        let beside_unit = named.unit.as_ref().filter(|_| named.unit_asked);
        let text = match beside_unit {
            Some(unit) => show::digits(&named.evaluated, unit, self.preferences),
            None => show::value(&named.evaluated, named.unit.as_ref(), self.preferences),
        };
        if let Some(text) = text {
            self.push(end, format!(" = {text}"), HintKind::Value);
        }
    }

    fn defaults(&mut self) {
        match &self.line.tree().statement {
            Statement::Part(part) => {
                if let PartPlace::Relative {
                    relation,
                    relation_span,
                    on,
                    adjustments,
                } = &part.place
                    && matches!(relation, Side::Above | Side::Below)
                    && !adjustments.iter().any(says_sideways)
                {
                    let end = on.span.end.max(relation_span.end);
                    let label = format!(" centred on {}", on.text);
                    self.push(end, label, HintKind::Default);
                }
            }
            Statement::Heading(heading) if heading.kind == BlockKind::Beam => {
                let supported = self
                    .snapshot
                    .lines_under(self.line.id())
                    .into_iter()
                    .any(|line| {
                        matches!(
                            line.tree().statement,
                            Statement::Support(_) | Statement::Broken { .. }
                        )
                    });
                if !supported {
                    let several = self
                        .snapshot
                        .lines_under(self.line.id())
                        .into_iter()
                        .any(|line| spans(line.tree()) > 1);
                    let label = if several {
                        " pin at start, rollers at the other ends of the spans"
                    } else {
                        " pin at start, roller at end"
                    };
                    self.push(self.end(), label.to_owned(), HintKind::Default);
                }
            }
            _ => {}
        }
    }

    /// Results at the end of the line: of the line itself, its block, and the blocks that use it.
    fn at_end(&mut self) {
        let mut texts = Vec::new();
        if let Statement::Answer(answer) = &self.line.tree().statement {
            let evaluated = self.line.evaluated(answer.value);
            let unit = match &self.line.tree().expression(answer.value).kind {
                ExpressionKind::Path(path) => show::unit_of(self.snapshot, self.line.file(), path),
                _ => None,
            };
            let shown = match (
                &self.line.tree().expression(answer.value).kind,
                evaluated.as_quantity(),
            ) {
                (ExpressionKind::Path(path), Some(used)) if is_utilisation(&dotted(path)) => {
                    Some(show::utilisation(used.si(), self.preferences))
                }
                _ => show::value(evaluated, unit.as_ref(), self.preferences),
            };
            texts.extend(shown.map(|shown| format!("= {shown}")));
        }
        match self.line.meaning() {
            Meaning::Check(check) => texts.extend(self.check(check)),
            Meaning::Value(named) => {
                texts.extend(named.capacity.as_ref().map(|capacity| governing(capacity)));
            }
            _ => {}
        }
        let annotated = self.annotated();
        let several = annotated.len() > 1;
        let mut sources = Vec::new();
        for (heading, block, results) in annotated {
            let shown: Vec<String> = results
                .iter()
                .filter_map(|result| self.result(result))
                .collect();
            if !shown.is_empty() {
                let shown = shown.join(", ");
                sources.push((texts.len(), heading));
                texts.push(match several {
                    true => format!("{}: {shown}", block.name),
                    false => shown,
                });
            }
        }
        if let Some(more) = self
            .using()
            .map(|using| using.more)
            .filter(|&more| more > 0)
        {
            texts.push(format!("{more} more use it"));
        }
        if !texts.is_empty() {
            self.push(
                self.end(),
                format!("  {}", texts.join("; ")),
                HintKind::Result,
            );
            if let Some(hint) = self.hints.last_mut() {
                hint.sources = sources_in(&texts, &sources);
            }
        }
    }

    /// The blocks that use the section that this line is a point of.
    fn using(&self) -> Option<&Using> {
        let is_point = matches!(self.line.tree().statement, Statement::Point(_));
        is_point
            .then(|| self.showing.using(self.snapshot))
            .flatten()
    }

    /// What blocks have to show at this line: its own, and others at a point of their section.
    fn annotated(&self) -> Vec<(LineId, &BlockMeaning, &[AnnotatedResult])> {
        let using = self.using().into_iter().flat_map(|using| &using.first);
        let blocks = self.showing.own.iter().chain(using);
        blocks
            .flat_map(|shown| {
                let annotations = shown
                    .annotations
                    .get_or_init(|| self.snapshot.annotations(shown.heading));
                let at_line = annotations.iter().filter(|a| a.line == self.line.id());
                at_line.map(|a| (shown.heading, shown.block.as_ref(), a.results.as_slice()))
            })
            .collect()
    }

    fn result(&self, result: &AnnotatedResult) -> Option<String> {
        let quantity = result.value.as_quantity();
        let shown = match quantity {
            Some(ratio) if result.is_utilisation => {
                Some(show::utilisation(ratio.si(), self.preferences))
            }
            // The word says the sense: 48.5 MPa compression, not -48.5 MPa compression.
            Some(stress) if matches!(result.word.as_str(), "tension" | "compression") => {
                let magnitude = haunch_calc::Evaluated::quantity(stress.absolute());
                show::value(&magnitude, None, self.preferences)
            }
            _ => show::value(&result.value, None, self.preferences),
        };
        let parts = [
            Some(result.label.to_string()),
            shown,
            Some(result.word.clone()),
        ];
        let text: Vec<String> = parts
            .into_iter()
            .flatten()
            .filter(|part| !part.is_empty())
            .collect();
        let says_something =
            quantity.is_some() || result.value.value.is_some() || !result.word.is_empty();
        (says_something && !text.is_empty()).then(|| text.join(" "))
    }

    fn check(&self, check: &Check) -> Option<String> {
        // By how many tolerances two values differ says little to whom it is not explained.
        if check.kind == "expect" {
            let agrees = check.holds?;
            return Some(if agrees { "agrees" } else { "differs" }.to_owned());
        }
        let used = check
            .utilisation
            .map(|ratio| show::utilisation(ratio, self.preferences));
        match (check.holds?, used) {
            (true, Some(used)) => Some(used),
            (true, None) => Some("holds".to_owned()),
            (false, Some(used)) => Some(format!("{used}, does not hold")),
            (false, None) => Some("does not hold".to_owned()),
        }
    }

    /// The end of what the line says, comment not included.
    fn end(&self) -> u32 {
        let text = self.line.text();
        let said = match self.line.tree().comment {
            Some(comment) => text.get(..comment.start as usize).unwrap_or(text),
            None => text,
        };
        said.trim_end().len() as u32
    }
}

fn dotted(path: &Path) -> String {
    let names = path.names.iter().map(|name| name.text.as_str());
    names.collect::<Vec<_>>().join(".")
}

fn says_sideways(adjustment: &Adjustment) -> bool {
    matches!(adjustment, Adjustment::CentredOn(_) | Adjustment::Flush(..))
}

/// Where a formula ends; none for a bare number, which is its own value.
fn end_of_formula(line: LineView<'_>, statement: &Value) -> Option<u32> {
    let tree = line.tree();
    match &statement.body {
        ValueBody::Expression(id) => {
            let expression = tree.expression(*id);
            let bare = match &expression.kind {
                ExpressionKind::Negate(inner) => &tree.expression(*inner).kind,
                kind => kind,
            };
            let is_bare = matches!(bare, ExpressionKind::Literal(_));
            (!is_bare).then_some(expression.span.end)
        }
        ValueBody::Search(search) => Some(search.span.end),
        ValueBody::Sizing(sizing) => Some(sizing.span.end),
        ValueBody::Text(_) | ValueBody::List(_) => None,
    }
}

/// Where the texts of blocks stand in a hint of texts.
fn sources_in(texts: &[String], blocks: &[(usize, LineId)]) -> Vec<(Range<usize>, LineId)> {
    let mut start = 2;
    let mut sources = Vec::new();
    for (index, text) in texts.iter().enumerate() {
        let end = start + text.len();
        let block = blocks.iter().find(|(at, _)| *at == index);
        sources.extend(block.map(|(_, heading)| (start..end, *heading)));
        start = end + 2;
    }
    sources
}

/// What limits a largest value: `governed by hoist.tension at A`.
pub(crate) fn governing(capacity: &haunch_calc::Capacity) -> String {
    let mut text = format!("governed by {}", capacity.governing);
    if let Some(place) = &capacity.place {
        text = format!("{text}, {place}");
    }
    if let Some(combination) = &capacity.combination {
        text = format!("{text}, under {combination}");
    }
    text
}

//! The lines of a file as they are compared: by what they say, not by how they are laid out.

use std::collections::BTreeMap;
use std::rc::Rc;

use haunch_calc::{FileId, LineId, LineView, Snapshot};
use haunch_syntax::{Name, Statement, Token, TokenKind, tokens};
use smol_str::SmolStr;

use crate::subject::Subject;

/// A line of one version.
#[derive(Debug, Clone)]
pub(crate) struct Line {
    pub(crate) id: LineId,
    /// The line that it stands under, by its index.
    pub(crate) heading: Option<usize>,
    /// What it says: its tokens without white space and comment, each spelled in one way.
    pub(crate) words: Rc<[SmolStr]>,
    pub(crate) subject: Subject,
    /// The name that it gives, with its index in the words.
    pub(crate) name: Option<(SmolStr, usize)>,
    /// The load case that it adds to, with its index in the words.
    pub(crate) case: Option<(SmolStr, usize)>,
    /// What makes it the same line with other contents: its name, or its kind and subject.
    pub(crate) key: Option<Rc<str>>,
    /// Whether it is a heading, and which block's.
    pub(crate) is_heading: bool,
}

impl Line {
    /// The name that it gives to something: its own, or that of a load case.
    pub(crate) fn gives(&self) -> Option<&(SmolStr, usize)> {
        self.name.as_ref().or(self.case.as_ref())
    }

    /// What it says as one text.
    pub(crate) fn text(&self) -> String {
        self.words.join(" ")
    }
}

/// Every line of a file that says something. Lines of another version that say the same, letter by letter,
/// are taken from `known`, which holds them with that version.
pub(crate) fn lines(snapshot: &Snapshot, file: FileId, known: (&Snapshot, &[Line])) -> Vec<Line> {
    let by_id: BTreeMap<LineId, &Line> = known.1.iter().map(|line| (line.id, line)).collect();
    let is_same = |view: LineView<'_>, line: &Line| {
        let other = known.0.line(line.id);
        other.is_some_and(|other| other.text() == view.text())
    };
    let mut lines: Vec<Line> = Vec::new();
    let mut heading: Option<(usize, LineId)> = None;
    let mut kind = None;
    for view in snapshot.lines(file) {
        let tree = view.tree();
        if tree.statement == Statement::Empty {
            continue;
        }
        let owner = view.owner();
        if owner.is_none() {
            heading = Some((lines.len(), view.id()));
            kind = match &tree.statement {
                Statement::Heading(own) => Some(own.kind),
                _ => None,
            };
        }
        let under = heading
            .filter(|(_, id)| owner == Some(*id))
            .map(|(at, _)| at);
        let subject = Subject::of(tree, kind.filter(|_| under.is_some()));
        let is_heading = matches!(tree.statement, Statement::Heading(_)) && owner.is_none();
        let own = by_id.get(&view.id()).filter(|own| is_same(view, own));
        lines.push(match own {
            Some(&own) => Line {
                heading: under,
                subject,
                is_heading,
                ..own.clone()
            },
            None => {
                let said = said(view.text());
                let words: Vec<SmolStr> = spelled(view.text(), &said);
                let placed = |name: Option<&Name>| placed(view, &said, &words, name?);
                let name = placed(tree.statement.given_name());
                let case = placed(match &tree.statement {
                    Statement::Load(load) => Some(&load.case),
                    _ => None,
                });
                Line {
                    id: view.id(),
                    heading: under,
                    subject,
                    key: key(view, &words, name.as_ref()).map(Rc::from),
                    name,
                    case,
                    words: words.into(),
                    is_heading,
                }
            }
        });
    }
    lines
}

/// The tokens of a line that mean something, in one spelling each.
pub(crate) fn words(text: &str) -> Vec<SmolStr> {
    spelled(text, &said(text))
}

/// The tokens of a line that mean something.
fn said(text: &str) -> Vec<Token> {
    let mut tokens = tokens(text);
    tokens.retain(|token| !token.kind.is_trivia());
    tokens
}

fn spelled(text: &str, said: &[Token]) -> Vec<SmolStr> {
    let spelled = |token: &Token| match token.kind {
        TokenKind::MiddleDot | TokenKind::Times => SmolStr::new_static("*"),
        TokenKind::Minus => SmolStr::new_static("-"),
        TokenKind::LessOrEqual => SmolStr::new_static("<="),
        TokenKind::GreaterOrEqual => SmolStr::new_static(">="),
        _ => SmolStr::new(token.span.text(text).trim()),
    };
    said.iter().map(spelled).collect()
}

/// A name of a line with its index in the words.
fn placed(
    line: LineView<'_>,
    said: &[Token],
    words: &[SmolStr],
    name: &Name,
) -> Option<(SmolStr, usize)> {
    // The name's place among the words: as many tokens that mean something stand before it.
    let before = said.partition_point(|token| token.span.end <= name.span.start);
    (words.get(before)?.as_str() == name.span.text(line.text()))
        .then(|| (name.text.clone(), before))
}

fn key(line: LineView<'_>, words: &[SmolStr], name: Option<&(SmolStr, usize)>) -> Option<String> {
    let tree = line.tree();
    let source = |id: haunch_syntax::ExpressionId| {
        tree.expressions
            .get(id.0 as usize)
            .map_or("", |expression| expression.span.text(line.text()))
    };
    let until = |stop: &[&str]| {
        let end = words.iter().position(|word| stop.contains(&word.as_str()));
        words
            .get(..end.unwrap_or(words.len()))
            .unwrap_or(words)
            .join(" ")
    };
    Some(match &tree.statement {
        Statement::Heading(heading) => match name {
            Some((name, _)) => format!("heading {:?} {name}", heading.kind),
            None => format!("heading {:?}", heading.kind),
        },
        Statement::ResultsIn(_) => "results".to_owned(),
        Statement::Use(own) => format!("use {}", own.path.text),
        Statement::Allow(_) | Statement::Note(_) | Statement::Empty => return None,
        Statement::Verify(_) => until(&["<", "<=", ">", ">="]),
        Statement::Expect(own) => format!("expect {}", source(own.actual)),
        Statement::Answer(own) => format!("answer {}", source(own.value)),
        Statement::Limit(_) => until(&["<", "<=", ">", ">="]),
        Statement::Load(own) => format!("load {}", own.case.text),
        _ => match name {
            Some((name, _)) => format!("name {name}"),
            None => return None,
        },
    })
}

/// Whether a line's value is a result, not an input: a formula or a search.
pub(crate) fn is_result(line: LineView<'_>) -> bool {
    let in_block = line.owner().is_some();
    let subject = Subject::of(line.tree(), None);
    !in_block && matches!(subject, Subject::Formula | Subject::Search)
}

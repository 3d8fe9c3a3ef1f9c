//! What each word of a line is, for colours that know the meaning.

use std::ops::Range as Lines;

use haunch_calc::blocks::fields;
use haunch_calc::{FileId, LineView, Meaning, Snapshot};
use haunch_syntax::{ExpressionKind, Name, Statement, TokenKind, Tree, ValueBody, tokens};
use haunch_text::{Range, Span};

use crate::mention::{Referent, kind_of, mentions};

/// A stretch of one physical line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Highlight {
    /// Where.
    pub range: Range,
    /// What it is.
    pub kind: HighlightKind,
    /// Whether a name is given here.
    pub is_definition: bool,
    /// Whether it belongs to the notation, or is a number given once and for all.
    pub is_fixed: bool,
}

/// What a stretch is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HighlightKind {
    /// `# …`
    Comment,
    /// Words in quotes, and notes.
    Text,
    /// A number.
    Number,
    /// A unit.
    Unit,
    /// A sign between operands.
    Operator,
    /// A word of the notation.
    Keyword,
    /// A value of the file.
    Value,
    /// An argument of a formula.
    Argument,
    /// A formula or built-in function.
    Function,
    /// A section, material, beam or set of forces.
    Block,
    /// A file, by its name here.
    File,
    /// A result or field of a block.
    Member,
    /// A part, point, support, combination or load case.
    Piece,
}

/// The highlights of some physical lines, in order. `stop` is polled; when it says so, what was found is
/// returned.
pub fn highlighting(
    snapshot: &Snapshot,
    file: FileId,
    lines: Lines<usize>,
    stop: &dyn Fn() -> bool,
) -> Vec<Highlight> {
    let mut found = Vec::new();
    for line in snapshot.lines_in(file, lines) {
        if stop() {
            break;
        }
        of_line(snapshot, line, &mut found);
    }
    found
}

/// A stretch of the line with its kind.
type Said = (Span, HighlightKind, bool, bool);

fn of_line(snapshot: &Snapshot, line: LineView<'_>, found: &mut Vec<Highlight>) {
    let text = line.text();
    let tree = line.tree();
    let mut known: Vec<Said> = names(snapshot, line);
    known.extend(
        tree.units()
            .map(|unit| (unit.span, HighlightKind::Unit, false, true)),
    );
    known.sort_by_key(|(span, ..)| *span);
    // In a line that could not be read, a word is anything.
    let is_broken = matches!(tree.statement, Statement::Broken { .. });
    let mut next = known.into_iter().peekable();
    let mut covered = 0;
    for token in tokens(text) {
        if token.span.start < covered {
            continue;
        }
        while next
            .peek()
            .is_some_and(|(span, ..)| span.start < token.span.start)
        {
            next.next();
        }
        let named = next.next_if(|(span, ..)| span.start == token.span.start);
        let said = match named {
            Some(said) => Some(said),
            None => of_token(token.kind, is_broken).map(|kind| (token.span, kind, false, true)),
        };
        if let Some((span, kind, is_definition, is_fixed)) = said {
            covered = span.end;
            found.extend(line.range(span).map(|range| Highlight {
                range,
                kind,
                is_definition,
                is_fixed,
            }));
        }
    }
}

fn of_token(kind: TokenKind, is_broken: bool) -> Option<HighlightKind> {
    use TokenKind::{
        Caret, Comment, Equals, Greater, GreaterOrEqual, Less, LessOrEqual, MiddleDot, Minus,
        NoteText, Number, Plus, Slash, Star, Superscript, Text, Times, Word,
    };
    match kind {
        Comment => Some(HighlightKind::Comment),
        NoteText | Text => Some(HighlightKind::Text),
        Number | Superscript => Some(HighlightKind::Number),
        Plus | Minus | Star | MiddleDot | Times | Slash | Caret | Less | LessOrEqual | Greater
        | GreaterOrEqual | Equals => Some(HighlightKind::Operator),
        Word if !is_broken => Some(HighlightKind::Keyword),
        _ => None,
    }
}

fn names(snapshot: &Snapshot, line: LineView<'_>) -> Vec<Said> {
    let mut known = Vec::new();
    for mention in mentions(snapshot, line) {
        if mention.span.text(line.text()).starts_with('"') {
            continue;
        }
        let (kind, is_fixed) = match &mention.referent {
            Referent::Line(id) => match snapshot.line(*id) {
                Some(target) => of_target(snapshot, target),
                None => (HighlightKind::Value, false),
            },
            Referent::Result { .. } => (HighlightKind::Member, true),
            Referent::Case { .. } => (HighlightKind::Piece, false),
            Referent::Argument { .. } => (HighlightKind::Argument, false),
            Referent::Kept => (of_kept(line.tree(), mention.span), true),
            Referent::Unknown => (HighlightKind::Value, false),
        };
        known.push((mention.span, kind, mention.is_definition, is_fixed));
    }
    known.extend(words(line.tree()).map(|name| (name.span, HighlightKind::Text, false, false)));
    known
}

fn of_target(snapshot: &Snapshot, target: LineView<'_>) -> (HighlightKind, bool) {
    match &target.tree().statement {
        Statement::Value(value) => {
            let is_field = target
                .owner()
                .and_then(|heading| kind_of(snapshot, heading))
                .is_some_and(|kind| fields::find(kind, &value.name.text).is_some());
            if is_field {
                return (HighlightKind::Member, true);
            }
            let is_number = match &value.body {
                ValueBody::Expression(id) => {
                    matches!(
                        target.tree().expression(*id).kind,
                        ExpressionKind::Literal(_)
                    )
                }
                _ => false,
            };
            (HighlightKind::Value, is_number)
        }
        Statement::Formula(_) => (HighlightKind::Function, false),
        Statement::Heading(_) => (HighlightKind::Block, false),
        Statement::Use(_) => (HighlightKind::File, false),
        Statement::Broken { .. } => match target.meaning() {
            Meaning::Block(_) => (HighlightKind::Block, false),
            _ => (HighlightKind::Value, false),
        },
        _ => (HighlightKind::Piece, false),
    }
}

/// A function where it is called, otherwise a constant.
fn of_kept(tree: &Tree, span: Span) -> HighlightKind {
    let is_call = tree
        .paths()
        .any(|path| path.arguments.is_some() && path.names.iter().any(|name| name.span == span));
    match is_call {
        true => HighlightKind::Function,
        false => HighlightKind::Value,
    }
}

/// Words of the line that stand for themselves.
fn words(tree: &Tree) -> impl Iterator<Item = &Name> {
    let code = match &tree.statement {
        Statement::Allow(allow) => Some(&allow.code),
        _ => None,
    };
    code.into_iter()
}

//! The arguments of the call round a place.

use haunch_calc::{BUILT_IN, FileId, LineView, Snapshot};
use haunch_syntax::{BlockKind, Statement, TokenKind, tokens};
use haunch_text::{Position, Span};
use smol_str::SmolStr;

use crate::mention::{Referent, kind_of, referent};

/// How something is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// The whole: `stress(point, x)`.
    pub label: String,
    /// The arguments in it.
    pub arguments: Vec<Span>,
    /// Which argument the place is in.
    pub active: u32,
    /// What it gives, in words; may be empty.
    pub meaning: String,
}

/// The call that a position is inside of, by the words before it: the line need not be whole.
pub fn signature(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Signature> {
    let (id, offset) = snapshot.locate(file, position)?;
    let text = snapshot.line(id)?.text();
    let before = text.get(..offset as usize)?;
    let (names, active) = call(before)?;
    let (label, meaning) = called(snapshot, file, &names)?;
    let arguments = arguments(&label);
    (!arguments.is_empty()).then_some(Signature {
        label,
        arguments,
        active,
        meaning,
    })
}

/// The dotted name before the open parenthesis, and the number of commas since.
fn call(before: &str) -> Option<(Vec<SmolStr>, u32)> {
    let said: Vec<_> = tokens(before)
        .into_iter()
        .filter(|token| !token.kind.is_trivia())
        .collect();
    if let Some(last) = tokens(before).last()
        && matches!(
            last.kind,
            TokenKind::Comment | TokenKind::NoteText | TokenKind::UnclosedText
        )
    {
        return None;
    }
    let mut depth = 0_u32;
    let mut commas = 0;
    for (at, token) in said.iter().enumerate().rev() {
        match token.kind {
            TokenKind::CloseParenthesis => depth += 1,
            TokenKind::OpenParenthesis if depth > 0 => depth -= 1,
            TokenKind::OpenParenthesis => {
                let head = &said[..at];
                let [.., name] = head else { return None };
                if name.kind != TokenKind::Word || name.span.end != token.span.start {
                    // A group: the call may lie further out.
                    commas = 0;
                    continue;
                }
                let mut names = vec![SmolStr::new(name.span.text(before))];
                let mut rest = &head[..head.len() - 1];
                while let [more @ .., name, dot] = rest
                    && dot.kind == TokenKind::Dot
                    && name.kind == TokenKind::Word
                {
                    names.insert(0, SmolStr::new(name.span.text(before)));
                    rest = more;
                }
                return Some((names, commas));
            }
            TokenKind::Comma if depth == 0 => commas += 1,
            _ => {}
        }
    }
    None
}

/// The label and the meaning of what a dotted name calls.
fn called(snapshot: &Snapshot, file: FileId, names: &[SmolStr]) -> Option<(String, String)> {
    if let [name] = names
        && let Some(function) = BUILT_IN.iter().find(|function| function.name == name)
    {
        return Some((function.call.to_owned(), function.meaning.to_owned()));
    }
    if let Referent::Line(line) = referent(snapshot, file, names) {
        return formula(snapshot.line(line)?);
    }
    let (function, block) = names.split_last()?;
    let Referent::Line(line) = referent(snapshot, file, block) else {
        return None;
    };
    // The functions of a combination are those of its beam.
    let heading = snapshot.line(line)?.owner().unwrap_or(line);
    let known = snapshot.line(heading)?.block()?.function_names();
    if !known.contains(function) {
        return None;
    }
    let (arguments, meaning) = of_block(kind_of(snapshot, heading)?, function);
    let dotted = names.join(".");
    Some((format!("{dotted}({arguments})"), meaning.to_owned()))
}

fn formula(line: LineView<'_>) -> Option<(String, String)> {
    let Statement::Formula(formula) = &line.tree().statement else {
        return None;
    };
    let names: Vec<_> = formula
        .parameters
        .iter()
        .map(|own| own.text.as_str())
        .collect();
    let label = format!("{}({})", formula.name.text, names.join(", "));
    let comment = line.tree().comment.map(|span| span.text(line.text()));
    let meaning = comment.map_or("", |comment| comment.trim_start_matches('#').trim());
    Some((label, meaning.to_owned()))
}

/// The arguments of a block's function, and what it gives.
fn of_block(kind: BlockKind, function: &str) -> (&'static str, &'static str) {
    match (kind, function) {
        (BlockKind::Beam, "stress") => (
            "point, x",
            "stress at a point of the section; without x the one of largest magnitude along the beam",
        ),
        (BlockKind::Beam, "M") => ("x", "bending moment at x from the start, sagging positive"),
        (BlockKind::Beam, "V") => ("x", "shear force at x from the start"),
        (BlockKind::Beam, "slope") => ("x", "slope at x from the start"),
        (BlockKind::Beam, "deflection") => ("x", "deflection at x from the start, down positive"),
        (BlockKind::Beam, _) => ("x", "at x from the start"),
        (BlockKind::Forces, "shear_flow") => ("part", "shear flow at the joint of a part"),
        (BlockKind::Forces, "shear_flow_at") => ("y", "shear flow at a level of the section"),
        (BlockKind::Forces, "shear_stress") => ("y", "shear stress at a level of the section"),
        (BlockKind::Forces, "stress") => ("point", "stress at a point of the section"),
        (BlockKind::Forces, _) => ("point", "at a point of the section"),
        (BlockKind::Section, "first_moment") => ("y", "first moment of the area beyond a level"),
        (BlockKind::Section, _) => ("y", "at a level of the section"),
        (BlockKind::Sheet | BlockKind::Material, _) => ("", ""),
    }
}

/// Where the arguments stand between the parentheses of a label.
fn arguments(label: &str) -> Vec<Span> {
    let Some(open) = label.find('(') else {
        return Vec::new();
    };
    let close = label.rfind(')').unwrap_or(label.len());
    let mut start = open + 1;
    let inside = label.get(start..close).unwrap_or("");
    let mut spans = Vec::new();
    for argument in inside.split(',') {
        let lead = argument.len() - argument.trim_start().len();
        let trimmed = argument.trim();
        if !trimmed.is_empty() {
            spans.push(Span::new(start + lead, start + lead + trimmed.len()));
        }
        start += argument.len() + 1;
    }
    spans
}

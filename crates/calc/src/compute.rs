//! Computes one line from its tree and from what the lines that it uses came to.

use std::sync::Arc;

use haunch_quantity::Preferences;
use haunch_syntax::{BlockKind, Statement};
use haunch_text::Span;

use crate::blocks::context::BlockContext;
use crate::blocks::whole_line;
use crate::expression::{Context, Locals};
use crate::finding::{Finding, Place, Severity};
use crate::findings;
use crate::graph::Scope;
use crate::inference::Inference;
use crate::line::LineId;
use crate::lints;
use crate::outcome::{Meaning, Outcome};
use crate::state::{Cell, State};
use crate::statements;
use crate::value::Evaluated;

/// Computes a line.
pub(crate) fn compute(state: &State, line: LineId) -> Outcome {
    let Some(cell) = state.cell(line) else {
        return (*Outcome::unknown()).clone();
    };
    let preferences = state
        .file(cell.file)
        .map(|file| file.preferences.clone())
        .unwrap_or_default();
    let mut outcome = compute_statement(state, line, cell, &preferences);
    let mut findings = findings::reading(line, &cell.tree);
    if findings.is_empty() {
        findings.extend(misplaced(state, line, cell));
    }
    if cell.tree.errors.is_empty() {
        findings.extend(lints::of_line(lints::Line {
            id: line,
            tree: &cell.tree,
            text: &cell.text,
            evaluated: &outcome.expressions,
        }));
    }
    findings.append(&mut outcome.findings);
    findings.extend(defined_twice(state, line, cell));
    findings.extend(kept_name(line, cell));
    outcome.findings = findings;
    outcome
}

fn compute_statement(
    state: &State,
    line: LineId,
    cell: &Cell,
    preferences: &Preferences,
) -> Outcome {
    if let Some(context) = BlockContext::of(state, line, preferences) {
        let mut outcome = crate::blocks::compute(context.heading.kind, &context);
        let mut findings = findings::reference::of_heading(&context);
        findings.append(&mut outcome.findings);
        return Outcome {
            findings,
            expressions: Arc::default(),
            meaning: Meaning::Block(Arc::new(outcome.meaning)),
        };
    }
    let mut locals = Locals::default();
    if let Statement::Formula(formula) = &cell.tree.statement {
        for parameter in &formula.parameters {
            locals.insert(parameter.text.clone(), Evaluated::UNKNOWN);
        }
    }
    let block = state.block_of(cell).map(|(_, kind)| kind);
    statements::expected::add_locals(&cell.tree, block, state, cell, &mut locals);
    let mut context = Context::new(state, line, cell, preferences, &locals);
    statements::expected::expect(&mut context, block);
    context.read();
    statements::expected::sizes(&mut context);
    let is_needed =
        context.has_undecided() || crate::inference::is_needed(cell, &context.evaluated, &locals);
    let inference =
        is_needed.then(|| crate::inference::infer(state, line, cell, &context.evaluated, block));
    let told = |part| inference.as_ref()?.dimension(part);
    if let Some(inference) = &inference
        && context.is_decided_by(told)
    {
        inference.fill_in(&mut context.evaluated);
    }
    context.decide(told);
    context.report_failures(&crate::roots::of(&cell.tree.statement));
    statements::expected::check(&mut context, block);
    let mut meaning = match &cell.tree.statement {
        Statement::Value(value) => statements::value::value(&mut context, value, block),
        Statement::Formula(formula) => statements::value::formula(&mut context, formula),
        Statement::Verify(id) => statements::check::verify(&mut context, *id),
        Statement::Expect(expect) => statements::check::expect(&mut context, expect),
        Statement::Answer(_) => Meaning::Nothing,
        Statement::Use(_) => statements::settings::use_file(&mut context),
        Statement::ResultsIn(results) => statements::settings::results_in(&mut context, results),
        Statement::Allow(allow) => statements::settings::allow(&mut context, allow),
        _ => Meaning::Nothing,
    };
    let mut reported = context.findings;
    if let Some(inference) = inference {
        tell(line, cell, &inference, &mut reported);
    }
    let expressions: Arc<[Evaluated]> = context.evaluated.into();
    if block.is_some() && is_line_of_block(&cell.tree.statement) {
        meaning = Meaning::Line(expressions.clone());
    }
    Outcome {
        findings: reported,
        expressions,
        meaning,
    }
}

/// Tells what the unknown names of a line have to be, and of names that nothing fits, unless another
/// mistake on the line may be why.
fn tell(line: LineId, cell: &Cell, inference: &Inference, reported: &mut Vec<Finding>) {
    for finding in reported.iter_mut() {
        if is_of_a_name(finding)
            && let Some(inferred) = inference.at(finding.place.span)
        {
            findings::unknown_name::teach(finding, inferred);
        }
    }
    let mut errors = reported
        .iter()
        .filter(|own| own.severity == Severity::Error);
    if let Some(contradiction) = &inference.contradiction
        && errors.all(is_of_a_name)
    {
        let finding = findings::unit_mismatch::contradiction(line, &cell.text, contradiction);
        reported.push(finding);
    }
}

/// Whether a finding is of a name that stands for nothing.
fn is_of_a_name(finding: &Finding) -> bool {
    [
        &findings::unknown_name::CODE,
        &findings::unknown_member::CODE,
    ]
    .contains(&finding.code)
}

/// Whether a statement says something of its block, which the block takes from the values of its
/// expressions.
fn is_line_of_block(statement: &Statement) -> bool {
    !matches!(
        statement,
        Statement::Value(_)
            | Statement::Formula(_)
            | Statement::Verify(_)
            | Statement::Expect(_)
            | Statement::Answer(_)
            | Statement::Use(_)
            | Statement::ResultsIn(_)
            | Statement::Allow(_)
    )
}

/// What a line of a ring comes to: nothing, with the ring spelled out.
pub(crate) fn ring(state: &State, line: LineId, component: &[LineId]) -> Outcome {
    let mut outcome = Outcome {
        findings: Vec::new(),
        expressions: Arc::default(),
        meaning: Meaning::Nothing,
    };
    let Some(cell) = state.cell(line) else {
        return outcome;
    };
    outcome.findings = findings::reading(line, &cell.tree);
    if let Some(finding) = findings::ring::finding(state, line, cell, component) {
        outcome.findings.push(finding);
    }
    outcome.expressions = vec![Evaluated::UNKNOWN; cell.tree.expressions.len()].into();
    if let Some(kind) = cell.block_kind() {
        let name = state.heading_name(line).unwrap_or_default();
        let mut block = crate::blocks::BlockMeaning::without_results(kind, name);
        let preferences = Preferences::default();
        if let Some(context) = BlockContext::of(state, line, &preferences)
            .filter(|_| matches!(kind, BlockKind::Beam | BlockKind::Forces))
        {
            block.checks = context.checks_in_ring(component);
        }
        outcome.meaning = Meaning::Block(Arc::new(block));
    }
    outcome
}

/// The blocks in which a statement belongs; none where it stands by itself.
fn belongs_in(statement: &Statement) -> Option<&'static [BlockKind]> {
    match statement {
        Statement::Part(_) | Statement::Point(_) => Some(&[BlockKind::Section]),
        Statement::Support(_)
        | Statement::Hinge(_)
        | Statement::SectionStretch(_)
        | Statement::Load(_)
        | Statement::Combination(_) => Some(&[BlockKind::Beam]),
        Statement::Limit(_) => Some(&[BlockKind::Material, BlockKind::Forces, BlockKind::Beam]),
        _ => None,
    }
}

/// A line that stands where it does not belong.
fn misplaced(state: &State, line: LineId, cell: &Cell) -> Option<Finding> {
    let statement = &cell.tree.statement;
    let place = Place {
        line,
        span: whole_line(&cell.text),
    };
    if matches!(statement, Statement::Empty | Statement::Broken { .. }) {
        return None;
    }
    let blocks = belongs_in(statement);
    if !cell.tree.indented {
        let word = first_word(&cell.text);
        let above = state.block_of(cell);
        return blocks.map(|blocks| match above {
            Some((heading, kind)) if blocks.contains(&kind) => {
                let name = state.heading_name(heading).unwrap_or_default();
                findings::misplaced_line::needs_indent(place, word, kind, &name)
            }
            _ => findings::misplaced_line::needs_heading(place, word, blocks),
        });
    }
    let owner = cell.owner.and_then(|owner| state.cell(owner));
    let Some(owner) = owner else {
        return (!matches!(statement, Statement::Note(_) | Statement::Allow(_)))
            .then(|| findings::misplaced_line::no_heading(place, &cell.text));
    };
    if owner.is_broken_owner() {
        return None;
    }
    let Some(kind) = owner.block_kind() else {
        return Some(findings::misplaced_line::no_heading(place, &cell.text));
    };
    match (statement, blocks) {
        (_, Some(blocks)) if !blocks.contains(&kind) => Some(
            findings::misplaced_line::wrong_block(place, first_word(&cell.text), blocks, kind),
        ),
        (Statement::Value(_), _) | (_, Some(_)) => None,
        (Statement::Note(_) | Statement::Allow(_), _) => None,
        (Statement::Heading(_), _) => Some(findings::misplaced_line::indented_heading(
            place, &cell.text,
        )),
        _ => Some(findings::misplaced_line::belongs_outside(
            place,
            first_word(&cell.text),
            &cell.text,
        )),
    }
}

fn first_word(text: &str) -> &str {
    text.split_whitespace().next().unwrap_or("")
}

/// A name with more than one definition: a finding at each.
fn defined_twice(state: &State, line: LineId, cell: &Cell) -> Option<Finding> {
    let key = cell.defines.as_ref()?;
    let places = state.graph.several(key)?.iter().copied();
    let others: Vec<Place> = places.filter(|place| place.line != line).collect();
    let place = Place {
        line,
        span: defined_span(state, line),
    };
    let (scope, name) = key;
    let in_block = matches!(scope, Scope::Block(_));
    Some(findings::defined_twice::finding(
        place, name, in_block, &others,
    ))
}

/// Where a line gives its name.
pub(crate) fn defined_span(state: &State, line: LineId) -> Span {
    let Some(cell) = state.cell(line) else {
        return Span::default();
    };
    name_span(&cell.tree.statement).unwrap_or_else(|| whole_line(&cell.text))
}

/// Where a statement gives its name.
pub(crate) fn name_span(statement: &Statement) -> Option<Span> {
    let name = match statement {
        Statement::Use(line) => Some(line.alias.as_ref().unwrap_or(&line.path)),
        statement => statement.given_name(),
    };
    name.map(|name| name.span)
}

/// A file's name that the notation keeps for itself.
fn kept_name(line: LineId, cell: &Cell) -> Option<Finding> {
    let (Scope::File(_), name) = cell.defines.as_ref()? else {
        return None;
    };
    let span = name_span(&cell.tree.statement)?;
    crate::expression::is_kept(name)
        .then(|| findings::kept_name::finding(Place { line, span }, name))
}

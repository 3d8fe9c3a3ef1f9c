//! What a name stands for, with its working.

use haunch_calc::blocks::{BlockMeaning, Model, SectionModel};
use haunch_calc::{
    Definition, Evaluated, FileId, LineId, LineView, Meaning, NamedValue, Place, Snapshot,
};
use haunch_quantity::{Preferences, Unit};
use haunch_syntax::{LoadPlace, Statement, UnitText, ValueBody};
use haunch_text::{Position, Range, Span};
use smol_str::SmolStr;

use crate::beam_call;
use crate::cursor::{self, Thing};
use crate::explain;
use crate::hints::governing;
use crate::needed;
use crate::parts_table;
use crate::section_working;
use crate::show;
use crate::wheels;
use crate::working;

/// Most results that are listed of one block.
const MOST_RESULTS: usize = 40;

/// What is known of the thing at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hover {
    /// The thing.
    pub range: Range,
    /// The text, in Markdown.
    pub markdown: String,
}

/// What stands at a position, and for a value its working: the formula, the formula with numbers and
/// units put in, and the result. What the findings there mean comes after it.
pub fn hover(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Hover> {
    let thing =
        about_thing(snapshot, file, position).or_else(|| about_wheels(snapshot, file, position));
    let Some((range, meaning)) = explain::at(snapshot, file, position) else {
        return thing;
    };
    Some(match thing {
        Some(hover) => Hover {
            markdown: format!("{}\n\n{meaning}", hover.markdown),
            ..hover
        },
        None => Hover {
            range,
            markdown: meaning,
        },
    })
}

/// At the case or the word `moving` of wheels: where they stand worst.
fn about_wheels(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Hover> {
    let (id, offset) = snapshot.locate(file, position)?;
    let line = snapshot.line(id)?;
    let Statement::Load(load) = &line.tree().statement else {
        return None;
    };
    let LoadPlace::Moving { span: moving, .. } = &load.place else {
        return None;
    };
    let mut spans = [load.case.span, *moving].into_iter();
    let span = spans.find(|span| span.touches(offset))?;
    let block = snapshot.line(line.owner()?)?.block()?;
    let worst = wheels::worst(block, id, &snapshot.preferences(file))?;
    let range = snapshot.range(Place { line: id, span })?;
    let markdown = format!("{}\n\n{worst}", code(&said(line)));
    Some(Hover { range, markdown })
}

fn about_thing(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Hover> {
    let (line, thing) = cursor::at(snapshot, file, position)?;
    let preferences = &*snapshot.preferences(file);
    let (span, markdown) = match thing {
        Thing::Unit(unit) => (unit.span, about_unit(unit)?),
        Thing::BuiltIn(function, span) => {
            (span, format!("`{}`\n\n{}", function.call, function.meaning))
        }
        Thing::Names(names, span) => {
            if let Some(argument) = argument(snapshot, line, &names) {
                let range = snapshot.range(Place {
                    line: line.id(),
                    span,
                })?;
                let markdown = argument;
                return Some(Hover { range, markdown });
            }
            let Some(definition) = snapshot.definition(file, &names) else {
                return undefined(snapshot, line, span);
            };
            let mut markdown = match definition {
                Definition::Line(place) => about_line(snapshot, place.line, preferences)?,
                Definition::Result {
                    heading, member, ..
                } => {
                    let call = (heading, member.as_str());
                    let result = beam_call::about(snapshot, line, span, call, preferences)
                        .or_else(|| about_result(snapshot, heading, &member, preferences));
                    match result {
                        Some(result) => result,
                        None => return undefined(snapshot, line, span),
                    }
                }
            };
            if let Some(words) = needed::of_use(snapshot, line, &names, span) {
                markdown += &format!("\n\n{}", escaped(&words));
            }
            (span, markdown)
        }
        Thing::OfBlock(name) => {
            let defining = cursor::line_of_block(snapshot, line, &name.text)?;
            (name.span, about_line(snapshot, defining, preferences)?)
        }
        Thing::Own(span) => (span, about_line(snapshot, line.id(), preferences)?),
    };
    let range = snapshot.range(Place {
        line: line.id(),
        span,
    })?;
    Some(Hover { range, markdown })
}

/// What is asked of the argument of a formula, in its own line.
fn argument(snapshot: &Snapshot, line: LineView<'_>, names: &[SmolStr]) -> Option<String> {
    let Statement::Formula(formula) = &line.tree().statement else {
        return None;
    };
    let [name] = names else {
        return None;
    };
    formula.parameters.iter().find(|own| own.text == *name)?;
    let inferred = snapshot.inferred(line.id());
    let own = inferred.iter().find(|own| own.name == *name)?;
    let asked = needed::of_argument(own);
    Some(format!("{asked}\n\nargument of `{}`", formula.name.text))
}

/// What has to be said of a name without a definition, and of a result that a block does not have: what it
/// has to be, where its use tells.
fn undefined(snapshot: &Snapshot, line: LineView<'_>, span: Span) -> Option<Hover> {
    let finding = line.outcome().findings.iter().find(|finding| {
        let own = finding.place.span;
        ["unknown-name", "unknown-result"].contains(&finding.code.name)
            && span.start <= own.start
            && own.end <= span.end
    })?;
    Some(Hover {
        range: snapshot.range(finding.place)?,
        markdown: escaped(&finding.message),
    })
}

fn about_unit(written: &UnitText) -> Option<String> {
    let unit = Unit::parse(&written.text).ok()?;
    let mut text = format!(
        "`{}`: {}",
        written.text,
        unit.dimension().describe_with_article()
    );
    for power in unit.powers() {
        text += &format!("\n\n`{}`: {}", power.word.spelling, power.word.description);
    }
    Some(text)
}

/// What a line says, and for a value its working.
pub(crate) fn about_line(
    snapshot: &Snapshot,
    line: LineId,
    preferences: &Preferences,
) -> Option<String> {
    let line = snapshot.line(line)?;
    let mut text = match (&line.tree().statement, line.meaning()) {
        (Statement::Value(value), Meaning::Value(named)) => about_value(
            snapshot,
            line,
            &value.name.text,
            &value.body,
            named,
            preferences,
        ),
        (Statement::Heading(_), Meaning::Block(block)) => {
            about_block(snapshot, line.id(), block, preferences)
        }
        (Statement::Part(part), _) => {
            let block = snapshot.line(line.owner()?)?;
            let shown = block
                .block()
                .map(|block| results(block, &format!("{}.", part.name.text), preferences));
            [Some(code(&said(line))), shown]
                .into_iter()
                .flatten()
                .collect::<Vec<_>>()
                .join("\n\n")
        }
        (Statement::Formula(_), _) => {
            let asked = needed::of_arguments(snapshot, line);
            let parts = [Some(code(&said(line))), asked];
            parts.into_iter().flatten().collect::<Vec<_>>().join("\n\n")
        }
        _ => code(&said(line)),
    };
    if let Some(words) = needed::by_uses(snapshot, line) {
        text += &format!("\n\n{}", escaped(&words));
    }
    if let Some(comment) = line.tree().comment {
        let words = comment.text(line.text()).trim_start_matches('#').trim();
        if !words.is_empty() {
            text += &format!("\n\n{}", escaped(words));
        }
    }
    Some(text)
}

fn about_value(
    snapshot: &Snapshot,
    line: LineView<'_>,
    name: &str,
    body: &ValueBody,
    named: &NamedValue,
    preferences: &Preferences,
) -> String {
    let shown = show::value(&named.evaluated, named.unit.as_ref(), preferences);
    let mut steps: Vec<String> = Vec::new();
    match body {
        ValueBody::Expression(id) => {
            let written = working::as_written(line, line.tree().expression(*id).span);
            let put_in = working::with_values(snapshot, line, *id, preferences);
            let bare = |text: &str| {
                text.chars()
                    .filter(|c| !c.is_whitespace())
                    .collect::<String>()
            };
            let differs = bare(&put_in) != bare(&written);
            steps.push(written);
            if differs && shown.is_some() {
                steps.push(put_in);
            }
        }
        ValueBody::Search(search) => steps.push(working::as_written(line, search.span)),
        ValueBody::Sizing(sizing) => steps.push(working::as_written(line, sizing.span)),
        ValueBody::List(_) => {}
        ValueBody::Text(words) => return code(&format!("{name} = \"{}\"", words.text)),
    }
    let plain = named
        .evaluated
        .as_quantity()
        .map(|quantity| show::plain(quantity, named.unit.as_ref(), preferences));
    if let Some(shown) = shown
        && steps.last() != Some(&shown)
        && (steps.last() != plain.as_ref() || steps.len() > 1)
    {
        steps.push(shown);
    }
    let indent = " ".repeat(name.chars().count());
    let lines: Vec<String> = steps
        .iter()
        .enumerate()
        .map(|(number, step)| {
            let left = if number == 0 { name } else { &indent };
            format!("{left} = {step}")
        })
        .collect();
    let mut text = code(&lines.join("\n"));
    if let Some(kind) = kind(&named.evaluated) {
        text += &format!("\n\n{kind}");
    }
    if let Some(formula) = formula(line) {
        text += &format!("\n\n{formula}");
    }
    if named.evaluated.value.is_none() {
        text += "\n\nIt has no value: see the findings.";
    }
    if let Some(capacity) = &named.capacity {
        text += &format!("\n\n{}", governing(capacity));
    }
    text
}

/// The standard results that the formula of a line is, with their sources.
fn formula(line: LineView<'_>) -> Option<String> {
    let entries = haunch_calc::catalogue::named(line);
    let names: Vec<&str> = entries.iter().map(|entry| entry.name).collect();
    let mut sources: Vec<&str> = entries.iter().map(|entry| entry.source).collect();
    sources.dedup();
    (!names.is_empty())
        .then(|| format!("formula: {} ({})", names.join("; or "), sources.join("; ")))
}

fn about_block(
    snapshot: &Snapshot,
    heading: LineId,
    block: &BlockMeaning,
    preferences: &Preferences,
) -> String {
    let mut text = snapshot
        .line(heading)
        .map(|line| code(&said(line)))
        .unwrap_or_default();
    if let Some(table) = parts_table::table(block, preferences) {
        text += &format!("\n\n{table}");
    }
    text += &format!("\n\n{}", results(block, "", preferences));
    let tables = [
        section_working::kern(block, preferences),
        torsion(block, preferences),
    ];
    for table in tables.into_iter().flatten() {
        text += &format!("\n{table}");
    }
    text
}

/// What is worked out only when it is asked for, with its method.
fn torsion(block: &BlockMeaning, preferences: &Preferences) -> Option<String> {
    let Some(Model::Section(section)) = &block.model else {
        return None;
    };
    let row = |member: &&str| {
        let shown = show::value(&block.member(member)?, None, preferences)?;
        let method = section_working::method(section, member, preferences)?;
        Some(format!("| {member} | {shown} | {method} |\n"))
    };
    let rows: String = SectionModel::ON_REQUEST.iter().filter_map(row).collect();
    if rows.is_empty() {
        let reason = section.no_result("torsion_constant")?;
        return Some(format!("No results of torsion: {reason}.\n"));
    }
    Some(format!(
        "| torsion | value | method |\n|---|---|---|\n{rows}"
    ))
}

/// The results whose names start so, with nothing but a name after it.
fn results(block: &BlockMeaning, prefix: &str, preferences: &Preferences) -> String {
    let mut text = String::new();
    let members = block.members();
    let shown = members.iter().filter_map(|(name, evaluated)| {
        let own = name.strip_prefix(prefix).filter(|own| !own.contains('.'))?;
        // The corners of a kern have a table of their own.
        if own.starts_with("kern_corner_") {
            return None;
        }
        let unit = block.unit_of(name, preferences);
        Some((own, show::value(evaluated, unit.as_ref(), preferences)?))
    });
    for (name, value) in shown.take(MOST_RESULTS) {
        if text.is_empty() {
            text = "| result | value |\n|---|---|\n".to_owned();
        }
        text += &format!("| {name} | {value} |\n");
    }
    text
}

/// What a result of a block is, with its value and method.
pub(crate) fn about_result(
    snapshot: &Snapshot,
    heading: LineId,
    member: &str,
    preferences: &Preferences,
) -> Option<String> {
    let block = snapshot.line(heading)?.block()?;
    if member.is_empty() {
        return about_line(snapshot, heading, preferences);
    }
    let evaluated = block.member(member)?;
    let name = format!("{}.{member}", block.name);
    let unit = block.unit_of(member, preferences);
    let mut text = match show::value(&evaluated, unit.as_ref(), preferences) {
        Some(shown) => code(&format!("{name} = {shown}")),
        None => format!("{}\n\nIt has no value: see the findings.", code(&name)),
    };
    if let Some(words) = section_working::meaning(block, member).or_else(|| kind(&evaluated)) {
        text += &format!("\n\n{words}");
    }
    if let Some(working) = section_working::working(block, member, preferences) {
        text += &format!("\n\n{working}");
    }
    if let Some(Model::Section(section)) = &block.model
        && let Some(method) = section_working::method(section, member, preferences)
    {
        text += &format!("\n\nMethod: {method}.");
    }
    if let Some(Model::Beam(beam)) = &block.model
        && let Some(working) = beam.wheels_working(member)
    {
        text += &format!("\n\n{}", wheels::working(&working, beam, preferences));
    }
    if matches!(member, "area" | "ybar" | "Ixx")
        && let Some(table) = parts_table::table(block, preferences)
    {
        text += &format!("\n\n{table}");
    }
    Some(text)
}

fn kind(evaluated: &Evaluated) -> Option<String> {
    let dimension = evaluated.kind.dimension()?;
    dimension.name().map(str::to_owned)
}

/// What a line says, its comment left out.
fn said(line: LineView<'_>) -> String {
    working::as_written(line, Span::new(0, line.text().len()))
}

fn code(text: &str) -> String {
    format!("```haunch\n{text}\n```")
}

/// Words as Markdown that shows them as they are. Marks of a sentence mean nothing inside a line,
/// and some editors show the raw text, so they stay as they are.
fn escaped(words: &str) -> String {
    words.chars().fold(String::new(), |mut text, character| {
        if character.is_ascii_punctuation() && !".,;:?'\"/()=%".contains(character) {
            text.push('\\');
        }
        text.push(character);
        text
    })
}

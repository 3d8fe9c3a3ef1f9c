//! Names and dotted paths inside expressions.

use std::borrow::Cow;

use haunch_quantity::{Dimension, Quantity, STANDARD_ACCELERATION_OF_FREE_FALL};
use haunch_syntax::{ExpressionId, Name, Path};
use haunch_text::Span;
use smol_str::SmolStr;

use super::Context;
use super::functions::is_built_in;
use crate::blocks::{Absent, Argument, BlockMeaning, CallError};
use crate::findings;
use crate::line::LineId;
use crate::outcome::Meaning;
use crate::reads::names_of;
use crate::resolve::Target;
use crate::value::{Evaluated, Kind};

/// A number that has a name of its own, which no line can define again.
pub fn constant(name: &str) -> Option<Quantity> {
    match name {
        "pi" => Quantity::ratio(std::f64::consts::PI),
        "g_n" => Quantity::new(STANDARD_ACCELERATION_OF_FREE_FALL, Dimension::ACCELERATION),
        _ => None,
    }
}

/// Whether the notation keeps a name for itself: a function or a constant.
pub fn is_kept(name: &str) -> bool {
    constant(name).is_some() || is_built_in(name)
}

impl Context<'_> {
    pub(super) fn path(&mut self, id: ExpressionId, path: &Path, span: Span) -> Evaluated {
        if let Some(arguments) = &path.arguments {
            self.inherit_failure(id, arguments);
        }
        let [first, rest @ ..] = path.names.as_slice() else {
            return Evaluated::UNKNOWN;
        };
        if rest.is_empty() {
            if let Some(local) = self.locals.get(&first.text) {
                if path.arguments.is_some() {
                    return self.not_a_formula(first.span, &first.text);
                }
                return local.clone();
            }
            if let Some(constant) = constant(&first.text) {
                if path.arguments.is_some() {
                    return self.not_a_formula(first.span, &first.text);
                }
                return Evaluated::quantity(constant);
            }
            if is_built_in(&first.text) {
                return match &path.arguments {
                    Some(arguments) => self.built_in(id, &first.text, first.span, arguments),
                    None => {
                        let place = self.place(first.span);
                        self.report(findings::wrong_arguments::missing(place, &first.text));
                        Evaluated::UNKNOWN
                    }
                };
            }
        }
        let names = names_of(path);
        let full = match names.as_slice() {
            [name] => Cow::Borrowed(name.as_str()),
            several => Cow::Owned(several.join(".")),
        };
        let resolved = self.state.resolve(self.file, &names);
        match resolved.target {
            Target::Undefined => {
                // In another file the name after the `use` name is the one that is missing.
                let at = usize::from(resolved.read.through.is_some());
                let name = path.names.get(at).unwrap_or(first);
                let place = self.place(name.span);
                let call = path.arguments.is_some();
                self.report(findings::unknown_name::finding(place, &full, call));
                Evaluated::UNKNOWN
            }
            Target::Several(_) | Target::Broken(_) | Target::FileMissing(_) => Evaluated::UNKNOWN,
            Target::Line(line) => self.named_line(id, line, path, span, &full),
            Target::NoMember(_) => {
                let place = self.place(span);
                self.report(findings::unknown_member::of_a_value(place, &full));
                Evaluated::UNKNOWN
            }
            Target::PartSize { part, member } => self.part_size(part, &member),
            Target::BlockLine(line) => {
                let place = self.place(span);
                let what = self.describe_line(line);
                self.report(findings::not_a_quantity::of_line(place, &full, what));
                Evaluated::UNKNOWN
            }
            Target::Block { heading, member } => {
                self.block_member(id, heading, &member, path, span, &full)
            }
            Target::File(_) => {
                let place = self.place(span);
                self.report(findings::not_a_quantity::of_line(
                    place,
                    &full,
                    "another file",
                ));
                Evaluated::UNKNOWN
            }
        }
    }

    fn describe_line(&self, line: LineId) -> &'static str {
        use haunch_syntax::Statement;
        match self.state.cell(line).map(|cell| &cell.tree.statement) {
            Some(Statement::Part(_)) => "a part",
            Some(Statement::Point(_)) => "a point",
            Some(Statement::Support(_)) => "a support",
            Some(Statement::Combination(_)) => "a combination",
            _ => "a line",
        }
    }

    fn not_a_formula(&mut self, span: Span, name: &str) -> Evaluated {
        let place = self.place(span);
        self.report(findings::wrong_arguments::not_a_formula(place, name));
        Evaluated::UNKNOWN
    }

    /// The value of a value line or field, or a call of a formula.
    fn named_line(
        &mut self,
        id: ExpressionId,
        line: LineId,
        path: &Path,
        span: Span,
        full: &str,
    ) -> Evaluated {
        let Some(cell) = self.state.cell(line) else {
            return Evaluated::UNKNOWN;
        };
        match (&cell.outcome.meaning, &path.arguments) {
            (Meaning::Value(value), None) => value.evaluated.clone(),
            (Meaning::Value(_), Some(_)) => self.not_a_formula(span, full),
            (Meaning::Formula(_), Some(arguments)) => {
                self.call_formula(id, line, full, arguments, span)
            }
            (Meaning::Formula(_), None) => {
                let place = self.place(span);
                self.report(findings::wrong_arguments::missing(place, full));
                Evaluated::UNKNOWN
            }
            _ => Evaluated::UNKNOWN,
        }
    }

    fn part_size(&mut self, part: LineId, member: &str) -> Evaluated {
        let Some(cell) = self.state.cell(part) else {
            return Evaluated::UNKNOWN;
        };
        let Meaning::Line(values) = &cell.outcome.meaning else {
            return Evaluated::UNKNOWN;
        };
        crate::blocks::part_sizes::member(&cell.tree, values, member)
    }

    fn block_member(
        &mut self,
        id: ExpressionId,
        heading: LineId,
        member: &str,
        path: &Path,
        span: Span,
        full: &str,
    ) -> Evaluated {
        let Some(cell) = self.state.cell(heading) else {
            return Evaluated::UNKNOWN;
        };
        let Some(kind) = cell.block_kind() else {
            return Evaluated::UNKNOWN;
        };
        if member.is_empty() {
            let place = self.place(span);
            let what = crate::blocks::describe(kind);
            self.report(findings::not_a_quantity::of_line(place, full, what));
            return Evaluated::UNKNOWN;
        }
        let Meaning::Block(block) = &cell.outcome.meaning else {
            return crate::blocks::member_kind(kind, member);
        };
        if block.model.is_none() {
            let function = member.rsplit('.').next().unwrap_or(member);
            if block.function_names().iter().any(|known| known == function) {
                self.places_in_block(function, path.arguments.as_deref().unwrap_or_default());
            }
            return crate::blocks::member_kind(kind, member);
        }
        match &path.arguments {
            None => match block.member(member) {
                Some(evaluated) => evaluated,
                None => self.absent_member(id, block, member, path, span, full),
            },
            Some(arguments) => {
                let mut given = Vec::with_capacity(arguments.len());
                for argument in arguments {
                    if self.points.contains(argument) {
                        given.push(Argument::Point(self.source(*argument).into()));
                        continue;
                    }
                    let evaluated = self.get(*argument);
                    if matches!(evaluated.kind, Kind::Truth | Kind::Text | Kind::List(_)) {
                        self.operand(*argument);
                        return Evaluated::UNKNOWN;
                    }
                    given.push(Argument::Value(evaluated));
                }
                match block.call(member, &given) {
                    Ok(evaluated) => evaluated,
                    Err(CallError::Unknown) => {
                        let known = block.function_names();
                        self.unknown_member(block, member, path, full, &known);
                        Evaluated::UNKNOWN
                    }
                    Err(CallError::Argument { index, mut message }) => {
                        if let Some(argument) = arguments.get(index)
                            && let Kind::Quantity(found) = self.kind(*argument)
                            && found != Dimension::LENGTH
                        {
                            let found = found.describe_with_article();
                            message += &format!(" {} is {found}.", self.source(*argument));
                        }
                        let span = arguments.get(index).map_or(span, |a| self.span(*a));
                        let place = self.place(span);
                        self.report(findings::wrong_arguments::finding(place, message));
                        Evaluated::UNKNOWN
                    }
                    Err(CallError::NoValue { kind, message }) => {
                        self.fail(id, span, message);
                        Evaluated { kind, value: None }
                    }
                }
            }
        }
    }

    /// Arguments of a block's function are points of its section and places in it, which are lengths.
    fn places_in_block(&mut self, function: &str, arguments: &[ExpressionId]) {
        for argument in arguments {
            let Kind::Quantity(found) = self.kind(*argument) else {
                continue;
            };
            if found != Dimension::LENGTH {
                let place = self.place_of(*argument);
                let message = format!(
                    "{function} takes {} here, but {} is {}.",
                    Dimension::LENGTH.describe_with_article(),
                    self.source(*argument),
                    found.describe_with_article()
                );
                self.report(findings::wrong_arguments::finding(place, message));
            }
        }
    }

    /// A result that a block with results does not have: not supported, without something that it
    /// needs, or no result at all.
    fn absent_member(
        &mut self,
        id: ExpressionId,
        block: &BlockMeaning,
        member: &str,
        path: &Path,
        span: Span,
        full: &str,
    ) -> Evaluated {
        match block.absent(member) {
            Some(Absent::NoValue { dimension, message }) => {
                self.fail(id, span, message);
                Evaluated::dimension_only(dimension)
            }
            None if block.function_names().iter().any(|name| name == member) => {
                let place = self.place(path.names.last().map_or(span, |name| name.span));
                self.report(findings::wrong_arguments::missing(place, full));
                Evaluated::UNKNOWN
            }
            None => {
                self.unknown_member(block, member, path, full, &block.member_names());
                Evaluated::UNKNOWN
            }
        }
    }

    /// Tells of a result that is not among those `known` of a block, or of a part or combination that the
    /// block does not have.
    fn unknown_member(
        &mut self,
        block: &BlockMeaning,
        member: &str,
        path: &Path,
        full: &str,
        known: &[SmolStr],
    ) {
        let place = |name: Option<&Name>| self.place(name.map_or(Span::default(), |own| own.span));
        let first = member.split_once('.').map(|(first, _)| first);
        let is_known = |first: &str| {
            let mut owners = known.iter().filter_map(|own| own.split_once('.'));
            owners.any(|(owner, _)| owner == first)
        };
        let finding = match first.filter(|first| !is_known(first)) {
            Some(first) => {
                let name = path.names.iter().rev().find(|name| name.text == first);
                findings::unknown_member::of_nothing(place(name), full, first, block.kind, known)
            }
            None => findings::unknown_member::of_a_block(
                place(path.names.last()),
                full,
                member,
                block.kind,
                known,
            ),
        };
        self.report(finding);
    }
}

//! The names that stand in a line, each with what it stands for.

use haunch_calc::{Definition, FileId, LineId, LineView, Snapshot, is_kept, point_argument};
use haunch_syntax::{
    Adjustment, BlockKind, ExpressionKind, LimitPlace, Name, PartPlace, Path, Statement, TokenKind,
    ValueBody, tokens,
};
use haunch_text::Span;
use smol_str::SmolStr;

/// What a name stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Referent {
    /// The line that gives the name: a value, a formula, a heading, a `use` line, a part, a point, a
    /// support, a combination.
    Line(LineId),
    /// A result of the block under a heading.
    Result {
        /// The heading.
        heading: LineId,
        /// The names after the block's, joined by dots.
        member: SmolStr,
    },
    /// A load case of a beam.
    Case {
        /// The beam's heading.
        heading: LineId,
        /// The case.
        name: SmolStr,
    },
    /// An argument of the formula on a line.
    Argument {
        /// The formula's line.
        line: LineId,
        /// The argument.
        name: SmolStr,
    },
    /// A function or constant of the notation, `span` in a limit included.
    Kept,
    /// Nothing that is known.
    Unknown,
}

/// A name in a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Mention {
    /// Where it stands in the logical line.
    pub(crate) span: Span,
    /// What it stands for.
    pub(crate) referent: Referent,
    /// Whether the line gives the name here.
    pub(crate) is_definition: bool,
}

/// The names of a line in the order in which they stand.
pub(crate) fn mentions(snapshot: &Snapshot, line: LineView<'_>) -> Vec<Mention> {
    let mut list = List {
        snapshot,
        line,
        found: Vec::new(),
    };
    list.definitions();
    list.paths();
    list.of_block();
    list.found.sort_by_key(|mention| mention.span);
    list.found.dedup_by_key(|mention| mention.span);
    list.found
}

struct List<'a> {
    snapshot: &'a Snapshot,
    line: LineView<'a>,
    found: Vec<Mention>,
}

impl<'a> List<'a> {
    fn push(&mut self, span: Span, referent: Referent, is_definition: bool) {
        self.found.push(Mention {
            span,
            referent,
            is_definition,
        });
    }

    fn definitions(&mut self) {
        let id = self.line.id();
        let own = match &self.line.tree().statement {
            Statement::Formula(formula) => {
                for parameter in &formula.parameters {
                    let name = parameter.text.clone();
                    self.push(parameter.span, Referent::Argument { line: id, name }, true);
                }
                Some(formula.name.span)
            }
            Statement::Use(used) => Some(used.alias.as_ref().unwrap_or(&used.path).span),
            Statement::Load(load) => {
                if let Some(heading) = self.line.owner() {
                    let name = load.case.text.clone();
                    self.push(load.case.span, Referent::Case { heading, name }, true);
                }
                None
            }
            statement => statement.given_name().map(|name| name.span),
        };
        if let Some(span) = own {
            self.push(span, Referent::Line(id), true);
        }
    }

    fn paths(&mut self) {
        let line = self.line;
        let tree = line.tree();
        let points: Vec<(&Path, &Path)> = tree
            .paths()
            .filter_map(|path| {
                let point = point_argument(tree, path)?;
                match &tree.expression(point).kind {
                    ExpressionKind::Path(point) => Some((path, point)),
                    _ => None,
                }
            })
            .collect();
        for path in tree.paths() {
            match points.iter().find(|(_, point)| std::ptr::eq(*point, path)) {
                Some((function, _)) => self.point(function, path),
                None => self.path(path),
            }
        }
        if let Some(path) = tree.named_block() {
            self.file_path(&path.names);
        }
    }

    /// A path of an expression: a name that only this line knows, or one of the file.
    fn path(&mut self, path: &Path) {
        let [first, rest @ ..] = path.names.as_slice() else {
            return;
        };
        if rest.is_empty()
            && let Some(referent) = self.local(first, path.arguments.is_some())
        {
            return self.push(first.span, referent, false);
        }
        self.file_path(&path.names);
    }

    fn local(&self, name: &Name, is_call: bool) -> Option<Referent> {
        match &self.line.tree().statement {
            Statement::Formula(formula)
                if !is_call && formula.parameters.iter().any(|own| own.text == name.text) =>
            {
                return Some(Referent::Argument {
                    line: self.line.id(),
                    name: name.text.clone(),
                });
            }
            Statement::Limit(_)
                if name.text == "span" && self.block_kind() == Some(BlockKind::Beam) =>
            {
                return Some(Referent::Kept);
            }
            Statement::Combination(_) => {
                if let Some(heading) = self.line.owner()
                    && is_case(self.snapshot, heading, &name.text)
                {
                    let name = name.text.clone();
                    return Some(Referent::Case { heading, name });
                }
            }
            _ => {}
        }
        is_kept(&name.text).then_some(Referent::Kept)
    }

    fn block_kind(&self) -> Option<BlockKind> {
        kind_of(self.snapshot, self.line.owner()?)
    }

    fn file_path(&mut self, names: &[Name]) {
        let file = self.line.file();
        let texts: Vec<SmolStr> = names.iter().map(|name| name.text.clone()).collect();
        for (index, name) in names.iter().enumerate() {
            let referent = referent(self.snapshot, file, &texts[..=index]);
            self.push(name.span, referent, false);
        }
    }

    /// The point or part of a section in `hoist.stress(A, 1 m)`.
    fn point(&mut self, function: &Path, point: &Path) {
        let Some((last, before)) = point.names.split_last() else {
            return;
        };
        let block = function
            .names
            .split_last()
            .map_or(&[][..], |(_, block)| block);
        let block: Vec<SmolStr> = block.iter().map(|name| name.text.clone()).collect();
        let sections = match referent(self.snapshot, self.line.file(), &block) {
            Referent::Line(heading) => sections_of(self.snapshot, heading),
            _ => Vec::new(),
        };
        let named = before.last();
        let found = sections.into_iter().find_map(|section| {
            let fits =
                named.is_none_or(|named| self.snapshot.name_of(section) == Some(&named.text));
            let lines = self.snapshot.defining_in_block(section, &last.text);
            lines.first().filter(|_| fits).map(|&line| (section, line))
        });
        let (section, referent) = match found {
            Some((section, line)) => (Referent::Line(section), Referent::Line(line)),
            None => (Referent::Unknown, Referent::Unknown),
        };
        if let Some(named) = named {
            self.push(named.span, section, false);
        }
        self.push(last.span, referent, false);
    }

    /// Names of the line's own block, and of the block that a search is about.
    fn of_block(&mut self) {
        let line = self.line;
        match &line.tree().statement {
            Statement::Part(part) => {
                if let PartPlace::Relative {
                    on, adjustments, ..
                } = &part.place
                {
                    self.own_block(on);
                    for adjustment in adjustments {
                        if let Adjustment::CentredOn(part) = adjustment {
                            self.own_block(part);
                        }
                    }
                }
            }
            Statement::Point(point) => {
                if let Some(part) = &point.of {
                    self.own_block(part);
                }
            }
            Statement::Limit(limit) => {
                if let Some(under) = &limit.under {
                    self.own_block(under);
                }
                if let LimitPlace::Support(support) = &limit.place {
                    self.own_block(support);
                }
            }
            Statement::Value(value) => {
                if let ValueBody::Search(search) = &value.body {
                    let names: Vec<SmolStr> = search
                        .block
                        .names
                        .iter()
                        .map(|name| name.text.clone())
                        .collect();
                    if let Referent::Line(heading) = referent(self.snapshot, line.file(), &names) {
                        self.subject(heading, &search.subject);
                        if let Some(under) = &search.under {
                            self.in_block(heading, under);
                        }
                    }
                }
            }
            Statement::Allow(allow) => {
                if let Some(target) = &allow.target {
                    self.allowed(target.span);
                }
            }
            _ => {}
        }
    }

    fn own_block(&mut self, name: &Name) {
        if let Some(heading) = self.line.owner() {
            self.in_block(heading, name);
        }
    }

    fn in_block(&mut self, heading: LineId, name: &Name) {
        let lines = self.snapshot.defining_in_block(heading, &name.text);
        let referent = lines
            .first()
            .map_or(Referent::Unknown, |&line| Referent::Line(line));
        self.push(name.span, referent, false);
    }

    /// What a search makes as large as possible: a load case, or a force of a `forces` block.
    fn subject(&mut self, heading: LineId, name: &Name) {
        if is_case(self.snapshot, heading, &name.text) {
            let case = name.text.clone();
            return self.push(
                name.span,
                Referent::Case {
                    heading,
                    name: case,
                },
                false,
            );
        }
        self.in_block(heading, name);
    }

    /// The dotted name of an `allow` line.
    fn allowed(&mut self, target: Span) {
        let text = self.line.text();
        let words = tokens(text)
            .into_iter()
            .filter(|token| token.kind == TokenKind::Word && target.contains(token.span));
        let names: Vec<Name> = words
            .map(|token| Name {
                text: token.span.text(text).into(),
                span: token.span,
            })
            .collect();
        self.file_path(&names);
    }
}

/// What a dotted name stands for where it stands in a file.
pub(crate) fn referent(snapshot: &Snapshot, file: FileId, names: &[SmolStr]) -> Referent {
    let (Some(last), first) = (names.last(), names.first()) else {
        return Referent::Unknown;
    };
    if names.len() == 1 {
        let lines = first
            .map(|first| snapshot.defining(file, first))
            .unwrap_or_default();
        return lines
            .first()
            .map_or(Referent::Unknown, |&line| Referent::Line(line));
    }
    match snapshot.definition(file, names) {
        Some(Definition::Line(place)) if snapshot.name_of(place.line) == Some(last) => {
            Referent::Line(place.line)
        }
        // A size of a part is found at the part.
        Some(Definition::Line(place)) => {
            let part = snapshot.line(place.line);
            let heading = part
                .filter(|line| matches!(line.tree().statement, Statement::Part(_)))
                .and_then(LineView::owner);
            match (heading, snapshot.name_of(place.line)) {
                (Some(heading), Some(part)) => Referent::Result {
                    heading,
                    member: format!("{part}.{last}").into(),
                },
                _ => Referent::Unknown,
            }
        }
        Some(Definition::Result {
            heading, member, ..
        }) => {
            if member.is_empty() {
                return Referent::Line(heading);
            }
            match snapshot.defining_in_block(heading, &member).first() {
                Some(&line) => Referent::Line(line),
                None => Referent::Result { heading, member },
            }
        }
        None => Referent::Unknown,
    }
}

/// Whether a load of a beam is of this case.
fn is_case(snapshot: &Snapshot, heading: LineId, name: &SmolStr) -> bool {
    let lines = snapshot.lines_under(heading);
    lines.into_iter().any(
        |line| matches!(&line.tree().statement, Statement::Load(load) if load.case.text == *name),
    )
}

/// The kind of the block under a heading.
pub(crate) fn kind_of(snapshot: &Snapshot, heading: LineId) -> Option<BlockKind> {
    match &snapshot.line(heading)?.tree().statement {
        Statement::Heading(heading) => Some(heading.kind),
        _ => None,
    }
}

/// The sections whose points a block's functions take: that of its heading and those of its stretches.
fn sections_of(snapshot: &Snapshot, heading: LineId) -> Vec<LineId> {
    let Some(head) = snapshot.line(heading) else {
        return Vec::new();
    };
    let Statement::Heading(statement) = &head.tree().statement else {
        return Vec::new();
    };
    let stretches = snapshot.lines_under(heading);
    let stretches = stretches
        .iter()
        .filter_map(|line| match &line.tree().statement {
            Statement::SectionStretch(stretch) => Some(&stretch.section),
            _ => None,
        });
    let named = statement.of.iter().chain(stretches).filter_map(|path| {
        let names: Vec<SmolStr> = path.names.iter().map(|name| name.text.clone()).collect();
        match referent(snapshot, head.file(), &names) {
            Referent::Line(line) => Some(line),
            _ => None,
        }
    });
    // A section's own functions take its own points.
    [heading].into_iter().chain(named).collect()
}

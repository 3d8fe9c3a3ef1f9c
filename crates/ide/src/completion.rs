//! What can be written at a place.

use haunch_calc::blocks::{BlockMeaning, Model, SectionModel, fields};
use haunch_calc::{BUILT_IN, Definition, FileId, LineId, LineView, Meaning, Snapshot, constant};
use haunch_quantity::{Dimension, Preferences, UnitWord, unit_words};
use haunch_syntax::{BlockKind, Statement, TokenKind, tokens};
use haunch_text::{Position, Range};
use smol_str::SmolStr;

use crate::asked_dimension;
use crate::hover::{about_line, about_result};
use crate::narrowing::narrow;
use crate::show;
use crate::statement_words::{self, Word};
use crate::template::{self, Piece};

/// Something that can be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Completion {
    /// The text.
    pub text: String,
    /// What it is, in a few words.
    pub detail: String,
    /// Its kind.
    pub kind: CompletionKind,
    /// What it takes the place of: the word begun.
    pub replaces: Range,
    /// Whether it is likelier than the others: a unit or a name of the dimension that its place asks for.
    pub fits: bool,
    /// What is written by clients that can fill in places; empty where that is the text.
    pub template: Vec<Piece>,
    /// What can be said of it when it is looked at.
    pub about: About,
}

/// What can be written at a place, likeliest first.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Completions {
    /// What is offered.
    pub items: Vec<Completion>,
    /// Whether that is all. Otherwise the next letter may bring others.
    pub is_whole: bool,
}

/// What a completion is about.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub enum About {
    /// Nothing more is known than its few words.
    #[default]
    Nothing,
    /// A line that gives the name.
    Line(LineId),
    /// A result of the block under a heading.
    Result(LineId, SmolStr),
}

/// What a completion stands for, in Markdown: of a value its working.
pub fn describe(snapshot: &Snapshot, about: &About) -> Option<String> {
    let preferences = |line| Some(snapshot.preferences(snapshot.file_of(line)?));
    match about {
        About::Nothing => None,
        About::Line(line) => about_line(snapshot, *line, &*preferences(*line)?),
        About::Result(heading, member) => {
            about_result(snapshot, *heading, member, &*preferences(*heading)?)
        }
    }
}

/// Kinds of completions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CompletionKind {
    /// A value of the file.
    Value,
    /// A heading's name, or another file's.
    Block,
    /// A result of a block, or one of its names.
    Member,
    /// A field that the block knows.
    Field,
    /// A function.
    Function,
    /// A unit.
    Unit,
    /// A word of the notation.
    Keyword,
    /// A whole block with places to fill in.
    Template,
}

/// What can be written at a position. Up to `MOST_OFFERED` it is all, and the client keeps what fits the letters
/// typed so far; of more, those that fit them and are likeliest.
pub fn completions(snapshot: &Snapshot, file: FileId, position: Position) -> Completions {
    found(snapshot, file, position).unwrap_or_default()
}

fn found(snapshot: &Snapshot, file: FileId, position: Position) -> Option<Completions> {
    let physical = snapshot.physical_line(file, position.line as usize);
    let before = physical.get(..position.column as usize).unwrap_or(physical);
    let line = snapshot.line_at(file, position.line as usize)?;
    let place = place(before)?;
    let begun = place.begun.len() as u32;
    let mut list = List {
        snapshot,
        file,
        position,
        preferences: &snapshot.preferences(file),
        replaces: Range {
            start: Position {
                column: position.column - begun.min(position.column),
                ..position
            },
            end: position,
        },
        items: Vec::new(),
    };
    list.fill(line, &place);
    list.fitting_first(&place);
    let is_whole = narrow(snapshot, line, place.begun, &mut list.items);
    list.show_values();
    Some(Completions {
        items: list.items,
        is_whole,
    })
}

/// What stands before a place in its physical line.
struct BeforePlace<'a> {
    /// The word that has been begun; may be empty.
    begun: &'a str,
    /// The names before it, each followed by a dot.
    path: Vec<SmolStr>,
    /// The words and signs before those, in order.
    earlier: Vec<(TokenKind, &'a str)>,
    indented: bool,
}

/// None inside a comment, a note or a text, where nothing is proposed.
fn place(before: &str) -> Option<BeforePlace<'_>> {
    let mut said: Vec<(TokenKind, &str)> = Vec::new();
    let mut touching = false;
    for token in tokens(before) {
        let text = token.span.text(before);
        touching = token.kind == TokenKind::Word;
        match token.kind {
            TokenKind::Comment
            | TokenKind::NoteText
            | TokenKind::UnclosedText
            | TokenKind::CurlyText => return None,
            kind if kind.is_trivia() => {}
            kind => said.push((kind, text)),
        }
    }
    let begun = match said.last() {
        Some((TokenKind::Word, word)) if touching => {
            let word = *word;
            said.pop();
            word
        }
        _ => "",
    };
    let mut path = Vec::new();
    while let [.., (TokenKind::Word, name), (TokenKind::Dot, _)] = said.as_slice() {
        path.insert(0, SmolStr::new(name));
        said.truncate(said.len() - 2);
    }
    Some(BeforePlace {
        begun,
        path,
        earlier: said,
        indented: before.starts_with([' ', '\t']),
    })
}

struct List<'a> {
    snapshot: &'a Snapshot,
    file: FileId,
    position: Position,
    preferences: &'a Preferences,
    replaces: Range,
    items: Vec<Completion>,
}

impl List<'_> {
    fn push(&mut self, text: impl Into<String>, detail: impl Into<String>, kind: CompletionKind) {
        self.items.push(Completion {
            text: text.into(),
            detail: detail.into(),
            kind,
            replaces: self.replaces,
            fits: false,
            template: Vec::new(),
            about: About::Nothing,
        });
    }

    /// Says more of the completion that was added last.
    fn last(&mut self, template: Vec<Piece>, about: About) {
        if let Some(last) = self.items.last_mut() {
            last.template = template;
            last.about = about;
        }
    }

    fn words(&mut self, words: &[(&str, &str)]) {
        for (word, detail) in words {
            self.push(*word, *detail, CompletionKind::Keyword);
        }
    }

    fn listed(&mut self, words: Vec<Word>) {
        for (word, detail) in words {
            self.push(word, detail, CompletionKind::Keyword);
        }
    }

    fn fill(&mut self, line: LineView<'_>, place: &BeforePlace<'_>) {
        if !place.path.is_empty() {
            return self.members(&place.path);
        }
        let heading = line.owner().or_else(|| self.heading_above(place.indented));
        let block = heading
            .and_then(|heading| self.snapshot.line(heading))
            .and_then(|heading| heading.block().cloned());
        let kind = block.as_ref().map(|block| block.kind);
        let first = place.earlier.first().map(|(_, word)| *word);
        let last = place.earlier.last().copied();
        match (first, last) {
            (None, _) => self.start_of_line(block.as_deref().filter(|_| place.indented)),
            (_, Some((TokenKind::OpenBracket, _))) => {
                let asked = asked_dimension::in_brackets(self.snapshot, self.file, self.position);
                self.units(asked);
                self.words(&[("any", "a dimension by its name")]);
            }
            (_, Some((TokenKind::Number, _))) => {
                let begun = place.begun.len() as u32;
                let (snapshot, file) = (self.snapshot, self.file);
                let asked = asked_dimension::at_number(snapshot, file, self.position, begun);
                self.units(asked);
            }
            (Some("results"), _) => self.units(None),
            (Some(keyword @ ("section" | "beam" | "forces")), Some((_, "of" | "on"))) => {
                let wanted = match keyword {
                    "section" => BlockKind::Material,
                    _ => BlockKind::Section,
                };
                self.blocks(wanted);
            }
            (Some("section"), _) => self.words(&[("of", "its material")]),
            (Some("beam"), _) => self.words(&[("of", "its section")]),
            (Some("forces"), _) => self.words(&[("on", "the section")]),
            (Some("limit"), Some((_, word)))
                if !statement_words::in_limit(word, kind).is_empty() =>
            {
                self.listed(statement_words::in_limit(word, kind));
            }
            (_, Some((_, word))) if !statement_words::after(word, kind).is_empty() => {
                self.listed(statement_words::after(word, kind));
            }
            _ => self.within_line(first, block.as_deref(), heading),
        }
    }

    /// Puts names of the dimension that is asked for before all others, where the line tells it.
    fn fitting_first(&mut self, place: &BeforePlace<'_>) {
        let is_name = |item: &Completion| {
            matches!(
                item.kind,
                CompletionKind::Value | CompletionKind::Member | CompletionKind::Function
            )
        };
        if place.earlier.is_empty() || !self.items.iter().any(is_name) {
            return;
        }
        let path: usize = place.path.iter().map(|name| name.len() + 1).sum();
        let start = self.replaces.start;
        let begun = Range {
            start: Position {
                column: start.column.saturating_sub(path as u32),
                ..start
            },
            end: self.position,
        };
        let Some(asked) = asked_dimension::at_name(self.snapshot, self.file, begun) else {
            return;
        };
        let number = self.position.line as usize;
        let own = self.snapshot.line_at(self.file, number).map(LineView::id);
        let mut items = std::mem::take(&mut self.items);
        for item in &mut items {
            // The name that the line itself gives would need itself.
            let is_own = matches!(item.about, About::Line(line) if own == Some(line));
            item.fits |= !is_own && self.dimension(item) == Some(asked);
        }
        // A stable order: those that fit and those that do not stay as they were.
        items.sort_by_key(|item| !item.fits);
        self.items = items;
    }

    /// What the name of a completion is.
    fn dimension(&self, item: &Completion) -> Option<Dimension> {
        match &item.about {
            About::Nothing if item.text == "span" => Some(Dimension::LENGTH),
            About::Nothing => constant(&item.text).map(|constant| constant.dimension()),
            About::Line(line) => {
                let line = self.snapshot.line(*line)?;
                match (&line.tree().statement, line.meaning()) {
                    (Statement::Formula(formula), _) => {
                        line.evaluated(formula.body).kind.dimension()
                    }
                    (_, Meaning::Value(named)) => named.evaluated.kind.dimension(),
                    _ => None,
                }
            }
            About::Result(heading, member) => {
                let block = self.snapshot.line(*heading)?.block()?;
                block.member(member)?.kind.dimension()
            }
        }
    }

    /// The heading that a line typed here would stand under.
    fn heading_above(&self, indented: bool) -> Option<haunch_calc::LineId> {
        let number = (self.replaces.start.line as usize)
            .checked_sub(1)
            .filter(|_| indented)?;
        let above = self.snapshot.line_at(self.file, number)?;
        Some(above.owner().unwrap_or(above.id()))
    }

    fn start_of_line(&mut self, block: Option<&BlockMeaning>) {
        let Some(block) = block else {
            self.listed(statement_words::opening(None));
            for (word, detail, template) in template::blocks() {
                self.push(word, detail, CompletionKind::Template);
                self.last(template, About::Nothing);
            }
            return;
        };
        self.listed(statement_words::opening(Some(block.kind)));
        for field in fields::of(block.kind) {
            self.push(
                format!("{} = ", field.name),
                field.meaning,
                CompletionKind::Field,
            );
        }
    }

    fn within_line(
        &mut self,
        first: Option<&str>,
        block: Option<&BlockMeaning>,
        heading: Option<haunch_calc::LineId>,
    ) {
        if let (Some(block), Some(heading)) = (block, heading) {
            match (block.kind, first) {
                (BlockKind::Section, _) => self.listed(statement_words::part_places()),
                (BlockKind::Material | BlockKind::Forces | BlockKind::Beam, Some("limit")) => {
                    self.listed(statement_words::limit_places(block.kind));
                }
                (BlockKind::Beam, Some("support" | "load")) => {
                    self.listed(statement_words::beam_places())
                }
                _ => {}
            }
            for (name, line) in self.snapshot.names_in_block(heading) {
                self.push(name.as_str(), "of this block", CompletionKind::Member);
                self.last(Vec::new(), About::Line(line));
            }
        }
        for (name, line) in self.snapshot.names(self.file) {
            self.name(&name, line);
            if let Some(used) = self.snapshot.used_file(line) {
                for (own, line) in self.snapshot.names(used) {
                    self.name(&format!("{name}.{own}"), line);
                }
            }
        }
        for function in BUILT_IN {
            self.push(function.name, function.meaning, CompletionKind::Function);
            self.last(template::call(function.name), About::Nothing);
        }
        self.words(&[
            ("pi", "the circle's circumference over its diameter"),
            ("g_n", "standard acceleration of free fall, 9.80665 m/s²"),
            ("if", "if … then … else …"),
        ]);
    }

    fn name(&mut self, name: &str, id: LineId) {
        let Some(line) = self.snapshot.line(id) else {
            return;
        };
        let kind = match &line.tree().statement {
            Statement::Heading(_) | Statement::Use(_) => CompletionKind::Block,
            Statement::Formula(_) => CompletionKind::Function,
            _ => CompletionKind::Value,
        };
        self.push(name, "", kind);
        self.last(Vec::new(), About::Line(id));
    }

    /// Says of each name what it is. Only now: it takes longer than finding the names, of which there may be
    /// thousands.
    fn show_values(&mut self) {
        for item in &mut self.items {
            let About::Line(line) = item.about else {
                continue;
            };
            let Some(line) = self.snapshot.line(line).filter(|_| item.detail.is_empty()) else {
                continue;
            };
            item.detail = match (&line.tree().statement, line.meaning()) {
                (Statement::Heading(heading), _) => {
                    heading.keyword_span.text(line.text()).to_owned()
                }
                (Statement::Use(used), _) => used.path.text.to_string(),
                (Statement::Formula(_), _) => "formula".to_owned(),
                (_, Meaning::Value(named)) => {
                    show::value(&named.evaluated, named.unit.as_ref(), self.preferences)
                        .unwrap_or_default()
                }
                _ => String::new(),
            };
            if item.kind == CompletionKind::Function {
                item.template = template::call(&item.text);
            }
        }
    }

    fn blocks(&mut self, wanted: BlockKind) {
        for (name, id) in self.snapshot.names(self.file) {
            let Some(line) = self.snapshot.line(id) else {
                continue;
            };
            let fits = line.block().is_some_and(|block| block.kind == wanted);
            if fits || matches!(line.tree().statement, Statement::Use(_)) {
                self.name(&name, id);
            }
        }
    }

    fn members(&mut self, path: &[SmolStr]) {
        match self.snapshot.definition(self.file, path) {
            Some(Definition::Line(place)) => {
                let Some(used) = self.snapshot.used_file(place.line) else {
                    return;
                };
                for (name, line) in self.snapshot.names(used) {
                    self.name(&name, line);
                }
            }
            Some(Definition::Result {
                heading, member, ..
            }) => self.results(heading, &member),
            None => {
                // A `use` name by itself is no value; its file's names follow it.
                if let [name] = path
                    && let Some((_, line)) = self
                        .snapshot
                        .names(self.file)
                        .into_iter()
                        .find(|(known, _)| known == name)
                    && let Some(used) = self.snapshot.used_file(line)
                {
                    for (name, line) in self.snapshot.names(used) {
                        self.name(&name, line);
                    }
                }
            }
        }
    }

    fn results(&mut self, heading: haunch_calc::LineId, of: &str) {
        let Some(block) = self
            .snapshot
            .line(heading)
            .and_then(|line| line.block().cloned())
        else {
            return;
        };
        let prefix = if of.is_empty() {
            String::new()
        } else {
            format!("{of}.")
        };
        let mut seen: Vec<String> = Vec::new();
        for (name, evaluated) in &block.members() {
            let Some(rest) = name.strip_prefix(prefix.as_str()) else {
                continue;
            };
            let (own, deeper) = rest
                .split_once('.')
                .map_or((rest, false), |(own, _)| (own, true));
            if seen.iter().any(|known| known == own) {
                continue;
            }
            seen.push(own.to_owned());
            let unit = block.unit_of(name, self.preferences);
            let shown = show::value(evaluated, unit.as_ref(), self.preferences).filter(|_| !deeper);
            self.push(own, shown.unwrap_or_default(), CompletionKind::Member);
            self.last(Vec::new(), About::Result(heading, name.clone()));
        }
        if of.is_empty() {
            if let Some(Model::Section(_)) = &block.model {
                for name in SectionModel::ON_REQUEST {
                    self.push(*name, "worked out when asked for", CompletionKind::Member);
                    self.last(Vec::new(), About::Result(heading, (*name).into()));
                }
            }
            for function in block.function_names() {
                self.push(function.as_str(), "at a place", CompletionKind::Function);
                self.last(template::call(&function), About::Nothing);
            }
            for (name, line) in self.snapshot.names_in_block(heading) {
                if !seen.iter().any(|known| known == name.as_str()) {
                    self.push(name.as_str(), "", CompletionKind::Member);
                    self.last(Vec::new(), About::Line(line));
                }
            }
        }
    }

    /// Every unit; those of the dimension that is asked for first.
    fn units(&mut self, asked: Option<Dimension>) {
        let fits = |word: &UnitWord| asked == Some(word.dimension);
        let (first, rest): (Vec<_>, Vec<_>) = unit_words().partition(|&word| fits(word));
        for word in first.into_iter().chain(rest) {
            self.push(word.spelling, word.description, CompletionKind::Unit);
            if let Some(last) = self.items.last_mut() {
                last.fits = fits(word);
            }
        }
    }
}

//! The lines of all files of both versions side by side.

use haunch_calc::{FileId, LineId, Snapshot};
use haunch_syntax::{Statement, TokenKind, tokens};

use crate::compare::FilePair;
use crate::lines::{Line, lines};
use crate::matching::{Matched, matched};
use crate::outcome::Written;
use crate::renames::Renames;
use crate::subject::Subject;

/// What was done to a line by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hand {
    /// Nothing, or it was only moved or laid out anew.
    Same,
    /// It says the same under another name.
    Renamed,
    /// It came, went or says something else.
    Changed,
}

/// A line of both versions, or of one.
#[derive(Debug)]
pub(crate) struct Pair {
    /// Which pair of files.
    pub(crate) file: usize,
    pub(crate) old: Option<LineId>,
    pub(crate) new: Option<LineId>,
    pub(crate) hand: Hand,
    pub(crate) subject: Subject,
    /// The line that it stands under: of the new version, or of the old one where it went.
    pub(crate) heading: Option<usize>,
    /// Its words begin with these, where it gives no name: `limit deflection`.
    pub(crate) name: Option<String>,
    /// It gives another name than before, and a line still uses the former one.
    pub(crate) is_unfollowed: bool,
}

impl Pair {
    /// Whether its value is given by hand, and was changed: it is no result.
    pub(crate) fn is_input(&self) -> bool {
        let is_result = matches!(self.subject, Subject::Formula | Subject::Search);
        (self.hand == Hand::Changed && !is_result) || self.subject == Subject::Words
    }
}

/// Both versions and their lines.
pub(crate) struct Pairs<'a> {
    pub(crate) old: &'a Snapshot,
    pub(crate) new: &'a Snapshot,
    pub(crate) files: &'a [FilePair],
    pub(crate) all: Vec<Pair>,
    /// The renames of each pair of files.
    pub(crate) renames: Vec<Renames>,
    old_at: Vec<Option<usize>>,
    new_at: Vec<Option<usize>>,
}

impl<'a> Pairs<'a> {
    pub(crate) fn new(old: &'a Snapshot, new: &'a Snapshot, files: &'a [FilePair]) -> Pairs<'a> {
        let mut pairs = Pairs {
            old,
            new,
            files,
            all: Vec::new(),
            renames: Vec::new(),
            old_at: Vec::new(),
            new_at: Vec::new(),
        };
        let sides: Vec<(Vec<Line>, Vec<Line>)> = files
            .iter()
            .map(|pair| {
                let read = |snapshot, file: Option<FileId>, known: &[Line]| {
                    let lines = file.map(|file| lines(snapshot, file, (old, known)));
                    lines.unwrap_or_default()
                };
                let before = read(old, pair.old, &[]);
                let after = read(new, pair.new, &before);
                (before, after)
            })
            .collect();
        let mut found: Vec<Matched> = sides
            .iter()
            .map(|(old, new)| matched(old, new, Renames::default()))
            .collect();
        // Names of used files count where these are used; they do not come along any farther.
        for index in 0..files.len() {
            let used = pairs.used_renames(index, &found);
            if let (false, Some((old, new)), Some(own)) =
                (used.is_empty(), sides.get(index), found.get_mut(index))
            {
                *own = matched(old, new, used);
            }
        }
        let unfollowed = crate::unfollowed::take_away((old, new), &sides, &mut found);
        if !unfollowed.is_empty() {
            let used = |index| pairs.used_renames(index, &found).used;
            let used: Vec<_> = (0..files.len()).map(used).collect();
            for (own, used) in found.iter_mut().zip(used) {
                own.renames.used = used;
            }
        }
        for (index, ((old, new), found)) in sides.iter().zip(&found).enumerate() {
            pairs.add(index, old, new, found);
        }
        for pair in &mut pairs.all {
            pair.is_unfollowed = pair.new.is_some_and(|line| unfollowed.contains(&line));
        }
        pairs.renames = found.into_iter().map(|found| found.renames).collect();
        pairs
    }

    /// The renames of the files that a file uses, by the names that stand for these.
    fn used_renames(&self, index: usize, found: &[Matched]) -> Renames {
        let mut renames = Renames::default();
        if found.iter().all(|other| other.renames.is_empty()) {
            return renames;
        }
        let Some(file) = self.files.get(index).and_then(|pair| pair.new) else {
            return renames;
        };
        for line in self.new.lines(file) {
            let Statement::Use(own) = &line.tree().statement else {
                continue;
            };
            let Some(used) = self.new.used_file(line.id()) else {
                continue;
            };
            let alias = match &own.alias {
                Some(alias) => alias.text.clone(),
                None => stem(&own.path.text).into(),
            };
            let at = self.files.iter().position(|pair| pair.new == Some(used));
            if let Some(other) = at.and_then(|at| found.get(at))
                && !other.renames.is_empty()
            {
                renames.used.insert(alias, other.renames.clone());
            }
        }
        renames
    }

    fn add(&mut self, file: usize, old: &[Line], new: &[Line], found: &Matched) {
        let first = self.all.len();
        for (at, line) in new.iter().enumerate() {
            let before = found
                .old_of
                .get(at)
                .copied()
                .flatten()
                .and_then(|at| old.get(at));
            let hand = match before {
                None => Hand::Changed,
                Some(before) => {
                    let block = line
                        .heading
                        .and_then(|at| new.get(at))
                        .and_then(|heading| heading.name.as_ref())
                        .map(|(name, _)| name.as_str());
                    let same = if found.renames.is_empty() {
                        before.words == line.words
                    } else {
                        found.renames.apply(&before.words, block) == *line.words
                    };
                    let name = |line: &Line| line.gives().map(|(name, _)| name.clone());
                    match (same, name(before) == name(line)) {
                        (true, true) => Hand::Same,
                        (true, false) => Hand::Renamed,
                        (false, _) => Hand::Changed,
                    }
                }
            };
            self.push(Pair {
                file,
                old: before.map(|line| line.id),
                new: Some(line.id),
                hand,
                subject: line.subject,
                heading: line.heading.map(|at| first + at),
                name: line.name.as_ref().map(|(name, _)| name.to_string()),
                is_unfollowed: false,
            });
        }
        for (at, line) in old.iter().enumerate() {
            if found.new_of.get(at).copied().flatten().is_some() {
                continue;
            }
            let heading = line
                .heading
                .and_then(|at| old.get(at))
                .and_then(|heading| self.of_old(heading.id));
            self.push(Pair {
                file,
                old: Some(line.id),
                new: None,
                hand: Hand::Changed,
                subject: line.subject,
                heading,
                name: line.name.as_ref().map(|(name, _)| name.to_string()),
                is_unfollowed: false,
            });
        }
    }

    fn push(&mut self, pair: Pair) {
        let at = self.all.len();
        let enter = |list: &mut Vec<Option<usize>>, line: Option<LineId>| {
            let Some(line) = line else { return };
            let index = line.0 as usize;
            if list.len() <= index {
                list.resize(index + 1, None);
            }
            if let Some(entry) = list.get_mut(index) {
                *entry = Some(at);
            }
        };
        enter(&mut self.old_at, pair.old);
        enter(&mut self.new_at, pair.new);
        self.all.push(pair);
    }

    /// The pair of a line of the old version.
    pub(crate) fn of_old(&self, line: LineId) -> Option<usize> {
        self.old_at.get(line.0 as usize).copied().flatten()
    }

    /// The pair of a line of the new version.
    pub(crate) fn of_new(&self, line: LineId) -> Option<usize> {
        self.new_at.get(line.0 as usize).copied().flatten()
    }

    /// The lines of a pair of files.
    pub(crate) fn of_file(&self, file: usize) -> impl Iterator<Item = (usize, &Pair)> {
        let first = self.all.partition_point(|pair| pair.file < file);
        let pairs = self.all.iter().enumerate().skip(first);
        pairs.take_while(move |(_, pair)| pair.file == file)
    }

    pub(crate) fn get(&self, at: usize) -> Option<&Pair> {
        self.all.get(at)
    }

    /// The name of the block that a line stands in, after the change where it has one.
    pub(crate) fn block_name(&self, at: usize) -> Option<&str> {
        self.get(self.get(at)?.heading?)?.name.as_deref()
    }

    /// The path of a pair of files: after the change where it has one.
    pub(crate) fn path(&self, file: usize) -> String {
        let Some(pair) = self.files.get(file) else {
            return String::new();
        };
        match (pair.new, pair.old) {
            (Some(file), _) => self.new.path(file).to_owned(),
            (None, Some(file)) => self.old.path(file).to_owned(),
            (None, None) => String::new(),
        }
    }

    /// A line as it is written in the old version.
    pub(crate) fn written_old(&self, at: usize) -> Option<Written> {
        written(self.old, self.get(at)?.old?)
    }

    /// A line as it is written in the new version.
    pub(crate) fn written_new(&self, at: usize) -> Option<Written> {
        written(self.new, self.get(at)?.new?)
    }

    /// The statement of a line in one version.
    pub(crate) fn statement(snapshot: &Snapshot, line: Option<LineId>) -> Option<&Statement> {
        Some(&snapshot.line(line?)?.tree().statement)
    }
}

/// The name of a file without its folder and ending.
fn stem(path: &str) -> &str {
    let file = path.rsplit(['/', '\\']).next().unwrap_or(path);
    file.strip_suffix(".haunch").unwrap_or(file)
}

fn written(snapshot: &Snapshot, line: LineId) -> Option<Written> {
    let view = snapshot.line(line)?;
    Some(Written {
        file: snapshot.path(view.file()).to_owned(),
        line: line_number(snapshot, line),
        text: on_one_line(view.text()),
    })
}

/// The number of a line's first physical line, from 1.
pub(crate) fn line_number(snapshot: &Snapshot, line: LineId) -> u32 {
    let first = snapshot.first_physical(line).unwrap_or(0);
    u32::try_from(first).unwrap_or(u32::MAX).saturating_add(1)
}

/// A logical line without its comment, its continuations joined, with single spaces.
pub(crate) fn on_one_line(text: &str) -> String {
    let mut out = String::new();
    let mut space = false;
    for token in tokens(text) {
        if token.kind.is_trivia() {
            space = true;
            continue;
        }
        if space && !out.is_empty() {
            out.push(' ');
        }
        space = false;
        let written = token.span.text(text);
        out.push_str(match token.kind {
            TokenKind::NoteText => written.trim(),
            _ => written,
        });
    }
    out
}

//! The new version with some of its changes undone.
//!
//! A line that says something else says again what it said, in the names of the new version; one that came
//! goes; one that went comes back under its heading, or at the end of the file: the order of lines means
//! nothing. A block that came or went as a whole is undone as a whole.

use std::collections::{BTreeMap, BTreeSet};

use haunch_calc::{FileId, LineId, LineView, Snapshot};
use haunch_syntax::tokens;
use haunch_text::{Position, Range, content};

use crate::lines::words;
use crate::pairs::Pairs;

/// An edit of a file of the new version.
type FileEdit = (FileId, Range, String);

/// How each change is undone.
pub(crate) struct Undoing<'a> {
    pairs: &'a Pairs<'a>,
    /// For each change, the one that it is undone with: that of the heading of a block that came or went.
    unit: Vec<usize>,
    /// The lines of each of these, the heading first.
    lines: BTreeMap<usize, Vec<usize>>,
}

impl<'a> Undoing<'a> {
    /// `changes` says which change each pair of lines is.
    pub(crate) fn new(pairs: &'a Pairs<'a>, changes: &[Option<usize>]) -> Undoing<'a> {
        let count = changes.iter().flatten().max().map_or(0, |last| last + 1);
        let mut undoing = Undoing {
            pairs,
            unit: (0..count).collect(),
            lines: BTreeMap::new(),
        };
        let change = |at: usize| changes.get(at).copied().flatten();
        for (at, pair) in pairs.all.iter().enumerate() {
            let Some(own) = change(at) else { continue };
            let heading = pair.heading.filter(|&heading| {
                let heading = pairs.get(heading);
                heading.is_some_and(|heading| heading.old.is_none() || heading.new.is_none())
            });
            let unit = heading.and_then(change).unwrap_or(own);
            if let Some(entry) = undoing.unit.get_mut(own) {
                *entry = unit;
            }
            let lines = undoing.lines.entry(unit).or_default();
            match unit == own {
                true => lines.insert(0, at),
                false => lines.push(at),
            }
        }
        undoing
    }

    /// What a change is undone with, itself or the heading of its block.
    pub(crate) fn unit(&self, change: usize) -> usize {
        self.unit.get(change).copied().unwrap_or(change)
    }

    /// The new version with these undone and all others done. None where that cannot be written down: a
    /// line whose file came or went with it, or one under a heading that is none.
    pub(crate) fn without(&self, units: &BTreeSet<usize>) -> Option<Snapshot> {
        let mut edits = Vec::new();
        for unit in units {
            self.undo(self.lines.get(unit)?, &mut edits)?;
        }
        Some(self.pairs.new.after(&edits))
    }

    fn undo(&self, lines: &[usize], edits: &mut Vec<FileEdit>) -> Option<()> {
        let &first = lines.first()?;
        let pair = self.pairs.get(first)?;
        let files = self.pairs.files.get(pair.file)?;
        let file = files.new.filter(|_| files.old.is_some())?;
        if pair.new.is_none() {
            let mut written = String::new();
            for &at in lines {
                written.push('\n');
                written.push_str(&self.before(at)?);
            }
            edits.push((file, self.place(file, pair.heading, &written)?, written));
            return Some(());
        }
        for &at in lines {
            let pair = self.pairs.get(at)?;
            let line = self.pairs.new.line(pair.new?)?;
            let start = position(self.pairs.new.first_physical(line.id())?, 0);
            let (range, written) = match pair.old {
                None => {
                    let end = start.line as usize + line.height();
                    (
                        Range {
                            start,
                            end: position(end, 0),
                        },
                        String::new(),
                    )
                }
                Some(_) => (
                    Range {
                        start,
                        end: self.end(line)?,
                    },
                    self.before(at)?,
                ),
            };
            edits.push((file, range, written));
        }
        Some(())
    }

    /// Where a line that went is written.
    fn place(&self, file: FileId, heading: Option<usize>, written: &str) -> Option<Range> {
        let is_indented = written.starts_with(['\n']) && written[1..].starts_with([' ', '\t']);
        let at = match heading {
            Some(heading) => self.end(self.pairs.new.line(self.pairs.get(heading)?.new?)?)?,
            None if is_indented => return None,
            // Past the last line is the end of the file.
            None => position(self.pairs.new.line_count(file), 0),
        };
        Some(Range { start: at, end: at })
    }

    /// The end of a line of the new version.
    fn end(&self, line: LineView<'_>) -> Option<Position> {
        let last = self.pairs.new.first_physical(line.id())? + line.height() - 1;
        let text = self.pairs.new.physical_line(line.file(), last);
        Some(position(last, content(text).len()))
    }

    /// What a line said in the old version, in the names of the new one.
    fn before(&self, at: usize) -> Option<String> {
        let pair = self.pairs.get(at)?;
        let line: LineId = pair.old?;
        let text = content(self.pairs.old.line(line)?.text());
        let renames = self.pairs.renames.get(pair.file)?;
        if renames.is_empty() {
            return Some(text.to_owned());
        }
        let said = words(text);
        let renamed = renames.apply(&said, self.pairs.block_name(at));
        let all = tokens(text);
        let meaning = all.iter().filter(|token| !token.kind.is_trivia());
        let mut out = String::with_capacity(text.len());
        let mut done = 0;
        for (token, (old, new)) in meaning.zip(said.iter().zip(&renamed)) {
            if old != new {
                out.push_str(text.get(done..token.span.start as usize)?);
                out.push_str(new);
                done = token.span.end as usize;
            }
        }
        out.push_str(text.get(done..)?);
        Some(out)
    }
}

fn position(line: usize, column: usize) -> Position {
    let number = |value| u32::try_from(value).unwrap_or(u32::MAX);
    Position {
        line: number(line),
        column: number(column),
    }
}

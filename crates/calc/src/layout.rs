//! How a file's physical lines form logical lines, and how an edit changes them. Only the logical
//! lines that an edit touches are read again; all others keep their identity.

use haunch_syntax::{can_be_continued, is_continuation};
use haunch_text::Splice;
use std::sync::Arc;

use crate::line::{FileId, LineId};
use crate::state::{Cell, State};
use crate::update::Update;

/// The distance between the labels of neighbouring lines when they are given out afresh: wide
/// enough for some eighty insertions at one place before that is needed again.
const SPACING: u128 = 1 << 80;

/// What an edit did to a file's logical lines.
#[derive(Debug, Default)]
pub(crate) struct Relaid {
    /// Lines whose text is new, or which are new.
    pub(crate) changed: Vec<LineId>,
    /// Lines that were under another heading before, with that heading.
    pub(crate) moved: Vec<(LineId, Option<LineId>)>,
}

/// A logical line as text, before it has an identity.
struct Piece {
    text: String,
    breaks: Vec<u32>,
}

/// Groups physical lines into logical lines.
fn group(physical: Vec<String>) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::with_capacity(physical.len());
    for line in physical {
        // The reader refuses an expression with too many continuations as a whole: a part of it
        // would be a wrong number.
        let continues = is_continuation(&line)
            && pieces
                .last()
                .is_some_and(|head| can_be_continued(&head.text));
        match pieces.last_mut() {
            Some(head) if continues => {
                head.breaks.push(head.text.len() as u32);
                head.text.push_str(&line);
            }
            _ => pieces.push(Piece {
                text: line,
                breaks: Vec::new(),
            }),
        }
    }
    pieces
}

/// Above this many lines it pays to read them in several threads: a thread builds parsers of its
/// own, which costs as much as reading some hundreds of lines.
const READ_TOGETHER: usize = 2_000;

/// Reads lines, each by itself, so that how many threads share them shows nowhere.
fn read(file: FileId, pieces: &[Piece]) -> Vec<Cell> {
    let read_all = |pieces: &[Piece]| -> Vec<Cell> {
        pieces
            .iter()
            .map(|piece| Cell::read(file, &piece.text, &piece.breaks))
            .collect()
    };
    if pieces.len() < READ_TOGETHER {
        return read_all(pieces);
    }
    let threads = std::thread::available_parallelism()
        .map_or(1, usize::from)
        .min(4);
    if threads == 1 {
        return read_all(pieces);
    }
    let (own, others) = pieces.split_at(pieces.len().div_ceil(threads));
    std::thread::scope(|scope| {
        let shares: Vec<_> = others
            .chunks(own.len())
            .map(|share| (share, scope.spawn(move || read_all(share))))
            .collect();
        let mut cells = read_all(own);
        for (share, reader) in shares {
            // A reader that was lost is made good here.
            cells.extend(reader.join().unwrap_or_else(|_| read_all(share)));
        }
        cells
    })
}

impl Update<'_> {
    /// Applies a change of physical lines to a file.
    pub(crate) fn relay(&mut self, file: FileId, splice: Splice) -> Relaid {
        let Some(count) = self.state.file(file).map(|f| f.physical.len()) else {
            return Relaid::default();
        };
        let (start, end) = self.touched(file, &splice, count);
        let mut texts: Vec<String> = (start..splice.first)
            .filter_map(|n| self.state.physical_line(file, n).map(str::to_owned))
            .collect();
        let removed_end = splice.first + splice.removed;
        texts.extend(splice.inserted);
        texts.extend(
            (removed_end..end).filter_map(|n| self.state.physical_line(file, n).map(str::to_owned)),
        );
        let pieces = group(texts);
        self.replace(file, start, end, &pieces)
    }

    /// The physical lines whose grouping the splice can change.
    fn touched(&self, file: FileId, splice: &Splice, count: usize) -> (usize, usize) {
        let continues = |n: usize| {
            self.state
                .physical_line(file, n)
                .is_some_and(is_continuation)
        };
        let mut start = splice.first.min(count);
        if start > 0 {
            start -= 1;
            while start > 0 && continues(start) {
                start -= 1;
            }
        }
        let mut end = (splice.first + splice.removed).min(count);
        while end < count && continues(end) {
            end += 1;
        }
        (start, end)
    }

    /// Replaces the logical lines of physical lines `start..end` by `pieces`, keeping the identity
    /// of lines whose text stays and reusing the others' in order.
    fn replace(&mut self, file: FileId, start: usize, end: usize, pieces: &[Piece]) -> Relaid {
        let old = self.distinct(file, start, end);
        let same = |state: &State, line: LineId, piece: &Piece| {
            state.cell(line).is_some_and(|c| *c.text == *piece.text)
        };
        let mut head = 0;
        while head < old.len() && head < pieces.len() && same(self.state, old[head], &pieces[head])
        {
            head += 1;
        }
        let mut tail = 0;
        while tail < old.len() - head
            && tail < pieces.len() - head
            && same(
                self.state,
                old[old.len() - 1 - tail],
                &pieces[pieces.len() - 1 - tail],
            )
        {
            tail += 1;
        }
        let going = &old[head..old.len() - tail];
        let coming = &pieces[head..pieces.len() - tail];
        let before = match head.checked_sub(1) {
            Some(h) => Some(old[h]),
            None => start
                .checked_sub(1)
                .and_then(|n| self.state.file(file)?.physical.get(n).copied()),
        };
        let after = match tail {
            0 => self
                .state
                .file(file)
                .and_then(|f| f.physical.get(end).copied()),
            _ => Some(old[old.len() - tail]),
        };

        let mut lines = Vec::with_capacity(coming.len());
        let reused = going.len().min(coming.len());
        for &line in &going[reused..] {
            self.remove_line(line);
        }
        for (index, mut cell) in read(file, coming).into_iter().enumerate() {
            let line = match going.get(index) {
                Some(&line) => {
                    self.forget(line);
                    if let Some(before) = self.state.cell(line) {
                        // What the line came to before tells which readers a new result concerns.
                        cell.outcome = before.outcome.clone();
                        cell.in_ring = before.in_ring;
                    }
                    self.state.cells.set(line.0 as usize, Some(Arc::new(cell)));
                    line
                }
                None => self.add_line(Arc::new(cell)),
            };
            lines.push(line);
        }
        let ids = old[..head]
            .iter()
            .chain(&lines)
            .chain(&old[old.len() - tail..]);
        let physical: Vec<LineId> = ids
            .zip(pieces)
            .flat_map(|(line, piece)| std::iter::repeat_n(*line, piece.breaks.len() + 1))
            .collect();
        let region_end = start + physical.len();
        if let Some(state) = self.state.file_mut(file) {
            let unchanged = end == region_end
                && (start..end).all(|n| state.physical.get(n) == physical.get(n - start));
            if !unchanged {
                let right = state.physical.split_off(end);
                let _ = state.physical.split_off(start);
                state.physical.extend(physical);
                state.physical.append(right);
            }
        }
        self.label(
            file,
            before,
            &lines[reused..],
            lines.get(reused.wrapping_sub(1)),
            after,
        );
        let moved = self.assign_owners(file, start, region_end);
        Relaid {
            changed: lines,
            moved,
        }
    }

    /// The logical lines of a stretch of physical lines.
    fn distinct(&self, file: FileId, start: usize, end: usize) -> Vec<LineId> {
        let Some(state) = self.state.file(file) else {
            return Vec::new();
        };
        let mut lines: Vec<LineId> = (start..end)
            .filter_map(|number| state.physical.get(number).copied())
            .collect();
        lines.dedup();
        lines
    }

    fn add_line(&mut self, cell: Arc<Cell>) -> LineId {
        match self.state.free.pop_back() {
            Some(line) => {
                self.state.cells.set(line.0 as usize, Some(cell));
                line
            }
            None => {
                let line = LineId(self.state.cells.len() as u32);
                self.state.cells.push_back(Some(cell));
                self.state.orders.push_back(0);
                line
            }
        }
    }

    /// Gives labels to new lines between two neighbours; the whole file afresh where there is no
    /// room between them.
    fn label(
        &mut self,
        file: FileId,
        before: Option<LineId>,
        new: &[LineId],
        last_reused: Option<&LineId>,
        after: Option<LineId>,
    ) {
        if new.is_empty() {
            return;
        }
        let low = last_reused
            .copied()
            .or(before)
            .map_or(0, |line| self.state.order(line));
        let high = after.map_or_else(
            || low.saturating_add(SPACING.saturating_mul(new.len() as u128 + 1)),
            |line| self.state.order(line),
        );
        let step = high.saturating_sub(low) / (new.len() as u128 + 1);
        if step == 0 {
            self.label_afresh(file);
            return;
        }
        for (index, line) in new.iter().enumerate() {
            self.state
                .orders
                .set(line.0 as usize, low + step * (index as u128 + 1));
        }
    }

    fn label_afresh(&mut self, file: FileId) {
        let Some(physical) = self.state.file(file).map(|f| f.physical.clone()) else {
            return;
        };
        let mut order = 0;
        let mut last = None;
        for line in physical {
            if last != Some(line) {
                order += SPACING;
                self.state.orders.set(line.0 as usize, order);
                last = Some(line);
            }
        }
    }

    /// Finds the owner of each line from physical line `start` on, at least to `region_end` and
    /// until nothing changes any more. Gives the lines that have another owner than before.
    fn assign_owners(
        &mut self,
        file: FileId,
        start: usize,
        region_end: usize,
    ) -> Vec<(LineId, Option<LineId>)> {
        let mut moved = Vec::new();
        let Some(physical) = self.state.file(file).map(|f| f.physical.clone()) else {
            return moved;
        };
        let mut owner = start.checked_sub(1).and_then(|number| {
            let line = *physical.get(number)?;
            let cell = self.state.cell(line)?;
            if cell.is_owner() {
                Some(line)
            } else {
                cell.owner
            }
        });
        let mut number = start;
        while let Some(&line) = physical.get(number) {
            let Some(cell) = self.state.cell(line) else {
                break;
            };
            let settled = number >= region_end;
            number += cell.height();
            if cell.is_owner() {
                owner = Some(line);
            } else if cell.owner != owner {
                moved.push((line, cell.owner));
                self.set_cell(line, |cell| cell.owner = owner);
                continue;
            }
            if settled {
                break;
            }
        }
        moved
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grouped(text: &str) -> Vec<String> {
        let physical: Vec<String> = haunch_text::split_lines(text).map(str::to_owned).collect();
        group(physical)
            .into_iter()
            .map(|piece| piece.text)
            .collect()
    }

    #[test]
    fn a_continuation_joins_the_line_above() {
        assert_eq!(
            grouped("a = b\n  + c\n  + d\ne = 1"),
            ["a = b\n  + c\n  + d\n", "e = 1"]
        );
    }

    #[test]
    fn a_blank_line_or_comment_ends_an_expression() {
        assert_eq!(grouped("a = b\n\n  + c"), ["a = b\n", "\n", "  + c"]);
        assert_eq!(grouped("# a\n  + c"), ["# a\n", "  + c"]);
    }

    #[test]
    fn a_list_under_a_note_belongs_to_it() {
        assert_eq!(grouped("note a\n  - b\n  - c"), ["note a\n  - b\n  - c"]);
    }
}

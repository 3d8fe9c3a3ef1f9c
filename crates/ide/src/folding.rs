//! What can be folded away: blocks, runs of comments, of notes and of `use` lines.

use haunch_calc::{FileId, LineView, Snapshot};
use haunch_syntax::Statement;

/// Physical lines that can be folded into the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fold {
    /// The first physical line, which stays.
    pub first: u32,
    /// The last physical line.
    pub last: u32,
    /// What it is.
    pub kind: FoldKind,
}

/// What a fold hides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FoldKind {
    /// The lines under a heading, or the continuations of a line.
    Block,
    /// Comments or notes.
    Comment,
    /// `use` lines.
    Uses,
}

/// The folds of a file, in order. `stop` is polled; when it says so, what was found is returned.
pub fn folds(snapshot: &Snapshot, file: FileId, stop: &dyn Fn() -> bool) -> Vec<Fold> {
    let mut found: Vec<Fold> = Vec::new();
    let mut block: Option<Fold> = None;
    let mut run: Option<Fold> = None;
    let mut number = 0;
    for line in snapshot.lines(file) {
        if stop() {
            break;
        }
        let first = number;
        number += line.height() as u32;
        let last = number - 1;
        let kind = run_kind(line);
        match (&mut run, kind) {
            (Some(open), Some(kind)) if open.kind == kind && open.last + 1 == first => {
                open.last = last
            }
            _ => {
                found.extend(run.take().filter(|run| run.last > run.first));
                run = kind.map(|kind| Fold { first, last, kind });
            }
        }
        if last > first {
            let kind = FoldKind::Block;
            found.push(Fold { first, last, kind });
        }
        match &line.tree().statement {
            Statement::Heading(_) if !line.tree().indented => {
                found.extend(block.take().filter(|block| block.last > block.first));
                let kind = FoldKind::Block;
                block = Some(Fold { first, last, kind });
            }
            Statement::Empty => {}
            _ if line.tree().belongs_to_block() => {
                if let Some(block) = &mut block {
                    block.last = last;
                }
            }
            _ => found.extend(block.take().filter(|block| block.last > block.first)),
        }
    }
    found.extend(run.filter(|run| run.last > run.first));
    found.extend(block.filter(|block| block.last > block.first));
    found.sort_by_key(|fold| (fold.first, std::cmp::Reverse(fold.last)));
    found
}

fn run_kind(line: LineView<'_>) -> Option<FoldKind> {
    match &line.tree().statement {
        Statement::Empty if line.tree().comment.is_some() => Some(FoldKind::Comment),
        Statement::Note(_) => Some(FoldKind::Comment),
        Statement::Use(_) => Some(FoldKind::Uses),
        _ => None,
    }
}

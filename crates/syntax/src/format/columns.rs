//! Columns: what belongs under each other in rows next to each other. Gaps become wider, never
//! narrower than those within a row, so that nothing is read in another way.

use super::row::{Row, RowKind};

/// How far apart the ends of what stands before a column may be; with more, nothing is aligned.
const WIDEST_SPREAD: usize = 12;

/// A row wider than this takes no part in columns, and moves nobody else's.
const WIDEST_ROW: usize = 200;

/// Widens gaps so that columns stand under each other.
pub(super) fn align(rows: &mut [Row]) {
    for run in runs(rows) {
        for group in alike(rows, &run) {
            own_column(rows, &group, 0);
            own_column(rows, &group, 1);
        }
        trailing_column(rows, &run, |row| row.stops.unit);
        trailing_column(rows, &run, |row| row.stops.comment);
    }
}

/// Runs of rows that say something, by their indices: an empty line and a comment alone end one. A
/// row that is left as it is, most often because it is being written, does not.
fn runs(rows: &[Row]) -> Vec<Vec<usize>> {
    let mut runs = vec![Vec::new()];
    for (at, row) in rows.iter().enumerate() {
        match row.kind {
            RowKind::Blank | RowKind::Comment => runs.push(Vec::new()),
            RowKind::Kept => {}
            RowKind::Statement | RowKind::Continuation => {
                if let Some(run) = runs.last_mut() {
                    run.push(at);
                }
            }
        }
    }
    runs.retain(|run| !run.is_empty());
    runs
}

/// The rows of a run that share their own columns: of one kind, with no other kind between them.
fn alike(rows: &[Row], run: &[usize]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut last = None;
    for &at in run {
        let row = &rows[at];
        if row.kind == RowKind::Continuation {
            continue;
        }
        let sharing = row.stops.shared_with;
        match groups.last_mut() {
            Some(group) if sharing.is_some() && sharing == last => group.push(at),
            _ => groups.push(vec![at]),
        }
        last = sharing;
    }
    groups
}

/// A row's piece and the column at which the gap before it begins.
struct Member {
    row: usize,
    piece: usize,
    end: usize,
}

/// The pieces that may stand in a column.
fn members(rows: &[Row], among: &[usize], stop: impl Fn(&Row) -> Option<usize>) -> Vec<Member> {
    let member = |&at: &usize| {
        let row = &rows[at];
        let piece = stop(row)?;
        let can_be_wider = row.pieces.get(piece)?.gap > 0 && row.width() <= WIDEST_ROW;
        can_be_wider.then(|| Member {
            row: at,
            piece,
            end: row.width_before(piece),
        })
    };
    among.iter().filter_map(member).collect()
}

/// A column that the rows of one kind share, directly after the longest before it.
fn own_column(rows: &mut [Row], group: &[usize], column: usize) {
    let members = members(rows, group, |row| row.stops.own[column]);
    let widest = members.iter().map(|member| member.end).max().unwrap_or(0);
    let narrowest = members.iter().map(|member| member.end).min().unwrap_or(0);
    let number = |member: &Member| rows[member.row].pieces[member.piece].width;
    let numbers_only = column == 0 && members.iter().all(|m| rows[m.row].stops.bare_number);
    let widest_number = match numbers_only {
        true => members.iter().map(number).max().unwrap_or(0),
        false => 0,
    };
    let aligned = widest - narrowest <= WIDEST_SPREAD;
    let gaps: Vec<usize> = members
        .iter()
        .map(|member| {
            let own = if rows[member.row].stops.is_wide(column) {
                2
            } else {
                1
            };
            match aligned {
                true => own + widest - member.end + widest_number.saturating_sub(number(member)),
                false => own,
            }
        })
        .collect();
    for (member, gap) in members.iter().zip(gaps) {
        rows[member.row].pieces[member.piece].gap = gap;
    }
}

/// A column after which nothing of weight follows: units asked for, comments. It stays where most
/// of its rows have it, as long as more than half of them end before it; longer rows stick out.
/// Otherwise it stands two spaces after the longest.
fn trailing_column(rows: &mut [Row], run: &[usize], stop: impl Fn(&Row) -> Option<usize>) {
    const GAP: usize = 2;
    let members = members(rows, run, stop);
    let Some(widest) = members.iter().map(|member| member.end + GAP).max() else {
        return;
    };
    let written: Vec<usize> = members
        .iter()
        .map(|member| {
            (
                member.end + GAP,
                rows[member.row].written_column(member.piece),
            )
        })
        .filter(|(nearest, written)| nearest <= written && *written <= WIDEST_ROW)
        .map(|(_, written)| written)
        .collect();
    let count = |column: usize| written.iter().filter(|&&other| other == column).count();
    let most = written
        .iter()
        .copied()
        .max_by_key(|&column| (count(column), std::cmp::Reverse(column)));
    let fits = |column: usize| members.iter().filter(|m| m.end + GAP <= column).count();
    let column = most
        .filter(|&column| 2 * fits(column) > members.len())
        .unwrap_or(widest);
    for member in &members {
        let gap = column.max(member.end + GAP) - member.end;
        rows[member.row].pieces[member.piece].gap = gap;
    }
}

//! What turns one text into another, line by line.

use crate::edit::Edit;
use crate::lines::split_lines;
use crate::span::{Position, Range};

/// With more lines that go or come than these, what stands between the first and the last of them is
/// replaced as a whole: the cost of finding the lines that stay grows with the square of that number.
const MOST: usize = 400;

/// Edits that turn `old` into `new`, each of whole lines, so that lines that stay are not touched. They
/// go from the end of the text to its start: the place of each is the same in `old` and in the text
/// after those before it.
pub fn edits_between(old: &str, new: &str) -> Vec<Edit> {
    let old: Vec<&str> = split_lines(old).collect();
    let new: Vec<&str> = split_lines(new).collect();
    let is_same = |(a, b): &(&&str, &&str)| a == b;
    let head = old.iter().zip(&new).take_while(is_same).count();
    let (a, b) = (&old[head..], &new[head..]);
    let tail = a.iter().rev().zip(b.iter().rev()).take_while(is_same);
    let tail = tail.count();
    let (a, b) = (&a[..a.len() - tail], &b[..b.len() - tail]);
    let mut staying = staying(a, b);
    staying.push((a.len(), b.len()));
    let mut edits = Vec::new();
    let (mut from, mut to) = (0, 0);
    for (at, other) in staying {
        if at > from || other > to {
            let place = |line: usize| Position {
                line: u32::try_from(head + line).unwrap_or(u32::MAX),
                column: 0,
            };
            // A place past the last line is the end of the text.
            edits.push(Edit {
                range: Range {
                    start: place(from),
                    end: place(at),
                },
                text: b[to..other].concat(),
            });
        }
        (from, to) = (at + 1, other + 1);
    }
    edits.reverse();
    edits
}

/// The lines of a longest common subsequence, by their numbers in both lists (Myers 1986, the greedy
/// algorithm); none where more than [`MOST`] lines differ.
fn staying(a: &[&str], b: &[&str]) -> Vec<(usize, usize)> {
    let reach = (a.len() + b.len()).min(MOST);
    // `ends[k]` is how far along `a` the path on diagonal `k - reach` has come.
    let mut ends = vec![0_usize; 2 * reach + 2];
    let mut steps: Vec<Vec<usize>> = Vec::new();
    for distance in 0..=reach {
        for diagonal in (reach - distance..=reach + distance).step_by(2) {
            let comes_down = diagonal == reach - distance
                || (diagonal != reach + distance && ends[diagonal - 1] < ends[diagonal + 1]);
            let mut x = match (distance, comes_down) {
                (0, _) => 0,
                (_, true) => ends[diagonal + 1],
                (_, false) => ends[diagonal - 1] + 1,
            };
            while (x + reach)
                .checked_sub(diagonal)
                .is_some_and(|y| a.get(x).is_some_and(|line| b.get(y) == Some(line)))
            {
                x += 1;
            }
            ends[diagonal] = x;
            if x >= a.len() && x + reach >= diagonal + b.len() {
                return back(steps, a.len(), b.len(), reach);
            }
        }
        steps.push(ends.clone());
    }
    Vec::new()
}

/// Goes back from the ends of both lists along the paths that [`staying`] took.
fn back(steps: Vec<Vec<usize>>, a: usize, b: usize, reach: usize) -> Vec<(usize, usize)> {
    let (mut x, mut y) = (a, b);
    let mut staying = Vec::new();
    for (distance, ends) in steps.iter().enumerate().rev() {
        // `ends` are those of the step with one line less.
        let diagonal = x + reach - y;
        let distance = distance + 1;
        let comes_down = diagonal == reach - distance
            || (diagonal != reach + distance && ends[diagonal - 1] < ends[diagonal + 1]);
        let (from, start) = match comes_down {
            true => (diagonal + 1, ends[diagonal + 1]),
            false => (diagonal - 1, ends[diagonal - 1] + 1),
        };
        while x > start {
            (x, y) = (x - 1, y - 1);
            staying.push((x, y));
        }
        x = ends[from];
        y = x + reach - from;
    }
    while x > 0 && y > 0 {
        (x, y) = (x - 1, y - 1);
        staying.push((x, y));
    }
    staying.reverse();
    staying
}

#[cfg(test)]
mod tests {
    use super::*;

    fn apply(text: &str, edits: &[Edit]) -> String {
        let mut text = text.to_owned();
        for edit in edits {
            let mut lines: Vec<String> = split_lines(&text).map(str::to_owned).collect();
            let splice = edit.splice(lines.len(), |n| &lines[n]);
            lines.splice(splice.first..splice.first + splice.removed, splice.inserted);
            text = lines.concat();
        }
        text
    }

    #[track_caller]
    fn check(old: &str, new: &str, count: usize) {
        let edits = edits_between(old, new);
        assert_eq!(apply(old, &edits), new);
        assert_eq!(edits.len(), count, "{edits:?}");
    }

    #[test]
    fn lines_that_stay_are_not_touched() {
        check("a\nb\nc\n", "a\nb\nc\n", 0);
        check("a\nb\nc\nd\ne\n", "a\nB\nc\nD\ne\n", 2);
        check("a\nb\nc\n", "a\nc\n", 1);
        check("a\nc\nd\ne", "a\nb\nc\nd\nx\ne", 2);
        check("", "a\n", 1);
        check("a\n", "", 1);
        check("a", "a\n", 1);
        check("a\nb\nc\nd\n", "c\nd\na\nb\n", 2);
    }

    #[test]
    fn any_text_becomes_any_other() {
        let mut state = 20_261_128_u32;
        let mut text = || {
            let mut text = String::new();
            for _ in 0..12 {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                text.push_str(
                    ["a\n", "b\n", "c", "\n", "\r", "\r\n", ""][(state >> 24) as usize % 7],
                );
            }
            text
        };
        for _ in 0..2_000 {
            let (old, new) = (text(), text());
            let edits = edits_between(&old, &new);
            assert_eq!(apply(&old, &edits), new, "{old:?} {edits:?}");
        }
    }

    #[test]
    fn with_very_many_other_lines_the_middle_is_one_edit() {
        let lines =
            |from: usize| -> String { (from..from + 900).map(|n| format!("{n}\n")).collect() };
        let (old, new) = (
            format!("a\n{}z\n", lines(0)),
            format!("a\n{}z\n", lines(5_000)),
        );
        check(&old, &new, 1);
    }
}

//! Rolled sizes by their designation: the table, and the shape of a row.
//!
//! `sizes.tsv` names the standard beside each row. Its sizes are published ones, kept only where
//! the properties that follow from them agree with the published properties.

mod row;

use std::sync::LazyLock;

pub(crate) use row::RolledSize;

/// The table, in its order; lines that are no rows are left out.
static TABLE: LazyLock<Vec<RolledSize>> = LazyLock::new(|| {
    let lines = include_str!("sizes.tsv").lines();
    lines.filter_map(RolledSize::read).collect()
});

/// All sizes.
pub(crate) fn all() -> &'static [RolledSize] {
    &TABLE
}

/// The size of a designation, however its letters are cased and spaced: `ipe200`, `IPE 200`.
pub(crate) fn find(designation: &str) -> Option<&'static RolledSize> {
    let wanted = plain(designation);
    all().iter().find(|size| plain(size.designation) == wanted)
}

/// The designations nearest to one that is not in the table: those that it is the start of, then
/// those of the same series with the nearest numbers or letters.
pub(crate) fn nearest(designation: &str) -> Vec<&'static str> {
    let wanted = plain(designation);
    let mut ranked: Vec<(usize, usize, usize, &'static str)> = all()
        .iter()
        .enumerate()
        .map(|(order, size)| {
            let own = plain(size.designation);
            let common = own
                .chars()
                .zip(wanted.chars())
                .take_while(|(a, b)| a == b)
                .count();
            let is_start = usize::from(common < wanted.chars().count());
            (is_start, usize::MAX - common, order, size.designation)
        })
        .filter(|(_, common, ..)| usize::MAX - common >= 1)
        .collect();
    ranked.sort_unstable();
    ranked.truncate(MOST_NEAR);
    ranked.into_iter().map(|(.., name)| name).collect()
}

/// How many designations are offered for one that is not known.
const MOST_NEAR: usize = 3;

/// A designation without spaces, in capitals, `×` as X, numbers without zeros at their end.
fn plain(designation: &str) -> String {
    let mut plain = String::new();
    let mut number = String::new();
    let end = |number: &mut String, plain: &mut String| {
        let kept = if number.contains('.') {
            number.trim_end_matches('0').trim_end_matches('.')
        } else {
            number.as_str()
        };
        plain.push_str(kept);
        number.clear();
    };
    for letter in designation.chars() {
        if letter.is_ascii_digit() || letter == '.' {
            number.push(letter);
            continue;
        }
        end(&mut number, &mut plain);
        match letter {
            '×' => plain.push('X'),
            space if space.is_whitespace() => {}
            other => plain.extend(other.to_uppercase()),
        }
    }
    end(&mut number, &mut plain);
    plain
}

#[cfg(test)]
mod tests;

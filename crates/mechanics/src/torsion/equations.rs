//! Symmetric positive definite equations with few entries, solved directly.
//!
//! Method: Cholesky's factors row by row, where the elimination tree tells which entries are not
//! zero (Davis 2006, Direct Methods for Sparse Linear Systems, chs. 2 and 4).

use super::dissection::Dissection;

/// No row.
const NONE: usize = usize::MAX;

/// A symmetric matrix, its rows in the order of elimination.
#[derive(Clone, Debug)]
pub(super) struct Equations {
    /// The row of each unknown.
    row_of: Vec<usize>,
    /// Entries as row, column and value, columns up to the diagonal; several add up.
    entries: Vec<(u32, u32, f64)>,
}

/// The factor L of A = L·Lᵀ by columns, the diagonal first.
struct Factor {
    starts: Vec<usize>,
    rows: Vec<u32>,
    values: Vec<f64>,
}

impl Equations {
    /// Zero equations for unknowns at places, and for some more, eliminated last, that stand
    /// together with very many. Groups of unknowns may stand together.
    pub(super) fn new<'a>(
        places: &[[f64; 2]],
        wide: usize,
        groups: impl Iterator<Item = &'a Vec<usize>>,
    ) -> Self {
        let narrow = places.len();
        let mut pairs: Vec<(u32, u32)> = Vec::new();
        for group in groups {
            for &one in group.iter().filter(|&&own| own < narrow) {
                let others = group.iter().filter(|&&own| own < narrow && own != one);
                pairs.extend(others.map(|&other| (one as u32, other as u32)));
            }
        }
        pairs.sort_unstable();
        pairs.dedup();
        let order = Dissection::of(places, &pairs);
        let mut row_of = vec![0; narrow + wide];
        for (row, unknown) in order.into_iter().chain(narrow..narrow + wide).enumerate() {
            row_of[unknown] = row;
        }
        Self {
            row_of,
            entries: Vec::new(),
        }
    }

    /// Adds to the entry of two unknowns. Only the entry on or below the diagonal is kept, so that
    /// each pair of different unknowns is given in both orders.
    pub(super) fn add(&mut self, one: usize, other: usize, value: f64) {
        let (row, column) = (self.row_of[one], self.row_of[other]);
        if column <= row {
            self.entries.push((row as u32, column as u32, value));
        }
    }

    /// The unknowns for a right-hand side; `None` if the matrix is not positive definite.
    pub(super) fn solve(self, right: &[f64]) -> Option<Vec<f64>> {
        let Self { row_of, entries } = self;
        let factor = Factor::of(row_of.len(), entries)?;
        let mut solution = vec![0.0; row_of.len()];
        for (&row, value) in row_of.iter().zip(right) {
            solution[row] = *value;
        }
        factor.solve(&mut solution);
        Some(row_of.iter().map(|&row| solution[row]).collect())
    }
}

/// Rows of a matrix, of each the columns up to the diagonal with their values.
struct Rows {
    starts: Vec<usize>,
    columns: Vec<u32>,
    values: Vec<f64>,
}

impl Rows {
    /// Sorts entries into rows and columns; those of one place in the order in which they came.
    fn of(count: usize, entries: &[(u32, u32, f64)]) -> Self {
        let by_column = grouped(count, entries.len(), |index| entries[index].1);
        let by_row = grouped(count, entries.len(), |index| entries[by_column.1[index]].0);
        let mut own = Self {
            starts: Vec::with_capacity(count + 1),
            columns: Vec::new(),
            values: Vec::new(),
        };
        for row in 0..count {
            let first = own.columns.len();
            own.starts.push(first);
            for &index in &by_row.1[by_row.0[row]..by_row.0[row + 1]] {
                let (_, column, value) = entries[by_column.1[index]];
                match own.values.last_mut() {
                    Some(sum)
                        if own.columns.len() > first && own.columns.last() == Some(&column) =>
                    {
                        *sum += value;
                    }
                    _ => {
                        own.columns.push(column);
                        own.values.push(value);
                    }
                }
            }
        }
        own.starts.push(own.columns.len());
        own
    }

    fn columns_of(&self, row: usize) -> &[u32] {
        &self.columns[self.starts[row]..self.starts[row + 1]]
    }
}

/// Positions sorted by a key below `count`: where each key starts, and the positions.
fn grouped(count: usize, length: usize, key: impl Fn(usize) -> u32) -> (Vec<usize>, Vec<usize>) {
    let mut starts = vec![0; count + 1];
    for index in 0..length {
        starts[key(index) as usize + 1] += 1;
    }
    for index in 0..count {
        starts[index + 1] += starts[index];
    }
    let mut next = starts.clone();
    let mut positions = vec![0; length];
    for index in 0..length {
        let place = &mut next[key(index) as usize];
        positions[*place] = index;
        *place += 1;
    }
    (starts, positions)
}

impl Factor {
    fn of(count: usize, entries: Vec<(u32, u32, f64)>) -> Option<Self> {
        let matrix = Rows::of(count, &entries);
        drop(entries);
        let mut tree = Tree::of(&matrix, count);
        let mut lengths = vec![1_usize; count];
        for row in 0..count {
            for &column in tree.reached(&matrix, row) {
                lengths[column] += 1;
            }
        }
        let mut starts = Vec::with_capacity(count + 1);
        let mut total = 0;
        for length in &lengths {
            starts.push(total);
            total += length;
        }
        starts.push(total);
        let mut own = Self {
            rows: vec![0; total],
            values: vec![0.0; total],
            starts,
        };
        let mut ends: Vec<usize> = own.starts[..count].to_vec();
        let mut line = vec![0.0; count];
        for row in 0..count {
            let entries = matrix.starts[row]..matrix.starts[row + 1];
            for index in entries {
                line[matrix.columns[index] as usize] = matrix.values[index];
            }
            let before = std::mem::take(&mut line[row]);
            let mut pivot = before;
            for &column in tree.reached(&matrix, row) {
                let start = own.starts[column];
                let value = std::mem::take(&mut line[column]) / own.values[start];
                let filled = start + 1..ends[column];
                let (rows, values) = (&own.rows[filled.clone()], &own.values[filled]);
                for (&below, factor) in rows.iter().zip(values) {
                    line[below as usize] -= factor * value;
                }
                pivot -= value * value;
                own.rows[ends[column]] = row as u32;
                own.values[ends[column]] = value;
                ends[column] += 1;
            }
            // What is left of the diagonal is rounding if it is this small.
            if pivot.is_nan() || pivot <= 1e-14 * before {
                return None;
            }
            own.rows[ends[row]] = row as u32;
            own.values[ends[row]] = pivot.sqrt();
            ends[row] += 1;
        }
        Some(own)
    }

    fn column(&self, column: usize) -> (f64, impl Iterator<Item = (usize, f64)>) {
        let range = self.starts[column]..self.starts[column + 1];
        let rows = self.rows[range.clone()].iter().map(|&row| row as usize);
        let values = self.values[range.clone()].iter().copied();
        (self.values[range.start], rows.zip(values).skip(1))
    }

    fn solve(&self, solution: &mut [f64]) {
        let count = solution.len();
        for column in 0..count {
            let (diagonal, below) = self.column(column);
            let value = solution[column] / diagonal;
            solution[column] = value;
            for (row, factor) in below {
                solution[row] -= factor * value;
            }
        }
        for column in (0..count).rev() {
            let (diagonal, below) = self.column(column);
            let sum: f64 = below.map(|(row, factor)| factor * solution[row]).sum();
            solution[column] = (solution[column] - sum) / diagonal;
        }
    }
}

/// The elimination tree: the parent of each row is the first row below that its elimination
/// changes.
struct Tree {
    parent: Vec<usize>,
    is_reached: Vec<bool>,
    reached: Vec<usize>,
}

impl Tree {
    fn of(matrix: &Rows, count: usize) -> Self {
        let mut parent = vec![NONE; count];
        let mut ancestor = vec![NONE; count];
        for row in 0..count {
            for &column in matrix.columns_of(row) {
                let mut here = column as usize;
                while here != NONE && here < row {
                    let above = std::mem::replace(&mut ancestor[here], row);
                    if above == NONE {
                        parent[here] = row;
                    }
                    here = above;
                }
            }
        }
        Self {
            parent,
            is_reached: vec![false; count],
            reached: Vec::new(),
        }
    }

    /// The columns of the factor's row left of the diagonal that are not zero, ascending.
    fn reached(&mut self, matrix: &Rows, row: usize) -> &[usize] {
        self.reached.clear();
        self.is_reached[row] = true;
        for &column in matrix.columns_of(row) {
            let mut here = column as usize;
            while !self.is_reached[here] {
                self.is_reached[here] = true;
                self.reached.push(here);
                here = self.parent[here];
            }
        }
        self.reached.sort_unstable();
        for &column in &self.reached {
            self.is_reached[column] = false;
        }
        self.is_reached[row] = false;
        &self.reached
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A chain of springs along a line.
    #[test]
    fn a_chain_is_solved() {
        let count = 200;
        let name = |place: usize| (place * 7) % count;
        let links: Vec<Vec<usize>> = (0..count - 1)
            .map(|place| vec![name(place), name(place + 1)])
            .collect();
        let mut places = vec![[0.0; 2]; count];
        for place in 0..count {
            places[name(place)] = [place as f64, 0.0];
        }
        let mut equations = Equations::new(&places, 0, links.iter());
        for link in &links {
            for &one in link {
                for &other in link {
                    equations.add(one, other, if one == other { 1.0 } else { -1.0 });
                }
            }
        }
        let free = equations.clone().solve(&vec![1.0; count]);
        assert!(free.is_none(), "it can move");
        equations.add(name(0), name(0), 1.0);
        let mut right = vec![0.0; count];
        right[name(count - 1)] = 1.0;
        let found = equations.solve(&right).unwrap();
        for place in 0..count {
            // A unit force through one spring to the ground and `place` more.
            assert!((found[name(place)] - (place + 1) as f64).abs() < 1e-9);
        }
    }
}

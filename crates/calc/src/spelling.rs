//! Names that are nearly spelled like another.

/// At most three candidates whose spelling is near, the nearest first, ties in alphabetical order.
pub(crate) fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let most = (word.chars().count() / 3).clamp(1, 3);
    let mut near: Vec<(usize, &str)> = candidates
        .filter(|candidate| *candidate != word)
        .filter_map(|candidate| {
            let distance = distance(word, candidate);
            (distance <= most).then_some((distance, candidate))
        })
        .collect();
    near.sort_unstable();
    near.dedup();
    near.into_iter().take(3).map(|(_, name)| name).collect()
}

/// How many letters must be inserted, deleted, replaced or exchanged with their neighbour
/// (optimal string alignment). Words longer than 64 letters are not compared.
fn distance(left: &str, right: &str) -> usize {
    let a: Vec<char> = left.chars().take(65).collect();
    let b: Vec<char> = right.chars().take(65).collect();
    if a.len() > 64 || b.len() > 64 {
        return usize::MAX;
    }
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let substitution = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut cost = substitution.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                cost = cost.min(before[j - 2] + 1);
            }
            row.push(cost);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_come_first() {
        let fields = ["length", "spans"];
        assert_eq!(nearest("lenght", fields.into_iter()), ["length"]);
        assert!(nearest("colour", fields.into_iter()).is_empty());
    }

    #[test]
    fn letters_exchanged_count_once() {
        assert_eq!(distance("lenght", "length"), 1);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("web", "web"), 0);
    }
}

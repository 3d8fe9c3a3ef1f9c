//! Names that are other names in the new version.

use std::collections::BTreeMap;

use smol_str::SmolStr;

/// New names by old names.
pub(crate) type Names = BTreeMap<SmolStr, SmolStr>;

/// The renames that matter in one file.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Renames {
    /// Names of the file.
    pub(crate) file: Names,
    /// Names inside a block, by the block's new name.
    pub(crate) inner: BTreeMap<SmolStr, Names>,
    /// The renames of files that this one uses, by the name that stands for the file.
    pub(crate) used: BTreeMap<SmolStr, Renames>,
}

impl Renames {
    pub(crate) fn is_empty(&self) -> bool {
        self.file.is_empty() && self.inner.is_empty() && self.used.is_empty()
    }

    /// The words of a line with every name as it is in the new version. `block` is the new name of
    /// the block that the line stands in.
    pub(crate) fn apply(&self, words: &[SmolStr], block: Option<&str>) -> Vec<SmolStr> {
        let mut out: Vec<SmolStr> = Vec::with_capacity(words.len());
        let mut at = 0;
        let mut searched = None;
        while let Some(word) = words.get(at) {
            let before = at.checked_sub(1).and_then(|before| words.get(before));
            searched = self.searched(words, at).or(searched);
            let is_inner = matches!(before.map(SmolStr::as_str), Some("largest" | "under"));
            if let Some(name) = searched
                .filter(|_| is_inner)
                .and_then(|names| names.get(word))
            {
                out.push(name.clone());
                at += 1;
                continue;
            }
            let end = path_end(words, at);
            if end == at {
                out.push(word.clone());
                at += 1;
                continue;
            }
            let path: Vec<&SmolStr> = (at..end).step_by(2).filter_map(|i| words.get(i)).collect();
            for (index, name) in self.path(&path, block).into_iter().enumerate() {
                if index > 0 {
                    out.push(SmolStr::new_static("."));
                }
                out.push(name);
            }
            at = end;
        }
        out
    }

    /// The names inside the block that a search looks at, where one begins at a word:
    /// `largest CASE of BLOCK under COMBINATION`.
    fn searched(&self, words: &[SmolStr], at: usize) -> Option<&Names> {
        if words.get(at)? != "largest" || words.get(at + 2)? != "of" {
            return None;
        }
        let end = path_end(words, at + 3);
        let path: Vec<&SmolStr> = (at + 3..end)
            .step_by(2)
            .filter_map(|i| words.get(i))
            .collect();
        match path.as_slice() {
            [file, block] => self.used.get(*file)?.inside(block),
            [block] => self.inside(block),
            _ => None,
        }
    }

    /// The renames inside a block, by its old name.
    fn inside(&self, block: &SmolStr) -> Option<&Names> {
        self.inner.get(self.file.get(block).unwrap_or(block))
    }

    /// A dotted name as it is in the new version.
    pub(crate) fn path(&self, path: &[&SmolStr], block: Option<&str>) -> Vec<SmolStr> {
        let Some((first, rest)) = path.split_first() else {
            return Vec::new();
        };
        if let Some(used) = self.used.get(*first).filter(|_| !rest.is_empty()) {
            let mut names = vec![(*first).clone()];
            names.extend(used.path(rest, None));
            return names;
        }
        let inner = block.and_then(|block| self.inner.get(block));
        if let Some(name) = inner.and_then(|names| names.get(*first)) {
            let mut names = vec![name.clone()];
            names.extend(rest.iter().map(|name| (*name).clone()));
            return names;
        }
        let first = self.file.get(*first).unwrap_or(first);
        let inner = self.inner.get(first);
        let mut names = vec![first.clone()];
        names.extend(rest.iter().enumerate().map(|(index, name)| {
            let new = inner
                .filter(|_| index == 0)
                .and_then(|names| names.get(*name));
            new.unwrap_or(name).clone()
        }));
        names
    }
}

fn is_name(word: &SmolStr) -> bool {
    word.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// Where the dotted name that begins at a word ends; the word itself where it is no name.
fn path_end(words: &[SmolStr], at: usize) -> usize {
    if !words.get(at).is_some_and(is_name) {
        return at;
    }
    let mut end = at + 1;
    while words.get(end).is_some_and(|word| word == ".") && words.get(end + 1).is_some_and(is_name)
    {
        end += 2;
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(pairs: &[(&str, &str)]) -> Names {
        pairs
            .iter()
            .map(|(a, b)| ((*a).into(), (*b).into()))
            .collect()
    }

    #[test]
    fn names_are_replaced_where_they_stand_for_the_thing() {
        let shop = Renames {
            file: names(&[("thin", "slender")]),
            ..Renames::default()
        };
        let renames = Renames {
            file: names(&[("y", "arm"), ("rail", "girder")]),
            inner: [("girder".into(), names(&[("stem", "web")]))].into(),
            used: [("shop".into(), shop)].into(),
        };
        let check = |line: &str, block: Option<&str>, expected: &str| {
            let words: Vec<SmolStr> = line.split(' ').map(SmolStr::from).collect();
            assert_eq!(renames.apply(&words, block).join(" "), expected);
        };
        check(
            "a = y * rail . stem . area",
            None,
            "a = arm * girder . web . area",
        );
        check("a = other . y", None, "a = other . y");
        check(
            "rect stem shop . thin",
            Some("girder"),
            "rect web shop . slender",
        );
        check("rect stem 3 mm", Some("bar"), "rect stem 3 mm");
        check(
            "P = largest stem of rail under stem",
            None,
            "P = largest web of girder under web",
        );
        check("P = largest stem of bar", None, "P = largest stem of bar");
    }
}

//! Which line of one version of a file is which line of the other.
//!
//! Within a block, or among the lines of the first column: lines that say the same are the same line,
//! wherever they stand; then lines of one name, or of one kind and subject; then a name that went and
//! one that came with the same body, which is a rename; last, lines without a name that are alike. A
//! rename counts in all lines that use the name, so that these say the same again.

use std::collections::BTreeMap;
use std::rc::Rc;

use smol_str::SmolStr;

use crate::lines::Line;
use crate::renames::Renames;

/// Lines without a name are one line changed where at least this share of their words is the same.
const ALIKE: f64 = 0.6;
/// A heading with another name is the same block where at least this share of its lines is the same.
const SAME_BLOCK: f64 = 0.5;

/// The lines of two versions of a file side by side.
#[derive(Debug)]
pub(crate) struct Matched {
    /// The new line of each old one.
    pub(crate) new_of: Vec<Option<usize>>,
    /// The old line of each new one.
    pub(crate) old_of: Vec<Option<usize>>,
    pub(crate) renames: Renames,
}

/// Puts the lines side by side. `renames` are those of the files that this one uses.
pub(crate) fn matched(old: &[Line], new: &[Line], renames: Renames) -> Matched {
    let mut matching = Matching {
        old,
        new,
        found: Matched {
            new_of: vec![None; old.len()],
            old_of: vec![None; new.len()],
            renames,
        },
    };
    loop {
        matching.same_and_keyed(None, None);
        for at in 0..old.len() {
            if let Some(to) = matching.found.new_of.get(at).copied().flatten() {
                matching.same_and_keyed(Some(at), Some(to));
            }
        }
        if !matching.find_renames() {
            break;
        }
    }
    matching.alike(None, None);
    for at in 0..old.len() {
        if let Some(to) = matching.found.new_of.get(at).copied().flatten() {
            matching.alike(Some(at), Some(to));
        }
    }
    matching.found
}

struct Matching<'a> {
    old: &'a [Line],
    new: &'a [Line],
    found: Matched,
}

impl Matching<'_> {
    fn pair(&mut self, old: usize, new: usize) {
        if let (Some(a), Some(b)) = (
            self.found.new_of.get_mut(old),
            self.found.old_of.get_mut(new),
        ) {
            *a = Some(new);
            *b = Some(old);
        }
    }

    /// Lines under a heading (or in the first column) that have no partner.
    fn free_old(&self, under: Option<usize>) -> Vec<usize> {
        free(self.old, &self.found.new_of, under)
    }

    fn free_new(&self, under: Option<usize>) -> Vec<usize> {
        free(self.new, &self.found.old_of, under)
    }

    /// The new name of the block of an old line's partner's heading.
    fn block(&self, heading: Option<usize>) -> Option<&SmolStr> {
        Some(&self.new.get(heading?)?.name.as_ref()?.0)
    }

    /// What an old line says in the names of the new version.
    fn said(&self, old: usize, under: Option<usize>) -> String {
        let Some(line) = self.old.get(old) else {
            return String::new();
        };
        if self.found.renames.is_empty() {
            return line.text();
        }
        let block = self.block(under).map(SmolStr::as_str);
        self.found.renames.apply(&line.words, block).join(" ")
    }

    /// Pairs the first lines under a heading as long as they are the very same in both versions, which
    /// costs no look at their words.
    fn unchanged(&mut self, old_under: Option<usize>, new_under: Option<usize>) {
        if !self.found.renames.is_empty() {
            return;
        }
        let both = self.free_old(old_under).into_iter();
        for (at, to) in both.zip(self.free_new(new_under)) {
            let is_same = |(old, new): (&Line, &Line)| Rc::ptr_eq(&old.words, &new.words);
            let lines = self.old.get(at).zip(self.new.get(to));
            if !lines.is_some_and(is_same) {
                return;
            }
            self.pair(at, to);
        }
    }

    fn same_and_keyed(&mut self, old_under: Option<usize>, new_under: Option<usize>) {
        self.unchanged(old_under, new_under);
        let texts: Vec<(usize, String)> = self
            .free_old(old_under)
            .into_iter()
            .map(|at| (at, self.said(at, new_under)))
            .collect();
        if texts.is_empty() {
            return;
        }
        let mut by_text: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for at in self.free_new(new_under).into_iter().rev() {
            if let Some(line) = self.new.get(at) {
                by_text.entry(line.text()).or_default().push(at);
            }
        }
        for (at, text) in texts {
            if let Some(to) = by_text.get_mut(&text).and_then(Vec::pop) {
                self.pair(at, to);
            }
        }
        let mut by_key: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        let new = self.new;
        for at in self.free_new(new_under).into_iter().rev() {
            if let Some(key) = new.get(at).and_then(|line| line.key.as_deref()) {
                by_key.entry(key).or_default().push(at);
            }
        }
        let old = self.old;
        for at in self.free_old(old_under) {
            let key = old.get(at).and_then(|line| line.key.as_deref());
            if let Some(to) = key.and_then(|key| by_key.get_mut(key)).and_then(Vec::pop) {
                self.pair(at, to);
            }
        }
    }

    /// Names that went and came with the same body. Returns whether any were found.
    fn find_renames(&mut self) -> bool {
        let mut found = self.rename_lines(None, None);
        found |= self.rename_blocks();
        for at in 0..self.old.len() {
            if let Some(to) = self.found.new_of.get(at).copied().flatten() {
                found |= self.rename_lines(Some(at), Some(to));
            }
        }
        found
    }

    fn rename_lines(&mut self, old_under: Option<usize>, new_under: Option<usize>) -> bool {
        let mut came: Vec<(usize, String)> = self
            .free_new(new_under)
            .into_iter()
            .filter(|&at| self.new.get(at).is_some_and(|line| !line.is_heading))
            .filter_map(|at| Some((at, nameless(self.new.get(at)?)?)))
            .collect();
        let mut found = false;
        if came.is_empty() {
            return false;
        }
        for at in self.free_old(old_under) {
            let Some(line) = self.old.get(at).filter(|line| !line.is_heading) else {
                continue;
            };
            let Some((name, place)) = line.gives() else {
                continue;
            };
            let block = self.block(new_under).map(SmolStr::as_str);
            let mut words = self.found.renames.apply(&line.words, block);
            if let Some(word) = words.get_mut(*place) {
                *word = SmolStr::default();
            }
            let body = words.join(" ");
            let alike = came.iter().position(|(to, text)| {
                *text == body
                    && self.is_used_alike(at, name, *to, old_under.is_some())
                    && self.is_other_case(at, *to)
            });
            let Some(index) = alike else { continue };
            let (to, _) = came.remove(index);
            let Some((new_name, _)) = self.new.get(to).and_then(|line| line.gives().cloned())
            else {
                continue;
            };
            let renames = match self.block(new_under).cloned() {
                Some(block) => self.found.renames.inner.entry(block).or_default(),
                None => &mut self.found.renames.file,
            };
            renames.insert(name.clone(), new_name);
            self.pair(at, to);
            found = true;
        }
        found
    }

    /// A load case is another one by name only where nothing is left under its old name, and nothing was
    /// under its new one.
    fn is_other_case(&self, old: usize, new: usize) -> bool {
        let (Some(was), Some(is)) = (self.old.get(old), self.new.get(new)) else {
            return false;
        };
        let has = |lines: &[Line], heading: Option<usize>, name: &SmolStr| {
            let own = lines.iter().filter(|line| line.heading == heading);
            let mut cases = own.filter_map(|line| line.case.as_ref());
            cases.any(|(case, _)| case == name)
        };
        match (&was.case, &is.case) {
            (None, None) => true,
            (Some((from, _)), Some((to, _))) => {
                !has(self.new, is.heading, from) && !has(self.old, was.heading, to)
            }
            _ => false,
        }
    }

    /// A name that is used and one that is not are not the same thing under two names.
    fn is_used_alike(&self, old: usize, old_name: &SmolStr, new: usize, in_block: bool) -> bool {
        let Some((new_name, _)) = self.new.get(new).and_then(Line::gives) else {
            return false;
        };
        let uses = |lines: &[Line], own: usize, name: &SmolStr| {
            let others = lines.iter().enumerate().filter(|(at, _)| *at != own);
            others
                .flat_map(|(_, line)| line.words.iter())
                .any(|word| word == name)
        };
        in_block || uses(self.old, old, old_name) == uses(self.new, new, new_name)
    }

    fn rename_blocks(&mut self) -> bool {
        let is_heading = |lines: &[Line], at: usize| {
            lines
                .get(at)
                .is_some_and(|line| line.is_heading && line.name.is_some())
        };
        let mut found = false;
        for at in self.free_old(None) {
            if !is_heading(self.old, at) {
                continue;
            }
            let mut best: Option<(usize, f64)> = None;
            for to in self.free_new(None) {
                if !is_heading(self.new, to) || !self.same_kind(at, to) {
                    continue;
                }
                let share = self.shared_lines(at, to);
                if share >= SAME_BLOCK && best.is_none_or(|(_, most)| share > most) {
                    best = Some((to, share));
                }
            }
            if let Some((to, _)) = best
                && let (Some((old, _)), Some((new, _))) = (
                    self.old.get(at).and_then(|line| line.name.clone()),
                    self.new.get(to).and_then(|line| line.name.clone()),
                )
            {
                self.found.renames.file.insert(old, new);
                self.pair(at, to);
                found = true;
            }
        }
        found
    }

    fn same_kind(&self, old: usize, new: usize) -> bool {
        let first =
            |lines: &[Line], at: usize| lines.get(at).and_then(|l| l.words.first().cloned());
        first(self.old, old) == first(self.new, new)
    }

    /// The share of lines under two headings that say the same.
    fn shared_lines(&self, old: usize, new: usize) -> f64 {
        let texts: Vec<String> = self
            .free_old(Some(old))
            .into_iter()
            .map(|at| self.said(at, Some(new)))
            .collect();
        let mut others: Vec<String> = self
            .free_new(Some(new))
            .into_iter()
            .filter_map(|at| Some(self.new.get(at)?.text()))
            .collect();
        let all = texts.len() + others.len();
        let mut same = 0;
        for text in texts {
            if let Some(at) = others.iter().position(|other| *other == text) {
                others.swap_remove(at);
                same += 1;
            }
        }
        if all == 0 {
            0.0
        } else {
            2.0 * f64::from(same) / all as f64
        }
    }

    /// Lines of one subject without a name, the most alike first.
    fn alike(&mut self, old_under: Option<usize>, new_under: Option<usize>) {
        let free_new = self.free_new(new_under);
        let mut candidates: Vec<(f64, usize, usize)> = Vec::new();
        for at in self.free_old(old_under) {
            for &to in &free_new {
                let (Some(a), Some(b)) = (self.old.get(at), self.new.get(to)) else {
                    continue;
                };
                if a.subject != b.subject || a.name.is_some() || b.name.is_some() {
                    continue;
                }
                let share = shared_words(&a.words, &b.words);
                if share >= ALIKE {
                    candidates.push((share, at, to));
                }
            }
        }
        candidates.sort_by(|a, b| b.0.total_cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
        for (_, at, to) in candidates {
            let is_free =
                |list: &[Option<usize>], at: usize| list.get(at).is_some_and(Option::is_none);
            if is_free(&self.found.new_of, at) && is_free(&self.found.old_of, to) {
                self.pair(at, to);
            }
        }
    }
}

fn free(lines: &[Line], partner: &[Option<usize>], under: Option<usize>) -> Vec<usize> {
    // Lines under a heading follow it directly.
    let from = under.map_or(0, |at| at + 1);
    let rest = lines.iter().enumerate().skip(from);
    rest.take_while(|(_, line)| under.is_none() || line.heading.is_some())
        .filter(|(at, line)| line.heading == under && partner.get(*at).is_some_and(Option::is_none))
        .map(|(at, _)| at)
        .collect()
}

/// What a line says without its own name.
fn nameless(line: &Line) -> Option<String> {
    let (_, place) = line.gives()?;
    let mut words = line.words.to_vec();
    *words.get_mut(*place)? = SmolStr::default();
    Some(words.join(" "))
}

/// Twice the number of words in common over the number of all words (Dice's coefficient).
fn shared_words(a: &[SmolStr], b: &[SmolStr]) -> f64 {
    let mut rest: Vec<&SmolStr> = b.iter().collect();
    let mut same = 0_u32;
    for word in a {
        if let Some(at) = rest.iter().position(|other| *other == word) {
            rest.swap_remove(at);
            same += 1;
        }
    }
    let all = a.len() + b.len();
    if all == 0 {
        0.0
    } else {
        2.0 * f64::from(same) / all as f64
    }
}

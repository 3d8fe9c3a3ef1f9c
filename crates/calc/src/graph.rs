//! Who defines a name and who reads it.
//!
//! Readers are kept by the first name of what they read, per file; each reader's own list says
//! which line provides it. That is enough to follow a change to exactly the lines that use it.

use std::sync::Arc;

use haunch_syntax::{BlockKind, Statement};
use imbl::hashmap::Entry;
use smol_str::SmolStr;

use crate::finding::Place;
use crate::line::{FileId, LineId};
use crate::outcome::Read;
use crate::state::{Cell, Map, State};

/// Where a name is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Scope {
    /// In a whole file.
    File(FileId),
    /// In the block under this heading.
    Block(LineId),
}

/// A name where it is known.
pub(crate) type Key = (Scope, SmolStr);

/// Definitions and readers, with the lines of each key sorted by id.
#[derive(Debug, Clone, Default)]
pub(crate) struct Graph {
    definitions: Map<Key, Lines>,
    readers: Map<(FileId, SmolStr), Lines>,
    /// Readers of paths by their first two names: of what one line of a block gives.
    member_readers: Map<(FileId, SmolStr, SmolStr), Lines>,
    /// `use` lines by the file they name.
    users: Map<FileId, Lines>,
    /// The first places of each name that is given several times.
    several: Map<Key, Arc<[Place]>>,
}

/// The lines of a key, sorted. Most names have one definition, and many one reader.
#[derive(Debug, Clone)]
pub(crate) enum Lines {
    One(LineId),
    Several(Arc<Vec<LineId>>),
}

impl Lines {
    fn as_slice(&self) -> &[LineId] {
        match self {
            Lines::One(line) => std::slice::from_ref(line),
            Lines::Several(lines) => lines,
        }
    }
}

pub(crate) fn insert<K: std::hash::Hash + Eq + Clone>(
    map: &mut Map<K, Lines>,
    key: K,
    line: LineId,
) {
    match map.entry(key) {
        Entry::Vacant(entry) => {
            entry.insert(Lines::One(line));
        }
        Entry::Occupied(mut entry) => {
            let lines = entry.get_mut();
            let Err(at) = lines.as_slice().binary_search(&line) else {
                return;
            };
            match lines {
                Lines::One(one) => {
                    let mut several = vec![*one];
                    several.insert(at, line);
                    *lines = Lines::Several(Arc::new(several));
                }
                Lines::Several(several) => Arc::make_mut(several).insert(at, line),
            }
        }
    }
}

pub(crate) fn remove<K: std::hash::Hash + Eq + Clone>(
    map: &mut Map<K, Lines>,
    key: &K,
    line: LineId,
) {
    let Some(lines) = map.get_mut(key) else {
        return;
    };
    match lines {
        Lines::One(one) if *one == line => {
            map.remove(key);
        }
        Lines::One(_) => {}
        Lines::Several(several) => {
            let Ok(at) = several.binary_search(&line) else {
                return;
            };
            let several = Arc::make_mut(several);
            several.remove(at);
            if let [one] = several.as_slice() {
                *lines = Lines::One(*one);
            }
        }
    }
}

pub(crate) fn lines_of<'a, K: std::hash::Hash + Eq>(
    map: &'a Map<K, Lines>,
    key: &K,
) -> &'a [LineId] {
    map.get(key).map_or(&[], Lines::as_slice)
}

impl Graph {
    pub(crate) fn definitions(&self, scope: Scope, name: &SmolStr) -> &[LineId] {
        lines_of(&self.definitions, &(scope, name.clone()))
    }

    /// Every name known in a scope, with the lines that define it. Walks all names: only for requests.
    pub(crate) fn names(&self, scope: Scope) -> impl Iterator<Item = (&SmolStr, &[LineId])> {
        self.definitions
            .iter()
            .filter(move |((known, _), _)| *known == scope)
            .map(|((_, name), lines)| (name, lines.as_slice()))
    }

    pub(crate) fn readers(&self, file: FileId, name: &SmolStr) -> &[LineId] {
        lines_of(&self.readers, &(file, name.clone()))
    }

    /// The lines in which a block's name stands with one of its members.
    pub(crate) fn member_readers(
        &self,
        file: FileId,
        block: &SmolStr,
        member: &SmolStr,
    ) -> &[LineId] {
        lines_of(&self.member_readers, &(file, block.clone(), member.clone()))
    }

    pub(crate) fn users(&self, file: FileId) -> &[LineId] {
        lines_of(&self.users, &file)
    }

    pub(crate) fn define(&mut self, key: Key, line: LineId) {
        insert(&mut self.definitions, key, line);
    }

    pub(crate) fn undefine(&mut self, key: &Key, line: LineId) {
        remove(&mut self.definitions, key, line);
    }

    pub(crate) fn several(&self, key: &Key) -> Option<&Arc<[Place]>> {
        self.several.get(key)
    }

    pub(crate) fn set_several(&mut self, key: &Key, places: Option<Arc<[Place]>>) {
        match places {
            Some(places) => self.several.insert(key.clone(), places),
            None => self.several.remove(key),
        };
    }

    pub(crate) fn add_user(&mut self, file: FileId, line: LineId) {
        insert(&mut self.users, file, line);
    }

    pub(crate) fn remove_user(&mut self, file: FileId, line: LineId) {
        remove(&mut self.users, &file, line);
    }

    pub(crate) fn add_read(&mut self, read: &Read, line: LineId) {
        for key in read.keys() {
            insert(&mut self.readers, key, line);
        }
        if let Some(key) = read.member_key() {
            insert(&mut self.member_readers, key, line);
        }
    }

    pub(crate) fn remove_read(&mut self, read: &Read, line: LineId) {
        for key in read.keys() {
            remove(&mut self.readers, &key, line);
        }
        if let Some(key) = read.member_key() {
            remove(&mut self.member_readers, &key, line);
        }
    }
}

/// The name under which a `use` line makes a file known: its alias, or the file's stem where that
/// can be a name.
pub(crate) fn use_alias(statement: &Statement) -> Option<SmolStr> {
    let Statement::Use(line) = statement else {
        return None;
    };
    if let Some(alias) = &line.alias {
        return Some(alias.text.clone());
    }
    let file = line.path.text.rsplit(['/', '\\']).next().unwrap_or("");
    let stem = file.strip_suffix(".haunch").unwrap_or(file);
    is_name(stem).then(|| stem.into())
}

/// Whether a line could give a value to this name.
fn is_name(text: &str) -> bool {
    let tree = haunch_syntax::read_line(&format!("{text} = 1"), haunch_quantity::is_unit_word);
    matches!(tree.statement, Statement::Value(value) if value.name.text == text)
}

impl State {
    /// The names that a line defines, with where they are known.
    pub(crate) fn defined_by(&self, cell: &Cell) -> Option<Key> {
        let in_block = || {
            let owner = cell.owner?;
            self.cell(owner)
                .filter(|o| o.block_kind().is_some() || o.is_broken_owner())
                .map(|_| Scope::Block(owner))
        };
        let scope = |is_under: bool| {
            if is_under {
                in_block()
            } else {
                Some(Scope::File(cell.file))
            }
        };
        let is_under = cell.tree.belongs_to_block();
        match &cell.tree.statement {
            Statement::Value(value) => Some((scope(is_under)?, value.name.text.clone())),
            Statement::Formula(formula) => Some((scope(is_under)?, formula.name.text.clone())),
            Statement::Heading(heading) if !is_under => {
                Some((Scope::File(cell.file), heading.name.as_ref()?.text.clone()))
            }
            statement @ Statement::Use(_) if !is_under => {
                Some((Scope::File(cell.file), use_alias(statement)?))
            }
            Statement::Part(part) if is_under => Some((in_block()?, part.name.text.clone())),
            Statement::Point(point) if is_under => Some((in_block()?, point.name.text.clone())),
            Statement::Support(support) if is_under => {
                Some((in_block()?, support.name.as_ref()?.text.clone()))
            }
            Statement::Combination(combination) if is_under => {
                Some((in_block()?, combination.name.text.clone()))
            }
            // Several loads may be of one case, so that none of them defines it.
            Statement::Broken {
                keyword: Some(keyword),
                ..
            } if is_under && keyword.text == "load" => None,
            Statement::Broken {
                name: Some(name), ..
            } => Some((scope(is_under)?, name.text.clone())),
            _ => None,
        }
    }

    /// The kind of the block that a line stands in.
    pub(crate) fn block_of(&self, cell: &Cell) -> Option<(LineId, BlockKind)> {
        if !cell.tree.belongs_to_block() {
            return None;
        }
        let owner = cell.owner?;
        Some((owner, self.cell(owner)?.block_kind()?))
    }
}

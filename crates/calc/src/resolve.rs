//! What a name or dotted path stands for.

use haunch_syntax::Statement;
use smol_str::SmolStr;

use crate::graph::{Key, Scope};
use crate::line::{FileId, LineId};
use crate::outcome::Read;
use crate::state::State;

/// What a path stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Target {
    /// No definition of its first name (after any `use` name).
    Undefined,
    /// A name with more than one definition.
    Several(Key),
    /// A line that could not be read.
    Broken(LineId),
    /// A value or formula, in the file or as a field of a block.
    Line(LineId),
    /// A member of a value, which has none.
    NoMember(LineId),
    /// A size of a part, known from the part's line alone.
    PartSize {
        /// The part's line.
        part: LineId,
        /// `width`, `depth` …
        member: SmolStr,
    },
    /// A line of a block that gives a name but no value of its own: a part, a point, a combination.
    BlockLine(LineId),
    /// A result of a block: the names after the block's, joined by dots. Empty for the block itself.
    Block {
        /// The heading.
        heading: LineId,
        /// The result.
        member: SmolStr,
    },
    /// A file, by the name of its `use` line.
    File(FileId),
    /// A name of a file whose text is not known.
    FileMissing(LineId),
}

/// A path with what it stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Resolved {
    pub(crate) target: Target,
    pub(crate) read: Read,
}

impl State {
    /// Resolves a path as written in `file`.
    pub(crate) fn resolve(&self, file: FileId, names: &[SmolStr]) -> Resolved {
        let mut read = Read {
            file,
            names: names.to_vec(),
            through: None,
            provider: None,
        };
        let target = self.target(file, names, &mut read);
        read.provider = match &target {
            Target::Line(line)
            | Target::NoMember(line)
            | Target::Broken(line)
            | Target::BlockLine(line)
            | Target::FileMissing(line) => Some(*line),
            Target::PartSize { part, .. } => Some(*part),
            Target::Block { heading, .. } => Some(*heading),
            Target::Undefined | Target::Several(_) | Target::File(_) => None,
        };
        Resolved { target, read }
    }

    fn target(&self, file: FileId, names: &[SmolStr], read: &mut Read) -> Target {
        let Some((first, rest)) = names.split_first() else {
            return Target::Undefined;
        };
        let line = match self.graph.definitions(Scope::File(file), first) {
            [] => return Target::Undefined,
            [line] => *line,
            _ => return Target::Several((Scope::File(file), first.clone())),
        };
        let Some(cell) = self.cell(line) else {
            return Target::Undefined;
        };
        match &cell.tree.statement {
            Statement::Use(_) => match self.used_file(line) {
                Some(used) if self.file(used).is_some_and(|f| f.present) => {
                    if rest.is_empty() || read.through.is_some() {
                        return Target::File(used);
                    }
                    read.through = Some((file, first.clone()));
                    read.file = used;
                    read.names = rest.to_vec();
                    self.target(used, rest, read)
                }
                _ => Target::FileMissing(line),
            },
            Statement::Heading(_) => self.in_block(line, rest),
            Statement::Broken { .. } => Target::Broken(line),
            _ if rest.is_empty() => Target::Line(line),
            _ => Target::NoMember(line),
        }
    }

    fn in_block(&self, heading: LineId, rest: &[SmolStr]) -> Target {
        let whole = || Target::Block {
            heading,
            member: rest.join(".").into(),
        };
        let Some(member) = rest.first() else {
            return whole();
        };
        let line = match self.graph.definitions(Scope::Block(heading), member) {
            [] => return whole(),
            [line] => *line,
            _ => return Target::Several((Scope::Block(heading), member.clone())),
        };
        let statement = self.cell(line).map(|cell| &cell.tree.statement);
        match (statement, rest.get(1)) {
            (Some(Statement::Value(_) | Statement::Formula(_)), None) => Target::Line(line),
            (Some(Statement::Value(_) | Statement::Formula(_)), Some(_)) => Target::NoMember(line),
            (Some(Statement::Part(_)), Some(own))
                if crate::blocks::part_sizes::MEMBERS.contains(&own.as_str())
                    && rest.len() == 2 =>
            {
                Target::PartSize {
                    part: line,
                    member: own.clone(),
                }
            }
            (Some(Statement::Broken { .. }), _) => Target::Broken(line),
            (Some(Statement::Support(_)), None) => whole(),
            (Some(_), None) => Target::BlockLine(line),
            (Some(_), Some(_)) => whole(),
            (None, _) => Target::Undefined,
        }
    }

    /// The file that a `use` line names, relative to the file that it stands in.
    pub(crate) fn used_file(&self, line: LineId) -> Option<FileId> {
        let cell = self.cell(line)?;
        let path = self.used_path(&cell.tree.statement, cell.file)?;
        self.paths.get(path.as_str()).copied()
    }

    /// The path that a `use` line names: relative to the folder of the file that it stands in,
    /// `.` and `..` worked out in the text alone.
    pub(crate) fn used_path(&self, statement: &Statement, file: FileId) -> Option<String> {
        let Statement::Use(line) = statement else {
            return None;
        };
        let base = &self.file(file)?.path;
        Some(join_path(base, &line.path.text))
    }
}

/// `other` as seen from the folder of `base`. The scheme and host of an address stay in front.
pub(crate) fn join_path(base: &str, other: &str) -> String {
    if let Some(at) = base.find("://") {
        let path = base[at + 3..]
            .find('/')
            .map_or(base.len(), |slash| at + 3 + slash);
        return format!("{}{}", &base[..path], join_path(&base[path..], other));
    }
    let is_absolute = other.starts_with('/') || other.contains(':');
    let mut parts: Vec<&str> = Vec::new();
    let folder = match base.rfind('/') {
        Some(at) if !is_absolute => &base[..at],
        _ => "",
    };
    let rooted = base.starts_with('/') && !is_absolute || other.starts_with('/');
    for part in folder.split('/').chain(other.split('/')) {
        match part {
            "" | "." => {}
            ".." if parts.last().is_some_and(|p| *p != "..") => {
                parts.pop();
            }
            part => parts.push(part),
        }
    }
    let joined = parts.join("/");
    if rooted { format!("/{joined}") } else { joined }
}

#[cfg(test)]
mod tests {
    use super::join_path;

    #[test]
    fn paths_are_joined_in_the_text_alone() {
        assert_eq!(join_path("/a/b.haunch", "c.haunch"), "/a/c.haunch");
        assert_eq!(join_path("/a/b/c.haunch", "../d.haunch"), "/a/d.haunch");
        assert_eq!(join_path("b.haunch", "../d.haunch"), "../d.haunch");
        assert_eq!(join_path("x/b.haunch", "./d.haunch"), "x/d.haunch");
        assert_eq!(join_path("/a/b.haunch", "/d.haunch"), "/d.haunch");
    }

    #[test]
    fn a_file_address_keeps_its_scheme() {
        assert_eq!(
            join_path("file:///a/b.haunch", "c.haunch"),
            "file:///a/c.haunch"
        );
        assert_eq!(
            join_path("file://server/share/b.haunch", "../c.haunch"),
            "file://server/c.haunch"
        );
        assert_eq!(join_path("untitled:Untitled-1", "c.haunch"), "c.haunch");
    }
}

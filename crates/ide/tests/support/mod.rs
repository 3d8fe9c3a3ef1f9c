//! Files as fixtures, and features shown in their text.
#![allow(dead_code, reason = "each test file uses its own part")]

use haunch_calc::{Change, FileId, Host, Snapshot};
use haunch_text::{Position, Range};

/// The files of a fixture; the cursor is that of the file that has one.
pub(crate) struct Opened {
    pub(crate) snapshot: Snapshot,
    pub(crate) file: FileId,
    pub(crate) cursor: Position,
    pub(crate) marks: Vec<Range>,
}

#[track_caller]
pub(crate) fn open(text: &str) -> Opened {
    let files = haunch_testkit::fixture(text);
    let mut host = Host::new();
    for file in &files {
        let path = file.name.clone();
        host.apply(Change::SetText {
            path,
            text: file.text.clone(),
        });
    }
    let main = files
        .iter()
        .find(|file| file.cursor.is_some())
        .unwrap_or(&files[0]);
    let snapshot = host.snapshot();
    Opened {
        file: snapshot.file(&main.name).expect("it was given"),
        snapshot,
        cursor: main.cursor.unwrap_or_default(),
        marks: files.iter().flat_map(|file| file.marks.clone()).collect(),
    }
}

impl Opened {
    /// The text of a file with its hints between ⟨ and ⟩.
    pub(crate) fn with_hints(&self) -> String {
        let count = self.snapshot.line_count(self.file);
        let hints = haunch_ide::hints(&self.snapshot, self.file, 0..count, &|| false);
        let mut lines: Vec<String> = (0..count)
            .map(|number| self.snapshot.physical_line(self.file, number).to_owned())
            .collect();
        for hint in hints.iter().rev() {
            let label = format!("⟨{}⟩", hint.label);
            lines[hint.at.line as usize].insert_str(hint.at.column as usize, &label);
        }
        lines.concat()
    }

    pub(crate) fn hover(&self) -> Option<String> {
        let hover = haunch_ide::hover(&self.snapshot, self.file, self.cursor)?;
        Some(hover.markdown)
    }

    pub(crate) fn completions(&self) -> Vec<String> {
        let found = haunch_ide::completions(&self.snapshot, self.file, self.cursor).items;
        found
            .into_iter()
            .map(|completion| completion.text)
            .collect()
    }

    /// The text that a range covers, if it lies in one line.
    pub(crate) fn text(&self, file: FileId, range: Range) -> &str {
        let line = self.snapshot.physical_line(file, range.start.line as usize);
        &line[range.start.column as usize..range.end.column as usize]
    }
}

//! `haunch baseline` and `haunch check --baseline`: results on record in a text that can be committed. It names
//! files as they are found from its own folder, so that it says the same wherever the program is started.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Component, Path, PathBuf};

use haunch_calc::Snapshot;
use haunch_review::baseline::{Baseline, Results, results};

use crate::arguments::Recorded;
use crate::sources::spelled;
use crate::{DOES_NOT_HOLD, HOLDS, NOT_DONE};

/// Writes the results of files on record. Results of other files on it stay, unless these are gone.
pub(crate) fn record(wanted: &Recorded, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let mut troubles = Vec::new();
    let (snapshot, files) = crate::check::computed(&wanted.paths, &mut troubles);
    if !troubles.is_empty() {
        for trouble in &troubles {
            // With standard error closed there is nobody left to tell.
            let _ = writeln!(err, "haunch: {trouble}");
        }
        let _ = writeln!(err, "haunch: nothing was written");
        return NOT_DONE;
    }
    let path = &wanted.output;
    let before = match std::fs::read_to_string(path) {
        Ok(text) => Baseline::read(&text),
        Err(failure) if failure.kind() == std::io::ErrorKind::NotFound => Baseline::default(),
        Err(failure) => {
            let _ = writeln!(
                err,
                "haunch: {} could not be read: {failure}",
                spelled(path)
            );
            return NOT_DONE;
        }
    };
    let record = Record::at(path);
    let (found, looked_at) = record.found(&snapshot, &files);
    let mut after = Baseline {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        results: before.results,
        unreadable: Vec::new(),
    };
    after
        .results
        .retain(|(file, _), _| !looked_at.contains(file) && record.has(file));
    after.results.extend(found);
    let count = after.results.len();
    let written = std::fs::write(path, after.write())
        .and_then(|()| writeln!(out, "wrote {count} results to {}", spelled(path)));
    match written {
        Ok(()) => HOLDS,
        Err(failure) => {
            let _ = writeln!(err, "haunch: {} was not written: {failure}", spelled(path));
            NOT_DONE
        }
    }
}

/// Compares the results of files with those on record; names each that differs.
pub(crate) fn drift(
    path: &Path,
    snapshot: &Snapshot,
    files: &[String],
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let text = match crate::sources::read(path) {
        Ok(text) => text,
        Err(trouble) => {
            let _ = writeln!(
                err,
                "haunch: {trouble}; `haunch baseline` writes results on record"
            );
            return NOT_DONE;
        }
    };
    let baseline = Baseline::read(&text);
    for line in &baseline.unreadable {
        let _ = writeln!(
            err,
            "haunch: {} line {line} is no result; `haunch baseline` writes the file again",
            spelled(path)
        );
    }
    let record = Record::at(path);
    let (found, looked_at) = record.found(snapshot, files);
    let is_looked_at = |file: &str| looked_at.contains(file) || !record.has(file);
    let drifts = baseline.drift(&found, is_looked_at);
    let version = env!("CARGO_PKG_VERSION");
    let mut said = String::new();
    for drift in &drifts {
        let text = |text: &Option<String>| text.clone().unwrap_or_else(|| "nothing".to_owned());
        said.push_str(&format!(
            "{}: {}  now {}; on record: {}\n",
            drift.file,
            drift.name,
            text(&drift.found),
            text(&drift.recorded),
        ));
    }
    said.push_str(&match drifts.len() {
        0 => format!("every result is as on record in {}\n", spelled(path)),
        1 => format!("1 result is not as on record in {}\n", spelled(path)),
        count => format!(
            "{count} results are not as on record in {}\n",
            spelled(path)
        ),
    });
    if !drifts.is_empty() && baseline.version != version {
        said.push_str(&format!(
            "the record was written by haunch {}, and this is {version}: where no line changed, that is why\n",
            baseline.version
        ));
    }
    match out.write_all(said.as_bytes()) {
        Err(_) => NOT_DONE,
        Ok(()) if !baseline.unreadable.is_empty() => NOT_DONE,
        Ok(()) if drifts.is_empty() => HOLDS,
        Ok(()) => DOES_NOT_HOLD,
    }
}

/// Where a record lies, and so how it names files.
struct Record {
    folder: PathBuf,
}

impl Record {
    fn at(path: &Path) -> Record {
        let parent = path.parent();
        let parent = parent.filter(|parent| !parent.as_os_str().is_empty());
        Record {
            folder: whole(parent.unwrap_or(Path::new("."))),
        }
    }

    /// The results of files under its names for them, and these names.
    fn found(&self, snapshot: &Snapshot, files: &[String]) -> (Results, BTreeSet<String>) {
        let mut found = Results::new();
        let mut names = BTreeSet::new();
        for path in files {
            let named = self.name_of(path);
            if let Some(file) = snapshot.file(path) {
                let own = results(snapshot, file).into_iter();
                found.extend(own.map(|((_, name), value)| ((named.clone(), name), value)));
            }
            names.insert(named);
        }
        (found, names)
    }

    /// Whether a file that it names is there.
    fn has(&self, name: &str) -> bool {
        self.folder.join(name).exists()
    }

    /// The path of a file from its folder.
    fn name_of(&self, file: &str) -> String {
        let file_path = whole(Path::new(file));
        let from: Vec<Component<'_>> = self.folder.components().collect();
        let to: Vec<Component<'_>> = file_path.components().collect();
        let shared = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
        if shared == 0 {
            return file.to_owned();
        }
        let up = from.iter().skip(shared).map(|_| Component::ParentDir);
        let path: PathBuf = up.chain(to.into_iter().skip(shared)).collect();
        spelled(&path)
    }
}

fn whole(path: &Path) -> PathBuf {
    path.canonicalize().unwrap_or_else(|_| path.to_path_buf())
}

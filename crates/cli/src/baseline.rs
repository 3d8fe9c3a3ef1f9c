//! `haunch baseline` and `haunch check --baseline`: results on record in a text that can be committed.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::Path;

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
    let found = found(&snapshot, &files);
    let mut after = Baseline {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        results: before.results,
        unreadable: Vec::new(),
    };
    after
        .results
        .retain(|(file, _), _| !files.contains(&plain(file)) && Path::new(file).exists());
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
            let _ = writeln!(err, "haunch: {trouble}");
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
    let looked_at: BTreeSet<String> = files.iter().map(|file| plain(file)).collect();
    let is_looked_at = |file: &str| looked_at.contains(file) || !Path::new(file).exists();
    let drifts = baseline.drift(&found(snapshot, files), is_looked_at);
    let version = env!("CARGO_PKG_VERSION");
    let mut said = String::new();
    for drift in &drifts {
        let text = |text: &Option<String>| text.clone().unwrap_or_else(|| "none".to_owned());
        said.push_str(&format!(
            "{}: {}  {} on record, {} found\n",
            drift.file,
            drift.name,
            text(&drift.recorded),
            text(&drift.found)
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

/// The results of files, under paths without a leading `./`.
fn found(snapshot: &Snapshot, files: &[String]) -> Results {
    let mut found = Results::new();
    for path in files {
        if let Some(file) = snapshot.file(path) {
            let own = results(snapshot, file).into_iter();
            found.extend(own.map(|((file, name), value)| ((plain(&file), name), value)));
        }
    }
    found
}

fn plain(path: &str) -> String {
    path.strip_prefix("./").unwrap_or(path).to_owned()
}

//! A `use` line whose file is not there.

use crate::finding::{Code, Finding, Place, Severity};

/// The code.
pub(crate) static CODE: Code = Code {
    name: "file-not-found",
    severity: Severity::Error,
    summary: "a file that is used could not be found",
    page: include_str!("pages/file-not-found.md"),
};

/// The file is not there.
pub(crate) fn finding(place: Place, path: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("the file {path} was not found beside this file. Check its name and folder."),
    )
}

/// The file's own name cannot be a name here.
pub(crate) fn no_name(place: Place, path: &str) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!("{path} cannot serve as a name. Give one: use \"{path}\" as NAME."),
    )
}

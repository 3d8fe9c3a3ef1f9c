//! Every file on the pages of the language reference and in the README's tutorial.

use std::fs;

use haunch_tests::page::cases;
use haunch_tests::repository;
use haunch_tests::verdict::disagreements;

#[track_caller]
fn check_page(path: &str) {
    let page = fs::read_to_string(repository(path)).expect("the page can be read");
    let folder = tempfile::tempdir().expect("a folder for the files");
    let cases = cases(&page);
    assert!(!cases.is_empty(), "{path} shows no file");
    let wrong: Vec<String> = cases
        .iter()
        .flat_map(|case| disagreements(case, folder.path()))
        .collect();
    assert!(wrong.is_empty(), "{path}\n  {}\n", wrong.join("\n  "));
}

macro_rules! pages {
    ($($name:ident $path:literal)*) => {
        $(#[test]
        fn $name() {
            check_page($path);
        })*

        /// A page that is added without a test would not be checked.
        #[test]
        fn every_page_is_listed() {
            let listed = [$($path),*];
            for entry in fs::read_dir(repository("tests/language")).expect("the folder is there") {
                let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
                let path = format!("tests/language/{name}");
                let has_files = name.ends_with(".md") && !matches!(name.as_str(), "README.md" | "layout.md" | "stability.md");
                assert!(!has_files || listed.contains(&path.as_str()), "{path} is not listed in {}", file!());
            }
        }
    };
}

pages! {
    lines_and_names "tests/language/lines-and-names.md"
    values "tests/language/values.md"
    quantities_and_units "tests/language/quantities-and-units.md"
    sections "tests/language/sections.md"
    forces "tests/language/forces.md"
    beams "tests/language/beams.md"
    checks "tests/language/checks.md"
    files_and_sheets "tests/language/files-and-sheets.md"
    safety "tests/language/safety.md"
    findings "tests/language/findings.md"
    formulas "tests/language/formulas.md"
    tutorial "README.md"
}

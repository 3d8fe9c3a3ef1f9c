//! The files in `examples`, with the numbers of `tests/examples.md`, worked out apart from the program.

use std::fs;

use haunch_tests::page::cases;
use haunch_tests::repository;
use haunch_tests::verdict::disagreements;

#[test]
fn every_example_says_what_its_page_says() {
    let page = fs::read_to_string(repository("tests/examples.md")).expect("the page is there");
    let cases = cases(&page);
    let folder = tempfile::tempdir().expect("a folder for the files");
    for entry in fs::read_dir(repository("examples")).expect("the examples can be listed") {
        let path = entry.expect("an entry").path();
        let name = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        assert!(
            cases.iter().any(|case| case.name == name),
            "{name} is not on the page"
        );
        fs::copy(&path, folder.path().join(&name)).expect("it can be copied");
    }
    let wrong: Vec<String> = cases
        .iter()
        .flat_map(|case| disagreements(case, folder.path()))
        .collect();
    assert!(
        wrong.is_empty(),
        "tests/examples.md\n  {}\n",
        wrong.join("\n  ")
    );
}

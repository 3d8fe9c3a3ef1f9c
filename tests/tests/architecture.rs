//! The house: which room may know which, which rooms may name which libraries, and what lies at the top.

use std::collections::BTreeSet;
use std::fs;

use haunch_tests::repository;
use toml::{Table, Value};

/// Libraries that only some rooms may name, outside their tests.
const LIBRARIES: &[(&[&str], &[&str])] = &[
    (
        &["tower-lsp", "tower", "tokio", "lsp-types"],
        &["server", "cli"],
    ),
    (&["logos", "chumsky"], &["syntax"]),
    (&["dimensioned"], &["quantity", "mechanics"]),
    (
        &["serde", "serde_json"],
        &["server", "cli", "report", "review"],
    ),
    (&["clap"], &["cli"]),
];

/// What may lie at the top of the repository, besides names that start with a dot and what a build makes.
const TOP: &[&str] = &[
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "clippy.toml",
    "crates",
    "editors",
    "examples",
    "rust-toolchain.toml",
    "target",
    "tests",
];

fn rooms() -> Vec<(String, Table)> {
    let entries = fs::read_dir(repository("crates")).expect("the rooms can be listed");
    let mut rooms: Vec<_> = entries
        .map(|entry| {
            let path = entry.expect("an entry").path();
            let name = path
                .file_name()
                .expect("a name")
                .to_string_lossy()
                .into_owned();
            let manifest =
                fs::read_to_string(path.join("Cargo.toml")).expect("each room has a manifest");
            (name, manifest.parse().expect("the manifest is well formed"))
        })
        .collect();
    rooms.sort_by(|a, b| a.0.cmp(&b.0));
    rooms
}

/// The names under `[kind]`, those for one target only included.
fn dependencies(manifest: &Table, kind: &str) -> BTreeSet<String> {
    let own = manifest.get(kind).and_then(Value::as_table).into_iter();
    let targets = manifest
        .get("target")
        .and_then(Value::as_table)
        .into_iter()
        .flat_map(|table| table.values());
    let of_targets = targets.filter_map(|target| target.get(kind).and_then(Value::as_table));
    own.chain(of_targets)
        .flat_map(|table| table.keys().cloned())
        .collect()
}

/// The room that a package is, if it is one.
fn room(package: &str) -> Option<&str> {
    if package == "haunch" {
        Some("cli")
    } else {
        package.strip_prefix("haunch-")
    }
}

/// The table of the guide: each room and the rooms that it may use; `None` for any.
fn table() -> Vec<(String, Option<BTreeSet<String>>)> {
    let guide = fs::read_to_string(repository("DEVELOPERS.md")).expect("the guide is there");
    let rows = guide
        .lines()
        .skip_while(|line| !line.starts_with("| crate"))
        .skip(2)
        .take_while(|line| line.starts_with('|'));
    rows.map(|row| {
        let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
        let name = cells.first().copied().unwrap_or_default().trim_matches('`');
        let may = cells.last().copied().unwrap_or_default();
        let rooms = may
            .split('(')
            .next()
            .unwrap_or_default()
            .split(',')
            .map(str::trim);
        let rooms = rooms
            .filter(|word| !matches!(*word, "" | "–"))
            .map(str::to_string);
        (
            name.to_string(),
            (!may.starts_with("any")).then(|| rooms.collect()),
        )
    })
    .collect()
}

/// `testkit` may be used by every room's tests, and a room's tests may use the room itself.
#[test]
fn no_arrow_but_those_of_the_guide() {
    let (rooms, table) = (rooms(), table());
    let names = |rooms: Vec<String>| rooms.into_iter().collect::<BTreeSet<_>>();
    let built = names(rooms.iter().map(|(name, _)| name.clone()).collect());
    let listed = names(table.iter().map(|(name, _)| name.clone()).collect());
    assert!(built.len() >= 9);
    assert_eq!(built, listed, "the rooms and the rows of the guide's table");
    for (name, manifest) in &rooms {
        let (_, allowed) = table
            .iter()
            .find(|(room, _)| room == name)
            .expect("each has a row");
        for kind in ["dependencies", "build-dependencies", "dev-dependencies"] {
            for package in dependencies(manifest, kind) {
                let Some(used) = room(&package) else { continue };
                let in_tests = kind == "dev-dependencies" && (used == "testkit" || used == name);
                let listed = allowed.as_ref().is_none_or(|rooms| rooms.contains(used));
                assert!(used != "cli", "crates/{name} uses the program");
                assert!(in_tests || listed, "crates/{name} uses {used} ({kind})");
            }
        }
    }
}

#[test]
fn libraries_stay_in_their_rooms() {
    for (name, manifest) in &rooms() {
        let used = dependencies(manifest, "dependencies");
        for (libraries, allowed) in LIBRARIES {
            for library in *libraries {
                let may = allowed.contains(&name.as_str());
                assert!(
                    may || !used.contains(*library),
                    "crates/{name} uses {library}"
                );
            }
        }
    }
}

#[test]
fn nothing_else_lies_at_the_top() {
    for entry in fs::read_dir(repository(".")).expect("the top can be listed") {
        let name = entry
            .expect("an entry")
            .file_name()
            .to_string_lossy()
            .into_owned();
        assert!(
            name.starts_with('.') || TOP.contains(&name.as_str()),
            "{name} lies at the top"
        );
    }
}

/// No file of code is so long that nobody reads it: split it by noun.
#[test]
fn files_stay_short() {
    let mut folders = vec![repository("crates"), repository("tests")];
    let mut seen = 0;
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder can be listed") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                seen += 1;
                let lines = fs::read_to_string(&path)
                    .expect("code can be read")
                    .lines()
                    .count();
                assert!(lines <= 900, "{} has {lines} lines", path.display());
            }
        }
    }
    assert!(seen > 20);
}

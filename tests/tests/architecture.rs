//! The house: which room may know which, which rooms may name which libraries, and what lies at the top.

use std::collections::BTreeSet;
use std::fs;

use haunch_tests::repository;
use toml::{Table, Value};

/// Each room and the rooms that it may use: the table of DEVELOPERS.md. `testkit` may be used by
/// every room's tests.
const ROOMS: &[(&str, &[&str])] = &[
    ("text", &[]),
    ("quantity", &[]),
    ("syntax", &["text"]),
    ("mechanics", &["quantity"]),
    ("calc", &["syntax", "mechanics", "quantity", "text"]),
    ("ide", &["calc", "drawing", "syntax", "quantity", "text"]),
    ("drawing", &["mechanics", "quantity"]),
    ("report", &["calc", "drawing", "quantity"]),
    ("review", &["calc", "syntax", "quantity", "text"]),
    ("server", &["ide", "calc", "report", "review", "text"]),
    (
        "cli",
        &[
            "text",
            "quantity",
            "syntax",
            "mechanics",
            "calc",
            "ide",
            "drawing",
            "report",
            "review",
            "server",
        ],
    ),
    ("testkit", &["text"]),
];

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

#[test]
fn no_arrow_but_those_of_the_table() {
    let rooms = rooms();
    assert!(rooms.len() >= 9);
    for (name, manifest) in &rooms {
        let (_, allowed) = ROOMS
            .iter()
            .find(|(room, _)| room == name)
            .unwrap_or_else(|| {
                panic!("crates/{name} is not in the table of {}", file!());
            });
        for kind in ["dependencies", "build-dependencies", "dev-dependencies"] {
            for package in dependencies(manifest, kind) {
                let Some(used) = room(&package) else { continue };
                let in_tests = kind == "dev-dependencies" && (used == "testkit" || used == name);
                assert!(
                    in_tests || allowed.contains(&used),
                    "crates/{name} uses {used} ({kind})"
                );
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

/// The table of DEVELOPERS.md says the same as the one above.
#[test]
fn the_guide_has_the_same_table() {
    let guide = fs::read_to_string(repository("DEVELOPERS.md")).expect("the guide is there");
    for (name, allowed) in ROOMS {
        let start = format!("| `{name}` |");
        let row = guide.lines().find(|line| line.starts_with(&start));
        let row = row.unwrap_or_else(|| panic!("DEVELOPERS.md has no row for `{name}`"));
        let last = row
            .trim()
            .trim_end_matches('|')
            .rsplit('|')
            .next()
            .unwrap_or_default();
        let last = last.split('(').next().unwrap_or_default();
        let named: BTreeSet<&str> = last
            .split(',')
            .map(str::trim)
            .filter(|word| !matches!(*word, "" | "–"))
            .collect();
        let wanted: BTreeSet<&str> = if *name == "cli" {
            BTreeSet::from(["any; nobody uses it"])
        } else {
            allowed.iter().copied().collect()
        };
        assert_eq!(named, wanted, "the row of `{name}`");
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

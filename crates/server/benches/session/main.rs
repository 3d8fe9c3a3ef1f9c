//! What a person at an editor waits for: the real server over its standard streams, on generated files of
//! 1,000, 10,000 and 100,000 lines; and how its memory grows over 100,000 edits. Prints tables; asserts nothing.
//!
//!     cargo build --release -p haunch && cargo bench -p haunch-server --bench session
//!
//! `HAUNCH` names another program to measure; with `-- memory` behind it only the memory is.

mod client;
mod memory;

use std::path::PathBuf;
use std::time::{Duration, Instant};

use client::{Session, WINDOW};

const SIZES: [usize; 3] = [1_000, 10_000, 100_000];
/// Edits that are measured one by one.
const EDITS: usize = 30;
/// Edits that are sent without waiting.
const BURST: usize = 201;
/// Lines that use one value.
const DEPENDENTS: usize = 1_000;

/// What else editors ask for after edits: of the whole file, or of all names that fit a place.
const BESIDE_VALUES: [(&str, &str); 4] = [
    ("completions", "textDocument/completion"),
    ("outline", "textDocument/documentSymbol"),
    ("colours", "textDocument/semanticTokens/full"),
    ("lenses", "textDocument/codeLens"),
];

/// A file of so many lines: values, formulas with units, and a section in every fifty lines. The first line is
/// used by `DEPENDENTS` others, or by as many as there are.
fn file(lines: usize) -> String {
    let mut text = String::from("base = 1000 mm\n");
    let mut count = 1;
    let mut number = 0;
    while count < lines {
        number += 1;
        if number % 12 == 0 {
            text += &format!(
                "section s{number}\n    rect flange 120 x 10 mm\n    rect web 8 x 140 mm above flange\n\n"
            );
            count += 4;
            continue;
        }
        let used = if number <= DEPENDENTS * 12 / 11 {
            "base"
        } else {
            "3 mm"
        };
        text +=
            &format!("a{number} = 1000 mm\nb{number} = a{number}*2 + {used} [mm]\n# by hand\n\n");
        count += 4;
    }
    text
}

fn median(mut times: Vec<Duration>) -> (Duration, Duration) {
    times.sort();
    let worst = times.last().copied().unwrap_or_default();
    (
        times.get(times.len() / 2).copied().unwrap_or_default(),
        worst,
    )
}

fn main() {
    let beside = || {
        let own = std::env::current_exe().expect("a program has a path");
        let folder = own
            .parent()
            .and_then(|deps| deps.parent())
            .expect("it lies in a target folder");
        folder.join("haunch")
    };
    let program = std::env::var_os("HAUNCH").map_or_else(beside, PathBuf::from);
    println!("{}", program.display());
    if std::env::args().any(|word| word == "memory") {
        memory::measure(&program);
        return;
    }
    for lines in SIZES {
        let text = file(lines);
        let mut session = Session::start(&program);
        println!(
            "\n{} lines, {} kB",
            text.lines().count(),
            text.len() / 1_000
        );
        show("initialize", session.initialize());
        show("open to findings", session.open(&text));
        // A value in the middle that one line uses.
        let middle = text.lines().count() / 2;
        let line = text
            .lines()
            .enumerate()
            .skip(middle)
            .find(|(_, line)| line.starts_with('a'))
            .map_or(1, |(number, _)| number);
        let column = text
            .lines()
            .nth(line)
            .and_then(|line| line.find("= "))
            .unwrap_or(0)
            + 2;
        let (mut to_findings, mut to_hints) = (Vec::new(), Vec::new());
        for number in 0..EDITS {
            let start = Instant::now();
            session.edit(line, column, number);
            to_findings.push(session.diagnostics() - start);
            let start = Instant::now();
            session.edit(line, column, number + 7);
            let id = session.ask_hints(line.saturating_sub(WINDOW / 2));
            to_hints.push(session.answer(id) - start);
        }
        both("edit to findings", median(to_findings));
        both("edit to hints of 60 lines", median(to_hints));
        let start = Instant::now();
        for number in 0..BURST {
            session.edit(line, column, number);
        }
        let id = session.ask_hints(line.saturating_sub(WINDOW / 2));
        show("201 edits to hints", session.answer(id) - start);
        let mut many = Vec::new();
        for number in 0..EDITS {
            let start = Instant::now();
            session.edit(0, 7, number);
            let id = session.ask_hints(0);
            many.push(session.answer(id) - start);
        }
        both("edit with 1,000 dependents", median(many));
        for (what, method) in BESIDE_VALUES {
            let mut times = Vec::new();
            for number in 0..EDITS {
                let start = Instant::now();
                session.edit(line, column, number);
                let id = session.ask_about(method, line, column);
                times.push(session.answer(id) - start);
            }
            both(&format!("edit to {what}"), median(times));
        }
        if let Some(peak) = session.memory("VmHWM") {
            println!("  {:<30} {peak:>8.0} MB", "most memory");
        }
        session.end();
    }
    memory::measure(&program);
}

fn show(what: &str, time: Duration) {
    println!("  {what:<30} {:>8.2} ms", time.as_secs_f64() * 1e3);
}

fn both(what: &str, (median, worst): (Duration, Duration)) {
    let milliseconds = |time: Duration| time.as_secs_f64() * 1e3;
    println!(
        "  {what:<30} {:>8.2} ms, at worst {:.2} ms",
        milliseconds(median),
        milliseconds(worst)
    );
}

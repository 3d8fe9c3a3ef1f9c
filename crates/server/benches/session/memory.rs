//! How the server's memory grows while somebody edits for weeks.

use std::path::PathBuf;

use serde_json::json;

use crate::client::{Session, URI};
use crate::file;

const LINES: usize = 1_000;
const EDITS: usize = 100_000;
/// Edits after which the first memory is taken: what is made once has been made then.
const WARM: usize = 2_000;
/// Edits between two answers that are waited for.
const BATCH: usize = 50;

/// Edits of every kind that brings something never seen before: names, numbers, dimensions, blocks, broken lines. They
/// stand at the end of the file and take turns, so that the file stays as long as it is.
fn written(number: usize) -> String {
    match number % 7 {
        0 => format!("name_{number} = {number} mm"),
        1 => format!("x = base*name_{number}^{} [mm]", number % 9),
        2 => format!(
            "section s_{number}\n    rect r{number} {} x 10 mm",
            10 + number % 90
        ),
        3 => format!("f_{number}(a, b_{number}) = a*b_{number}/{number} mm [any]"),
        4 => format!("y = ({number} kN^{} + \"text {number}", 1 + number % 5),
        5 => format!("y = 3 unit_{number} + name_{number}"),
        _ => format!("# remark {number}"),
    }
}

/// Prints what the server holds every 10,000 edits.
pub(crate) fn measure(program: &PathBuf) {
    let mut session = Session::start(program);
    session.initialize();
    let text = file(LINES);
    let first = text.lines().count();
    session.open(&text);
    println!("\n{EDITS} edits of a file of {first} lines");
    let mut height = 0;
    let mut before = None;
    for number in 1..=EDITS {
        let words = written(number);
        session.replace((first, 0), (first + height, 999), &words);
        height = words.matches('\n').count();
        if number % 10 == 0 {
            // A value that a thousand lines use.
            session.edit(0, 7, number);
        }
        if number % BATCH == 0 {
            ask(&mut session, number, first);
        }
        let held = session.memory("VmRSS");
        match (held, before) {
            (Some(held), None) if number == WARM => before = Some(held),
            (Some(held), Some(before)) if number % 10_000 == 0 => {
                println!(
                    "  {number:>8} edits {held:>8.1} MB, {:+.1} MB",
                    held - before
                );
            }
            _ => {}
        }
    }
    session.end();
}

/// What an editor asks for while somebody edits, in turns.
fn ask(session: &mut Session, number: usize, line: usize) {
    let document = json!({ "uri": URI });
    let position = json!({"line": line, "character": 4});
    let methods = [
        "textDocument/semanticTokens/full",
        "textDocument/completion",
        "textDocument/hover",
        "textDocument/codeAction",
        "textDocument/documentSymbol",
        "textDocument/references",
    ];
    let mut params = json!({
        "textDocument": document,
        "position": position,
        "range": {"start": position, "end": position},
        "context": {"diagnostics": [], "includeDeclaration": true}
    });
    let method = methods[number / BATCH % methods.len()];
    if method == "textDocument/completion" {
        params["context"].take();
    }
    let id = session.ask(method, params);
    session.answer(id);
    let id = session.ask_hints(line - 30);
    session.answer(id);
}

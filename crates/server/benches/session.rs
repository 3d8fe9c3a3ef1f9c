//! What a person at an editor waits for: the real server over its standard streams, on generated files of
//! 1,000, 10,000 and 100,000 lines. Prints a table; asserts nothing.
//!
//!     cargo build --release -p haunch && cargo bench -p haunch-server --bench session
//!
//! `HAUNCH` names another program to measure.

use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

const URI: &str = "file:///bench/file.haunch";
const SIZES: [usize; 3] = [1_000, 10_000, 100_000];
/// Edits that are measured one by one.
const EDITS: usize = 30;
/// Edits that are sent without waiting.
const BURST: usize = 201;
/// Lines that use one value.
const DEPENDENTS: usize = 1_000;
/// Lines that an editor shows.
const WINDOW: usize = 60;

struct Session {
    child: Child,
    input: ChildStdin,
    messages: Receiver<(Instant, Value)>,
    last_id: i64,
    version: i64,
}

impl Session {
    fn start(program: &PathBuf) -> Session {
        let mut child = Command::new(program)
            .arg("lsp")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap_or_else(|failure| panic!("{} does not start: {failure}", program.display()));
        let input = child.stdin.take().expect("it was asked for");
        let mut output = BufReader::new(child.stdout.take().expect("it was asked for"));
        let (sender, messages) = channel();
        std::thread::spawn(move || {
            while let Some(message) = read(&mut output) {
                if sender.send((Instant::now(), message)).is_err() {
                    return;
                }
            }
        });
        Session {
            child,
            input,
            messages,
            last_id: 0,
            version: 0,
        }
    }

    fn send(&mut self, message: &Value) {
        let body = message.to_string();
        write!(self.input, "Content-Length: {}\r\n\r\n{body}", body.len())
            .expect("the server reads");
        self.input.flush().expect("the server reads");
    }

    fn notify(&mut self, method: &str, params: Value) {
        self.send(&json!({"jsonrpc": "2.0", "method": method, "params": params}));
    }

    fn ask(&mut self, method: &str, params: Value) -> i64 {
        self.last_id += 1;
        let id = self.last_id;
        self.send(&json!({"jsonrpc": "2.0", "id": id, "method": method, "params": params}));
        id
    }

    /// When the first message came that is wanted, and how many bytes it has as text.
    fn wait(&self, wanted: impl Fn(&Value) -> bool) -> (Instant, usize) {
        loop {
            let (at, message) = self
                .messages
                .recv_timeout(Duration::from_secs(120))
                .expect("the server answers in two minutes");
            if wanted(&message) {
                return (at, message.to_string().len());
            }
        }
    }

    fn answer(&self, id: i64) -> Instant {
        self.wait(|message| message["id"] == id && message.get("method").is_none())
            .0
    }

    fn diagnostics(&self) -> Instant {
        let version = self.version;
        let wanted = |message: &Value| message["params"]["version"] == version;
        self.wait(wanted).0
    }

    fn initialize(&mut self) -> Duration {
        let start = Instant::now();
        let id = self.ask("initialize", json!({"capabilities": {}}));
        let end = self.answer(id);
        self.notify("initialized", json!({}));
        end - start
    }

    fn open(&mut self, text: &str) -> Duration {
        let start = Instant::now();
        self.version = 1;
        let document = json!({"uri": URI, "languageId": "haunch", "version": 1, "text": text});
        self.notify("textDocument/didOpen", json!({"textDocument": document}));
        self.diagnostics() - start
    }

    /// Writes four digits in a line that has `= ` followed by four digits.
    fn edit(&mut self, line: usize, column: usize, number: usize) {
        self.version += 1;
        let place = |character| json!({"line": line, "character": character});
        let change = json!({
            "range": {"start": place(column), "end": place(column + 4)},
            "text": format!("{:04}", 1_000 + number % 9_000)
        });
        let document = json!({"uri": URI, "version": self.version});
        let params = json!({"textDocument": document, "contentChanges": [change]});
        self.notify("textDocument/didChange", params);
    }

    fn ask_hints(&mut self, line: usize) -> i64 {
        let place = |line: usize| json!({"line": line, "character": 0});
        let range = json!({"start": place(line), "end": place(line + WINDOW)});
        let document = json!({"uri": URI});
        self.ask(
            "textDocument/inlayHint",
            json!({"textDocument": document, "range": range}),
        )
    }

    /// The most memory that the server has had, in MB; none where the system does not say.
    fn peak(&self) -> Option<u64> {
        let path = format!("/proc/{}/status", self.child.id());
        let status = std::fs::read_to_string(path).ok()?;
        let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
        let kilobytes: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
        Some(kilobytes / 1_024)
    }

    fn end(mut self) {
        let id = self.ask("shutdown", Value::Null);
        self.answer(id);
        self.notify("exit", Value::Null);
        let _ = self.child.wait();
    }
}

fn read(output: &mut impl BufRead) -> Option<Value> {
    let mut length = 0;
    loop {
        let mut header = String::new();
        if output.read_line(&mut header).ok()? == 0 {
            return None;
        }
        match header.trim().split_once(": ") {
            Some((_, value)) => length = value.parse().ok()?,
            None => break,
        }
    }
    let mut body = vec![0; length];
    output.read_exact(&mut body).ok()?;
    serde_json::from_slice(&body).ok()
}

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
        if let Some(peak) = session.peak() {
            println!("  {:<30} {peak:>8} MB", "most memory");
        }
        session.end();
    }
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

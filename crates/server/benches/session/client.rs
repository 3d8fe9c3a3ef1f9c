//! The real server over its standard streams, seen from a client.

use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

pub(crate) const URI: &str = "file:///bench/file.haunch";
/// Lines that an editor shows.
pub(crate) const WINDOW: usize = 60;

pub(crate) struct Session {
    child: Child,
    input: ChildStdin,
    messages: Receiver<(Instant, Value)>,
    last_id: i64,
    version: i64,
}

impl Session {
    pub(crate) fn start(program: &PathBuf) -> Session {
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
                if sender.send(message).is_err() {
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

    pub(crate) fn send(&mut self, message: &Value) {
        let body = message.to_string();
        write!(self.input, "Content-Length: {}\r\n\r\n{body}", body.len())
            .expect("the server reads");
        self.input.flush().expect("the server reads");
    }

    pub(crate) fn notify(&mut self, method: &str, params: Value) {
        self.send(&json!({"jsonrpc": "2.0", "method": method, "params": params}));
    }

    pub(crate) fn ask(&mut self, method: &str, params: Value) -> i64 {
        self.last_id += 1;
        let id = self.last_id;
        self.send(&json!({"jsonrpc": "2.0", "id": id, "method": method, "params": params}));
        id
    }

    /// When the first message came that is wanted, and how many bytes it has as text.
    pub(crate) fn wait(&self, wanted: impl Fn(&Value) -> bool) -> (Instant, usize) {
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

    pub(crate) fn answer(&self, id: i64) -> Instant {
        self.wait(|message| message["id"] == id && message.get("method").is_none())
            .0
    }

    pub(crate) fn diagnostics(&self) -> Instant {
        let version = self.version;
        let wanted = |message: &Value| message["params"]["version"] == version;
        self.wait(wanted).0
    }

    pub(crate) fn initialize(&mut self) -> Duration {
        let start = Instant::now();
        let id = self.ask("initialize", json!({"capabilities": {}}));
        let end = self.answer(id);
        self.notify("initialized", json!({}));
        end - start
    }

    pub(crate) fn open(&mut self, text: &str) -> Duration {
        let start = Instant::now();
        self.version = 1;
        let document = json!({"uri": URI, "languageId": "haunch", "version": 1, "text": text});
        self.notify("textDocument/didOpen", json!({"textDocument": document}));
        self.diagnostics() - start
    }

    /// Replaces the text between two places, each a line and a column.
    pub(crate) fn replace(&mut self, from: (usize, usize), to: (usize, usize), text: &str) {
        self.version += 1;
        let place = |(line, character)| json!({"line": line, "character": character});
        let change = json!({"range": {"start": place(from), "end": place(to)}, "text": text});
        let document = json!({"uri": URI, "version": self.version});
        let params = json!({"textDocument": document, "contentChanges": [change]});
        self.notify("textDocument/didChange", params);
    }

    /// Writes four digits in a line that has `= ` followed by four digits.
    pub(crate) fn edit(&mut self, line: usize, column: usize, number: usize) {
        let text = format!("{:04}", 1_000 + number % 9_000);
        self.replace((line, column), (line, column + 4), &text);
    }

    pub(crate) fn ask_hints(&mut self, line: usize) -> i64 {
        let place = |line: usize| json!({"line": line, "character": 0});
        let range = json!({"start": place(line), "end": place(line + WINDOW)});
        let document = json!({"uri": URI});
        self.ask(
            "textDocument/inlayHint",
            json!({"textDocument": document, "range": range}),
        )
    }

    /// Asks for something about the whole document, or about a place near the end of a line.
    pub(crate) fn ask_about(&mut self, method: &str, line: usize, character: usize) -> i64 {
        let position = json!({"line": line, "character": character});
        let document = json!({"uri": URI});
        self.ask(
            method,
            json!({"textDocument": document, "position": position}),
        )
    }

    /// What the system says of the server's memory, in MB: `VmHWM` is the most that it has had, `VmRSS` what it has.
    /// None where the system does not say.
    pub(crate) fn memory(&self, what: &str) -> Option<f64> {
        let path = format!("/proc/{}/status", self.child.id());
        let status = std::fs::read_to_string(path).ok()?;
        let line = status.lines().find(|line| line.starts_with(what))?;
        let kilobytes: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
        Some(kilobytes / 1_024.0)
    }

    pub(crate) fn end(mut self) {
        let id = self.ask("shutdown", Value::Null);
        self.answer(id);
        self.notify("exit", Value::Null);
        let _ = self.child.wait();
    }
}

/// A message, and when it was there: before it is taken apart.
fn read(output: &mut impl BufRead) -> Option<(Instant, Value)> {
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
    let at = Instant::now();
    Some((at, serde_json::from_slice(&body).ok()?))
}

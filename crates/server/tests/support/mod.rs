//! A client that speaks the real protocol to a server over pipes in memory.
#![allow(dead_code, reason = "each test file uses its own part")]

pub(crate) mod dice;
pub(crate) mod model;
pub(crate) mod requests;

use std::collections::HashMap;
use std::time::Duration;

use haunch_server::{Options, serve};
use serde_json::{Value, json};
use tokio::io::{AsyncBufReadExt, AsyncReadExt, AsyncWriteExt, BufReader, DuplexStream};
use tokio::sync::mpsc;
use tokio::task::JoinHandle;

/// Longer than any answer takes; a test that waits so long has found a hang.
const PATIENCE: Duration = Duration::from_secs(60);

pub(crate) struct Client {
    to_server: DuplexStream,
    from_server: mpsc::UnboundedReceiver<Value>,
    server: JoinHandle<bool>,
    last_id: i64,
    answers: HashMap<i64, Value>,
    others: Vec<Value>,
}

impl Client {
    /// A server that has not been greeted.
    pub(crate) fn ungreeted() -> Client {
        let (to_server, input) = tokio::io::duplex(1 << 16);
        let (output, from_server) = tokio::io::duplex(1 << 16);
        let server = tokio::spawn(serve(input, output, Options { rehearsal: true }));
        let (sender, receiver) = mpsc::unbounded_channel();
        tokio::spawn(read_all(from_server, sender));
        Client {
            to_server,
            from_server: receiver,
            server,
            last_id: 0,
            answers: HashMap::new(),
            others: Vec::new(),
        }
    }

    /// A greeted server; `encodings` is what the client offers.
    pub(crate) async fn greeted(encodings: &[&str]) -> Client {
        let mut client = Client::ungreeted();
        let answer = client
            .call(
                "initialize",
                json!({"capabilities": {"general": {"positionEncodings": encodings}}}),
            )
            .await;
        assert!(answer.get("result").is_some(), "{answer}");
        client.notify("initialized", json!({})).await;
        client
    }

    /// A greeted server; `params` is the whole greeting.
    pub(crate) async fn greeted_with(params: Value) -> Client {
        let mut client = Client::ungreeted();
        client.result("initialize", params).await;
        client.notify("initialized", json!({})).await;
        client
    }

    /// Answers a request of the server.
    pub(crate) async fn reply(&mut self, request: &Value, result: Value) {
        let id = request["id"].clone();
        self.send(&json!({"jsonrpc": "2.0", "id": id, "result": result}))
            .await;
    }

    /// Whether a message that is no answer and that `wanted` accepts came before the answer to a request made
    /// now.
    pub(crate) async fn came(&mut self, wanted: impl Fn(&Value) -> bool) -> bool {
        self.call("rehearsal/text", json!({"uri": "untitled:none"}))
            .await;
        self.others.iter().any(wanted)
    }

    pub(crate) async fn write(&mut self, bytes: &[u8]) {
        self.to_server
            .write_all(bytes)
            .await
            .expect("the server reads");
    }

    async fn send(&mut self, message: &Value) {
        self.write(&framed(&message.to_string())).await;
    }

    pub(crate) async fn notify(&mut self, method: &str, params: Value) {
        self.send(&json!({"jsonrpc": "2.0", "method": method, "params": params}))
            .await;
    }

    /// Sends a request without waiting for its answer.
    pub(crate) async fn ask(&mut self, method: &str, params: Value) -> i64 {
        self.last_id += 1;
        let id = self.last_id;
        self.send(&json!({"jsonrpc": "2.0", "id": id, "method": method, "params": params}))
            .await;
        id
    }

    pub(crate) async fn answer(&mut self, id: i64) -> Value {
        loop {
            if let Some(answer) = self.answers.remove(&id) {
                return answer;
            }
            self.receive().await;
        }
    }

    pub(crate) async fn call(&mut self, method: &str, params: Value) -> Value {
        let id = self.ask(method, params).await;
        self.answer(id).await
    }

    /// The result of a request that must succeed.
    pub(crate) async fn result(&mut self, method: &str, params: Value) -> Value {
        let mut answer = self.call(method, params).await;
        assert!(answer.get("error").is_none(), "{method}: {answer}");
        answer["result"].take()
    }

    /// The error code of a request that must fail.
    pub(crate) async fn error(&mut self, method: &str, params: Value) -> i64 {
        let answer = self.call(method, params).await;
        answer["error"]["code"]
            .as_i64()
            .unwrap_or_else(|| panic!("no error: {answer}"))
    }

    async fn receive(&mut self) {
        let message = tokio::time::timeout(PATIENCE, self.from_server.recv())
            .await
            .expect("the server says something in time")
            .expect("the server still speaks");
        match (message.get("method"), message["id"].as_i64()) {
            (None, Some(id)) => {
                let again = self.answers.insert(id, message);
                assert_eq!(again, None, "two answers to one request");
            }
            _ => self.others.push(message),
        }
    }

    /// The next message that is not an answer and that `wanted` accepts.
    pub(crate) async fn other(&mut self, wanted: impl Fn(&Value) -> bool) -> Value {
        loop {
            if let Some(at) = self.others.iter().position(&wanted) {
                return self.others.remove(at);
            }
            self.receive().await;
        }
    }

    /// The diagnostics of `uri` for `version` (`None`: closed).
    pub(crate) async fn diagnostics(&mut self, uri: &str, version: Option<i64>) -> Value {
        let mut message = self
            .other(|message| {
                message["method"] == "textDocument/publishDiagnostics"
                    && message["params"]["uri"] == uri
                    && message["params"]["version"].as_i64() == version
            })
            .await;
        message["params"]["diagnostics"].take()
    }

    pub(crate) async fn open(&mut self, uri: &str, version: i64, text: &str) {
        self.notify(
            "textDocument/didOpen",
            json!({"textDocument": {
                "uri": uri, "languageId": "haunch", "version": version, "text": text
            }}),
        )
        .await;
    }

    pub(crate) async fn change(&mut self, uri: &str, version: i64, changes: Value) {
        self.notify(
            "textDocument/didChange",
            json!({"textDocument": {"uri": uri, "version": version}, "contentChanges": changes}),
        )
        .await;
    }

    /// The text of `uri` as the core has it.
    pub(crate) async fn text(&mut self, uri: &str) -> String {
        let answer = self.result("rehearsal/text", json!({"uri": uri})).await;
        answer["text"]
            .as_str()
            .unwrap_or_else(|| panic!("no text: {answer}"))
            .to_owned()
    }

    /// Whether the server ends by itself, and how, while its input stays open.
    pub(crate) async fn ending(self) -> bool {
        let ended = tokio::time::timeout(PATIENCE, self.server).await;
        ended
            .expect("the server ends")
            .expect("the server does not panic")
    }

    /// Closes the input and waits for the end.
    pub(crate) async fn hang_up(self) -> bool {
        drop(self.to_server);
        let ended = tokio::time::timeout(PATIENCE, self.server).await;
        ended
            .expect("the server ends")
            .expect("the server does not panic")
    }
}

/// The words of a hint, whose label comes in parts.
pub(crate) fn label(hint: &Value) -> String {
    let parts = hint["label"].as_array().expect("parts");
    parts
        .iter()
        .filter_map(|part| part["value"].as_str())
        .collect()
}

/// A greeting with these capabilities.
pub(crate) fn able(capabilities: Value) -> Value {
    json!({ "capabilities": capabilities })
}

pub(crate) fn framed(body: &str) -> Vec<u8> {
    format!("Content-Length: {}\r\n\r\n{body}", body.len()).into_bytes()
}

/// A change of a range of one line.
pub(crate) fn change(line: usize, from: usize, to: usize, text: &str) -> Value {
    json!({
        "range": {
            "start": {"line": line, "character": from},
            "end": {"line": line, "character": to}
        },
        "text": text
    })
}

async fn read_all(pipe: DuplexStream, sender: mpsc::UnboundedSender<Value>) {
    let mut reader = BufReader::new(pipe);
    loop {
        let mut length = 0;
        loop {
            let mut header = String::new();
            if reader.read_line(&mut header).await.expect("text") == 0 {
                return;
            }
            match header.trim().split_once(": ") {
                Some(("Content-Length", value)) => length = value.parse().expect("a number"),
                Some(_) => {}
                None => break,
            }
        }
        let mut body = vec![0; length];
        reader.read_exact(&mut body).await.expect("a whole message");
        let message = serde_json::from_slice(&body).expect("JSON");
        if sender.send(message).is_err() {
            return;
        }
    }
}

/// What a report of the whole workspace says of one file.
pub(crate) fn report_of<'a>(report: &'a Value, uri: &str) -> &'a Value {
    let mut items = report["items"].as_array().expect("reports").iter();
    items.find(|item| item["uri"] == uri).expect("a report")
}

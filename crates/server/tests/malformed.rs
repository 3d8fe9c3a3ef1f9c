//! What no client should send: each gets the protocol's own error or no answer at all, and the next request works.

mod support;

use serde_json::{Value, json};
use support::dice::Dice;
use support::model::Model;
use support::requests::OFFERED;
use support::{Client, change, framed};

const URI: &str = "file:///work/beam.haunch";
const TEXT: &str =
    "use \"p.haunch\" as p\n𝜎 = 2 mm\nf(x) = x*2 [mm]\na = f(𝜎)\nsection s\n    rect w 𝜎 x 10 mm\n";

/// Requests that come at the wrong time, or that the server does not offer.
const OTHERS: [&str; 4] = [
    "initialize",
    "textDocument/implementation",
    "no/such/method",
    "$/noSuchMethod",
];

fn requests() -> Vec<&'static str> {
    let offered = OFFERED.iter().map(|(_, method)| *method);
    offered.chain(OTHERS).collect()
}

const NOTIFICATIONS: [&str; 14] = [
    "textDocument/didOpen",
    "textDocument/didChange",
    "textDocument/didClose",
    "textDocument/didSave",
    "workspace/didChangeWatchedFiles",
    "workspace/didChangeConfiguration",
    "workspace/didChangeWorkspaceFolders",
    "workspace/didRenameFiles",
    "window/workDoneProgress/cancel",
    "$/cancelRequest",
    "$/setTrace",
    "initialized",
    "no/such/notification",
    "$/noSuchNotification",
];

/// Codes with which a request may be refused. An internal error is not among them.
const REFUSALS: [i64; 5] = [-32600, -32601, -32602, -32800, -32801];

fn number(dice: &mut Dice) -> Value {
    match dice.roll(9) {
        0 => json!(-1),
        1 => json!(u32::MAX),
        2 => json!(u64::MAX),
        3 => json!(0.5),
        4 => json!(i32::MAX),
        5 => json!("3"),
        6 => Value::Null,
        _ => json!(dice.roll(12)),
    }
}

fn position(dice: &mut Dice) -> Value {
    match dice.roll(8) {
        0 => json!({}),
        1 => json!([1, 2]),
        2 => Value::Null,
        3 | 4 => json!({"line": number(dice), "character": number(dice)}),
        _ => json!({"line": dice.roll(9), "character": dice.roll(40)}),
    }
}

fn address(dice: &mut Dice) -> Value {
    let addresses = [
        json!(URI),
        json!(URI),
        json!(URI),
        json!("file:///work/unknown.haunch"),
        json!("untitled:"),
        json!("file://%zz/%ff"),
        json!("no address"),
        json!(""),
        json!(7),
        Value::Null,
        json!("haunch-page://findings/none.md"),
    ];
    addresses[dice.roll(addresses.len())].clone()
}

/// A value of any shape.
fn anything(dice: &mut Dice, depth: usize) -> Value {
    match dice.roll(if depth == 0 { 6 } else { 8 }) {
        0 => Value::Null,
        1 => json!(dice.roll(2) == 0),
        2 => number(dice),
        3 => json!("𝜎\u{0}\u{feff}"),
        4 => address(dice),
        5 => position(dice),
        6 => (0..dice.roll(4))
            .map(|_| anything(dice, depth - 1))
            .collect(),
        _ => {
            let mut value = json!({});
            for name in ["uri", "line", "data", "range", "item", "arguments"] {
                if dice.roll(3) == 0 {
                    value[name] = anything(dice, depth - 1);
                }
            }
            value
        }
    }
}

/// Parameters that are nearly right: what any of the methods wants, with a few parts missing or wrong.
fn params(dice: &mut Dice) -> Value {
    let range = |dice: &mut Dice| json!({"start": position(dice), "end": position(dice)});
    let document = json!({"uri": address(dice), "version": number(dice), "languageId": "haunch", "text": TEXT});
    let item = json!({
        "name": "a", "kind": 13, "uri": address(dice), "range": range(dice), "selectionRange": range(dice)
    });
    let name = ["", "𝜎", "a b", "1", "section", "\n"][dice.roll(6)];
    let command = ["haunch.apply", "haunch.show", "haunch.page", "haunch.none"][dice.roll(4)];
    let mut params = json!({
        "textDocument": document,
        "position": position(dice),
        "positions": [position(dice), position(dice)],
        "range": range(dice),
        "context": {"includeDeclaration": true, "diagnostics": [], "only": ["quickfix"]},
        "options": {"tabSize": number(dice), "insertSpaces": true},
        "ch": "\n",
        "newName": name,
        "previousResultId": "x",
        "previousResultIds": [{"uri": address(dice), "value": "x"}],
        "query": "\u{0}",
        "item": item,
        "label": "a",
        "kind": 1,
        "data": anything(dice, 2),
        "files": [{"oldUri": address(dice), "newUri": address(dice)}],
        "changes": [{"uri": address(dice), "type": number(dice)}],
        "contentChanges": [{"range": range(dice), "text": "x"}],
        "event": {"added": [{"uri": address(dice), "name": "x"}], "removed": []},
        "settings": anything(dice, 2),
        "command": command,
        "arguments": [anything(dice, 2), anything(dice, 1)],
        "id": number(dice),
        "token": number(dice),
        "value": "off"
    });
    let fields = params.as_object_mut().expect("an object");
    if dice.roll(3) == 0 {
        fields.remove("context");
    }
    let names: Vec<String> = fields.keys().cloned().collect();
    for _ in 0..dice.roll(3) {
        let name = &names[dice.roll(names.len())];
        if dice.roll(2) == 0 {
            params[name] = anything(dice, 2);
        } else {
            params[name].take();
        }
    }
    match dice.roll(30) {
        0 => Value::Null,
        1 => json!([]),
        2 => anything(dice, 3),
        _ => params,
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn nearly_right_messages_in_any_order() {
    for (seed, encoding) in [(1, "utf-8"), (2, "utf-16"), (3, "utf-32")] {
        let mut dice = Dice(seed);
        let requests = requests();
        let mut client = Client::greeted(&[encoding]).await;
        client.open(URI, 1, TEXT).await;
        let mut asked = Vec::new();
        for _ in 0..2_000 {
            match dice.roll(5) {
                0 => {
                    let method = NOTIFICATIONS[dice.roll(NOTIFICATIONS.len())];
                    client.notify(method, params(&mut dice)).await;
                }
                1 if dice.roll(4) == 0 => {
                    // An answer to nothing that was asked.
                    let answer = json!({"jsonrpc": "2.0", "id": number(&mut dice), "result": anything(&mut dice, 1)});
                    client.write(&framed(&answer.to_string())).await;
                }
                _ => {
                    let method = requests[dice.roll(requests.len())];
                    asked.push((method, client.ask(method, params(&mut dice)).await));
                }
            }
        }
        let mut answered = 0;
        for (method, id) in asked {
            let answer = client.answer(id).await;
            match answer["error"]["code"].as_i64() {
                None => {
                    assert!(answer.get("result").is_some(), "{answer}");
                    answered += 1;
                }
                Some(code) => assert!(REFUSALS.contains(&code), "{method}: {answer}"),
            }
        }
        assert!(answered > 300, "{answered} of the requests made sense");
        let mut model = Model::new(TEXT);
        let at = TEXT.find("2 mm").expect("it is there");
        let range =
            json!({"start": model.position(at, encoding), "end": model.position(at + 1, encoding)});
        client.open(URI, 9, TEXT).await;
        client
            .change(URI, 10, json!([{"range": range, "text": "3"}]))
            .await;
        model.replace(at, at + 1, "3");
        assert_eq!(client.text(URI).await, model.text());
    }
}

#[tokio::test]
async fn a_version_that_goes_back_is_taken_as_it_comes() {
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 5, "a = 1 m\n").await;
    client.change(URI, 3, json!([change(0, 4, 5, "2")])).await;
    client.change(URI, 3, json!([change(0, 4, 5, "3")])).await;
    assert_eq!(client.text(URI).await, "a = 3 m\n");
    client.diagnostics(URI, Some(3)).await;
}

#[tokio::test]
async fn a_range_that_ends_before_it_starts_is_empty_and_harmless() {
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 1, "abcdef\nghi\n").await;
    let backwards = json!({
        "range": {"start": {"line": 1, "character": 2}, "end": {"line": 0, "character": 3}},
        "text": "-"
    });
    client.change(URI, 2, json!([backwards])).await;
    let text = client.text(URI).await;
    assert!(
        ["abcdef\ngh-i\n", "abc-i\n"].contains(&text.as_str()),
        "{text}"
    );
    for method in [
        "textDocument/inlayHint",
        "textDocument/semanticTokens/range",
        "textDocument/codeAction",
        "textDocument/rangeFormatting",
    ] {
        let params = json!({
            "textDocument": {"uri": URI},
            "range": {"start": {"line": 1, "character": 2}, "end": {"line": 0, "character": 0}},
            "context": {"diagnostics": []},
            "options": {"tabSize": 4, "insertSpaces": true}
        });
        client.result(method, params).await;
    }
}

#[tokio::test]
async fn half_a_pair_is_a_character_that_is_unknown() {
    let mut client = Client::greeted(&["utf-16"]).await;
    client.open(URI, 1, "# a b\n").await;
    let half = r#"{"jsonrpc": "2.0", "method": "textDocument/didChange", "params": {
        "textDocument": {"uri": "file:///work/beam.haunch", "version": 2},
        "contentChanges": [{"range": {"start": {"line": 0, "character": 3}, "end": {"line": 0, "character": 3}}, "text": "\ud835"}]
    }}"#;
    client.write(&framed(half)).await;
    client.change(URI, 3, json!([change(0, 4, 5, "-")])).await;
    assert_eq!(client.text(URI).await, "# a\u{fffd}-b\n");
}

#[tokio::test]
async fn a_batch_is_refused_as_a_whole() {
    let mut client = Client::greeted(&[]).await;
    let one = r#"{"jsonrpc":"2.0","id":1,"method":"shutdown"}"#;
    client.write(&framed(&format!("[{one},{one}]"))).await;
    let answer = client.other(|message| message["error"].is_object()).await;
    assert_eq!(
        (&answer["id"], &answer["error"]["code"]),
        (&Value::Null, &json!(-32600))
    );
    client.open(URI, 1, "a").await;
    assert_eq!(client.text(URI).await, "a");
}

#[tokio::test]
async fn after_the_shutdown_every_request_is_refused_and_every_notification_dropped() {
    let mut client = Client::greeted(&[]).await;
    client.result("shutdown", Value::Null).await;
    client.open(URI, 1, "a = b\n").await;
    for method in requests() {
        assert_eq!(
            client
                .error(method, json!({"textDocument": {"uri": URI}}))
                .await,
            -32600,
            "{method}"
        );
    }
    client.notify("exit", Value::Null).await;
    assert!(client.ending().await);
}

#[tokio::test]
async fn before_the_greeting_every_request_is_refused() {
    let mut client = Client::ungreeted();
    for method in requests()
        .into_iter()
        .filter(|method| *method != "initialize")
    {
        assert_eq!(
            client
                .error(method, json!({"textDocument": {"uri": URI}}))
                .await,
            -32002,
            "{method}"
        );
    }
    assert_eq!(client.error("shutdown", Value::Null).await, -32002);
    client
        .result("initialize", json!({"capabilities": {}}))
        .await;
}

#[tokio::test]
async fn a_long_document_and_a_long_line() {
    let mut client = Client::greeted(&[]).await;
    let lines: String = (0..5_000).map(|n| format!("a{n} = 1 m\n")).collect();
    let text = format!("# {}\n{lines}", "x".repeat(3_000_000));
    client.open(URI, 1, &text).await;
    client
        .change(URI, 2, json!([change(0, 1_500_000, 1_500_001, "y")]))
        .await;
    let hover =
        json!({"textDocument": {"uri": URI}, "position": {"line": 0, "character": 2_999_999}});
    client.result("textDocument/hover", hover).await;
    assert_eq!(client.text(URI).await.len(), text.len());
}

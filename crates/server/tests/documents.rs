//! What the client types is what the core reads, in every encoding and order.

mod support;

use serde_json::{Value, json};
use support::dice::Dice;
use support::model::width;
use support::requests::{About, about};
use support::{Client, change};

const URI: &str = "file:///work/beam.haunch";

/// The model: lines without terminators, all ended by `\r\n`.
fn joined(lines: &[String]) -> String {
    lines.join("\r\n")
}

/// Any of the requests that an editor makes, about a place.
fn any_request(dice: &mut Dice, line: usize, column: usize) -> (&'static str, Value) {
    let position = json!({"line": line, "character": column});
    let range = json!({"start": position, "end": {"line": line + dice.roll(2), "character": column + dice.roll(5)}});
    let params = json!({
        "textDocument": {"uri": URI},
        "position": position,
        "positions": [position],
        "range": range,
        "context": {"includeDeclaration": true, "diagnostics": []},
        "newName": "σ_new",
        "previousResultId": "1",
        "previousResultIds": [],
        "query": "σ",
        "files": [],
        "ch": "\n",
        "options": {"tabSize": 4, "insertSpaces": true}
    });
    let things = [About::Place, About::Document, About::Workspace];
    let mut methods = about(&things);
    methods.push("textDocument/semanticTokens/full/delta");
    let method = methods[dice.roll(methods.len())];
    // The two contexts have fields of the same name and other shapes.
    let mut params = params;
    if method == "textDocument/completion" || method == "textDocument/signatureHelp" {
        params["context"] = Value::Null;
    }
    (method, params)
}

#[tokio::test(flavor = "multi_thread")]
async fn a_burst_of_edits_between_requests() {
    const PIECES: [&str; 6] = ["σ", "²", "ȳ", "𝜎", "a = 1 m", " "];
    for (encoding, edits) in [("utf-16", 2_000), ("utf-8", 500), ("utf-32", 500)] {
        let mut dice = Dice(7);
        let mut client = Client::greeted(&[encoding]).await;
        let mut model: Vec<String> = (0..5).map(|number| format!("σ{number} = 𝜎²·ȳ")).collect();
        client.open(URI, 0, &joined(&model)).await;
        let mut expected = Vec::new();
        let mut others = Vec::new();
        for version in 1..=edits {
            let mut changes = Vec::new();
            for _ in 0..1 + dice.roll(3) {
                let line = dice.roll(model.len());
                let characters: Vec<char> = model[line].chars().collect();
                let from = dice.roll(characters.len() + 1);
                let to = from + dice.roll((characters.len() - from).min(4) + 1);
                let head: String = characters[..from].iter().collect();
                let gone: String = characters[from..to].iter().collect();
                let tail: String = characters[to..].iter().collect();
                let (start, end) = (
                    width(&head, encoding),
                    width(&head, encoding) + width(&gone, encoding),
                );
                let breaks_line = dice.roll(12) == 0;
                let piece = PIECES[dice.roll(PIECES.len())];
                let piece = if breaks_line { "\r\n" } else { piece };
                changes.push(change(line, start, end, piece));
                if breaks_line {
                    model[line] = head;
                    model.insert(line + 1, tail);
                } else {
                    model[line] = format!("{head}{piece}{tail}");
                }
            }
            client.change(URI, version, Value::Array(changes)).await;
            if dice.roll(5) == 0 {
                let id = client.ask("rehearsal/text", json!({"uri": URI})).await;
                expected.push((id, version, joined(&model)));
            }
            if dice.roll(3) == 0 {
                let line = dice.roll(model.len());
                let column = dice.roll(12);
                let (method, params) = any_request(&mut dice, line, column);
                others.push((method, client.ask(method, params).await));
            }
        }
        for (method, id) in others {
            let answer = client.answer(id).await;
            let code = answer["error"]["code"].as_i64();
            // A name that cannot be changed is refused with a reason.
            let refused = method.to_lowercase().contains("rename") && code == Some(-32602);
            assert!(code.is_none() || refused, "{method}: {answer}");
        }
        for (id, version, text) in expected {
            let answer = client.answer(id).await;
            assert_eq!(
                answer["result"],
                json!({"text": text, "version": version}),
                "{encoding}"
            );
        }
        assert_eq!(client.text(URI).await, joined(&model));
        client.diagnostics(URI, Some(edits)).await;
    }
}

#[tokio::test]
async fn each_change_counts_in_the_text_after_the_one_before() {
    let mut client = Client::greeted(&["utf-16"]).await;
    client.open(URI, 1, "abc\ndef\n").await;
    let several = json!([
        change(0, 0, 3, "𝜎"),
        change(0, 2, 2, "²"),
        {"range": {"start": {"line": 0, "character": 3}, "end": {"line": 1, "character": 0}}, "text": ""},
        change(0, 6, 99, "\nx"),
    ]);
    client.change(URI, 2, several).await;
    assert_eq!(client.text(URI).await, "𝜎²def\nx\n");
    client
        .change(URI, 3, json!([{"text": "new\r\n"}, change(1, 0, 0, "end")]))
        .await;
    assert_eq!(client.text(URI).await, "new\r\nend");
}

#[tokio::test]
async fn places_outside_the_text_are_its_edges() {
    let mut client = Client::greeted(&["utf-16"]).await;
    client.open(URI, 1, "𝜎\r\n").await;
    client.change(URI, 2, json!([change(0, 1, 1, "x")])).await;
    assert_eq!(
        client.text(URI).await,
        "x𝜎\r\n",
        "inside a character is its start"
    );
    client.change(URI, 3, json!([change(0, 99, 99, "y")])).await;
    assert_eq!(
        client.text(URI).await,
        "x𝜎y\r\n",
        "past the end of a line is its end"
    );
    client.change(URI, 4, json!([change(99, 5, 9, "z")])).await;
    assert_eq!(
        client.text(URI).await,
        "x𝜎y\r\nz",
        "past the last line is the end"
    );
    client
        .change(
            URI,
            5,
            json!([change(4_294_967_295, 4_294_967_295, 0, "!")]),
        )
        .await;
    assert_eq!(client.text(URI).await, "x𝜎y\r\nz!");
}

#[tokio::test]
async fn every_spelling_of_an_address_is_one_document() {
    let mut client = Client::greeted(&[]).await;
    client.open("file:///c%3A/x/beam.haunch", 1, "one").await;
    client
        .change("file:///C:/x/beam.haunch", 2, json!([{"text": "two"}]))
        .await;
    assert_eq!(client.text("file:///c:/x/beam.haunch").await, "two");
    client
        .diagnostics("file:///c%3A/x/beam.haunch", Some(2))
        .await;
    client.open("untitled:Untitled-1", 1, "draft").await;
    assert_eq!(client.text("untitled:Untitled-1").await, "draft");
}

#[tokio::test]
async fn closing_clears_the_diagnostics() {
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 7, "a = 1 m").await;
    client.diagnostics(URI, Some(7)).await;
    client
        .notify(
            "textDocument/didClose",
            json!({"textDocument": {"uri": URI}}),
        )
        .await;
    assert_eq!(client.diagnostics(URI, None).await, json!([]));
    let answer = client.result("rehearsal/text", json!({"uri": URI})).await;
    assert_eq!(answer, json!({"text": null, "version": null}));
}

#[tokio::test]
async fn changes_of_what_is_not_open_are_reported_and_harmless() {
    let mut client = Client::greeted(&[]).await;
    client.change(URI, 2, json!([{"text": "x"}])).await;
    client
        .other(|message| message["method"] == "window/logMessage")
        .await;
    client
        .notify(
            "textDocument/didClose",
            json!({"textDocument": {"uri": URI}}),
        )
        .await;
    client
        .other(|message| message["method"] == "window/logMessage")
        .await;
    client
        .notify("textDocument/didChange", json!({"textDocument": 3}))
        .await;
    client
        .other(|message| message["method"] == "window/logMessage")
        .await;
    client.open(URI, 1, "a").await;
    client.open(URI, 1, "b").await;
    assert_eq!(client.text(URI).await, "b");
}

#[tokio::test]
async fn the_last_version_is_always_published() {
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 0, "").await;
    for round in 0..20 {
        for version in 1..=50 {
            client
                .change(URI, round * 50 + version, json!([change(0, 0, 0, "x")]))
                .await;
        }
        client.diagnostics(URI, Some(round * 50 + 50)).await;
    }
}

#[tokio::test]
async fn used_files_come_from_the_disk_unless_they_are_open() {
    let folder = std::env::temp_dir().join(format!("haunch-server-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let plates = folder.join("plates.haunch");
    std::fs::write(&plates, "t = 8 mm\n").expect("a file");
    let uri = |name: &str| format!("file://{}/{name}", folder.display());
    let (beam, plates_uri) = (uri("beam.haunch"), uri("plates.haunch"));
    let mut client = Client::greeted(&[]).await;

    client.open(&beam, 1, "use \"plates.haunch\" as p\n").await;
    assert_eq!(client.text(&plates_uri).await, "t = 8 mm\n");

    std::fs::write(&plates, "t = 9 mm\n").expect("a file");
    let changed = json!({"changes": [{"uri": plates_uri, "type": 2}]});
    client
        .notify("workspace/didChangeWatchedFiles", changed.clone())
        .await;
    assert_eq!(client.text(&plates_uri).await, "t = 9 mm\n");

    client.open(&plates_uri, 1, "t = 10 mm\n").await;
    client
        .notify("workspace/didChangeWatchedFiles", changed.clone())
        .await;
    assert_eq!(client.text(&plates_uri).await, "t = 10 mm\n");

    client
        .notify(
            "textDocument/didClose",
            json!({"textDocument": {"uri": plates_uri}}),
        )
        .await;
    assert_eq!(client.text(&plates_uri).await, "t = 9 mm\n");

    std::fs::remove_file(&plates).expect("it was there");
    client
        .notify("workspace/didChangeWatchedFiles", changed.clone())
        .await;
    let answer = client
        .result("rehearsal/text", json!({"uri": plates_uri}))
        .await;
    assert_eq!(answer["text"], Value::Null);

    std::fs::write(&plates, "t = 11 mm\n").expect("a file");
    client
        .notify("workspace/didChangeWatchedFiles", changed)
        .await;
    assert_eq!(client.text(&plates_uri).await, "t = 11 mm\n");
    std::fs::remove_dir_all(&folder).expect("it was there");
}

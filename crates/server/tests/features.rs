//! Editor features over the protocol.

mod support;

use serde_json::{Value, json};
use support::{Client, change, label};

const URI: &str = "file:///work/beam.haunch";

const TEXT: &str = "σ₁ = 2 mm\nȳ = σ₁*3   [mm]\n𝜎 = ȳ + 1 kN\n";

fn at(line: u32, character: u32) -> Value {
    json!({"textDocument": {"uri": URI}, "position": {"line": line, "character": character}})
}

fn lines(from: u32, to: u32) -> Value {
    json!({
        "textDocument": {"uri": URI},
        "range": {"start": {"line": from, "character": 0}, "end": {"line": to, "character": 0}}
    })
}

/// Columns after `ȳ = σ₁*3` (y with a macron is one character) and round the wrong sum on the line of the
/// letter outside the basic plane.
#[tokio::test]
async fn places_are_counted_as_agreed() {
    for (encoding, after_formula, sum) in [
        ("utf-8", 12, (7, 16)),
        ("utf-16", 8, (5, 13)),
        ("utf-32", 8, (4, 12)),
    ] {
        let mut client = Client::greeted(&[encoding]).await;
        client.open(URI, 1, TEXT).await;
        let hints = client.result("textDocument/inlayHint", lines(1, 1)).await;
        assert_eq!(label(&hints[0]), " = 6.000", "{encoding}");
        assert_eq!(
            hints[0]["position"],
            json!({"line": 1, "character": after_formula}),
            "{encoding}"
        );
        let found = client.diagnostics(URI, Some(1)).await;
        let mistake = found
            .as_array()
            .expect("a list")
            .iter()
            .find(|one| one["severity"] == 1);
        let range = &mistake.expect("a length and a force do not add up")["range"];
        let line = range["start"]["line"].as_u64();
        assert_eq!(line, Some(2), "{encoding}");
        let columns = (
            range["start"]["character"].as_u64().unwrap(),
            range["end"]["character"].as_u64().unwrap(),
        );
        assert!(
            sum.0 <= columns.0 && columns.1 <= sum.1 && columns.0 < columns.1,
            "{encoding}: {range}"
        );
    }
}

#[tokio::test]
async fn a_hint_follows_each_edit() {
    let mut client = Client::greeted(&["utf-16"]).await;
    client.open(URI, 0, "a = 1 mm\nb = a*2 [mm]\n").await;
    let mut expected = Vec::new();
    for version in 1..=300 {
        let digits = json!({
            "range": {"start": {"line": 0, "character": 4}, "end": {"line": 0, "character": 8}},
            "text": format!("{}", 1000 + version)
        });
        let first = version == 1;
        let edit = if first {
            change(0, 4, 5, "1001")
        } else {
            digits
        };
        client.change(URI, version, json!([edit])).await;
        let id = client.ask("textDocument/inlayHint", lines(1, 1)).await;
        expected.push((id, format!(" = {}", 2 * (1000 + version))));
    }
    for (id, expected) in expected {
        let answer = client.answer(id).await;
        assert_eq!(label(&answer["result"][0]), expected);
    }
}

#[tokio::test]
async fn hover_definition_completion_and_outline() {
    let mut plain = Client::greeted(&["utf-16"]).await;
    plain.open(URI, 1, TEXT).await;
    let hover = plain.result("textDocument/hover", at(1, 0)).await;
    assert_eq!(hover["contents"]["kind"], "plaintext");
    let shown = hover["contents"]["value"].as_str().expect("words");
    assert!(shown.starts_with("ȳ = σ₁*3\n  = 2 mm * 3\n"), "{shown}");

    let capabilities = json!({"textDocument": {"hover": {"contentFormat": ["markdown"]}}});
    let mut client = Client::greeted_with(json!({"capabilities": capabilities})).await;
    client.open(URI, 1, TEXT).await;
    let hover = client.result("textDocument/hover", at(1, 0)).await;
    let shown = hover["contents"]["value"].as_str().expect("Markdown");
    assert!(
        shown.contains("ȳ = σ₁*3\n  = 2 mm * 3\n  = 6.000 mm"),
        "{shown}"
    );
    let target = client.result("textDocument/definition", at(1, 5)).await;
    assert_eq!(target["uri"], URI);
    assert_eq!(target["range"]["start"], json!({"line": 0, "character": 0}));
    let items = client.result("textDocument/completion", at(2, 6)).await;
    let names: Vec<_> = items
        .as_array()
        .expect("a list")
        .iter()
        .map(|item| &item["label"])
        .collect();
    assert!(names.iter().any(|name| *name == "σ₁"), "{names:?}");
    let outline = client
        .result(
            "textDocument/documentSymbol",
            json!({"textDocument": {"uri": URI}}),
        )
        .await;
    assert_eq!(outline.as_array().map(Vec::len), Some(3));
}

#[tokio::test]
async fn a_repair_can_be_applied() {
    let capabilities = json!({"textDocument": {"codeAction": {"codeActionLiteralSupport": {}}}});
    let mut client = Client::greeted_with(json!({"capabilities": capabilities})).await;
    client.open(URI, 1, "a = 3 [m]\n").await;
    let found = client.diagnostics(URI, Some(1)).await;
    assert!(
        found.as_array().is_some_and(|found| !found.is_empty()),
        "{found}"
    );
    let params = json!({
        "textDocument": {"uri": URI},
        "range": {"start": {"line": 0, "character": 6}, "end": {"line": 0, "character": 6}},
        "context": {"diagnostics": []}
    });
    let actions = client.result("textDocument/codeAction", params).await;
    // The edits count in one text: the last comes first, so that the others stay where they are.
    let found = actions[0]["edit"]["changes"][URI].as_array();
    let mut edits: Vec<_> = found.expect("edits").iter().rev().collect();
    edits.sort_by_key(|edit| std::cmp::Reverse(edit["range"]["start"]["character"].as_u64()));
    let changes: Vec<_> = edits
        .iter()
        .map(|edit| json!({"range": edit["range"], "text": edit["newText"]}))
        .collect();
    client.change(URI, 2, Value::Array(changes)).await;
    assert_eq!(client.text(URI).await, "a = 3 m\n");
}

#[tokio::test]
async fn documents_that_nobody_opened_have_nothing() {
    let mut client = Client::greeted(&[]).await;
    assert_eq!(
        client.result("textDocument/hover", at(0, 0)).await,
        Value::Null
    );
    assert_eq!(
        client.result("textDocument/inlayHint", lines(0, 9)).await,
        Value::Null
    );
    assert_eq!(
        client.result("textDocument/completion", at(0, 0)).await,
        Value::Null
    );
}

#[tokio::test]
async fn a_change_in_a_used_file_reaches_those_that_use_it() {
    let mut client = Client::ungreeted();
    let capabilities = json!({"workspace": {"inlayHint": {"refreshSupport": true}}});
    client
        .result("initialize", json!({"capabilities": capabilities}))
        .await;
    client.notify("initialized", json!({})).await;
    client
        .open(URI, 1, "use \"plates.haunch\" as p\na = p.t*2 [mm]\n")
        .await;
    client
        .open("file:///work/plates.haunch", 1, "t = 8 mm\n")
        .await;
    client
        .other(|message| message["method"] == "workspace/inlayHint/refresh")
        .await;
    let hints = client.result("textDocument/inlayHint", lines(1, 1)).await;
    assert_eq!(label(&hints[0]), " = 16.00");
    client
        .change(
            "file:///work/plates.haunch",
            2,
            json!([change(0, 4, 5, "9")]),
        )
        .await;
    let hints = client.result("textDocument/inlayHint", lines(1, 1)).await;
    assert_eq!(label(&hints[0]), " = 18.00");
}

#[tokio::test]
async fn many_findings_are_counted_not_sent() {
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 1, &"a = \n".repeat(1_000)).await;
    let found = client.diagnostics(URI, Some(1)).await;
    let found = found.as_array().expect("a list");
    assert_eq!(found.len(), 501);
    let last = found[500]["message"].as_str().expect("words");
    assert!(last.contains("more findings"), "{last}");
}

#[tokio::test]
async fn of_very_many_completions_the_client_asks_again() {
    let mut client = Client::greeted(&[]).await;
    let names: String = (0..1_000).map(|n| format!("n_{n} = {n} mm\n")).collect();
    client.open(URI, 1, &(names + "x = n_77")).await;
    let offered = client.result("textDocument/completion", at(1_000, 8)).await;
    assert_eq!(offered["isIncomplete"], true);
    let items = offered["items"].as_array().expect("a list");
    assert!(items.len() < 300 && items.iter().any(|item| item["label"] == "n_77"));
}

#[tokio::test]
async fn completions_as_the_client_can_take_them() {
    let capabilities = json!({"textDocument": {"completion": {"completionItem": {
        "snippetSupport": true, "documentationFormat": ["markdown"], "resolveSupport": {"properties": ["documentation"]}
    }}}});
    let mut client = Client::greeted_with(json!({"capabilities": capabilities})).await;
    client
        .open(URI, 1, "b = 2 mm\na = b*3 [mm]\nc = a + \n\n")
        .await;
    let items = client.result("textDocument/completion", at(2, 8)).await;
    let items = items.as_array().expect("a list");
    let named = |label: &str| {
        items
            .iter()
            .find(|item| item["label"] == label)
            .expect("it is there")
    };
    let shown = client
        .result("completionItem/resolve", named("a").clone())
        .await;
    let words = shown["documentation"]["value"]
        .as_str()
        .expect("a description");
    assert!(words.contains("2 mm * 3"), "{words}");
    assert_eq!(named("sqrt")["textEdit"]["newText"], "sqrt(${1:})$0");
    assert_eq!(named("sqrt")["insertTextFormat"], 2);
    let items = client.result("textDocument/completion", at(3, 0)).await;
    let is_block = |item: &&Value| item["insertTextFormat"] == 2 && item["label"] == "section";
    let block = items
        .as_array()
        .expect("a list")
        .iter()
        .find(is_block)
        .expect("a block");
    let text = block["textEdit"]["newText"].as_str().expect("a text");
    assert!(
        text.starts_with("section ${1:name} of ${2:material}\n    rect"),
        "{text}"
    );

    let mut plain = Client::greeted(&[]).await;
    plain.open(URI, 1, "a = 1 m\nb = 3 \n\n").await;
    for (line, character) in [(1, 4), (2, 0)] {
        let items = plain
            .result("textDocument/completion", at(line, character))
            .await;
        for item in items.as_array().expect("a list") {
            let text = item["textEdit"]["newText"].as_str().expect("a text");
            assert!(
                !text.contains('$') && item.get("insertTextFormat").is_none(),
                "{item}"
            );
        }
    }
}

#[tokio::test]
async fn changes_by_their_kind_or_as_commands() {
    let capabilities = json!({"textDocument": {"codeAction": {"codeActionLiteralSupport": {}}}});
    let text = "b = 2 mm\na = b*25.4 mm [mm^2]\nc = a\n";
    let params = |only: Value| {
        json!({
            "textDocument": {"uri": URI},
            "range": {"start": {"line": 1, "character": 4}, "end": {"line": 1, "character": 13}},
            "context": {"diagnostics": [], "only": only}
        })
    };
    let mut client = Client::greeted_with(json!({"capabilities": capabilities})).await;
    client.open(URI, 1, text).await;
    let found = client
        .result("textDocument/codeAction", params(json!(["refactor"])))
        .await;
    let kinds: Vec<_> = found
        .as_array()
        .expect("a list")
        .iter()
        .map(|one| one["kind"].clone())
        .collect();
    assert!(kinds.contains(&json!("refactor.rewrite")), "{kinds:?}");
    let found = client
        .result(
            "textDocument/codeAction",
            params(json!(["refactor.inline"])),
        )
        .await;
    assert!(
        found
            .as_array()
            .expect("a list")
            .iter()
            .all(|one| one["kind"] == "refactor.inline")
    );
    let found = client
        .result("textDocument/codeAction", params(json!(["quickfix"])))
        .await;
    assert_eq!(found, json!([]));
    let mut plain = Client::greeted(&[]).await;
    plain.open(URI, 1, text).await;
    let found = plain
        .result("textDocument/codeAction", params(Value::Null))
        .await;
    assert_eq!(found[0]["command"], "haunch.apply", "{found}");
    let command = json!({"command": found[0]["command"], "arguments": found[0]["arguments"]});
    plain.result("workspace/executeCommand", command).await;
    let asked = plain
        .other(|message| message["method"] == "workspace/applyEdit")
        .await;
    assert!(asked["params"]["edit"]["changes"][URI].is_array());
}

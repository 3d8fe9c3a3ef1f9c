//! Formatting over the protocol.

mod support;

use serde_json::{Value, json};
use support::Client;

const URI: &str = "file:///work/beam.haunch";

fn document() -> Value {
    json!({"uri": URI})
}

/// As an editor sends them; the layout has no use for them.
fn options() -> Value {
    json!({"tabSize": 8, "insertSpaces": false})
}

fn edit(line: u32, from: u32, to: u32, text: &str) -> Value {
    json!({
        "range": {
            "start": {"line": line, "character": from},
            "end": {"line": line, "character": to}
        },
        "newText": text
    })
}

#[tokio::test]
async fn a_document_gets_the_edits_that_it_needs() {
    for (encoding, end) in [("utf-8", 11), ("utf-16", 7), ("utf-32", 6)] {
        let mut client = Client::greeted(&[encoding]).await;
        client
            .open(URI, 1, "𝜎₁ = 2 \nb = (\n\n\nc = 𝜎₁  [mm]\n")
            .await;
        let params = json!({"textDocument": document(), "options": options()});
        let edits = client.result("textDocument/formatting", params).await;
        let removed = json!({
            "range": {
                "start": {"line": 3, "character": 0},
                "end": {"line": 4, "character": 0}
            },
            "newText": ""
        });
        let space = edit(0, end, end + 1, "");
        assert_eq!(edits, json!([space, removed]), "{encoding}");
    }
}

#[tokio::test]
async fn a_range_leaves_other_lines() {
    let mut client = Client::greeted(&["utf-8"]).await;
    client.open(URI, 1, "a=1 m\n\nb=2 m\n\nc=3 m\n").await;
    let params = json!({
        "textDocument": document(),
        "range": {"start": {"line": 2, "character": 1}, "end": {"line": 3, "character": 0}},
        "options": options()
    });
    let edits = client.result("textDocument/rangeFormatting", params).await;
    assert_eq!(edits, json!([edit(2, 1, 1, " "), edit(2, 2, 2, " ")]));
}

#[tokio::test]
async fn a_new_line_lays_out_the_one_that_was_left() {
    let mut client = Client::greeted(&["utf-8"]).await;
    client.open(URI, 1, "a=1 m\n    \n\nb=2 m\n").await;
    let params = |line: u32| {
        json!({
            "textDocument": document(),
            "position": {"line": line, "character": 4},
            "ch": "\n",
            "options": options()
        })
    };
    let edits = client
        .result("textDocument/onTypeFormatting", params(1))
        .await;
    assert_eq!(edits, json!([edit(0, 1, 1, " "), edit(0, 2, 2, " ")]));
    let edits = client
        .result("textDocument/onTypeFormatting", params(0))
        .await;
    assert_eq!(edits, json!([]));
}

/// Where an expression is parted in the middle, somebody is still writing in it.
#[tokio::test]
async fn a_parted_expression_is_left_alone() {
    let mut client = Client::greeted(&["utf-8"]).await;
    client.open(URI, 1, "a=b\n  +c\n").await;
    let params = json!({
        "textDocument": document(),
        "position": {"line": 1, "character": 2},
        "ch": "\n",
        "options": options()
    });
    let edits = client.result("textDocument/onTypeFormatting", params).await;
    assert_eq!(edits, json!([]));
}

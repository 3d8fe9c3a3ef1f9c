//! Names over the protocol: where they stand, giving them others, what uses what.

mod support;

use serde_json::{Value, json};
use support::Client;

const URI: &str = "file:///work/beam.haunch";
const PLATES: &str = "file:///work/plates.haunch";

fn at(uri: &str, line: u32, character: u32) -> Value {
    json!({"textDocument": {"uri": uri}, "position": {"line": line, "character": character}})
}

async fn two_files(capabilities: Value) -> Client {
    let mut client = Client::greeted_with(json!({"capabilities": capabilities})).await;
    client.open(PLATES, 4, "𝜎 = 8 mm\n").await;
    client
        .open(
            URI,
            7,
            "use \"plates.haunch\" as p\na = p.𝜎*2 [mm]\nb = a + p.𝜎\n",
        )
        .await;
    client
}

fn starts(found: &Value) -> Vec<(String, u64, u64)> {
    let found = found.as_array().expect("a list").iter();
    let start = |one: &Value| {
        let at = &one["range"]["start"];
        let uri = one["uri"].as_str().unwrap_or_default().to_owned();
        (
            uri,
            at["line"].as_u64().unwrap(),
            at["character"].as_u64().unwrap(),
        )
    };
    found.map(start).collect()
}

#[tokio::test]
async fn references_and_highlights() {
    let mut client = two_files(json!({})).await;
    let mut params = at(URI, 1, 6);
    params["context"] = json!({"includeDeclaration": true});
    let found = client
        .result("textDocument/references", params.clone())
        .await;
    let mut found = starts(&found);
    found.sort();
    let expected = [(URI, 1, 6), (URI, 2, 10), (PLATES, 0, 0)];
    assert_eq!(
        found,
        expected.map(|(uri, line, column)| (uri.to_owned(), line, column))
    );
    params["context"] = json!({"includeDeclaration": false});
    let found = client.result("textDocument/references", params).await;
    assert_eq!(found.as_array().map(Vec::len), Some(2));
    let found = client
        .result("textDocument/documentHighlight", at(URI, 2, 4))
        .await;
    assert_eq!(
        starts(&found),
        [(String::new(), 1, 0), (String::new(), 2, 4)]
    );
    assert_eq!(
        (found[0]["kind"].as_u64(), found[1]["kind"].as_u64()),
        (Some(3), Some(2))
    );
}

#[tokio::test]
async fn a_rename_reaches_all_files() {
    let capabilities = json!({
        "textDocument": {"rename": {"prepareSupport": true}},
        "workspace": {"workspaceEdit": {"documentChanges": true}}
    });
    let mut client = two_files(capabilities).await;
    let prepared = client
        .result("textDocument/prepareRename", at(URI, 1, 6))
        .await;
    assert_eq!(prepared["placeholder"], "𝜎");
    assert_eq!(prepared["range"]["end"], json!({"line": 1, "character": 8}));
    let mut params = at(URI, 1, 6);
    params["newName"] = json!("t");
    let edit = client.result("textDocument/rename", params.clone()).await;
    let documents: Vec<_> = edit["documentChanges"]
        .as_array()
        .expect("edits with versions")
        .iter()
        .map(|one| {
            (
                &one["textDocument"]["uri"],
                &one["textDocument"]["version"],
                one["edits"].as_array().map(Vec::len),
            )
        })
        .collect();
    assert_eq!(documents.len(), 2);
    assert!(documents.contains(&(&json!(URI), &json!(7), Some(2))));
    assert!(documents.contains(&(&json!(PLATES), &json!(4), Some(1))));
    // A client that takes no versions gets the same edits without.
    let mut plain = two_files(json!({})).await;
    let edit = plain.result("textDocument/rename", params).await;
    assert_eq!(edit["changes"][URI].as_array().map(Vec::len), Some(2));
}

#[tokio::test]
async fn a_rename_is_refused_with_the_reason() {
    let mut client = two_files(json!({})).await;
    let mut params = at(URI, 1, 0);
    for (name, reason) in [
        ("b", "line 3"),
        ("sqrt", "meaning of its own"),
        ("2", "cannot be a name"),
    ] {
        params["newName"] = json!(name);
        let answer = client.call("textDocument/rename", params.clone()).await;
        let message = answer["error"]["message"].as_str().expect("an error");
        assert!(message.contains(reason), "{message}");
    }
    let answer = client
        .call("textDocument/prepareRename", at(URI, 1, 10))
        .await;
    assert!(answer["error"]["message"].is_string(), "{answer}");
}

#[tokio::test]
async fn moved_files_keep_their_use_lines() {
    let mut client = two_files(json!({})).await;
    let moves =
        json!({"files": [{"oldUri": PLATES, "newUri": "file:///work/steel/plates.haunch"}]});
    let edit = client.result("workspace/willRenameFiles", moves).await;
    assert_eq!(edit["changes"][URI][0]["newText"], "steel/plates.haunch");
    assert_eq!(
        edit["changes"][URI][0]["range"]["start"],
        json!({"line": 0, "character": 5})
    );
}

#[tokio::test]
async fn a_dimension_is_found_and_a_call_explained() {
    let mut client = two_files(json!({})).await;
    let found = client
        .result("textDocument/typeDefinition", at(URI, 2, 4))
        .await;
    assert_eq!(found["range"]["start"], json!({"line": 1, "character": 11}));
    client
        .change(
            URI,
            8,
            json!([support::change(2, 0, 99, "b = min(a, 3 m)")]),
        )
        .await;
    let help = client
        .result("textDocument/signatureHelp", at(URI, 2, 11))
        .await;
    assert_eq!(help["activeParameter"], 1, "{help}");
    assert!(
        help["signatures"][0]["label"]
            .as_str()
            .is_some_and(|label| label.starts_with("min("))
    );
}

#[tokio::test]
async fn what_uses_a_value_and_what_it_uses() {
    let mut client = two_files(json!({})).await;
    let items = client
        .result("textDocument/prepareCallHierarchy", at(URI, 2, 4))
        .await;
    assert_eq!(
        (&items[0]["name"], &items[0]["detail"]),
        (&json!("a"), &json!("16.00 mm"))
    );
    let item = json!({"item": items[0]});
    let users = client
        .result("callHierarchy/incomingCalls", item.clone())
        .await;
    assert_eq!(users[0]["from"]["name"], "b");
    assert_eq!(
        users[0]["fromRanges"][0]["start"],
        json!({"line": 2, "character": 4})
    );
    let used = client.result("callHierarchy/outgoingCalls", item).await;
    assert_eq!(
        (&used[0]["to"]["name"], &used[0]["to"]["uri"]),
        (&json!("𝜎"), &json!(PLATES))
    );
}

#[tokio::test]
async fn an_argument_is_edited_wherever_it_stands() {
    let mut client = Client::greeted(&["utf-16"]).await;
    client.open(URI, 1, "f(𝜎) = 𝜎*2 [mm]\na = f(3 mm)\n").await;
    let found = client
        .result("textDocument/linkedEditingRange", at(URI, 0, 2))
        .await;
    assert_eq!(found["ranges"].as_array().map(Vec::len), Some(2));
    let found = client
        .result("textDocument/linkedEditingRange", at(URI, 1, 0))
        .await;
    assert_eq!(found, Value::Null);
}

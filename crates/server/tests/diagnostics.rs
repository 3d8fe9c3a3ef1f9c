//! Diagnostics that the client asks for, and what is said of each.

mod support;

use serde_json::{Value, json};
use support::{Client, change, report_of};

const URI: &str = "file:///work/beam.haunch";
const PLATES: &str = "file:///work/plates.haunch";

fn pulling() -> Value {
    json!({"capabilities": {
        "textDocument": {"diagnostic": {}},
        "workspace": {"diagnostics": {"refreshSupport": true}}
    }})
}

fn published(message: &Value) -> bool {
    message["method"] == "textDocument/publishDiagnostics"
}

#[tokio::test]
async fn a_client_that_asks_is_sent_none_unasked() {
    let mut client = Client::greeted_with(pulling()).await;
    client.open(URI, 1, "a = b\n").await;
    let params = json!({"textDocument": {"uri": URI}});
    let report = client
        .result("textDocument/diagnostic", params.clone())
        .await;
    assert_eq!(
        (&report["kind"], &report["items"][0]["code"]),
        (&json!("full"), &json!("unknown-name"))
    );
    let mut again = params.clone();
    again["previousResultId"] = report["resultId"].clone();
    let same = client
        .result("textDocument/diagnostic", again.clone())
        .await;
    assert_eq!(
        (&same["kind"], &same["resultId"]),
        (&json!("unchanged"), &report["resultId"])
    );
    client.change(URI, 2, json!([change(0, 4, 5, "1 m")])).await;
    let other = client.result("textDocument/diagnostic", again).await;
    assert_eq!(other["kind"], "full");
    assert!(!client.came(published).await);
}

#[tokio::test]
async fn all_files_at_once() {
    let mut client = Client::greeted_with(pulling()).await;
    client
        .open(URI, 3, "use \"plates.haunch\" as p\na = p.t + 1 kN\n")
        .await;
    client.open(PLATES, 5, "t = 8 mm\n").await;
    let report = client
        .result("workspace/diagnostic", json!({"previousResultIds": []}))
        .await;
    let of = |uri: &str| report_of(&report, uri).clone();
    assert_eq!(
        (&of(URI)["kind"], &of(URI)["version"]),
        (&json!("full"), &json!(3))
    );
    let items = report["items"].as_array().expect("reports");
    let previous: Vec<_> = items
        .iter()
        .map(|item| json!({"uri": item["uri"], "value": item["resultId"]}))
        .collect();
    // An edit of one file changes what is found in the other.
    client
        .change(PLATES, 6, json!([change(0, 6, 8, "kN")]))
        .await;
    client
        .other(|message| message["method"] == "workspace/diagnostic/refresh")
        .await;
    let report = client
        .result(
            "workspace/diagnostic",
            json!({"previousResultIds": previous}),
        )
        .await;
    let items = report["items"].as_array().expect("reports");
    let kind = |uri: &str| {
        &items
            .iter()
            .find(|item| item["uri"] == uri)
            .expect("a report")["kind"]
    };
    assert_eq!(
        (kind(URI), kind(PLATES)),
        (&json!("full"), &json!("unchanged"))
    );
}

#[tokio::test]
async fn a_client_that_does_not_ask_is_sent_them() {
    let mut client = Client::ungreeted();
    let answer = client
        .result("initialize", json!({"capabilities": {}}))
        .await;
    assert_eq!(answer["capabilities"].get("diagnosticProvider"), None);
    client.notify("initialized", json!({})).await;
    client.open(URI, 1, "a = b\n").await;
    assert_eq!(
        client.diagnostics(URI, Some(1)).await[0]["code"],
        "unknown-name"
    );
}

#[tokio::test]
async fn unused_values_are_tagged_where_that_is_shown() {
    for (tags, expected) in [
        (json!({"valueSet": [1, 2]}), json!([1])),
        (json!({"valueSet": [2]}), Value::Null),
    ] {
        let capabilities = json!({"textDocument": {"publishDiagnostics": {"tagSupport": tags}}});
        let mut client = Client::greeted_with(json!({"capabilities": capabilities})).await;
        client.open(URI, 1, "a = 3 m\n").await;
        let found = client.diagnostics(URI, Some(1)).await;
        assert_eq!(
            (&found[0]["code"], &found[0]["tags"]),
            (&json!("unused-value"), &expected)
        );
    }
}

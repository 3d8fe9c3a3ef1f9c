//! What only some clients can show: pictures, and the pages about codes.

mod support;

use serde_json::{Value, json};
use support::Client;

const URI: &str = "file:///boathouse.haunch";

const TEXT: &str = "\
section plank
    rect board  200 x 50 mm
size = plank.area [mm]
";

fn with(experimental: Value) -> Value {
    json!({"capabilities": {
        "experimental": experimental,
        "window": {"showDocument": {"support": true}},
        "textDocument": {
            "hover": {"contentFormat": ["markdown"]},
            "codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": []}}}
        }
    }})
}

async fn hover(client: &mut Client) -> String {
    let at = json!({"textDocument": {"uri": URI}, "position": {"line": 2, "character": 8}});
    let hover = client.result("textDocument/hover", at).await;
    hover["contents"]["value"]
        .as_str()
        .expect("words")
        .to_owned()
}

async fn actions(client: &mut Client) -> Vec<Value> {
    let asked = json!({
        "textDocument": {"uri": URI},
        "range": {"start": {"line": 2, "character": 0}, "end": {"line": 2, "character": 30}},
        "context": {"diagnostics": []}
    });
    let actions = client.result("textDocument/codeAction", asked).await;
    let mut actions = actions.as_array().cloned().unwrap_or_default();
    actions.retain(|action| action["kind"] == "explain");
    actions
}

#[tokio::test]
async fn a_section_is_drawn_for_those_who_see_pictures() {
    let picture = "![The section drawn](data:image/svg+xml,%3Csvg";
    let mut client = Client::greeted_with(with(json!({"haunch": {"drawings": true}}))).await;
    client.open(URI, 1, TEXT).await;
    let shown = hover(&mut client).await;
    assert!(shown.contains(picture), "{shown}");
    // Nothing in the address ends it early.
    let address = shown.split("](data:").nth(1).expect("the picture");
    let (address, words) = address
        .split_once(")\n\n")
        .expect("words under the picture");
    assert!(words.contains("10000 mm²"), "{words}");
    assert!(!address.contains(['(', ')', ' ', '"', '<', '>']));
    let mut client = Client::greeted_with(with(json!({}))).await;
    client.open(URI, 1, TEXT).await;
    assert!(!hover(&mut client).await.contains(picture));
}

#[tokio::test]
async fn a_code_leads_to_its_page_for_those_who_can_show_it() {
    let mut client = Client::greeted_with(with(json!({"haunch": {"pages": true}}))).await;
    client.open(URI, 1, TEXT).await;
    let found = client.diagnostics(URI, Some(1)).await;
    let address = &found[0]["codeDescription"]["href"];
    assert_eq!(
        address, "haunch-page://findings/unit-mismatch.md",
        "{found}"
    );
    let page = json!({"command": "haunch.page", "arguments": [address]});
    let page = client.result("workspace/executeCommand", page).await;
    assert!(
        page.as_str()
            .is_some_and(|page| page.starts_with("# unit-mismatch\n"))
    );
    let other = json!({"command": "haunch.page", "arguments": ["haunch-page://findings/dance.md"]});
    assert_eq!(
        client.error("workspace/executeCommand", other).await,
        -32602
    );
    let offered = actions(&mut client).await;
    assert_eq!(offered.len(), 1, "{offered:?}");
    assert_eq!(offered[0]["title"], "Show what unit-mismatch means");
    let command = &offered[0]["command"];
    let asked = json!({"command": command["command"], "arguments": command["arguments"]});
    client.result("workspace/executeCommand", asked).await;
    let shown = client
        .other(|message| message["method"] == "window/showDocument")
        .await;
    assert_eq!(&shown["params"]["uri"], address);
}

#[tokio::test]
async fn other_clients_get_no_address_that_they_cannot_open() {
    let mut client = Client::greeted_with(with(json!({}))).await;
    client.open(URI, 1, TEXT).await;
    let found = client.diagnostics(URI, Some(1)).await;
    assert!(found[0].get("codeDescription").is_none());
    assert!(actions(&mut client).await.is_empty());
}

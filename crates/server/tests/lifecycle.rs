//! Greeting, ending, and whatever is no proper message.

mod support;

use serde_json::{Value, json};
use support::{Client, framed};

const NOT_INITIALIZED: i64 = -32002;
const INVALID_REQUEST: i64 = -32600;
const METHOD_NOT_FOUND: i64 = -32601;
const INVALID_PARAMS: i64 = -32602;
const PARSE_ERROR: i64 = -32700;

async fn encoding_for(params: Value) -> Value {
    let mut client = Client::ungreeted();
    let mut result = client.result("initialize", params).await;
    result["capabilities"]["positionEncoding"].take()
}

#[tokio::test]
async fn the_encoding_is_agreed() {
    let offering =
        |encodings: Value| json!({"capabilities": {"general": {"positionEncodings": encodings}}});
    assert_eq!(
        encoding_for(offering(json!(["utf-16", "utf-8"]))).await,
        "utf-8"
    );
    assert_eq!(
        encoding_for(offering(json!(["utf-16", "utf-32"]))).await,
        "utf-32"
    );
    assert_eq!(encoding_for(offering(json!(["utf-16"]))).await, "utf-16");
    assert_eq!(encoding_for(json!({"capabilities": {}})).await, "utf-16");
}

#[tokio::test]
async fn a_greeting_with_unknown_values_is_accepted() {
    let strange = json!({
        "processId": "none",
        "rootUri": "/no/scheme",
        "trace": "loud",
        "workspaceFolders": 7,
        "capabilities": {
            "general": {"positionEncodings": ["utf-8", "utf-7"]},
            "textDocument": {
                "completion": {"completionItem": {"tagSupport": {"valueSet": [99]}}},
                "codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": [4]}}}
            },
            "workspace": {"workspaceEdit": {"failureHandling": "improvise", "resourceOperations": ["paint"]}}
        }
    });
    assert_eq!(encoding_for(strange).await, "utf-8");
}

#[tokio::test]
async fn requests_before_the_greeting_are_refused_and_notifications_dropped() {
    let mut client = Client::ungreeted();
    let hover = json!({"textDocument": {"uri": "file:///a.haunch"}, "position": {"line": 0, "character": 0}});
    assert_eq!(
        client.error("textDocument/hover", hover).await,
        NOT_INITIALIZED
    );
    client.open("file:///a.haunch", 1, "a = 1 m").await;
    client
        .result("initialize", json!({"capabilities": {}}))
        .await;
    let answer = client
        .result("rehearsal/text", json!({"uri": "file:///a.haunch"}))
        .await;
    assert_eq!(answer["text"], Value::Null);
}

#[tokio::test]
async fn a_second_greeting_is_refused() {
    let mut client = Client::greeted(&["utf-8"]).await;
    assert_eq!(
        client
            .error("initialize", json!({"capabilities": {}}))
            .await,
        INVALID_REQUEST
    );
}

#[tokio::test]
async fn shutdown_then_exit_ends_well_while_the_input_stays_open() {
    let mut client = Client::greeted(&[]).await;
    client.result("shutdown", Value::Null).await;
    let hover = json!({"textDocument": {"uri": "file:///a.haunch"}, "position": {"line": 0, "character": 0}});
    assert_eq!(
        client.error("textDocument/hover", hover).await,
        INVALID_REQUEST
    );
    client
        .write(&framed(r#"{"jsonrpc":"2.0","method":"exit"}"#))
        .await;
    assert!(client.ending().await);
}

#[tokio::test]
async fn exit_without_shutdown_ends_at_once_and_badly() {
    let mut client = Client::greeted(&[]).await;
    client.ask("rehearsal/wait", Value::Null).await;
    client.notify("exit", Value::Null).await;
    assert!(!client.ending().await);
}

#[tokio::test]
async fn exit_before_the_greeting_ends() {
    let mut client = Client::ungreeted();
    client.notify("exit", Value::Null).await;
    assert!(!client.ending().await);
}

#[tokio::test]
async fn a_closed_input_ends() {
    let client = Client::greeted(&[]).await;
    assert!(!client.hang_up().await);
}

#[tokio::test]
async fn unknown_methods_are_answered_and_unknown_notifications_ignored() {
    let mut client = Client::greeted(&[]).await;
    assert_eq!(
        client.error("textDocument/paint", json!({})).await,
        METHOD_NOT_FOUND
    );
    client.notify("textDocument/painted", json!({})).await;
    client.notify("$/unknown", json!({})).await;
    assert_eq!(
        client
            .error("textDocument/hover", json!({"position": 3}))
            .await,
        INVALID_PARAMS
    );
}

#[tokio::test]
async fn broken_messages_are_answered_and_the_next_one_works() {
    let mut client = Client::greeted(&[]).await;
    let broken: [(&[u8], i64); 6] = [
        (b"{\"jsonrpc\":", PARSE_ERROR),
        (b"\xff\xfe", PARSE_ERROR),
        (b"", PARSE_ERROR),
        (b"[1, 2]", INVALID_REQUEST),
        (b"\"text\"", INVALID_REQUEST),
        (b"{\"jsonrpc\":\"2.0\",\"method\":7}", INVALID_REQUEST),
    ];
    for (body, code) in broken {
        client
            .write(format!("Content-Length: {}\r\n\r\n", body.len()).as_bytes())
            .await;
        client.write(body).await;
        let answer = client
            .other(|message| message["id"].is_null() && message.get("error").is_some())
            .await;
        assert_eq!(answer["error"]["code"], code, "{answer}");
    }
    client.write(b"Content-Length: many\r\n\r\n").await;
    client
        .other(|message| message["error"]["code"] == PARSE_ERROR)
        .await;
    client.open("file:///a.haunch", 1, "a = 1 m\n").await;
    assert_eq!(client.text("file:///a.haunch").await, "a = 1 m\n");
}

#[tokio::test]
async fn a_deeply_nested_message_is_refused() {
    let mut client = Client::greeted(&[]).await;
    let depth = 100_000;
    let body = format!("{}{}", "[".repeat(depth), "]".repeat(depth));
    client.write(&framed(&body)).await;
    client
        .other(|message| message["error"]["code"] == PARSE_ERROR)
        .await;
    assert_eq!(client.error("no/such", json!({})).await, METHOD_NOT_FOUND);
}

//! One request never harms another: panics, cancelling, floods.

mod support;

use serde_json::{Value, json};
use support::Client;

const INTERNAL_ERROR: i64 = -32603;
const CANCELLED: i64 = -32800;

#[tokio::test]
async fn a_panic_is_answered_and_the_next_request_works() {
    let mut client = Client::greeted(&[]).await;
    client.open("file:///a.haunch", 1, "a = 1 m\n").await;
    for method in [
        "rehearsal/panic",
        "rehearsal/panicInHandler",
        "rehearsal/panic",
    ] {
        assert_eq!(client.error(method, Value::Null).await, INTERNAL_ERROR);
        let logged = client
            .other(|message| message["method"] == "window/logMessage")
            .await;
        assert_eq!(logged["params"]["type"], 1);
        let words = logged["params"]["message"].as_str().expect("words");
        assert!(words.starts_with(method), "{words}");
        assert_eq!(client.text("file:///a.haunch").await, "a = 1 m\n");
    }
}

#[tokio::test]
async fn a_cancel_reaches_running_and_waiting_requests() {
    let mut client = Client::greeted(&[]).await;
    let mut waiting = Vec::new();
    for _ in 0..100 {
        waiting.push(client.ask("rehearsal/wait", Value::Null).await);
    }
    for &id in waiting.iter().rev() {
        client.notify("$/cancelRequest", json!({"id": id})).await;
    }
    for id in waiting {
        let answer = client.answer(id).await;
        assert_eq!(answer["error"]["code"], CANCELLED, "{answer}");
    }
    client.open("file:///a.haunch", 1, "a").await;
    assert_eq!(client.text("file:///a.haunch").await, "a");
}

#[tokio::test]
async fn cancelling_what_is_answered_or_unknown_does_nothing() {
    let mut client = Client::greeted(&[]).await;
    client.open("file:///a.haunch", 1, "a").await;
    client.notify("$/cancelRequest", json!({"id": 12345})).await;
    client.notify("$/cancelRequest", json!({"id": "x"})).await;
    client.notify("$/cancelRequest", json!({})).await;
    assert_eq!(client.text("file:///a.haunch").await, "a");
}

#[tokio::test]
async fn edits_are_applied_while_requests_compute() {
    let mut client = Client::greeted(&[]).await;
    client.open("file:///a.haunch", 1, "a").await;
    let early = client
        .ask("rehearsal/text", json!({"uri": "file:///a.haunch"}))
        .await;
    let mut busy = Vec::new();
    for _ in 0..8 {
        busy.push(client.ask("rehearsal/wait", Value::Null).await);
    }
    let late = client
        .ask("rehearsal/text", json!({"uri": "file:///a.haunch"}))
        .await;
    client
        .change("file:///a.haunch", 2, json!([{"text": "b"}]))
        .await;
    let last = client
        .ask("rehearsal/text", json!({"uri": "file:///a.haunch"}))
        .await;
    for id in busy {
        client.notify("$/cancelRequest", json!({"id": id})).await;
        client.answer(id).await;
    }
    for (id, text, version) in [(early, "a", 1), (late, "a", 1), (last, "b", 2)] {
        let answer = client.answer(id).await;
        assert_eq!(answer["result"], json!({"text": text, "version": version}));
    }
}

#[tokio::test]
async fn a_request_under_an_id_in_use_is_refused() {
    let mut client = Client::greeted(&[]).await;
    let id = client.ask("rehearsal/wait", Value::Null).await;
    let again = json!({"jsonrpc": "2.0", "id": id, "method": "rehearsal/wait"}).to_string();
    client.write(&support::framed(&again)).await;
    assert_eq!(client.answer(id).await["error"]["code"], -32600);
    client.notify("$/cancelRequest", json!({"id": id})).await;
    assert_eq!(client.answer(id).await["error"]["code"], CANCELLED);
}

#[tokio::test]
async fn a_failure_of_the_core_loses_no_document() {
    let mut client = Client::greeted(&[]).await;
    client.open("file:///a.haunch", 1, "a = 1 m\n").await;
    client.open("file:///b.haunch", 1, "b = 2 m\n").await;
    let fault = json!([support::change(1, 0, 0, "# rehearsal fault\n")]);
    client.change("file:///a.haunch", 2, fault).await;
    client
        .other(|message| message["method"] == "window/logMessage")
        .await;
    assert_eq!(client.text("file:///b.haunch").await, "b = 2 m\n");
    let lost = client
        .result("rehearsal/text", json!({"uri": "file:///a.haunch"}))
        .await;
    assert_eq!(
        lost["text"],
        Value::Null,
        "the core has nothing rather than something old"
    );

    client
        .change(
            "file:///a.haunch",
            3,
            json!([support::change(1, 0, 17, "c = 3 m")]),
        )
        .await;
    assert_eq!(client.text("file:///a.haunch").await, "a = 1 m\nc = 3 m\n");
    client
        .change(
            "file:///b.haunch",
            2,
            json!([support::change(0, 4, 5, "4")]),
        )
        .await;
    assert_eq!(client.text("file:///b.haunch").await, "b = 4 m\n");
}

//! Folders, settings, and what the server asks of the client.

mod support;

use std::path::PathBuf;

use serde_json::{Value, json};
use support::{Client, change, label};

const URI: &str = "file:///work/beam.haunch";

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("haunch-{name}-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn address(folder: &std::path::Path, file: &str) -> String {
    format!("file://{}/{file}", folder.display())
}

async fn knows(client: &mut Client, uri: &str) -> bool {
    let answer = client.result("rehearsal/text", json!({"uri": uri})).await;
    answer["text"].is_string()
}

/// Waits until the server knows a file, or no longer does.
async fn until(client: &mut Client, uri: &str, known: bool) {
    for _ in 0..2_000 {
        if knows(client, uri).await == known {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(5)).await;
    }
    panic!("{uri}: known is not {known}");
}

#[tokio::test]
async fn the_files_of_all_folders_are_read() {
    let (one, two) = (folder("one"), folder("two"));
    std::fs::create_dir_all(one.join("deep/.hidden")).expect("a folder");
    std::fs::write(one.join("deep/a.haunch"), "alpha = 1 m\n").expect("a file");
    std::fs::write(one.join("deep/.hidden/b.haunch"), "beta = 1 m\n").expect("a file");
    std::fs::write(
        two.join("c.haunch"),
        "use \"../elsewhere.haunch\"\ngamma = 1 m\n",
    )
    .expect("a file");
    let named = |folder: &PathBuf| json!({"uri": address(folder, ""), "name": "x"});
    let mut client =
        Client::greeted_with(json!({"capabilities": {}, "workspaceFolders": [named(&one)]})).await;
    until(&mut client, &address(&one, "deep/a.haunch"), true).await;
    assert!(!knows(&mut client, &address(&one, "deep/.hidden/b.haunch")).await);
    let found = client
        .result("workspace/symbol", json!({"query": "alph"}))
        .await;
    assert_eq!(found[0]["name"], "alpha");

    let event = json!({"event": {"added": [named(&two)], "removed": [named(&one)]}});
    client
        .notify("workspace/didChangeWorkspaceFolders", event)
        .await;
    until(&mut client, &address(&two, "c.haunch"), true).await;
    until(&mut client, &address(&one, "deep/a.haunch"), false).await;

    std::fs::write(two.join("d.haunch"), "delta = 1 m\n").expect("a file");
    let created = json!({"changes": [{"uri": address(&two, "d.haunch"), "type": 1}]});
    client
        .notify("workspace/didChangeWatchedFiles", created)
        .await;
    assert!(knows(&mut client, &address(&two, "d.haunch")).await);

    std::fs::rename(two.join("d.haunch"), two.join("e.haunch")).expect("it is there");
    let renamed = json!({"files": [{"oldUri": address(&two, "d.haunch"), "newUri": address(&two, "e.haunch")}]});
    client.notify("workspace/didRenameFiles", renamed).await;
    assert!(knows(&mut client, &address(&two, "e.haunch")).await);
    assert!(!knows(&mut client, &address(&two, "d.haunch")).await);
    std::fs::remove_dir_all(&one).expect("it was there");
    std::fs::remove_dir_all(&two).expect("it was there");
}

/// A client that was asked to show the progress of reading 120 files, with what it was asked.
async fn begun_reading(many: &std::path::Path) -> (Client, Value) {
    for number in 0..120 {
        std::fs::write(many.join(format!("{number}.haunch")), "a = 1 m\n").expect("a file");
    }
    let params = json!({
        "capabilities": {"window": {"workDoneProgress": true}},
        "rootUri": address(many, "")
    });
    let mut client = Client::greeted_with(params).await;
    let request = client
        .other(|message| message["method"] == "window/workDoneProgress/create")
        .await;
    (client, request)
}

#[tokio::test]
async fn reading_many_files_shows_progress() {
    let many = folder("many");
    let (mut client, request) = begun_reading(&many).await;
    client.reply(&request, Value::Null).await;
    for kind in ["begin", "report", "end"] {
        let progress = client
            .other(|message| {
                message["method"] == "$/progress" && message["params"]["value"]["kind"] == kind
            })
            .await;
        assert_eq!(progress["params"]["token"], request["params"]["token"]);
    }
    until(&mut client, &address(&many, "119.haunch"), true).await;
    std::fs::remove_dir_all(&many).expect("it was there");
}

#[tokio::test]
async fn reading_can_be_stopped() {
    let many = folder("stopped");
    let (mut client, request) = begun_reading(&many).await;
    let token = json!({"token": request["params"]["token"]});
    client
        .notify(
            "window/workDoneProgress/cancel",
            json!({"token": "another"}),
        )
        .await;
    client.notify("window/workDoneProgress/cancel", token).await;
    client.reply(&request, Value::Null).await;
    let is_progress = |message: &Value| message["method"] == "$/progress";
    let begin = client.other(is_progress).await;
    assert_eq!(begin["params"]["value"]["cancellable"], true);
    let end = client.other(is_progress).await;
    assert_eq!(end["params"]["value"]["kind"], "end");
    let said = end["params"]["value"]["message"].as_str();
    assert!(said.is_some_and(|said| said.starts_with("stopped")));
    assert!(!knows(&mut client, &address(&many, "119.haunch")).await);
    std::fs::remove_dir_all(&many).expect("it was there");
}

fn hints() -> Value {
    json!({
        "textDocument": {"uri": URI},
        "range": {"start": {"line": 0, "character": 0}, "end": {"line": 9, "character": 0}}
    })
}

#[tokio::test]
async fn settings_are_asked_for_and_followed() {
    let params = json!({"capabilities": {"workspace": {
        "configuration": true,
        "didChangeConfiguration": {"dynamicRegistration": true},
        "didChangeWatchedFiles": {"dynamicRegistration": true},
        "inlayHint": {"refreshSupport": true}
    }}});
    let mut client = Client::greeted_with(params).await;
    let registration = client
        .other(|message| message["method"] == "client/registerCapability")
        .await;
    let methods: Vec<_> = registration["params"]["registrations"]
        .as_array()
        .expect("registrations")
        .iter()
        .map(|one| one["method"].clone())
        .collect();
    assert_eq!(
        methods,
        [
            "workspace/didChangeWatchedFiles",
            "workspace/didChangeConfiguration"
        ]
    );
    let asks = |message: &Value| message["method"] == "workspace/configuration";
    let request = client.other(asks).await;
    client
        .reply(&request, json!([{"hints": {"digits": 6}}]))
        .await;
    client.open(URI, 1, "a = 10 mm/3 [mm]\n").await;
    client
        .other(|message| message["method"] == "workspace/inlayHint/refresh")
        .await;
    let found = client.result("textDocument/inlayHint", hints()).await;
    assert_eq!(label(&found[0]), " = 3.33333");
    client
        .notify(
            "workspace/didChangeConfiguration",
            json!({"settings": null}),
        )
        .await;
    let request = client.other(asks).await;
    client
        .reply(&request, json!([{"hints": {"values": false}}]))
        .await;
    client
        .other(|message| message["method"] == "workspace/inlayHint/refresh")
        .await;
    assert_eq!(
        client.result("textDocument/inlayHint", hints()).await,
        json!([])
    );
}

#[tokio::test]
async fn settings_may_come_with_the_greeting_or_the_change() {
    let params = json!({"capabilities": {}, "initializationOptions": {"hints": {"digits": 2}}});
    let mut client = Client::greeted_with(params).await;
    client.open(URI, 1, "a = 10 mm/3 [mm]\n").await;
    let found = client.result("textDocument/inlayHint", hints()).await;
    assert_eq!(label(&found[0]), " = 3.3");
    let settings = json!({"settings": {"haunch": {"hints": {"digits": 3}}}});
    client
        .notify("workspace/didChangeConfiguration", settings)
        .await;
    let found = client.result("textDocument/inlayHint", hints()).await;
    assert_eq!(label(&found[0]), " = 3.33");
}

#[tokio::test]
async fn a_stale_answer_is_dropped_if_the_client_asks_again() {
    let params = json!({"capabilities": {"general": {"staleRequestSupport": {"cancel": true, "retryOnContentModified": []}}}});
    let mut client = Client::greeted_with(params).await;
    client.open(URI, 1, "a = 1 m\n").await;
    let waiting = client
        .ask("rehearsal/waitFor", json!({"textDocument": {"uri": URI}}))
        .await;
    client
        .change("file:///work/other.haunch", 2, json!([]))
        .await;
    assert!(knows(&mut client, URI).await);
    client.change(URI, 2, json!([change(0, 4, 5, "2")])).await;
    assert_eq!(client.answer(waiting).await["error"]["code"], -32801);
}

#[tokio::test]
async fn a_plain_edit_asks_for_no_refresh() {
    let params = json!({"capabilities": {"workspace": {"inlayHint": {"refreshSupport": true}}}});
    let mut client = Client::greeted_with(params).await;
    client.open(URI, 1, "a = 1 m\nb = a\n").await;
    client.change(URI, 2, json!([change(0, 4, 5, "2")])).await;
    client.diagnostics(URI, Some(2)).await;
    assert!(
        !client
            .came(|message| message["method"] == "workspace/inlayHint/refresh")
            .await
    );
}

#[tokio::test]
async fn commands_ask_the_client_and_unknown_ones_are_refused() {
    let params = json!({"capabilities": {"window": {"showDocument": {"support": true}}}});
    let mut client = Client::greeted_with(params).await;
    let place = json!([URI, {"line": 3, "character": 1}]);
    client
        .result(
            "workspace/executeCommand",
            json!({"command": "haunch.show", "arguments": place}),
        )
        .await;
    let shown = client
        .other(|message| message["method"] == "window/showDocument")
        .await;
    assert_eq!(
        shown["params"]["selection"]["start"],
        json!({"line": 3, "character": 1})
    );
    let edit = json!([{"changes": {}}]);
    client
        .result(
            "workspace/executeCommand",
            json!({"command": "haunch.apply", "arguments": edit}),
        )
        .await;
    client
        .other(|message| message["method"] == "workspace/applyEdit")
        .await;
    assert_eq!(
        client
            .error(
                "workspace/executeCommand",
                json!({"command": "haunch.dance"})
            )
            .await,
        -32602
    );
    assert_eq!(
        client
            .error(
                "workspace/executeCommand",
                json!({"command": "haunch.show"})
            )
            .await,
        -32602
    );
}

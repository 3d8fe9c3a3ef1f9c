//! Requests for the tests alone: they make visible what the protocol's own requests hide.

use std::time::Duration;

use serde::{Deserialize, Serialize};
use tower_lsp::LspServiceBuilder;
use tower_lsp::jsonrpc::Result;
use tower_lsp::lsp_types::Url;

use crate::address::path_of;
use crate::backend::Backend;
use crate::work::compute;

/// The core fails on a text with these words in it.
pub(crate) const FAULT: &str = "rehearsal fault";

/// Adds the requests.
pub(crate) fn add(builder: LspServiceBuilder<Backend>) -> LspServiceBuilder<Backend> {
    builder
        .custom_method("rehearsal/text", text)
        .custom_method("rehearsal/panic", panic)
        .custom_method("rehearsal/panicInHandler", panic_in_handler)
        .custom_method("rehearsal/wait", wait)
        .custom_method("rehearsal/waitFor", wait_for)
}

#[derive(Deserialize)]
struct TextParams {
    uri: Url,
}

#[derive(Serialize)]
struct TextAnswer {
    version: Option<i32>,
    text: Option<String>,
}

/// The text that the core has, and the version that the server takes it for.
async fn text(_: &Backend, TextParams { uri }: TextParams) -> Result<TextAnswer> {
    compute(move |view, _| {
        let path = path_of(&uri);
        let snapshot = &view.snapshot;
        let text = snapshot.file(&path).map(|file| {
            (0..snapshot.line_count(file))
                .map(|number| snapshot.physical_line(file, number))
                .collect()
        });
        let version = view.titles.get(&path).map(|title| title.version);
        TextAnswer { version, text }
    })
    .await
}

async fn panic(_: &Backend) -> Result<()> {
    compute(|_, _| panic!("rehearsal")).await
}

async fn panic_in_handler(_: &Backend) -> Result<()> {
    panic!("rehearsal")
}

/// Computes until it is cancelled.
async fn wait(_: &Backend) -> Result<()> {
    compute(|_, stop| {
        while !stop.is_raised() {
            std::thread::sleep(Duration::from_millis(1));
        }
    })
    .await
}

/// Computes until it is cancelled or the document that it names has changed.
async fn wait_for(backend: &Backend, _: serde_json::Value) -> Result<()> {
    wait(backend).await
}

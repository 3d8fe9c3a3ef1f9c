//! What a client may ask to be done by name.

use serde_json::Value;
use tower_lsp::Client;
use tower_lsp::jsonrpc::{Error, Result};
use tower_lsp::lsp_types::{
    ExecuteCommandParams, Position, Range, ShowDocumentParams, Url, WorkspaceEdit,
};

use crate::greeting::Greeting;
use crate::pages;

/// Makes the edits of an action: for clients that take actions as commands only.
pub(crate) const APPLY: &str = "haunch.apply";
/// Shows a place of a document: address, position.
pub(crate) const SHOW: &str = "haunch.show";

/// Gives the text of a page about a code: address.
pub(crate) const PAGE: &str = "haunch.page";

/// Every command.
pub(crate) const ALL: [&str; 3] = [APPLY, SHOW, PAGE];

/// Does what is asked. A command never waits for the client: what it asks of the client is answered to
/// nobody.
pub(crate) fn execute(
    client: &Client,
    greeting: Greeting,
    params: ExecuteCommandParams,
) -> Result<Option<Value>> {
    let client = client.clone();
    let mut arguments = params.arguments.into_iter();
    match params.command.as_str() {
        APPLY => {
            let edit: WorkspaceEdit = argument(arguments.next())?;
            tokio::spawn(async move { client.apply_edit(edit).await });
        }
        SHOW => {
            let uri: Url = argument(arguments.next())?;
            let position: Position = argument(arguments.next())?;
            if greeting.shows_documents {
                let params = ShowDocumentParams {
                    uri,
                    external: Some(false),
                    take_focus: Some(true),
                    selection: Some(Range::new(position, position)),
                };
                tokio::spawn(async move { client.show_document(params).await });
            }
        }
        PAGE => {
            let address: Url = argument(arguments.next())?;
            let text = pages::text(&address);
            return text
                .map(|text| Some(Value::String(text)))
                .ok_or_else(|| Error::invalid_params(format!("There is no page at {address}.")));
        }
        other => {
            return Err(Error::invalid_params(format!(
                "There is no command {other}."
            )));
        }
    }
    Ok(None)
}

fn argument<T: serde::de::DeserializeOwned>(value: Option<Value>) -> Result<T> {
    let value = value.ok_or_else(|| Error::invalid_params("An argument is missing."))?;
    serde_json::from_value(value).map_err(|reason| Error::invalid_params(reason.to_string()))
}

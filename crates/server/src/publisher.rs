//! Sends diagnostics to clients that do not ask for them, off the path of the edits.
//!
//! One task sends for all documents, from the newest view each time it is free. Versions that were
//! superseded while it was busy are skipped; the last one never is.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use tokio::sync::Notify;
use tower_lsp::Client;
use tower_lsp::lsp_types::{MessageType, Url};

use crate::computing::Computing;
use crate::features::diagnostics::diagnostics;
use crate::greeting::Greeting;
use crate::world::{Effect, View};

/// Where the ingress leaves what has to be sent.
#[derive(Clone, Default)]
pub(crate) struct Publisher {
    desk: Arc<Desk>,
}

#[derive(Default)]
struct Desk {
    waiting: Mutex<Waiting>,
    bell: Notify,
}

#[derive(Default)]
struct Waiting {
    view: Option<View>,
    documents: BTreeMap<String, Url>,
    reaches_others: bool,
    complaints: Vec<String>,
}

impl Publisher {
    /// Something changed; `view` is the state after it.
    pub(crate) fn report(&self, effect: Effect, view: View) {
        let mut waiting = self.waiting();
        waiting.view = Some(view);
        waiting.documents.extend(effect.changed);
        waiting.reaches_others |= effect.reaches_others;
        waiting.complaints.extend(effect.complaint);
        drop(waiting);
        self.desk.bell.notify_one();
    }

    /// Something failed; the user's log should have it.
    pub(crate) fn complain(&self, complaint: String) {
        self.waiting().complaints.push(complaint);
        self.desk.bell.notify_one();
    }

    /// All open documents have to be sent.
    pub(crate) fn report_all(&self, view: View) {
        let titles = view.titles.iter();
        let changed = titles
            .map(|(path, title)| (path.clone(), title.uri.clone()))
            .collect();
        let effect = Effect {
            changed,
            ..Effect::default()
        };
        self.report(effect, view);
    }

    fn waiting(&self) -> MutexGuard<'_, Waiting> {
        self.desk
            .waiting
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }

    /// Sends whatever is reported, for ever.
    pub(crate) async fn run(
        self,
        client: Client,
        computing: Computing,
        greeting: impl Fn() -> Greeting,
    ) {
        loop {
            self.desk.bell.notified().await;
            let waiting = std::mem::take(&mut *self.waiting());
            for complaint in waiting.complaints {
                client.log_message(MessageType::ERROR, complaint).await;
            }
            let Some(view) = waiting.view else { continue };
            let greeting = greeting();
            if !greeting.pulls_diagnostics {
                for (path, uri) in waiting.documents {
                    publish(&client, &computing, &view, greeting, (path, uri)).await;
                }
            }
            if waiting.reaches_others {
                refresh(&client, greeting);
            }
        }
    }
}

/// Tells the client to ask again for what depends on values of other files. After an edit of the client's
/// own it asks by itself.
fn refresh(client: &Client, greeting: Greeting) {
    let client = client.clone();
    // The client may take its time to answer.
    tokio::spawn(async move {
        // A client that refuses one may still take the next.
        if greeting.pulls_diagnostics && greeting.refreshes_diagnostics {
            let _ = client.workspace_diagnostic_refresh().await;
        }
        if greeting.refreshes_hints {
            let _ = client.inlay_hint_refresh().await;
        }
        if greeting.refreshes_tokens {
            let _ = client.semantic_tokens_refresh().await;
        }
        if greeting.refreshes_lenses {
            let _ = client.code_lens_refresh().await;
        }
    });
}

async fn publish(
    client: &Client,
    computing: &Computing,
    view: &View,
    greeting: Greeting,
    (path, uri): (String, Url),
) {
    let Some(title) = view.titles.get(&path) else {
        client.publish_diagnostics(uri, Vec::new(), None).await;
        return;
    };
    let version = title.version;
    let view = view.clone();
    let found = computing
        .run(move || diagnostics(&view, greeting, &path))
        .await;
    match found {
        Ok(found) => client.publish_diagnostics(uri, found, Some(version)).await,
        Err(failure) => {
            let message = format!("The findings of {uri} could not be listed: {failure}");
            client.log_message(MessageType::ERROR, message).await;
        }
    }
}

//! What the server does of its own accord: it asks the client for its settings, asks to be told of changed
//! files, and reads the files of the workspace. Whatever it learns reaches the state as news, in the same
//! line as the client's messages.

use std::path::PathBuf;

use serde_json::json;
use tokio::sync::mpsc::UnboundedSender;
use tokio_util::sync::CancellationToken;
use tower_lsp::Client;
use tower_lsp::lsp_types::notification::Progress;
use tower_lsp::lsp_types::request::WorkDoneProgressCreate;
use tower_lsp::lsp_types::{
    ConfigurationItem, DidChangeWatchedFilesRegistrationOptions, FileSystemWatcher, GlobPattern,
    ProgressParams, ProgressParamsValue, ProgressToken, Registration, WorkDoneProgress,
    WorkDoneProgressBegin, WorkDoneProgressCreateParams, WorkDoneProgressEnd,
    WorkDoneProgressReport,
};

use crate::disk;
use crate::greeting::Greeting;
use crate::settings::{SECTION, Settings};

/// Files that reach the state in one step, so that the client's messages come between.
const STEP: usize = 16;
/// Fewer files than this are read too fast for progress to be worth a message.
const WORTH_PROGRESS: usize = 50;

/// Something the server learnt by itself.
#[derive(Debug)]
pub(crate) enum News {
    /// Files of the workspace: path and text.
    Files(Vec<(String, String)>),
    /// What the user has set.
    Settings(Settings),
}

/// Where news is left.
pub(crate) type Inbox = UnboundedSender<News>;

/// Asks to be told of what changes outside the documents.
pub(crate) fn register(client: &Client, greeting: Greeting) {
    let mut wanted = Vec::new();
    if greeting.watches_files {
        wanted.push(watch_files());
    }
    if greeting.registers_configuration {
        wanted.push(Registration {
            id: "haunch-settings".to_owned(),
            method: "workspace/didChangeConfiguration".to_owned(),
            register_options: Some(json!({ "section": SECTION })),
        });
    }
    if !wanted.is_empty() {
        let client = client.clone();
        tokio::spawn(async move { client.register_capability(wanted).await });
    }
}

fn watch_files() -> Registration {
    let options = DidChangeWatchedFilesRegistrationOptions {
        watchers: vec![FileSystemWatcher {
            glob_pattern: GlobPattern::String("**/*.haunch".to_owned()),
            kind: None,
        }],
    };
    Registration {
        id: "haunch-files".to_owned(),
        method: "workspace/didChangeWatchedFiles".to_owned(),
        register_options: serde_json::to_value(options).ok(),
    }
}

/// Asks the client for the settings.
pub(crate) fn ask_settings(client: &Client, inbox: &Inbox) {
    let (client, inbox) = (client.clone(), inbox.clone());
    tokio::spawn(async move {
        let item = ConfigurationItem {
            scope_uri: None,
            section: Some(SECTION.to_owned()),
        };
        if let Ok(found) = client.configuration(vec![item]).await {
            let settings = found.first().map(Settings::read).unwrap_or_default();
            // Nobody reads news only when the server ends.
            let _ = inbox.send(News::Settings(settings));
        }
    });
}

/// Reads the files of some folders, until `stop` is raised. `token` is what the client knows the progress by.
pub(crate) fn read_folders(
    client: &Client,
    greeting: Greeting,
    folders: Vec<PathBuf>,
    inbox: &Inbox,
    (token, stop): (String, CancellationToken),
) {
    let (client, inbox) = (client.clone(), inbox.clone());
    tokio::spawn(async move {
        let listing = tokio::task::spawn_blocking(move || disk::list(&folders));
        let Ok(paths) = listing.await else { return };
        let count = paths.len();
        let progress = match greeting.shows_progress && count >= WORTH_PROGRESS {
            true => begin(&client, token).await,
            false => None,
        };
        for (step, paths) in paths.chunks(STEP).enumerate() {
            if stop.is_cancelled() {
                break;
            }
            let paths = paths.to_vec();
            let reading = tokio::task::spawn_blocking(move || {
                let read = |path: String| disk::read(&path).map(|text| (path, text));
                paths.into_iter().filter_map(read).collect()
            });
            let Ok(files) = reading.await else { break };
            if inbox.send(News::Files(files)).is_err() {
                return;
            }
            if let Some(token) = &progress {
                let done = (step * STEP).min(count);
                let report = WorkDoneProgressReport {
                    cancellable: Some(true),
                    message: Some(format!("{done} of {count} files")),
                    percentage: Some((100 * done / count) as u32),
                };
                tell(&client, token, WorkDoneProgress::Report(report)).await;
            }
        }
        if let Some(token) = &progress {
            let stopped = "stopped: the files left are not known until they are opened";
            let message = stop.is_cancelled().then(|| stopped.to_owned());
            let end = WorkDoneProgressEnd { message };
            tell(&client, token, WorkDoneProgress::End(end)).await;
        }
    });
}

/// The token of a progress that the client shows; none if it will not.
async fn begin(client: &Client, token: String) -> Option<ProgressToken> {
    let token = ProgressToken::String(token);
    let params = WorkDoneProgressCreateParams {
        token: token.clone(),
    };
    client
        .send_request::<WorkDoneProgressCreate>(params)
        .await
        .ok()?;
    let begin = WorkDoneProgressBegin {
        title: "Reading calculations".to_owned(),
        cancellable: Some(true),
        message: None,
        percentage: Some(0),
    };
    tell(client, &token, WorkDoneProgress::Begin(begin)).await;
    Some(token)
}

async fn tell(client: &Client, token: &ProgressToken, progress: WorkDoneProgress) {
    let params = ProgressParams {
        token: token.clone(),
        value: ProgressParamsValue::WorkDone(progress),
    };
    client.send_notification::<Progress>(params).await;
}

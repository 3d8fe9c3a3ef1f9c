//! The one place where messages meet the state, in the order in which they were read.
//!
//! `call` runs before any executor does: it applies a change at once, raises a cancel token at once, and
//! takes the view that a request is answered from. What it returns may then run in any order.

use std::collections::HashMap;
use std::panic::AssertUnwindSafe;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::task::{Context, Poll};

use futures_util::FutureExt;
use futures_util::future::{BoxFuture, ready};
use serde::de::DeserializeOwned;
use tokio_util::sync::CancellationToken;
use tower_lsp::jsonrpc::{Error, ErrorCode, Id, Request, Response};
use tower_lsp::lsp_types::{
    CancelParams, DidChangeConfigurationParams, DidChangeTextDocumentParams,
    DidChangeWatchedFilesParams, DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams,
    DidOpenTextDocumentParams, FileChangeType, FileEvent, NumberOrString, RenameFilesParams,
    WorkDoneProgressCancelParams,
};
use tower_lsp::{ExitedError, LspService};
use tower_service::Service;

use crate::address::path_of;
use crate::answer::Answer;
use crate::backend::Backend;
use crate::background::{Inbox, News, ask_settings, read_folders, register};
use crate::computing::Computing;
use crate::folders::Folders;
use crate::greeting::{Greeting, plain_params};
use crate::publisher::Publisher;
use crate::settings::Settings;
use crate::work::{ERRAND, Errand, Written, panicked};
use crate::world::{Effect, World};

/// The protocol's code for a request before the greeting.
const NOT_INITIALIZED: i64 = -32002;

type Tokens = Arc<Mutex<HashMap<Id, CancellationToken>>>;

/// The adapter round the protocol library's service.
pub(crate) struct Ingress {
    service: LspService<Backend>,
    world: World,
    publisher: Publisher,
    inbox: Inbox,
    tokens: Tokens,
    /// For each reading of folders, by the name of its progress, what is raised when the client stops it.
    readings: HashMap<String, CancellationToken>,
    /// For each document, what is raised at its next change.
    current: HashMap<String, CancellationToken>,
    computing: Computing,
    greeting: Greeting,
    greeted: bool,
    shut_down: bool,
    exited: bool,
}

impl Ingress {
    /// An ingress before `service`, which shares `publisher`. What it answers is computed by `computing`.
    pub(crate) fn new(
        service: LspService<Backend>,
        publisher: Publisher,
        inbox: Inbox,
        computing: Computing,
    ) -> Ingress {
        Ingress {
            service,
            world: World::default(),
            publisher,
            inbox,
            tokens: Tokens::default(),
            readings: HashMap::new(),
            current: HashMap::new(),
            computing,
            greeting: Greeting::default(),
            greeted: false,
            shut_down: false,
            exited: false,
        }
    }

    /// Lets the core fail on every text that contains `fault`, for tests.
    pub(crate) fn fail_on(&mut self, fault: &'static str) {
        self.world.fail_on(fault);
    }

    /// Whether `exit` has been read.
    pub(crate) fn has_exited(&self) -> bool {
        self.exited
    }

    /// Whether `shutdown` has been read.
    pub(crate) fn was_shut_down(&self) -> bool {
        self.shut_down
    }

    /// Tells every running request that nobody waits for it.
    pub(crate) fn cancel_all(&self) {
        for token in lock(&self.tokens).values() {
            token.cancel();
        }
    }

    fn greet(&mut self, request: Request) -> Request {
        let (method, id, params) = request.into_parts();
        let Some(params) = params.filter(|params| params.is_object() && id.is_some()) else {
            return rebuilt(method, id, None);
        };
        if !self.greeted {
            let greeting = Greeting::read(&params);
            self.world.set_encoding(greeting.encoding);
            self.service.inner().set_greeting(greeting);
            self.greeting = greeting;
            self.world.set_folders(Folders::read(&params));
            if let Some(options) = params.get("initializationOptions") {
                self.world.set_settings(Settings::read(options));
            }
            self.greeted = true;
        }
        rebuilt(method, id, Some(plain_params()))
    }

    /// Takes in what the server learnt by itself.
    pub(crate) fn learn(&mut self, news: News) {
        let effect = match news {
            News::Files(files) => self.world.add_files(files),
            News::Settings(settings) => self.world.set_settings(settings),
        };
        self.publisher.report(effect, self.world.view());
    }

    /// The client is ready to be asked.
    fn begin(&mut self) {
        let client = self.service.inner().client();
        register(client, self.greeting);
        if self.greeting.answers_configuration {
            ask_settings(client, &self.inbox);
        }
        let folders = self.world.folders_on_disk();
        if !folders.is_empty() {
            self.read(folders);
        }
        self.publisher.report_all(self.world.view());
    }

    /// Begins to read the files of some folders.
    fn read(&mut self, folders: Vec<PathBuf>) {
        let token = format!("haunch-reading-{}", self.readings.len() + 1);
        let stop = CancellationToken::new();
        self.readings.insert(token.clone(), stop.clone());
        let client = self.service.inner().client();
        read_folders(client, self.greeting, folders, &self.inbox, (token, stop));
    }

    /// The client wants no more of something that it was shown the progress of.
    fn stop(&self, request: &Request) {
        if let Ok(WorkDoneProgressCancelParams {
            token: NumberOrString::String(token),
        }) = params(request)
            && let Some(stop) = self.readings.get(&token)
        {
            stop.cancel();
        }
    }

    /// Applies a notification that changes the state; `false` if it is none of those.
    fn change(&mut self, method: &str, request: &Request) -> bool {
        let outcome = match method {
            "textDocument/didOpen" => params::<DidOpenTextDocumentParams>(request)
                .map(|params| self.world.open(params.text_document)),
            "textDocument/didChange" => params::<DidChangeTextDocumentParams>(request)
                .map(|params| self.world.change(params)),
            "textDocument/didClose" => params::<DidCloseTextDocumentParams>(request)
                .map(|params| self.world.close(&params.text_document.uri)),
            "workspace/didChangeWatchedFiles" => params::<DidChangeWatchedFilesParams>(request)
                .map(|params| self.world.files_changed(&params.changes)),
            "workspace/didRenameFiles" => {
                params::<RenameFilesParams>(request).map(|params| self.renamed(&params))
            }
            "workspace/didChangeWorkspaceFolders" => {
                params::<DidChangeWorkspaceFoldersParams>(request).map(|params| {
                    let (effect, added) = self.world.change_folders(&params.event);
                    if !added.is_empty() {
                        self.read(added);
                    }
                    effect
                })
            }
            "workspace/didChangeConfiguration" => params::<DidChangeConfigurationParams>(request)
                .map(|params| self.configured(&params)),
            _ => return false,
        };
        if let Some(path) = document(request)
            && let Some(token) = self.current.remove(&path)
        {
            token.cancel();
        }
        let effect =
            outcome.unwrap_or_else(|reason| Effect::refused(format!("{method}: {reason}")));
        self.publisher.report(effect, self.world.view());
        true
    }

    /// Files have another address: to the state, the old ones are gone and the new ones came.
    fn renamed(&mut self, params: &RenameFilesParams) -> Effect {
        let mut events = Vec::new();
        for moved in &params.files {
            let addresses = [
                (&moved.old_uri, FileChangeType::DELETED),
                (&moved.new_uri, FileChangeType::CREATED),
            ];
            for (address, typ) in addresses {
                if let Ok(uri) = address.parse() {
                    events.push(FileEvent { uri, typ });
                }
            }
        }
        self.world.files_changed(&events)
    }

    /// Settings have changed: a client that can be asked for them is asked, others send them along.
    fn configured(&mut self, params: &DidChangeConfigurationParams) -> Effect {
        if self.greeting.answers_configuration {
            ask_settings(self.service.inner().client(), &self.inbox);
            return Effect::default();
        }
        self.world.set_settings(Settings::read(&params.settings))
    }

    /// What is raised when the document that a request is about changes, if the client asks again then.
    fn stale(&mut self, request: &Request) -> CancellationToken {
        match document(request) {
            Some(path) if self.greeting.drops_stale && is_asked_again(request.method()) => {
                self.current.entry(path).or_default().clone()
            }
            _ => CancellationToken::new(),
        }
    }

    /// Why no request is answered.
    fn refusal(&self) -> Error {
        if self.shut_down {
            return Error::invalid_request();
        }
        let mut error = Error::new(ErrorCode::ServerError(NOT_INITIALIZED));
        error.message = "The server has not been greeted.".into();
        error
    }

    fn cancel(&self, request: &Request) {
        if let Ok(CancelParams { id }) = params(request) {
            let id = match id {
                NumberOrString::Number(number) => Id::Number(number.into()),
                NumberOrString::String(text) => Id::String(text),
            };
            if let Some(token) = lock(&self.tokens).get(&id) {
                token.cancel();
            }
        }
    }

    fn answer(
        &mut self,
        request: Request,
    ) -> BoxFuture<'static, Result<Option<Answer>, ExitedError>> {
        let id = request.id().cloned();
        let cancel = CancellationToken::new();
        let held = id.clone().map(|id| Held::new(&self.tokens, id, &cancel));
        let written = Written::default();
        let errand = Errand {
            view: self.world.view(),
            cancel,
            stale: self.stale(&request),
            computing: self.computing.clone(),
            written: written.clone(),
        };
        let method = request.method().to_owned();
        let publisher = self.publisher.clone();
        let handling = ERRAND.scope(errand, self.service.call(request));
        async move {
            let _held = held;
            let answer = match AssertUnwindSafe(handling).catch_unwind().await {
                Ok(answer) => answer?,
                Err(_) => id.map(|id| Response::from_error(id, panicked("it panicked"))),
            };
            if let Some(failure) = answer.as_ref().and_then(Response::error)
                && failure.code == ErrorCode::InternalError
            {
                publisher.complain(format!("{method}: {}", failure.message));
            }
            Ok(answer.map(|answer| Answer::new(answer, written.take())))
        }
        .boxed()
    }
}

impl Service<Request> for Ingress {
    type Response = Option<Answer>;
    type Error = ExitedError;
    type Future = BoxFuture<'static, Result<Option<Answer>, ExitedError>>;

    fn poll_ready(&mut self, _: &mut Context<'_>) -> Poll<Result<(), ExitedError>> {
        Poll::Ready(Ok(()))
    }

    fn call(&mut self, request: Request) -> Self::Future {
        let silence = || ready(Ok(None)).boxed();
        if self.exited {
            return silence();
        }
        let method = request.method().to_owned();
        let is_notification = request.id().is_none();
        match method.as_str() {
            "exit" if is_notification => {
                self.exited = true;
                let leaving = self.service.call(request);
                return async move { Ok(leaving.await?.map(Answer::from)) }.boxed();
            }
            "initialize" => {
                let request = self.greet(request);
                return self.answer(request);
            }
            "shutdown" if !is_notification => {
                self.shut_down = self.greeted;
                let (method, id, _) = request.into_parts();
                return self.answer(rebuilt(method, id, None));
            }
            // The protocol: before the greeting and after the end notifications are dropped and requests refused,
            // whatever they ask for.
            _ if !self.greeted || self.shut_down => {
                let (_, id, _) = request.into_parts();
                let refused = id.map(|id| Response::from_error(id, self.refusal()));
                return ready(Ok(refused.map(Answer::from))).boxed();
            }
            // The library leaves such a request without an answer; the protocol wants one.
            _ if !is_notification && method.starts_with("$/") => {
                let (_, id, _) = request.into_parts();
                let refused = id.map(|id| Response::from_error(id, Error::method_not_found()));
                return ready(Ok(refused.map(Answer::from))).boxed();
            }
            "$/cancelRequest" => {
                self.cancel(&request);
                return silence();
            }
            "window/workDoneProgress/cancel" => {
                self.stop(&request);
                return silence();
            }
            "initialized" => self.begin(),
            _ if is_notification && self.change(&method, &request) => return silence(),
            "textDocument/didSave" | "$/setTrace" => return silence(),
            _ => {}
        }
        self.answer(request)
    }
}

/// The path of the document that a message is about.
fn document(request: &Request) -> Option<String> {
    let address = request.params()?.pointer("/textDocument/uri")?.as_str()?;
    Some(path_of(&address.parse().ok()?))
}

/// Whether clients make this request again after each change of the document.
fn is_asked_again(method: &str) -> bool {
    matches!(
        method,
        "textDocument/inlayHint"
            | "textDocument/semanticTokens/full"
            | "textDocument/semanticTokens/full/delta"
            | "textDocument/semanticTokens/range"
            | "textDocument/diagnostic"
            | "textDocument/codeLens"
            | "textDocument/foldingRange"
            | "textDocument/documentLink"
            | "textDocument/documentSymbol"
            | "rehearsal/waitFor"
    )
}

/// Keeps a request's token where a cancel finds it, for as long as the request runs.
struct Held {
    tokens: Tokens,
    id: Id,
    is_first: bool,
}

impl Held {
    fn new(tokens: &Tokens, id: Id, cancel: &CancellationToken) -> Held {
        // A second request under an id in use is refused; it must not take the first one's token.
        let is_first = !lock(tokens).contains_key(&id);
        if is_first {
            lock(tokens).insert(id.clone(), cancel.clone());
        }
        Held {
            tokens: tokens.clone(),
            id,
            is_first,
        }
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        if self.is_first {
            lock(&self.tokens).remove(&self.id);
        }
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

fn params<P: DeserializeOwned>(request: &Request) -> Result<P, serde_json::Error> {
    P::deserialize(request.params().unwrap_or(&serde_json::Value::Null))
}

fn rebuilt(
    method: std::borrow::Cow<'static, str>,
    id: Option<Id>,
    params: Option<serde_json::Value>,
) -> Request {
    let mut request = Request::build(method);
    if let Some(id) = id {
        request = request.id(id);
    }
    if let Some(params) = params {
        request = request.params(params);
    }
    request.finish()
}

//! The language server protocol, and nothing else.
//!
//! `transport` reads messages and hands each to `ingress` in wire order: there changes are applied to
//! the one `world`, and a request gets the view of it that its answer is computed from, whatever comes
//! later. `backend` holds the handlers, `publisher` sends what nobody asked for, `background` does what the
//! server does of its own accord; what it learns goes through the ingress as well.

mod address;
mod answer;
mod backend;
mod background;
mod capabilities;
mod commands;
mod computing;
mod convert;
mod core;
mod disk;
mod document;
mod features;
mod folders;
mod frames;
mod greeting;
mod ingress;
mod pages;
mod publisher;
mod rehearsal;
mod settings;
mod surrogates;
mod transport;
mod work;
mod world;

use std::process::ExitCode;
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite};
use tokio::sync::mpsc;
use tower_lsp::LspService;

use backend::Backend;
use computing::Computing;
use ingress::Ingress;
use publisher::Publisher;

/// What a test may ask of the server beyond the protocol.
#[derive(Debug, Clone, Copy, Default)]
pub struct Options {
    /// Adds the requests `rehearsal/text`, `rehearsal/panic` and `rehearsal/wait`, and lets the core fail on
    /// a text with the words `rehearsal fault` in it: with these the tests look at the fences.
    pub rehearsal: bool,
}

/// Serves one client until it sends `exit` or its input ends. Returns whether it asked for the shutdown
/// before, as the protocol wants.
pub async fn serve<I, O>(input: I, output: O, options: Options) -> bool
where
    I: AsyncRead + Unpin + Send,
    O: AsyncWrite + Unpin + Send + 'static,
{
    let computing = Computing::new();
    let publisher = Publisher::default();
    let mut publishing = None;
    let mut builder = LspService::build(|client| {
        let backend = Backend::new(client.clone());
        publishing = Some(tokio::spawn(publisher.clone().run(
            client,
            computing.clone(),
            backend.greeting_reader(),
        )));
        backend
    });
    if options.rehearsal {
        builder = rehearsal::add(builder);
    }
    let (service, socket) = builder.finish();
    let (inbox, news) = mpsc::unbounded_channel();
    let mut ingress = Ingress::new(service, publisher, inbox, computing);
    if options.rehearsal {
        ingress.fail_on(rehearsal::FAULT);
    }
    let was_shut_down = transport::serve(input, output, ingress, socket, news).await;
    if let Some(publishing) = publishing {
        publishing.abort();
    }
    was_shut_down
}

/// The most threads that wait for the system: standard input, standard output, folders to read.
const WAITING: usize = 8;
const A_DAY: Duration = Duration::from_secs(24 * 60 * 60);

/// Serves a client on standard input and output. The exit code is the protocol's: 0 after `shutdown`,
/// otherwise 1.
pub fn run() -> ExitCode {
    let served = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(1)
        .max_blocking_threads(WAITING)
        .thread_keep_alive(A_DAY)
        .enable_all()
        .build()
        .map(|runtime| {
            let (input, output) = (tokio::io::stdin(), tokio::io::stdout());
            let served = runtime.block_on(serve(input, output, Options::default()));
            // The thread that reads standard input may wait for ever.
            runtime.shutdown_background();
            served
        });
    match served {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(failure) => {
            eprintln!("haunch: the language server could not start: {failure}");
            ExitCode::FAILURE
        }
    }
}

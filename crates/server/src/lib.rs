//! The language server protocol, and nothing else.
//!
//! `transport` reads messages and hands each to `ingress` in wire order: there changes are applied to
//! the one `world`, and a request gets the view of it that its answer is computed from, whatever comes
//! later. `backend` holds the handlers, `publisher` sends what nobody asked for, `background` does what the
//! server does of its own accord; what it learns goes through the ingress as well.

mod address;
mod backend;
mod background;
mod capabilities;
mod commands;
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
use std::thread::available_parallelism;
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite};
use tokio::sync::mpsc;
use tower_lsp::LspService;

use backend::Backend;
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
    let publisher = Publisher::default();
    let mut publishing = None;
    let mut builder = LspService::build(|client| {
        let backend = Backend::new(client.clone());
        publishing = Some(tokio::spawn(
            publisher.clone().run(client, backend.greeting_reader()),
        ));
        backend
    });
    if options.rehearsal {
        builder = rehearsal::add(builder);
    }
    let (service, socket) = builder.finish();
    let (inbox, news) = mpsc::unbounded_channel();
    let mut ingress = Ingress::new(service, publisher, inbox, seats());
    if options.rehearsal {
        ingress.fail_on(rehearsal::FAULT);
    }
    let was_shut_down = transport::serve(input, output, ingress, socket, news).await;
    if let Some(publishing) = publishing {
        publishing.abort();
    }
    was_shut_down
}

/// How many requests are computed at once.
fn seats() -> usize {
    available_parallelism().map_or(2, usize::from)
}

/// Threads beside those that compute: standard input, standard output, findings to send, files to read.
const BESIDE: usize = 4;
const A_DAY: Duration = Duration::from_secs(24 * 60 * 60);

/// Serves a client on standard input and output. The exit code is the protocol's: 0 after `shutdown`,
/// otherwise 1.
pub fn run() -> ExitCode {
    // Few threads that stay: each keeps the memory of its largest computation, and one that ends leaves it behind.
    let runtime = match tokio::runtime::Builder::new_multi_thread()
        .max_blocking_threads(seats() + BESIDE)
        .thread_keep_alive(A_DAY)
        .enable_all()
        .build()
    {
        Ok(runtime) => runtime,
        Err(failure) => {
            eprintln!("haunch: the language server could not start: {failure}");
            return ExitCode::FAILURE;
        }
    };
    let was_shut_down = runtime.block_on(serve(
        tokio::io::stdin(),
        tokio::io::stdout(),
        Options::default(),
    ));
    // The thread that reads standard input may wait for ever.
    runtime.shutdown_background();
    if was_shut_down {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

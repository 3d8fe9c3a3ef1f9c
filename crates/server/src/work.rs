//! How a handler gets at its request's state and computes with it.
//!
//! The ingress takes the view of the state and the cancel token when it reads the request; both travel
//! with the handler in a task-local.

use std::sync::Arc;

use tokio::sync::Semaphore;
use tokio_util::sync::CancellationToken;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};

use crate::world::View;

/// What travels with a request.
#[derive(Clone)]
pub(crate) struct Errand {
    /// The state when the request was read.
    pub(crate) view: View,
    /// Raised when the client no longer wants the answer.
    pub(crate) cancel: CancellationToken,
    /// How many computations may run at once.
    pub(crate) seats: Arc<Semaphore>,
}

tokio::task_local! {
    /// The request in hand.
    pub(crate) static ERRAND: Errand;
}

/// Computes an answer on a thread of its own. `work` polls the token if it may take long. A panic in it
/// becomes an error answer.
pub(crate) async fn compute<T, W>(work: W) -> Result<T>
where
    T: Send + 'static,
    W: FnOnce(&View, &CancellationToken) -> T + Send + 'static,
{
    let errand = ERRAND
        .try_with(Clone::clone)
        .map_err(|_| Error::internal_error())?;
    let Errand {
        view,
        cancel,
        seats,
    } = errand;
    let seat = tokio::select! {
        biased;
        () = cancel.cancelled() => return Err(Error::request_cancelled()),
        seat = seats.acquire_owned() => seat.map_err(|_| Error::internal_error())?,
    };
    let token = cancel.clone();
    let working = tokio::task::spawn_blocking(move || {
        let answer = work(&view, &token);
        drop(seat);
        answer
    });
    tokio::select! {
        biased;
        () = cancel.cancelled() => Err(Error::request_cancelled()),
        answer = working => answer.map_err(|failure| panicked(&failure.to_string())),
    }
}

/// The answer to a request whose handling panicked.
pub(crate) fn panicked(detail: &str) -> Error {
    let mut error = Error::new(ErrorCode::InternalError);
    error.message = format!("This request failed inside the server: {detail}").into();
    error
}

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
    /// Raised when the text that the answer is about has changed, for requests that the client makes again
    /// then.
    pub(crate) stale: CancellationToken,
    /// How many computations may run at once.
    pub(crate) seats: Arc<Semaphore>,
}

tokio::task_local! {
    /// The request in hand.
    pub(crate) static ERRAND: Errand;
}

/// Tells a computation that nobody waits for its result.
pub(crate) struct Stop {
    cancel: CancellationToken,
    stale: CancellationToken,
}

impl Stop {
    /// Whether it is so.
    pub(crate) fn is_raised(&self) -> bool {
        self.cancel.is_cancelled() || self.stale.is_cancelled()
    }
}

/// Computes an answer on a thread of its own. `work` polls the stop if it may take long. A panic in it
/// becomes an error answer.
pub(crate) async fn compute<T, W>(work: W) -> Result<T>
where
    T: Send + 'static,
    W: FnOnce(&View, &Stop) -> T + Send + 'static,
{
    let errand = ERRAND
        .try_with(Clone::clone)
        .map_err(|_| Error::internal_error())?;
    let Errand {
        view,
        cancel,
        stale,
        seats,
    } = errand;
    let seat = tokio::select! {
        biased;
        () = cancel.cancelled() => return Err(Error::request_cancelled()),
        () = stale.cancelled() => return Err(Error::content_modified()),
        seat = seats.acquire_owned() => seat.map_err(|_| Error::internal_error())?,
    };
    let stop = Stop {
        cancel: cancel.clone(),
        stale: stale.clone(),
    };
    let working = tokio::task::spawn_blocking(move || {
        let answer = work(&view, &stop);
        drop(seat);
        answer
    });
    tokio::select! {
        biased;
        () = cancel.cancelled() => Err(Error::request_cancelled()),
        () = stale.cancelled() => Err(Error::content_modified()),
        answer = working => answer.map_err(|failure| panicked(&failure.to_string())),
    }
}

/// Computes an answer that may be refused with a reason.
pub(crate) async fn try_compute<T, W>(work: W) -> Result<T>
where
    T: Send + 'static,
    W: FnOnce(&View, &Stop) -> Result<T> + Send + 'static,
{
    compute(work).await?
}

/// The answer to a request whose handling panicked.
pub(crate) fn panicked(detail: &str) -> Error {
    let mut error = Error::new(ErrorCode::InternalError);
    error.message = format!("This request failed inside the server: {detail}").into();
    error
}

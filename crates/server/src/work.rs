//! How a handler gets at its request's state and computes with it.
//!
//! The ingress takes the view of the state and the cancel token when it reads the request; both travel
//! with the handler in a task-local.

use std::sync::{Arc, Mutex, PoisonError};

use serde::Serialize;
use serde_json::value::{RawValue, to_raw_value};
use tokio_util::sync::CancellationToken;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};

use crate::computing::Computing;
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
    /// Where it is computed.
    pub(crate) computing: Computing,
    /// The answer, where it was written by the thread that computed it.
    pub(crate) written: Written,
}

/// Where a written answer is left.
#[derive(Clone, Default)]
pub(crate) struct Written(Arc<Mutex<Option<Box<RawValue>>>>);

impl Written {
    fn leave(&self, answer: Box<RawValue>) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = Some(answer);
    }

    /// Takes the answer away, if there is one.
    pub(crate) fn take(&self) -> Option<Box<RawValue>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).take()
    }
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

/// Computes an answer. `work` polls the stop if it may take long. A panic in it
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
        computing,
        ..
    } = errand;
    let seat = tokio::select! {
        biased;
        () = cancel.cancelled() => return Err(Error::request_cancelled()),
        () = stale.cancelled() => return Err(Error::content_modified()),
        seat = computing.seat() => seat.map_err(|_| Error::internal_error())?,
    };
    let stop = Stop {
        cancel: cancel.clone(),
        stale: stale.clone(),
    };
    // The seat is kept until the thread is free again.
    let working = computing.run(move || (work(&view, &stop), seat));
    tokio::select! {
        biased;
        () = cancel.cancelled() => Err(Error::request_cancelled()),
        () = stale.cancelled() => Err(Error::content_modified()),
        answer = working => match answer {
            Ok((answer, _seat)) => Ok(answer),
            Err(failure) => Err(panicked(&failure)),
        },
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

/// Computes an answer that may be long, and writes it on the same thread: the protocol library would make a tree of
/// it first, which for the outline of 10,000 lines takes longer than the outline. What is returned stands for it
/// until the ingress puts the written answer in its place.
pub(crate) async fn write<T, W>(work: W) -> Result<Option<T>>
where
    T: Serialize + Send + 'static,
    W: FnOnce(&View, &Stop) -> Option<T> + Send + 'static,
{
    try_write(move |view, stop| Ok(work(view, stop))).await
}

/// Computes an answer that may be long or refused with a reason, and writes it on the same thread.
pub(crate) async fn try_write<T, W>(work: W) -> Result<Option<T>>
where
    T: Serialize + Send + 'static,
    W: FnOnce(&View, &Stop) -> Result<Option<T>> + Send + 'static,
{
    let written = ERRAND
        .try_with(|errand| errand.written.clone())
        .map_err(|_| Error::internal_error())?;
    try_compute(move |view, stop| {
        if let Some(answer) = work(view, stop)? {
            let answer = to_raw_value(&answer).map_err(|failure| panicked(&failure.to_string()))?;
            written.leave(answer);
        }
        Ok(None)
    })
    .await
}

/// The answer to a request whose handling panicked.
pub(crate) fn panicked(detail: &str) -> Error {
    let mut error = Error::new(ErrorCode::InternalError);
    error.message = format!("This request failed inside the server: {detail}").into();
    error
}

//! The loop between the wire and the ingress.
//!
//! The library's own loop ends at the first message that is no JSON, runs all handlers in one task
//! and stays alive after `exit`. This one reads on whatever comes, hands each message to the ingress in
//! wire order, and lets every request wait in a task of its own. News that the server learnt by itself waits
//! for a moment in which no message does.

use std::time::Duration;

use futures_util::{SinkExt, StreamExt};
use serde_json::Value;
use tokio::io::{AsyncRead, AsyncWrite, BufReader};
use tokio::sync::mpsc;
use tower_lsp::ClientSocket;
use tower_lsp::jsonrpc::{Error, Id, Request, Response};
use tower_service::Service;

use crate::background::News;
use crate::frames::{Frame, read_frame, write_frame};
use crate::ingress::Ingress;
use crate::surrogates::without_halves;

/// Messages that wait to be written before those who answer have to wait.
const QUEUE: usize = 256;
/// How long answers already given may take to be written after the end.
const LAST_WORDS: Duration = Duration::from_secs(1);

/// Serves until `exit` or the end of the input. Returns whether `shutdown` came before the end.
pub(crate) async fn serve<I, O>(
    input: I,
    output: O,
    mut ingress: Ingress,
    socket: ClientSocket,
    mut news: mpsc::UnboundedReceiver<News>,
) -> bool
where
    I: AsyncRead + Unpin + Send,
    O: AsyncWrite + Unpin + Send + 'static,
{
    let (mut requests, mut responses) = socket.split();
    let (outgoing, queue) = mpsc::channel(QUEUE);
    let writer = tokio::spawn(write(output, queue));
    let to_client = outgoing.clone();
    let asking = tokio::spawn(async move {
        while let Some(request) = requests.next().await {
            send(&to_client, &request).await;
        }
    });

    let mut input = BufReader::new(input);
    let (arrived, mut frames) = mpsc::channel(QUEUE);
    let reading = async move {
        while let Ok(Some(frame)) = read_frame(&mut input).await {
            if arrived.send(frame).await.is_err() {
                break;
            }
        }
        // What has arrived is handled to the end.
        drop(arrived);
        std::future::pending::<()>().await;
    };
    let handling = async {
        while !ingress.has_exited() {
            let frame = tokio::select! {
                biased;
                frame = frames.recv() => frame,
                Some(news) = news.recv() => {
                    ingress.learn(news);
                    continue;
                }
            };
            let Some(frame) = frame else { break };
            match understand(frame) {
                Message::Request(request) => {
                    let answer = ingress.call(request);
                    let outgoing = outgoing.clone();
                    tokio::spawn(async move {
                        if let Ok(Some(response)) = answer.await {
                            send(&outgoing, &response).await;
                        }
                    });
                }
                Message::Response(response) => {
                    if responses.send(response).await.is_err() {
                        break;
                    }
                }
                Message::Broken(response) => send(&outgoing, &response).await,
            }
        }
    };
    tokio::select! {
        () = handling => {}
        () = reading => {}
    }

    ingress.cancel_all();
    asking.abort();
    drop(outgoing);
    // A client that reads no more must not keep the process alive.
    let _ = tokio::time::timeout(LAST_WORDS, writer).await;
    ingress.was_shut_down()
}

enum Message {
    Request(Request),
    Response(Response),
    Broken(Response),
}

fn understand(frame: Frame) -> Message {
    let body = match frame {
        Frame::Body(body) => body,
        Frame::Broken(reason) => {
            let mut error = Error::parse_error();
            error.message = reason.into();
            return Message::Broken(Response::from_error(Id::Null, error));
        }
    };
    let Some(mut message) = read(&body) else {
        return Message::Broken(Response::from_error(Id::Null, Error::parse_error()));
    };
    // The library refuses `null` where a method takes no parameters; clients send it.
    if let Some(message) = message.as_object_mut()
        && message.get("params") == Some(&Value::Null)
    {
        message.remove("params");
    }
    let id = message
        .get("id")
        .and_then(|id| serde_json::from_value(id.clone()).ok())
        .unwrap_or(Id::Null);
    let parsed = if message.get("method").is_some() {
        serde_json::from_value(message).map(Message::Request)
    } else {
        serde_json::from_value(message).map(Message::Response)
    };
    parsed.unwrap_or_else(|_| Message::Broken(Response::from_error(id, Error::invalid_request())))
}

fn read(body: &[u8]) -> Option<Value> {
    let again = || serde_json::from_slice(&without_halves(body)?).ok();
    serde_json::from_slice(body).ok().or_else(again)
}

async fn send(outgoing: &mpsc::Sender<Vec<u8>>, message: &impl serde::Serialize) {
    if let Ok(body) = serde_json::to_vec(message) {
        // The writer is gone only when the client is.
        let _ = outgoing.send(body).await;
    }
}

async fn write(mut output: impl AsyncWrite + Unpin, mut queue: mpsc::Receiver<Vec<u8>>) {
    while let Some(body) = queue.recv().await {
        if write_frame(&mut output, &body).await.is_err() {
            return;
        }
    }
}

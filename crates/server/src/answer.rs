//! An answer on its way to the client.

use serde::{Serialize, Serializer};
use serde_json::value::RawValue;
use tower_lsp::jsonrpc::{Id, Response};

/// An answer to a request.
pub(crate) enum Answer {
    /// As the protocol library made it.
    Made(Response),
    /// With a result that was written by the thread that computed it.
    Written(WrittenResponse),
}

/// The protocol's form of a response with a result.
#[derive(Serialize)]
pub(crate) struct WrittenResponse {
    jsonrpc: &'static str,
    id: Id,
    result: Box<RawValue>,
}

impl Answer {
    /// The library's answer, with the written result in place of its own if there is one. A failure stays a failure.
    pub(crate) fn new(response: Response, written: Option<Box<RawValue>>) -> Answer {
        match written {
            Some(result) if response.is_ok() => Answer::Written(WrittenResponse {
                jsonrpc: "2.0",
                id: response.id().clone(),
                result,
            }),
            _ => Answer::Made(response),
        }
    }
}

impl From<Response> for Answer {
    fn from(response: Response) -> Answer {
        Answer::Made(response)
    }
}

impl Serialize for Answer {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Answer::Made(response) => response.serialize(serializer),
            Answer::Written(response) => response.serialize(serializer),
        }
    }
}

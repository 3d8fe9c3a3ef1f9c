//! What the client says about itself when it greets the server.
//!
//! Only the facts that change an answer are read, one by one, straight from the JSON. The rest is not
//! deserialised at all: a value that this version of the protocol does not know would fail the whole
//! greeting.

use haunch_text::Encoding;
use serde_json::{Value, json};

/// The facts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Greeting {
    /// How both sides count columns.
    pub(crate) encoding: Encoding,
    /// Whether the client watches files on request.
    pub(crate) watches_files: bool,
    /// Whether it asks for hints again when told to.
    pub(crate) refreshes_hints: bool,
    /// Whether it shows symbols as a tree.
    pub(crate) nests_symbols: bool,
    /// Whether it shows places that belong to a diagnostic.
    pub(crate) shows_related: bool,
}

impl Greeting {
    /// Reads the parameters of `initialize`.
    pub(crate) fn read(params: &Value) -> Greeting {
        let flag = |pointer: &str| params.pointer(pointer) == Some(&Value::Bool(true));
        Greeting {
            encoding: encoding(params),
            watches_files: flag(
                "/capabilities/workspace/didChangeWatchedFiles/dynamicRegistration",
            ),
            refreshes_hints: flag("/capabilities/workspace/inlayHint/refreshSupport"),
            nests_symbols: flag(
                "/capabilities/textDocument/documentSymbol/hierarchicalDocumentSymbolSupport",
            ),
            shows_related: flag("/capabilities/textDocument/publishDiagnostics/relatedInformation"),
        }
    }

    /// The name of the encoding in the protocol.
    pub(crate) fn encoding_name(&self) -> &'static str {
        match self.encoding {
            Encoding::Utf8 => "utf-8",
            Encoding::Utf16 => "utf-16",
            Encoding::Utf32 => "utf-32",
        }
    }
}

/// Bytes need no conversion; whole characters are never split; the protocol's default comes last.
fn encoding(params: &Value) -> Encoding {
    let offered = params
        .pointer("/capabilities/general/positionEncodings")
        .and_then(Value::as_array)
        .map_or(&[][..], Vec::as_slice);
    [("utf-8", Encoding::Utf8), ("utf-32", Encoding::Utf32)]
        .into_iter()
        .find(|(name, _)| offered.iter().any(|offer| offer == name))
        .map_or(Encoding::Utf16, |(_, encoding)| encoding)
}

/// The least that the protocol library accepts as a greeting.
pub(crate) fn plain_params() -> Value {
    json!({ "capabilities": {} })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn offered(encodings: &Value) -> Encoding {
        Greeting::read(&json!({"capabilities": {"general": {"positionEncodings": encodings}}}))
            .encoding
    }

    #[test]
    fn the_encoding_is_the_best_offered() {
        assert_eq!(
            offered(&json!(["utf-16", "utf-32", "utf-8"])),
            Encoding::Utf8
        );
        assert_eq!(offered(&json!(["utf-16", "utf-32"])), Encoding::Utf32);
        assert_eq!(offered(&json!(["utf-16"])), Encoding::Utf16);
        assert_eq!(offered(&json!([])), Encoding::Utf16);
        assert_eq!(offered(&json!("utf-8")), Encoding::Utf16);
        assert_eq!(offered(&json!([7, "utf-64"])), Encoding::Utf16);
    }

    #[test]
    fn anything_is_a_greeting() {
        assert_eq!(Greeting::read(&json!(null)), Greeting::default());
        assert_eq!(
            Greeting::read(&json!({"capabilities": 3})),
            Greeting::default()
        );
    }
}

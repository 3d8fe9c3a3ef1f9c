//! The base protocol: messages framed by a `Content-Length` header.
//!
//! A frame that cannot be read is reported and skipped, so that one broken message does not end the
//! session.

use tokio::io::{self, AsyncBufRead, AsyncBufReadExt, AsyncReadExt, AsyncWrite, AsyncWriteExt};

/// Longest header line that is read as one.
const HEADER_LIMIT: u64 = 8 * 1024;
/// Longest message that is kept. A larger one is skipped: a file this big is beyond what editors open.
const BODY_LIMIT: u64 = 512 * 1024 * 1024;

/// What came over the wire.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Frame {
    /// The body of a message.
    Body(Vec<u8>),
    /// Bytes that are no message; why.
    Broken(&'static str),
}

/// Reads the next frame; `None` at the end of the input.
pub(crate) async fn read_frame(
    input: &mut (impl AsyncBufRead + Unpin),
) -> io::Result<Option<Frame>> {
    let mut length = None;
    let mut seen_header = false;
    loop {
        let mut line = Vec::new();
        if (&mut *input)
            .take(HEADER_LIMIT)
            .read_until(b'\n', &mut line)
            .await?
            == 0
        {
            return Ok(None);
        }
        let header = line.trim_ascii();
        if header.is_empty() {
            match length {
                Some(length) => return read_body(input, length).await,
                None if seen_header => return Ok(Some(Frame::Broken("no Content-Length"))),
                None => continue,
            }
        }
        seen_header = true;
        if let Some(value) = content_length(header) {
            length = Some(value);
        }
    }
}

async fn read_body(
    input: &mut (impl AsyncBufRead + Unpin),
    length: u64,
) -> io::Result<Option<Frame>> {
    let mut limited = input.take(length);
    if length > BODY_LIMIT {
        io::copy(&mut limited, &mut io::sink()).await?;
        return Ok(Some(Frame::Broken("message too long")));
    }
    let mut body = Vec::new();
    limited.read_to_end(&mut body).await?;
    Ok((body.len() as u64 == length).then_some(Frame::Body(body)))
}

fn content_length(header: &[u8]) -> Option<u64> {
    let header = std::str::from_utf8(header).ok()?;
    let (name, value) = header.split_once(':')?;
    name.trim()
        .eq_ignore_ascii_case("content-length")
        .then(|| value.trim().parse().ok())
        .flatten()
}

/// Writes one message and flushes.
pub(crate) async fn write_frame(
    output: &mut (impl AsyncWrite + Unpin),
    body: &[u8],
) -> io::Result<()> {
    let header = format!("Content-Length: {}\r\n\r\n", body.len());
    output.write_all(header.as_bytes()).await?;
    output.write_all(body).await?;
    output.flush().await
}

#[cfg(test)]
mod tests {
    use super::*;

    async fn all(mut input: &[u8]) -> Vec<Frame> {
        let mut frames = Vec::new();
        while let Some(frame) = read_frame(&mut input).await.expect("memory does not fail") {
            frames.push(frame);
        }
        frames
    }

    #[tokio::test]
    async fn headers_in_any_letter_case_and_order() {
        let input = b"Content-Type: application/vscode-jsonrpc; charset=utf-8\r\ncontent-length: 2\r\n\r\n{}\
            Content-Length: 1\n\n1";
        assert_eq!(
            all(input).await,
            [Frame::Body(b"{}".to_vec()), Frame::Body(b"1".to_vec())]
        );
    }

    #[tokio::test]
    async fn rubbish_is_reported_and_the_next_message_is_read() {
        let input = b"hello\r\n\r\nContent-Length: x\r\n\r\nContent-Length: 2\r\n\r\n{}";
        assert_eq!(
            all(input).await,
            [
                Frame::Broken("no Content-Length"),
                Frame::Broken("no Content-Length"),
                Frame::Body(b"{}".to_vec())
            ]
        );
    }

    #[tokio::test]
    async fn an_input_that_ends_inside_a_message_ends() {
        assert_eq!(all(b"Content-Length: 9\r\n\r\n{}").await, []);
        assert_eq!(all(b"Content-Len").await, []);
    }
}

//! Halves of surrogate pairs in a message.
//!
//! Editors whose texts are utf-16 may send one half alone, say when an edit parts a pair. It is no character, and
//! JSON with it is refused as a whole; the text of the document would be lost with it.

/// The message with each half that stands alone as U+FFFD, which is counted as one unit of utf-16 too. `None`
/// if there is none.
pub(crate) fn without_halves(body: &[u8]) -> Option<Vec<u8>> {
    let mut mended = Vec::with_capacity(body.len());
    let mut found = false;
    let mut rest = body;
    while let Some((&first, after)) = rest.split_first() {
        let taken = match (unit(rest), rest.get(6..).and_then(unit)) {
            (Some(0xD800..=0xDBFF), Some(0xDC00..=0xDFFF)) => 12,
            (Some(0xD800..=0xDFFF), _) => {
                found = true;
                mended.extend_from_slice(b"\\ufffd");
                rest = rest.get(6..).unwrap_or_default();
                continue;
            }
            _ if first == b'\\' && !after.is_empty() => 2,
            _ => 1,
        };
        let (kept, left) = rest.split_at(taken.min(rest.len()));
        mended.extend_from_slice(kept);
        rest = left;
    }
    found.then_some(mended)
}

/// The unit of utf-16 that an escape at the start stands for.
fn unit(text: &[u8]) -> Option<u16> {
    let digits = text.strip_prefix(b"\\u")?.get(..4)?;
    let digits = std::str::from_utf8(digits).ok()?;
    u16::from_str_radix(digits, 16).ok()
}

#[cfg(test)]
mod tests {
    use super::without_halves;

    fn mended(text: &str) -> Option<String> {
        without_halves(text.as_bytes()).map(|text| String::from_utf8(text).expect("text"))
    }

    #[test]
    fn only_halves_are_replaced() {
        assert_eq!(mended(r#""a\ud835b""#).as_deref(), Some(r#""a\ufffdb""#));
        assert_eq!(mended(r#""\uDF0E""#).as_deref(), Some(r#""\ufffd""#));
        assert_eq!(
            mended(r#""\ud835\ud835\udf0e""#).as_deref(),
            Some(r#""\ufffd\ud835\udf0e""#)
        );
        for whole in [
            r#""\ud835\udf0e""#,
            r#""\\ud835""#,
            r#""σ\u00b2""#,
            r"\ud8",
            "\\",
        ] {
            assert_eq!(mended(whole), None, "{whole}");
        }
    }
}

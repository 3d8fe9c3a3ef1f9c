//! From the addresses of documents to the paths of the core and back.
//!
//! Clients spell one file in several ways (`file:///c%3A/x`, `file:///C:/x`). The core sees one path,
//! with `/` between its parts and a capital drive letter. A document without a file (`untitled:`) goes
//! by its whole address.

use std::path::{Path, PathBuf};

use tower_lsp::lsp_types::Url;

/// The path by which the core knows a document.
pub(crate) fn path_of(uri: &Url) -> String {
    if uri.scheme() != "file" || uri.host_str().is_some_and(|host| !host.is_empty()) {
        return uri.as_str().to_owned();
    }
    capital_drive(percent_decode(uri.path()))
}

/// The address of a file that no client has named.
pub(crate) fn uri_of(path: &str) -> Option<Url> {
    if !path.starts_with('/') && !has_drive(path) {
        return Url::parse(path).ok();
    }
    let mut uri = Url::parse("file:///").ok()?;
    uri.set_path(path);
    Some(uri)
}

/// Where the file lies on this machine; `None` for a document without a file.
pub(crate) fn file_of(path: &str) -> Option<PathBuf> {
    let absolute = path.starts_with('/') || (cfg!(windows) && has_drive(path));
    absolute.then(|| path.into())
}

/// The path by which the core knows a file of this machine.
pub(crate) fn path_of_file(file: &Path) -> String {
    let path = file.to_string_lossy();
    if cfg!(windows) {
        capital_drive(format!("/{}", path.replace('\\', "/")))
    } else {
        path.into_owned()
    }
}

fn has_drive(path: &str) -> bool {
    matches!(path.as_bytes(), [letter, b':', b'/', ..] if letter.is_ascii_alphabetic())
}

/// `/c:/x` as `C:/x`, so that paths beside it are found by the text alone.
fn capital_drive(path: String) -> String {
    match path.strip_prefix('/') {
        Some(rest) if has_drive(rest) => {
            let (letter, after) = rest.split_at(1);
            letter.to_ascii_uppercase() + after
        }
        _ => path,
    }
}

fn percent_decode(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((&first, tail)) = rest.split_first() {
        match tail {
            [high, low, after @ ..] if first == b'%' => {
                if let (Some(high), Some(low)) = (digit(*high), digit(*low)) {
                    bytes.push(high * 16 + low);
                    rest = after;
                    continue;
                }
                bytes.push(first);
            }
            _ => bytes.push(first),
        }
        rest = tail;
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn digit(character: u8) -> Option<u8> {
    (character as char).to_digit(16).map(|digit| digit as u8)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn path(uri: &str) -> String {
        path_of(&Url::parse(uri).expect("a test address"))
    }

    #[test]
    fn one_file_has_one_path() {
        assert_eq!(path("file:///c%3A/x/beam.haunch"), "C:/x/beam.haunch");
        assert_eq!(path("file:///C:/x/beam.haunch"), "C:/x/beam.haunch");
        assert_eq!(
            path("file:///home/a%20b/%CF%83.haunch"),
            "/home/a b/σ.haunch"
        );
        assert_eq!(path("file://localhost/x"), "/x");
    }

    #[test]
    fn a_document_without_a_file_keeps_its_address() {
        assert_eq!(path("untitled:Untitled-1"), "untitled:Untitled-1");
        assert_eq!(path("file://server/share/x"), "file://server/share/x");
        assert_eq!(file_of("untitled:Untitled-1"), None);
    }

    #[test]
    fn the_way_back() {
        for address in ["/home/a b/100% σ#1?.haunch", "C:/x/beam.haunch"] {
            let uri = uri_of(address).expect("an absolute path has an address");
            assert_eq!(path_of(&uri), address);
        }
        assert_eq!(
            uri_of("untitled:Untitled-1").expect("an address").scheme(),
            "untitled"
        );
    }

    #[test]
    fn a_stray_percent_sign_stays() {
        assert_eq!(percent_decode("a%zz%4"), "a%zz%4");
    }
}

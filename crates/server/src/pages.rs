//! The pages about the codes of findings, as documents that a client can show.
//!
//! They are part of the program and stand at no address of the web. A client that says it can show them
//! gets an address with a scheme of our own, and asks for the text of the page with the command `haunch.page`
//! when it is opened.

use tower_lsp::lsp_types::Url;

/// What the addresses start with. Without something in the place of a host, editors take the rest for the
/// name of a file.
const START: &str = "haunch-page://findings/";

/// The address of a code's page.
pub(crate) fn address(code: &str) -> Option<Url> {
    // With an ending, editors know how to show it.
    Url::parse(&format!("{START}{code}.md")).ok()
}

/// The text of the page at an address.
pub(crate) fn text(address: &Url) -> Option<String> {
    let page = address.as_str().strip_prefix(START)?;
    haunch_ide::explain(page.strip_suffix(".md")?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_code_has_a_page_at_its_address_and_nothing_else_has() {
        for code in ["unit-mismatch", "unknown-name"] {
            let page = address(code).as_ref().and_then(text);
            assert!(page.is_some_and(|page| page.starts_with(&format!("# {code}\n"))));
        }
        for other in [
            "haunch-page://findings/nothing.md",
            "haunch-page://findings/unit-mismatch",
            "file:///unit-mismatch.md",
        ] {
            assert_eq!(text(&other.parse().expect("an address")), None, "{other}");
        }
    }
}

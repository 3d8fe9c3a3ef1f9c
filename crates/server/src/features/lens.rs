//! Words above a line.

use haunch_ide::LensKind;
use serde::{Deserialize, Serialize};
use serde_json::json;
use tower_lsp::lsp_types::{CodeLens, Command, Position, Url};

use crate::commands::SHOW;
use crate::world::View;

/// What a lens keeps so that its words can be worked out when it is shown.
#[derive(Debug, Serialize, Deserialize)]
struct Kept {
    uri: Url,
    position: Position,
    about: u8,
}

const ABOUT: [LensKind; 3] = [LensKind::Uses, LensKind::Limits, LensKind::Capacity];

/// The lenses of a document, without their words.
pub(crate) fn lenses(view: &View, uri: &Url, stop: &dyn Fn() -> bool) -> Option<Vec<CodeLens>> {
    let file = view.file(uri)?;
    let lenses = haunch_ide::lenses(&view.snapshot, file, stop);
    let shown = lenses.into_iter().map(|lens| {
        let range = view.range(file, lens.range);
        let kept = Kept {
            uri: uri.clone(),
            position: range.start,
            about: ABOUT
                .iter()
                .position(|about| *about == lens.about)
                .unwrap_or(0) as u8,
        };
        CodeLens {
            range,
            command: None,
            data: serde_json::to_value(kept).ok(),
        }
    });
    Some(shown.collect())
}

/// Adds the words. A lens that has nothing to say any more gets none.
pub(crate) fn resolve(view: &View, mut lens: CodeLens) -> CodeLens {
    let kept = lens
        .data
        .clone()
        .and_then(|data| serde_json::from_value::<Kept>(data).ok());
    let words = kept.and_then(|kept| {
        let file = view.file(&kept.uri)?;
        let line = view.snapshot.line_at(file, kept.position.line as usize)?;
        let about = *ABOUT.get(kept.about as usize)?;
        let words = haunch_ide::lens_words(&view.snapshot, line.id(), about)?;
        Some((words, kept.uri, kept.position))
    });
    let (title, arguments) = match words {
        Some((words, uri, position)) => (words, Some(vec![json!(uri), json!(position)])),
        None => (String::new(), None),
    };
    lens.command = Some(Command {
        title,
        command: SHOW.to_owned(),
        arguments,
    });
    lens
}

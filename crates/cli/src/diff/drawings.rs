//! The sections that are other ones than before, drawn over each other.

use std::collections::BTreeMap;
use std::sync::Arc;

use haunch_calc::blocks::{BlockMeaning, Model};
use haunch_calc::{FileId, Snapshot};
use haunch_drawing::before_and_after;
use haunch_mechanics::section::OutlineEdge;

use super::html::escaped;
use super::parts::Computed;

/// A figure for each section of both versions whose outline changed, with the path of its file.
pub(super) fn figures(computed: &Computed) -> Vec<(String, String)> {
    let mut figures = Vec::new();
    for pair in &computed.pairs {
        let (Some(old), Some(new)) = (pair.old, pair.new) else {
            continue;
        };
        let before = sections(&computed.old, old);
        for (name, after) in sections(&computed.new, new) {
            // A block that nothing changed is the very same in both versions.
            let Some(before) = before.get(&name).filter(|own| !Arc::ptr_eq(own, &after)) else {
                continue;
            };
            let (Some(before), Some(after)) = (outline(before), outline(&after)) else {
                continue;
            };
            if before == after {
                continue;
            }
            let title = format!("{}: section {name}", computed.new.path(new));
            let drawing = before_and_after(&before, &after, &title);
            let figure = format!(
                "<figure>{drawing}<figcaption>{}</figcaption></figure>",
                escaped(&title)
            );
            figures.push((computed.new.path(new).to_owned(), figure));
        }
    }
    figures
}

/// A file's sections by their names.
fn sections(snapshot: &Snapshot, file: FileId) -> BTreeMap<String, Arc<BlockMeaning>> {
    let blocks = snapshot.lines(file).filter_map(|line| line.block());
    let sections = blocks.filter(|block| matches!(block.model, Some(Model::Section(_))));
    sections
        .map(|section| (section.name.to_string(), section.clone()))
        .collect()
}

fn outline(section: &BlockMeaning) -> Option<Vec<OutlineEdge>> {
    match &section.model {
        Some(Model::Section(section)) => Some(section.outline_edges()),
        _ => None,
    }
}

//! The sections that are other ones than before, drawn over each other.

use std::collections::BTreeMap;

use haunch_calc::blocks::Model;
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
        let before = outlines(&computed.old, old);
        for (name, after) in outlines(&computed.new, new) {
            let Some(before) = before.get(&name).filter(|before| **before != after) else {
                continue;
            };
            let title = format!("{}: section {name}", computed.new.path(new));
            let drawing = before_and_after(before, &after, &title);
            let figure = format!(
                "<figure>{drawing}<figcaption>{}</figcaption></figure>",
                escaped(&title)
            );
            figures.push((computed.new.path(new).to_owned(), figure));
        }
    }
    figures
}

/// The outlines of a file's sections by their names.
fn outlines(snapshot: &Snapshot, file: FileId) -> BTreeMap<String, Vec<OutlineEdge>> {
    let mut outlines = BTreeMap::new();
    for line in snapshot.lines(file) {
        if let Some(block) = line.block()
            && let Some(Model::Section(section)) = &block.model
        {
            outlines.insert(block.name.to_string(), section.outline_edges());
        }
    }
    outlines
}

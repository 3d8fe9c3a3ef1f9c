//! What a value uses and what uses it, in the shape of a call hierarchy.

use haunch_ide::Item;
use tower_lsp::lsp_types::{
    CallHierarchyIncomingCall, CallHierarchyItem, CallHierarchyOutgoingCall,
    TextDocumentPositionParams,
};

use crate::features::outline::kind;
use crate::world::View;

/// The thing that is named at a place.
pub(crate) fn prepare(
    view: &View,
    at: &TextDocumentPositionParams,
) -> Option<Vec<CallHierarchyItem>> {
    let file = view.file(&at.text_document.uri)?;
    let position = view.position_in(file, at.position);
    let item = haunch_ide::item_at(&view.snapshot, file, position)?;
    Some(vec![shown(view, item)?])
}

/// What uses an item. The places are in the files of the users.
pub(crate) fn users(
    view: &View,
    item: &CallHierarchyItem,
) -> Option<Vec<CallHierarchyIncomingCall>> {
    let line = line_of(view, item)?;
    let found = haunch_ide::users_of_item(&view.snapshot, line).into_iter();
    let calls = found.filter_map(|one| {
        let file = one.item.file;
        let ranges = one.ranges.iter().map(|range| view.range(file, *range));
        Some(CallHierarchyIncomingCall {
            from_ranges: ranges.collect(),
            from: shown(view, one.item)?,
        })
    });
    Some(calls.collect())
}

/// What an item uses. The places are in the item's own file.
pub(crate) fn used(
    view: &View,
    item: &CallHierarchyItem,
) -> Option<Vec<CallHierarchyOutgoingCall>> {
    let file = view.file(&item.uri)?;
    let line = line_of(view, item)?;
    let found = haunch_ide::used_by_item(&view.snapshot, line).into_iter();
    let calls = found.filter_map(|one| {
        let ranges = one.ranges.iter().map(|range| view.range(file, *range));
        Some(CallHierarchyOutgoingCall {
            from_ranges: ranges.collect(),
            to: shown(view, one.item)?,
        })
    });
    Some(calls.collect())
}

fn line_of(view: &View, item: &CallHierarchyItem) -> Option<haunch_calc::LineId> {
    let file = view.file(&item.uri)?;
    let line = view
        .snapshot
        .line_at(file, item.selection_range.start.line as usize)?;
    Some(line.id())
}

fn shown(view: &View, item: Item) -> Option<CallHierarchyItem> {
    Some(CallHierarchyItem {
        name: item.name,
        kind: kind(item.kind),
        tags: None,
        detail: (!item.detail.is_empty()).then_some(item.detail),
        uri: view.uri(item.file)?,
        range: view.range(item.file, item.range),
        selection_range: view.range(item.file, item.name_range),
        data: None,
    })
}

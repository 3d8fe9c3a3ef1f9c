//! The shape of a file: symbols, folds, selections, links.

use haunch_calc::FileId;
use haunch_ide::{FoldKind, Symbol, SymbolKind};
use tower_lsp::lsp_types::{
    DocumentLink, DocumentSymbol, DocumentSymbolResponse, FoldingRange, FoldingRangeKind, Location,
    Position, SelectionRange, SymbolInformation, SymbolKind as LspSymbolKind, Url,
};

use crate::address::uri_of;
use crate::greeting::Greeting;
use crate::world::View;

/// The outline of a document: a tree where the client shows one.
pub(crate) fn symbols(
    view: &View,
    greeting: Greeting,
    uri: &Url,
) -> Option<DocumentSymbolResponse> {
    let file = view.file(uri)?;
    let symbols = haunch_ide::symbols(&view.snapshot, file);
    if greeting.nests_symbols {
        let nested = symbols.into_iter().map(|symbol| nested(view, file, symbol));
        return Some(DocumentSymbolResponse::Nested(nested.collect()));
    }
    let mut flat = Vec::new();
    for symbol in symbols {
        flat.push(listed(view, file, uri, &symbol, None));
        for child in &symbol.children {
            flat.push(listed(view, file, uri, child, Some(&symbol.name)));
        }
    }
    Some(DocumentSymbolResponse::Flat(flat))
}

/// The names of all files that fit what was typed.
pub(crate) fn workspace_symbols(
    view: &View,
    query: &str,
    stop: &dyn Fn() -> bool,
) -> Vec<SymbolInformation> {
    let found = haunch_ide::workspace_symbols(&view.snapshot, query, stop);
    let listed = found.into_iter().filter_map(|found| {
        let uri = view.uri(found.file)?;
        let container = (!found.container.is_empty()).then_some(found.container.as_str());
        Some(listed(view, found.file, &uri, &found.symbol, container))
    });
    listed.collect()
}

fn nested(view: &View, file: FileId, symbol: Symbol) -> DocumentSymbol {
    let children: Vec<_> = symbol
        .children
        .into_iter()
        .map(|child| nested(view, file, child))
        .collect();
    #[allow(deprecated, reason = "the struct has the old field and no default")]
    DocumentSymbol {
        name: symbol.name,
        detail: (!symbol.detail.is_empty()).then_some(symbol.detail),
        kind: kind(symbol.kind),
        tags: None,
        deprecated: None,
        range: view.range(file, symbol.range),
        selection_range: view.range(file, symbol.name_range),
        children: (!children.is_empty()).then_some(children),
    }
}

fn listed(
    view: &View,
    file: FileId,
    uri: &Url,
    symbol: &Symbol,
    parent: Option<&str>,
) -> SymbolInformation {
    #[allow(deprecated, reason = "the struct has the old field and no default")]
    SymbolInformation {
        name: symbol.name.clone(),
        kind: kind(symbol.kind),
        tags: None,
        deprecated: None,
        location: Location {
            uri: uri.clone(),
            range: view.range(file, symbol.range),
        },
        container_name: parent.map(str::to_owned),
    }
}

/// The protocol's kind of a symbol.
pub(crate) fn kind(kind: SymbolKind) -> LspSymbolKind {
    match kind {
        SymbolKind::Block(_) => LspSymbolKind::STRUCT,
        SymbolKind::Value => LspSymbolKind::VARIABLE,
        SymbolKind::Formula => LspSymbolKind::FUNCTION,
        SymbolKind::Part | SymbolKind::Point | SymbolKind::Support | SymbolKind::Combination => {
            LspSymbolKind::FIELD
        }
        SymbolKind::Check => LspSymbolKind::BOOLEAN,
        SymbolKind::File => LspSymbolKind::MODULE,
    }
}

/// What can be folded away.
pub(crate) fn folds(view: &View, uri: &Url, stop: &dyn Fn() -> bool) -> Option<Vec<FoldingRange>> {
    let file = view.file(uri)?;
    let folds = haunch_ide::folds(&view.snapshot, file, stop);
    let shown = folds.into_iter().map(|fold| FoldingRange {
        start_line: fold.first,
        end_line: fold.last,
        kind: match fold.kind {
            FoldKind::Block => None,
            FoldKind::Comment => Some(FoldingRangeKind::Comment),
            FoldKind::Uses => Some(FoldingRangeKind::Imports),
        },
        ..FoldingRange::default()
    });
    Some(shown.collect())
}

/// What to select next, for each place.
pub(crate) fn selections(
    view: &View,
    uri: &Url,
    positions: &[Position],
) -> Option<Vec<SelectionRange>> {
    let file = view.file(uri)?;
    let selection = |&position: &Position| {
        let at = view.position_in(file, position);
        let ranges = haunch_ide::selections(&view.snapshot, file, at);
        let outer = ranges.into_iter().rev().fold(None, |parent, range| {
            Some(SelectionRange {
                range: view.range(file, range),
                parent: parent.map(Box::new),
            })
        });
        outer.unwrap_or(SelectionRange {
            range: tower_lsp::lsp_types::Range::new(position, position),
            parent: None,
        })
    };
    Some(positions.iter().map(selection).collect())
}

/// The files that `use` lines name.
pub(crate) fn links(view: &View, uri: &Url, stop: &dyn Fn() -> bool) -> Option<Vec<DocumentLink>> {
    let file = view.file(uri)?;
    let links = haunch_ide::links(&view.snapshot, file, stop);
    let shown = links.into_iter().map(|link| DocumentLink {
        range: view.range(file, link.range),
        target: match view.titles.get(&link.path) {
            Some(title) => Some(title.uri.clone()),
            None => uri_of(&link.path),
        },
        tooltip: None,
        data: None,
    });
    Some(shown.collect())
}

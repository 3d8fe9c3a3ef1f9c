//! What to select next when a selection grows: word, expression, line, block, file.

use haunch_calc::{FileId, Place, Snapshot};
use haunch_syntax::{TokenKind, tokens};
use haunch_text::{Position, Range, Span, content};

/// The stretches round a position, the smallest first, each inside the next.
pub fn selections(snapshot: &Snapshot, file: FileId, position: Position) -> Vec<Range> {
    let mut found: Vec<Range> = Vec::new();
    let mut push = |range: Range| {
        let grows = found.last().is_none_or(|inner| {
            range != *inner && range.start <= inner.start && inner.end <= range.end
        });
        if grows {
            found.push(range);
        }
    };
    if let Some((id, offset)) = snapshot.locate(file, position)
        && let Some(line) = snapshot.line(id)
    {
        let text = line.text();
        let said = text.trim_end().len();
        let start = text.len() - text.trim_start().len();
        let mut spans: Vec<Span> = word(text, offset)
            .into_iter()
            .chain(
                line.tree()
                    .expressions
                    .iter()
                    .map(|expression| expression.span),
            )
            .chain(line.tree().paths().filter_map(|path| {
                let first = path.names.first()?.span;
                Some(
                    path.names
                        .last()
                        .map_or(first, |last| first.cover(last.span)),
                )
            }))
            .chain([Span::new(start.min(said), said), Span::new(0, said)])
            .filter(|span| span.touches(offset))
            .collect();
        spans.sort_by_key(|span| span.len());
        for span in spans {
            if let Some(range) = snapshot.range(Place { line: id, span }) {
                push(range);
            }
        }
        let heading = line.owner().unwrap_or(id);
        let whole = |line| {
            let view = snapshot.line(line)?;
            let span = Span::new(0, view.text().trim_end().len());
            snapshot.range(Place { line, span })
        };
        let last = snapshot.lines_under(heading).last().map(|line| line.id());
        if let (Some(first), Some(last)) = (whole(heading), last.and_then(whole)) {
            push(Range {
                start: first.start,
                end: last.end,
            });
        }
    }
    let last = snapshot.line_count(file).saturating_sub(1);
    let column = content(snapshot.physical_line(file, last)).len();
    push(Range {
        start: Position::default(),
        end: Position {
            line: last as u32,
            column: column as u32,
        },
    });
    found
}

/// The word, number or sign at an offset. Of two that touch there, the word or number rather than the sign,
/// then the one that starts there.
fn word(text: &str, offset: u32) -> Option<Span> {
    let touching = tokens(text)
        .into_iter()
        .filter(|token| !token.kind.is_trivia() && token.span.touches(offset));
    let best = touching.max_by_key(|token| {
        let says = matches!(
            token.kind,
            TokenKind::Word | TokenKind::Number | TokenKind::Text
        );
        (says, token.span.start)
    });
    best.map(|token| token.span)
}

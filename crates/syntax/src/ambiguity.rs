//! Lines that can be read but that two readers would read differently. They are not guessed.

use haunch_text::Span;

use crate::lexeme::Lexeme;
use crate::mistakes::unit_in_brackets;
use crate::repair::{error, replace};
use crate::tree::{
    BinaryOperator, Expression, ExpressionId, ExpressionKind, LiteralPart, Number, ShownKind,
    Statement, SyntaxError, SyntaxErrorKind, ValueBody,
};

/// What in a line that was read has two meanings, or brackets after a bare number.
pub(crate) fn check(
    text: &str,
    lexemes: &[Lexeme],
    expressions: &[Expression],
    statement: &Statement,
) -> Vec<SyntaxError> {
    let mut errors = Vec::new();
    for expression in expressions {
        match &expression.kind {
            ExpressionKind::Binary {
                operator: BinaryOperator::Power,
                operator_span,
                left,
                right,
            } => {
                let end = span_of(expressions, *right);
                errors.extend(power(text, expressions, *left, operator_span.cover(end)));
            }
            ExpressionKind::Superscript {
                base,
                exponent_span,
                ..
            } => errors.extend(power(text, expressions, *base, *exponent_span)),
            ExpressionKind::Binary {
                operator: BinaryOperator::Divide,
                left,
                right,
                ..
            } => errors.extend(fraction(text, expressions, *left, *right)),
            ExpressionKind::Literal(literal) => {
                errors.extend(same_unit(text, &literal.parts, expression.span));
            }
            _ => {}
        }
    }
    if errors.is_empty() {
        errors.extend(bracket(text, lexemes, expressions, statement));
    }
    errors
}

fn span_of(expressions: &[Expression], id: ExpressionId) -> Span {
    expressions
        .get(id.0 as usize)
        .map_or(Span::default(), |expression| expression.span)
}

/// The parts of a literal that stands by itself, not in parentheses.
fn literal(expressions: &[Expression], id: ExpressionId) -> Option<(&[LiteralPart], Span)> {
    let expression = expressions.get(id.0 as usize)?;
    match &expression.kind {
        ExpressionKind::Literal(literal) => Some((&literal.parts, expression.span)),
        _ => None,
    }
}

/// `8 mm 140 mm`: parts of one quantity have different units, as in `6 ft 3 in`.
fn same_unit(text: &str, parts: &[LiteralPart], span: Span) -> Option<SyntaxError> {
    let unit = |part: &LiteralPart| part.unit.as_ref().map(|unit| unit.text.clone());
    let [first, second] = parts
        .windows(2)
        .find(|pair| unit(&pair[0]) == unit(&pair[1]))?
    else {
        return None;
    };
    let gap = Span {
        start: first.unit.as_ref()?.span.end,
        end: second.number_span.start,
    };
    let mut mistake = error(
        SyntaxErrorKind::MissingOperator,
        span,
        format!(
            "An operator or a comma is missing before `{}`.",
            second.number_span.text(text)
        ),
    );
    for (title, between) in [
        ("Write `x`", " x "),
        ("Write `+`", " + "),
        ("Write `,`", ", "),
    ] {
        mistake.repairs.push(replace(title, gap, between));
    }
    Some(mistake)
}

/// `5 mm ^ 2`: 5 mm² or 25 mm²?
fn power(
    text: &str,
    expressions: &[Expression],
    base: ExpressionId,
    exponent: Span,
) -> Option<SyntaxError> {
    let (parts, base) = literal(expressions, base)?;
    if parts.iter().all(|part| part.unit.is_none()) {
        return None;
    }
    let quantity = base.text(text);
    let power = exponent.text(text);
    let compact: String = power.split_whitespace().collect();
    let span = base.cover(exponent);
    let mut mistake = error(
        SyntaxErrorKind::Unreadable,
        span,
        format!(
            "This could be the power of `{quantity}` or of its unit alone. \
             Write `({quantity}){compact}`, or the unit's power without spaces."
        ),
    );
    for meant in [
        format!("({quantity}){compact}"),
        format!("{quantity}{compact}"),
    ] {
        mistake
            .repairs
            .push(replace(format!("Write `{meant}`"), span, meant));
    }
    Some(mistake)
}

/// `L/3/4 in`: L over 3/4 in, or L/3 over 4 in?
fn fraction(
    text: &str,
    expressions: &[Expression],
    left: ExpressionId,
    right: ExpressionId,
) -> Option<SyntaxError> {
    let (parts, span) = literal(expressions, right)?;
    let first = parts.first()?;
    let Number::Fraction { whole: None, .. } = first.number else {
        return None;
    };
    let written = span.text(text);
    let slash = first.number_span.text(text).find('/')?;
    let whole = span_of(expressions, left).cover(span);
    let mut mistake = error(
        SyntaxErrorKind::Unreadable,
        whole,
        format!("This could divide by `{written}` or twice. Put the divisor in parentheses."),
    );
    mistake.repairs.push(replace(
        format!("Write `/({written})`"),
        span,
        format!("({written})"),
    ));
    let (above, below) = written.split_at(slash);
    let below = &below[1..];
    mistake.repairs.push(replace(
        format!("Write `/{above}/({below})`"),
        span,
        format!("{above}/({below})"),
    ));
    Some(mistake)
}

/// `L = 3 [m]`: brackets close a formula, not a bare number.
fn bracket(
    text: &str,
    lexemes: &[Lexeme],
    expressions: &[Expression],
    statement: &Statement,
) -> Option<SyntaxError> {
    let Statement::Value(value) = statement else {
        return None;
    };
    let shown = value.shown.as_ref()?;
    let ShownKind::Unit(unit) = &shown.kind else {
        return None;
    };
    let values = match &value.body {
        ValueBody::Expression(id) => std::slice::from_ref(id),
        ValueBody::List(all) => all.as_slice(),
        _ => return None,
    };
    let numbers: Vec<Span> = values
        .iter()
        .map(|&id| bare_number(expressions, id))
        .collect::<Option<_>>()?;
    let (first, last) = (*numbers.first()?, *numbers.last()?);
    let mut mistake = unit_in_brackets(text, last, unit.span, shown.span);
    let Some(repair) = mistake.repairs.first_mut() else {
        return Some(mistake);
    };
    let unit = unit.span.text(text);
    // The bracket goes with the white space before it.
    let after = lexemes
        .iter()
        .rev()
        .find(|lexeme| lexeme.span.end <= shown.span.start)
        .map_or(last.end, |lexeme| lexeme.span.end);
    repair.edits = numbers
        .iter()
        .map(|number| (Span::empty(number.range().end), format!(" {unit}")))
        .collect();
    let gone = Span {
        start: after,
        end: shown.span.end,
    };
    repair.edits.push((gone, String::new()));
    mistake.span = first.cover(shown.span);
    Some(mistake)
}

/// The number that an expression is, signs and parentheses left aside.
fn bare_number(expressions: &[Expression], id: ExpressionId) -> Option<Span> {
    let mut id = id;
    loop {
        match &expressions.get(id.0 as usize)?.kind {
            ExpressionKind::Negate(inner) | ExpressionKind::Group(inner) => id = *inner,
            ExpressionKind::Literal(literal) => {
                return match literal.parts.as_slice() {
                    [part] if part.unit.is_none() => Some(part.number_span),
                    _ => None,
                };
            }
            _ => return None,
        }
    }
}

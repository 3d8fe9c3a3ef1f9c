//! Two sides, terms or arguments whose dimensions do not fit each other or the place.

use haunch_quantity::{Dimension, Preferences, Unit};
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Shown, ShownKind};

use crate::expression::Context;
use crate::finding::{Code, Finding, Place, Related, Severity};
use crate::value::Kind;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "unit-mismatch",
    severity: Severity::Error,
    summary: "two sides of a formula, or a formula and its place, have different dimensions",
    page: include_str!("pages/unit-mismatch.md"),
};

/// An expression with its place, its text and its dimension.
pub(crate) type Described<'a> = (Place, &'a str, Dimension);

fn is_a((_, source, dimension): Described<'_>) -> String {
    format!("{source} is {}", dimension.describe_with_article())
}

fn related(described: Described<'_>) -> Related {
    Related {
        place: described.0,
        message: is_a(described),
    }
}

/// The parts of one compound quantity, as `6 ft 3 kg`.
pub(crate) fn compound(place: Place, first: Dimension, found: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "this part is {}, but the quantity begins with {}. Parts of one quantity are of one \
             kind, as in 6 ft 3 in.",
            found.describe_with_article(),
            first.describe_with_article()
        ),
    )
}

/// Two sides of a comparison.
pub(crate) fn sides(place: Place, left: Described<'_>, right: Described<'_>) -> Finding {
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "these cannot be compared: {}, but {}.",
            is_a(left),
            is_a(right)
        ),
    );
    finding.related = vec![related(left), related(right)];
    finding
}

/// Two branches of a choice.
pub(crate) fn branches(place: Place, then: Described<'_>, otherwise: Described<'_>) -> Finding {
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "both branches have to be of one kind: {}, but {}.",
            is_a(then),
            is_a(otherwise)
        ),
    );
    finding.related = vec![related(then), related(otherwise)];
    finding
}

/// The one term of a sum that does not fit the others, and the part of it at fault.
pub(crate) fn odd_term(
    context: &Context<'_>,
    odd: (ExpressionId, Dimension),
    others: &[(ExpressionId, Dimension)],
    common: Dimension,
) -> Finding {
    let described = |(id, dimension): (ExpressionId, Dimension)| {
        (context.place_of(id), context.source(id), dimension)
    };
    let the_rest = if others.len() > 1 {
        "the other terms are"
    } else {
        "the sum is meant as"
    };
    let (place, hint) = at_fault(context, odd.0, common);
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{}, but {the_rest} {}. Only quantities of one kind can be added.{hint}",
            is_a(described(odd)),
            common.describe_with_article()
        ),
    );
    finding.related = std::iter::once(&odd)
        .chain(others)
        .map(|term| related(described(*term)))
        .collect();
    finding
}

/// The smallest part at fault of an expression that has to be `wanted`, and words that point at it
/// where it is not the whole.
fn at_fault(context: &Context<'_>, id: ExpressionId, wanted: Dimension) -> (Place, String) {
    let line = crate::repair::Line {
        tree: context.tree,
        text: context.text,
        evaluated: &context.evaluated,
    };
    let (part, needed) = crate::repair::part_at_fault(&line, id, wanted);
    let place = context.place(part);
    if part == context.place_of(id).span {
        return (place, String::new());
    }
    let source = part.text(context.text);
    let hint = match needed {
        Some(needed) => format!(
            " Look at {source}: all else being right, it has to be {}.",
            needed.describe_with_article()
        ),
        None => format!(" Look at {source}."),
    };
    (place, hint)
}

/// A sum of which no term is clearly the odd one.
pub(crate) fn terms(place: Place, terms: &[Described<'_>]) -> Finding {
    let listed: Vec<String> = terms.iter().map(|term| is_a(*term)).collect();
    let mut finding = Finding::new(
        &CODE,
        place,
        format!("these cannot be added: {}.", listed.join(", ")),
    );
    finding.related = terms.iter().map(|term| related(*term)).collect();
    finding
}

/// An exponent with a unit.
pub(crate) fn exponent(place: Place, source: &str, found: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "an exponent is a plain number, but {source} is {}.",
            found.describe_with_article()
        ),
    )
}

/// The argument of a function that takes one kind of quantity.
pub(crate) fn argument(
    place: Place,
    function: &str,
    source: &str,
    found: Dimension,
    wanted: Dimension,
) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "{function} takes {}, but {source} is {}.",
            wanted.describe_with_article(),
            found.describe_with_article()
        ),
    )
}

/// Arguments of one function that have to be of one kind.
pub(crate) fn arguments(function: &str, odd: Described<'_>, other: Described<'_>) -> Finding {
    let mut finding = Finding::new(
        &CODE,
        odd.0,
        format!(
            "{function} takes quantities of one kind: {}, but {}.",
            is_a(other),
            is_a(odd)
        ),
    );
    finding.related = vec![related(other)];
    finding
}

/// The result of a formula's call against the brackets of the formula.
pub(crate) fn call(place: Place, name: &str, found: Dimension, wanted: Dimension) -> Finding {
    Finding::new(
        &CODE,
        place,
        format!(
            "with these arguments {name} comes out as {}, but the formula asks for {}.",
            found.describe_with_article(),
            wanted.describe_with_article()
        ),
    )
}

/// A place of a statement that takes one kind of quantity.
pub(crate) fn needed(
    place: Place,
    source: &str,
    found: Dimension,
    wanted: Dimension,
    what: &str,
) -> Finding {
    let mut message = format!(
        "{what} has to be {}, but {source} is {}.",
        wanted.describe_with_article(),
        found.describe_with_article()
    );
    let (number, unit) = source.split_once(' ').unwrap_or((source, ""));
    let unit = unit.trim();
    let is_literal =
        number.parse::<f64>().is_ok() && (unit.is_empty() || Unit::parse(unit).is_ok());
    if is_literal && unit.is_empty() {
        message.push_str(" Add its unit.");
    } else if is_mass_for_force(found, wanted) {
        message.push_str(MASS_IS_NO_FORCE);
    }
    let mut finding = Finding::new(&CODE, place, message);
    if is_literal {
        let written = Some(unit).filter(|unit| !unit.is_empty());
        let units = crate::repair::units::near(written, wanted, &Preferences::default());
        for unit in units.into_iter().take(2) {
            let text = format!("{number} {unit}");
            finding = finding.with_repair(format!("Write {text}"), place, text);
        }
    }
    finding
}

const MASS_IS_NO_FORCE: &str =
    " A mass weighs its value times g_n: multiply by g_n, or write lbf instead of lb.";

fn is_mass_for_force(found: Dimension, wanted: Dimension) -> bool {
    found.checked_multiply(Dimension::ACCELERATION) == Some(wanted)
}

/// A formula whose result is not what its brackets ask for.
pub(crate) fn declared(
    context: &Context<'_>,
    body: Option<ExpressionId>,
    shown: &Shown,
    found: Dimension,
    wanted: Dimension,
) -> Finding {
    let (place, hint) = body.map_or((context.place(shown.span), String::new()), |id| {
        at_fault(context, id, wanted)
    });
    let brackets = shown.span.text(context.text);
    let what = if hint.is_empty() {
        "this"
    } else {
        "the formula"
    };
    let mut message = format!(
        "{what} comes out as {}, but {brackets} asks for {}.",
        found.describe_with_article(),
        wanted.with_article()
    );
    let parts = body.map(|id| parts(context, id)).unwrap_or_default();
    let words = |(id, dimension): &(ExpressionId, Dimension)| {
        is_a((context.place_of(*id), context.source(*id), *dimension))
    };
    // A name that stands twice in the formula is told of once.
    let mut listed: Vec<String> = Vec::new();
    for said in parts.iter().map(words) {
        if !listed.contains(&said) {
            listed.push(said);
        }
    }
    if !listed.is_empty() {
        message.push(' ');
        message.push_str(&listed.join("; "));
        message.push('.');
    }
    if is_mass_for_force(found, wanted) {
        message.push_str(MASS_IS_NO_FORCE);
    } else {
        message.push_str(&hint);
    }
    let mut finding = Finding::new(&CODE, place, message);
    finding.related = parts
        .iter()
        .map(|part| Related {
            place: context.place_of(part.0),
            message: words(part),
        })
        .collect();
    if let ShownKind::Unit(_) = shown.kind {
        let unit = found.typical_unit().source_text();
        let title = if found.is_ratio() {
            "Leave the unit out: the formula gives a plain number".to_owned()
        } else {
            format!("Show {} in [{unit}]", found.with_article())
        };
        let replacement = if found.is_ratio() {
            String::new()
        } else {
            format!("[{unit}]")
        };
        finding = finding.with_repair(title, context.place(shown.span), replacement);
    }
    finding
}

/// The factors of a product or quotient whose dimensions are known and worth naming.
fn parts(context: &Context<'_>, id: ExpressionId) -> Vec<(ExpressionId, Dimension)> {
    let mut parts = Vec::new();
    let mut pending = vec![id];
    while let Some(id) = pending.pop() {
        match context.tree.expressions.get(id.0 as usize).map(|e| &e.kind) {
            Some(ExpressionKind::Binary {
                operator: BinaryOperator::Multiply | BinaryOperator::Divide,
                left,
                right,
                ..
            }) => pending.extend([*right, *left]),
            Some(ExpressionKind::Negate(inner) | ExpressionKind::Group(inner)) => {
                pending.push(*inner);
            }
            Some(ExpressionKind::Literal(_)) | None => {}
            Some(_) => {
                if let Kind::Quantity(dimension) = context.kind(id) {
                    parts.push((id, dimension));
                }
            }
        }
        if parts.len() > 6 {
            break;
        }
    }
    if parts.len() < 2 { Vec::new() } else { parts }
}

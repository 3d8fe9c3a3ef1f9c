//! Two sides, terms or arguments whose dimensions do not fit each other or the place.

use haunch_quantity::{Dimension, Preferences, Unit};
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind, Shown, ShownKind};
use haunch_text::Span;

use crate::expression::Context;
use crate::finding::{Code, Finding, Place, Related, Severity};
use crate::inference::{AtFault, Contradiction};
use crate::line::LineId;
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

/// Two sides of a comparison, at the part at fault where one side is clearly the odd one.
pub(crate) fn sides(
    context: &Context<'_>,
    place: Place,
    left: (ExpressionId, Dimension),
    right: (ExpressionId, Dimension),
) -> Finding {
    let (place, hint) = match odd_side(context, left, right) {
        Some(at_fault) => at_fault,
        None => (place, String::new()),
    };
    let (left, right) = (described(context, left), described(context, right));
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "these cannot be compared: {}, but {}.{hint}",
            is_a(left),
            is_a(right)
        ),
    );
    finding.related = vec![related(left), related(right)];
    finding
}

fn described<'a>(
    context: &Context<'a>,
    (id, dimension): (ExpressionId, Dimension),
) -> Described<'a> {
    (context.place_of(id), context.source(id), dimension)
}

/// The part at fault of two sides that differ, where one of them is clearly the odd one: the trade has no
/// name for its dimension, it is a power of what the other is, or it is a formula with one likely slip
/// beside a plain name or number.
fn odd_side(
    context: &Context<'_>,
    left: (ExpressionId, Dimension),
    right: (ExpressionId, Dimension),
) -> Option<(Place, String)> {
    let is_unnamed = |side: (ExpressionId, Dimension)| side.1.name().is_none();
    if is_unnamed(left) != is_unnamed(right) {
        let (odd, wanted) = match is_unnamed(left) {
            true => (left.0, right.1),
            false => (right.0, left.1),
        };
        return Some(at_fault(context, odd, wanted));
    }
    let power_of = |side: (ExpressionId, Dimension), wanted: Dimension| {
        let base = match kind(context, context.tree.inside(side.0))? {
            ExpressionKind::Superscript { base, .. } => *base,
            ExpressionKind::Binary {
                operator: BinaryOperator::Power,
                left,
                ..
            } => *left,
            _ => return None,
        };
        (context.kind(base) == Kind::Quantity(wanted))
            .then(|| (context.place_of(context.tree.inside(side.0)), String::new()))
    };
    if let Some(odd) = power_of(left, right.1).xor(power_of(right, left.1)) {
        return Some(odd);
    }
    let is_plain = |side: (ExpressionId, Dimension)| {
        matches!(
            kind(context, context.tree.inside(side.0)),
            Some(ExpressionKind::Literal(_) | ExpressionKind::Path(_))
        )
    };
    let slip = |side: (ExpressionId, Dimension), wanted: Dimension| {
        let found = at_fault(context, side.0, wanted);
        Some(found).filter(|(place, _)| *place != context.place_of(context.tree.inside(side.0)))
    };
    match (is_plain(left), is_plain(right)) {
        (true, false) => slip(right, left.1),
        (false, true) => slip(left, right.1),
        _ => None,
    }
}

fn kind<'a>(context: &Context<'a>, id: ExpressionId) -> Option<&'a ExpressionKind> {
    let tree = context.tree;
    tree.expressions.get(id.0 as usize).map(|own| &own.kind)
}

/// Uses of unknown names that nothing fits, whatever the names stand for.
pub(crate) fn contradiction(line: LineId, text: &str, of: &Contradiction) -> Finding {
    let names = of.names.join(" and ");
    let mut uses = of.uses.clone();
    uses.sort_by_key(|(place, _)| (place.line != line, place.span.start));
    let here = || uses.iter().filter(|(place, _)| place.line == line);
    let alone = here()
        .map(|(place, dimension)| Some((place.span.text(text), (*dimension)?)))
        .collect::<Option<Vec<_>>>()
        .filter(|alone| alone.len() == uses.len() && alone.len() > 1 && of.names.len() == 1);
    let message = match alone {
        Some(alone) => {
            let needs: Vec<String> = alone
                .iter()
                .map(|(source, dimension)| {
                    format!(
                        "in {source} it has to be {}",
                        dimension.describe_with_article()
                    )
                })
                .collect();
            format!(
                "nothing that {names} stands for fits this line: {}.",
                needs.join(", ")
            )
        }
        None => {
            let places: Vec<&str> = here().map(|(place, _)| place.span.text(text)).collect();
            format!(
                "whatever {names} stands for, this does not come out right: {}.",
                places.join("; ")
            )
        }
    };
    let place = here().next_back().or(uses.last()).map(|(place, _)| *place);
    let place = place.unwrap_or(Place {
        line,
        span: Default::default(),
    });
    let mut finding = Finding::new(&CODE, place, message);
    finding.related = uses
        .iter()
        .map(|(place, dimension)| Related {
            place: *place,
            message: match dimension {
                Some(dimension) => {
                    format!("{names} as {}", dimension.describe_with_article())
                }
                None => format!("a use of {names}"),
            },
        })
        .collect();
    finding
}

/// Two branches of a choice, at the odd one where the line says what is `meant`.
pub(crate) fn branches(
    context: &Context<'_>,
    id: ExpressionId,
    (then, otherwise): ((ExpressionId, Dimension), (ExpressionId, Dimension)),
    meant: Option<Dimension>,
) -> Finding {
    let (place, hint) = match meant {
        Some(meant) if then.1 == meant => at_fault(context, otherwise.0, meant),
        Some(meant) => at_fault(context, then.0, meant),
        None => (context.place_of(id), String::new()),
    };
    let (then, otherwise) = (described(context, then), described(context, otherwise));
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "both branches have to be of one kind: {}, but {}.{hint}",
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
            is_a(described(context, odd)),
            common.describe_with_article()
        ),
    );
    finding.related = std::iter::once(&odd)
        .chain(others)
        .map(|term| related(described(context, *term)))
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
    let is_whole = part == context.span(context.tree.inside(id)) || part == context.span(id);
    let of_part = if is_whole { Some(wanted) } else { needed };
    if let Some(of_part) = of_part
        && let Some(found) = argument_in(context, part, of_part)
    {
        return found;
    }
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

/// The argument at fault, where a part is a call of a formula that has to be `wanted`.
fn argument_in(context: &Context<'_>, part: Span, wanted: Dimension) -> Option<(Place, String)> {
    let mut tree = context.tree.expressions.iter();
    let call =
        tree.position(|own| own.span == part && matches!(own.kind, ExpressionKind::Path(_)))?;
    let call = ExpressionId(u32::try_from(call).ok()?);
    let (argument, at_fault) = context.single_argument_at_fault(call, wanted)?;
    let place = context.place_of(argument);
    let hint = format!(
        " Look at {}: all else being right, {} of {} has to be {}.",
        context.source(argument),
        at_fault.parameter,
        at_fault.formula,
        at_fault.needed.describe_with_article()
    );
    Some((place, hint))
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

/// The one argument of a function that does not fit the others, and the part of it at fault.
pub(crate) fn odd_argument(
    context: &Context<'_>,
    function: &str,
    odd: (ExpressionId, Dimension),
    others: &[(ExpressionId, Dimension)],
    common: Dimension,
) -> Finding {
    let the_rest = if others.len() > 1 {
        "the others are"
    } else {
        "it is meant as"
    };
    let (place, hint) = at_fault(context, odd.0, common);
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{function} takes quantities of one kind: {}, but {the_rest} {}.{hint}",
            is_a(described(context, odd)),
            common.describe_with_article()
        ),
    );
    finding.related = std::iter::once(&odd)
        .chain(others)
        .map(|argument| related(described(context, *argument)))
        .collect();
    finding
}

/// Arguments of one function that have to be of one kind, none of them clearly the odd one.
pub(crate) fn arguments(place: Place, function: &str, arguments: &[Described<'_>]) -> Finding {
    let listed: Vec<String> = arguments.iter().map(|own| is_a(*own)).collect();
    let mut finding = Finding::new(
        &CODE,
        place,
        format!(
            "{function} takes quantities of one kind: {}.",
            listed.join(", ")
        ),
    );
    finding.related = arguments.iter().map(|own| related(*own)).collect();
    finding
}

/// The argument of a formula's call that does not fit, where one is; else what each may be.
pub(crate) fn argument_of_formula(
    context: &Context<'_>,
    call: Place,
    name: &str,
    arguments: &[ExpressionId],
    at_fault: &[AtFault],
) -> Option<Finding> {
    let given = |own: &AtFault| {
        let id = *arguments.get(own.index)?;
        Some((id, context.kind(id).dimension()?))
    };
    let mut finding = match at_fault {
        [] => return None,
        [only] => {
            let argument = given(only)?;
            let message = format!(
                "{} of {name} has to be {} here, but {}.",
                only.parameter,
                only.needed.describe_with_article(),
                is_a(described(context, argument))
            );
            Finding::new(&CODE, context.place_of(argument.0), message)
        }
        several => {
            let given: Vec<String> = several
                .iter()
                .filter_map(|own| Some(is_a(described(context, given(own)?))))
                .collect();
            let needed: Vec<String> = several
                .iter()
                .map(|own| {
                    format!(
                        "{} as {}",
                        own.parameter,
                        own.needed.describe_with_article()
                    )
                })
                .collect();
            let message = format!(
                "these do not go together in {name}: {}. Either of these would be right: {}.",
                given.join(", "),
                needed.join(", ")
            );
            Finding::new(&CODE, call, message)
        }
    };
    finding.related = arguments
        .iter()
        .filter_map(|id| match context.kind(*id) {
            Kind::Quantity(dimension) => Some(related(described(context, (*id, dimension)))),
            _ => None,
        })
        .collect();
    Some(finding)
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

//! A formula that is nearly one of the trade's standard results.
//!
//! Nearly is: but for its constant, for where an exponent stands, or for one symbol. It speaks only where
//! the name on the left says which kind of result is meant, and never where the line is another
//! standard result that this name may stand for.

use haunch_quantity::Dimension;
use haunch_syntax::{BinaryOperator, ExpressionId, ExpressionKind};
use haunch_text::Span;

use super::Line;
use crate::catalogue::names::{self, Said};
use crate::catalogue::{Candidate, Gives, Known, Shape, Written, stated, symbols::Role};
use crate::finding::{Code, Finding, Severity};
use crate::value::Kind;

/// The code.
pub(crate) static CODE: Code = Code {
    name: "looks-like-formula",
    severity: Severity::Warning,
    summary: "a formula is nearly a standard result of the trade",
    page: include_str!("../findings/pages/looks-like-formula.md"),
};

/// Most other results that a message names.
const MOST_OTHERS: usize = 2;
/// So many equal parts are written as a number of their own; common practice, no source.
const MOST_PARTS: f64 = 6.5;

/// What a formula of the catalogue differs in from the line.
struct Slip {
    /// The part at fault.
    span: Span,
    message: String,
    /// What the formula would be, in the names of the line; none where that is not known.
    formula: Option<String>,
}

/// At most one: the likeliest.
pub(super) fn finding(line: Line<'_>) -> Option<Finding> {
    let (name, body) = stated(line.tree)?;
    // Most lines give a number.
    if matches!(line.expression(body)?.kind, ExpressionKind::Literal(_)) {
        return None;
    }
    if !may_speak(line, name.text(line.text), body)? {
        return None;
    }
    of_whole(line, body)
        .or_else(|| of_a_term(line, body))
        .map(|(slip, body)| {
            let finding = Finding::new(&CODE, line.place(slip.span), slip.message);
            match slip.formula {
                Some(formula) => {
                    finding.with_repair(format!("Write {formula}"), line.place(body), formula)
                }
                None => finding,
            }
        })
}

/// A slip of the whole, and the whole.
fn of_whole(line: Line<'_>, body: ExpressionId) -> Option<(Slip, Span)> {
    let written = Written::of(line.tree, line.text, line.evaluated)?;
    let body = line.expression(body)?.span;
    let slip = match written.same() {
        Some(same) => turned(&written, &same, body)?,
        None => nearly(&written, body)?,
    };
    Some((slip, body))
}

/// A slip of a term of a sum, and the term. A sum can be of anything, so only a slip of the pen and a name
/// that says something else count, and no areas, which are added to others of all kinds.
fn of_a_term(line: Line<'_>, body: ExpressionId) -> Option<(Slip, Span)> {
    let whole = line.evaluated(body).kind;
    if whole == Kind::Quantity(Dimension::AREA) {
        return None;
    }
    terms(line, body)
        .filter(|term| line.evaluated(*term).kind == whole)
        .find_map(|term| {
            let written = Written::of_part(line.tree, line.text, line.evaluated, term)?;
            let span = line.expression(term)?.span;
            if written.same().is_some() {
                return None;
            }
            let mut candidates = written.candidates();
            candidates.retain(|candidate| !candidate.known.is_mistaken);
            let slip = another_symbol(&written, &candidates)
                .or_else(|| another_constant(&written, &candidates, span, true))?;
            Some((slip, span))
        })
}

/// The products that are terms of a sum in the line, or of one within.
fn terms(line: Line<'_>, body: ExpressionId) -> impl Iterator<Item = ExpressionId> {
    let expressions = line.tree.expressions.iter().take(body.0 as usize + 1);
    let sides = expressions.flat_map(|expression| match expression.kind {
        ExpressionKind::Binary {
            operator: BinaryOperator::Add | BinaryOperator::Subtract,
            left,
            right,
            ..
        } => [Some(left), Some(right)],
        _ => [None, None],
    });
    let sides = sides.flatten().map(move |side| line.tree.inside(side));
    sides.filter(move |side| line.tree.product(*side).is_some())
}

/// What the line nearly is, where it is none of the formulas.
fn nearly(written: &Written<'_>, body: Span) -> Option<Slip> {
    let (mistaken, candidates): (Vec<_>, Vec<_>) = written
        .candidates()
        .into_iter()
        .partition(|candidate| candidate.known.is_mistaken);
    another_symbol(written, &candidates)
        .or_else(|| exchanged(written, &candidates, body))
        .or_else(|| another_constant(written, &candidates, body, false))
        .or_else(|| written_by_mistake(written, &mistaken, body))
        .or_else(|| exponent_moved(written, body))
}

/// Whether the name and the dimension of a value leave anything to look up: most lines end here.
fn may_speak(line: Line<'_>, name: &str, body: ExpressionId) -> Option<bool> {
    let Kind::Quantity(dimension) = line.evaluated(body).kind else {
        return None;
    };
    let bends = || {
        let is = |wanted: &[Dimension]| {
            let mut kinds = line.evaluated.iter().map(|evaluated| evaluated.kind);
            kinds.any(|kind| matches!(kind, Kind::Quantity(own) if wanted.contains(&own)))
        };
        is(&[
            Dimension::SECOND_MOMENT_OF_AREA,
            Dimension::FLEXURAL_RIGIDITY,
        ])
    };
    let gives = Gives::ALL
        .iter()
        .filter(|gives| gives.dimension() == Some(dimension));
    let mut told = gives.map(|gives| match (*gives, names::said(name, *gives)) {
        (_, Said::No) => false,
        (Gives::Deflection, _) => bends(),
        (_, said) => said == Said::Yes,
    });
    Some(told.any(|told| told))
}

/// `the section modulus of a rectangle`
fn the(known: &Known) -> String {
    let name = known.entry.name;
    if name.starts_with(char::is_uppercase) {
        name.to_owned()
    } else {
        format!("the {name}")
    }
}

/// Breadth and depth exchanged: the form is right, and the names say that it is about the other axis.
///
/// `h*b^3/12` is about the upright axis, and meant where somebody writes it so. It is a slip where the
/// name on the left says the level axis, and where a letter alone stands for the letters in their usual
/// order with the power at the wrong one: `b^3*h/12`.
fn turned(written: &Written<'_>, same: &Candidate, body: Span) -> Option<Slip> {
    let symbol = |role: Role| {
        let mut symbols = same.fit.symbols.iter().enumerate();
        let own = symbols.find(|(index, _)| same.known.role(*index) == role)?;
        Some(*own.1)
    };
    let (breadth, depth) = (symbol(Role::Breadth)?, symbol(Role::Depth)?);
    let (at_breadth, at_depth) = (written.source(breadth), written.source(depth));
    let exchanged = names::is_depth(at_breadth) && names::is_breadth(at_depth);
    let in_order = written.span(depth).start < written.span(breadth).start;
    let says = names::is_about_x(written.name) || (names::is_plain(written.name) && in_order);
    let is_modulus = matches!(
        same.known.gives,
        Gives::SecondMoment | Gives::SectionModulus | Gives::PlasticModulus
    );
    if !(exchanged && says && is_modulus && same.said == Said::Yes) {
        return None;
    }
    let mut fit = same.fit.clone();
    for symbol in &mut fit.symbols {
        if *symbol == breadth {
            *symbol = depth;
        } else if *symbol == depth {
            *symbol = breadth;
        }
    }
    let formula = written.rewritten(same.known, &fit);
    Some(Slip {
        span: body,
        message: format!(
            "this looks like {}, {formula}, with the exponents of {at_depth} and {at_breadth} \
             exchanged. As it stands it is the one about the upright axis, if {at_depth} is the \
             breadth and {at_breadth} the depth.",
            the(same.known)
        ),
        formula: Some(formula),
    })
}

/// The formula with its constant, and a name in it that says something else: a radius in place of the
/// diameter, the whole depth in place of the distance to the edge.
fn another_symbol(written: &Written<'_>, candidates: &[Candidate]) -> Option<Slip> {
    let mut all = candidates.iter();
    if all.any(|candidate| is_several(written, candidate) || is_pair(written, candidate)) {
        return None;
    }
    let one = candidates.iter().find(|candidate| {
        candidate.is_same
            && candidate.is_allowed
            && candidate.said == Said::Yes
            && candidate.contradictions.len() == 1
    })?;
    let (index, says) = *one.contradictions.first()?;
    let symbol = *one.fit.symbols.get(index)?;
    let name = written.source(symbol);
    let instead = candidates.iter().find(|candidate| {
        !candidate.is_same
            && candidate.contradictions.is_empty()
            && candidate.said == Said::Yes
            && (candidate.known.entry.name == one.known.entry.name
                || candidate.known.entry.shape == one.known.entry.shape)
    });
    let words = one.known.words(index);
    let mut message = format!(
        "this looks like {}, with {name} where the {words} belongs; by its name {name} is {says}.",
        the(one.known)
    );
    let formula = match instead {
        Some(instead) if is_count(written, instead) => return None,
        Some(instead) => {
            let formula = written.rewritten(instead.known, &instead.fit);
            message += &format!(" With {name} it is {formula}.");
            Some(formula)
        }
        None => None,
    };
    Some(Slip {
        span: written.span(symbol),
        message,
        formula,
    })
}

/// The formula with two names of one dimension exchanged: a shear stress for the normal one and that for it.
fn exchanged(written: &Written<'_>, candidates: &[Candidate], body: Span) -> Option<Slip> {
    let mut meant = candidates.iter().filter(|candidate| {
        candidate.is_same && candidate.is_allowed && candidate.said == Said::Yes
    });
    meant.find_map(|candidate| {
        let (fit, [one, other]) = written.exchanged(candidate)?;
        let formula = written.rewritten(candidate.known, &fit);
        let (one, other) = (written.source(one), written.source(other));
        Some(Slip {
            span: body,
            message: format!(
                "this looks like {}, {formula}, with {one} and {other} exchanged.",
                the(candidate.known)
            ),
            formula: Some(formula),
        })
    })
}

/// Whether the line may be a whole number of times an area, as of several bars: the name on the left is
/// not that of one piece. 2*pi*D*t is twice pi*D*t.
fn is_count(written: &Written<'_>, candidate: &Candidate) -> bool {
    let times = candidate.fit.ratio;
    candidate.known.gives == Gives::Area
        && times > 1.5
        && times.fract() == 0.0
        && !is_one_piece(written)
}

/// Whether the line is the area of two or three equal pieces, as of a bolt that is cut twice.
fn is_pair(written: &Written<'_>, candidate: &Candidate) -> bool {
    let times = candidate.fit.ratio;
    written.shapes.is_none()
        && candidate.known.gives == Gives::Area
        && candidate.contradictions.is_empty()
        && [2.0, 3.0].iter().any(|own| (times - own).abs() < 1e-9)
}

/// Whether the name on the left is that of one piece, as far as it can tell: `Ixx`, `I_web`.
fn is_one_piece(written: &Written<'_>) -> bool {
    names::is_of_one(written.name) || written.shapes.is_some()
}

/// The formula with another constant; of all that may be, or slips of the pen alone.
fn another_constant(
    written: &Written<'_>,
    candidates: &[Candidate],
    body: Span,
    of_the_pen: bool,
) -> Option<Slip> {
    if written.numerals().others || written.numerals().decimals {
        return None;
    }
    let mut all = candidates.iter();
    if all.any(|candidate| is_several(written, candidate) || is_pair(written, candidate)) {
        return None;
    }
    let may_be_parts = candidates
        .iter()
        .any(|candidate| may_be_parts(written, candidate));
    let is_meant = |candidate: &&Candidate| {
        !candidate.is_same
            && candidate.is_allowed
            && candidate.contradictions.is_empty()
            && is_said(candidate)
    };
    let same = candidates
        .iter()
        .find(|candidate| candidate.is_same && candidate.contradictions.is_empty());
    let mut meant: Vec<(&Candidate, Span, u8)> = candidates
        .iter()
        .filter(is_meant)
        .filter_map(|candidate| {
            let (span, mut far) = constant_slip(written, candidate, body)?;
            let tells = !may_be_parts && tells_itself(written, candidate);
            if (far > 1 && !tells) || (far > 0 && of_the_pen) {
                return None;
            }
            let is_akin = |same: &Candidate| same.known.entry.shape == candidate.known.entry.shape;
            if same.is_some_and(is_akin) {
                far = 0;
            }
            Some((candidate, span, far))
        })
        .collect();
    meant.sort_by_key(|(_, _, far)| *far);
    let (nearest, span, _) = *meant.first()?;
    let formula = written.rewritten(nearest.known, &nearest.fit);
    let mut message = format!(
        "this looks like {}, {formula}, with another constant.",
        the(nearest.known)
    );
    if let Some(same) = same {
        let own = body.text(written.text);
        message += &format!(" {own} is {}.", the(same.known));
    }
    let mut named = vec![nearest.known.entry.name];
    for (other, ..) in &meant {
        if named.len() > MOST_OTHERS || named.contains(&other.known.entry.name) {
            continue;
        }
        named.push(other.known.entry.name);
        let formula = written.rewritten(other.known, &other.fit);
        message += &format!(" {formula} is {}.", the(other.known));
    }
    Some(Slip {
        span,
        message,
        formula: Some(formula),
    })
}

/// Whether the line is a formula with another number as a factor: several equal parts.
fn is_several(written: &Written<'_>, candidate: &Candidate) -> bool {
    let (own, theirs) = (written.numerals(), &candidate.known.numerals);
    // Of an area any number is a count, also where the formula has none: 2*pi*r^2.
    let has_count = !theirs.factors.is_empty() || candidate.known.gives == Gives::Area;
    let all = theirs.factors.iter().all(|(number, above, _)| {
        let mut factors = own.factors.iter();
        factors.any(|(n, a, _)| (n, a) == (number, above))
    });
    all && own.pi == theirs.pi
        && own.factors.len() > theirs.factors.len()
        && own
            .factors
            .iter()
            .all(|(_, above, _)| *above || !theirs.factors.is_empty())
        && has_count
        && candidate.contradictions.is_empty()
        && candidate.said != Said::No
}

/// Whether the name on the left says that this is meant, or the parts used do: E and I stand together in
/// deflections alone.
fn is_said(candidate: &Candidate) -> bool {
    let bends = candidate.known.gives == Gives::Deflection;
    candidate.said == Said::Yes || (bends && candidate.said != Said::No)
}

/// The number at fault, where a constant can be a slip for the formula's, and how far it is from it.
fn constant_slip(written: &Written<'_>, candidate: &Candidate, body: Span) -> Option<(Span, u8)> {
    let known = candidate.known;
    let (own, theirs) = (written.numerals(), &known.numerals);
    let holds = |all: &[(f64, bool, Span)], one: &(f64, bool, Span)| {
        all.iter().any(|other| (other.0, other.1) == (one.0, one.1))
    };
    // More numbers than the formula has: a count of parts, a factor for loads.
    if own.factors.len() > theirs.factors.len() || theirs.others {
        return None;
    }
    let odd: Vec<_> = own
        .factors
        .iter()
        .filter(|one| !holds(&theirs.factors, one))
        .collect();
    let lacking: Vec<_> = theirs
        .factors
        .iter()
        .filter(|one| !holds(&own.factors, one))
        .collect();
    let pi_differs = own.pi != theirs.pi;
    let span = match odd.as_slice() {
        [one] => one.2,
        _ if pi_differs => own.pi_span.unwrap_or(body),
        _ => body,
    };
    // Two slips at once are no slip.
    if odd.len() > 1 || lacking.len() > 1 {
        return None;
    }
    // A lost pi shows by a number that stands with it alone, as 32 or 64.
    let is_of_circle = own.factors.iter().any(|(number, ..)| *number >= 10.0);
    // … and of a column by the power that is left of it.
    let is_of_column = known.entry.shape == Shape::Column && own.pi != 0;
    let tells = is_of_circle || is_of_column || known.gives == Gives::CriticalLoad;
    if pi_differs && !(odd.is_empty() && lacking.is_empty() && tells) {
        return None;
    }
    let case_is_said = known.entry.shape.is_beam() && names::cases(written.name).is_some();
    if known.is_firm() || case_is_said || pi_differs {
        let counts = is_count(written, candidate);
        let far = match (odd.as_slice(), lacking.as_slice()) {
            ([one], [right]) if one.1 == right.1 && digits_slip(one.0, right.0, false) => 0,
            ([], []) if !own.factors.is_empty() || pi_differs => 1,
            _ => 2,
        };
        // Of a power of one size alone, or with two numbers, anything can be meant.
        let is_common =
            (!known.numerals.has_pi && known.form.symbols.len() == 1) || theirs.factors.len() > 1;
        if far > 1 && is_common {
            return None;
        }
        return (!counts).then_some((span, far));
    }
    if pi_differs {
        return None;
    }
    match (odd.as_slice(), lacking.as_slice()) {
        ([one], [right]) if one.1 == right.1 => {
            let others = theirs.factors.len() > 1;
            digits_slip(one.0, right.0, others).then_some((span, 0))
        }
        // The number above the stroke is left out, and the one below it is hardly any other's.
        ([], [right]) if right.1 && theirs.factors.len() == 2 => {
            let below = theirs.factors.iter().find(|one| !one.1)?;
            (below.0 >= 100.0).then_some((body, 1))
        }
        _ => None,
    }
}

/// Whether a constant that shows no slip of the pen is one nevertheless: the sizes have the letters of the
/// shape, or a word names it. A critical load is divided by factors of all kinds.
fn tells_itself(written: &Written<'_>, candidate: &Candidate) -> bool {
    let known = candidate.known;
    let mut symbols = candidate.fit.symbols.iter().enumerate();
    let is_usual = symbols
        .all(|(index, partner)| names::is_usual(known.role(index), written.source(*partner)));
    known.gives != Gives::CriticalLoad && (is_usual || written.shapes.is_some())
}

/// Whether the line may be a result of a few equal parts, or of half a part: it is so many times the
/// formula, and the name on the left is not that of one piece. The torsion constant of thin walls is a
/// sum of those of its walls in any case.
fn may_be_parts(written: &Written<'_>, candidate: &Candidate) -> bool {
    let ratio = candidate.fit.ratio;
    let times = if ratio < 1.0 { 1.0 / ratio } else { ratio };
    let is_whole = (times - libm::round(times)).abs() < 1e-9 && (1.5..MOST_PARTS).contains(&times);
    let is_stress = matches!(
        candidate.known.gives,
        Gives::NormalStress | Gives::ShearStress
    );
    let adds_up = candidate.known.entry.shape.is_plane() && !is_stress;
    let is_sum_of_walls = candidate.known.entry.shape == Shape::ThinPlate
        && candidate.known.gives == Gives::TorsionConstant
        && candidate.said == Said::Yes;
    is_whole
        && candidate.contradictions.is_empty()
        && adds_up
        && (is_sum_of_walls || !is_one_piece(written))
}

/// Whether a number can be another with a slip of the pen: two digits exchanged, one too many; and of a
/// long number that stands beside another, one digit changed or left out.
fn digits_slip(written: f64, right: f64, beside_another: bool) -> bool {
    let (own, right) = (written.to_string(), right.to_string());
    let (own, right) = (own.as_bytes(), right.as_bytes());
    let exchanged = || {
        let differ: Vec<usize> = (0..own.len()).filter(|&at| own[at] != right[at]).collect();
        matches!(differ.as_slice(), [a, b] if b - a == 1 && own[*a] == right[*b] && own[*b] == right[*a])
    };
    let without = |long: &[u8], short: &[u8]| {
        (0..long.len()).any(|at| long[..at] == short[..at] && long[at + 1..] == short[at..])
    };
    let doubled = || {
        (1..own.len()).any(|at| {
            own[at] == own[at - 1] && own[..at] == right[..at] && own[at + 1..] == right[at..]
        })
    };
    let long = right.len() >= 3 && beside_another;
    if own.len() == right.len() {
        let changed = own.iter().zip(right).filter(|(a, b)| a != b).count();
        exchanged() || (long && changed == 1)
    } else if own.len() == right.len() + 1 {
        right.len() >= 2 && doubled()
    } else if right.len() == own.len() + 1 {
        long && without(right, own)
    } else {
        false
    }
}

/// What is written for a formula by mistake: the difference of diameters to the power in place of the
/// difference of the powers, a wrong sign.
fn written_by_mistake(written: &Written<'_>, mistaken: &[Candidate], body: Span) -> Option<Slip> {
    let one = mistaken.iter().find(|candidate| {
        candidate.is_same && candidate.is_allowed && candidate.said == Said::Yes
    })?;
    let formula = written.corrected(one.known, &one.fit)?;
    Some(Slip {
        span: body,
        message: format!("this looks like {}, but that is {formula}.", the(one.known)),
        formula: Some(formula),
    })
}

/// The formula with its constant, and an exponent at another of its letters.
fn exponent_moved(written: &Written<'_>, body: Span) -> Option<Slip> {
    let candidates = written.with_an_exponent_moved();
    let one = candidates
        .iter()
        .find(|candidate| candidate.is_same && candidate.is_allowed && is_said(candidate))?;
    let formula = written.rewritten(one.known, &one.fit);
    Some(Slip {
        span: body,
        message: format!(
            "this looks like {}, {formula}, with an exponent at another place.",
            the(one.known)
        ),
        formula: Some(formula),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_pen() {
        for (written, right, beside) in [
            (84.0, 48.0, false),
            (348.0, 384.0, false),
            (3844.0, 384.0, false),
            (38.0, 384.0, true),
            (385.0, 384.0, true),
        ] {
            assert!(digits_slip(written, right, beside), "{written} {right}");
        }
        for (written, right, beside) in [
            (10.0, 12.0, false),
            (385.0, 384.0, false),
            (192.0, 384.0, true),
            (8.0, 2.0, true),
            (38.0, 384.0, false),
            (88.0, 8.0, false),
        ] {
            assert!(!digits_slip(written, right, beside), "{written} {right}");
        }
    }
}

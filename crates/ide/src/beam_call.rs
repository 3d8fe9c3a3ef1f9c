//! A result of a beam at a place: the call with its value, and for a stress how it comes from the
//! moments there.

use haunch_calc::blocks::{Model, StressWorking};
use haunch_calc::{Evaluated, LineId, LineView, Snapshot};
use haunch_quantity::Preferences;
use haunch_syntax::{ExpressionId, ExpressionKind, Path};
use haunch_text::Span;

use crate::show;
use crate::working::as_written;

/// The call whose function stands at `span`; none where none does.
pub(crate) fn about(
    snapshot: &Snapshot,
    line: LineView<'_>,
    span: Span,
    (heading, member): (LineId, &str),
    preferences: &Preferences,
) -> Option<String> {
    let Some(Model::Beam(beam)) = &snapshot.line(heading)?.block()?.model else {
        return None;
    };
    let tree = line.tree();
    let is_it = |path: &Path| path.names.last().is_some_and(|name| name.span == span);
    let mut calls = tree.expressions.iter().enumerate();
    let (index, path) = calls.find_map(|(index, expression)| match &expression.kind {
        ExpressionKind::Path(path) if path.arguments.is_some() && is_it(path) => {
            Some((index, path))
        }
        _ => None,
    })?;
    let id = ExpressionId(index as u32);
    let written = as_written(line, tree.expression(id).span);
    let value = show::value(line.evaluated(id), None, preferences)?;
    let mut text = format!("```haunch\n{written} = {value}\n```");
    let arguments = path.arguments.as_deref().unwrap_or_default();
    let point = arguments
        .first()
        .map(|own| as_written(line, tree.expression(*own).span));
    let x = arguments
        .get(1)
        .and_then(|own| line.evaluated(*own).as_quantity());
    let working = beam.stress_working(member, &point?, x, preferences);
    text += &working.map_or(String::new(), |own| {
        format!("\n\n{}", sum(&own, preferences))
    });
    Some(text)
}

/// `At 2 m under strength: 4.000 kN·m / 666.7e3 mm³ = 6.000 MPa.`
fn sum(working: &StressWorking, preferences: &Preferences) -> String {
    let mut sum = String::new();
    for (moment, modulus) in &working.terms {
        let presses = modulus.si() < 0.0;
        let joined = match (sum.is_empty(), presses) {
            (true, false) => "",
            (true, true) => "-",
            (false, false) => " + ",
            (false, true) => " - ",
        };
        let shown = show::plain(*moment, None, preferences);
        let moment = if moment.si() < 0.0 {
            format!("({shown})")
        } else {
            shown
        };
        let modulus = show::plain(modulus.absolute(), None, preferences);
        sum += &format!("{joined}{moment}/({modulus})");
    }
    let stress = Evaluated::quantity(working.stress);
    let stress = show::value(&stress, None, preferences).unwrap_or_default();
    let mut place = working.place.clone();
    if let Some(first) = place.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    format!("{place}: moments over section moduli, {sum} = {stress}.")
}

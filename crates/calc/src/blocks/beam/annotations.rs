//! What the editor shows at the lines of a beam.

use haunch_mechanics::beam::{Envelope, Extreme, Governing, Load, SupportKind};
use haunch_quantity::typed::{Force, Moment, Typed};
use haunch_quantity::{Dimension, Quantity};
use haunch_syntax::{LoadKind, Statement};

use smol_str::SmolStr;

use super::results::{larger, reaction, sideways_reactions};
use super::{BeamModel, Buckling};
use crate::blocks::context::BlockContext;
use crate::blocks::fibre::Fibre;
use crate::blocks::limits::place_text;
use crate::blocks::{AnnotatedResult, Annotation};
use crate::line::LineId;
use crate::outcome::Check;
use crate::value::Evaluated;

/// The annotations of a beam: extremes and the governing limit at its heading, reactions at
/// supports, what self weight and pressures come to at their loads, the largest stress at each point
/// of the section, utilisations at limits.
pub(in crate::blocks) fn of(
    context: &BlockContext<'_>,
    model: &BeamModel,
    checks: &[Check],
) -> Vec<Annotation> {
    let mut annotations = vec![Annotation {
        line: context.line,
        results: heading(context, model, checks),
    }];
    annotations.extend(supports(model));
    annotations.extend(sideways_supports(model));
    annotations.extend(loads(context, model));
    annotations.extend(wheels(context, model));
    annotations.extend(combinations(context, model));
    annotations.extend(points(context, model));
    annotations.extend(buckling(model));
    annotations.extend(
        checks
            .iter()
            .filter(|check| check.line != context.line)
            .filter_map(|check| {
                Some(Annotation {
                    line: check.line,
                    results: vec![utilisation(check, check.place.clone().unwrap_or_default())?],
                })
            }),
    );
    annotations
}

fn result(label: &'static str, value: Quantity, word: String) -> AnnotatedResult {
    AnnotatedResult {
        word,
        ..AnnotatedResult::new(label, Evaluated::quantity(value))
    }
}

fn utilisation(check: &Check, word: String) -> Option<AnnotatedResult> {
    let value = Quantity::ratio(check.utilisation?)?;
    Some(AnnotatedResult {
        is_utilisation: true,
        ..result("", value, word)
    })
}

/// `at 1.8 m under strength`, in a combination by its index.
fn place_words(context: &BlockContext<'_>, model: &BeamModel, at: f64, which: usize) -> String {
    let combination = model.combinations.get(which);
    let name = combination.and_then(|c| c.name.as_ref());
    let pattern = combination.and_then(|c| c.pattern.as_ref());
    words_under(context, model, at, (name, pattern))
}

/// `at 1.8 m under strength`, in a combination by its name and pattern.
fn words_under(
    context: &BlockContext<'_>,
    model: &BeamModel,
    at: f64,
    (name, pattern): (Option<&SmolStr>, Option<&SmolStr>),
) -> String {
    let place = place_text(at, model.length_unit.as_ref(), context.preferences);
    let mut words = match name {
        Some(name) => format!("at {place} under {name}"),
        None => format!("at {place}"),
    };
    if let Some(pattern) = pattern {
        words = format!("{words}, {pattern}");
    }
    words
}

fn heading(
    context: &BlockContext<'_>,
    model: &BeamModel,
    checks: &[Check],
) -> Vec<AnnotatedResult> {
    let mut results = Vec::new();
    let moments: Vec<_> = model
        .combinations
        .iter()
        .map(|c| c.response.moment())
        .collect();
    if let Some(envelope) = Envelope::of(&moments) {
        let of = |label: &'static str, governing: Governing<Moment>| {
            let extreme = governing.extreme;
            let value = extreme
                .value
                .to_quantity()
                .filter(|value| value.si() != 0.0)?;
            let words = place_words(context, model, extreme.at.si(), governing.which);
            Some(result(label, value, words))
        };
        results.extend(of("M_max", envelope.max));
        results.extend(of("M_min", envelope.min));
        let sideways = model
            .combinations
            .iter()
            .filter_map(|c| c.sideways.as_ref());
        let moments: Vec<_> = sideways.map(|response| response.moment()).collect();
        if let Some(envelope) = Envelope::of(&moments) {
            results.extend(of("My_max", envelope.max));
            results.extend(of("My_min", envelope.min));
        }
    }
    let used = |check: &Check| check.utilisation;
    let governing = checks
        .iter()
        .rev()
        .filter(|check| used(check).is_some())
        .max_by(|a, b| used(a).unwrap_or(0.0).total_cmp(&used(b).unwrap_or(0.0)));
    results.extend(governing.and_then(|check| {
        let words: Vec<&str> = [Some(check.kind), check.place.as_deref()]
            .into_iter()
            .flatten()
            .collect();
        utilisation(check, words.join(", "))
    }));
    results
}

/// The reaction of each support that has a line, and its fixing moment.
fn supports(model: &BeamModel) -> Vec<Annotation> {
    let of = |(index, support): (usize, &super::BeamSupport)| {
        let line = support.line?;
        let several = model.combinations.len() > 1;
        let word = if several { "at most" } else { "" };
        let responses = || model.combinations.iter().map(|c| &c.response);
        let force: Force = larger(responses().filter_map(|r| reaction(r, index)))?;
        let mut results = vec![result("R =", force.to_quantity()?, word.into())];
        if support.support.kind == SupportKind::Fixed {
            let moments = responses().filter_map(|r| r.reactions().get(index)?.moment);
            let moment = larger(moments).and_then(|moment| moment.to_quantity());
            results.extend(moment.map(|moment| {
                let sense = if moment.si() < 0.0 {
                    "anticlockwise"
                } else {
                    "clockwise"
                };
                result("fixing moment", moment.absolute(), sense.into())
            }));
        }
        Some(Annotation { line, results })
    };
    model.supports.iter().enumerate().filter_map(of).collect()
}

/// The sideways reaction of each support that has a line, where anything acts sideways.
fn sideways_supports(model: &BeamModel) -> Vec<Annotation> {
    let of = |(support, force): (&super::BeamSupport, Force)| {
        let line = support.line?;
        let force = force.to_quantity().filter(|force| force.si() != 0.0)?;
        let word = if force.si() < 0.0 {
            "to the left"
        } else {
            "to the right"
        };
        let results = vec![result("sideways", force.absolute(), word.into())];
        Some(Annotation { line, results })
    };
    let reactions = sideways_reactions(model, &model.responses());
    reactions.into_iter().filter_map(of).collect()
}

/// The stress of the largest magnitude along the beam at each named point of its sections.
fn points(context: &BlockContext<'_>, model: &BeamModel) -> Vec<Annotation> {
    let responses = model.responses();
    let of = |section: usize, fibre: &Fibre| {
        let line = fibre.point?;
        let largest = model.largest_stress(section, fibre, &responses)?;
        let value = Quantity::new(largest.stress, Dimension::STRESS)?;
        let under = (largest.name.as_ref(), largest.pattern.as_ref());
        let place = words_under(context, model, largest.at, under);
        let word = match value.si() {
            stress if stress > 0.0 => format!("tension {place}"),
            stress if stress < 0.0 => format!("compression {place}"),
            _ => String::new(),
        };
        Some(Annotation {
            line,
            results: vec![result("", value.absolute(), word)],
        })
    };
    let sections = model.sections.iter().enumerate();
    sections
        .flat_map(|(index, bent)| bent.section.fibres.iter().map(move |fibre| (index, fibre)))
        .filter_map(|(index, fibre)| of(index, fibre))
        .collect()
}

/// The intensity of self weight and of pressures on a strip, which their lines do not say.
fn loads(context: &BlockContext<'_>, model: &BeamModel) -> Vec<Annotation> {
    let mut annotations: Vec<Annotation> = Vec::new();
    for case in &model.cases {
        for (line, load) in case.lines.iter().zip(&case.loads) {
            let Load::Distributed {
                down_at_from,
                down_at_to,
                ..
            } = load
            else {
                continue;
            };
            if !is_worked_out(context, *line) {
                continue;
            }
            let ends = [down_at_from, down_at_to].map(|end| end.to_quantity());
            let results = match ends {
                [Some(from), Some(to)] if from == to => vec![result("", from, String::new())],
                [Some(from), Some(to)] => vec![
                    result("", from, String::new()),
                    result("to", to, String::new()),
                ],
                _ => continue,
            };
            // Self weight changes with the section.
            match annotations.last_mut() {
                Some(Annotation {
                    line: last,
                    results: before,
                }) if *last == *line => {
                    if !before.ends_with(&results) {
                        before.extend(results);
                    }
                }
                _ => annotations.push(Annotation {
                    line: *line,
                    results,
                }),
            }
        }
    }
    annotations
}

fn is_worked_out(context: &BlockContext<'_>, line: LineId) -> bool {
    context.lines.iter().any(|other| {
        other.id == line
            && match &other.tree.statement {
                Statement::Load(load) => {
                    load.tributary.is_some() || matches!(load.kind, LoadKind::SelfWeight(_))
                }
                _ => false,
            }
    })
}

/// The buckling loads at the line of the effective lengths.
fn buckling(model: &BeamModel) -> Option<Annotation> {
    let Buckling::Known(loads) = &model.buckling else {
        return None;
    };
    let of = |label, force: Force| Some(result(label, force.to_quantity()?, String::new()));
    let results = match loads.about {
        Some((x, y)) => vec![of("euler_load_x", x)?, of("euler_load_y", y)?],
        None => vec![of("euler_load", loads.least)?],
    };
    Some(Annotation {
        line: loads.line,
        results,
    })
}

/// The moment of the largest magnitude in combinations with wheels, and where they stand then, at
/// the wheels' line.
fn wheels(context: &BlockContext<'_>, model: &BeamModel) -> Vec<Annotation> {
    let of = |(case, line): (usize, LineId)| {
        let mut largest: Option<(Extreme<Moment>, usize)> = None;
        for (which, combination) in model.combinations.iter().enumerate() {
            if combination
                .wheels
                .as_ref()
                .is_none_or(|own| own.case != case)
            {
                continue;
            }
            let found = combination.response.moment().extremes().largest_magnitude();
            if largest.is_none_or(|(other, _)| found.value.si().abs() > other.value.si().abs()) {
                largest = Some((found, which));
            }
        }
        let (extreme, which) = largest?;
        let label = if extreme.value.si() < 0.0 {
            "worst M_min"
        } else {
            "worst M_max"
        };
        let words = place_words(context, model, extreme.at.si(), which);
        Some(Annotation {
            line,
            results: vec![result(label, extreme.value.to_quantity()?, words)],
        })
    };
    let cases = model.cases.iter().enumerate();
    let with_wheels = cases.filter(|(_, case)| case.train.is_some());
    with_wheels
        .filter_map(|(index, case)| of((index, *case.lines.last()?)))
        .collect()
}

/// The moment of the largest magnitude under each combination.
fn combinations(context: &BlockContext<'_>, model: &BeamModel) -> Vec<Annotation> {
    let mut lines: Vec<LineId> = model.combinations.iter().filter_map(|c| c.line).collect();
    lines.dedup();
    let of = |line: LineId| {
        let extreme = |c: &super::Combination| c.response.moment().extremes().largest_magnitude();
        let own = model.combinations.iter().filter(|c| c.line == Some(line));
        let mut largest: Option<(Extreme<Moment>, Option<&SmolStr>)> = None;
        for combination in own {
            let found = extreme(combination);
            if largest.is_none_or(|(other, _)| found.value.si().abs() > other.value.si().abs()) {
                largest = Some((found, combination.pattern.as_ref()));
            }
        }
        let (extreme, pattern) = largest?;
        let unit = model.length_unit.as_ref();
        let at = place_text(extreme.at.si(), unit, context.preferences);
        let label = if extreme.value.si() < 0.0 {
            "M_min"
        } else {
            "M_max"
        };
        let words = match pattern {
            Some(pattern) => format!("at {at}, {pattern}"),
            None => format!("at {at}"),
        };
        Some(Annotation {
            line,
            results: vec![result(label, extreme.value.to_quantity()?, words)],
        })
    };
    lines.into_iter().filter_map(of).collect()
}

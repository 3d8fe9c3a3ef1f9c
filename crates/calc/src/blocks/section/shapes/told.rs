//! Mistakes of a part's line as findings.

use haunch_mechanics::section::ShapeProblem;
use haunch_mechanics::shapes::{SizeName, SizeProblem};
use haunch_quantity::{Dimension, Preferences, Quantity, format_quantity};
use haunch_syntax::Part;

use super::form::Form;
use super::mistake::{Mistake, MistakeKind};
use crate::blocks::context::BlockLine;
use crate::finding::Finding;
use crate::findings::{designations, not_supported, parts, shape_sizes, turns};
use crate::rolled;

/// The mistake as a finding.
pub(in crate::blocks::section) fn told(
    mistake: &Mistake,
    line: &BlockLine<'_>,
    part: &Part,
    preferences: &Preferences,
) -> Finding {
    let name = part.name.text.as_str();
    let place = line.place(mistake.span);
    let text = |value: f64, dimension| {
        let quantity = Quantity::new(value, dimension);
        quantity.map_or(String::new(), |own| format_quantity(own, None, preferences))
    };
    let written = mistake.span.text(&line.cell.text);
    match &mistake.kind {
        MistakeKind::NotSupported => {
            not_supported::finding(place, &format!("the shape {}", part.shape.text))
        }
        MistakeKind::Count(form) => shape_sizes::count(place, name, &form.written(name)),
        MistakeKind::DetailCount(detail) => shape_sizes::detail_count(place, name, detail),
        MistakeKind::NoSuchDetail(form) => {
            let known: Vec<&str> = form.details.iter().map(|own| own.word).collect();
            shape_sizes::no_such_detail(place, written, form.words, &known).about(name)
        }
        MistakeKind::Twice => shape_sizes::twice(place, name, written),
        MistakeKind::DetailMissing(detail) => shape_sizes::detail_missing(place, name, detail),
        MistakeKind::NotPositive(form, size) => {
            shape_sizes::not_positive(place, form.said(*size), name)
        }
        MistakeKind::Wall(radius) => {
            shape_sizes::wall(place, name, &text(*radius, Dimension::LENGTH))
        }
        MistakeKind::Impossible(what, problem) => {
            let of = |limit: f64| text(limit, dimension(problem.size()));
            match problem {
                SizeProblem::NotPositive(_) => shape_sizes::not_positive(place, what, name),
                SizeProblem::NotFinite(_) | SizeProblem::Negative(_) => {
                    shape_sizes::negative(place, what, name)
                }
                SizeProblem::NotLessThan { limit, .. } => {
                    shape_sizes::impossible(place, what, name, &format!("less than {}", of(*limit)))
                }
                SizeProblem::MoreThan { limit, .. } => {
                    shape_sizes::impossible(place, what, name, &format!("at most {}", of(*limit)))
                }
            }
        }
        MistakeKind::Outline(problem) => match problem {
            ShapeProblem::CrossesItself | ShapeProblem::NoArea | ShapeProblem::CornersTooClose
                if is_drawn_by_corners(part) =>
            {
                shape_sizes::corners(place, name, corners(*problem))
            }
            _ => parts::beyond_proportion(place, name),
        },
        MistakeKind::Designation => {
            let designation = part.designation.as_ref().map_or("", |own| &own.text);
            designations::unknown(place, designation, &rolled::nearest(designation)).about(name)
        }
        MistakeKind::AngleWithoutUnit => turns::without_unit(place, written).about(name),
        MistakeKind::MoreThanATurn => turns::more_than_a_turn(place, written).about(name),
        MistakeKind::TurnedInPlace => turns::in_place(place, name),
    }
}

fn dimension(size: SizeName) -> Dimension {
    match size {
        SizeName::Slope => Dimension::RATIO,
        _ => Dimension::LENGTH,
    }
}

fn is_drawn_by_corners(part: &Part) -> bool {
    Form::of(&part.shape.text).is_some_and(|form| form.sizes.is_empty())
}

fn corners(problem: ShapeProblem) -> &'static str {
    match problem {
        ShapeProblem::CrossesItself => {
            "its sides cross or touch each other: give its corners in the order in which they \
             follow each other round it"
        }
        ShapeProblem::NoArea => "its corners enclose no area, or its sides cross",
        _ => "two of its corners lie at the same place",
    }
}

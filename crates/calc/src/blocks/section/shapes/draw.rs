//! From sizes to a shape, turned and mirrored.

use haunch_mechanics::section::{Outline, Point, Shape};
use haunch_mechanics::shapes::{
    Angle, Channel, Ellipse, HollowRectangle, IShape, QuarterFillet, SizeName, SizeProblem, Taper,
    Tee, Trapezium, Triangle, Zed,
};
use haunch_quantity::Dimension;
use haunch_quantity::typed::{Length, Ratio, Typed};
use haunch_syntax::{ExpressionKind, Part, PartPlace, PartTurn, Tree};

use super::Values;
use super::form::ShapeKind;
use super::given::Given;
use super::mistake::{Mistake, MistakeKind, span_of};

/// The shape of the sizes, before it is turned.
pub(super) fn drawn(part: &Part, given: &Given) -> Result<Shape, Mistake> {
    let zero = Length::from_si(0.0);
    let size = |name: SizeName| given.size(name);
    let shape = match given.form.kind {
        ShapeKind::Rectangle => {
            return Ok(Shape::Rectangle {
                left: zero,
                bottom: zero,
                width: size(SizeName::Width),
                height: size(SizeName::Height),
            });
        }
        ShapeKind::Circle => {
            let diameter = size(SizeName::Diameter);
            return Ok(Shape::Circle {
                centre: Point::new(diameter / 2.0, diameter / 2.0),
                diameter,
            });
        }
        ShapeKind::RoundTube => return round_tube(part, given),
        ShapeKind::Polygon => return Ok(Shape::Polygon(given.corners.clone())),
        ShapeKind::Rolled => {
            let outline = given.rolled.and_then(|size| size.outline());
            let unknown = || Mistake::new(part.name.span, MistakeKind::NotSupported);
            return outline.map(Shape::Outline).ok_or_else(unknown);
        }
        ShapeKind::Ellipse => Ellipse {
            width: size(SizeName::Width),
            height: size(SizeName::Height),
        }
        .shape(),
        _ => outline(given).map(Shape::Outline),
    };
    shape.map_err(|problem| {
        let span = given.span(problem.size()).unwrap_or(part.name.span);
        let what = given.form.said(given.standing(problem.size()));
        Mistake::new(span, MistakeKind::Impossible(what, problem))
    })
}

/// A wall as thick as the radius makes a full circle.
fn round_tube(part: &Part, given: &Given) -> Result<Shape, Mistake> {
    let diameter = given.size(SizeName::Diameter);
    let thickness = given.size(SizeName::Thickness);
    let radius = diameter.si() / 2.0;
    if thickness.si() > radius * (1.0 + 1e-12) {
        let span = given.span(SizeName::Thickness).unwrap_or(part.name.span);
        return Err(Mistake::new(span, MistakeKind::Wall(radius)));
    }
    Ok(Shape::Tube {
        centre: Point::new(diameter / 2.0, diameter / 2.0),
        diameter,
        thickness,
    })
}

fn outline(given: &Given) -> Result<Outline, SizeProblem> {
    let size = |name: SizeName| given.size(name);
    match given.form.kind {
        ShapeKind::BoxTube => box_tube(given).outline(),
        ShapeKind::IShape => {
            let (width, flange) = (size(SizeName::TopWidth), size(SizeName::TopThickness));
            IShape {
                height: size(SizeName::Height),
                top_width: width,
                top_thickness: flange,
                bottom_width: given.get(SizeName::BottomWidth).unwrap_or(width),
                bottom_thickness: given.get(SizeName::BottomThickness).unwrap_or(flange),
                web_thickness: size(SizeName::WebThickness),
                root_radius: size(SizeName::RootRadius),
            }
            .outline()
        }
        ShapeKind::Tee => Tee {
            height: size(SizeName::Height),
            width: size(SizeName::Width),
            web_thickness: size(SizeName::WebThickness),
            flange_thickness: size(SizeName::FlangeThickness),
            root_radius: size(SizeName::RootRadius),
        }
        .outline(),
        ShapeKind::Channel => Channel {
            height: size(SizeName::Height),
            width: size(SizeName::Width),
            web_thickness: size(SizeName::WebThickness),
            flange_thickness: size(SizeName::FlangeThickness),
            taper: given.get(SizeName::Slope).map(|slope| Taper {
                slope: Ratio::from_si(slope.si()),
                measured_at: size(SizeName::Width) / 2.0,
            }),
            root_radius: size(SizeName::RootRadius),
            toe_radius: size(SizeName::ToeRadius),
        }
        .outline(),
        ShapeKind::Zed => Zed {
            height: size(SizeName::Height),
            width: size(SizeName::Width),
            web_thickness: size(SizeName::WebThickness),
            flange_thickness: size(SizeName::FlangeThickness),
            root_radius: size(SizeName::RootRadius),
        }
        .outline(),
        ShapeKind::Angle => Angle {
            height: size(SizeName::Height),
            width: size(SizeName::Width),
            thickness: size(SizeName::Thickness),
            root_radius: size(SizeName::RootRadius),
            toe_radius: size(SizeName::ToeRadius),
        }
        .outline(),
        ShapeKind::QuarterFillet => QuarterFillet {
            radius: size(SizeName::Radius),
        }
        .outline(),
        ShapeKind::Trapezium => Trapezium {
            width: size(SizeName::Width),
            top_width: size(SizeName::TopWidth),
            height: size(SizeName::Height),
        }
        .outline(),
        _ => Triangle {
            width: size(SizeName::Width),
            height: size(SizeName::Height),
            apex: size(SizeName::Apex),
        }
        .outline(),
    }
}

/// Without an inner radius the thinner wall goes round the corner at its own thickness.
fn box_tube(given: &Given) -> HollowRectangle {
    let wall = given.get(SizeName::Thickness);
    let either = |name| given.get(name).or(wall).unwrap_or(Length::from_si(0.0));
    let (web, flange) = (
        either(SizeName::WebThickness),
        either(SizeName::FlangeThickness),
    );
    let outer = given.size(SizeName::OuterRadius);
    let round = outer.si() - web.si().min(flange.si());
    HollowRectangle {
        height: given.size(SizeName::Height),
        width: given.size(SizeName::Width),
        web_thickness: web,
        flange_thickness: flange,
        outer_radius: outer,
        inner_radius: given
            .get(SizeName::InnerRadius)
            .unwrap_or(Length::from_si(round.max(0.0))),
    }
}

/// The shape turned and mirrored in the order of the words.
pub(super) fn turned(
    shape: Shape,
    tree: &Tree,
    part: &Part,
    values: Values<'_>,
) -> Result<Shape, Vec<Mistake>> {
    if part.turns.is_empty() {
        return Ok(shape);
    }
    let one = |span, kind| vec![Mistake::new(span, kind)];
    if !shape_moves(part) {
        return Err(one(part.name.span, MistakeKind::TurnedInPlace));
    }
    let unsound = |problem| vec![Mistake::outline(part, problem)];
    let bounds = shape.bounds().map_err(unsound)?;
    let (x, y) = (
        (bounds.left + bounds.right) / 2.0,
        (bounds.bottom + bounds.top) / 2.0,
    );
    let mut outline = shape.outline().map_err(unsound)?;
    for turn in &part.turns {
        outline = match turn {
            PartTurn::Sideways(_) => outline.mirrored_sideways(x),
            PartTurn::UpsideDown(_) => outline.mirrored_upside_down(y),
            PartTurn::Turned(by, _) => {
                let span = span_of(tree, *by);
                let angle = values(*by, Dimension::RATIO).ok_or_else(Vec::new)?.si();
                let expression = tree.expressions.get(by.0 as usize).map(|own| &own.kind);
                let is_bare = matches!(expression, Some(ExpressionKind::Literal(literal))
                    if literal.parts.iter().all(|part| part.unit.is_none()));
                if is_bare && angle != 0.0 {
                    return Err(one(span, MistakeKind::AngleWithoutUnit));
                }
                if angle.abs() > 2.0 * std::f64::consts::PI * (1.0 + 1e-12) {
                    return Err(one(span, MistakeKind::MoreThanATurn));
                }
                outline.turned(Ratio::from_si(angle), Point::new(x, y))
            }
        };
    }
    Ok(Shape::Outline(outline))
}

/// A polygon without a place stands where its corners are, and cannot be turned there.
fn shape_moves(part: &Part) -> bool {
    part.shape.text != "polygon" || part.place != PartPlace::Unplaced
}

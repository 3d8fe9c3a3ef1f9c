//! Torsion constants as tables of rolled sections print them, by formulas of their own.
//!
//! They are for comparing with a table. The true constant comes from
//! [`saint_venant`](super::saint_venant).

use std::f64::consts::PI;

use haunch_quantity::typed::{FirstMomentOfArea, SecondMomentOfArea, Typed};

use crate::shapes::{HollowRectangle, IShape, SizeName, SizeProblem};

/// J of a rolled I shape with equal parallel flanges, 2⁄3(b − 0.63t_f)t_f³ + (h − 2t_f)t_w³/3 +
/// 2α·D⁴, with α = t_w/t_f·(0.145 + 0.1r/t_f) for the joints and D the diameter of the circle that
/// fits into one: ((r + t_w/2)² + (r + t_f)² − r²)/(2r + t_f).
///
/// Semi-empirical, after Trayer & March (1930, NACA report 334); as the tables of European I and H
/// sections use it (from memory, confirmed by the printed values of eleven of them). It is up to
/// 4 % off the true constant.
///
/// # Errors
/// The size that is impossible; unequal flanges count as such.
pub fn rolled_i(shape: &IShape) -> Result<SecondMomentOfArea, SizeProblem> {
    shape.outline()?;
    let equal = |size: SizeName, one: f64, other: f64| {
        let problem = SizeProblem::MoreThan { size, limit: other };
        if one == other { Ok(one) } else { Err(problem) }
    };
    let width = equal(
        SizeName::TopWidth,
        shape.top_width.si(),
        shape.bottom_width.si(),
    )?;
    let flange = equal(
        SizeName::TopThickness,
        shape.top_thickness.si(),
        shape.bottom_thickness.si(),
    )?;
    let (height, web) = (shape.height.si(), shape.web_thickness.si());
    let radius = shape.root_radius.si();
    let cube = |value: f64| value * value * value;
    let square = |value: f64| value * value;
    let diameter = (square(radius + web / 2.0) + square(radius + flange) - square(radius))
        / (2.0 * radius + flange);
    let joint = web / flange * (0.145 + 0.1 * radius / flange);
    Ok(SecondMomentOfArea::from_si(
        2.0 / 3.0 * (width - 0.63 * flange) * cube(flange)
            + (height - 2.0 * flange) * cube(web) / 3.0
            + 2.0 * joint * square(square(diameter)),
    ))
}

/// J and torsion modulus of a hollow rectangle with walls of one thickness, by EN 10210-2 and
/// EN 10219-2: the cell by Bredt and the wall as a strip, J = t³·l/3 + 2K·A and C = J/(t + K/t),
/// with l the perimeter and A the area inside the middle line, whose corners have the mean of both
/// radii, and K = 2A·t/l.
///
/// From memory, confirmed by the printed values of four cold-formed sections.
///
/// # Errors
/// The size that is impossible; walls of two thicknesses count as such.
pub fn hollow_rectangle(
    shape: &HollowRectangle,
) -> Result<(SecondMomentOfArea, FirstMomentOfArea), SizeProblem> {
    shape.outline()?;
    let thickness = shape.web_thickness.si();
    if shape.flange_thickness.si() != thickness {
        return Err(SizeProblem::MoreThan {
            size: SizeName::FlangeThickness,
            limit: thickness,
        });
    }
    let corner = (shape.outer_radius.si() + shape.inner_radius.si()) / 2.0;
    let (height, width) = (shape.height.si() - thickness, shape.width.si() - thickness);
    let perimeter = 2.0 * (height + width) - 2.0 * corner * (4.0 - PI);
    let area = height * width - corner * corner * (4.0 - PI);
    let flow = 2.0 * area * thickness / perimeter;
    let constant = thickness * thickness * thickness * perimeter / 3.0 + 2.0 * flow * area;
    Ok((
        SecondMomentOfArea::from_si(constant),
        FirstMomentOfArea::from_si(constant / (thickness + flow / thickness)),
    ))
}

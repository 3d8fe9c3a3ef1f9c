//! How the results of a section follow from each other, with numbers and units put in.

use haunch_calc::blocks::{BlockMeaning, KernCorner, Model, SectionModel};
use haunch_quantity::{Preferences, Quantity, Unit, format_quantity};

use crate::show;

/// A formula is shown as the working of a result that it gives within this share of it.
const AGREEMENT: f64 = 1e-9;

/// The share by which rounding to two digits may change a number.
const TWO_DIGITS: f64 = 0.05;

type Values<'a> = &'a dyn Fn(&str) -> f64;

struct Formula {
    member: &'static str,
    text: &'static str,
    /// The same in SI.
    result: fn(Values<'_>) -> f64,
}

const FORMULAS: &[Formula] = &[
    Formula {
        member: "I_major",
        text: "(Ixx + Iyy)/2 + sqrt(((Ixx - Iyy)/2)^2 + Ixy^2)",
        result: |of| middle(of) + half_difference(of),
    },
    Formula {
        member: "I_minor",
        text: "(Ixx + Iyy)/2 - sqrt(((Ixx - Iyy)/2)^2 + Ixy^2)",
        result: |of| middle(of) - half_difference(of),
    },
    Formula {
        member: "section_modulus_top",
        text: "Ixx / to_top",
        result: |of| of("Ixx") / of("to_top"),
    },
    Formula {
        member: "section_modulus_bottom",
        text: "Ixx / to_bottom",
        result: |of| of("Ixx") / of("to_bottom"),
    },
    Formula {
        member: "section_modulus_left",
        text: "Iyy / to_left",
        result: |of| of("Iyy") / of("to_left"),
    },
    Formula {
        member: "section_modulus_right",
        text: "Iyy / to_right",
        result: |of| of("Iyy") / of("to_right"),
    },
    Formula {
        member: "shape_factor_x",
        text: "plastic_modulus_x / min(section_modulus_top, section_modulus_bottom)",
        result: |of| {
            let elastic = of("section_modulus_top").min(of("section_modulus_bottom"));
            of("plastic_modulus_x") / elastic
        },
    },
    Formula {
        member: "shape_factor_y",
        text: "plastic_modulus_y / min(section_modulus_left, section_modulus_right)",
        result: |of| {
            let elastic = of("section_modulus_left").min(of("section_modulus_right"));
            of("plastic_modulus_y") / elastic
        },
    },
    Formula {
        member: "gyration_x",
        text: "sqrt(Ixx / area)",
        result: |of| (of("Ixx") / of("area")).sqrt(),
    },
    Formula {
        member: "gyration_y",
        text: "sqrt(Iyy / area)",
        result: |of| (of("Iyy") / of("area")).sqrt(),
    },
    Formula {
        member: "kern_up",
        text: "Ixx / (area * to_bottom)",
        result: |of| of("Ixx") / (of("area") * of("to_bottom")),
    },
    Formula {
        member: "kern_down",
        text: "Ixx / (area * to_top)",
        result: |of| of("Ixx") / (of("area") * of("to_top")),
    },
    Formula {
        member: "kern_right",
        text: "Iyy / (area * to_left)",
        result: |of| of("Iyy") / (of("area") * of("to_left")),
    },
    Formula {
        member: "kern_left",
        text: "Iyy / (area * to_right)",
        result: |of| of("Iyy") / (of("area") * of("to_right")),
    },
];

/// What each result is, in words.
const MEANINGS: &[(&str, &str)] = &[
    ("area", "area, deducted parts left out"),
    ("xbar", "x of the centroid in the section's frame"),
    ("ybar", "y of the centroid in the section's frame"),
    (
        "width",
        "between the outermost fibres at the left and at the right",
    ),
    ("depth", "between the lowest and the topmost fibre"),
    ("to_top", "from the centroid up to the topmost fibre"),
    ("to_bottom", "from the centroid down to the lowest fibre"),
    (
        "to_left",
        "from the centroid to the outermost fibre at the left",
    ),
    (
        "to_right",
        "from the centroid to the outermost fibre at the right",
    ),
    (
        "Ixx",
        "second moment of area about the level axis through the centroid",
    ),
    (
        "Iyy",
        "second moment of area about the upright axis through the centroid",
    ),
    (
        "Ixy",
        "product moment of area about the centroid; 0 where x and y are principal axes",
    ),
    (
        "I_major",
        "greatest second moment of area, about a principal axis",
    ),
    (
        "I_minor",
        "least second moment of area, about a principal axis",
    ),
    (
        "principal_angle",
        "from x to the axis of I_major, anticlockwise: atan2(−2·Ixy, Ixx − Iyy)/2",
    ),
    (
        "section_modulus_top",
        "elastic section modulus of the topmost fibre",
    ),
    (
        "section_modulus_bottom",
        "elastic section modulus of the lowest fibre",
    ),
    (
        "section_modulus_left",
        "elastic section modulus of the outermost fibre at the left",
    ),
    (
        "section_modulus_right",
        "elastic section modulus of the outermost fibre at the right",
    ),
    (
        "plastic_modulus_x",
        "first moments of both halves of the area about the level y = plastic_centre_y, added",
    ),
    (
        "plastic_modulus_y",
        "first moments of both halves of the area about x = plastic_centre_x, added",
    ),
    (
        "plastic_centre_x",
        "x of the upright line that halves the area",
    ),
    (
        "plastic_centre_y",
        "y of the level line that halves the area",
    ),
    (
        "shape_factor_x",
        "plastic over elastic section modulus, about the level axis",
    ),
    (
        "shape_factor_y",
        "plastic over elastic section modulus, about the upright axis",
    ),
    ("gyration_x", "radius of gyration about the level axis"),
    ("gyration_y", "radius of gyration about the upright axis"),
    (
        "mass_per_length",
        "sum of density times area, with each part's own material",
    ),
    (
        "EA",
        "axial rigidity: sum of E times area, with each part's own material",
    ),
    (
        "EI_x",
        "flexural rigidity about the level axis, with each part's own material",
    ),
    (
        "EI_y",
        "flexural rigidity about the upright axis, with each part's own material",
    ),
    (
        "kern_up",
        "how far above the centroid an axial force may act before stress changes its sign",
    ),
    (
        "kern_down",
        "how far below the centroid an axial force may act before stress changes its sign",
    ),
    (
        "kern_left",
        "how far left of the centroid an axial force may act before stress changes its sign",
    ),
    (
        "kern_right",
        "how far right of the centroid an axial force may act before stress changes its sign",
    ),
    (
        "torsion_constant",
        "J: the twist per length under a torque T is T/(G·J) where warping is free",
    ),
    (
        "torsion_modulus",
        "the torque over the greatest shear stress that it causes where warping is free",
    ),
    ("warping_constant", "∫ω² dA about the shear centre"),
    (
        "shear_centre_x",
        "x of the place where a shear force does not twist the section, in its frame",
    ),
    (
        "shear_centre_y",
        "y of the place where a shear force does not twist the section, in its frame",
    ),
];

/// Results that the moduli of several materials have no part in.
const NOT_TRANSFORMED: &[&str] = &[
    "area",
    "width",
    "depth",
    "mass_per_length",
    "EA",
    "EI_x",
    "EI_y",
];

/// What a result of a section, or of a part of it, is.
pub(crate) fn meaning(block: &BlockMeaning, member: &str) -> Option<String> {
    let Some(Model::Section(section)) = &block.model else {
        return None;
    };
    let own = member.rsplit('.').next().unwrap_or(member);
    if own == member && own.starts_with("kern_corner_") {
        return Some("coordinate of a corner of the kern, in the section's frame".to_owned());
    }
    let (_, words) = MEANINGS.iter().find(|(name, _)| *name == own)?;
    let of_several = section.table().iter().any(|row| row.modular_ratio != 1.0);
    if of_several && own == member && !NOT_TRANSFORMED.contains(&own) {
        return Some(format!("{words}; transformed to the heading's material"));
    }
    Some((*words).to_owned())
}

fn middle(of: Values<'_>) -> f64 {
    (of("Ixx") + of("Iyy")) / 2.0
}

fn half_difference(of: Values<'_>) -> f64 {
    let half = (of("Ixx") - of("Iyy")) / 2.0;
    (half * half + of("Ixy") * of("Ixy")).sqrt()
}

/// The formula of a result, with its numbers put in, and the result. None for a result that does not
/// follow from others alone, or not in this section: its axes are not principal, or it is of several
/// materials.
pub(crate) fn working(
    block: &BlockMeaning,
    member: &str,
    preferences: &Preferences,
) -> Option<String> {
    let Some(Model::Section(section)) = &block.model else {
        return None;
    };
    let result = block.member(member)?.as_quantity()?;
    if let Some(rest) = member.strip_prefix("kern_corner_") {
        return corner(block, section, member, rest, preferences);
    }
    let formula = FORMULAS.iter().find(|own| own.member == member)?;
    let value = |name: &str| block.member(name)?.as_quantity();
    let si = |name: &str| value(name).map_or(f64::NAN, Quantity::si);
    let agrees = ((formula.result)(&si) - result.si()).abs() <= AGREEMENT * result.si().abs();
    agrees.then(|| shown(formula.member, formula.text, result, &value, preferences))
}

/// The formula as it stands, with its numbers, and the result, one below the other.
fn shown(
    member: &str,
    formula: &str,
    result: Quantity,
    value: &dyn Fn(&str) -> Option<Quantity>,
    preferences: &Preferences,
) -> String {
    let indent = " ".repeat(member.chars().count());
    format!(
        "```haunch\n{member} = {formula}\n{indent} = {}\n{indent} = {}\n```",
        with_numbers(formula, value, preferences),
        format_quantity(result, None, preferences),
    )
}

/// A formula with numbers and units in place of its names; what stands to a power or is negative is
/// enclosed.
fn with_numbers(
    formula: &str,
    value: &dyn Fn(&str) -> Option<Quantity>,
    preferences: &Preferences,
) -> String {
    let mut text = String::new();
    let mut rest = formula;
    while let Some(first) = rest.chars().next() {
        let end = rest
            .find(|c: char| !(c.is_ascii_alphabetic() || c == '_'))
            .unwrap_or(rest.len());
        let (word, after) = rest.split_at(end.max(first.len_utf8()));
        match value(word) {
            Some(quantity) => {
                let unit = (word == "angle").then(|| angle_unit(preferences)).flatten();
                let number = show::plain(quantity, unit.as_ref(), preferences);
                let stands_alone = text.ends_with('(') && after.starts_with(')');
                let enclosed = after.starts_with('^') || (number.starts_with('-') && !stands_alone);
                text += &if enclosed {
                    format!("({number})")
                } else {
                    number
                };
            }
            None => text += word,
        }
        rest = after;
    }
    text
}

fn angle_unit(preferences: &Preferences) -> Option<Unit> {
    let listed = preferences.angle_unit().cloned();
    listed.or_else(|| Unit::parse("deg").ok())
}

/// The working of a coordinate of a corner of the kern: `rest` is `1_x` or the like.
fn corner(
    block: &BlockMeaning,
    section: &SectionModel,
    member: &str,
    rest: &str,
    preferences: &Preferences,
) -> Option<String> {
    let (number, axis) = rest.split_once('_')?;
    let index = number.parse::<usize>().ok()?.checked_sub(1)?;
    let corner = *section.kern_corners().get(index)?;
    let result = block.member(member)?.as_quantity()?;
    let formula = match axis {
        "x" => "xbar - (Iyy * cos(angle) + Ixy * sin(angle)) / (area * distance)",
        _ => "ybar - (Ixy * cos(angle) + Ixx * sin(angle)) / (area * distance)",
    };
    let value = |name: &str| match name {
        "distance" => Some(corner.distance),
        "angle" => Some(corner.angle),
        _ => block.member(name)?.as_quantity(),
    };
    let si = |name: &str| value(name).map_or(f64::NAN, Quantity::si);
    let (sine, cosine) = (
        corner.angle.sine().ok()?.si(),
        corner.angle.cosine().ok()?.si(),
    );
    let reach = si("area") * si("distance");
    let worked_out = match axis {
        "x" => si("xbar") - (si("Iyy") * cosine + si("Ixy") * sine) / reach,
        _ => si("ybar") - (si("Ixy") * cosine + si("Ixx") * sine) / reach,
    };
    let scale = si("width") + si("depth");
    let agrees = (worked_out - result.si()).abs() <= AGREEMENT * scale;
    let text = agrees.then(|| shown(member, formula, result, &value, preferences))?;
    Some(format!(
        "{text}\n\ndistance: from the centroid to the neutral axis of a force there, along a straight side \
         of the section's convex hull; angle: of the normal to it, from x anticlockwise."
    ))
}

/// How a result that is worked out on request was worked out, and how far it may be off.
pub(crate) fn method(
    section: &SectionModel,
    member: &str,
    preferences: &Preferences,
) -> Option<String> {
    let (method, error) = section.method(member)?;
    let Some(error) = error else {
        return Some(method.to_owned());
    };
    let rough = Preferences::new(preferences.units().to_vec(), 2);
    // Never told smaller than it is.
    let error = Quantity::new(error.si() * (1.0 + TWO_DIGITS), error.dimension())?;
    let within = format_quantity(error, None, &rough);
    // The torsion constant is enclosed; the other errors are estimates.
    let about = match member {
        "torsion_constant" => "",
        _ => "about ",
    };
    Some(format!("{method}, to within {about}{within}"))
}

/// The corners of the kern in a table, each with the neutral axis of a force there.
pub(crate) fn kern(block: &BlockMeaning, preferences: &Preferences) -> Option<String> {
    let Some(Model::Section(section)) = &block.model else {
        return None;
    };
    let unit = angle_unit(preferences);
    let shown = |quantity| format_quantity(quantity, None, preferences);
    let row = |(number, corner): (usize, KernCorner)| {
        let coordinate = |axis: &str| {
            let member = block.member(&format!("kern_corner_{number}_{axis}"))?;
            Some(shown(member.as_quantity()?))
        };
        Some(format!(
            "| {number} | {} | {} | {} from the centroid, its normal at {} |\n",
            coordinate("x")?,
            coordinate("y")?,
            shown(corner.distance),
            format_quantity(corner.angle, unit.as_ref(), preferences),
        ))
    };
    let rows: String = (1..)
        .zip(section.kern_corners().iter().copied())
        .filter_map(row)
        .collect();
    (!rows.is_empty()).then(|| {
        format!(
            "| kern corner | x | y | neutral axis of a force there |\n|---|---|---|---|\n{rows}"
        )
    })
}

//! Every rolled section of `cases.toml` against its published properties.

#[path = "../beam_reference/expression.rs"]
mod expression;

use std::collections::BTreeMap;

use expression::{Names, evaluate};
use haunch_mechanics::section::{Outline, Part, Section, Shape, Side};
use haunch_mechanics::shapes::{Angle, Channel, HollowRectangle, IShape, Pipe, Taper, Tee};
use haunch_mechanics::torsion::{saint_venant, tabulated};
use haunch_quantity::typed::{Length, Ratio, Typed};
use toml::{Table, Value};

/// SI value of a unit: a length with a power. The inch is exact by definition (International yard
/// and pound agreement of 1959).
fn unit(name: &str) -> f64 {
    let (base, power) = name.split_once('^').unwrap_or((name, "1"));
    let length = match base {
        "" => 1.0,
        "mm" => 1e-3,
        "cm" => 1e-2,
        "inch" => 0.0254,
        other => panic!("no such unit: {other}"),
    };
    let power: usize = power.parse().expect("a power");
    std::iter::repeat_n(length, power).product()
}

struct Case {
    values: BTreeMap<String, f64>,
    section: Section,
}

impl Case {
    fn read(given: &Table) -> Self {
        let values: BTreeMap<String, f64> = given
            .iter()
            .filter_map(|(name, value)| {
                let value = value.as_table()?;
                Some((
                    name.clone(),
                    float(&value["value"]) * unit(text(&value["unit"])),
                ))
            })
            .collect();
        let outline = outline(text(&given["shape"]), &values);
        let part = Part::material(Shape::Outline(outline));
        let section = Section::new(&[part]).expect("a sound section");
        Self { values, section }
    }
}

fn height(values: &BTreeMap<String, f64>) -> Length {
    let named = values.get("h").or(values.get("d"));
    Length::from_si(*named.expect("a height"))
}

fn i_shape(values: &BTreeMap<String, f64>) -> IShape {
    let [width, web, flange, root] =
        ["b", "tw", "tf", "r"].map(|name| Length::from_si(values[name]));
    IShape::with_equal_flanges(height(values), width, web, flange, root)
}

fn hollow_rectangle(values: &BTreeMap<String, f64>) -> HollowRectangle {
    let [width, wall, outer, inner] =
        ["b", "t", "ro", "ri"].map(|name| Length::from_si(values[name]));
    HollowRectangle::with_equal_walls(height(values), width, wall, outer, inner)
}

fn tee(values: &BTreeMap<String, f64>) -> Tee {
    let [width, web_thickness, flange_thickness, root_radius] =
        ["b", "tw", "tf", "r"].map(|name| Length::from_si(values[name]));
    Tee {
        height: height(values),
        width,
        web_thickness,
        flange_thickness,
        root_radius,
    }
}

fn outline(shape: &str, values: &BTreeMap<String, f64>) -> Outline {
    let size = |name: &str| Length::from_si(values[name]);
    let outline = match shape {
        "I" => i_shape(values).outline(),
        "T" => tee(values).outline(),
        "U_taper" => Channel {
            height: height(values),
            width: size("b"),
            web_thickness: size("tw"),
            flange_thickness: size("tf"),
            taper: Some(Taper {
                slope: Ratio::from_si(values["slope"]),
                measured_at: size("b") / 2.0,
            }),
            root_radius: size("r1"),
            toe_radius: size("r2"),
        }
        .outline(),
        "L" => Angle {
            height: height(values),
            width: size("b"),
            thickness: size("t"),
            root_radius: size("r1"),
            toe_radius: size("r2"),
        }
        .outline(),
        "RHS" => hollow_rectangle(values).outline(),
        "CHS" => Pipe {
            diameter: size("d"),
            thickness: size("t"),
        }
        .outline(),
        other => panic!("no such shape: {other}"),
    };
    outline.expect("possible sizes")
}

impl Names for Case {
    fn value(&self, name: &str) -> f64 {
        let section = &self.section;
        let centre = section.second_moments();
        let principal = section.principal_axes();
        let modulus = |one, other| {
            let (one, other) = (section.section_modulus(one), section.section_modulus(other));
            one.si().min(other.si())
        };
        match name {
            "S.A" => section.area().si(),
            "S.cx" => section.centroid().x.si(),
            "S.cy" => section.centroid().y.si(),
            "S.Ix" => centre.ixx.si(),
            "S.Iy" => centre.iyy.si(),
            "S.I1" => principal.major.si(),
            "S.I2" => principal.minor.si(),
            "S.Sx" => modulus(Side::Top, Side::Bottom),
            "S.Sy" => modulus(Side::Left, Side::Right),
            "S.Zx" => section.plastic_x().expect("one material").modulus.si(),
            "S.Zy" => section.plastic_y().expect("one material").modulus.si(),
            "S.rx" => section.gyration_x().si(),
            "S.ry" => section.gyration_y().si(),
            _ => *self
                .values
                .get(name)
                .unwrap_or_else(|| panic!("no such name: {name}")),
        }
    }

    fn call(&self, name: &str, _: &[f64]) -> f64 {
        panic!("no such function: {name}")
    }
}

fn text(value: &Value) -> &str {
    value.as_str().expect("text")
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

fn float(value: &Value) -> f64 {
    match value {
        Value::Integer(whole) => *whole as f64,
        other => other.as_float().expect("a number"),
    }
}

/// Constants of torsion and warping.
fn is_of_torsion(name: &str) -> bool {
    matches!(name, "It" | "Iw" | "J" | "Cw" | "Ct" | "J_fe" | "Iw_fe")
}

#[test]
fn published_properties() {
    let data: Table = include_str!("cases.toml").parse().expect("a data file");
    let (mut checked, mut wrong) = (0, Vec::new());
    for case in list(&data["case"]) {
        let id = text(&case["id"]);
        let names = Case::read(case["given"].as_table().expect("a table"));
        for expected in list(&case["expected"]) {
            let name = text(&expected["name"]);
            if is_of_torsion(name) {
                continue;
            }
            let found = evaluate(text(&expected["recompute"]), &names);
            let wanted = float(&expected["value"]);
            let tolerance = float(&expected["rel_tol"]);
            let found = found / unit(text(&expected["unit"]));
            if (found - wanted).abs() > tolerance * wanted.abs() {
                wrong.push(format!("{id} {name}: {found}, published {wanted}"));
            }
            checked += 1;
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(checked, 404, "every published value is checked");
}

/// Torsion and warping constants: numerically against every published value, within its digits or
/// the tolerance of the formula that it comes from; and the formulas of the tables themselves
/// within the published digits.
#[test]
fn published_torsion_and_warping_constants() {
    let data: Table = include_str!("cases.toml").parse().expect("a data file");
    let (mut checked, mut tabular, mut wrong) = (0, 0, Vec::new());
    for case in list(&data["case"]) {
        let of_torsion = |expected: &&Value| is_of_torsion(text(&expected["name"]));
        let expected: Vec<&Value> = list(&case["expected"]).iter().filter(of_torsion).collect();
        if expected.is_empty() {
            continue;
        }
        let given = case["given"].as_table().expect("a table");
        let Case { values, section } = Case::read(given);
        let shape = text(&given["shape"]);
        let numerical = saint_venant(&section, Ratio::from_si(1e-3)).expect("a solution");
        assert!(numerical.relative_error().si() <= 1e-3);
        for expected in expected {
            let name = text(&expected["name"]);
            let wanted = float(&expected["value"]);
            let scale = unit(text(&expected["unit"]));
            let digits = float(&expected["rel_tol"]);
            let mut compare = |what: &str, found: f64, tolerance: f64| {
                let found = found / scale;
                if (found - wanted).abs() > tolerance * wanted {
                    let id = text(&case["id"]);
                    wrong.push(format!("{id} {name} {what}: {found}, published {wanted}"));
                }
            };
            let tolerance = expected.get("advice_tol").map_or(digits, float);
            match name {
                "It" | "J" | "J_fe" => {
                    compare("numerically", numerical.torsion_constant.si(), tolerance);
                }
                "Iw" | "Cw" | "Iw_fe" => {
                    compare("numerically", numerical.warping_constant.si(), tolerance);
                }
                _ => {}
            }
            tabular += 1;
            match (name, shape) {
                ("It", "I") => {
                    let found = tabulated::rolled_i(&i_shape(&values)).expect("possible");
                    compare("by formula", found.si(), digits);
                }
                ("Iw", "I") => {
                    let found = i_shape(&values).thin_walled().expect("possible");
                    compare("by formula", found.warping_constant.si(), digits);
                }
                ("Cw", "I") => {
                    let found = i_shape(&values).thin_walled().expect("possible");
                    compare("by formula", found.warping_constant.si(), tolerance);
                }
                // The sizes are rounded to three digits, and cubed twice.
                ("Cw", "T") => {
                    let found = tee(&values).thin_walled().expect("possible");
                    compare("by formula", found.warping_constant.si(), tolerance);
                }
                ("It", "RHS") => {
                    let found = tabulated::hollow_rectangle(&hollow_rectangle(&values));
                    compare("by formula", found.expect("possible").0.si(), digits);
                }
                ("Ct", "RHS") => {
                    let found = tabulated::hollow_rectangle(&hollow_rectangle(&values));
                    compare("by formula", found.expect("possible").1.si(), digits);
                }
                _ => tabular -= 1,
            }
            checked += 1;
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(checked, 73, "every published value is checked");
    assert_eq!(tabular, 37, "formulas of tables");
}

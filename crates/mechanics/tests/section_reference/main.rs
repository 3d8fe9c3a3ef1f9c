//! Every section of `cases.toml` against its published results.

#[path = "../beam_reference/expression.rs"]
mod expression;

use expression::{Names, evaluate};
use haunch_mechanics::section::{Forces, Part, Point, Section, Shape, Side};
use haunch_quantity::typed::{Force, Length, Moment, Ratio, Typed};
use std::collections::BTreeMap;
use toml::{Table, Value};

/// SI value of one unit. Foot, inch, pound and standard gravity are exact by definition
/// (International yard and pound agreement of 1959; CGPM 1901).
fn unit(name: &str) -> f64 {
    const FOOT: f64 = 0.3048;
    const INCH: f64 = FOOT / 12.0;
    const POUND_FORCE: f64 = 0.453_592_37 * 9.806_65;
    match name {
        "" | "m" | "N" | "N*m" => 1.0,
        "deg" => std::f64::consts::PI / 180.0,
        "mm" => 1e-3,
        "mm^3" => 1e-9,
        "mm^4" => 1e-12,
        "kN" | "kN*m" => 1e3,
        "MPa" | "N/mm^2" | "MN/m" => 1e6,
        "inch" => INCH,
        "inch^3" => INCH * INCH * INCH,
        "inch^4" => INCH * INCH * INCH * INCH,
        "lbf" => POUND_FORCE,
        "kip" => 1e3 * POUND_FORCE,
        "lbf*inch" => POUND_FORCE * INCH,
        "lbf*foot" => POUND_FORCE * FOOT,
        "kip*inch" => 1e3 * POUND_FORCE * INCH,
        "kip*foot" => 1e3 * POUND_FORCE * FOOT,
        "lbf/inch^2" => POUND_FORCE / (INCH * INCH),
        "kip/inch^2" => 1e3 * POUND_FORCE / (INCH * INCH),
        other => panic!("no such unit: {other}"),
    }
}

/// The section of one case, and its given values.
struct Case {
    values: BTreeMap<String, f64>,
    section: Section,
    ratios: Vec<f64>,
}

impl Names for Case {
    fn value(&self, name: &str) -> f64 {
        let section = &self.section;
        let centre = section.second_moments();
        let origin = Point::new(Length::from_si(0.0), Length::from_si(0.0));
        let at_origin = section.second_moments_about(origin, Ratio::from_si(0.0));
        let principal = section.principal_axes();
        let modulus = |one, other| {
            let (one, other) = (section.section_modulus(one), section.section_modulus(other));
            one.si().min(other.si())
        };
        match name {
            "S.A" => section.area().si(),
            "S.cy" => section.centroid().y.si(),
            "S.ctop" => section.distance_to(Side::Top).si(),
            "S.cbot" => section.distance_to(Side::Bottom).si(),
            "S.cright" => section.distance_to(Side::Right).si(),
            "S.Ix" => centre.ixx.si(),
            "S.Iy" => centre.iyy.si(),
            "S.Ixy" => centre.ixy.si(),
            "S.Ix0" => at_origin.ixx.si(),
            "S.Iy0" => at_origin.iyy.si(),
            "S.Ixy0" => at_origin.ixy.si(),
            "S.I1" => principal.major.si(),
            "S.I2" => principal.minor.si(),
            "S.theta1" => principal.angle.si(),
            "S.Stop" => section.section_modulus(Side::Top).si(),
            "S.Sx" => modulus(Side::Top, Side::Bottom),
            "S.Zx" => section.plastic_x().expect("one material").modulus.si(),
            "S.ypna" => section.plastic_x().expect("one material").neutral_axis.si(),
            _ => *self
                .values
                .get(name)
                .unwrap_or_else(|| panic!("no such name: {name}")),
        }
    }

    fn call(&self, name: &str, arguments: &[f64]) -> f64 {
        let section = &self.section;
        let forces = |moment_x: f64, moment_y: f64, axial: f64| Forces {
            axial: Force::from_si(axial),
            moment_x: Moment::from_si(moment_x),
            moment_y: Moment::from_si(moment_y),
        };
        let length = Length::from_si;
        match (name, arguments) {
            ("sin", [x]) => libm::sin(*x),
            ("cos", [x]) => libm::cos(*x),
            ("abs", [x]) => x.abs(),
            ("min", [x, y]) => x.min(*y),
            ("S.Q", [y]) => section.first_moment_above(length(*y)).si(),
            ("S.Qpart", &[left, bottom, right, top]) => {
                let cut = rectangle(left, bottom, right - left, top - bottom);
                section
                    .first_moment_inside(&cut)
                    .expect("a sound shape")
                    .si()
                    .abs()
            }
            ("S.sigma", &[x, y, mx]) => self.stress(x, y, 1.0, &forces(mx, 0.0, 0.0)),
            ("S.stress", &[x, y, mx, my, n]) => self.stress(x, y, 1.0, &forces(mx, my, n)),
            ("T.sigma", &[y, ratio, mx]) => {
                self.stress(section.centroid().x.si(), y, ratio, &forces(mx, 0.0, 0.0))
            }
            ("S.greatest", &[mx, my]) => {
                let extremes = section
                    .extreme_stresses(&forces(mx, my, 0.0))
                    .expect("material");
                extremes.greatest.stress.si()
            }
            ("S.neutral_axis", &[mx, my]) => section
                .neutral_axis(&forces(mx, my, 0.0))
                .expect("bending")
                .angle
                .si(),
            ("S.tau_max", [v]) => {
                let found = section.largest_shear_stress(Force::from_si(*v));
                found.expect("connected").stress.si()
            }
            ("S.tau_below", [y, v]) => section
                .shear_stress(length(*y), Force::from_si(*v))
                .expect("inside")
                .below
                .si(),
            ("S.tau_above", [y, v]) => section
                .shear_stress(length(*y), Force::from_si(*v))
                .expect("inside")
                .above
                .si(),
            _ => panic!("no such function: {name}"),
        }
    }
}

impl Case {
    fn read(given: &Table) -> Self {
        let scale = unit(text(&given["rects_unit"]));
        let mut values = BTreeMap::from([("u".to_owned(), scale)]);
        for (name, value) in given {
            if let Some(number) = value.get("value") {
                values.insert(name.clone(), float(number) * unit(text(&value["unit"])));
            }
        }
        let (rows, transformed) = match given.get("n_rects") {
            Some(rows) => (rows, true),
            None => (&given["rects"], false),
        };
        let mut parts = Vec::new();
        let mut ratios = Vec::new();
        for row in list(rows) {
            let size = |index: usize| float(&row[index]) * scale;
            let shape = rectangle(size(0), size(1), size(2), size(3));
            let last = row.get(4).map_or(1.0, float);
            parts.push(match last {
                ratio if transformed => Part::with_modular_ratio(shape, Ratio::from_si(ratio)),
                sign if sign < 0.0 => Part::deduction(shape),
                _ => Part::material(shape),
            });
            ratios.push(if transformed { last } else { 1.0 });
        }
        let section = Section::new(&parts).expect("a sound section");
        Self {
            values,
            section,
            ratios,
        }
    }

    /// The stress at a place in the material of this modular ratio.
    fn stress(&self, x: f64, y: f64, ratio: f64, forces: &Forces) -> f64 {
        let place = Point::new(Length::from_si(x), Length::from_si(y));
        let found = self
            .section
            .stress(forces, place)
            .expect("a place in the material");
        let own = found.iter().find(|own| self.ratios[own.part] == ratio);
        own.expect("a part of this ratio").stress.si()
    }
}

fn rectangle(left: f64, bottom: f64, width: f64, height: f64) -> Shape {
    Shape::Rectangle {
        left: Length::from_si(left),
        bottom: Length::from_si(bottom),
        width: Length::from_si(width),
        height: Length::from_si(height),
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

#[test]
fn published_sections() {
    let data: Table = include_str!("cases.toml").parse().expect("a data file");
    let (mut checked, mut wrong) = (0, Vec::new());
    for case in list(&data["case"]) {
        let id = text(&case["id"]);
        let names = Case::read(case["given"].as_table().expect("a table"));
        for expected in list(&case["expected"]) {
            let name = text(&expected["name"]);
            let scale = unit(text(&expected["unit"]));
            let found = evaluate(text(&expected["recompute"]), &names) / scale;
            let mut compare = |what: &str, wanted: &Value, tolerance: f64| {
                let wanted = float(wanted);
                if (found - wanted).abs() > tolerance * wanted.abs() {
                    wrong.push(format!("{id} {name}: {found}, {what} {wanted}"));
                }
            };
            compare("published", &expected["value"], float(&expected["rel_tol"]));
            // Given to nine digits.
            compare("computed", &expected["computed"], 5.1e-9);
            checked += 1;
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(checked, 116, "every published value is checked");
}

/// Source: Gere & Goodno, Mechanics of Materials, 7th ed., example 5.13, p. 345: a hollow pole of
/// radii 2 in and 1.6 in under 1500 lbf has 658 lbf/in².
#[test]
fn a_hollow_pole_in_shear() {
    let inch = |value: f64| Length::from_si(value * unit("inch"));
    let pole = Shape::Tube {
        centre: Point::new(inch(0.0), inch(0.0)),
        diameter: inch(4.0),
        thickness: inch(0.4),
    };
    let section = Section::new(&[Part::material(pole)]).expect("a sound section");
    let found = section
        .largest_shear_stress(Force::from_si(1500.0 * unit("lbf")))
        .expect("found");
    let stress = found.stress.si() / unit("lbf/inch^2");
    assert!((stress - 657.754_169).abs() < 1e-6, "{stress}");
    assert_eq!(found.y, section.centroid().y);
}

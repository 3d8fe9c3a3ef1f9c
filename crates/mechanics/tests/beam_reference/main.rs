//! Every beam of `cases.toml` against its published results.

mod expression;

use expression::{Names, evaluate};
use haunch_mechanics::beam::{
    Beam, Extreme, Load, Loading, Response, Sense, Side, Stiffness, Support, SupportKind, solve,
};
use haunch_quantity::typed::{FlexuralRigidity, Force, ForcePerLength, Length, Moment, Typed};
use std::collections::BTreeMap;
use toml::{Table, Value};

/// SI value of one unit. Foot, inch, pound and standard gravity are exact by definition
/// (International yard and pound agreement of 1959; CGPM 1901).
fn unit(name: &str) -> f64 {
    const FOOT: f64 = 0.3048;
    const POUND_FORCE: f64 = 0.453_592_37 * 9.806_65;
    match name {
        "" | "rad" | "m" | "N" | "m^4" | "N/m" | "N*m^3" => 1.0,
        "mm" => 1e-3,
        "cm^4" => 1e-8,
        "kN" | "kN/m" | "kN*m" | "kN*m^2" | "kN*m^3" => 1e3,
        "GPa" => 1e9,
        "foot" => FOOT,
        "inch" => FOOT / 12.0,
        "inch^4" => libm::pow(FOOT / 12.0, 4.0),
        "lbf" => POUND_FORCE,
        "lbf*foot^3" => POUND_FORCE * FOOT * FOOT * FOOT,
        "kip" => 1e3 * POUND_FORCE,
        "kip/foot" => 1e3 * POUND_FORCE / FOOT,
        "kip*foot" => 1e3 * POUND_FORCE * FOOT,
        "kip/inch^2" => 1e3 * POUND_FORCE * 144.0 / (FOOT * FOOT),
        other => panic!("no such unit: {other}"),
    }
}

/// The names of one case and, once solved, the results of its beam.
struct Case {
    values: BTreeMap<String, f64>,
    length: f64,
    supports: Vec<f64>,
    response: Option<Response>,
}

impl Names for Case {
    fn value(&self, name: &str) -> f64 {
        *self
            .values
            .get(name)
            .unwrap_or_else(|| panic!("no such name: {name}"))
    }

    fn call(&self, name: &str, arguments: &[f64]) -> f64 {
        let response = self.response.as_ref().expect("solved");
        let deflection = response.deflection().expect("rigidity known");
        let (from, to) = match *arguments {
            [from, to] => (from, to),
            _ => (0.0, self.length),
        };
        let (from, to) = (Length::from_si(from), Length::from_si(to));
        let x = arguments.first().map(|x| Length::from_si(*x));
        let side = Side::After;
        let moments = || {
            response
                .moment()
                .extremes_within(from, to)
                .expect("on the beam")
        };
        let deflections = || deflection.extremes_within(from, to).expect("on the beam");
        let place = |extreme: Extreme<Length>| extreme.at.si();
        match (name, x) {
            ("B.R", Some(_)) => response.reactions()[self.support(arguments[0])].force.si(),
            ("B.Mfix", Some(_)) => {
                let reaction = response.reactions()[self.support(arguments[0])];
                reaction.moment.expect("fixed").si().abs()
            }
            ("B.V", Some(x)) => response.shear().at(x, side).expect("on the beam").si(),
            ("B.M", Some(x)) => response.moment().at(x, side).expect("on the beam").si(),
            ("B.v", Some(x)) => -deflection.at(x, side).expect("on the beam").si(),
            ("B.slope", Some(x)) => -response
                .slope()
                .expect("known")
                .at(x, side)
                .expect("on the beam")
                .si(),
            ("B.Mmax", _) => moments().max.value.si(),
            ("B.xMmax", _) => moments().max.at.si(),
            ("B.down", _) => deflections().max.value.si(),
            ("B.xdown", _) => place(deflections().max),
            ("B.up", _) => -deflections().min.value.si(),
            ("B.xup", _) => place(deflections().min),
            _ => panic!("no such result: {name}"),
        }
    }
}

impl Case {
    fn support(&self, x: f64) -> usize {
        self.supports
            .iter()
            .position(|place| (place - x).abs() < 1e-9)
            .expect("a support")
    }

    fn read(given: &Table) -> Self {
        let mut values = BTreeMap::new();
        for (name, value) in given {
            if let Some(number) = value.get("value") {
                values.insert(name.clone(), float(number) * unit(text(&value["unit"])));
            }
        }
        let mut case = Self {
            values,
            length: 0.0,
            supports: Vec::new(),
            response: None,
        };
        let beam = &given["beam"];
        let number = |value: &Value| match value {
            Value::String(expression) => evaluate(expression, &case),
            plain => float(plain),
        };
        let length = number(&beam["L"]);
        let mut supports = Vec::new();
        for support in list(&beam["supports"]) {
            let kind = match text(&support[1]) {
                "pin" => SupportKind::Pin,
                "fixed" => SupportKind::Fixed,
                other => panic!("no such support: {other}"),
            };
            supports.push(Support {
                at: Length::from_si(number(&support[0])),
                kind,
            });
        }
        let loads = list(&beam["loads"])
            .iter()
            .map(|load| read_load(load, &number))
            .collect();
        let model = Beam {
            length: Length::from_si(length),
            supports: supports.clone(),
            hinges: Vec::new(),
            stiffness: Stiffness::Uniform(FlexuralRigidity::from_si(number(&beam["EI"]))),
        };
        let responses = solve(&model, &[Loading { loads }]).expect("a sound beam");
        case.response = responses.into_iter().next();
        case.length = length;
        case.supports = supports.iter().map(|support| support.at.si()).collect();
        case
    }
}

fn read_load(load: &Value, number: &dyn Fn(&Value) -> f64) -> Load {
    let at = |index: usize| Length::from_si(number(&load[index]));
    match text(&load[0]) {
        "P" => Load::Force {
            at: at(2),
            down: Force::from_si(number(&load[1])),
        },
        "C" => Load::Couple {
            at: at(2),
            moment: Moment::from_si(number(&load[1])),
            sense: Sense::Clockwise,
        },
        "w" => Load::Distributed {
            from: at(3),
            to: at(4),
            down_at_from: ForcePerLength::from_si(number(&load[1])),
            down_at_to: ForcePerLength::from_si(number(&load[2])),
        },
        other => panic!("no such load: {other}"),
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
fn published_beams() {
    let data: Table = include_str!("cases.toml").parse().expect("a data file");
    let (mut checked, mut wrong) = (0, Vec::new());
    for case in list(&data["case"]) {
        let id = text(&case["id"]);
        let names = Case::read(case["given"].as_table().expect("a table"));
        for expected in list(&case["expected"]) {
            let name = text(&expected["name"]);
            let found =
                evaluate(text(&expected["recompute"]), &names) / unit(text(&expected["unit"]));
            let published = float(&expected["value"]);
            let absolute = expected.get("abs_tol").map_or(0.0, float);
            let mut compare = |what: &str, wanted: f64, tolerance: f64| {
                if (found - wanted).abs() > tolerance.max(absolute) {
                    wrong.push(format!("{id} {name}: {found}, {what} {wanted}"));
                }
            };
            compare(
                "published",
                published,
                float(&expected["rel_tol"]) * published.abs(),
            );
            // Nine digits, and places of extremes were found to about eight.
            let computed = float(&expected["computed"]);
            compare("computed", computed, 2e-8 * computed.abs());
            checked += 1;
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(checked, 159, "every published value is checked");
}

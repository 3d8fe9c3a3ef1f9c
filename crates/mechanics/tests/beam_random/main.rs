//! Random beams against a solution by another method with 60 digits: see `generate.py`.

use haunch_mechanics::beam::{
    Beam, Load, Loading, Sense, Side, Stiffness, Stretch, Support, SupportKind, solve,
};
use haunch_quantity::typed::{
    Curvature, FlexuralRigidity, Force, ForcePerLength, Length, Moment, Typed,
};
use toml::{Table, Value};

/// Results agree to this share of the largest value of their kind along the beam.
const AGREES: f64 = 1e-12;

fn numbers(value: &Value) -> Vec<f64> {
    value
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(Value::as_float)
        .collect()
}

fn rows(value: &Value) -> impl Iterator<Item = (&str, Vec<f64>)> {
    value.as_array().expect("a list").iter().map(|row| {
        let kind = row
            .as_array()
            .expect("a row")
            .iter()
            .find_map(Value::as_str);
        (kind.unwrap_or(""), numbers(row))
    })
}

fn read_beam(data: &Value) -> Beam {
    let support = |(kind, row): (&str, Vec<f64>)| Support {
        at: Length::from_si(row[0]),
        kind: match kind {
            "pin" => SupportKind::Pin,
            "fixed" => SupportKind::Fixed,
            "spring" => SupportKind::Spring(ForcePerLength::from_si(row[1])),
            other => panic!("no such support: {other}"),
        },
    };
    let stretch = |(_, row): (&str, Vec<f64>)| Stretch {
        from: Length::from_si(row[0]),
        to: Length::from_si(row[1]),
        rigidity: FlexuralRigidity::from_si(row[2]),
    };
    Beam {
        length: Length::from_si(data["length"].as_float().expect("a number")),
        supports: rows(&data["supports"]).map(support).collect(),
        hinges: numbers(&data["hinges"])
            .into_iter()
            .map(Length::from_si)
            .collect(),
        stiffness: Stiffness::Stepped(rows(&data["stretches"]).map(stretch).collect()),
    }
}

fn read_load((kind, row): (&str, Vec<f64>)) -> Load {
    let (from, to) = (Length::from_si(row[0]), Length::from_si(row[1]));
    match kind {
        "force" => Load::Force {
            at: from,
            down: Force::from_si(row[2]),
        },
        "couple" => Load::Couple {
            at: from,
            moment: Moment::from_si(row[2]),
            sense: Sense::Clockwise,
        },
        "distributed" => Load::Distributed {
            from,
            to,
            down_at_from: ForcePerLength::from_si(row[2]),
            down_at_to: ForcePerLength::from_si(row[3]),
        },
        "settlement" => Load::Settlement {
            support: row[0] as usize,
            down: Length::from_si(row[2]),
        },
        "curvature" => Load::Curvature {
            from,
            to,
            sagging: Curvature::from_si(row[2]),
        },
        other => panic!("no such load: {other}"),
    }
}

/// Pairs of found and wanted values of one kind.
#[derive(Default)]
struct Compared(Vec<(f64, f64)>);

impl Compared {
    /// The largest difference as a share of the largest value.
    fn difference(&self) -> f64 {
        let largest = self
            .0
            .iter()
            .fold(0.0_f64, |m, (_, wanted)| m.max(wanted.abs()));
        let difference = self
            .0
            .iter()
            .fold(0.0_f64, |m, (found, wanted)| m.max((found - wanted).abs()));
        if largest > 0.0 {
            difference / largest
        } else {
            difference
        }
    }
}

#[test]
fn random_beams() {
    let data: Table = include_str!("beams.toml").parse().expect("a data file");
    let beams = data["beam"].as_array().expect("a list");
    assert_eq!(beams.len(), 60);
    for (index, data) in beams.iter().enumerate() {
        let loads = rows(&data["loads"]).map(read_load).collect();
        let response = solve(&read_beam(data), &[Loading { loads }])
            .expect("a sound beam")
            .remove(0);
        let (mut shear, mut moment, mut slope, mut deflection) = (
            Compared::default(),
            Compared::default(),
            Compared::default(),
            Compared::default(),
        );
        for (_, row) in rows(&data["pieces"]) {
            for (x, side, values) in [
                (row[0], Side::After, &row[2..6]),
                (row[1], Side::Before, &row[6..10]),
            ] {
                let x = Length::from_si(x);
                let known = "known, on the beam";
                shear
                    .0
                    .push((response.shear().at(x, side).expect(known).si(), values[0]));
                moment
                    .0
                    .push((response.moment().at(x, side).expect(known).si(), values[1]));
                let slopes = response.slope().expect(known);
                slope
                    .0
                    .push((slopes.at(x, side).expect(known).si(), values[2]));
                let deflections = response.deflection().expect(known);
                deflection
                    .0
                    .push((deflections.at(x, side).expect(known).si(), values[3]));
            }
        }
        for (reaction, (_, row)) in response.reactions().iter().zip(rows(&data["reactions"])) {
            shear.0.push((reaction.force.si(), row[0]));
            moment
                .0
                .push((reaction.moment.map_or(0.0, Typed::si), row[1]));
        }
        for compared in [shear, moment, slope, deflection] {
            let difference = compared.difference();
            assert!(
                difference <= AGREES,
                "beam {index} differs by {difference:e}"
            );
        }
    }
}

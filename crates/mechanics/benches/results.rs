//! How long sections and beams take: all properties of a section of 100 parts, a beam of ten spans
//! with 50 loads and ten combinations, four wheels along it, and the numerical torsion of an L. Run with
//! `cargo bench -p haunch-mechanics`.

use std::hint::black_box;
use std::time::{Duration, Instant};

use haunch_mechanics::beam::{
    Analysis, Beam, Envelope, Load, Loading, Response, Stiffness, Support, SupportKind, Train,
    Wheel,
};
use haunch_mechanics::section::{Forces, Part, Section, Shape, Side};
use haunch_mechanics::torsion::saint_venant;
use haunch_quantity::typed::{
    FlexuralRigidity, Force, ForcePerLength, Length, Moment, Ratio, Typed,
};

fn metres(value: f64) -> Length {
    Length::from_si(value)
}

fn rectangle(left: f64, bottom: f64, width: f64, height: f64) -> Part {
    Part::material(Shape::Rectangle {
        left: metres(left),
        bottom: metres(bottom),
        width: metres(width),
        height: metres(height),
    })
}

/// A pile of plates of changing breadth, each on the one below.
fn parts(count: usize) -> Vec<Part> {
    (0..count)
        .map(|index| {
            let width = 0.05 + 0.01 * (index % 7) as f64;
            rectangle(-0.5 * width, 0.01 * index as f64, width, 0.01)
        })
        .collect()
}

fn all_properties(parts: &[Part]) -> f64 {
    let section = Section::new(parts).expect("the plates touch");
    let mut sum = section.area().si() + section.second_moments().ixx.si();
    sum += section.principal_axes().major.si() + section.gyration_x().si();
    for side in [Side::Top, Side::Bottom, Side::Left, Side::Right] {
        sum += section.section_modulus(side).si();
    }
    sum += section.plastic_x().map_or(0.0, |p| p.modulus.si());
    sum += section.plastic_y().map_or(0.0, |p| p.modulus.si());
    let shear = section.largest_shear_stress(Force::from_si(1e3));
    sum += shear.map_or(0.0, |found| found.stress.si());
    let forces = Forces::bending(Moment::from_si(1e3));
    sum += section
        .extreme_stresses(&forces)
        .map_or(0.0, |found| found.greatest.stress.si());
    for part in 0..parts.len() {
        sum += section.part(part).map_or(0.0, |own| own.area.si());
    }
    sum
}

/// Ten spans of 5 m, five loads in each, in five cases.
fn loaded_beam() -> (Beam, Vec<Loading>) {
    let support = |index: usize| Support {
        at: metres(5.0 * index as f64),
        kind: SupportKind::Roller,
    };
    let beam = Beam {
        length: metres(50.0),
        supports: (0..=10).map(support).collect(),
        hinges: Vec::new(),
        stiffness: Stiffness::Uniform(FlexuralRigidity::from_si(2e7)),
    };
    let mut cases = vec![Loading::default(); 5];
    for index in 0..50 {
        let from = index as f64;
        let load = if index % 2 == 0 {
            Load::Force {
                at: metres(from + 0.3),
                down: Force::from_si(1e3 * (1 + index % 9) as f64),
            }
        } else {
            Load::Distributed {
                from: metres(from),
                to: metres(from + 0.9),
                down_at_from: ForcePerLength::from_si(2e3),
                down_at_to: ForcePerLength::from_si(3e3),
            }
        };
        cases[index % 5].loads.push(load);
    }
    (beam, cases)
}

fn ten_combinations(beam: &Beam, cases: &[Loading]) -> f64 {
    let analysis = Analysis::new(beam).expect("the beam is held");
    let responses: Vec<Response> = cases
        .iter()
        .map(|case| analysis.response(0, case).expect("the loads are on it"))
        .collect();
    let combined: Vec<Response> = (0..10)
        .map(|index| {
            let factor = |case: usize| 1.0 + 0.1 * ((index + case) % 5) as f64;
            let terms: Vec<(f64, &Response)> = responses
                .iter()
                .enumerate()
                .map(|(case, response)| (factor(case), response))
                .collect();
            Response::combine(&terms).expect("one beam")
        })
        .collect();
    let moments: Vec<_> = combined.iter().map(Response::moment).collect();
    let shears: Vec<_> = combined.iter().map(Response::shear).collect();
    let sags: Vec<_> = combined.iter().filter_map(Response::deflection).collect();
    let moment = Envelope::of(&moments).expect("there are some");
    let shear = Envelope::of(&shears).expect("there are some");
    let sag = Envelope::of(&sags).expect("there are some");
    moment.max.extreme.value.si() + shear.max.extreme.value.si() + sag.max.extreme.value.si()
}

/// Four wheels along the ten spans under the first case, everything along each span.
fn four_wheels(beam: &Beam, cases: &[Loading]) -> f64 {
    let analysis = Analysis::new(beam).expect("the beam is held");
    let fixed = analysis
        .response(0, &cases[1])
        .expect("the loads are on it");
    let wheel = |(distance, down): (f64, f64)| Wheel {
        after_first: metres(distance),
        down: Force::from_si(down),
    };
    let wheels = [(0.0, 12e3), (1.8, 12e3), (4.1, 9e3), (5.9, 9e3)].map(wheel);
    let train = Train::new(&analysis, &wheels, true).expect("finite");
    let borders: Vec<Length> = beam.supports.iter().map(|support| support.at).collect();
    let standings = train.governing(1.0, &fixed, &borders).expect("found");
    standings
        .iter()
        .map(|s| s.response.moment().extremes().max.value.si())
        .sum()
}

/// The median of several runs.
fn time(name: &str, runs: usize, mut work: impl FnMut() -> f64) {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            black_box(work());
            start.elapsed()
        })
        .collect();
    times.sort();
    println!("{name}: {:.3} ms", times[runs / 2].as_secs_f64() * 1e3);
}

fn main() {
    let plates = parts(100);
    time("section of 100 parts, all properties", 51, || {
        all_properties(black_box(&plates))
    });
    let (beam, cases) = loaded_beam();
    time("10 spans, 50 loads, 10 combinations", 51, || {
        ten_combinations(black_box(&beam), black_box(&cases))
    });
    time("10 spans, 4 wheels either way round", 11, || {
        four_wheels(black_box(&beam), black_box(&cases))
    });
    let angle = [
        rectangle(0.0, 0.0, 0.1, 0.012),
        rectangle(0.0, 0.012, 0.012, 0.088),
    ];
    let angle = Section::new(&angle).expect("the legs touch");
    time("numerical torsion of an L to 0.1 %", 5, || {
        let found = saint_venant(black_box(&angle), Ratio::from_si(1e-3));
        found.map_or(f64::NAN, |found| found.torsion_constant.si())
    });
}

//! What holds for every beam, tried on random ones.

use haunch_mechanics::beam::{
    Beam, Diagram, Load, Loading, Response, Sense, Side, Stiffness, Stretch, Support, SupportKind,
    solve,
};
use haunch_quantity::typed::{
    Curvature, FlexuralRigidity, Force, ForcePerLength, Length, Moment, Typed,
};
use proptest::prelude::*;

const CLOSE: f64 = 1e-9;

fn m(x: f64) -> Length {
    Length::from_si(x)
}

/// Spans of 0.5 m to 12 m on pins and springs, the ends perhaps fixed, perhaps overhanging; perhaps
/// a hinge in the second span; two rigidities.
fn beams() -> impl Strategy<Value = Beam> {
    let spans = prop::collection::vec(0.5..12.0_f64, 1..7);
    let ends = (
        0..3_u8,
        0..3_u8,
        any::<bool>(),
        prop::option::of(1e4..1e9_f64),
    );
    let rigidities = (1e5..1e8_f64, 1e5..1e8_f64, 0.1..0.9_f64);
    (spans, ends, rigidities).prop_map(
        |(spans, (start, end, hinged, spring), (first, second, step))| {
            let mut places = vec![if start == 2 { 1.5 } else { 0.0 }];
            for span in &spans {
                places.push(places[places.len() - 1] + span);
            }
            let last = places.len() - 1;
            let length = places[last] + if end == 2 { 0.8 } else { 0.0 };
            let support = |(index, &x): (usize, &f64)| {
                let fixed = (index == 0 && start == 1) || (index == last && end == 1);
                let kind = match spring {
                    _ if fixed => SupportKind::Fixed,
                    Some(stiffness) if index == 1 => {
                        SupportKind::Spring(ForcePerLength::from_si(stiffness))
                    }
                    _ => SupportKind::Pin,
                };
                Support { at: m(x), kind }
            };
            let hinges = if hinged && spans.len() > 2 {
                vec![m(places[1] + 0.3 * spans[1])]
            } else {
                Vec::new()
            };
            let stretch = |from: f64, to: f64, rigidity: f64| Stretch {
                from: m(from),
                to: m(to),
                rigidity: FlexuralRigidity::from_si(rigidity),
            };
            let middle = step * length;
            Beam {
                length: m(length),
                supports: places.iter().enumerate().map(support).collect(),
                hinges,
                stiffness: Stiffness::Stepped(vec![
                    stretch(0.0, middle, first),
                    stretch(middle, length, second),
                ]),
            }
        },
    )
}

/// A load whose places are shares of the length.
fn loads() -> impl Strategy<Value = Vec<(u8, f64, f64, f64, f64)>> {
    prop::collection::vec(
        (
            0..4_u8,
            0.0..1.0_f64,
            0.0..1.0_f64,
            -1.0..1.0_f64,
            -1.0..1.0_f64,
        ),
        1..8,
    )
}

fn real(loads: &[(u8, f64, f64, f64, f64)], length: f64) -> Vec<Load> {
    let load = |&(kind, a, b, first, second): &(u8, f64, f64, f64, f64)| {
        let (from, to) = (a.min(b) * length, a.max(b) * length);
        match kind {
            0 => Load::Force {
                at: m(from),
                down: Force::from_si(1e4 * first),
            },
            1 => Load::Couple {
                at: m(from),
                moment: Moment::from_si(1e4 * first),
                sense: Sense::Clockwise,
            },
            2 if to - from > 1e-6 => Load::Distributed {
                from: m(from),
                to: m(to),
                down_at_from: ForcePerLength::from_si(1e4 * first),
                down_at_to: ForcePerLength::from_si(1e4 * second),
            },
            3 if to - from > 1e-6 => Load::Curvature {
                from: m(from),
                to: m(to),
                sagging: Curvature::from_si(1e-3 * first),
            },
            _ => Load::Settlement {
                support: 0,
                down: m(0.01 * first),
            },
        }
    };
    loads.iter().map(load).collect()
}

fn respond(beam: &Beam, loads: Vec<Load>) -> Response {
    solve(beam, &[Loading { loads }])
        .expect("a sound beam")
        .remove(0)
}

fn size<Q: Typed>(diagram: &Diagram<Q>) -> f64 {
    diagram.extremes().largest_magnitude().value.si().abs()
}

fn at<Q: Typed>(diagram: &Diagram<Q>, x: f64) -> f64 {
    diagram.at(m(x), Side::After).expect("on the beam").si()
}

/// All four diagrams agree with `other` at a place, the last two read at `mirror(x)` with signs.
#[track_caller]
fn assert_same(one: &Response, other: &Response, x: f64, extra: &Response) {
    let compare =
        |a: f64, b: f64, size: f64| assert!((a - b).abs() <= CLOSE * size + 1e-300, "{a} {b}");
    compare(
        at(one.shear(), x),
        at(other.shear(), x),
        size(one.shear()) + size(extra.shear()),
    );
    compare(
        at(one.moment(), x),
        at(other.moment(), x),
        size(one.moment()) + size(extra.moment()),
    );
    let deflection = |response: &Response| response.deflection().expect("known").clone();
    compare(
        at(&deflection(one), x),
        at(&deflection(other), x),
        size(&deflection(one)) + size(&deflection(extra)),
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn forces_and_moments_are_in_equilibrium(beam in beams(), loads in loads()) {
        let loads = real(&loads, beam.length.si());
        let response = respond(&beam, loads.clone());
        // Sums of what goes down, and of what turns clockwise about the start.
        let (mut down, mut turning, mut all, mut all_turning) = (0.0, 0.0, 0.0, 0.0);
        let mut add = |force: f64, x: f64, couple: f64| {
            down += force;
            turning += force * x + couple;
            all += force.abs();
            all_turning += (force * x).abs() + couple.abs();
        };
        for load in &loads {
            match *load {
                Load::Force { at, down } => add(down.si(), at.si(), 0.0),
                Load::Couple { moment, .. } => add(0.0, 0.0, moment.si()),
                Load::Distributed { from, to, down_at_from, down_at_to } => {
                    let (from, length) = (from.si(), to.si() - from.si());
                    let (first, second) = (down_at_from.si(), down_at_to.si());
                    add(first * length / 2.0, from + length / 3.0, 0.0);
                    add(second * length / 2.0, from + length * 2.0 / 3.0, 0.0);
                }
                _ => {}
            }
        }
        for reaction in response.reactions() {
            add(-reaction.force.si(), reaction.at.si(), reaction.moment.map_or(0.0, Typed::si));
        }
        prop_assert!(down.abs() <= CLOSE * all, "{down}");
        prop_assert!(turning.abs() <= CLOSE * all_turning, "{turning}");
    }

    #[test]
    fn two_cases_together_are_their_sum(beam in beams(), one in loads(), other in loads(), share in 0.0..1.0_f64) {
        let length = beam.length.si();
        let (one, other) = (real(&one, length), real(&other, length));
        let first = respond(&beam, one.clone());
        let second = respond(&beam, other.clone());
        let both = respond(&beam, one.into_iter().chain(other).collect());
        let sum = Response::combine(&[(1.0, &first), (1.0, &second)]).expect("one beam");
        assert_same(&sum, &both, share * length, &first);
        let difference = Response::combine(&[(2.0, &both), (-2.0, &second)]).expect("one beam");
        let twice = Response::combine(&[(2.0, &first)]).expect("one beam");
        assert_same(&difference, &twice, share * length, &both);
    }

    #[test]
    fn order_changes_no_bit(beam in beams(), (one, shuffled) in loads().prop_flat_map(|loads| (Just(loads.clone()), Just(loads).prop_shuffle()))) {
        let length = beam.length.si();
        let first = respond(&beam, real(&one, length));
        let second = respond(&beam, real(&shuffled, length));
        prop_assert_eq!(&first, &second);
        let single: Vec<Response> = one.iter().map(|load| respond(&beam, real(&[*load], length))).collect();
        let terms: Vec<(f64, &Response)> = single.iter().map(|response| (1.35, response)).collect();
        let backwards: Vec<(f64, &Response)> = terms.iter().rev().copied().collect();
        prop_assert_eq!(Response::combine(&terms), Response::combine(&backwards));
    }

    #[test]
    fn a_mirrored_beam_has_mirrored_results(beam in beams(), loads in loads(), share in 0.0..1.0_f64) {
        let length = beam.length.si();
        let mirror = |x: Length| m((length - x.si()).max(0.0));
        let loads = real(&loads, length);
        let mut mirrored = beam.clone();
        mirrored.supports.iter_mut().for_each(|support| support.at = mirror(support.at));
        mirrored.hinges.iter_mut().for_each(|hinge| *hinge = mirror(*hinge));
        if let Stiffness::Stepped(stretches) = &mut mirrored.stiffness {
            for stretch in stretches {
                (stretch.from, stretch.to) = (mirror(stretch.to), mirror(stretch.from));
            }
        }
        let turned = loads.iter().map(|load| match *load {
            Load::Force { at, down } => Load::Force { at: mirror(at), down },
            Load::Couple { at, moment, .. } => Load::Couple { at: mirror(at), moment, sense: Sense::Anticlockwise },
            Load::Distributed { from, to, down_at_from, down_at_to } => Load::Distributed {
                from: mirror(to), to: mirror(from), down_at_from: down_at_to, down_at_to: down_at_from,
            },
            Load::Curvature { from, to, sagging } => Load::Curvature { from: mirror(to), to: mirror(from), sagging },
            other => other,
        });
        let other = respond(&mirrored, turned.collect());
        let one = respond(&beam, loads);
        let x = share * length;
        let compare = |a: f64, b: f64, size: f64| prop_assert_close(a, b, size);
        compare(at(one.shear(), x), -at(other.shear(), length - x), size(one.shear()))?;
        compare(at(one.moment(), x), at(other.moment(), length - x), size(one.moment()))?;
        let (a, b) = (one.deflection().expect("known"), other.deflection().expect("known"));
        compare(at(a, x), at(b, length - x), size(a))?;
        let (a, b) = (one.slope().expect("known"), other.slope().expect("known"));
        compare(at(a, x), -at(b, length - x), size(a))?;
    }

    #[test]
    fn a_load_in_two_parts_is_the_same_load(beam in beams(), (a, b, cut) in (0.0..0.4_f64, 0.6..1.0_f64, 0.45..0.55_f64), w in 1e2..1e5_f64, slope in -1e4..1e4_f64, share in 0.0..1.0_f64) {
        let length = beam.length.si();
        let load = |from: f64, to: f64| Load::Distributed {
            from: m(from * length),
            to: m(to * length),
            down_at_from: ForcePerLength::from_si(w + slope * from),
            down_at_to: ForcePerLength::from_si(w + slope * to),
        };
        let whole = respond(&beam, vec![load(a, b)]);
        let parts = respond(&beam, vec![load(a, cut), load(cut, b)]);
        assert_same(&whole, &parts, share * length, &whole);
    }

    #[test]
    fn each_diagram_is_the_change_of_the_next(beam in beams(), loads in loads(), share in 0.05..0.95_f64) {
        // Central differences that are exact up to degree 6, inside one piece: V = dM/dx and
        // slope = d(deflection)/dx.
        let response = respond(&beam, real(&loads, beam.length.si()));
        let places: Vec<f64> = response.moment().places().map(Typed::si).collect();
        for ends in places.windows(2).filter(|ends| ends[1] - ends[0] > 1e-2) {
            let width = ends[1] - ends[0];
            let (x, step) = (ends[0] + share * width, 0.015 * width);
            let change = |value: &dyn Fn(f64) -> f64| {
                let across = |steps: f64| value(x + steps * step) - value(x - steps * step);
                (45.0 * across(1.0) - 9.0 * across(2.0) + across(3.0)) / (60.0 * step)
            };
            let moment = response.moment();
            let tolerance = 1e-8 * (size(response.shear()) + size(moment) / width);
            prop_assert!((change(&|x| at(moment, x)) - at(response.shear(), x)).abs() <= tolerance);
            let (slope, deflection) = (response.slope().expect("known"), response.deflection().expect("known"));
            let tolerance = 1e-8 * (size(slope) + size(deflection) / width);
            prop_assert!((change(&|x| at(deflection, x)) - at(slope, x)).abs() <= tolerance);
        }
    }

    #[test]
    fn supports_hinges_and_free_ends(beam in beams(), loads in loads()) {
        let length = beam.length.si();
        let mut loads = real(&loads, length);
        loads.retain(|load| !matches!(load, Load::Settlement { .. }));
        let response = respond(&beam, loads);
        let deflection = response.deflection().expect("known");
        for support in &beam.supports {
            if !matches!(support.kind, SupportKind::Spring(_)) {
                prop_assert_eq!(deflection.at(support.at, Side::Before).map(Typed::si), Some(0.0));
                prop_assert_eq!(deflection.at(support.at, Side::After).map(Typed::si), Some(0.0));
            }
        }
        for hinge in &beam.hinges {
            prop_assert_eq!(response.moment().at(*hinge, Side::Before).map(Typed::si), Some(0.0));
            prop_assert_eq!(response.moment().at(*hinge, Side::After).map(Typed::si), Some(0.0));
        }
        if beam.supports.iter().all(|support| support.at.si() < length) {
            prop_assert_eq!(at(response.moment(), length), 0.0);
            prop_assert_eq!(at(response.shear(), length), 0.0);
        }
    }

    #[test]
    fn nothing_goes_beyond_the_extremes(beam in beams(), loads in loads(), shares in prop::collection::vec(0.0..1.0_f64, 40)) {
        let length = beam.length.si();
        let response = respond(&beam, real(&loads, length));
        fn inside<Q: Typed>(diagram: &Diagram<Q>, shares: &[f64], length: f64) -> bool {
            let extremes = diagram.extremes();
            let (max, min) = (extremes.max, extremes.min);
            let slack = 1e-12 * size(diagram);
            let there = |extreme: haunch_mechanics::beam::Extreme<Q>| {
                let value = diagram.at(extreme.at, extreme.side).expect("on the beam").si();
                (value - extreme.value.si()).abs() <= slack
            };
            there(max) && there(min) && shares.iter().all(|share| {
                let value = at(diagram, share * length);
                value <= max.value.si() + slack && value >= min.value.si() - slack
            })
        }
        prop_assert!(inside(response.shear(), &shares, length));
        prop_assert!(inside(response.moment(), &shares, length));
        prop_assert!(inside(response.slope().expect("known"), &shares, length));
        prop_assert!(inside(response.deflection().expect("known"), &shares, length));
    }
}

fn prop_assert_close(a: f64, b: f64, size: f64) -> Result<(), TestCaseError> {
    prop_assert!((a - b).abs() <= CLOSE * size + 1e-300, "{} {}", a, b);
    Ok(())
}

//! Trains of wheels: closed forms, and dense sampling of the train's places with the solver of
//! fixed loads.

use haunch_mechanics::beam::{
    Analysis, AtPlace, Beam, BendingForces, Envelope, Load, Loading, Measure, Response, Side,
    Standing, Stiffness, Stretch, Support, SupportKind, Train, Wheel,
};
use haunch_quantity::typed::{FlexuralRigidity, Force, ForcePerLength, Length, Typed};
use proptest::prelude::*;

fn metres(x: f64) -> Length {
    Length::from_si(x)
}

fn support(x: f64, kind: SupportKind) -> Support {
    Support {
        at: metres(x),
        kind,
    }
}

fn on_pins(places: &[f64], length: f64) -> Beam {
    Beam {
        length: metres(length),
        supports: places
            .iter()
            .map(|x| support(*x, SupportKind::Pin))
            .collect(),
        hinges: Vec::new(),
        stiffness: Stiffness::Uniform(FlexuralRigidity::from_si(3e6)),
    }
}

fn wheels(wheels: &[(f64, f64)]) -> Vec<Wheel> {
    let wheel = |(distance, down): &(f64, f64)| Wheel {
        after_first: metres(*distance),
        down: Force::from_si(*down),
    };
    wheels.iter().map(wheel).collect()
}

/// The responses at the governing places, and of what acts besides.
fn governing(beam: &Beam, train: &[(f64, f64)], both_ways: bool, fixed: &[Load]) -> Vec<Response> {
    let analysis = Analysis::new(beam).expect("the beam is held");
    let loads = fixed.to_vec();
    let fixed = analysis
        .response(0, &Loading { loads })
        .expect("the loads are on it");
    let train = Train::new(&analysis, &wheels(train), both_ways).expect("it is finite");
    let borders: Vec<Length> = beam.supports.iter().map(|s| s.at).collect();
    let standings = train.governing(1.0, &fixed, &borders).expect("it is found");
    sums(&fixed, &standings)
}

fn sums(fixed: &Response, standings: &[Standing]) -> Vec<Response> {
    standings
        .iter()
        .map(|s| Response::combine(&[(1.0, fixed), (1.0, &s.response)]).expect("one beam"))
        .collect()
}

/// Largest and smallest moment and shear, the deflection, and all reactions.
#[derive(Debug)]
struct Extremes {
    moment: (f64, f64),
    shear: (f64, f64),
    sag: (f64, f64),
    reactions: Vec<(f64, f64)>,
}

fn extremes(responses: &[Response]) -> Extremes {
    fn pair<Q: Typed>(diagrams: &[&haunch_mechanics::beam::Diagram<Q>]) -> (f64, f64) {
        let of = Envelope::of(diagrams).expect("there are some");
        (of.max.extreme.value.si(), of.min.extreme.value.si())
    }
    let count = responses[0].reactions().len();
    let reaction = |support: usize| {
        let all = responses.iter().map(|r| r.reactions()[support].force.si());
        let max = all.clone().fold(f64::NEG_INFINITY, f64::max);
        (max, all.fold(f64::INFINITY, f64::min))
    };
    Extremes {
        moment: pair(&responses.iter().map(Response::moment).collect::<Vec<_>>()),
        shear: pair(&responses.iter().map(Response::shear).collect::<Vec<_>>()),
        sag: pair(
            &responses
                .iter()
                .filter_map(Response::deflection)
                .collect::<Vec<_>>(),
        ),
        reactions: (0..count).map(reaction).collect(),
    }
}

fn close(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 2e-10 * expected.abs().max(1.0),
        "{found} {expected}"
    );
}

/// P·L/4 in the middle, P at the support (AISC *Steel Construction Manual*, table 3-23, from
/// memory); deflection P·L³/(48·EI).
#[test]
fn one_wheel() {
    let found = extremes(&governing(
        &on_pins(&[0.0, 6.0], 6.0),
        &[(0.0, 8e3)],
        true,
        &[],
    ));
    close(found.moment.0, 8e3 * 6.0 / 4.0);
    close(found.moment.1, 0.0);
    close(found.shear.0, 8e3);
    close(found.shear.1, -8e3);
    close(found.sag.0, 8e3 * 216.0 / (48.0 * 3e6));
    close(found.reactions[0].0, 8e3);
    close(found.reactions[0].1, 0.0);
}

/// P/(2L)·(L − a/2)² under one wheel at (L − a/2)/2 if a < (2 − √2)·L, else P·L/4; shear
/// P·(2 − a/L) (AISC table 3-23, two equal moving loads, from memory).
#[test]
fn two_equal_wheels() {
    let (p, l) = (12e3, 6.0);
    let beam = on_pins(&[0.0, l], l);
    for a in [1.8, 3.4, 3.5146, 3.5148, 4.0, 7.0] {
        let found = extremes(&governing(&beam, &[(0.0, p), (a, p)], true, &[]));
        let moment = if a < (2.0 - 2.0_f64.sqrt()) * l {
            p / (2.0 * l) * (l - a / 2.0) * (l - a / 2.0)
        } else {
            p * l / 4.0
        };
        close(found.moment.0, moment);
        close(found.shear.0, p + p * ((l - a) / l).max(0.0));
        close(found.reactions[0].0, p + p * ((l - a) / l).max(0.0));
    }
}

/// (P1 + P2)/(4L)·(L − P2·a/(P1 + P2))² under the heavier wheel, unless P1·L/4 is more; shear
/// P1 + P2·(L − a)/L (AISC table 3-23, two unequal moving loads, from memory). One way only, the
/// heavier wheel behind, the shear at the start is the lesser one.
#[test]
fn two_unequal_wheels() {
    let (p1, p2, a, l) = (20e3, 8e3, 2.0, 7.0);
    let beam = on_pins(&[0.0, l], l);
    let both = extremes(&governing(&beam, &[(0.0, p2), (a, p1)], true, &[]));
    let lever = l - p2 * a / (p1 + p2);
    close(
        both.moment.0,
        ((p1 + p2) / (4.0 * l) * lever * lever).max(p1 * l / 4.0),
    );
    close(both.shear.0, p1 + p2 * (l - a) / l);
    close(both.shear.1, -(p1 + p2 * (l - a) / l));
    let one_way = extremes(&governing(&beam, &[(0.0, p2), (a, p1)], false, &[]));
    close(one_way.shear.0, (p2 + p1 * (l - a) / l).max(p1));
    close(one_way.shear.1, -(p1 + p2 * (l - a) / l));
}

/// The influence lines of a beam past its support (statics; Hibbeler, *Structural Analysis*,
/// influence lines of a beam with an overhang, from memory): hogging P·a, uplift P·a/L.
#[test]
fn an_overhang() {
    let found = extremes(&governing(
        &on_pins(&[0.0, 4.0], 5.5),
        &[(0.0, 6e3)],
        true,
        &[],
    ));
    close(found.moment.0, 6e3);
    close(found.moment.1, -6e3 * 1.5);
    close(found.reactions[0].1, -6e3 * 1.5 / 4.0);
    close(found.reactions[1].0, 6e3 * 5.5 / 4.0);
    close(found.shear.0, 6e3);
}

/// Two equal spans: P·x·(L − x)·(4L² − x·(L + x))/(4L³) under the wheel, 0.2074·P·L at 0.432·L, and
/// 0.0962·P·L = P·L/(6√3) hogging over the support with the wheel at L/√3 (influence tables of
/// continuous beams, from memory; the formula by the three-moment equation, worked out in
/// `beam_wheels_two_spans.py`).
#[test]
fn two_spans() {
    let (p, l) = (10e3, 5.0);
    let found = extremes(&governing(
        &on_pins(&[0.0, l, 2.0 * l], 2.0 * l),
        &[(0.0, p)],
        true,
        &[],
    ));
    close(found.moment.0, 0.207_427_228_925_56 * p * l);
    close(found.moment.1, -p * l / (6.0 * 3.0_f64.sqrt()));
    close(found.reactions[1].0, p);
}

/// Under a permanent load as well: one wheel in the middle adds P·L/4 to w·L²/8, and the train's
/// place is not that of the wheels alone where the load is on one half only.
#[test]
fn with_a_permanent_load() {
    let (p, w, l) = (5e3, 4e3, 6.0);
    let beam = on_pins(&[0.0, l], l);
    let load = |to: f64| Load::Distributed {
        from: metres(0.0),
        to: metres(to),
        down_at_from: ForcePerLength::from_si(w),
        down_at_to: ForcePerLength::from_si(w),
    };
    let found = extremes(&governing(&beam, &[(0.0, p)], true, &[load(l)]));
    close(found.moment.0, p * l / 4.0 + w * l * l / 8.0);
    close(found.shear.0, p + w * l / 2.0);
    let found = extremes(&governing(&beam, &[(0.0, p)], true, &[load(l / 2.0)]));
    // In the loaded half: R·x − w·x²/2 + P·x·(L − x)/L with R = 3·w·L/8.
    let slope = 3.0 * w * l / 8.0 + p;
    let x = slope / (w + 2.0 * p / l);
    close(found.moment.0, slope * x - (w / 2.0 + p / l) * x * x);
}

/// Wheels that are next to nothing, and nothing, beside the permanent load: w·L²/8 + P·L/4.
#[test]
fn wheels_of_any_size() {
    let (w, l) = (4e3, 6.0);
    let beam = on_pins(&[0.0, l], l);
    let load = Load::Distributed {
        from: metres(0.0),
        to: metres(l),
        down_at_from: ForcePerLength::from_si(w),
        down_at_to: ForcePerLength::from_si(w),
    };
    for p in [0.0, 1e-9, 1e-3, 1.0, 1e9] {
        let found = extremes(&governing(
            &beam,
            &[(0.0, p), (0.4 * l, 0.5 * p)],
            true,
            &[load],
        ));
        assert!(
            found.moment.0 >= (w * l * l / 8.0 + p * l / 4.0) * (1.0 - 1e-10),
            "{p}"
        );
    }
}

/// A wheel on the way to the end of a beam may be off it, and the whole train too.
#[test]
fn off_the_beam() {
    let beam = on_pins(&[0.0, 4.0], 4.0);
    let found = extremes(&governing(&beam, &[(0.0, 1e3), (9.0, 3e3)], false, &[]));
    close(found.moment.0, 3e3);
    close(found.moment.1, 0.0);
    close(found.reactions[0].1, 0.0);
}

fn any_beam() -> impl Strategy<Value = Beam> {
    let spans = prop::collection::vec(1.0..8.0_f64, 1..4);
    let ends = (any::<bool>(), any::<bool>(), 0.0..1.5_f64, 0.0..1.0_f64);
    let rest = (any::<bool>(), any::<bool>(), 0.2..0.8_f64, 1e5..1e7_f64);
    (spans, ends, rest).prop_map(
        |(spans, (left, soft, over, step), (hinged, stepped, share, k))| {
            let mut x = if left { over + 0.05 } else { 0.0 };
            let mut supports = vec![support(x, SupportKind::Pin)];
            for span in &spans {
                x += span;
                let spring = SupportKind::Spring(ForcePerLength::from_si(k));
                supports.push(support(x, if soft { spring } else { SupportKind::Roller }));
            }
            let length = if step > 0.5 { x + over + 0.05 } else { x };
            if !left && !soft {
                supports[0].kind = SupportKind::Fixed;
            }
            let hinges = match (hinged, spans.len()) {
                (true, 2..) => vec![metres(supports[1].at.si() + share * spans[1])],
                _ => Vec::new(),
            };
            let stretch = |from: f64, to: f64, rigidity: f64| Stretch {
                from: metres(from),
                to: metres(to),
                rigidity: FlexuralRigidity::from_si(rigidity),
            };
            let border = share * length;
            Beam {
                length: metres(length),
                supports,
                hinges,
                stiffness: if stepped {
                    Stiffness::Stepped(vec![
                        stretch(0.0, border, 2e6),
                        stretch(border, length, 5e6),
                    ])
                } else {
                    Stiffness::Uniform(FlexuralRigidity::from_si(3e6))
                },
            }
        },
    )
}

fn any_train() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((0.2..3.0_f64, 1e3..2e4_f64), 1..5).prop_map(|wheels| {
        let mut place = 0.0;
        let mut train = Vec::new();
        for (distance, load) in wheels {
            train.push((place, load));
            place += distance;
        }
        train
    })
}

fn any_loads() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64, -4e3..8e3_f64), 0..3)
}

fn loads(given: &[(f64, f64, f64)], length: f64) -> Vec<Load> {
    let load = |(a, b, size): &(f64, f64, f64)| {
        if (a - b).abs() < 0.1 {
            return Load::Force {
                at: metres(a * length),
                down: Force::from_si(*size),
            };
        }
        Load::Distributed {
            from: metres(a.min(*b) * length),
            to: metres(a.max(*b) * length),
            down_at_from: ForcePerLength::from_si(*size),
            down_at_to: ForcePerLength::from_si(0.4 * size),
        }
    };
    given.iter().map(load).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn no_place_is_worse(beam in any_beam(), train in any_train(), given in any_loads(), one_way in any::<bool>(), share in 0.02..0.98_f64) {
        let length = beam.length.si();
        let analysis = Analysis::new(&beam);
        prop_assume!(analysis.is_ok());
        let analysis = analysis.expect("just checked");
        let loads = loads(&given, length);
        let fixed = analysis.response(0, &Loading { loads }).expect("the loads are on it");
        let moving = Train::new(&analysis, &wheels(&train), !one_way).expect("finite");
        let borders: Vec<Length> = beam.supports.iter().map(|s| s.at).collect();
        let standings = moving.governing(1.0, &fixed, &borders).expect("found");
        let found = extremes(&sums(&fixed, &standings));
        let x = metres(share * length);
        let at = |what: AtPlace| {
            let all = moving.governing_at(1.0, &fixed, x, what).expect("found");
            sums(&fixed, &all)
        };
        let (moment_at, shear_at, sag_at) = (at(AtPlace::Moment), at(AtPlace::Shear), at(AtPlace::Deflection));

        let mut sampled = vec![fixed.clone()];
        let total = train.last().expect("a wheel").0;
        let ways: &[f64] = if one_way { &[1.0] } else { &[1.0, -1.0] };
        for way in ways {
            for step in 0..=300 {
                let place = -total + (length + 2.0 * total) * f64::from(step) / 300.0;
                let wheels = train.iter().map(|(distance, load)| (place + way * distance, *load));
                let loads = wheels
                    .filter(|(x, _)| (0.0..=length).contains(x))
                    .map(|(x, load)| Load::Force { at: metres(x), down: Force::from_si(load) })
                    .collect();
                let own = analysis.response(0, &Loading { loads }).expect("on the beam");
                sampled.push(Response::combine(&[(1.0, &fixed), (1.0, &own)]).expect("one beam"));
            }
        }
        let samples = extremes(&sampled);
        let covers = |found: (f64, f64), sampled: (f64, f64), what: &str| {
            let scale = found.0.abs().max(found.1.abs());
            prop_assert!(found.0 >= sampled.0 - 1e-9 * scale, "{what} {found:?} {sampled:?}");
            prop_assert!(found.1 <= sampled.1 + 1e-9 * scale, "{what} {found:?} {sampled:?}");
            Ok(())
        };
        covers(found.moment, samples.moment, "moment")?;
        covers(found.shear, samples.shear, "shear")?;
        covers(found.sag, samples.sag, "deflection")?;
        for (found, samples) in found.reactions.iter().zip(&samples.reactions) {
            let scale = found.0.abs().max(found.1.abs());
            prop_assert!(found.0 >= samples.0 - 1e-9 * scale && found.1 <= samples.1 + 1e-9 * scale);
        }
        fn envelope<Q: Typed>(all: &[Response], x: Length, of: impl Fn(&Response) -> &haunch_mechanics::beam::Diagram<Q>) -> (f64, f64) {
            let diagrams: Vec<_> = all.iter().map(of).collect();
            let found = Envelope::at(&diagrams, x).expect("on the beam");
            (found.max.extreme.value.si(), found.min.extreme.value.si())
        }
        covers(envelope(&moment_at, x, Response::moment), envelope(&sampled, x, Response::moment), "M(x)")?;
        covers(envelope(&sag_at, x, |r| r.deflection().expect("stiff")), envelope(&sampled, x, |r| r.deflection().expect("stiff")), "deflection(x)")?;
        let (found, samples) = (envelope(&shear_at, x, Response::shear), envelope(&sampled, x, Response::shear));
        let scale = found.0.abs().max(found.1.abs());
        prop_assert!(found.0 >= samples.0 - 1e-9 * scale && found.1 <= samples.1 + 1e-9 * scale, "V(x) {found:?} {samples:?}");
    }
}

/// What a convex measure of moments and shears comes to along a part of the beam, or on both sides of
/// a place.
fn measured(
    response: &Response,
    sideways: &Response,
    (from, to): (f64, f64),
    of: &dyn Fn(&BendingForces) -> f64,
) -> f64 {
    let at = |x: f64, side: Side| {
        let x = metres(x);
        of(&BendingForces {
            moment: response.moment().at(x, side).expect("on the beam"),
            shear: response.shear().at(x, side).expect("on the beam"),
            moment_sideways: sideways.moment().at(x, side).expect("on the beam"),
            shear_sideways: sideways.shear().at(x, side).expect("on the beam"),
        })
    };
    if from == to {
        return at(from, Side::Before).max(at(from, Side::After));
    }
    let mut places: Vec<f64> = response.shear().places().map(Typed::si).collect();
    places.extend((0..=60).map(|step| from + (to - from) * f64::from(step) / 60.0));
    places.retain(|x| *x >= from && *x <= to);
    let both = places.into_iter().flat_map(|x| {
        let before = (x > from).then(|| at(x, Side::Before));
        let after = (x < to).then(|| at(x, Side::After));
        [before, after].into_iter().flatten().collect::<Vec<f64>>()
    });
    both.fold(f64::NEG_INFINITY, f64::max)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Against many places of the train: none is worse, and the places that are given reach the bound.
    #[test]
    fn nothing_is_worse_than_the_worst_of_moments_and_shears_together(
        second in 2.0..6.0_f64,
        distance in 0.3..3.0_f64,
        ratio in 0.3..1.5_f64,
        even in 0.0..3e3_f64,
        push in -4e3..4e3_f64,
        weight in 0.05..2.0_f64,
    ) {
        let length = 3.0 + second;
        let beam = on_pins(&[0.0, 3.0, length], length);
        let analysis = Analysis::new(&beam).expect("the beam is held");
        let distributed = |down: f64| Load::Distributed {
            from: metres(0.0),
            to: metres(length),
            down_at_from: ForcePerLength::from_si(down),
            down_at_to: ForcePerLength::from_si(0.5 * down),
        };
        let response = |down: f64| {
            let loads = vec![distributed(down)];
            analysis.response(0, &Loading { loads }).expect("it is on it")
        };
        let (fixed, sideways) = (response(even), response(push));
        let own = wheels(&[(0.0, 9e3), (distance, ratio * 9e3)]);
        let train = Train::new(&analysis, &own, true).expect("it is finite");
        let together = |forces: &BendingForces| {
            let normal = forces.moment.si().abs() + 0.6 * forces.moment_sideways.si().abs();
            let shear = forces.shear.si().abs() + forces.shear_sideways.si().abs();
            libm::hypot(normal, weight * shear)
        };
        let parts = [(0.0, 3.0), (3.0, length), (1.3, 1.3)];
        let measures = parts.map(|(from, to)| Measure {
            from: metres(from),
            to: metres(to),
            of: &together,
        });
        let found = train.worst(1.2, &fixed, Some(&sideways), &measures).expect("it is found");
        let all = |standing: &Response| {
            Response::combine(&[(1.0, &fixed), (1.2, standing)]).expect("one beam")
        };
        for (part, worst) in parts.into_iter().zip(&found) {
            let reached = worst.standings.iter().map(|own| {
                measured(&all(&own.response), &sideways, part, &together)
            });
            let reached = reached.fold(0.0, f64::max);
            // The places along the beam are sampled here, those of wheels and loads among them.
            prop_assert!(reached <= worst.bound * (1.0 + 1e-9), "{reached} {worst:?}");
            prop_assert!(reached >= worst.bound * 0.997, "{reached} {}", worst.bound);
            for step in 0..=80 {
                for way in [1.0, -1.0] {
                    let first = -distance + (length + 2.0 * distance) * f64::from(step) / 80.0;
                    let force = |wheel: &Wheel| {
                        let x = first + way * wheel.after_first.si();
                        let on_it = (0.0..=length).contains(&x);
                        on_it.then_some(Load::Force { at: metres(x), down: wheel.down })
                    };
                    let loads: Vec<Load> = own.iter().filter_map(force).collect();
                    let standing = analysis.response(0, &Loading { loads }).expect("on it");
                    let other = measured(&all(&standing), &sideways, part, &together);
                    prop_assert!(
                        other <= worst.bound * (1.0 + 1e-9),
                        "{part:?} {first} {other} {}", worst.bound
                    );
                }
            }
        }
    }
}

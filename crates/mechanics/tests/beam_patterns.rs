//! Unfavourable patterns against all patterns there are.

use haunch_mechanics::beam::{
    Beam, Envelope, Load, Loading, Response, Side, Stiffness, Support, SupportKind, solve,
    unfavourable_patterns,
};
use haunch_quantity::typed::{FlexuralRigidity, ForcePerLength, Length, Typed};
use proptest::prelude::*;

/// Continuous beams, each span with a load of its own.
fn spans_and_loads() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((0.5..8.0_f64, -3e3..9e3_f64), 1..6)
}

fn responses(spans: &[(f64, f64)]) -> Vec<Response> {
    let mut supports = Vec::new();
    let mut loadings = Vec::new();
    let mut x = 0.0;
    let support = |x: f64| Support {
        at: Length::from_si(x),
        kind: SupportKind::Pin,
    };
    for &(length, load) in spans {
        supports.push(support(x));
        loadings.push(Loading {
            loads: vec![Load::Distributed {
                from: Length::from_si(x),
                to: Length::from_si(x + length),
                down_at_from: ForcePerLength::from_si(load),
                down_at_to: ForcePerLength::from_si(load),
            }],
        });
        x += length;
    }
    supports.push(support(x));
    let beam = Beam {
        length: Length::from_si(x),
        supports,
        hinges: Vec::new(),
        stiffness: Stiffness::Uniform(FlexuralRigidity::from_si(2e6)),
    };
    solve(&beam, &loadings).expect("the beam is held")
}

fn sums(terms: &[(f64, &Response)], patterns: impl Iterator<Item = Vec<bool>>) -> Vec<Response> {
    patterns
        .filter_map(|pattern| {
            let acting: Vec<(f64, &Response)> = terms
                .iter()
                .zip(pattern)
                .filter_map(|(term, acts)| acts.then_some(*term))
                .collect();
            Response::combine(&acting)
        })
        .collect()
}

/// The extremes over the beam and at places of it, the unloaded beam counted in.
fn extremes(responses: &[Response]) -> Vec<f64> {
    let mut values = Vec::new();
    let mut add = |max: f64, min: f64| values.extend([max.max(0.0), min.min(0.0)]);
    let moments: Vec<_> = responses.iter().map(Response::moment).collect();
    let shears: Vec<_> = responses.iter().map(Response::shear).collect();
    let sags: Vec<_> = responses.iter().filter_map(Response::deflection).collect();
    let length = moments[0].places().last().expect("it has an end").si();
    for share in [0.05, 0.21, 0.5, 0.77] {
        let x = Length::from_si(share * length);
        let of = Envelope::at(&moments, x).expect("on the beam");
        add(of.max.extreme.value.si(), of.min.extreme.value.si());
        let of = Envelope::at(&sags, x).expect("on the beam");
        add(of.max.extreme.value.si(), of.min.extreme.value.si());
        // Convex in moment and shear together, as a stress of both is.
        for weight in [0.1, 0.7, 3.0] {
            let together = |side: Side| {
                let both = moments.iter().zip(&shears).map(move |(moment, shear)| {
                    let moment = moment.at(x, side).expect("on the beam").si();
                    let shear = shear.at(x, side).expect("on the beam").si();
                    libm::hypot(moment, weight * shear)
                });
                both.fold(0.0, f64::max)
            };
            add(together(Side::Before).max(together(Side::After)), 0.0);
        }
    }
    let of = Envelope::of(&moments).expect("there are some");
    add(of.max.extreme.value.si(), of.min.extreme.value.si());
    let of = Envelope::of(&shears).expect("there are some");
    add(of.max.extreme.value.si(), of.min.extreme.value.si());
    let of = Envelope::of(&sags).expect("there are some");
    add(of.max.extreme.value.si(), of.min.extreme.value.si());
    for support in 0..responses[0].reactions().len() {
        let forces = responses.iter().map(|r| r.reactions()[support].force.si());
        add(
            forces.clone().fold(0.0, f64::max),
            forces.fold(0.0, f64::min),
        );
    }
    values
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn nothing_is_worse_than_the_unfavourable_patterns(spans in spans_and_loads(), factor in -2.0..2.0_f64) {
        let all = responses(&spans);
        let terms: Vec<(f64, &Response)> = all.iter().map(|r| (factor, r)).collect();
        let every = (1..1_u32 << spans.len())
            .map(|bits| (0..spans.len()).map(|span| bits >> span & 1 == 1).collect());
        let every = extremes(&sums(&terms, every));
        let few = extremes(&sums(&terms, unfavourable_patterns(&terms).into_iter()));
        let largest = every.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        for (a, b) in every.iter().zip(&few) {
            prop_assert!((a - b).abs() <= 1e-9 * (a.abs() + 1e-9 * largest), "{a} {b}");
        }
    }
}

//! Beams whose answer is a short formula. Textbook formulas from memory unless a source is named;
//! each follows from statics or from one integration and can be checked by hand.

use haunch_mechanics::beam::{
    Analysis, Beam, BeamError, Envelope, LargestFactor, Load, Loading, Response, Sense, Side,
    Stiffness, Stretch, Support, SupportKind, euler_load, largest_factor, solve,
};
use haunch_quantity::typed::{
    Curvature, FlexuralRigidity, Force, ForcePerLength, Length, Moment, Typed,
};

const EI: f64 = 2.1e7;

fn m(x: f64) -> Length {
    Length::from_si(x)
}

fn support(x: f64, kind: SupportKind) -> Support {
    Support { at: m(x), kind }
}

fn beam(length: f64, supports: &[(f64, SupportKind)]) -> Beam {
    Beam {
        length: m(length),
        supports: supports
            .iter()
            .map(|(x, kind)| support(*x, *kind))
            .collect(),
        hinges: Vec::new(),
        stiffness: Stiffness::Uniform(FlexuralRigidity::from_si(EI)),
    }
}

fn force(x: f64, down: f64) -> Load {
    Load::Force {
        at: m(x),
        down: Force::from_si(down),
    }
}

fn uniform(from: f64, to: f64, down: f64) -> Load {
    let down = ForcePerLength::from_si(down);
    Load::Distributed {
        from: m(from),
        to: m(to),
        down_at_from: down,
        down_at_to: down,
    }
}

fn respond(beam: &Beam, loads: &[Load]) -> Response {
    let mut responses = solve(
        beam,
        &[Loading {
            loads: loads.to_vec(),
        }],
    )
    .expect("a sound beam");
    responses.remove(0)
}

fn moment(response: &Response, x: f64) -> f64 {
    response
        .moment()
        .at(m(x), Side::Before)
        .expect("on the beam")
        .si()
}

fn deflection(response: &Response, x: f64) -> f64 {
    response
        .deflection()
        .expect("known")
        .at(m(x), Side::Before)
        .expect("on the beam")
        .si()
}

fn reaction(response: &Response, index: usize) -> f64 {
    response.reactions()[index].force.si()
}

#[track_caller]
fn close(found: f64, wanted: f64) {
    assert!(
        (found - wanted).abs() <= 1e-12 * wanted.abs(),
        "{found} is not {wanted}"
    );
}

#[test]
fn a_hung_span_between_two_hinges() {
    // Three spans of 6 m, hinges 1 m inside the middle one: its 4 m hang between cantilever arms.
    let mut gerber = beam(18.0, &[0.0, 6.0, 12.0, 18.0].map(|x| (x, SupportKind::Pin)));
    gerber.hinges = vec![m(7.0), m(11.0)];
    let response = respond(&gerber, &[uniform(0.0, 18.0, 5e3)]);
    close(moment(&response, 9.0), 5e3 * 4.0 * 4.0 / 8.0);
    close(
        moment(&response, 6.0),
        -(5e3 * 2.0 * 1.0 + 5e3 * 1.0 * 1.0 / 2.0),
    );
    assert_eq!(moment(&response, 7.0), 0.0);
    assert_eq!(moment(&response, 11.0), 0.0);
    assert_eq!(moment(&response, 18.0), 0.0);
}

#[test]
fn a_determinate_beam_needs_no_rigidity() {
    let mut unknown = beam(8.0, &[(0.0, SupportKind::Pin), (6.0, SupportKind::Roller)]);
    unknown.stiffness = Stiffness::Unknown;
    let response = respond(&unknown, &[force(8.0, 3e3)]);
    close(reaction(&response, 0), -1e3);
    close(reaction(&response, 1), 4e3);
    close(moment(&response, 6.0), -6e3);
    assert!(response.deflection().is_none() && response.slope().is_none());
}

#[test]
fn an_indeterminate_beam_of_unknown_uniform_rigidity() {
    let mut unknown = beam(12.0, &[0.0, 6.0, 12.0].map(|x| (x, SupportKind::Pin)));
    unknown.stiffness = Stiffness::UnknownUniform;
    let load = uniform(0.0, 12.0, 16e3);
    let response = respond(&unknown, &[load]);
    close(moment(&response, 6.0), -16e3 * 36.0 / 8.0);
    assert!(response.deflection().is_none());
    let settling = Load::Settlement {
        support: 1,
        down: m(0.01),
    };
    let refused = solve(
        &unknown,
        &[
            Loading::default(),
            Loading {
                loads: vec![load, settling],
            },
        ],
    );
    assert_eq!(
        refused,
        Err(BeamError::RigidityNeededFor {
            loading: 1,
            load: 1
        })
    );
    unknown.stiffness = Stiffness::Unknown;
    assert_eq!(solve(&unknown, &[]), Err(BeamError::RigidityNeeded));
}

#[test]
fn the_middle_support_settles() {
    // Two equal spans: M at the middle = 3·EI·s/L², sagging.
    let two_spans = beam(10.0, &[0.0, 5.0, 10.0].map(|x| (x, SupportKind::Pin)));
    let response = respond(
        &two_spans,
        &[Load::Settlement {
            support: 1,
            down: m(0.008),
        }],
    );
    close(moment(&response, 5.0), 3.0 * EI * 0.008 / 25.0);
    close(reaction(&response, 1), -2.0 * 3.0 * EI * 0.008 / 125.0);
    close(deflection(&response, 5.0), 0.008);
}

#[test]
fn a_settlement_that_nothing_resists() {
    // A determinate beam tilts as a rigid line, and no force arises, not even by rounding.
    let overhanging = beam(
        10.851_700_129_337_56,
        &[
            (0.0, SupportKind::Pin),
            (10.051_700_129_337_56, SupportKind::Pin),
        ],
    );
    let down = m(0.01);
    let response = respond(&overhanging, &[Load::Settlement { support: 0, down }]);
    let extremes = response.moment().extremes();
    assert_eq!(
        (extremes.max.value.si(), extremes.min.value.si()),
        (0.0, 0.0)
    );
    assert_eq!((reaction(&response, 0), reaction(&response, 1)), (0.0, 0.0));
    close(deflection(&response, 10.051_700_129_337_56 / 2.0), 0.005);
}

#[test]
fn warm_below_cold_above() {
    let curvature = 1.2e-5 * 30.0 / 0.4;
    let warm = Load::Curvature {
        from: m(0.0),
        to: m(6.0),
        sagging: Curvature::from_si(curvature),
    };
    // Free to bend: an arc that goes down by κ₀·L²/8, and no forces.
    let simple = respond(
        &beam(6.0, &[(0.0, SupportKind::Pin), (6.0, SupportKind::Pin)]),
        &[warm],
    );
    close(deflection(&simple, 3.0), curvature * 36.0 / 8.0);
    assert_eq!(moment(&simple, 3.0), 0.0);
    assert_eq!(reaction(&simple, 0), 0.0);
    // Fixed at both ends: M = −EI·κ₀ everywhere, and straight.
    let fixed = respond(
        &beam(6.0, &[(0.0, SupportKind::Fixed), (6.0, SupportKind::Fixed)]),
        &[warm],
    );
    close(moment(&fixed, 3.0), -EI * curvature);
    assert_eq!(deflection(&fixed, 3.0), 0.0);
    // Fixed at one end and propped: M at the fixed end = −1.5·EI·κ₀.
    let propped = respond(
        &beam(6.0, &[(0.0, SupportKind::Fixed), (6.0, SupportKind::Pin)]),
        &[warm],
    );
    close(
        propped
            .moment()
            .at(m(0.0), Side::After)
            .expect("on the beam")
            .si(),
        -1.5 * EI * curvature,
    );
}

#[test]
fn a_cantilever_on_a_spring() {
    // The spring takes P·k/(k + 3·EI/L³).
    let (length, stiffness, load) = (4.0, 5e5, 2e4);
    let spring = SupportKind::Spring(ForcePerLength::from_si(stiffness));
    let propped = beam(length, &[(0.0, SupportKind::Fixed), (length, spring)]);
    let response = respond(&propped, &[force(length, load)]);
    let own = 3.0 * EI / (length * length * length);
    close(reaction(&response, 1), load * stiffness / (stiffness + own));
    close(deflection(&response, length), load / (stiffness + own));
}

#[test]
fn springs_from_soft_to_hard() {
    for stiffness in [1e-3, 1.0, 1e6, 1e12, 1e18] {
        let spring = SupportKind::Spring(ForcePerLength::from_si(stiffness));
        let on_spring = beam(
            8.0,
            &[
                (0.0, SupportKind::Pin),
                (4.0, spring),
                (8.0, SupportKind::Pin),
            ],
        );
        let response = respond(&on_spring, &[uniform(0.0, 8.0, 1e4)]);
        // The simple beam goes down by 5·w·L⁴/(384·EI); a force at its middle bends it by L³/(48·EI).
        let free = 5.0 * 1e4 * 4096.0 / (384.0 * EI);
        let wanted = free / (1.0 / stiffness + 512.0 / (48.0 * EI));
        close(reaction(&response, 1), wanted);
    }
}

#[test]
fn a_stepped_cantilever() {
    // Half with 2·EI at the fixed end, half with EI: P/(3·EI)·(a³ + (L³ − a³)/2), a the thin part.
    let (length, half, load) = (4.0, 2.0, 1e4);
    let mut stepped = beam(length, &[(0.0, SupportKind::Fixed)]);
    let stretch = |from: f64, to: f64, rigidity: f64| Stretch {
        from: m(from),
        to: m(to),
        rigidity: FlexuralRigidity::from_si(rigidity),
    };
    stepped.stiffness = Stiffness::Stepped(vec![
        stretch(half, length, EI),
        stretch(0.0, half, 2.0 * EI),
    ]);
    let response = respond(&stepped, &[force(length, load)]);
    let (thin, whole) = (half * half * half, length * length * length);
    close(
        deflection(&response, length),
        load / (3.0 * EI) * (thin + (whole - thin) / 2.0),
    );
    let fixed = response.reactions()[0];
    close(fixed.moment.expect("fixed").si(), -load * length);
}

#[test]
fn very_unequal_spans_keep_their_digits() {
    // Two spans, load on the long one: M at the middle = −w·b³/(8·(a + b)), from the equation of
    // three moments (Clapeyron 1857).
    for short in [1.0, 1e-2, 1e-4, 1e-6] {
        let long = 10.0;
        let spans = beam(
            short + long,
            &[0.0, short, short + long].map(|x| (x, SupportKind::Pin)),
        );
        let response = respond(&spans, &[uniform(short, short + long, 8e3)]);
        let exact_long = (short + long) - short;
        let wanted = -8e3 * exact_long * exact_long * exact_long / (8.0 * (short + exact_long));
        close(moment(&response, short), wanted);
        close(reaction(&response, 0), wanted / short);
    }
}

#[test]
fn a_couple_jumps_and_its_sense_counts() {
    let simple = beam(6.0, &[(0.0, SupportKind::Pin), (6.0, SupportKind::Pin)]);
    let couple = |sense| Load::Couple {
        at: m(2.0),
        moment: Moment::from_si(9e3),
        sense,
    };
    let response = respond(&simple, &[couple(Sense::Clockwise)]);
    let at = |side| {
        response
            .moment()
            .at(m(2.0), side)
            .expect("on the beam")
            .si()
    };
    close(at(Side::Before), -3e3);
    close(at(Side::After), 6e3);
    close(reaction(&response, 1), 1500.0);
    let turned = respond(&simple, &[couple(Sense::Anticlockwise)]);
    close(reaction(&turned, 1), -1500.0);
    let extremes = response.moment().extremes();
    assert_eq!(
        (extremes.max.at.si(), extremes.max.side),
        (2.0, Side::After)
    );
    assert_eq!(
        (extremes.min.at.si(), extremes.min.side),
        (2.0, Side::Before)
    );
    close(extremes.largest_magnitude().value.si(), 6e3);
}

#[test]
fn combinations_and_their_envelope() {
    let simple = beam(6.0, &[(0.0, SupportKind::Pin), (6.0, SupportKind::Pin)]);
    let dead = respond(&simple, &[uniform(0.0, 6.0, 4e3)]);
    let live = respond(&simple, &[force(2.0, 1e4)]);
    let strong = Response::combine(&[(1.35, &dead), (1.5, &live)]).expect("one beam");
    let uplift = Response::combine(&[(0.9, &dead), (-1.5, &live)]).expect("one beam");
    close(
        moment(&strong, 2.0),
        1.35 * 4e3 * 2.0 * 4.0 / 2.0 + 1.5 * 1e4 * 2.0 * 4.0 / 6.0,
    );
    let envelope = Envelope::of(&[uplift.moment(), strong.moment()]).expect("two diagrams");
    assert_eq!((envelope.max.which, envelope.min.which), (1, 0));
    assert_eq!(envelope.max.extreme, strong.moment().extremes().max);
    let shear = Envelope::at(&[strong.shear()], m(2.0)).expect("on the beam");
    close(
        shear.max.extreme.value.si() - shear.min.extreme.value.si(),
        1.5e4,
    );
    assert_eq!(Response::combine(&[]), None);
    let other = respond(
        &beam(7.0, &[(0.0, SupportKind::Pin), (6.0, SupportKind::Pin)]),
        &[],
    );
    assert_eq!(Response::combine(&[(1.0, &dead), (1.0, &other)]), None);
}

#[test]
fn the_largest_load_for_a_moment_limit() {
    // Own weight w·L²/8 = 9 kN·m uses 9/60; the rest carries P·L/4.
    let simple = beam(6.0, &[(0.0, SupportKind::Pin), (6.0, SupportKind::Pin)]);
    let weight = respond(&simple, &[uniform(0.0, 6.0, 2e3)]);
    let load = respond(&simple, &[force(3.0, 1.0)]);
    let answer = largest_factor(|factor| {
        let both = Response::combine(&[(1.0, &weight), (factor, &load)]).expect("one beam");
        both.moment()
            .extremes()
            .largest_magnitude()
            .value
            .si()
            .abs()
            / 60e3
    });
    let LargestFactor::Value { largest, smallest } = answer else {
        panic!("{answer:?}")
    };
    close(largest, 51e3 * 4.0 / 6.0);
    assert_eq!(smallest, 0.0);
    // A load right over a support bends nothing, however large.
    let over_support = respond(&simple, &[force(6.0, 1.0)]);
    let endless = largest_factor(|factor| {
        let both = Response::combine(&[(1.0, &weight), (factor, &over_support)]).expect("one beam");
        both.moment()
            .extremes()
            .largest_magnitude()
            .value
            .si()
            .abs()
            / 60e3
    });
    assert_eq!(endless, LargestFactor::Unlimited { smallest: 0.0 });
}

#[test]
fn flat_stretches_give_the_first_place() {
    let simple = beam(9.0, &[(0.0, SupportKind::Pin), (9.0, SupportKind::Pin)]);
    let response = respond(&simple, &[force(3.0, 1e4), force(6.0, 1e4)]);
    let extremes = response.moment().extremes();
    close(extremes.max.value.si(), 3e4);
    close(extremes.max.at.si(), 3.0);
}

#[test]
fn a_load_at_a_place_that_differs_by_rounding() {
    let simple = beam(
        0.9144,
        &[(0.0, SupportKind::Pin), (3.0 * 0.3048, SupportKind::Pin)],
    );
    let response = respond(
        &simple,
        &[
            force(0.1 + 0.2, 1e3),
            force(0.3, 1e3),
            uniform(0.0, 0.9144, 10.0),
        ],
    );
    assert_eq!(response.shear().places().count(), 3);
    close(reaction(&response, 0) + reaction(&response, 1), 2e3 + 9.144);
}

#[test]
fn the_number_of_redundants() {
    let redundants = |beam: &Beam| Analysis::new(beam).expect("a sound beam").redundants();
    assert_eq!(redundants(&beam(5.0, &[(0.0, SupportKind::Fixed)])), 0);
    assert_eq!(
        redundants(&beam(
            5.0,
            &[(0.0, SupportKind::Fixed), (5.0, SupportKind::Fixed)]
        )),
        2
    );
}

#[test]
fn euler() {
    // π²·EI/L² for pinned ends; a cantilever carries a quarter of it.
    let rigidity = FlexuralRigidity::from_si(EI);
    let pinned = euler_load(rigidity, m(3.0), 1.0).expect("a member").si();
    close(pinned, 9.869_604_401_089_358 * EI / 9.0);
    close(
        euler_load(rigidity, m(3.0), 2.0).expect("a member").si(),
        pinned / 4.0,
    );
    assert!(euler_load(rigidity, m(0.0), 1.0).is_none());
    assert!(euler_load(rigidity, m(3.0), -1.0).is_none());
}

//! What cannot be computed is refused with the reason and the index of what is wrong.

use SupportKind::{Fixed, Pin, Roller};
use haunch_mechanics::beam::{
    Beam, BeamError, Load, Loading, Mechanism, Sense, Stiffness, Stretch, Support, SupportKind,
    solve,
};
use haunch_quantity::typed::{FlexuralRigidity, Force, ForcePerLength, Length, Moment, Typed};

fn m(x: f64) -> Length {
    Length::from_si(x)
}

fn beam(length: f64, supports: &[(f64, SupportKind)], hinges: &[f64]) -> Beam {
    Beam {
        length: m(length),
        supports: supports
            .iter()
            .map(|&(x, kind)| Support { at: m(x), kind })
            .collect(),
        hinges: hinges.iter().map(|x| m(*x)).collect(),
        stiffness: Stiffness::Uniform(FlexuralRigidity::from_si(1e6)),
    }
}

#[track_caller]
fn refused(beam: &Beam, wanted: BeamError) {
    assert_eq!(solve(beam, &[]), Err(wanted));
}

#[track_caller]
fn mechanism(supports: &[(f64, SupportKind)], hinges: &[f64]) -> Mechanism {
    match solve(&beam(10.0, supports, hinges), &[]) {
        Err(BeamError::Mechanism(mechanism)) => mechanism,
        other => panic!("no mechanism: {other:?}"),
    }
}

fn between(from: f64, to: f64, hinges: &[usize]) -> Mechanism {
    Mechanism::Hinges {
        from: m(from),
        to: m(to),
        hinges: hinges.to_vec(),
    }
}

#[test]
fn too_few_supports() {
    assert_eq!(mechanism(&[], &[]), Mechanism::NothingHolds);
    assert_eq!(
        mechanism(&[(3.0, Pin)], &[]),
        Mechanism::TurnsAbout { support: 0 }
    );
}

#[test]
fn hinges_that_let_a_part_move() {
    // A simple beam folds at its hinge.
    assert_eq!(
        mechanism(&[(0.0, Pin), (10.0, Roller)], &[4.0]),
        between(0.0, 10.0, &[0])
    );
    // The end beyond the hinge hangs loose.
    assert_eq!(mechanism(&[(0.0, Fixed)], &[6.0]), between(6.0, 10.0, &[0]));
    assert_eq!(mechanism(&[(10.0, Fixed)], &[6.0]), between(0.0, 6.0, &[0]));
    // Three hinges in one span.
    let spans = [(0.0, Fixed), (10.0, Fixed)];
    assert_eq!(
        mechanism(&spans, &[7.0, 3.0, 5.0]),
        between(3.0, 7.0, &[1, 2, 0])
    );
    // A part on one support right under its hinge.
    let supports = [(0.0, Pin), (4.0, Pin), (8.0, Pin)];
    assert_eq!(mechanism(&supports, &[4.0, 8.0]), between(8.0, 10.0, &[1]));
}

#[test]
fn hinges_that_are_held() {
    let sound = [
        beam(10.0, &[(0.0, Pin), (4.0, Pin), (10.0, Pin)], &[6.0]),
        beam(10.0, &[(0.0, Pin), (4.0, Pin), (10.0, Pin)], &[4.0]),
        beam(10.0, &[(0.0, Fixed), (10.0, Fixed)], &[3.0, 7.0]),
        beam(10.0, &[(0.0, Pin), (10.0, Fixed)], &[5.0]),
        beam(10.0, &[(2.0, Pin), (10.0, Fixed)], &[5.0]),
        beam(
            10.0,
            &[(0.0, Fixed), (3.0, Pin), (7.0, Pin), (10.0, Pin)],
            &[1.0, 5.0],
        ),
    ];
    for beam in sound {
        assert!(solve(&beam, &[Loading::default()]).is_ok(), "{beam:?}");
    }
}

#[test]
fn impossible_beams() {
    let pins = [(0.0, Pin), (10.0, Pin)];
    refused(&beam(0.0, &pins, &[]), BeamError::Length);
    refused(&beam(f64::NAN, &pins, &[]), BeamError::Length);
    refused(
        &beam(10.0, &[(0.0, Pin), (10.1, Pin)], &[]),
        BeamError::SupportOutside { support: 1 },
    );
    refused(
        &beam(10.0, &[(f64::NAN, Pin)], &[]),
        BeamError::SupportOutside { support: 0 },
    );
    let same = [(0.0, Pin), (5.0, Pin), (5.0 + 1e-13, Fixed)];
    refused(
        &beam(10.0, &same, &[]),
        BeamError::SupportsCoincide {
            first: 1,
            second: 2,
        },
    );
    let soft = SupportKind::Spring(ForcePerLength::from_si(0.0));
    refused(
        &beam(10.0, &[(0.0, soft)], &[]),
        BeamError::SpringNotPositive { support: 0 },
    );
    refused(
        &beam(10.0, &pins, &[10.0]),
        BeamError::HingeNotInside { hinge: 0 },
    );
    refused(
        &beam(10.0, &pins, &[4.0, 4.0]),
        BeamError::HingesCoincide {
            first: 0,
            second: 1,
        },
    );
    let fixed = [(0.0, Pin), (5.0, Fixed)];
    refused(
        &beam(10.0, &fixed, &[5.0]),
        BeamError::HingeAtFixedSupport {
            hinge: 0,
            support: 1,
        },
    );
}

#[test]
fn rigidities_that_do_not_fit() {
    let with = |stretches: &[(f64, f64, f64)]| {
        let stretch = |&(from, to, rigidity): &(f64, f64, f64)| Stretch {
            from: m(from),
            to: m(to),
            rigidity: FlexuralRigidity::from_si(rigidity),
        };
        let mut beam = beam(10.0, &[(0.0, Fixed)], &[]);
        beam.stiffness = Stiffness::Stepped(stretches.iter().map(stretch).collect());
        beam
    };
    refused(
        &with(&[(0.0, 10.0, -1.0)]),
        BeamError::RigidityNotPositive { stretch: 0 },
    );
    refused(
        &with(&[(0.0, 11.0, 1.0)]),
        BeamError::StretchPlace { stretch: 0 },
    );
    refused(
        &with(&[(0.0, 10.0, 1.0), (4.0, 4.0, 1.0)]),
        BeamError::StretchPlace { stretch: 1 },
    );
    let overlap = BeamError::StretchesOverlap {
        first: 0,
        second: 1,
    };
    refused(&with(&[(5.0, 10.0, 1.0), (0.0, 6.0, 1.0)]), overlap);
    refused(
        &with(&[(0.0, 4.0, 1.0), (6.0, 10.0, 1.0)]),
        BeamError::RigidityGap {
            from: m(4.0),
            to: m(6.0),
        },
    );
    refused(
        &with(&[]),
        BeamError::RigidityGap {
            from: m(0.0),
            to: m(10.0),
        },
    );
}

#[test]
fn impossible_loads() {
    let hinged = beam(10.0, &[(0.0, Pin), (5.0, Pin), (10.0, Pin)], &[6.0]);
    let with = |load: Load| {
        solve(
            &hinged,
            &[Loading::default(), Loading { loads: vec![load] }],
        )
    };
    let force = |at: f64, down: f64| Load::Force {
        at: m(at),
        down: Force::from_si(down),
    };
    let w = ForcePerLength::from_si(1.0);
    let stretch = |from: f64, to: f64| Load::Distributed {
        from: m(from),
        to: m(to),
        down_at_from: w,
        down_at_to: w,
    };
    let (loading, load) = (1, 0);
    assert_eq!(
        with(force(11.0, 1.0)),
        Err(BeamError::LoadOutside { loading, load })
    );
    assert_eq!(
        with(force(1.0, f64::INFINITY)),
        Err(BeamError::LoadNotFinite { loading, load })
    );
    assert_eq!(
        with(stretch(4.0, 3.0)),
        Err(BeamError::LoadStretch { loading, load })
    );
    assert_eq!(
        with(stretch(4.0, 4.0)),
        Err(BeamError::LoadStretch { loading, load })
    );
    assert_eq!(
        with(stretch(4.0, 14.0)),
        Err(BeamError::LoadOutside { loading, load })
    );
    let couple = Load::Couple {
        at: m(6.0),
        moment: Moment::from_si(1.0),
        sense: Sense::Clockwise,
    };
    assert_eq!(
        with(couple),
        Err(BeamError::CoupleAtHinge {
            loading,
            load,
            hinge: 0
        })
    );
    let settling = Load::Settlement {
        support: 3,
        down: m(0.01),
    };
    assert_eq!(
        with(settling),
        Err(BeamError::NoSuchSupport { loading, load })
    );
}

#[test]
fn numbers_that_overflow_are_refused() {
    let mut long = beam(1e200, &[(0.0, Pin), (1e200, Pin)], &[]);
    let load = Load::Force {
        at: m(5e199),
        down: Force::from_si(1e200),
    };
    assert_eq!(
        solve(&long, &[Loading { loads: vec![load] }]),
        Err(BeamError::IllConditioned)
    );
    long.stiffness = Stiffness::Uniform(FlexuralRigidity::from_si(1e-320));
    assert!(solve(&long, &[Loading { loads: vec![load] }]).is_err());
}

//! Shear flow at joints, shear from a sideways force, and stresses combined at a point.

use haunch_mechanics::section::{
    CombinedStress, Part, Section, Shape, ShearForces, fastener_spacing, flow_per_line,
};
use haunch_quantity::typed::{Force, ForcePerLength, Length, Stress, Typed};
use proptest::prelude::*;
use std::f64::consts::PI;

/// Exact by definition (International yard and pound agreement of 1959).
const INCH: f64 = 0.0254;
const POUND_FORCE: f64 = 0.453_592_37 * 9.806_65;

fn rectangle(unit: f64, [left, bottom, width, height]: [f64; 4]) -> Part {
    let length = |value: f64| Length::from_si(value * unit);
    Part::material(Shape::Rectangle {
        left: length(left),
        bottom: length(bottom),
        width: length(width),
        height: length(height),
    })
}

fn section(unit: f64, rectangles: &[[f64; 4]]) -> Section {
    let parts: Vec<Part> = rectangles.iter().map(|own| rectangle(unit, *own)).collect();
    Section::new(&parts).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn upright(force: f64) -> ShearForces {
    ShearForces::upright(Force::from_si(force))
}

#[track_caller]
fn assert_near(found: f64, published: f64, tolerance: f64) {
    let off = (found / published - 1.0).abs();
    assert!(off <= tolerance, "{found}, published {published}");
}

/// Source: Hibbeler, Mechanics of Materials, 8th ed., ex. 7.5, p. 380: four glued boards under
/// 850 kN, 1.31 MN/m at B and 0.0498 MN/m at C, each in two glue lines.
#[test]
fn glued_box() {
    let boards = [
        [0.0, 0.0, 10.0, 300.0],
        [135.0, 0.0, 10.0, 300.0],
        [-52.5, 300.0, 250.0, 10.0],
        [10.0, 200.0, 125.0, 10.0],
    ];
    let section = section(1e-3, &boards);
    let flow = |board: usize| {
        let flow = section.joint_shear_flow(&[board], upright(850e3));
        flow_per_line(flow, 2).unwrap().si() / 1e6
    };
    assert_near(flow(2), 1.31, 0.0115);
    assert_near(flow(3), 0.0498, 0.00602);
    // What the boards on one side of a joint give, the others take.
    let rest = section.joint_shear_flow(&[0, 1, 3], upright(850e3));
    assert_near(-rest.si() / 2e6, flow(2), 1e-12);
}

/// Source: Hibbeler, ex. 7.6, p. 381: a nailed box under 80 lbf, nails of 30 lbf each: 5.10 in at
/// the outer flange and 8.50 in at the inner one.
#[test]
fn nailed_box() {
    let spacing = |boards: &[[f64; 4]], flange: usize| {
        let flow = section(INCH, boards).joint_shear_flow(&[flange], upright(80.0 * POUND_FORCE));
        // Two nails side by side.
        let capacity = Force::from_si(2.0 * 30.0 * POUND_FORCE);
        fastener_spacing(capacity, flow).unwrap().si() / INCH
    };
    let outer = [
        [0.0, 6.0, 7.5, 1.5],
        [0.0, 0.0, 7.5, 1.5],
        [0.0, 1.5, 1.5, 4.5],
        [6.0, 1.5, 1.5, 4.5],
    ];
    assert_near(spacing(&outer, 0), 5.10, 0.00098);
    let inner = [
        [1.5, 6.0, 4.5, 1.5],
        [1.5, 0.0, 4.5, 1.5],
        [0.0, 0.0, 1.5, 7.5],
        [6.0, 0.0, 1.5, 7.5],
    ];
    assert_near(spacing(&inner, 0), 8.50, 0.000588);
}

/// Sources: Beer, Johnston & DeWolf, Mechanics of Materials, ex. 6.01, p. 386: nails every 25 mm
/// under 500 N carry 92.6 N; Popov, ex. 7.1, p. 365: nails of 700 N under 3000 N, 42 mm; Gere &
/// Goodno, 7th ed., problem 5.11-5 (b): two screws of 250 lbf under 1200 lbf, 4.63 in.
#[test]
fn nailed_boards() {
    let boards = [
        [0.0, 0.0, 100.0, 20.0],
        [0.0, 120.0, 100.0, 20.0],
        [40.0, 20.0, 20.0, 100.0],
    ];
    let flow = section(1e-3, &boards).joint_shear_flow(&[1], upright(500.0));
    assert_near((flow * Length::from_si(0.025)).si(), 92.6, 0.00108);

    let tee = section(1e-3, &[[75.0, 0.0, 50.0, 200.0], [0.0, 200.0, 200.0, 50.0]]);
    let flow = tee.joint_shear_flow(&[1], upright(3000.0));
    let spacing = fastener_spacing(Force::from_si(700.0), flow).unwrap();
    assert_near(spacing.si() * 1e3, 42.0, 0.0238);

    let walls = [
        [1.0, 7.0, 6.0, 1.0],
        [1.0, 0.0, 6.0, 1.0],
        [0.0, 0.0, 1.0, 8.0],
        [7.0, 0.0, 1.0, 8.0],
    ];
    let flow = section(INCH, &walls).joint_shear_flow(&[0], upright(1200.0 * POUND_FORCE));
    let spacing = fastener_spacing(Force::from_si(500.0 * POUND_FORCE), flow).unwrap();
    assert_near(spacing.si() / INCH, 4.63, 0.00216);
}

#[test]
fn no_spacing_without_flow() {
    let flow = ForcePerLength::from_si;
    let force = Force::from_si;
    assert_eq!(fastener_spacing(force(1e3), flow(0.0)), None);
    assert_eq!(fastener_spacing(force(0.0), flow(1.0)), None);
    assert_eq!(fastener_spacing(force(f64::NAN), flow(1.0)), None);
    assert_eq!(fastener_spacing(force(1e3), flow(f64::NAN)), None);
    assert_eq!(
        fastener_spacing(force(1e3), flow(-1e4)),
        Some(Length::from_si(0.1))
    );
    assert_eq!(flow_per_line(flow(1.0), 0), None);
}

/// A rectangle on its side is the rectangle turned: 1.5·V/A at the middle (common practice).
#[test]
fn sideways_shear_of_a_rectangle() {
    let section = section(1e-3, &[[20.0, 50.0, 300.0, 100.0]]);
    let force = Force::from_si(10e3);
    let found = section.largest_shear_stress_sideways(force).unwrap();
    assert_near(found.stress.si(), 1.5 * 10e3 / 0.03, 1e-12);
    assert_near(found.x.si(), 0.17, 1e-12);
    assert_near(found.depth.si(), 0.1, 1e-12);
    // A quarter from the edge: ¾ of the largest.
    let quarter = Length::from_si(0.02 + 0.075);
    let stress = section.shear_stress_sideways(quarter, force).unwrap();
    assert_near(stress.left.si(), 0.75 * 0.5e6, 1e-12);
    assert_eq!(stress.left, stress.right);
    assert_near(section.depth_at(quarter).left.si(), 0.1, 1e-12);
    let first = section.first_moment_right_of(quarter).si();
    assert_near(first, 0.1 * 0.075 * 0.1125, 1e-12);
    let flow = section.shear_flow_sideways(quarter, force);
    assert_near(flow.si(), stress.left.si() * 0.1, 1e-12);
}

proptest! {
    /// The flow of a part is that through its side, for both directions of the force, also where
    /// the axes are not principal.
    #[test]
    fn joints_and_levels_agree(
        width in 20.0..200.0_f64, height in 20.0..200.0_f64, thickness in 5.0..20.0_f64,
        force in -1e4..1e4_f64,
    ) {
        // An angle of two plates: the upright one stands on the level one.
        let own = section(1e-3, &[[0.0, 0.0, width, thickness], [0.0, thickness, thickness, height]]);
        let level = Length::from_si(thickness * 1e-3);
        let across = own.shear_flow(level, Force::from_si(force)).si();
        let joint = own.joint_shear_flow(&[1], upright(force)).si();
        let scale = 1e-9 * force.abs() / (height * 1e-3);
        prop_assert!((across - joint).abs() <= scale);

        // The same two plates side by side, with the force sideways.
        let own = section(1e-3, &[[0.0, 0.0, thickness, width], [thickness, 0.0, height, thickness]]);
        let sideways = ShearForces {
            sideways: Force::from_si(force),
            upright: Force::from_si(0.0),
        };
        let across = own.shear_flow_sideways(level, Force::from_si(force)).si();
        let joint = own.joint_shear_flow(&[1], sideways).si();
        prop_assert!((across - joint).abs() <= scale);
    }

    /// Laws of the principal stresses: their sum and product, and what turning the axes gives.
    #[test]
    fn principal_stresses(normal in -1e9..1e9_f64, shear in -1e9..1e9_f64) {
        let stress = CombinedStress {
            normal: Stress::from_si(normal),
            shear: Stress::from_si(shear),
        };
        let found = stress.principal();
        let scale = 1e-12 * (normal.abs() + shear.abs());
        let (one, other) = (found.greatest.si(), found.least.si());
        prop_assert!(one >= 0.0 && other <= 0.0);
        prop_assert!((one + other - normal).abs() <= scale);
        prop_assert!((one * other + shear * shear).abs() <= scale * (one - other));
        prop_assert!((found.greatest_shear.si() - (one - other) / 2.0).abs() <= scale);
        // σ cos²θ + 2τ sin θ cos θ in the direction of the greatest.
        let angle = found.angle.si();
        let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
        let turned = normal * cosine * cosine + 2.0 * shear * sine * cosine;
        prop_assert!((turned - one).abs() <= 10.0 * scale);
        // √(σ₁² − σ₁σ₂ + σ₂²)
        let mises = (one * one - one * other + other * other).sqrt();
        prop_assert!((stress.von_mises().si() - mises).abs() <= 10.0 * scale);
    }

    /// An upright and a sideways force alike on a section symmetrical about the line x = y.
    #[test]
    fn sideways_is_upright_exchanged(a in 0.02..0.2_f64, b in 0.02..0.2_f64, t in 0.005..0.015_f64) {
        let unit = 1.0;
        let one = section(unit, &[[0.0, 0.0, a, t], [0.0, t, t, b]]);
        let other = section(unit, &[[0.0, 0.0, t, a], [t, 0.0, b, t]]);
        let force = Force::from_si(1e3);
        let (found, exchanged) = (
            one.largest_shear_stress(force).unwrap(),
            other.largest_shear_stress_sideways(force).unwrap(),
        );
        prop_assert!(((found.stress / exchanged.stress).si() - 1.0).abs() < 1e-9);
        prop_assert!((found.y - exchanged.x).si().abs() < 1e-9);
    }
}

/// Pure shear and pure tension (common practice).
#[test]
fn simple_states() {
    let state = |normal: f64, shear: f64| CombinedStress {
        normal: Stress::from_si(normal),
        shear: Stress::from_si(shear),
    };
    let shear = state(0.0, 50e6).principal();
    assert_eq!(shear.greatest.si(), 50e6);
    assert_eq!(shear.least.si(), -50e6);
    assert_eq!(shear.angle.si(), PI / 4.0);
    assert_eq!(state(100e6, 0.0).von_mises().si(), 100e6);
    assert_near(
        state(0.0, 50e6).von_mises().si(),
        50e6 * 3.0_f64.sqrt(),
        1e-14,
    );
    let tension = state(80e6, 0.0).principal();
    assert_eq!((tension.greatest.si(), tension.least.si()), (80e6, 0.0));
    let compression = state(-80e6, 0.0).principal();
    assert_eq!(
        (compression.greatest.si(), compression.least.si()),
        (0.0, -80e6)
    );
    assert_eq!(compression.angle.si(), PI / 2.0);
    let none = state(0.0, 0.0).principal();
    assert_eq!((none.greatest.si(), none.angle.si()), (0.0, 0.0));
    // A tiny shear beside a large tension keeps its digits: −τ²/σ.
    let mixed = state(1e8, 1.0).principal();
    assert_near(mixed.least.si(), -1e-8, 1e-9);
}

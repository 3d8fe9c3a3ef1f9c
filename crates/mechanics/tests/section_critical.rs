//! The worst place for normal and shear stress together, against fine sampling of the closed forms
//! σ = N/A − M·y/I and τ = V·Q/(I·b) of an I of three plates and of a rectangle (Gere & Goodno,
//! Mechanics of Materials, 7th edition, sections 5.5, 5.8 and 7.3, from memory).

use haunch_mechanics::section::{
    Equivalent, ForceRange, Forces, ForcesAlong, Part, Point, PointFactors, Section, Shape,
};
use haunch_quantity::typed::{Force, Length, Moment, Typed};

fn rectangle(left: f64, bottom: f64, width: f64, height: f64) -> Part {
    Part::material(Shape::Rectangle {
        left: Length::from_si(left),
        bottom: Length::from_si(bottom),
        width: Length::from_si(width),
        height: Length::from_si(height),
    })
}

fn worst(section: &Section, parts: &[usize], equivalent: Equivalent, forces: [f64; 3]) -> f64 {
    let [axial, moment, shear] = forces;
    let range = ForceRange::constant(
        &Forces {
            axial: Force::from_si(axial),
            moment_x: Moment::from_si(moment),
            moment_y: Moment::from_si(0.0),
        },
        Force::from_si(shear),
    );
    let stops = [Length::from_si(0.0), Length::from_si(0.0)];
    let found = section.critical_stress(parts, equivalent, &stops, &range);
    let found = found.unwrap_or_else(|problem| panic!("{problem:?}"));
    assert!(found.excess.si() <= 2e-5 * found.stress.si(), "{found:?}");
    found.stress.si()
}

fn together(equivalent: Equivalent, normal: f64, shear: f64) -> f64 {
    let radius = (normal * normal / 4.0 + shear * shear).sqrt();
    match equivalent {
        Equivalent::VonMises => (normal * normal + 3.0 * shear * shear).sqrt(),
        Equivalent::Greatest => normal / 2.0 + radius,
        Equivalent::Least => radius - normal / 2.0,
    }
}

const ALL: [Equivalent; 3] = [
    Equivalent::VonMises,
    Equivalent::Greatest,
    Equivalent::Least,
];

#[test]
fn the_worst_level_of_an_i_is_found_wherever_it_is() {
    let section = Section::new(&[
        rectangle(0.0, 0.0, 0.1, 0.01),
        rectangle(0.046, 0.01, 0.008, 0.18),
        rectangle(0.0, 0.19, 0.1, 0.01),
    ]);
    let section = section.unwrap_or_else(|problems| panic!("{problems:?}"));
    let area = 2.0 * 0.1 * 0.01 + 0.008 * 0.18;
    let second = (0.1 * 0.2 * 0.2 * 0.2 - 0.092 * 0.18 * 0.18 * 0.18) / 12.0;
    for forces in [
        [0.0, 14e3, 60e3],
        [0.0, 2e3, 60e3],
        [40e3, 5e3, -60e3],
        [-90e3, 1e3, 30e3],
        [0.0, -14e3, 0.0],
    ] {
        let [axial, moment, shear] = forces;
        for equivalent in ALL {
            let mut sampled = 0.0_f64;
            for step in 0..=200_000 {
                let y = -0.1 + 0.2 * f64::from(step) / 200_000.0;
                let normal = axial / area - moment * y / second;
                let flange = 0.1 * (0.01 - y * y) / 2.0;
                let web = 0.1 * (0.01 - 0.0081) / 2.0 + 0.008 * (0.0081 - y * y) / 2.0;
                if y.abs() >= 0.09 {
                    let tangential = shear * flange / (second * 0.1);
                    sampled = sampled.max(together(equivalent, normal, tangential));
                }
                if y.abs() <= 0.09 {
                    let tangential = shear * web / (second * 0.008);
                    sampled = sampled.max(together(equivalent, normal, tangential));
                }
            }
            let found = worst(&section, &[0, 1, 2], equivalent, forces);
            // Never below a place, and hardly above the highest one.
            assert!(
                found >= sampled * (1.0 - 1e-9) && found <= sampled * (1.0 + 2e-5),
                "{equivalent:?} under {forces:?}: {found}, sampled {sampled}"
            );
        }
    }
}

#[test]
fn parts_are_looked_at_by_themselves() {
    let section = Section::new(&[
        rectangle(0.0, 0.0, 0.1, 0.01),
        rectangle(0.046, 0.01, 0.008, 0.18),
    ]);
    let section = section.unwrap_or_else(|problems| panic!("{problems:?}"));
    let forces = [0.0, 3e3, 0.0];
    let second = section.second_moments().ixx.si();
    let centroid = section.centroid().y.si();
    let flange = worst(&section, &[0], Equivalent::VonMises, forces);
    let web = worst(&section, &[1], Equivalent::VonMises, forces);
    assert!(
        (flange / (3e3 * centroid / second) - 1.0).abs() < 1e-8,
        "{flange}"
    );
    assert!(
        (web / (3e3 * (0.19 - centroid) / second) - 1.0).abs() < 1e-8,
        "{web}"
    );
}

#[test]
fn a_full_circle_agrees_with_its_closed_form() {
    let diameter = 0.06;
    let section = Section::new(&[Part::material(Shape::Circle {
        centre: Point::new(Length::from_si(0.0), Length::from_si(0.0)),
        diameter: Length::from_si(diameter),
    })]);
    let section = section.unwrap_or_else(|problems| panic!("{problems:?}"));
    let radius = diameter / 2.0;
    let area = std::f64::consts::PI * radius * radius;
    let second = area * radius * radius / 4.0;
    let (moment, shear) = (300.0, 80e3);
    for equivalent in ALL {
        let mut sampled = 0.0_f64;
        for step in 0..=200_000 {
            let y = radius * (-1.0 + 2.0 * f64::from(step) / 200_000.0);
            // τ = 4·V/(3·A)·(1 − y²/r²)
            let tangential = 4.0 * shear / (3.0 * area) * (1.0 - y * y / (radius * radius));
            sampled = sampled.max(together(equivalent, -moment * y / second, tangential));
        }
        let found = worst(&section, &[0], equivalent, [0.0, moment, shear]);
        assert!(
            found >= sampled * (1.0 - 1e-9) && found <= sampled * (1.0 + 2e-5),
            "{equivalent:?}: {found}, sampled {sampled}"
        );
    }
}

/// M = V·x up to the middle of 1 m, and back.
struct MidLoad(f64);

impl ForcesAlong for MidLoad {
    fn over(&self, from: Length, to: Length) -> Option<Vec<ForceRange>> {
        let (a, b) = (self.at(from, false)?, self.at(to, true)?);
        let (m, n) = (a.moment_x.0, b.moment_x.0);
        let moment_x = if m < n { (m, n) } else { (n, m) };
        Some(vec![ForceRange { moment_x, ..a }])
    }

    fn at(&self, place: Length, before: bool) -> Option<ForceRange> {
        let x = place.si();
        let is_left = x < 0.5 || (x == 0.5 && before);
        let shear = if is_left { self.0 } else { -self.0 };
        let moment = Moment::from_si(self.0 * x.min(1.0 - x));
        Some(ForceRange::constant(
            &Forces::bending(moment),
            Force::from_si(shear),
        ))
    }
}

#[test]
fn along_a_beam_the_worst_place_is_found_where_moment_and_shear_are() {
    let section = Section::new(&[
        rectangle(0.0, 0.0, 0.1, 0.01),
        rectangle(0.046, 0.01, 0.008, 0.18),
        rectangle(0.0, 0.19, 0.1, 0.01),
    ]);
    let section = section.unwrap_or_else(|problems| panic!("{problems:?}"));
    let second = (0.1 * 0.2 * 0.2 * 0.2 - 0.092 * 0.18 * 0.18 * 0.18) / 12.0;
    for shear in [30e3, 90e3] {
        let stops = [0.0, 0.5, 1.0].map(Length::from_si);
        let parts = [0, 1, 2];
        let forces = MidLoad(shear);
        let found = section.critical_stress(&parts, Equivalent::VonMises, &stops, &forces);
        let found = found.unwrap_or_else(|problem| panic!("{problem:?}"));
        let at_joint = together(
            Equivalent::VonMises,
            shear * 0.5 * 0.09 / second,
            shear * 0.1 * 0.01 * 0.095 / (second * 0.008),
        );
        let wanted = at_joint.max(shear * 0.5 * 0.1 / second);
        assert!(
            (found.stress.si() / wanted - 1.0).abs() < 1e-8,
            "{found:?}, wanted {wanted}"
        );
        assert!((found.at.si() - 0.5).abs() < 1e-9, "{found:?}");
    }
}

/// V = A − w·x and M = B + A·x − w·x²/2 over 1 m, in N and N·m.
struct EvenLoad {
    at_start: (f64, f64),
    load: f64,
}

impl EvenLoad {
    fn forces(&self, x: f64) -> (f64, f64) {
        let (shear, moment) = self.at_start;
        (
            shear - self.load * x,
            moment + shear * x - self.load * x * x / 2.0,
        )
    }
}

impl ForcesAlong for EvenLoad {
    fn over(&self, from: Length, to: Length) -> Option<Vec<ForceRange>> {
        let (from, to) = (from.si(), to.si());
        let top = (self.at_start.0 / self.load).clamp(from, to);
        let found = [from, top, to].map(|x| self.forces(x));
        let range = |values: [f64; 3]| {
            let least = values.into_iter().reduce(f64::min)?;
            Some((least, values.into_iter().reduce(f64::max)?))
        };
        let (shear, moment) = (
            range(found.map(|own| own.0))?,
            range(found.map(|own| own.1))?,
        );
        let still =
            ForceRange::constant(&Forces::bending(Moment::from_si(0.0)), Force::from_si(0.0));
        Some(vec![ForceRange {
            moment_x: (Moment::from_si(moment.0), Moment::from_si(moment.1)),
            shear: (Force::from_si(shear.0), Force::from_si(shear.1)),
            ..still
        }])
    }

    fn at(&self, place: Length, _: bool) -> Option<ForceRange> {
        let (shear, moment) = self.forces(place.si());
        let bending = Forces::bending(Moment::from_si(moment));
        Some(ForceRange::constant(&bending, Force::from_si(shear)))
    }
}

/// Also where the worst lies between the ends, and where σ makes a principal stress smaller.
#[test]
fn at_one_place_of_the_section_the_worst_along_a_beam_is_found() {
    let stops = [0.0, 1.0].map(Length::from_si);
    for (at_start, load) in [
        ((40e3, 0.0), 80e3),
        ((30e3, -6e3), 45e3),
        ((10e3, 4e3), 60e3),
        ((50e3, -20e3), 70e3),
    ] {
        for per_moment in [2500.0, -900.0, 150.0] {
            let forces = EvenLoad { at_start, load };
            let factors = PointFactors {
                per_axial: 0.0,
                per_moment_x: per_moment,
                per_moment_y: 0.0,
                per_shear: 400.0,
                per_shear_sideways: 0.0,
            };
            for equivalent in ALL {
                let found = factors.worst_along(equivalent, &stops, &forces);
                let found = found.unwrap_or_else(|| panic!("forces are known"));
                let of = |step: i32| {
                    let (shear, moment) = forces.forces(f64::from(step) / 20_000.0);
                    together(equivalent, per_moment * moment, 400.0 * shear.abs())
                };
                let sampled = (0..=20_000).map(of).fold(0.0, f64::max);
                let stress = found.stress.si();
                assert!(
                    stress >= sampled * (1.0 - 1e-12) && stress <= sampled * (1.0 + 2e-5),
                    "{equivalent:?} {at_start:?} {per_moment}: {found:?}, sampled {sampled}"
                );
                let (shear, moment) = forces.forces(found.at.si());
                let there = together(equivalent, per_moment * moment, 400.0 * shear.abs());
                assert!((stress - found.excess.si() - there).abs() <= 1e-9 * stress);
            }
        }
    }
}

/// Sideways shear adds its largest stress over the breadth, 3/2·V/A of a rectangle, to that of the
/// upright force at every level.
#[test]
fn a_sideways_shear_force_is_added() {
    let section = Section::new(&[rectangle(0.0, 0.0, 0.1, 0.2)]);
    let section = section.unwrap_or_else(|problems| panic!("{problems:?}"));
    let stops = [Length::from_si(0.0), Length::from_si(0.0)];
    let (shear, sideways) = (30e3, -12e3);
    let still = ForceRange::constant(
        &Forces::bending(Moment::from_si(0.0)),
        Force::from_si(shear),
    );
    let both = ForceRange {
        shear_sideways: (Force::from_si(sideways), Force::from_si(sideways)),
        ..still
    };
    let found = section.critical_stress(&[0], Equivalent::VonMises, &stops, &both);
    let found = found.unwrap_or_else(|problem| panic!("{problem:?}"));
    let wanted = 3.0_f64.sqrt() * 1.5 * (30e3 + 12e3) / (0.1 * 0.2);
    assert!((found.stress.si() / wanted - 1.0).abs() < 1e-8, "{found:?}");
    let factors = PointFactors {
        per_axial: 0.0,
        per_moment_x: 0.0,
        per_moment_y: 0.0,
        per_shear: 75.0,
        per_shear_sideways: 50.0,
    };
    let at_point = factors.highest(Equivalent::Greatest, &both).si();
    assert!((at_point / (75.0 * 30e3 + 50.0 * 12e3) - 1.0).abs() < 1e-12);
}

/// The stress of a gauge against the search for single forces.
#[test]
fn a_gauge_is_never_too_low_and_hardly_too_high() {
    let section = Section::new(&[
        rectangle(0.0, 0.0, 0.14, 0.012),
        rectangle(0.046, 0.012, 0.008, 0.18),
        rectangle(0.0, 0.192, 0.1, 0.01),
    ]);
    let section = section.unwrap_or_else(|problems| panic!("{problems:?}"));
    for equivalent in ALL {
        let gauge = section.stress_gauge(&[0, 1, 2], equivalent);
        let gauge = gauge.unwrap_or_else(|| panic!("{equivalent:?}"));
        for step in 0..57 {
            let angle = f64::from(step) * 0.11;
            let (moment, shear) = (9e3 * libm::cos(angle), 70e3 * libm::sin(angle));
            let found = gauge
                .stress(Moment::from_si(moment), Force::from_si(shear))
                .si();
            let forces = ForceRange::constant(
                &Forces::bending(Moment::from_si(moment)),
                Force::from_si(shear),
            );
            let stops = [Length::from_si(0.0); 2];
            let wanted = section.critical_stress(&[0, 1, 2], equivalent, &stops, &forces);
            let wanted = wanted.unwrap_or_else(|problem| panic!("{problem:?}"));
            let wanted = (wanted.stress - wanted.excess).si();
            assert!(
                found >= wanted * (1.0 - 1e-9) && found <= wanted * 1.001,
                "{equivalent:?} {moment} {shear}: {found}, {wanted}"
            );
        }
    }
}

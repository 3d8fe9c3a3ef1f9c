//! Bending both ways: what holds for any section and loads, and published examples.

use crate::reading::{Read, file};
use proptest::prelude::*;

/// An unequal angle of two legs, m.
const CORNERS: [(f64, f64); 6] = [
    (0.0, 0.0),
    (0.09, 0.0),
    (0.09, 0.012),
    (0.01, 0.012),
    (0.01, 0.14),
    (0.0, 0.14),
];

/// Components of a vector turned anticlockwise, x to the right and y up.
fn turned((x, y): (f64, f64), angle: f64) -> (f64, f64) {
    let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
    (x * cosine - y * sine, x * sine + y * cosine)
}

#[derive(Debug, Clone)]
struct Loaded {
    spans: (f64, f64),
    /// Place as a share of the length, and the force to the right and up, N.
    forces: Vec<(f64, (f64, f64))>,
    /// N/m to the right and up.
    even: (f64, f64),
    /// Of the middle support, to the right and up, m.
    settlement: (f64, f64),
}

fn loaded() -> impl Strategy<Value = Loaded> {
    let component = || -8e3..8e3_f64;
    let force = (0.05..0.95_f64, (component(), component()));
    let small = || -2e-3..2e-3_f64;
    (
        (1.0..3.0_f64, 1.0..3.0_f64),
        prop::collection::vec(force, 1..3),
        (component(), component()),
        (small(), small()),
    )
        .prop_map(|(spans, forces, even, settlement)| Loaded {
            spans,
            forces,
            even,
            settlement,
        })
}

/// The beam with everything turned, and `more` lines after it. The first corner is the point A, and
/// `load CASE` lines have the case that `case` gives for their number.
fn text(loaded: &Loaded, angle: f64, case: impl Fn(usize) -> String, more: &str) -> String {
    let corners: String = CORNERS
        .iter()
        .map(|corner| {
            let (x, y) = turned(*corner, angle);
            format!(" ({x:.17} m, {y:.17} m)")
        })
        .collect();
    let (x, y) = turned(CORNERS[1], angle);
    let mut lines = Vec::new();
    let mut add = |vector: (f64, f64), unit: &str, place: &str, number: usize| {
        let (right, up) = turned(vector, angle);
        for (size, way) in [(right, " rightwards"), (up, " up")] {
            // A negative size acts the other way.
            lines.push(format!(
                "    load {} {size:.17} {unit} {place}{way}",
                case(number)
            ));
        }
    };
    let (first, second) = loaded.spans;
    for (number, (share, force)) in loaded.forces.iter().enumerate() {
        let at = share * (first + second);
        add(*force, "N", &format!("at {at:.17} m"), number);
    }
    add(loaded.even, "N/m", "throughout", loaded.forces.len());
    let at = format!("at {first:.17} m");
    add(loaded.settlement, "m", &at, loaded.forces.len() + 1);
    format!(
        "material steel\n    E = 205 GPa\n    limit tension <= 400 MPa\n    limit compression <= 300 MPa\n\
         section s of steel\n    polygon p{corners}\n    point A at ({x:.17} m, {y:.17} m)\n\
         beam b of s\n    spans = {first:.17} m, {second:.17} m\n    support fixed at start\n    \
         support roller at {first:.17} m\n    support roller at end\n{}\n\
         at_most = b.stress(A)\nthere = b.stress(A, 0.7 m)\nbent = b.M(0.7 m)\nbent_y = b.My(0.7 m)\n\
         down = b.deflection(0.7 m)\nleft = b.deflection_sideways(0.7 m)\n{more}",
        lines.join("\n")
    )
}

fn read(text: &str) -> Read {
    let read = file(text);
    let real = |finding: &&String| !finding.starts_with("limit-exceeded");
    assert_eq!(read.findings.iter().find(real), None, "{text}");
    read
}

fn used(read: &Read, name: &str) -> f64 {
    read.check(name).utilisation.expect("known")
}

fn close(one: f64, other: f64, size: f64) -> bool {
    (one - other).abs() <= 1e-8 * one.abs().max(other.abs()).max(size)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Section and loads turned together: the same stresses, and moments and movements turned like
    /// vectors.
    #[test]
    fn turning_everything_changes_nothing(loaded in loaded(), angle in -3.0..3.0_f64) {
        let one = |_: usize| "a".to_owned();
        let still = read(&text(&loaded, 0.0, one, ""));
        let other = read(&text(&loaded, angle, one, ""));
        for name in ["at_most", "there"] {
            prop_assert!(close(still.value(name), other.value(name), 1e3), "{name}");
        }
        for name in ["b.tension", "b.compression"] {
            prop_assert!(close(used(&still, name), used(&other, name), 1e-6), "{name}");
        }
        // To the left and down is the vector of what bends, and of what moves.
        for (down, left, size) in [("bent", "bent_y", 10.0), ("down", "left", 1e-6)] {
            let (x, y) = turned((-still.value(left), -still.value(down)), angle);
            prop_assert!(close(-x, other.value(left), size), "{left}");
            prop_assert!(close(-y, other.value(down), size), "{down}");
        }
    }

    /// What loads do together is the sum of what each does, and of a symmetrical section what acts one
    /// way does nothing the other way.
    #[test]
    fn loads_add_up(loaded in loaded()) {
        let count = loaded.forces.len() + 2;
        let names: Vec<String> = (0..count).map(|number| format!("c{number}")).collect();
        let mut more = String::new();
        for name in &names {
            more += &format!("{name}_there = b.k_{name}.stress(A, 0.7 m)\n");
        }
        let combinations: String = names
            .iter()
            .map(|name| format!("    combination k_{name} = {name}\n"))
            .collect();
        let parted = text(&loaded, 0.4, |number| format!("c{number}"), &more);
        let parted = parted.replace("at_most =", &format!("{combinations}at_most ="));
        let each = read(&parted);
        let sum: f64 = names.iter().map(|name| each.value(&format!("{name}_there"))).sum();
        let all = read(&text(&loaded, 0.4, |_| "a".to_owned(), ""));
        let size = names.iter().map(|name| each.value(&format!("{name}_there")).abs());
        prop_assert!(close(sum, all.value("there"), size.fold(0.0, f64::max)));
    }

    /// A symmetrical section: what acts sideways leaves everything upright as it is.
    #[test]
    fn a_symmetrical_section_bends_each_way_by_itself(
        down in -9e3..9e3_f64, left in 1.0..9e3_f64, share in 0.1..0.9_f64,
    ) {
        let of = |sideways: &str| {
            let at = 5.0 * share;
            read(&format!(
                "material steel\n    E = 205 GPa\nsection s of steel\n    rect p 60 x 140 mm\n\
                 beam b of s\n    spans = 2 m, 3 m\n    load a {down:.17} N at {at:.17} m\n{sideways}\
                 there = b.deflection(1.1 m)\n"
            ))
        };
        let alone = of("");
        let both = of(&format!("    load h {left:.17} N at 1.3 m leftwards\n"));
        for name in ["b.M_max", "b.M_min", "b.V_max", "b.R2", "b.deflection_max", "there"] {
            prop_assert_eq!(alone.value(name), both.value(name), "{}", name);
        }
    }
}

/// A Z of 400 mm x 700 mm, 100 mm thick: Ix = 2.90·10⁹, Iy = 5.60·10⁹, Ixy = −3.00·10⁹ mm⁴, and under
/// 20 kN·m about the x axis 3.76 MPa at the corner P (Hibbeler, *Mechanics of Materials*, examples A.5
/// and 6.16, three digits, from memory).
#[test]
fn a_published_z() {
    let text = "section z\n    rect web 600 x 100 mm\n    rect left_leg 100 x 300 mm above web flush left\n    \
                rect right_leg 100 x 300 mm below web flush right\n    point P at (-200 mm, 400 mm)\n\
                beam b of z\n    length = 10 m\n    load a 8 kN at middle up\np = b.stress(P)\n";
    let text = format!(
        "material m\n    E = 10 GPa\n{}",
        text.replace("section z\n", "section z of m\n")
    );
    let read = read(&text);
    for (name, published) in [("z.Ixx", 2.90e-3), ("z.Iyy", 5.60e-3), ("z.Ixy", -3.00e-3)] {
        assert!((read.value(name) / published - 1.0).abs() < 2e-3, "{name}");
    }
    let found = read.value("p") / 1e6;
    assert!((found - 3.76).abs() < 0.005, "{found}");
}

/// 200 mm x 400 mm under 7.20 kN·m about the strong and 9.60 kN·m about the weak axis: 4.95 MPa and
/// 2.25 MPa at the corners, either sign (Hibbeler, *Mechanics of Materials*, example 6.15, three digits,
/// from memory).
#[test]
fn a_published_rectangle() {
    let text = "material m\n    E = 10 GPa\n    limit tension <= 10 MPa\n    limit compression <= 10 MPa\n\
                section r of m\n    rect p 200 x 400 mm\n    point B at top left\n    point C at top right\n    \
                point D at bottom right\n    point E at bottom left\nbeam b of r\n    length = 1 m\n    \
                support fixed at start\n    load down 7.2 kN at end\n    load side 9.6 kN at end leftwards\n\
                at_b = b.stress(B)\nat_c = b.stress(C)\nat_d = b.stress(D)\nat_e = b.stress(E)\n";
    let read = read(text);
    // Held at the start, the tip pulled down and to the left: the top and the right are stretched.
    for (name, published) in [
        ("at_b", -2.25),
        ("at_c", 4.95),
        ("at_d", 2.25),
        ("at_e", -4.95),
    ] {
        let found = read.value(name) / 1e6;
        assert!((found - published).abs() < 0.005, "{name} {found}");
    }
    for name in ["b.tension", "b.compression"] {
        assert!((used(&read, name) - 0.495).abs() < 0.0005);
    }
}

/// The smallest breadth of a purlin under loads both ways keeps its limits, and the next smaller one
/// does not: σ = M/Wx + My/Wy at the corner.
#[test]
fn the_smallest_size_under_loads_both_ways() {
    let of = |size: &str, search: &str| {
        file(&format!(
            "material timber\n    E = 10 GPa\n    limit tension <= 12 MPa\n{search}\
             section s of timber\n    rect p {size} x 200 mm\nbeam purlin of s\n    length = 4 m\n    \
             load roof 2 kN/m throughout\n    load roof 1 kN/m throughout leftwards\n    \
             limit deflection sideways <= span/150\n"
        ))
    };
    let found = of("t", "t = smallest 60 mm to 160 mm step 5 mm for purlin\n");
    assert_eq!(found.findings, Vec::<String>::new());
    let size = found.value("t");
    let holds = |size: f64| {
        let (moment, moment_y) = (4e3, 2e3);
        let stress = moment / (size * 0.04 / 6.0) + moment_y / (0.2 * size * size / 6.0);
        let deflection = 5.0 * 1e3 * 256.0 / (384.0 * 10e9 * 0.2 * size * size * size / 12.0);
        stress <= 12e6 && deflection <= 4.0 / 150.0
    };
    assert!(holds(size) && !holds(size - 0.005), "{size}");
    let read = of(&format!("{} mm", 1e3 * size), "");
    assert!(read.checks.iter().all(|check| check.holds == Some(true)));
    let smaller = of(&format!("{} mm", 1e3 * (size - 0.005)), "");
    assert!(
        smaller
            .checks
            .iter()
            .any(|check| check.holds == Some(false))
    );
}

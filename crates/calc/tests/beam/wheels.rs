//! Wheels that run along a beam.

use crate::reading::{Read, W, beam, file};

/// To 9 digits: the place of the wheels is found by enclosure.
#[track_caller]
fn close(read: &Read, expected: &[(&str, f64)]) {
    assert_eq!(read.findings, Vec::<String>::new());
    for (name, expected) in expected {
        let value = read.value(name);
        let allowed = 1e-9 * expected.abs().max(1.0);
        assert!(
            (value - expected).abs() <= allowed,
            "{name} is {value}, not {expected}"
        );
    }
}

/// P·L/4, P, P·L³/(48·EI) (AISC *Steel Construction Manual*, table 3-23, from memory); under the
/// place asked for P·x·(L − x)/L, and P·(L − x)/L or P·x/L beside it.
#[test]
fn one_wheel() {
    let read = beam(
        "length = 6 m\nload crane 8 kN moving\nlimit tension <= 200 MPa",
        "m2 = b.M(2 m)\nv2 = b.V(2 m)\nd3 = b.deflection(3 m)\nF = largest crane of b [kN]\n\
         s = b.stress(low)\ns2 = b.stress(low, 2 m)\n",
    );
    let ei = crate::reading::EI;
    close(
        &read,
        &[
            ("b.M_max", 8e3 * 6.0 / 4.0),
            ("b.M_min", 0.0),
            ("b.V_max", 8e3),
            ("b.V_min", -8e3),
            ("b.R1", 8e3),
            ("b.R1_min", 0.0),
            ("b.deflection_max", 8e3 * 216.0 / (48.0 * ei)),
            ("m2", 8e3 * 2.0 * 4.0 / 6.0),
            ("v2", 8e3 * 4.0 / 6.0),
            ("d3", 8e3 * 216.0 / (48.0 * ei)),
            ("F", 200e6 * W * 4.0 / 6.0),
            ("s2", 8e3 * 2.0 * 4.0 / 6.0 / W),
        ],
    );
    let tension = read.check("b.tension");
    assert_eq!(tension.place.as_deref(), Some("low, at 3 m, crane at 3 m"));
}

/// P/(2L)·(L − a/2)², P·(2 − a/L) (AISC table 3-23, two equal moving loads, from memory), with a
/// permanent load that acts besides in one combination only.
#[test]
fn two_wheels_in_combinations() {
    let (p, a, l, w): (f64, f64, f64, f64) = (12e3, 1.8, 6.0, 1e3);
    let read = beam(
        "length = 6 m\nload dead 1 kN/m throughout\n\
         load trolley 12 kN, 12 kN at 0 m, 1.8 m moving\n\
         combination strength = 1.35*dead + 1.5*trolley\ncombination service = 0*dead + trolley\n\
         limit tension <= 400 MPa under service",
        "k = largest trolley of b\n",
    );
    let moment = p / (2.0 * l) * (l - a / 2.0) * (l - a / 2.0);
    close(
        &read,
        &[
            ("b.service.M_max", moment),
            ("b.service.V_max", p * (2.0 - a / l)),
            (
                "b.strength.V_max",
                1.5 * p * (2.0 - a / l) + 1.35 * w * l / 2.0,
            ),
            ("b.strength.R1_min", 1.35 * w * l / 2.0),
            ("k", 400e6 * W / moment),
        ],
    );
    // Under a wheel at x: R·x with the train's resultant, and the permanent load's own.
    let x: f64 = {
        let lever = l - a / 2.0;
        let slope = 1.5 * 2.0 * p * lever / l + 1.35 * w * l / 2.0;
        slope / (2.0 * (1.5 * 2.0 * p / l + 1.35 * w / 2.0))
    };
    let train = 1.5 * 2.0 * p * x * (l - a / 2.0 - x) / l;
    let dead = 1.35 * w * x * (l - x) / 2.0;
    close(&read, &[("b.strength.M_max", train + dead)]);
}

/// One way only: the lighter wheel ahead at the start. P1 + P2·(L − a)/L either way round.
#[test]
fn one_way() {
    let (p1, p2, a, l) = (20e3, 8e3, 2.0, 7.0);
    let line = "load trolley 8 kN, 20 kN at 0 m, 2 m moving";
    let either = beam(&format!("length = 7 m\n{line}"), "");
    close(&either, &[("b.V_max", p1 + p2 * (l - a) / l)]);
    let only = beam(&format!("length = 7 m\n{line} one way"), "");
    close(
        &only,
        &[
            ("b.V_max", p2 + p1 * (l - a) / l),
            ("b.V_min", -(p1 + p2 * (l - a) / l)),
        ],
    );
}

/// The largest load beside a permanent one: the train's worst place moves as it grows. With half of
/// the beam loaded, M = R·x − w·x²/2 + P·x·(L − x)/L in the loaded half; the file's own answer put
/// in gives the limit.
#[test]
fn the_place_is_sought_at_each_size() {
    let lines = |crane: &str| {
        format!(
            "length = 6 m\nload dead 4 kN/m from start to middle\nload crane {crane} moving\n\
             limit tension <= 150 MPa"
        )
    };
    let read = beam(&lines("1 kN"), "F = largest crane of b [kN]\n");
    let force = read.value("F");
    let (w, l, limit) = (4e3, 6.0, 150e6 * W);
    let slope = 3.0 * w * l / 8.0 + force;
    let curve = w / 2.0 + force / l;
    assert!((slope * slope / (4.0 * curve) / limit - 1.0).abs() < 1e-9);
    let again = beam(&lines(&format!("{force} N")), "");
    let used = again.check("b.tension").utilisation.expect("known");
    assert!((used - 1.0).abs() < 1e-9);
}

/// Together with loads on any spans each of both finds its own worst: 0.0962·P·L and w·L²/8 over the
/// middle support of two equal spans (influence tables and AISC table 3-23, from memory).
#[test]
fn with_loads_on_any_spans() {
    let read = beam(
        "spans = 5 m, 5 m\nload live 2 kN/m on any spans\nload crane 10 kN moving\n\
         limit compression <= 300 MPa",
        "",
    );
    let (p, w, l) = (10e3, 2e3, 5.0);
    let hogging = -(p * l / (6.0 * 3.0_f64.sqrt()) + w * l * l / 8.0);
    close(
        &read,
        &[("b.M_min", hogging), ("b.R2_max", p + 1.25 * w * l)],
    );
    let place = read.check("b.compression").place.clone().expect("known");
    assert!(
        place.contains("live on span") && place.contains(" and crane at "),
        "{place}"
    );
}

#[test]
fn what_makes_no_wheels_is_told() {
    let refused = |load: &str, finding: &str| {
        let read = beam(&format!("length = 6 m\n{load}"), "");
        read.finds(&[finding]);
        assert!(!read.values.contains_key("b.M_max"));
    };
    refused(
        "load a 2 kN, 3 kN at 0 m moving",
        "place-wrong at \"0 m\": 2 wheels need",
    );
    refused(
        "load a 2 kN, 3 kN moving",
        "place-wrong at \"moving\": 2 wheels need",
    );
    refused(
        "load a 2 kN, 3 kN at middle",
        "place-wrong at \"2 kN, 3 kN\": several loads",
    );
    refused(
        "load a 2 kN, 3 kN at 1 m, 3 m moving",
        "place-wrong at \"1 m\": the distances",
    );
    refused(
        "load a 2 kN, 3 kN at 0 m, 0 m moving",
        "place-wrong at \"0 m\": the distances",
    );
    refused(
        "load a 2 kN at middle moving",
        "place-wrong at \"middle\": wheels stand",
    );
    refused("load a 2 kN/m moving", "unit-mismatch at \"2 kN/m\"");
    refused(
        "load a 2 kN, 3 m at 0 m, 2 m moving",
        "unit-mismatch at \"3 m\"",
    );
    refused("load a -2 kN moving", "value-not-positive at \"-2 kN\"");
    refused(
        "load a 2 kN moving up",
        "place-wrong at \"up\": a wheel presses down",
    );
    refused(
        "load a self weight moving",
        "place-wrong at \"self weight\"",
    );
    refused(
        "load a 1 kN moving\nload a 2 kN moving",
        "not-supported-yet at \"load a 2 kN moving\"",
    );
    refused(
        "load a 1 kN moving\nload b 2 kN moving",
        "not-supported-yet at \"b\"",
    );
}

/// An I of three plates, whose joint of web and flange governs where the shear is large.
fn of_plates(beam_lines: &str, more: &str) -> Read {
    file(&format!(
        "material steel\n    E = 205 GPa\nsection s of steel\n    rect low 100 x 10 mm\n    \
         rect web 5 x 180 mm above low\n    rect high 100 x 10 mm above web\n    \
         point edge at top of web\n    point corner at top left\nbeam b of s\n{beam_lines}{more}"
    ))
}

/// The same beam with the train as loads that stay, its first wheel at many places. `loads` gives the
/// lines for a place; what each read is asked for is never more than with wheels, and comes near to it.
#[track_caller]
fn never_exceeded(
    with_wheels: &[f64],
    places: impl Iterator<Item = f64>,
    at: impl Fn(f64) -> Vec<f64>,
    excess: f64,
) {
    let mut most = vec![0.0_f64; with_wheels.len()];
    for place in places {
        for (most, own) in most.iter_mut().zip(at(place)) {
            *most = most.max(own.abs());
        }
    }
    for (wheels, most) in with_wheels.iter().zip(&most) {
        assert!(
            most <= &(wheels * (1.0 + 1e-4)) && wheels <= &(most * (1.0 + excess)),
            "{with_wheels:?} {most:?}"
        );
    }
}

/// Normal and shear stress together are not worst where each alone is: two spans with a permanent load,
/// against wheels put at many places. Of a limit the bound is too high by a thousandth at most.
#[test]
fn normal_and_shear_stress_together() {
    let asked = |read: &Read| {
        vec![
            read.check("b.von_mises").utilisation.expect("known"),
            read.check("b.principal_stress_2")
                .utilisation
                .expect("known"),
            read.value("at_edge"),
            read.value("there"),
            read.value("least").abs(),
        ]
    };
    let limits = "    limit von_mises <= 300 MPa\n    limit principal_stress_2 <= 290 MPa\n";
    let more = "at_edge = b.von_mises(edge)\nthere = b.von_mises(edge, 1.1 m)\n\
                least = b.principal_stress_2(edge)\n";
    let spans = "    spans = 1 m, 1.4 m\n    load dead 20 kN/m throughout\n";
    let with_wheels = of_plates(
        &format!("{spans}    load crane 70 kN, 50 kN at 0 m, 0.5 m moving one way\n{limits}"),
        more,
    );
    assert_eq!(with_wheels.findings, Vec::<String>::new());
    let places = (0..=60).map(|step| -0.5 + 0.05 * f64::from(step));
    // Just beside the supports, too.
    let beside = [-0.5, 0.0, 0.5, 1.0, 1.9, 2.4].map(|x| [x - 1e-7, x + 1e-7]);
    let places = places.chain(beside.into_iter().flatten());
    let at = |place: f64| {
        let wheels: String = [(70, place), (50, place + 0.5)]
            .into_iter()
            .filter(|(_, x)| (0.0..=2.4).contains(x))
            .map(|(force, x)| format!("    load crane {force} kN at {x} m\n"))
            .collect();
        asked(&of_plates(&format!("{spans}{wheels}{limits}"), more))
    };
    never_exceeded(&asked(&with_wheels), places, at, 0.01);
}

/// Sideways loads besides: normal and shear stresses of both, against wheels at many places.
#[test]
fn with_loads_sideways() {
    let asked = |read: &Read| {
        let used = |name: &str| read.check(name).utilisation.expect("known");
        vec![
            used("b.tension"),
            used("b.compression"),
            used("b.shear"),
            read.value("corner_most").abs(),
            read.value("corner_there").abs(),
            read.value("corner_both"),
        ]
    };
    let limits = "    limit tension <= 200 MPa\n    limit compression <= 150 MPa\n    \
                  limit shear <= 100 MPa\n";
    let more = "corner_most = b.stress(corner)\ncorner_there = b.stress(corner, 1.1 m)\n\
                corner_both = b.von_mises(corner)\n";
    let lines = "    length = 3 m\n    support pin at start\n    support roller at 2.4 m\n    \
                 load wind 3 kN/m to 1 kN/m from start to end leftwards\n    load dead 1 kN/m throughout\n";
    let with_wheels = of_plates(
        &format!("{lines}    load crane 40 kN moving\n{limits}"),
        more,
    );
    let places = (0..=60).map(|step| 0.05 * f64::from(step));
    let places = places.chain([1e-6, 2.399_999]);
    let at = |place: f64| {
        let wheel = format!("    load crane 40 kN at {place} m\n");
        asked(&of_plates(&format!("{lines}{wheel}{limits}"), more))
    };
    never_exceeded(&asked(&with_wheels), places, at, 0.003);
    let place = with_wheels.check("b.tension").place.clone();
    assert!(place.is_some_and(|place| place.contains("crane at")));
    // All stresses together: the sideways ones add with their own largest, wherever it is.
    let limits = "    limit von_mises <= 200 MPa\n";
    let of = |crane: &str| {
        let read = of_plates(
            &format!("{lines}    load crane 40 kN {crane}\n{limits}"),
            "",
        );
        read.check("b.von_mises").utilisation.expect("known")
    };
    let wheel = of("moving");
    let stay = (0..=30).map(|step| of(&format!("at {} m", 0.1 * f64::from(step))));
    let stay = stay.fold(0.0, f64::max);
    assert!(stay <= wheel && wheel <= 1.05 * stay, "{wheel} {stay}");
}

/// The largest wheel for a limit on both stresses, put in, uses the limit up.
#[test]
fn the_largest_wheel_for_both_stresses() {
    let of = |force: f64, more: &str| {
        let lines = format!(
            "    length = 1 m\n    load dead 20 kN/m throughout\n    load crane {force} kN moving\n    \
             limit von_mises <= 150 MPa\n"
        );
        of_plates(&lines, more)
    };
    let largest = of(40.0, "F = largest crane of b [kN]\n").value("F") / 1e3;
    let used = of(largest, "")
        .check("b.von_mises")
        .utilisation
        .expect("known");
    assert!((used - 1.0).abs() < 1e-8, "{used}");
}

//! Limits: utilisations, verdicts, and the words for what governs.

use crate::reading::{BAR, EI, W, beam, file};
use haunch_calc::Severity;

#[test]
fn every_subject() {
    let read = beam(
        "length = 3 m\nload crate 5 kN at middle\nlimit tension <= 60 MPa\nlimit compression <= 90 MPa\n\
         limit shear <= 40 MPa\nlimit deflection <= span/250",
        "",
    );
    let stress = 5e3 * 3.0 / 4.0 / W;
    let expected = [
        ("b.tension", stress / 60e6, Some("low, at 1.5 m")),
        ("b.compression", stress / 90e6, Some("high, at 1.5 m")),
        (
            "b.shear",
            1.5 * 2.5e3 / (0.03 * 0.12) / 40e6,
            Some("at 0 m"),
        ),
        (
            "b.deflection",
            5e3 * 27.0 / (48.0 * EI) / 0.012,
            Some("at 1.5 m"),
        ),
    ];
    for (name, utilisation, place) in expected {
        let check = read.check(name);
        let used = check.utilisation.expect("it is known");
        assert!((used / utilisation - 1.0).abs() < 1e-11, "{name}: {used}");
        assert_eq!(check.holds, Some(true));
        assert_eq!(check.place.as_deref(), place, "{name}");
    }
    assert_eq!(read.check("b.tension").text, "52.08 MPa <= 60.00 MPa");
    let largest = read.check("b.tension").utilisation;
    assert_eq!(read.values.get("b.utilisation").copied(), largest);
}

#[test]
fn a_limit_that_is_not_kept() {
    let read = beam(
        "length = 3 m\nload crate 5 kN at middle\nlimit tension <= 50 MPa",
        "",
    );
    read.finds(&[
        "limit-exceeded at \"limit tension <= 50 MPa\": the tensile stress is 52.08 MPa \
         (low, at 1.5 m), and at most 50.00 MPa is allowed: 104.2 % of the limit is used.",
    ]);
    assert_eq!(read.check("b.tension").holds, Some(false));
}

#[test]
fn what_is_printed_never_contradicts_the_verdict() {
    // W = 72·10³ mm³: 3.6 kN·m gives 50 MPa.
    let read = |load: &str| {
        beam(
            &format!("length = 3 m\nload crate {load} at middle\nlimit tension <= 50 MPa"),
            "",
        )
    };
    let over = read("4.80001 kN");
    over.finds(&["limit-exceeded at \"limit tension <= 50 MPa\": the tensile stress is 50.0001 MPa \
                  (low, at 1.5 m), and at most 50.0000 MPa is allowed: 100.0002 % of the limit is used."]);
    let exactly = read("4.8 kN");
    exactly.finds(&[]);
    assert_eq!(exactly.check("b.tension").holds, Some(true));
}

#[test]
fn a_bound_that_may_not_be_reached() {
    let read = |load: &str| {
        beam(
            &format!("length = 3 m\nload crate {load} at middle\nlimit tension < 50 MPa"),
            "P = largest crate of b [kN]\n",
        )
    };
    read("4.8 kN").finds(&[
        "limit-exceeded at \"limit tension < 50 MPa\": the tensile stress is 50.00 MPa \
         (low, at 1.5 m), and less than 50.00 MPa is allowed",
    ]);
    let below = read("4.799 kN");
    below.finds(&[]);
    let largest = below.value("P");
    assert!(largest < 4800.0 && largest > 4799.9999);
}

/// What an editor shows at the lines of a beam.
#[test]
fn annotations() {
    let text = crate::reading::with_bar(
        "length = 4 m\nsupport fixed at start\nsupport roller at end\nload live 2.4 kN/m throughout\n\
         load dead self weight\ncombination c = live\ncombination d = dead\nlimit tension <= 100 MPa",
        "",
    );
    let host = crate::reading::host(&text);
    let snapshot = host.snapshot();
    let file = snapshot.file("a.haunch").expect("it is there");
    let preferences = snapshot.preferences(file);
    let is_b = |line: &haunch_calc::LineView<'_>| line.block().is_some_and(|own| own.name == "b");
    let heading = snapshot.lines(file).find(is_b).expect("it is there").id();
    let mut shown = Vec::new();
    for annotation in snapshot.annotations(heading) {
        let line = snapshot.line(annotation.line).expect("it is there");
        for result in &annotation.results {
            let value = result.value.as_quantity().expect("it is a number");
            let value = haunch_quantity::format_quantity(value, None, &preferences);
            let words = format!("{} {value} {}", result.label, result.word);
            shown.push(format!("{}: {}", line.text().trim(), words.trim()));
        }
    }
    assert_eq!(
        shown,
        [
            "beam b of bar: M_max 2.700 kN·m at 2.5 m under c",
            "beam b of bar: M_min -4.800 kN·m at 0 m under c",
            "beam b of bar: 0.6667 tension, high, at 0 m, under c",
            "support fixed at start: R = 6.000 kN at most",
            "support fixed at start: fixing moment 4.800 kN·m anticlockwise",
            "support roller at end: R = 3.600 kN at most",
            "load dead self weight: 0.2771 kN/m",
            "combination c = live: M_min -4.800 kN·m at 0 m",
            "combination d = dead: M_min -0.5543 kN·m at 0 m",
            "point low at bottom: 66.67 MPa compression at 0 m under c",
            "point high at top: 66.67 MPa tension at 0 m under c",
            "limit tension <= 100 MPa: 0.6667 high, at 0 m, under c",
        ]
    );
}

#[test]
fn the_limits_of_the_material() {
    let text = BAR.replace(
        "E = 205 GPa",
        "E = 205 GPa\n    limit tension <= 40 MPa\n    limit shear <= 90 MPa",
    );
    let text = format!(
        "{text}beam b of bar\n    length = 3 m\n    load crate 5 kN at middle\n    limit tension <= 60 MPa\n"
    );
    let host = crate::reading::host(&text);
    let snapshot = host.snapshot();
    let read = crate::reading::of(&snapshot);
    read.finds(&["limit-exceeded at \"b\": the tensile stress is 52.08 MPa (low, at 1.5 m), and at most 40.00 MPa"]);
    let names: Vec<&str> = read
        .checks
        .iter()
        .map(|check| check.name.as_str())
        .collect();
    assert_eq!(names, ["b.tension", "b.tension.2", "b.shear"]);
    let finding = &snapshot.findings(snapshot.file("a.haunch").expect("it is there"))[0];
    assert_eq!(finding.severity, Severity::Error);
    let related = &finding.related[0];
    let line = snapshot.line(related.place.line).expect("it is there");
    assert_eq!(
        related.place.span.text(line.text()),
        "limit tension <= 40 MPa"
    );
    let used = read.check("b.tension.2").utilisation;
    assert_eq!(read.values.get("b.utilisation").copied(), used);
}

#[test]
fn a_span_of_an_overhang_is_twice_its_length() {
    let read = beam(
        "length = 3.5 m\nsupport pin at 0.5 m\nsupport roller at 2.5 m\nload tip 3 kN at end\n\
         limit deflection <= span/200",
        "tip = b.deflection(3.5 m)\n",
    );
    // Overhang of 1 m beyond a span of 2 m: v = P·a²·(l + a)/(3·EI); 2·1 m/200 = 10 mm.
    let tip = 3e3 * 3.0 / (3.0 * EI);
    assert!((read.value("tip") / tip - 1.0).abs() < 1e-11);
    let used = read.check("b.deflection").utilisation.expect("it is known");
    assert!((used / (tip / 0.01) - 1.0).abs() < 1e-11, "{used}");
    assert_eq!(
        read.check("b.deflection").place.as_deref(),
        Some("at 3.5 m")
    );
}

#[test]
fn each_span_has_its_own_bound() {
    // Span 1 alone is loaded: it sags, and span 2 rises less; but span 2 is far stricter by its length.
    let read = beam(
        "spans = 4 m, 1 m\nload a 2 kN/m on span 1\nlimit deflection <= if span >= 2 m then 1 m else 0.1 mm",
        "",
    );
    assert_eq!(read.check("b.deflection").holds, Some(false));
    let place = read
        .check("b.deflection")
        .place
        .clone()
        .expect("it is known");
    let x: f64 = place
        .trim_start_matches("at ")
        .trim_end_matches(" m")
        .parse()
        .expect("a number");
    assert!(x > 4.0 && x < 5.0, "{place}");
}

#[test]
fn a_limit_under_one_combination() {
    let read = beam(
        "length = 4 m\nload dead 0.5 kN/m throughout\nload live 3 kN at middle\n\
         combination strength = 1.35*dead + 1.5*live\ncombination service = dead + live\n\
         limit deflection <= span/100 under service\nlimit tension <= 165 MPa",
        "",
    );
    let v = 5.0 * 0.5e3 * 256.0 / (384.0 * EI) + 3e3 * 64.0 / (48.0 * EI);
    let used = read.check("b.deflection").utilisation.expect("it is known");
    assert!((used / (v / 0.04) - 1.0).abs() < 1e-11);
    assert_eq!(
        read.check("b.deflection").place.as_deref(),
        Some("at 2 m, under service")
    );
    assert_eq!(
        read.check("b.tension").place.as_deref(),
        Some("low, at 2 m, under strength")
    );
    assert!(read.values.contains_key("b.service.utilisation"));
}

#[test]
fn a_limit_that_is_not_known_leaves_the_results() {
    for limit in [
        "limit tension <= sigma",
        "limit tension <= 60 kN",
        "limit tension <= 60 MPa under s",
        "limit tension <= ",
    ] {
        let read = beam(
            &format!("length = 3 m\nload a 5 kN at middle\n{limit}\nlimit shear <= 40 MPa"),
            "P = largest a of b\n",
        );
        assert_eq!(read.findings.len(), 1, "{:#?}", read.findings);
        assert!((read.value("b.M_max") - 3750.0).abs() < 1e-9);
        assert_eq!(read.check("b.shear").holds, Some(true));
        assert!(!read.values.contains_key("b.utilisation"), "{limit}");
        assert!(!read.values.contains_key("P"), "{limit}");
        let unknown = read.checks.iter().find(|check| check.name == "b.tension");
        assert!(unknown.is_none_or(|check| check.holds.is_none()));
    }
}

#[test]
fn a_beam_without_results_keeps_its_checks_unknown() {
    let read = beam(
        "length = 3 m\nload a F at middle\nlimit deflection <= span/200",
        "",
    );
    read.finds(&["unknown-name at \"F\""]);
    assert_eq!(read.check("b.deflection").holds, None);
    assert_eq!(read.check("b.deflection").utilisation, None);
}

#[test]
fn without_a_modulus_there_is_no_deflection() {
    let text = "section bar\n    rect plate 30 x 120 mm\nbeam b of bar\n    length = 3 m\n    load a 5 kN at middle\n    limit deflection <= 3 mm\n    limit tension <= 60 MPa\nd = b.deflection(1 m)\n";
    let read = file(text);
    read.finds(&[
        "no-deflection at \"b\"",
        "missing-property at \"deflection\"",
        "no-number at \"b.deflection(1 m)\"",
    ]);
    assert!((read.value("b.M_max") - 3750.0).abs() < 1e-9);
    assert_eq!(read.check("b.deflection").holds, None);
    assert_eq!(read.check("b.tension").holds, Some(true));
}

#[test]
fn a_bound_is_more_than_zero() {
    let read = beam(
        "length = 3 m\nload a 5 kN at middle\nlimit deflection <= 0 mm",
        "",
    );
    read.finds(&["value-not-positive at \"0 mm\""]);
    assert_eq!(read.check("b.deflection").holds, None);
}

/// A limit that cannot be compared with anything is not passed over, in no search either.
#[test]
fn a_limit_on_a_stress_that_is_not_known() {
    let text = "material steel\n    E = 205 GPa\n    limit tension <= 165 MPa\n    limit shear <= 95 MPa\n\
                material oak\n    E = 11 GPa\n\
                section pair of steel\n    rect left_plate 10 x 200 mm\n    \
                rect joist 60 x 200 mm right of left_plate of oak\n    \
                rect right_plate 10 x 200 mm right of joist\n\
                beam b of pair\n    length = 3 m\n    load a 5 kN at middle\nP = largest a of b [kN]\n";
    let read = file(text);
    read.finds(&["no-number at \"b\": there is no number here: at y = "]);
    assert_eq!(read.check("b.shear").holds, None);
    assert_eq!(read.check("b.tension").holds, Some(true));
    assert!(!read.values.contains_key("b.utilisation") && !read.values.contains_key("P"));
}

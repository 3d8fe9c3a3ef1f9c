//! Warnings of slips that dimensions cannot show: each where it belongs, and silent beside it.

use haunch_calc::{Change, Host};

const LINTS: [&str; 4] = [
    "angle-without-unit",
    "conversion-factor",
    "stresses-of-two-kinds",
    "unlikely-material",
];

/// The lints of a file as "code at text", in order, each with what its first repair makes of the text.
fn lints(text: &str) -> Vec<(String, Option<String>)> {
    let mut host = Host::new();
    host.apply(Change::SetText {
        path: "a.haunch".to_owned(),
        text: text.to_owned(),
    });
    let snapshot = host.snapshot();
    let file = snapshot.file("a.haunch").expect("the file");
    snapshot
        .findings(file)
        .iter()
        .filter(|finding| LINTS.contains(&finding.code.name))
        .map(|finding| {
            let line = snapshot.line(finding.place.line).expect("its line");
            let at = finding.place.span.text(line.text());
            let repaired = finding.repairs.first().map(|repair| {
                let mut text = line.text().trim_end().to_owned();
                for (place, new) in &repair.edits {
                    text.replace_range(place.span.start as usize..place.span.end as usize, new);
                }
                text
            });
            (format!("{} at {at}", finding.code.name), repaired)
        })
        .collect()
}

#[track_caller]
fn warns(given: &str, line: &str, expected: &str, repaired: Option<&str>) {
    assert_eq!(
        lints(&format!("{given}\n{line}\n")),
        [(expected.to_owned(), repaired.map(str::to_owned))],
        "{line}"
    );
}

#[track_caller]
fn silent(given: &str, line: &str) {
    assert_eq!(lints(&format!("{given}\n{line}\n")), [], "{line}");
}

const VALUES: &str = "M = 12 kN*m\nW = 84 cm^3\nL = 4 m\nF = 12 kN\nm_bag = 40 kg\nE = 205 GPa";

#[test]
fn a_conversion_factor() {
    let factor = |line: &str, factor: &str, repaired: &str| {
        let expected = format!("conversion-factor at {factor}");
        warns(VALUES, line, &expected, Some(repaired));
    };
    factor("s = M*1e6/W [MPa]", "1e6", "s = M/W [MPa]");
    factor("s = 1000000*M/W [MPa]", "1000000", "s = M/W [MPa]");
    factor("s = M*10^6/W [MPa]", "10^6", "s = M/W [MPa]");
    factor("s = M/W*1000 [MPa]", "1000", "s = M/W [MPa]");
    factor("s = M/W/1e3 [MPa]", "1e3", "s = M/W [MPa]");
    factor("x = L*1000 [mm]", "1000", "x = L [mm]");
    factor("G = m_bag*9.81 [kN]", "9.81", "G = m_bag*g_n [kN]");
    factor("q = F/9.81 [kg]", "9.81", "q = F/g_n [kg]");
    factor("verify M*1e6/W <= 160 MPa", "1e6", "verify M/W <= 160 MPa");
}

#[test]
fn a_plain_number_that_is_no_conversion() {
    for line in [
        "w = 1000*F [kN]",
        "d = L/1000 [mm]",
        "s = E*1e-3 [MPa]",
        "s = E*0.001 [MPa]",
        "s = 1.5*M/W [MPa]",
        "s = M/W",
        "s = M*100/W [MPa]",
        "e = M/W/E*1e6",
        "verify L <= 1000*4 mm",
        "x = 9.81*L [mm]",
    ] {
        silent(VALUES, line);
    }
}

#[test]
fn an_angle_that_looks_like_degrees() {
    let angle = |line: &str, at: &str, repaired: Option<&str>| {
        warns(
            "theta = 30\nslope = 0.5\nF = 12 kN",
            line,
            &format!("angle-without-unit at {at}"),
            repaired,
        );
    };
    angle("V = F*sin(30)", "30", Some("V = F*sin(30 deg)"));
    angle("V = F*cos(-45.5)", "45.5", Some("V = F*cos(-45.5 deg)"));
    angle("V = F*tan(theta)", "theta", None);
    angle("a = 30 deg + 15", "15", Some("a = 30 deg + 15 deg"));
}

#[test]
fn an_angle_in_radians_or_with_its_unit() {
    for line in [
        "V = F*sin(0.5)",
        "V = F*sin(30 deg)",
        "V = F*sin(slope)",
        "V = F*sin(6.28)",
        "V = F*sin(turns*pi)",
        "a = 30 deg + 0.1",
    ] {
        silent("slope = 0.5\nturns = 8\nF = 12 kN", line);
    }
}

const FORCES: &str = "section plank\n    rect board 45 x 240 mm\n\nforces on_it on plank\n    \
    M = 6 kN*m sagging\n    V = 8 kN\n";

#[test]
fn a_normal_and_a_shear_stress_in_one_sum() {
    let sum = |sum: &str| {
        let line = format!("s = {sum}");
        warns(
            FORCES,
            &line,
            &format!("stresses-of-two-kinds at {sum}"),
            None,
        );
    };
    sum("on_it.stress_top + on_it.shear_stress_max");
    sum("on_it.shear_stress(120 mm) - on_it.stress_bottom");
    silent(FORCES, "s = on_it.stress_top + on_it.stress_bottom");
    silent(
        FORCES,
        "s = sqrt(on_it.stress_top^2 + 3*on_it.shear_stress_max^2)",
    );
}

#[test]
fn constants_of_a_material() {
    let material = |lines: &str| {
        lints(&format!(
            "material stuff\n    {}\n",
            lines.replace("; ", "\n    ")
        ))
    };
    let unlikely = |lines: &str, at: &str| {
        let expected = format!("unlikely-material at {at}");
        assert_eq!(material(lines), [(expected, None)], "{lines}");
    };
    unlikely("E = 205 MPa; density = 7850 kg/m^3", "E = 205 MPa");
    unlikely("E = 205 GPa; density = 690 kg/m^3", "E = 205 GPa");
    unlikely("E = 205e3 GPa", "E = 205e3 GPa");
    unlikely("density = 7850 g/mm^3", "density = 7850 g/mm^3");
    unlikely("density = 0.785 kg/m^3", "density = 0.785 kg/m^3");
    unlikely(
        "E = 205 GPa; limit tension <= 165 GPa",
        "limit tension <= 165 GPa",
    );
    // Densities and moduli as tables of materials give them, from memory: structural steel, aluminium,
    // lead, spruce, concrete, a foam, a carbon laminate, cold-drawn wire, rubber.
    for lines in [
        "E = 210 GPa; density = 7850 kg/m^3; limit tension <= 235 MPa",
        "E = 70 GPa; density = 2700 kg/m^3; limit tension <= 250 MPa",
        "E = 16 GPa; density = 11340 kg/m^3; limit tension <= 10 MPa",
        "E = 11 GPa; density = 420 kg/m^3; limit tension <= 14 MPa",
        "E = 33 GPa; density = 2500 kg/m^3; limit compression <= 20 MPa",
        "E = 10 MPa; density = 30 kg/m^3; limit compression <= 0.2 MPa",
        "E = 140 GPa; density = 1600 kg/m^3; limit tension <= 1500 MPa",
        "E = 195 GPa; density = 7810 kg/m^3; limit tension <= 1860 MPa",
        "E = 3 MPa; density = 1200 kg/m^3; limit tension <= 1 MPa",
    ] {
        assert_eq!(material(lines), [], "{lines}");
    }
}

#[test]
fn each_is_silenced_by_the_name_of_its_line() {
    let allowed = |code: &str, name: &str| format!("allow {code} for {name}");
    silent(
        &format!("{VALUES}\n{}", allowed("conversion-factor", "s")),
        "s = M*1e6/W [MPa]",
    );
    silent(&allowed("angle-without-unit", "a"), "a = sin(30)");
    silent(
        &format!("{FORCES}\n{}", allowed("stresses-of-two-kinds", "s")),
        "s = on_it.stress_top + on_it.shear_stress_max",
    );
    silent(
        &allowed("unlikely-material", "steel"),
        "material steel\n    E = 205 MPa\n    density = 7850 kg/m^3",
    );
    warns(
        &allowed("angle-without-unit", "b"),
        "a = sin(30)",
        "angle-without-unit at 30",
        Some("a = sin(30 deg)"),
    );
}

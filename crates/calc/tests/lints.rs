//! Warnings of slips that dimensions cannot show: each where it belongs, and silent beside it.

mod support;

use haunch_calc::{Change, Host};
use support::open;

const LINTS: [&str; 10] = [
    "angle-without-unit",
    "conversion-factor",
    "loose-deflection",
    "magnitude-added",
    "name-like-unit",
    "near-fibre",
    "stresses-of-two-kinds",
    "unlikely-material",
    "unlikely-sizes",
    "unlikely-span",
];

/// The lints of a file as "code at text", in order, each with what its first repair makes of the text.
fn lints(text: &str) -> Vec<(String, Option<String>)> {
    let (snapshot, file) = open(text);
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
        "G = m_bag*1000 [kg]",
        "g = 7.85 kg/m^2*1000/8 [kg/m^2]",
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
    angle(
        "K = tan(45 - slope/2)^2",
        "45",
        Some("K = tan(45 deg - slope/2)^2"),
    );
    angle(
        "x = sin(90 deg - 52)",
        "52",
        Some("x = sin(90 deg - 52 deg)"),
    );
    angle(
        "x = sin((slope + 12) - slope)",
        "12",
        Some("x = sin((slope + 12 deg) - slope)"),
    );
}

#[test]
fn an_angle_behind_a_name() {
    let given = "a = 1.4 m\nb = 2.9 m\nF = 12 kN\nphi = atan(a/b)*180/pi\ntheta = 40 deg\n\
        chi = atan(a/b) [deg]";
    let angle = |line: &str, at: &str, repaired: Option<&str>| {
        warns(
            given,
            line,
            &format!("angle-without-unit at {at}"),
            repaired,
        );
    };
    angle("V = F*sin(phi)", "phi", None);
    angle("V = F*cos((phi))", "phi", None);
    angle("x = theta + 15", "15", Some("x = theta + 15 deg"));
    angle("x = 90 - theta", "90", Some("x = 90 deg - theta"));
    angle("x = chi - 15", "15", Some("x = chi - 15 deg"));
    angle("x = tan(45 + phi)", "45", Some("x = tan(45 deg + phi)"));
    angle("x = cos(90 - theta)", "90", Some("x = cos(90 deg - theta)"));
    for line in [
        "V = F*sin(phi*pi/180)",
        "V = F*sin(theta)",
        "x = theta + 0.1",
        "x = phi + 15",
        "x = theta + 15 deg",
        "n = 3 + theta",
    ] {
        silent(given, line);
    }
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
fn stresses_of_two_kinds_behind_names() {
    let named = "s = on_it.stress_top\nt = on_it.shear_stress_max\nu = t\nr = 2*s";
    let given = format!("{FORCES}\n{named}");
    let sum = |sum: &str| {
        let expected = format!("stresses-of-two-kinds at {sum}");
        warns(&given, &format!("both = {sum}"), &expected, None);
    };
    sum("s + t");
    sum("on_it.stress_bottom + u");
    sum("(s) - on_it.shear_stress_max");
    let letters =
        "sigma = 3 MPa\nsigma_b2 = 4 MPa\ntau = 1 MPa\nτ_q = 2 MPa\ntaut = 3 MPa\nf = 9 MPa";
    let by_letter = |sum: &str| {
        let expected = format!("stresses-of-two-kinds at {sum}");
        warns(letters, &format!("both = {sum}"), &expected, None);
    };
    by_letter("sigma + tau");
    by_letter("τ_q - sigma_b2");
    for line in [
        "both = sigma + sigma_b2",
        "both = sigma/f + tau/f",
        "both = sigma/2 + sqrt((sigma/2)^2 + tau^2)",
        "both = sigma + taut",
    ] {
        silent(letters, line);
    }
    silent(&given, "both = s + on_it.stress_bottom");
    silent(&given, "both = r + t");
    silent(&given, "both = sqrt(s^2 + 3*t^2)");
}

const AXIAL: &str = "N = -35 kN\nA = 3600 mm^2\nM = -2.4 kN*m\nM_m = abs(M)\nW = 95.5 cm^3\n\
    s = abs(M)/W\ns_m = M_m/W\nn = N/A\npull = 35 kN";

#[test]
fn a_magnitude_beside_compression() {
    let sum = |sum: &str| {
        let expected = format!("magnitude-added at {sum}");
        warns(AXIAL, &format!("sigma = {sum}"), &expected, None);
    };
    sum("N/A + s");
    sum("n + s_m");
    sum("s + n");
    sum("N/A + abs(M)/W");
    for line in [
        "sigma = N/A + M/W",
        "sigma_t = N/A + s",
        "sigma = pull/A + s",
        "sigma = abs(N)/A + s",
        "sigma = N/A - s",
        "sigma = max(N/A + s, -(N/A - s))",
    ] {
        silent(AXIAL, line);
    }
    silent(&format!("{AXIAL}\nother = n - s"), "sigma = n + s");
    let block = format!("{FORCES}    N = 60 kN compression\n\nM2 = 1 kN*m\nW2 = 432 cm^3\n");
    let expected = "magnitude-added at on_it.N/(45 mm*240 mm) + abs(M2)/W2";
    let line = "sigma = on_it.N/(45 mm*240 mm) + abs(M2)/W2";
    warns(&block, line, expected, None);
}

const TEE: &str = "M = 3 kN*m\nw = 4 kN/m\nL = 2 m\nf = 160 MPa\nh = 192 mm\nsection tee\n    \
    rect flange 150 x 12 mm\n    rect stem 10 x 180 mm above flange\n    point foot at bottom\n\n\
    I = tee.Ixx\n";

#[test]
fn the_nearer_fibre() {
    let near = |line: &str, at: &str, repaired: Option<&str>| {
        warns(TEE, line, &format!("near-fibre at {at}"), repaired);
    };
    near(
        "s = M*tee.to_bottom/tee.Ixx",
        "tee.to_bottom",
        Some("s = M*tee.to_top/tee.Ixx"),
    );
    near(
        "s = w*L^2/8*tee.to_bottom/I",
        "tee.to_bottom",
        Some("s = w*L^2/8*tee.to_top/I"),
    );
    near(
        "M_allow = f*max(tee.section_modulus_top, tee.section_modulus_bottom)",
        "max(tee.section_modulus_top, tee.section_modulus_bottom)",
        Some("M_allow = f*min(tee.section_modulus_top, tee.section_modulus_bottom)"),
    );
    near(
        "s = M*min(tee.to_bottom, tee.to_top)/tee.Ixx",
        "min(tee.to_bottom, tee.to_top)",
        Some("s = M*max(tee.to_bottom, tee.to_top)/tee.Ixx"),
    );
    near("s = M*tee.ybar/tee.Ixx", "tee.ybar", None);
    near("s = M/(tee.Ixx/tee.ybar)", "tee.ybar", None);
    near("s = M*(tee.depth/2)/I", "tee.depth", None);
    near("s = M*h/(2*I)", "h", None);
    near("s = M*96 mm/I", "96 mm", None);
    near(
        "W = tee.Ixx/tee.to_bottom",
        "tee.to_bottom",
        Some("W = tee.Ixx/tee.to_top"),
    );
    let named = format!("{TEE}c = tee.to_bottom\nS = tee.section_modulus_bottom\n");
    warns(&named, "s = M*c/I", "near-fibre at c", None);
    warns(&named, "s = M/S", "near-fibre at S", None);
    near(
        "s = M/tee.section_modulus_bottom",
        "tee.section_modulus_bottom",
        Some("s = M/tee.section_modulus_top"),
    );
    near(
        "M_allow = f*tee.section_modulus_bottom",
        "tee.section_modulus_bottom",
        Some("M_allow = f*tee.section_modulus_top"),
    );
    near(
        "verify M/tee.section_modulus_bottom <= f",
        "tee.section_modulus_bottom",
        Some("verify M/tee.section_modulus_top <= f"),
    );
    near(
        "used = M/(f*tee.section_modulus_bottom)",
        "tee.section_modulus_bottom",
        Some("used = M/(f*tee.section_modulus_top)"),
    );
}

#[test]
fn a_fibre_that_is_meant() {
    for line in [
        "M_allow = f*min(tee.section_modulus_top, tee.section_modulus_bottom)",
        "s = M/min(tee.section_modulus_top, tee.section_modulus_bottom)",
        "s = M*max(tee.to_top, tee.to_bottom)/tee.Ixx",
        "s_top = M/max(tee.section_modulus_top, tee.section_modulus_bottom)",
        "c = max(tee.section_modulus_top, tee.section_modulus_bottom)/tee.area",
        "s = M*tee.to_top/tee.Ixx",
        "s = M*(tee.depth - tee.ybar)/I",
        "s_bottom = M*tee.to_bottom/tee.Ixx",
        "s_flange = M*tee.to_bottom/tee.Ixx",
        "s_foot = M*tee.to_bottom/tee.Ixx",
        "s_t = M/tee.section_modulus_bottom",
        "W = min(tee.section_modulus_top, tee.section_modulus_bottom)",
        "s = M*max(tee.to_top, tee.to_bottom)/tee.Ixx",
        "s = M*54.1 mm/tee.Ixx",
        "s = 2*M*tee.depth/tee.Ixx",
        "s = M*tee.depth/tee.Ixx",
        "tau = 2 kN*tee.first_moment(54 mm)/(tee.Ixx*10 mm)",
        "ratio = tee.to_bottom/tee.to_top",
        "r = M*tee.to_bottom",
    ] {
        silent(TEE, line);
    }
    let near = "s = M*tee.to_bottom/tee.Ixx";
    for other in [
        "r = M*tee.to_top/tee.Ixx",
        "verify M/tee.section_modulus_top <= f",
        "y2 = tee.depth - tee.ybar",
        "forces on_it on tee\n    M = 3 kN*m hogging\n\nexpect s = on_it.stress_bottom within 1 %",
    ] {
        silent(&format!("{TEE}{other}\n"), near);
    }
    let of_two = TEE
        .replace(
            "section tee",
            "material oak\n    E = 12 GPa\nmaterial steel\n    E = 205 GPa\n\
        section tee of steel",
        )
        .replace("above flange", "above flange of oak");
    silent(&of_two, near);
    silent(&of_two, "s = M/tee.section_modulus_bottom");
    silent(
        &format!("{TEE}y2 = tee.depth - tee.ybar\n"),
        "s = M/tee.section_modulus_bottom",
    );
    let even = "M = 3 kN*m\nsection tee\n    rect stem 45 x 190 mm\n";
    silent(even, near);
}

#[test]
fn fibres_by_their_names() {
    let hand = "M = 14 kN*m\nI = 1.3e7 mm^4\ny_top = 81 mm\ny_bot = 129 mm\n\
        W_upper = 160 cm^3\nW_lower = 101 cm^3\nW_t = 1 cm^3";
    let near = |line: &str, at: &str, repaired: &str| {
        warns(hand, line, &format!("near-fibre at {at}"), Some(repaired));
    };
    near("s = M*y_top/I", "y_top", "s = M*y_bot/I");
    near("s = M/W_upper", "W_upper", "s = M/W_lower");
    silent(hand, "s = M*y_bot/I");
    silent(hand, "s_top = M*y_top/I");
    silent(hand, "s = M/W_t");
    silent(&format!("{hand}\nother = M*y_bot/I"), "s = M*y_top/I");
    // One distance as the depth less the other one says nothing of the fibre that is meant.
    let less = "M = 14 kN*m\nI = 1.3e7 mm^4\ny_bottom = 129 mm\ny_top = 210 mm - y_bottom";
    let expected = "near-fibre at y_top";
    warns(less, "s = M*y_top/I", expected, Some("s = M*y_bottom/I"));
}

#[test]
fn the_farther_fibre_comes_and_goes() {
    let near = "s = M*tee.to_bottom/tee.Ixx\n";
    let mut host = Host::new();
    let mut count = |text: String| {
        host.apply(Change::SetText {
            path: "a.haunch".to_owned(),
            text,
        });
        let snapshot = host.snapshot();
        let file = snapshot.file("a.haunch").expect("the file");
        let findings = snapshot.findings(file);
        findings
            .iter()
            .filter(|f| f.code.name == "near-fibre")
            .count()
    };
    assert_eq!(count(format!("{TEE}{near}")), 1);
    assert_eq!(count(format!("{TEE}{near}r = M*tee.to_top/tee.Ixx\n")), 0);
    assert_eq!(count(format!("{TEE}{near}")), 1);
}

#[test]
fn sizes_of_a_section() {
    let section = |lines: &str| {
        let lines = lines.replace("; ", "\n    ");
        lints(&format!("section s\n    {lines}\n"))
    };
    let unlikely = |lines: &str, at: &str| {
        let expected = format!("unlikely-sizes at {at}");
        assert_eq!(section(lines), [(expected, None)], "{lines}");
    };
    unlikely(
        "I shape p 300 x 150 x 7.1 x 10.7 mm",
        "300 x 150 x 7.1 x 10.7 mm",
    );
    unlikely(
        "I shape p 150 x 300 x 10.7 x 7.1 mm",
        "150 x 300 x 10.7 x 7.1 mm",
    );
    unlikely("channel p 140 x 60 x 7 x 10 mm", "140 x 60 x 7 x 10 mm");
    unlikely("tee p 150 x 120 x 14 x 8 mm", "150 x 120 x 14 x 8 mm");
    unlikely(
        "rect flange 12 x 150 mm; rect web 10 x 180 mm above flange",
        "12 x 150 mm",
    );
    unlikely(
        "rect flange 150 x 12 mm; rect web 180 x 10 mm above flange",
        "180 x 10 mm",
    );
    unlikely(
        "rect top_flange 150 x 120 mm; rect web 10 x 100 mm below top_flange",
        "150 x 120 mm",
    );
    unlikely(
        "rect flange 150 x 12 mm; rect web 160 x 180 mm above flange",
        "160 x 180 mm",
    );
    unlikely("rect slab 120 x 10 m", "s");
    unlikely("round tube p 114.3 x 50 mm", "114.3 x 50 mm");
    unlikely("rect joist 225 x 63 mm", "225 x 63 mm");
    let lying = lints("section floor_joist\n    rect p 220 x 60 mm\n");
    assert_eq!(lying.len(), 1);
    // A rolled I shape and a wide one, a tee cut from it, channels on their side, a squat tee of timber,
    // a plate on edge beside another, a stiffened plate.
    for lines in [
        "I shape p 300 x 290 x 8.5 x 14 mm",
        "tee p 300 x 145 x 8.5 x 14 mm",
        "channel p 60 x 140 x 7 x 10 mm turned 90 deg",
        "rect flange 45 x 45 mm; rect web 45 x 120 mm below flange",
        "rect web 180 x 10 mm; rect left_flange 12 x 60 mm left of web flush bottom; \
         rect right_flange 12 x 60 mm right of web flush bottom",
        "rect deck 800 x 10 mm; rect rib 10 x 120 mm below deck",
        "rect flange 10 x 150 mm; rect web 180 x 8 mm right of flange",
        "rect foil 100 x 1 mm",
        "round tube p 60 x 20 mm",
        "rect plank 225 x 63 mm",
        "rect joist 63 x 225 mm; rect deck 600 x 22 mm above joist",
    ] {
        assert_eq!(section(lines), [], "{lines}");
    }
}

fn shelf(lines: &str) -> Vec<(String, Option<String>)> {
    let lines = lines.replace("; ", "\n    ");
    lints(&format!(
        "material steel\n    E = 205 GPa\n\nsection bar of steel\n    rect plate 40 x 120 mm\n\n\
         beam shelf of bar\n    {lines}\n"
    ))
}

#[test]
fn spans_and_depths() {
    let unlikely = |lines: &str, at: &str| {
        let expected = format!("unlikely-span at {at}");
        assert_eq!(shelf(lines), [(expected, None)], "{lines}");
    };
    unlikely("length = 2400 m; load a 1 N at middle", "length = 2400 m");
    unlikely("length = 24.1 m; load a 1 N at middle", "length = 24.1 m");
    unlikely("length = 239 mm; load a 1 kN at middle", "length = 239 mm");
    unlikely(
        "spans = 2 m, 250 m; load a 1 N at 1 m",
        "spans = 2 m, 250 m",
    );
    unlikely(
        "length = 12.1 m; support fixed at start; load a 1 N at end",
        "length = 12.1 m",
    );
    for lines in [
        "length = 24 m; load a 1 N at middle",
        "length = 240 mm; load a 1 kN at middle",
        "length = 0.12 m; support fixed at start; load a 1 kN at end",
        "spans = 2 m, 0.2 m; load a 1 kN at 1 m",
    ] {
        assert_eq!(shelf(lines), [], "{lines}");
    }
}

#[test]
fn limits_on_deflection() {
    let with = |bound: &str| {
        shelf(&format!(
            "length = 2.4 m; load a 1 kN at middle; limit deflection <= {bound}"
        ))
    };
    for loose in [
        "span/20",
        "span/36",
        "span/59",
        "0.02*span",
        "span",
        "120 mm",
        "24 m",
    ] {
        let expected = format!("loose-deflection at {loose}");
        assert_eq!(with(loose), [(expected, None)], "{loose}");
    }
    for usual in [
        "span/60",
        "span/360",
        "6 mm",
        "50 mm",
        "min(span/300, 25 mm)",
    ] {
        assert_eq!(with(usual), [], "{usual}");
    }
    let cantilever =
        "length = 1 m; support fixed at start; load a 1 kN at end; limit deflection <= ";
    assert_eq!(shelf(&format!("{cantilever}span/180")), []);
}

#[test]
fn names_that_are_units() {
    let name = |given: &str, line: &str, at: &str| {
        warns(given, line, &format!("name-like-unit at {at}"), None);
    };
    name("", "kN = 1000 N", "kN");
    name("", "kN = 1000", "kN");
    name("", "deg = pi/180", "deg");
    name("", "in = 25.4 mm", "in");
    name("m = 640 kg", "F = m*1.2 m/s^2", "m");
    name("t = 12 mm", "w = 3 t*g_n/(t*100)", "t");
    for line in [
        "psi = 0.7",
        "psi = 30 %",
        "N = 12 kN",
        "t = 8 mm",
        "s = N0/A0 [N/mm^2]",
        "bar = 3 mm",
        "w = m0*g_n/(4 m)",
    ] {
        silent("N0 = 12 kN\nA0 = 1800 mm^2\nm0 = 3 kg", line);
    }
    silent("N = 12 kN\nA = 1800 mm^2", "s = N/A [N/mm^2]");
    silent("", "section bar\n    rect mm 3 x 4 mm");
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
    unlikely(
        "E = 205 GPa; limit tension <= 165 kPa",
        "limit tension <= 165 kPa",
    );
    unlikely("E = 700 GPa; density = 2700 kg/m^3", "E = 700 GPa");
    unlikely(
        "E = 11 GPa; density = 420 kg/m^3; limit tension <= 14 GPa",
        "limit tension <= 14 GPa",
    );
    let named = |name: &str, modulus: &str| {
        let found = lints(&format!("material {name}\n    E = {modulus}\n"));
        found.len()
    };
    for (name, modulus) in [
        ("larch", "11 MPa"),
        ("steel_plate", "205 MPa"),
        ("S235", "21 GPa"),
        ("aluminium", "700 GPa"),
        ("concrete", "330 GPa"),
    ] {
        assert_eq!(named(name, modulus), 1, "{name} {modulus}");
    }
    for (name, modulus) in [
        ("larch_across", "370 MPa"),
        ("steel_at_800", "35 GPa"),
        ("steel_in_concrete", "1 GPa"),
        ("concrete_in_time", "9 GPa"),
        ("elastomer", "11 MPa"),
    ] {
        assert_eq!(named(name, modulus), 0, "{name} {modulus}");
    }
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
    silent(
        &allowed("unlikely-sizes", "p"),
        "section s\n    I shape p 300 x 150 x 7 x 10 mm",
    );
    silent(&allowed("name-like-unit", "kN"), "kN = 1000 N");
    silent(
        &format!("{TEE}{}", allowed("near-fibre", "s")),
        "s = M/tee.section_modulus_bottom",
    );
    silent(
        &format!("{AXIAL}\n{}", allowed("magnitude-added", "sigma")),
        "sigma = N/A + s",
    );
    warns(
        &allowed("angle-without-unit", "b"),
        "a = sin(30)",
        "angle-without-unit at 30",
        Some("a = sin(30 deg)"),
    );
}

#[test]
fn a_line_that_states_a_check_is_allowed_by_the_name_of_the_check() {
    let loose = "length = 2.4 m; load a 1 kN at middle; limit deflection <= span/30; \
                 limit deflection <= span/40";
    let left = |name: &str| {
        let found = shelf(&format!("{loose}\n\nallow loose-deflection for {name}"));
        found.into_iter().map(|(head, _)| head).collect::<Vec<_>>()
    };
    let (first, second) = ("loose-deflection at span/30", "loose-deflection at span/40");
    assert_eq!(left("shelf.deflection"), [second]);
    assert_eq!(left("\"shelf.deflection.2\""), [first]);
    assert_eq!(left("shelf.tension"), [first, second]);
    let span = "length = 240 m; load a 1 N at middle";
    assert_eq!(
        shelf(&format!("{span}\n\nallow unlikely-span for shelf")),
        []
    );
    let allowed = |name: &str| format!("{VALUES}\nallow conversion-factor for {name}");
    silent(
        &allowed("\"M*1e6/W <= 160 MPa\""),
        "verify M*1e6/W <= 160 MPa",
    );
    for (words, line) in [
        ("M*1e6 / W<=160 MPa", "verify M*1e6 / W <= 160 MPa"),
        ("M*1e6/W <= 160 MPa", "verify  M*1e6/W<=160MPa  # web"),
    ] {
        silent(&allowed(&format!("\"{words}\"")), line);
    }
    let left = allowed("\"M*1e6/W <= 161 MPa\"");
    let repaired = Some("verify M/W <= 160 MPa");
    warns(
        &left,
        "verify M*1e6/W <= 160 MPa",
        "conversion-factor at 1e6",
        repaired,
    );
    let load = "length = 2.4 m; load a 1 kN*cos(30) at middle";
    let named = |name: &str| shelf(&format!("{load}\n\nallow angle-without-unit for {name}"));
    assert_eq!(named("shelf.a"), []);
    assert_eq!(named("shelf.b").len(), 1);
    let place =
        "length = 2.4 m; support pin at 0 m*cos(30); support roller at end; load a 1 kN at middle";
    let named = |name: &str| shelf(&format!("{place}\n\nallow angle-without-unit for {name}"));
    assert_eq!(named("shelf"), []);
    assert_eq!(named("bar").len(), 1);
    silent(
        &allowed("on_it.tension"),
        "section bar\n    rect plate 40 x 120 mm\n\nforces on_it on bar\n    N = 3 kN tension\n    \
         limit tension <= F*1e3/W*L",
    );
}

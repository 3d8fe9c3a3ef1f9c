//! A formula that is nearly a standard result: where it is told, what is said, and where it is silent.

mod support;

use haunch_calc::catalogue::entries;
use support::read;

const CODE: &str = "looks-like-formula";

/// Given values of every letter that the lines use.
const GIVEN: &str = "\
allow unused-value
b = 60 mm; h = 140 mm; B = 90 mm; H = 180 mm; d = 50 mm; D = 60 mm; r = 25 mm; R = 30 mm; t = 5 mm; a = 1 m; c = 2 m
e = 30 mm; y = 70 mm; L = 3 m; E = 205 GPa; G = 79 GPa; w = 4 kN/m; P = 6 kN; M = 5 kN*m; T = 2 kN*m; N = 30 kN
V = 9 kN; A = 8400 mm^2; J = 1e6 mm^4; Q = 1e5 mm^3; x = 0.4 m; p = 0.4 MPa; sigma = 80 MPa; tau = 30 MPa; nu = 0.3
I0 = 13.7e6 mm^4; W0 = 196e3 mm^3; I_rod = 1e6 mm^4; gamma = 1.35; n = 3; f_y = 235 MPa; b_f = 90 mm; t_f = 8 mm
section tee
    rect flange 150 x 12 mm
    rect stem 10 x 180 mm above flange
";

fn given() -> String {
    GIVEN.replace("; ", "\n")
}

/// The findings of this kind at a line among the given values.
fn told(line: &str) -> Vec<(String, String, Vec<String>)> {
    let text = format!("{}{line}\n", given());
    let read = read(&text);
    let found = read.findings.into_iter();
    found
        .filter(|finding| finding.head.starts_with(CODE))
        .map(|finding| {
            let at = finding.head[CODE.len() + 4..].trim_matches('"').to_owned();
            (at, finding.message, finding.repairs)
        })
        .collect()
}

#[track_caller]
fn speaks(line: &str, at: &str, message: &str, repair: &str) {
    let told = told(line);
    let [(place, said, repairs)] = told.as_slice() else {
        panic!("{line}: {told:#?}");
    };
    assert_eq!(place, at, "{line}");
    assert!(said.contains(message), "{line}: {said}");
    let repair = (!repair.is_empty()).then(|| format!("Write {repair}"));
    assert_eq!(repairs.first(), repair.as_ref(), "{line}: {said}");
}

#[track_caller]
fn silent(line: &str) {
    assert_eq!(told(line), [], "{line}");
}

#[test]
fn another_constant() {
    speaks(
        "I = b*h^3/21",
        "21",
        "this looks like the second moment of area of a rectangle about its centroid, b*h^3/12, with another \
         constant.",
        "b*h^3/12",
    );
    speaks("I_x = b*h^3", "b*h^3", "with another constant", "b*h^3/12");
    speaks(
        "W = b*h^2/12",
        "12",
        "section modulus of a rectangle, b*h^2/6",
        "b*h^2/6",
    );
    speaks(
        "W_el = b*h^2/4",
        "4",
        "b*h^2/4 is the plastic section modulus",
        "b*h^2/6",
    );
    speaks(
        "W_pl = b*h^2/6",
        "6",
        "plastic section modulus of a rectangle, b*h^2/4",
        "b*h^2/4",
    );
    speaks(
        "I_tube = pi*(D^4 - d^4)/46",
        "46",
        "a tube about its diameter",
        "pi*(D^4 - d^4)/64",
    );
    speaks(
        "Ixx = pi*d^4/32",
        "32",
        "pi*d^4/32 is the polar second moment",
        "pi*d^4/64",
    );
    speaks(
        "I = d^4/64",
        "d^4/64",
        "a circle about its diameter",
        "pi*d^4/64",
    );
    speaks(
        "tau_t = 32*T/(pi*d^3)",
        "32",
        "of a circle in torsion, 16*T/(pi*d^3)",
        "16*T/(pi*d^3)",
    );
    speaks(
        "N_cr = pi*E*I0/L^2",
        "pi",
        "Euler's critical load",
        "pi^2*E*I0/L^2",
    );
    speaks(
        "v = 5*w*L^4/(348*E*I0)",
        "348",
        "a simple beam under a uniform load",
        "5*w*L^4/(384*E*I0)",
    );
    speaks(
        "delta = P*L^3/(84*E*I0)",
        "84",
        "a load at its middle",
        "P*L^3/(48*E*I0)",
    );
    speaks("M_span = 9*w*L^2/182", "182", "9*w*L^2/128", "9*w*L^2/128");
}

/// Two webs, a pair of bolts, a column's factor of safety: another constant than that of the table.
#[test]
fn equal_parts_and_factors_of_safety() {
    silent("I_pair = b*h^3/6");
    silent("I_z = t_f*b^3/6");
    silent("I_web = t_f*b^3/12");
    silent("A = pi*d^2/2");
    silent("A = 4*pi*r^2");
    silent("J = b*t^3");
    silent("W_plz = t_f*b^2/2");
    silent("Ixy = b^2*h^2/4");
    silent("P_cr = pi^2*E*I0/(3*L^2)");
    silent("N_cr = 2*pi^2*E*I0/L^2");
    speaks("I = b*h^3/6", "6", "b*h^3/12", "b*h^3/12");
    speaks("A_rod = pi*d^2/2", "2", "the area of a circle", "pi*d^2/4");
    speaks(
        "sigma_cr = pi*E/x^2*t^2",
        "pi",
        "critical stress",
        "pi^2*E*t^2/x^2",
    );
}

#[test]
fn two_symbols_exchanged() {
    speaks(
        "sigma_v = sqrt(3*sigma^2 + tau^2)",
        "sqrt(3*sigma^2 + tau^2)",
        "with tau and sigma exchanged",
        "sqrt(sigma^2 + 3*tau^2)",
    );
    silent("sigma_v = sqrt(sigma^2 + 3*tau^2)");
    silent("f_v = sqrt(p^2 + 3*f_y^2)");
}

/// A hole is taken away, a moment hogs: the sign is no part of the formula.
#[test]
fn with_a_minus() {
    silent("I = -b*h^3/12");
    silent("I_hole = -60 mm*(140 mm)^3/12");
    silent("M = -w*L^2/12");
    speaks("I = -b*h^3/21", "21", "-b*h^3/12", "-b*h^3/12");
    speaks("I = -(b*h^3)/21", "21", "-b*h^3/12", "-b*h^3/12");
}

#[test]
fn a_term_of_a_sum() {
    let sag = "v = 5*w*L^4/(384*E*I0) + P*L^3/(84*E*I0)";
    speaks(sag, "84", "a load at its middle", "P*L^3/(48*E*I0)");
    speaks(
        "I = b*h^3/21 + b*h*e^2",
        "21",
        "about its centroid",
        "b*h^3/12",
    );
    speaks(
        "I_x = 2*(I0 + A*e^2) + t*h^3/21",
        "21",
        "t*h^3/12",
        "t*h^3/12",
    );
    speaks("sigma = p + M*h/I0", "h", "the whole depth", "M*(h/2)/I0");
    for right in [
        "v = 5*w*L^4/(384*E*I0) + P*L^3/(28*E*I0)",
        "v = w*L^4/(8*E*I0) + P*L^3/(3*E*I0)",
        "I = b*h^3/12 + b*h^3/36",
        "I_x = b*h^3/6 + b*h*e^2",
        "M = w*L^2/8 + P*L/2",
        "M = w*L^2/8 - w*L^2/12",
        "A = pi*D*L + pi*D^2",
        "W = b*h^2/6 + t*h^2/3",
    ] {
        silent(right);
    }
}

#[test]
fn a_formula_with_arguments() {
    let sag = "sag(w, c) = 5*w*c^4/(348*E*I0) [mm]";
    silent(sag);
    speaks(
        "delta(P) = P*L^3/(84*E*I0) [mm]",
        "84",
        "P*L^3/(48*E*I0)",
        "P*L^3/(48*E*I0)",
    );
    speaks(
        "I_x(depth) = b*depth^3/21 [mm^4]",
        "21",
        "b*depth^3/12",
        "b*depth^3/12",
    );
    silent("delta(P) = P*L^3/(48*E*I0) [mm]");
    silent("I_x(depth) = b*depth^3/12 [mm^4]");
}

#[test]
fn words_in_names_tell_the_shape_or_the_case() {
    speaks(
        "I_flange = b_f*t_f^3/36",
        "36",
        "is the second moment of area of a triangle",
        "b_f*t_f^3/12",
    );
    silent("I = b*h^3/36");
    silent("I_gusset = b*h^3/36");
    speaks(
        "M_cantilever = w*L^2/8",
        "8",
        "w*L^2/8 is the moment at the middle of a simple beam",
        "w*L^2/2",
    );
    silent("M = w*L^2/8");
    silent("M = w*L^2/12");
}

#[test]
fn an_exponent_elsewhere() {
    speaks(
        "I = b^3*h/12",
        "b^3*h/12",
        "with the exponents of b and h exchanged",
        "b*h^3/12",
    );
    speaks(
        "Ix = h*b^3/12",
        "h*b^3/12",
        "about the upright axis",
        "b*h^3/12",
    );
    speaks("W = b^2*h/6", "b^2*h/6", "exchanged", "b*h^2/6");
    speaks(
        "I = b^2*h^2/12",
        "b^2*h^2/12",
        "with an exponent at another place",
        "b*h^3/12",
    );
    speaks(
        "I = pi*(D - d)^4/64",
        "pi*(D - d)^4/64",
        "but that is",
        "pi*(D^4 - d^4)/64",
    );
    speaks(
        "A_tube = pi*(D - d)^2/4",
        "pi*(D - d)^2/4",
        "the area of a tube",
        "pi*(D^2 - d^2)/4",
    );
    speaks(
        "I = (B - b)*(H - h)^3/12",
        "(B - b)*(H - h)^3/12",
        "hollow rectangle",
        "(B*H^3 - b*h^3)/12",
    );
    silent("I = h*b^3/12");
    silent("I_z = h*b^3/12");
    silent("Iy = b*h^3/12");
}

#[test]
fn one_symbol() {
    speaks(
        "A = pi*d^2",
        "d",
        "by its name d is a diameter. With d it is pi*d^2/4",
        "pi*d^2/4",
    );
    speaks(
        "I = pi*r^4/64",
        "r",
        "by its name r is a radius. With r it is pi*r^4/4",
        "pi*r^4/4",
    );
    speaks(
        "W = I0/h",
        "h",
        "by its name h is the whole depth. With h it is I0/(h/2)",
        "I0/(h/2)",
    );
    speaks(
        "W = tee.Iyy/tee.to_top",
        "tee.to_top",
        "a distance along the other axis",
        "",
    );
    speaks(
        "sigma_m = M*h/I0",
        "h",
        "by its name h is the whole depth",
        "M*(h/2)/I0",
    );
    speaks(
        "tau_v = V*W0/(I0*b)",
        "W0",
        "by its name W0 is a section modulus",
        "",
    );
    speaks(
        "v = P*L^3/(48*G*I0)",
        "G",
        "by its name G is a shear modulus",
        "",
    );
    silent("W = I0/y");
    silent("W = tee.Ixx/tee.to_top");
    silent("sigma_m = M*tee.to_left/tee.Iyy");
}

#[test]
fn a_sign_or_a_factor_of_stresses_together() {
    speaks(
        "sigma_v = sqrt(sigma^2 + tau^2)",
        "sqrt(sigma^2 + tau^2)",
        "von Mises",
        "sqrt(sigma^2 + 3*tau^2)",
    );
    speaks(
        "G_m = E/(2*(1 - nu))",
        "E/(2*(1 - nu))",
        "shear modulus",
        "E/(2*(1 + nu))",
    );
    silent("weld = sqrt(sigma^2 + tau^2)");
    silent("sigma_v = sqrt(sigma^2 + 4*tau^2)");
}

#[test]
fn formulas_of_their_own() {
    for line in [
        // several equal parts, factors for loads and for cracks
        "I = 2*b*h^3/12",
        "I = 2*b*h^3/21",
        "I = n*b*h^3/12",
        "I_eff = 0.7*b*h^3/12",
        "A_s = pi*d^2",
        "A_s = 4*pi*d^2/4",
        "A = 2*pi*D*t",
        "M = gamma*w*L^2/8",
        "M = 1.35*w*L^2/8",
        // coefficients of continuous beams
        "M = w*L^2/10",
        "M = w*L^2/11",
        "M = w*L^2/14",
        "v = w*L^4/(145*E*I0)",
        // rounded constants
        "I = 0.05*d^4",
        "W = 0.1*d^3",
        "I = 0.11*r^4",
        "N_cr = 10*E*I0/L^2",
        "N_cr = 20.2*E*I0/L^2",
        "N_cr = pi^2*E*I0/(0.7*L)^2",
        // other standard results
        "I = b*h^3/3",
        "I = pi*r^4/8",
        "J = b*h^3/12",
        "J = pi*d^4/32",
        "I_p = pi*d^4/32",
        "I = pi*d^4/32",
        "W = pi*d^3/16",
        "Z = b*h^2/4",
        "S = b*h^2/8",
        "tau_m = V/A",
        "v = P*L^3/(3*E*I0)",
        "phi = M*L/(E*I0)",
        // names that say nothing of this kind
        "k = b*h^3/7",
        "hull = pi*d^2",
        "ratio = b*h^3/7/I0",
        "d_t = I0/W0",
        "q_w = w*L/L",
        "stiffness = 3*E*I0/L^3",
        "M_e = P*c/2",
    ] {
        silent(line);
    }
}

/// Every formula of the catalogue under the letter that it is written with, its own names.
#[test]
fn no_entry_is_nearly_another() {
    let mut slips = Vec::new();
    for entry in entries() {
        for formula in entry.formulas {
            let (left, right) = formula.split_once(" = ").expect("a formula");
            let words = right.split(|c: char| !(c.is_alphanumeric() || c == '_'));
            let mut text = "allow unused-value\n".to_owned();
            let mut seen = vec![left];
            for word in words {
                let letter = haunch_calc::catalogue::symbols::letter_of(word);
                if let Some(letter) = letter
                    && !seen.contains(&word)
                {
                    seen.push(word);
                    text += &format!("{word} = 2 {}\n", letter.dimension.typical_unit());
                }
            }
            text += &format!("{formula}\n");
            let found = read(&text).findings.into_iter();
            slips.extend(
                found
                    .filter(|finding| finding.head.starts_with(CODE))
                    .map(|finding| format!("{formula}: {}", finding.message)),
            );
        }
    }
    assert_eq!(slips, [""; 0]);
}

#[test]
fn it_is_silenced_by_the_name_of_its_line() {
    silent("allow looks-like-formula for I\nI = b*h^3/21");
    silent("I = b*h^3/21\nallow looks-like-formula");
    let other = told("allow looks-like-formula for W\nI = b*h^3/21");
    assert_eq!(other.len(), 1);
}

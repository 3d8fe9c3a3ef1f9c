//! The catalogue beside what the program works out itself: each formula, with numbers put in, comes to
//! what a section or a beam of that shape comes to. Neither knows of the other.

mod support;

use haunch_calc::catalogue::{entries, symbols::letter_of};
use support::read;

/// Values of the letters, and the section or beam that has them.
struct Model {
    values: &'static str,
    blocks: &'static str,
}

const RECTANGLE: Model = Model {
    values: "b = 40 mm; h = 90 mm; e = 120 mm; y = 20 mm; A = 3600 mm^2; I = 2430000 mm^4",
    blocks: "section s\n    rect p 40 x 90 mm\n",
};
const SQUARE: Model = Model {
    values: "a = 30 mm",
    blocks: "section s\n    rect p 30 x 30 mm\n",
};
const DIAGONAL: Model = Model {
    values: "a = 30 mm",
    blocks: "section s\n    rect p 30 x 30 mm turned 45 deg\n",
};
const TRIANGLE: Model = Model {
    values: "b = 40 mm; h = 90 mm",
    blocks: "section s\n    triangle p 40 x 90 mm apex 10 mm\n",
};
const RHOMBUS: Model = Model {
    values: "b = 40 mm; h = 90 mm",
    blocks: "section s\n    polygon p (20, 0) (40, 45) (20, 90) (0 mm, 45 mm)\n",
};
const CIRCLE: Model = Model {
    values: "d = 50 mm; r = 25 mm; T = 2 kN*m; J = s.torsion_constant; W_t = s.torsion_modulus",
    blocks: "section s\n    circle p 50 mm\n",
};
const TUBE: Model = Model {
    values: "D = 60 mm; d = 50 mm; R = 30 mm; r = 25 mm; t = 5 mm; T = 2 kN*m; J = s.torsion_constant",
    blocks: "section s\n    round tube p 60 x 5 mm\n",
};
/// The middle line has 60 mm.
const THIN_TUBE: Model = Model {
    values: "D = 60 mm; r = 30 mm; t = 0.1 mm",
    blocks: "section s\n    round tube p 60.1 x 0.1 mm\n",
};
const BOX: Model = Model {
    values: "B = 100 mm; H = 160 mm; b = 40 mm; h = 90 mm",
    blocks: "section s\n    rect p 100 x 160 mm\n    deduct rect c 40 x 90 mm at (-20 mm, 35 mm)\n",
};
/// The middle line has 60 mm.
const THIN_BOX: Model = Model {
    values: "a = 60 mm; t = 0.1 mm; A_m = 3600 mm^2; s_m = 240 mm",
    blocks: "section s\n    box tube p 60.1 x 60.1 x 0.1 mm\n",
};
/// The middle line has 60 mm and 90 mm.
const THIN_RECTANGLE: Model = Model {
    values: "b = 60 mm; h = 90 mm; t = 0.1 mm",
    blocks: "section s\n    box tube p 60.1 x 90.1 x 0.1 mm\n",
};
const ELLIPSE: Model = Model {
    values: "a = 20 mm; b = 45 mm",
    blocks: "section s\n    ellipse p 40 x 90 mm\n",
};
const ELLIPSE_BY_AXES: Model = Model {
    values: "b = 40 mm; h = 90 mm",
    blocks: "section s\n    ellipse p 40 x 90 mm\n",
};
const TRAPEZIUM: Model = Model {
    values: "b = 90 mm; a = 40 mm; h = 70 mm",
    blocks: "section s\n    trapezium p 90 x 40 x 70 mm\n",
};
const TEE: Model = Model {
    values: "A_1 = 1500 mm^2; A_2 = 720 mm^2; y_1 = 5 mm; y_2 = 55 mm; e_1 = 16.216216216216218 mm; \
             e_2 = 33.783783783783782 mm; I_1 = 12500 mm^4; I_2 = 486000 mm^4",
    blocks: "section s\n    rect f 150 x 10 mm\n    rect w 8 x 90 mm above f\n",
};
const THREE: Model = Model {
    values: "A_1 = 1500 mm^2; A_2 = 720 mm^2; A_3 = 1000 mm^2; y_1 = 5 mm; y_2 = 55 mm; y_3 = 105 mm",
    blocks: "section s\n    rect f 150 x 10 mm\n    rect w 8 x 90 mm above f\n    rect g 100 x 10 mm above w\n",
};
const ANGLE: Model = Model {
    values: "I_x = s.Ixx; I_y = s.Iyy; I_xy = s.Ixy",
    blocks: "section s\n    rect f 90 x 10 mm\n    rect w 10 x 60 mm above f flush left\n",
};
const STRIP: Model = Model {
    values: "b = 400 mm; t = 4 mm; T = 2 kN*m",
    blocks: "section s\n    rect p 400 x 4 mm\n",
};
/// A part of a circle with a radius of 25 mm, as a polygon: that of 48 corners with the area of the circle.
fn fan(corners: std::ops::RangeInclusive<i32>) -> String {
    let corner = |at: i32| {
        let angle = std::f64::consts::PI * f64::from(at) / 24.0;
        let radius =
            25.0 * (std::f64::consts::PI / 24.0 / libm::sin(std::f64::consts::PI / 24.0)).sqrt();
        format!(
            "({:.6}, {:.6})",
            radius * libm::cos(angle) + 40.0,
            radius * libm::sin(angle)
        )
    };
    let arc: Vec<String> = corners.clone().map(corner).collect();
    let centre = if corners.end() - corners.start() < 24 {
        " (40, 0)"
    } else {
        ""
    };
    format!(
        "section s\n    polygon p {}{centre} (40.0 mm, 0 mm)\n",
        arc.join(" ")
    )
}

const FORCES: Model = Model {
    values: "b = 40 mm; h = 90 mm; A = 3600 mm^2; I = 2430000 mm^4; W = 54000 mm^3; y = 45 mm; M = 2 kN*m; \
             N = 12 kN; V = 9 kN; Q = 40500 mm^3; e = 30 mm; W_x = 54000 mm^3; W_y = 24000 mm^3; \
             M_x = 2 kN*m; M_y = 0.5 kN*m",
    blocks: "section s\n    rect p 40 x 90 mm\n    point corner at bottom left\n    point low at bottom\n\
             forces bent on s\n    M = 2 kN*m sagging\n\
             forces pulled on s\n    N = 12 kN tension\n\
             forces both on s\n    N = 12 kN tension\n    M = 2 kN*m sagging\n\
             forces off on s\n    N = 12 kN tension\n    M = 0.36 kN*m sagging\n\
             forces sheared on s\n    V = 9 kN\n\
             forces biaxial on s\n    M = 2 kN*m sagging\n    My = 0.5 kN*m left in tension\n\
             forces all on s\n    M = 2 kN*m sagging\n    My = 0.5 kN*m left in tension\n    N = 12 kN tension\n",
};
const ROUND_FORCES: Model = Model {
    values: "d = 50 mm; r = 25 mm; M = 2 kN*m; V = 9 kN; A = 1963.4954084936207 mm^2",
    blocks: "section s\n    circle p 50 mm\nforces bent on s\n    M = 2 kN*m sagging\n\
             forces sheared on s\n    V = 9 kN\n",
};
const TUBE_FORCES: Model = Model {
    values: "V = 9 kN; A = 18.849555921538759 mm^2",
    blocks: "section s\n    round tube p 60.1 x 0.1 mm\nforces sheared on s\n    V = 9 kN\n",
};
const TOGETHER: Model = Model {
    values: "sigma = both.stress(seam); tau = both.shear_stress(40 mm); sigma_x = sigma; sigma_y = 0 MPa",
    blocks: "section s\n    rect p 40 x 90 mm\n    point seam at (0 mm, 40 mm)\n\
             forces both on s\n    N = 12 kN tension\n    M = 2 kN*m sagging\n    V = 30 kN\n",
};

/// A beam of 3 m with these lines.
fn beam(lines: &str) -> String {
    format!(
        "material steel\n    E = 205 GPa\nsection s of steel\n    rect p 40 x 90 mm\nbeam x of s\n    length = 3 m\n    {}\n",
        lines.replace("; ", "\n    ")
    )
}

const BEAM_VALUES: &str = "E = 205 GPa; I = 2430000 mm^4; EI = 498.15 kN*m^2; L = 3 m; w = 4 kN/m; \
                           P = 6 kN; a = 1 m; b = 2 m; x0 = 0.8 m";

const CANTILEVER: &str = "support fixed at start; ";
const FIXED: &str = "support fixed at start; support fixed at end; ";
const PROPPED: &str = "support fixed at start; support roller at end; ";

/// The formula with the values, and what the program works out; how far they may differ.
fn check(formula: &str, values: &str, blocks: &str, expected: &str, within: f64) {
    let (_, right) = formula.split_once(" = ").expect("a formula");
    let text = format!(
        "{}\n{blocks}found_here = {right}\nexpected_here = {expected}\nallow unused-value\n",
        values.replace("; ", "\n")
    );
    let read = read(&text);
    let (found, expected) = (read.si("found_here"), read.si("expected_here"));
    assert!(
        (found - expected).abs() <= within * expected.abs(),
        "{formula}: {found}, not {expected}\n{text}"
    );
}

const EXACT: f64 = 1e-9;
const THIN: f64 = 5e-3;
/// An ellipse is drawn by curves that come as near to it.
const DRAWN: f64 = 1e-6;

#[rustfmt::skip]
const PLANE: &[(&str, &Model, &str, f64)] = &[
    ("A = b*h", &RECTANGLE, "s.area", EXACT),
    ("I = b*h^3/12", &RECTANGLE, "s.Ixx", EXACT),
    ("I = b*h^3/3", &RECTANGLE, "s.Ixx_about(0 mm)", EXACT),
    ("I = b*h^3/12 + b*h*e^2", &RECTANGLE, "s.Ixx_about(165 mm)", EXACT),
    ("I_p = b*h*(b^2 + h^2)/12", &RECTANGLE, "s.Ixx + s.Iyy", EXACT),
    ("W = b*h^2/6", &RECTANGLE, "s.section_modulus_top", EXACT),
    ("W_pl = b*h^2/4", &RECTANGLE, "s.plastic_modulus_x", EXACT),
    ("i = h/sqrt(12)", &RECTANGLE, "s.gyration_x", EXACT),
    ("Q = b*h^2/8", &RECTANGLE, "s.first_moment(45 mm)", EXACT),
    ("Q = b*h^2/2", &RECTANGLE, "s.area*s.ybar", EXACT),
    ("Q = b*(h^2/4 - y^2)/2", &RECTANGLE, "s.first_moment(65 mm)", EXACT),
    ("A = a^2", &SQUARE, "s.area", EXACT),
    ("I = a^4/12", &SQUARE, "s.Ixx", EXACT),
    ("W = a^3/6", &SQUARE, "s.section_modulus_top", EXACT),
    ("W = sqrt(2)*a^3/12", &DIAGONAL, "s.section_modulus_top", EXACT),
    ("W_pl = a^3/4", &SQUARE, "s.plastic_modulus_x", EXACT),
    ("J = 0.1406*a^4", &SQUARE, "s.torsion_constant", 5e-4),
    ("A = b*h/2", &TRIANGLE, "s.area", EXACT),
    ("ybar = h/3", &TRIANGLE, "s.ybar", EXACT),
    ("I = b*h^3/36", &TRIANGLE, "s.Ixx", EXACT),
    ("I = b*h^3/12", &TRIANGLE, "s.Ixx_about(0 mm)", EXACT),
    ("I = b*h^3/4", &TRIANGLE, "s.Ixx_about(90 mm)", EXACT),
    ("W = b*h^2/24", &TRIANGLE, "s.section_modulus_top", EXACT),
    ("I = b*h^3/48", &RHOMBUS, "s.Ixx", EXACT),
    ("W = b*h^2/24", &RHOMBUS, "s.section_modulus_top", EXACT),
    ("W_pl = b*h^2/12", &RHOMBUS, "s.plastic_modulus_x", EXACT),
    ("A = pi*d^2/4", &CIRCLE, "s.area", EXACT),
    ("A = pi*r^2", &CIRCLE, "s.area", EXACT),
    ("I = pi*d^4/64", &CIRCLE, "s.Ixx", EXACT),
    ("I = pi*r^4/4", &CIRCLE, "s.Ixx", EXACT),
    ("I_p = pi*d^4/32", &CIRCLE, "s.torsion_constant", EXACT),
    ("I_p = pi*r^4/2", &CIRCLE, "s.Ixx + s.Iyy", EXACT),
    ("W = pi*d^3/32", &CIRCLE, "s.section_modulus_top", EXACT),
    ("W = pi*r^3/4", &CIRCLE, "s.section_modulus_left", EXACT),
    ("W_t = pi*d^3/16", &CIRCLE, "s.torsion_modulus", EXACT),
    ("W_t = pi*r^3/2", &CIRCLE, "s.torsion_modulus", EXACT),
    ("W_pl = d^3/6", &CIRCLE, "s.plastic_modulus_x", EXACT),
    ("W_pl = 4*r^3/3", &CIRCLE, "s.plastic_modulus_x", EXACT),
    ("i = d/4", &CIRCLE, "s.gyration_x", EXACT),
    ("i = r/2", &CIRCLE, "s.gyration_x", EXACT),
    ("A = pi*(D^2 - d^2)/4", &TUBE, "s.area", EXACT),
    ("A = pi*(R^2 - r^2)", &TUBE, "s.area", EXACT),
    ("A = pi*(D - t)*t", &TUBE, "s.area", EXACT),
    ("A = pi*(d + t)*t", &TUBE, "s.area", EXACT),
    ("I = pi*(D^4 - d^4)/64", &TUBE, "s.Ixx", EXACT),
    ("I = pi*(R^4 - r^4)/4", &TUBE, "s.Ixx", EXACT),
    ("I_p = pi*(D^4 - d^4)/32", &TUBE, "s.torsion_constant", EXACT),
    ("I_p = pi*(R^4 - r^4)/2", &TUBE, "s.torsion_constant", EXACT),
    ("W = pi*(D^4 - d^4)/(32*D)", &TUBE, "s.section_modulus_top", EXACT),
    ("W = pi*(R^4 - r^4)/(4*R)", &TUBE, "s.section_modulus_top", EXACT),
    ("W_t = pi*(D^4 - d^4)/(16*D)", &TUBE, "s.torsion_modulus", EXACT),
    ("W_t = pi*(R^4 - r^4)/(2*R)", &TUBE, "s.torsion_modulus", EXACT),
    ("W_pl = (D^3 - d^3)/6", &TUBE, "s.plastic_modulus_x", EXACT),
    ("W_pl = 4*(R^3 - r^3)/3", &TUBE, "s.plastic_modulus_x", EXACT),
    ("i = sqrt(D^2 + d^2)/4", &TUBE, "s.gyration_x", EXACT),
    ("i = sqrt(R^2 + r^2)/2", &TUBE, "s.gyration_x", EXACT),
    ("A = pi*D*t", &THIN_TUBE, "s.area", THIN),
    ("A = 2*pi*r*t", &THIN_TUBE, "s.area", THIN),
    ("I = pi*D^3*t/8", &THIN_TUBE, "s.Ixx", THIN),
    ("I = pi*r^3*t", &THIN_TUBE, "s.Ixx", THIN),
    ("I_p = pi*D^3*t/4", &THIN_TUBE, "s.torsion_constant", THIN),
    ("I_p = 2*pi*r^3*t", &THIN_TUBE, "s.torsion_constant", THIN),
    ("W = pi*D^2*t/4", &THIN_TUBE, "s.section_modulus_top", THIN),
    ("W = pi*r^2*t", &THIN_TUBE, "s.section_modulus_top", THIN),
    ("W_t = pi*D^2*t/2", &THIN_TUBE, "s.torsion_modulus", THIN),
    ("W_t = 2*pi*r^2*t", &THIN_TUBE, "s.torsion_modulus", THIN),
    ("W_pl = D^2*t", &THIN_TUBE, "s.plastic_modulus_x", THIN),
    ("W_pl = 4*r^2*t", &THIN_TUBE, "s.plastic_modulus_x", THIN),
    ("A = B*H - b*h", &BOX, "s.area", EXACT),
    ("I = (B*H^3 - b*h^3)/12", &BOX, "s.Ixx", EXACT),
    ("W = (B*H^3 - b*h^3)/(6*H)", &BOX, "s.section_modulus_top", EXACT),
    ("W_pl = (B*H^2 - b*h^2)/4", &BOX, "s.plastic_modulus_x", EXACT),
    ("I = 2*a^3*t/3", &THIN_BOX, "s.Ixx", THIN),
    ("J = 4*A_m^2*t/s", &THIN_BOX, "s.torsion_constant", THIN),
    ("J = 2*b^2*h^2*t/(b + h)", &THIN_RECTANGLE, "s.torsion_constant", THIN),
    ("A = pi*a*b", &ELLIPSE, "s.area", DRAWN),
    ("I = pi*a*b^3/4", &ELLIPSE, "s.Ixx", DRAWN),
    ("W = pi*a*b^2/4", &ELLIPSE, "s.section_modulus_top", DRAWN),
    ("J = pi*a^3*b^3/(a^2 + b^2)", &ELLIPSE, "s.torsion_constant", DRAWN),
    ("A = pi*b*h/4", &ELLIPSE_BY_AXES, "s.area", DRAWN),
    ("I = pi*b*h^3/64", &ELLIPSE_BY_AXES, "s.Ixx", DRAWN),
    ("W = pi*b*h^2/32", &ELLIPSE_BY_AXES, "s.section_modulus_top", DRAWN),
    ("A = (a + b)*h/2", &TRAPEZIUM, "s.area", EXACT),
    ("ybar = h*(2*a + b)/(3*(a + b))", &TRAPEZIUM, "s.ybar", EXACT),
    ("I = h^3*(a^2 + 4*a*b + b^2)/(36*(a + b))", &TRAPEZIUM, "s.Ixx", EXACT),
    ("ybar = (A_1*y_1 + A_2*y_2)/(A_1 + A_2)", &TEE, "s.ybar", EXACT),
    ("I = I_1 + A_1*e_1^2 + I_2 + A_2*e_2^2", &TEE, "s.Ixx", EXACT),
    ("ybar = (A_1*y_1 + A_2*y_2 + A_3*y_3)/(A_1 + A_2 + A_3)", &THREE, "s.ybar", EXACT),
    ("I_p = I_x + I_y", &CIRCLE_AXES, "s.torsion_constant", EXACT),
    ("I = (I_x + I_y)/2 + sqrt(((I_x - I_y)/2)^2 + I_xy^2)", &ANGLE, "s.I_major", EXACT),
    ("I = (I_x + I_y)/2 - sqrt(((I_x - I_y)/2)^2 + I_xy^2)", &ANGLE, "s.I_minor", EXACT),
    ("I = I_0 + A*e^2", &PARALLEL, "s.Ixx_about(165 mm)", EXACT),
    ("W = I/y", &OF_RECTANGLE, "s.section_modulus_top", EXACT),
    ("W = I/(h/2)", &OF_RECTANGLE, "s.section_modulus_top", EXACT),
    ("i = sqrt(I/A)", &OF_RECTANGLE, "s.gyration_x", EXACT),
    ("Q = A*z", &OF_RECTANGLE, "s.first_moment(45 mm)", EXACT),
    ("shape_factor = W_pl/W", &OF_RECTANGLE, "s.shape_factor_x", EXACT),
    ("J = b*t^3/3", &STRIP, "s.torsion_constant", 1e-2),
    ("W_t = b*t^2/3", &STRIP, "s.torsion_modulus", 1e-2),
    ("tau = T*r/J", &CIRCLE, "T/s.torsion_modulus", EXACT),
    ("tau = T*D/(2*J)", &TUBE, "T/s.torsion_modulus", EXACT),
    ("tau = T/W_t", &CIRCLE, "T*r/s.torsion_constant", EXACT),
    ("tau = 16*T/(pi*d^3)", &CIRCLE, "T/s.torsion_modulus", EXACT),
    ("tau = 2*T/(pi*r^3)", &CIRCLE, "T/s.torsion_modulus", EXACT),
    ("tau = 3*T/(b*t^2)", &STRIP, "T/s.torsion_modulus", 1e-2),
    ("sigma = N/A", &FORCES, "pulled.stress_top", EXACT),
    ("sigma = M/W", &FORCES, "bent.stress_bottom", EXACT),
    ("sigma = M*y/I", &FORCES, "bent.stress_bottom", EXACT),
    ("sigma = M*(h/2)/I", &FORCES, "bent.stress_bottom", EXACT),
    ("sigma = 6*M/(b*h^2)", &FORCES, "bent.stress_bottom", EXACT),
    ("sigma = N/A + M/W", &FORCES, "both.stress_bottom", EXACT),
    ("sigma = N/A + M*y/I", &FORCES, "both.stress_bottom", EXACT),
    ("sigma = N/A - M/W", &FORCES, "both.stress_top", EXACT),
    ("sigma = N/A - M*y/I", &FORCES, "both.stress_top", EXACT),
    ("sigma = M_x/W_x + M_y/W_y", &FORCES, "biaxial.stress(corner)", EXACT),
    ("sigma = N/A + M_x/W_x + M_y/W_y", &FORCES, "all.stress(corner)", EXACT),
    ("sigma = N/A + N*e/W", &FORCES, "off.stress_bottom", EXACT),
    ("sigma = N/A + N*e*y/I", &FORCES, "off.stress_bottom", EXACT),
    ("tau = V*Q/(I*b)", &FORCES, "sheared.shear_stress_max", EXACT),
    ("q = V*Q/I", &FORCES, "sheared.shear_stress_max*b", EXACT),
    ("tau = 1.5*V/A", &FORCES, "sheared.shear_stress_max", EXACT),
    ("tau = 1.5*V/(b*h)", &FORCES, "sheared.shear_stress_max", EXACT),
    ("sigma = 4*M/(b*h^2)", &FORCES, "M/s.plastic_modulus_x", EXACT),
    ("sigma = 32*M/(pi*d^3)", &ROUND_FORCES, "bent.stress_bottom", EXACT),
    ("sigma = 4*M/(pi*r^3)", &ROUND_FORCES, "bent.stress_bottom", EXACT),
    ("tau = 4*V/(3*A)", &ROUND_FORCES, "sheared.shear_stress_max", EXACT),
    ("tau = 4*V/(3*pi*r^2)", &ROUND_FORCES, "sheared.shear_stress_max", EXACT),
    ("tau = 16*V/(3*pi*d^2)", &ROUND_FORCES, "sheared.shear_stress_max", EXACT),
    ("tau = 2*V/A", &TUBE_FORCES, "sheared.shear_stress_max", THIN),
    ("sigma_v = sqrt(sigma^2 + 3*tau^2)", &TOGETHER, "both.von_mises(seam)", EXACT),
    ("sigma_1 = sigma/2 + sqrt((sigma/2)^2 + tau^2)", &TOGETHER, "both.principal_stress_1(seam)", EXACT),
    ("sigma_v = sqrt(sigma_x^2 - sigma_x*sigma_y + sigma_y^2 + 3*tau^2)", &TOGETHER, "both.von_mises(seam)", EXACT),
    ("sigma_1 = (sigma_x + sigma_y)/2 + sqrt(((sigma_x - sigma_y)/2)^2 + tau^2)", &TOGETHER, "both.principal_stress_1(seam)", EXACT),
    ("sigma_1 = (sigma_x + sigma_y)/2 - sqrt(((sigma_x - sigma_y)/2)^2 + tau^2)", &TOGETHER, "both.principal_stress_2(seam)", EXACT),
    ("tau_1 = sqrt(((sigma_x - sigma_y)/2)^2 + tau^2)", &TOGETHER, "(both.principal_stress_1(seam) - both.principal_stress_2(seam))/2", EXACT),
    ("sigma_1 = sigma/2 - sqrt((sigma/2)^2 + tau^2)", &TOGETHER, "both.principal_stress_2(seam)", EXACT),
];

const CIRCLE_AXES: Model = Model {
    values: "I_x = s.Ixx; I_y = s.Iyy",
    blocks: "section s\n    circle p 50 mm\n",
};
const PARALLEL: Model = Model {
    values: "I_0 = s.Ixx; A = s.area; e = 120 mm",
    blocks: "section s\n    rect p 40 x 90 mm\n",
};
const OF_RECTANGLE: Model = Model {
    values: "I = 2430000 mm^4; y = 45 mm; h = 90 mm; A = 3600/2 mm^2 * 2; z = 11.25 mm; W_pl = 81000 mm^3; W = 54000 mm^3",
    blocks: "section s\n    rect p 40 x 90 mm\n",
};

#[test]
fn sections_and_stresses() {
    for (formula, model, expected, within) in PLANE {
        // `s` is the section here.
        let formula = formula.replace("t/s", "t/s_m");
        check(&formula, model.values, model.blocks, expected, *within);
    }
}

/// Half and a quarter of a circle, as polygons of many corners: as near as those come to the arc.
#[test]
fn parts_of_a_circle() {
    let (half, quarter) = (fan(0..=24), fan(0..=12));
    for (formula, blocks, expected) in [
        ("A = pi*r^2/2", &half, "s.area"),
        ("A = pi*d^2/8", &half, "s.area"),
        ("ybar = 4*r/(3*pi)", &half, "s.ybar"),
        ("ybar = 2*d/(3*pi)", &half, "s.ybar"),
        ("I = pi*r^4/8", &half, "s.Ixx_about(0 mm)"),
        ("I = pi*d^4/128", &half, "s.Ixx_about(0 mm)"),
        ("I = (pi/8 - 8/(9*pi))*r^4", &half, "s.Ixx"),
        ("Q = 2*r^3/3", &half, "s.area*s.ybar"),
        ("Q = d^3/12", &half, "s.area*s.ybar"),
        ("A = pi*r^2/4", &quarter, "s.area"),
        ("I = pi*r^4/16", &quarter, "s.Ixx_about(0 mm)"),
        ("I = (pi/16 - 4/(9*pi))*r^4", &quarter, "s.Ixx"),
    ] {
        check(formula, "r = 25 mm; d = 50 mm", blocks, expected, 5e-3);
    }
}

/// A regular hexagon with sides of 20 mm.
#[test]
fn a_hexagon() {
    let blocks = "section s\n    polygon p (10, 0) (30, 0) (40, 17.320508075688775) (30, 34.64101615137755) \
                  (10, 34.64101615137755) (0 mm, 17.320508075688775 mm)\n";
    for (formula, expected) in [
        ("A = 3*sqrt(3)*a^2/2", "s.area"),
        ("I = 5*sqrt(3)*a^4/16", "s.Ixx"),
    ] {
        check(formula, "a = 20 mm", blocks, expected, 1e-9);
    }
}

#[rustfmt::skip]
const BEAMS: &[(&str, &str, &str, &str, f64)] = &[
    ("M = w*L^2/8", "", "load q 4 kN/m throughout", "x.M_max", EXACT),
    ("R_1 = w*L/2", "", "load q 4 kN/m throughout", "x.R1", EXACT),
    ("v = 5*w*L^4/(384*E*I)", "", "load q 4 kN/m throughout", "x.deflection_max", EXACT),
    ("v = 5*M*L^2/(48*E*I)", "M = x.M_max", "load q 4 kN/m throughout", "x.deflection_max", EXACT),
    ("theta = w*L^3/(24*E*I)", "", "load q 4 kN/m throughout", "abs(x.slope(0 m))", EXACT),
    ("M = w*x*(L - x)/2", "", "load q 4 kN/m throughout", "x.M(x0)", EXACT),
    ("v = w*x*(L^3 - 2*L*x^2 + x^3)/(24*E*I)", "", "load q 4 kN/m throughout", "x.deflection(x0)", EXACT),
    ("M = P*L/4", "", "load q 6 kN at middle", "x.M_max", EXACT),
    ("R_1 = P/2", "", "load q 6 kN at middle", "x.R1", EXACT),
    ("v = P*L^3/(48*E*I)", "", "load q 6 kN at middle", "x.deflection_max", EXACT),
    ("v = M*L^2/(12*E*I)", "M = x.M_max", "load q 6 kN at middle", "x.deflection_max", EXACT),
    ("theta = P*L^2/(16*E*I)", "", "load q 6 kN at middle", "abs(x.slope(0 m))", EXACT),
    ("M = P*a*b/L", "", "load q 6 kN at 1 m", "x.M_max", EXACT),
    ("R_1 = P*b/L", "", "load q 6 kN at 1 m", "x.R1", EXACT),
    ("v = P*a^2*b^2/(3*E*I*L)", "", "load q 6 kN at 1 m", "x.deflection(1 m)", EXACT),
    ("v = P*a*(3*L^2 - 4*a^2)/(24*E*I)", "", "load q 6 kN at 1 m; load q 6 kN at 2 m", "x.deflection(1.5 m)", EXACT),
    ("M = P*L/3", "", "load q 6 kN at 1 m; load q 6 kN at 2 m", "x.M_max", EXACT),
    ("v = 23*P*L^3/(648*E*I)", "", "load q 6 kN at 1 m; load q 6 kN at 2 m", "x.deflection_max", EXACT),
    ("M = w*L^2/(9*sqrt(3))", "", "load q 0 kN/m to 4 kN/m from start to end", "x.M_max", EXACT),
    ("R_1 = w*L/3", "", "load q 0 kN/m to 4 kN/m from start to end", "x.R2", EXACT),
    ("R_1 = w*L/6", "", "load q 0 kN/m to 4 kN/m from start to end", "x.R1", EXACT),
    ("v = 0.006522*w*L^4/(E*I)", "", "load q 0 kN/m to 4 kN/m from start to end", "x.deflection_max", 2e-4),
    ("M = w*L^2/12", "", "load q 0 kN/m to 4 kN/m from start to middle; load q 4 kN/m to 0 kN/m from middle to end", "x.M_max", EXACT),
    ("R_1 = w*L/4", "", "load q 0 kN/m to 4 kN/m from start to middle; load q 4 kN/m to 0 kN/m from middle to end", "x.R1", EXACT),
    ("v = w*L^4/(120*E*I)", "", "load q 0 kN/m to 4 kN/m from start to middle; load q 4 kN/m to 0 kN/m from middle to end", "x.deflection_max", EXACT),
    ("v = M*L^2/(16*E*I)", "M = 5 kN*m", "load q 5 kN*m clockwise at start", "x.deflection(1.5 m)", EXACT),
    ("v = M*L^2/(9*sqrt(3)*E*I)", "M = 5 kN*m", "load q 5 kN*m clockwise at start", "x.deflection_max", EXACT),
    ("theta = M*L/(3*E*I)", "M = 5 kN*m", "load q 5 kN*m clockwise at start", "abs(x.slope(0 m))", EXACT),
    ("theta = M*L/(6*E*I)", "M = 5 kN*m", "load q 5 kN*m clockwise at start", "abs(x.slope(3 m))", EXACT),
    ("v = M*L^2/(8*E*I)", "M = 5 kN*m", "load q 5 kN*m clockwise at start; load q 5 kN*m anticlockwise at end", "x.deflection_max", EXACT),
    ("M = P*L", CANTILEVER, "load q 6 kN at end", "abs(x.M_min)", EXACT),
    ("v = P*L^3/(3*E*I)", CANTILEVER, "load q 6 kN at end", "x.deflection_max", EXACT),
    ("theta = P*L^2/(2*E*I)", CANTILEVER, "load q 6 kN at end", "abs(x.slope(3 m))", EXACT),
    ("M = w*L^2/2", CANTILEVER, "load q 4 kN/m throughout", "abs(x.M_min)", EXACT),
    ("R_1 = w*L", CANTILEVER, "load q 4 kN/m throughout", "x.R1", EXACT),
    ("v = w*L^4/(8*E*I)", CANTILEVER, "load q 4 kN/m throughout", "x.deflection_max", EXACT),
    ("theta = w*L^3/(6*E*I)", CANTILEVER, "load q 4 kN/m throughout", "abs(x.slope(3 m))", EXACT),
    ("v = M*L^2/(2*E*I)", CANTILEVER, "load q 5 kN*m clockwise at end", "abs(x.deflection_max)", EXACT),
    ("theta = M*L/(E*I)", CANTILEVER, "load q 5 kN*m clockwise at end", "abs(x.slope(3 m))", EXACT),
    ("M = w*L^2/6", CANTILEVER, "load q 4 kN/m to 0 kN/m from start to end", "abs(x.M_min)", EXACT),
    ("v = w*L^4/(30*E*I)", CANTILEVER, "load q 4 kN/m to 0 kN/m from start to end", "x.deflection_max", EXACT),
    ("theta = w*L^3/(24*E*I)", CANTILEVER, "load q 4 kN/m to 0 kN/m from start to end", "abs(x.slope(3 m))", EXACT),
    ("M = w*L^2/3", CANTILEVER, "load q 0 kN/m to 4 kN/m from start to end", "abs(x.M_min)", EXACT),
    ("v = 11*w*L^4/(120*E*I)", CANTILEVER, "load q 0 kN/m to 4 kN/m from start to end", "x.deflection_max", EXACT),
    ("v = P*a^2*(3*L - a)/(6*E*I)", CANTILEVER, "load q 6 kN at 1 m", "x.deflection_max", EXACT),
    ("M = w*L^2/12", FIXED, "load q 4 kN/m throughout", "abs(x.M_min)", EXACT),
    ("M = w*L^2/24", FIXED, "load q 4 kN/m throughout", "x.M_max", EXACT),
    ("v = w*L^4/(384*E*I)", FIXED, "load q 4 kN/m throughout", "x.deflection_max", EXACT),
    ("M = P*L/8", FIXED, "load q 6 kN at middle", "x.M_max", EXACT),
    ("v = P*L^3/(192*E*I)", FIXED, "load q 6 kN at middle", "x.deflection_max", EXACT),
    ("M = P*a*b^2/L^2", FIXED, "load q 6 kN at 1 m", "abs(x.M(0 m))", EXACT),
    ("M = w*L^2/20", FIXED, "load q 0 kN/m to 4 kN/m from start to end", "abs(x.M(3 m))", EXACT),
    ("M = w*L^2/30", FIXED, "load q 0 kN/m to 4 kN/m from start to end", "abs(x.M(0 m))", EXACT),
    ("M = w*L^2/8", PROPPED, "load q 4 kN/m throughout", "abs(x.M_min)", EXACT),
    ("M = 9*w*L^2/128", PROPPED, "load q 4 kN/m throughout", "x.M_max", EXACT),
    ("R_1 = 3*w*L/8", PROPPED, "load q 4 kN/m throughout", "x.R2", EXACT),
    ("R_1 = 5*w*L/8", PROPPED, "load q 4 kN/m throughout", "x.R1", EXACT),
    ("v = w*L^4/(184.6*E*I)", PROPPED, "load q 4 kN/m throughout", "x.deflection_max", 5e-4),
    ("M = 3*P*L/16", PROPPED, "load q 6 kN at middle", "abs(x.M_min)", EXACT),
    ("M = 5*P*L/32", PROPPED, "load q 6 kN at middle", "x.M_max", EXACT),
    ("R_1 = 5*P/16", PROPPED, "load q 6 kN at middle", "x.R2", EXACT),
    ("R_1 = 11*P/16", PROPPED, "load q 6 kN at middle", "x.R1", EXACT),
    ("v = 7*P*L^3/(768*E*I)", PROPPED, "load q 6 kN at middle", "x.deflection(1.5 m)", EXACT),
    ("v = P*L^3/(48*sqrt(5)*E*I)", PROPPED, "load q 6 kN at middle", "x.deflection_max", EXACT),
    ("M = w*L^2/15", PROPPED, "load q 4 kN/m to 0 kN/m from start to end", "abs(x.M_min)", EXACT),
    ("k = 48*E*I/L^3", "", "load q 6 kN at middle", "6 kN/x.deflection_max", EXACT),
    ("k = 3*E*I/L^3", CANTILEVER, "load q 6 kN at end", "6 kN/x.deflection_max", EXACT),
    ("k = 192*E*I/L^3", FIXED, "load q 6 kN at middle", "6 kN/x.deflection_max", EXACT),
];

#[test]
fn beams() {
    for (formula, supports_or_values, loads, expected, within) in BEAMS {
        let is_value = supports_or_values.contains('=');
        let (supports, mut values) = if is_value {
            ("", format!("{BEAM_VALUES}; {supports_or_values}"))
        } else {
            (*supports_or_values, BEAM_VALUES.to_owned())
        };
        if formula.contains("M*") && !is_value {
            values += "; M = 5 kN*m";
        }
        // `x` is the beam here.
        let formula = formula
            .replace("*x", "*x0")
            .replace(" x", " x0")
            .replace("x^", "x0^");
        let blocks = beam(&format!("{supports}{loads}"));
        check(&formula, &values, &blocks, expected, *within);
    }
}

/// What no section or beam of the program comes to, each with the reason.
const BEYOND: &[(&str, &str)] = &[
    ("a wall along a circle", "area of a thin half ring"),
    (
        "a wall along a circle",
        "second moment of area of a thin half ring about its diameter",
    ),
    (
        "a wall along a circle",
        "torsion constant of a thin tube slit along its length",
    ),
    (
        "a stress at corners",
        "section modulus in torsion of a closed thin wall",
    ),
    (
        "a stress at corners",
        "shear stress of a closed thin wall in torsion",
    ),
    (
        "a stress at corners",
        "shear flow of a closed thin wall in torsion",
    ),
    ("a length round a section", "circumference of a circle"),
    ("twist of a member", "angle of twist"),
    (
        "an area with a curved edge of this kind",
        "area below a parabola",
    ),
    ("a mean", "average shear stress"),
    (
        "another hypothesis",
        "equivalent stress after Tresca of a normal and a shear stress",
    ),
    ("pressure", "hoop stress of a thin tube under pressure"),
    ("pressure", "stress along a closed thin tube under pressure"),
    (
        "a material's second constant",
        "shear modulus of an isotropic material",
    ),
    ("changes of length", "change of length under a normal force"),
    (
        "changes of length",
        "change of length under a change of temperature",
    ),
    (
        "changes of length",
        "stress under a change of temperature that is prevented from changing the length",
    ),
    (
        "sway",
        "stiffness of a column fixed at both ends for a push sideways at one",
    ),
    (
        "vibration",
        "lowest frequency of a simple beam with a uniform mass",
    ),
    (
        "columns",
        "Euler's critical load of a column fixed at its foot and free at its head",
    ),
    (
        "columns",
        "Euler's critical load of a column fixed at both ends",
    ),
    (
        "columns",
        "Euler's critical load of a column fixed at one end and pinned at the other",
    ),
    ("columns", "relative slenderness of a column"),
    (
        "columns",
        "slenderness at which Euler's critical stress is the yield stress",
    ),
    ("columns", "magnification of a moment by a normal force"),
    ("plates", "critical stress of a plate"),
    (
        "buckling sideways",
        "critical moment of a narrow rectangle under a uniform moment",
    ),
];

/// Checked in a test of its own above or below.
const ELSEWHERE: &[&str] = &[
    "second moment of area of a semicircle about its diameter",
    "area of a semicircle",
    "distance of a semicircle's centroid from its diameter",
    "second moment of area of a semicircle about its centroid",
    "first moment of area of a semicircle about its diameter",
    "area of a quarter of a circle",
    "second moment of area of a quarter of a circle about its straight edge",
    "second moment of area of a quarter of a circle about its centroid",
    "area of a regular hexagon",
    "second moment of area of a regular hexagon about its centroid",
    "Euler's critical load over the effective length",
    "Euler's critical stress",
    "largest deflection of a simple beam under a load anywhere, b being the shorter distance",
    "slenderness of a column",
    "deflection at the end of an overhang with a load there",
    "moment at the ends of a beam fixed at both, where one settles",
    "moment at the fixed end of a propped cantilever whose prop settles",
    "reaction at the middle support of two equal spans under a uniform load",
];

#[test]
fn columns_overhangs_and_settlements() {
    let column = "material steel\n    E = 205 GPa\nsection s of steel\n    rect p 40 x 90 mm\nbeam x of s\n    \
                  length = 3 m\n    effective_length = 3 m\n    load q 1 kN at middle\n";
    for (formula, expected) in [
        ("N_cr = pi^2*E*I/L^2", "x.euler_load_x"),
        ("sigma_cr = pi^2*E*i^2/L^2", "x.euler_load_x/s.area"),
        ("sigma_cr = pi^2*E*I/(A*L^2)", "x.euler_load_x/s.area"),
        ("sigma_cr = pi^2*E/lambda^2", "x.euler_load_x/s.area"),
        ("lambda = L/i", "L/s.gyration_x"),
        ("lambda = L*sqrt(A/I)", "L/s.gyration_x"),
    ] {
        let values = format!("{BEAM_VALUES}; A = s.area; i = s.gyration_x; lambda = L/i");
        check(formula, &values, column, expected, EXACT);
    }
    check(
        "v = P*b*(L^2 - b^2)^(3/2)/(9*sqrt(3)*E*I*L)",
        &BEAM_VALUES.replace("b = 2 m", "b = 1 m"),
        &beam("load q 6 kN at 2 m"),
        "x.deflection_max",
        EXACT,
    );
    let overhang = "material steel\n    E = 205 GPa\nsection s of steel\n    rect p 40 x 90 mm\nbeam x of s\n    \
                    length = 4 m\n    support pin at start\n    support roller at 3 m\n    load q 6 kN at end\n";
    check(
        "v = P*a^2*(L + a)/(3*E*I)",
        BEAM_VALUES,
        overhang,
        "x.deflection(4 m)",
        EXACT,
    );
    let two = "material steel\n    E = 205 GPa\nsection s of steel\n    rect p 40 x 90 mm\nbeam x of s\n    \
               spans = 3 m, 3 m\n    load q 4 kN/m throughout\n";
    check("R_1 = 5*w*L/4", BEAM_VALUES, two, "x.R2", EXACT);
    check("M = w*L^2/8", BEAM_VALUES, two, "abs(x.M_min)", EXACT);
    for (formula, supports) in [("M = 6*E*I*v/L^2", FIXED), ("M = 3*E*I*v/L^2", PROPPED)] {
        let values = format!("{BEAM_VALUES}; v = 5 mm");
        let settled = beam(&format!("{supports}load sinking 5 mm at end"));
        check(formula, &values, &settled, "abs(x.M(0 m))", EXACT);
    }
}

#[test]
fn every_entry_is_checked_or_said_to_be_beyond() {
    let checked: Vec<&str> = PLANE
        .iter()
        .map(|row| row.0)
        .chain(BEAMS.iter().map(|row| row.0))
        .collect();
    for entry in entries() {
        let all = entry
            .formulas
            .iter()
            .all(|formula| checked.contains(formula));
        let beyond = BEYOND.iter().any(|(_, name)| *name == entry.name);
        let elsewhere = ELSEWHERE.contains(&entry.name);
        assert!(
            u8::from(all) + u8::from(beyond) + u8::from(elsewhere) >= 1,
            "{} is not checked",
            entry.name
        );
    }
    assert!(entries().count() >= 60);
}

/// The program's own dimension checker reads every formula, with the dimensions of its letters.
#[test]
fn the_dimensions_of_every_formula_are_right() {
    for entry in entries() {
        for formula in entry.formulas {
            let words: Vec<&str> = formula
                .split(|c: char| !(c.is_alphanumeric() || c == '_'))
                .collect();
            let mut text = String::new();
            let (left, right) = formula.split_once(" = ").expect("a formula");
            let mut seen = vec![left];
            for word in words.into_iter().skip(1) {
                let Some(letter) = letter_of(word) else {
                    continue;
                };
                if seen.contains(&word) {
                    continue;
                }
                seen.push(word);
                let unit = letter.dimension.typical_unit().to_string();
                let unit = match unit.strip_prefix("1/") {
                    Some(below) => format!("/ 1 {below}"),
                    None => unit,
                };
                text += &format!("{word} = 2 {unit}\n");
            }
            let asked = letter_of(left).expect("a letter").dimension;
            let brackets = match asked.is_ratio() {
                true => "[any ratio]".to_owned(),
                false => format!("[{}]", asked.typical_unit()),
            };
            text += &format!("left_side = {right} {brackets}\nallow unused-value\n");
            let errors: Vec<String> = read(&text)
                .findings
                .into_iter()
                .map(|finding| finding.head)
                .filter(|head| !head.starts_with("no-number"))
                .collect();
            assert_eq!(errors, [""; 0], "{formula}\n{text}");
        }
    }
}

//! Euler's load (Euler 1744; Timoshenko and Gere, Theory of Elastic Stability, chapter 2, from
//! memory): π²·EI/L² about each axis.

use crate::reading::{BAR, EI, beam, file};

const PI_SQUARED: f64 = 9.869_604_401_089_358;

#[test]
fn about_both_axes() {
    let about_y = EI / 16.0;
    let read = beam("length = 4 m\neffective_length = 4 m", "");
    read.agrees(&[
        ("b.euler_load_x", PI_SQUARED * EI / 16.0),
        ("b.euler_load_y", PI_SQUARED * about_y / 16.0),
        ("b.euler_load", PI_SQUARED * about_y / 16.0),
    ]);
    let read = beam("length = 4 m\neffective_length = 4 m, 0.5 m", "");
    read.agrees(&[
        ("b.euler_load_y", PI_SQUARED * about_y / 0.25),
        ("b.euler_load", PI_SQUARED * EI / 16.0),
    ]);
}

#[test]
fn what_is_missing_is_told() {
    let told = |lines: &str, more: &str, finding: &str| beam(lines, more).finds(&[finding]);
    told(
        "length = 4 m",
        "p = b.euler_load [kN]\n",
        "no-number at \"b.euler_load\": there is no number here: a buckling load needs the line \
         effective_length",
    );
    told(
        "length = 4 m\neffective_length = 0 m",
        "",
        "value-not-positive",
    );
    told(
        "length = 4 m\neffective_length = 3 kN",
        "",
        "unit-mismatch at \"3 kN\"",
    );
    told(
        "length = 4 m\neffective_length = 3 m, 2 m, 1 m",
        "",
        "place-wrong",
    );
    let without = BAR.replace("    E = 205 GPa\n", "");
    let read = file(&format!(
        "{without}beam b of bar\n    length = 4 m\n    effective_length = 4 m\n"
    ));
    assert!(
        read.findings
            .iter()
            .any(|f| f.starts_with("missing-property at \"effective_length\""))
    );
    assert!(read.values.contains_key("b.M_max"));
}

/// An angle buckles about its minor axis: a square of side a with a corner taken out, turned by 45°.
#[test]
fn an_unsymmetrical_section() {
    let text = "material steel\n    E = 205 GPa\nsection angle of steel\n    rect leg 10 x 100 mm\n    \
                rect foot 90 x 10 mm right of leg flush bottom\nbeam b of angle\n    length = 2 m\n    \
                effective_length = 2 m\n";
    let read = file(&format!("{text}x = b.euler_load_x [kN]\n"));
    let minor = read.value("angle.I_minor");
    let found = read.value("b.euler_load");
    assert!((found / (PI_SQUARED * 205e9 * minor / 4.0) - 1.0).abs() < 1e-11);
    assert!(!read.values.contains_key("x"));
    let two = file(&text.replace("effective_length = 2 m", "effective_length = 2 m, 1 m"));
    assert!(
        two.findings
            .iter()
            .any(|f| f.starts_with("not-supported-yet at \"effective_length\""))
    );
}

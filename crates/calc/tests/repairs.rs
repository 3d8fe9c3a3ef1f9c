//! What is offered first for a formula whose dimensions cannot be right. How often that is what was meant is
//! measured by the repository's corpus of mistakes; here stands one case of each kind of repair.

use std::fmt::Write as _;

mod support;

/// The lines around, the mistaken line, and the first repair.
const FIRST: &[(&str, &str, &str)] = &[
    (
        "A1 = 600 mm^2\nA2 = 400 mm^2\ny1 = 30 mm\ny2 = 90 mm\n",
        "ybar = (A1*y1 + A2*y2)/(y1 + y2) [mm]",
        "Write A1 + A2 instead of y1 + y2",
    ),
    (
        "A1 = 600 mm^2\nA2 = 400 mm^2\ny1 = 30 mm\ny2 = 90 mm\n",
        "ybar = A1*y1 + A2*y2/(A1 + A2) [mm]",
        "Write (A1*y1 + A2*y2)/(A1 + A2)",
    ),
    (
        "run = 3 m\nrise = 2 m\n",
        "slope = run^2 + rise^2 [m]",
        "Write sqrt(run^2 + rise^2)",
    ),
    (
        "b = 60 mm\nh = 140 mm\n",
        "I = b/12 [mm^4]",
        "Multiply by h^3: b*h^3/12",
    ),
    (
        "b = 60 mm\nh = 140 mm\n",
        "I = b*h^3/12 [mm^3]",
        "Show a second moment of area in [mm^4]",
    ),
    (
        "h = 140 mm\n",
        "total = h + 30 [mm]",
        "Write 30 mm instead of 30",
    ),
    (
        "M = 4 kN*m\nI = 8e6 mm^4\ny = 60 mm\n",
        "sigma = I*y/M [MPa]",
        "Write y*M/I",
    ),
    (
        "F = 4 kN\nA = 60 mm^2\nsigma_max = F/A [MPa]\nsigma_min = F/(2*A) [MPa]\nf_d = 140 MPa\n",
        "verify F <= f_d",
        "Write sigma_max instead of F",
    ),
];

#[test]
fn the_likeliest_slip_is_undone_first() {
    for (around, line, first) in FIRST {
        let (snapshot, file) = support::open(&format!("{around}{line}\n"));
        let findings = snapshot.findings(file);
        let finding = findings
            .iter()
            .find(|finding| finding.code.name == "unit-mismatch")
            .unwrap_or_else(|| panic!("{line} is mistaken"));
        let repairs = snapshot.repairs(finding);
        let titles: Vec<&str> = repairs.iter().map(|repair| repair.title.as_str()).collect();
        assert_eq!(titles.first(), Some(first), "{line}: {titles:?}");
    }
}

/// However many names could come in, so many repairs are tried and no more, in the order of their costs.
#[test]
fn the_search_ends() {
    let mut text = String::new();
    for n in 0..1_500 {
        let _ = writeln!(text, "b{n} = {} mm\nA{n} = b{n}*b{n} [mm^2]", 10 + n % 90);
    }
    text += "x = A1*b1 + A2*b2 + A3*b3 + A4 [mm^3]\n";
    let (snapshot, file) = support::open(&text);
    let findings = snapshot.findings(file);
    let finding = findings
        .iter()
        .find(|finding| finding.code.name == "unit-mismatch")
        .expect("the line is mistaken");
    for most in [0, 3, 32] {
        let weighed = snapshot.weighed_repairs(finding, most);
        assert!(weighed.len() <= most + finding.repairs.len(), "{most}");
        let costs: Vec<f64> = weighed.iter().map(|one| one.reasons.cost()).collect();
        assert!(costs.is_sorted(), "{costs:?}");
    }
    assert_eq!(snapshot.repairs(finding).len(), 5);
}

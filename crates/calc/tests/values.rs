//! Values, dimensions and findings of single files, through the public surface.

mod support;

use haunch_calc::Value;
use support::open;

/// Values by name and findings as `code at "text": message`.
fn read(text: &str) -> (Vec<(String, String)>, Vec<String>) {
    let (snapshot, file) = open(text);
    let preferences = snapshot.preferences(file);
    let values = snapshot
        .values(file)
        .into_iter()
        .map(|value| {
            let text = match &value.evaluated.value {
                Some(Value::Quantity(quantity)) => {
                    haunch_quantity::format_quantity(*quantity, value.unit.as_ref(), &preferences)
                }
                Some(other) => format!("{other:?}"),
                None => "unknown".to_owned(),
            };
            (value.name, text)
        })
        .collect();
    let findings = snapshot
        .findings(file)
        .into_iter()
        .map(|finding| {
            let line = snapshot
                .line(finding.place.line)
                .expect("the line is there");
            format!(
                "{} at {:?}: {}",
                finding.code.name,
                finding.place.span.text(line.text()),
                finding.message
            )
        })
        .collect();
    (values, findings)
}

#[track_caller]
fn values(text: &str, expected: &[(&str, &str)]) {
    let (values, findings) = read(text);
    let values: Vec<(&str, &str)> = values
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    assert_eq!(values, expected, "{findings:#?}");
}

#[track_caller]
fn findings(text: &str, expected: &[&str]) {
    let (values, findings) = read(text);
    assert_eq!(findings, expected, "{values:#?}");
}

#[test]
fn a_formula_in_its_unit() {
    values(
        "b = 30 mm\nA = b*20 mm [cm^2]\n",
        &[("b", "30.00 mm"), ("A", "6.000 cm²")],
    );
}

#[test]
fn order_of_lines_does_not_matter() {
    values(
        "A = b*h\nb = 30 mm\nh = 20 mm\n",
        &[("A", "600.0 mm²"), ("b", "30.00 mm"), ("h", "20.00 mm")],
    );
}

#[test]
fn the_centroid_slip_is_told_in_words() {
    findings(
        "A1 = 700 mm^2\nA2 = 900 mm^2\ny1 = 4 mm\ny2 = 60 mm\n\
         y = (A1*y1 + A2*y2)/(y1 + y2) [mm]\n",
        &[
            "unit-mismatch at \"y1 + y2\": the formula comes out as an area (mm²), but [mm] asks for a \
           length. A1*y1 + A2*y2 is a first moment of area (mm³); y1 + y2 is a length (mm). Look at \
           y1 + y2: all else being right, it has to be an area (mm²).",
        ],
    );
}

#[test]
fn a_mistake_is_told_once() {
    findings(
        "a = 3 mm + 2 kN\nb = a*2\nc = b + 3 s\nanswer c\n",
        &[
            "unit-mismatch at \"3 mm + 2 kN\": these cannot be added: 3 mm is a length (mm), 2 kN is a force (kN).",
        ],
    );
}

#[test]
fn the_odd_term_is_named() {
    findings(
        "a = 3 mm + 4 mm + 2 kN - 1 mm\nanswer a\n",
        &[
            "unit-mismatch at \"2 kN\": 2 kN is a force (kN), but the other terms are a length (mm). \
           Only quantities of one kind can be added.",
        ],
    );
}

#[test]
fn a_branch_not_taken_may_divide_by_zero() {
    values(
        "n = 0\na = if n > 0 then 1/n else 7\n",
        &[("n", "0"), ("a", "7.000")],
    );
    findings(
        "n = 0\na = 1/n\n",
        &["no-number at \"1/n\": there is no number here: this divides by zero."],
    );
}

#[test]
fn a_ring_lists_its_names() {
    findings(
        "a = b\nb = c\nc = a\n",
        &[
            "ring at \"a\": a, b, c are defined by each other, so none of them has a value. Give one of \
         them a value of its own.",
        ],
    );
}

#[test]
fn formulas_are_checked_at_each_call() {
    values(
        "I(b, h) = b*h^3/12 [mm^4]\nI1 = I(30 mm, 60 mm)\n",
        &[("I1", "540000 mm⁴")],
    );
    let (_, found) = read("I(b, h) = b*h^3/12 [mm^4]\nI1 = I(30 mm, 60 kN)\n");
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!(
        found,
        [
            "unit-mismatch at \"60 kN\": h of I has to be a length (mm) here, but 60 kN is a force (kN).",
        ],
    );
}

#[test]
fn names_with_two_definitions_have_no_value() {
    let (values, found) = read("t = 3 mm\nt = 4 mm\nA = t*t\n");
    assert_eq!(values, [("A".to_owned(), "unknown".to_owned())]);
    assert_eq!(found.len(), 2, "{found:#?}");
}

/// The titles of the repairs of a file's first finding.
fn repairs(text: &str) -> Vec<String> {
    let (snapshot, file) = open(text);
    let findings = snapshot.findings(file);
    let first = findings
        .iter()
        .find(|finding| finding.code.name != "unused-value")
        .expect("there is a finding");
    snapshot
        .repairs(first)
        .into_iter()
        .map(|repair| repair.title)
        .collect()
}

#[test]
fn the_centroid_slip_is_mended_with_the_areas() {
    let titles = repairs(
        "A1 = 700 mm^2\nA2 = 900 mm^2\ny1 = 4 mm\ny2 = 60 mm\n\
         y = (A1*y1 + A2*y2)/(y1 + y2) [mm]\nanswer y\n",
    );
    assert_eq!(titles[0], "Write A1 + A2 instead of y1 + y2");
}

#[test]
fn a_lost_power_is_found() {
    let titles = repairs("b = 30 mm\nh = 60 mm\nI = b*h^2/12 [mm^4]\nanswer I\n");
    assert_eq!(titles[0], "Write h^3 instead of h^2");
}

#[test]
fn an_unknown_name_is_compared_with_the_known_ones() {
    let titles = repairs("width = 30 mm\nA = widht*2 mm [mm^2]\nanswer A\n");
    assert_eq!(titles, ["Write width"]);
}

/// Any letter is one letter away from any other: only one that the line can take is offered for it.
#[test]
fn a_letter_is_not_taken_for_any_other() {
    let given = "L = 3 m\nM = 2 kN*m\nW = 4 cm^3\n";
    assert_eq!(repairs(&format!("{given}x = Q/W [MPa]")), ["Write M"]);
    assert_eq!(repairs(&format!("{given}x = E*W [MPa*m^2]")), [""; 0]);
    assert_eq!(repairs(&format!("{given}x = l/2 + 3 kN")), ["Write L"]);
}

//! What can be written at a place.

mod support;

use support::open;

#[track_caller]
fn check(fixture: &str, wanted: &[&str], unwanted: &[&str]) {
    let found = open(fixture).completions();
    for text in wanted {
        assert!(
            found.iter().any(|known| known == text),
            "no {text} in {found:?}"
        );
    }
    for text in unwanted {
        assert!(
            !found.iter().any(|known| known == text),
            "{text} in {found:?}"
        );
    }
}

#[test]
fn at_the_start_of_a_line() {
    check("‸", &["section", "beam", "verify"], &["rect", "length = "]);
    check("se‸", &["section"], &["rect"]);
    check(
        "section s\n    ‸\n",
        &["rect", "point", "deduct"],
        &["section", "support"],
    );
    check(
        "beam b of s\n    le‸",
        &["length = ", "support", "load", "limit"],
        &["rect"],
    );
    check(
        "material m\n    E = 200 GPa\n    ‸",
        &["density = ", "limit"],
        &["load"],
    );
}

#[test]
fn names_and_functions_in_a_formula() {
    check(
        "a = 1 m\nb = ‸\n",
        &["a", "sqrt", "pi", "g_n"],
        &["section", "kN"],
    );
    check("a = 1 m\nb = 2*a‸ + 1 m\n", &["a", "abs"], &["kN"]);
}

#[test]
fn members_after_a_dot() {
    check(
        "=== main.haunch\nuse \"p.haunch\" as p\na = p.‸\n=== p.haunch\nthick = 8 mm\n",
        &["thick"],
        &["a", "sqrt"],
    );
    check(
        "section s\n    rect f 10 x 10 mm\na = s.‸\n",
        &["f"],
        &["s", "a", "sqrt"],
    );
}

#[test]
fn units_after_a_number_and_in_brackets() {
    check("a = 1 m\nb = 3 ‸", &["kN", "mm", "ksi"], &["a"]);
    check("a = 1 m\nb = a*2 [‸", &["mm", "any"], &["a"]);
    check("results in mm, ‸", &["kN", "MPa"], &["sqrt"]);
}

#[test]
fn blocks_where_a_heading_names_one() {
    let blocks = "material m\n    E = 200 GPa\nsection s of m\n    rect f 10 x 10 mm\na = 1 m\n";
    check(&format!("{blocks}section t of ‸"), &["m"], &["s", "a"]);
    check(&format!("{blocks}beam b of ‸"), &["s"], &["m", "a"]);
    check(&format!("{blocks}forces f on ‸"), &["s"], &["m", "a"]);
}

#[test]
fn words_after_a_word() {
    check("material m\n    limit ‸", &["tension", "shear"], &["rect"]);
    check(
        "beam b of s\n    support ‸",
        &["pin", "roller", "fixed"],
        &["rect"],
    );
    check(
        "section s\n    rect f 10 x 10 mm\n    rect w 10 x 10 mm ‸\n",
        &["above", "flush", "f"],
        &["support"],
    );
}

#[test]
fn nothing_inside_words() {
    check("# a ‸", &[], &["section", "kN"]);
    check("note a ‸", &[], &["section", "kN"]);
    check("sheet\n    title = \"a ‸", &[], &["section", "kN"]);
}

#[test]
fn a_completion_takes_the_place_of_the_word_begun() {
    let opened = open("ȳ = 1 m\nb = 2*ȳ‸\n");
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor);
    let name = found
        .iter()
        .find(|completion| completion.text == "ȳ")
        .expect("the name");
    assert_eq!(opened.text(opened.file, name.replaces), "ȳ");
}

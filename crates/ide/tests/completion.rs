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
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor).items;
    let name = found
        .iter()
        .find(|completion| completion.text == "ȳ")
        .expect("the name");
    assert_eq!(opened.text(opened.file, name.replaces), "ȳ");
}

/// The units that fit their place, in front of all others.
#[track_caller]
fn check_units(fixture: &str, fitting: &[&str], other: &str) {
    let opened = open(fixture);
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor).items;
    let count = found.iter().take_while(|one| one.fits).count();
    assert!(
        count > 0 && found[count..].iter().all(|one| !one.fits),
        "{count}"
    );
    for text in fitting {
        assert!(found[..count].iter().any(|one| one.text == *text), "{text}");
    }
    assert!(
        found[..count].iter().all(|one| one.text != other),
        "{other}"
    );
}

#[test]
fn units_that_fit_come_first() {
    check_units("a = 2 kN\nb = a*3 [‸\n", &["kN", "lbf"], "mm");
    check_units("a = 2 kN\nb = a*3 m [k‸]\n", &["kip-ft"], "kN");
    check_units("a = 2 kN\nb = a + 3 ‸\n", &["kN", "lbf"], "mm");
    check_units("material m\n    E = 205 G‸\n", &["GPa", "ksi"], "mm");
    check_units("section s\n    rect f 10 x 20 ‸\n", &["mm", "in"], "kN");
    check_units("material m\n    limit tension <= 165 ‸\n", &["MPa"], "mm");
    let opened = open("b = 3 ‸\n");
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor).items;
    assert!(
        found.iter().all(|one| !one.fits),
        "nothing is known of this place"
    );
}

/// The names that fit their place, in front of all others.
#[track_caller]
fn check_names(line: &str, fitting: &[&str]) {
    const GIVEN: &str = "L = 3 m\nb = 40 mm\nF = 6 kN\nq = 2 kN/m\nM = F*L\nf = 200 MPa\nn = 2\n\
                         area(a, c) = a*c [mm^2]\nsum(a, c) = a + c\n\
                         section s\n    rect w 10 x 20 mm\n";
    let opened = open(&format!("{GIVEN}{line}"));
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor).items;
    let first: Vec<&str> = found
        .iter()
        .take_while(|one| one.fits)
        .map(|one| one.text.as_str())
        .collect();
    assert_eq!(first, fitting, "{line}");
    assert!(found[first.len()..].iter().all(|one| !one.fits), "{line}");
}

#[test]
fn names_that_fit_come_first() {
    check_names("y = F + ‸\n", &["F"]);
    check_names("y = 2*F + L‸ + 3 kN\n", &["F"]);
    check_names("y = F*‸ [kN*m]\n", &["L", "b"]);
    check_names("y = F/‸ [MPa]\n", &["area"]);
    check_names("y = (F + n*‸", &["F"]);
    check_names("y = max(M, F*(‸", &["L", "b"]);
    check_names("y = sin(‸)\n", &["n", "pi"]);
    check_names("y = sum(F, ‸)\n", &["F"]);
    check_names("y = area(‸, b) [mm^2]\n", &["L", "b"]);
    check_names("verify M <= ‸\n", &["M"]);
    check_names("expect M = ‸ within 1 %\n", &["M"]);
    check_names("y = if n > ‸ then F else 0\n", &["n", "pi"]);
    check_names("beam h of s\n    length = ‸\n", &["L", "b"]);
    check_names("beam h of s\n    load dead ‸ throughout\n", &["q"]);
    check_names("beam h of s\n    load dead q from b to ‸\n", &["L", "b"]);
    check_names("beam h of s\n    support spring ‸ at 2 m\n", &["q"]);
    check_names(
        "beam h of s\n    limit deflection <= ‸\n",
        &["span", "L", "b"],
    );
    check_names("beam h of s\n    limit tension <= 0.6*‸\n", &["f"]);
    check_names("section t\n    rect w ‸ x 20 mm\n", &["L", "b"]);
    check_names("material m\n    E = ‸\n", &["f"]);
    // Nothing tells, or the line tells no single name.
    check_names("y = ‸\n", &[]);
    check_names("y = z*‸ [mm^2]\n", &[]);
}

#[test]
fn results_that_fit_come_first() {
    let opened = open("F = 6 kN\nsection s\n    rect w 10 x 20 mm\ny = F*s.‸ [kN*m]\n");
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor).items;
    let fits = |text: &str| {
        found
            .iter()
            .find(|one| one.text == text)
            .map(|one| one.fits)
    };
    assert_eq!(fits("depth"), Some(true));
    assert_eq!(fits("ybar"), Some(true));
    assert_eq!(fits("Ixx"), Some(false));
    assert_eq!(fits("area"), Some(false));
    assert!(found.first().is_some_and(|one| one.fits));
}

#[test]
fn words_of_a_limit() {
    let material = "material m\n    limit tension <= 165 MPa ";
    check(
        &format!("{material}‸"),
        &["for thickness up to"],
        &["under"],
    );
    check(&format!("{material}for ‸"), &["thickness up to"], &["sqrt"]);
    check(&format!("{material}for thickness ‸"), &["up to"], &["sqrt"]);
    check(
        "beam b of s\n    limit deflection ‸",
        &["sideways", "on span"],
        &["sqrt"],
    );
    check(
        "beam b of s\n    limit reaction ‸",
        &["at"],
        &["sqrt", "sideways"],
    );
    check(
        "beam b of s\n    limit deflection <= span ‸",
        &["under", "span"],
        &["for thickness up to"],
    );
}

#[test]
fn whole_blocks_have_places_to_fill_in() {
    let opened = open("bea‸");
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor).items;
    let block = found
        .iter()
        .find(|one| one.text == "beam" && !one.template.is_empty());
    let pieces = &block.expect("a template").template;
    assert!(
        pieces
            .iter()
            .any(|piece| matches!(piece, haunch_ide::Piece::Hole(hole) if hole == "length"))
    );
    // With the holes filled in by themselves it reads without a mistake of form.
    let text: String = pieces
        .iter()
        .map(|piece| match piece {
            haunch_ide::Piece::Words(words) | haunch_ide::Piece::Hole(words) => words.as_str(),
        })
        .collect();
    let text = text
        .replace("= length", "= 3 m")
        .replace("case force", "live 2 kN");
    let read = open(&format!(
        "{text}\nsection section\n    rect f 60 x 100 mm\nmaterial material\n"
    ));
    let codes: Vec<_> = read
        .snapshot
        .findings(read.file)
        .into_iter()
        .map(|one| one.code.name)
        .collect();
    assert!(
        !codes
            .iter()
            .any(|code| code.starts_with("un") && !code.starts_with("unlikely")),
        "{codes:?}"
    );
}

#[test]
fn names_of_used_files_with_what_they_are() {
    let opened = open(
        "=== main.haunch\nuse \"p.haunch\" as p\na = 2*‸\n=== p.haunch\nthick = 8 mm\nwide = thick*3 [mm]\n",
    );
    let found = haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor).items;
    let wide = found
        .iter()
        .find(|one| one.text == "p.wide")
        .expect("it is proposed");
    assert_eq!(wide.detail, "24.00 mm");
    let words = haunch_ide::describe(&opened.snapshot, &wide.about).expect("a description");
    assert!(words.contains("8 mm * 3"), "{words}");
}

/// A file of very many names, half of them lengths and half forces, and then a line with the cursor.
fn long_file(last: &str) -> haunch_ide::Completions {
    let pair = |number| format!("long_{number} = {number} mm\nheavy_{number} = {number} kN\n");
    let names: String = (1..=1_000).map(pair).collect();
    let opened = open(&(names + last));
    haunch_ide::completions(&opened.snapshot, opened.file, opened.cursor)
}

#[test]
fn of_very_many_names_the_likeliest_are_offered() {
    let found = long_file("x = ‸");
    assert!(!found.is_whole);
    assert_eq!(found.items.len(), haunch_ide::MOST_OFFERED);
    let texts: Vec<&str> = found.items.iter().map(|item| item.text.as_str()).collect();
    assert!(texts.contains(&"sqrt"), "what belongs to the notation");
    assert!(texts.contains(&"heavy_1000"), "what stands near above");
    assert!(!texts.contains(&"heavy_1"), "what stands far away");

    let found = long_file("x = long_1 + ‸");
    let fitting = found.items.iter().filter(|item| item.fits).count();
    assert!(fitting > 250, "lengths come before forces: {fitting}");
    assert_eq!(found.items[0].text, "long_1000", "{:?}", found.items[0]);
}

#[test]
fn the_letters_typed_choose_among_very_many_names() {
    let found = long_file("x = VY_77‸");
    let texts: Vec<&str> = found.items.iter().map(|item| item.text.as_str()).collect();
    assert!(!found.is_whole, "another letter less may bring others");
    assert!(
        texts.contains(&"heavy_77") && texts.contains(&"heavy_977"),
        "{texts:?}"
    );
    assert!(
        texts.iter().all(|text| text.matches('7').count() >= 2),
        "{texts:?}"
    );
    let detail = |item: &haunch_ide::Completion| item.detail.clone();
    let shown = found
        .items
        .iter()
        .find(|item| item.text == "heavy_77")
        .map(detail);
    assert_eq!(shown.as_deref(), Some("77.00 kN"));
}

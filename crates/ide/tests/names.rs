//! Where a name stands, and giving it another.

mod support;

use haunch_ide::{highlights, item_at, prepare_rename, references, rename, used_by_item};
use haunch_ide::{type_definition, users_of_item};
use support::{Opened, open};

/// The cursor's name stands exactly where the fixture has its marks.
#[track_caller]
fn check_references(fixture: &str) {
    let opened = open(fixture);
    let found = references(&opened.snapshot, opened.file, opened.cursor);
    let mut ranges: Vec<_> = found.iter().map(|reference| reference.range).collect();
    let mut marks = opened.marks.clone();
    ranges.sort();
    marks.sort();
    assert_eq!(ranges, marks);
    for reference in &found {
        let again = references(&opened.snapshot, reference.file, reference.range.start);
        assert_eq!(again, found, "from every place the same places are found");
    }
}

/// The texts of the files after the cursor's name was changed, in order.
#[track_caller]
fn renamed(fixture: &str, new: &str) -> Result<Vec<String>, String> {
    let opened = open(fixture);
    prepare_rename(&opened.snapshot, opened.file, opened.cursor)?;
    let edits = rename(&opened.snapshot, opened.file, opened.cursor, new)?;
    let after = opened.snapshot.after(&edits);
    Ok(after
        .files()
        .into_iter()
        .map(|file| after.text(file))
        .collect())
}

#[track_caller]
fn refused(fixture: &str, new: &str, reason: &str) {
    let said = renamed(fixture, new).expect_err("it is refused");
    assert!(said.contains(reason), "{said}");
}

#[test]
fn a_value_is_found_in_formulas_and_allowances() {
    check_references("«b» = 2 mm\na = «b»*«‸b» + 2*«b»^2/«b»  [mm]\nallow unused-value for «b»\n");
    check_references("«ȳ₁» = 1 m\nσ = «ȳ₁»‸ + 1 m\nȳ = 3 m\n");
}

#[test]
fn a_value_is_found_in_the_files_that_use_its_file() {
    check_references(
        "=== main.haunch\nuse \"p.haunch\" as p\na = p.«t»*2\nt = 3 m\nb = t\n=== p.haunch\n«t‸» = 8 mm\nu = «t»\n",
    );
    check_references("use \"p.haunch\" as «p»\na = «p»‸.t\nb = «p».u\n");
}

#[test]
fn an_argument_is_known_in_its_formula_only() {
    check_references("f(«x», y) = «‸x»*y + «x»^2 [mm^2]\nx = 3 mm\na = f(x, x)\n");
}

#[test]
fn only_an_argument_is_edited_wherever_it_stands() {
    let opened = open("f(«x», y) = «‸x»*y + «x»^2 [mm^2]\nx = 3 mm\na = f(x, x)\n");
    assert_eq!(
        haunch_ide::linked(&opened.snapshot, opened.file, opened.cursor),
        opened.marks
    );
    let opened = open("x‸ = 3 mm\na = x\n");
    assert!(haunch_ide::linked(&opened.snapshot, opened.file, opened.cursor).is_empty());
}

#[test]
fn names_of_a_section_are_found_in_it_and_from_outside() {
    let section = "section s\n    rect «f‸» 10 x 10 mm\n    rect w 5 x 20 mm above «f» centred on «f»\n    point A at top of «f»\n";
    check_references(&format!("{section}a = s.«f».area + s.«f».width^2\n"));
    check_references(
        "=== main.haunch\nuse \"s.haunch\" as q\na = q.s.«f».area\n=== s.haunch\nsection s\n    rect «‸f» 10 x 10 mm\n",
    );
}

#[test]
fn names_of_a_beam_are_found_in_it_and_in_searches() {
    check_references(
        "section s\n    rect f 10 x 10 mm\nbeam b of s\n    length = 3 m\n    load «dead» 1 kN at middle\n    load «dead» 2 kN at 1 m\n    combination all = 1.35*«dead»\nP = largest «dead‸» of b [kN]\n",
    );
    check_references(
        "section s\n    rect f 10 x 10 mm\nbeam b of s\n    length = 3 m\n    load dead 1 kN at middle\n    combination «all» = 1.35*dead\n    limit deflection <= span/300 under «all»\nP = largest dead of b under «all‸» [kN]\nm = b.«all».M_max\n",
    );
    check_references(
        "section s\n    rect f 10 x 10 mm\nbeam b of s\n    length = 3 m\n    support pin at start as «north‸»\n    support roller at end\n    load dead 1 kN at middle\nR = b.«north»\n",
    );
}

#[test]
fn a_point_is_found_in_the_calls_of_a_beam() {
    check_references(
        "section s\n    rect f 10 x 10 mm\n    point «A‸» at top\nbeam b of s\n    length = 3 m\n    load dead 1 kN at middle\na = b.stress(«A», 1 m)\nA = 3 m\n",
    );
}

#[test]
fn a_result_is_found_by_its_block() {
    check_references(
        "section s\n    rect f 10 x 10 mm\nsection t\n    rect f 10 x 10 mm\na = s.«ybar‸» + s.«ybar» + t.ybar\n",
    );
}

#[test]
fn highlights_stay_in_the_file() {
    let opened = open(
        "=== main.haunch\nuse \"p.haunch\" as p\na = p.t\n=== p.haunch\n«t‸» = 8 mm\nu = «t»\n",
    );
    let found = highlights(&opened.snapshot, opened.file, opened.cursor);
    let ranges: Vec<_> = found.iter().map(|found| found.range).collect();
    assert_eq!(ranges, opened.marks);
    assert_eq!(found.iter().filter(|found| found.is_definition).count(), 1);
}

#[test]
fn a_new_name_stands_everywhere() {
    assert_eq!(
        renamed("b = 2 mm\r\na = ‸b*2 + b\r\n", "breadth").unwrap(),
        ["breadth = 2 mm\r\na = breadth*2 + breadth\r\n"]
    );
    assert_eq!(
        renamed(
            "=== main.haunch\nuse \"p.haunch\" as p\na = p.t‸\n=== p.haunch\nt = 8 mm\n",
            "𝜎"
        )
        .unwrap(),
        ["use \"p.haunch\" as p\na = p.𝜎\n", "𝜎 = 8 mm\n"]
    );
    assert_eq!(
        renamed("use \"p.haunch\"\na = p‸.t\n", "plates").unwrap(),
        ["use \"p.haunch\" as plates\na = plates.t\n"]
    );
    assert_eq!(
        renamed("section s\n    rect f 10 x 10 mm\n    point A‸ at top\nforces q on s\n    M = 3 kN*m sagging\na = q.stress(A)\n", "top_edge").unwrap(),
        ["section s\n    rect f 10 x 10 mm\n    point top_edge at top\nforces q on s\n    M = 3 kN*m sagging\na = q.stress(top_edge)\n"]
    );
}

#[test]
fn what_has_no_name_of_its_own_keeps_it() {
    refused("a = sqrt‸(3 m^2)\n", "root", "belongs to the notation");
    refused(
        "section s\n    rect f 10 x 10 mm\na = s.ybar‸\n",
        "y",
        "result of s",
    );
    refused("material m\n    E‸ = 200 GPa\n", "stiffness", "field");
    refused("a = b‸*2\n", "c", "Nothing gives this name");
    refused("a = 1 m\na‸ = 2 m\n", "c", "in 2 places");
    refused("a = 1 m ‸  # words\n", "c", "no name here");
}

#[test]
fn a_name_that_is_taken_or_no_name_is_refused() {
    let two = "a‸ = 1 m\nb = a + 2 m\n";
    refused(two, "b", "line 2");
    refused(two, "if", "cannot be a name");
    refused(two, "2a", "cannot be a name");
    refused(two, "a b", "cannot be a name");
    refused(two, "", "cannot be a name");
    refused(two, "a ", "cannot be a name");
    refused(two, "sqrt", "meaning of its own");
    refused(two, "pi", "meaning of its own");
}

#[test]
fn a_name_that_would_change_what_another_line_means_is_refused() {
    // `3 kN/m` could then be a division by the value.
    refused("a‸ = 1 m\nb = 3 kN/m*a\n", "m", "something else");
    // An argument of that name would take its place.
    refused(
        "a‸ = 1 m\nf(x) = x + a [mm]\nb = f(2 m)\n",
        "x",
        "something else",
    );
    // `span` in a limit is the beam's own.
    refused(
        "section s\n    rect f 10 x 10 mm\nlong‸ = 3 m\nbeam b of s\n    length = 3 m\n    load dead 1 kN at middle\n    limit deflection <= long/300\n",
        "span",
        "something else",
    );
    // A name that nothing gave would suddenly have a value.
    refused("a‸ = 1 m\nb = a + c\n", "c", "something else");
}

#[track_caller]
fn names(uses: Vec<haunch_ide::Use>) -> Vec<String> {
    uses.into_iter()
        .map(|one| format!("{} x{}", one.item.name, one.ranges.len()))
        .collect()
}

fn item(opened: &Opened) -> haunch_ide::Item {
    item_at(&opened.snapshot, opened.file, opened.cursor).expect("an item")
}

#[test]
fn what_a_value_uses_and_what_uses_it() {
    let opened = open(
        "b = 2 mm\nsection s\n    rect f b x b\na‸ = b*b*s.area/s.f.width\nc = a + 1 mm^2\nverify a <= 3 mm^3\n",
    );
    let a = item(&opened);
    assert_eq!(a.name, "a");
    assert_eq!(
        names(used_by_item(&opened.snapshot, a.line)),
        ["b x2", "s x5"]
    );
    assert_eq!(
        names(users_of_item(&opened.snapshot, a.line)),
        ["c x1", "verify a <= 3 mm^3 x1"]
    );
    let opened = open("b‸ = 2 mm\nsection s\n    rect f b x b\na = b\n");
    assert_eq!(
        names(users_of_item(&opened.snapshot, item(&opened).line)),
        ["s x2", "a x1"]
    );
}

#[track_caller]
fn check_type_definition(fixture: &str) {
    let opened = open(fixture);
    let target = type_definition(&opened.snapshot, opened.file, opened.cursor).expect("a place");
    assert_eq!([target.range], opened.marks.as_slice());
}

#[test]
fn a_dimension_is_declared_by_brackets_or_a_unit() {
    check_type_definition("a = b*c «[mm^2]»\nb = 1 mm\nc = 2 mm\nd = ‸a\n");
    check_type_definition("f(x) = x*2 «[any length]»\na = f‸(3 mm)\n");
    check_type_definition("b = 12 «kN/m»\na = ‸b\n");
    check_type_definition("b = 12 kN\na = «b*2»\nc = a‸\n");
}

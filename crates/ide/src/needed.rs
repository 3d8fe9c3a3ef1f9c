//! What names without a definition, or with a broken one, and the arguments of formulas have to be: in words
//! for hovers.

use haunch_calc::{FileId, Inferred, Kind, LineView, Meaning, Needs, Snapshot};
use haunch_syntax::Statement;
use haunch_text::Span;
use smol_str::SmolStr;

/// How many lines that use a name are looked at.
const MOST_LINES: usize = 100;
/// How many lines are named.
const MOST_NAMED: usize = 4;

/// What the line itself says of an unknown name.
pub(crate) fn of_use(
    snapshot: &Snapshot,
    line: LineView<'_>,
    names: &[SmolStr],
    place: Span,
) -> Option<String> {
    let full = names.join(".");
    let is_it = |own: &Inferred| {
        let called = own.name.split('(').next().unwrap_or_default();
        let covers = |span: &Span| span.start <= place.start && place.end <= span.end;
        own.name == full || called == full && own.spans.iter().any(covers)
    };
    let inferred = snapshot.inferred(line.id());
    inferred.iter().find(|own| is_it(own))?.in_words()
}

/// What the lines that use a name say of it together, for a name whose definition tells nothing. Lines are
/// compared, and none is drawn into another.
pub(crate) fn by_uses(snapshot: &Snapshot, defining: LineView<'_>) -> Option<String> {
    let tells_nothing = match defining.meaning() {
        Meaning::Value(named) => named.evaluated.kind == Kind::Unknown,
        Meaning::Nothing => true,
        _ => false,
    };
    let name = defining.tree().statement.given_name();
    let name = &name
        .filter(|_| tells_nothing && defining.owner().is_none())?
        .text;
    of_uses(snapshot, snapshot.file_of(defining.id())?, name)
}

fn of_uses(snapshot: &Snapshot, file: FileId, name: &SmolStr) -> Option<String> {
    let mut found: Vec<(String, Vec<usize>)> = Vec::new();
    for line in snapshot.naming(file, name).into_iter().take(MOST_LINES) {
        if snapshot.file_of(line) != Some(file) {
            continue;
        }
        let inferred = snapshot.inferred(line);
        let told = inferred.iter().find(|own| own.name == *name);
        let Some(dimension) = told.and_then(|own| own.needs.dimension()) else {
            continue;
        };
        let number = snapshot.first_physical(line)? + 1;
        let words = dimension.describe_with_article();
        match found.iter_mut().find(|(known, _)| *known == words) {
            Some((_, numbers)) => numbers.push(number),
            None => found.push((words, vec![number])),
        }
    }
    match found.as_slice() {
        [] => None,
        [(words, numbers)] => Some(format!(
            "As it is used in {}, it has to be {words}.",
            lines(numbers)
        )),
        several => {
            let each: Vec<String> = several
                .iter()
                .map(|(words, numbers)| format!("{words} in {}", lines(numbers)))
                .collect();
            Some(format!(
                "Its uses ask for different things: {}.",
                each.join("; ")
            ))
        }
    }
}

fn lines(numbers: &[usize]) -> String {
    let named: Vec<String> = numbers
        .iter()
        .take(MOST_NAMED)
        .map(ToString::to_string)
        .collect();
    let more = numbers.len() - named.len();
    match (named.as_slice(), more) {
        ([only], 0) => format!("line {only}"),
        ([before @ .., last], 0) => format!("lines {} and {last}", before.join(", ")),
        (_, more) => format!("lines {} and {more} more", named.join(", ")),
    }
}

/// What a formula asks of its arguments, one to a line.
pub(crate) fn of_arguments(snapshot: &Snapshot, line: LineView<'_>) -> Option<String> {
    let Statement::Formula(formula) = &line.tree().statement else {
        return None;
    };
    let inferred = snapshot.inferred(line.id());
    let mut told: Vec<String> = Vec::new();
    for parameter in &formula.parameters {
        let own = inferred.iter().find(|own| own.name == parameter.text)?;
        let words = of_argument(own);
        if !told.contains(&words) {
            told.push(words);
        }
    }
    (!told.is_empty()).then(|| told.join("\n\n"))
}

/// What is asked of one argument.
pub(crate) fn of_argument(own: &Inferred) -> String {
    let name = &own.name;
    match &own.needs {
        Needs::Dimension(dimension) => format!("`{name}`: {}", dimension.describe_with_article()),
        Needs::Truth => format!("`{name}`: true or false"),
        Needs::Like(other) => {
            let mut both = [name, other];
            both.sort();
            format!("`{}` and `{}`: of one dimension", both[0], both[1])
        }
        Needs::Product(product, dimension) => {
            format!("`{product}`: {}", dimension.describe_with_article())
        }
        Needs::Contradiction => format!("`{name}`: nothing fits, see the findings"),
        Needs::Nothing => format!("`{name}`: of any dimension"),
    }
}

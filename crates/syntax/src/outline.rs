//! A compact written form of a tree, for tests and for looking at what a line was read as.

use std::cell::Cell;
use std::fmt::Write;

use crate::tree::*;

impl Tree {
    /// The tree on one line, as nested lists: `(= ybar (/ A1 2 mm) [mm])`. A broken line shows its
    /// keyword, name and paths. Spans, comments and errors are left out.
    pub fn outline(&self) -> String {
        let mut written = Vec::with_capacity(self.expressions.len());
        for expression in &self.expressions {
            let text = node(&expression.kind, &written);
            written.push(Cell::new(text));
        }
        statement(&self.statement, &written)
    }
}

/// What was written of each expression; taken once, by its parent.
type Written<'a> = &'a [Cell<String>];

fn at(written: Written, id: ExpressionId) -> String {
    written
        .get(id.0 as usize)
        .map(Cell::take)
        .unwrap_or_default()
}

fn all(written: Written, ids: &[ExpressionId]) -> String {
    let texts: Vec<String> = ids.iter().map(|&id| at(written, id)).collect();
    texts.join(" ")
}

fn node(kind: &ExpressionKind, written: Written) -> String {
    match kind {
        ExpressionKind::Literal(literal) => {
            let parts: Vec<String> = literal.parts.iter().map(part).collect();
            parts.join(" ")
        }
        ExpressionKind::Path(path) => {
            let name = dotted(path);
            match &path.arguments {
                None => name,
                Some(arguments) => format!("({name} {})", all(written, arguments)),
            }
        }
        ExpressionKind::Negate(inner) => format!("(- {})", at(written, *inner)),
        ExpressionKind::Not(inner) => format!("(not {})", at(written, *inner)),
        ExpressionKind::Group(inner) => format!("(group {})", at(written, *inner)),
        ExpressionKind::Binary {
            operator,
            left,
            right,
            ..
        } => {
            let operator = match operator {
                BinaryOperator::Add => "+",
                BinaryOperator::Subtract => "-",
                BinaryOperator::Multiply => "*",
                BinaryOperator::Divide => "/",
                BinaryOperator::Power => "^",
                BinaryOperator::And => "and",
                BinaryOperator::Or => "or",
            };
            format!(
                "({operator} {} {})",
                at(written, *left),
                at(written, *right)
            )
        }
        ExpressionKind::Compare {
            relation: sign,
            left,
            right,
            ..
        } => format!(
            "({} {} {})",
            relation(*sign),
            at(written, *left),
            at(written, *right)
        ),
        ExpressionKind::Superscript { base, exponent, .. } => {
            format!("(power {} {exponent})", at(written, *base))
        }
        ExpressionKind::Choice {
            condition,
            then,
            otherwise,
        } => format!("(if {})", all(written, &[*condition, *then, *otherwise])),
    }
}

fn relation(relation: Relation) -> &'static str {
    match relation {
        Relation::Less => "<",
        Relation::LessOrEqual => "<=",
        Relation::Greater => ">",
        Relation::GreaterOrEqual => ">=",
    }
}

/// `{12 kN}`, `{3 1/2 in}`; the later words of the unit follow a colon.
fn part(part: &LiteralPart) -> String {
    let mut text = match &part.number {
        Number::Decimal(number) => number.to_string(),
        Number::Fraction {
            whole,
            numerator,
            denominator,
        } => match whole {
            Some(whole) => format!("{whole}+{numerator}/{denominator}"),
            None => format!("{numerator}/{denominator}"),
        },
    };
    if let Some(unit) = &part.unit {
        let _ = write!(text, " {}", unit.text);
        for word in &unit.later_words {
            let _ = write!(text, ":{}", word.text);
        }
        text = format!("{{{text}}}");
    }
    text
}

fn dotted(path: &Path) -> String {
    let names: Vec<&str> = path.names.iter().map(|name| name.text.as_str()).collect();
    names.join(".")
}

/// A list of words that are there, in parentheses.
fn form<const N: usize>(items: [Option<String>; N]) -> String {
    let items: Vec<String> = items.into_iter().flatten().collect();
    format!("({})", items.join(" "))
}

fn text(text: impl ToString) -> Option<String> {
    Some(text.to_string())
}

fn labelled(label: &str, name: &Option<Name>) -> Option<String> {
    name.as_ref().map(|name| format!("{label}:{}", name.text))
}

fn sense(sense: &Option<(Sense, haunch_text::Span)>) -> Option<String> {
    sense.map(|(sense, _)| format!("{sense:?}").to_lowercase())
}

fn shown(shown: &Option<Shown>) -> Option<String> {
    shown.as_ref().map(|shown| match &shown.kind {
        ShownKind::Unit(unit) => format!("[{}]", unit.text),
        ShownKind::Any(words) => format!("[any {}]", words.text),
    })
}

fn statement(statement: &Statement, written: Written) -> String {
    let value = |id: &ExpressionId| at(written, *id);
    match statement {
        Statement::Empty => "()".to_owned(),
        Statement::Value(v) => form([
            text("="),
            text(&v.name.text),
            Some(match &v.body {
                ValueBody::Expression(id) => value(id),
                ValueBody::Text(words) => format!("{:?}", words.text),
                ValueBody::List(ids) => format!("(list {})", all(written, ids)),
                ValueBody::Search(search) => form([
                    text(format!("{:?}", search.direction).to_lowercase()),
                    text(&search.subject.text),
                    text(dotted(&search.block)),
                    labelled("under", &search.under),
                ]),
                ValueBody::Sizing(sizing) => form([
                    text(format!("{:?}", sizing.direction).to_lowercase()),
                    text(value(&sizing.from)),
                    text(value(&sizing.to)),
                    text(value(&sizing.step)),
                    text(dotted(&sizing.block)),
                ]),
            }),
            sense(&v.sense),
            shown(&v.shown),
        ]),
        Statement::Formula(f) => {
            let names: Vec<&str> = f.parameters.iter().map(|name| name.text.as_str()).collect();
            form([
                text("formula"),
                text(format!("({} {})", f.name.text, names.join(" "))),
                text(value(&f.body)),
                shown(&f.shown),
            ])
        }
        Statement::Heading(h) => form([
            text(format!("{:?}", h.kind).to_lowercase()),
            h.name.as_ref().map(|name| name.text.to_string()),
            h.of.as_ref().map(|of| format!("of:{}", dotted(of))),
        ]),
        Statement::Note(_) => "(note)".to_owned(),
        Statement::ResultsIn(results) => {
            let units: Vec<&str> = results
                .units
                .iter()
                .map(|unit| unit.text.as_str())
                .collect();
            form([
                text("results"),
                text(units.join(" ")),
                labelled("digits", &results.digits),
            ])
        }
        Statement::Use(u) => form([
            text("use"),
            text(format!("{:?}", u.path.text)),
            labelled("as", &u.alias),
        ]),
        Statement::Allow(allow) => form([
            text("allow"),
            text(&allow.code.text),
            labelled("for", &allow.target),
        ]),
        Statement::Verify(id) => form([text("verify"), text(value(id))]),
        Statement::Expect(e) => form([
            text("expect"),
            text(value(&e.actual)),
            text(value(&e.expected)),
            e.tolerance
                .as_ref()
                .map(|id| format!("within:{}", value(id))),
        ]),
        Statement::Answer(a) => form([
            text("answer"),
            text(value(&a.value)),
            a.words.as_ref().map(|words| format!("{:?}", words.text)),
        ]),
        Statement::Limit(l) => form([
            text("limit"),
            text(&l.subject.text),
            l.sideways.and_then(|_| text("sideways")),
            match &l.place {
                LimitPlace::Everywhere => None,
                LimitPlace::Support(name) => Some(format!("at:{}", name.text)),
                LimitPlace::At(p) => Some(format!("at:{}", position(p, written))),
                LimitPlace::Span(number) => Some(format!("span:{}", number.text)),
            },
            text(relation(l.relation)),
            text(value(&l.bound)),
            l.up_to
                .as_ref()
                .map(|id| format!("thickness:{}", value(id))),
            labelled("under", &l.under),
        ]),
        Statement::Part(part) => form([
            text(if part.deduct.is_some() {
                "deduct"
            } else {
                "part"
            }),
            text(format!("{:?}", part.shape.text)),
            text(&part.name.text),
            part.designation
                .as_ref()
                .map(|designation| format!("{:?}", designation.text)),
            (!part.sizes.is_empty()).then(|| format!("(sizes {})", all(written, &part.sizes))),
            each(part.details.iter().map(|own| detail(own, written))),
            place(&part.place, written),
            each(part.turns.iter().map(|own| turn(own, written))),
            part.of.as_ref().map(|of| format!("of:{}", dotted(of))),
        ]),
        Statement::Point(p) => form([
            text("point"),
            text(&p.name.text),
            Some(match &p.place {
                PointPlace::At { x, y, .. } => format!("(at {} {})", value(x), value(y)),
                PointPlace::Edges {
                    vertical,
                    horizontal,
                    ..
                } => {
                    let edges: Vec<String> = [vertical, horizontal]
                        .into_iter()
                        .flatten()
                        .map(|edge| format!("{edge:?}").to_lowercase())
                        .collect();
                    edges.join("-")
                }
            }),
            labelled("of", &p.of),
        ]),
        Statement::Support(s) => form([
            text("support"),
            text(&s.kind.text),
            s.stiffness.as_ref().map(value),
            s.sideways.and_then(|_| text("sideways")),
            text(position(&s.at, written)),
            labelled("as", &s.name),
        ]),
        Statement::Hinge(p) => form([text("hinge"), text(position(p, written))]),
        Statement::SectionStretch(s) => form([
            text("section"),
            text(dotted(&s.section)),
            Some(format!(
                "from:{} to:{}",
                position(&s.from, written),
                position(&s.to, written)
            )),
        ]),
        Statement::Load(l) => form([
            text("load"),
            text(&l.case.text),
            Some(match &l.kind {
                LoadKind::Quantity(id) => value(id),
                LoadKind::Varying(a, b) => format!("(to {} {})", value(a), value(b)),
                LoadKind::SelfWeight(_) => "self-weight".to_owned(),
                LoadKind::Wheels(all) => {
                    let all: Vec<String> = all.iter().map(value).collect();
                    format!("(wheels {})", all.join(" "))
                }
            }),
            sense(&l.sense),
            match &l.place {
                LoadPlace::Unsaid => None,
                LoadPlace::At(p) => Some(format!("at:{}", position(p, written))),
                LoadPlace::Throughout(_) => text("throughout"),
                LoadPlace::Stretch(a, b) => Some(format!(
                    "from:{} to:{}",
                    position(a, written),
                    position(b, written)
                )),
                LoadPlace::Span(number) => Some(format!("span:{}", number.text)),
                LoadPlace::AnySpans(_) => text("any-spans"),
                LoadPlace::Moving {
                    distances, one_way, ..
                } => {
                    let at = distances.iter();
                    let at = at.map(|p| format!("at:{} ", position(p, written)));
                    let way = if one_way.is_some() { " one-way" } else { "" };
                    Some(format!("{}moving{way}", at.collect::<String>()))
                }
            },
            l.up.map(|_| "up".to_owned()),
            l.sideways.map(|(way, _)| {
                let word = match way {
                    Sideways::Left => "leftwards",
                    Sideways::Right => "rightwards",
                };
                word.to_owned()
            }),
            l.tributary
                .as_ref()
                .map(|id| format!("tributary:{}", value(id))),
        ]),
        Statement::Combination(c) => {
            form([text("combination"), text(&c.name.text), text(value(&c.sum))])
        }
        Statement::Broken {
            keyword,
            name,
            paths,
        } => {
            let paths: Vec<String> = paths.iter().map(dotted).collect();
            form([
                text("broken"),
                labelled("keyword", keyword),
                labelled("name", name),
                (!paths.is_empty()).then(|| format!("(paths {})", paths.join(" "))),
            ])
        }
    }
}

/// The items one after the other; none where there are none.
fn each(items: impl Iterator<Item = String>) -> Option<String> {
    let items: Vec<String> = items.collect();
    (!items.is_empty()).then(|| items.join(" "))
}

fn detail(detail: &PartDetail, written: Written) -> String {
    format!("({} {})", detail.word.text, all(written, &detail.sizes))
}

fn turn(turn: &PartTurn, written: Written) -> String {
    match turn {
        PartTurn::Turned(by, _) => format!("(turned {})", at(written, *by)),
        PartTurn::Sideways(_) => "(mirrored sideways)".to_owned(),
        PartTurn::UpsideDown(_) => "(mirrored upside-down)".to_owned(),
    }
}

fn place(place: &PartPlace, written: Written) -> Option<String> {
    match place {
        PartPlace::Unplaced => None,
        PartPlace::At { x, y, .. } => Some(format!("(at {} {})", at(written, *x), at(written, *y))),
        PartPlace::Relative {
            relation,
            on,
            adjustments,
            ..
        } => {
            let mut text = format!("({} {}", format!("{relation:?}").to_lowercase(), on.text);
            for adjustment in adjustments {
                let _ = match adjustment {
                    Adjustment::CentredOn(name) => write!(text, " centred:{}", name.text),
                    Adjustment::Flush(edge, _) => {
                        write!(text, " flush:{}", format!("{edge:?}").to_lowercase())
                    }
                    Adjustment::Inset(by, _) => write!(text, " inset:{}", at(written, *by)),
                };
            }
            text.push(')');
            Some(text)
        }
    }
}

fn position(position: &Position, written: Written) -> String {
    match position.kind {
        PositionKind::Start => "start".to_owned(),
        PositionKind::Middle => "middle".to_owned(),
        PositionKind::End => "end".to_owned(),
        PositionKind::Distance(id) => at(written, id),
    }
}

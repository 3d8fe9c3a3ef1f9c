//! A line of an `expect` block.

/// What a line expects.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Expectation {
    /// `rail.ybar = 41.21 mm`
    Value {
        /// The full name.
        name: String,
        /// Number and unit as written.
        number: String,
    },
    /// `ok is true`
    Truth {
        /// The full name.
        name: String,
        /// Which of both.
        truth: bool,
    },
    /// `shows rail.ybar "41.21 mm"`
    Shows {
        /// The full name.
        name: String,
        /// The whole text.
        text: String,
    },
    /// `unknown P`: the name that has no value.
    Unknown(String),
    /// `check hoist.tension holds 0.412 under strength at top`; a name with spaces stands in quotes.
    Check {
        /// The check's name.
        name: String,
        /// `holds`, `fails`, or none for `unknown`.
        holds: Option<bool>,
        /// The utilisation as written.
        utilisation: Option<String>,
        /// The combination, place or point that govern.
        governing: Vec<String>,
    },
    /// `prints "87.3 %"`: words of the text form.
    Prints(String),
    /// `answer P`: a name that is an answer of the text form.
    Answer(String),
    /// `finding unit-mismatch at "y1 + y2" warning`
    Finding {
        /// The code.
        code: String,
        /// The text that is marked.
        at: Option<String>,
        /// `error` where nothing is said.
        severity: String,
    },
    /// `says "divide by"`: words of the finding above.
    Says(String),
    /// `repair "ybar = …"`: the line after the first repair of the finding above.
    Repair(String),
}

/// Reads a line; what follows ` # ` is for people.
pub fn read(line: &str) -> Result<Expectation, String> {
    let line = line.split(" # ").next().unwrap_or(line).trim();
    let (word, rest) = line
        .split_once(' ')
        .ok_or_else(|| format!("`{line}` says too little"))?;
    let rest = rest.trim();
    match word {
        "unknown" => Ok(Expectation::Unknown(rest.to_string())),
        "answer" => Ok(Expectation::Answer(rest.to_string())),
        "check" => check(rest),
        "finding" => finding(rest),
        "says" => Ok(Expectation::Says(quoted(rest)?.0)),
        "prints" => Ok(Expectation::Prints(quoted(rest)?.0)),
        "repair" => Ok(Expectation::Repair(quoted(rest)?.0)),
        "shows" => {
            let (name, text) = rest.split_once(' ').ok_or("`shows NAME \"text\"`")?;
            Ok(Expectation::Shows {
                name: name.to_string(),
                text: quoted(text)?.0,
            })
        }
        name => value(name, rest),
    }
}

fn value(name: &str, rest: &str) -> Result<Expectation, String> {
    let name = name.to_string();
    match rest.split_once(' ') {
        Some(("=", number)) => Ok(Expectation::Value {
            name,
            number: number.trim().to_string(),
        }),
        Some(("is", "true")) => Ok(Expectation::Truth { name, truth: true }),
        Some(("is", "false")) => Ok(Expectation::Truth { name, truth: false }),
        _ => Err(format!("`{name} {rest}` is no expectation")),
    }
}

fn check(rest: &str) -> Result<Expectation, String> {
    let (name, rest) = if rest.starts_with('"') {
        quoted(rest)?
    } else {
        let (name, rest) = rest.split_once(' ').unwrap_or((rest, ""));
        (name.to_string(), rest)
    };
    let mut words = rest.split_whitespace();
    let holds = match words.next() {
        Some("holds") => Some(true),
        Some("fails") => Some(false),
        Some("unknown") => None,
        _ => return Err(format!("`check {rest}`: holds, fails or unknown?")),
    };
    let rest: Vec<&str> = words.collect();
    let (utilisation, rest) = match rest.split_first() {
        Some((first, rest)) if first.parse::<f64>().is_ok() => (Some((*first).to_string()), rest),
        _ => (None, rest.as_slice()),
    };
    let mut governing = Vec::new();
    for pair in rest.chunks(2) {
        match pair {
            ["under" | "at", word] => governing.push((*word).to_string()),
            other => return Err(format!("`{}` after a check", other.join(" "))),
        }
    }
    Ok(Expectation::Check {
        name,
        holds,
        utilisation,
        governing,
    })
}

fn finding(rest: &str) -> Result<Expectation, String> {
    let (code, rest) = rest.split_once(' ').unwrap_or((rest, ""));
    let rest = rest.trim();
    let (at, rest) = match rest.strip_prefix("at ") {
        Some(rest) => quoted(rest).map(|(at, rest)| (Some(at), rest))?,
        None => (None, rest),
    };
    let severity = match rest.trim() {
        "" => "error",
        severity @ ("warning" | "information") => severity,
        other => return Err(format!("`{other}` is no severity")),
    };
    Ok(Expectation::Finding {
        code: code.to_string(),
        at,
        severity: severity.to_string(),
    })
}

/// The text between quotes (`\"` stands for a quote in it) and what follows.
fn quoted(text: &str) -> Result<(String, &str), String> {
    let rest = text
        .trim_start()
        .strip_prefix('"')
        .ok_or_else(|| format!("`{text}` has no quote"))?;
    let mut words = String::new();
    let mut escaped = false;
    for (index, character) in rest.char_indices() {
        match character {
            '\\' if !escaped => escaped = true,
            '"' if !escaped => return Ok((words, &rest[index + 1..])),
            other => {
                words.push(other);
                escaped = false;
            }
        }
    }
    Err(format!("`{text}` has no closing quote"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_read() {
        let value = Expectation::Value {
            name: "a.b".into(),
            number: "41.21 mm".into(),
        };
        assert_eq!(read("a.b = 41.21 mm   # A*y"), Ok(value));
        let check = Expectation::Check {
            name: "h.tension".into(),
            holds: Some(true),
            utilisation: Some("0.4".into()),
            governing: vec!["strength".into(), "top".into()],
        };
        let named = Expectation::Check {
            name: "a <= b".into(),
            holds: None,
            utilisation: None,
            governing: Vec::new(),
        };
        assert_eq!(read(r#"check "a <= b" unknown"#), Ok(named));
        assert_eq!(
            read("check h.tension holds 0.4 under strength at top"),
            Ok(check)
        );
        let finding = Expectation::Finding {
            code: "c-d".into(),
            at: Some("a \"b\"".into()),
            severity: "warning".into(),
        };
        assert_eq!(read(r#"finding c-d at "a \"b\"" warning"#), Ok(finding));
        assert!(
            read("nonsense here").is_err()
                && read("alone").is_err()
                && read("check x maybe").is_err()
        );
    }
}

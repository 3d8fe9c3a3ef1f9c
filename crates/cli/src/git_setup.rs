//! `haunch git-setup`: lets git show values where it shows changes, after saying what it will do.
//!
//! Two things are written: a line in the repository's `.gitattributes`, which is committed and tells git
//! which files are calculations, and a setting in the clone's own configuration, which names the program
//! (git reads no program names from a repository, for safety). `--undo` takes exactly these away.

use std::io::{BufRead, Write};
use std::path::Path;

use crate::git::{Repository, ask};
use crate::{HOLDS, NOT_DONE};

const ATTRIBUTE: &str = "*.haunch diff=haunch";
const SETTINGS: [(&str, &str); 2] = [
    ("diff.haunch.textconv", "haunch fill"),
    // A filled-in file is made again each time: it depends on the files that it uses.
    ("diff.haunch.cachetextconv", "false"),
];

/// Sets git up, or undoes it. Returns the exit status.
pub(crate) fn set_up(
    undo: bool,
    yes: bool,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    match run(undo, yes, input, out) {
        Ok(()) => HOLDS,
        Err(words) => {
            // With standard error closed there is nobody left to tell.
            let _ = writeln!(err, "haunch: {words}");
            NOT_DONE
        }
    }
}

fn run(undo: bool, yes: bool, input: &mut dyn BufRead, out: &mut dyn Write) -> Result<(), String> {
    let repository = Repository::around(Path::new("."))
        .map_err(|words| format!("this folder is in no git repository ({words})"))?;
    let attributes = repository.top.join(".gitattributes");
    let before = match std::fs::read_to_string(&attributes) {
        Ok(text) => text,
        Err(failure) if failure.kind() == std::io::ErrorKind::NotFound => String::new(),
        Err(failure) => return Err(format!(".gitattributes could not be read: {failure}")),
    };
    let after = if undo {
        without(&before)
    } else {
        with(&before)
    };
    let mut settings: Vec<(&str, Option<&str>)> = Vec::new();
    for (name, value) in SETTINGS {
        let is = ask(&repository.top, &["config", "--local", "--get", name]).ok();
        let is = is.map(|bytes| String::from_utf8_lossy(&bytes).trim_end().to_owned());
        match (undo, is.as_deref()) {
            (false, Some(is)) if is == value => {}
            (false, Some(is)) => {
                return Err(format!(
                    "{name} is set to `{is}` already; it was left alone"
                ));
            }
            (false, None) => settings.push((name, Some(value))),
            (true, Some(is)) if is == value => settings.push((name, None)),
            (true, _) => {}
        }
    }
    let mut plan = Vec::new();
    if after != before {
        plan.push(match undo {
            true => format!(
                "remove the line `{ATTRIBUTE}` from {}",
                attributes.display()
            ),
            false => format!("add the line `{ATTRIBUTE}` to {}", attributes.display()),
        });
    }
    plan.extend(settings.iter().map(|(name, value)| match value {
        Some(value) => format!("set {name} to `{value}` in this clone's git configuration"),
        None => format!("remove {name} from this clone's git configuration"),
    }));
    let told = |failure: std::io::Error| failure.to_string();
    if plan.is_empty() {
        let words = if undo {
            "nothing to undo"
        } else {
            "git is set up already"
        };
        return writeln!(out, "{words}").map_err(told);
    }
    writeln!(out, "haunch git-setup will").map_err(told)?;
    for step in &plan {
        writeln!(out, "  - {step}").map_err(told)?;
    }
    if !yes {
        write!(out, "Go on? [y/N] ")
            .and_then(|()| out.flush())
            .map_err(told)?;
        let mut answer = String::new();
        input.read_line(&mut answer).map_err(told)?;
        if !matches!(answer.trim(), "y" | "Y" | "yes") {
            return writeln!(out, "nothing was written").map_err(told);
        }
    }
    if after != before {
        let written = match after.is_empty() {
            true => std::fs::remove_file(&attributes),
            false => std::fs::write(&attributes, &after),
        };
        written.map_err(|failure| format!(".gitattributes was not written: {failure}"))?;
    }
    for (name, value) in settings {
        match value {
            Some(value) => ask(&repository.top, &["config", "--local", name, value])?,
            None => ask(&repository.top, &["config", "--local", "--unset", name])?,
        };
    }
    if undo {
        // The emptied part of the configuration; it stays where more is set in it.
        let left = ask(
            &repository.top,
            &["config", "--local", "--get-regexp", r"^diff\.haunch\."],
        );
        if left.is_err() {
            let _ = ask(
                &repository.top,
                &["config", "--local", "--remove-section", "diff.haunch"],
            );
        }
    }
    let words = match undo {
        true => "done; git shows calculations as plain text",
        false => "done; git diff, git log -p and git show show values beside the lines",
    };
    writeln!(out, "{words}").map_err(told)
}

fn with(text: &str) -> String {
    if text.lines().any(|line| line.trim() == ATTRIBUTE) {
        return text.to_owned();
    }
    let newline = if text.is_empty() || text.ends_with('\n') {
        ""
    } else {
        "\n"
    };
    format!("{text}{newline}{ATTRIBUTE}\n")
}

fn without(text: &str) -> String {
    text.split_inclusive('\n')
        .filter(|line| line.trim() != ATTRIBUTE)
        .collect()
}

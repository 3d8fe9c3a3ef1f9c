//! The haunch program: `baseline`, `check`, `diff`, `explain`, `fill`, `format`, `git-setup`, `new` and
//! `lsp`.
//!
//! Nothing in the house uses this crate; it is a library besides a program so that tests can run
//! the program in their own process and read what it reports.

mod arguments;
mod baseline;
mod check;
mod columns;
mod diff;
mod explain;
mod fill;
mod finding_view;
mod format;
mod format_view;
mod formats;
mod gather;
mod git;
mod git_setup;
pub mod report;
mod sources;
mod starter;
mod summary_view;
mod terminal;
mod used_files;

use std::ffi::OsString;
use std::io::Write;

use clap::Parser;

use arguments::{Arguments, Command};

/// Exit status: everything holds.
pub const HOLDS: u8 = 0;
/// Exit status: a finding is an error, or a check does not hold or could not be computed.
pub const DOES_NOT_HOLD: u8 = 1;
/// Exit status: the command was not understood, or a file could not be read or written.
pub const NOT_DONE: u8 = 2;

/// What every output closes with.
pub const CAUTION: &str = "Results are an aid. Loads, limits and factors come from the user and the \
    local code, and the work needs a licensed practitioner's review.";

/// Runs the program on a command line, the program's own name first. Returns the exit status.
///
/// Styled text is written with escape sequences; a stream that is no terminal strips them.
pub fn run<A, T>(arguments: A, out: &mut dyn Write, err: &mut dyn Write) -> u8
where
    A: IntoIterator<Item = T>,
    T: Into<OsString> + Clone,
{
    let command = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments.command,
        Err(answer) => return say(&answer, out, err),
    };
    match command {
        Command::Check(wanted) => check::check(&wanted, out, err),
        Command::Explain { code } => explain::explain(code.as_deref(), out, err),
        Command::Format(layout) => format::format(&layout, out, err),
        Command::Diff(wanted) => diff::diff(&wanted, out, err),
        Command::Fill { file, name } => fill::fill(&file, name.as_deref(), out, err),
        Command::Baseline(wanted) => baseline::record(&wanted, out, err),
        Command::GitSetup { undo, yes } => {
            git_setup::set_up(undo, yes, &mut std::io::stdin().lock(), out, err)
        }
        Command::New { name } => starter::create(&name, out, err),
        Command::Lsp => {
            // The server speaks the protocol on the process's own streams.
            if haunch_server::run() == std::process::ExitCode::SUCCESS {
                HOLDS
            } else {
                DOES_NOT_HOLD
            }
        }
    }
}

/// Prints what the reading of the command line has to say: help on standard output, a mistake on
/// standard error.
fn say(answer: &clap::Error, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let text = answer.render().ansi().to_string();
    if answer.use_stderr() {
        // With standard error closed there is nobody left to tell.
        let _ = write!(err, "{text}");
        return NOT_DONE;
    }
    match write!(out, "{text}") {
        Ok(()) => HOLDS,
        Err(_) => NOT_DONE,
    }
}

//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Structural calculations as plain text: values, units and limits, checked.
#[derive(Debug, Parser)]
#[command(name = "haunch", version, max_term_width = 100, after_help = crate::CAUTION)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Check calculations and show what they find, use and answer
    ///
    /// Exit status: 0 everything holds; 1 a finding is an error, or a check does not hold or could
    /// not be computed; 2 the command was not understood or a file could not be read.
    Check(Wanted),
    /// Tell what a finding means, with a file that gives it and one that does not
    Explain {
        /// The finding's code, as `haunch check` shows it; without one, all are listed
        code: Option<String>,
    },
    /// Lay out calculations: indentation, spaces, columns and empty lines
    ///
    /// Only white space changes, never what a line says; a line that cannot be read stays as it is.
    /// Writes the files that change, and prints which. Exit status: 0 done; 1 with `--check`, a file
    /// would change; 2 the command was not understood, or a file could not be read or written.
    Format(Layout),
    /// Write a small calculation to start from; an existing file is left alone
    New {
        /// The file's name; `.haunch` is added where it is missing
        name: PathBuf,
    },
    /// Serve an editor: the language server on standard input and output
    Lsp,
}

/// What to check, and how to tell.
#[derive(Debug, Args)]
pub(crate) struct Wanted {
    /// Files, and folders that are searched for `*.haunch`
    #[arg(required = true, value_name = "FILE or FOLDER")]
    pub(crate) paths: Vec<PathBuf>,
    /// For people, or for scripts
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(crate) format: Format,
}

/// What to lay out.
#[derive(Debug, Args)]
pub(crate) struct Layout {
    /// Files, folders that are searched for `*.haunch`, or `-` alone: from standard input to standard
    /// output
    #[arg(required = true, value_name = "FILE or FOLDER")]
    pub(crate) paths: Vec<PathBuf>,
    /// Write nothing; print what would change
    #[arg(long)]
    pub(crate) check: bool,
}

/// The form of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// Text for people
    Text,
    /// JSON for scripts, as in `tests/schema/check.schema.json`
    Json,
}

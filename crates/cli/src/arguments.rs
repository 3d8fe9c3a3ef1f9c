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
    /// Tell what changed in meaning between two versions, and why
    ///
    /// OLD and NEW are two files or two folders, or revisions of git. Without NEW, OLD is compared with
    /// the files on disk; without both, the last commit is. `main...HEAD` compares HEAD with the commit
    /// where it left main. A word that is both a file and a revision is the file.
    ///
    /// Exit status: 0 nothing changed in the results; 1 results changed; 2 the command was not
    /// understood, or a file or revision could not be read.
    Diff(Compared),
    /// Print a file with each line's live values filled in, between ⟨ and ⟩
    ///
    /// Made for git, which shows changes of values beside changes of lines with it: see `git-setup`. Git
    /// does not say from which revision a file is: files that it uses are read as they are on disk, and
    /// the `use` line says so. Of REVISION:FILE all is read from that revision.
    Fill {
        /// The file, or REVISION:FILE with a path from the top of the repository
        file: PathBuf,
        /// The path from which files are used, where the file is a copy of another one
        #[arg(long, value_name = "PATH")]
        name: Option<PathBuf>,
    },
    /// Write results on record: a text with a line for each, to be committed
    ///
    /// `haunch check --baseline` then tells which results are no longer those on record.
    Baseline(Recorded),
    /// Let git show values: git diff, git log -p, git show
    ///
    /// Says what it will write, and asks. Writes a line in .gitattributes and two settings in this
    /// clone's configuration.
    GitSetup {
        /// Take away what was written
        #[arg(long)]
        undo: bool,
        /// Do not ask
        #[arg(long)]
        yes: bool,
    },
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
    /// Add the torsion constant and modulus, the shear centre and the warping constant of every section
    /// to the JSON, which takes longer
    #[arg(long)]
    pub(crate) with_torsion: bool,
    /// Check only files that changed since this revision of git, and those that use them
    #[arg(long, value_name = "REVISION")]
    pub(crate) changed_since: Option<String>,
    /// Tell too which results are not those on record; exit status 1 if any is not
    #[arg(long, value_name = "FILE", num_args = 0..=1, require_equals = true, default_missing_value = crate::diff::RECORD)]
    pub(crate) baseline: Option<PathBuf>,
}

/// What to put on record, and where.
#[derive(Debug, Args)]
pub(crate) struct Recorded {
    /// Files, and folders that are searched for `*.haunch`
    #[arg(required = true, value_name = "FILE or FOLDER")]
    pub(crate) paths: Vec<PathBuf>,
    /// The file to write
    #[arg(long, value_name = "FILE", default_value = crate::diff::RECORD)]
    pub(crate) output: PathBuf,
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
    /// SARIF 2.1.0, for programs that gather findings
    Sarif,
    /// JUnit's XML, for continuous integration
    Junit,
    /// Annotations of GitHub's runners
    Github,
}

/// What to compare, and how to tell.
#[derive(Debug, Args)]
pub(crate) struct Compared {
    /// A file, a folder, a revision, or two revisions as OLD..NEW or OLD...NEW
    #[arg(value_name = "OLD")]
    pub(crate) old: Option<String>,
    /// A file, a folder or a revision
    #[arg(value_name = "NEW")]
    pub(crate) new: Option<String>,
    /// Compare with what is staged instead of the files on disk
    #[arg(long)]
    pub(crate) staged: bool,
    /// Compare with the commit in which somebody was last recorded in the sheet of this file as having
    /// checked or approved it, and tell of this file
    #[arg(long, value_name = "FILE", conflicts_with_all = ["old", "new", "paths"])]
    pub(crate) since_check: Option<PathBuf>,
    /// Tell only of these files and folders
    #[arg(last = true, value_name = "PATH")]
    pub(crate) paths: Vec<PathBuf>,
    /// For people, for a comment on a pull request, for a page, or for scripts
    #[arg(long, value_enum, default_value_t = DiffFormat::Text)]
    pub(crate) format: DiffFormat,
    /// Show every result that changed, those too that no line uses
    #[arg(long)]
    pub(crate) all: bool,
    /// A check that moved to within this many per cent of its bound is told of
    #[arg(long, value_name = "PERCENT", default_value_t = 100.0 * haunch_review::MARGIN, value_parser = percent)]
    pub(crate) margin: f64,
    /// When the exit status is 1: any change of results, or only checks that were removed or loosened,
    /// do not hold or could not be computed
    #[arg(long, value_enum, default_value_t = FailOn::Any)]
    pub(crate) fail_on: FailOn,
}

/// A share in per cent, from 0 to 100.
fn percent(text: &str) -> Result<f64, String> {
    let number: f64 = text
        .trim_end_matches('%')
        .trim()
        .parse()
        .map_err(|_| "a number of per cent is needed, such as 5".to_owned())?;
    match (0.0..=100.0).contains(&number) {
        true => Ok(number),
        false => Err("a number from 0 to 100 is needed".to_owned()),
    }
}

/// The form of a review.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum DiffFormat {
    /// Text for people
    Text,
    /// Markdown for a comment on a pull request
    Markdown,
    /// A page of its own
    Html,
    /// JSON for scripts, as in `tests/schema/diff.schema.json`
    Json,
}

/// When a review ends with exit status 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum FailOn {
    /// Any change of results
    Any,
    /// Checks that were removed or loosened, do not hold or could not be computed
    Limit,
}

//! The haunch program.

use std::process::ExitCode;

fn main() -> ExitCode {
    // Not locked: the language server writes to the same streams from threads of its own.
    let status = haunch::run(
        std::env::args_os(),
        &mut anstream::stdout(),
        &mut anstream::stderr(),
    );
    ExitCode::from(status)
}

//! The haunch program.

use std::process::ExitCode;

fn main() -> ExitCode {
    let status = haunch::run(
        std::env::args_os(),
        &mut anstream::stdout().lock(),
        &mut anstream::stderr().lock(),
    );
    ExitCode::from(status)
}

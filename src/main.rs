//! Arguments and exit code; all else is in the library.

#![forbid(unsafe_code)]

use std::process::ExitCode;

use porringer::cli::{Cli, fault};

fn main() -> ExitCode {
    ExitCode::from(fault::guarded(Cli::called))
}

//! Arguments and exit code; all else is in the library.

#![forbid(unsafe_code)]

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    ExitCode::from(porringer::cli::Cli::parse().run())
}

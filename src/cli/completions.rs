//! `porringer completions`

use clap::CommandFactory;
use clap_complete::Shell;

use crate::cli::{CLEAN, Cli, Failure, say};

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The shell that is to complete `porringer` and its arguments.
    #[arg(value_enum)]
    shell: Shell,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut Cli::command(), "porringer", &mut script);
    say(&String::from_utf8_lossy(&script));
    Ok(CLEAN)
}

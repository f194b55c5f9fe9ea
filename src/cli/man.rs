//! `porringer man`

use std::path::PathBuf;

use clap::CommandFactory;

use crate::cli::{CLEAN, Cli, Failure, complain};
use crate::workspace::shown;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The folder for the pages, such as ~/.local/share/man/man1.
    #[arg(value_name = "DIR")]
    folder: PathBuf,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let folder = &arguments.folder;
    let trouble = |error: std::io::Error| Failure(format!("the pages cannot be written: {error}"));
    std::fs::create_dir_all(folder).map_err(trouble)?;
    // Written beside and moved, so that a page is old or new but never half.
    let beside = tempfile::Builder::new().prefix(".porringer-").tempdir_in(folder).map_err(trouble)?;
    clap_mangen::generate_to(Cli::command(), beside.path()).map_err(trouble)?;
    let mut count = 0;
    for entry in std::fs::read_dir(beside.path()).map_err(trouble)? {
        let entry = entry.map_err(trouble)?;
        std::fs::rename(entry.path(), folder.join(entry.file_name())).map_err(trouble)?;
        count += 1;
    }
    complain(&format!("{count} pages in {}", shown(folder)));
    Ok(CLEAN)
}

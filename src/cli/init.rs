//! `porringer init`

use std::path::PathBuf;

use crate::cli::{CLEAN, Failure, complain, new};
use crate::workspace::{FILE, RECIPES, shelf, shown};

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The folder that becomes a workspace; default: the working folder.
    #[arg(value_name = "FOLDER", default_value = ".")]
    folder: PathBuf,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let folder = &arguments.folder;
    if !folder.is_dir() {
        return Err(Failure(format!("there is no folder `{}`; `porringer new workspace` makes one", folder.display())));
    }
    // Settings may stand in the `recipes` folder too.
    let other = folder.join(RECIPES).join(FILE);
    if other.is_file() {
        return Err(Failure(format!("`{}` is there already; nothing is written over", shown(&other))));
    }
    new::write(&[(folder.join(FILE), new::SETTINGS.to_owned())])?;
    complain(&match shelf::files(folder).len() {
        0 => "no recipes here yet; next: `porringer new dish NAME`".to_owned(),
        1 => "1 recipe here; next: `porringer check`".to_owned(),
        count => format!("{count} recipes here; next: `porringer check`"),
    });
    Ok(CLEAN)
}

//! Larger published sets that are not part of the project. They are used when
//! they are there, and said to be missing when they are not.

use std::io::Write;
use std::path::{Path, PathBuf};

/// The folder that an environment variable names, or else the one beside the
/// project; `None`, and a word on the terminal, if there is no such folder.
pub fn folder(variable: &str, beside: &str) -> Option<PathBuf> {
    let folder = match std::env::var_os(variable) {
        Some(path) => PathBuf::from(path),
        None => Path::new(env!("CARGO_MANIFEST_DIR")).join(beside),
    };
    if folder.is_dir() {
        return Some(folder);
    }
    say(&format!(
        "the folder {} ({variable}) is not there: only the figures inside the project are checked",
        folder.display()
    ));
    None
}

/// A line on the terminal. Not `eprintln!`: the test harness hides that from
/// a test that passes.
pub fn say(line: &str) {
    let _ = writeln!(std::io::stderr(), "published: {line}");
}

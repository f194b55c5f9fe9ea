//! The output folder. Everything that a build writes goes through here, so
//! that what is up to date is left alone, and every file is old or new but
//! never half.
//!
//! To add an output to `build`: name it, say what it is made of, and put its
//! bytes only where they are wanted.
//!
//! ```text
//! let needs = Needs::of("data", &json).with("template", template.hash);
//! if outputs.wants("first-foods.en.pdf", &needs) {
//!     outputs.put("first-foods.en.pdf", &needs, &[("first-foods.en.pdf".into(), &bytes)]);
//! }
//! ```

use std::io::Write;
use std::path::{Path, PathBuf};

use crate::cli::Failure;
use crate::graph::Needs;
use crate::workspace::shown;

/// What a build has written so far, and what it could not write.
#[derive(Debug)]
pub struct Outputs {
    folder: PathBuf,
    made: usize,
    troubles: Vec<String>,
}

impl Outputs {
    /// # Errors
    /// The folder cannot be made.
    pub fn new(folder: PathBuf) -> Result<Self, Failure> {
        std::fs::create_dir_all(&folder)
            .map_err(|error| Failure(format!("the folder `{}` cannot be made: {error}", shown(&folder))))?;
        Ok(Self { folder, made: 0, troubles: Vec::new() })
    }

    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Whether a target has to be made. A target is one file, or the pictures
    /// of all pages of one card; its name is unique in the folder.
    pub fn wants(&mut self, _target: &str, _needs: &Needs) -> bool {
        true
    }

    /// Writes the files of a target, each beside its place and then renamed.
    /// Their names count from the output folder, with forward slashes.
    pub fn put(&mut self, _target: &str, _needs: &Needs, files: &[(String, &[u8])]) {
        for (name, bytes) in files {
            let path = self.folder.join(name);
            let folder = path.parent().filter(|folder| *folder != self.folder);
            if let Some(Err(error)) = folder.map(std::fs::create_dir_all) {
                self.troubles.push(format!("`{}` cannot be written: {error}", shown(&path)));
                continue;
            }
            match write(&path, bytes) {
                Ok(()) => self.made += 1,
                Err(trouble) => self.troubles.push(trouble),
            }
        }
    }

    /// What went wrong with a target that should have been made.
    pub fn trouble(&mut self, trouble: String) {
        self.troubles.push(trouble);
    }

    /// Files written.
    pub fn made(&self) -> usize {
        self.made
    }

    /// In an order that does not depend on which thread was first.
    pub fn troubles(&mut self) -> &[String] {
        self.troubles.sort();
        &self.troubles
    }
}

/// Writes beside the target and renames, so that an earlier file stays until
/// the new one is whole.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let trouble = |error: std::io::Error| format!("`{}` cannot be written: {error}", shown(path));
    let mut file = tempfile::Builder::new().prefix(".porringer-").tempfile_in(folder).map_err(trouble)?;
    file.write_all(bytes).map_err(trouble)?;
    file.as_file().sync_all().map_err(trouble)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // A temporary file is private; a card is for everybody.
        let _ = file.as_file().set_permissions(std::fs::Permissions::from_mode(0o644));
    }
    file.persist(path).map_err(|error| trouble(error.error))?;
    Ok(())
}

/// An id as a file name: nothing that leads elsewhere.
pub fn file_name(id: &str) -> String {
    let name: String =
        id.chars().map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_') { c } else { '-' }).collect();
    if name.is_empty() { "dish".to_owned() } else { name }
}

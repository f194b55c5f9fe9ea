//! The output folder. Everything that a build writes goes through here, so
//! that what is up to date is left alone, and every file is old or new but
//! never half.
//!
//! To add an output to `build`: name it, say what it is made of, and put its
//! bytes only where they are wanted.
//!
//! ```text
//! let needs = Needs::of("data", Content::of_data(&data)).with("the look", template.content);
//! if outputs.wants("first-foods.en.pdf", &needs) {
//!     outputs.put("first-foods.en.pdf", &needs, &[("first-foods.en.pdf".into(), &bytes)]);
//! }
//! ```

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::path::{Path, PathBuf};

use super::why::{self, Why};
use crate::cli::{Failure, complain};
use crate::graph::stamps::{BEGUN, Refused, Stamps};
use crate::graph::{Content, Needs};
use crate::syntax::Kind;
use crate::workspace::shown;

/// What is done with outputs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// Those that would differ are written.
    Differing,
    /// All are written.
    All,
    /// All are made and held against what is there; nothing is written.
    Compared,
}

/// What a build has written so far, and what it could not write.
#[derive(Debug)]
pub struct Outputs {
    folder: PathBuf,
    mode: Mode,
    pub stamps: Stamps,
    made: usize,
    kept: usize,
    troubles: Vec<String>,
    /// What was done with each target, and why.
    reasons: BTreeMap<String, Why>,
    /// In `Compared`: files that are not what they should be.
    differing: BTreeMap<String, Why>,
    /// Every file of this call.
    names: BTreeSet<String>,
    /// Targets since a group, or a piece of one, was begun.
    group: Vec<String>,
}

impl Outputs {
    /// Opens a folder, which need not be there.
    pub fn open(folder: PathBuf, root: &Path, mode: Mode, keep: bool) -> Self {
        let stamps = match mode {
            _ if !keep => Stamps::none(&folder, root),
            Mode::Compared => Stamps::glance(&folder, root),
            Mode::Differing | Mode::All => Stamps::open(&folder, root, || waits(&folder)),
        };
        Self {
            folder,
            mode,
            stamps,
            made: 0,
            kept: 0,
            troubles: Vec::new(),
            reasons: BTreeMap::new(),
            differing: BTreeMap::new(),
            names: BTreeSet::new(),
            group: Vec::new(),
        }
    }

    /// Makes the folder, where it is to be written to.
    ///
    /// # Errors
    /// The folder cannot be made.
    pub fn ready(&mut self, keep: bool) -> Result<(), Failure> {
        if self.mode == Mode::Compared {
            return Ok(());
        }
        std::fs::create_dir_all(&self.folder)
            .map_err(|error| Failure(format!("the folder `{}` cannot be made: {error}", shown(&self.folder))))?;
        if keep {
            self.stamps.lock_new(|| waits(&self.folder));
        }
        Ok(())
    }

    pub fn folder(&self) -> &Path {
        &self.folder
    }

    pub fn mode(&self) -> Mode {
        self.mode
    }

    /// Whether outputs made of many documents are up to date as a whole:
    /// `standing` is the content of all that they rest on. Where not, what is
    /// wanted between [`Outputs::begin`] and [`Outputs::end`] belongs to the
    /// group.
    pub fn stands(&mut self, group: &str, standing: Content) -> bool {
        if self.mode != Mode::Differing {
            return false;
        }
        let Some((_, targets)) = self.stamps.group(group).filter(|(kept, _)| *kept == standing).cloned() else {
            return false;
        };
        let whole = targets.iter().all(|target| self.stamps.intact(target));
        if whole {
            targets.iter().for_each(|target| self.keep(target, Why::Nothing));
        }
        whole
    }

    /// Begins a group of outputs, or a piece of one.
    pub fn begin(&mut self) {
        self.group.clear();
    }

    /// The targets since.
    pub fn end(&mut self) -> Vec<String> {
        std::mem::take(&mut self.group)
    }

    /// Remembers a group, if all of it could be made.
    pub fn close(&mut self, group: &str, standing: Content, targets: Vec<String>) {
        if self.troubles.is_empty() {
            self.stamps.keep_group(group, standing, targets);
        }
    }

    /// Whether a target has to be made. A target is one file, or the pictures
    /// of all pages of one card; its name is unique in the folder.
    pub fn wants(&mut self, target: &str, needs: &Needs) -> bool {
        self.group.push(target.to_owned());
        if self.mode != Mode::Differing {
            self.reasons.insert(target.to_owned(), Why::Asked);
            return true;
        }
        let known = self.stamps.target(target).is_some();
        let before: BTreeMap<String, Content> =
            self.stamps.made_of(target).into_iter().map(|(word, content)| (word.to_owned(), content)).collect();
        let changes = why::changes(&before, &needs.inputs());
        if self.stamps.holds(target, needs) {
            self.keep(target, if changes.is_empty() { Why::Nothing } else { Why::ButNotThis(changes) });
            return false;
        }
        let why = if !known {
            if self.folder.join(target).exists() { Why::Unknown } else { Why::New }
        } else if !self.stamps.there(target) {
            Why::New
        } else if changes.is_empty() {
            Why::Touched
        } else {
            Why::Changed(changes)
        };
        self.reasons.insert(target.to_owned(), why);
        true
    }

    /// A target that is as it should be.
    pub fn keep(&mut self, target: &str, why: Why) {
        let files = self.stamps.target(target).map(|target| target.files.as_slice()).unwrap_or_default();
        self.kept += files.len();
        self.names.extend(files.iter().map(|file| file.name.clone()));
        self.reasons.insert(target.to_owned(), why);
    }

    /// Why a target was not made when it was tried last.
    pub fn refused(&self, target: &str) -> Option<&Refused> {
        self.stamps.target(target)?.refused.as_ref()
    }

    /// Writes the files of a target, each beside its place and then renamed.
    /// Their names count from the output folder, with forward slashes.
    pub fn put(&mut self, target: &str, needs: &Needs, files: &[(String, &[u8])]) {
        self.names.extend(files.iter().map(|(name, _)| name.clone()));
        if self.mode == Mode::Compared {
            return self.compare(target, needs, files);
        }
        let mut written = Vec::new();
        // Sheets for a printer are made from pages that may be kept themselves.
        let counted = self.reasons.get(target).is_some_and(|why| why.verb() == "kept");
        for (name, bytes) in files {
            // The same bytes keep their time, for those who go by it.
            let same = self.mode == Mode::Differing && is(&self.folder.join(name), bytes);
            match if same { Ok(()) } else { self.write(name, bytes) } {
                Ok(()) => {
                    if same {
                        self.kept += usize::from(!counted);
                    } else {
                        self.made += 1;
                    }
                    written.push((name.clone(), Content::of(bytes)));
                }
                Err(trouble) => self.troubles.push(trouble),
            }
        }
        if written.len() == files.len() {
            self.stamps.keep_target(target, needs, &written, None);
        } else {
            self.stamps.forget_target(target);
        }
    }

    /// Remembers that a target cannot be made from what it needs.
    pub fn refuse(&mut self, target: &str, needs: &Needs, refused: Refused) {
        if self.mode != Mode::Compared {
            self.stamps.keep_target(target, needs, &[], Some(refused));
        }
    }

    /// Removes what an earlier build made and nothing stands behind any more,
    /// and gives how many files that were: `gone` decides by the target's name.
    /// What is not as we wrote it may be somebody else's, and stays.
    pub fn sweep(&mut self, gone: impl Fn(&str) -> bool) -> usize {
        if self.mode == Mode::Compared {
            return 0;
        }
        let targets: Vec<String> = self.stamps.targets().filter(|target| gone(target)).map(str::to_owned).collect();
        let mut removed = 0;
        for target in targets {
            if self.stamps.intact(&target) {
                let files = self.stamps.target(&target).map(|target| target.files.as_slice()).unwrap_or_default();
                for file in files {
                    let path = self.folder.join(&file.name);
                    match std::fs::remove_file(&path) {
                        Ok(()) => removed += 1,
                        Err(error) => self.troubles.push(format!("`{}` cannot be removed: {error}", shown(&path))),
                    }
                }
            }
            self.stamps.forget_target(&target);
        }
        removed
    }

    fn write(&self, name: &str, bytes: &[u8]) -> Result<(), String> {
        let path = self.folder.join(name);
        let folder = path.parent().filter(|folder| *folder != self.folder);
        if let Some(Err(error)) = folder.map(std::fs::create_dir_all) {
            return Err(format!("`{}` cannot be written: {error}", shown(&path)));
        }
        // What is begun lies with the stamps, where the next build clears up
        // after one that was killed.
        if let Some(begun) = self.stamps.begun()
            && let Ok(()) = write_from(&begun, &path, bytes)
        {
            return Ok(());
        }
        write(&path, bytes)
    }

    fn compare(&mut self, target: &str, needs: &Needs, files: &[(String, &[u8])]) {
        for (name, bytes) in files {
            let path = self.folder.join(name);
            let why = match std::fs::read(&path) {
                Ok(there) if there == *bytes => {
                    self.kept += 1;
                    continue;
                }
                Ok(there) => {
                    let before = self.stamps.made_of(target);
                    let before = before.into_iter().map(|(word, content)| (word.to_owned(), content)).collect();
                    let written = self.stamps.target(target).is_some_and(|kept| kept.wrote(name, Content::of(&there)));
                    let changes = if written { why::changes(&before, &needs.inputs()) } else { Vec::new() };
                    if changes.is_empty() {
                        Why::Differs(why::difference(&there, bytes))
                    } else {
                        Why::Changed(changes)
                    }
                }
                Err(error) if error.kind() == std::io::ErrorKind::NotFound => Why::New,
                Err(error) => {
                    self.troubles.push(format!("`{}` cannot be read: {error}", shown(&path)));
                    continue;
                }
            };
            self.differing.insert(name.clone(), why);
        }
    }

    /// What went wrong with a target that should have been made.
    pub fn trouble(&mut self, trouble: String) {
        self.troubles.push(trouble);
    }

    /// Remembers what was made for the next build. What changed while this one
    /// ran is left out: nobody knows which of it went into the cards.
    pub fn finish(mut self) {
        let unsteady = self.stamps.unsteady();
        if !unsteady.is_empty() {
            self.stamps.forget(|unit, key| {
                let rests = |file: &str| unsteady.iter().any(|one| one == file);
                // A font is in every card.
                unsteady.iter().any(|file| Kind::of_path(Path::new(file)).is_none())
                    || rests(key)
                    || unit.taken.iter().any(|taken| rests(&taken.file))
                    || unit.pictures.iter().any(|(file, _)| rests(file))
            });
        }
        self.stamps.save();
    }

    /// Files written.
    pub fn made(&self) -> usize {
        self.made
    }

    /// Files that were there already and are what would have been written.
    pub fn kept(&self) -> usize {
        self.kept
    }

    /// In an order that does not depend on which thread was first.
    pub fn troubles(&mut self) -> &[String] {
        self.troubles.sort();
        &self.troubles
    }

    pub fn reasons(&self) -> &BTreeMap<String, Why> {
        &self.reasons
    }

    pub fn differing(&self) -> &BTreeMap<String, Why> {
        &self.differing
    }

    /// Files of the folder with one of these endings that this call did not
    /// make, from the folder, with forward slashes.
    pub fn extra(&self, endings: &[&str]) -> Vec<String> {
        let mut found = Vec::new();
        let mut open = vec![self.folder.clone()];
        while let Some(folder) = open.pop() {
            for entry in std::fs::read_dir(&folder).into_iter().flatten().filter_map(Result::ok) {
                if entry.file_name().to_string_lossy().starts_with('.') {
                    continue;
                }
                let path = entry.path();
                if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                    open.push(path);
                    continue;
                }
                let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
                let name = path.strip_prefix(&self.folder).unwrap_or(&path).to_string_lossy().replace('\\', "/");
                if endings.contains(&ending) && !self.names.contains(&name) {
                    found.push(name);
                }
            }
        }
        found.sort();
        found
    }
}

/// A file of just these bytes, and no link to one.
fn is(path: &Path, bytes: &[u8]) -> bool {
    let length = std::fs::symlink_metadata(path).ok().filter(std::fs::Metadata::is_file).map(|meta| meta.len());
    length == u64::try_from(bytes.len()).ok() && std::fs::read(path).is_ok_and(|there| there == bytes)
}

fn waits(folder: &Path) {
    complain(&format!("another build works in {}; this one waits for it", shown(folder)));
}

/// Writes beside the target and renames, so that an earlier file stays until
/// the new one is whole.
///
/// # Errors
/// In words.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let folder = path.parent().unwrap_or(Path::new("."));
    write_by(folder, ".porringer-", path, bytes)
}

fn write_from(folder: &Path, path: &Path, bytes: &[u8]) -> Result<(), String> {
    write_by(folder, BEGUN, path, bytes)
}

fn write_by(folder: &Path, prefix: &str, path: &Path, bytes: &[u8]) -> Result<(), String> {
    let trouble = |error: std::io::Error| {
        // Where it was begun is nobody's business.
        let cause = error.get_ref().and_then(|inner| inner.source()).map(ToString::to_string);
        format!("`{}` cannot be written: {}", shown(path), cause.unwrap_or_else(|| error.to_string()))
    };
    let mut file = tempfile::Builder::new().prefix(prefix).tempfile_in(folder).map_err(trouble)?;
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

//! What a build remembers, in `OUT/.porringer/stamps`.
//!
//! One file, written beside and renamed, with a hash of itself: one that is
//! damaged, of another version or not there is as good as none, and everything
//! is made. It holds hashes of content. A file's times are only taken as a
//! sign that it need not be read again where they cannot deceive, see
//! [`Seen`].

use std::collections::BTreeMap;
use std::fs::{self, File, Metadata};
use std::io::{self, Read, Seek, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::{Content, Needs};
use crate::diagnostic::Diagnostic;
use crate::source::Span;
use crate::syntax::Kind;

/// Folder of the stamps, below the output folder.
pub const FOLDER: &str = ".porringer";
/// First line of the file; another one is not read.
const HEAD: &[u8] = b"porringer stamps 2\n";
/// Largest file whose content is hashed; what is larger is no input of ours.
const LARGEST: u64 = 256 << 20;

/// A moment of a file system's clock: seconds and nanoseconds.
type Moment = (i64, u32);

/// A file as it was seen.
///
/// A file that is changed after it was seen gets another time, unless that
/// happens within one tick of the file system's clock. So what was changed
/// shortly before it was seen is not `settled`: its times prove nothing, and
/// it is read again next time. The time of last change of the inode, which no
/// program can set, is compared too, so a clock that was put back or a time
/// that was set by hand does not deceive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Seen {
    length: u64,
    modified: Moment,
    changed: Moment,
    inode: u64,
    settled: bool,
}

impl Seen {
    fn of(meta: &Metadata, now: Moment) -> Self {
        #[cfg(unix)]
        let (modified, changed, inode) = {
            use std::os::unix::fs::MetadataExt;
            let nanos = |nanos: i64| u32::try_from(nanos).unwrap_or(0);
            ((meta.mtime(), nanos(meta.mtime_nsec())), (meta.ctime(), nanos(meta.ctime_nsec())), meta.ino())
        };
        #[cfg(not(unix))]
        let (modified, changed, inode) = {
            let modified = meta.modified().map_or((0, 0), moment);
            (modified, modified, 0)
        };
        // Clocks of file systems tick every few milliseconds, but those that
        // keep whole seconds (and FAT every other one).
        let whole = modified.1 == 0 && changed.1 == 0;
        let tick = if whole { 2_500 } else { 100 };
        let settled = milliseconds(now) - milliseconds(modified.max(changed)) > tick;
        Self { length: meta.len(), modified, changed, inode, settled }
    }

    /// The same file, not touched since.
    fn same(self, other: Self) -> bool {
        Self { settled: false, ..self } == Self { settled: false, ..other }
    }

    /// It surely has the content that was read after it was seen.
    fn trusted(self, now: Self) -> bool {
        self.settled && self.same(now)
    }
}

fn milliseconds((seconds, nanos): Moment) -> i64 {
    seconds.saturating_mul(1_000).saturating_add(i64::from(nanos / 1_000_000))
}

fn moment(time: std::time::SystemTime) -> Moment {
    time.duration_since(std::time::UNIX_EPOCH)
        .map_or((0, 0), |since| (i64::try_from(since.as_secs()).unwrap_or(i64::MAX), since.subsec_nanos()))
}

/// A file that a document rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Known {
    seen: Seen,
    content: Content,
    /// For recipes: what the `id` line says.
    id: Option<String>,
}

/// A file that was written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Written {
    /// From the output folder, with forward slashes.
    pub name: String,
    seen: Seen,
    content: Content,
}

/// Why a card was made and not kept: it takes too many sides.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refused {
    pub pages: usize,
    pub sides: usize,
    pub paper: String,
    pub menu: bool,
    /// What alone, left out, would make it fit; places in `Relief::ALL`.
    pub reliefs: Vec<u8>,
}

/// Something that a build makes: one file, or the pictures of a card's pages.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Target {
    decided: Content,
    standing: Option<Content>,
    /// Inputs, as places in `words`.
    inputs: Vec<(u32, Content)>,
    pub files: Vec<Written>,
    pub refused: Option<Refused>,
}

impl Target {
    /// Whether it wrote a file with this content.
    pub fn wrote(&self, name: &str, content: Content) -> bool {
        self.files.iter().any(|file| file.name == name && file.content == content)
    }
}

/// A dish that a document takes, itself or by way of another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Taken {
    pub name: String,
    /// Key of its file.
    pub file: String,
    pub content: Option<Content>,
}

/// A document that was checked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unit {
    /// What it has in common with all documents of its call.
    pub common: Content,
    pub own: Content,
    pub taken: Vec<Taken>,
    /// The names of all documents, where it asked for one that is not there
    /// or for all.
    pub names: Option<Content>,
    /// Where a picture was looked for, and what was there.
    pub pictures: Vec<(String, Option<Content>)>,
    pub kind: Kind,
    /// Empty where it could not be read.
    pub id: Option<String>,
    /// Language of its prose.
    pub language: String,
    pub title: Span,
    /// What a build prints: no notes.
    pub messages: Vec<Diagnostic>,
    /// For booklets.
    pub binds: Option<Binds>,
    /// Changes with anything that it rests on.
    pub standing: Content,
}

/// What a booklet is made of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Binds {
    /// The `id` line, else the file's stem.
    pub id: String,
    /// The pages that it lists: whether a menu, and the name.
    pub pages: Vec<(bool, String)>,
}

impl Unit {
    /// What its standing is worked out from.
    #[must_use]
    pub fn stand(self) -> Self {
        let standing = Content::of_data(&(self.common, self.own, &self.taken, self.names, &self.pictures));
        Self { standing, ..self }
    }
}

/// What is kept between builds.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Kept {
    files: BTreeMap<String, Known>,
    units: BTreeMap<String, Unit>,
    targets: BTreeMap<String, Target>,
    /// Outputs of many documents: their standing and their targets.
    groups: BTreeMap<String, (Content, Vec<String>)>,
    words: Vec<String>,
}

/// The stamps of an output folder, in use.
#[derive(Debug)]
pub struct Stamps {
    out: PathBuf,
    /// Files are named from here, so that a folder can be moved.
    root: PathBuf,
    kept: Kept,
    words: BTreeMap<String, u32>,
    now: Moment,
    /// Where the stamps can be written: locked until the build ends.
    lock: Option<File>,
    changed: bool,
    /// Files that were looked at in this run.
    looked: BTreeMap<String, Option<Seen>>,
}

impl Stamps {
    /// Stamps that remember nothing and are not written.
    pub fn none(out: &Path, root: &Path) -> Self {
        Self {
            out: out.to_path_buf(),
            root: root.to_path_buf(),
            kept: Kept::default(),
            words: BTreeMap::new(),
            now: moment(std::time::SystemTime::now()),
            lock: None,
            changed: false,
            looked: BTreeMap::new(),
        }
    }

    /// Reads the stamps of an output folder and keeps other builds out of it
    /// until the end. A folder that cannot be written to is read all the same.
    /// `waits` is called when another build is at work there.
    pub fn open(out: &Path, root: &Path, waits: impl FnOnce()) -> Self {
        let mut stamps = Self::none(out, root);
        let folder = out.join(FOLDER);
        if out.is_dir() {
            stamps.lock = lock(&folder, waits).ok();
        }
        if let Some(now) = stamps.lock.as_ref().and_then(tick) {
            stamps.now = now;
            // What a build that was killed had begun.
            if let Ok(entries) = fs::read_dir(&folder) {
                for entry in entries.filter_map(Result::ok) {
                    if entry.file_name().to_string_lossy().starts_with(BEGUN) {
                        let _ = fs::remove_file(entry.path());
                    }
                }
            }
        }
        stamps.kept = read(&folder.join("stamps")).unwrap_or_default();
        stamps.words = stamps.kept.words.iter().cloned().zip(0..).collect();
        stamps
    }

    /// Reads the stamps of an output folder without a trace.
    pub fn glance(out: &Path, root: &Path) -> Self {
        let mut stamps = Self::none(out, root);
        stamps.kept = read(&out.join(FOLDER).join("stamps")).unwrap_or_default();
        stamps
    }

    /// For the first build into a folder that has just been made.
    pub fn lock_new(&mut self, waits: impl FnOnce()) {
        if self.lock.is_none() {
            self.lock = lock(&self.out.join(FOLDER), waits).ok();
            self.now = self.lock.as_ref().and_then(tick).unwrap_or(self.now);
        }
    }

    /// The folder for files that are being written, where there is one.
    pub fn begun(&self) -> Option<PathBuf> {
        self.lock.is_some().then(|| self.out.join(FOLDER))
    }

    /// A path as it is kept.
    pub fn key(&self, path: &Path) -> String {
        // The root is absolute; files of a call may be named from elsewhere.
        let whole = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        let path = whole.strip_prefix(&self.root).unwrap_or(&whole);
        path.to_string_lossy().replace('\\', "/")
    }

    /// The path that is kept under a key.
    pub fn path(&self, key: &str) -> PathBuf {
        self.root.join(key)
    }

    /// Content of a file; `None` where there is none to be read.
    pub fn content(&mut self, path: &Path) -> Option<Content> {
        self.look(path).map(|known| known.content)
    }

    /// What a recipe's `id` line says, without reading it again.
    pub fn id(&mut self, path: &Path) -> Option<String> {
        self.look(path).and_then(|known| known.id)
    }

    fn look(&mut self, path: &Path) -> Option<Known> {
        let key = self.key(path);
        // A build sees one state of a file; at its end it is looked at again.
        if self.looked.contains_key(&key) {
            return self.kept.files.get(&key).cloned();
        }
        let meta = fs::metadata(path).ok().filter(Metadata::is_file);
        let Some(meta) = meta else {
            self.looked.insert(key.clone(), None);
            self.changed |= self.kept.files.remove(&key).is_some();
            return None;
        };
        let seen = Seen::of(&meta, self.now);
        if let Some(known) = self.kept.files.get(&key)
            && known.seen.trusted(seen)
        {
            self.looked.insert(key, Some(seen));
            return Some(known.clone());
        }
        let Some((bytes, seen)) = read_steadily(path, self.now) else {
            self.changed |= self.kept.files.remove(&key).is_some();
            self.looked.insert(key, None);
            return None;
        };
        let id = Kind::of_path(path)
            .and_then(|_| std::str::from_utf8(&bytes).ok())
            .and_then(crate::workspace::shelf::written_id);
        let known = Known { seen, content: Content::of(&bytes), id };
        self.looked.insert(key.clone(), Some(seen));
        self.kept.files.insert(key, known.clone());
        self.changed = true;
        Some(known)
    }

    pub fn unit(&self, key: &str) -> Option<&Unit> {
        self.kept.units.get(key)
    }

    pub fn keep_unit(&mut self, key: String, unit: Unit) {
        if self.kept.units.get(&key) != Some(&unit) {
            self.kept.units.insert(key, unit);
            self.changed = true;
        }
    }

    pub fn target(&self, name: &str) -> Option<&Target> {
        self.kept.targets.get(name)
    }

    /// Names of all targets that are remembered.
    pub fn targets(&self) -> impl Iterator<Item = &str> {
        self.kept.targets.keys().map(String::as_str)
    }

    /// Ids of the documents that were printed and whose files are still there.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        let there = self.kept.units.iter().filter(|(key, _)| self.path(key).exists());
        there.filter_map(|(_, unit)| unit.id.as_deref())
    }

    /// Whether a target was made from the same and is as it was written.
    pub fn holds(&mut self, name: &str, needs: &Needs) -> bool {
        let same = self.kept.targets.get(name).is_some_and(|target| target.decided == needs.decided());
        if !(same && self.intact(name)) {
            return false;
        }
        let inputs = self.inputs(needs);
        if let Some(target) = self.kept.targets.get_mut(name) {
            let changed = target.standing != needs.standing || target.inputs != inputs;
            target.standing = needs.standing;
            target.inputs = inputs;
            self.changed |= changed;
        }
        true
    }

    /// Whether a target stands where its document does, and is as it was
    /// written.
    pub fn stands(&mut self, name: &str, standing: Content) -> bool {
        self.kept.targets.get(name).is_some_and(|target| target.standing == Some(standing)) && self.intact(name)
    }

    /// Whether the files of a target are there at all.
    pub fn there(&self, name: &str) -> bool {
        let files = self.kept.targets.get(name).map(|target| target.files.as_slice()).unwrap_or_default();
        files.iter().all(|file| self.out.join(&file.name).exists())
    }

    /// Whether the files of a target are what was written last.
    pub fn intact(&mut self, name: &str) -> bool {
        let (out, now) = (&self.out, self.now);
        let Some(target) = self.kept.targets.get_mut(name) else { return false };
        let mut changed = false;
        let whole = target.files.iter_mut().all(|file| {
            let path = out.join(&file.name);
            let Some(meta) = fs::symlink_metadata(&path).ok().filter(Metadata::is_file) else { return false };
            let seen = Seen::of(&meta, now);
            if file.seen.trusted(seen) {
                return true;
            }
            let Some((bytes, seen)) = read_steadily(&path, now) else { return false };
            let same = Content::of(&bytes) == file.content;
            if same {
                changed |= file.seen != seen;
                file.seen = seen;
            }
            same
        });
        self.changed |= changed;
        whole
    }

    /// Remembers a target that has just been written.
    pub fn keep_target(&mut self, name: &str, needs: &Needs, files: &[(String, Content)], refused: Option<Refused>) {
        let files = files
            .iter()
            .filter_map(|(name, content)| {
                let meta = fs::symlink_metadata(self.out.join(name)).ok()?;
                // Settled is decided at the end, when some time has passed.
                let seen = Seen { settled: false, ..Seen::of(&meta, self.now) };
                Some(Written { name: name.clone(), seen, content: *content })
            })
            .collect();
        let target =
            Target { decided: needs.decided(), standing: needs.standing, inputs: self.inputs(needs), files, refused };
        self.kept.targets.insert(name.to_owned(), target);
        self.changed = true;
    }

    /// A target whose files may be anything from now on.
    pub fn forget_target(&mut self, name: &str) {
        self.changed |= self.kept.targets.remove(name).is_some();
    }

    pub fn group(&self, name: &str) -> Option<&(Content, Vec<String>)> {
        self.kept.groups.get(name)
    }

    pub fn keep_group(&mut self, name: &str, standing: Content, targets: Vec<String>) {
        let group = (standing, targets);
        if self.kept.groups.get(name) != Some(&group) {
            self.kept.groups.insert(name.to_owned(), group);
            self.changed = true;
        }
    }

    fn inputs(&mut self, needs: &Needs) -> Vec<(u32, Content)> {
        needs
            .inputs()
            .into_iter()
            .map(|(word, content)| {
                let place = match self.words.get(word) {
                    Some(place) => *place,
                    None => {
                        let place = u32::try_from(self.kept.words.len()).unwrap_or(u32::MAX);
                        self.kept.words.push(word.to_owned());
                        self.words.insert(word.to_owned(), place);
                        place
                    }
                };
                (place, content)
            })
            .collect()
    }

    /// The inputs of a target as it was made, by their words.
    pub fn made_of(&self, name: &str) -> BTreeMap<&str, Content> {
        let word = |place: &u32| usize::try_from(*place).ok().and_then(|place| self.kept.words.get(place));
        let inputs = self.kept.targets.get(name).map(|target| target.inputs.as_slice()).unwrap_or_default();
        inputs.iter().filter_map(|(place, content)| Some((word(place)?.as_str(), *content))).collect()
    }

    /// Files that were looked at and are another by now: nothing that was
    /// made in the meantime may rest on them.
    pub fn unsteady(&self) -> Vec<String> {
        self.looked
            .iter()
            .filter(|(key, seen)| {
                let now = fs::metadata(self.root.join(key)).ok().filter(Metadata::is_file);
                match (seen, now.map(|meta| Seen::of(&meta, self.now))) {
                    (Some(seen), Some(now)) => !seen.same(now),
                    (None, None) => false,
                    _ => true,
                }
            })
            .map(|(key, _)| key.clone())
            .collect()
    }

    /// Forgets the units and targets that stand on some; for those that rest
    /// on files that changed while the build ran.
    pub fn forget(&mut self, rests: impl Fn(&Unit, &str) -> bool) {
        let gone: Vec<(String, Content)> = self
            .kept
            .units
            .iter()
            .filter(|(key, unit)| rests(unit, key))
            .map(|(key, unit)| (key.clone(), unit.standing))
            .collect();
        for (key, standing) in gone {
            self.kept.units.remove(&key);
            self.kept.targets.retain(|_, target| target.standing != Some(standing));
            self.changed = true;
        }
    }

    /// Writes the stamps, if they changed and can be written. That they are
    /// not is no fault: the next build makes more.
    pub fn save(mut self) {
        let Some(lock) = self.lock.take() else { return };
        if !self.changed {
            return;
        }
        let now = tick(&lock).unwrap_or(self.now);
        for file in self.kept.targets.values_mut().flat_map(|target| &mut target.files) {
            if file.seen.settled {
                continue;
            }
            if let Ok(meta) = fs::symlink_metadata(self.out.join(&file.name)) {
                let seen = Seen::of(&meta, now);
                if file.seen.same(seen) {
                    file.seen = seen;
                }
            }
        }
        let folder = self.out.join(FOLDER);
        let _ = write(&folder, &self.kept);
        drop(lock);
    }
}

/// Beginning of the names of files that are not whole yet.
pub const BEGUN: &str = "begun-";

/// The lock of a folder of stamps; it ends with the program at the latest.
fn lock(folder: &Path, waits: impl FnOnce()) -> io::Result<File> {
    fs::create_dir_all(folder)?;
    let ignore = folder.join(".gitignore");
    if !ignore.exists() {
        // What one machine remembers is nobody else's business.
        fs::write(&ignore, "*\n")?;
    }
    let lock = File::options().create(true).truncate(false).read(true).write(true).open(folder.join("lock"))?;
    match lock.try_lock() {
        Ok(()) => {}
        Err(fs::TryLockError::WouldBlock) => {
            waits();
            lock.lock()?;
        }
        // Some file systems have no locks: files are still renamed whole.
        Err(fs::TryLockError::Error(_)) => {}
    }
    Ok(lock)
}

/// What time it is for the file system: that of a file written just now.
fn tick(lock: &File) -> Option<Moment> {
    let mut file = lock;
    file.rewind().ok()?;
    file.write_all(b"\n").ok()?;
    moment(lock.metadata().ok()?.modified().ok()?).into()
}

/// Reads a file so that what is read and what is seen belong together.
fn read_steadily(path: &Path, now: Moment) -> Option<(Vec<u8>, Seen)> {
    const ROUNDS: usize = 5;
    let mut last = None;
    for _ in 0..ROUNDS {
        let mut file = File::open(path).ok()?;
        let before = file.metadata().ok().filter(Metadata::is_file)?;
        if before.len() > LARGEST {
            return None;
        }
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).ok()?;
        let seen = Seen::of(&before, now);
        let steady = file.metadata().is_ok_and(|after| Seen::of(&after, now).same(seen));
        if steady {
            return Some((bytes, seen));
        }
        last = Some((bytes, Seen { settled: false, ..seen }));
    }
    last
}

fn read(path: &Path) -> Option<Kept> {
    let bytes = fs::read(path).ok()?;
    let rest = bytes.strip_prefix(HEAD)?;
    let (hash, body) = rest.split_at_checked(blake3::OUT_LEN)?;
    if blake3::hash(body).as_bytes().as_slice() != hash {
        return None;
    }
    postcard::from_bytes(body).ok()
}

fn write(folder: &Path, kept: &Kept) -> io::Result<()> {
    let body = postcard::to_stdvec(kept).map_err(io::Error::other)?;
    let mut file = tempfile::Builder::new().prefix(BEGUN).tempfile_in(folder)?;
    file.write_all(HEAD)?;
    file.write_all(blake3::hash(&body).as_bytes())?;
    file.write_all(&body)?;
    // Not forced to the disk: what a power cut damages is found by the hash.
    file.persist(folder.join("stamps")).map_err(|error| error.error)?;
    Ok(())
}

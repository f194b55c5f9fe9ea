//! Learns of changed files: from the system where it tells, and by looking every
//! two seconds where it does not (network folders) or has lost count. Folders
//! are watched, not files, since editors write beside and rename; a folder that
//! was removed is watched again when it is back.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant, SystemTime};

use notify::event::{AccessKind, AccessMode};
use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher};

/// How long nothing may happen before a change counts as finished, and how
/// long it may go on at most.
const QUIET: Duration = Duration::from_millis(60);
const LONGEST: Duration = Duration::from_secs(1);
/// Between two looks when nothing is told.
const LOOK: Duration = Duration::from_secs(2);

/// Most folders that are watched, and files that are looked at.
const MOST: usize = 50_000;

/// What is looked at.
#[derive(Debug, Clone)]
pub struct Scope {
    /// The workspace.
    pub root: PathBuf,
    /// Where cards are written: nothing there is an input.
    pub out: PathBuf,
    /// Files and folders outside the root: named on the command line.
    pub further: Vec<PathBuf>,
}

/// State of the files: what differs from an earlier one has changed.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub struct Seen(Vec<(PathBuf, u64, Option<SystemTime>)>);

pub struct Watched {
    watcher: Option<RecommendedWatcher>,
    events: Receiver<notify::Result<Event>>,
    folders: BTreeSet<PathBuf>,
}

impl Watched {
    /// Begins to watch. Where the system tells nothing, looking has to do.
    pub fn new(scope: &Scope) -> Self {
        let (send, events) = channel();
        let watcher = notify::recommended_watcher(move |event| {
            // The other end goes with the program.
            let _ = send.send(event);
        });
        let mut watched = Self { watcher: watcher.ok(), events, folders: BTreeSet::new() };
        watched.watch(scope);
        watched
    }

    /// Watches the folders that are there now, each anew: one that was removed
    /// and made again has the same name.
    fn watch(&mut self, scope: &Scope) {
        let Some(watcher) = &mut self.watcher else { return };
        for folder in &self.folders {
            // One that is gone is watched no more anyway.
            let _ = watcher.unwatch(folder);
        }
        self.folders = scope.folders();
        for folder in &self.folders {
            // More than the system allows are looked at instead.
            let _ = watcher.watch(folder, RecursiveMode::NonRecursive);
        }
    }

    /// Waits until the files differ from `seen`, or something is told of them,
    /// and gives their state from before the caller looks.
    pub fn wait(&mut self, scope: &Scope, seen: &Seen) -> Seen {
        loop {
            let told = match self.events.recv_timeout(LOOK) {
                Ok(event) => self.settle(scope, event),
                Err(RecvTimeoutError::Timeout) => Told::Nothing,
                // Without a watcher there is only looking.
                Err(RecvTimeoutError::Disconnected) => {
                    std::thread::sleep(LOOK);
                    Told::Nothing
                }
            };
            let now = scope.look();
            let other = now != *seen;
            if other || told == Told::Folders {
                // A folder that came or went is found by its time.
                self.watch(scope);
                // What happened in a new folder before it was watched.
                return scope.look();
            }
            if told == Told::Files {
                return now;
            }
        }
    }

    /// Takes events until it is quiet.
    fn settle(&self, scope: &Scope, first: notify::Result<Event>) -> Told {
        let begin = Instant::now();
        let mut told = scope.told(&first);
        while begin.elapsed() < LONGEST {
            match self.events.recv_timeout(QUIET) {
                Ok(event) => told = told.max(scope.told(&event)),
                Err(_) => break,
            }
        }
        told
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Told {
    Nothing,
    Files,
    /// Folders came or went, or count was lost.
    Folders,
}

impl Scope {
    fn told(&self, event: &notify::Result<Event>) -> Told {
        let Ok(event) = event else { return Told::Folders };
        if event.need_rescan() {
            return Told::Folders;
        }
        let written = EventKind::Access(AccessKind::Close(AccessMode::Write));
        if event.kind.is_access() && event.kind != written {
            return Told::Nothing;
        }
        if !event.paths.iter().any(|path| self.holds(path)) {
            return Told::Nothing;
        }
        let moved = event.kind.is_create() || event.kind.is_remove() || event.kind.is_modify();
        let folder = |path: &PathBuf| path.is_dir() || path.extension().is_none();
        if moved && event.paths.iter().any(folder) { Told::Folders } else { Told::Files }
    }

    fn holds(&self, path: &Path) -> bool {
        // Editors keep their own files beside a recipe.
        let name = path.file_name().map(|name| name.to_string_lossy());
        if name.is_some_and(|name| name.starts_with('.') || name.ends_with('~')) {
            return false;
        }
        let inside = path.starts_with(&self.root) && !path.starts_with(&self.out);
        inside || self.further.iter().any(|further| path.starts_with(further) || further.starts_with(path))
    }

    /// Folders and files below the root that are not hidden and not left to
    /// version control's ignoring, with those named further.
    fn walk(&self) -> impl Iterator<Item = ignore::DirEntry> {
        let mut walk = ignore::WalkBuilder::new(&self.root);
        for further in &self.further {
            walk.add(further);
        }
        let out = self.out.clone();
        walk.follow_links(false).require_git(false).filter_entry(move |entry| entry.path() != out);
        walk.build().filter_map(Result::ok).take(MOST)
    }

    /// Those folders, and the ones above that would tell of the root's return.
    fn folders(&self) -> BTreeSet<PathBuf> {
        let mut folders: BTreeSet<PathBuf> = self
            .walk()
            .filter(|entry| entry.file_type().is_some_and(|kind| kind.is_dir()))
            .map(ignore::DirEntry::into_path)
            .collect();
        for path in std::iter::once(&self.root).chain(&self.further) {
            folders.extend(path.ancestors().skip(1).find(|above| above.is_dir()).map(Path::to_path_buf));
        }
        folders
    }

    /// The state of all files.
    pub fn look(&self) -> Seen {
        let mut seen: Vec<_> = self
            .walk()
            .filter_map(|entry| {
                let meta = entry.metadata().ok()?;
                // A folder's time tells of files that came and went.
                Some((entry.into_path(), if meta.is_file() { meta.len() } else { 0 }, meta.modified().ok()))
            })
            .collect();
        seen.sort();
        Seen(seen)
    }
}

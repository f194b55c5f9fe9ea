//! Open documents and their workspaces.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use lsp_types::{TextDocumentContentChangeEvent, Uri};

use crate::lsp::book::{Book, Overlay};
use crate::lsp::folder::{Folder, root_of};
use crate::lsp::position::{Encoding, span};
use crate::lsp::reply;
use crate::lsp::view::{Neighbours, Snapshot, View};
use crate::source::Source;
use crate::syntax::Kind;
use crate::workspace::shown;

/// A document that an editor holds open.
#[derive(Debug)]
pub struct Open {
    pub uri: Uri,
    pub path: PathBuf,
    pub kind: Kind,
    pub version: i32,
    pub source: Source,
    root: PathBuf,
    snapshot: Option<Snapshot>,
    /// The editor has not been told of this snapshot's messages.
    told: bool,
}

#[derive(Debug)]
pub struct State {
    pub encoding: Encoding,
    /// By the address that the editor uses.
    open: BTreeMap<String, Open>,
    folders: BTreeMap<PathBuf, Folder>,
    overlay: Overlay,
    /// Grows with every change and every reading of a workspace.
    clock: u64,
    /// Checks of open documents, ever.
    checks: usize,
    /// Files beside the recipes whose faults are shown, by workspace.
    faulty: BTreeMap<PathBuf, BTreeSet<PathBuf>>,
}

/// Messages for one file.
#[derive(Debug)]
pub struct Telling<'a> {
    pub uri: Uri,
    pub version: Option<i32>,
    pub source: &'a Source,
    pub messages: &'a [crate::diagnostic::Diagnostic],
}

impl State {
    pub fn new(encoding: Encoding) -> Self {
        Self {
            encoding,
            open: BTreeMap::new(),
            folders: BTreeMap::new(),
            overlay: Overlay::new(),
            clock: 0,
            checks: 0,
            faulty: BTreeMap::new(),
        }
    }

    fn tick(&mut self) -> u64 {
        self.clock += 1;
        self.clock
    }

    /// Takes a document in. `language` is the editor's word for its kind.
    pub fn open(&mut self, uri: &Uri, language: &str, version: i32, text: &str) {
        let path = reply::path(uri).unwrap_or_else(|| {
            // A text that is in no file yet belongs to the working folder.
            let here = std::env::current_dir().unwrap_or_default();
            here.join(uri.as_str().rsplit([':', '/']).next().unwrap_or_default())
        });
        let path = real(&path);
        let by_name = Kind::ALL.into_iter().find(|kind| language.eq_ignore_ascii_case(kind.word()));
        let Some(kind) = Kind::of_path(&path).or(by_name) else { return };
        let source = Source::new(shown(&path), text);
        let revision = self.tick();
        self.overlay.insert(path.clone(), (revision, Arc::clone(&source.text)));
        let root = root_of(&path);
        self.open.insert(
            uri.as_str().to_owned(),
            Open { uri: uri.clone(), path, kind, version, source, root, snapshot: None, told: false },
        );
        self.refresh();
    }

    /// Edits a document: each change counts from the text that the one before
    /// it left.
    pub fn change(&mut self, uri: &Uri, version: i32, changes: Vec<TextDocumentContentChangeEvent>) {
        let revision = self.tick();
        let encoding = self.encoding;
        let Some(open) = self.open.get_mut(uri.as_str()) else { return };
        for change in changes {
            let text = match change.range {
                None => change.text,
                Some(range) => {
                    let place = span(&open.source, range, encoding);
                    let mut text = open.source.text.to_string();
                    text.replace_range(place.range(), &change.text);
                    text
                }
            };
            open.source = Source::new(open.source.name.clone(), text);
        }
        open.version = version;
        self.overlay.insert(open.path.clone(), (revision, Arc::clone(&open.source.text)));
        if let Some(folder) = self.folders.get(&open.root) {
            folder.book.changed(&open.path, open.kind, &open.source.text);
        }
    }

    pub fn close(&mut self, uri: &Uri) {
        if let Some(open) = self.open.remove(uri.as_str()) {
            self.overlay.remove(&open.path);
        }
        self.refresh();
    }

    /// Looks again which files there are.
    pub fn refresh(&mut self) {
        for folder in self.folders.values() {
            folder.book.refresh(&self.overlay);
        }
    }

    /// Reads a document's workspace, where it has changed or was never read,
    /// and checks the document, where anything it rests on has changed.
    fn bring_up(&mut self, uri: &str) {
        let Some(open) = self.open.get_mut(uri) else { return };
        open.root = root_of(&open.path);
        let (root, path) = (open.root.clone(), open.path.clone());
        if !self.folders.get(&root).is_some_and(Folder::current) {
            let epoch = self.tick();
            self.folders.insert(root.clone(), Folder::of(&path, epoch));
        }
        let (Some(folder), Some(open)) = (self.folders.get(&root), self.open.get_mut(uri)) else { return };
        let current = open.snapshot.as_ref().is_some_and(|snapshot| folder.is_current(snapshot, &self.overlay));
        if !current {
            open.snapshot = Some(folder.check(&open.path, open.kind, open.source.clone(), &self.overlay));
            open.told = false;
            self.checks += 1;
        }
    }

    /// How many documents were checked, and how many dishes were computed for
    /// other documents, since the workspaces were read.
    pub fn work(&self) -> (usize, usize) {
        (self.checks, self.folders.values().map(|folder| folder.book.computed()).sum())
    }

    /// Calls a feature on a document as it is now.
    pub fn view<T>(&mut self, uri: &Uri, feature: impl FnOnce(&View<'_>, &Open) -> T) -> Option<T> {
        self.bring_up(uri.as_str());
        let open = self.open.get(uri.as_str())?;
        let folder = self.folders.get(&open.root)?;
        let neighbours = Beside { book: &folder.book, overlay: &self.overlay };
        let checked = &open.snapshot.as_ref()?.checked;
        let view = View { checked, workspace: &folder.workspace, neighbours: &neighbours };
        Some(feature(&view, open))
    }

    /// Checks what has changed and hands over what there is to tell.
    pub fn tell(&mut self, mut say: impl FnMut(&Telling<'_>)) {
        let uris: Vec<String> = self.open.keys().cloned().collect();
        for uri in &uris {
            self.bring_up(uri);
        }
        let in_use: BTreeSet<&PathBuf> = self.open.values().map(|open| &open.root).collect();
        self.folders.retain(|root, _| in_use.contains(root));
        let empty = Source::new("", "");
        for open in self.open.values_mut().filter(|open| !open.told) {
            open.told = true;
            let Some(snapshot) = &open.snapshot else { continue };
            say(&Telling {
                uri: open.uri.clone(),
                version: Some(open.version),
                source: &snapshot.checked.source,
                messages: &snapshot.checked.diagnostics,
            });
        }
        // Faults of settings and tables, each time a workspace was read.
        let mut faulty: BTreeMap<PathBuf, BTreeSet<PathBuf>> = BTreeMap::new();
        for (root, folder) in &self.folders {
            let mut by_file: BTreeMap<PathBuf, (&Source, Vec<crate::diagnostic::Diagnostic>)> = BTreeMap::new();
            for fault in &folder.workspace.faults {
                let file =
                    std::path::absolute(&fault.source.name).unwrap_or_else(|_| PathBuf::from(&fault.source.name));
                let entry = by_file.entry(file).or_insert((&fault.source, Vec::new()));
                entry.1.extend(fault.diagnostics.iter().cloned());
            }
            let files: BTreeSet<PathBuf> = by_file.keys().cloned().collect();
            if !folder.told.replace(true) {
                for (file, (source, messages)) in &by_file {
                    let Some(uri) = reply::uri(file) else { continue };
                    say(&Telling { uri, version: None, source, messages });
                }
            }
            faulty.insert(root.clone(), files);
        }
        let now: BTreeSet<&PathBuf> = faulty.values().flatten().collect();
        for gone in self.faulty.values().flatten().filter(|file| !now.contains(file)) {
            let Some(uri) = reply::uri(gone) else { continue };
            say(&Telling { uri, version: None, source: &empty, messages: &[] });
        }
        self.faulty = faulty;
    }

    /// The document of an address, if it is open.
    pub fn get(&self, uri: &Uri) -> Option<&Open> {
        self.open.get(uri.as_str())
    }

    /// The address that the editor uses for a file, or one made for it.
    pub fn uri_of(&self, path: &Path) -> Option<Uri> {
        let known = self.open.values().find(|open| open.path == path).map(|open| open.uri.clone());
        known.or_else(|| reply::uri(path))
    }
}

/// The folder's real path with the file's own name: a linked file belongs
/// where its link stands.
fn real(path: &Path) -> PathBuf {
    let folder = path.parent().and_then(|folder| std::fs::canonicalize(folder).ok());
    match (folder, path.file_name()) {
        (Some(folder), Some(name)) => folder.join(name),
        _ => path.to_path_buf(),
    }
}

struct Beside<'a> {
    book: &'a Book,
    overlay: &'a Overlay,
}

impl Neighbours for Beside<'_> {
    fn names(&self, kind: Kind) -> Vec<String> {
        self.book.names(kind, self.overlay)
    }

    fn path(&self, kind: Kind, name: &str) -> Option<PathBuf> {
        self.book.path(kind, name, self.overlay)
    }
}

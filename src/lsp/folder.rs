//! A workspace with what an editor keeps of it between two edits.

use std::cell::Cell;
use std::path::{Path, PathBuf};

use typst::text::Font;

use crate::check::check;
use crate::cli::{build, gather};
use crate::diagnostic::{Code, Diagnostic};
use crate::lsp::book::{Book, Origin, Overlay, Rests, Seen, stem};
use crate::lsp::view::Snapshot;
use crate::source::{Source, Span};
use crate::syntax::Kind;
use crate::workspace::{FILE, RECIPES, Workspace};

#[derive(Debug)]
pub struct Folder {
    pub workspace: Workspace,
    fonts: Vec<Font>,
    pub book: Book,
    /// The settings and what they name, as they were read.
    stamps: Vec<(PathBuf, Origin)>,
    /// Differs for every reading of every workspace.
    pub epoch: u64,
    /// The editor has been told of the workspace's own faults.
    pub told: Cell<bool>,
}

/// The folder that a path's workspace is known by.
pub fn root_of(path: &Path) -> PathBuf {
    Workspace::root_of(path).unwrap_or_else(|| path.parent().unwrap_or(path).to_path_buf())
}

impl Folder {
    /// Reads the workspace of a file.
    pub fn of(path: &Path, epoch: u64) -> Self {
        let mut workspace = Workspace::of(path);
        // Only a shopping list uses the prices, but a slip in them is told here.
        let _ = workspace.prices();
        let mut fonts = Vec::new();
        match build::further_fonts(&workspace) {
            Ok(found) => fonts = found,
            Err(failure) => {
                // The same words as on the command line, at the head of the settings.
                let file = settings(&workspace);
                if let Ok((source, _)) = crate::workspace::read_text(&file, &crate::workspace::shown(&file)) {
                    let message = Diagnostic::new(Code::WorkspaceTableError, Span::default(), failure.0);
                    workspace.faults.push(crate::workspace::Fault { source, diagnostics: vec![message] });
                }
            }
        }
        let stamps = named(&workspace).into_iter().map(|path| (path.clone(), Origin::on_disk(&path))).collect();
        let book = Book::new(workspace.recipes());
        Self { workspace, fonts, book, stamps, epoch, told: Cell::new(false) }
    }

    /// Whether the settings and all they name are as they were read.
    pub fn current(&self) -> bool {
        self.stamps.iter().all(|(path, origin)| *origin == Origin::on_disk(path))
    }

    /// Checks one open document.
    pub fn check(&self, path: &Path, kind: Kind, source: Source, overlay: &Overlay) -> Snapshot {
        let stem = stem(path);
        // A dish may not be made of itself; a menu may be called like one.
        let own = if kind == Kind::Dish { stem.as_str() } else { "" };
        let seen = Seen::new(&self.book, &self.workspace.reference, overlay, own);
        let mut checked = check(source, kind, &stem, &self.workspace.reference, &seen);
        gather::texts(&mut checked, &self.workspace, &self.workspace.settings.languages, &self.fonts);
        let mut rests = seen.into_rests();
        rests.files.insert(path.to_path_buf(), Origin::of(path, overlay));
        Snapshot { checked, rests, epoch: self.epoch }
    }

    pub fn is_current(&self, snapshot: &Snapshot, overlay: &Overlay) -> bool {
        let rests: &Rests = &snapshot.rests;
        snapshot.epoch == self.epoch && self.book.current(rests, overlay)
    }
}

fn settings(workspace: &Workspace) -> PathBuf {
    let below = workspace.root.join(RECIPES).join(FILE);
    let at_root = workspace.root.join(FILE);
    if !at_root.is_file() && below.is_file() { below } else { at_root }
}

/// Every file that a change of would change the workspace, there or not.
fn named(workspace: &Workspace) -> Vec<PathBuf> {
    let root = &workspace.root;
    let settings = &workspace.settings;
    let mut files = vec![root.join(FILE), root.join(RECIPES).join(FILE)];
    let lists = settings.larder.iter().chain(&settings.tables).chain(&settings.fonts);
    for entry in lists.chain(&settings.profile).chain(&settings.prices) {
        files.push(root.join(&entry.value));
        files.push(root.join(RECIPES).join(&entry.value));
    }
    files
}

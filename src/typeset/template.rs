//! A template is a folder: a manifest, `template.toml`, and the files its
//! pages are made from. The built-in ones are compiled in; a workspace may
//! bring its own. A template sees its folder, the shared drawings, `data.json`
//! and the card's picture, and nothing else.

use std::collections::{BTreeMap, HashMap};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use serde::Deserialize;
use typst::foundations::Bytes;
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};

use super::fonts;
use crate::graph::Content;
use crate::workspace::shown;

/// Name of the manifest.
pub const MANIFEST: &str = "template.toml";
/// Name under which a template reads what it prints.
pub const DATA: &str = "data.json";
/// Most files of a template's folder.
pub const MOST_FILES: usize = 64;
/// Most bytes of one file of it.
pub const MOST_BYTES: u64 = 2 << 20;
/// Endings of the files a template may have.
const ENDINGS: [&str; 9] = ["typ", "toml", "json", "csv", "txt", "svg", "png", "jpg", "jpeg"];
/// For the parser of typst, which calls itself for what is nested.
const STACK: usize = 16 << 20;
/// Most spacings that are tried for one card.
const MOST_SPACINGS: u8 = 8;

macro_rules! folder {
    ($name:literal: $($file:literal),+) => {
        ($name, &[$(($file, include_str!(concat!("../../templates/", $name, "/", $file)))),+])
    };
}

/// The built-in templates and their files.
const BUILT_IN: &[(&str, &[(&str, &str)])] = &[
    folder!("booklet": "template.toml", "booklet.typ"),
    folder!("card": "template.toml", "card.typ"),
    folder!("demonstration": "template.toml", "demonstration.typ"),
    folder!("menu": "template.toml", "menu.typ"),
    folder!("pocket": "template.toml", "pocket.typ"),
    folder!("wall": "template.toml", "wall.typ"),
    folder!("web": "template.toml", "drawings-one-by-one.typ"),
];

/// Folders as templates see them: where the shared files are at home, and where
/// a template stands that did not come with the program.
const HOME: &str = "card";
const OWN: &str = "template";

/// Files that every template may import, unless it has its own of that name.
const SHARED: &[(&str, &str)] = &[
    ("drawings.typ", include_str!("../../templates/card/drawings.typ")),
    ("parts.typ", include_str!("../../templates/card/parts.typ")),
];

/// What a template says of itself.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Manifest {
    pub name: String,
    pub description: String,
    /// The file that is compiled.
    pub entry: String,
    /// Name and version of the data it reads.
    pub data: String,
    /// Papers it is made for; the first is its own.
    pub papers: Vec<String>,
    /// Sides it has to fit on; left out: any number.
    #[serde(default)]
    pub sides: Option<usize>,
    /// The same on papers where it differs.
    #[serde(default)]
    pub sides_on: BTreeMap<String, usize>,
    /// Steps of spacing it knows, from 0, the most generous.
    #[serde(default = "one")]
    pub spacings: u8,
}

impl Manifest {
    /// Sides that a card may take on a paper.
    pub fn sides(&self, paper: &str) -> Option<usize> {
        self.sides_on.get(paper).copied().or(self.sides)
    }
}

fn one() -> u8 {
    1
}

/// A template with its files at hand.
#[derive(Debug, Clone)]
pub struct Template {
    pub manifest: Manifest,
    /// It came with the program, so nobody has to guard against it.
    pub built_in: bool,
    /// Of all its own files, by name.
    pub content: Content,
    /// Where its own files stand; none for a built-in template.
    pub places: Vec<PathBuf>,
    folder: String,
    pub(super) main: FileId,
    sources: HashMap<FileId, Page>,
    pub(super) files: HashMap<FileId, Bytes>,
}

/// A file of typst, read when the first card is set: a build in which nothing
/// changed needs none. Copies of a template share what was read.
#[derive(Debug, Clone)]
struct Page {
    text: String,
    source: Arc<OnceLock<Source>>,
}

impl Page {
    fn read(&self, id: FileId) -> &Source {
        self.source.get_or_init(|| Source::new(id, self.text.clone()))
    }
}

/// Names of the built-in templates that read some kind of data.
pub fn names(data: &str) -> impl Iterator<Item = &'static str> {
    BUILT_IN
        .iter()
        .map(|(name, _)| *name)
        .filter(move |name| Template::built_in(name).is_some_and(|template| template.manifest.data == data))
}

/// Place of a file in the folder that templates see.
fn id(path: &str) -> Option<FileId> {
    VirtualPath::new(path).ok().map(|path| RootedPath::new(VirtualRoot::Project, path).intern())
}

impl Template {
    /// A built-in template by its name.
    pub fn built_in(name: &str) -> Option<Self> {
        let (_, files) = BUILT_IN.iter().find(|(own, _)| *own == name)?;
        let files = files.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect();
        // A test reads every built-in template.
        Self::new(name, files, true).ok()
    }

    /// A template from a folder.
    ///
    /// # Errors
    /// In words: what is wrong with the folder or its manifest.
    pub fn from_folder(folder: &Path) -> Result<Self, String> {
        let mut files = Vec::new();
        gather(folder, "", &mut files)?;
        let places = files.iter().map(|(name, _)| folder.join(name)).collect();
        Self::new(OWN, files, false)
            .map(|template| Self { places, ..template })
            .map_err(|fault| format!("`{}` is no template: {fault}", shown(&folder.join(MANIFEST))))
    }

    fn new(folder: &str, files: Vec<(String, Vec<u8>)>, built_in: bool) -> Result<Self, String> {
        let manifest = files.iter().find(|(name, _)| name == MANIFEST).ok_or("it is not there")?;
        let manifest = std::str::from_utf8(&manifest.1).map_err(|_| "it is not UTF-8 text")?;
        let manifest: Manifest = toml::from_str(manifest).map_err(|error| {
            let line = error.span().map_or(1, |span| manifest.get(..span.start).unwrap_or_default().lines().count());
            format!("line {}: {}", line.max(1), error.message().lines().next().unwrap_or_default())
        })?;
        if !(1..=MOST_SPACINGS).contains(&manifest.spacings) {
            return Err(format!("`spacings` is 1 to {MOST_SPACINGS}"));
        }
        if manifest.sides == Some(0) || manifest.sides_on.values().any(|sides| *sides == 0) {
            return Err("`sides` is 1 or more".to_owned());
        }
        for paper in manifest.papers.iter().chain(manifest.sides_on.keys()) {
            if !crate::workspace::settings::PAPERS.contains(&paper.as_str()) {
                return Err(format!(
                    "`{paper}` is no paper; there are {}",
                    crate::workspace::settings::PAPERS.join(", ")
                ));
            }
        }
        if manifest.papers.is_empty() {
            return Err("`papers` names at least one".to_owned());
        }
        let main = id(&format!("{folder}/{}", manifest.entry)).ok_or("`entry` is no file name")?;
        let mut template = Self {
            manifest,
            built_in,
            content: Content::of_data(
                &files.iter().map(|(name, bytes)| (name, Content::of(bytes))).collect::<Vec<_>>(),
            ),
            places: Vec::new(),
            folder: folder.to_owned(),
            main,
            sources: HashMap::new(),
            files: HashMap::new(),
        };
        let bytes = |(name, text): &(&str, &str)| ((*name).to_owned(), text.as_bytes().to_vec());
        let beside = SHARED.iter().map(bytes).map(|(name, bytes)| (format!("{folder}/{name}"), bytes));
        let at_home = SHARED.iter().map(bytes).map(|(name, bytes)| (format!("{HOME}/{name}"), bytes));
        let own = files.into_iter().map(|(name, bytes)| (format!("{folder}/{name}"), bytes));
        // The folder's own file of a shared name comes later and wins.
        for (name, bytes) in at_home.chain(beside).chain(own) {
            let place = id(&name).ok_or_else(|| format!("`{name}` is no file name"))?;
            if name.ends_with(".typ") {
                let text = String::from_utf8(bytes).map_err(|_| format!("`{name}` is not UTF-8 text"))?;
                template.sources.insert(place, Page { text, source: Arc::default() });
            } else {
                template.files.insert(place, Bytes::new(bytes));
            }
        }
        if !template.sources.contains_key(&main) {
            return Err(format!("`entry` names `{}`, which is no .typ file of the folder", template.manifest.entry));
        }
        Ok(template)
    }

    /// A file of typst.
    pub(super) fn source(&self, id: FileId) -> Option<Source> {
        Some(self.sources.get(&id)?.read(id).clone())
    }

    /// Begins to read what the first card will want, fonts and files, while the
    /// documents are still being checked. For a caller that knows there will be
    /// a card: it takes a thread of its own.
    pub fn ahead(&self) {
        let template = self.clone();
        let read = move || {
            fonts::bundled();
            // The file that is compiled is wanted first.
            template.source(template.main);
            template.sources.iter().for_each(|(id, page)| _ = page.read(*id));
        };
        // Where no thread is to be had, the first card reads them itself.
        let _ = std::thread::Builder::new().stack_size(STACK).spawn(read);
    }

    /// Place of a file beside the template's own.
    pub(super) fn place(&self, name: &str) -> Option<FileId> {
        id(&format!("{}/{name}", self.folder))
    }

    /// Whether it is made for a paper.
    pub fn takes(&self, paper: &str) -> bool {
        self.manifest.papers.iter().any(|own| own == paper)
    }

    /// The paper of a card: the one asked for where the template is made for
    /// it, else the template's own.
    pub fn paper(&self, wanted: &str) -> String {
        if self.takes(wanted) {
            return wanted.to_owned();
        }
        self.manifest.papers.first().cloned().unwrap_or_default()
    }
}

/// Reads the files of a folder. Links are not followed: they could lead out.
fn gather(folder: &Path, prefix: &str, files: &mut Vec<(String, Vec<u8>)>) -> Result<(), String> {
    let trouble = |error: std::io::Error| format!("the template `{}` cannot be read: {error}", shown(folder));
    let mut entries: Vec<_> = fs::read_dir(folder).map_err(trouble)?.filter_map(Result::ok).collect();
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        let Ok(name) = entry.file_name().into_string() else { continue };
        if name.starts_with('.') {
            continue;
        }
        let kind = entry.file_type().map_err(trouble)?;
        let place = format!("{prefix}{name}");
        if kind.is_dir() && prefix.is_empty() {
            gather(&entry.path(), &format!("{name}/"), files)?;
        } else if kind.is_file() {
            let ending = Path::new(&name).extension().and_then(|ending| ending.to_str()).unwrap_or_default();
            if !ENDINGS.contains(&ending.to_ascii_lowercase().as_str()) || place == DATA {
                continue;
            }
            let size = entry.metadata().map_err(trouble)?.len();
            if size > MOST_BYTES {
                return Err(format!(
                    "`{}` has {} MB; a file of a template has at most {} MB",
                    shown(&entry.path()),
                    size >> 20,
                    MOST_BYTES >> 20
                ));
            }
            if files.len() == MOST_FILES {
                return Err(format!("the template has more than {MOST_FILES} files"));
            }
            files.push((place, fs::read(entry.path()).map_err(trouble)?));
        }
    }
    Ok(())
}

//! A folder of recipes with its settings: the one place, beside typesetting
//! and the command line, that touches the outside world.
//!
//! `porringer.toml` stands at the workspace's root or in its `recipes` folder
//! and is found upwards from a file. Every key may be left out.

pub mod revision;
pub mod rules;
pub mod season;
pub mod settings;
pub mod shelf;

use std::fs;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use crate::diagnostic::{Code, Diagnostic, Sink, quote};
use crate::graph::Content;
use crate::reference::Reference;
use crate::reference::larder::row::LarderFile;
use crate::reference::larder::{Foods, Larder};
use crate::reference::price::PriceList;
use crate::reference::profile::Profile;
use crate::reference::season::Seasons;
use crate::reference::table::Table;
use crate::source::{Source, Span};

pub use settings::Settings;
pub use shelf::Shelf;

/// Name of the settings file.
pub const FILE: &str = "porringer.toml";
/// Folder that `build` takes by default.
pub const RECIPES: &str = "recipes";

/// A workspace with its tables loaded.
#[derive(Debug)]
pub struct Workspace {
    pub root: PathBuf,
    pub settings: Settings,
    pub reference: Reference,
    /// Faults of the settings file and of what it names.
    pub faults: Vec<Fault>,
    /// The settings file and the tables and profile that were read, with what
    /// was read. The price list is none of them: no card rests on it.
    pub read: Vec<(PathBuf, Content)>,
}

/// A file outside the recipes that has faults.
#[derive(Debug)]
pub struct Fault {
    pub source: Source,
    pub diagnostics: Vec<Diagnostic>,
}

/// Largest file that is read at all.
const LARGEST: u64 = 256 << 20;

/// Reads a text file; bytes that are not UTF-8 are one message and the rest
/// is read on with a mark in their place.
pub fn read_text(path: &Path, name: &str) -> std::io::Result<(Source, Option<Diagnostic>)> {
    // A device or a pipe has no end to wait for.
    let meta = fs::metadata(path)?;
    if !meta.is_file() {
        return Err(std::io::Error::new(std::io::ErrorKind::InvalidInput, "it is no file"));
    }
    if meta.len() > LARGEST {
        return Err(std::io::Error::new(std::io::ErrorKind::FileTooLarge, "it is larger than any table"));
    }
    let bytes = fs::read(path)?;
    Ok(text(bytes, name))
}

/// The same for bytes at hand.
pub fn text(bytes: Vec<u8>, name: &str) -> (Source, Option<Diagnostic>) {
    match String::from_utf8(bytes) {
        Ok(text) => (Source::new(name, text), None),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            let message = Diagnostic::new(
                Code::SyntaxNotUtf8,
                Span::new(at, at + '\u{FFFD}'.len_utf8()),
                "from here on the file is not UTF-8 text",
            )
            .help("save the file as UTF-8 in your editor");
            (Source::new(name, text), Some(message))
        }
    }
}

/// A path as it is shown: relative to the working folder where it lies below,
/// with forward slashes.
pub fn shown(path: &Path) -> String {
    let here = std::env::current_dir().unwrap_or_default();
    let path = path.strip_prefix(&here).unwrap_or(path);
    let path = path.strip_prefix(".").unwrap_or(path);
    path.to_string_lossy().replace('\\', "/")
}

/// The built-in tables, on the day that `SOURCE_DATE_EPOCH` names, else today.
fn dated() -> Reference {
    let stated = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|seconds| seconds.trim().parse::<i64>().ok());
    let now = || {
        let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).ok()?;
        i64::try_from(since.as_secs()).ok()
    };
    let mut reference = Reference::default();
    let moment = stated.or_else(now).and_then(|seconds| time::OffsetDateTime::from_unix_timestamp(seconds).ok());
    reference.practice.today = moment.map(time::OffsetDateTime::date);
    reference
}

impl Workspace {
    /// The workspace that a file or folder belongs to.
    pub fn of(path: &Path) -> Self {
        let folder = Self::folder_of(path);
        match Self::settings_above(&folder) {
            Some(file) => Self::load(&file),
            None => {
                let root = Self::plain_root(folder);
                Self { root, settings: Settings::default(), reference: dated(), faults: Vec::new(), read: Vec::new() }
            }
        }
    }

    /// The root of the workspace that a path belongs to, without loading it.
    /// Files without any settings belong to one and the same.
    pub fn root_of(path: &Path) -> Option<PathBuf> {
        Self::settings_above(&Self::folder_of(path))
            .and_then(|file| file.parent().map(|folder| Self::plain_root(folder.to_path_buf())))
    }

    /// The settings file that a path belongs to, and the workspace's root.
    pub fn settings_file(path: &Path) -> Option<(PathBuf, PathBuf)> {
        let file = Self::settings_above(&Self::folder_of(path))?;
        let root = Self::plain_root(file.parent()?.to_path_buf());
        Some((file, root))
    }

    /// A linked file belongs to the workspace where the link stands.
    fn folder_of(path: &Path) -> PathBuf {
        let folder = if path.is_dir() { path } else { path.parent().unwrap_or(path) };
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        fs::canonicalize(folder).unwrap_or_else(|_| folder.to_path_buf())
    }

    fn settings_above(folder: &Path) -> Option<PathBuf> {
        folder
            .ancestors()
            .flat_map(|above| [above.join(FILE), above.join(RECIPES).join(FILE)])
            .find(|file| file.is_file())
    }

    /// The folder above `recipes`, or the folder itself.
    fn plain_root(folder: PathBuf) -> PathBuf {
        if folder.file_name().is_some_and(|name| name == RECIPES) {
            folder.parent().map(Path::to_path_buf).unwrap_or(folder)
        } else {
            folder
        }
    }

    fn load(file: &Path) -> Self {
        let folder = file.parent().unwrap_or(Path::new("."));
        let root = Self::plain_root(folder.to_path_buf());
        let mut workspace =
            Self { root, settings: Settings::default(), reference: dated(), faults: Vec::new(), read: Vec::new() };
        let (source, fault) = match read_text(file, &shown(file)) {
            Ok(read) => read,
            Err(error) => {
                let source = Source::new(shown(file), "");
                let message = Diagnostic::new(
                    Code::WorkspaceTableError,
                    Span::default(),
                    format!("the file cannot be read: {error}"),
                )
                .help("check that the file is there and that you may read it");
                workspace.faults.push(Fault { source, diagnostics: vec![message] });
                return workspace;
            }
        };
        workspace.note_read(file.to_path_buf(), &source);
        let mut sink = Sink::new();
        if let Some(fault) = fault {
            sink.push(fault);
        }
        workspace.settings = Settings::read(&source, &mut sink);
        workspace.known_languages(&mut sink);
        workspace.load_tables(folder, &mut sink);
        let out = workspace.settings.out.clone();
        if workspace.guard(&workspace.root.join(&out.value)).is_none() {
            sink.push(
                Diagnostic::new(
                    Code::WorkspacePathOutside,
                    out.span,
                    format!("{} leads out of the workspace", quote(&out.value)),
                )
                .help("name a folder inside the workspace, or say `--out` on the command line"),
            );
            workspace.settings.out = Settings::default().out;
        }
        workspace.reference.standard = workspace.settings.measures;
        let seasons = match workspace.settings.season.as_slice() {
            // Nothing is asked of the larder, so it need not be there.
            [] => Seasons::default(),
            lines => season::known(lines, &workspace.reference.larder, &mut sink),
        };
        let practice = &mut workspace.reference.practice;
        practice.seasons = seasons;
        practice.region = workspace.settings.region;
        practice.review_months = workspace.settings.review_months;
        if let Some(language) = workspace.settings.languages.first() {
            practice.language.clone_from(language);
        }
        practice.rules = rules::allowed(&workspace.settings.rules, &workspace.reference.profile, &mut sink);
        let diagnostics = sink.finish();
        if !diagnostics.is_empty() {
            workspace.faults.push(Fault { source, diagnostics });
        }
        workspace
    }

    fn load_tables(&mut self, folder: &Path, sink: &mut Sink) {
        let larders = self.settings.larder.clone();
        for entry in &larders {
            let Some(text) = self.inside(folder, &entry.value, entry.span, Code::WorkspaceTableError, sink) else {
                continue;
            };
            self.note_read(folder.join(&entry.value), &text);
            match toml::from_str::<LarderFile>(&text.text) {
                Ok(file) => {
                    let mut larder = Larder::clone(&self.reference.larder);
                    larder.extend(file.food);
                    self.reference.larder = Foods::Own(Arc::new(larder));
                }
                Err(error) => self.toml_fault(text, &error),
            }
        }
        let tables = self.settings.tables.clone();
        for entry in &tables {
            let Some(text) = self.inside(folder, &entry.value, entry.span, Code::WorkspaceTableError, sink) else {
                continue;
            };
            self.note_read(folder.join(&entry.value), &text);
            self.add_table(text);
        }
        if let Some(entry) = self.settings.profile.clone() {
            let text = self.inside(folder, &entry.value, entry.span, Code::WorkspaceProfileError, sink);
            if let Some(source) = text {
                self.note_read(folder.join(&entry.value), &source);
                let mut sink = Sink::new();
                if let Some(profile) = Profile::read(&source, &mut sink) {
                    self.reference.profile = Arc::new(profile);
                }
                let diagnostics = sink.finish();
                if !diagnostics.is_empty() {
                    self.faults.push(Fault { source, diagnostics });
                }
            }
        }
    }

    /// The price list that the settings name, empty where they name none. Read
    /// on demand: no card rests on it. Its faults join the workspace's.
    pub fn prices(&mut self) -> PriceList {
        let Some(entry) = self.settings.prices.clone() else { return PriceList::default() };
        let folder = self.settings_folder();
        let mut sink = Sink::new();
        let text = self.inside(&folder, &entry.value, entry.span, Code::WorkspaceTableError, &mut sink);
        let faults = sink.finish();
        if !faults.is_empty() {
            let file = folder.join(FILE);
            if let Ok((source, _)) = read_text(&file, &shown(&file)) {
                self.faults.push(Fault { source, diagnostics: faults });
            }
        }
        let Some(source) = text else { return PriceList::default() };
        let mut sink = Sink::new();
        let list = PriceList::read(&source, &mut sink);
        list.check_foods(&self.reference.larder, &mut sink);
        let diagnostics = sink.finish();
        if !diagnostics.is_empty() {
            self.faults.push(Fault { source, diagnostics });
        }
        list
    }

    /// Where the settings file stands.
    fn settings_folder(&self) -> PathBuf {
        let below = self.root.join(RECIPES);
        if !self.root.join(FILE).is_file() && below.join(FILE).is_file() { below } else { self.root.clone() }
    }

    /// A language without a catalogue would make no card.
    fn known_languages(&mut self, sink: &mut Sink) {
        let known: Vec<&str> = crate::card::locale::languages().collect();
        let placed = self.settings.language_spans.clone();
        for entry in &placed {
            if crate::card::Locale::new(&entry.value).is_some() {
                continue;
            }
            let mut message = Diagnostic::new(
                Code::WorkspaceUnknownKey,
                entry.span,
                format!("the card's words are not there in {}", quote(&entry.value)),
            );
            message = match crate::diagnostic::did_you_mean(&entry.value, known.iter().copied()) {
                Some(near) => message.help(format!("did you mean `{near}`?")),
                None => message.help(format!("there are {}", known.join(", "))),
            };
            sink.push(message);
            self.settings.languages.retain(|language| *language != entry.value);
        }
    }

    fn toml_fault(&mut self, source: Source, error: &toml::de::Error) {
        let span = error.span().map_or(Span::default(), |span| Span::new(span.start, span.end));
        let first = error.message().lines().next().unwrap_or_default().to_lowercase();
        let message = Diagnostic::new(Code::WorkspaceTableError, span, first)
            .help("write the larder in the form of the built-in one: `[[food]]` with id, en, row, class and group");
        self.faults.push(Fault { source, diagnostics: vec![message] });
    }

    /// Notes what was read of a file that the dishes rest on.
    pub fn note_read(&mut self, path: PathBuf, source: &Source) {
        self.read.push((path, Content::of(source.text.as_bytes())));
    }

    /// A composition table, from `tables` or `--foods`. Its stem is its name.
    pub fn add_table(&mut self, source: Source) {
        let stem =
            Path::new(&source.name).file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let mut sink = Sink::new();
        let table = Table::read(&stem, &source, &mut sink);
        self.reference.tables.push(Arc::new(table));
        let diagnostics = sink.finish();
        if !diagnostics.is_empty() {
            self.faults.push(Fault { source, diagnostics });
        }
    }

    /// Reads a file that the settings name; it must lie inside the workspace.
    fn inside(&self, folder: &Path, entry: &str, span: Span, code: Code, sink: &mut Sink) -> Option<Source> {
        let path = folder.join(entry);
        match self.guard(&path) {
            Some(path) => match read_text(&path, &shown(&path)) {
                Ok((source, None)) => Some(source),
                Ok((_, Some(_))) => {
                    sink.push(Diagnostic::new(code, span, format!("{} is not UTF-8 text", quote(entry))));
                    None
                }
                Err(error) => {
                    sink.push(
                        Diagnostic::new(code, span, format!("{} cannot be read: {}", quote(entry), error.kind()))
                            .help("correct the path; it counts from the settings file's folder"),
                    );
                    None
                }
            },
            None => {
                sink.push(
                    Diagnostic::new(
                        Code::WorkspacePathOutside,
                        span,
                        format!("{} leads out of the workspace", quote(entry)),
                    )
                    .help("copy the file into the workspace and name it there"),
                );
                None
            }
        }
    }

    /// The path if it stays inside the workspace once links are followed.
    pub fn guard(&self, path: &Path) -> Option<PathBuf> {
        let mut clean = PathBuf::new();
        for part in path.components() {
            match part {
                Component::ParentDir => {
                    if !clean.pop() {
                        return None;
                    }
                }
                Component::CurDir => {}
                other => clean.push(other),
            }
        }
        let root = fs::canonicalize(&self.root).unwrap_or_else(|_| self.root.clone());
        // What is not there yet lies where its nearest folder really is.
        let real = clean.ancestors().find_map(|above| {
            let real = fs::canonicalize(above).ok()?;
            let rest = clean.strip_prefix(above).ok()?;
            Some(if rest.as_os_str().is_empty() { real } else { real.join(rest) })
        })?;
        real.starts_with(&root).then_some(real)
    }

    /// The folder of recipes: `recipes` below the root, else the root.
    pub fn recipes(&self) -> PathBuf {
        let folder = self.root.join(RECIPES);
        if folder.is_dir() { folder } else { self.root.clone() }
    }
}

//! The world a template sees: its own files, the data, a picture, the fonts.
//! No network, no packages, no clock, no other file.

use std::path::PathBuf;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, Source};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::template::Template;

/// What all compilations share.
pub(super) struct Common {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

impl Common {
    pub(super) fn new(fonts: Vec<Font>) -> Self {
        Self {
            library: LazyHash::new(Library::builder().build()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
        }
    }
}

/// One compilation.
pub(super) struct Sight<'a> {
    pub(super) common: &'a Common,
    pub(super) template: &'a Template,
    /// `data.json` and the pictures.
    pub(super) given: Vec<(FileId, Bytes)>,
}

fn not_there(id: FileId) -> FileError {
    match id.root() {
        typst::syntax::VirtualRoot::Package(_) => FileError::Other(Some("packages are not for templates".into())),
        typst::syntax::VirtualRoot::Project => FileError::NotFound(PathBuf::from(id.vpath().get_without_slash())),
    }
}

impl World for Sight<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.common.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.common.book
    }

    fn main(&self) -> FileId {
        self.template.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.template.sources.get(&id).cloned().ok_or_else(|| not_there(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if let Some((_, bytes)) = self.given.iter().find(|(place, _)| *place == id) {
            return Ok(bytes.clone());
        }
        if let Some(bytes) = self.template.files.get(&id) {
            return Ok(bytes.clone());
        }
        self.source(id).map(|source| Bytes::from_string(source.text().to_owned()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.common.fonts.get(index).cloned()
    }

    /// No clock: the same pages on any day.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

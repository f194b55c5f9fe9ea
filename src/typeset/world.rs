//! The world a template sees: its own files, the data, a picture, the fonts.
//! No network, no packages, no clock, no other file.

use std::path::PathBuf;

use typst::Library;
use typst::World;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, Source};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst_as_lib::TypstWorld;

use super::template::Template;

/// One compilation: the engine's library and fonts, and beside them the files
/// of one template and what it prints. The engine's own world would tell a
/// template the time of day, and the same card must be the same pages on any
/// day.
pub(super) struct Sight<'a> {
    pub(super) engine: TypstWorld<'a>,
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
        self.engine.library()
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.engine.book()
    }

    fn main(&self) -> FileId {
        self.template.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.template.source(id).ok_or_else(|| not_there(id))
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
        self.engine.font(index)
    }

    /// No clock: the same pages on any day.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

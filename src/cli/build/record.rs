//! What is kept of a document from its check to the end of a build: little, so
//! that a build of ten thousand needs hardly more memory than one of a thousand.

use std::path::{Path, PathBuf};

use super::sound;
use crate::ast::{Document, Entry};
use crate::check::Checked;
use crate::cli::gather::{self, Report};
use crate::diagnostic::{Diagnostic, Severity};
use crate::graph::Content;
use crate::graph::stamps::{Binds, Unit};
use crate::source::{Source, Span};
use crate::syntax::Kind;
use crate::workspace::{Workspace, read_text, shown};

/// A document of a build.
#[derive(Debug)]
pub struct Record {
    pub path: PathBuf,
    /// Its file as messages name it.
    pub name: String,
    pub kind: Kind,
    /// Empty where it has no card.
    pub id: Option<String>,
    /// Language of its prose.
    pub language: String,
    pub title: Span,
    /// Content of its text as it was checked.
    pub text: Content,
    /// Unknown where its file changed while it was read.
    pub standing: Option<Content>,
    /// It was not checked again.
    pub stood: bool,
    /// For booklets.
    pub binds: Option<Binds>,
    /// Without notes, which a build does not print.
    pub messages: Vec<Diagnostic>,
    /// Shows the places of the messages, where there are some.
    source: Option<Source>,
}

impl Record {
    /// Of a document that is not checked again, with what it was told.
    pub fn of_unit(path: &Path, unit: Unit) -> Self {
        Self {
            path: path.to_path_buf(),
            name: shown(path),
            kind: unit.kind,
            id: unit.id,
            language: unit.language,
            title: unit.title,
            text: unit.own,
            standing: Some(unit.standing),
            stood: true,
            binds: unit.binds,
            messages: unit.messages,
            source: None,
        }
    }

    /// Of one that was checked.
    pub fn of_checked(path: &Path, file: &Checked, standing: Option<Content>, workspace: &Workspace) -> Self {
        let messages = worth_saying(&file.diagnostics);
        Self {
            path: path.to_path_buf(),
            name: file.source.name.clone(),
            kind: file.tree.kind,
            id: file.id().map(str::to_owned),
            language: gather::own_language(&file.document, workspace),
            title: file.title().map(|title| title.span).unwrap_or_default(),
            text: Content::of(file.source.text.as_bytes()),
            standing,
            stood: false,
            binds: binds(file),
            source: (!messages.is_empty()).then(|| file.source.clone()),
            messages,
        }
    }

    /// Whether a card may be made of it.
    pub fn sound(&self, denied: bool) -> bool {
        sound(&self.messages, denied)
    }

    /// A message in its place among the others. `source` is the document's
    /// text, where it is at hand.
    pub fn add(&mut self, message: Diagnostic, source: Option<&Source>) {
        self.messages.push(message);
        self.messages.sort_by_key(|message| (message.span.start, message.message.clone()));
        if self.source.is_none() {
            self.source = source.cloned();
        }
    }

    /// Adds its messages to a report.
    pub fn report(&self, report: &mut Report) {
        if self.messages.is_empty() {
            return;
        }
        match &self.source {
            Some(source) => report.add(source, &self.messages),
            None => {
                // Another text would be marked at wrong places.
                let text = read_text(&self.path, &self.name).ok().map(|(source, _)| source);
                let text = text.filter(|source| Content::of(source.text.as_bytes()) == self.text);
                report.add(&text.unwrap_or_else(|| Source::new(self.name.clone(), "")), &self.messages);
            }
        }
    }
}

/// The messages that a build prints.
pub fn worth_saying(messages: &[Diagnostic]) -> Vec<Diagnostic> {
    messages.iter().filter(|message| message.severity > Severity::Note).cloned().collect()
}

/// What a booklet is called, and the pages that it lists.
pub fn binds(file: &Checked) -> Option<Binds> {
    let Document::Booklet(booklet) = &file.document else { return None };
    let id = super::booklet::id(booklet, &file.source.name);
    let pages = booklet.entries.iter().filter_map(|entry| match entry {
        Entry::Page { menu, slug } => Some((*menu, slug.value.clone())),
        Entry::Section(_) | Entry::Annex(_) => None,
    });
    Some(Binds { id, pages: pages.collect() })
}

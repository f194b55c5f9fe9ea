//! What a feature may look at.

use std::path::PathBuf;

use crate::check::Checked;
use crate::lsp::book::Rests;
use crate::reference::Reference;
use crate::source::Span;
use crate::syntax::Kind;
use crate::workspace::Workspace;

/// A checked document and what its check rests on.
#[derive(Debug)]
pub struct Snapshot {
    pub checked: Checked,
    pub rests: Rests,
    pub epoch: u64,
}

/// The documents beside the one at hand.
pub trait Neighbours {
    /// Names of the workspace's dishes or menus, in order.
    fn names(&self, kind: Kind) -> Vec<String>;
    /// Where the document of a name stands.
    fn path(&self, kind: Kind, name: &str) -> Option<PathBuf>;
}

/// A document by itself.
#[derive(Debug)]
pub struct Alone;

impl Neighbours for Alone {
    fn names(&self, _: Kind) -> Vec<String> {
        Vec::new()
    }

    fn path(&self, _: Kind, _: &str) -> Option<PathBuf> {
        None
    }
}

/// A checked document, the tables it was checked with, and its neighbours.
#[derive(Clone, Copy)]
pub struct View<'a> {
    pub checked: &'a Checked,
    pub workspace: &'a Workspace,
    pub neighbours: &'a dyn Neighbours,
}

impl<'a> View<'a> {
    pub fn reference(&self) -> &'a Reference {
        &self.workspace.reference
    }

    pub fn kind(&self) -> Kind {
        self.checked.tree.kind
    }

    pub fn text(&self) -> &'a str {
        &self.checked.source.text
    }

    pub fn slice(&self, span: Span) -> &'a str {
        self.checked.source.slice(span)
    }
}

/// Whether a place is in a span or right behind it, where a cursor stands
/// after typing.
pub fn touches(span: Span, byte: usize) -> bool {
    span.start <= byte && byte <= span.end
}

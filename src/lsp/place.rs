//! The line that a cursor stands in, as far as it is written.

use crate::lsp::view::View;
use crate::source::Span;
use crate::syntax::NodeKind;

/// A line up to the cursor; it may go on over several lines of text.
#[derive(Debug, Clone, Copy)]
pub struct Place<'a> {
    pub keyword: &'a str,
    /// Where the keyword stands.
    pub keyword_span: Span,
    /// From behind the keyword to the cursor.
    pub before: &'a str,
    /// Where that begins.
    pub start: usize,
    /// From the cursor to the end of the line of text.
    pub ahead: &'a str,
    pub cursor: usize,
}

impl<'a> Place<'a> {
    /// `None` on a line without a keyword: blank, or a comment.
    pub fn of(view: &View<'a>, byte: usize) -> Option<Self> {
        let text = view.text();
        let nodes = &view.checked.tree.nodes;
        let node = nodes.iter().find(|node| node.span.start <= byte && byte < node.span.end).or_else(|| {
            // The end of the text belongs to a last line that has no end.
            nodes.last().filter(|node| byte == node.span.end && !view.slice(node.span).ends_with(['\n', '\r']))
        })?;
        if node.kind == NodeKind::Skip {
            return None;
        }
        let line = view.slice(node.span);
        let first = line.len() - line.trim_start().len();
        let word = line.split_whitespace().next().unwrap_or_default();
        let keyword_span = Span::new(node.span.start + first, node.span.start + first + word.len());
        let start = keyword_span.end.min(byte);
        let before = text.get(start..byte).unwrap_or_default();
        let ahead = text.get(byte..).unwrap_or_default().split(['\n', '\r']).next().unwrap_or_default();
        Some(Self { keyword: word, keyword_span, before, start, ahead, cursor: byte })
    }

    /// The piece behind the last match of a mark, without the blanks before it.
    pub fn piece(&self, offset: usize) -> Piece<'a> {
        let rest = self.before.get(offset..).unwrap_or_default();
        let trimmed = rest.trim_start();
        Piece { text: trimmed, start: self.start + offset + (rest.len() - trimmed.len()) }
    }
}

/// Some of the text before the cursor, to the cursor.
#[derive(Debug, Clone, Copy)]
pub struct Piece<'a> {
    pub text: &'a str,
    pub start: usize,
}

impl<'a> Piece<'a> {
    pub fn from(self, offset: usize) -> Piece<'a> {
        let rest = self.text.get(offset..).unwrap_or_default();
        let trimmed = rest.trim_start();
        Piece { text: trimmed, start: self.start + offset + (rest.len() - trimmed.len()) }
    }

    /// From the piece to the cursor.
    pub fn span(self) -> Span {
        Span::new(self.start, self.start + self.text.len())
    }
}

/// Words with their offsets.
pub fn words(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut start = None;
    for (at, character) in text.char_indices() {
        match (character.is_whitespace(), start) {
            (false, None) => start = Some(at),
            (true, Some(from)) => {
                found.push((from, text.get(from..at).unwrap_or_default()));
                start = None;
            }
            _ => {}
        }
    }
    if let Some(from) = start {
        found.push((from, text.get(from..).unwrap_or_default()));
    }
    found
}

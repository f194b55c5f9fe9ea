//! Source text: files, byte spans and the line index that turns a byte
//! offset into a line and a column.

use std::ops::Range;
use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

/// Half-open range of bytes in one source text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, serde::Serialize, serde::Deserialize)]
pub struct Span {
    pub start: usize,
    pub end: usize,
}

impl Span {
    pub fn new(start: usize, end: usize) -> Self {
        Self { start, end }
    }

    pub fn range(self) -> Range<usize> {
        self.start..self.end
    }

    /// The smallest span that holds both.
    pub fn to(self, other: Span) -> Span {
        Span::new(self.start.min(other.start), self.end.max(other.end))
    }
}

/// A value and where it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spanned<T> {
    pub value: T,
    pub span: Span,
}

impl<T> Spanned<T> {
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }
}

/// A place for people: line and column count from one. The column counts
/// what a reader sees as characters (grapheme clusters), not bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    pub line: usize,
    pub column: usize,
    pub byte: usize,
}

/// One file's text with the name it is shown under.
#[derive(Debug, Clone)]
pub struct Source {
    pub name: String,
    pub text: Arc<str>,
    line_starts: Arc<[usize]>,
}

impl Source {
    pub fn new(name: impl Into<String>, text: impl Into<Arc<str>>) -> Self {
        let text: Arc<str> = text.into();
        let bytes = text.as_bytes();
        let mut starts = vec![0];
        for (at, byte) in bytes.iter().enumerate() {
            // A lone carriage return ends a line too, as in the grammar.
            let ends = *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
            if ends {
                starts.push(at + 1);
            }
        }
        Self { name: name.into(), text, line_starts: starts.into() }
    }

    /// The text of a span; empty where the span is not inside the text.
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or_default()
    }

    /// Where the line of a byte begins.
    pub fn line_start(&self, byte: usize) -> usize {
        let line = self.line_starts.partition_point(|start| *start <= byte.min(self.text.len()));
        self.line_starts.get(line.saturating_sub(1)).copied().unwrap_or(0)
    }

    /// What stands before a byte in its line. A byte order mark is no character
    /// of the line.
    fn before(&self, byte: usize) -> &str {
        let before = self.text.get(self.line_start(byte)..byte).unwrap_or_default();
        before.strip_prefix('\u{FEFF}').unwrap_or(before)
    }

    /// The line, counted from 0, in which a byte stands.
    pub fn line_at(&self, byte: usize) -> usize {
        self.line_starts.partition_point(|start| *start <= byte.min(self.text.len())).saturating_sub(1)
    }

    /// A line, counted from 0, with what ends it.
    pub fn line(&self, line: usize) -> Option<Span> {
        let start = *self.line_starts.get(line)?;
        Some(Span::new(start, self.line_starts.get(line + 1).copied().unwrap_or(self.text.len())))
    }

    pub fn place(&self, byte: usize) -> Place {
        let byte = byte.min(self.text.len());
        let line = self.line_starts.partition_point(|start| *start <= byte);
        let column = self.before(byte).graphemes(true).count();
        Place { line, column: column + 1, byte }
    }

    /// Unicode code points before a byte in its line, for programs that count
    /// so.
    pub fn code_points(&self, byte: usize) -> usize {
        self.before(byte.min(self.text.len())).chars().count()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    #[test]
    fn places_count_lines_and_graphemes() {
        let source = Source::new("a", "ab\r\ncé\u{301}f\rg");
        let at = |byte| {
            let place = source.place(byte);
            (place.line, place.column)
        };
        assert_eq!(at(0), (1, 1));
        assert_eq!(at(4), (2, 1));
        assert_eq!(at(source.text.find('f').unwrap()), (2, 3));
        assert_eq!(at(source.text.len()), (3, 2));
    }
}

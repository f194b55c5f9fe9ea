//! Bytes of a text to the lines and columns that an editor counts, and back.

use lsp_types::{Position, Range};

use crate::source::{Source, Span};

/// What one column is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Encoding {
    Utf8,
    Utf16,
}

impl Encoding {
    /// The word of the protocol.
    pub fn word(self) -> &'static str {
        match self {
            Self::Utf8 => "utf-8",
            Self::Utf16 => "utf-16",
        }
    }

    /// Columns that a text takes.
    pub fn columns(self, text: &str) -> u32 {
        let count = match self {
            Self::Utf8 => text.len(),
            Self::Utf16 => text.encode_utf16().count(),
        };
        u32::try_from(count).unwrap_or(u32::MAX)
    }
}

/// The place of a byte. A byte inside a character stands for its first one.
pub fn position(source: &Source, byte: usize, encoding: Encoding) -> Position {
    let byte = floor(&source.text, byte);
    let line = source.line_at(byte);
    let start = source.line(line).map_or(0, |span| span.start);
    let before = source.text.get(start..byte).unwrap_or_default();
    Position::new(u32::try_from(line).unwrap_or(u32::MAX), encoding.columns(before.trim_end_matches(['\r', '\n'])))
}

/// The byte of a place. What lies behind the end of a line is its end, what
/// lies behind the last line is the end of the text.
pub fn byte(source: &Source, place: Position, encoding: Encoding) -> usize {
    let Some(line) = source.line(place.line as usize) else {
        return source.text.len();
    };
    let body = source.slice(line).trim_end_matches(['\r', '\n']);
    let mut columns = 0;
    for (at, character) in body.char_indices() {
        let width = match encoding {
            Encoding::Utf8 => character.len_utf8(),
            Encoding::Utf16 => character.len_utf16(),
        };
        columns += width;
        if columns > place.character as usize {
            return line.start + at;
        }
    }
    line.start + body.len()
}

pub fn range(source: &Source, span: Span, encoding: Encoding) -> Range {
    Range::new(position(source, span.start, encoding), position(source, span.end, encoding))
}

pub fn span(source: &Source, range: Range, encoding: Encoding) -> Span {
    let start = byte(source, range.start, encoding);
    Span::new(start, byte(source, range.end, encoding).max(start))
}

fn floor(text: &str, byte: usize) -> usize {
    let mut byte = byte.min(text.len());
    while !text.is_char_boundary(byte) {
        byte -= 1;
    }
    byte
}

//! A message as the preview page shows it: with the line that it is about,
//! parted at the marks. Control characters are shown, never obeyed; the page
//! sets all of it as text.

use serde::Serialize;

use crate::diagnostic::render::visible;
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::{Source, Span};

/// Longest piece of a line that is shown, in characters.
const LONGEST: usize = 200;

#[derive(Debug, Clone, Serialize)]
pub struct Message {
    pub severity: Severity,
    pub code: &'static str,
    pub message: String,
    pub help: Option<String>,
    pub file: String,
    pub line: usize,
    pub column: usize,
    pub excerpt: Excerpt,
    pub related: Vec<Related>,
}

/// The first line of a fault, in three pieces; the middle one is marked.
#[derive(Debug, Clone, Serialize)]
pub struct Excerpt {
    pub before: String,
    pub marked: String,
    pub after: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct Related {
    pub line: usize,
    pub text: String,
}

impl Message {
    pub fn new(diagnostic: &Diagnostic, source: &Source) -> Self {
        let place = source.place(diagnostic.span.start);
        Self {
            severity: diagnostic.severity,
            code: diagnostic.code.name(),
            message: visible(&diagnostic.message),
            help: diagnostic.help.as_deref().map(visible),
            file: visible(&source.name),
            line: place.line,
            column: place.column,
            excerpt: excerpt(source, diagnostic.span),
            related: diagnostic
                .labels
                .iter()
                .map(|label| Related { line: source.place(label.span.start).line, text: visible(&label.text) })
                .collect(),
        }
    }
}

fn excerpt(source: &Source, span: Span) -> Excerpt {
    let start = source.line_start(span.start);
    let rest = source.text.get(start..).unwrap_or_default();
    let line = rest.split(['\n', '\r']).next().unwrap_or_default();
    let at = |byte: usize| {
        let mut byte = byte.saturating_sub(start).min(line.len());
        while !line.is_char_boundary(byte) {
            byte -= 1;
        }
        byte
    };
    let (from, to) = (at(span.start), at(span.end.max(span.start)));
    let piece = |from: usize, to: usize| visible(line.get(from..to).unwrap_or_default());
    let (before, marked, after) = (piece(0, from), piece(from, to), piece(to, line.len()));
    let first = |text: &str| -> String {
        let cut = text.chars().count() > LONGEST;
        text.chars().take(LONGEST).chain(cut.then_some('…')).collect()
    };
    let last = |text: &str| -> String {
        let over = text.chars().count().saturating_sub(LONGEST);
        (over > 0).then_some('…').into_iter().chain(text.chars().skip(over)).collect()
    };
    Excerpt { before: last(&before), marked: first(&marked), after: first(&after) }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_parted_at_its_mark() {
        let text = "dish A\r\nstep boyl\u{1b} x\rtake y\n";
        let source = Source::new("a.dish", text);
        let start = text.find("boyl").unwrap();
        let parts = excerpt(&source, Span::new(start, start + 4));
        assert_eq!((parts.before.as_str(), parts.marked.as_str(), parts.after.as_str()), ("step ", "boyl", "? x"));
        // A mark over several lines is shown on the first.
        let parts = excerpt(&source, Span::new(start, text.len()));
        assert_eq!((parts.marked.as_str(), parts.after.as_str()), ("boyl? x", ""));
        let parts = excerpt(&source, Span::new(text.len(), text.len()));
        assert_eq!((parts.before.as_str(), parts.marked.as_str()), ("", ""));
    }

    #[test]
    fn a_long_line_is_cut_about_its_mark() {
        let text = format!("{}mark{}", "é".repeat(1000), "x".repeat(1000));
        let source = Source::new("a.dish", text.as_str());
        let parts = excerpt(&source, Span::new(2000, 2004));
        assert_eq!(parts.marked, "mark");
        assert_eq!(parts.before.chars().count(), LONGEST + 1);
        assert!(parts.before.starts_with('…') && parts.after.ends_with('…'));
    }
}

//! For a person at a terminal: the line, a mark under the fault, and what to
//! do about it.

use std::fmt;
use std::sync::Arc;

use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceSpan};

use super::{FileMessages, visible};
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::Span;

/// How the output is to look.
#[derive(Debug, Clone, Copy)]
pub struct Look {
    pub colour: bool,
    pub unicode: bool,
    pub width: usize,
}

struct Shown<'a> {
    diagnostic: &'a Diagnostic,
    message: String,
    labels: Vec<LabeledSpan>,
    source: NamedSource<Arc<String>>,
}

impl fmt::Debug for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Shown<'_> {}

impl miette::Diagnostic for Shown<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.diagnostic.code.name()))
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(match self.diagnostic.severity {
            Severity::Error => miette::Severity::Error,
            Severity::Warning => miette::Severity::Warning,
            Severity::Note => miette::Severity::Advice,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.diagnostic.help.as_ref().map(|help| Box::new(visible(help)) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        Some(&self.source)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }
}

pub fn render(file: &FileMessages<'_>, look: Look, out: &mut String) {
    let theme = match (look.unicode, look.colour) {
        (true, true) => GraphicalTheme::unicode(),
        (true, false) => GraphicalTheme::unicode_nocolor(),
        (false, _) => GraphicalTheme::none(),
    };
    let handler = GraphicalReportHandler::new_themed(theme).with_width(look.width).with_context_lines(1);
    let text = Arc::new(visible(&file.source.text));
    // A mark at the very end would have no line to stand under.
    let last = text.trim_end().len().saturating_sub(1);
    for (at, diagnostic) in file.diagnostics.iter().enumerate() {
        let too_many = at.saturating_mul(text.len()) > MOST_LOOKED_THROUGH;
        if too_many || longest_line_near(&text, diagnostic) > LONGEST_LINE {
            // A screen cannot show such a line, and nobody reads so many: the
            // place has to do.
            let one = FileMessages { source: file.source, diagnostics: std::slice::from_ref(diagnostic) };
            super::short::render(&one, out);
            if let Some(help) = &diagnostic.help {
                out.push_str("  help: ");
                out.push_str(&visible(help));
                out.push('\n');
            }
            out.push('\n');
            continue;
        }
        let clamp = |span: Span| -> SourceSpan {
            if span.start >= text.len() {
                let start = floor(&text, last);
                return (start, text.get(start..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8))
                    .into();
            }
            (span.start, span.end.min(text.len()).saturating_sub(span.start)).into()
        };
        let mut labels = vec![LabeledSpan::new_primary_with_span(diagnostic.here.clone(), clamp(diagnostic.span))];
        for label in &diagnostic.labels {
            labels.push(LabeledSpan::new_with_span(Some(visible(&label.text)), clamp(label.span)));
        }
        let shown = Shown {
            diagnostic,
            message: visible(&diagnostic.message),
            labels,
            source: NamedSource::new(visible(&file.source.name), Arc::clone(&text)),
        };
        if handler.render_report(out, &shown).is_err() {
            // Writing to a string cannot fail; a layout fault must not hide
            // the message.
            out.push_str(&shown.message);
            out.push('\n');
        }
        out.push('\n');
    }
}

/// To show a line the file is looked through up to it: so many bytes of it,
/// over all messages, before the rest are told in a line each.
const MOST_LOOKED_THROUGH: usize = 500 << 20;

/// Longest line that is shown whole, in bytes.
const LONGEST_LINE: usize = 1000;

/// Length of the longest line that a message would show.
fn longest_line_near(text: &str, diagnostic: &Diagnostic) -> usize {
    let spans = std::iter::once(diagnostic.span).chain(diagnostic.labels.iter().map(|label| label.span));
    spans
        .map(|span| {
            let at = floor(text, span.start.min(text.len()));
            let before = text.get(..at).unwrap_or_default();
            let after = text.get(at..).unwrap_or_default();
            // One line above and one below are shown too.
            let begin = before
                .rfind('\n')
                .map_or(0, |line| before.get(..line).and_then(|rest| rest.rfind('\n')).map_or(0, |line| line + 1));
            let mut ends = after.match_indices('\n').map(|(end, _)| at + end);
            let end = ends.nth(1).unwrap_or(text.len());
            text.get(begin..end).unwrap_or_default().lines().map(str::len).max().unwrap_or(0)
        })
        .max()
        .unwrap_or(0)
}

fn floor(text: &str, mut at: usize) -> usize {
    while at > 0 && !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

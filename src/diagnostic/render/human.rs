//! For a person at a terminal: the line, a mark under the fault, and what to
//! do about it.

use std::fmt;

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
    source: NamedSource<String>,
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
    let text = visible(&file.source.text);
    // A mark at the very end would have no line to stand under.
    let last = text.trim_end().len().saturating_sub(1);
    for diagnostic in file.diagnostics {
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
            source: NamedSource::new(visible(&file.source.name), text.clone()),
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

fn floor(text: &str, mut at: usize) -> usize {
    while at > 0 && !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

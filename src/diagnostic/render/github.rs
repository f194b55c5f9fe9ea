//! Workflow commands of GitHub: a line a message, which the host shows beside
//! the changed lines of a pull request.
//!
//! Whatever an author wrote, a message stays one line and one command: the
//! signs that end a value are written in percent.

use std::fmt::Write;

use super::{FileMessages, visible};
use crate::diagnostic::Severity;

pub fn render(file: &FileMessages<'_>, out: &mut String) {
    for message in file.diagnostics {
        let source = file.source;
        let span = message.span;
        let end = span.end.max(span.start);
        let (first, last) = (source.place(span.start).line, source.place(end).line);
        let _ = write!(
            out,
            "::{} file={},line={first},endLine={last},",
            match message.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
                Severity::Note => "notice",
            },
            property(&source.name),
        );
        // Columns are those of one line, from one; without an end where there
        // is nothing to mark.
        let column = source.code_points(span.start) + 1;
        let end_column = source.code_points(end);
        if first == last && end_column >= column {
            let _ = write!(out, "col={column},endColumn={end_column},");
        } else if first == last {
            let _ = write!(out, "col={column},");
        }
        let _ = write!(out, "title={}::{}", property(message.code.name()), value(&message.message));
        for label in &message.labels {
            let place = source.place(label.span.start);
            let _ = write!(out, "%0Aline {}: {}", place.line, value(&label.text));
        }
        if let Some(help) = &message.help {
            let _ = write!(out, "%0A{}", value(help));
        }
        out.push('\n');
    }
}

/// The text behind the second pair of colons.
fn value(text: &str) -> String {
    visible(text).replace('%', "%25").replace('\r', "%0D").replace('\n', "%0A")
}

/// A value between the pairs of colons.
fn property(text: &str) -> String {
    value(text).replace(':', "%3A").replace(',', "%2C")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_ends_nothing() {
        assert_eq!(value("50 %, a: b\n::error::x\u{1b}"), "50 %25, a: b%0A::error::x?");
        assert_eq!(property("a,b:c%\nd"), "a%2Cb%3Ac%25%0Ad");
    }
}

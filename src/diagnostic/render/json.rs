//! JSON: an array of `{code, severity, message, file, start:{line, column,
//! byte}, end, labels, help}`. Lines and columns count from one, bytes from
//! zero; a column counts grapheme clusters.

use serde::Serialize;

use super::FileMessages;
use crate::diagnostic::Severity;
use crate::source::{Source, Span};

#[derive(Debug, Serialize)]
pub struct Message {
    pub code: &'static str,
    pub severity: Severity,
    pub message: String,
    pub file: String,
    pub start: Place,
    pub end: Place,
    pub labels: Vec<Label>,
    pub help: Option<String>,
    pub fix: Option<Fix>,
}

#[derive(Debug, Serialize)]
pub struct Place {
    pub line: usize,
    pub column: usize,
    pub byte: usize,
}

#[derive(Debug, Serialize)]
pub struct Label {
    pub message: String,
    pub start: Place,
    pub end: Place,
}

#[derive(Debug, Serialize)]
pub struct Fix {
    pub replacement: String,
    pub start: Place,
    pub end: Place,
}

pub fn messages(file: &FileMessages<'_>) -> Vec<Message> {
    let source = file.source;
    file.diagnostics
        .iter()
        .map(|diagnostic| {
            let (start, end) = ends(source, diagnostic.span);
            Message {
                code: diagnostic.code.name(),
                severity: diagnostic.severity,
                message: diagnostic.message.clone(),
                file: source.name.clone(),
                start,
                end,
                labels: diagnostic
                    .labels
                    .iter()
                    .map(|label| {
                        let (start, end) = ends(source, label.span);
                        Label { message: label.text.clone(), start, end }
                    })
                    .collect(),
                help: diagnostic.help.clone(),
                fix: diagnostic.fix.as_ref().map(|fix| {
                    let (start, end) = ends(source, fix.span);
                    Fix { replacement: fix.replacement.clone(), start, end }
                }),
            }
        })
        .collect()
}

/// Writes a message as an item of an array that is written piece by piece.
pub fn item(message: &Message, out: &mut String) {
    let text = serde_json::to_string_pretty(message).unwrap_or_default();
    for (at, line) in text.lines().enumerate() {
        out.push_str(if at == 0 { "  " } else { "\n  " });
        out.push_str(line);
    }
}

fn ends(source: &Source, span: Span) -> (Place, Place) {
    let place = |byte| {
        let place = source.place(byte);
        Place { line: place.line, column: place.column, byte: place.byte }
    };
    (place(span.start), place(span.end.max(span.start)))
}

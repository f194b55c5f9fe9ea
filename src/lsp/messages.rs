//! Messages as an editor shows them, and the fixes it offers for them.

use std::collections::HashMap;
use std::fs;

use lsp_types::{
    CodeDescription, DiagnosticRelatedInformation, DiagnosticSeverity, DiagnosticTag, Location, NumberOrString, Uri,
};

use crate::diagnostic::render::visible;
use crate::diagnostic::{Code, Diagnostic, Fix, Severity};
use crate::lsp::position::{Encoding, range};
use crate::lsp::view::View;
use crate::source::{Source, Span};

/// Pages of the codes, laid out in files as they are asked for, so that an
/// editor can open one without a network. Gone when the server ends.
#[derive(Debug, Default)]
pub struct Pages {
    folder: Option<tempfile::TempDir>,
    written: HashMap<Code, Option<Uri>>,
}

impl Pages {
    /// Where the page of a code can be read.
    pub fn uri(&mut self, code: Code) -> Option<Uri> {
        if let Some(known) = self.written.get(&code) {
            return known.clone();
        }
        let uri = self.write(code);
        self.written.insert(code, uri.clone());
        uri
    }

    fn write(&mut self, code: Code) -> Option<Uri> {
        if self.folder.is_none() {
            self.folder = tempfile::Builder::new().prefix("porringer-pages-").tempdir().ok();
        }
        let path = self.folder.as_ref()?.path().join(format!("{}.md", code.name().replace('/', "-")));
        fs::write(&path, code.page()).ok()?;
        super::reply::uri(&path)
    }
}

/// What the client says it can show.
#[derive(Debug, Clone, Copy, Default)]
pub struct Shows {
    pub related: bool,
    pub links: bool,
    pub tags: bool,
}

/// A message in the protocol's form.
pub fn message(
    message: &Diagnostic,
    source: &Source,
    uri: &Uri,
    encoding: Encoding,
    shows: Shows,
    pages: &mut Pages,
) -> lsp_types::Diagnostic {
    let mut text = message.message.clone();
    if let Some(here) = &message.here {
        text.push_str(&format!(" ({here})"));
    }
    if let Some(help) = &message.help {
        text.push_str(&format!("\nhelp: {help}"));
    }
    let related = message.labels.iter().map(|label| DiagnosticRelatedInformation {
        location: Location { uri: uri.clone(), range: range(source, label.span, encoding) },
        message: visible(&label.text),
    });
    let related: Vec<_> = if shows.related { related.collect() } else { Vec::new() };
    let unneeded = matches!(message.code, Code::MethodUnusedIngredient | Code::MethodUnusedPart) && shows.tags;
    lsp_types::Diagnostic {
        range: range(source, shown(message.span, source), encoding),
        severity: Some(match message.severity {
            Severity::Error => DiagnosticSeverity::ERROR,
            Severity::Warning => DiagnosticSeverity::WARNING,
            // Notes are for the card; they ask for nothing.
            Severity::Note => DiagnosticSeverity::HINT,
        }),
        code: Some(NumberOrString::String(message.code.name().to_owned())),
        code_description: shows.links.then(|| pages.uri(message.code)).flatten().map(|href| CodeDescription { href }),
        source: Some("porringer".to_owned()),
        message: visible(&text),
        related_information: Some(related).filter(|related| !related.is_empty()),
        tags: unneeded.then(|| vec![DiagnosticTag::UNNECESSARY]),
        data: None,
    }
}

/// An empty place is hard to see: the character before or behind it is shown.
fn shown(span: Span, source: &Source) -> Span {
    if span.start < span.end {
        return span;
    }
    let on_line = |c: &char| !matches!(c, '\n' | '\r');
    let behind = source.text.get(span.start..).and_then(|rest| rest.chars().next()).filter(on_line);
    let before = source.text.get(..span.start).and_then(|rest| rest.chars().next_back()).filter(on_line);
    match (behind, before) {
        (Some(c), _) => Span::new(span.start, span.start + c.len_utf8()),
        (None, Some(c)) => Span::new(span.start - c.len_utf8(), span.start),
        (None, None) => span,
    }
}

/// A fix that is offered: for which message, how it is called, what it does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer<'a> {
    pub message: &'a Diagnostic,
    pub title: String,
    pub fix: Fix,
    /// The only text that mends it.
    pub preferred: bool,
}

/// The fixes for the messages that touch a span.
pub fn offers<'a>(view: &View<'a>, span: Span) -> Vec<Offer<'a>> {
    let mut found = Vec::new();
    for message in &view.checked.diagnostics {
        let place = shown(message.span, &view.checked.source);
        if place.end < span.start || span.end < place.start {
            continue;
        }
        let all = message.fix.iter().map(|fix| (fix, true)).chain(message.choices.iter().map(|fix| (fix, false)));
        for (fix, preferred) in all {
            if is_begun(view, fix) {
                continue;
            }
            let fix = Fix { span: fix.span, replacement: ended(&fix.replacement, view.text()) };
            found.push(Offer { message, title: title(view, &fix), fix, preferred });
        }
    }
    found
}

/// Whether the line that a fix would add stands below already, to be written.
fn is_begun(view: &View<'_>, fix: &Fix) -> bool {
    let Some(line) = fix.replacement.strip_prefix('\n') else { return false };
    let below = view.text().get(fix.span.end..).unwrap_or_default().trim_start();
    let first = below.lines().next().unwrap_or_default();
    first.split_whitespace().eq(line.split_whitespace())
}

/// Line ends as the document has them.
fn ended(text: &str, document: &str) -> String {
    if document.contains("\r\n") { text.replace('\n', "\r\n") } else { text.to_owned() }
}

/// What a fix does, in the words of a menu.
fn title(view: &View<'_>, fix: &Fix) -> String {
    let old = view.slice(fix.span);
    let one_line = |text: &str| visible(&text.split_whitespace().collect::<Vec<_>>().join(" "));
    let (was, new) = (one_line(old), one_line(&fix.replacement));
    match (was.is_empty(), new.is_empty()) {
        (true, true) => "remove the blanks".to_owned(),
        (true, false) => format!("add `{new}`"),
        (false, true) => format!("remove `{was}`"),
        (false, false) => format!("write `{new}`"),
    }
}

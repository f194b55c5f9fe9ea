//! Messages for the author: one struct, many renderers.
//!
//! A message is lower case, names the fault in the author's words and has at
//! most [`MESSAGE_LENGTH`] characters. A second label says where the other
//! thing stands; the help says what to do, with the exact text to type where
//! there is one.

pub mod code;
pub mod render;
pub mod rules;
pub mod suggest;

use std::collections::HashMap;

use serde::{Deserialize, Serialize};

pub use code::{CODES, Code};
pub use rules::{Changed, RuleBook};
pub use suggest::did_you_mean;

use crate::source::Span;

/// Longest message, in characters.
pub const MESSAGE_LENGTH: usize = 80;

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// For the card; changes no exit code.
    Note,
    /// Printed and counted; the card is made.
    Warning,
    /// Stops the card.
    Error,
}

impl Severity {
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// A place with a word on what stands there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Label {
    pub span: Span,
    pub text: String,
}

/// Exact text that mends the fault.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fix {
    pub span: Span,
    pub replacement: String,
}

#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Diagnostic {
    pub code: Code,
    pub severity: Severity,
    pub message: String,
    pub span: Span,
    /// What stands at `span`, where that adds to the message.
    pub here: Option<String>,
    pub labels: Vec<Label>,
    pub help: Option<String>,
    pub fix: Option<Fix>,
    /// Exact texts of which one mends the fault, where only the author knows
    /// which.
    pub choices: Vec<Fix>,
}

impl Diagnostic {
    pub fn new(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: code.severity(),
            message: clip(message.into()),
            span,
            here: None,
            labels: Vec::new(),
            help: None,
            fix: None,
            choices: Vec::new(),
        }
    }

    pub fn here(mut self, text: impl Into<String>) -> Self {
        self.here = Some(text.into());
        self
    }

    pub fn label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help = Some(text.into());
        self
    }

    pub fn maybe_help(mut self, text: Option<String>) -> Self {
        self.help = text.or(self.help);
        self
    }

    pub fn fix(mut self, span: Span, replacement: impl Into<String>) -> Self {
        self.fix = Some(Fix { span, replacement: replacement.into() });
        self
    }

    /// One of several exact texts.
    pub fn choice(mut self, span: Span, replacement: impl Into<String>) -> Self {
        self.choices.push(Fix { span, replacement: replacement.into() });
        self
    }
}

/// An author's word may be of any length; the message may not.
fn clip(message: String) -> String {
    if message.chars().count() <= MESSAGE_LENGTH {
        return message;
    }
    let mut kept: String = message.chars().take(MESSAGE_LENGTH - 1).collect();
    kept.push('…');
    kept
}

/// Shortens an author's word inside a message.
pub fn quote(word: &str) -> String {
    const LONGEST: usize = 28;
    let shown: String = word.split_whitespace().collect::<Vec<_>>().join(" ");
    if shown.chars().count() <= LONGEST {
        format!("`{shown}`")
    } else {
        let kept: String = shown.chars().take(LONGEST - 1).collect();
        format!("`{kept}…`")
    }
}

/// Collects what one file's phases report.
#[derive(Debug, Default)]
pub struct Sink {
    diagnostics: Vec<Diagnostic>,
    /// Where messages of a code at a place lie, to find repeats.
    seen: HashMap<(Code, Span), Vec<usize>>,
}

impl Sink {
    pub fn new() -> Self {
        Self::default()
    }

    pub fn push(&mut self, diagnostic: Diagnostic) {
        // The same fault seen twice (by two alternatives, say) is one message.
        let same = self.seen.entry((diagnostic.code, diagnostic.span)).or_default();
        if !same.iter().any(|at| self.diagnostics.get(*at) == Some(&diagnostic)) {
            same.push(self.diagnostics.len());
            self.diagnostics.push(diagnostic);
        }
    }

    /// So many messages that suggestions for each would take minutes and help
    /// nobody.
    pub fn is_crowded(&self) -> bool {
        const MANY: usize = 200;
        self.diagnostics.len() > MANY
    }

    pub fn has_errors(&self) -> bool {
        self.diagnostics.iter().any(|diagnostic| diagnostic.severity == Severity::Error)
    }

    /// The messages as the workspace wants them, for a document whose youngest
    /// child has `months`, and what its changes met.
    pub fn finish_by(self, book: &RuleBook, months: u16) -> (Vec<Diagnostic>, Vec<Changed>) {
        let mut changed = Vec::new();
        let mut diagnostics = self.finish();
        book.apply(&mut diagnostics, months, &mut changed);
        (diagnostics, changed)
    }

    /// In order of position, then severity, then code.
    pub fn finish(mut self) -> Vec<Diagnostic> {
        self.diagnostics.sort_by(|a, b| {
            (a.span.start, b.severity, a.code, &a.message).cmp(&(b.span.start, a.severity, b.code, &b.message))
        });
        self.diagnostics
    }
}

//! Diagnostics for people and for programs: one file a format.

pub mod github;
pub mod human;
pub mod json;
pub mod sarif;
pub mod short;

use super::{Diagnostic, Severity};
use crate::source::Source;

/// The messages of one file.
#[derive(Debug)]
pub struct FileMessages<'a> {
    pub source: &'a Source,
    pub diagnostics: &'a [Diagnostic],
}

/// How many of each severity.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Count {
    pub errors: usize,
    pub warnings: usize,
    pub notes: usize,
}

impl Count {
    pub fn add(&mut self, diagnostics: &[Diagnostic]) {
        for diagnostic in diagnostics {
            match diagnostic.severity {
                Severity::Error => self.errors += 1,
                Severity::Warning => self.warnings += 1,
                Severity::Note => self.notes += 1,
            }
        }
    }

    /// `2 errors, 1 warning`
    pub fn words(self) -> String {
        let plural = |count: usize, word: &str| format!("{count} {word}{}", if count == 1 { "" } else { "s" });
        let mut words = Vec::new();
        if self.errors > 0 {
            words.push(plural(self.errors, "error"));
        }
        if self.warnings > 0 {
            words.push(plural(self.warnings, "warning"));
        }
        if words.is_empty() { "no errors".to_owned() } else { words.join(", ") }
    }
}

/// Makes control and direction-changing characters visible, so that a file's
/// text is shown and never obeyed by a terminal. Byte lengths stay the same,
/// because labels count bytes.
pub fn visible(text: &str) -> String {
    text.chars()
        .map(|character| match character {
            '\n' | '\t' => character,
            '\r' => ' ',
            character if !is_hidden(character) => character,
            character => match character.len_utf8() {
                1 => '?',
                2 => '¿',
                _ => '\u{FFFD}',
            },
        })
        .collect()
}

fn is_hidden(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{61C}' | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}')
}

//! The messages of a call, file by file, so that of each no more is kept than
//! its words.

use crate::check::Checked;
use crate::cli::{complain, look};
use crate::diagnostic::render::{Count, FileMessages, github, human, json, sarif, short};
use crate::diagnostic::{Diagnostic, Severity};
use crate::source::Source;
use crate::workspace::Workspace;

/// How messages are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// For a person.
    Human,
    /// One line a message.
    Short,
    /// An array of messages.
    Json,
    /// SARIF 2.1.0, for a code host's list of findings.
    Sarif,
    /// Workflow commands, which GitHub shows beside the lines.
    Github,
}

/// Messages that are being printed.
#[derive(Debug)]
pub struct Report {
    format: Format,
    notes: bool,
    count: Count,
    /// What can be printed by now.
    text: String,
    /// In `Json`: some message was written.
    begun: bool,
    /// A log tells its rules first, so it is written when all are known.
    findings: sarif::Findings,
}

impl Report {
    /// Begins with the messages of the workspace's own files.
    pub fn new(workspace: &Workspace, format: Format, notes: bool) -> Self {
        let mut report = Self {
            format,
            notes,
            count: Count::default(),
            text: String::new(),
            begun: false,
            findings: sarif::Findings::default(),
        };
        for fault in &workspace.faults {
            report.add(&fault.source, &fault.diagnostics);
        }
        report
    }

    /// Adds the messages of one file.
    pub fn add(&mut self, source: &Source, diagnostics: &[Diagnostic]) {
        self.count.add(diagnostics);
        let kept =
            |message: &&Diagnostic| self.notes || self.format == Format::Json || message.severity > Severity::Note;
        let diagnostics: Vec<Diagnostic> = diagnostics.iter().filter(kept).cloned().collect();
        let file = FileMessages { source, diagnostics: &diagnostics };
        match self.format {
            Format::Human => human::render(&file, look(), &mut self.text),
            Format::Short => short::render(&file, &mut self.text),
            Format::Github => github::render(&file, &mut self.text),
            Format::Sarif => self.findings.add(&file),
            Format::Json => {
                for message in json::messages(&file) {
                    self.text.push_str(if self.begun { ",\n" } else { "[\n" });
                    self.begun = true;
                    json::item(&message, &mut self.text);
                }
            }
        }
    }

    /// What can be printed by now and was not taken yet.
    pub fn take(&mut self) -> String {
        std::mem::take(&mut self.text)
    }

    /// What is left to print, and how many messages there were.
    pub fn finish(mut self) -> (String, Count) {
        match self.format {
            Format::Human | Format::Short | Format::Github => {}
            Format::Json => self.text.push_str(if self.begun { "\n]\n" } else { "[]\n" }),
            Format::Sarif => {
                self.text = serde_json::to_string_pretty(&self.findings.log()).unwrap_or_default();
                self.text.push('\n');
            }
        }
        (self.text, self.count)
    }
}

/// Says the faults of the workspace's own files, a line each; whether any is
/// an error.
pub fn complain_of(workspace: &Workspace) -> bool {
    let (text, count) = report(workspace, &[], Format::Short, false);
    text.lines().for_each(complain);
    count.errors > 0
}

/// Renders the messages of a workspace and its files, and counts them.
pub fn report(workspace: &Workspace, checked: &[Checked], format: Format, notes: bool) -> (String, Count) {
    let mut report = Report::new(workspace, format, notes);
    for file in checked {
        report.add(&file.source, &file.diagnostics);
    }
    report.finish()
}

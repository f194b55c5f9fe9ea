//! A comparison for a person at a terminal.

use std::fmt::Write;

use unicode_segmentation::UnicodeSegmentation;

use super::sections::{Row, sections};
use super::words::{Fate, Run};
use super::{Change, Comparison, NOTHING, Named, Pair};
use crate::diagnostic::render::visible;

pub fn render(comparison: &Comparison) -> String {
    let mut out = String::new();
    for (list, mark) in [(&comparison.new, "new"), (&comparison.removed, "removed")] {
        for named in list {
            let _ = writeln!(out, "{mark} {}\n", head(named));
        }
    }
    for change in &comparison.changed {
        one(change, &mut out);
    }
    // Authors' words are shown, never obeyed by the terminal.
    visible(&out)
}

fn head(named: &Named) -> String {
    format!("{} {}  ({})", named.kind, named.title, named.file)
}

fn one(change: &Change, out: &mut String) {
    let _ = writeln!(out, "{}", head(&change.named));
    if let Some(was) = &change.was {
        let _ = writeln!(out, "  before: {was}");
    }
    if !change.noticed {
        let _ = writeln!(out, "  {NOTHING}");
    }
    for section in sections(change) {
        let _ = writeln!(out, "  {}", section.title);
        let width = section
            .rows
            .iter()
            .map(|row| match row {
                Row::Pair(pair) => columns(&pair.what),
                _ => 0,
            })
            .max()
            .unwrap_or(0);
        for row in &section.rows {
            let _ = match row {
                Row::Pair(pair) => writeln!(out, "    {}", arrow(pair, width)),
                Row::Gained(text) => writeln!(out, "    + {text}"),
                Row::Lost(text) => writeln!(out, "    - {text}"),
                Row::Words { what, words } => writeln!(out, "    {what}: {}", runs(words)),
                Row::Plain(text) => writeln!(out, "    {text}"),
            };
        }
    }
    out.push('\n');
}

fn columns(text: &str) -> usize {
    text.graphemes(true).count()
}

fn arrow(pair: &Pair, width: usize) -> String {
    let blanks = width.saturating_sub(columns(&pair.what));
    let what = format!("{}{:blanks$}", pair.what, "");
    match (&pair.before, &pair.after) {
        (Some(before), Some(after)) => format!("{what}  {before} → {after}"),
        (None, Some(after)) => format!("{what}  + {after}"),
        (Some(before), None) => format!("{what}  - {before}"),
        (None, None) => what,
    }
}

fn runs(words: &[Run]) -> String {
    words
        .iter()
        .map(|run| match run.change {
            Fate::Same => run.text.clone(),
            Fate::Out => format!("[-{}-]", run.text),
            Fate::In => format!("[+{}+]", run.text),
        })
        .collect()
}

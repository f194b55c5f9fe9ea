//! A comparison for a pull request.

use std::fmt::Write;

use super::sections::{Row, Section, sections};
use super::words::{Fate, Run};
use super::{Change, Comparison, NOTHING};
use crate::diagnostic::render::visible;

pub fn render(comparison: &Comparison) -> String {
    let mut out = String::from("## What changes for the child\n\n");
    let _ = writeln!(out, "{} → {}\n", escape(&comparison.before), escape(&comparison.after));
    if !comparison.noticed {
        let _ = writeln!(
            out,
            "**{}{}**\n",
            NOTHING.get(..1).unwrap_or_default().to_uppercase(),
            NOTHING.get(1..).unwrap_or_default()
        );
    }
    for (list, mark) in [(&comparison.new, "New"), (&comparison.removed, "Removed")] {
        for named in list {
            let _ = writeln!(out, "- **{mark}** {}: {} (`{}`)", named.kind, escape(&named.title), code(&named.file));
        }
        if !list.is_empty() {
            out.push('\n');
        }
    }
    for change in &comparison.changed {
        one(change, &mut out);
    }
    out
}

fn one(change: &Change, out: &mut String) {
    let _ = writeln!(out, "### {}\n\n`{}`", escape(&change.named.title), code(&change.named.file));
    if let Some(was) = &change.was {
        let _ = writeln!(out, "before `{}`", code(was));
    }
    out.push('\n');
    if !change.noticed {
        let _ = writeln!(out, "*{NOTHING}*\n");
    }
    for Section { title, rows } in sections(change) {
        let _ = writeln!(out, "**{}**\n", escape(&title));
        let mut table = false;
        for row in &rows {
            if let Row::Pair(pair) = row {
                if !table {
                    out.push_str("| | before | now |\n|---|---|---|\n");
                    table = true;
                }
                let cell = |text: &Option<String>| text.as_deref().map_or("—".to_owned(), escape);
                let _ = writeln!(out, "| {} | {} | {} |", escape(&pair.what), cell(&pair.before), cell(&pair.after));
                continue;
            }
            let _ = match row {
                Row::Gained(text) => writeln!(out, "- now: {}", escape(text)),
                Row::Lost(text) => writeln!(out, "- no more: {}", escape(text)),
                Row::Words { what, words } => writeln!(out, "- {}: {}", escape(what), runs(words)),
                Row::Plain(text) => writeln!(out, "- {}", escape(text)),
                Row::Pair(_) => Ok(()),
            };
        }
        out.push('\n');
    }
}

/// Marks hold only where no blank stands inside them at either end.
fn runs(words: &[Run]) -> String {
    words
        .iter()
        .map(|run| {
            let inner = run.text.trim();
            let (before, after) = match run.text.find(inner) {
                Some(at) if !inner.is_empty() => {
                    (run.text.get(..at).unwrap_or_default(), run.text.get(at + inner.len()..).unwrap_or_default())
                }
                _ => return escape(&run.text),
            };
            let inner = escape(inner);
            match run.change {
                Fate::Same => escape(&run.text),
                Fate::Out => format!("{before}~~{inner}~~{after}"),
                Fate::In => format!("{before}**{inner}**{after}"),
            }
        })
        .collect()
}

/// An author's words as words: nothing in them is markup, a link or a person.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in visible(text).chars() {
        match c {
            '\n' | '\r' | '\t' => out.push(' '),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            // A word after it would be told of the change.
            '@' => out.push_str("&#64;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '#' | '!' => {
                out.push('\\');
                out.push(c);
            }
            c => out.push(c),
        }
    }
    out
}

fn code(text: &str) -> String {
    visible(text).replace(['`', '\n', '|'], "'")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_authors_words_are_no_markup() {
        assert_eq!(escape("a|b *c* <img> @d [e](f)\n"), "a\\|b \\*c\\* &lt;img&gt; &#64;d \\[e\\](f) ");
        let runs = runs(&[
            Run { change: Fate::Same, text: "Use ".to_owned() },
            Run { change: Fate::Out, text: "ripe ".to_owned() },
            Run { change: Fate::In, text: "so*ft ".to_owned() },
        ]);
        assert_eq!(runs, "Use ~~ripe~~ **so\\*ft** ");
    }
}

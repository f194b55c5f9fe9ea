//! The form of a file: contents stand in one column, and nothing else changes.
//!
//! Only blanks at the start of a line, after its keyword and at its end are
//! touched. Lines keep their order, comments and blank lines their places,
//! and a line that cannot be read stays as it was typed: whoever wrote it is
//! the only one who knows what was meant.

use crate::diagnostic::Sink;
use crate::syntax::{self, Kind, NodeKind};

/// Column, counted from 0, at which contents stand: one blank after the
/// longest keyword.
pub const COLUMN: usize = 9;

/// The text in form. Total: a file that is too large to be read comes back as
/// it is, and so does every text that is in form already.
pub fn format(kind: Kind, text: &str) -> String {
    let (tree, _) = syntax::parse(kind, text, &mut Sink::new());
    let covered = tree.nodes.last().map_or(0, |node| node.span.end);
    if covered != text.len() {
        return text.to_owned();
    }
    let end = LineEnd::of(text);
    let mut out = Out { text: String::with_capacity(text.len() + 64), end };
    for node in &tree.nodes {
        let slice = text.get(node.span.range()).unwrap_or_default();
        match node.kind {
            NodeKind::Bad => lines(slice).for_each(|(body, end)| out.line("", body, end)),
            NodeKind::Skip => lines(slice).for_each(|(body, end)| out.inner(body, end)),
            NodeKind::Line => {
                let keyword = node.keyword.and_then(|span| text.get(span.range())).unwrap_or_default();
                for (number, (body, end)) in lines(slice).enumerate() {
                    match body.strip_prefix(keyword).filter(|_| number == 0) {
                        Some(rest) => out.first(keyword, rest, end),
                        None => out.inner(body, end),
                    }
                }
            }
        }
    }
    let Out { text: mut formed, .. } = out;
    // An editor's last line may lack its end; a byte order mark is no line.
    if !formed.is_empty() && formed != BOM && !formed.ends_with(['\n', '\r']) {
        formed.push_str(end.text());
    }
    formed
}

const BOM: &str = "\u{FEFF}";

/// What ends the lines of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum LineEnd {
    Lf,
    CrLf,
    /// Lone carriage returns and nothing else.
    Cr,
}

impl LineEnd {
    /// The one that most lines have.
    fn of(text: &str) -> Self {
        let feeds = text.matches('\n').count();
        let pairs = text.matches("\r\n").count();
        match (feeds, pairs) {
            (0, _) if text.contains('\r') => Self::Cr,
            _ if pairs * 2 > feeds => Self::CrLf,
            _ => Self::Lf,
        }
    }

    fn text(self) -> &'static str {
        match self {
            Self::Lf => "\n",
            Self::CrLf => "\r\n",
            Self::Cr => "\r",
        }
    }
}

struct Out {
    text: String,
    end: LineEnd,
}

impl Out {
    /// The line of a keyword: the tag of an `in` line belongs to its head.
    fn first(&mut self, keyword: &str, rest: &str, end: &str) {
        let rest = trim(rest);
        let (head, content) = if keyword.eq_ignore_ascii_case("in") {
            let (tag, content) = rest.split_once(is_blank).unwrap_or((rest, ""));
            (if tag.is_empty() { keyword.to_owned() } else { format!("{keyword} {tag}") }, trim(content))
        } else {
            (keyword.to_owned(), rest)
        };
        if content.is_empty() {
            return self.line("", &head, end);
        }
        // A head that is too long for the column still wants its blank.
        let blanks = COLUMN.saturating_sub(head.len()).max(1);
        self.line(&format!("{head}{:blanks$}", ""), content, end);
    }

    /// A blank line, a comment or a continuation.
    fn inner(&mut self, body: &str, end: &str) {
        let content = trim(body);
        let at_margin = !body.starts_with(is_blank);
        if content.is_empty() || at_margin {
            self.line("", content, end);
        } else {
            self.line(&format!("{:COLUMN$}", ""), content, end);
        }
    }

    fn line(&mut self, before: &str, content: &str, end: &str) {
        self.text.push_str(before);
        self.text.push_str(content);
        // A lone carriage return before a blank line would become half of
        // another line's end.
        self.text.push_str(if end == "\r" { self.end.text() } else { end });
    }
}

/// Physical lines with what ends each; the last may have no end.
fn lines(text: &str) -> impl Iterator<Item = (&str, &str)> {
    let mut rest = text;
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        let Some(at) = rest.find(['\n', '\r']) else {
            return Some((std::mem::take(&mut rest), ""));
        };
        let (body, tail) = rest.split_at(at);
        let length = if tail.starts_with("\r\n") { 2 } else { 1 };
        let (end, after) = tail.split_at(length);
        rest = after;
        Some((body, end))
    })
}

/// What the grammar takes for a blank; other white space is the author's text.
fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\u{A0}' | '\u{1680}' | '\u{2000}'..='\u{200A}' | '\u{202F}' | '\u{205F}' | '\u{3000}')
}

fn trim(text: &str) -> &str {
    text.trim_matches(is_blank)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(input: &str, expected: &str) {
        assert_eq!(format(Kind::Dish, input), expected);
        assert_eq!(format(Kind::Dish, expected), expected, "it is in form");
    }

    #[test]
    fn contents_stand_in_a_column() {
        check(
            "dish Mash\nin   sw\tBoga\nreviewed 2026-05-01\nlanguage  en\n",
            "dish     Mash\nin sw    Boga\nreviewed 2026-05-01\nlanguage en\n",
        );
        check("DISH Mash\nin zh-Hant-TW \t粥\n", "DISH     Mash\nin zh-Hant-TW 粥\n");
    }

    #[test]
    fn continuations_and_their_comments_follow() {
        check(
            "dish A\nstep boil beans for 10 min:\n  Keep it\n# why\n   # indented\n\n\tboiling.  \n",
            "dish     A\nstep     boil beans for 10 min:\n         Keep it\n# why\n         # indented\n\n         boiling.\n",
        );
        check("dish\n  A\nin\n sw B\nin fr\n  C\n", "dish\n         A\nin\n         sw B\nin fr\n         C\n");
    }

    #[test]
    fn a_bad_line_stays_as_it_was_typed() {
        check("  lost \ndish A\n", "  lost \ndish     A\n");
        check(
            "dish A\ntkae  1 cup  \n   x  \ntake  ,\ntip B\n",
            "dish     A\ntkae  1 cup  \n   x  \ntake  ,\ntip      B\n",
        );
    }

    #[test]
    fn line_ends_stay_those_of_the_file() {
        check("dish A\r\n \r\ntip B", "dish     A\r\n\r\ntip      B\r\n");
        check("\u{FEFF}dish A\rtip B", "\u{FEFF}dish     A\rtip      B\r");
        // Trimmed as it stands, this would be one line end instead of two.
        check("dish A\r \ntip B\n", "dish     A\n\ntip      B\n");
        check("", "");
        check("\u{FEFF}", "\u{FEFF}");
        check(" \t", "");
    }
}

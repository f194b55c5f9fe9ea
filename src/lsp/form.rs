//! A document brought into form, as edits of whole lines: a cursor stays where
//! it stands, and an editor's undo shows what changed.

use crate::format;
use crate::lsp::rename::Edit;
use crate::lsp::view::View;
use crate::source::{Source, Span};

/// The edits that bring the document into form; none where it is.
pub fn form(view: &View<'_>) -> Vec<Edit> {
    between(&view.checked.source, &format::format(view.kind(), view.text()))
}

/// The edits between a text and another, line by line where both have as many.
fn between(source: &Source, formed: &str) -> Vec<Edit> {
    if *source.text == *formed {
        return Vec::new();
    }
    let formed = Source::new("", formed);
    let lines = |source: &Source| (0..).map_while(|line| source.line(line)).collect::<Vec<_>>();
    let (old, new) = (lines(source), lines(&formed));
    // A last line that lacked its end is given one, and an empty line follows.
    let same = old.len() == new.len()
        || new.get(old.len()..).is_some_and(|rest| rest.iter().all(|line| line.start == line.end));
    if !same {
        return vec![(Span::new(0, source.text.len()), formed.text.to_string())];
    }
    let pairs = old.into_iter().zip(new);
    pairs
        .filter(|(old, new)| source.slice(*old) != formed.slice(*new))
        .map(|(old, new)| (old, formed.slice(new).to_owned()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lsp::rename::apply;

    #[test]
    fn edits_make_the_formed_text() {
        for (text, formed) in [("a\nb\nc\n", "a\nx\nc\n"), ("a\nb", "a\nb\n"), ("a\r\nb", "c\r\nb\r\n"), ("", "")] {
            let source = Source::new("", text);
            assert_eq!(apply(text, &between(&source, formed)), formed);
        }
        assert_eq!(between(&Source::new("", "a\nb\n"), "a\nc\n"), [(Span::new(2, 4), "c\n".to_owned())]);
    }
}

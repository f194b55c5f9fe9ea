//! An author's prose as sentences of words, in whichever language each text
//! is: for the few rules that read it at all.

use std::borrow::Cow;

use super::{Case, sentence};
use crate::ast::{RemarkKind, Text};
use crate::source::Span;

/// One text in one language.
pub struct Prose<'a> {
    pub sentences: Vec<Sentence>,
    pub span: Span,
    /// Base of the language tag, such as `en`.
    pub language: Cow<'a, str>,
    /// The dish's title.
    pub title: bool,
    /// A `note` stands in a booklet's margin, not on the card.
    pub note: bool,
    /// A `tip` may offer something beside the dish.
    pub tip: bool,
}

/// A sentence in lower case and where its words lie in it: words of their own
/// would cost more than the rules that read them.
#[derive(Debug)]
pub struct Sentence {
    text: String,
    words: Vec<(usize, usize)>,
}

impl Sentence {
    pub fn words(&self) -> Vec<&str> {
        self.words.iter().filter_map(|(start, end)| self.text.get(*start..*end)).collect()
    }
}

/// Every text of a dish with its translations.
pub fn all<'a>(case: &Case<'a>) -> Vec<Prose<'a>> {
    let header = &case.dish.ast.header;
    let own = header.language.first().map_or(case.reference.practice.language.as_str(), |tag| tag.value.as_str());
    let mut found = Vec::new();
    let mut add = |text: &'a Text, title: bool, kind: Option<RemarkKind>| {
        let (note, tip) = (kind == Some(RemarkKind::Note), kind == Some(RemarkKind::Tip));
        let mut one = |text: &str, span: Span, tag: &'a str| {
            found.push(Prose { sentences: sentences(text), span, language: base(tag), title, note, tip });
        };
        one(&text.value, text.span, own);
        for line in &text.translations {
            one(&line.value, line.span, &line.tag);
        }
    };
    if let Some(title) = &header.title {
        add(title, true, None);
    }
    for step in case.dish.ast.parts.iter().flat_map(|part| &part.steps) {
        if let Some(prose) = &step.prose {
            add(prose, false, None);
        }
    }
    for remark in &header.remarks {
        add(&remark.text, false, Some(remark.kind));
    }
    found
}

fn base(tag: &str) -> Cow<'_, str> {
    let base = tag.split('-').next().unwrap_or(tag);
    if base.bytes().all(|byte| byte.is_ascii_lowercase()) {
        Cow::Borrowed(base)
    } else {
        Cow::Owned(base.to_lowercase())
    }
}

/// Sentences as lists of words in lower case. A hyphened word is one word; an
/// apostrophe parts two, as between article and noun in French.
pub fn sentences(text: &str) -> Vec<Sentence> {
    let mut found = Vec::new();
    for sentence in sentence::split(text) {
        // A colon or a semicolon ends a thought as a full stop does.
        for thought in sentence.split([':', ';']) {
            let text = thought.to_lowercase();
            let mut words = Vec::new();
            let mut start = None;
            for (at, c) in text.char_indices() {
                if c.is_alphanumeric() || c == '-' {
                    start.get_or_insert(at);
                } else if let Some(from) = start.take() {
                    words.extend(word(&text, from, at));
                }
            }
            if let Some(from) = start {
                words.extend(word(&text, from, text.len()));
            }
            if !words.is_empty() {
                found.push(Sentence { text, words });
            }
        }
    }
    found
}

/// A word's place without the hyphens about it; `None` for hyphens alone.
fn word(text: &str, start: usize, end: usize) -> Option<(usize, usize)> {
    let written = text.get(start..end)?;
    let bare = written.trim_start_matches('-');
    let start = end - bare.len();
    let bare = bare.trim_end_matches('-');
    (!bare.is_empty()).then_some((start, start + bare.len()))
}

/// A word list's entry against a word: `*` at an end stands for any letters.
pub fn fits(entry: &str, word: &str) -> bool {
    match (entry.strip_prefix('*'), entry.strip_suffix('*')) {
        (Some(end), _) => word.ends_with(end),
        (None, Some(start)) => word.starts_with(start),
        (None, None) => entry == word,
    }
}

pub fn any(list: &[&str], word: &str) -> bool {
    list.iter().any(|entry| fits(entry, word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prose_is_parted_into_words() {
        let found = sentences("Don't stop: stir. N’ajoutez pas d'eau; 1.5 cups -- -honey-coloured-!");
        let words: Vec<String> = found.iter().map(|sentence| sentence.words().join(" ")).collect();
        assert_eq!(words, ["don t stop", "stir", "n ajoutez pas d eau", "1 5 cups honey-coloured"]);
        assert!(fits("*ponya", "huponya") && fits("wash*", "washing") && !fits("cure", "cured"));
    }
}

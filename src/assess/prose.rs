//! An author's prose as sentences of words, in whichever language each text
//! is: for the few rules that read it at all.

use std::borrow::Cow;

use super::{Case, sentence};
use crate::ast::{RemarkKind, Text};
use crate::source::Span;

/// One text in one language, as the rules read it.
pub struct Prose<'a> {
    /// Of all sentences, one after the other.
    words: Vec<&'a str>,
    /// How many words there are up to the end of each sentence.
    ends: &'a [usize],
    pub span: Span,
    /// Base of the language tag, such as `en`.
    pub language: &'a str,
    /// The dish's title.
    pub title: bool,
    /// A `note` stands in a booklet's margin, not on the card.
    pub note: bool,
    /// A `tip` may offer something beside the dish.
    pub tip: bool,
}

impl<'a> Prose<'a> {
    /// The words of each sentence; none is empty.
    pub fn sentences(&self) -> impl Iterator<Item = &[&'a str]> {
        sentences(&self.words, self.ends)
    }
}

fn sentences<'w, 'a>(words: &'w [&'a str], ends: &'w [usize]) -> impl Iterator<Item = &'w [&'a str]> {
    let mut start = 0;
    ends.iter().filter_map(move |end| words.get(std::mem::replace(&mut start, *end)..*end))
}

/// The same with the texts that the words are taken from.
pub struct Written<'a> {
    words: Words,
    span: Span,
    language: Cow<'a, str>,
    title: bool,
    note: bool,
    tip: bool,
}

impl Written<'_> {
    pub fn read(&self) -> Prose<'_> {
        Prose {
            words: self.words.all(),
            ends: &self.words.ends,
            span: self.span,
            language: &self.language,
            title: self.title,
            note: self.note,
            tip: self.tip,
        }
    }
}

/// A text in lower case and where its words lie in it: words of their own would
/// cost more than the rules that read them.
#[derive(Debug)]
pub struct Words {
    text: String,
    places: Vec<(usize, usize)>,
    ends: Vec<usize>,
}

/// Every text of a dish with its translations.
pub fn all<'a>(case: &Case<'a>) -> Vec<Written<'a>> {
    let header = &case.dish.ast.header;
    let own = header.language.first().map_or(case.reference.practice.language.as_str(), |tag| tag.value.as_str());
    let mut found = Vec::new();
    let mut add = |text: &'a Text, title: bool, kind: Option<RemarkKind>| {
        let (note, tip) = (kind == Some(RemarkKind::Note), kind == Some(RemarkKind::Tip));
        let mut one = |text: &str, span: Span, tag: &'a str| {
            found.push(Written { words: Words::of(text), span, language: base(tag), title, note, tip });
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

impl Words {
    /// Sentences as lists of words in lower case. A hyphened word is one word;
    /// an apostrophe parts two, as between article and noun in French.
    pub fn of(text: &str) -> Self {
        // Two letters and a blank are a short word.
        const SHORT: usize = 3;
        let mut words = Self {
            text: String::with_capacity(text.len()),
            places: Vec::with_capacity(text.len() / SHORT),
            ends: Vec::new(),
        };
        for sentence in sentence::split(text) {
            // A colon or a semicolon ends a thought as a full stop does.
            for thought in sentence.split([':', ';']) {
                words.add(thought);
            }
        }
        words
    }

    fn add(&mut self, thought: &str) {
        let (begin, known) = (self.text.len(), self.places.len());
        if thought.is_ascii() {
            self.text.push_str(thought);
            if let Some(own) = self.text.get_mut(begin..) {
                own.make_ascii_lowercase();
            }
        } else {
            self.text.push_str(&thought.to_lowercase());
        }
        let own = self.text.get(begin..).unwrap_or_default();
        let mut start = None;
        for (at, c) in own.char_indices() {
            if c.is_ascii_lowercase() || c.is_alphanumeric() || c == '-' {
                start.get_or_insert(at);
            } else if let Some(from) = start.take() {
                self.places.extend(word(own, from, at).map(|(from, to)| (begin + from, begin + to)));
            }
        }
        if let Some(from) = start {
            self.places.extend(word(own, from, own.len()).map(|(from, to)| (begin + from, begin + to)));
        }
        if self.places.len() > known {
            self.ends.push(self.places.len());
        }
    }

    pub fn all(&self) -> Vec<&str> {
        self.places.iter().filter_map(|(start, end)| self.text.get(*start..*end)).collect()
    }

    /// What a test asks of every sentence.
    #[cfg(test)]
    pub fn map<R>(&self, ask: impl FnMut(&[&str]) -> R) -> Vec<R> {
        sentences(&self.all(), &self.ends).map(ask).collect()
    }
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
        let found = Words::of("Don't stop: stir. N’ajoutez pas d'eau; 1.5 cups -- -honey-coloured-!");
        let words: Vec<String> = found.map(|sentence| sentence.join(" "));
        assert_eq!(words, ["don t stop", "stir", "n ajoutez pas d eau", "1 5 cups honey-coloured"]);
        assert!(fits("*ponya", "huponya") && fits("wash*", "washing") && !fits("cure", "cured"));
    }
}

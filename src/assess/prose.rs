//! An author's prose as sentences of words, in whichever language each text
//! is: for the few rules that read it at all.

use unicode_segmentation::UnicodeSegmentation;

use super::Case;
use crate::ast::{RemarkKind, Text};
use crate::source::Span;

/// One text in one language.
pub struct Prose<'a> {
    pub text: &'a str,
    pub span: Span,
    /// Base of the language tag, such as `en`.
    pub language: String,
    /// The dish's title.
    pub title: bool,
    /// A `note` stands in a booklet's margin, not on the card.
    pub note: bool,
    /// A `tip` may offer something beside the dish.
    pub tip: bool,
}

/// Every text of a dish with its translations.
pub fn all<'a>(case: &Case<'a>) -> Vec<Prose<'a>> {
    let header = &case.dish.ast.header;
    let own = header.language.first().map_or(case.reference.practice.language.as_str(), |tag| tag.value.as_str());
    let mut found = Vec::new();
    let mut add = |text: &'a Text, title: bool, kind: Option<RemarkKind>| {
        let (note, tip) = (kind == Some(RemarkKind::Note), kind == Some(RemarkKind::Tip));
        found.push(Prose { text: &text.value, span: text.span, language: base(own), title, note, tip });
        for line in &text.translations {
            found.push(Prose { text: &line.value, span: line.span, language: base(&line.tag), title, note, tip });
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

fn base(tag: &str) -> String {
    tag.split('-').next().unwrap_or(tag).to_lowercase()
}

/// Sentences as lists of words in lower case. A hyphened word is one word; an
/// apostrophe parts two, as between article and noun in French.
pub fn sentences(text: &str) -> Vec<Vec<String>> {
    text.unicode_sentences()
        // A colon or a semicolon ends a thought as a full stop does.
        .flat_map(|sentence| sentence.split([':', ';']))
        .map(|sentence| {
            sentence
                .split(|c: char| !(c.is_alphanumeric() || c == '-'))
                .map(|word| word.trim_matches('-'))
                .filter(|word| !word.is_empty())
                .map(str::to_lowercase)
                .collect::<Vec<String>>()
        })
        .filter(|words| !words.is_empty())
        .collect()
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
        let found = sentences("Don't stop: stir. N’ajoutez pas d'eau; 1.5 cups, honey-coloured!");
        let words: Vec<String> = found.iter().map(|sentence| sentence.join(" ")).collect();
        assert_eq!(words, ["don t stop", "stir", "n ajoutez pas d eau", "1 5 cups honey-coloured"]);
        assert!(fits("*ponya", "huponya") && fits("wash*", "washing") && !fits("cure", "cured"));
    }
}

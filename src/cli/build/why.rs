//! Why an output was made, kept, or is not what it should be, in words.

use std::collections::BTreeMap;

use super::plan::{LARDER_ROW, TABLE_ROW};
use crate::graph::Content;

/// The reason for what was done with an output.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// Nothing that it is made of changed.
    Nothing,
    /// Something changed that it could have been made of.
    ButNotThis(Vec<String>),
    /// It was not there.
    New,
    /// Something is there, but nothing is known of it.
    Unknown,
    /// What is there is not what was written.
    Touched,
    /// What it is made of changed.
    Changed(Vec<String>),
    /// All were asked for.
    Asked,
    /// It is another than would be made, in these words.
    Differs(String),
}

impl Why {
    /// `made` or `kept`.
    pub fn verb(&self) -> &'static str {
        match self {
            Self::Nothing | Self::ButNotThis(_) => "kept",
            _ => "made",
        }
    }

    pub fn words(&self) -> String {
        match self {
            Self::Nothing => "nothing that it is made of changed".to_owned(),
            Self::ButNotThis(changes) => format!("{}, but not what it says", few(changes)),
            Self::New => "it was not there".to_owned(),
            Self::Unknown => "nothing was known of what was there".to_owned(),
            Self::Touched => "what was there is not what was last made".to_owned(),
            Self::Changed(changes) if changes.is_empty() => "what it is made of changed".to_owned(),
            Self::Changed(changes) => few(changes),
            Self::Asked => "all were asked for".to_owned(),
            Self::Differs(words) => words.clone(),
        }
    }
}

fn few(changes: &[String]) -> String {
    const MOST: usize = 4;
    let mut words: Vec<&str> = changes.iter().take(MOST).map(String::as_str).collect();
    let rest;
    if changes.len() > MOST {
        rest = format!("{} more", changes.len() - MOST);
        words.push(&rest);
    }
    words.join("; ")
}

/// What changed between two lists of inputs, in words. A row says more than
/// the table it stands in; the day and the card's data are only named where
/// nothing else changed.
pub fn changes(before: &BTreeMap<String, Content>, now: &BTreeMap<&str, Content>) -> Vec<String> {
    let mut found: Vec<(u8, String)> = Vec::new();
    for (word, content) in now {
        match before.get(*word) {
            Some(old) if old == content => {}
            Some(_) => found.push((rank(word), format!("{} changed", shown(word)))),
            None => found.push((rank(word), format!("{} is new to it", shown(word)))),
        }
    }
    for word in before.keys().filter(|word| !now.contains_key(word.as_str())) {
        found.push((rank(word), format!("{} is no longer part of it", shown(word))));
    }
    let rows = found.iter().any(|(rank, _)| *rank == 0);
    let best = found.iter().map(|(rank, _)| *rank).min().unwrap_or(0);
    found.retain(|(rank, _)| match rank {
        0 | 1 => true,
        2 => !rows,
        _ => *rank == best,
    });
    found.sort();
    found.into_iter().map(|(_, word)| word).collect()
}

fn rank(word: &str) -> u8 {
    if word.starts_with(LARDER_ROW) || word.starts_with(TABLE_ROW) {
        0
    } else if word == "the day" {
        3
    } else if word == DATA {
        4
    } else if word.ends_with(crate::workspace::FILE) {
        1
    } else if word.ends_with(".toml") || word.ends_with(".csv") {
        2
    } else {
        1
    }
}

/// The word of a card's own data.
pub const DATA: &str = "data";

fn shown(word: &str) -> String {
    match word.strip_prefix(LARDER_ROW) {
        Some(row) => format!("larder row `{row}`"),
        None => match word.strip_prefix(TABLE_ROW) {
            Some(row) => format!("row `{row}`"),
            None if word == DATA => "what it says".to_owned(),
            None if word.starts_with("the ") => word.to_owned(),
            None => format!("`{word}`"),
        },
    }
}

/// How two files of one name differ, for a person.
pub fn difference(there: &[u8], made: &[u8]) -> String {
    if let (Some(there), Some(made)) = (pdf(there), pdf(made)) {
        if there.creator != made.creator {
            return format!("it was made by {}, this is {}", there.creator, made.creator);
        }
        return first(&there.text, &made.text).unwrap_or_else(|| "it says the same but looks different".to_owned());
    }
    let text = |bytes: &[u8]| std::str::from_utf8(bytes).map(words).ok();
    match (text(there), text(made)) {
        (Some(there), Some(made)) => first(&there, &made).unwrap_or_else(|| "only its blanks differ".to_owned()),
        _ => "its bytes differ".to_owned(),
    }
}

struct Pdf {
    creator: String,
    text: Vec<String>,
}

fn pdf(bytes: &[u8]) -> Option<Pdf> {
    if !bytes.starts_with(b"%PDF-") {
        return None;
    }
    let document = lopdf::Document::load_mem(bytes).ok()?;
    let info = document.trailer.get(b"Info").ok()?.as_reference().ok()?;
    let creator = document.get_dictionary(info).ok()?.get(b"Creator").ok()?;
    let creator = lopdf::decode_text_string(creator).unwrap_or_default();
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    Some(Pdf { creator, text: words(&document.extract_text(&pages).ok()?) })
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}

/// The first place where two texts differ, with a few words about it.
fn first(there: &[String], made: &[String]) -> Option<String> {
    const ABOUT: usize = 4;
    let at = there.iter().zip(made).position(|(a, b)| a != b).or_else(|| {
        let shorter = there.len().min(made.len());
        (there.len() != made.len()).then_some(shorter)
    })?;
    let from = at.saturating_sub(ABOUT / 2);
    let piece = |words: &[String]| {
        let piece = words.iter().skip(from).take(ABOUT + 1).cloned().collect::<Vec<_>>().join(" ");
        piece.chars().take(60).collect::<String>()
    };
    Some(format!("it says `{}`, not `{}`", piece(there), piece(made)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(words: &[(&str, &str)]) -> BTreeMap<String, Content> {
        words.iter().map(|(word, content)| ((*word).to_owned(), Content::of(content))).collect()
    }

    fn told(before: &[(&str, &str)], now: &[(&str, &str)]) -> String {
        let (before, now) = (list(before), list(now));
        changes(&before, &now.iter().map(|(word, content)| (word.as_str(), *content)).collect()).join("; ")
    }

    #[test]
    fn a_row_says_more_than_its_table() {
        let before = [("larder row pumpkin", "1"), ("larder.toml", "1"), ("the day", "1")];
        let now = [("larder row pumpkin", "2"), ("larder.toml", "2"), ("the day", "2")];
        assert_eq!(told(&before, &now), "larder row `pumpkin` changed");
        assert_eq!(told(&before, &[before[0], now[1], now[2]]), "`larder.toml` changed");
        assert_eq!(told(&before, &[before[0], before[1], now[2]]), "the day changed");
        assert_eq!(told(&before, &before), "");
    }

    #[test]
    fn what_comes_and_goes_is_told() {
        assert_eq!(
            told(&[("a.dish", "1")], &[("b.dish", "1")]),
            "`a.dish` is no longer part of it; `b.dish` is new to it"
        );
    }

    #[test]
    fn texts_are_told_apart_by_their_words() {
        assert_eq!(
            difference(b"{ \"iron\": 1.2, \"zinc\": 3 }", b"{ \"iron\": 1.3, \"zinc\": 3 }"),
            "it says `{ \"iron\": 1.2, \"zinc\": 3`, not `{ \"iron\": 1.3, \"zinc\": 3`"
        );
        assert_eq!(difference(b"a b", b"a b c"), "it says `a b`, not `a b c`");
        assert_eq!(difference(&[255], &[254]), "its bytes differ");
    }
}

//! Where sentences end, by the default rules of Unicode (UAX #29, section 5.1).
//!
//! Most prose is written in plain Latin letters, and for those the rules fit
//! on a page; all other text goes to the library. A test holds the one against
//! the other.

use std::borrow::Cow;

use unicode_segmentation::UnicodeSegmentation;

/// Signs in a row that can change nothing any more. The library looks ahead
/// anew from each bracket or blank behind a full stop, so a megabyte of them
/// would take hours.
const LONGEST_RUN: usize = 64;

/// What a character is to the end of a sentence.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Class {
    Line,
    Blank,
    Stop,
    Mark,
    Goes,
    Close,
    Digit,
    Upper,
    Lower,
    Other,
}

/// `None` for what is not plain.
fn class(c: char) -> Option<Class> {
    Some(match c {
        'a'..='z' => Class::Lower,
        'A'..='Z' => Class::Upper,
        '0'..='9' => Class::Digit,
        ' ' | '\t' | '\u{B}' | '\u{C}' | '\u{A0}' => Class::Blank,
        '\n' | '\r' => Class::Line,
        '.' => Class::Stop,
        '!' | '?' => Class::Mark,
        ',' | '-' | ':' | ';' | '–' | '—' => Class::Goes,
        '"' | '\'' | '(' | ')' | '[' | ']' | '{' | '}' | '‘' | '’' | '“' | '”' => Class::Close,
        '\u{C0}'..='\u{17F}' if c.is_lowercase() => Class::Lower,
        '\u{C0}'..='\u{17F}' if c.is_uppercase() => Class::Upper,
        '\0'..='\u{7F}' | '\u{C0}'..='\u{17F}' | '°' | '½' | '¼' | '¾' => Class::Other,
        _ => return None,
    })
}

/// The sentences of a text; joined they are the text. Of very long runs of
/// signs only the beginning is given.
pub fn split(text: &str) -> Vec<Cow<'_, str>> {
    if let Some(found) = plain(text) {
        return found.into_iter().map(Cow::Borrowed).collect();
    }
    let mut run = 0;
    let bounded = |c: &char| {
        run = if c.is_alphanumeric() { 0 } else { run + 1 };
        run <= LONGEST_RUN
    };
    let bounded: String = text.chars().filter(bounded).collect();
    bounded.split_sentence_bounds().map(|sentence| Cow::Owned(sentence.to_owned())).collect()
}

/// The same for plain text, with the numbers of the rules in the remarks.
fn plain(text: &str) -> Option<Vec<&str>> {
    let mut found = Vec::new();
    let mut start = 0;
    let mut letter = false;
    let mut rest = text.chars();
    let at = |rest: &std::str::Chars<'_>| text.len() - rest.as_str().len();
    while let Some(c) = rest.next() {
        let this = class(c)?;
        let after_letter = std::mem::replace(&mut letter, matches!(this, Class::Upper | Class::Lower));
        let cut = match this {
            Class::Line => {
                // SB3, SB4
                if c == '\r' && rest.as_str().starts_with('\n') {
                    rest.next();
                }
                true
            }
            Class::Stop | Class::Mark => ends(this, after_letter, &mut rest)?,
            _ => false,
        };
        if cut {
            found.extend(text.get(start..at(&rest)));
            start = at(&rest);
        }
    }
    found.extend(text.get(start..).filter(|last| !last.is_empty()));
    Some(found)
}

/// Whether a sentence ends behind a full stop or another mark; takes what
/// belongs to its end.
fn ends(mark: Class, after_letter: bool, rest: &mut std::str::Chars<'_>) -> Option<bool> {
    let next = |rest: &std::str::Chars<'_>| match rest.clone().next() {
        Some(c) => class(c).map(Some),
        None => Some(None),
    };
    let stop = mark == Class::Stop;
    match next(rest)? {
        // SB6, SB7
        Some(Class::Digit) if stop => return Some(false),
        Some(Class::Upper) if stop && after_letter => return Some(false),
        _ => {}
    }
    // SB9, SB10
    for kind in [Class::Close, Class::Blank] {
        while next(rest)? == Some(kind) {
            rest.next();
        }
    }
    Some(match next(rest)? {
        // At the end of the text, and before a line break, which ends it itself.
        None | Some(Class::Line) => false,
        // SB8a
        Some(Class::Goes | Class::Stop | Class::Mark) => false,
        // SB8, SB11
        _ => !(stop && lower_follows(rest.as_str())?),
    })
}

fn lower_follows(text: &str) -> Option<bool> {
    for c in text.chars() {
        match class(c)? {
            Class::Lower => return Some(true),
            Class::Upper | Class::Line | Class::Stop | Class::Mark => return Some(false),
            _ => {}
        }
    }
    Some(false)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn as_people_write() {
        let text = "Mash well (with 1.5 cups). Don't stop. e.g. beans, etc. and so on! “So?” Yes.\nN’ajoutez\r\npas.";
        let found = plain(text);
        assert_eq!(found.as_deref(), Some(&text.split_sentence_bounds().collect::<Vec<_>>()[..]));
        assert_eq!(found.map(|found| found.len()), Some(6));
    }

    #[test]
    fn a_long_run_of_signs_takes_no_time() {
        for first in ["a. ", "እንቁላል. "] {
            let text = format!("{first}{}b", ")] ".repeat(400_000));
            assert_eq!(split(&text).last().map(|last| last.ends_with('b')), Some(true));
        }
    }

    proptest! {
        #[test]
        fn plain_text_ends_where_the_library_says(
            text in "[a-dA-DéÉœŒſÿŸ0-9 .!?,;:\\-–—\"'()\\[\\]{}‘’“”°½\t\r\n\u{A0}\u{B}_/%]{0,60}"
        ) {
            prop_assert_eq!(plain(&text), Some(text.split_sentence_bounds().collect::<Vec<_>>()));
        }

        #[test]
        fn every_plain_character_is_what_the_library_takes_it_for(c in proptest::char::range('\0', '\u{17F}')) {
            for text in [format!("a.{c}b"), format!("a. {c}B"), format!("a!{c} b"), format!("A{c}B c"), format!("a. {c}")] {
                if let Some(found) = plain(&text) {
                    prop_assert_eq!(found, text.split_sentence_bounds().collect::<Vec<_>>());
                }
            }
        }
    }
}

//! Letters that look like Latin ones and are others, and signs that are not
//! seen at all: a name that holds one looks like a food's and is none.

use unicode_normalization::UnicodeNormalization;

/// Cyrillic, Greek and Armenian letters by the Latin one they are taken for.
/// By eye, in common fonts; no source.
const ALIKE: [(char, &str); 31] = [
    ('a', "аαɑ"),
    ('b', "Ьь"),
    ('c', "сϲ"),
    ('d', "ԁ"),
    ('e', "еєε"),
    ('g', "ɡց"),
    ('h', "һհ"),
    ('i', "іιıӏ"),
    ('j', "јϳ"),
    ('k', "кκ"),
    ('m', "м"),
    ('n', "ոηп"),
    ('o', "оοօ"),
    ('p', "рρ"),
    ('q', "ԛզ"),
    ('r', "г"),
    ('s', "ѕ"),
    ('t', "тτ"),
    ('u', "υսц"),
    ('v', "νѵ"),
    ('w', "ԝωѡ"),
    ('x', "хχ"),
    ('y', "уγү"),
    ('z', "ᴢ"),
    ('A', "АΑ"),
    ('B', "ВΒ"),
    ('C', "СϹ"),
    ('E', "ЕΕ"),
    ('O', "ОΟ"),
    ('P', "РΡ"),
    ('T', "ТΤ"),
];

/// What is odd about a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Odd {
    /// The letter, and the one that it looks like.
    Letter(char, char),
    /// A sign that is not seen.
    Hidden(char),
}

impl Odd {
    /// For a help: what stands there.
    pub fn words(self) -> String {
        match self {
            Self::Letter(odd, plain) => {
                format!("its `{odd}` is U+{:04X} and only looks like `{plain}`", u32::from(odd))
            }
            Self::Hidden(odd) => format!("it holds a sign that is not seen, U+{:04X}", u32::from(odd)),
        }
    }
}

/// The name as it looks, and the first sign that is not what it looks like;
/// `None` where all of it is.
pub fn plain(name: &str) -> Option<(String, Odd)> {
    let mut first = None;
    let mut out = String::with_capacity(name.len());
    for c in name.chars() {
        let odd = if hidden(c) { Some(Odd::Hidden(c)) } else { alike(c).map(|plain| Odd::Letter(c, plain)) };
        match odd {
            Some(Odd::Letter(_, plain)) => out.push(plain),
            Some(Odd::Hidden(_)) => {}
            None => out.push(c),
        }
        first = first.or(odd);
    }
    first.map(|odd| (out, odd))
}

fn alike(c: char) -> Option<char> {
    if c.is_ascii() {
        return None;
    }
    let own = ALIKE.iter().find(|(_, others)| others.contains(c)).map(|(plain, _)| *plain);
    // Letters of mathematics and of full width.
    own.or_else(|| std::iter::once(c).nfkc().next().filter(char::is_ascii_alphanumeric))
}

fn hidden(c: char) -> bool {
    matches!(c,
        '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}'
        | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FE00}'..='\u{FE0F}'
        | '\u{FEFF}' | '\u{3164}' | '\u{FFA0}' | '\u{E0000}'..='\u{E0FFF}')
        || c.is_control()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_as_they_look() {
        assert_eq!(plain("pumpkin"), None);
        assert_eq!(plain("œufs à la crème"), None);
        assert_eq!(plain("pumpk\u{456}n"), Some(("pumpkin".to_owned(), Odd::Letter('\u{456}', 'i'))));
        assert_eq!(plain("w\u{200B}ater"), Some(("water".to_owned(), Odd::Hidden('\u{200B}'))));
        assert_eq!(plain("ｗater"), Some(("water".to_owned(), Odd::Letter('ｗ', 'w'))));
        assert_eq!(plain("\u{202E}retaw").map(|(name, _)| name), Some("retaw".to_owned()));
    }

    #[test]
    fn no_letter_is_taken_for_two() {
        let mut all: Vec<char> = ALIKE.iter().flat_map(|(_, others)| others.chars()).collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }
}

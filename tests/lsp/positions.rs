//! Bytes to lines and columns and back.

use lsp_types::Position;
use porringer::lsp::position::{Encoding, byte, position};
use porringer::source::Source;
use proptest::prelude::*;

const BOTH: [Encoding; 2] = [Encoding::Utf8, Encoding::Utf16];

/// A byte at which a cursor may stand: before a character, but not between
/// the two of a line's end.
fn stands(text: &str, byte: usize) -> bool {
    text.is_char_boundary(byte) && !(text[..byte].ends_with('\r') && text[byte..].starts_with('\n'))
}

#[track_caller]
fn round(text: &str) {
    let source = Source::new("a", text);
    for encoding in BOTH {
        let mut last = Position::new(0, 0);
        for at in (0..=text.len()).filter(|at| text.is_char_boundary(*at)) {
            let place = position(&source, at, encoding);
            assert!(place >= last, "{text:?} {at}: places keep the order of bytes");
            last = place;
            if stands(text, at) {
                assert_eq!(byte(&source, place, encoding), at, "{text:?} {encoding:?}");
            }
        }
    }
}

/// The columns as the protocol defines them, counted without our code.
#[track_caller]
fn counted(text: &str) {
    let source = Source::new("a", text);
    // A line ends at `\n`, `\r\n` or `\r`.
    let lines: Vec<&str> = {
        let mut lines = Vec::new();
        let mut rest = text;
        while let Some(at) = rest.find(['\n', '\r']) {
            lines.push(&rest[..at]);
            rest = rest[at..].strip_prefix("\r\n").unwrap_or_else(|| &rest[at + 1..]);
        }
        lines.push(rest);
        lines
    };
    for (number, line) in lines.iter().enumerate() {
        let mut units = 0;
        for character in line.chars() {
            let place = Position::new(number as u32, units);
            let at = byte(&source, place, Encoding::Utf16);
            assert_eq!(text[at..].chars().next(), Some(character), "{text:?} {place:?}");
            units += character.len_utf16() as u32;
        }
        let end = Position::new(number as u32, units);
        let beyond = Position::new(number as u32, units + 7);
        assert_eq!(byte(&source, beyond, Encoding::Utf16), byte(&source, end, Encoding::Utf16), "behind the end");
    }
    assert_eq!(byte(&source, Position::new(lines.len() as u32, 0), Encoding::Utf16), text.len());
}

#[test]
fn the_corners() {
    for text in ["", "\n", "\r\n", "\r", "a", "a\r\n\r\nb\rc", "\u{FEFF}dish é\u{301}", "𝔭orridge 🥣\r\nय", "a\n\rb"]
    {
        round(text);
        counted(text);
    }
}

#[test]
fn a_place_inside_a_pair_is_its_character() {
    let source = Source::new("a", "x🥣y");
    assert_eq!(byte(&source, Position::new(0, 2), Encoding::Utf16), 1);
    assert_eq!(byte(&source, Position::new(0, 3), Encoding::Utf16), 5);
    assert_eq!(position(&source, 3, Encoding::Utf16), Position::new(0, 1), "a byte inside a character");
    assert_eq!(position(&source, 5, Encoding::Utf8), Position::new(0, 5));
}

proptest! {
    #[test]
    fn any_text(text in "(?s)(.|\r\n|\r|\n|🥣|é|y\u{301}|\u{FEFF}){0,40}") {
        round(&text);
        counted(&text);
    }

    #[test]
    fn no_place_is_outside(text in "(?s).{0,40}", line in 0_u32..60, column in 0_u32..60) {
        let source = Source::new("a", text.clone());
        for encoding in BOTH {
            let at = byte(&source, Position::new(line, column), encoding);
            prop_assert!(text.is_char_boundary(at));
        }
    }
}

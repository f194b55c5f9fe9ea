//! Recipes as editors, mail and other hands leave them.

use proptest::prelude::*;

use porringer::format::format;
use porringer::syntax::Kind;

use crate::{RECIPES, holds};

/// One change to a text at a place given as a share of its length.
#[derive(Debug, Clone)]
enum Change {
    Insert(f64, String),
    Remove(f64, usize),
    Swap(f64),
    Indent(f64, String),
}

fn place(text: &str, share: f64) -> usize {
    let mut at = (text.len() as f64 * share) as usize;
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn line_start(text: &str, share: f64) -> usize {
    text[..place(text, share)].rfind('\n').map_or(0, |at| at + 1)
}

fn apply(text: &mut String, change: &Change) {
    match change {
        Change::Insert(share, what) => text.insert_str(place(text, *share), what),
        Change::Indent(share, what) => text.insert_str(line_start(text, *share), what),
        Change::Remove(share, count) => {
            for _ in 0..*count {
                let at = place(text, *share);
                if at < text.len() {
                    text.remove(at);
                }
            }
        }
        Change::Swap(share) => {
            let start = line_start(text, *share);
            let end = text[start..].find('\n').map_or(text.len(), |at| start + at + 1);
            let line: String = text.drain(start..end).collect();
            let to = line_start(text, 1.0 - share);
            text.insert_str(to, &line);
        }
    }
}

fn change() -> impl Strategy<Value = Change> {
    let bits = prop_oneof![
        Just(" ".to_owned()),
        Just("\t".to_owned()),
        Just("\n".to_owned()),
        Just("\r".to_owned()),
        Just("\r\n".to_owned()),
        Just("\n  ".to_owned()),
        Just("\n# remark \n".to_owned()),
        Just("\n \t# remark\n".to_owned()),
        Just("\u{A0}".to_owned()),
        Just("\u{3000}".to_owned()),
        Just("\u{B}".to_owned()),
        Just("\u{2028}".to_owned()),
        Just("\u{FEFF}".to_owned()),
        Just("\u{200F}خليط ".to_owned()),
        Just("ገንፎ ".to_owned()),
        Just("दलिया".to_owned()),
        Just("\ntake\n".to_owned()),
        Just("\n  step \n".to_owned()),
        Just("\nin sw Uji wa mtama\n".to_owned()),
        "[#:;,()\"½/°%a-z0-9 ]{1,6}",
    ];
    prop_oneof![
        (0.0..1.0, bits.clone()).prop_map(|(at, what)| Change::Insert(at, what)),
        (0.0..1.0, bits).prop_map(|(at, what)| Change::Indent(at, what)),
        (0.0..1.0, 1_usize..12).prop_map(|(at, count)| Change::Remove(at, count)),
        (0.0..1.0).prop_map(Change::Swap),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn recipes_changed_by_another_hand(
        which in 0_usize..10_000,
        changes in proptest::collection::vec(change(), 1..8),
        crlf in any::<bool>(),
        bom in any::<bool>(),
    ) {
        let (_, kind, text) = &RECIPES[which % RECIPES.len()];
        let mut text = if crlf { text.replace('\n', "\r\n") } else { text.clone() };
        for change in &changes {
            apply(&mut text, change);
        }
        if bom {
            text.insert(0, '\u{FEFF}');
        }
        holds(*kind, &text);
    }

    #[test]
    fn any_text(text in "(?s).{0,200}") {
        for kind in Kind::ALL {
            holds(kind, &text);
        }
    }

    #[test]
    fn any_lines(text in "((dish|menu|take|step|in sw|in|for|part|tip|meal|page|claim|\u{FEFF}|  |\t|#| #)[ \t\u{A0}a-z0-9,.;:()½/°%\u{B}#-]{0,30}(\n|\r\n|\r|\n\n)){0,20}") {
        for kind in Kind::ALL {
            holds(kind, &text);
        }
    }

    /// Bytes that are no text are never handed over; what can be read of them is.
    #[test]
    fn any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        holds(Kind::Dish, &String::from_utf8_lossy(&bytes));
    }
}

#[test]
fn a_file_keeps_its_line_ends() {
    for (path, kind, text) in RECIPES.iter().filter(|(_, _, text)| !text.contains('\r')) {
        let formed = format(*kind, &text.replace('\n', "\r\n"));
        assert_eq!(formed, format(*kind, text).replace('\n', "\r\n"), "{}", path.display());
    }
}

#[test]
fn too_large_to_be_read_is_left_alone() {
    let text = "tip  x\n".repeat(porringer::syntax::LARGEST_FILE / 7 + 1);
    assert_eq!(format(Kind::Dish, &text), text);
}

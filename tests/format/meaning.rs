//! What a text says, without where it says it.

use porringer::diagnostic::Sink;
use porringer::format::format;
use porringer::syntax::{self, Kind, NodeKind};

/// All that is no blank and no line end.
pub fn inked(text: &str) -> String {
    text.chars().filter(|c| !blank(*c) && !matches!(c, '\n' | '\r')).collect()
}

fn blank(c: char) -> bool {
    c == '\t' || (c.is_whitespace() && !matches!(c, '\u{0A}'..='\u{0D}' | '\u{85}' | '\u{2028}' | '\u{2029}'))
}

fn lines(text: &str) -> Vec<&str> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find(['\n', '\r']) {
        found.push(&rest[..at]);
        rest = &rest[at + if rest[at..].starts_with("\r\n") { 2 } else { 1 }..];
    }
    if !rest.is_empty() {
        found.push(rest);
    }
    found
}

pub fn comments(text: &str) -> Vec<String> {
    lines(text)
        .iter()
        .map(|line| line.trim_matches(blank))
        .filter(|line| line.starts_with('#'))
        .map(str::to_owned)
        .collect()
}

/// Their numbers, but for blanks after the last line's end.
pub fn blank_lines(text: &str) -> Vec<usize> {
    let ended = text.trim_end_matches(blank);
    lines(ended).iter().enumerate().filter(|(_, line)| line.chars().all(blank)).map(|(at, _)| at).collect()
}

/// Their text without line ends.
pub fn bad_lines(kind: Kind, text: &str) -> Vec<String> {
    let (tree, _) = syntax::parse(kind, text, &mut Sink::new());
    tree.nodes
        .iter()
        .filter(|node| node.kind == NodeKind::Bad)
        .map(|node| lines(&text[node.span.range()]).join("\n"))
        .collect()
}

/// The document without its places. Lines that could not be read keep their
/// text in it, whose blanks may change.
pub fn document(kind: Kind, text: &str) -> String {
    let (_, document) = syntax::parse(kind, text, &mut Sink::new());
    plain(&format!("{document:?}"))
}

/// Codes, words and helps of the parser's messages, without their places.
pub fn messages(kind: Kind, text: &str) -> Vec<String> {
    let mut sink = Sink::new();
    let _ = syntax::parse(kind, text, &mut sink);
    let mut found: Vec<String> = sink
        .finish()
        .iter()
        .map(|message| plain(&format!("{} {} {:?}", message.code.name(), message.message, message.help)))
        .collect();
    found.sort();
    found
}

/// Takes spans out of a debug text, and makes one blank of many.
fn plain(debug: &str) -> String {
    let mut out = String::new();
    let mut rest = debug;
    while let Some(at) = rest.find("Span { start: ") {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        rest = &rest[rest.find('}').unwrap() + 1..];
    }
    out.push_str(rest);
    let mut text = out.as_str().to_owned();
    for escaped in ["\\r", "\\n", "\\t", "\\u{a0}", "\\u{3000}", "\\u{1680}", "\\u{202f}", "\\u{205f}"] {
        text = text.replace(escaped, " ");
    }
    for number in 0x2000..=0x200A {
        text = text.replace(&format!("\\u{{{number:x}}}"), " ");
    }
    // A last line gets its end, which is no part of what it says.
    text.split_whitespace().collect::<Vec<_>>().join(" ").replace(" \"", "\"")
}

#[test]
fn the_comparison_sees_a_difference() {
    let other = |a: &str, b: &str| document(Kind::Dish, a) != document(Kind::Dish, b);
    assert!(other("dish A\n", "dish B\n"));
    assert!(other("dish A\ntip b c\n", "dish A\ntip b  c d\n"));
    assert!(!other("dish A\n", "dish     A\n"));
    assert_ne!(comments("# a\n"), comments("# b\n"));
    assert_ne!(blank_lines("a\n\nb"), blank_lines("a\nb"));
    assert_eq!(inked("a \u{A0}b\r\n"), "ab");
    assert_eq!(format(Kind::Menu, "menu A\n"), "menu     A\n");
}

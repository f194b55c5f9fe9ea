//! The fuzz targets' bodies as property tests: a short run of each in every
//! `cargo test`, from texts that are nearly right, and over all that fuzzing
//! ever found (`found/TARGET/`).

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

use std::fs;
use std::path::Path;

use proptest::prelude::*;

// As the targets name it, so that its own files are found beside it.
#[path = "bodies.rs"]
mod bodies;

type Body = fn(&[u8]);

const BODIES: [(&str, Body); 9] = [
    ("dish", bodies::dish),
    ("menu", bodies::menu),
    ("form", bodies::form),
    ("number", bodies::number),
    ("sheet", bodies::sheet),
    ("settings", bodies::settings),
    ("tables", bodies::tables),
    ("lsp", bodies::lsp),
    ("text", |bytes| {
        bodies::text(bytes);
    }),
];

#[test]
fn what_fuzzing_found_stays_mended() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/found");
    let mut count = 0;
    for (name, body) in BODIES {
        for file in fs::read_dir(root.join(name)).into_iter().flatten() {
            body(&fs::read(file.unwrap().path()).unwrap());
            count += 1;
        }
    }
    assert!(count > 0, "the finds have gone");
}

/// Words and signs that mean something, in any order, and what does not.
fn line() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        8 => prop::sample::select(vec![
            "dish", "menu", "booklet", "in", "for", "makes", "cooked", "portion", "claim", "diet", "take", "family",
            "part", "step", "swap", "serve", "note", "season", "reviewed", "picture", "meal", "snack", "page", "annex",
            "sw", "months", "to", "cups", "g", "tsp", "of", "or", "as", "keep", "r6:3004", "with", "set aside", "boil",
            "mash", "everything", "child portion", "pumpkin", "eggs", "honey", "water", "usda:11422", "1", "1/2", "1 1/2",
            "9", "23", "½", "10 min", "overnight", "source", "rich", "iron", "vitamin A", ",", ";", ":", "(92 g)", "raw",
            "%", "6-8", "march", "2026-05-01", "7:00", "\n", "\n  ", "\n# ",
        ]).prop_map(str::to_owned),
        1 => "[\\PC\t\u{0}\u{202E}\u{200B}]{0,6}",
        1 => "[0-9/.,½-]{1,12}",
    ];
    prop::collection::vec(word, 1..8).prop_map(|words| words.join(" "))
}

fn file() -> impl Strategy<Value = String> {
    prop::collection::vec(line(), 0..14).prop_map(|lines| lines.join("\n"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_dish(text in file()) {
        bodies::dish(format!("dish A\n{text}\n").as_bytes());
        bodies::form(text.as_bytes());
    }

    #[test]
    fn a_menu(text in file()) {
        bodies::menu(format!("menu A\n{text}\n").as_bytes());
    }

    #[test]
    fn a_number(text in "[0-9०-९½⅔/⁄., \u{66B}-]{0,12}") {
        bodies::number(text.as_bytes());
    }

    #[test]
    fn a_sheet(text in "(food|name|FE\\(mg\\)|[0-9.,;\t\"\n<\\[\\]trT-]){0,60}", zipped in any::<bool>()) {
        let head: &[u8] = if zipped { b"PK\x03\x04" } else { b"" };
        bodies::sheet(&[head, text.as_bytes()].concat());
    }

    #[test]
    fn settings_of_any_kind(text in "((languages|paper|rules|tables|out|fonts|measures|x) ?= ?(\"[a-zA-Z0-9./]{0,8}\"|\\[\"a\"\\]|\\{ off = true \\}|12)?\n|\\[rules\\]\n|\"safety/added-salt\" = \\{ severity = \"note\" \\}\n|[\"=\\[\\]#]){0,12}") {
        bodies::settings(text.as_bytes());
    }

    #[test]
    fn a_table(text in "(food|unit|price|currency|date|id|name|basis|FE|,|\n|\"|kg|½|2026-05-01|[0-9.]{1,4}){0,60}") {
        bodies::tables(text.as_bytes());
    }

    #[test]
    fn a_conversation(lines in prop::collection::vec(said(), 0..16), hello in prop::sample::select(vec!["", "", "", "!\n"])) {
        bodies::lsp(format!("{hello}{}", lines.join("\n")).as_bytes());
    }
}

/// What an editor says, sensible or not.
fn said() -> impl Strategy<Value = String> {
    let place = || (0_u32..6, 0_u32..14, 0_u32..14, 0_u32..14, 0_u32..14);
    let text = prop_oneof![
        4 => file().prop_map(|text| format!("dish A|{text}").replace('\n', "|")),
        1 => "(\r|\\||é|🥣|x|\u{301}){0,6}",
    ];
    prop_oneof![
        3 => (prop::sample::select(vec!['o', 'c', 'c', 'f', 'R']), place(), text)
            .prop_map(|(letter, (document, a, b, c, d), text)| format!("{letter}{document} {a} {b} {c} {d} {text}")),
        3 => (prop::sample::select("xswhpdHPytFairqe".chars().collect::<Vec<_>>()), place())
            .prop_map(|(letter, (document, a, b, c, d))| format!("{letter}{document} {a} {b} {c} {d}")),
        1 => prop::sample::select(vec![
            r#"{"id":1,"method":"textDocument/hover","params":7}"#,
            r#"{"id":"x","method":"initialize","params":{}}"#,
            r#"{"method":"textDocument/didChange","params":{"textDocument":{"uri":"::","version":0},"contentChanges":[]}}"#,
            r#"{"id":9,"result":null}"#,
            r#"{"id":2,"method":"textDocument/codeAction","params":{"textDocument":{"uri":""},"range":{}}}"#,
        ]).prop_map(str::to_owned),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_text_on_a_page(lines in prop::collection::vec(prop_oneof![
        "[#$*_@<>`=/\\\\~{}\\[\\]()\"'a-c.:;+!1 -]{1,24}",
        "(#panic\\(\"a\"\\)|#import|\\$x\\$|@ref|<label>|//|/\\*|\\*/|https://a|\\\\u\\{1f600\\}|--|\\.\\.\\.|é|ß| ){1,6}",
    ], 4)) {
        bodies::text(lines.join("\n").as_bytes());
    }
}

/// The property above would hold if every dish were refused.
#[test]
fn a_text_of_every_sign_is_looked_for_on_the_page() {
    let signs: String = (' '..='~').collect();
    assert_eq!(bodies::text(format!("a {signs}\n#panic()\n$ b\n*c* _d_ `e`").as_bytes()), 8);
}

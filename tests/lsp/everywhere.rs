//! Every feature at places of every recipe here, sound and broken: nothing
//! falls over, and what is said of a place lies in the text.

use lsp_types::SymbolKind;
use porringer::lsp::outline::{Symbol, outline};
use porringer::lsp::rename::apply;
use porringer::lsp::{completion, form, hints, hover, messages, names, tokens};
use porringer::source::Span;

use crate::{Lone, recipes};

fn inside(text: &str, span: Span) {
    assert!(text.get(span.range()).is_some(), "{span:?} is no piece of {} bytes", text.len());
}

#[test]
fn features_are_total() {
    let mut hovers = 0;
    let mut proposals = 0;
    for (number, (path, kind, text)) in recipes().into_iter().enumerate() {
        let lone = Lone::of(kind, &text);
        let view = lone.view();
        // A few places of each file, other ones in each.
        let step = (text.len() / 9).max(1);
        for at in (number % 7..=text.len()).step_by(step).filter(|at| text.is_char_boundary(*at)) {
            if let Some(told) = hover::hover(&view, at) {
                hovers += 1;
                inside(&text, told.span);
                assert!(!told.text.trim().is_empty(), "{}", path.display());
            }
            for item in completion::complete(&view, at) {
                proposals += 1;
                inside(&text, item.span);
                assert!(
                    item.span.start <= at && at <= item.span.end && !item.text.is_empty(),
                    "{}: {item:?} at {at}",
                    path.display()
                );
            }
            for found in names::references(&view, at) {
                inside(&text, found.span);
            }
            names::definition(&view, at);
        }
        for offer in messages::offers(&view, Span::new(0, text.len())) {
            inside(&text, offer.fix.span);
            assert!(!offer.title.is_empty());
        }
        for hint in hints::hints(&view) {
            inside(&text, Span::new(0, hint.at));
        }
        assert_eq!(apply(&text, &form::form(&view)), porringer::format::format(kind, &text), "{}", path.display());
    }
    assert!(hovers > 500 && proposals > 5_000, "{hovers} {proposals}");
}

#[test]
fn tokens_are_in_order_and_on_one_line() {
    let mut count = 0;
    for (path, kind, text) in recipes() {
        let lone = Lone::of(kind, &text);
        let mut at = 0;
        for token in tokens::tokens(&lone.view()) {
            let word = &text[token.span.range()];
            assert!(token.span.start >= at && !word.is_empty(), "{}: {token:?} {word:?}", path.display());
            assert!(!word.contains(['\n', '\r']), "{}: {word:?}", path.display());
            at = token.span.end;
            count += 1;
        }
    }
    assert!(count > 5_000, "{count}");
}

#[test]
fn the_outline_nests() {
    fn nests(text: &str, outer: Span, symbols: &[Symbol]) {
        for one in symbols {
            inside(text, one.span);
            assert!(outer.start <= one.span.start && one.span.end <= outer.end, "{one:?}");
            assert!(one.span.start <= one.at.start && one.at.end <= one.span.end, "{one:?}");
            assert!(!one.name.trim().is_empty(), "{one:?}");
            nests(text, one.span, &one.children);
        }
    }
    for (_, kind, text) in recipes() {
        let lone = Lone::of(kind, &text);
        nests(&text, Span::new(0, text.len()), &outline(&lone.view()));
    }
}

#[test]
fn an_outline_holds_what_stands_there() {
    let lone = Lone::dish(crate::MASH);
    let symbols = outline(&lone.view());
    assert_eq!(symbols.len(), 1);
    assert_eq!(symbols[0].name, "Sweet potato mash with egg");
    let names: Vec<&str> = symbols[0].children.iter().map(|one| one.name.as_str()).collect();
    for name in ["rich in vitamin A", "sweet potato", "boil sweet potato for 20 min, until soft"] {
        assert!(names.contains(&name), "{name}: {names:?}");
    }
    let potato = symbols[0].children.iter().find(|one| one.name == "sweet potato").unwrap();
    assert_eq!((potato.kind, potato.detail.as_str()), (SymbolKind::VARIABLE, "281 g"));
}

#[test]
fn tokens_say_what_a_word_is() {
    use tokens::Kind::*;
    let text = "\
# A note
dish     Mash
take     2 cups orange sweet potato, raw, peeled as potato
step     boil potato for 20 min: Keep it
         # another note
         boiling.
";
    let lone = Lone::dish(text);
    let found = tokens::tokens(&lone.view());
    let words: Vec<(&str, tokens::Kind, bool)> =
        found.iter().map(|token| (&text[token.span.range()], token.kind, token.declaration)).collect();
    assert_eq!(
        words,
        [
            ("# A note", Comment, false),
            ("dish", Keyword, false),
            ("Mash", Text, false),
            ("take", Keyword, false),
            ("2 cups", Number, false),
            ("orange sweet potato", Food, false),
            ("raw", State, false),
            ("peeled", State, false),
            ("potato", Ingredient, true),
            ("step", Keyword, false),
            ("boil", Process, false),
            ("potato", Ingredient, false),
            ("for 20 min", Number, false),
            ("Keep it", Text, false),
            ("# another note", Comment, false),
            ("boiling.", Text, false),
        ]
    );
}

#[test]
fn hints_are_the_grams_of_the_trace() {
    let lone = Lone::dish(crate::MASH);
    let found: Vec<(String, String)> = hints::hints(&lone.view())
        .into_iter()
        .map(|hint| {
            let line = crate::MASH[..hint.at].rsplit('\n').next().unwrap();
            (line.to_owned(), hint.text)
        })
        .collect();
    // The figures are those of `trace` in the README's tour.
    for (line, text) in [
        ("makes    2 cups", "= 440 g"),
        ("portion  9 to 11 months: 1/2 cup", "= 110 g"),
        ("take     2 cups", "= 281 g"),
        ("take     2", "= 88 g"),
        ("take     1 tbsp", "= 13.8 g"),
    ] {
        let hint = found.iter().find(|(own, _)| own == line);
        let hint = hint.unwrap_or_else(|| panic!("{line}: {found:?}"));
        if line.starts_with("portion") {
            assert!(hint.1.starts_with(&format!("{text}, ")) && hint.1.ends_with(" kcal"), "{hint:?}");
        } else {
            assert_eq!(hint.1, text, "{line}");
        }
    }
}

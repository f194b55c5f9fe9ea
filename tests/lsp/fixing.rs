//! Fixes that an editor offers: made, each mends its message.

use porringer::diagnostic::Code;
use porringer::lsp::messages::offers;
use porringer::lsp::rename::apply;
use porringer::source::Span;
use porringer::syntax::Kind;

use crate::editor::Editor;
use crate::{Lone, MASH, recipes};

/// Every text that some fix of a code makes of a text.
fn fixed(kind: Kind, text: &str, code: &str) -> Vec<(String, String)> {
    let lone = Lone::of(kind, text);
    let found = offers(&lone.view(), Span::new(0, text.len())).into_iter();
    found
        .filter(|offer| offer.message.code.name() == code)
        .map(|offer| (offer.title.clone(), apply(text, &[(offer.fix.span, offer.fix.replacement.clone())])))
        .collect()
}

fn count(kind: Kind, text: &str, code: Code) -> usize {
    Lone::of(kind, text).view().checked.diagnostics.iter().filter(|one| one.code == code).count()
}

#[test]
fn a_fix_is_what_the_help_says() {
    let text = "dish     Mash\ntake     1,5 cups orange sweet potato, raw, peeled as potato\nstep     boyl potato for 20 min\n";
    assert_eq!(
        fixed(Kind::Dish, text, "syntax/comma-decimal"),
        [("write `1.5`".to_owned(), text.replace("1,5", "1.5"))],
    );
    assert_eq!(
        fixed(Kind::Dish, text, "method/unknown-process"),
        [("write `boil`".to_owned(), text.replace("boyl", "boil"))],
    );
}

#[test]
fn helps_that_no_case_of_the_corpus_has() {
    let dish = |lines: &str| format!("dish     Mash\nfor      9 to 23 months\n{lines}");
    for (text, code, was, new) in [
        (dish("take     100 g usad:11507 as potato\n"), "food/no-composition", "usad:", "usda:"),
        (dish("take     2 eggs\ntake     1 eggs, boiled\n"), "syntax/duplicate-line", "boiled", "boiled as more eggs"),
        (dish("makes    2 cusp\n"), "measure/unknown-unit", "cusp", "cup"),
        (
            dish(
                "part     filling\ntake     100 g pumpkin\nstep     boil pumpkin for 10 min\npart     cake\ntake     100 g maize flour\nstep     mix maize flour with pumpkin\n",
            ),
            "method/unknown-ingredient",
            "with pumpkin",
            "with filling",
        ),
        (dish("makes    2 cups\nportion  6 to 11 months: 1/2 cup\n"), "age/portion-outside", "6 to 11", "9 to 11"),
        (dish("take     100 g avocado, driid\n"), "food/unknown", "driid", "dried"),
    ] {
        let found = fixed(Kind::Dish, &text, code);
        let wanted = text.replace(was, new);
        assert!(found.iter().any(|(_, mended)| *mended == wanted), "{code}: {found:?}");
    }
}

#[test]
fn every_fix_of_the_corpus_takes_its_message_away() {
    let mut tried = 0;
    let mut codes = std::collections::BTreeSet::new();
    for (path, kind, text) in recipes() {
        let lone = Lone::of(kind, &text);
        for offer in offers(&lone.view(), Span::new(0, text.len())) {
            let code = offer.message.code;
            let mended = apply(&text, &[(offer.fix.span, offer.fix.replacement.clone())]);
            if offer.fix.replacement.contains('…') {
                // Only a scale knows the weight: until it is filled in it is an
                // error at its own place.
                assert!(!offer.preferred, "{}", path.display());
                let after = count(kind, &mended, Code::SyntaxBadQuantity);
                assert_eq!(after, count(kind, &text, Code::SyntaxBadQuantity) + 1, "{}:\n{mended}", path.display());
                continue;
            }
            let (before, after) = (count(kind, &text, code), count(kind, &mended, code));
            assert!(after < before, "{}: `{}` leaves {after} {}\n{mended}", path.display(), offer.title, code.name());
            tried += 1;
            codes.insert(code.name());
        }
    }
    assert!(tried >= 40 && codes.len() >= 13, "{tried} fixes of {codes:?}");
}

#[test]
fn a_translation_that_is_to_be_written_still_lacks() {
    let mut editor = Editor::start();
    editor.write("porringer.toml", "languages = [\"en\", \"sw\"]\n");
    let text = MASH.replace("in sw    Viazi vitamu na yai, vya kuponda\n", "").replace('\n', "\r\n");
    editor.open("mash.dish", &text);
    editor.wait("mash.dish");
    let lacking =
        |editor: &Editor| editor.codes("mash.dish").iter().filter(|code| *code == "text/missing-translation").count();
    let before = lacking(&editor);
    assert!(before >= 3, "{:?}", editor.codes("mash.dish"));
    let start = serde_json::json!({ "line": 0, "character": 12 });
    let asked = serde_json::json!({
        "textDocument": { "uri": editor.uri("mash.dish") },
        "range": { "start": start, "end": start },
        "context": { "diagnostics": [], "only": ["quickfix"] },
    });
    let actions = editor.request("textDocument/codeAction", asked.clone());
    let edit = &actions[0]["edit"]["changes"][editor.uri("mash.dish")][0];
    assert_eq!(edit["newText"], "\r\nin sw    …");
    assert_eq!((&edit["range"]["start"]["line"], &edit["range"]["start"]["character"]), (&0.into(), &35.into()));
    let dots = text.replacen("\r\n", "\r\nin sw    …\r\n", 1);
    editor.change("mash.dish", &dots);
    editor.wait("mash.dish");
    assert_eq!(lacking(&editor), before, "dots are no text");
    assert_eq!(editor.request("textDocument/codeAction", asked), serde_json::json!([]), "the line is there already");
    editor.change("mash.dish", &dots.replace('…', "Viazi vitamu na yai"));
    editor.wait("mash.dish");
    assert_eq!(lacking(&editor), before - 1);
    editor.stop();
}

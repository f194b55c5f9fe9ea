//! Fixes that an editor offers: made, each mends its message.

use porringer::diagnostic::Code;
use porringer::lsp::messages::offers;
use porringer::lsp::rename::apply;
use porringer::source::Span;
use porringer::syntax::Kind;

use crate::{Lone, recipes};

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
fn every_fix_of_the_corpus_takes_its_message_away() {
    let mut tried = 0;
    let mut codes = std::collections::BTreeSet::new();
    for (path, kind, text) in recipes() {
        let lone = Lone::of(kind, &text);
        for offer in offers(&lone.view(), Span::new(0, text.len())) {
            let mended = apply(&text, &[(offer.fix.span, offer.fix.replacement.clone())]);
            let before = count(kind, &text, offer.message.code);
            let after = count(kind, &mended, offer.message.code);
            assert!(
                after < before,
                "{}: `{}` leaves {} {}",
                path.display(),
                offer.title,
                after,
                offer.message.code.name()
            );
            tried += 1;
            codes.insert(offer.message.code.name());
        }
    }
    assert!(tried >= 10 && codes.len() >= 6, "{tried} fixes of {codes:?}");
}

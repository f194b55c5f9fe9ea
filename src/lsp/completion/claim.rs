//! Claims that hold, so that none has to be guessed.

use lsp_types::CompletionItemKind;

use super::Item;
use crate::ast::ClaimKind;
use crate::cli::claims;
use crate::lsp::place::Piece;
use crate::lsp::view::View;

pub fn claims(view: &View<'_>, piece: Piece<'_>) -> Vec<Item> {
    let typed = piece.text.to_lowercase();
    let mut found: Vec<Item> = view
        .checked
        .dish
        .iter()
        .flat_map(|dish| claims::also(dish, view.workspace))
        .flat_map(|(words, detail)| {
            // What is rich in something is a source of it too.
            let subject = words.strip_prefix(ClaimKind::RichIn.words());
            let weaker = subject.map(|rest| (format!("{}{rest}", ClaimKind::SourceOf.words()), detail.clone()));
            std::iter::once((words, detail)).chain(weaker)
        })
        .filter(|(words, _)| words.to_lowercase().starts_with(&typed))
        .map(|(words, detail)| Item::new(words, piece.span(), CompletionItemKind::VALUE, detail))
        .collect();
    for kind in [ClaimKind::SourceOf, ClaimKind::RichIn, ClaimKind::LowIn, ClaimKind::FreeOf] {
        if kind.words().starts_with(&typed) && typed != kind.words() {
            found.push(Item::new(
                format!("{} ", kind.words()),
                piece.span(),
                CompletionItemKind::KEYWORD,
                "must be proven",
            ));
        }
    }
    found
}

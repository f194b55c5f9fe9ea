//! What features say in bytes, in the protocol's form.

use std::path::{Path, PathBuf};

use lsp_types::{
    CompletionItem, CompletionTextEdit, DocumentHighlight, DocumentHighlightKind, DocumentSymbol, Documentation, Hover,
    HoverContents, InlayHint, InlayHintLabel, InlayHintTooltip, MarkupContent, MarkupKind, SemanticToken, TextEdit,
    Uri,
};

use crate::diagnostic::render::visible;
use crate::lsp::completion::Item;
use crate::lsp::hints::Hint;
use crate::lsp::hover::Told;
use crate::lsp::names::Occurrence;
use crate::lsp::outline::Symbol;
use crate::lsp::position::{Encoding, position, range};
use crate::lsp::rename::Edit;
use crate::lsp::tokens::Token;
use crate::source::Source;

/// The address of a file.
pub fn uri(path: &Path) -> Option<Uri> {
    url::Url::from_file_path(path).ok()?.as_str().parse().ok()
}

/// The file of an address; `None` for a text that is in no file.
pub fn path(uri: &Uri) -> Option<PathBuf> {
    url::Url::parse(uri.as_str()).ok()?.to_file_path().ok()
}

/// A document's text and how its columns are counted.
#[derive(Debug, Clone, Copy)]
pub struct Frame<'a> {
    pub source: &'a Source,
    pub encoding: Encoding,
}

impl Frame<'_> {
    pub fn edits(self, edits: &[Edit]) -> Vec<TextEdit> {
        let edit = |(span, text): &Edit| TextEdit::new(range(self.source, *span, self.encoding), text.clone());
        edits.iter().map(edit).collect()
    }

    pub fn hover(self, told: Told, markdown: bool) -> Hover {
        let text = visible(&told.text);
        let (kind, value) = if markdown {
            // Columns line up only in type of one width, and nothing an author
            // wrote is read as a mark there.
            (MarkupKind::Markdown, format!("```text\n{}```\n", text.replace('`', "'")))
        } else {
            (MarkupKind::PlainText, text)
        };
        Hover {
            contents: HoverContents::Markup(MarkupContent { kind, value }),
            range: Some(range(self.source, told.span, self.encoding)),
        }
    }

    pub fn items(self, items: Vec<Item>) -> Vec<CompletionItem> {
        let item = |(at, item): (usize, Item)| CompletionItem {
            // What was typed stands for the whole item, in whatever language.
            filter_text: Some(format!("{} {}", self.source.slice(item.span), item.text).trim().to_owned()),
            sort_text: Some(format!("{at:04}")),
            kind: Some(item.kind),
            text_edit: Some(CompletionTextEdit::Edit(TextEdit::new(
                range(self.source, item.span, self.encoding),
                item.text,
            ))),
            documentation: Some(visible(&item.detail)).filter(|detail| !detail.is_empty()).map(Documentation::String),
            label: item.label,
            ..CompletionItem::default()
        };
        items.into_iter().enumerate().map(item).collect()
    }

    pub fn symbols(self, symbols: Vec<Symbol>) -> Vec<DocumentSymbol> {
        let symbol = |one: Symbol| {
            #[allow(deprecated)]
            // The field has to be filled as long as the type has it.
            DocumentSymbol {
                name: visible(&one.name),
                detail: Some(visible(&one.detail)).filter(|detail| !detail.is_empty()),
                kind: one.kind,
                tags: None,
                deprecated: None,
                range: range(self.source, one.span, self.encoding),
                selection_range: range(self.source, one.at, self.encoding),
                children: Some(self.symbols(one.children)).filter(|children| !children.is_empty()),
            }
        };
        symbols.into_iter().map(symbol).collect()
    }

    pub fn highlights(self, found: &[Occurrence]) -> Vec<DocumentHighlight> {
        found
            .iter()
            .map(|one| DocumentHighlight {
                range: range(self.source, one.span, self.encoding),
                kind: Some(if one.definition { DocumentHighlightKind::WRITE } else { DocumentHighlightKind::READ }),
            })
            .collect()
    }

    pub fn hint(self, hint: Hint) -> InlayHint {
        InlayHint {
            position: position(self.source, hint.at, self.encoding),
            label: InlayHintLabel::String(hint.text),
            kind: None,
            text_edits: None,
            tooltip: Some(InlayHintTooltip::String(visible(&hint.how))),
            padding_left: Some(true),
            padding_right: None,
            data: None,
        }
    }

    /// Tokens as distances from the one before.
    pub fn tokens(self, tokens: &[Token]) -> Vec<SemanticToken> {
        let (mut line, mut column) = (0, 0);
        tokens
            .iter()
            .map(|token| {
                let at = position(self.source, token.span.start, self.encoding);
                let delta_line = at.line.saturating_sub(line);
                let delta_start = if delta_line == 0 { at.character.saturating_sub(column) } else { at.character };
                (line, column) = (at.line, at.character);
                SemanticToken {
                    delta_line,
                    delta_start,
                    length: self.encoding.columns(self.source.slice(token.span)),
                    token_type: token.kind as u32,
                    token_modifiers_bitset: u32::from(token.declaration),
                }
            })
            .collect()
    }
}

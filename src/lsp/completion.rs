//! What may be written at the cursor.

mod claim;
mod food;
mod step;

use lsp_types::CompletionItemKind;

use crate::ast::Document;
use crate::card::locale;
use crate::format::COLUMN;
use crate::lsp::place::{Piece, Place};
use crate::lsp::view::View;
use crate::source::Span;
use crate::syntax::{self, Kind};
use crate::workspace::settings;

/// One proposal. Proposals stand in the order they are best tried in.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    pub label: String,
    /// What is written in place of `span`.
    pub text: String,
    pub span: Span,
    pub kind: CompletionItemKind,
    /// A few words beside the label.
    pub detail: String,
}

impl Item {
    pub fn new(text: impl Into<String>, span: Span, kind: CompletionItemKind, detail: impl Into<String>) -> Self {
        let text = text.into();
        Self { label: text.trim_end().to_owned(), text, span, kind, detail: detail.into() }
    }
}

/// What may be written at a place.
pub fn complete(view: &View<'_>, byte: usize) -> Vec<Item> {
    let Some(place) = Place::of(view, byte) else {
        return blank_line(view, byte).map(|span| keywords(view, span, byte)).unwrap_or_default();
    };
    if byte < place.keyword_span.start {
        // In the blanks before a word that should stand at the margin.
        return Vec::new();
    }
    if byte <= place.keyword_span.end {
        return keywords(view, place.keyword_span, byte);
    }
    match place.keyword.to_lowercase().as_str() {
        "take" | "family" => food::takes(view, &place, place.piece(0)),
        "swap" => swap(view, &place),
        "meal" | "snack" => food::meal(view, &place),
        "step" => step::step(view, &place),
        "claim" => claim::claims(view, place.piece(0)),
        "for" | "portion" => ages(view, &place),
        "makes" | "cooked" => food::units(place.piece(0)),
        "in" => tags(view, &place),
        "language" => listed(&place, locale::languages(), "a language that cards are made in"),
        "diet" => listed(&place, crate::assess::diets(), "a diet that is checked against the foods"),
        "paper" => listed(&place, settings::PAPERS.into_iter(), "paper"),
        "annex" => listed(&place, ["measures", "nutrients", "sources"].into_iter(), "an annex of the booklet"),
        "season" => listed(&place, MONTHS.into_iter(), ""),
        "page" => pages(view, &place),
        _ => Vec::new(),
    }
}

const MONTHS: [&str; 13] = [
    "all year",
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// The cursor's place on a line that holds nothing before it. A line that
/// begins with a blank continues the one above, and a comment is a comment.
fn blank_line(view: &View<'_>, byte: usize) -> Option<Span> {
    let source = &view.checked.source;
    let line = source.line(source.line_at(byte))?;
    (line.start == byte).then_some(Span::new(byte, byte))
}

/// Keywords that begin with what stands before the cursor; the whole word goes.
fn keywords(view: &View<'_>, span: Span, byte: usize) -> Vec<Item> {
    let typed = view.slice(Span::new(span.start, byte.max(span.start))).to_lowercase();
    let once = once_written(view, span);
    syntax::keywords(view.kind())
        .iter()
        .filter(|word| word.starts_with(&typed) && !once.contains(word))
        .map(|word| {
            // The blank after the keyword is kept where one stands already.
            let goes_on = view.text().get(span.end..).is_some_and(|rest| rest.starts_with([' ', '\t']));
            let text = if goes_on {
                (*word).to_owned()
            } else {
                format!("{word:<width$}", width = COLUMN.max(word.len() + 1))
            };
            Item::new(text, span, CompletionItemKind::KEYWORD, syntax::pattern(word))
        })
        .collect()
}

/// Keywords that may stand once and do, elsewhere.
fn once_written<'a>(view: &View<'a>, span: Span) -> Vec<&'a str> {
    const ONCE: [&str; 13] = [
        "dish", "menu", "booklet", "id", "language", "for", "makes", "cooked", "season", "reviewed", "source",
        "picture", "paper",
    ];
    let nodes = &view.checked.tree.nodes;
    let elsewhere = nodes.iter().filter_map(|node| node.keyword).filter(|keyword| keyword.start != span.start);
    elsewhere.map(|keyword| view.slice(keyword)).filter(|word| ONCE.contains(word)).collect()
}

/// Words of a list that commas part.
fn listed<'w>(place: &Place<'_>, words: impl Iterator<Item = &'w str>, detail: &str) -> Vec<Item> {
    let piece = place.piece(place.before.rfind(',').map_or(0, |at| at + 1));
    let typed = piece.text.to_lowercase();
    words
        .filter(|word| word.to_lowercase().starts_with(&typed))
        .map(|word| Item::new(word, piece.span(), CompletionItemKind::ENUM_MEMBER, detail))
        .collect()
}

fn pages(view: &View<'_>, place: &Place<'_>) -> Vec<Item> {
    let piece = place.piece(0);
    let typed = piece.text.to_lowercase();
    let dishes = view.neighbours.names(Kind::Dish).into_iter().map(|name| (name, "a dish of this workspace"));
    let menus = view.neighbours.names(Kind::Menu).into_iter();
    let menus = menus.map(|name| (format!("menu {name}"), "a day's menu of this workspace"));
    dishes
        .chain(menus)
        .filter(|(name, _)| name.to_lowercase().starts_with(&typed))
        .map(|(name, detail)| Item::new(name, piece.span(), CompletionItemKind::FILE, detail))
        .collect()
}

/// Languages of the workspace that the text above has no line for yet.
fn tags(view: &View<'_>, place: &Place<'_>) -> Vec<Item> {
    let piece = place.piece(0);
    if piece.text.contains(char::is_whitespace) {
        return Vec::new();
    }
    let header = view.checked.document.header();
    let own = header.language.first().map(|tag| tag.value.clone());
    let own = own.or_else(|| view.workspace.settings.languages.first().cloned()).unwrap_or_default();
    let mut tags: Vec<&str> = view.workspace.settings.languages.iter().map(String::as_str).collect();
    for tag in locale::languages() {
        if !tags.contains(&tag) {
            tags.push(tag);
        }
    }
    tags.into_iter()
        .filter(|tag| *tag != own && tag.starts_with(&piece.text.to_lowercase()))
        .map(|tag| {
            Item::new(
                format!("{tag} "),
                piece.span(),
                CompletionItemKind::ENUM_MEMBER,
                "the line above in this language",
            )
        })
        .collect()
}

/// Age ranges of the guidance profile.
fn ages(view: &View<'_>, place: &Place<'_>) -> Vec<Item> {
    let piece = place.piece(0);
    if piece.text.contains(':') {
        return food::units(piece.from(piece.text.find(':').map_or(0, |at| at + 1)));
    }
    let bands = view.reference().profile.bands();
    let portion = place.keyword.eq_ignore_ascii_case("portion");
    let mut ranges: Vec<(u16, u16)> = Vec::new();
    for (at, first) in bands.iter().enumerate() {
        // A dish is for several bands, a portion for one.
        let most = if portion { at + 1 } else { bands.len() };
        ranges.extend(bands.get(at..most).unwrap_or_default().iter().map(|last| (first.from_months, last.to_months)));
    }
    let within = match &view.checked.document {
        Document::Dish(dish) if portion => dish.header.ages.as_ref().map(|ages| ages.value),
        _ => None,
    };
    ranges
        .into_iter()
        .filter(|(from, to)| within.is_none_or(|ages| *to >= ages.from && ages.to.is_none_or(|last| *from <= last)))
        .map(|(from, to)| format!("{from} to {to} months{}", if portion { ": " } else { "" }))
        .filter(|text| text.starts_with(piece.text))
        .map(|text| Item::new(text, piece.span(), CompletionItemKind::VALUE, "completed months"))
        .collect()
}

fn swap(view: &View<'_>, place: &Place<'_>) -> Vec<Item> {
    let lower = place.before.to_lowercase();
    match lower.find(" for ") {
        Some(at) => {
            let after = at + " for ".len();
            let begins =
                place.before.get(after..).and_then(|rest| rest.rfind(',')).map_or(after, |comma| after + comma + 1);
            food::takes(view, place, place.piece(begins))
        }
        None => step::ingredients(view, place.piece(0), None),
    }
}

/// Whether the typed words each begin a word of a name, in any order.
fn answers(name: &str, typed: &str) -> bool {
    let name = name.to_lowercase();
    let words: Vec<&str> = name.split([' ', '-']).collect();
    typed.to_lowercase().split_whitespace().all(|typed| words.iter().any(|word| word.starts_with(typed)))
}

/// The last word of a piece.
fn last_word(piece: Piece<'_>) -> Piece<'_> {
    let at = piece.text.rfind(char::is_whitespace);
    let width = at.and_then(|at| piece.text.get(at..)).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    piece.from(at.map_or(0, |at| at + width))
}

//! The outline of a document.

use lsp_types::SymbolKind;

use crate::ast::{Document, Entry, Part, Text};
use crate::lsp::view::View;
use crate::resolve::food::label;
use crate::source::Span;

/// A line of the outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Symbol {
    pub name: String,
    pub detail: String,
    pub kind: SymbolKind,
    /// The whole of it.
    pub span: Span,
    /// Its name.
    pub at: Span,
    pub children: Vec<Symbol>,
}

fn symbol(name: impl Into<String>, detail: impl Into<String>, kind: SymbolKind, span: Span, at: Span) -> Symbol {
    let name: String = name.into();
    // An editor refuses a symbol without a name.
    let name = if name.trim().is_empty() { "…".to_owned() } else { name };
    Symbol { name, detail: detail.into(), kind, span: span.to(at), at, children: Vec::new() }
}

/// The outline: the title with everything below it.
pub fn outline(view: &View<'_>) -> Vec<Symbol> {
    let header = view.checked.document.header();
    let children = match &view.checked.document {
        Document::Dish(dish) => {
            let mut found = Vec::new();
            for portion in &dish.portions {
                let text = one_line(view.slice(portion.span));
                found.push(symbol(text, "", SymbolKind::CONSTANT, portion.span, portion.span));
            }
            for claim in &dish.claims {
                let name = format!("{} {}", claim.kind.words(), claim.subject.value);
                found.push(symbol(name, "claim", SymbolKind::BOOLEAN, claim.span, claim.span));
            }
            let mut first = 0;
            for part in &dish.parts {
                let inside = parts(view, part, first);
                first += part.takes.len();
                match &part.name {
                    Some(name) => {
                        let end = inside.iter().map(|one| one.span.end).max().unwrap_or(name.span.end);
                        let whole = Span::new(name.span.start, end.max(name.span.end));
                        let mut own = symbol(name.value.clone(), "part", SymbolKind::MODULE, whole, name.span);
                        own.children = inside;
                        found.push(own);
                    }
                    None => found.extend(inside),
                }
            }
            found
        }
        Document::Menu(menu) => menu
            .meals
            .iter()
            .map(|meal| {
                let clock = format!("{}:{:02}", meal.at.value / 60, meal.at.value % 60);
                let name = meal.name.as_ref().map_or(if meal.snack { "snack" } else { "meal" }, |name| &name.value);
                let mut own = symbol(format!("{clock} {name}"), "", SymbolKind::EVENT, meal.span, meal.at.span);
                own.children = meal
                    .items
                    .iter()
                    .map(|item| symbol(one_line(view.slice(item.span)), "", SymbolKind::FIELD, item.span, item.span))
                    .collect();
                own
            })
            .collect(),
        Document::Booklet(booklet) => {
            let mut found: Vec<Symbol> = Vec::new();
            for entry in &booklet.entries {
                match entry {
                    Entry::Section(text) => {
                        found.push(symbol(text.value.clone(), "section", SymbolKind::MODULE, text.span, text.span));
                    }
                    Entry::Page { menu, slug } => {
                        let detail = if *menu { "menu" } else { "" };
                        let page = symbol(slug.value.clone(), detail, SymbolKind::FILE, slug.span, slug.span);
                        match found.last_mut().filter(|last| last.kind == SymbolKind::MODULE) {
                            Some(section) => {
                                section.span = section.span.to(page.span);
                                section.children.push(page);
                            }
                            None => found.push(page),
                        }
                    }
                    Entry::Annex(names) => found.extend(
                        names
                            .iter()
                            .map(|name| symbol(name.value.clone(), "annex", SymbolKind::FILE, name.span, name.span)),
                    ),
                }
            }
            found
        }
    };
    match &header.title {
        Some(title) => vec![titled(view, title, children)],
        None => children,
    }
}

fn titled(view: &View<'_>, title: &Text, children: Vec<Symbol>) -> Symbol {
    let whole = children.iter().fold(title.span, |whole, child| whole.to(child.span));
    let mut own = symbol(title.value.clone(), view.kind().word(), SymbolKind::FILE, whole, title.span);
    own.children = children;
    own
}

/// Takes and steps of a part. `first` counts the ingredients above it.
fn parts(view: &View<'_>, part: &Part, first: usize) -> Vec<Symbol> {
    let ingredients = view.checked.dish.as_ref().map(|dish| dish.resolved.ingredients.as_slice()).unwrap_or_default();
    let mut found = Vec::new();
    for (at, take) in part.takes.iter().enumerate() {
        let own = ingredients.get(first + at);
        let name = own.map(|ingredient| ingredient.name.clone());
        let name = name.or_else(|| take.options.first().map(|option| label(option).value)).unwrap_or_default();
        let grams = own.and_then(|ingredient| ingredient.first()?.weight.as_ref()).map(|weight| weight.grams);
        let detail = grams.map_or(String::new(), |grams| format!("{} g", super::hover::grams(grams)));
        let at = take.alias.as_ref().map(|alias| alias.span).or(take.options.first().map(|option| option.food.span));
        found.push(symbol(name, detail, SymbolKind::VARIABLE, take.span, at.unwrap_or(take.span)));
    }
    for step in &part.steps {
        let head = step.actions.iter().map(|action| action.span).reduce(Span::to).unwrap_or(step.span);
        found.push(symbol(one_line(view.slice(head)), "", SymbolKind::FUNCTION, step.span, head));
    }
    found.sort_by_key(|one| one.span);
    found
}

/// A text of several lines as one.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

//! Where ingredients and parts are named: on their own line, in steps and in
//! swaps. And where the documents stand that a document names.

use std::path::PathBuf;

use crate::ast::{Document, Entry, FoodName, TakeOption};
use crate::lsp::place;
use crate::lsp::view::{View, touches};
use crate::reference::larder::normal_name;
use crate::resolve::{Dish, Referent};
use crate::source::{Source, Span};
use crate::syntax::Kind;

/// A place that names an ingredient or a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Occurrence {
    pub what: Referent,
    pub span: Span,
    /// The line that gives the name.
    pub definition: bool,
}

/// Where a name leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// A place in the same document.
    Here(Span),
    /// The head of another document.
    There(PathBuf),
}

/// Every occurrence, in the order of the text.
pub fn all(dish: &Dish, source: &Source) -> Vec<Occurrence> {
    let mut found = Vec::new();
    let takes = dish.ast.parts.iter().flat_map(|part| &part.takes);
    for (at, take) in takes.enumerate() {
        let span = take.alias.as_ref().map(|alias| alias.span).or(take.options.first().map(|option| option.food.span));
        found.extend(span.map(|span| Occurrence { what: Referent::Ingredient(at), span, definition: true }));
    }
    for (at, part) in dish.ast.parts.iter().enumerate() {
        if let Some(name) = &part.name {
            found.push(Occurrence { what: Referent::Part(at), span: name.span, definition: true });
        }
    }
    for named in &dish.flow.named {
        let own = name_of(dish, named.what);
        if let Some(span) = own.and_then(|own| inside(source, named.span, own, named.what)) {
            found.push(Occurrence { what: named.what, span, definition: false });
        }
    }
    for swap in &dish.ast.swaps {
        let within = |span: Span| swap.span.start <= span.start && span.end <= swap.span.end;
        let of = dish.ingredients.iter().position(|ingredient| {
            ingredient.options.iter().any(|choice| choice.swapped && within(choice.option.span))
        });
        let what = of.map(Referent::Ingredient);
        let span = what.and_then(|what| inside(source, swap.from.span, name_of(dish, what)?, what));
        if let (Some(what), Some(span)) = (what, span) {
            found.push(Occurrence { what, span, definition: false });
        }
    }
    found.sort_by_key(|occurrence| (occurrence.span, occurrence.definition));
    found.dedup_by_key(|occurrence| (occurrence.span, occurrence.what));
    found
}

/// The name that steps use.
pub fn name_of(dish: &Dish, what: Referent) -> Option<&str> {
    match what {
        Referent::Ingredient(at) => dish.ingredients.get(at).map(|ingredient| ingredient.name.as_str()),
        Referent::Part(at) => dish.ast.parts.get(at)?.name.as_ref().map(|name| name.value.as_str()),
    }
}

/// What stands at a place.
pub fn at(view: &View<'_>, byte: usize) -> Option<Occurrence> {
    let dish = view.checked.dish.as_ref()?;
    all(&dish.resolved, &view.checked.source).into_iter().find(|occurrence| touches(occurrence.span, byte))
}

/// Every place that names what stands at a place, its own line first.
pub fn references(view: &View<'_>, byte: usize) -> Vec<Occurrence> {
    let (Some(dish), Some(one)) = (&view.checked.dish, at(view, byte)) else { return Vec::new() };
    let mut found = all(&dish.resolved, &view.checked.source);
    found.retain(|occurrence| occurrence.what == one.what);
    found.sort_by_key(|occurrence| !occurrence.definition);
    found
}

/// Where the name at a place comes from.
pub fn definition(view: &View<'_>, byte: usize) -> Option<Target> {
    if let Some((kind, name)) = document_at(view, byte) {
        return view.neighbours.path(kind, &name).map(Target::There);
    }
    references(view, byte).into_iter().find(|occurrence| occurrence.definition).map(|found| Target::Here(found.span))
}

/// The other document that is named at a place.
pub fn document_at(view: &View<'_>, byte: usize) -> Option<(Kind, String)> {
    let dish = |option: &TakeOption| match &option.food.value {
        FoodName::Dish(name) if touches(option.food.span, byte) => Some(name.clone()),
        // A menu may name a dish by its name alone.
        FoodName::Name(name) if touches(option.food.span, byte) && view.kind() == Kind::Menu => {
            view.neighbours.path(Kind::Dish, name).map(|_| name.clone())
        }
        _ => None,
    };
    match &view.checked.document {
        Document::Dish(ast) => {
            let takes = ast.parts.iter().flat_map(|part| &part.takes).flat_map(|take| &take.options);
            takes.chain(ast.swaps.iter().flat_map(|swap| &swap.to)).find_map(dish).map(|name| (Kind::Dish, name))
        }
        Document::Menu(ast) => ast
            .meals
            .iter()
            .flat_map(|meal| &meal.items)
            .flat_map(|item| &item.options)
            .find_map(dish)
            .map(|name| (Kind::Dish, name)),
        Document::Booklet(ast) => ast.entries.iter().find_map(|entry| match entry {
            Entry::Page { menu, slug } if touches(slug.span, byte) => {
                Some((if *menu { Kind::Menu } else { Kind::Dish }, slug.value.clone()))
            }
            _ => None,
        }),
    }
}

/// The words of a span that are the name: "half of the soaked beans" names
/// "beans". `None` where other words stand for it ("batter").
fn inside(source: &Source, span: Span, own: &str, what: Referent) -> Option<Span> {
    let own = normal_name(own);
    let words = words(source.slice(span));
    (0..words.len()).find_map(|first| {
        let rest = words.get(first..)?;
        let text: Vec<&str> = rest.iter().map(|(_, word)| *word).collect();
        let wanted = normal_name(&text.join(" "));
        let answers = match what {
            Referent::Part(_) => wanted == own,
            Referent::Ingredient(_) => answers(&own, &wanted),
        };
        let ((start, _), (end, last)) = (rest.first()?, rest.last()?);
        answers.then(|| Span::new(span.start + start, span.start + end + last.len()))
    })
}

/// Whether an ingredient answers to a word, as the method reads it.
fn answers(own: &str, wanted: &str) -> bool {
    !wanted.is_empty()
        && (own == wanted
            || own.strip_suffix(wanted).is_some_and(|rest| rest.ends_with(' '))
            || own.strip_prefix(wanted).is_some_and(|rest| rest.starts_with(' '))
            || own.split(' ').any(|word| word == wanted))
}

/// Words with their offsets; comment lines inside a continued line are none.
fn words(text: &str) -> Vec<(usize, &str)> {
    let mut found = Vec::new();
    let mut at = 0;
    for (number, line) in text.split_inclusive(['\n', '\r']).enumerate() {
        if number == 0 || !line.trim_start().starts_with('#') {
            found.extend(place::words(line).into_iter().map(|(inner, word)| (at + inner, word)));
        }
        at += line.len();
    }
    found
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_found_among_the_words_before_it() {
        let source = Source::new("a", "half of the soaked  red\n   # a note\n  beans");
        let span = Span::new(0, source.text.len());
        let found = inside(&source, span, "red beans", Referent::Ingredient(0)).unwrap();
        assert_eq!(source.slice(found), "red\n   # a note\n  beans");
        let source = Source::new("a", "the\u{3000}Bean");
        let found = inside(&source, Span::new(0, source.text.len()), "beans", Referent::Part(0)).unwrap();
        assert_eq!(source.slice(found), "Bean");
        assert_eq!(inside(&source, Span::new(0, 3), "beans", Referent::Part(0)), None);
    }
}

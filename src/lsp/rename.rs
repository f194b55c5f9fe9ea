//! Another name for an ingredient or a part. The change is tried on the text
//! first: a name that would mean something else anywhere is refused.

use crate::ast::Document;
use crate::diagnostic::{Code, Sink, quote};
use crate::lsp::names::{self, Occurrence};
use crate::lsp::view::View;
use crate::reference::Reference;
use crate::reference::larder::normal_name;
use crate::resolve::{self, Flow, NoDishes, Referent};
use crate::source::Span;
use crate::syntax::{self, Kind};

/// New text for a span.
pub type Edit = (Span, String);

/// The words that a new name would replace, if a name stands there.
pub fn prepare(view: &View<'_>, byte: usize) -> Option<(Span, String)> {
    let one = names::at(view, byte)?;
    let dish = view.checked.dish.as_ref()?;
    Some((one.span, names::name_of(&dish.resolved, one.what)?.to_owned()))
}

/// The edits that give what stands at a place another name.
///
/// # Errors
/// A sentence that says why the name cannot be used.
pub fn rename(view: &View<'_>, byte: usize, name: &str) -> Result<Vec<Edit>, String> {
    let found = names::references(view, byte);
    let (Some(one), Some(dish)) = (found.first().copied(), &view.checked.dish) else {
        return Err("no ingredient or part is named here".to_owned());
    };
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = quote(&name);
    if name.is_empty() {
        return Err("a name has at least one letter".to_owned());
    }
    if let Some(mark) = name.chars().find(|c| matches!(c, ',' | ';' | ':' | '(' | ')' | '"' | '#') || c.is_control()) {
        return Err(format!("{said} cannot be a name: `{mark}` ends a name"));
    }
    const PARTING: [&str; 16] = [
        "or",
        "as",
        "keep",
        "and",
        "with",
        "onto",
        "into",
        "over",
        "to",
        "in",
        "for",
        "on",
        "at",
        "until",
        "unattended",
        "overnight",
    ];
    if let Some(word) = name.split(' ').find(|word| PARTING.iter().any(|one| one.eq_ignore_ascii_case(word))) {
        return Err(format!("{said} cannot be a name: `{word}` has a meaning of its own in a line"));
    }
    let resolved = &dish.resolved;
    let others = (0..resolved.ingredients.len()).map(Referent::Ingredient);
    let mut others = others.chain((0..resolved.ast.parts.len()).map(Referent::Part)).filter(|what| *what != one.what);
    let taken =
        others.find_map(|what| names::name_of(resolved, what).filter(|own| normal_name(own) == normal_name(&name)));
    if let Some(taken) = taken {
        return Err(format!("{said} cannot be the name: {} has it already", quote(taken)));
    }
    let edits = edits(view, &found, &name);
    let changed = apply(view.text(), &edits);
    if meaning(view.text(), view.reference()) == meaning(&changed, view.reference()) {
        Ok(edits)
    } else {
        Err(format!("{said} cannot be the name: some step would mean something else"))
    }
}

fn edits(view: &View<'_>, found: &[Occurrence], name: &str) -> Vec<Edit> {
    let mut edits = Vec::new();
    for occurrence in found {
        let inserted = occurrence.definition.then(|| no_alias(view, occurrence.what)).flatten();
        edits.push(match inserted {
            // A food keeps its name; the ingredient is given a short one.
            Some(end) => (Span::new(end, end), format!(" as {name}")),
            None => (occurrence.span, name.to_owned()),
        });
    }
    edits.sort_by_key(|(span, _)| *span);
    edits
}

/// Where the short name of an ingredient without one belongs.
fn no_alias(view: &View<'_>, what: Referent) -> Option<usize> {
    let (Referent::Ingredient(at), Document::Dish(dish)) = (what, &view.checked.document) else { return None };
    let take = dish.parts.iter().flat_map(|part| &part.takes).nth(at)?;
    if take.alias.is_some() { None } else { take.options.last().map(|option| option.span.end) }
}

/// The text with edits made; they are in order and do not overlap.
pub fn apply(text: &str, edits: &[Edit]) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    let mut at = 0;
    for (span, new) in edits {
        out.push_str(text.get(at..span.start).unwrap_or_default());
        out.push_str(new);
        at = span.end;
    }
    out.push_str(text.get(at..).unwrap_or_default());
    out
}

/// What a method says, without places and names.
#[derive(Debug, PartialEq)]
struct Meaning {
    codes: Vec<Code>,
    named: Vec<Referent>,
    used: Vec<bool>,
    child: Vec<bool>,
    first_use: Vec<Option<usize>>,
    acts: Vec<Vec<&'static str>>,
    options: Vec<usize>,
}

fn meaning(text: &str, reference: &Reference) -> Option<Meaning> {
    let mut sink = Sink::new();
    let (_, document) = syntax::parse(Kind::Dish, text, &mut sink);
    let Document::Dish(ast) = document else { return None };
    let dish = resolve::resolve(ast, reference, &NoDishes, &mut sink);
    let Flow { named, used, child, first_use, journeys, .. } = &dish.flow;
    let acts = journeys.iter().map(|journey| journey.acts.iter().map(|act| act.process.word).collect()).collect();
    Some(Meaning {
        codes: sink.finish().iter().map(|message| message.code).collect(),
        named: named.iter().map(|named| named.what).collect(),
        used: used.clone(),
        child: child.clone(),
        first_use: first_use.clone(),
        acts,
        options: dish.ingredients.iter().map(|ingredient| ingredient.options.len()).collect(),
    })
}

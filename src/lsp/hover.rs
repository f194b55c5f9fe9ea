//! What is known of the thing under the cursor: a food's row and what it
//! brings, a claim's proof, a step's times, a verb's meaning.

mod food;

use std::fmt::Write;

use crate::ast::Document;
use crate::cli::claims;
use crate::cli::nutrients::columns;
use crate::compute::nutrition::Nutrition;
use crate::lsp::names;
use crate::lsp::view::{View, touches};
use crate::quantity::round_half_even;
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::process::{Kind as Work, Process, Texture};
use crate::resolve::Referent;
use crate::source::Span;
use crate::syntax::{self, Kind};

/// Plain text, its columns lined up, and what it is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    pub span: Span,
    pub text: String,
}

/// The components that are told of a food: what decides over a young child's
/// food, in the order of print.
pub const COMPONENTS: [NutrientId; 10] = [
    nutrient::ENERC_KCAL,
    nutrient::PROCNT,
    nutrient::FAT,
    nutrient::CA,
    nutrient::FE,
    nutrient::NA,
    nutrient::ZN,
    nutrient::VITA_RAE,
    nutrient::VITC,
    nutrient::FOLDFE,
];

/// What is known of what stands at a place.
pub fn hover(view: &View<'_>, byte: usize) -> Option<Told> {
    let node = view.checked.tree.nodes.iter().find(|node| node.span.start <= byte && byte < node.span.end)?;
    if let Some(keyword) = node.keyword.filter(|keyword| byte < keyword.end) {
        return self::keyword(view, keyword);
    }
    match &view.checked.document {
        Document::Dish(_) => dish(view, byte),
        Document::Menu(_) => food::served(view, byte).or_else(|| document(view, byte)),
        Document::Booklet(_) => document(view, byte),
    }
}

fn keyword(view: &View<'_>, span: Span) -> Option<Told> {
    let word = view.slice(span).to_lowercase();
    let known = syntax::keywords(view.kind()).contains(&word.as_str());
    known.then(|| Told { span, text: format!("written like this: {}\n", syntax::pattern(&word)) })
}

fn dish(view: &View<'_>, byte: usize) -> Option<Told> {
    let dish = view.checked.dish.as_ref()?;
    let resolved = &dish.resolved;
    for (at, ingredient) in resolved.ingredients.iter().enumerate() {
        for choice in &ingredient.options {
            if touches(choice.option.span, byte) {
                return Some(Told { span: choice.option.span, text: food::taken(view, at, choice) });
            }
        }
    }
    if let Some(found) = names::at(view, byte) {
        match found.what {
            Referent::Ingredient(at) => {
                let choice = resolved.ingredients.get(at)?.first()?;
                return Some(Told { span: found.span, text: food::taken(view, at, choice) });
            }
            Referent::Part(part) => {
                let names = resolved.ingredients.iter().filter(|one| one.part == part).map(|one| one.name.as_str());
                let text = format!("a part of this dish, of {}\n", names.collect::<Vec<_>>().join(", "));
                return Some(Told { span: found.span, text });
            }
        }
    }
    for (at, claim) in resolved.ast.claims.iter().enumerate() {
        if touches(claim.span, byte) {
            let text = claims::told(dish, view.workspace, at)
                .unwrap_or_else(|| "cannot be judged: some food or weight is not known\n".to_owned());
            return Some(Told { span: claim.span, text });
        }
    }
    let steps = resolved.ast.parts.iter().flat_map(|part| &part.steps);
    for (at, step) in steps.enumerate() {
        if !touches(step.span, byte) || step.prose.as_ref().is_some_and(|prose| prose.span.start <= byte) {
            continue;
        }
        let verb = step.actions.iter().find(|action| touches(action.process.span, byte));
        let meant = verb.and_then(|action| Some((action, Process::from_word(&action.process.value)?)));
        let mut text = String::new();
        if let Some((action, process)) = meant {
            let _ = writeln!(text, "{}: {}", action.process.value, self::process(process));
        }
        if let Some(time) = resolved.flow.times.get(at) {
            let _ = writeln!(text, "from {} to {} after the start", minutes(time.start), minutes(time.end));
            let _ = writeln!(text, "work {}", minutes(time.hands_on));
        }
        let whole = resolved.flow.one_fire();
        let _ = writeln!(text, "the whole dish: {}, work {}", minutes(whole), minutes(resolved.flow.hands_on));
        return Some(Told { span: meant.map_or(step.span, |(action, _)| action.process.span), text });
    }
    let yields = resolved.ast.makes.iter().map(|makes| makes.span);
    let yields = yields.chain(resolved.ast.cooked.iter().map(|cooked| cooked.span));
    let yields = yields.chain(resolved.ast.portions.iter().map(|portion| portion.span));
    let span = yields.into_iter().find(|span| touches(*span, byte))?;
    Some(Told { span, text: portions(view) })
}

/// What the pot holds and what a portion of it gives.
fn portions(view: &View<'_>) -> String {
    let mut text = String::new();
    let Some(dish) = &view.checked.dish else { return text };
    let cooked = &dish.computed.cooked;
    let about = if cooked.estimated { "about " } else { "" };
    let _ = writeln!(text, "raw {} g, cooked {about}{} g", grams(cooked.raw_g), grams(cooked.cooked_g));
    let mut rows = vec![["months", "portion", "g", "kcal"].map(str::to_owned).to_vec()];
    for portion in &dish.computed.portions {
        let band = view.reference().profile.bands().get(portion.band).map(|band| band.key.clone());
        let energy = portion.grams.and_then(|g| dish.computed.nutrition.in_grams(nutrient::ENERC_KCAL, g));
        rows.push(vec![
            band.unwrap_or_default(),
            portion.ml.map_or(String::new(), |ml| format!("{} mL", grams(ml))),
            portion.grams.map_or("not known".to_owned(), grams),
            energy.map_or(String::new(), |kcal| bound(&dish.computed.nutrition, nutrient::ENERC_KCAL, &grams(kcal))),
        ]);
    }
    columns(&rows, &mut text);
    text
}

/// A document of the workspace that is named here.
fn document(view: &View<'_>, byte: usize) -> Option<Told> {
    let (kind, name) = names::document_at(view, byte)?;
    let path = view.neighbours.path(kind, &name)?;
    let what = if kind == Kind::Menu { "menu" } else { "dish" };
    let node = view.checked.tree.nodes.iter().find(|node| node.span.start <= byte && byte < node.span.end)?;
    Some(Told { span: node.span, text: format!("the {what} in {}\n", crate::workspace::shown(&path)) })
}

/// What a verb of the kitchen means for the figures.
pub fn process(process: &Process) -> String {
    let mut text = match process.kind {
        Work::Prepare => "prepares",
        Work::SoakAndGrow => "soaks and grows",
        Work::Heat => "heats",
        Work::Assemble => "puts together",
    }
    .to_owned();
    if let Some(heat) = process.heat {
        let _ = write!(text, "; what heat keeps is looked up as {}", heat.word());
    }
    if let Some(texture) = process.texture {
        let _ = write!(text, "; leaves the food {}", fineness(texture));
    }
    if process.timed {
        text.push_str("; wants a time, such as for 10 min");
    }
    text
}

fn fineness(texture: Texture) -> &'static str {
    match texture {
        Texture::Whole => "whole",
        Texture::Pieces => "in pieces",
        Texture::Chopped => "chopped",
        Texture::Mashed => "mashed",
        Texture::Smooth => "smooth",
    }
}

/// "at least" before a sum that lacks a value.
fn bound(nutrition: &Nutrition, id: NutrientId, value: &str) -> String {
    if nutrition.complete(id) { value.to_owned() } else { format!("at least {value}") }
}

pub fn grams(value: f64) -> String {
    round_half_even(value, u8::from(value < 100.0)).to_string()
}

/// Minutes as a person says them: "20 min", "8 h to 12 h".
pub fn minutes((low, high): (f64, f64)) -> String {
    let one = |minutes: f64| {
        let whole = minutes.round();
        let (hours, rest) = ((whole / 60.0).floor(), whole % 60.0);
        match (hours > 0.0, rest > 0.0) {
            (true, true) => format!("{hours} h {rest} min"),
            (true, false) => format!("{hours} h"),
            _ => format!("{rest} min"),
        }
    };
    if low == high { one(low) } else { format!("{} to {}", one(low), one(high)) }
}

#[cfg(test)]
mod tests {
    use super::minutes;

    #[test]
    fn minutes_are_said_as_a_person_says_them() {
        assert_eq!(minutes((20.0, 20.0)), "20 min");
        assert_eq!(minutes((60.0, 75.0)), "1 h to 1 h 15 min");
        assert_eq!(minutes((0.0, 0.0)), "0 min");
    }
}

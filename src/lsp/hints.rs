//! Grams beside a measure, and what a portion weighs.

use crate::ast::{Amount, Makes, TakeOption};
use crate::lsp::hover::grams;
use crate::lsp::view::View;
use crate::quantity::Unit;
use crate::reference::nutrient;
use crate::source::Span;

/// A few words behind a place of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    pub at: usize,
    pub text: String,
    /// Where the figure comes from, one sentence a step.
    pub how: String,
}

/// The hints of a document, in the order of the text.
pub fn hints(view: &View<'_>) -> Vec<Hint> {
    let mut found = Vec::new();
    if let Some(dish) = &view.checked.dish {
        for choice in dish.resolved.ingredients.iter().flat_map(|ingredient| &ingredient.options) {
            let (Some(span), Some(weight)) = (measured(&choice.option), &choice.weight) else { continue };
            let sign = if weight.estimated { "≈" } else { "=" };
            let range = if weight.low < weight.high {
                format!("{sign} {} to {} g", grams(weight.low), grams(weight.high))
            } else {
                format!("{sign} {} g", grams(weight.grams))
            };
            let how = weight.how.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
            found.push(Hint { at: end(view, span), text: range, how });
        }
        let cooked = &dish.computed.cooked;
        let makes = dish.resolved.ast.makes.as_ref().filter(|makes| !weighed(&makes.value));
        if let Some(makes) = makes.filter(|_| cooked.cooked_g > 0.0) {
            let sign = if cooked.estimated { "≈" } else { "=" };
            let text = format!("{sign} {} g", grams(cooked.cooked_g));
            found.push(Hint { at: end(view, makes.span), text, how: "what the whole dish weighs, cooked".to_owned() });
        }
        for line in &dish.resolved.ast.portions {
            let own = |span: Option<Span>| {
                span.is_some_and(|span| line.span.start <= span.start && span.end <= line.span.end)
            };
            let portion = dish.computed.portions.iter().find(|portion| own(portion.span));
            let Some((portion, grams_of)) = portion.and_then(|portion| Some((portion, portion.grams?))) else {
                continue;
            };
            let kcal = dish.computed.nutrition.in_grams(nutrient::ENERC_KCAL, grams_of).map(grams);
            let weight = if weighed(&line.amount.value) { String::new() } else { format!("= {} g, ", grams(grams_of)) };
            let bound = if dish.computed.nutrition.complete(nutrient::ENERC_KCAL) { "" } else { "at least " };
            let text = match kcal {
                Some(kcal) => format!("{weight}{bound}{kcal} kcal"),
                None => weight.trim_end_matches([',', ' ']).to_owned(),
            };
            let band = view.reference().profile.bands().get(portion.band).map(|band| band.key.as_str());
            let how = format!("one portion at {} months", band.unwrap_or_default());
            if !text.is_empty() {
                found.push(Hint { at: end(view, line.amount.span), text, how });
            }
        }
    }
    if let Some(menu) = &view.checked.menu {
        for (_, _, item) in menu.resolved.items() {
            for choice in &item.options {
                let mut weights: Vec<String> =
                    choice.servings.iter().filter_map(|serving| serving.grams).map(grams).collect();
                weights.dedup();
                if weights.is_empty()
                    || measured(&choice.option).is_none() && !matches!(choice.option.amount, Amount::Missing)
                {
                    continue;
                }
                let span = measured(&choice.option).unwrap_or(choice.option.food.span);
                let how = choice.servings.iter().flat_map(|serving| serving.how.clone()).collect::<Vec<_>>().join("\n");
                found.push(Hint { at: end(view, span), text: format!("= {} g", weights.join(" or ")), how });
            }
        }
    }
    found.sort_by_key(|hint| hint.at);
    found
}

/// Where the amount stands, if it is no weight.
fn measured(option: &TakeOption) -> Option<Span> {
    match option.amount {
        Amount::Measured { measure, span, .. } if measure.unit.grams().is_none() && option.weight.is_none() => {
            Some(span)
        }
        Amount::Count { span, .. } if option.weight.is_none() => Some(span),
        _ => None,
    }
}

fn weighed(makes: &Makes) -> bool {
    let is_weight = |unit: Unit| unit.grams().is_some();
    match makes {
        Makes::Measured(_, measure) => is_weight(measure.unit),
        Makes::Portions(_, Some((_, measure))) => is_weight(measure.unit),
        Makes::Pieces(..) | Makes::Portions(_, None) => false,
    }
}

/// Behind the last letter of a span.
fn end(view: &View<'_>, span: Span) -> usize {
    span.start + view.slice(span).trim_end().len()
}

//! `safety/retinol-over-limit`: preformed vitamin A of one portion against the
//! upper limit of a day. Heat loss is not counted in the child's favour.

use super::Case;
use crate::compute::{Selection, compute};
use crate::diagnostic::{Code, Diagnostic, Sink, quote};
use crate::reference::nutrient;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    over(case, &Selection::default(), None, sink);
    for (at, ingredient) in case.dish.ingredients.iter().enumerate() {
        for option in 1..ingredient.options.len() {
            over(case, &Selection::with(case.dish, at, option), Some((at, option)), sink);
        }
    }
}

fn over(case: &Case<'_>, selection: &Selection, other: Option<(usize, usize)>, sink: &mut Sink) {
    let alternative;
    let computed = if other.is_some() {
        alternative = compute(case.dish, case.reference, selection);
        &alternative
    } else {
        case.computed
    };
    let mut worst: Option<(f64, f64, &str)> = None;
    for portion in &computed.portions {
        let Some(band) = case.reference.profile.bands().get(portion.band) else {
            continue;
        };
        let Some(limit) = case.reference.profile.upper_limit(nutrient::RETOL, band.from_months) else {
            continue;
        };
        let Some(amount) = portion.grams.and_then(|grams| computed.nutrition.most_in_grams(nutrient::RETOL, grams))
        else {
            continue;
        };
        if amount > limit.value && worst.is_none_or(|(most, _, _)| amount > most) {
            worst = Some((amount, limit.value, &band.key));
        }
    }
    let Some((amount, limit, band)) = worst else {
        return;
    };
    // The message stands at the food that brings most of it.
    let source = case
        .dish
        .ingredients
        .iter()
        .enumerate()
        .filter_map(|(at, ingredient)| {
            let choice = selection.option(case.dish, at)?;
            let value = choice.food.as_ref()?.value(nutrient::RETOL)? * choice.weight.as_ref()?.grams;
            Some((value, ingredient, choice))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let Some((_, _, choice)) = source else { return };
    let safe = choice.weight.as_ref().map_or(0.0, |weight| weight.grams * limit / amount);
    sink.push(
        Diagnostic::new(
            Code::SafetyRetinolOverLimit,
            choice.option.span,
            format!("a portion for {band} months has {amount:.0} µg retinol; a day's limit is {limit:.0}"),
        )
        .help(format!(
            "take at most {:.0} g of {} for the whole dish, or make the portion smaller",
            safe.floor(),
            quote(&crate::resolve::food::label(&choice.option).value)
        )),
    );
}

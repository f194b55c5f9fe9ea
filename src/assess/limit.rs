//! One portion held against what a whole day may bring, for the dish as it
//! stands and with each alternative. Heat loss is not counted in the child's
//! favour.

use super::Case;
use crate::compute::{Selection, compute};
use crate::reference::nutrient::NutrientId;
use crate::reference::profile::data::AgeBand;
use crate::resolve::Choice;

/// A portion above its limit.
pub struct Over<'a> {
    pub amount: f64,
    pub limit: f64,
    pub band: &'a AgeBand,
    /// The food that brings most of it.
    pub choice: &'a Choice,
    /// So many grams of that food alone would reach the limit.
    pub safe_g: f64,
}

/// When a limit is judged at all.
pub struct When {
    /// Only where every food's value is known.
    pub complete: bool,
    /// Only for a portion that a child can eat; of a larger one there is a
    /// message already.
    pub eaten: bool,
}

/// The worst band of each selection that is over, with the first options
/// first.
pub fn over<'a>(
    case: &Case<'a>,
    id: NutrientId,
    when: &When,
    limit: &dyn Fn(&AgeBand) -> Option<f64>,
) -> Vec<Over<'a>> {
    let mut found = Vec::new();
    let mut selections = vec![(Selection::default(), None)];
    for (at, ingredient, _) in case.reaching() {
        for option in 1..ingredient.options.len() {
            selections.push((Selection::with(case.dish, at, option), Some(at)));
        }
    }
    for (selection, other) in selections {
        let alternative;
        let computed = if other.is_some() {
            alternative = compute(case.dish, case.reference, &selection);
            &alternative
        } else {
            case.computed
        };
        if when.complete && !computed.nutrition.complete(id) {
            continue;
        }
        let mut worst: Option<(f64, f64, &'a AgeBand)> = None;
        for portion in &computed.portions {
            let Some(band) = case.reference.profile.bands().get(portion.band) else {
                continue;
            };
            let Some(limit) = limit(band) else { continue };
            if when.eaten && portion.grams.is_none_or(|grams| grams > band.capacity.value) {
                continue;
            }
            let Some(amount) = portion.grams.and_then(|grams| computed.nutrition.most_in_grams(id, grams)) else {
                continue;
            };
            if amount > limit && worst.is_none_or(|(most, ..)| amount > most) {
                worst = Some((amount, limit, band));
            }
        }
        let Some((amount, limit, band)) = worst else {
            continue;
        };
        let brings =
            |choice: &Choice| -> Option<f64> { Some(choice.food.as_ref()?.value(id)? * choice.weight.as_ref()?.grams) };
        let most = case
            .reaching()
            .filter_map(|(at, _, _)| selection.option(case.dish, at))
            .filter_map(|choice| brings(choice).map(|value| (value, choice)))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, choice)) = most else { continue };
        let safe_g = choice.weight.as_ref().map_or(0.0, |weight| weight.grams * limit / amount);
        found.push(Over { amount, limit, band, choice, safe_g });
    }
    found
}

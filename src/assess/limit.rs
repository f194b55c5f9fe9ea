//! One portion held against what a whole day may bring, for the dish as it
//! stands and with each alternative. Heat loss is not counted in the child's
//! favour.

use super::{Case, Others};
use crate::compute::{Computed, Selection};
use crate::diagnostic::{Diagnostic, Sink};
use crate::reference::nutrient::{NutrientId, RETOL};
use crate::reference::profile::data::AgeBand;
use crate::resolve::Choice;
use crate::source::Span;

/// The most of a day for a band; none where there is no limit.
pub type Most<'a> = Box<dyn Fn(&AgeBand) -> Option<f64> + 'a>;

/// The most of a component in a day, and what is said of a portion above it.
pub struct Limit<'a> {
    pub id: NutrientId,
    /// Judged only where every food's value is known.
    pub complete: bool,
    /// Judged only for a portion that a child can eat; of a larger one there is
    /// a message already.
    pub eaten: bool,
    /// In the component's unit.
    pub at: Most<'a>,
    pub tell: fn(&Over<'_>) -> Diagnostic,
}

/// A portion above a limit.
pub struct Over<'a> {
    pub id: NutrientId,
    pub amount: f64,
    pub limit: f64,
    pub band: &'a AgeBand,
    /// The food that brings most of it.
    pub choice: &'a Choice,
    /// So many grams of that food in the whole dish would keep the limit.
    pub safe_g: f64,
}

/// Every limit for every selection: one computation serves all limits.
pub(super) fn check<'a>(case: &Case<'a>, limits: &[Limit<'_>], others: &Others, sink: &mut Sink) {
    let mut retinol: Vec<Span> = Vec::new();
    let mut judge = |selection: &Selection, computed: &Computed| {
        for limit in limits {
            let Some(over) = over(case, limit, selection, computed) else {
                continue;
            };
            let place = over.choice.option.span;
            if limit.id == RETOL {
                retinol.push(place);
            } else if retinol.contains(&place) {
                // Less of that food mends both.
                continue;
            }
            sink.push((limit.tell)(&over));
        }
    };
    judge(&Selection::default(), case.computed);
    for (at, ingredient, _) in case.reaching() {
        for option in 1..ingredient.options.len() {
            judge(&Selection::with(case.dish, at, option), &others.get(case, at, option));
        }
    }
}

/// The worst band.
fn over<'a>(case: &Case<'a>, limit: &Limit<'_>, selection: &Selection, computed: &Computed) -> Option<Over<'a>> {
    let id = limit.id;
    if limit.complete && !computed.nutrition.complete(id) {
        return None;
    }
    let mut worst: Option<(f64, f64, &'a AgeBand)> = None;
    for portion in &computed.portions {
        let Some(band) = case.reference.profile.bands().get(portion.band) else {
            continue;
        };
        let Some(grams) = portion.grams.filter(|grams| !limit.eaten || *grams <= band.capacity.value) else {
            continue;
        };
        let (Some(most), Some(amount)) = ((limit.at)(band), computed.nutrition.most_in_grams(id, grams)) else {
            continue;
        };
        if amount > most && worst.is_none_or(|(so_far, ..)| amount > so_far) {
            worst = Some((amount, most, band));
        }
    }
    let (amount, most, band) = worst?;
    let brings =
        |choice: &Choice| -> Option<f64> { Some(choice.food.as_ref()?.value(id)? * choice.weight.as_ref()?.grams) };
    let (_, choice) = case
        .reaching()
        .filter_map(|(at, _, _)| selection.option(case.dish, at))
        .filter_map(|choice| brings(choice).map(|value| (value, choice)))
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    let safe_g = choice.weight.as_ref().map_or(0.0, |weight| weight.grams * most / amount);
    Some(Over { id, amount, limit: most, band, choice, safe_g })
}

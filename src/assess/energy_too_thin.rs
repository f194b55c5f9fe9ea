//! `age/energy-too-thin`: kcal in a gram of food against the least that a
//! child of the band needs, since a small stomach fills with water as with food.

use super::Case;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::{FoodClass, FoodGroup};
use crate::reference::nutrient;

/// Below this share of the weight, added water left out, a food does not make a
/// dish a meal.
const MEAL_SHARE: f64 = 0.05;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let nutrition = &case.computed.nutrition;
    if !case.weights_known() || !nutrition.complete(nutrient::ENERC_KCAL) {
        return;
    }
    if case.reference.profile.file.energy_density.snack_exempt && !is_meal(case) {
        return;
    }
    let Some(per_gram) = nutrition.per_100g(nutrient::ENERC_KCAL).map(|kcal| kcal / 100.0) else {
        return;
    };
    for at in &case.dish.bands {
        let Some(band) = case.reference.profile.bands().get(*at) else {
            continue;
        };
        let Some(minimum) = case.reference.profile.density_minimum(&band.key) else {
            continue;
        };
        if per_gram < minimum.default_minimum {
            let place = case.dish.ast.makes.as_ref().map_or(case.title_span(), |makes| makes.span);
            sink.push(
                Diagnostic::new(
                    Code::AgeEnergyTooThin,
                    place,
                    format!(
                        "{:.2} kcal in a gram is thin for {} months; {} is the least",
                        // Rounded down, so that a figure below the least looks below it.
                        (per_gram * 100.0).floor() / 100.0,
                        band.key,
                        minimum.default_minimum
                    ),
                )
                .help("use less water, or add some oil, groundnut paste or flour"),
            );
            return;
        }
    }
}

/// A dish of fruit, vegetables or milk alone goes beside a staple and is not
/// held to the minimum.
fn is_meal(case: &Case<'_>) -> bool {
    let mut filling = 0.0;
    let mut all = 0.0;
    for (ingredient, choice, _) in case.foods() {
        if !ingredient.first().is_some_and(|first| std::ptr::eq(first, choice)) {
            continue;
        }
        let (Some(food), Some(weight)) = (&choice.food, &choice.weight) else {
            continue;
        };
        // Water makes a porridge thin; it does not make it a side dish.
        if matches!(food.class, FoodClass::Water | FoodClass::BreastMilk) {
            continue;
        }
        all += weight.grams;
        let groups = food.groups();
        let meal = groups.is_empty()
            || groups.iter().any(|group| {
                matches!(group, FoodGroup::Grains | FoodGroup::Pulses | FoodGroup::Flesh | FoodGroup::Eggs)
            });
        if meal {
            filling += weight.grams;
        }
    }
    all > 0.0 && filling >= all * MEAL_SHARE
}

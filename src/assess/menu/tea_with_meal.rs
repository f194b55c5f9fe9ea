//! `absorption/tea-with-meal`: tea or coffee beside food at one meal. Tea that
//! is a line of its own, or in a dish, has `safety/tea-coffee` where it stands;
//! this says what it does to the rest of the meal.

use super::MenuCase;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::resolve::menu::{Choice, What};

pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    for meal in &case.menu.meals {
        // Without food beside it there is no iron to hinder.
        if meal.items.len() < 2 {
            continue;
        }
        for choice in meal.items.iter().flat_map(|item| &item.options).filter(|choice| tea(choice)) {
            sink.push(
                Diagnostic::new(
                    Code::AbsorptionTeaWithMeal,
                    choice.option.food.span,
                    format!("{} with a meal may hinder the uptake of its iron", choice.called()),
                )
                .help("give boiled and cooled water instead; fruit rich in vitamin C may help"),
            );
        }
    }
}

fn tea(choice: &Choice) -> bool {
    const TAG: &str = "tea-coffee";
    match &choice.what {
        What::Food(food) => food.has_hazard(TAG),
        What::Dish(dish) => dish.served.hazards.iter().any(|tag| tag == TAG),
        What::Nothing => false,
    }
}

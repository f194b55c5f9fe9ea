//! `safety/milk-drink-under-12-months`: animal milk as a drink. In a porridge
//! or a mash it is food.

use super::drink::drink;
use super::{Case, called};
use crate::compute::Selection;
use crate::diagnostic::{Code, Diagnostic, Sink};

/// Less milk than this in a drink makes no milk drink of it.
const MILK: f64 = 0.5;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let age = case.reference.profile.hazard("milk-drink").and_then(|hazard| hazard.age_under_months).unwrap_or(12);
    if case.dish.months.0 >= age {
        return;
    }
    for (at, ingredient, _) in case.reaching() {
        for (option, choice) in ingredient.options.iter().enumerate() {
            if !choice.food.as_ref().is_some_and(|food| food.has_hazard("milk-drink")) {
                continue;
            }
            let drunk = drink(case, &Selection::with(case.dish, at, option));
            if !drunk.is_some_and(|drink| drink.milk_g >= drink.raw_g * MILK) {
                continue;
            }
            let mut message = Diagnostic::new(
                Code::SafetyMilkDrinkUnder12Months,
                choice.option.span,
                format!("{} as a drink for a child under {age} months", called(choice)),
            )
            .help(format!("cook it into porridge or mash, or write `for {age} to 23 months`"));
            if let Some(ages) = &case.dish.ast.header.ages {
                message = message
                    .label(ages.span, "the dish is for this age")
                    .choice(ages.span, format!("{age} to 23 months"));
            }
            sink.push(message);
        }
    }
}

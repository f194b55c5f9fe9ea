//! `safety/soak-not-cooked`: what was soaked, sprouted or fermented, and raw
//! flour and raw pulses, must meet heat that cooks. Souring slows germs and
//! kills none.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::{FoodClass, FoodGroup};
use crate::resolve::{Food, Journey};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    if case.method_torn() {
        return;
    }
    for (_, ingredient, journey) in case.served() {
        for choice in &ingredient.options {
            let Some(food) = choice.food.as_ref().filter(|food| !judged_elsewhere(food)) else {
                continue;
            };
            let Some((done, act)) = uncooked(food, journey) else {
                continue;
            };
            let mut message = Diagnostic::new(
                Code::SafetySoakNotCooked,
                choice.option.span,
                format!("{} {done} and nothing cooks it", called(choice)),
            )
            .help(format!("boil or steam it before it is served: `step boil {} for 15 min`", ingredient.name));
            if let Some(span) = act {
                message = message.label(span, "no cooking comes after this");
            }
            sink.push(message);
        }
    }
}

/// Raw animal food, kidney beans and cassava have rules of their own; milk is
/// soured from milk that was boiled or pasteurised.
fn judged_elsewhere(food: &Food) -> bool {
    ["raw-egg", "raw-meat", "raw-fish", "raw-shellfish", "raw-milk", "raw-kidney-bean", "raw-cassava"]
        .iter()
        .any(|tag| food.has_hazard(tag))
        || food.group == Some(FoodGroup::Dairy)
        || matches!(food.class, FoodClass::Water | FoodClass::BreastMilk | FoodClass::Milk | FoodClass::Cheese)
}

/// What was done to it without cooking it afterwards.
fn uncooked(food: &Food, journey: &Journey) -> Option<(&'static str, Option<crate::source::Span>)> {
    let mut raw = ["raw-flour", "raw-pulse"].iter().any(|tag| food.has_hazard(tag)).then_some(("is raw", None));
    for act in &journey.acts {
        if act.process.cooks() {
            raw = None;
            continue;
        }
        let done = match act.process.word {
            // Hot water cooks couscous and bulgur; fruit and bread are soaked
            // to be soft.
            "soak" if grows(food) && !act.medium_says(&["boiling", "hot", "boiled"]) => "is soaked",
            "sprout" => "is sprouted",
            "ferment" => "is fermented",
            _ => continue,
        };
        raw = Some((done, Some(act.span)));
    }
    raw
}

/// Grain, pulses and nuts, in which germs grow while they soak.
fn grows(food: &Food) -> bool {
    !food.cooked
        && matches!(
            food.class,
            FoodClass::Flour
                | FoodClass::Cereal
                | FoodClass::Oats
                | FoodClass::Rice
                | FoodClass::PulseDry
                | FoodClass::PulseQuick
                | FoodClass::Nut
        )
}

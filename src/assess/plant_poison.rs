//! `safety/plant-poison`: what some plants make against those that eat them,
//! and only heat, days of rinsing or leaving the piece out takes away.

use super::cassava::long_soaked;
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::FoodClass;
use crate::resolve::Journey;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    if case.method_torn() {
        return;
    }
    let days = case.reference.profile.hazard("bitter-lupin-soak").and_then(|row| row.value).unwrap_or(3.0);
    for (_, ingredient, journey) in case.served() {
        let name = &ingredient.name;
        for choice in &ingredient.options {
            let Some(food) = &choice.food else { continue };
            let comes = |word: &str| food.preparation.iter().any(|state| state == word);
            let (what, help) = if food.class == FoodClass::Potato && comes("green") {
                (
                    "is green: its poison stays when it is cooked",
                    "take potatoes without green skin or sprouts".to_owned(),
                )
            } else if food.has_hazard("bitter-lupin") && !comes("sweet") && !long_soaked(journey, days) {
                (
                    "may be bitter and is not rinsed for days",
                    format!(
                        "boil it, then `step soak {name} for {days} days, unattended` in water that is changed, and \
                         `step drain {name}`; for a sweet kind write `sweet` behind the food"
                    ),
                )
            } else if food.has_hazard("raw-root") && !cooked(journey) {
                (
                    "is no food for a child as long as it is raw",
                    format!("cook it through: `step boil {name} for 20 min`"),
                )
            } else {
                continue;
            };
            sink.push(
                Diagnostic::new(Code::SafetyPlantPoison, choice.option.span, format!("{} {what}", called(choice)))
                    .help(help),
            );
        }
    }
}

fn cooked(journey: &Journey) -> bool {
    journey.acts.iter().any(|act| act.process.cooks())
}

//! `safety/raw-animal-food`: raw egg, meat, fish, shellfish and milk must be
//! cooked before the child eats them. Warming is not cooking.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::resolve::process::Process;

const RAW: [(&str, &str); 5] = [
    ("raw-egg", "egg"),
    ("raw-meat", "meat"),
    ("raw-fish", "fish"),
    ("raw-shellfish", "shellfish"),
    ("raw-milk", "unpasteurised milk"),
];

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    for (at, ingredient) in case.dish.ingredients.iter().enumerate() {
        if !case.dish.flow.child.get(at).copied().unwrap_or(true) {
            continue;
        }
        // What no step uses has a message of its own.
        if !case.dish.flow.used.get(at).copied().unwrap_or(false) {
            continue;
        }
        let Some(journey) = case.dish.flow.journeys.get(at) else {
            continue;
        };
        let cooked = journey
            .words
            .iter()
            .any(|word| Process::from_word(word).is_some_and(|process| process.cooks()));
        if cooked {
            continue;
        }
        for choice in &ingredient.options {
            let Some(food) = &choice.food else { continue };
            let Some((_, kind)) = RAW.iter().find(|(tag, _)| food.has_hazard(tag)) else {
                continue;
            };
            let mut message = Diagnostic::new(
                Code::SafetyRawAnimalFood,
                choice.option.span,
                format!("{} is raw {kind} and no step cooks it", called(choice)),
            )
            .help(match *kind {
                "egg" => "cook it until white and yolk are firm: `step boil egg for 10 min`",
                "unpasteurised milk" => {
                    "boil it: `step boil milk for 5 min`; or take pasteurised milk"
                }
                _ => "cook it through, until it is hot in the middle: `step boil … for 20 min`",
            });
            let warmed = journey.heats.first();
            if let Some(event) = warmed {
                message = message.label(event.span, "warming alone is not enough");
            }
            sink.push(message);
        }
    }
}

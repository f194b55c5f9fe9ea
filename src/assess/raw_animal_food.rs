//! `safety/raw-animal-food`: raw egg, meat, fish, shellfish and milk must be
//! cooked before the child eats them. Warming is not cooking.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::process::{Process, Texture};

const RAW: [(&str, &str); 5] = [
    ("raw-egg", "egg"),
    ("raw-meat", "meat"),
    ("raw-fish", "fish"),
    ("raw-shellfish", "shellfish"),
    ("raw-milk", "milk"),
];

/// Less heat than this leaves the middle raw: a beaten egg sets in a hot
/// porridge, a whole one or a piece of meat takes longer. Common practice, no
/// source; the help names more.
fn least_minutes(kind: &str, beaten: bool) -> f64 {
    match kind {
        "egg" if beaten => 2.0,
        "egg" => 7.0,
        "milk" => 1.0,
        _ => 4.0,
    }
}

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    if case.method_torn() {
        return;
    }
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
        let cooking = journey
            .heats
            .iter()
            .filter(|event| Process::from_word(event.process).is_some_and(|process| process.cooks()));
        // Without a time the verb is believed; the missing time has its own
        // message.
        let mut cooked = false;
        let mut minutes = 0.0;
        for event in cooking {
            match event.minutes {
                Some((_, high)) => minutes += high,
                None => cooked = true,
            }
        }
        if cooked {
            continue;
        }
        // Beaten, or stirred, coated or mixed into something else.
        let fried = journey.heats.iter().any(|event| matches!(event.process, "fry" | "scramble" | "bake"));
        let beaten = fried || journey.texture == Some(Texture::Smooth) || journey.had(&["mix"]);
        for choice in &ingredient.options {
            let Some(food) = &choice.food else { continue };
            let Some((_, kind)) = RAW.iter().find(|(tag, _)| food.has_hazard(tag)) else {
                continue;
            };
            if minutes >= least_minutes(kind, beaten) {
                continue;
            }
            let mut message = Diagnostic::new(
                Code::SafetyRawAnimalFood,
                choice.option.span,
                format!("{} is raw {kind} and no step cooks it through", called(choice)),
            )
            .help(match *kind {
                "egg" => "cook it until white and yolk are firm: `step boil egg for 10 min`",
                "fish" if food.larder.as_ref().is_some_and(|row| row.is_dried()) => {
                    "toast it until crisp: `step toast … for 5 min`; or boil it: `step boil … for 20 min`"
                }
                "milk" => "boil it: `step boil milk for 5 min`; or take pasteurised milk",
                _ => "cook it through, until it is hot in the middle: `step boil … for 20 min`",
            });
            let warmed = journey.heats.first();
            if let Some(event) = warmed {
                message = message.label(event.span, "this heat is not enough");
            }
            sink.push(message);
        }
    }
}

//! `safety/bean-not-boiled`: dry kidney beans are soaked for at least five
//! hours, the water is thrown away, and they are boiled for thirty minutes.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    if case.method_torn() {
        return;
    }
    let figure =
        |id: &str, default: f64| case.reference.profile.hazard(id).and_then(|hazard| hazard.value).unwrap_or(default);
    let (soak_h, boil_min) = (figure("bean-soak", 5.0), figure("bean-boil", 30.0));
    for (at, ingredient) in case.dish.ingredients.iter().enumerate() {
        let reaches = case.dish.flow.child.get(at).copied().unwrap_or(true);
        let used = case.dish.flow.used.get(at).copied().unwrap_or(false);
        let Some(journey) = case.dish.flow.journeys.get(at).filter(|_| reaches && used) else {
            continue;
        };
        for choice in &ingredient.options {
            let raw = choice.food.as_ref().is_some_and(|food| food.has_hazard("raw-kidney-bean"));
            if !raw {
                continue;
            }
            let soaked: f64 = journey.soaks.iter().map(|(minutes, _)| minutes).sum();
            let poured = journey.soaks.iter().all(|(_, drained)| *drained);
            // Only a rolling boil destroys the poison; a slow simmer makes it worse.
            let boiled: f64 = journey
                .heats
                .iter()
                .filter(|event| matches!(event.process, "boil" | "pressure-cook" | "cook") && !event.low)
                // Only what comes after the last soaking counts.
                .filter(|event| event.soaks == journey.soaks.len())
                .map(|event| event.minutes.map_or(0.0, |(low, _)| low))
                .sum();
            let name = &ingredient.name;
            let (message, help) = if soaked < soak_h * 60.0 {
                (
                    format!("{} are not soaked for {soak_h} h before they are boiled", called(choice)),
                    format!("add `step soak {name} for 8 to 12 h, unattended` and `step drain {name}` before boiling"),
                )
            } else if !poured {
                (
                    format!("the soaking water of {} is not thrown away", called(choice)),
                    format!("add `step drain {name}: Throw the soaking water away and rinse.` after the soaking"),
                )
            } else if boiled < boil_min {
                (
                    format!("{} boil for less than {boil_min} min", called(choice)),
                    format!("write `step boil {name} for 60 to 75 min, until soft`; simmering alone is not enough"),
                )
            } else {
                continue;
            };
            let mut diagnostic = Diagnostic::new(Code::SafetyBeanNotBoiled, choice.option.span, message).help(help);
            if let Some(event) = journey.heats.first() {
                diagnostic = diagnostic.label(event.span, "this is the heat they meet");
            }
            sink.push(diagnostic);
        }
    }
}

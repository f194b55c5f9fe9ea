//! `allergen/hidden`: a food that is made from others, and differs by maker,
//! so that only its packet says which allergens it holds.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Severity, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    for (_, choice, _) in case.foods() {
        let Some(food) = choice.food.as_ref().filter(|food| food.has_hazard("hidden-allergens")) else { continue };
        let known: Vec<String> = case
            .reference
            .profile
            .file
            .allergen
            .iter()
            .filter(|entry| food.allergens().contains(&entry.id))
            .map(|entry| entry.en.clone())
            .collect();
        let others = if known.is_empty() { String::new() } else { format!(" for others than {}", known.join(", ")) };
        let mut message = Diagnostic::new(
            Code::AllergenHidden,
            choice.option.food.span,
            format!("{} may hold allergens that are not stated here", called(choice)),
        )
        .help(format!(
            "read the packet{others}; take plain foods instead, or add your product to a larder with its `allergens`"
        ));
        // Bread is everyday food, and its gluten is told already.
        if !known.is_empty() {
            message.severity = Severity::Note;
        }
        sink.push(message);
    }
}

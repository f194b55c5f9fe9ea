//! `allergen/contains`: the allergens that the card must print, alternatives
//! included.

use super::Case;
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut message = None;
    for entry in &case.reference.profile.file.allergen {
        if !entry.print {
            continue;
        }
        let mut first = true;
        for (_, choice, _) in case.foods() {
            let Some(food) = &choice.food else { continue };
            if !food.allergens().contains(&entry.id) {
                continue;
            }
            if first {
                found.push(entry.id.clone());
                first = false;
            }
            let base = message
                .take()
                .unwrap_or_else(|| Diagnostic::new(Code::AllergenContains, case.title_span(), String::new()));
            message = Some(base.label(choice.option.food.span, entry.en.clone()));
        }
    }
    if let Some(mut message) = message {
        let names: Vec<&str> = case
            .reference
            .profile
            .file
            .allergen
            .iter()
            .filter(|entry| found.contains(&entry.id))
            .map(|entry| entry.en.as_str())
            .collect();
        let whole = format!("this dish contains {}", names.join(", "));
        message.message = if whole.chars().count() <= crate::diagnostic::MESSAGE_LENGTH {
            whole
        } else {
            format!("this dish contains {} listed allergens", names.len())
        };
        message.labels.dedup();
        sink.push(message.help("the card prints it; nothing has to be done"));
    }
    found
}

/// Listed allergens that reach the family's share alone.
pub fn of_family(case: &Case<'_>, child: &[String]) -> Vec<String> {
    let reaches = |at: usize| case.dish.flow.child.get(at).copied().unwrap_or(true);
    let family: Vec<String> = case
        .dish
        .ingredients
        .iter()
        .enumerate()
        .filter(|(at, _)| !reaches(*at))
        .flat_map(|(_, ingredient)| &ingredient.options)
        .filter_map(|choice| choice.food.as_ref())
        .flat_map(crate::resolve::Food::allergens)
        .collect();
    let entries = case.reference.profile.file.allergen.iter().filter(|entry| entry.print);
    entries.map(|entry| entry.id.clone()).filter(|id| family.contains(id) && !child.contains(id)).collect()
}

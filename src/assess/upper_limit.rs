//! `safety/upper-limit`: the other tolerable upper intake levels that count
//! what food brings. Retinol has a rule of its own; levels for supplements and
//! added forms say nothing about a dish, and a level that is only remembered is
//! no ground for a verdict.

use super::limit::{Limit, Over};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic};
use crate::quantity::round_half_even;
use crate::reference::nutrient::{NutrientId, RETOL};
use crate::reference::profile::data::{LimitKind, Scope, Status};

pub fn limits<'a>(case: &Case<'a>) -> Vec<Limit<'a>> {
    let profile = &case.reference.profile;
    let mut ids: Vec<NutrientId> = Vec::new();
    // What the dish claims has `claim/upper-limit-reached`, which stops it.
    let claimed = super::claim::claimed(case);
    for row in &profile.file.upper_limit {
        let other = |id: &NutrientId| *id != RETOL && !claimed.contains(id);
        if let Some(id) = NutrientId::from_tag(&row.tag).filter(|id| other(id) && !ids.contains(id)) {
            ids.push(id);
        }
    }
    ids.into_iter()
        .map(|id| Limit {
            id,
            complete: false,
            eaten: true,
            at: Box::new(move |band| {
                profile
                    .upper_limit(id, band.from_months)
                    .filter(|row| row.kind == LimitKind::Ul && row.scope == Scope::All)
                    .filter(|row| row.status != Status::Memory && row.unit == id.get().unit)
                    .map(|row| row.value)
            }),
            tell,
        })
        .collect()
}

fn tell(over: &Over<'_>) -> Diagnostic {
    let nutrient = over.id.get();
    let show = |value: f64| round_half_even(value, if value < 10.0 { 2 } else { 0 });
    let name = nutrient.name.split([',', '(']).next().unwrap_or(nutrient.name).trim();
    // "vitamin C", but "zinc".
    let name = match name.strip_prefix("Vitamin ") {
        Some(letter) => format!("vitamin {letter}"),
        None => name.to_lowercase(),
    };
    Diagnostic::new(
        Code::SafetyUpperLimit,
        over.choice.option.span,
        format!(
            "a portion for {} months has {} {} {name}; a day's limit is {}",
            over.band.key,
            show(over.amount),
            nutrient.unit,
            show(over.limit)
        ),
    )
    .help(format!(
        "take at most {:.0} g of {} for the whole dish, or make the portion smaller",
        over.safe_g.floor(),
        called(over.choice)
    ))
}

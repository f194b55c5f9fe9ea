//! `safety/upper-limit`: the other tolerable upper intake levels that count
//! what food brings. Retinol has a rule of its own; levels for supplements and
//! added forms say nothing about a dish, and a level that is only remembered is
//! no ground for a verdict.

use super::limit::{Limit, Over};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic};
use crate::quantity::round_half_even;
use crate::reference::nutrient::{NutrientId, RETOL};
use crate::reference::profile::data::{LimitKind, Scope, Status, UpperLimit};

pub fn limits<'a>(case: &Case<'a>) -> Vec<Limit<'a>> {
    // Each component with its rows, which stand together in the profile.
    let mut all: Vec<(&str, Vec<&UpperLimit>)> = Vec::new();
    for row in &case.reference.profile.file.upper_limit {
        match all.iter_mut().rev().find(|(tag, _)| *tag == row.tag) {
            Some((_, rows)) => rows.push(row),
            None => all.push((&row.tag, vec![row])),
        }
    }
    // What the dish claims has `claim/upper-limit-reached`, which stops it.
    let claimed = super::claim::claimed(case);
    all.into_iter()
        .filter_map(|(tag, rows)| Some((NutrientId::from_tag(tag).filter(|id| id.get().tag == tag)?, rows)))
        .filter(|(id, _)| *id != RETOL && !claimed.contains(id))
        .map(|(id, rows)| Limit {
            id,
            complete: false,
            eaten: true,
            at: Box::new(move |band| {
                rows.iter()
                    .find(|row| (row.from_months..=row.to_months).contains(&band.from_months))
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

//! `safety/upper-limit`: the other tolerable upper intake levels that count
//! what food brings. Retinol has a rule of its own; levels for supplements and
//! added forms say nothing about a dish, and a level that is only remembered is
//! no ground for a verdict.

use super::limit::{When, over};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::quantity::round_half_even;
use crate::reference::nutrient::{NutrientId, RETOL};
use crate::reference::profile::data::{AgeBand, LimitKind, Scope, Status};
use crate::source::Span;

/// `retinol` are the foods that bring too much retinol already: less of them
/// mends both.
pub fn check(case: &Case<'_>, retinol: &[Span], sink: &mut Sink) {
    let rows = &case.reference.profile.file.upper_limit;
    let mut done: Vec<NutrientId> = Vec::new();
    for row in rows {
        let Some(id) = NutrientId::from_tag(&row.tag).filter(|id| *id != RETOL && !done.contains(id)) else {
            continue;
        };
        done.push(id);
        let limit = |band: &AgeBand| {
            case.reference
                .profile
                .upper_limit(id, band.from_months)
                .filter(|row| {
                    row.kind == LimitKind::Ul
                        && row.scope == Scope::All
                        && row.status != Status::Memory
                        && row.unit == id.get().unit
                })
                .map(|row| row.value)
        };
        let when = When { complete: false, eaten: true };
        for over in over(case, id, &when, &limit) {
            if retinol.contains(&over.choice.option.span) {
                continue;
            }
            let nutrient = id.get();
            let show = |value: f64| round_half_even(value, if value < 10.0 { 2 } else { 0 });
            let name = nutrient.name.split([',', '(']).next().unwrap_or(nutrient.name).trim().to_lowercase();
            sink.push(
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
                )),
            );
        }
    }
}

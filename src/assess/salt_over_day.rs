//! `safety/salt-over-day`: the sodium of one portion, as salt, against the most
//! salt of a whole day. Never said of a sum in which a food's sodium is not
//! known.

use super::limit::{When, over};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::quantity::round_half_even;
use crate::reference::nutrient::NA;
use crate::reference::profile::data::AgeBand;

/// Grams of salt that hold a milligram of sodium (58.44 / 22.99 / 1000,
/// rounded as labels do: EU 1169/2011, annex I).
const SALT_PER_SODIUM: f64 = 0.0025;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    // What is meant for the family and goes into the child's food has a message
    // of its own.
    if !case.weights_known() || case.reaching().any(|(_, ingredient, _)| ingredient.family) {
        return;
    }
    let salt = |band: &AgeBand| {
        ["salt-day-under-12", "salt-day-from-12"].iter().find_map(|id| {
            let row = case.reference.profile.hazard(id)?;
            let from = row.age_from_months.is_none_or(|from| band.from_months >= from);
            let under = row.age_under_months.is_none_or(|under| band.from_months < under);
            row.value.filter(|_| from && under)
        })
    };
    let sodium = |band: &AgeBand| salt(band).map(|grams| grams / SALT_PER_SODIUM);
    let when = When { complete: true, eaten: true };
    for over in over(case, NA, &when, &sodium) {
        sink.push(
            Diagnostic::new(
                Code::SafetySaltOverDay,
                over.choice.option.span,
                format!(
                    "a portion for {} months has {} g salt; a day's limit is {} g",
                    over.band.key,
                    round_half_even(over.amount * SALT_PER_SODIUM, 2),
                    round_half_even(over.limit * SALT_PER_SODIUM, 2)
                ),
            )
            .help(format!("most of it comes with {}; take less of it, or leave it out", called(over.choice))),
        );
    }
}

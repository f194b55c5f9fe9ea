//! `safety/salt-over-day`: the sodium of one portion, as salt, against the most
//! salt of a whole day. Never said of a sum in which a food's sodium is not
//! known.

use super::limit::{Limit, Over};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic};
use crate::quantity::round_half_even;
use crate::reference::nutrient::NA;

/// Grams of salt that hold a milligram of sodium (58.44 / 22.99 / 1000,
/// rounded as labels do: EU 1169/2011, annex I).
const SALT_PER_SODIUM: f64 = 0.0025;

pub fn limit<'a>(case: &Case<'a>) -> Option<Limit<'a>> {
    // What is meant for the family and goes into the child's food has a message
    // of its own.
    if !case.weights_known() || case.reaching().any(|(_, ingredient, _)| ingredient.family) {
        return None;
    }
    let profile = &case.reference.profile;
    let salt = |months: u16| {
        ["salt-day-under-12", "salt-day-from-12"].iter().find_map(|id| {
            let row = profile.hazard(id)?;
            let from = row.age_from_months.is_none_or(|from| months >= from);
            let under = row.age_under_months.is_none_or(|under| months < under);
            row.value.filter(|_| from && under)
        })
    };
    Some(Limit {
        id: NA,
        complete: true,
        eaten: true,
        at: Box::new(move |band| salt(band.from_months).map(|grams| grams / SALT_PER_SODIUM)),
        tell,
    })
}

fn tell(over: &Over<'_>) -> Diagnostic {
    let salt = |sodium: f64| round_half_even(sodium * SALT_PER_SODIUM, 2);
    Diagnostic::new(
        Code::SafetySaltOverDay,
        over.choice.option.span,
        format!(
            "a portion for {} months has {} g salt; a day's limit is {} g",
            over.band.key,
            salt(over.amount),
            salt(over.limit)
        ),
    )
    .help(format!("most of it comes with {}; take less of it, or leave it out", called(over.choice)))
}

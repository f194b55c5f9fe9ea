//! `safety/retinol-over-limit`: preformed vitamin A of one portion against the
//! upper limit of a day.

use super::limit::{Limit, Over};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic};
use crate::reference::nutrient::RETOL;

pub fn limit<'a>(case: &Case<'a>) -> Limit<'a> {
    let profile = &case.reference.profile;
    Limit {
        id: RETOL,
        complete: false,
        eaten: false,
        at: Box::new(|band| profile.upper_limit(RETOL, band.from_months).map(|limit| limit.value)),
        tell,
    }
}

fn tell(over: &Over<'_>) -> Diagnostic {
    Diagnostic::new(
        Code::SafetyRetinolOverLimit,
        over.choice.option.span,
        format!(
            "a portion for {} months has {:.0} µg retinol; a day's limit is {:.0}",
            over.band.key, over.amount, over.limit
        ),
    )
    .help(format!(
        "take at most {:.0} g of {} for the whole dish, or make the portion smaller",
        over.safe_g.floor(),
        called(over.choice)
    ))
}

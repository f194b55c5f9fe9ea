//! `safety/retinol-over-limit`: preformed vitamin A of one portion against the
//! upper limit of a day.

use super::limit::{When, over};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::nutrient::RETOL;
use crate::source::Span;

/// Gives the places of the foods it spoke of.
pub fn check(case: &Case<'_>, sink: &mut Sink) -> Vec<Span> {
    let mut told = Vec::new();
    let limit = |band: &crate::reference::profile::data::AgeBand| {
        case.reference.profile.upper_limit(RETOL, band.from_months).map(|limit| limit.value)
    };
    let when = When { complete: false, eaten: false };
    for over in over(case, RETOL, &when, &limit) {
        told.push(over.choice.option.span);
        sink.push(
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
            )),
        );
    }
    told
}

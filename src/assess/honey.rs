//! `safety/honey-under-12-months`: no honey, in any form, before twelve months.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let age = case.reference.profile.hazard("honey").and_then(|hazard| hazard.age_under_months).unwrap_or(12);
    if case.dish.months.0 >= age {
        return;
    }
    for (_, choice, _) in case.foods() {
        if choice.food.as_ref().is_some_and(|food| food.has_hazard("honey")) {
            let mut message = Diagnostic::new(
                Code::SafetyHoneyUnder12Months,
                choice.option.span,
                format!("{} for a child under {age} months", called(choice)),
            )
            .help(if case.dish.months.1 > age {
                format!(
                    "leave it out; ripe fruit sweetens as well. Or begin at {age} months: `for {age} to {} months`",
                    case.dish.months.1
                )
            } else {
                "leave it out; ripe fruit sweetens as well".to_owned()
            });
            if let Some(ages) = &case.dish.ast.header.ages {
                message = message.label(ages.span, "the dish is for this age");
                if case.dish.months.1 > age {
                    message = message.choice(ages.span, format!("{age} to {} months", case.dish.months.1));
                }
            }
            sink.push(message);
        }
    }
}

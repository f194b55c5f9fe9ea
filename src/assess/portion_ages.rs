//! `age/portion-outside`: a portion for an age that the dish is not for.

use super::Case;
use crate::ast::Ages;
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    // Without its ages the dish is for every age of the guidance.
    if case.tore("for") {
        return;
    }
    let (from, to) = case.dish.months;
    for line in &case.dish.ast.portions {
        let Some(ages) = &line.ages else { continue };
        let Ages { from: first, to: last, .. } = ages.value;
        // "From 12 months" ends where the dish does.
        let last = last.unwrap_or(to.max(first));
        if first >= from && last <= to {
            continue;
        }
        let meets = first <= to && last >= from;
        let message = Diagnostic::new(
            Code::AgePortionOutside,
            ages.span,
            format!("a portion for {}, but the dish is for {}", months(first, last), months(from, to)),
        );
        let (cut_from, cut_to) = (first.max(from), last.min(to));
        let message = if meets {
            message
                .help(format!("write the ages that both have: `portion {}: …`", months(cut_from, cut_to)))
                .fix(ages.span, months(cut_from, cut_to))
        } else {
            message.help(format!(
                "nobody uses this line: remove it, or write `for {}`",
                months(first.min(from), last.max(to))
            ))
        };
        sink.push(match &case.dish.ast.header.ages {
            Some(ages) => message.label(ages.span, "the ages of the dish"),
            None => message,
        });
    }
}

fn months(from: u16, to: u16) -> String {
    if from == to { format!("{from} months") } else { format!("{from} to {to} months") }
}

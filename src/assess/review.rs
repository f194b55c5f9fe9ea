//! `review/stale`, `review/none`: whether somebody answers for a dish, and how
//! long ago they looked at it. The day is handed in as data.

use super::Case;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::quantity::date::months_between;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let Some(reviewed) = &case.dish.ast.header.reviewed else {
        if !case.tore("reviewed") {
            sink.push(
                Diagnostic::new(Code::ReviewNone, case.title_span(), "nobody is named who has reviewed this dish")
                    .help("add a line with the day and the role: `reviewed 2026-05-01 by nutritionist`"),
            );
        }
        return;
    };
    let Some(today) = case.reference.practice.today else { return };
    let months = months_between(reviewed.day, today);
    let most = case.reference.practice.review_months;
    if months >= i64::from(most) {
        sink.push(
            Diagnostic::new(
                Code::ReviewStale,
                reviewed.span,
                format!("the review is {months} months old; it holds for {most}"),
            )
            .help("look the dish over against today’s guidance and write the new day"),
        );
    }
}

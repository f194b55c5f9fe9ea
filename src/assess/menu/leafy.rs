//! `menu/same-leafy-twice`: leaves rich in nitrate at more meals than a day
//! should have.

use super::MenuCase;
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    let most = case.reference.profile.hazard("leafy-nitrate").and_then(|row| row.value).unwrap_or(1.0);
    let Some((day, _)) = case.bands().next() else { return };
    if day.leafy.len() as f64 <= most {
        return;
    }
    let place = |at: Option<&usize>| at.and_then(|at| case.menu.meals.get(*at)).map(|meal| meal.span);
    let (Some(first), Some(last)) = (place(day.leafy.first()), place(day.leafy.last())) else { return };
    sink.push(
        Diagnostic::new(
            Code::MenuSameLeafyTwice,
            last,
            format!("leaves rich in nitrate at {} meals; {most:.0} a day is the most", day.leafy.len()),
        )
        .label(first, "the first is here")
        .help("give other vegetables at one of them, such as pumpkin, carrot or tomato"),
    );
}

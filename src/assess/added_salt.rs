//! `safety/added-salt`: salt and salty cubes belong into the family's pot,
//! after the child's portion is set aside.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    for span in &case.dish.flow.salted {
        sink.push(
            Diagnostic::new(Code::SafetyAddedSalt, *span, "the child's food is cooked in salted water")
                .help("cook it in plain water; salt the family's plates at the table"),
        );
    }
    for (ingredient, choice, _) in case.foods() {
        let Some(food) = &choice.food else { continue };
        let what = if food.has_hazard("salt") {
            "salt"
        } else if food.has_hazard("salty") {
            "a salty food"
        } else {
            continue;
        };
        if ingredient.family {
            continue;
        }
        sink.push(
            Diagnostic::new(
                Code::SafetyAddedSalt,
                choice.option.span,
                format!("{} puts {what} into the child's food", called(choice)),
            )
            .help("leave it out, or write `family` and add it after `step set aside child portion`"),
        );
    }
}

//! `safety/added-sugar-under-24-months` and `safety/sweet-drink`: sugar in
//! food, and sugar that is drunk. One sugar gives one message.

use super::drink::drink;
use super::{Case, called};
use crate::compute::Selection;
use crate::diagnostic::{Code, Diagnostic, Sink};

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let age = |id: &str, default: u16| {
        case.reference.profile.hazard(id).and_then(|hazard| hazard.age_under_months).unwrap_or(default)
    };
    let young = |age: u16| case.dish.months.0 < age;
    let (sugar, drinks) = (young(age("added-sugar", 24)), young(age("sweet-drink", 24)));
    let honey_told = young(age("honey", 12));
    let juice_told = young(age("juice-none", 12));
    for (at, ingredient, _) in case.reaching() {
        for (option, choice) in ingredient.options.iter().enumerate() {
            let Some(food) = &choice.food else { continue };
            let is_drunk = || drink(case, &Selection::with(case.dish, at, option)).is_some();
            let sweet = food.has_hazard("sugar") && !(food.has_hazard("honey") && honey_told);
            let code = if drinks && food.has_hazard("sweet-drink") {
                Some((Code::SafetySweetDrink, "is a sweet drink"))
            } else if drinks && sweet && is_drunk() {
                Some((Code::SafetySweetDrink, "makes a sweet drink of it"))
            } else if sugar && sweet {
                Some((Code::SafetyAddedSugarUnder24Months, "adds sugar for a child under 24 months"))
            } else if juice_told && food.has_hazard("juice") && is_drunk() {
                Some((Code::SafetySweetDrink, "is a drink of juice, before 12 months"))
            } else {
                None
            };
            let Some((code, what)) = code else { continue };
            sink.push(Diagnostic::new(code, choice.option.span, format!("{} {what}", called(choice))).help(
                if code == Code::SafetySweetDrink {
                    "give breast milk or clean water to drink; fruit is eaten, not drunk"
                } else {
                    "leave it out; ripe banana, mango or orange sweet potato sweetens as well"
                },
            ));
        }
    }
}

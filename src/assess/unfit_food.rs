//! Foods that are not for the child, whatever the method does to them:
//! `safety/high-mercury-fish`, `safety/rice-drink`, `safety/tea-coffee`,
//! `safety/alcohol-not-for-children`.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};

struct Unfit {
    code: Code,
    /// Hazard tag of the larder.
    tag: &'static str,
    /// Row of the profile.
    row: &'static str,
    what: &'static str,
    help: &'static str,
}

const UNFIT: [Unfit; 4] = [
    Unfit {
        code: Code::SafetyHighMercuryFish,
        tag: "mercury-high",
        row: "mercury-fish",
        what: "holds too much mercury for a young child",
        help: "take another fish: small dried lake fish, tilapia, catfish, sardines, mackerel",
    },
    Unfit {
        code: Code::SafetyRiceDrink,
        tag: "rice-drink",
        row: "rice-drink",
        what: "is no food for a young child: arsenic of rice",
        help: "take pasteurised milk, breast milk or water; rice that is boiled and drained is fine",
    },
    Unfit {
        code: Code::SafetyTeaCoffee,
        tag: "tea-coffee",
        row: "tea-coffee",
        what: "hinders the iron of the food",
        help: "give boiled and cooled water instead",
    },
    Unfit {
        code: Code::SafetyAlcoholNotForChildren,
        tag: "alcohol",
        row: "alcohol",
        what: "puts alcohol into the child's food",
        help: "leave it out; cooking does not take all of it away",
    },
];

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    for unfit in &UNFIT {
        // Without an age the rule is for every child; without a row too.
        let age = case.reference.profile.hazard(unfit.row).and_then(|row| row.age_under_months);
        if age.is_some_and(|age| case.dish.months.0 >= age) {
            continue;
        }
        for (_, choice, _) in case.foods() {
            if choice.food.as_ref().is_some_and(|food| food.has_hazard(unfit.tag)) {
                sink.push(
                    Diagnostic::new(unfit.code, choice.option.span, format!("{} {}", called(choice), unfit.what))
                        .help(unfit.help),
                );
            }
        }
    }
}

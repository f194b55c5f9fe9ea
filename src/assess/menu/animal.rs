//! `menu/no-animal-food` and `menu/no-egg-or-flesh`: iron and zinc that the
//! body takes up well, and vitamin B12, come from animal food.

use super::MenuCase;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::FoodGroup;

pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    let Some((day, _)) = case.bands().next() else { return };
    let meat = day.has(FoodGroup::Flesh) || day.has(FoodGroup::Eggs);
    if meat {
        return;
    }
    if day.has(FoodGroup::Dairy) {
        sink.push(
            Diagnostic::new(
                Code::MenuNoEggOrFlesh,
                case.title_span(),
                "the day has neither egg nor meat, fish or liver",
            )
            .help("add an egg, fish, meat or a little liver to one meal: every day, or as often as possible"),
        );
    } else {
        sink.push(
            Diagnostic::new(Code::MenuNoAnimalFood, case.title_span(), "the day has no food from animals at all")
                .help("add an egg, fish, meat, a little liver or a milk food to one meal"),
        );
    }
}

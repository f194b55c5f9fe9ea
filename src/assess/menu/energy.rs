//! `menu/too-little-energy` and `menu/too-much-energy`: the food of the day
//! against the need, with average breast milk where the child has it.

use super::MenuCase;
use crate::compute::day::energy_needs;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::nutrient;

pub fn check(case: &MenuCase<'_>, sink: &mut Sink) {
    let menu = case.reference.profile.file.menu.as_ref();
    let least = menu.map_or(1.0, |menu| menu.energy_least.value);
    let (mut little, mut much) = (false, false);
    for (day, band) in case.bands() {
        let sum = day.sum(nutrient::ENERC_KCAL);
        let (need, _) = energy_needs(band, case.menu.breastfed);
        if !little && sum.complete && sum.food < need.value * least {
            little = true;
            sink.push(
                Diagnostic::new(
                    Code::MenuTooLittleEnergy,
                    case.title_span(),
                    format!(
                        "the food brings {:.0} kcal; a day at {} months should bring {:.0}",
                        sum.food, band.key, need.value
                    ),
                )
                .help(format!(
                    "{:.0} kcal more: a larger portion, a snack, or oil or nut paste in a dish",
                    need.value - sum.food
                )),
            );
        }
        let most = band.energy_total_high.value;
        if !much && sum.total() > most {
            much = true;
            sink.push(
                Diagnostic::new(
                    Code::MenuTooMuchEnergy,
                    case.title_span(),
                    format!(
                        "{:.0} kcal in all; at {} months even a child who needs much needs {most:.0}",
                        sum.total(),
                        band.key
                    ),
                )
                .help(if day.milk.is_some() {
                    "make portions smaller: food must not take the place of breast milk"
                } else {
                    "make portions smaller, or leave out a snack"
                }),
            );
        }
    }
}

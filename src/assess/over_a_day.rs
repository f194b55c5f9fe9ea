//! `age/over-a-day`: one portion above the energy that a whole day's food
//! should bring beside breast milk.

use super::Case;
use crate::compute::portion::Basis;
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::nutrient;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let breastfed = case.dish.ast.header.ages.as_ref().and_then(|ages| ages.value.breastfed).unwrap_or(true);
    for (portion, band) in case.portions() {
        let Some(grams) = portion.grams.filter(|_| portion.basis != Basis::Usual && case.weights_known()) else {
            continue;
        };
        if grams > case.computed.cooked.cooked_g * 1.001 {
            continue;
        }
        let Some(kcal) = case.computed.nutrition.in_grams(nutrient::ENERC_KCAL, grams) else {
            continue;
        };
        let day = if breastfed { band.energy_breastfed.value } else { band.energy_not_breastfed.value };
        if kcal > day {
            sink.push(
                Diagnostic::new(
                    Code::AgeOverADay,
                    case.portion_span(portion),
                    format!("{kcal:.0} kcal in one portion; a day's food at {} months is {day:.0}", band.key),
                )
                .help("make the portion smaller, or the dish less rich"),
            );
        }
    }
}

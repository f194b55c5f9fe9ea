//! `age/portion-too-large` and `age/portion-too-small`: a portion against what
//! a stomach of that age holds and what a meal usually is.

use super::Case;
use crate::compute::portion::Basis;
use crate::diagnostic::{Code, Diagnostic, Sink};

/// Below this share of the usual meal a portion is a taste, not a meal. First
/// tastes are allowed where the profile names them.
const LEAST_SHARE: f64 = 0.25;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    for (portion, band) in case.portions() {
        let Some(grams) = portion.grams.filter(|_| portion.basis != Basis::Usual && case.weights_known()) else {
            continue;
        };
        // A portion larger than the dish has its own message.
        if grams > case.computed.cooked.cooked_g * 1.001 {
            continue;
        }
        let span = case.portion_span(portion);
        let most = band.capacity.value;
        if grams > most {
            sink.push(
                Diagnostic::new(
                    Code::AgePortionTooLarge,
                    span,
                    format!("{grams:.0} g is more than a child of {} months can eat at once", band.key),
                )
                .help(format!(
                    "a stomach of this age holds about {most:.0} g; a usual meal is {:.0} mL",
                    band.portion_usual.value
                )),
            );
        }
        let start = band.portion_start.as_ref().map_or(f64::MAX, |start| start.value * 0.9);
        let least = (band.portion_usual.value * LEAST_SHARE).min(start);
        if grams < least {
            sink.push(
                Diagnostic::new(
                    Code::AgePortionTooSmall,
                    span,
                    format!("{grams:.0} g is little for a child of {} months", band.key),
                )
                .help(format!("a usual meal of this age is {:.0} mL", band.portion_usual.value)),
            );
        }
    }
}

//! `yield/missing`, `yield/estimated`, `yield/portion-exceeds-dish`, and
//! `measure/volume-of-count` for portions: what the dish makes and whether the
//! portions fit into it.

use super::Case;
use crate::diagnostic::{Code, Diagnostic, Sink};

/// A portion may round up by this much before it exceeds the dish.
const TOLERANCE: f64 = 1.001;

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    let dish = case.dish;
    let cooked = &case.computed.cooked;
    let title = case.title_span();
    let nothing = dish.ingredients.is_empty();
    if dish.ast.makes.is_none() && !case.tore("makes") && !nothing {
        sink.push(
            Diagnostic::new(Code::YieldMissing, title, "this dish does not say what it makes")
                .help("measure what comes out of the pot and add a line, such as `makes 3 cups`"),
        );
    }
    if cooked.estimated && cooked.cooked_g > 0.0 && !case.tore("cooked") {
        sink.push(
            Diagnostic::new(
                Code::YieldEstimated,
                title,
                format!("the cooked weight, about {:.0} g, is an estimate", cooked.cooked_g),
            )
            .help("weigh the cooked dish and add a line, such as `cooked 420 g`"),
        );
    }
    let mut told = Vec::new();
    for (portion, _) in case.portions() {
        let span = case.portion_span(portion);
        if told.contains(&span) {
            continue;
        }
        if portion.mismatch && dish.ast.makes.is_some() {
            told.push(span);
            sink.push(
                Diagnostic::new(
                    Code::MeasureVolumeOfCount,
                    span,
                    "the portion and what the dish makes are not of one kind",
                )
                .help("give both as pieces, or both as a volume or a weight")
                .label(dish.ast.makes.as_ref().map_or(title, |makes| makes.span), "the dish makes this"),
            );
            continue;
        }
        let Some(grams) = portion.grams.filter(|_| case.weights_known()) else {
            continue;
        };
        // Volumes against the volume made, weights against the cooked weight;
        // the usual portion of the profile is no promise of the author's.
        let written = portion.basis == crate::compute::portion::Basis::Written;
        if written && !portion.assumed_density && grams > cooked.cooked_g * TOLERANCE {
            told.push(span);
            sink.push(
                Diagnostic::new(
                    Code::YieldPortionExceedsDish,
                    span,
                    format!("one portion is {grams:.0} g, the whole dish only {:.0} g", cooked.cooked_g),
                )
                .help("correct the portion, or what the dish makes"),
            );
        }
    }
}

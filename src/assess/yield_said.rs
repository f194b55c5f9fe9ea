//! `yield/missing`, `yield/estimated`, `yield/portion-exceeds-dish`, and
//! `measure/volume-of-count` for portions: what the dish makes and whether the
//! portions fit into it.

use super::Case;
use crate::diagnostic::{Code, Diagnostic, Sink};

/// A portion may round up by this much before it exceeds the dish.
const TOLERANCE: f64 = 1.001;

/// Grams a millilitre of cooked food may weigh before a slip of the measure is
/// likelier than the food; wider where the weight is an estimate. Common
/// practice, no source: leaves and puffed grain lie low, thick pastes high.
const PLAUSIBLE: (f64, f64) = (0.5, 1.4);
const PLAUSIBLE_ESTIMATE: (f64, f64) = (0.35, 1.7);

/// `measure/weight-disagrees` for what the dish makes against what it weighs.
fn implausible(case: &Case<'_>, sink: &mut Sink) {
    let cooked = &case.computed.cooked;
    let density = crate::compute::portion::dish_density(case.dish, &case.computed.nutrition, case.reference);
    let (Some(density), Some(makes), true) = (density, &case.dish.ast.makes, case.weights_known()) else { return };
    let (low, high) = if cooked.estimated { PLAUSIBLE_ESTIMATE } else { PLAUSIBLE };
    if (low..=high).contains(&density) {
        return;
    }
    let about = if cooked.estimated { "about " } else { "" };
    sink.push(
        Diagnostic::new(
            Code::MeasureWeightDisagrees,
            makes.span,
            format!("{about}{:.0} g in this volume is {density:.2} g in a mL, hardly any food", cooked.cooked_g),
        )
        .help("measure again what comes out of the pot, or weigh it: `cooked 420 g`"),
    );
}

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
    implausible(case, sink);
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

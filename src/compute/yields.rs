//! What a dish weighs when it is cooked.

use crate::ast;
use crate::compute::Selection;
use crate::reference::larder::FoodClass;
use crate::reference::retention::Heat;
use crate::reference::yields::{Process, pot_factor, process_factor, yield_factor};
use crate::resolve::{Choice, Dish, Journey};

/// Cooked weight and how it was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooked {
    pub raw_g: f64,
    pub cooked_g: f64,
    pub estimated: bool,
    /// One sentence a step.
    pub how: Vec<String>,
}

/// The weight that reaches the child's pot, raw and cooked. A measured weight
/// always wins; without heat or soaking nothing changes; otherwise the yield
/// factors of the classes give an estimate.
pub fn cooked(dish: &Dish, selection: &Selection) -> Cooked {
    let mut raw_g = 0.0;
    let mut estimate = 0.0;
    let mut pot = 0.0;
    let mut changed = false;
    let mut how = Vec::new();
    for (at, ingredient) in dish.ingredients.iter().enumerate() {
        if !dish.flow.child.get(at).copied().unwrap_or(true) {
            continue;
        }
        let Some(choice) = selection.option(dish, at) else {
            continue;
        };
        let Some(weight) = &choice.weight else {
            continue;
        };
        let grams = weight.grams;
        raw_g += grams;
        let Own { factor, in_pot, note } = own(dish, at, choice);
        if (factor - 1.0).abs() > f64::EPSILON {
            changed = true;
            how.push(format!("{}: × {factor} ({note})", ingredient.name));
        }
        if in_pot {
            pot += grams * factor;
        }
        estimate += grams * factor;
    }
    match dish.cooked() {
        Some(ast::Cooked::Grams(grams)) => {
            return Cooked { raw_g, cooked_g: grams.value(), estimated: false, how: vec!["weighed".to_owned()] };
        }
        Some(ast::Cooked::Percent(percent)) => {
            return Cooked {
                raw_g,
                cooked_g: raw_g * percent.value() / 100.0,
                estimated: false,
                how: vec![format!("{} % of the raw weight", percent.value())],
            };
        }
        None => {}
    }
    if pot > 0.0
        && let Some(row) = pot_factor()
    {
        changed = true;
        estimate -= pot * (1.0 - row.factor);
        how.push(format!("what boils in its own water: × {} ({})", row.factor, row.status));
    }
    if !changed {
        return Cooked { raw_g, cooked_g: raw_g, estimated: false, how: vec!["nothing changes the weight".to_owned()] };
    }
    Cooked { raw_g, cooked_g: estimate, estimated: true, how }
}

/// How one ingredient changes its weight, where nobody weighed the dish.
#[derive(Debug, Clone, PartialEq)]
pub struct Own {
    /// Cooked over raw weight.
    pub factor: f64,
    /// It stands in a pot whose own water is listed, so that the pot's factor
    /// comes on top.
    pub in_pot: bool,
    /// Where the factor comes from; empty for 1.
    pub note: String,
}

/// The factor of one option of a line.
pub fn own(dish: &Dish, at: usize, choice: &Choice) -> Own {
    let class = choice.food.as_ref().map_or(FoodClass::Other, |food| food.class);
    let already = choice.food.as_ref().is_some_and(|food| food.cooked);
    let (factor, in_pot, note) = factor(class, already, dish.flow.journeys.get(at));
    Own { factor, in_pot, note }
}

/// Cooked over raw weight of one ingredient; whether it stands in a pot whose
/// own water is listed; and where the factor comes from.
fn factor(class: FoodClass, already_cooked: bool, journey: Option<&Journey>) -> (f64, bool, String) {
    let Some(journey) = journey else {
        return (1.0, false, String::new());
    };
    let boiled_wet = journey
        .heats
        .iter()
        .any(|event| event.wet && !event.drained && matches!(event.heat, Heat::BoilUsed | Heat::PressureCook));
    let dry = matches!(
        class,
        FoodClass::Flour
            | FoodClass::Cereal
            | FoodClass::Oats
            | FoodClass::Rice
            | FoodClass::Pasta
            | FoodClass::PulseDry
            | FoodClass::PulseQuick
    );
    if boiled_wet {
        // The pot's own water goes into the grain, the meat's juice into the
        // pot: only steam leaves.
        return (1.0, true, String::new());
    }
    let liquid =
        matches!(class, FoodClass::Water | FoodClass::Oil | FoodClass::Salt | FoodClass::Sugar | FoodClass::Spice);
    if liquid || already_cooked {
        return (1.0, false, String::new());
    }
    // The heat that changes the weight most decides: boiled beans that are
    // warmed later have taken their water in once.
    let strongest = journey
        .heats
        .iter()
        .filter(|event| event.heat != Heat::Warm)
        .filter_map(|event| yield_factor(class, event.heat).map(|row| (event.heat, row)))
        .max_by(|a, b| {
            let away = |row: &crate::reference::yields::YieldRow| (row.factor - 1.0).abs();
            away(a.1).total_cmp(&away(b.1))
        });
    if let Some((heat, row)) = strongest {
        return (row.factor, false, format!("{}, {}: {}", class.word(), heat.word(), row.status));
    }
    if journey.heats.iter().all(|event| event.heat == Heat::Warm) && dry {
        let process = if journey.sprouted {
            Some(Process::Sprout)
        } else if !journey.soaks.is_empty() {
            Some(Process::Soak)
        } else {
            None
        };
        if let Some(row) = process.and_then(|process| process_factor(class, process)) {
            return (row.factor, false, format!("{}, soaked or sprouted: {}", class.word(), row.status));
        }
    }
    (1.0, false, String::new())
}

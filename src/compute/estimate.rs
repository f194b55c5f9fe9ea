//! What is estimated, and how much of the result rests on it, so that an
//! author knows what to weigh first.
//!
//! The effect of an estimate on a figure is the share by which a portion's
//! figure moves over the share by which the estimate is wrong: 0.3 says that a
//! weight that is 10 % higher makes the portion's figure 3 % higher. With *a*
//! of *N* brought by a line and *c* of the cooked weight *W* made of it:
//!
//! - its weight: `a/N`, and `a/N - c/W` where the portion is weighed and the
//!   dish is not, because what is heavier also thins;
//! - its yield: `-c/W` where the portion is weighed and the dish is not, else
//!   0: a share of the dish does not depend on what the dish weighs;
//! - the density of a portion, where water's stands for it: 1.

use crate::ast;
use crate::compute::portion::Taken;
use crate::compute::spread::{Point, point, value};
use crate::compute::{Computed, Selection, yields};
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::yields::pot_factor;
use crate::resolve::Dish;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    Weight,
    Yield,
    PortionDensity,
}

impl What {
    /// The word used in data output.
    pub fn word(self) -> &'static str {
        match self {
            Self::Weight => "weight",
            Self::Yield => "yield",
            Self::PortionDensity => "portion-density",
        }
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    pub what: What,
    /// The ingredient; `None` for a whole pot or a portion.
    pub ingredient: Option<usize>,
    pub why: String,
    effects: Vec<f64>,
}

impl Estimate {
    /// Change of a portion's figure over the change of the estimate, the
    /// strongest over the age bands; signed.
    pub fn effect(&self, id: NutrientId) -> f64 {
        self.effects.get(id.index()).copied().unwrap_or(0.0)
    }

    fn strongest(&self, ids: &[NutrientId]) -> f64 {
        ids.iter().map(|id| self.effect(*id).abs()).fold(0.0, f64::max)
    }
}

/// Every estimate that moves one of the given figures, the strongest first.
pub fn estimates(dish: &Dish, computed: &Computed, selection: &Selection, ids: &[NutrientId]) -> Vec<Estimate> {
    let mut found = all(dish, computed, selection);
    // Below this nothing moves that a card prints.
    const LEAST: f64 = 0.0005;
    found.retain(|estimate| estimate.strongest(ids) >= LEAST);
    found.sort_by(|a, b| b.strongest(ids).total_cmp(&a.strongest(ids)));
    found
}

fn all(dish: &Dish, computed: &Computed, selection: &Selection) -> Vec<Estimate> {
    let nutrition = &computed.nutrition;
    let cooked = nutrition.cooked_g;
    let weighed_dish = matches!(dish.cooked(), Some(ast::Cooked::Grams(_)));
    let portions: Vec<(Taken, bool)> = computed
        .portions
        .iter()
        .filter_map(|portion| portion.taken.map(|taken| (taken, portion.assumed_density)))
        .collect();
    // A portion that is weighed holds less of a heavier dish.
    let by_weight = portions.iter().any(|(taken, _)| matches!(taken, Taken::Grams(..)));
    let by_share = portions.is_empty() || portions.iter().any(|(taken, _)| matches!(taken, Taken::Share(..)));
    let strongest = |share: f64, weight: f64| match (by_share, by_weight) {
        (true, true) if share.abs() >= weight.abs() => share,
        (true, false) => share,
        _ => weight,
    };
    let of = |effect: &dyn Fn(NutrientId, f64) -> f64| -> Vec<f64> {
        NutrientId::all()
            .map(|id| {
                let whole = nutrition.figure(id).value;
                if whole > 0.0 && cooked > 0.0 { effect(id, whole) } else { 0.0 }
            })
            .collect()
    };
    // What a change of the cooked weight by a share does.
    let heavier = |made: f64| {
        of(&|id, whole| {
            let own = if id == nutrient::WATER { made / whole } else { 0.0 };
            strongest(own, own - made / cooked)
        })
    };
    let mut found = Vec::new();
    let mut pot = 0.0;
    for at in 0..dish.ingredients.len() {
        if !dish.flow.child.get(at).copied().unwrap_or(true) {
            continue;
        }
        let Some(choice) = selection.option(dish, at) else { continue };
        let Some(weight) = &choice.weight else { continue };
        let Some(Point { cooked: made, brings, .. }) = point(dish, at, choice, weight.grams, |id| value(choice, id))
        else {
            continue;
        };
        if !weight.guesses.is_empty() {
            found.push(Estimate {
                what: What::Weight,
                ingredient: Some(at),
                why: weight.guesses.join("; "),
                effects: of(&|id, whole| {
                    let share = brings.get(id.index()).copied().unwrap_or(0.0) / whole;
                    strongest(share, share - made / cooked)
                }),
            });
        }
        let own = yields::own(dish, at, choice);
        if dish.cooked().is_none() {
            if own.in_pot {
                pot += made;
            }
            if (own.factor - 1.0).abs() > f64::EPSILON {
                found.push(Estimate {
                    what: What::Yield,
                    ingredient: Some(at),
                    why: format!("× {} ({})", own.factor, own.note),
                    effects: heavier(made),
                });
            }
        }
    }
    if pot > 0.0
        && !weighed_dish
        && let Some(row) = pot_factor()
    {
        found.push(Estimate {
            what: What::Yield,
            ingredient: None,
            why: format!("what boils in its own water: × {} ({})", row.factor, row.status),
            effects: heavier(pot),
        });
    }
    if portions.iter().any(|(_, assumed)| *assumed) {
        found.push(Estimate {
            what: What::PortionDensity,
            ingredient: None,
            why: "the dish is taken to weigh 1 g/mL; `makes` would say".to_owned(),
            effects: of(&|_, _| 1.0),
        });
    }
    found
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::check::{CheckedDish, check};
    use crate::reference::Reference;
    use crate::reference::nutrient::{ENERC_KCAL, FE};
    use crate::resolve::NoDishes;
    use crate::source::Source;
    use crate::syntax::Kind;

    fn dish(portion: &str, leaves: &str) -> CheckedDish {
        let text = format!(
            "dish Pot\nfor 9 to 11 months\nmakes 2 cups\nportion {portion}\ntake 50 g maize flour as flour\n\
             take 200 g water\ntake {leaves} as leaves\nstep boil flour with water, leaves for 20 min; mash everything\n"
        );
        check(Source::new("pot.dish", text), Kind::Dish, "pot", &Reference::default(), &NoDishes).dish.unwrap()
    }

    fn of(dish: &CheckedDish) -> Vec<Estimate> {
        estimates(&dish.resolved, &dish.computed, &Selection::default(), &[FE])
    }

    /// The effect says what a portion's iron does when the weight is another.
    #[test]
    fn the_effect_is_the_change_of_a_portion() {
        for portion in ["100 g", "1/2 cup"] {
            let guessed = dish(portion, "4 handfuls pumpkin leaves");
            let grams = guessed.resolved.ingredients[2].options[0].weight.as_ref().unwrap().grams;
            let weight = of(&guessed).into_iter().find(|one| one.what == What::Weight).unwrap();
            assert_eq!(weight.ingredient, Some(2));
            let iron = |dish: &CheckedDish| {
                dish.computed.nutrition.in_grams(FE, dish.computed.portions[0].grams.unwrap()).unwrap()
            };
            let more = dish(portion, &format!("{} g pumpkin leaves", grams * 1.001));
            let moved = (iron(&more) / iron(&guessed) - 1.0) / 0.001;
            assert!((weight.effect(FE) - moved).abs() < 2e-3, "{portion}: {} {moved}", weight.effect(FE));
        }
    }

    #[test]
    fn what_is_weighed_is_no_estimate() {
        // A share of the dish does not depend on what the dish weighs.
        assert!(of(&dish("1/2 cup", "80 g pumpkin leaves")).is_empty());
        let by_weight = of(&dish("100 g", "80 g pumpkin leaves"));
        assert_eq!(by_weight.iter().map(|one| one.what).collect::<Vec<_>>(), [What::Yield]);
        // All of the pot loses a tenth: a portion holds that much more.
        assert!((by_weight[0].effect(ENERC_KCAL) + 1.0).abs() < 1e-9);
    }
}

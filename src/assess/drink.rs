//! Whether a dish is a drink: mostly liquid, and nothing in it that makes a
//! porridge or a soup of it.

use super::Case;
use crate::compute::Selection;
use crate::reference::larder::FoodClass;
use crate::resolve::{Food, Journey};

/// Liquid from this share of the weight on may be a drink, and beside fruit
/// only so little of anything else. Project's choice: a thin flour porridge has
/// about 7 % of flour.
const LIQUID: f64 = 0.7;
const BODY: f64 = 0.04;

/// What a food is in a cup.
#[derive(PartialEq)]
enum Part {
    Liquid,
    /// Fruit thickens a drink, and it stays one.
    Fruit,
    /// Sugar, fat and spice count for neither.
    Flavour,
    Body,
}

/// A dish that is drunk.
pub struct Drink {
    pub raw_g: f64,
    /// Weight of foods that carry the tag `milk-drink`.
    pub milk_g: f64,
}

/// The dish with one selection of its options, if it is a drink.
pub fn drink(case: &Case<'_>, selection: &Selection) -> Option<Drink> {
    let (mut liquid, mut body, mut all, mut milk) = (0.0, 0.0, 0.0, 0.0);
    for (at, _, journey) in case.served() {
        let choice = selection.option(case.dish, at)?;
        let (Some(food), Some(weight)) = (&choice.food, &choice.weight) else {
            return None;
        };
        let grams = weight.grams;
        let part = part(food, journey);
        if part == Part::Flavour {
            continue;
        }
        all += grams;
        match part {
            Part::Liquid => liquid += grams,
            Part::Body => body += grams,
            Part::Fruit | Part::Flavour => {}
        }
        if food.has_hazard("milk-drink") {
            milk += grams;
        }
    }
    (all > 0.0 && liquid >= all * LIQUID && body < all * BODY).then_some(Drink { raw_g: all, milk_g: milk })
}

fn part(food: &Food, journey: &Journey) -> Part {
    let drunk = ["milk-drink", "sweet-drink", "rice-drink", "tea-coffee", "alcohol", "juice"]
        .iter()
        .any(|tag| food.has_hazard(tag));
    if drunk {
        return Part::Liquid;
    }
    match food.class {
        FoodClass::Water | FoodClass::BreastMilk => Part::Liquid,
        FoodClass::Citrus if journey.had(&["squeeze"]) => Part::Liquid,
        FoodClass::Citrus | FoodClass::Fruit | FoodClass::DriedFruit => Part::Fruit,
        FoodClass::Sugar | FoodClass::Oil | FoodClass::Salt | FoodClass::Spice => Part::Flavour,
        FoodClass::Other if food.larder.is_some() => Part::Flavour,
        _ => Part::Body,
    }
}

//! `claim/diet-contradicted`: a `diet` line is checked against the foods,
//! alternatives included, never believed.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::larder::{FoodClass, FoodGroup};
use crate::resolve::Food;

/// What a diet leaves out.
#[derive(Clone, Copy)]
enum LeftOut {
    /// Meat, fish and whatever else was killed.
    Flesh,
    /// Everything from animals.
    Animal,
    /// Foods with one of these allergens.
    Allergens(&'static [&'static str]),
    /// Honey, sugar and what is made of them.
    Sugar,
    Salt,
    Meat,
}

const DIETS: &[(&str, LeftOut)] = &[
    ("vegetarian", LeftOut::Flesh),
    ("vegan", LeftOut::Animal),
    ("no meat", LeftOut::Meat),
    ("no fish", LeftOut::Allergens(&["fish", "crustacea", "molluscs"])),
    ("no milk", LeftOut::Allergens(&["milk"])),
    ("no eggs", LeftOut::Allergens(&["eggs"])),
    ("no egg", LeftOut::Allergens(&["eggs"])),
    ("no groundnuts", LeftOut::Allergens(&["peanuts"])),
    ("no peanuts", LeftOut::Allergens(&["peanuts"])),
    ("no nuts", LeftOut::Allergens(&["peanuts", "tree-nuts"])),
    ("no gluten", LeftOut::Allergens(&["gluten"])),
    ("no sesame", LeftOut::Allergens(&["sesame"])),
    ("no soya", LeftOut::Allergens(&["soya"])),
    ("no sugar", LeftOut::Sugar),
    ("no salt", LeftOut::Salt),
];

/// The diets that can be checked.
pub fn diets() -> impl Iterator<Item = &'static str> {
    DIETS.iter().map(|(name, _)| *name)
}

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    for diet in &case.dish.ast.diets {
        let word = diet.value.to_lowercase();
        let Some((_, left_out)) = DIETS.iter().find(|(name, _)| *name == word) else {
            let mut message = Diagnostic::new(
                Code::ClaimDietContradicted,
                diet.span,
                format!("nobody can check the diet {}", quote(&diet.value)),
            );
            message = match did_you_mean(&word, DIETS.iter().map(|(name, _)| *name)) {
                Some(near) => message.help(format!("did you mean `{near}`?")).fix(diet.span, near),
                None => message.help(format!(
                    "write one of {}",
                    DIETS.iter().map(|(name, _)| format!("`{name}`")).collect::<Vec<_>>().join(", ")
                )),
            };
            sink.push(message);
            continue;
        };
        for (_, choice, _) in case.foods() {
            let Some(food) = &choice.food else { continue };
            if holds(food, *left_out) {
                sink.push(
                    Diagnostic::new(
                        Code::ClaimDietContradicted,
                        diet.span,
                        format!("{} does not agree with {}", called(choice), quote(&diet.value)),
                    )
                    .label(choice.option.span, "this food")
                    .help("take another food, or remove the `diet` line"),
                );
                break;
            }
        }
    }
}

/// Whether a food does not agree with a `diet` line; a diet that is not known
/// rules nothing out here, as it has its own message.
pub fn contradicts(diet: &str, food: &Food) -> bool {
    let word = diet.to_lowercase();
    DIETS.iter().find(|(name, _)| *name == word).is_some_and(|(_, left_out)| holds(food, *left_out))
}

fn holds(food: &Food, left_out: LeftOut) -> bool {
    let allergens = food.allergens();
    let has = |list: &[&str]| allergens.iter().any(|own| list.contains(&own.as_str()));
    let group = |wanted: FoodGroup| food.groups().contains(&wanted);
    let flesh = group(FoodGroup::Flesh)
        || has(&["fish", "crustacea", "molluscs"])
        || ["raw-meat", "raw-fish", "raw-shellfish"].iter().any(|tag| food.has_hazard(tag));
    let fat = || {
        let name = food.row_name().to_lowercase();
        food.class == FoodClass::Oil && ["lard", "tallow", "fish oil", "suet"].iter().any(|word| name.contains(word))
    };
    match left_out {
        LeftOut::Flesh => flesh || fat(),
        LeftOut::Meat => group(FoodGroup::Flesh) && !has(&["fish", "crustacea", "molluscs"]),
        LeftOut::Animal => {
            flesh
                || fat()
                || group(FoodGroup::Eggs)
                || group(FoodGroup::Dairy)
                || has(&["milk", "eggs"])
                || food.has_hazard("honey")
        }
        LeftOut::Allergens(list) => has(list),
        LeftOut::Sugar => food.has_hazard("sugar") || food.has_hazard("honey"),
        LeftOut::Salt => food.has_hazard("salt") || food.has_hazard("salty"),
    }
}

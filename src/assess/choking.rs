//! `safety/whole-nuts` and `safety/choking-shape`: foods that block a small
//! airway, unless a state or a step takes the shape away from them.

use super::fineness::{fineness, said, softened};
use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::FoodClass;
use crate::reference::nutrient;
use crate::reference::process::Texture;
use crate::resolve::{Choice, Food, Ingredient, Journey};

/// Above this share of the dish a paste is a spoonful of paste, whatever was
/// stirred into it; common practice, no source.
const MOSTLY_PASTE: f64 = 2.0 / 3.0;

/// Fat of a starchy nut at most, g in 100 g: chestnuts have 1 to 3, all others
/// above 30 (USDA SR28).
const STARCHY: f64 = 10.0;

/// What is wrong with a shape, and how it is mended.
struct Shape {
    what: &'static str,
    mend: String,
}

/// Gives the options it spoke of, as index of ingredient and option: another
/// message about their texture would say the same again.
pub fn check(case: &Case<'_>, sink: &mut Sink) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    if case.method_torn() {
        return found;
    }
    let applies = |id: &str, default: u16| {
        let age = case.reference.profile.hazard(id).map_or(Some(default), |hazard| hazard.age_under_months);
        age.is_none_or(|age| case.dish.months.0 < age)
    };
    let (nuts, shapes) = (applies("whole-nuts", 60), applies("choking-foods", 60));
    for (at, ingredient, journey) in case.served() {
        for (option, choice) in ingredient.options.iter().enumerate() {
            let Some(food) = &choice.food else { continue };
            if nuts && whole_nut(food, choice, journey) {
                found.push((at, option));
                sink.push(
                    Diagnostic::new(
                        Code::SafetyWholeNuts,
                        choice.option.span,
                        format!("{} may choke: nuts that are not ground", called(choice)),
                    )
                    .help(format!("grind them fine: `step grind {}`; or take a smooth paste", ingredient.name)),
                );
                continue;
            }
            let shape = if shapes { shape(case, food, choice, ingredient, journey) } else { None };
            if let Some(shape) = shape {
                found.push((at, option));
                sink.push(
                    Diagnostic::new(
                        Code::SafetyChokingShape,
                        choice.option.span,
                        format!("{} may choke: {}", called(choice), shape.what),
                    )
                    .help(shape.mend),
                );
            }
        }
    }
    found
}

fn whole_nut(food: &Food, choice: &Choice, journey: &Journey) -> bool {
    if !food.has_hazard("whole-nut") {
        return false;
    }
    // A nut of little fat is starch, as the chestnut is: it cooks soft and a
    // fork mashes it. No fork mashes another, and pieces stay in a crunchy
    // paste however it is stirred.
    let starchy = food.value(nutrient::FAT).is_some_and(|fat| fat <= STARCHY);
    let mashed = starchy && softened(journey) && fineness(choice, journey) >= Texture::Mashed;
    !mashed && !broken_up(choice, journey)
}

/// Hard food made small by something harder than a fork.
fn broken_up(choice: &Choice, journey: &Journey) -> bool {
    said(
        choice,
        journey,
        &["ground", "milled", "pounded", "crushed", "powdered", "grated", "minced", "smooth", "sieved", "blended"],
        &["grind", "mill", "pound", "crush", "grate", "mince", "blend", "puree", "sieve", "strain", "squeeze"],
    )
}

fn shape(case: &Case<'_>, food: &Food, choice: &Choice, ingredient: &Ingredient, journey: &Journey) -> Option<Shape> {
    let fine = fineness(choice, journey);
    let name = &ingredient.name;
    let quartered = said(choice, journey, &["quartered"], &["quarter"]);
    let soft = softened(journey);
    let given = |what, mend| Some(Shape { what, mend });
    if food.has_hazard("choke-round") {
        let melts = soft && matches!(food.class, FoodClass::Fruit | FoodClass::Tomato);
        if fine < Texture::Chopped && !quartered && !melts {
            return match food.class {
                FoodClass::Fruit | FoodClass::Tomato => {
                    given("whole and round", format!("cut them lengthwise: `step quarter {name}`; or mash them"))
                }
                _ => given("whole kernels", format!("grind or mash them: `step mash {name}`")),
            };
        }
    }
    // Raw cassava has a rule of its own.
    if food.has_hazard("choke-hard") && !food.has_hazard("raw-cassava") {
        let cheese = food.class == FoodClass::Cheese;
        let softens = !matches!(food.class, FoodClass::Cereal | FoodClass::Nut | FoodClass::Sugar);
        let mended = broken_up(choice, journey) || (soft && softens) || (cheese && fine >= Texture::Mashed);
        if !mended {
            if cheese {
                return given("a hard lump", format!("grate it: `step grate {name}`"));
            }
            let mend = if softens {
                format!("cook it soft: `step steam {name} for 10 min`; or `step grate {name}`")
            } else {
                format!("grate or grind it: `step grate {name}`; or leave it out")
            };
            return given("hard and raw", mend);
        }
    }
    if food.has_hazard("choke-coin") && fine < Texture::Chopped && !quartered {
        return given("in coins or whole", format!("cut it small: `step quarter {name}`; or `step chop {name}`"));
    }
    if food.has_hazard("choke-sticky") {
        let loose = soft || !journey.soaks.is_empty();
        let mended = fine >= Texture::Mashed || (fine >= Texture::Chopped && loose);
        if !mended {
            return given("sticky pieces", format!("soak and mash it: `step mash {name}`; or chop and cook it soft"));
        }
    }
    if food.has_hazard("choke-bones") {
        let boned = said(
            choice,
            journey,
            &["boned", "deboned", "boneless", "filleted", "flaked", "sieved"],
            &["bone", "flake", "sieve", "strain"],
        );
        // The bones of small dried fish go to powder, those of others do not.
        let powder = food.class == FoodClass::FishReady
            && said(choice, journey, &["ground", "powdered", "pounded"], &["grind", "mill", "pound"]);
        if !boned && !powder {
            let mend = if food.class == FoodClass::FishReady {
                format!("make a fine powder: `step grind {name}` and `step sieve {name}`")
            } else {
                format!("cook it and take every bone out: `step bone {name}` or `step flake {name}`")
            };
            return given("its bones are not taken out", mend);
        }
    }
    if food.has_hazard("whole-bean") && fine < Texture::Chopped {
        return given("whole beans or peas", format!("cook them soft and `step mash {name}`"));
    }
    if food.has_hazard("nut-paste") && by_the_spoonful(case, choice, journey) {
        return given("a spoonful of thick paste", format!("stir it into soft food: `step mix {name} with porridge`"));
    }
    None
}

/// A paste that is put on the spoon as it is, or that is most of the dish.
fn by_the_spoonful(case: &Case<'_>, choice: &Choice, journey: &Journey) -> bool {
    let thinned = journey.acts.iter().any(|act| {
        act.process.heat.is_some()
            || matches!(act.process.drawing, "mix" | "mash" | "knead")
            || matches!(act.process.word, "add" | "pour" | "spread" | "grind" | "coat")
    });
    let grams = choice.weight.as_ref().map_or(0.0, |weight| weight.grams);
    !thinned || grams > case.computed.nutrition.raw_g * MOSTLY_PASTE
}

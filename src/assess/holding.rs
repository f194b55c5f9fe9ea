//! `safety/held-warm` and `safety/leafy-nitrate`: cooked or raw animal food
//! that stands for hours between fridge and fire. A cooked purée of leaves that
//! stands has the second message, as its nitrate is the graver reason.
//!
//! `safety/reheated-leftovers`: food that was cooked earlier and is only warmed.

use super::{Case, called};
use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::reference::larder::FoodClass;
use crate::reference::process::Process;
use crate::reference::retention::Heat;

use crate::resolve::{Act, Choice, Food, Ingredient, Journey};
use crate::source::Span;

/// Minutes of reheating, not on low heat, that are taken for thorough; common
/// practice, no source.
const THOROUGH: f64 = 5.0;

/// Temperatures and hours of the profile.
struct Figures {
    minutes: f64,
    cold: f64,
    hot: f64,
    through: f64,
}

/// A stretch of time that is too long.
struct Stand {
    minutes: f64,
    span: Span,
}

pub fn check(case: &Case<'_>, sink: &mut Sink) {
    if case.method_torn() {
        return;
    }
    let figure =
        |id: &str, default: f64| case.reference.profile.hazard(id).and_then(|row| row.value).unwrap_or(default);
    let figures = Figures {
        minutes: figure("holding-hours", 2.0) * 60.0,
        cold: figure("holding-cold", 5.0),
        hot: figure("holding-hot", 60.0),
        through: figure("reheat-temperature", 70.0),
    };
    let mut told: Vec<Span> = Vec::new();
    let mut stands: Vec<(Stand, &Ingredient, bool)> = Vec::new();
    let leaves = cooked_leaves(case);
    for (_, ingredient, journey) in case.served() {
        for choice in &ingredient.options {
            let Some(food) = &choice.food else { continue };
            if keeps(case, food, journey) {
                continue;
            }
            if let Some(stand) = longest_stand(food, journey, &figures) {
                let own = food.has_hazard("nitrate-leaf").then_some(ingredient);
                match own.or_else(|| leaf_within(&leaves, journey, stand.span)) {
                    Some(leaf) => stands.push((stand, leaf, true)),
                    None => stands.push((stand, ingredient, false)),
                }
            } else if let Some(span) = only_warmed(food, journey, &figures) {
                reheated(choice, ingredient, span, sink);
            }
        }
    }
    // The pot has one message, and the leaves decide which.
    stands.sort_by_key(|(_, _, leaf)| !leaf);
    for (stand, ingredient, leaf) in stands {
        if told.contains(&stand.span) {
            continue;
        }
        told.push(stand.span);
        let hours = stand.minutes / 60.0;
        let most = figures.minutes / 60.0;
        let message = if leaf {
            Diagnostic::new(
                Code::SafetyLeafyNitrate,
                stand.span,
                format!("a cooked purée of leaves stands for {hours:.0} h outside the fridge"),
            )
            .label(ingredient.span, "the nitrate of these leaves turns into nitrite")
            .help("cook leaves for the meal and throw the rest away; nothing of it is kept")
        } else {
            Diagnostic::new(
                Code::SafetyHeldWarm,
                stand.span,
                format!("the food stands for {hours:.0} h neither cold nor hot; at most {most:.0} h"),
            )
            .label(ingredient.span, "it stands after it was cooked, or raw")
            .help("shorten it, cool it `at 4 C`, or cook just before the meal")
        };
        sink.push(message);
    }
}

/// Leaves that gather nitrate, with the steps in which they met other food
/// once they were cooked, or while they were.
fn cooked_leaves<'a>(case: &Case<'a>) -> Vec<(&'a Ingredient, Vec<Span>)> {
    let mut leaves = Vec::new();
    for (_, ingredient, journey) in case.served() {
        for food in ingredient.options.iter().filter_map(|choice| choice.food.as_ref()) {
            if food.has_hazard("nitrate-leaf") {
                let raw =
                    if food.cooked { 0 } else { journey.acts.iter().take_while(|act| !act.process.cooks()).count() };
                leaves.push((ingredient, journey.acts.iter().skip(raw).map(|act| act.span).collect()));
            }
        }
    }
    leaves
}

/// The leaves that are in a food when it stands: who mashed potato with leaves
/// may go on to call it potato.
fn leaf_within<'a>(leaves: &[(&'a Ingredient, Vec<Span>)], journey: &Journey, stand: Span) -> Option<&'a Ingredient> {
    let before: Vec<Span> = journey.acts.iter().map(|act| act.span).take_while(|span| *span != stand).collect();
    leaves.iter().find(|(_, met)| met.iter().any(|span| before.contains(span))).map(|(leaf, _)| *leaf)
}

/// Foods that stand without harm, and dry goods that were only roasted or
/// baked.
fn keeps(case: &Case<'_>, food: &Food, journey: &Journey) -> bool {
    let never = matches!(
        food.class,
        FoodClass::Water
            | FoodClass::Oil
            | FoodClass::Sugar
            | FoodClass::Salt
            | FoodClass::Spice
            | FoodClass::DriedFruit
            | FoodClass::Alcohol
            | FoodClass::BreastMilk
    );
    if never {
        return true;
    }
    let dry = |word: &str| matches!(word, "toast" | "dry-roast" | "roast" | "bake");
    let heats = journey.acts.iter().filter(|act| act.process.cooks());
    let only_dry = heats.clone().all(|act| dry(act.process.word)) && heats.clone().next().is_some();
    if !only_dry {
        return false;
    }
    if dry_goods(food.class) {
        return true;
    }
    // A bread or a cake: whatever was baked in one batter with flour.
    let spans: Vec<Span> = heats.map(|act| act.span).collect();
    case.served().any(|(_, other, journey)| {
        other.first().and_then(|choice| choice.food.as_ref()).is_some_and(|food| dry_goods(food.class))
            && journey.acts.iter().any(|act| act.process.word == "bake" && spans.contains(&act.span))
    })
}

fn dry_goods(class: FoodClass) -> bool {
    matches!(
        class,
        FoodClass::Flour
            | FoodClass::Cereal
            | FoodClass::Oats
            | FoodClass::Nut
            | FoodClass::Bread
            | FoodClass::PulseDry
            | FoodClass::PulseQuick
            | FoodClass::FishReady
            | FoodClass::Insect
    )
}

/// Raw food in which germs grow at once.
fn spoils_raw(food: &Food) -> bool {
    ["raw-egg", "raw-meat", "raw-fish", "raw-shellfish", "raw-milk", "milk-drink"]
        .iter()
        .any(|tag| food.has_hazard(tag))
        && !food.larder.as_ref().is_some_and(|row| row.states.iter().any(|state| state == "dry" || state == "canned"))
}

fn cooked_before(food: &Food) -> bool {
    food.cooked && !dry_goods(food.class) && !matches!(food.class, FoodClass::Milk | FoodClass::Cheese)
}

fn is_stand(act: &Act) -> bool {
    matches!(act.process.word, "rest" | "stand" | "leave" | "keep" | "cool" | "cover")
}

fn is_cold(act: &Act, figures: &Figures) -> bool {
    act.celsius.is_some_and(|celsius| celsius as f64 <= figures.cold)
        || act.medium_says(&["fridge", "refrigerator", "freezer", "ice"])
}

fn is_hot(act: &Act, figures: &Figures) -> bool {
    act.celsius.is_some_and(|celsius| celsius as f64 >= figures.hot)
}

fn is_warming(process: &Process) -> bool {
    process.heat == Some(Heat::Warm) && process.word != "melt"
}

/// Hot all through.
fn is_thorough(act: &Act, figures: &Figures) -> bool {
    if let Some(celsius) = act.celsius {
        return celsius as f64 >= figures.through;
    }
    act.process.word != "warm" && !act.low && act.longest() >= THOROUGH
}

/// The first time that adds up to more than the limit, between one cooking and
/// the next.
fn longest_stand(food: &Food, journey: &Journey, figures: &Figures) -> Option<Stand> {
    let mut perishable = spoils_raw(food) || cooked_before(food);
    let mut minutes = 0.0;
    for act in &journey.acts {
        if act.process.cooks() {
            perishable = true;
            minutes = 0.0;
        } else if matches!(act.process.word, "ferment" | "sprout" | "dry") {
            // Souring and drying are ways of keeping; what follows them is
            // judged by other rules.
            perishable = false;
            minutes = 0.0;
        } else if is_cold(act, figures) || is_hot(act, figures) {
            continue;
        } else if perishable && (is_stand(act) || is_warming(act.process)) {
            minutes += act.longest();
            if minutes > figures.minutes {
                return Some(Stand { minutes, span: act.span });
            }
        }
    }
    None
}

/// The warming, where cooked food of an earlier time meets no more than that.
fn only_warmed(food: &Food, journey: &Journey, figures: &Figures) -> Option<Span> {
    // Another dish of the workspace is made for this one: only "reheat" says
    // that it has waited.
    // What comes out of a tin is as it was sealed.
    let tinned = food.row_name().contains("canned");
    let made_now = matches!(food.figures, crate::resolve::food::Figures::Dish(_));
    let mut cooked = cooked_before(food);
    let mut old = cooked && !made_now && !tinned;
    let mut warmed = None;
    for act in &journey.acts {
        if act.process.cooks() {
            cooked = true;
            old = false;
            warmed = None;
        } else if is_warming(act.process) {
            if is_thorough(act, figures) {
                old = false;
                warmed = None;
            } else if old || (cooked && act.process.word == "reheat") {
                warmed = Some(act.span);
            }
        } else if cooked && is_stand(act) && is_cold(act, figures) {
            old = true;
        }
    }
    warmed
}

fn reheated(choice: &Choice, ingredient: &Ingredient, span: Span, sink: &mut Sink) {
    sink.push(
        Diagnostic::new(
            Code::SafetyReheatedLeftovers,
            span,
            format!("{} was cooked earlier and is only warmed", called(choice)),
        )
        .label(choice.option.span, "this was cooked before")
        .help(format!(
            "heat it until it steams all through: `step boil {0} for 5 min` or `step steam {0} for 10 min`",
            ingredient.name
        )),
    );
}

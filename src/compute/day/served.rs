//! A computed dish as a menu serves it.

use std::collections::BTreeMap;

use crate::ast::{Makes, Step};
use crate::compute::portion::pieces_made;
use crate::compute::{Computed, Selection, compute};
use crate::reference::Reference;
use crate::reference::larder::FoodGroup;
use crate::reference::nutrient::NutrientId;
use crate::reference::process::Process;
use crate::resolve::food::Figures;
use crate::resolve::menu::{Served, ServedFigure, ServedPortion, Stage, StageFood, named};
use crate::resolve::{Dish, Food, Ingredient, flow};

/// Languages of the larder's names.
const LANGUAGES: [&str; 3] = ["en", "sw", "fr"];

/// What a menu needs of a dish.
pub fn served(dish: &Dish, computed: &Computed, reference: &Reference) -> Served {
    Served {
        months: dish.months,
        figures: figures(dish, computed, reference),
        portions: computed
            .portions
            .iter()
            .map(|portion| ServedPortion {
                band: portion.band,
                grams: portion.grams,
                ml: portion.ml,
                amount: portion.amount.clone().or_else(|| as_measured(portion.ml, reference)),
            })
            .collect(),
        piece_g: dish
            .makes()
            .and_then(pieces_made)
            .map(|made| made.middle())
            .filter(|made| *made > 0.0)
            .map(|made| computed.nutrition.cooked_g / made),
        groups: groups(dish, computed),
        foods: foods(dish, computed),
        hazards: hazards(dish),
        stages: stages(dish),
        minutes: dish.flow.one_fire(),
        season: dish.ast.header.season.as_ref().map(|season| season.value.clone()).unwrap_or_default(),
    }
}

/// The profile's usual amount in cups, as a person measures it.
fn as_measured(ml: Option<f64>, reference: &Reference) -> Option<Makes> {
    use crate::quantity::{Exact, Measure, Range, Unit};
    let (cup, _) = crate::resolve::grams::millilitres(Unit::Cup, reference.standard)?;
    let quarters = (ml? / cup * 4.0).round();
    (quarters >= 1.0)
        .then(|| Exact::fraction(quarters as i64, 4))
        .flatten()
        .map(|cups| Makes::Measured(Range::exactly(cups), Measure::of(Unit::Cup)))
}

fn figures(dish: &Dish, computed: &Computed, reference: &Reference) -> Vec<ServedFigure> {
    let nutrition = &computed.nutrition;
    let mut figures: Vec<ServedFigure> = NutrientId::all()
        .map(|id| ServedFigure {
            at_least: nutrition.per_100g(id),
            most: nutrition.most_in_grams(id, 100.0),
            complete: nutrition.complete(id),
            estimated: computed.cooked.estimated || nutrition.figure(id).estimated,
        })
        .collect();
    for (at, ingredient) in dish.ingredients.iter().enumerate() {
        if !dish.flow.child.get(at).copied().unwrap_or(true) {
            continue;
        }
        for option in 1..ingredient.options.len() {
            let other = compute(dish, reference, &Selection::with(dish, at, option)).nutrition;
            for (id, figure) in NutrientId::all().zip(figures.iter_mut()) {
                if let (Some(most), Some(value)) = (&mut figure.most, other.most_in_grams(id, 100.0)) {
                    *most = most.max(value);
                }
            }
        }
    }
    figures
}

/// What reaches the child and weighs something.
fn reaching(dish: &Dish) -> impl Iterator<Item = (usize, &Ingredient)> {
    dish.ingredients.iter().enumerate().filter(|(at, _)| dish.flow.child.get(*at).copied().unwrap_or(true))
}

fn groups(dish: &Dish, computed: &Computed) -> Vec<(FoodGroup, f64)> {
    let cooked = computed.nutrition.cooked_g;
    let mut groups: Vec<(FoodGroup, f64)> = Vec::new();
    let mut add = |group: FoodGroup, grams: f64| {
        if group == FoodGroup::None || grams <= 0.0 {
            return;
        }
        match groups.iter_mut().find(|(own, _)| *own == group) {
            Some((_, sum)) => *sum += grams,
            None => groups.push((group, grams)),
        }
    };
    for (_, ingredient) in reaching(dish) {
        let Some(choice) = ingredient.first() else { continue };
        let (Some(food), Some(weight)) = (&choice.food, &choice.weight) else { continue };
        if cooked <= 0.0 {
            continue;
        }
        let share = weight.grams * 100.0 / cooked;
        match &food.figures {
            // Its own groups with their own shares.
            Figures::Dish(other) => {
                for (group, inner) in &other.served.groups {
                    add(*group, share * inner / 100.0);
                }
            }
            _ => food.groups().into_iter().for_each(|group| add(group, share)),
        }
    }
    groups.sort_by_key(|(group, _)| *group);
    groups
}

fn foods(dish: &Dish, computed: &Computed) -> Vec<(Food, Option<f64>)> {
    let cooked = computed.nutrition.cooked_g;
    let mut foods = Vec::new();
    for (_, ingredient) in reaching(dish) {
        let Some(choice) = ingredient.first() else { continue };
        let Some(food) = &choice.food else { continue };
        let grams = choice.weight.as_ref().filter(|_| cooked > 0.0).map(|weight| weight.grams * 100.0 / cooked);
        match &food.figures {
            Figures::Dish(other) => {
                foods.extend(other.served.foods.iter().map(|(inner, share)| {
                    (inner.clone(), grams.zip(*share).map(|(grams, share)| grams * share / 100.0))
                }))
            }
            _ => foods.push((food.clone(), grams)),
        }
    }
    foods
}

fn hazards(dish: &Dish) -> Vec<String> {
    let mut hazards: Vec<String> = Vec::new();
    for food in reaching(dish).flat_map(|(_, ingredient)| &ingredient.options).filter_map(|choice| choice.food.as_ref())
    {
        let own = match &food.figures {
            Figures::Dish(other) => other.served.hazards.clone(),
            _ => food.hazards(),
        };
        hazards.extend(own);
    }
    hazards.sort();
    hazards.dedup();
    hazards
}

fn stages(dish: &Dish) -> Vec<Stage> {
    let steps =
        dish.ast.parts.iter().enumerate().flat_map(|(part, rows)| rows.steps.iter().map(move |step| (part, step)));
    steps
        .enumerate()
        .filter(|(index, _)| !dish.flow.for_family.get(*index).copied().unwrap_or(false))
        .filter_map(|(index, (part, step))| stage(dish, index, part, step))
        .collect()
}

fn stage(dish: &Dish, index: usize, part: usize, step: &Step) -> Option<Stage> {
    let time = dish.flow.times.get(index)?;
    let length =
        |action: &crate::ast::Action| action.duration.as_ref().map_or(0.0, |duration| flow::minutes(&duration.value).1);
    let main = step.actions.iter().max_by(|a, b| length(a).total_cmp(&length(b)))?;
    let process = Process::from_word(&main.process.value)?;
    // Names of this part first: two parts may use one word.
    let mut order: Vec<usize> = (0..dish.ingredients.len()).collect();
    order.sort_by_key(|at| dish.ingredients.get(*at).is_none_or(|one| one.part != part));
    let names: Vec<String> =
        order.iter().filter_map(|at| dish.ingredients.get(*at)).map(|one| one.name.clone()).collect();
    let foods = main
        .objects
        .iter()
        .chain(&main.with)
        .filter_map(|word| named(&word.value, &names))
        .filter_map(|at| order.get(at))
        .filter_map(|at| dish.ingredients.get(*at))
        .filter_map(|ingredient| stage_food(dish, ingredient))
        .collect();
    Some(Stage {
        process: process.word,
        foods,
        start: time.start,
        end: time.end,
        hands_on: time.hands_on,
        unattended: main.unattended,
    })
}

fn stage_food(dish: &Dish, ingredient: &Ingredient) -> Option<StageFood> {
    let choice = ingredient.first()?;
    let food = choice.food.as_ref()?;
    let mut printed: BTreeMap<String, String> = match (&food.larder, &food.figures) {
        (Some(row), _) => LANGUAGES.iter().map(|tag| ((*tag).to_owned(), row.printed(tag).to_owned())).collect(),
        (None, Figures::Dish(dish)) => {
            LANGUAGES.iter().map(|tag| ((*tag).to_owned(), dish.title_in(tag).to_owned())).collect()
        }
        (None, _) => BTreeMap::new(),
    };
    // The author's own translation goes first; its head is the name.
    let takes = dish.ast.parts.iter().flat_map(|part| &part.takes);
    for line in takes.filter(|take| take.span == ingredient.span).flat_map(|take| &take.translations) {
        let base = line.tag.split('-').next().unwrap_or(&line.tag).to_lowercase();
        let head = line.value.split([',', '،', '፣', '、']).next().unwrap_or_default().trim();
        printed.insert(base, head.to_owned());
    }
    let dish = match &food.figures {
        Figures::Dish(dish) => {
            let inner = dish
                .served
                .stages
                .iter()
                .flat_map(|stage| stage.foods.iter().filter_map(|food| food.dish))
                .fold((0.0_f64, 0.0_f64), |most, minutes| (most.0.max(minutes.0), most.1.max(minutes.1)));
            Some((dish.served.minutes.0 + inner.0, dish.served.minutes.1 + inner.1))
        }
        _ => None,
    };
    Some(StageFood {
        row: food.row_id(),
        name: ingredient.name.clone(),
        printed,
        grams: choice.weight.as_ref().map_or(0.0, |weight| weight.grams),
        dish,
    })
}

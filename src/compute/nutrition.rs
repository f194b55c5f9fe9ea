//! Sums of components over a dish.

use crate::ast::Keep;
use crate::compute::{Cooked, Selection};
use crate::reference::nutrient::{self, COUNT, NutrientId};
use crate::reference::retention::{self, Heat, RetentionRow};
use crate::reference::table::Mark;
use crate::resolve::food::Figures;
use crate::resolve::{Choice, Dish, Food, Journey};

/// One component of a whole dish.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Figure {
    /// Sum over the ingredients whose value is known: a lower bound unless
    /// all are.
    pub value: f64,
    /// The same before heat took its share: what a limit is held against,
    /// because "keeps least" is cautious only for what a child needs.
    pub before_heat: f64,
    /// Weight of the ingredients whose value is known, g.
    pub known_g: f64,
    /// An ingredient with a known value above zero was weighed by estimate.
    pub estimated: bool,
}

/// What one ingredient brings.
#[derive(Debug, Clone)]
pub struct Contribution {
    /// Index of the ingredient in the dish.
    pub ingredient: usize,
    pub grams: f64,
    /// Retention codes it took, least first; empty where no heat was met.
    pub codes: Vec<Retained>,
}

/// A retention code with the reason it was chosen.
#[derive(Debug, Clone, PartialEq)]
pub struct Retained {
    pub code: u32,
    pub pinned: bool,
    /// No code fits; this is the nearest one.
    pub nearest: bool,
    pub why: String,
}

#[derive(Debug, Clone)]
pub struct Nutrition {
    pub raw_g: f64,
    pub cooked_g: f64,
    figures: Vec<Figure>,
    pub contributions: Vec<Contribution>,
    /// Ingredients that count for nothing because their food or weight is
    /// unknown.
    pub uncounted: Vec<usize>,
}

/// Share of the weight below which a value counts as missing: floating-point
/// dust, not food.
const DUST: f64 = 1e-9;

impl Nutrition {
    pub fn figure(&self, id: NutrientId) -> Figure {
        self.figures.get(id.index()).copied().unwrap_or_default()
    }

    /// The whole dish's amount; `None` where no ingredient's value is known.
    pub fn whole(&self, id: NutrientId) -> Option<f64> {
        let figure = self.figure(id);
        (figure.known_g > 0.0).then_some(figure.value)
    }

    pub fn per_100g(&self, id: NutrientId) -> Option<f64> {
        if self.cooked_g <= 0.0 {
            return None;
        }
        self.whole(id).map(|value| value * 100.0 / self.cooked_g)
    }

    /// Amount in a portion of so many grams.
    pub fn in_grams(&self, id: NutrientId, grams: f64) -> Option<f64> {
        self.per_100g(id).map(|value| value * grams / 100.0)
    }

    /// Amount in a portion of so many grams before heat took its share, for
    /// limits. `None` where no ingredient's value is known.
    pub fn most_in_grams(&self, id: NutrientId, grams: f64) -> Option<f64> {
        let figure = self.figure(id);
        (figure.known_g > 0.0 && self.cooked_g > 0.0).then(|| figure.before_heat * grams / self.cooked_g)
    }

    /// Share of the dish's weight whose value is known, 0 to 1.
    pub fn known_share(&self, id: NutrientId) -> f64 {
        if self.raw_g <= 0.0 || !self.uncounted.is_empty() && self.raw_g <= DUST {
            return 0.0;
        }
        (self.figure(id).known_g / self.raw_g).clamp(0.0, 1.0)
    }

    /// Every ingredient's value is known and every ingredient is counted.
    pub fn complete(&self, id: NutrientId) -> bool {
        self.uncounted.is_empty() && self.raw_g > 0.0 && self.raw_g - self.figure(id).known_g <= DUST * self.raw_g
    }
}

/// The retention rows that an ingredient's journey leads to.
pub fn retained(choice: &Choice, food: &Food, journey: Option<&Journey>) -> Vec<Retained> {
    if let Some(keep) = &choice.option.keep {
        return match keep.value {
            Keep::None => Vec::new(),
            Keep::Code(code) => {
                vec![Retained { code, pinned: true, nearest: false, why: "pinned by the author".to_owned() }]
            }
        };
    }
    // A table's own row without a class: nothing is known of what heat does.
    let Some(journey) = journey else {
        return Vec::new();
    };
    let mut found: Vec<Retained> = Vec::new();
    for event in &journey.heats {
        // Cooked food is only warmed again, whatever the pot does.
        let heat = if food.cooked && event.heat != Heat::Warm { Heat::Warm } else { event.heat };
        let Some(choice) = retention::choose(food.class, heat, event.minutes.map(|(_, high)| high)) else {
            continue;
        };
        if choice.code == 0 || found.iter().any(|other| other.code == choice.code) {
            continue;
        }
        let mut why = format!("{}, {}", food.class.word(), heat.word());
        if !choice.note.is_empty() {
            why.push_str(": ");
            why.push_str(choice.note);
        }
        if food.class_inferred {
            why.push_str(" (class read off the USDA food group)");
        }
        found.push(Retained { code: choice.code, pinned: false, nearest: choice.nearest, why });
    }
    found
}

/// Why heat takes nothing off a food, where the table of choices says so: one
/// sentence a heat it met.
pub fn kept_whole(choice: &Choice, food: &Food, journey: Option<&Journey>) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let Some(journey) = journey.filter(|_| choice.option.keep.is_none()) else {
        return found;
    };
    for event in &journey.heats {
        let heat = if food.cooked && event.heat != Heat::Warm { Heat::Warm } else { event.heat };
        let Some(none) = retention::choose(food.class, heat, event.minutes.map(|(_, high)| high)) else {
            continue;
        };
        if none.code == 0 {
            let why = format!("{}, {}: {}", food.class.word(), heat.word(), none.note);
            if !found.contains(&why) {
                found.push(why);
            }
        }
    }
    found
}

/// Percent kept of a component: the least over the codes; 100 where the table
/// has no column for it or nothing was heated.
pub fn percent_kept(id: NutrientId, rows: &[&'static RetentionRow]) -> f64 {
    let Some(column) = id.get().retention.filter(|_| !rows.is_empty()) else {
        return 100.0;
    };
    rows.iter().map(|row| f64::from(row.percent(column))).fold(100.0, f64::min)
}

/// kJ of a food by factors: 17 protein, 37 fat, 17 available carbohydrate,
/// 8 fibre, 29 alcohol (EU 1169/2011 annex XIV; the same in Codex CXG 2-1985).
/// Carbohydrate by difference holds the fibre.
fn kilojoules(food: &Food) -> Option<f64> {
    let protein = food.value(nutrient::PROCNT)?;
    let fat = food.value(nutrient::FAT)?;
    let carbohydrate = food.value(nutrient::CHOCDF)?;
    // Unknown fibre in a food with carbohydrate would be counted as starch.
    let fibre = match food.value(nutrient::FIBTG) {
        None if carbohydrate > 0.0 => return None,
        fibre => fibre.unwrap_or(0.0),
    };
    let alcohol = food.value(nutrient::ALC).unwrap_or(0.0);
    Some(17.0 * protein + 37.0 * fat + 17.0 * (carbohydrate - fibre).max(0.0) + 8.0 * fibre + 29.0 * alcohol)
}

/// A component of one food per 100 g: as the row has it, kJ by factors.
pub fn value_of(food: &Food, id: NutrientId) -> Option<f64> {
    match food.value(id) {
        None if id == nutrient::ENERC_KJ => kilojoules(food),
        value => value,
    }
}

/// What another dish's ingredients held before its heat, per 100 g of it.
fn before_heat(food: &Food, id: NutrientId) -> Option<f64> {
    match &food.figures {
        Figures::Dish(dish) => dish.before_heat_per_100g.get(id.index()).copied().flatten(),
        _ => None,
    }
}

/// Sums a dish. What is set aside for the family alone is not in it.
pub fn sum(dish: &Dish, cooked: &Cooked, selection: &Selection) -> Nutrition {
    let mut figures = vec![Figure::default(); COUNT];
    let mut contributions = Vec::with_capacity(dish.ingredients.len());
    let mut uncounted = Vec::new();
    for at in 0..dish.ingredients.len() {
        if !dish.flow.child.get(at).copied().unwrap_or(true) {
            continue;
        }
        let Some(choice) = selection.option(dish, at) else {
            continue;
        };
        let (Some(food), Some(weight)) = (&choice.food, &choice.weight) else {
            uncounted.push(at);
            continue;
        };
        let codes = retained(choice, food, dish.flow.journeys.get(at));
        let rows: Vec<&'static RetentionRow> = codes.iter().filter_map(|found| retention::code(found.code)).collect();
        let grams = weight.grams;
        let fill = food.fill();
        for (id, figure) in NutrientId::all().zip(figures.iter_mut()) {
            let own = food.own_value(id);
            let filled = match own {
                Some(_) => None,
                None => fill.filter(|_| food.mark(id).is_none()).and_then(|row| row.value(id)),
            };
            let by_factors = || if id == nutrient::ENERC_KJ { kilojoules(food) } else { None };
            let Some(value) = own.or(filled).or_else(by_factors) else {
                continue;
            };
            figure.value += grams * value / 100.0 * percent_kept(id, &rows) / 100.0;
            figure.before_heat += grams * before_heat(food, id).unwrap_or(value) / 100.0;
            figure.known_g += grams;
            figure.estimated |= value > 0.0
                && (weight.estimated
                    || food.mark(id) == Some(Mark::Estimated)
                    || filled.is_some()
                    || matches!(&food.figures, Figures::Dish(dish) if dish.estimated));
        }
        contributions.push(Contribution { ingredient: at, grams, codes });
    }
    // What changes in weight changes as water. Where the water of some food is
    // not known the sum is a lower bound, and a bound below zero says nothing.
    let gained = cooked.cooked_g - cooked.raw_g;
    if let Some(water) = figures.get_mut(nutrient::WATER.index())
        && water.known_g > 0.0
    {
        water.value = (water.value + gained).max(0.0);
    }
    Nutrition { raw_g: cooked.raw_g, cooked_g: cooked.cooked_g, figures, contributions, uncounted }
}

//! A day's food, summed: every item of a menu in grams, what each brings, and
//! breast milk where the child is breastfed.
//!
//! Breast milk: the profile's average volume and energy for the band; every
//! other component from mature human milk, USDA SR28 row 1107. The energy is
//! the profile's and not the row's (70 kcal per 100 g), because the needs it is
//! held against were worked out with it.

pub mod plan;
pub mod served;
pub mod timeline;

use crate::compute::nutrition::value_of;
use crate::reference::Reference;
use crate::reference::composition;
use crate::reference::larder::{FoodClass, FoodGroup};
use crate::reference::nutrient::{self, COUNT, NutrientId};
use crate::reference::profile::data::{AgeBand, Figure, MealFrequency};
use crate::resolve::menu::{Choice, Meal, Menu, ServedFigure, What};

pub use timeline::{Event, EventKind};

/// USDA number of mature human milk.
pub const HUMAN_MILK: u32 = 1107;
/// 1 fl oz (29.5735 mL) weighs 30.8 g: USDA SR28 weights of the same row.
const HUMAN_MILK_G_PER_ML: f64 = 1.04;
/// Kilojoules in a kilocalorie.
const KJ_PER_KCAL: f64 = 4.184;

/// A menu's sums, one for each of its age bands in their order, and the cook's
/// day.
#[derive(Debug, Clone)]
pub struct Day {
    pub bands: Vec<BandDay>,
    pub timeline: Vec<Event>,
}

/// Which option of each item is counted; empty means the first of all.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Choose {
    item: usize,
    option: usize,
}

impl Choose {
    /// All first options but one; items are counted over the whole menu.
    pub fn with(item: usize, option: usize) -> Self {
        Self { item, option }
    }

    fn option(&self, item: usize) -> usize {
        if self.item == item { self.option } else { 0 }
    }
}

/// One line of the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Index of the meal in the menu.
    pub meal: usize,
    /// Index of the item in its meal.
    pub item: usize,
    pub option: usize,
    pub grams: f64,
}

/// One component over the day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sum {
    /// From the food: a lower bound unless complete.
    pub food: f64,
    /// From breast milk.
    pub milk: f64,
    /// From the food before heat took its share, over each dish's own
    /// alternatives: what a limit is held against.
    pub most: f64,
    /// Every item's value is known, the milk's too.
    pub complete: bool,
    /// Some item's value is known.
    pub known: bool,
    /// An estimate entered.
    pub estimated: bool,
}

impl Sum {
    pub fn total(&self) -> f64 {
        self.food + self.milk
    }
}

/// Breast milk of an average day.
#[derive(Debug, Clone, PartialEq)]
pub struct Milk {
    pub ml: f64,
    pub grams: f64,
    pub kcal: f64,
}

/// The day at one age.
#[derive(Debug, Clone)]
pub struct BandDay {
    /// Index of the band in the profile.
    pub band: usize,
    pub lines: Vec<Line>,
    pub milk: Option<Milk>,
    sums: Vec<Sum>,
    /// Grams of each food group that is in the day, in the indicator's order.
    pub groups: Vec<(FoodGroup, f64)>,
    pub meals: usize,
    pub snacks: usize,
    /// Meals and snacks with a milk food in them.
    pub milk_feeds: usize,
    /// Indexes of the meals with a leaf rich in nitrate.
    pub leafy: Vec<usize>,
    pub allergens: Vec<String>,
    /// Items that count for nothing because they are not known.
    pub uncounted: usize,
}

impl BandDay {
    pub fn sum(&self, id: NutrientId) -> Sum {
        self.sums.get(id.index()).copied().unwrap_or_default()
    }

    /// Food groups that count: those of which there is at least so much.
    pub fn groups_of(&self, least_g: f64) -> Vec<FoodGroup> {
        self.groups
            .iter()
            .filter(|(group, grams)| *group == FoodGroup::BreastMilk || *grams > 0.0 && *grams >= least_g)
            .map(|(group, _)| *group)
            .collect()
    }

    pub fn has(&self, group: FoodGroup) -> bool {
        self.groups.iter().any(|(own, grams)| *own == group && *grams > 0.0)
    }

    /// Meals and snacks, and what counts beside them towards the frequency.
    pub fn feeds(&self) -> usize {
        self.meals + self.snacks
    }
}

/// What a child of a band needs from the food of a day, kcal, and from all.
pub fn energy_needs(band: &AgeBand, breastfed: bool) -> (&Figure, &Figure) {
    if breastfed {
        (&band.energy_breastfed, &band.energy_total)
    } else {
        (&band.energy_not_breastfed, &band.energy_not_breastfed)
    }
}

/// Least number of times to eat, by the indicator.
pub fn frequency(reference: &Reference, band: &AgeBand, breastfed: bool) -> Option<MealFrequency> {
    reference
        .profile
        .file
        .iycf
        .meal_frequency
        .iter()
        .find(|row| row.breastfed == breastfed && (row.from_months..=row.to_months).contains(&band.from_months))
        .cloned()
}

/// A component of an item, per 100 g.
pub fn figure(choice: &Choice, id: NutrientId) -> ServedFigure {
    match &choice.what {
        What::Dish(dish) => dish.served.figures.get(id.index()).copied().unwrap_or_default(),
        What::Food(food) => {
            let value = value_of(food, id);
            ServedFigure { at_least: value, most: value, complete: value.is_some(), estimated: false }
        }
        What::Nothing => ServedFigure::default(),
    }
}

/// Expressed milk is part of the day's milk, which is counted already.
fn is_breast_milk(choice: &Choice) -> bool {
    matches!(&choice.what, What::Food(food) if food.class == FoodClass::BreastMilk)
}

/// Average breast milk of a band.
pub fn milk(band: &AgeBand) -> Milk {
    let ml = band.milk_volume.value;
    Milk { ml, grams: ml * HUMAN_MILK_G_PER_ML, kcal: band.milk_energy.value }
}

/// A component of so much breast milk; `None` where the table has no value.
pub fn in_milk(milk: &Milk, id: NutrientId) -> Option<f64> {
    if id == nutrient::ENERC_KCAL {
        return Some(milk.kcal);
    }
    if id == nutrient::ENERC_KJ {
        return Some(milk.kcal * KJ_PER_KCAL);
    }
    composition::row(HUMAN_MILK)?.value(id).map(|value| value * milk.grams / 100.0)
}

/// Sums a menu.
pub fn day(menu: &Menu, reference: &Reference, choose: &Choose) -> Day {
    let bands = menu
        .bands
        .iter()
        .enumerate()
        .filter_map(|(at, band)| reference.profile.bands().get(*band).map(|row| (at, *band, row)))
        .map(|(at, band, row)| one(menu, at, band, row, choose))
        .collect();
    Day { bands, timeline: timeline::timeline(menu, choose) }
}

fn one(menu: &Menu, at: usize, band: usize, row: &AgeBand, choose: &Choose) -> BandDay {
    let mut day = BandDay {
        band,
        lines: Vec::new(),
        milk: menu.breastfed.then(|| milk(row)),
        sums: vec![Sum { complete: true, ..Sum::default() }; COUNT],
        groups: Vec::new(),
        meals: 0,
        snacks: 0,
        milk_feeds: 0,
        leafy: Vec::new(),
        allergens: Vec::new(),
        uncounted: 0,
    };
    let mut groups: Vec<(FoodGroup, f64)> = Vec::new();
    let mut count = 0;
    for (index, meal) in menu.meals.iter().enumerate() {
        let before = count;
        count += meal.items.len();
        tally(&mut day, &mut groups, (index, meal), before, at, menu.breastfed, choose);
    }
    if let Some(milk) = &day.milk {
        groups.push((FoodGroup::BreastMilk, milk.grams));
        for (id, sum) in NutrientId::all().zip(day.sums.iter_mut()) {
            match in_milk(milk, id) {
                Some(value) => sum.milk = value,
                None => sum.complete = false,
            }
        }
    }
    groups.sort_by_key(|(group, _)| *group);
    day.groups = groups;
    day.allergens.sort();
    day.allergens.dedup();
    day
}

fn tally(
    day: &mut BandDay,
    groups: &mut Vec<(FoodGroup, f64)>,
    (index, meal): (usize, &Meal),
    before: usize,
    at: usize,
    breastfed: bool,
    choose: &Choose,
) {
    if meal.snack {
        day.snacks += 1;
    } else {
        day.meals += 1;
    }
    let (mut leafy, mut milky) = (false, false);
    for (place, item) in meal.items.iter().enumerate() {
        let option = choose.option(before + place);
        let Some(choice) = item.options.get(option) else { continue };
        let serving = choice.servings.get(at);
        let Some(grams) = serving.and_then(|serving| serving.grams) else {
            day.uncounted += 1;
            day.sums.iter_mut().for_each(|sum| sum.complete = false);
            continue;
        };
        day.lines.push(Line { meal: index, item: place, option, grams });
        if breastfed && is_breast_milk(choice) {
            continue;
        }
        let estimated = serving.is_some_and(|serving| serving.estimated);
        for (id, sum) in NutrientId::all().zip(day.sums.iter_mut()) {
            let figure = figure(choice, id);
            sum.complete &= figure.complete || grams <= 0.0;
            let Some(value) = figure.at_least else { continue };
            sum.known = true;
            sum.food += value * grams / 100.0;
            sum.most += figure.most.unwrap_or(value) * grams / 100.0;
            sum.estimated |= (estimated || figure.estimated) && value > 0.0;
        }
        for (group, share) in choice.groups() {
            if group == FoodGroup::None {
                continue;
            }
            milky |= group == FoodGroup::Dairy && share * grams > 0.0;
            let grams = grams * share / 100.0;
            match groups.iter_mut().find(|(own, _)| *own == group) {
                Some((_, sum)) => *sum += grams,
                None => groups.push((group, grams)),
            }
        }
        leafy |= choice.has_hazard("nitrate-leaf") && grams > 0.0;
        day.allergens.extend(choice.allergens());
    }
    day.milk_feeds += usize::from(milky);
    if leafy {
        day.leafy.push(index);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn milk_is_what_its_row_says() {
        let reference = Reference::default();
        let band = reference.profile.bands().last().unwrap();
        let milk = milk(band);
        // 494 mL x 1.04 g/mL = 513.76 g; SR28 01107: 1.03 g protein, 32 mg
        // calcium, 0.03 mg iron, 60 µg retinol per 100 g.
        assert!((milk.grams - 513.76).abs() < 1e-9);
        let close = |id, value: f64| assert!((in_milk(&milk, id).unwrap() - value).abs() < 1e-6, "{value}");
        close(nutrient::PROCNT, 5.291728);
        close(nutrient::CA, 164.4032);
        close(nutrient::FE, 0.154128);
        close(nutrient::RETOL, 308.256);
        // Dewey and Brown 2003, in the profile.
        close(nutrient::ENERC_KCAL, 346.0);
    }

    #[test]
    fn needs_and_frequencies_are_the_published_ones() {
        let reference = Reference::default();
        let bands = reference.profile.bands();
        // PAHO/WHO 2003: 200, 300, 550 kcal; WHO 2005: 600, 700, 900 kcal.
        let food: Vec<(f64, f64)> =
            bands.iter().map(|band| (energy_needs(band, true).0.value, energy_needs(band, false).0.value)).collect();
        assert_eq!(food, [(200.0, 600.0), (300.0, 700.0), (550.0, 900.0)]);
        // WHO/UNICEF 2021, minimum meal frequency: 2, 3, 3 and 4.
        let times = |breastfed| -> Vec<u16> {
            bands.iter().map(|band| frequency(&reference, band, breastfed).unwrap().times).collect()
        };
        assert_eq!(times(true), [2, 3, 3]);
        assert_eq!(times(false), [4, 4, 4]);
    }
}

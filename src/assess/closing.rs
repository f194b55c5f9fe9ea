//! Foods of the larder that may be added to a young child's dish to close a
//! gap: safe for the youngest, without a method of their own, and fresh in the
//! sense that salt, sugar and spices never count.

use std::sync::Arc;

use super::diet_contradicted;
use crate::compute::Computed;
use crate::compute::closing::{Bound, Candidate, Closer};
use crate::compute::day::BandDay;
use crate::compute::nutrition::{percent_kept, value_of};
use crate::reference::larder::{FoodClass, FoodRow};
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::{AgeBand, Scope};
use crate::reference::retention::{self, Heat, RetentionRow};
use crate::reference::{Reference, composition};
use crate::resolve::Food;
use crate::resolve::food::Figures;

/// How a food goes into the pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Without heat, at the end.
    StirredIn,
    /// Boiled in the dish until soft, and mashed; the water is eaten.
    Boiled,
    /// Cooked before it is added, and mashed.
    Cooked,
}

impl Way {
    pub fn words(self) -> &'static str {
        match self {
            Self::StirredIn => "stirred in",
            Self::Boiled => "boiled soft in the dish, mashed",
            Self::Cooked => "mashed in",
        }
    }
}

/// A food that may be added.
pub struct Addition {
    pub row: Arc<FoodRow>,
    pub food: Food,
    pub way: Way,
    rows: Vec<&'static RetentionRow>,
}

impl Addition {
    /// As the search wants it. What is added weighs as it goes in: water that
    /// it takes up comes out of the dish.
    ///
    /// `cost_per_gram` is by a price list, `months` are those for which the
    /// food must be there.
    pub fn candidate(&self, cost_per_gram: Option<f64>, reference: &Reference, months: &[u8]) -> Candidate<'_> {
        let value = |id: NutrientId| value_of(&self.food, id).map(|value| value / 100.0);
        Candidate {
            per_gram: Box::new(move |id| value(id).map(|value| value * percent_kept(id, &self.rows) / 100.0)),
            most_per_gram: Box::new(value),
            weight_factor: 1.0,
            cost_per_gram,
            in_season: reference.practice.seasons.fits(&self.row, months),
        }
    }

    /// Level tablespoons of a weight, where the density is known.
    pub fn tablespoons(&self, grams: f64, tablespoon_ml: f64) -> Option<f64> {
        let density = self.row.density.or_else(|| self.row.densities.first().map(|form| form.g_per_ml))?;
        (density > 0.0 && tablespoon_ml > 0.0).then(|| grams / density / tablespoon_ml)
    }
}

/// What no addition may be. Beans, cassava and grain that need a method of
/// their own are left to their cooked rows; so are foods whose shape or bones
/// choke. Food that is hard or raw is boiled soft.
const NEVER: &[&str] = &[
    "honey",
    "raw-milk",
    "raw-kidney-bean",
    "raw-pulse",
    "raw-cassava",
    "bitter-cassava",
    "bitter-lupin",
    "whole-nut",
    "choke-round",
    "choke-coin",
    "choke-sticky",
    "choke-bones",
    "salt",
    "salty",
    "sugar",
    "sweet-drink",
    "juice",
    "rice-drink",
    "mercury-high",
    "tea-coffee",
    "alcohol",
    "hidden-allergens",
];

fn way(row: &FoodRow) -> Option<Way> {
    use FoodClass as C;
    if row.is_cooked() {
        let fit = !matches!(row.class, C::PorkCured | C::Sausage | C::Spice | C::Sugar | C::Other | C::Alcohol);
        return fit.then_some(Way::Cooked);
    }
    match row.class {
        C::Nut if row.has_hazard("choke-hard") => None,
        C::Fruit if row.has_hazard("choke-hard") => Some(Way::Boiled),
        C::PulseCooked => Some(Way::Cooked),
        C::Nut | C::Fruit | C::Citrus | C::DriedFruit | C::Milk | C::Cheese | C::Oil => Some(Way::StirredIn),
        C::Flour
        | C::Greens
        | C::Potato
        | C::SweetPotato
        | C::Root
        | C::Tomato
        | C::Vegetable
        | C::Egg
        | C::FishLean
        | C::FishFat
        | C::FishReady
        | C::Shellfish
        | C::Insect
        | C::Beef
        | C::Veal
        | C::Lamb
        | C::Pork
        | C::Chicken
        | C::Turkey
        | C::Liver
        | C::Organ => Some(Way::Boiled),
        C::Cereal
        | C::Oats
        | C::Rice
        | C::Pasta
        | C::Bread
        | C::PulseDry
        | C::PulseQuick
        | C::PorkCured
        | C::Sausage
        | C::Sugar
        | C::Salt
        | C::Spice
        | C::Water
        | C::Alcohol
        | C::BreastMilk
        | C::Other => None,
    }
}

/// Every food of the larder that is safe to add for every age of the guidance
/// and agrees with the dish's `diet` lines; of the workspace's region, and no
/// food that is seldom given to a child.
pub fn additions(reference: &Reference, diets: &[String]) -> Vec<Addition> {
    reference
        .larder
        .rows()
        .iter()
        .filter(|row| !row.seldom && reference.practice.region.is_none_or(|region| row.regions.contains(&region)))
        .filter(|row| !row.hazards.iter().any(|hazard| NEVER.contains(&hazard.as_str())))
        .filter_map(|row| {
            let way = way(row)?;
            let figures = match row.row.split_once(':')? {
                ("usda", id) => Figures::BuiltIn(composition::row(id.parse().ok()?)?),
                (stem, id) => {
                    let table = reference.table(stem)?;
                    let at = table.rows.iter().position(|row| row.id == id)?;
                    Figures::Table(Arc::clone(table), at)
                }
            };
            let food = Food {
                larder: Some(Arc::clone(row)),
                figures,
                class: row.class,
                class_inferred: false,
                group: Some(row.group),
                preparation: Vec::new(),
                cooked: row.is_cooked(),
            };
            if diets.iter().any(|diet| diet_contradicted::contradicts(diet, &food)) {
                return None;
            }
            let heat = match way {
                Way::StirredIn => None,
                Way::Boiled => Some(Heat::BoilUsed),
                Way::Cooked => Some(Heat::Warm),
            };
            let rows = heat
                .and_then(|heat| retention::choose(row.class, heat, None))
                .and_then(|choice| choice.row())
                .into_iter()
                .collect();
            Some(Addition { row: Arc::clone(row), food, way, rows })
        })
        .collect()
}

/// Components whose upper limits an addition is held against: those that the
/// tables know for nearly every food, so that an unknown value may rule a food
/// out without ruling out everything.
const LIMITED: [NutrientId; 6] =
    [nutrient::RETOL, nutrient::FE, nutrient::ZN, nutrient::CA, nutrient::CU, nutrient::NA];

/// The upper limits of a day that a portion may not pass once something is
/// added. A limit that the dish passes by itself is no fault of an addition.
pub fn limits(reference: &Reference, computed: &Computed) -> Vec<Bound> {
    let nutrition = &computed.nutrition;
    let mut found = Vec::new();
    for portion in &computed.portions {
        let (Some(band), Some(helping_g)) = (reference.profile.bands().get(portion.band), portion.grams) else {
            continue;
        };
        for id in LIMITED {
            let Some(limit) = reference.profile.upper_limit(id, band.from_months) else { continue };
            let has = nutrition.figure(id).before_heat;
            let pot_g = nutrition.cooked_g;
            let counts = matches!(limit.scope, Scope::All | Scope::PreformedRetinol);
            if counts && pot_g > 0.0 && has * helping_g / pot_g <= limit.value {
                found.push(Bound { id, figure: limit.value, has, pot_g, helping_g });
            }
        }
    }
    found
}

/// The upper limits of a day's food that something may be added up to: what
/// the day leaves of them. A limit that the day passes by itself is left out.
pub fn day_limits(reference: &Reference, day: &BandDay, band: &AgeBand) -> Vec<Bound> {
    let mut found = Vec::new();
    for id in LIMITED {
        let Some(limit) = reference.profile.upper_limit(id, band.from_months) else { continue };
        let sum = day.sum(id);
        let milk = if limit.scope == Scope::All { sum.milk } else { 0.0 };
        let left = limit.value - sum.most - milk;
        if matches!(limit.scope, Scope::All | Scope::PreformedRetinol) && left >= 0.0 {
            found.push(Bound::of_a_day(id, left));
        }
    }
    found
}

/// Of closers in their order, those that are in season and, apart, those that
/// are not: one form of each food, so many of each.
pub fn proposed(found: Vec<Closer>, additions: &[Addition], most: usize) -> (Vec<Closer>, Vec<Closer>) {
    let (mut now, mut later): (Vec<Closer>, Vec<Closer>) = (Vec::new(), Vec::new());
    let name = |closer: &Closer| additions.get(closer.candidate).map(|addition| addition.row.printed("en"));
    for closer in found {
        let list = if closer.in_season == Some(false) { &mut later } else { &mut now };
        if list.len() < most && !list.iter().any(|known| name(known) == name(&closer)) {
            list.push(closer);
        }
    }
    (now, later)
}

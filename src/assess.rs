//! Rules and claims over a computed dish. One rule a file; each reads food
//! tags, states, flow and profile; those that read prose say so.

pub mod absorption;
mod added_salt;
mod allergen_contains;
mod bean_not_boiled;
mod cassava;
mod choking;
pub mod claim;
pub mod closing;
mod diet_contradicted;
mod drink;
mod energy_too_thin;
mod fineness;
mod hidden_allergens;
mod holding;
mod honey;
mod limit;
pub mod menu;
mod milk_drink;
mod mould_prone_store;
mod over_a_day;
mod plant_poison;
mod portion_ages;
mod portion_size;
mod prose;
mod prose_contradicts;
mod raw_animal_food;
mod reading_level;
mod retinol_over_limit;
mod review;
mod salt_over_day;
mod sentence;
mod soak_not_cooked;
mod sweet;
mod texture_too_coarse;
mod unfit_food;
mod upper_limit;
mod vague_word;
mod yield_said;

pub use claim::{Proof, ProvenBand};
pub use diet_contradicted::{contradicts as contradicts_diet, diets};
pub use texture_too_coarse::required as required_texture;

use std::cell::RefCell;
use std::rc::Rc;

use crate::compute::{Computed, Portion, Selection, compute};
use crate::diagnostic::Sink;
use crate::reference::Reference;
use crate::reference::larder::FoodGroup;
use crate::reference::process::Texture;
use crate::reference::profile::data::AgeBand;
use crate::resolve::{Choice, Dish, Ingredient, Journey};
use crate::source::Span;

/// What a rule may look at.
pub struct Case<'a> {
    pub dish: &'a Dish,
    pub computed: &'a Computed,
    pub reference: &'a Reference,
}

/// What the card needs beyond figures.
#[derive(Debug, Clone, Default)]
pub struct Report {
    /// Listed allergens of the child's share.
    pub allergens: Vec<String>,
    /// Those that only the family's share holds.
    pub family_allergens: Vec<String>,
    pub groups: Vec<FoodGroup>,
    pub proofs: Vec<Proof>,
    pub absorption: absorption::Uptake,
    /// The coarsest food that matters, as the child gets it.
    pub texture: Option<Texture>,
    /// It is a drink, not food for the spoon.
    pub drunk: bool,
}

/// The dish as it is with another food of one line: several rules ask for the
/// same, so each is computed once.
#[derive(Default)]
struct Others(RefCell<Vec<(OneOf, Rc<Computed>)>>);

/// A take and which of its options.
type OneOf = (usize, usize);

impl Others {
    /// More than any dish that is cooked has; of a line with thousands of foods
    /// not all are kept in memory.
    const MOST: usize = 64;

    fn get(&self, case: &Case<'_>, at: usize, option: usize) -> Rc<Computed> {
        let known = self.0.borrow().iter().find(|(place, _)| *place == (at, option)).map(|(_, found)| Rc::clone(found));
        known.unwrap_or_else(|| {
            let selection = Selection::with(case.dish, at, option);
            let found = Rc::new(compute(case.dish, case.reference, &selection));
            let mut kept = self.0.borrow_mut();
            if kept.len() < Self::MOST {
                kept.push(((at, option), Rc::clone(&found)));
            }
            found
        })
    }
}

/// Assesses a dish.
pub fn assess(case: &Case<'_>, sink: &mut Sink) -> Report {
    let others = Others::default();
    yield_said::check(case, sink);
    portion_ages::check(case, sink);
    portion_size::check(case, sink);
    energy_too_thin::check(case, sink);
    over_a_day::check(case, sink);
    let choking = choking::check(case, sink);
    let texture = texture_too_coarse::check(case, &choking, sink);
    honey::check(case, sink);
    raw_animal_food::check(case, sink);
    bean_not_boiled::check(case, sink);
    cassava::check(case, sink);
    plant_poison::check(case, sink);
    soak_not_cooked::check(case, sink);
    holding::check(case, sink);
    unfit_food::check(case, sink);
    sweet::check(case, sink);
    milk_drink::check(case, sink);
    added_salt::check(case, sink);
    // Retinol first: less of a food that brings too much of it mends the rest.
    let mut limits = vec![retinol_over_limit::limit(case)];
    limits.extend(salt_over_day::limit(case));
    limits.extend(upper_limit::limits(case));
    limit::check(case, &limits, &others, sink);
    mould_prone_store::check(case, sink);
    diet_contradicted::check(case, sink);
    let allergens = allergen_contains::check(case, sink);
    let family_allergens = allergen_contains::of_family(case, &allergens);
    hidden_allergens::check(case, sink);
    let written = prose::all(case);
    let texts: Vec<prose::Prose<'_>> = written.iter().map(prose::Written::read).collect();
    vague_word::check(&texts, sink);
    prose_contradicts::check(case, &texts, sink);
    reading_level::check(case, &texts, sink);
    review::check(case, sink);
    let proofs = claim::check(case, &others, sink);
    let drunk = drink::drink(case, &Selection::default()).is_some();
    let absorption = absorption::check(case, &others, sink);
    Report { allergens, family_allergens, groups: case.groups(), proofs, absorption, texture, drunk }
}

impl<'a> Case<'a> {
    /// Every food that may reach the child, alternatives included, with what
    /// it goes through.
    pub fn foods(&self) -> impl Iterator<Item = (&'a Ingredient, &'a Choice, &'a Journey)> + '_ {
        let dish = self.dish;
        dish.ingredients
            .iter()
            .enumerate()
            .filter(move |(at, _)| dish.flow.child.get(*at).copied().unwrap_or(true))
            .filter_map(move |(at, ingredient)| dish.flow.journeys.get(at).map(|journey| (ingredient, journey)))
            .flat_map(|(ingredient, journey)| {
                ingredient.options.iter().map(move |choice| (ingredient, choice, journey))
            })
    }

    /// Every line whose food may reach the child, with what it goes through
    /// and its index.
    pub fn reaching(&self) -> impl Iterator<Item = (usize, &'a Ingredient, &'a Journey)> + '_ {
        let dish = self.dish;
        dish.ingredients
            .iter()
            .enumerate()
            .filter(move |(at, _)| dish.flow.child.get(*at).copied().unwrap_or(true))
            .filter_map(move |(at, ingredient)| dish.flow.journeys.get(at).map(|journey| (at, ingredient, journey)))
    }

    /// The same without what no step uses: that has a message of its own.
    pub fn served(&self) -> impl Iterator<Item = (usize, &'a Ingredient, &'a Journey)> + '_ {
        self.reaching().filter(|(at, _, _)| self.dish.flow.used.get(*at).copied().unwrap_or(false))
    }

    /// Whether the dish brings the child leaves of the kind that hold much
    /// nitrate: at most one such meal a day.
    pub fn leafy_nitrate_meal(&self) -> bool {
        self.foods().any(|(_, choice, _)| choice.food.as_ref().is_some_and(|food| food.has_hazard("nitrate-leaf")))
    }

    /// Portions with their age bands.
    pub fn portions(&self) -> impl Iterator<Item = (&'a Portion, &'a AgeBand)> + '_ {
        self.computed
            .portions
            .iter()
            .filter_map(|portion| self.reference.profile.bands().get(portion.band).map(|band| (portion, band)))
    }

    /// Where a message about a portion belongs.
    pub fn portion_span(&self, portion: &Portion) -> Span {
        let header = &self.dish.ast.header;
        portion
            .span
            .or_else(|| self.dish.ast.makes.as_ref().map(|makes| makes.span))
            .or_else(|| header.title.as_ref().map(|title| title.span))
            .unwrap_or_default()
    }

    pub fn title_span(&self) -> Span {
        self.dish.ast.header.title.as_ref().map(|title| title.span).unwrap_or_default()
    }

    /// Food groups of the first options, in the order of the indicator.
    fn groups(&self) -> Vec<FoodGroup> {
        let mut groups: Vec<FoodGroup> = Vec::new();
        for (ingredient, choice, _) in self.foods() {
            let first = ingredient.first().is_some_and(|first| std::ptr::eq(first, choice));
            let counts = choice.weight.as_ref().is_some_and(|weight| weight.grams > 0.0);
            let Some(food) = choice.food.as_ref().filter(|_| first && counts) else {
                continue;
            };
            for group in food.groups() {
                if group != FoodGroup::None && !groups.contains(&group) {
                    groups.push(group);
                }
            }
        }
        groups.sort();
        groups
    }

    /// A message is silent where a line that could say otherwise was unreadable.
    pub fn tore(&self, keyword: &str) -> bool {
        self.dish.ast.header.tore(keyword)
    }

    /// Rules about the method keep silent where a step could not be understood:
    /// the message about that step stops the card already.
    pub fn method_torn(&self) -> bool {
        self.dish.flow.torn
    }

    /// Weights are only worth judging when every ingredient is counted.
    pub fn weights_known(&self) -> bool {
        let header = &self.dish.ast.header;
        self.computed.nutrition.uncounted.is_empty()
            && self.computed.nutrition.cooked_g > 0.0
            && !header.torn.iter().any(|line| line.keyword != "step")
    }
}

/// The name a message gives a food: the author's own.
pub fn called(choice: &Choice) -> String {
    crate::diagnostic::quote(&crate::resolve::food::label(&choice.option).value)
}

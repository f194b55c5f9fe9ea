//! From a resolved dish to figures.
//!
//! Mixed method: retention by ingredient, yield by dish. For ingredients *i*
//! with edible weight *w* (g), value *v(n)* per 100 g and retention *R(n)*:
//!
//! `N(n) = Σ w · v(n)/100 · R(n)/100`, `per 100 g = 100 · N / cooked weight`.
//!
//! Weights change by water alone. Sums run in the order of the file, so the
//! same input gives the same bits on every run.

pub mod absorption;
pub mod closing;
pub mod cost;
pub mod day;
pub mod estimate;
pub mod nutrition;
pub mod portion;
pub mod scaling;
pub mod shopping;
pub mod spread;
pub mod yields;

use crate::reference::Reference;
use crate::resolve::{Choice, Dish};

pub use nutrition::{Contribution, Figure, Nutrition};
pub use portion::{Portion, Taken};
pub use spread::{Ends, Spread};
pub use yields::Cooked;

/// A computed dish: the figures of the first option of every line.
#[derive(Debug, Clone)]
pub struct Computed {
    pub nutrition: Nutrition,
    pub cooked: Cooked,
    /// One for each of the dish's age bands, in their order.
    pub portions: Vec<Portion>,
}

/// Which option of each ingredient is computed; empty means the first of all.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Selection(Vec<usize>);

impl Selection {
    /// All first options but one.
    pub fn with(dish: &Dish, ingredient: usize, option: usize) -> Self {
        let mut chosen = vec![0; dish.ingredients.len()];
        if let Some(slot) = chosen.get_mut(ingredient) {
            *slot = option;
        }
        Self(chosen)
    }

    pub fn option<'d>(&self, dish: &'d Dish, ingredient: usize) -> Option<&'d Choice> {
        let at = self.0.get(ingredient).copied().unwrap_or(0);
        dish.ingredients.get(ingredient)?.options.get(at)
    }
}

/// Computes a dish.
pub fn compute(dish: &Dish, reference: &Reference, selection: &Selection) -> Computed {
    let cooked = yields::cooked(dish, selection);
    let nutrition = nutrition::sum(dish, &cooked, selection);
    let portions = portion::portions(dish, &nutrition, reference);
    Computed { nutrition, cooked, portions }
}

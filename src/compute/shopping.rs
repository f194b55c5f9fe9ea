//! What has to be bought: edible weights with the refuse added back, added up
//! by food over dishes and menus.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::ast::Amount;
use crate::compute::Computed;
use crate::quantity::{Measure, PieceUnit, Unit};
use crate::reference::larder::{FoodClass, FoodGroup, FoodRow};
use crate::reference::price::{Lot, Price, PriceList, piece_grams};
use crate::resolve::food::{Figures, Food};
use crate::resolve::{Choice, Dish};

/// A weight as bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bought {
    pub grams: f64,
    /// The edible share is known; without it the edible weight stands.
    pub known: bool,
}

/// Edible grams of an option as bought; `None` for water, breast milk and
/// other dishes.
pub fn as_bought(choice: &Choice, grams: f64) -> Option<Bought> {
    choice.food.as_ref().and_then(|food| bought(food, grams))
}

pub(super) fn bought(food: &Food, grams: f64) -> Option<Bought> {
    if matches!(food.figures, Figures::Dish(_)) || matches!(food.class, FoodClass::Water | FoodClass::BreastMilk) {
        return None;
    }
    let edible = match (&food.larder, &food.figures) {
        (Some(row), _) => row.edible,
        (None, Figures::BuiltIn(row)) => row.refuse_percent().map(|percent| 1.0 - f64::from(percent) / 100.0),
        _ => None,
    }
    .filter(|share| *share > 0.0 && *share <= 1.0);
    Some(match edible {
        Some(share) => Bought { grams: grams / share, known: true },
        None => Bought { grams, known: false },
    })
}

/// Where in a shop or on a market a food stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    Grains,
    Pulses,
    Produce,
    Flesh,
    Dairy,
    Other,
}

impl Section {
    pub fn words(self) -> &'static str {
        match self {
            Self::Grains => "Grains, flours, roots",
            Self::Pulses => "Beans, nuts, seeds",
            Self::Produce => "Vegetables, leaves, fruit",
            Self::Flesh => "Meat, fish, eggs",
            Self::Dairy => "Milk foods",
            Self::Other => "Oil, salt and the rest",
        }
    }

    fn of(group: Option<FoodGroup>) -> Self {
        match group {
            Some(FoodGroup::Grains) => Self::Grains,
            Some(FoodGroup::Pulses) => Self::Pulses,
            Some(FoodGroup::VitaminA | FoodGroup::OtherPlants) => Self::Produce,
            Some(FoodGroup::Flesh | FoodGroup::Eggs) => Self::Flesh,
            Some(FoodGroup::Dairy) => Self::Dairy,
            Some(FoodGroup::BreastMilk | FoodGroup::None) | None => Self::Other,
        }
    }
}

/// One food, or one that may be bought instead.
#[derive(Debug, Clone)]
pub struct Item {
    pub name: String,
    /// Larder id, else the composition row.
    pub key: String,
    pub section: Section,
    pub row: Option<Arc<FoodRow>>,
    pub row_id: String,
    pub edible_g: f64,
    pub bought_g: f64,
    pub refuse_known: bool,
    pub estimated: bool,
    /// Of `bought_g`, what goes in after the child's portion is set aside.
    pub family_g: f64,
    /// The size every line names, where all name one.
    size: Sizes,
    /// Titles of the dishes and menus that take it.
    pub used_in: Vec<String>,
    /// Foods that may stand in for it where a line allows it.
    pub instead: Vec<Item>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Sizes {
    None,
    One(Option<&'static str>),
    Mixed,
}

/// What has been added up.
#[derive(Debug, Clone, Default)]
pub struct Basket {
    items: BTreeMap<String, Item>,
    /// Foods and dishes whose weight nobody knows, and where.
    pub unknown: Vec<(String, String)>,
    /// What a menu allows instead of what: a dish for a food, or a dish for a
    /// dish, and where.
    pub other: Vec<(String, String, String)>,
}

/// A dish that another takes, by its name.
pub type Lookup<'a> = dyn Fn(&str) -> Option<(&'a Dish, &'a Computed)> + 'a;

/// Deepest chain of dishes in dishes.
const DEEPEST: usize = 32;

impl Basket {
    /// Adds so many times a dish, with the dishes it is made of.
    pub fn add_dish(&mut self, dish: &Dish, factor: f64, title: &str, others: &Lookup<'_>) {
        self.unfold(dish, factor, title, others, false, 0);
    }

    fn unfold(&mut self, dish: &Dish, factor: f64, title: &str, others: &Lookup<'_>, family: bool, depth: usize) {
        for ingredient in &dish.ingredients {
            let Some(first) = ingredient.first() else { continue };
            let family = family || ingredient.family;
            let Some(weight) = &first.weight else {
                self.unknown.push((ingredient.name.clone(), title.to_owned()));
                continue;
            };
            if let Some(Figures::Dish(other)) = first.food.as_ref().map(|food| &food.figures) {
                let found = others(&other.id).filter(|(_, computed)| computed.nutrition.cooked_g > 0.0);
                match found.filter(|_| depth < DEEPEST) {
                    Some((inner, computed)) => {
                        let factor = factor * weight.grams / computed.nutrition.cooked_g;
                        self.unfold(inner, factor, title, others, family, depth + 1);
                    }
                    None => self.unknown.push((other.title.clone(), title.to_owned())),
                }
                continue;
            }
            let Some(food) = &first.food else { continue };
            let Some(mut item) = item(food, &first.option.amount, weight.grams * factor, family, title) else {
                continue;
            };
            item.estimated = weight.estimated;
            for choice in ingredient.options.iter().skip(1) {
                let (Some(food), Some(weight)) = (&choice.food, &choice.weight) else { continue };
                item.instead.extend(self::item(food, &choice.option.amount, weight.grams * factor, family, title));
            }
            self.add(item);
        }
    }

    /// Adds a single food of a menu, with the foods that may stand in for it.
    pub fn add_food(&mut self, food: &Food, amount: &Amount, grams: f64, instead: &[(Food, Amount, f64)], title: &str) {
        if let Some(mut item) = item(food, amount, grams, false, title) {
            let others =
                instead.iter().filter_map(|(food, amount, grams)| self::item(food, amount, *grams, false, title));
            item.instead.extend(others);
            self.add(item);
        }
    }

    fn add(&mut self, item: Item) {
        match self.items.get_mut(&item.key) {
            Some(own) => own.merge(item),
            None => {
                self.items.insert(item.key.clone(), item);
            }
        }
    }

    /// The items by section and name.
    pub fn items(&self) -> Vec<&Item> {
        let mut items: Vec<&Item> = self.items.values().collect();
        items.sort_by(|a, b| (a.section, &a.name).cmp(&(b.section, &b.name)));
        items
    }
}

fn item(food: &Food, amount: &Amount, grams: f64, family: bool, title: &str) -> Option<Item> {
    let bought = bought(food, grams)?;
    if grams <= 0.0 {
        return None;
    }
    let row_id = food.row_id();
    Some(Item {
        name: food.larder.as_ref().map_or_else(|| food.row_name(), |row| row.full_name()),
        key: food.larder.as_ref().map_or_else(|| row_id.clone(), |row| row.id.clone()),
        section: Section::of(food.group),
        row: food.larder.clone(),
        row_id,
        edible_g: grams,
        bought_g: bought.grams,
        refuse_known: bought.known,
        estimated: false,
        family_g: if family { bought.grams } else { 0.0 },
        size: match amount {
            Amount::Measured { measure: Measure { unit: Unit::Piece(PieceUnit::Piece), size, .. }, .. } => {
                Sizes::One(size.map(|size| size.word()))
            }
            Amount::Count { .. } => Sizes::One(None),
            _ => Sizes::None,
        },
        used_in: vec![title.to_owned()],
        instead: Vec::new(),
    })
}

impl Item {
    fn merge(&mut self, other: Item) {
        self.edible_g += other.edible_g;
        self.bought_g += other.bought_g;
        self.family_g += other.family_g;
        self.estimated |= other.estimated;
        self.size = match (&self.size, other.size) {
            (own, Sizes::None) => own.clone(),
            (Sizes::None, other) => other,
            (own, other) if *own == other => other,
            _ => Sizes::Mixed,
        };
        for title in other.used_in {
            if !self.used_in.contains(&title) {
                self.used_in.push(title);
            }
        }
        for instead in other.instead {
            match self.instead.iter_mut().find(|own| own.key == instead.key) {
                Some(own) => own.merge(instead),
                None => self.instead.push(instead),
            }
        }
    }

    /// Whole pieces, rounded up, with their size: for foods whose piece
    /// weight the larder knows and that are not bought by the handful.
    pub fn pieces(&self) -> Option<(i64, Option<&'static str>)> {
        // Nobody counts what is lighter.
        const LEAST_G: f64 = 15.0;
        let row = self.row.as_deref()?;
        let size = match &self.size {
            Sizes::One(size) => *size,
            _ => None,
        };
        let each = piece_grams(row, size).filter(|grams| *grams >= LEAST_G)?;
        let count = (self.edible_g / each - 1e-6).ceil().max(1.0);
        Some((count as i64, size))
    }

    /// Millilitres of what is sold by volume.
    pub fn millilitres(&self) -> Option<f64> {
        const SOLID: [&str; 9] =
            ["butter", "powder", "powdered", "ghee", "lard", "margarine", "cheese", "fat", "cream"];
        let row = self.row.as_deref()?;
        let liquid = matches!(row.class, FoodClass::Oil | FoodClass::Milk)
            && !SOLID.iter().any(|word| row.full_name().split([' ', ',']).any(|part| part == *word));
        row.density.filter(|density| liquid && *density > 0.0).map(|density| self.bought_g / density)
    }

    /// What it costs by a price; the lots bought where it is sold whole.
    pub fn cost(&self, price: &Price) -> Option<(f64, Option<f64>)> {
        let (need, lot) = match price.lot {
            Lot::Grams(grams) => (self.bought_g, grams),
            Lot::Millilitres(ml) => {
                let density = self.row.as_deref().and_then(|row| row.density)?;
                (self.bought_g / density, ml)
            }
            Lot::Pieces(count) => {
                let row = self.row.as_deref()?;
                let size = match &self.size {
                    Sizes::One(size) => *size,
                    _ => None,
                };
                ((self.edible_g / piece_grams(row, size)? - 1e-6).ceil().max(1.0), count)
            }
        };
        let lots = need / lot;
        if !lots.is_finite() {
            return None;
        }
        // Pieces are sold one by one, so a lot of several is a whole packet too.
        if price.whole || matches!(price.lot, Lot::Pieces(_)) {
            let lots = (lots - 1e-9).ceil();
            return Some((lots * price.price, Some(lots)));
        }
        Some((lots * price.price, None))
    }

    pub fn price<'a>(&self, list: &'a PriceList) -> Option<&'a Price> {
        list.of(self.row.as_deref(), &self.row_id)
    }
}

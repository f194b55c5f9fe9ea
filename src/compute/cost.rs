//! What a serving costs: price of a gram of each food's edible portion (refuse
//! paid for) times its grams. A food without a price is named and makes the
//! sum a lower bound; nothing is guessed.

use std::collections::BTreeMap;

use time::Date;

use crate::compute::shopping::bought;
use crate::reference::larder::{FoodClass, FoodRow, Larder};
use crate::reference::price::{Lot, Price, PriceList};
use crate::resolve::Food;
use crate::resolve::menu::{Choice, What};

/// A price list in the one currency that sums are made in.
#[derive(Debug, Clone, Copy)]
pub struct Purse<'a> {
    prices: &'a PriceList,
    larder: &'a Larder,
    pub currency: &'a str,
    /// The day from which the age of prices counts; without it none is old.
    today: Option<Date>,
}

/// A sum of money, and what it does not hold.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cost {
    pub price: f64,
    /// Foods without a price in this currency, each once, in the order of use.
    pub unpriced: Vec<String>,
    /// Foods whose price is over twelve months old or of no known date.
    pub old: Vec<String>,
}

impl Cost {
    pub fn is_whole(&self) -> bool {
        self.unpriced.is_empty()
    }

    pub fn add(&mut self, other: &Self) {
        self.price += other.price;
        for name in &other.unpriced {
            self.lack(name);
        }
        for name in &other.old {
            self.age(name);
        }
    }

    fn age(&mut self, name: &str) {
        if !self.old.iter().any(|known| known == name) {
            self.old.push(name.to_owned());
        }
    }

    fn lack(&mut self, name: &str) {
        if !self.unpriced.iter().any(|known| known == name) {
            self.unpriced.push(name.to_owned());
        }
    }
}

impl<'a> Purse<'a> {
    /// The list in the currency of most of its rows, the first of them in the
    /// list where two have as many; `None` for an empty list.
    pub fn new(prices: &'a PriceList, larder: &'a Larder) -> Option<Self> {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for price in &prices.prices {
            *counts.entry(&price.currency).or_default() += 1;
        }
        let most = counts.values().copied().max()?;
        let first = prices.prices.iter().find(|price| counts.get(price.currency.as_str()) == Some(&most))?;
        Some(Self { prices, larder, currency: &first.currency, today: None })
    }

    /// The same on a day, from which prices may be old.
    #[must_use]
    pub fn on(self, today: Option<Date>) -> Self {
        Self { today, ..self }
    }

    fn is_old(&self, price: &Price) -> bool {
        self.today.is_some_and(|today| price.is_stale(today))
    }

    /// Whether a larder food has a price here that is old.
    pub fn is_old_of(&self, row: &FoodRow) -> bool {
        let found = self.prices.price_per_gram(row, self.larder);
        found.is_some_and(|found| found.row.currency == self.currency && self.is_old(found.row))
    }

    /// Other currencies of the list: their prices count as not there.
    pub fn other_currencies(&self) -> Vec<&'a str> {
        let mut others: Vec<&str> = Vec::new();
        for price in &self.prices.prices {
            if price.currency != self.currency && !others.contains(&price.currency.as_str()) {
                others.push(&price.currency);
            }
        }
        others
    }

    /// Price of a gram of the edible portion. Water and breast milk are free.
    pub fn per_gram(&self, food: &Food) -> Option<f64> {
        self.dated(food).map(|(price, _)| price)
    }

    /// The same, and whether that price is old.
    fn dated(&self, food: &Food) -> Option<(f64, bool)> {
        if matches!(food.class, FoodClass::Water | FoodClass::BreastMilk) {
            return Some((0.0, false));
        }
        let (price, row) = match &food.larder {
            Some(row) => {
                let found = self.prices.price_per_gram(row, self.larder)?;
                (found.price, found.row)
            }
            // A composition row that the list names itself.
            None => {
                let row = self.prices.of(None, &food.row_id())?;
                let Lot::Grams(lot) = row.lot else { return None };
                (row.price / lot * bought(food, 1.0)?.grams, row)
            }
        };
        (row.currency == self.currency).then(|| (price, self.is_old(row)))
    }

    pub fn of_food(&self, food: &Food, grams: f64) -> Cost {
        self.of(&[(food.clone(), Some(grams))], 1.0)
    }

    /// So many grams of what stands on a menu's line.
    pub fn of_choice(&self, choice: &Choice, grams: f64) -> Cost {
        match &choice.what {
            What::Dish(dish) => self.of(&dish.served.foods, grams / 100.0),
            What::Food(food) => self.of_food(food, grams),
            What::Nothing => Cost { unpriced: vec![choice.title()], ..Cost::default() },
        }
    }

    fn of(&self, foods: &[(Food, Option<f64>)], share: f64) -> Cost {
        let mut cost = Cost::default();
        for (food, grams) in foods {
            match (self.dated(food), grams) {
                (Some((price, old)), Some(grams)) => {
                    cost.price += price * grams * share;
                    if old {
                        cost.age(&name(food));
                    }
                }
                (Some((0.0, _)), None) => {}
                _ => cost.lack(&name(food)),
            }
        }
        cost
    }
}

/// As an author would write it.
pub fn name(food: &Food) -> String {
    food.larder.as_ref().map_or_else(|| food.row_name(), |row| row.full_name())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::check::check;
    use crate::compute::day::served::served;
    use crate::diagnostic::Sink;
    use crate::reference::Reference;
    use crate::resolve::NoDishes;
    use crate::source::Source;
    use crate::syntax::Kind;

    const PRICES: &str = "food,unit,price,currency\npumpkin,kg,70,shilling\negg,piece,12,shilling\n\
                          sunflower oil,kg,400,dinar\niodised salt,kg,50,shilling\n";

    fn list(text: &str) -> PriceList {
        let mut sink = Sink::new();
        let list = PriceList::read(&Source::new("prices.csv", text), &mut sink);
        assert!(sink.finish().is_empty());
        list
    }

    /// Foods of a dish per 100 g, from its text.
    fn foods(text: &str, reference: &Reference) -> Vec<(Food, Option<f64>)> {
        let file = check(Source::new("x.dish", text), Kind::Dish, "x", reference, &NoDishes);
        let dish = file.dish.unwrap();
        served(&dish.resolved, &dish.computed, reference).foods
    }

    #[test]
    fn a_portion_costs_what_its_foods_do() {
        let reference = Reference::default();
        let prices = list(PRICES);
        let purse = Purse::new(&prices, &reference.larder).unwrap();
        assert_eq!((purse.currency, purse.other_currencies()), ("shilling", vec!["dinar"]));
        let text = "dish X\nfor 12 to 23 months\nmakes 2 cups\ncooked 500 g\ntake 280 g pumpkin, raw, peeled\n\
                    take 2 eggs\ntake 10 g sunflower oil\ntake 1 cup water\nfamily 3 g iodised salt\n\
                    step boil pumpkin with water for 20 min\nstep boil eggs for 10 min; mash everything\n\
                    step set aside child portion\nstep add iodised salt\n";
        let foods = foods(text, &reference);
        let cost = purse.of(&foods, 1.25);
        // 280 g of pumpkin are bought with their refuse; two eggs are two
        // pieces; the salt comes later. A portion of 125 g is a quarter.
        let edible = reference.larder.named("pumpkin").iter().find(|row| row.plain).unwrap().edible.unwrap();
        let whole = 0.07 * 280.0 / edible + 2.0 * 12.0;
        assert!((cost.price - whole / 4.0).abs() < 1e-9, "{cost:?}");
        assert_eq!(cost.unpriced, ["sunflower oil"]);
        assert!(Purse::new(&PriceList::default(), &reference.larder).is_none());
    }

    #[test]
    fn no_price_is_borrowed_from_another_food() {
        let reference = Reference::default();
        // Fonio stands on the figures of millet, and costs what nobody says.
        let prices = list("food,unit,price,currency\n\"millet, dry\",kg,90,x\n");
        let purse = Purse::new(&prices, &reference.larder).unwrap();
        let text = |food: &str| {
            format!("dish X\nmakes 2 cups\ncooked 500 g\ntake 100 g {food}\nstep boil {food} for 30 min\n")
        };
        let price = |food: &str| purse.of(&foods(&text(food), &reference), 1.0).unpriced;
        assert_eq!(price("fonio, dry"), ["fonio, dry"]);
    }
}

//! Where to find a dish: by what it is made of, and by the child's age.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::{Binder, Content, PageLink, Place};
use crate::reference::larder::FoodClass;
use crate::reference::nutrient::NutrientId;

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Index {
    pub title: String,
    pub foods: FoodIndex,
    pub ages: AgeIndex,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FoodIndex {
    pub title: String,
    pub entries: Vec<FoodEntry>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FoodEntry {
    pub food: String,
    pub pages: Vec<PageLink>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct AgeIndex {
    pub title: String,
    pub bands: Vec<AgeEntry>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct AgeEntry {
    pub age: String,
    pub items: Vec<AgeItem>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct AgeItem {
    pub title: String,
    pub page: PageLink,
}

/// The order of words in an index: marks on letters and capitals count last.
fn sort_key(text: &str) -> (String, String) {
    let plain = text.nfd().filter(|letter| !is_combining_mark(*letter)).collect::<String>().to_lowercase();
    (plain, text.to_owned())
}

impl Binder<'_> {
    pub(super) fn index(&self, places: &[Place]) -> Index {
        let locale = self.locale;
        Index {
            title: locale.word("booklet-index"),
            foods: FoodIndex { title: locale.word("booklet-index-food"), entries: self.foods(places) },
            ages: AgeIndex { title: locale.word("booklet-index-age"), bands: self.by_age(places) },
        }
    }

    /// Every food with an energy of its own; water and salt lead nobody to a
    /// dish.
    fn foods(&self, places: &[Place]) -> Vec<FoodEntry> {
        let tag = self.locale.tag();
        let mut found: BTreeMap<(String, String), Vec<PageLink>> = BTreeMap::new();
        for (at, leaf) in self.leaves.iter().enumerate() {
            let Content::Dish(dish, _) = &leaf.content else { continue };
            let page = self.place_of(at, places);
            for choice in dish.resolved.ingredients.iter().flat_map(|ingredient| &ingredient.options) {
                let Some(food) = &choice.food else { continue };
                let Some(row) = &food.larder else { continue };
                if row.class == FoodClass::Water || row.printed("en").ends_with("salt") {
                    continue;
                }
                let pages = found.entry(sort_key(row.printed(tag))).or_default();
                if pages.iter().all(|one| one.number != page.number) {
                    pages.push(page.clone());
                }
            }
        }
        found
            .into_iter()
            .map(|((_, food), mut pages)| {
                pages.sort_by_key(|page| page.number);
                FoodEntry { food, pages }
            })
            .collect()
    }

    fn by_age(&self, places: &[Place]) -> Vec<AgeEntry> {
        self.reference
            .profile
            .bands()
            .iter()
            .map(|band| AgeEntry {
                age: self.band_words(band.from_months, band.to_months),
                items: self
                    .leaves
                    .iter()
                    .enumerate()
                    .filter(|(_, leaf)| {
                        let (from, to) = leaf.months();
                        from <= band.to_months && to >= band.from_months
                    })
                    .map(|(at, leaf)| AgeItem { title: leaf.title().to_owned(), page: self.place_of(at, places) })
                    .collect(),
            })
            .filter(|entry| !entry.items.is_empty())
            .collect()
    }

    pub(super) fn band_words(&self, from: u16, to: u16) -> String {
        let number = |months: u16| self.locale.integer(i64::from(months));
        self.locale.with("ages-range", &[("from", number(from)), ("to", number(to))])
    }
}

/// The unit in which a component is printed.
pub(super) fn unit_of(tag: &str) -> &'static str {
    NutrientId::from_tag(tag).map_or("", |id| id.get().unit)
}

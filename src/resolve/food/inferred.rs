//! What is read off a composition row that the larder does not know: its group
//! and the words of its name.

use super::{Figures, Food};
use crate::reference::larder::{FoodClass, FoodGroup};
use crate::resolve::tables;

impl Food {
    /// Hazards of a composition row that is not in the larder, by its group
    /// and the word "raw" in its name.
    pub(super) fn inferred_hazard(&self, tag: &str) -> bool {
        if self.larder.is_some() {
            return false;
        }
        let row = match &self.figures {
            Figures::BuiltIn(row) => row,
            Figures::Table(_, _) => return tables::hazard_in_name(&self.row_name().to_lowercase(), tag),
            Figures::Dish(_) => return false,
        };
        let name = row.name().to_lowercase();
        let raw = name.split([',', ' ']).any(|word| word == "raw");
        match (tag, row.group()) {
            ("raw-meat", 500 | 1000 | 1300 | 1700) => raw,
            ("raw-meat", 700) => raw || name.contains("unprepared") || name.contains("fresh"),
            ("raw-fish", 1500) => raw,
            ("raw-egg", 100) => raw && name.starts_with("egg"),
            ("raw-milk", 100) => raw && name.starts_with("milk"),
            // Every common bean: how much lectin one holds differs by variety.
            ("raw-kidney-bean", 1600) => {
                raw && name.starts_with("beans,")
                    && !["adzuki", "mung", "fava", "lima", "winged"].iter().any(|other| name.contains(other))
            }
            ("raw-pulse", 1600) => raw,
            // In any food: a biscuit with honey is honey.
            ("honey", _) => name.split(|c: char| !c.is_alphabetic()).any(|word| word == "honey"),
            ("salt", 200) => name.starts_with("salt,"),
            ("mercury-high", 1500) => {
                ["fish, swordfish", "fish, shark", "fish, mackerel, king", "fish, tilefish", "fish, roughy, orange"]
                    .iter()
                    .any(|fish| name.starts_with(fish))
            }
            ("alcohol", 1400) => name.starts_with("alcoholic beverage"),
            ("tea-coffee", 1400) => {
                ["beverages, tea", "beverages, coffee", "tea,", "coffee,"].iter().any(|drink| name.starts_with(drink))
                    && !name.contains("herb")
            }
            ("sweet-drink", 1400) => name.contains("carbonated") || name.contains("lemonade"),
            ("sugar", 1900) => ["sugar", "candies", "syrup", "jam", "jell", "molasses", "honey"]
                .iter()
                .any(|sweet| name.starts_with(sweet)),
            ("whole-nut", 1200 | 1600) => {
                (name.starts_with("nuts,") || name.starts_with("peanuts,"))
                    && !["butter", "paste", "flour", "meal", "oil", "milk", "cream", "coconut"]
                        .iter()
                        .any(|form| name.contains(form))
            }
            ("choke-round", 900) => name.starts_with("grapes,") && !name.contains("juice"),
            _ => false,
        }
    }
}

/// Class and group of a row outside the larder, by USDA's own food groups.
pub fn class_and_group(group: u16, name: &str) -> (FoodClass, Option<FoodGroup>) {
    use FoodClass as C;
    use FoodGroup as G;
    let has = |word: &str| name.contains(word);
    match group {
        100 if name.starts_with("egg") => (C::Egg, Some(G::Eggs)),
        100 if has("cheese") => (C::Cheese, Some(G::Dairy)),
        100 if name.starts_with("butter") => (C::Oil, Some(G::None)),
        100 => (C::Milk, Some(G::Dairy)),
        200 => (C::Spice, Some(G::None)),
        400 => (C::Oil, Some(G::None)),
        500 if has("liver") => (C::Liver, Some(G::Flesh)),
        500 if name.starts_with("turkey") => (C::Turkey, Some(G::Flesh)),
        500 => (C::Chicken, Some(G::Flesh)),
        700 => (C::Sausage, Some(G::Flesh)),
        900 if ["orange", "lemon", "lime", "grapefruit", "tangerine"].iter().any(|word| name.starts_with(word)) => {
            (C::Citrus, None)
        }
        900 if has("dried") => (C::DriedFruit, None),
        900 => (C::Fruit, None),
        1000 if has("liver") => (C::Liver, Some(G::Flesh)),
        1000 => (C::Pork, Some(G::Flesh)),
        1100 if name.starts_with("potato") => (C::Potato, Some(G::Grains)),
        1100 if name.starts_with("sweet potato, ") => (C::SweetPotato, None),
        1100 if name.starts_with("tomato") => (C::Tomato, None),
        1100 if has("leaves") || has("greens") || name.starts_with("spinach") || name.starts_with("kale") => {
            (C::Greens, None)
        }
        1100 => (C::Vegetable, None),
        1200 => (C::Nut, Some(G::Pulses)),
        1300 if has("liver") => (C::Liver, Some(G::Flesh)),
        1300 => (C::Beef, Some(G::Flesh)),
        1500 if name.starts_with("crustaceans") || name.starts_with("mollusks") => (C::Shellfish, Some(G::Flesh)),
        1500 => (C::FishLean, Some(G::Flesh)),
        1600 if has("raw") => (C::PulseDry, Some(G::Pulses)),
        1600 => (C::PulseCooked, Some(G::Pulses)),
        1700 if has("liver") => (C::Liver, Some(G::Flesh)),
        1700 if name.starts_with("veal") => (C::Veal, Some(G::Flesh)),
        1700 => (C::Lamb, Some(G::Flesh)),
        1900 => (C::Sugar, Some(G::None)),
        2000 if has("flour") || has("meal") => (C::Flour, Some(G::Grains)),
        2000 if has("rice") => (C::Rice, Some(G::Grains)),
        2000 if has("pasta") || has("noodle") || has("macaroni") => (C::Pasta, Some(G::Grains)),
        2000 => (C::Cereal, Some(G::Grains)),
        1800 => (C::Bread, Some(G::Grains)),
        _ => (C::Other, None),
    }
}

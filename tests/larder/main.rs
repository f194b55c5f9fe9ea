//! Every row of the built-in larder against the composition row it stands on
//! and against the other rows. Where a figure is odd in USDA SR28 itself, or a
//! rule does not fit a food, the row is named with the reason; a name that has
//! become needless fails too.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod figures;
mod groups;
mod hazards;
mod measures;
mod names;
mod regions;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use porringer::reference::composition;
use porringer::reference::larder::{FoodRow, Larder};

/// Row and reason.
type Exceptions = &'static [(&'static str, &'static str)];

/// What is wrong, by row.
#[derive(Default)]
struct Faults(BTreeMap<String, Vec<String>>);

impl Faults {
    fn add(&mut self, row: &FoodRow, what: impl Into<String>) {
        self.0.entry(row.id.clone()).or_default().push(what.into());
    }

    fn check(&mut self, row: &FoodRow, right: bool, what: &str) {
        if !right {
            self.add(row, what);
        }
    }

    /// The rows at fault must be exactly the rows named.
    fn settle(self, exceptions: Exceptions) {
        let named: BTreeSet<&str> = exceptions.iter().map(|(id, _)| *id).collect();
        assert_eq!(named.len(), exceptions.len(), "an exception is named twice");
        let unnamed: Vec<String> = self
            .0
            .iter()
            .filter(|(id, _)| !named.contains(id.as_str()))
            .map(|(id, what)| format!("{id}: {}", what.join("; ")))
            .collect();
        assert!(unnamed.is_empty(), "\n{}", unnamed.join("\n"));
        let needless: Vec<&&str> = named.iter().filter(|id| !self.0.contains_key(**id)).collect();
        assert!(needless.is_empty(), "no fault, so no exception: {needless:?}");
    }
}

fn larder() -> Vec<Arc<FoodRow>> {
    let rows = Larder::built_in().rows().to_vec();
    assert!(rows.len() >= 890, "only {} rows", rows.len());
    rows
}

fn usda(id: &str) -> Option<composition::Row> {
    id.strip_prefix("usda:")?.parse().ok().and_then(composition::row)
}

fn composition_of(row: &FoodRow) -> composition::Row {
    usda(&row.row).unwrap_or_else(|| panic!("{}: no composition row {}", row.id, row.row))
}

/// The words of the composition row's description, lower case.
fn words_of(row: &FoodRow) -> BTreeSet<String> {
    let name = composition_of(row).name().to_lowercase();
    name.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

fn has_allergen(row: &FoodRow, name: &str) -> bool {
    row.allergens.iter().any(|allergen| allergen == name)
}

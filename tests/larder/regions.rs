//! Where foods are used, and in how many languages they are named.

use std::collections::{BTreeMap, BTreeSet};

use porringer::reference::larder::Region;

use crate::{Faults, larder};

#[test]
fn every_row_has_its_regions() {
    let mut faults = Faults::default();
    let mut foods: BTreeMap<&str, BTreeSet<Vec<String>>> = BTreeMap::new();
    let rows = larder();
    for row in &rows {
        faults.check(row, !row.regions.is_empty(), "used nowhere");
        faults.check(
            row,
            row.regions.is_sorted() && row.regions.windows(2).all(|two| two[0] != two[1]),
            "out of order",
        );
        for region in &row.regions {
            foods.entry(region.word()).or_default().insert(row.en.clone());
        }
    }
    faults.settle(&[]);
    for region in Region::ALL {
        let count = foods.get(region.word()).map_or(0, BTreeSet::len);
        assert!(count >= 200, "only {count} foods in {}", region.word());
    }
}

/// Forms share their names, so names count foods.
#[test]
fn there_are_at_least_four_hundred_foods() {
    let foods: BTreeSet<Vec<String>> = larder().iter().map(|row| row.en.clone()).collect();
    assert!(foods.len() >= 620, "only {} foods", foods.len());
}

/// A Swahili name stands only where one is in common use, so there is no share
/// to reach but this floor; a French one stands everywhere.
#[test]
fn foods_are_named_in_three_languages() {
    let mut faults = Faults::default();
    let (mut named, mut all) = (0, 0);
    for row in &larder() {
        faults.check(row, !row.fr.is_empty(), "no French name");
        if row.regions.contains(&Region::EastAfrica) {
            all += 1;
            named += usize::from(!row.sw.is_empty());
        }
    }
    faults.settle(&[]);
    assert!(named * 100 >= all * 55, "{named} of {all} rows of East Africa have a Swahili name");
}

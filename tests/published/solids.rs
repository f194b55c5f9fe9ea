//! Source: USDA National Nutrient Database for Standard Reference, release 28
//! (SR28), public domain: values that USDA worked out from another food by the
//! solids alone (derivation code BFSN): value x (100 - own water) / (100 -
//! water of the other food). Status: checked against the data files.
//!
//! Of 6,632 such values 5,124 follow from the released figures; for the others
//! USDA used figures that it did not print. A set of 329 that follow was drawn
//! from the 5,124. `solids.csv` beside this file holds 162 of the set: pairs of
//! foods whose descriptions begin with the same word, without the variants
//! "with salt" and without brands, and of each pair the first two values. The
//! whole set is checked when its folder is there: the one that
//! PORRINGER_STANDARDS names, or `../shared/reference/standards/tests` beside
//! the project.

use std::collections::HashMap;
use std::fs;

use porringer::reference::composition;
use porringer::reference::nutrient::{NutrientId, WATER};

use crate::decimal::{units, units_of};
use crate::dish::{Dish, Take, compute, percent_by_solids};
use crate::outside;

type Row = HashMap<String, String>;

fn number(row: &Row, column: &str) -> f64 {
    row[column].parse().unwrap()
}

fn key(row: &Row) -> String {
    format!("{}-from-{}", row["cooked_ndb"], row["raw_ndb"])
}

/// Runs every pair through the program; the number of values compared.
fn check(text: &str) -> usize {
    let rows: Vec<Row> = csv::Reader::from_reader(text.as_bytes()).deserialize().collect::<Result<_, _>>().unwrap();
    let mut dishes: Vec<Dish> = Vec::new();
    for row in &rows {
        if dishes.iter().all(|dish| dish.id != key(row)) {
            dishes.push(Dish {
                id: key(row),
                title: key(row),
                cooked_percent: percent_by_solids(number(row, "raw_water_g"), number(row, "cooked_water_g")),
                takes: vec![Take::new("100", format!("usda:{}", row["raw_ndb"]))],
            });
        }
    }
    let figures = compute(&dishes, &[]);
    let (mut equal, mut apart) = (0, Vec::new());
    for row in &rows {
        let tag = row["infoods_tag"].as_str();
        let id = NutrientId::from_tag(tag).unwrap_or_else(|| panic!("{tag}"));
        let decimals: usize = row["decimals"].parse().unwrap();
        let published = units_of(&row["expected_cooked_per_100g"], decimals);
        let food = |column: &str| composition::row(row[column].parse().unwrap()).unwrap();

        // The embedded foods are the ones that USDA worked with.
        let embedded = |column: &str, id| food(column).value(id).unwrap();
        assert_eq!(embedded("raw_ndb", WATER), number(row, "raw_water_g"), "{row:?}");
        assert_eq!(embedded("cooked_ndb", WATER), number(row, "cooked_water_g"), "{row:?}");
        assert_eq!(embedded("raw_ndb", id), number(row, "raw_per_100g"), "{row:?}");
        assert_eq!(units(embedded("cooked_ndb", id), decimals), published, "{row:?}");

        let figures = &figures[&key(row)];
        let water = units(figures.per_100g("WATER").unwrap(), 2);
        assert!((water - units(number(row, "cooked_water_g"), 2)).abs() <= 1, "{row:?}: {water}");
        let found = figures.per_100g(tag).unwrap_or_else(|| panic!("{row:?}"));
        let gap = (units(found, decimals) - published).abs();
        assert!(gap <= 1, "{row:?}: computed {found}");
        equal += usize::from(gap == 0);
        if gap != 0 {
            apart.push(format!("{} {tag}: {found}", key(row)));
        }
    }
    // A value that lies on a half may fall to either side.
    assert!(equal * 100 >= rows.len() * 98, "{apart:?}");
    rows.len()
}

#[test]
fn sample() {
    assert_eq!(check(include_str!("solids.csv")), 162);
}

#[test]
fn whole_set() {
    let Some(folder) = outside::folder("PORRINGER_STANDARDS", "../shared/reference/standards/tests") else {
        return;
    };
    let count = check(&fs::read_to_string(folder.join("sr28_solids_adjust.csv")).unwrap());
    outside::say(&format!("SR28 by solids: all {count} values come out"));
}

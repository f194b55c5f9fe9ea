//! Source: USDA National Nutrient Database for Standard Reference, release 28
//! (SR28), public domain: values of cooked foods that USDA worked out from the
//! raw food with a retention factor, and the factors that follow from them.
//! Status: checked against the data files. SR28 does not say which code of the
//! Table of Nutrient Retention Factors, release 6, it took; the code is chosen
//! here by the kind of vegetable, for boiling in little water and draining.
//!
//! Of the set of 260 values the rule takes those where a vegetable is boiled
//! and drained, from a raw or unprepared row whose description begins with the
//! same word and is frozen if and only if the cooked one is. `implied_retention.csv`
//! beside this file holds the 87 values of the rule that are "without salt"; the
//! rest is checked when the folder of the set is there: the one that
//! PORRINGER_STANDARDS names, or `../shared/reference/standards/tests` beside
//! the project. Every value must come within one unit of its last digit but
//! for [`OTHERWISE`], which are counted and not hidden.

use std::collections::{BTreeSet, HashMap};
use std::fs;

use porringer::reference::composition;
use porringer::reference::nutrient::{NutrientId, WATER};
use porringer::reference::retention;

use crate::decimal::{units, units_of};
use crate::dish::{Dish, Take, compute, percent_by_solids};
use crate::outside;

/// Boiled in little water and drained, by the kind of vegetable.
const GREENS: u32 = 3004;
const ROOTS: u32 = 3454;
const OTHER: u32 = 3774;
const POTATOES: u32 = 3308;

/// First words of the descriptions; what is not here is another vegetable. The
/// release names no list of foods: common practice, no source.
const KINDS: [(&str, u32); 10] = [
    ("Cress", GREENS),
    ("Dandelion greens", GREENS),
    ("Drumstick leaves", GREENS),
    ("Burdock root", ROOTS),
    ("Carrots", ROOTS),
    ("Kohlrabi", ROOTS),
    ("Leeks", ROOTS),
    ("Onions", ROOTS),
    ("Rutabagas", ROOTS),
    ("Potatoes", POTATOES),
];

/// Cooked foods, by NDB number, with values that do not follow this way.
const OTHERWISE: [(&str, &str); 5] = [
    ("11301", "edible-podded peas: the values imply 95 % of carotenes, not the 90 % of code 3774"),
    ("11809", "the same with salt"),
    ("11334", "green peppers: the values imply 95 % of carotenes, not the 90 % of code 3774"),
    ("11468", "crookneck squash: the raw food named is another, summer squash of all varieties"),
    ("11782", "dandelion greens with salt: unlike those without, no factor fits; why is unknown"),
];

type Row = HashMap<String, String>;

fn code(food: &str) -> u32 {
    KINDS.iter().find(|(word, _)| food.starts_with(word)).map_or(OTHER, |(_, code)| *code)
}

/// Whether the rule of this file takes the value.
fn taken(row: &Row) -> bool {
    let (cooked, raw) = (&row["cooked_name"], &row["raw_name"]);
    let first = |name: &str| name.split(',').next().unwrap().to_owned();
    cooked.replace("boiled. drained", "boiled, drained").contains("boiled, drained, with")
        && (raw.contains("raw") || raw.contains("unprepared"))
        && first(cooked) == first(raw)
        && cooked.contains("frozen") == raw.contains("frozen")
}

fn number(row: &Row, column: &str) -> f64 {
    row[column].parse().unwrap()
}

fn key(row: &Row) -> String {
    format!("{}-from-{}", row["cooked_ndb"], row["raw_ndb"])
}

struct Score {
    taken: usize,
    within: usize,
    otherwise: usize,
}

fn check(text: &str) -> Score {
    let rows: Vec<Row> = csv::Reader::from_reader(text.as_bytes()).deserialize().collect::<Result<_, _>>().unwrap();
    let rows: Vec<Row> = rows.into_iter().filter(taken).collect();
    let mut dishes: Vec<Dish> = Vec::new();
    for row in &rows {
        let code = code(&row["cooked_name"]);
        assert!(retention::code(code).is_some(), "{code}");
        if dishes.iter().all(|dish| dish.id != key(row)) {
            dishes.push(Dish {
                id: key(row),
                title: row["cooked_name"].clone(),
                cooked_percent: percent_by_solids(number(row, "raw_water"), number(row, "cooked_water")),
                takes: vec![Take::new("100", format!("usda:{}", row["raw_ndb"])).keep(code)],
            });
        }
    }
    let figures = compute(&dishes, &[]);
    let (mut within, mut otherwise, mut faults) = (0, BTreeSet::new(), Vec::new());
    for row in &rows {
        let tag = row["infoods_tag"].as_str();
        let id = NutrientId::from_tag(tag).unwrap_or_else(|| panic!("{tag}"));
        let decimals = usize::from(id.get().decimals);
        let published = units_of(&row["cooked_per_100g"], decimals);

        // The embedded foods are the ones that USDA worked with.
        let embedded = |column: &str, id| composition::row(row[column].parse().unwrap()).unwrap().value(id).unwrap();
        assert_eq!(embedded("raw_ndb", WATER), number(row, "raw_water"), "{row:?}");
        assert_eq!(embedded("cooked_ndb", WATER), number(row, "cooked_water"), "{row:?}");
        assert_eq!(embedded("raw_ndb", id), number(row, "raw_per_100g"), "{row:?}");
        assert_eq!(units(embedded("cooked_ndb", id), decimals), published, "{row:?}");

        let found = figures[&key(row)].per_100g(tag).unwrap_or_else(|| panic!("{row:?}"));
        if (units(found, decimals) - published).abs() <= 1 {
            within += 1;
        } else if OTHERWISE.iter().any(|(ndb, _)| *ndb == row["cooked_ndb"]) {
            otherwise.insert(format!("{} {tag}", key(row)));
        } else {
            faults
                .push(format!("{} {tag}: published {}, computed {found}", row["cooked_name"], row["cooked_per_100g"]));
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
    Score { taken: rows.len(), within, otherwise: otherwise.len() }
}

#[test]
fn without_salt() {
    let score = check(include_str!("implied_retention.csv"));
    assert_eq!(score.taken, 87);
    assert_eq!((score.within, score.otherwise), (81, 6));
}

#[test]
fn whole_set() {
    let Some(folder) = outside::folder("PORRINGER_STANDARDS", "../shared/reference/standards/tests") else {
        return;
    };
    let score = check(&fs::read_to_string(folder.join("sr28_implied_retention.csv")).unwrap());
    outside::say(&format!(
        "SR28 with retention: {} of {} values within one unit, {} come from elsewhere",
        score.within, score.taken, score.otherwise
    ));
    assert!(score.taken >= 150 && score.within * 100 >= score.taken * 90, "{} of {}", score.within, score.taken);
}

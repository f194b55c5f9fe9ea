//! Source: USDA, Food and Nutrient Database for Dietary Studies (FNDDS)
//! 2017-2018, Agricultural Research Service, public domain: recipe lines in
//! grams with retention code, moisture change in percent of the raw weight,
//! values of the ingredients, and the values published for the dish, all per
//! 100 g. The retention codes are those of the USDA Table of Nutrient
//! Retention Factors, release 6. Status: checked against the published data
//! files.
//!
//! Ten dishes stand in `fndds/` beside this file, with their codes: without
//! and with heat, without and with a change of moisture, which is a loss or a
//! gain. They belong to a set of 1,009, selected as dishes whose ingredient
//! values are known to be the ones USDA used; the whole set is checked when
//! its folder is there. It is the folder that PORRINGER_FNDDS names, or
//! `../shared/reference/fndds` beside the project.

use std::collections::{BTreeMap, HashMap};
use std::fs;
use std::time::Instant;

use crate::decimal::{units, units_of};
use crate::dish::{Dish, Figures, Take, compute};
use crate::outside;

/// The published decimals: the most in any cell of the 1,009 dishes.
const DECIMALS: [(&str, usize); 38] = [
    ("ENERC_KCAL", 0),
    ("PROCNT", 2),
    ("CHOCDF", 2),
    ("SUGAR", 2),
    ("FIBTG", 1),
    ("FAT", 2),
    ("FASAT", 3),
    ("FAMS", 3),
    ("FAPU", 3),
    ("CHOLE", 0),
    ("RETOL", 0),
    ("VITA_RAE", 0),
    ("CARTB", 0),
    ("CARTA", 0),
    ("THIA", 3),
    ("RIBF", 3),
    ("NIA", 3),
    ("VITB6A", 3),
    ("FOLAC", 0),
    ("FOLFD", 0),
    ("FOLDFE", 0),
    ("FOL", 0),
    ("CHOLN", 1),
    ("VITB12", 2),
    ("VITC", 1),
    ("VITD", 1),
    ("TOCPHA", 2),
    ("VITK1", 1),
    ("CA", 0),
    ("P", 0),
    ("MG", 0),
    ("FE", 2),
    ("ZN", 2),
    ("CU", 3),
    ("SE", 1),
    ("K", 0),
    ("NA", 0),
    ("WATER", 2),
];

/// The least share of cells that must come out.
const LEAST: f64 = 0.995;

type Row = HashMap<String, String>;

fn rows(text: &str) -> Vec<Row> {
    csv::Reader::from_reader(text.as_bytes()).deserialize().collect::<Result<_, _>>().unwrap()
}

/// The dishes of a recipe table, in its order.
fn dishes(recipes: &str) -> Vec<Dish> {
    let mut dishes: Vec<Dish> = Vec::new();
    for row in rows(recipes) {
        if dishes.last().is_none_or(|dish| dish.id != row["dish"]) {
            dishes.push(Dish {
                id: row["dish"].clone(),
                title: row["description"].clone(),
                cooked_percent: cooked(&row["moisture_change_pct"]),
                takes: Vec::new(),
            });
        }
        let take = Take::new(&row["grams"], format!("fndds:{}", row["ingredient"]));
        let code: u32 = row["retention_code"].parse().unwrap();
        // 0 says that no heat was applied.
        dishes.last_mut().unwrap().takes.push(if code == 0 { take } else { take.keep(code) });
    }
    dishes
}

/// 100 plus the moisture change, exactly, in decimal.
fn cooked(change: &str) -> String {
    let negative = change.starts_with('-');
    let digits = change.trim_start_matches(['-', '+']);
    let decimals = digits.split_once('.').map_or(0, |(_, fraction)| fraction.len());
    let one = 10_i64.pow(u32::try_from(decimals).unwrap());
    let size = units_of(digits, decimals);
    let sum = 100 * one + if negative { -size } else { size };
    assert!(sum > 0, "{change}");
    if decimals == 0 { sum.to_string() } else { format!("{}.{:0decimals$}", sum / one, sum % one) }
}

#[test]
fn moisture_change_in_decimal() {
    for (change, expected) in
        [("0", "100"), ("-10", "90"), ("12", "112"), ("-73.7", "26.3"), ("10.6", "110.6"), ("-0.05", "99.95")]
    {
        assert_eq!(cooked(change), expected);
    }
}

/// How many published cells came out.
#[derive(Default)]
struct Score {
    dishes: usize,
    cells: usize,
    equal: usize,
    within: usize,
    /// Cells outside, by tagname, and the widest of each in words.
    outside: BTreeMap<&'static str, (usize, i64, String)>,
}

impl Score {
    fn count(&mut self, tag: &'static str, decimals: usize, published: &str, found: Option<f64>, dish: &Row) {
        self.cells += 1;
        let gap = match found {
            Some(value) => (units(value, decimals) - units_of(published, decimals)).abs(),
            None => i64::MAX,
        };
        self.equal += usize::from(gap == 0);
        self.within += usize::from(gap <= 1);
        if gap > 1 {
            let worst = self.outside.entry(tag).or_default();
            worst.0 += 1;
            if gap > worst.1 {
                worst.1 = gap;
                worst.2 = format!("{} {}: published {published}, computed {found:?}", dish["food"], dish["name"]);
            }
        }
    }

    fn share(&self) -> f64 {
        self.within as f64 / self.cells as f64
    }

    fn summary(&self) -> String {
        let mut text = format!(
            "FNDDS: {} dishes, {} of {} cells within one unit of the last digit ({:.3} %), {} equal",
            self.dishes,
            self.within,
            self.cells,
            100.0 * self.share(),
            self.equal
        );
        let mut worst: Vec<_> = self.outside.iter().collect();
        worst.sort_by_key(|(_, (count, ..))| std::cmp::Reverse(*count));
        for (tag, (count, _, example)) in worst {
            text.push_str(&format!("\n  {tag}: {count} outside, the widest in {example}"));
        }
        text
    }
}

fn check(recipes: &str, ingredients: &str, published: &str) -> Score {
    let dishes = dishes(recipes);
    let figures: HashMap<String, Figures> = compute(&dishes, &[("fndds", ingredients)]);
    let mut score = Score { dishes: dishes.len(), ..Score::default() };
    let published = rows(published);
    assert_eq!(published.len(), dishes.len());
    for row in &published {
        assert_eq!(row.len(), 2 + DECIMALS.len());
        let figures = &figures[&row["food"]];
        for (tag, decimals) in DECIMALS {
            // Every ingredient of the set has every value.
            let whole = figures.known_share(tag) == Some(1.0);
            let found = figures.per_100g(tag).filter(|_| whole);
            score.count(tag, decimals, &row[tag], found, row);
        }
    }
    score
}

#[test]
fn ten_dishes() {
    let score = check(
        include_str!("fndds/dishes.csv"),
        include_str!("fndds/ingredients.csv"),
        include_str!("fndds/published.csv"),
    );
    outside::say(&score.summary());
    assert_eq!((score.dishes, score.cells), (10, 380));
    assert_eq!(score.within, score.cells, "{}", score.summary());
}

#[test]
fn all_dishes() {
    let Some(folder) = outside::folder("PORRINGER_FNDDS", "../shared/reference/fndds") else {
        return;
    };
    let read = |name: &str| fs::read_to_string(folder.join(name)).unwrap();
    let published = read("published.csv");
    for (tag, decimals) in DECIMALS {
        let most = rows(&published).iter().map(|row| row[tag].split_once('.').map_or(0, |(_, f)| f.len())).max();
        assert!(most <= Some(decimals), "{tag}");
    }
    let start = Instant::now();
    let score = check(&read("dishes.csv"), &read("ingredients.csv"), &published);
    outside::say(&format!("{} ({} ms in all)", score.summary(), start.elapsed().as_millis()));
    assert!(score.share() >= LEAST, "{}", score.summary());
}

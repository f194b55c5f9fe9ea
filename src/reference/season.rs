//! In which months foods are to be had, as a workspace states it. What it does
//! not list is to be had all year as far as anybody knows.

use std::collections::HashMap;
use std::sync::Arc;

use crate::reference::larder::{FoodRow, Larder};
use crate::source::Span;

const NAMES: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// One line of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FoodSeason {
    /// A name as in a `take` line, with or without states.
    pub food: String,
    /// From 1 to 12.
    pub months: Vec<u8>,
    /// Where the food stands in the settings.
    pub span: Span,
}

impl FoodSeason {
    /// The rows of the larder that the line is of. Without a state it is of
    /// every form but the kept ones: dried mango is there when no mango is ripe.
    pub fn rows(&self, larder: &Larder) -> Vec<Arc<FoodRow>> {
        let states = self.states();
        let mut rows = larder.named(self.food.split(',').next().unwrap_or_default().trim());
        rows.retain(|row| {
            if states.is_empty() { !row.is_kept() } else { states.iter().all(|state| row.states.contains(state)) }
        });
        rows
    }

    fn states(&self) -> Vec<String> {
        self.food
            .split(',')
            .skip(1)
            .map(|state| state.trim().to_lowercase())
            .filter(|state| !state.is_empty())
            .collect()
    }
}

/// The list of a workspace.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Seasons {
    /// With the rows of the larder that each line is of, by their ids: a menu
    /// asks for every row of the larder.
    lines: Vec<(FoodSeason, usize)>,
    of_row: HashMap<String, Vec<usize>>,
}

impl Seasons {
    /// Lines by the larder whose rows will be asked for.
    pub fn new(lines: Vec<FoodSeason>, larder: &Larder) -> Self {
        let mut of_row: HashMap<String, Vec<usize>> = HashMap::new();
        for (at, line) in lines.iter().enumerate() {
            for row in line.rows(larder) {
                of_row.entry(row.id.clone()).or_default().push(at);
            }
        }
        let lines = lines.into_iter().map(|line| (line.states().len(), line)).map(|(states, line)| (line, states));
        Self { lines: lines.collect(), of_row }
    }

    /// The lines in their order.
    pub fn lines(&self) -> impl Iterator<Item = &FoodSeason> {
        self.lines.iter().map(|(line, _)| line)
    }

    /// Months of a food; `None` where the list says nothing of it. A line with
    /// more states goes before one with fewer.
    pub fn months(&self, row: &FoodRow) -> Option<&[u8]> {
        let lines = self.of_row.get(&row.id)?.iter().filter_map(|at| self.lines.get(*at));
        lines.max_by_key(|(_, states)| *states).map(|(line, _)| line.months.as_slice())
    }

    /// Whether a food is to be had in all of these months; `None` where no
    /// month is named or the list says nothing of the food.
    pub fn fits(&self, row: &FoodRow, months: &[u8]) -> Option<bool> {
        if months.is_empty() {
            return None;
        }
        self.months(row).map(|own| months.iter().all(|month| own.contains(month)))
    }
}

/// The English name of a month, lower case.
pub fn name(month: u8) -> &'static str {
    NAMES.get(usize::from(month).wrapping_sub(1)).copied().unwrap_or_default()
}

/// English names of the months, as an author writes them.
pub fn names() -> [&'static str; 12] {
    NAMES
}

/// `november to march`, `may, july to august`, `all year`
pub fn words(months: &[u8]) -> String {
    let has = |month: u8| months.contains(&month);
    let next = |month: u8| month % 12 + 1;
    let before = |month: u8| (month + 10) % 12 + 1;
    if (1..=12).all(has) {
        return "all year".to_owned();
    }
    // In the order in which the author begins.
    let mut spans: Vec<String> = Vec::new();
    for first in months.iter().copied().filter(|month| has(*month) && !has(before(*month))) {
        let mut last = first;
        while has(next(last)) {
            last = next(last);
        }
        spans.push(if first == last { name(first).to_owned() } else { format!("{} to {}", name(first), name(last)) });
    }
    spans.join(", ")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn months_are_told_as_they_are_written() {
        for (months, expected) in [
            (vec![11, 12, 1, 2, 3], "november to march"),
            (vec![5, 7, 8], "may, july to august"),
            (vec![1], "january"),
            ((1..=12).collect(), "all year"),
            (vec![], ""),
        ] {
            assert_eq!(words(&months), expected);
        }
    }

    #[test]
    fn a_fresh_food_has_a_season_and_a_kept_one_has_none() {
        let larder = Larder::built_in();
        let list = |food: &str, months: &[u8]| FoodSeason {
            food: food.to_owned(),
            months: months.to_vec(),
            span: Span::default(),
        };
        let lines = vec![list("mangoes", &[11, 12]), list("cowpea leaves, boiled", &[4]), list("cowpea leaf", &[3, 4])];
        let seasons = Seasons::new(lines, larder);
        let row = |name: &str, state: &str| {
            let rows = larder.named(name);
            rows.into_iter().find(|row| row.states.iter().any(|own| own == state)).unwrap()
        };
        assert_eq!(seasons.months(&row("mango", "raw")), Some([11, 12].as_slice()));
        assert_eq!(seasons.months(&row("dried mango", "dried")), None);
        assert_eq!(seasons.months(&row("cowpea leaves", "boiled")), Some([4].as_slice()));
        assert_eq!(seasons.months(&row("cowpea leaves", "raw")), Some([3, 4].as_slice()));
        assert_eq!(seasons.fits(&row("mango", "raw"), &[12]), Some(true));
        assert_eq!(seasons.fits(&row("mango", "raw"), &[12, 1]), Some(false));
        assert_eq!(seasons.fits(&row("mango", "raw"), &[]), None);
    }
}

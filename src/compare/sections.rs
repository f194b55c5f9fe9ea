//! A change in the order in which it is told, for every way of telling it:
//! the child first, then the cook, then the words.

use super::words::Run;
use super::{Change, Gains, Pair};

/// A heading with its rows.
#[derive(Debug, Clone)]
pub struct Section {
    pub title: String,
    pub rows: Vec<Row>,
}

#[derive(Debug, Clone)]
pub enum Row {
    /// A name with what it was and is.
    Pair(Pair),
    Gained(String),
    Lost(String),
    /// A text of which some words differ.
    Words {
        what: String,
        words: Vec<Run>,
    },
    /// A sentence of its own.
    Plain(String),
}

pub fn sections(change: &Change) -> Vec<Section> {
    let mut found = Vec::new();
    let mut section = |title: &str, rows: Vec<Row>| {
        if !rows.is_empty() {
            found.push(Section { title: title.to_owned(), rows });
        }
    };
    let child = &change.child;
    section("errors", errors(change.errors));
    for band in &child.bands {
        let figures = band.nutrients.iter().map(|nutrient| &nutrient.printed);
        let rest = band.energy.iter().chain(&band.portion);
        section(&format!("one {} at {}", band.of, band.ages), figures.chain(rest).cloned().map(Row::Pair).collect());
    }
    section("claims", rows(&child.claims));
    section("warnings and errors", rows(&child.messages));
    section("ages", child.ages.iter().cloned().map(Row::Pair).collect());
    section("food groups", rows(&child.food_groups));
    section("allergens", rows(&child.allergens));
    section("allergens of the family's share", rows(&child.family_allergens));
    section("cautions", rows(&child.cautions));
    let pairs = |pairs: &[Pair]| pairs.iter().cloned().map(Row::Pair).collect();
    section("ingredients", pairs(&change.ingredients));
    section("steps", pairs(&change.steps));
    section("times", pairs(&change.times));
    section("lines", pairs(&change.lines));
    let texts = change
        .texts
        .iter()
        .map(|text| Row::Words { what: format!("{} ({})", text.what, text.language), words: text.words.clone() })
        .collect();
    section("text", texts);
    section("also on the card", change.elsewhere.iter().cloned().map(Row::Plain).collect());
    section("where the figures come from", rows(&change.sources));
    found
}

fn rows(gains: &Gains) -> Vec<Row> {
    let lost = gains.lost.iter().cloned().map(Row::Lost);
    lost.chain(gains.gained.iter().cloned().map(Row::Gained)).collect()
}

fn errors([before, after]: [usize; 2]) -> Vec<Row> {
    let words = match (before, after) {
        (0, 0) => return Vec::new(),
        (0, _) => "no card is made any more: there are errors now",
        (_, 0) => "a card is made now: there were errors before",
        _ => "no card is made, before or now: there are errors",
    };
    vec![Row::Plain(words.to_owned())]
}

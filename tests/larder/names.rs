//! Names, states and texts of the rows.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use porringer::reference::larder::row::{ALLERGENS, HAZARDS};
use porringer::reference::larder::{FoodRow, normal_name};

use crate::{Faults, larder, usda, words_of};

#[test]
fn every_row_stands_on_a_composition_row() {
    let mut faults = Faults::default();
    let mut ids = BTreeSet::new();
    for row in &larder() {
        faults.check(row, usda(&row.row).is_some(), "no such row in USDA SR28");
        // Another spelling of the number would not be found by `on_row`.
        let spelt = usda(&row.row).is_some_and(|found| row.row == format!("usda:{}", found.ndb()));
        faults.check(row, spelt, "the row is not spelt as the program spells it");
        faults.check(row, ids.insert(row.id.clone()), "two rows have this id");
        let kebab = row.id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        faults.check(row, kebab, "the id is not in kebab case");
    }
    faults.settle(&[]);
}

#[test]
fn every_text_is_filled_in() {
    let filled = |text: &String| !text.trim().is_empty() && text.trim() == text;
    let mut faults = Faults::default();
    for row in &larder() {
        faults.check(row, !row.en.is_empty(), "no English name");
        faults.check(row, row.names().all(|name| filled(&name.to_owned())), "a name is blank or has blanks around it");
        faults.check(row, row.names().all(|name| !normal_name(name).is_empty()), "a name that nothing can find");
        faults.check(row, filled(&row.measures_source), "no source of the measures");
        faults.check(row, row.borrowed.as_ref().is_none_or(filled), "`borrowed` is blank");
        faults.check(row, row.states.iter().all(filled), "a state is blank");
        let known = row.allergens.iter().all(|name| ALLERGENS.contains(&name.as_str()));
        faults.check(row, known, "an allergen that no list names");
        faults.check(row, row.hazards.iter().all(|tag| HAZARDS.contains(&tag.as_str())), "a hazard that no rule reads");
    }
    faults.settle(&[]);
}

/// A name that means two foods would let a card show the wrong one.
#[test]
fn no_name_means_two_foods() {
    let rows = larder();
    let names = |row: &FoodRow| row.names().map(normal_name).collect::<BTreeSet<_>>();
    let mut by_name: BTreeMap<String, Vec<Arc<FoodRow>>> = BTreeMap::new();
    for row in &rows {
        for name in names(row) {
            by_name.entry(name).or_default().push(Arc::clone(row));
        }
    }
    assert!(by_name.values().any(|rows| rows.len() > 1), "forms of one food share their names");
    let mut faults = Faults::default();
    for (name, rows) in &by_name {
        let first = &rows[0];
        let mut taken: BTreeSet<&str> = BTreeSet::new();
        for row in rows {
            let same = row.en == first.en && row.sw == first.sw && row.fr == first.fr;
            faults.check(row, same, &format!("{name:?} is a name of {} too, the other names are not", first.id));
            faults.check(
                row,
                rows.len() == 1 || !row.states.is_empty(),
                &format!("nothing tells this {name:?} from another"),
            );
            for state in &row.states {
                faults.check(row, taken.insert(state), &format!("the state {state:?} of {name:?} is taken"));
            }
            faults.check(row, row.group == first.group, &format!("another food group than {}", first.id));
            faults.check(row, row.allergens == first.allergens, &format!("other allergens than {}", first.id));
        }
        let plain = rows.iter().filter(|row| row.plain).count();
        faults.check(first, plain <= 1, &format!("{plain} rows are meant by {name:?} alone"));
    }
    faults.settle(&[]);
}

/// A raw row on the figures of the cooked food, or the reverse, errs by a
/// factor of two or three.
#[test]
fn the_state_is_that_of_the_composition_row() {
    const HEATED: [&str; 16] = [
        "cooked",
        "boiled",
        "steamed",
        "baked",
        "fried",
        "roasted",
        "grilled",
        "simmered",
        "braised",
        "stewed",
        "toasted",
        "heated",
        "broiled",
        "popped",
        "scrambled",
        "blanched",
    ];
    const UNHEATED: [&str; 3] = ["raw", "uncooked", "unprepared"];
    let mut faults = Faults::default();
    let (mut cooked, mut raw) = (0, 0);
    for row in &larder() {
        let words = words_of(row);
        let says = |list: &[&str]| list.iter().any(|word| words.contains(*word));
        // "Apples, raw, without skin, cooked" is cooked, though it says raw too.
        if row.is_cooked() {
            cooked += 1;
            faults.check(row, says(&HEATED), "cooked food on a row that does not say so");
        } else if row.states.iter().any(|state| UNHEATED.contains(&state.as_str()) || state == "fresh") {
            raw += 1;
            faults.check(row, !says(&HEATED), "raw food on a row of cooked food");
        }
    }
    assert!(cooked >= 190 && raw >= 350, "{cooked} cooked, {raw} raw");
    faults.settle(&[
        ("sausage-smoked", "SR28 does not say that smoked link sausage is cooked; it is sold so"),
        ("black-pudding", "SR28 does not say that blood sausage is cooked; it is sold so"),
        ("ham-sliced", "SR28 does not say that sliced ham is cooked; it is sold so"),
    ]);
}

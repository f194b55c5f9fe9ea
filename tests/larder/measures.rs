//! Densities, weights of pieces, edible shares.

use std::collections::BTreeSet;

use porringer::reference::composition;
use porringer::reference::larder::FoodRow;
use porringer::reference::measure::{HouseholdMeasure, Standard, volume};

use crate::{Faults, composition_of, larder, usda};

/// Grams of one millilitre of each household weight of a row; USDA's cups and
/// spoons are United States customary ones.
fn weights(row: composition::Row) -> Vec<(String, f64)> {
    const UNITS: [(&str, HouseholdMeasure); 5] = [
        ("cup", HouseholdMeasure::Cup),
        ("tbsp", HouseholdMeasure::Tablespoon),
        ("tablespoon", HouseholdMeasure::Tablespoon),
        ("tsp", HouseholdMeasure::Teaspoon),
        ("fl oz", HouseholdMeasure::FluidOunce),
    ];
    row.measures()
        .filter(|measure| measure.amount > 0.0 && measure.grams > 0.0)
        .filter_map(|measure| {
            let text = measure.text.to_lowercase();
            let ends = |rest: &str| !rest.starts_with(char::is_alphanumeric);
            let (_, unit) = UNITS.iter().find(|(word, _)| text.strip_prefix(word).is_some_and(ends))?;
            let (top, bottom) = volume(Standard::UsCustomary, *unit)?.ml;
            let ml = measure.amount * top as f64 / bottom as f64;
            Some((text, measure.grams / ml))
        })
        .collect()
}

/// The weights whose text speaks of a state, in USDA's words for it.
fn in_state(weights: &[(String, f64)], state: &str) -> Vec<(String, f64)> {
    let stems: &[&str] = match state {
        "sliced" => &["slice"],
        "cubed" => &["cube"],
        "segments" => &["section"],
        "pieces" => &["piece", "chunk"],
        "kernels" => &["kernel", "cut"],
        "mashed" => &["mashed", "pureed"],
        "grated" => &["grated", "shredded"],
        "flaked" => &["flaked", "chunk"],
        "loose" => &["unpacked"],
        own => &[own],
    };
    let speaks = |text: &str| {
        text.split(|c: char| !c.is_alphabetic()).any(|word| stems.iter().any(|stem| word.starts_with(stem)))
    };
    weights.iter().filter(|(text, _)| speaks(text)).cloned().collect()
}

/// Density and the state it holds for; `None` for the food as usually measured.
fn densities(row: &FoodRow) -> Vec<(Option<&str>, f64)> {
    let plain = row.density.map(|density| (None, density));
    plain.into_iter().chain(row.densities.iter().map(|form| (Some(form.state.as_str()), form.g_per_ml))).collect()
}

fn within(value: f64, other: f64, share: f64) -> bool {
    (value - other).abs() <= share * other
}

/// The rows that `measures_source` names.
fn named_rows(row: &FoodRow) -> Vec<composition::Row> {
    row.measures_source
        .split(|c: char| !(c.is_alphanumeric() || c == ':'))
        .filter(|word| word.starts_with("usda:"))
        .map(|word| usda(word).unwrap_or_else(|| panic!("{}: no row {word}", row.id)))
        .collect()
}

/// Within 25 % of a weight that USDA gives for the same row in the same state.
#[test]
fn densities_agree_with_the_household_weights_of_the_row() {
    let mut faults = Faults::default();
    let mut compared = 0;
    for row in &larder() {
        let own = weights(composition_of(row));
        for (state, density) in densities(row) {
            let own = state.map_or_else(|| own.clone(), |state| in_state(&own, state));
            if own.is_empty() {
                continue;
            }
            compared += 1;
            let near = own.iter().any(|(_, weight)| within(density, *weight, 0.25));
            faults.check(row, near, &format!("{density} g/mL as {state:?}, USDA has {own:?}"));
        }
    }
    assert!(compared >= 900, "only {compared} densities compared");
    const GROUND: &str = "the row is the whole grain, whose cup says nothing of the flour";
    faults.settle(&[
        ("teff-flour", GROUND),
        ("quinoa-flour", GROUND),
        ("amaranth-flour", GROUND),
        ("cowpea-flour", GROUND),
        ("green-gram-flour", GROUND),
        ("groundnut-flour", "the row is whole groundnuts, whose cup says nothing of the flour"),
        ("sweet-potato-white-boiled", "the row is cubed yam; the density is that of mashed sweet potato"),
    ]);
}

/// Each density is computed from a USDA weight, so it must be one to the
/// third decimal: of the row itself or of a row that `measures_source` names.
/// Where neither has a volume the source must say that there is none.
#[test]
fn densities_are_where_the_source_says() {
    let mut faults = Faults::default();
    let (mut found, mut estimated) = (0, 0);
    for row in &larder() {
        let own = weights(composition_of(row));
        let named: Vec<(String, f64)> = named_rows(row).into_iter().flat_map(weights).collect();
        for (state, density) in densities(row) {
            faults.check(row, (0.03..=1.5).contains(&density), &format!("{density} g/mL is no food's"));
            // A named row may be of the state as a whole, such as mashed potato.
            let mut all = state.map_or_else(|| own.clone(), |state| in_state(&own, state));
            all.extend(named.iter().cloned());
            if all.is_empty() {
                let says = row.measures_source.contains("common practice, no source");
                faults.check(row, says, &format!("{density} g/mL as {state:?} has no source"));
                estimated += 1;
                continue;
            }
            found += 1;
            let equal = all.iter().any(|(_, weight)| within(density, *weight, 0.01));
            faults.check(row, equal, &format!("{density} g/mL as {state:?} is none of {all:?}"));
        }
    }
    assert!(found >= 950 && estimated <= 12, "{found} found, {estimated} estimated");
    faults.settle(&[]);
}

/// A piece weighs what USDA gives for the row or for one that
/// `measures_source` names, unless the source says that nobody published it.
#[test]
fn pieces_weigh_what_the_source_says() {
    let mut faults = Faults::default();
    let mut found = 0;
    for row in &larder() {
        let named = named_rows(row);
        let grams: Vec<f64> = std::iter::once(composition_of(row))
            .chain(named)
            .flat_map(|food| food.measures().filter(|measure| measure.amount > 0.0))
            .map(|measure| measure.grams / measure.amount)
            .collect();
        let mut kinds = BTreeSet::new();
        for piece in &row.pieces {
            faults.check(row, kinds.insert((&piece.unit, &piece.size)), "a piece is weighed twice");
            if grams.iter().any(|weight| within(piece.grams, *weight, 0.02)) {
                found += 1;
                continue;
            }
            let says = row.measures_source.contains("common practice, no source");
            faults.check(
                row,
                says && piece.grams > 0.0,
                &format!("{} g is no weight of a {}", piece.grams, piece.unit),
            );
        }
        let size = |name: &str| {
            let mut of_size = row.pieces.iter().filter(|piece| piece.size.as_deref() == Some(name));
            of_size.find(|piece| piece.unit == "piece").map(|piece| piece.grams)
        };
        let sizes: Vec<f64> = ["small", "medium", "large"].into_iter().filter_map(size).collect();
        faults.check(row, sizes.is_sorted(), "a smaller piece weighs more");
    }
    assert!(found >= 280, "only {found} pieces found");
    faults
        .settle(&[("potato-raw", "USDA weighs the potato with its skin; the row takes 25 % off, as its source says")]);
}

/// The edible share is 1 minus USDA's refuse, unless the source says whose it is.
#[test]
fn edible_shares_are_shares() {
    let mut faults = Faults::default();
    for row in &larder() {
        let Some(edible) = row.edible else {
            continue;
        };
        faults.check(row, edible > 0.0 && edible <= 1.0, &format!("{edible} is no share"));
        let refuse = composition_of(row).refuse_percent().map(|percent| 1.0 - f64::from(percent) / 100.0);
        let own = refuse.is_some_and(|share| (share - edible).abs() < 0.005);
        let sourced = row.measures_source.contains("edible share");
        faults.check(row, own != sourced, &format!("edible share {edible}, USDA has {refuse:?}"));
    }
    faults.settle(&[]);
}

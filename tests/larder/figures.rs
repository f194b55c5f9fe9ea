//! What the composition rows hold, against themselves.

use porringer::reference::composition;
use porringer::reference::larder::{FoodClass, FoodGroup};
use porringer::reference::nutrient::{
    ASH, CHOCDF, ENERC_KCAL, FAT, FIBTG, NutrientId, PROCNT, VITA_IU, VITA_RAE, WATER,
};

use crate::{Faults, composition_of, larder};

fn values<const N: usize>(row: composition::Row, ids: [NutrientId; N]) -> Option<[f64; N]> {
    let found: Vec<f64> = ids.into_iter().filter_map(|id| row.value(id)).collect();
    found.try_into().ok()
}

/// Energy by 4 kcal per gram of protein and available carbohydrate, 9 of fat
/// and 2 of fibre (unknown fibre counts as none) against USDA, which uses
/// factors of each food. Measured: 73 % of the rows agree within 5 % or 5 kcal,
/// 90 % within 10 %, 95 % within 15 %. Alcohol has energy of its own and is
/// left out; no row is a sugar alcohol.
#[test]
fn energy_agrees_with_protein_fat_and_carbohydrate() {
    let mut faults = Faults::default();
    let (mut total, mut close, mut near) = (0, 0, 0);
    for row in larder().iter().filter(|row| row.class != FoodClass::Alcohol) {
        let food = composition_of(row);
        let [energy, protein, fat, carbohydrate] = values(food, [ENERC_KCAL, PROCNT, FAT, CHOCDF]).unwrap();
        let fibre = food.value(FIBTG).unwrap_or(0.0);
        let computed = 4.0 * protein + 9.0 * fat + 4.0 * (carbohydrate - fibre) + 2.0 * fibre;
        let apart = (computed - energy).abs();
        total += 1;
        close += usize::from(apart <= (0.10 * energy).max(5.0));
        near += usize::from(apart <= (0.15 * energy).max(5.0));
        faults.check(
            row,
            apart <= (0.15 * energy).max(10.0),
            &format!("{energy} kcal, but its parts give {computed:.1}"),
        );
    }
    assert!(close * 100 >= total * 90, "{close} of {total} within 10 % or 5 kcal");
    assert!(near * 100 >= total * 94, "{near} of {total} within 15 % or 5 kcal");
    faults.settle(&[
        ("cocoa-powder", "USDA's factors for cocoa: 1.83 for protein, 1.33 for carbohydrate"),
        ("baking-powder", "its carbonates count as carbohydrate by difference"),
        ("vinegar", "USDA counts the acetic acid, which is none of the parts"),
        ("lime", "much of the carbohydrate is citric acid; USDA's factor is 2.48"),
        ("lime-juice", "much of the carbohydrate is citric acid; USDA's factor is 2.70"),
        ("cloves", "USDA's factors: 1.82 for protein, 2.35 for carbohydrate"),
        ("coriander-seed", "USDA's factors: 3.36 for protein, 1.95 for carbohydrate"),
        ("moringa-leaves-raw", "USDA's factors for leaves: 2.44 for protein, 3.57 for carbohydrate"),
        ("moringa-leaves-boiled", "USDA's factors for leaves: 2.44 for protein, 3.57 for carbohydrate"),
        ("bitter-gourd-leaves-raw", "as moringa leaves, and SR28 gives no fibre"),
        ("nettles", "SR28 counts the fibre as fully as starch"),
        ("allspice", "USDA's factors for spices are lower"),
        ("chilli-powder", "USDA's factors for spices are lower"),
        ("lentils-sprouted", "USDA's factors: 3.47 for protein, and SR28 gives no fibre"),
        ("jute-leaves-raw", "as moringa leaves, and SR28 gives no fibre"),
    ]);
}

/// Water, protein, fat, carbohydrate and ash make the whole food. Alcohol is
/// left out: the table has no column for it.
#[test]
fn the_parts_make_a_hundred_grams() {
    let mut faults = Faults::default();
    let mut summed = 0;
    for row in larder().iter().filter(|row| row.class != FoodClass::Alcohol) {
        let Some(parts) = values(composition_of(row), [WATER, PROCNT, FAT, CHOCDF, ASH]) else {
            continue;
        };
        summed += 1;
        let sum: f64 = parts.iter().sum();
        faults.check(row, (sum - 100.0).abs() <= 1.5, &format!("the parts make {sum:.2} g"));
    }
    assert!(summed >= 880, "only {summed} rows summed");
    // Flesh has no carbohydrate by difference to take up the errors of five
    // analyses of different samples.
    const FLESH: &str = "SR28 gives flesh without carbohydrate by difference: nothing takes up the errors of analysis";
    faults.settle(&[
        ("baking-soda", "the gas of the carbonate is neither water nor ash"),
        ("vinegar", "acetic acid is none of the parts"),
        ("black-pepper", "SR28 has 94.6 g; its carbohydrate was not taken by difference"),
        ("white-pepper", "SR28 has 94.1 g; its carbohydrate was not taken by difference"),
        ("cheese-goat", "SR28 has 101.9 g: five analyses of different samples"),
        ("dried-fish", FLESH),
        ("haddock-cooked", FLESH),
        ("sea-bream-raw", FLESH),
        ("sea-bream-cooked", FLESH),
        ("orange-roughy-raw", FLESH),
        ("salmon-smoked", FLESH),
        ("quail-raw", FLESH),
        ("beef-lung-braised", FLESH),
        ("pork-heart-braised", FLESH),
        ("tilapia-cooked", FLESH),
        ("tilapia-fillet-cooked", FLESH),
        ("carp-cooked", FLESH),
        ("mullet-cooked", FLESH),
        ("mackerel-raw", FLESH),
        ("mackerel-cooked", FLESH),
        ("chicken-stewed", FLESH),
        ("chicken-gizzard-simmered", FLESH),
        ("corned-beef", FLESH),
    ]);
}

/// Fruit and vegetables with 60 µg RAE or more per 100 g count as vitamin
/// A-rich, and so does the food group. Where SR28 gives no RAE, 20 IU of a
/// plant are taken as 1 µg (0.3 µg retinol or 0.6 µg beta-carotene in an IU,
/// 12 µg beta-carotene in 1 µg RAE).
#[test]
fn vitamin_a_rich_is_what_the_figures_say() {
    use FoodClass as C;
    const PLANTS: [FoodClass; 9] =
        [C::Greens, C::Potato, C::SweetPotato, C::Root, C::Tomato, C::Vegetable, C::Fruit, C::Citrus, C::DriedFruit];
    let mut faults = Faults::default();
    let (mut rich, mut unknown) = (0, 0);
    for row in &larder() {
        rich += usize::from(row.vitamin_a_rich);
        let group = row.group == FoodGroup::VitaminA;
        faults.check(row, row.vitamin_a_rich == group, "vitamin_a_rich and the food group disagree");
        if !PLANTS.contains(&row.class) {
            faults.check(row, !row.vitamin_a_rich, "neither a fruit nor a vegetable");
            continue;
        }
        let food = composition_of(row);
        let Some(rae) = food.value(VITA_RAE).or_else(|| food.value(VITA_IU).map(|iu| iu / 20.0)) else {
            faults.check(row, !row.vitamin_a_rich, "called rich, though SR28 gives no vitamin A");
            unknown += 1;
            continue;
        };
        faults.check(
            row,
            row.vitamin_a_rich == (rae >= 60.0),
            &format!("{rae} µg RAE, vitamin_a_rich = {}", row.vitamin_a_rich),
        );
    }
    assert!(rich >= 90 && unknown <= 2, "{rich} rich rows, {unknown} unknown");
    faults.settle(&[
        ("mango", "54 µg RAE in SR28, but the indicator names ripe mango (memory)"),
        ("papaya", "47 µg RAE in SR28, but the indicator names ripe papaya (memory)"),
        ("cowpea-leaves-raw", "36 µg RAE in SR28, but the indicator names dark green leaves as a whole (memory)"),
        ("cowpea-leaves-boiled", "29 µg RAE in SR28, but the indicator names dark green leaves as a whole (memory)"),
        ("coriander-leaves", "eaten by the pinch: a condiment counts for no group (memory)"),
        ("parsley", "eaten by the pinch: a condiment counts for no group (memory)"),
        ("tomato-paste", "76 µg RAE only because it is thickened; the tomato has 42"),
        ("broccoli-boiled", "77 µg RAE boiled, but 31 raw in the same table: the lower is believed"),
        ("carrot-juice", "juice counts for no group (memory)"),
        ("green-peas-frozen", "103 µg RAE frozen, but 38 raw in the same table: the lower is believed"),
        ("leek-raw", "83 µg RAE raw, but the indicator counts food as eaten, and boiled leek has 41"),
    ]);
}

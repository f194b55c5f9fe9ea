//! Source: Rwanda TVET Board, e-learning module on recipe costing and yield
//! (elearning.rtb.gov.rw, page 3494): a biscuit dough of eight ingredients,
//! 2,514 g in all, loses 15.5 % in the oven, 389.67 g, and 2,124.3 g are left.
//! Seven eggs count 60 g each, 250 mL of milk 250 g and 10 mL of vanilla 10 g.
//! Status: checked-official.

use crate::decimal::units;
use crate::dish::{Dish, Take, compute};

const GRAMS: [&str; 8] = ["1000", "400", "400", "250", "30", "420", "4", "10"];

#[test]
fn weight_after_a_cooking_loss() {
    // The weights alone matter: every ingredient is the same food, with 1 g
    // of protein in 100 g, so that the loss must show as a gain per 100 g.
    let table = "food,name,PROCNT\n1,any,1\n";
    let takes = GRAMS.iter().map(|grams| Take::new(grams, "any:1")).collect();
    let dish = Dish { id: "biscuit".into(), title: "Biscuit dough".into(), cooked_percent: "84.5".into(), takes };
    let figures = compute(&[dish], &[("any", table)]);
    let biscuit = &figures["biscuit"];
    assert_eq!(units(biscuit.number("raw_g"), 6), 2_514_000_000);
    assert_eq!(units(biscuit.number("cooked_g"), 6), 2_124_330_000);
    // As published.
    assert_eq!(units(biscuit.number("cooked_g"), 1), 21_243);
    assert_eq!(units(biscuit.number("raw_g") - biscuit.number("cooked_g"), 2), 38_967);
    // 25.14 g in 2,124.33 g.
    assert_eq!(units(biscuit.per_100g("PROCNT").unwrap(), 6), 1_183_432);
}

//! Food groups and allergens.

use std::collections::BTreeMap;

use porringer::reference::larder::row::ALLERGENS;
use porringer::reference::larder::{FoodClass, FoodGroup};

use crate::{Faults, composition_of, has_allergen, larder, words_of};

/// Allergens follow from the words of the composition row and from the class.
#[test]
fn allergens_follow_from_the_food() {
    use FoodClass as C;
    const WORDS: [(&str, &[&str]); 9] = [
        (
            "gluten",
            &[
                "wheat", "bulgur", "couscous", "semolina", "barley", "pasta", "bread", "cookies", "beer", "rye",
                "spelt", "crackers", "rolls",
            ],
        ),
        ("peanuts", &["peanut", "peanuts"]),
        ("soya", &["soy", "soybean", "soybeans", "soymilk", "tofu", "miso", "natto", "tempeh"]),
        ("sesame", &["sesame"]),
        ("crustacea", &["crustaceans"]),
        ("molluscs", &["mollusks"]),
        ("buckwheat", &["buckwheat"]),
        ("celery", &["celery", "celeriac"]),
        ("mustard", &["mustard"]),
    ];
    let mut faults = Faults::default();
    for row in &larder() {
        let words = words_of(row);
        let is_fish = matches!(row.class, C::FishLean | C::FishFat | C::FishReady);
        let name = composition_of(row).name();
        let mut expected: BTreeMap<&str, bool> =
            WORDS.iter().map(|(allergen, list)| (*allergen, list.iter().any(|word| words.contains(*word)))).collect();
        expected.insert("fish", is_fish || words.contains("fish"));
        expected.insert("eggs", row.class == C::Egg || words.contains("egg") || words.contains("mayonnaise"));
        if name.starts_with("Noodles, egg") {
            expected.insert("gluten", true);
        }
        if name.starts_with("Sauce, oyster") {
            expected.insert("molluscs", true);
        }
        expected.insert("milk", matches!(row.class, C::Milk | C::Cheese) || name.starts_with("Butter"));
        expected.insert("oats", ["oat", "oats", "oatmeal"].iter().any(|word| words.contains(*word)));
        // Codex and the European list do not count coconut as a tree nut.
        let tree = ["almond", "walnut", "hazelnut"].iter().any(|word| words.contains(*word));
        expected.insert("tree-nuts", (name.starts_with("Nuts,") || tree) && !words.contains("coconut"));
        expected.insert("lupin", words.contains("lupins"));
        expected.insert("sulphite", words.contains("sulfured"));
        for allergen in ALLERGENS {
            let (has, should) = (has_allergen(row, allergen), expected[allergen]);
            faults.check(row, has == should, &format!("{allergen}: {has}, should be {should}"));
        }
        // A sauce of shellfish is no shellfish.
        let shell = has_allergen(row, "crustacea") || has_allergen(row, "molluscs");
        faults.check(
            row,
            row.class == C::Other || shell == (row.class == C::Shellfish),
            "shellfish without its allergen, or the reverse",
        );
    }
    faults.settle(&[
        ("fish-fingers", "breaded"),
        ("infant-cereal-mixed", "a mixed cereal has wheat in it: common practice, no source"),
        ("wine", "sulphite is added to most wine; SR28's description does not say so"),
        ("white-wine", "sulphite is added to most wine; SR28's description does not say so"),
    ]);
}

#[test]
fn groups_fit_classes() {
    use FoodClass as C;
    use FoodGroup as G;
    let mut faults = Faults::default();
    for row in &larder() {
        let allowed: &[FoodGroup] = match row.class {
            C::Cereal | C::Oats | C::Rice | C::Pasta | C::Bread | C::Potato => &[G::Grains],
            C::Flour => &[G::Grains, G::Pulses],
            C::PulseDry | C::PulseQuick | C::PulseCooked => &[G::Pulses],
            C::Nut => &[G::Pulses],
            C::Greens => &[G::VitaminA],
            C::SweetPotato => &[G::Grains, G::VitaminA],
            C::Root => &[G::Grains, G::VitaminA, G::OtherPlants],
            C::Tomato | C::Vegetable | C::Fruit | C::DriedFruit => &[G::VitaminA, G::OtherPlants],
            C::Citrus => &[G::OtherPlants],
            C::Milk | C::Cheese => &[G::Dairy],
            C::Egg => &[G::Eggs],
            C::FishLean | C::FishFat | C::FishReady | C::Shellfish | C::Insect => &[G::Flesh],
            C::Beef | C::Veal | C::Lamb | C::Pork | C::PorkCured | C::Sausage => &[G::Flesh],
            C::Chicken | C::Turkey | C::Liver | C::Organ => &[G::Flesh],
            C::BreastMilk => &[G::BreastMilk],
            C::Oil | C::Sugar | C::Salt | C::Spice | C::Water | C::Alcohol | C::Other => &[G::None],
        };
        faults.check(row, allowed.contains(&row.group), &format!("{} in {}", row.class.word(), row.group.word()));
    }
    const STARCH: &str = "starch without protein: a thickener, not a staple";
    const FRESH_PULSE: &str = "a pulse eaten green: cooked as a vegetable, counted with the pulses";
    const COCONUT: &str = "coconut counts with the fats (memory)";
    const CONDIMENT: &str = "a condiment counts for no group (memory)";
    const JUICE: &str = "juice counts for no group (memory)";
    faults.settle(&[
        ("maize-starch", STARCH),
        ("arrowroot-flour", STARCH),
        ("chocolate-milk", "a sweet drink (memory)"),
        ("cream-sour", "counts with the fats (memory)"),
        ("cream-single", "counts with the fats (memory)"),
        ("apple-juice", JUICE),
        ("pineapple-juice", JUICE),
        ("passion-juice", JUICE),
        ("grape-juice", JUICE),
        ("grapefruit-juice", JUICE),
        ("tangerine-juice", JUICE),
        ("tomato-juice", JUICE),
        ("carrot-juice", JUICE),
        ("coconut-desiccated", COCONUT),
        ("broad-beans-fresh-raw", FRESH_PULSE),
        ("lima-beans-fresh-raw", FRESH_PULSE),
        ("lima-beans-fresh-boiled", FRESH_PULSE),
        ("soya-beans-green-raw", FRESH_PULSE),
        ("soya-beans-green-boiled", FRESH_PULSE),
        ("green-maize-tinned", "a cereal eaten green: cooked as a vegetable, counted with the grains"),
        ("cream", "counts with the fats (memory)"),
        ("condensed-milk-sweetened", "counts with the sweets (memory)"),
        ("lemon-juice", JUICE),
        ("lime-juice", JUICE),
        ("orange-juice", JUICE),
        ("coriander-leaves", CONDIMENT),
        ("parsley", CONDIMENT),
        ("chilli", CONDIMENT),
        ("ginger-fresh", CONDIMENT),
        ("tomato-ketchup", CONDIMENT),
        ("coconut-fresh", COCONUT),
        ("coconut-milk-fresh", COCONUT),
        ("coconut-milk-canned", COCONUT),
        ("coconut-cream", COCONUT),
        ("cowpeas-fresh-raw", FRESH_PULSE),
        ("cowpeas-fresh-boiled", FRESH_PULSE),
        ("pigeon-peas-fresh-raw", FRESH_PULSE),
        ("pigeon-peas-fresh-boiled", FRESH_PULSE),
        ("green-maize-raw", "a cereal eaten green: cooked as a vegetable, counted with the grains"),
        ("green-maize-boiled", "a cereal eaten green: cooked as a vegetable, counted with the grains"),
        ("soya-milk", "made of soya beans: counted with the pulses"),
    ]);
}

//! Hazard tags. The rules read nothing else, so each tag is held here against
//! what the row is.

use std::collections::BTreeSet;

use porringer::reference::larder::{FoodClass, FoodGroup, FoodRow, normal_name};
use porringer::reference::nutrient::{NA, SUGAR};

use crate::{Faults, composition_of, has_allergen, larder, words_of};

/// A raw food says so, and a cooked one does not.
#[test]
fn raw_hazards_are_on_raw_food() {
    use FoodClass as C;
    let mut faults = Faults::default();
    let mut raw = 0;
    for row in &larder() {
        let tags: Vec<&String> = row.hazards.iter().filter(|tag| tag.starts_with("raw-")).collect();
        raw += tags.len();
        if row.is_cooked() || row.states.iter().any(|state| state == "toasted") {
            faults.check(row, tags.is_empty(), &format!("cooked, yet {tags:?}"));
            continue;
        }
        let needed = match row.class {
            C::Beef | C::Veal | C::Lamb | C::Pork | C::PorkCured | C::Sausage => Some("raw-meat"),
            C::Chicken | C::Turkey | C::Liver | C::Organ => Some("raw-meat"),
            C::FishLean | C::FishFat => Some("raw-fish"),
            C::Shellfish => Some("raw-shellfish"),
            C::Egg => Some("raw-egg"),
            C::PulseDry | C::PulseQuick => Some("raw-pulse"),
            C::Flour => Some("raw-flour"),
            _ => None,
        };
        if let Some(tag) = needed {
            faults.check(row, row.has_hazard(tag), &format!("uncooked without {tag}"));
        }
        for tag in ["raw-meat", "raw-fish", "raw-shellfish", "raw-egg", "raw-flour"] {
            faults.check(row, needed == Some(tag) || !row.has_hazard(tag), &format!("{tag} does not fit"));
        }
        let unheated = row.states.iter().any(|state| state == "unpasteurised");
        faults.check(row, row.has_hazard("raw-milk") == unheated, "raw milk and its tag");
        let cassava = row.names().any(|name| normal_name(name).contains("cassava")) && row.class != C::Flour;
        faults.check(row, row.has_hazard("raw-cassava") == cassava, "raw cassava and its tag");
        let pulse = row.group == FoodGroup::Pulses && matches!(row.class, C::Vegetable | C::Flour);
        let pulse = pulse || matches!(row.class, C::PulseDry | C::PulseQuick);
        faults.check(row, row.has_hazard("raw-pulse") == pulse, "a raw pulse and its tag");
    }
    assert!(raw >= 190, "only {raw} tags");
    const TIN: &str = "cooked in its tin, though no state says so";
    const SUN: &str = "dried in the sun or salted, not cooked";
    faults.settle(&[
        ("corned-beef", TIN),
        ("luncheon-meat", TIN),
        ("vienna-sausage-tinned", TIN),
        ("liver-pate", TIN),
        ("chicken-tinned", TIN),
        ("prawns-tinned", TIN),
        ("clams-tinned", TIN),
        ("liver-sausage", "sold cooked, though no state says so"),
        ("dried-fish", SUN),
        ("mackerel-salted", SUN),
        ("salmon-smoked", "smoked cold: common practice, no source"),
        ("arrowroot-flour", "a starch washed out of the root: common practice, no source"),
        ("gari", "toasted when it is made: common practice, no source"),
        ("bean-sprouts-raw", "a sprout counts with the vegetables, and must be cooked as the pulse it was"),
        ("small-dried-fish", SUN),
        ("salt-fish", SUN),
        ("maize-starch", "washed out of the grain and dried, no milled flour: common practice, no source"),
    ]);
}

/// Every dry seed of Phaseolus vulgaris, whatever its colour: SR28 calls them
/// "Beans", and these others too.
#[test]
fn common_beans_carry_the_lectin_tag() {
    const OTHERS: [&str; 5] = ["adzuki", "mung", "fava", "lima", "winged"];
    let mut faults = Faults::default();
    let mut beans = 0;
    for row in &larder() {
        let words = words_of(row);
        let common = row.class == FoodClass::PulseDry
            && composition_of(row).name().starts_with("Beans,")
            && !OTHERS.iter().any(|other| words.contains(*other));
        beans += usize::from(common);
        faults.check(row, row.has_hazard("raw-kidney-bean") == common, "common bean and lectin tag disagree");
    }
    assert!(beans >= 6, "only {beans} common beans");
    faults.settle(&[]);
}

/// A nut or seed is whole or a paste, unless it is too small or too fine to
/// block a child's breath.
#[test]
fn nuts_are_whole_or_paste() {
    let mut faults = Faults::default();
    for row in &larder() {
        let tagged = row.has_hazard("whole-nut") || row.has_hazard("nut-paste");
        faults.check(row, tagged == (row.class == FoodClass::Nut), "nut and its tag disagree");
        let words = words_of(row);
        let paste = words.contains("butter") && row.class == FoodClass::Nut;
        faults.check(row, row.has_hazard("nut-paste") == paste, "paste and its tag disagree");
        // Groundnuts and maize: where aflatoxin is found most.
        let mould = row.class == FoodClass::Nut && has_allergen(row, "peanuts");
        let maize = ["maize-grain", "maize-flour", "maize-grits"].iter().any(|start| row.id.starts_with(start));
        faults.check(row, row.has_hazard("mould-prone") == (mould || maize), "mould-prone and the food disagree");
    }
    const LIQUID: &str = "pressed from the flesh: a liquid";
    faults.settle(&[
        ("groundnut-flour", "ground fine"),
        ("groundnut-flour-defatted", "ground fine"),
        ("sesame-raw", "a seed of a few milligrams"),
        ("sesame-roasted", "a seed of a few milligrams"),
        ("linseed", "a seed of a few milligrams"),
        ("chia", "a seed of a few milligrams"),
        ("hemp-seeds", "hulled and soft, of a few milligrams"),
        ("sesame-flour", "ground fine"),
        ("almonds-ground", "ground fine"),
        ("coconut-desiccated", "grated fine"),
        ("coconut-fresh", "not a kernel: tagged choke-hard"),
        ("coconut-milk-fresh", LIQUID),
        ("coconut-milk-canned", LIQUID),
        ("coconut-cream", LIQUID),
    ]);
}

#[test]
fn honey_and_sugar_are_tagged() {
    let mut faults = Faults::default();
    let mut sweet = 0;
    for row in &larder() {
        let honey =
            words_of(row).contains("honey") || row.en.iter().any(|name| name.split(' ').any(|word| word == "honey"));
        faults.check(row, row.has_hazard("honey") == honey, "honey and its tag disagree");
        let sugar = row.has_hazard("sugar");
        sweet += usize::from(sugar);
        faults.check(row, sugar || row.class != FoodClass::Sugar, "of class sugar without the tag");
        faults.check(row, sugar || !row.has_hazard("sweet-drink"), "a sweet drink without sugar");
        let sugars = composition_of(row).value(SUGAR);
        let says = sugars.is_some_and(|grams| grams >= 9.0);
        faults.check(row, !sugar || says, &format!("tagged sugar, but SR28 has {sugars:?} g"));
        // Of the classes only dried fruit has so much of its own.
        faults.check(
            row,
            sugar || sugars.is_none_or(|grams| grams < 20.0) || row.class == FoodClass::DriedFruit,
            &format!("{sugars:?} g sugars without the tag"),
        );
        let alcohol = row.class == FoodClass::Alcohol;
        faults.check(row, row.has_hazard("alcohol") == alcohol, "alcohol and its tag disagree");
        let liver = row.class == FoodClass::Liver;
        faults.check(row, row.has_hazard("liver") == liver, "liver and its tag disagree");
    }
    assert!(sweet >= 25, "only {sweet} tags");
    faults.settle(&[
        ("milk-powder-whole", "the sugar of milk"),
        ("milk-powder-skimmed", "the sugar of milk"),
        ("tamarind", "the fruit's own sugar"),
        ("tomato-sun-dried", "the fruit's own sugar"),
        ("baked-beans", "sugar is added, 8 g in all"),
    ]);
}

/// Table salt is tagged salt; food with 600 mg sodium or more per 100 g
/// (1.5 g salt) is tagged salty.
#[test]
fn salt_is_tagged() {
    let mut faults = Faults::default();
    let (mut salty, mut unknown) = (0, 0);
    for row in &larder() {
        let food = composition_of(row);
        let salt = food.name() == "Salt, table";
        faults.check(row, row.has_hazard("salt") == salt, "salt and its tag disagree");
        let Some(sodium) = food.value(NA) else {
            faults.check(
                row,
                !row.has_hazard("salt") && !row.has_hazard("salty"),
                "salty, though SR28 gives no sodium",
            );
            unknown += 1;
            continue;
        };
        let tagged = row.has_hazard("salt") || row.has_hazard("salty");
        salty += usize::from(tagged);
        faults.check(row, tagged == (sodium >= 600.0), &format!("{sodium} mg sodium, tagged: {tagged}"));
    }
    assert!(salty >= 50 && unknown <= 1, "{salty} tags, {unknown} unknown");
    faults.settle(&[
        ("cheese-hard", "653 mg: a dairy food in its own right, its sodium is counted from the row"),
        ("bread-rye", "603 mg: daily bread, as salty as others; its sodium is counted from the row"),
        ("bread-french", "602 mg: daily bread, as salty as others; its sodium is counted from the row"),
        ("baking-powder", "sodium, but not from salt"),
        ("baking-soda", "sodium, but not from salt"),
        ("prawns-boiled", "SR28's shrimp may have been salted before freezing; the row says so"),
        ("clams-raw", "601 mg in SR28, which does not say that salt was added"),
    ]);
}

/// Whether any name of the row has all the words.
fn is_called(row: &FoodRow, words: &str) -> bool {
    row.en.iter().any(|name| {
        let name = normal_name(name);
        let own: BTreeSet<&str> = name.split(' ').collect();
        words.split(' ').all(|word| own.contains(word))
    })
}

fn has_state(row: &FoodRow, words: &[&str]) -> bool {
    row.states.iter().any(|state| words.contains(&state.as_str()))
}

/// Shapes that block a child's breath: the list of the profile's choking rule,
/// read against what each row is.
#[test]
fn choking_shapes_are_tagged() {
    use FoodClass as C;
    const HARD: [&str; 18] = [
        "apple",
        "pear",
        "quince",
        "pumpkin",
        "squash",
        "cabbage",
        "cauliflower",
        "broccoli",
        "Brussels sprout",
        "fennel",
        "green bean",
        "long bean",
        "cowpea pod",
        "snow pea",
        "winged bean pod",
        "sweet pepper",
        "celery",
        "rose apple",
    ];
    // Called by the name of something hard.
    const SOFT: [&str; 6] = ["avocado", "chayote", "prickly pear", "sugar apple", "pumpkin flower", "napa cabbage"];
    const ROUND: [&str; 13] = [
        "grape",
        "cherry",
        "maize grain",
        "green maize",
        "hominy",
        "pomegranate",
        "lychee",
        "rambutan",
        "longan",
        "blueberry",
        "gooseberry",
        "jujube",
        "olive",
    ];
    let mut faults = Faults::default();
    let mut tags = 0;
    for row in &larder() {
        let any = |names: &[&str]| names.iter().any(|name| is_called(row, &normal_name(name)));
        let untouched = !row.is_cooked() && !has_state(row, &["canned", "tinned", "blanched"]);
        let plant = matches!(row.class, C::Fruit | C::Vegetable) && row.group != FoodGroup::None;
        let dried = row.class == C::DriedFruit;
        // Whole fish, fresh or dried; a fillet is sold without its bones, and
        // so are steaks of the great fish. Where a row is the whole fish first
        // and its fillet by another name, the bones that may be left count.
        let fish = matches!(row.class, C::FishLean | C::FishFat);
        let steak = row.en.first().is_some_and(|name| name.contains("fillet")) || row.has_hazard("mercury-high");
        let kept = row.class == C::FishReady && has_state(row, &["whole", "salted", "smoked"]);
        let root = matches!(row.class, C::Root | C::Potato | C::SweetPotato) && !has_state(row, &["dried"]);
        let seeds = matches!(row.class, C::PulseDry | C::PulseCooked | C::PulseQuick)
            || (row.class == C::Vegetable && row.group == FoodGroup::Pulses)
            || is_called(row, "green pea");
        for (tag, right) in [
            ("choke-coin", row.class == C::Sausage),
            ("choke-sticky", dried),
            ("choke-bones", (fish && !steak) || kept),
            (
                "choke-hard",
                untouched && (root || (plant && row.group != FoodGroup::Pulses && any(&HARD) && !any(&SOFT))),
            ),
            ("choke-round", any(&ROUND) && (plant || matches!(row.class, C::Cereal | C::Tomato))),
            ("whole-bean", seeds),
        ] {
            tags += usize::from(row.has_hazard(tag));
            faults.check(row, row.has_hazard(tag) == right, &format!("{tag} should be {right}"));
        }
    }
    assert!(tags >= 220, "only {tags} tags");
    const SMALL: &str = "seeds too small to block a breath";
    const NO_SEED: &str = "no seed is left whole";
    const CHUNKS: &str = "chunks of cheese";
    faults.settle(&[
        ("popcorn", "popped grain is hard and light"),
        ("coconut-fresh", "hard flesh"),
        ("cheese-hard", CHUNKS),
        ("cheese-mozzarella", CHUNKS),
        ("cheese-swiss", CHUNKS),
        ("cheese-gouda", CHUNKS),
        ("cheese-edam", CHUNKS),
        ("marshmallow", "a sticky sweet"),
        ("chewing-gum", "a sticky sweet"),
        ("hard-sweets", "hard to the end"),
        ("crisps", "brittle and sharp"),
        ("tomato-sun-dried", "leathery, like dried fruit"),
        ("java-plum", "round, with a stone"),
        ("fruit-cocktail-syrup", "grapes and cherries are in it"),
        ("ginger-fresh", "eaten by the pinch"),
        ("salmon-smoked", "sliced off the bone"),
        ("lentils-dry", SMALL),
        ("lentils-boiled", SMALL),
        ("lentils-sprouted", SMALL),
        ("red-lentils-dry", SMALL),
        ("green-grams-dry", SMALL),
        ("green-grams-boiled", SMALL),
        ("black-gram-dry", SMALL),
        ("black-gram-boiled", SMALL),
        ("split-peas-dry", SMALL),
        ("split-peas-boiled", SMALL),
        ("tofu", NO_SEED),
        ("tofu-soft", NO_SEED),
        ("tofu-fried", NO_SEED),
        ("tempeh", "pressed into a cake and sliced"),
    ]);
}

/// Tags that follow from the kind of food alone.
#[test]
fn other_hazards_follow_from_the_food() {
    use FoodClass as C;
    // Of the fish that authorities tell young children to avoid: king
    // mackerel, marlin, orange roughy, shark, swordfish and tilefish
    // (checked-secondary); bigeye tuna is not in SR28.
    const MERCURY: [&str; 6] = ["shark", "swordfish", "king mackerel", "marlin", "orange roughy", "tilefish"];
    // 1,000 mg nitrate a kilogram or more: EFSA 2008 (memory).
    const NITRATE: [&str; 16] = [
        "amaranth leaf",
        "spinach",
        "chard",
        "beet",
        "beetroot",
        "beet leaf",
        "lettuce",
        "celery",
        "mustard leaf",
        "nightshade leaf",
        "pak choi",
        "napa cabbage",
        "fennel",
        "cress",
        "rocket",
        "watercress",
    ];
    // Foods made of several, by recipes that differ.
    const COMPOUND: [&str; 40] = [
        "bread",
        "bread roll",
        "rusk",
        "crispbread",
        "breadcrumb",
        "cracker",
        "biscuit",
        "ketchup",
        "stock cube",
        "bouillon powder",
        "margarine",
        "sausage",
        "ham",
        "infant cereal",
        "mixed vegetable",
        "curry powder",
        "prepared mustard",
        "miso",
        "oyster sauce",
        "yeast extract",
        "baked bean",
        "salted peanut butter",
        "mayonnaise",
        "dark chocolate",
        "chocolate spread",
        "crisp",
        "drinking chocolate",
        "chocolate milk",
        "fruit yogurt",
        "fish finger",
        "luncheon meat",
        "salami",
        "black pudding",
        "liverwurst",
        "liver pate",
        "corned beef",
        "infant rice cereal",
        "infant oat cereal",
        "infant mixed cereal",
        "infant barley cereal",
    ];
    let mut faults = Faults::default();
    let mut tags = 0;
    for row in &larder() {
        let any = |names: &[&str]| names.iter().any(|name| is_called(row, &normal_name(name)));
        let milk = row.class == C::Milk && row.group == FoodGroup::Dairy && !any(&["yogurt"]);
        let herb = matches!(row.class, C::Spice | C::Other | C::Oil);
        for (tag, right) in [
            ("mercury-high", any(&MERCURY)),
            ("nitrate-leaf", any(&NITRATE) && !herb),
            ("milk-drink", milk),
            ("rice-drink", is_called(row, "rice drink")),
            ("tea-coffee", any(&["black tea", "coffee"])),
            ("bitter-cassava", is_called(row, "bitter cassava")),
            ("sweet-drink", any(&["soft drink", "fruit drink", "chocolate milk"])),
            ("hidden-allergens", any(&COMPOUND)),
            (
                "juice",
                is_called(row, "juice")
                    && row.group == FoodGroup::None
                    && matches!(row.class, C::Fruit | C::Citrus)
                    && !any(&["lemon", "lime"]),
            ),
        ] {
            tags += usize::from(row.has_hazard(tag));
            faults.check(row, row.has_hazard(tag) == right, &format!("{tag} should be {right}"));
        }
    }
    assert!(tags >= 110, "only {tags} tags");
    faults.settle(&[
        ("condensed-milk-sweetened", "counts for no group, and is drunk all the same"),
        ("chocolate-milk", "counts for no group, and is drunk all the same"),
    ]);
}

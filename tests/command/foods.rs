//! `porringer foods`

use crate::{Folder, exactly};

const PUMPKIN: &str = "\
pumpkin, raw
    also       boga, citrouille, courge, maboga, potiron
    states     raw, fresh
    row        usda:11422  Pumpkin, raw
    measures   0.49 g/mL; cubed 0.49 g/mL  (USDA SR28 weights)
    edible     0.7 of the weight as bought
    class      vegetable; group vitamin-a
    regions    east-africa, west-africa, andes, south-east-asia, mediterranean, north
    hazards    choke-hard
";

#[test]
fn a_food_is_found_in_three_languages() {
    let folder = Folder::new();
    for name in ["pumpkin", "boga", "maboga", "citrouille", "Potiron"] {
        let ran = folder.run(&["foods", name]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{name}");
        assert!(ran.out.starts_with(PUMPKIN), "{name}: {}", ran.out);
    }
    for (name, row) in [
        ("maharagwe mekundu", "usda:16032"),
        ("haricots rouges", "usda:16032"),
        ("yai", "usda:1123"),
        ("œuf", "usda:1123"),
        ("oeuf", "usda:1123"),
        ("courge", "usda:11422"),
        ("ndizi", "usda:9040"),
    ] {
        let ran = folder.run(&["foods", name]);
        assert_eq!(ran.code, 0, "{name}");
        assert!(ran.out.contains(row), "{name}: {}", ran.out);
    }
    // Two words, in one argument or in two.
    assert_eq!(folder.run(&["foods", "red", "kidney"]), folder.run(&["foods", "red kidney"]));
}

#[test]
fn a_food_is_found_by_its_row() {
    let folder = Folder::new();
    let ran = folder.run(&["foods", "usda:11422"]);
    assert_eq!(ran, exactly(0, PUMPKIN, ""));
    assert_eq!(folder.run(&["foods", "USDA:11422"]), ran);
    // A row that no food of the larder uses.
    let ran = folder.run(&["foods", "usda:35204"]);
    assert_eq!((ran.code, ran.out.lines().next()), (0, Some("Rows of USDA SR28, by number:")));
    assert!(ran.out.contains("usda:35204 "), "{}", ran.out);
}

#[test]
fn nothing_found_is_1() {
    let folder = Folder::new();
    assert_eq!(folder.run(&["foods", "qqqq"]), exactly(1, "no food is called `qqqq`\n", ""));
    let ran = folder.run(&["foods", "pumpkni"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert!(ran.out.starts_with("no food is called `pumpkni`; did you mean pumpkin"), "{}", ran.out);
    let ran = folder.run(&["foods", "usda:99999"]);
    assert_eq!(ran.code, 1, "{}", ran.out);
    assert_eq!(folder.run(&["foods"]).code, 2);
}

#[test]
fn a_further_table_is_searched_too() {
    let folder = Folder::with("lake.csv", "food,name,FE\n7,Lake weed,1.5\n");
    let ran = folder.run(&["foods", "weed", "--foods", "lake.csv"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.starts_with("lake:7  Lake weed\n"), "{}", ran.out);
    assert!(folder.run(&["foods", "lake:7", "--foods", "lake.csv"]).out.contains("Lake weed"));
}

#[test]
fn foods_of_a_region() {
    let folder = Folder::new();
    let ran = folder.run(&["foods", "--region", "andes"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    for name in ["quinoa, dry", "cañihua, dry", "cherimoya, raw", "lupin seeds, boiled", "egg"] {
        assert!(ran.out.lines().any(|line| line.contains(name)), "{name}: {}", ran.out);
    }
    assert!(!ran.out.contains("water spinach"), "{}", ran.out);
    let last = ran.out.lines().last().unwrap();
    assert!(last.ends_with(" forms: andes"), "{last}");
    // With words, only their foods; the composition table knows no regions.
    let ran = folder.run(&["foods", "--region", "andes", "quinoa"]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.starts_with("quinoa, dry\n") && !ran.out.contains("More rows"), "{}", ran.out);
    let ran = folder.run(&["foods", "--region", "north", "water spinach"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.starts_with("no food is called `water spinach` in north"), "{}", ran.out);
    assert_eq!(folder.run(&["foods", "--region", "atlantis"]).code, 2);
}

#[test]
fn what_an_author_says_of_a_food_is_understood() {
    let folder = Folder::new();
    let weights = |take: &str, more: &str| -> (Vec<String>, String) {
        folder.write(
            "x.dish",
            format!("dish X\nfor 12 to 23 months\nmakes 2 cups\ncooked 460 g\nportion 3/4 cup\ntake {take}\ntake 300 g potato, peeled as potato\n{more}"),
        );
        let ran = folder.run(&["trace", "x.dish"]);
        let rows = ran.out.lines().filter(|line| line.starts_with("    row ")).map(str::to_owned).collect();
        (rows, ran.out)
    };
    let method = "step boil fish, potato for 25 min; mash potato with fish\n";
    // A name between commas that is two words with `as` in it.
    let (_, out) = weights("200 g pumpkin, as bought as fish", method);
    assert!(out.contains("fish: 140 g"), "{out}");
    for (take, row) in [
        ("100 g Nile perch fillet as fish", "usda:15060"),
        ("10 g dagaa, powdered as fish", "usda:35184"),
        ("10 g omena, dried, powdered as fish", "usda:35184"),
    ] {
        let (rows, out) = weights(take, method);
        assert!(rows.iter().any(|line| line.contains(row)), "{take}: {out}");
    }
    // A state after the food of a swap is no food.
    let swap = format!("{method}swap fish for lentils, boiled, egg, boiled\n");
    weights("100 g chicken, minced as fish", &swap);
    let ran = folder.run(&["check", "x.dish", "--format", "short"]);
    assert!(!ran.out.contains("food/"), "{}", ran.out);
    let all = folder.run(&["nutrients", "x.dish", "--alternatives", "--format", "json"]).json();
    let foods: Vec<&str> =
        all["alternatives"].as_array().unwrap().iter().map(|one| one["food"].as_str().unwrap()).collect();
    assert_eq!(foods, ["lentils, boiled", "egg, boiled"], "{all}");
}

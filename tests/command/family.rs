//! The family's pot: what comes in after the child's portion is set aside does
//! not reach the child, in any figure or word.

use serde_json::Value;

use crate::Folder;

const CHILD: &str = "\
dish     Potato and fish from the family pot
for      9 to 11 months
makes    2 cups
cooked   450 g
portion  1/2 cup
claim    low in sodium
take     300 g potato, peeled, diced
take     120 g tilapia fillet as fish
take     1 tbsp sunflower oil as oil
";

const STEPS: &str = "\
step     boil potato for 20 min; drain potato
step     steam fish for 15 min; flake fish
step     mash potato with fish, oil
step     set aside child portion
";

/// Salt, sauce with gluten and soya, groundnuts that are whole, honey, wine.
fn family_pot() -> String {
    format!(
        "{CHILD}\
family   1 tbsp salt
family   3 tbsp soya sauce as sauce
family   4 tbsp groundnuts, roasted as groundnuts
family   1 tbsp honey
family   1/4 cup red wine as wine
family   1 egg
{STEPS}\
step     add salt, sauce, groundnuts, honey, wine, egg
step     leave everything for 4 h
serve    The child's share at once.
store    Groundnuts dry and closed.
"
    )
}

fn child_alone() -> String {
    format!("{CHILD}{STEPS}serve    The child's share at once.\n")
}

#[test]
fn nutrients_and_claims_are_those_of_the_childs_share() {
    let folder = Folder::new();
    folder.write("family.dish", family_pot());
    folder.write("child.dish", child_alone());
    let of = |file: &str| folder.run(&["nutrients", file, "--format", "json"]).json();
    let (family, child) = (of("family.dish"), of("child.dish"));
    for key in ["raw_g", "cooked_g", "nutrients", "portions", "food_groups", "claims", "allergens"] {
        assert_eq!(family[key], child[key], "{key}");
    }
    assert_eq!(family["allergens"], serde_json::json!(["fish"]));
    let own: Vec<&str> = family["family_allergens"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    for id in ["gluten", "soya", "peanuts", "eggs"] {
        assert!(own.contains(&id), "{id} in {own:?}");
    }
    assert!(!own.contains(&"fish"));
    assert_eq!(child["family_allergens"], serde_json::json!([]));
}

#[test]
fn no_rule_speaks_of_the_familys_share() {
    let folder = Folder::with("family.dish", family_pot());
    let ran = folder.check_json("family.dish");
    let loud: Vec<String> = ran
        .json()
        .as_array()
        .unwrap()
        .iter()
        .filter(|message| message["severity"] != "note")
        .map(crate::place)
        .collect();
    assert_eq!(loud, Vec::<String>::new());
}

/// The same foods taken for the child give each rule its message, so that the
/// silence above says something.
#[test]
fn the_same_foods_for_the_child_are_told() {
    let text = family_pot().replace("family   ", "take     ");
    let folder = Folder::with("child.dish", text);
    let found = folder.check_json("child.dish").places().join("\n");
    assert!(found.contains("method/used-after-set-aside"), "{found}");
    let text = family_pot().replace("family   ", "take     ").replace("step     set aside child portion\n", "");
    folder.write("child.dish", text);
    let found = folder.check_json("child.dish").places().join("\n");
    for code in [
        "safety/added-salt",
        "safety/salt-over-day",
        "safety/whole-nuts",
        "safety/honey-under-12-months",
        "safety/alcohol-not-for-children",
        "safety/raw-animal-food",
        "safety/held-warm",
        "claim/not-met",
    ] {
        assert!(found.contains(code), "{code} in\n{found}");
    }
}

#[test]
fn the_card_keeps_the_two_apart() {
    let folder = Folder::with("family.dish", family_pot());
    let ran = folder.run(&["build", "family.dish", "--language", "en", "--format", "json"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let name = folder.names("out").into_iter().find(|name| name.ends_with(".json")).unwrap();
    let data: Value = serde_json::from_slice(&folder.read(&format!("out/{name}"))).unwrap();
    let card = &data["cards"][0];
    let back = &card["back"]["allergens"];
    assert_eq!(back["items"], serde_json::json!(["fish"]));
    assert_eq!(back["family"].as_array().unwrap().len(), 5, "{back}");
    // The caution about a first time speaks of the child's food.
    let cautions: Vec<&str> = card["remarks"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|remark| remark["kind"] == "caution")
        .filter_map(|remark| remark["text"].as_str())
        .collect();
    assert_eq!(cautions.len(), 1, "{cautions:?}");
    assert!(cautions[0].contains("fish") && !cautions[0].contains("soya"), "{cautions:?}");
    // Its ingredients stand in a section of their own.
    assert_eq!(card["ingredients"]["family"]["items"].as_array().unwrap().len(), 6);
    let child = card["ingredients"]["sections"].to_string();
    assert!(child.contains("tilapia") && !child.contains("honey"), "{child}");
}

#[test]
fn a_rule_changed_for_an_inner_dish_is_on_the_outer_card() {
    let folder = Folder::with(
        "porringer.toml",
        "[rules]\n\"method/no-duration\" = { off = true, reason = \"the cooks know\" }\n",
    );
    folder.write(
        "recipes/sauce.dish",
        "dish Pumpkin sauce\nfor 9 to 23 months\nmakes 2 cups\ncooked 480 g\nportion 1/2 cup\ntake 400 g pumpkin, peeled, cubed\n\
         take 2 tbsp sunflower oil as oil\nstep boil pumpkin\nstep mash pumpkin with oil for 3 min\n",
    );
    folder.write(
        "recipes/rice.dish",
        "dish Rice in pumpkin sauce\nfor 9 to 23 months\nmakes 2 cups\ncooked 460 g\nportion 1/2 cup\n\
         take 1/2 cup white rice, dry as rice\ntake 100 g dish sauce as sauce\nstep boil rice for 25 min; mash rice with sauce\n",
    );
    let ran = folder.run(&["build", "recipes/rice.dish", "--format", "json", "--language", "en", "--out", "data"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let data: serde_json::Value = serde_json::from_slice(&folder.read("data/rice.json")).unwrap();
    let changed = data["cards"][0]["changed_rules"].as_array().unwrap();
    assert_eq!(changed.len(), 1, "{changed:?}");
    assert_eq!(changed[0]["code"], "method/no-duration");
    assert_eq!(changed[0]["messages"][0], "Pumpkin sauce: `boil` does not say for how long");
    // In the middle of a line the inner dish's title has a small letter.
    let take = data["cards"][0]["ingredients"].to_string();
    assert!(take.contains("pumpkin sauce") && !take.contains("Pumpkin sauce"), "{take}");
}

//! `porringer compare`

use git2::{IndexAddOption, Repository, Signature};
use serde_json::Value;

use crate::{BROKEN, Folder, MASH};

/// The mash with twice the groundnut paste.
fn richer() -> String {
    MASH.replace("2 tbsp groundnut", "4 tbsp groundnut")
}

fn two(before: &str, after: &str, more: &[&str]) -> crate::Ran {
    let folder = Folder::with("before.dish", before);
    folder.write("after.dish", after);
    folder.run(&[&["compare", "before.dish", "after.dish"], more].concat())
}

fn json(before: &str, after: &str) -> Value {
    let ran = two(before, after, &["--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{ran:?}");
    ran.json()
}

/// The one dish that differs.
fn change(before: &str, after: &str) -> Value {
    json(before, after)["changed"][0].clone()
}

/// Commits all that is in the folder.
fn commit(repository: &Repository, message: &str) {
    let mut index = repository.index().unwrap();
    index.add_all(["*"], IndexAddOption::DEFAULT, None).unwrap();
    index.update_all(["*"], None).unwrap();
    index.write().unwrap();
    let tree = repository.find_tree(index.write_tree().unwrap()).unwrap();
    let who = Signature::now("An author", "author@example.org").unwrap();
    let parent = repository.head().ok().and_then(|head| head.peel_to_commit().ok());
    let parents: Vec<_> = parent.iter().collect();
    repository.commit(Some("HEAD"), &who, &who, message, &tree, &parents).unwrap();
}

fn repository(folder: &Folder) -> Repository {
    let repository = Repository::init(folder.path("")).unwrap();
    // Whatever the machine's own settings say of line ends.
    repository.config().unwrap().set_bool("core.autocrlf", false).unwrap();
    repository
}

#[test]
fn what_reaches_the_child_comes_first() {
    let ran = two(MASH, &richer().replace("Warm, within 2 hours.", "Warm, within one hour."), &[]);
    assert_eq!(ran.code, 0);
    let at = |words: &str| ran.out.find(words).unwrap_or_else(|| panic!("{words}: {}", ran.out));
    let order = ["one portion at 9 to 11 months", "Protein", "energy", "ingredients", "text"];
    let places: Vec<usize> = order.iter().map(|words| at(words)).collect();
    assert!(places.is_sorted(), "{places:?}: {}", ran.out);
    assert!(
        ran.out.contains("groundnut paste  2 tablespoons groundnut paste, smooth (32 g) → 4 tablespoons"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("serve (en): Warm, within [-2 hours-][+one hour+]."), "{}", ran.out);
    assert_eq!(ran.err, "porringer: before.dish and after.dish: 1 changed\n");
}

/// The figures are those that `nutrients` gives of each state.
#[test]
fn the_figures_are_those_of_the_two_dishes() {
    let found = change(MASH, &richer());
    let band = &found["child"]["bands"][0];
    assert_eq!(band["band"], "9-11");
    let values = |text: &str, tag: &str| -> f64 {
        let folder = Folder::with("x.dish", text);
        let ran = folder.run(&["nutrients", "x.dish", "--format", "json"]);
        let object: Value = serde_json::from_str(ran.out.lines().next().unwrap()).unwrap();
        object["nutrients"][tag]["portions"]["9-11"].as_f64().unwrap()
    };
    let mut seen = 0;
    for nutrient in band["nutrients"].as_array().unwrap() {
        let tag = nutrient["tag"].as_str().unwrap();
        if ["PROCNT", "FE", "ZN", "CA"].contains(&tag) {
            seen += 1;
            for (at, text) in [MASH.to_owned(), richer()].iter().enumerate() {
                let (told, own) = (nutrient["values"][at].as_f64().unwrap(), values(text, tag));
                assert!((told - own).abs() < 1e-6 * own, "{tag} {told} {own}");
            }
            assert_ne!(nutrient["before"], nutrient["after"]);
        }
    }
    assert!(seen >= 3, "{band}");
}

#[test]
fn nothing_that_a_caregiver_would_notice() {
    let commented = format!("# A remark.\r\n{}", MASH.replace("dish     ", "dish  ").replace('\n', "\r\n"));
    // A review and a source are for the back's small print, a note for whoever
    // writes.
    for (after, words) in [
        (commented, "before.dish and after.dish: 1 changed"),
        (format!("{MASH}reviewed 2026-05-01 by nutritionist\nsource Cooking group\n"), "where the figures come from"),
        (format!("{MASH}note Liked by all.\n"), "note (en): [+Liked by all.+]"),
    ] {
        let ran = two(MASH, &after, &["--exit-code"]);
        assert_eq!(ran.code, 0, "{ran:?}");
        assert!(ran.out.contains("  nothing that a caregiver would notice\n"), "{ran:?}");
        assert!(ran.err.ends_with(": nothing that a caregiver would notice\n"), "{ran:?}");
        assert!(ran.out.contains(words) || ran.err.contains(words), "{ran:?}");
    }
    let found = json(MASH, &format!("{MASH}# end\n"));
    assert_eq!(found["noticed"], false);
}

#[test]
fn what_the_card_says_otherwise_is_noticed() {
    for (what, after, place) in [
        ("a gram of an ingredient", MASH.replace("300 g pumpkin", "301 g pumpkin"), "/ingredients/0/after"),
        ("the ages", MASH.replace("9 to 11 months", "9 to 23 months"), "/child/ages/after"),
        ("a time", MASH.replace("for 15 min", "for 25 min"), "/steps/0/after"),
        ("a translation", MASH.replace("Boga na karanga", "Boga na njugu"), "/texts/0/words/1/text"),
        (
            "an allergen",
            MASH.replace("groundnut paste, smooth", "sunflower oil as groundnut paste"),
            "/child/allergens/lost/0",
        ),
        ("the cooked weight", MASH.replace("360 g", "340 g"), "/child/bands/0/portion/after"),
        ("a claim", MASH.replace("portion ", "claim rich in vitamin A\nportion "), "/child/claims/gained/0"),
        ("a warning", MASH.replace("cubed", "cubed (100 g)"), "/child/messages/gained/0"),
    ] {
        let folder = Folder::with("before.dish", MASH);
        folder.write("after.dish", &after);
        folder.write("porringer.toml", "languages = [\"en\", \"sw\"]\n");
        let ran = folder.run(&["compare", "before.dish", "after.dish", "--exit-code", "--format", "json"]);
        let found = ran.json();
        assert!(found["changed"][0].pointer(place).is_some_and(Value::is_string), "{what}: {found:#}");
        if what != "a warning" {
            assert_eq!((ran.code, &found["noticed"]), (1, &Value::Bool(true)), "{what}: {found:#}");
        }
    }
}

#[test]
fn a_dish_that_breaks_is_noticed() {
    let found = change(MASH, BROKEN);
    assert_eq!(found["noticed"], true);
    assert_eq!(found["errors"], serde_json::json!([0, 1]));
    let messages = found["child"]["messages"]["gained"].to_string();
    assert!(messages.contains("error[food/unknown] no food is called `zzyzx`"), "{messages}");
    let ran = two(BROKEN, MASH, &[]);
    assert!(ran.out.contains("a card is made now: there were errors before"), "{}", ran.out);
}

#[test]
fn words_of_every_script_are_compared() {
    for (language, before, after, run) in [
        ("sw", "Uji wa mtama mzito", "Uji wa mahindi mzito", "[-mtama-][+mahindi+]"),
        ("am", "የማሽላ ገንፎ ወፍራም", "የበቆሎ ገንፎ ወፍራም", "[-የማሽላ-][+የበቆሎ+]"),
        ("ar", "عصيدة الذرة سميكة", "عصيدة القمح سميكة", "[-الذرة-][+القمح+]"),
        ("hi", "गाढ़ी बाजरा दलिया", "गाढ़ी मक्का दलिया", "[-बाजरा-][+मक्का+]"),
    ] {
        let dish = |text: &str| MASH.replace("in sw    Boga na karanga", &format!("in {language} {text}"));
        let ran = two(&dish(before), &dish(after), &[]);
        assert!(ran.out.contains(run), "{}", ran.out);
    }
}

#[test]
fn a_pull_request_gets_tables_and_no_markup_of_authors() {
    let nasty = richer().replace("Warm, within 2 hours.", "@all | <b>hot</b> [x](y)");
    let ran = two(MASH, &nasty, &["--format", "markdown"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.starts_with("## What changes for the child\n"), "{}", ran.out);
    assert!(ran.out.contains("| | before | now |\n|---|---|---|\n| Protein |"), "{}", ran.out);
    for markup in ["@all", "<b>", "[x](y)"] {
        assert!(!ran.out.contains(markup), "{markup}: {}", ran.out);
    }
    let same = two(MASH, &format!("{MASH}# x\n"), &["--format", "markdown"]);
    assert!(same.out.contains("**Nothing that a caregiver would notice**"), "{}", same.out);
}

#[test]
fn a_revision_is_checked_with_its_own_tables() {
    let folder = Folder::with("porringer.toml", "languages = [\"en\"]\ntables = [\"own.csv\"]\n");
    folder.write("own.csv", "food,name,ENERC_KCAL,PROCNT,FE\nx1,Reed cake,100,2,1\n");
    let dish = MASH.replace("2 tbsp groundnut paste, smooth", "60 g own:x1 as groundnut paste");
    folder.write("recipes/mash.dish", &dish);
    folder.write("recipes/gone.dish", MASH);
    folder.write("recipes/same.dish", MASH);
    let repository = repository(&folder);
    commit(&repository, "one");
    assert_eq!(
        folder.run(&["compare", "--since", "HEAD", "--exit-code"]).err,
        format!(
            "porringer: HEAD ({}) and the working files: 3 the same: nothing that a caregiver would notice\n",
            &repository.head().unwrap().target().unwrap().to_string()[..10]
        )
    );
    // No recipe changes, and yet the child gets something else.
    folder.write("own.csv", "food,name,ENERC_KCAL,PROCNT,FE\nx1,Reed cake,100,2,9\n");
    std::fs::remove_file(folder.path("recipes/gone.dish")).unwrap();
    folder.write("recipes/fresh.dish", MASH);
    let ran = folder.run(&["compare", "--since", "HEAD", "--format", "json", "--exit-code"]);
    assert_eq!(ran.code, 1);
    let found = ran.json();
    let titles = |key: &str| -> Vec<String> {
        found[key].as_array().unwrap().iter().map(|named| named["file"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(titles("new"), ["recipes/fresh.dish"]);
    assert_eq!(titles("removed"), ["recipes/gone.dish"]);
    assert_eq!(titles("changed"), ["recipes/mash.dish"]);
    assert_eq!(found["same"], 1);
    let iron = found["changed"][0]["child"]["bands"][0]["nutrients"].to_string();
    assert!(iron.contains("\"FE\""), "{iron}");
    // One file alone, one that is gone, and one that never was.
    let one = folder.run(&["compare", "recipes/same.dish", "--since", "HEAD"]);
    assert!(one.err.contains(": 1 the same"), "{one:?}");
    let gone = folder.run(&["compare", "recipes/gone.dish", "--since", "HEAD"]);
    assert!(gone.out.contains("removed dish Pumpkin and groundnut mash  (recipes/gone.dish)"), "{gone:?}");
    assert_eq!(folder.run(&["compare", "recipes/never.dish", "--since", "HEAD"]).code, 2);
}

#[test]
fn a_renamed_file_with_its_id_is_one_dish() {
    let folder = Folder::with("porringer.toml", "languages = [\"en\"]\n");
    let named = MASH.replace("for      ", "id       mash\nfor      ");
    folder.write("recipes/old.dish", &named);
    commit(&repository(&folder), "one");
    std::fs::rename(folder.path("recipes/old.dish"), folder.path("recipes/new.dish")).unwrap();
    let ran = folder.run(&["compare", "--since", "HEAD"]);
    assert!(ran.out.contains("(recipes/new.dish)\n  before: recipes/old.dish\n  nothing that"), "{ran:?}");
}

#[test]
fn two_folders_are_compared_by_the_names_in_them() {
    let folder = Folder::with("a/mash.dish", MASH);
    folder.write("a/gone.dish", MASH);
    folder.write("b/mash.dish", richer());
    folder.write("b/sub/new.dish", MASH);
    let ran = folder.run(&["compare", "a", "b"]);
    assert_eq!(ran.err, "porringer: a and b: 1 new, 1 removed, 1 changed\n");
}

#[test]
fn a_menus_day_is_compared() {
    let menu = "menu A\nfor 9 to 11 months, breastfed\nmeal 7:00 lunch: 1/2 cup dish mash\nsnack 9:00: 1 boiled egg\n";
    let folder = Folder::with("a/mash.dish", MASH);
    folder.write("b/mash.dish", richer());
    folder.write("a/day.menu", menu);
    folder.write("b/day.menu", menu);
    // The menu's own lines are the same, and the day is another.
    let ran = folder.run(&["compare", "a", "b", "--format", "json"]);
    let found = ran.json();
    let day = found["changed"].as_array().unwrap().iter().find(|change| change["kind"] == "menu").unwrap();
    assert_eq!(day["noticed"], true, "{day:#}");
    assert_eq!(day["lines"], serde_json::json!([]));
    let band = &day["child"]["bands"][0];
    assert_eq!((&band["of"], &band["band"]), (&Value::from("day"), &Value::from("9-11")));
    let iron = band["nutrients"].as_array().unwrap().iter().find(|row| row["tag"] == "FE").unwrap();
    assert!(iron["values"][0].as_f64() < iron["values"][1].as_f64(), "{iron}");
    assert!(band["energy"].as_array().is_some_and(|rows| !rows.is_empty()), "{band}");
    folder.write("b/mash.dish", MASH);
    folder.write("b/day.menu", menu.replace("lunch", "supper"));
    let ran = folder.run(&["compare", "a/day.menu", "b/day.menu"]);
    assert!(ran.out.contains("line 3  meal 7:00 lunch: 1/2 cup dish mash → meal 7:00 supper"), "{}", ran.out);
}

#[test]
fn faults_of_the_call() {
    let folder = Folder::with("a.dish", MASH);
    folder.write("b.menu", "menu A\n");
    folder.write("c/x.dish", MASH);
    for arguments in [&["a.dish"][..], &[], &["a.dish", "none.dish"], &["a.dish", "b.menu"], &["a.dish", "c"]] {
        let ran = folder.run(&[&["compare"], arguments].concat());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{arguments:?}: {ran:?}");
    }
    let ran = folder.run(&["compare", "a.dish", "--since", "HEAD"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("is in no git repository"), "{}", ran.err);
    commit(&repository(&folder), "one");
    let ran = folder.run(&["compare", "a.dish", "--since", "v99"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("there is no revision `v99`"), "{}", ran.err);
}

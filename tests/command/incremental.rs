//! What is up to date is left alone, and nothing else is.

use std::collections::BTreeMap;
use std::fs;
use std::time::SystemTime;

use crate::{BROKEN, Folder, MASH, Ran, exactly};

const LARDER: &str = r#"
[[food]]
id = "reed-pumpkin"
en = ["reed pumpkin"]
row = "usda:11422"
class = "vegetable"
group = "vitamin-a"
measures_source = "common practice, no source"
density = 0.5

[[food]]
id = "reed-cake"
en = ["reed cake"]
row = "usda:11422"
class = "vegetable"
group = "vitamin-a"
measures_source = "common practice, no source"
density = 0.5
"#;

/// A dish of one food.
fn dish(food: &str) -> String {
    format!(
        "dish     Mash of {food}\nfor      9 to 11 months\nmakes    1 cup\ncooked   240 g\nportion  1/2 cup\n\
         take     1 cup {food}\nstep     boil {food} for 15 min\nstep     mash {food} for 3 min\n"
    )
}

/// Three dishes, one made of another, and a larder of two foods.
fn workspace() -> Folder {
    let folder = Folder::with("porringer.toml", "larder = [\"larder.toml\"]\n");
    folder.write("larder.toml", LARDER);
    folder.write("recipes/pumpkin.dish", dish("reed pumpkin"));
    folder.write("recipes/cake.dish", dish("reed cake"));
    folder.write("recipes/both.dish", dish("reed cake").replace("1 cup reed cake", "1 cup dish pumpkin as reed cake"));
    folder
}

fn made(ran: &Ran) -> Vec<&str> {
    ran.out
        .lines()
        .filter_map(|line| line.split_once("  ").filter(|(_, rest)| rest.contains("made: ")))
        .map(|(name, _)| name)
        .collect()
}

fn why<'r>(ran: &'r Ran, name: &str) -> &'r str {
    let line = ran.out.lines().find(|line| line.starts_with(name)).unwrap_or_else(|| panic!("{name}: {ran:?}"));
    line[name.len()..].trim()
}

fn times(folder: &Folder) -> BTreeMap<String, SystemTime> {
    let time = |name: &String| fs::metadata(folder.path("out").join(name)).unwrap().modified().unwrap();
    folder.names("out").into_iter().map(|name| (name.clone(), time(&name))).collect()
}

#[test]
fn what_is_up_to_date_is_left_alone() {
    let folder = workspace();
    assert_eq!(folder.run(&["build"]), exactly(0, "", "porringer: 3 files in out: no errors\n"));
    let before = times(&folder);
    assert_eq!(folder.run(&["build"]), exactly(0, "", "porringer: 0 files in out, 3 up to date: no errors\n"));
    assert_eq!(times(&folder), before);
    let ran = folder.run(&["build", "recipes/cake.dish", "--explain"]);
    assert_eq!(ran.out, "cake.en.pdf  kept: nothing that it is made of changed\n");
    assert_eq!(folder.run(&["build", "--force"]).err, "porringer: 3 files in out: no errors\n");
    assert!(times(&folder).iter().all(|(name, time)| *time > before[name]));
}

#[test]
fn a_changed_dish_is_made_again_and_so_is_what_takes_it() {
    let folder = workspace();
    folder.run(&["build"]);
    folder.write("recipes/pumpkin.dish", dish("reed pumpkin").replace("cooked   240 g", "cooked   200 g"));
    let ran = folder.run(&["build", "--explain"]);
    assert_eq!(made(&ran), ["both.en.pdf", "pumpkin.en.pdf"], "{ran:?}");
    assert_eq!(why(&ran, "both.en.pdf"), "made: `recipes/pumpkin.dish` changed");
    assert_eq!(why(&ran, "cake.en.pdf"), "kept: nothing that it is made of changed");
    // What is not on the other card does not matter to it.
    folder.write(
        "recipes/pumpkin.dish",
        dish("reed pumpkin").replace("cooked   240 g", "cooked   200 g") + "serve    Warm.\n",
    );
    let ran = folder.run(&["build", "--explain"]);
    assert_eq!(made(&ran), ["pumpkin.en.pdf"], "{ran:?}");
    assert_eq!(why(&ran, "both.en.pdf"), "kept: `recipes/pumpkin.dish` changed, but not what it says");
}

#[test]
fn a_larder_row_concerns_its_dishes() {
    let folder = workspace();
    folder.run(&["build"]);
    folder.write("larder.toml", LARDER.replacen("11422", "11457", 1));
    let ran = folder.run(&["build", "--explain"]);
    assert_eq!(made(&ran), ["both.en.pdf", "pumpkin.en.pdf"], "{ran:?}");
    assert_eq!(why(&ran, "pumpkin.en.pdf"), "made: larder row `reed-pumpkin` changed");
    assert_eq!(why(&ran, "cake.en.pdf"), "kept: `larder.toml` changed, but not what it says");
}

#[test]
fn times_alone_mean_nothing() {
    let folder = workspace();
    folder.run(&["build"]);
    for name in ["recipes/cake.dish", "recipes/both.dish", "larder.toml", "porringer.toml"] {
        folder.write(name, folder.read(name));
    }
    assert_eq!(made(&folder.run(&["build", "--explain"])), Vec::<&str>::new());
    // The clock was put back, and the file is as long as it was.
    let old = fs::metadata(folder.path("recipes/cake.dish")).unwrap().modified().unwrap();
    folder.write("recipes/cake.dish", dish("reed cake").replace("cooked   240 g", "cooked   220 g"));
    let file = fs::File::options().write(true).open(folder.path("recipes/cake.dish")).unwrap();
    file.set_modified(old).unwrap();
    drop(file);
    assert_eq!(made(&folder.run(&["build", "--explain"])), ["cake.en.pdf"]);
    // A file from the future.
    let ahead = old + std::time::Duration::from_secs(90_000);
    folder.write("recipes/cake.dish", dish("reed cake").replace("cooked   240 g", "cooked   230 g"));
    fs::File::options().write(true).open(folder.path("recipes/cake.dish")).unwrap().set_modified(ahead).unwrap();
    assert_eq!(made(&folder.run(&["build", "--explain"])), ["cake.en.pdf"]);
    assert_eq!(made(&folder.run(&["build", "--explain"])), Vec::<&str>::new());
}

#[test]
fn an_output_that_is_not_what_was_made_is_made_again() {
    let folder = workspace();
    folder.run(&["build"]);
    let whole = folder.read("out/cake.en.pdf");
    folder.write("out/cake.en.pdf", &whole[..whole.len() / 2]);
    fs::remove_file(folder.path("out/pumpkin.en.pdf")).unwrap();
    let ran = folder.run(&["build", "--explain"]);
    assert_eq!(why(&ran, "cake.en.pdf"), "made: what was there is not what was last made");
    assert_eq!(why(&ran, "pumpkin.en.pdf"), "made: it was not there");
    assert_eq!(why(&ran, "both.en.pdf"), "kept: nothing that it is made of changed");
    assert_eq!(folder.read("out/cake.en.pdf"), whole);
    // One byte of the same length, and the time set back.
    let time = times(&folder)["cake.en.pdf"];
    let mut other = whole.clone();
    other[whole.len() / 2] ^= 1;
    folder.write("out/cake.en.pdf", &other);
    fs::File::options().write(true).open(folder.path("out/cake.en.pdf")).unwrap().set_modified(time).unwrap();
    assert_eq!(made(&folder.run(&["build", "--explain"])), ["cake.en.pdf"]);
    assert_eq!(folder.read("out/cake.en.pdf"), whole);
}

#[test]
fn what_the_call_asks_for_is_part_of_it() {
    let folder = workspace();
    folder.run(&["build"]);
    let a5 = folder.read("out/cake.en.pdf");
    let ran = folder.run(&["build", "--paper", "A4", "--explain"]);
    assert_eq!(made(&ran).len(), 3, "{ran:?}");
    assert_eq!(why(&ran, "cake.en.pdf"), "made: the paper changed");
    let ran = folder.run(&["build", "--template", "wall", "--explain"]);
    assert!(why(&ran, "cake.en.pdf").contains("the template `wall` is new to it"), "{ran:?}");
    folder.run(&["build"]);
    assert_eq!(folder.read("out/cake.en.pdf"), a5);
    // Another form of the same beside it, and another after a change.
    assert_eq!(folder.run(&["build", "--format", "json"]).err, "porringer: 3 files in out: no errors\n");
    folder.write("recipes/cake.dish", dish("reed cake").replace("cooked   240 g", "cooked   220 g"));
    assert_eq!(made(&folder.run(&["build", "--format", "json", "--explain"])), ["cake.json"]);
    assert_eq!(made(&folder.run(&["build", "--explain"])), ["cake.en.pdf"]);
    assert_eq!(made(&folder.run(&["build", "--explain", "--format", "pdf,json"])), Vec::<&str>::new());
}

#[test]
fn a_template_of_the_workspace_is_part_of_it() {
    let folder = workspace();
    folder.write("mine/template.toml", include_str!("../../templates/card/template.toml"));
    let text = include_str!("../../templates/card/card.typ");
    folder.write("mine/card.typ", text);
    folder.run(&["build", "--template", "mine"]);
    assert_eq!(made(&folder.run(&["build", "--template", "mine", "--explain"])), Vec::<&str>::new());
    folder.write("mine/card.typ", format!("{text}\n// A remark.\n"));
    assert_eq!(made(&folder.run(&["build", "--template", "mine", "--explain"])).len(), 3);
}

#[test]
fn messages_are_told_every_time() {
    let folder = Folder::with("a.dish", MASH);
    folder.write("b.dish", BROKEN);
    let first = folder.run(&["build", "a.dish", "b.dish"]);
    assert_eq!(first.code, 1);
    assert!(first.out.starts_with("food/unknown\n"), "{first:?}");
    let second = folder.run(&["build", "a.dish", "b.dish"]);
    assert_eq!((second.code, &second.out), (1, &first.out));
    assert_eq!(second.err, "porringer: 0 files in out, 1 up to date, 1 dish left out: 1 error\n");
    // A warning counts when it is denied, though nothing is checked anew.
    folder.write("a.dish", MASH.replace("cooked   360 g\n", "").replace("for 15 min", "for 15 minutes and a while"));
    let warned = folder.run(&["build", "a.dish"]);
    let again = folder.run(&["build", "a.dish"]);
    assert_eq!((warned.code, &warned.out), (again.code, &again.out));
}

#[test]
fn a_card_that_no_sheet_holds_is_an_error_every_time() {
    let mut text = MASH.to_owned();
    for _ in 0..60 {
        text.push_str(
            "tip      Keep the pot covered, stir it well, and let nobody go hungry at the lakeshore today.\n",
        );
    }
    let folder = Folder::with("long.dish", text);
    let first = folder.run(&["build", "long.dish"]);
    assert_eq!(first.code, 1, "{first:?}");
    assert!(first.out.contains("text/text-too-long-for-card"), "{first:?}");
    let second = folder.run(&["build", "long.dish", "--explain"]);
    assert_eq!(second.code, 1);
    assert_eq!(
        second.out.strip_prefix(&first.out),
        Some("long.en.pdf  left out: nothing that it is made of changed\n")
    );
    // The title has moved, the card has not.
    folder.write("long.dish", [b"# a remark\n".to_vec(), folder.read("long.dish")].concat());
    let third = folder.run(&["build", "long.dish"]);
    assert!(third.out.contains("[long.dish:2:"), "{third:?}");
    assert_eq!(third.code, 1);
}

#[test]
fn damaged_stamps_are_none() {
    let folder = workspace();
    folder.run(&["build"]);
    let whole = folder.read("out/.porringer/stamps");
    let cards: Vec<Vec<u8>> = folder.names("out").iter().map(|name| folder.read(&format!("out/{name}"))).collect();
    let mut other = whole.clone();
    let at = other.len() / 2;
    other[at] ^= 0x10;
    for bytes in [&whole[..whole.len() - 1], &other, b"", b"porringer stamps 1\n", b"porringer stamps 0\n rest"] {
        folder.write("out/.porringer/stamps", bytes);
        let ran = folder.run(&["build", "--explain"]);
        assert_eq!(ran.code, 0);
        assert_eq!(why(&ran, "cake.en.pdf"), "made: nothing was known of what was there");
        let now: Vec<Vec<u8>> = folder.names("out").iter().map(|name| folder.read(&format!("out/{name}"))).collect();
        assert!(now == cards);
        assert_eq!(folder.run(&["build"]).err, "porringer: 0 files in out, 3 up to date: no errors\n");
    }
}

#[test]
fn a_workspace_can_be_moved() {
    let folder = Folder::new();
    let old = workspace();
    old.run(&["build"]);
    fs::rename(old.path(""), folder.path("moved")).unwrap();
    let ran = folder.run(&["build", "moved/recipes", "--explain"]);
    assert_eq!(made(&ran), Vec::<&str>::new(), "{ran:?}");
}

#[test]
fn without_stamps_nothing_is_remembered() {
    let folder = workspace();
    let ran = folder.run(&["build", "--no-stamps"]);
    assert_eq!(ran.err, "porringer: 3 files in out: no errors\n");
    assert!(!folder.path("out/.porringer").exists());
    // The same bytes keep their time all the same.
    let before = times(&folder);
    assert_eq!(folder.run(&["build", "--no-stamps"]).err, "porringer: 0 files in out, 3 up to date: no errors\n");
    assert_eq!(times(&folder), before);
    assert!(!folder.path("out/.porringer").exists());
}

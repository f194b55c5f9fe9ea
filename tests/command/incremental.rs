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
    for bytes in [&whole[..whole.len() - 1], &other, b"", b"porringer stamps 2\n", b"porringer stamps 1\n rest"] {
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

const PICTURE: &str =
    "<svg xmlns='http://www.w3.org/2000/svg' width='40' height='40'><rect width='40' height='40' fill='#c60'/></svg>";

/// The same with a day and a booklet, whose own pages have a look of their own.
fn bound() -> Folder {
    let folder = workspace();
    folder.write("porringer.toml", "larder = [\"larder.toml\"]\nbooklet_template = \"look\"\n");
    let look = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/booklet");
    for entry in fs::read_dir(look).unwrap().map(Result::unwrap) {
        folder.write(&format!("look/{}", entry.file_name().to_string_lossy()), fs::read(entry.path()).unwrap());
    }
    folder.write("recipes/cover.svg", PICTURE);
    folder.write(
        "recipes/day.menu",
        "menu A day\nfor 9 to 11 months, breastfed\nmeal 8:00 breakfast: 1/2 cup dish pumpkin\n",
    );
    folder.write(
        "recipes/lake.booklet",
        "booklet Food of the lake\npicture cover.svg: A square\nsection Mashes\npage pumpkin\npage both\n\
         page menu day\nannex nutrients\n",
    );
    folder
}

fn replace(folder: &Folder, name: &str, from: &str, to: &str) {
    let text = String::from_utf8(folder.read(name)).unwrap();
    assert!(text.contains(from), "{name}");
    folder.write(name, text.replacen(from, to, 1));
}

#[test]
fn a_booklet_stands_with_all_that_it_binds() {
    let folder = bound();
    let first = folder.run(&["build", "--explain"]);
    assert_eq!(first.code, 0, "{first:?}");
    assert_eq!(
        made(&first),
        ["both.en.pdf", "cake.en.pdf", "day.en.pdf", "lake.en.pdf", "pumpkin.en.pdf"],
        "{first:?}"
    );
    let ran = folder.run(&["build", "--explain"]);
    assert_eq!(made(&ran), Vec::<&str>::new());
    assert_eq!(why(&ran, "lake.en.pdf"), "kept: nothing that it is made of changed");
    assert_eq!(ran.err, "porringer: 0 files in out, 5 up to date: 4 warnings\n");
    // Alone, it says what those that it binds are told, checked again or not.
    let alone = folder.run(&["build", "recipes/lake.booklet"]);
    assert_eq!(alone.err, "porringer: 0 files in out, 1 up to date: 4 warnings\n");
    assert!(alone.out.contains("menu/few-meals"), "{alone:?}");
    assert_eq!(folder.run(&["build", "recipes/lake.booklet", "--no-stamps"]), alone);
    assert_eq!(folder.run(&["build", "--locked"]).code, 0);
    assert_eq!(folder.run(&["build", "--force"]).err, "porringer: 5 files in out: 4 warnings\n");
    fs::remove_file(folder.path("out/lake.en.pdf")).unwrap();
    assert_eq!(made(&folder.run(&["build", "--explain"])), ["lake.en.pdf"]);
}

#[test]
fn a_booklet_is_made_again_with_all_that_it_binds() {
    let folder = bound();
    folder.run(&["build"]);
    type Change = fn(&Folder);
    let changes: [(&str, &[&str], Change); 11] = [
        ("a dish", &["lake.en.pdf"], |folder| replace(folder, "recipes/both.dish", "cooked   240 g", "cooked   210 g")),
        ("a dish that a dish takes", &["lake.en.pdf"], |folder| {
            replace(folder, "recipes/pumpkin.dish", "cooked   240 g", "cooked   200 g");
        }),
        ("a dish that it does not bind", &[], |folder| {
            replace(folder, "recipes/cake.dish", "cooked   240 g", "cooked   220 g");
        }),
        ("a day", &["lake.en.pdf"], |folder| replace(folder, "recipes/day.menu", "8:00", "8:30")),
        ("a larder row", &["lake.en.pdf"], |folder| replace(folder, "larder.toml", "11422", "11457")),
        ("its look", &["lake.en.pdf"], |folder| {
            let name = folder.names("look").into_iter().find(|name| name.ends_with(".typ")).unwrap();
            let text = String::from_utf8(folder.read(&format!("look/{name}"))).unwrap();
            folder.write(&format!("look/{name}"), format!("#set text(tracking: 0.2pt)\n{text}"));
        }),
        ("its picture", &["lake.en.pdf"], |folder| replace(folder, "recipes/cover.svg", "#c60", "#060")),
        ("its own text", &["lake.en.pdf"], |folder| {
            replace(folder, "recipes/lake.booklet", "section Mashes", "section Soft")
        }),
        ("its languages", &["lake.sw.pdf"], |folder| {
            replace(folder, "recipes/lake.booklet", "section", "language en, sw\nsection");
        }),
        ("the settings", &["lake.en.pdf", "lake.sw.pdf"], |folder| {
            folder.write("porringer.toml", [folder.read("porringer.toml"), b"footer = \"Lake\"\n".to_vec()].concat());
        }),
        // Of two that share a name the first has it; the other has an id.
        ("which dish has a name", &["lake.en.pdf", "lake.sw.pdf"], |folder| {
            let text = String::from_utf8(folder.read("recipes/pumpkin.dish")).unwrap().replace("Mash of", "Soft");
            replace(folder, "recipes/pumpkin.dish", "\nfor ", "\nid       gourd\nfor ");
            folder.write("recipes/other.dish", text.replace("\nfor ", "\nid       pumpkin\nfor "));
        }),
    ];
    for (what, concerns, change) in changes {
        let before = folder.read("out/lake.en.pdf");
        change(&folder);
        let ran = folder.run(&["build", "--explain"]);
        let now: Vec<&str> = made(&ran).into_iter().filter(|name| name.starts_with("lake.")).collect();
        assert_eq!(now, concerns, "{what}: {ran:?}");
        assert_eq!(folder.read("out/lake.en.pdf") != before, now.contains(&"lake.en.pdf"), "{what}");
        let again = folder.run(&["build", "--explain"]);
        assert_eq!(made(&again), Vec::<&str>::new(), "{what}");
        // It makes everything and holds it against what is there.
        assert_eq!(folder.run(&["build", "--locked"]).code, 0, "{what}");
    }
}

#[test]
fn a_booklet_remembers_how_it_was_called() {
    let folder = bound();
    folder.run(&["build"]);
    let paper = folder.run(&["build", "--paper", "A4", "--explain"]);
    assert_eq!(why(&paper, "lake.en.pdf"), "made: `page 0` changed; `page 1` changed; `page 2` changed");
    let tongue = folder.run(&["build", "--language", "sw", "--explain"]);
    assert!(made(&tongue).contains(&"lake.sw.pdf"), "{tongue:?}");
    let data = folder.run(&["build", "--format", "pdf,json", "--explain"]);
    assert!(made(&data).contains(&"lake.json"), "{data:?}");
    assert_eq!(made(&folder.run(&["build", "--format", "pdf,json", "--explain"])), Vec::<&str>::new());
    // One with a fault among its pages is left out, as often as it is asked for.
    folder.write("recipes/both.dish", BROKEN);
    for _ in 0..2 {
        let ran = folder.run(&["build"]);
        assert_eq!(ran.code, 1);
        let left = "porringer: recipes/lake.booklet is left out until these pages are mended: `both`\n";
        assert!(ran.err.starts_with(left), "{ran:?}");
    }
}

//! After any change, what is made again is what two full builds would differ
//! in, and what is kept is what a full build would make.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use crate::killed::Chance;
use crate::{Folder, MASH};

const LARDER: &str = r#"
[[food]]
id = "reed-pumpkin"
en = ["reed pumpkin"]
row = "lake:R1"
class = "vegetable"
group = "vitamin-a"
measures_source = "common practice, no source"
density = 0.5

[[food]]
id = "reed-cake"
en = ["reed cake"]
row = "lake:R2"
class = "vegetable"
group = "vitamin-a"
measures_source = "common practice, no source"
density = 0.6
"#;

const TABLE: &str =
    "food,name,ENERC_KCAL,PROCNT,FE\nR1,Reed pumpkin,30,1.0,0.8\nR2,Reed cake,40,2.0,0.9\nR3,Reed,1,1,1\n";

fn dish(food: &str) -> String {
    MASH.replace("300 g pumpkin, peeled, cubed", &format!("300 g {food} as pumpkin"))
}

fn workspace() -> Folder {
    let folder = Folder::with(
        "recipes/porringer.toml",
        "languages = [\"en\", \"sw\"]\nlarder = [\"larder.toml\"]\ntables = [\"lake.csv\"]\nfooter = \"one\"\n",
    );
    folder.write("recipes/larder.toml", LARDER);
    folder.write("recipes/lake.csv", TABLE);
    folder.write("recipes/pumpkin.dish", dish("reed pumpkin"));
    folder.write("recipes/cake.dish", dish("reed cake"));
    folder.write("recipes/plain.dish", MASH);
    folder.write("recipes/outer.dish", dish("dish pumpkin"));
    folder.write("recipes/outermost.dish", dish("dish outer"));
    folder.write(
        "recipes/day.menu",
        "menu A day\nfor 9 to 11 months, breastfed\nmeal 8:00 breakfast: 1/2 cup dish pumpkin\n\
         meal 13:00 lunch: 1/2 cup dish plain\n",
    );
    folder
}

fn replace(folder: &Folder, name: &str, from: &str, to: &str) {
    let text = String::from_utf8(folder.read(name)).unwrap();
    folder.write(name, text.replacen(from, to, 1));
}

/// One of the changes that authors make.
fn change(folder: &Folder, chance: &mut Chance) -> String {
    let number = chance.below(90) + 10;
    let names = ["pumpkin", "cake", "plain", "outer", "outermost"];
    let name = format!("recipes/{}.dish", names[chance.below(names.len())]);
    match chance.below(12) {
        0 => {
            let text = String::from_utf8(folder.read(&name)).unwrap();
            let line = text.lines().find(|line| line.starts_with("cooked")).unwrap().to_owned();
            folder.write(&name, text.replace(&line, &format!("cooked   3{number} g")));
            format!("{name}: its weight")
        }
        1 => {
            replace(folder, &name, "serve ", &format!("tip      Tip {number}.\nserve "));
            format!("{name}: a tip")
        }
        2 => {
            let text = folder.read(&name);
            folder.write(&name, [format!("# remark {number}\n").into_bytes(), text].concat());
            format!("{name}: a remark")
        }
        3 => {
            replace(folder, "recipes/larder.toml", "density = 0.5", &format!("density = 0.5{number}"));
            "larder: a density that no line asks for".to_owned()
        }
        4 => {
            replace(folder, "recipes/lake.csv", "Reed pumpkin,30,1.0", &format!("Reed pumpkin,{number},1.0"));
            let text = String::from_utf8(folder.read("recipes/lake.csv")).unwrap();
            let line = text.lines().nth(1).unwrap().to_owned();
            folder.write("recipes/lake.csv", text.replace(&line, &format!("R1,Reed pumpkin,{number},1.0,0.8")));
            "table: reed pumpkin".to_owned()
        }
        5 => {
            folder.write("recipes/lake.csv", format!("{TABLE}X{number},Nothing,1,1,1\n"));
            "table: a row that nobody takes, and the others as they were".to_owned()
        }
        6 => {
            let text = String::from_utf8(folder.read("recipes/porringer.toml")).unwrap();
            let line = text.lines().find(|line| line.starts_with("footer")).unwrap().to_owned();
            folder.write("recipes/porringer.toml", text.replace(&line, &format!("footer = \"foot {number}\"")));
            "settings: the footer".to_owned()
        }
        7 => {
            folder.write(&format!("recipes/new-{number}.dish"), dish("reed cake"));
            "a new dish".to_owned()
        }
        8 => {
            replace(folder, &name, "Pumpkin and groundnut mash", &format!("Mash {number}"));
            format!("{name}: its title")
        }
        9 => {
            replace(folder, "recipes/larder.toml", "\"reed cake\"]", &format!("\"reed cake\", \"cake {number}\"]"));
            "larder: another name".to_owned()
        }
        10 => {
            let path = folder.path(&name);
            let text = fs::read(&path).unwrap();
            fs::write(&path, text).unwrap();
            format!("{name}: saved without a change")
        }
        _ => {
            replace(folder, "recipes/day.menu", "A day", &format!("A day {number}"));
            "the menu's title".to_owned()
        }
    }
}

fn files(folder: &Folder, out: &str) -> BTreeMap<String, Vec<u8>> {
    folder.names(out).into_iter().map(|name| (name.clone(), folder.read(&format!("{out}/{name}")))).collect()
}

#[test]
fn what_is_made_again_is_what_differs() {
    let folder = workspace();
    let seed = std::env::var("PORRINGER_SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(20_261_125);
    // More with time to spare, as in `.ci/run`.
    let steps = std::env::var("PORRINGER_STEPS").ok().and_then(|steps| steps.parse().ok()).unwrap_or(6);
    let mut chance = Chance::new(seed);
    let call = ["build", "--format", "pdf,json"];
    let first = folder.run(&[&call[..], &["--out", "full"]].concat());
    assert_eq!(first.code, 0, "{first:?}");
    folder.run(&call);
    let mut before = files(&folder, "full");
    assert_eq!(before.len(), 6 * 3, "{:?}", before.keys());
    for step in 0..steps {
        // Sometimes several changes between two builds.
        let changes: Vec<String> = (0..=chance.below(3) / 2).map(|_| change(&folder, &mut chance)).collect();
        let said = format!("seed {seed}, step {step}: {changes:?}");
        let ran = folder.run(&[&call[..], &["--explain"]].concat());
        fs::remove_dir_all(folder.path("full")).unwrap();
        let full = folder.run(&[&call[..], &["--out", "full"]].concat());
        assert_eq!((ran.code, full.code), (0, 0), "{said}: {ran:?} {full:?}");
        let now = files(&folder, "full");
        let differ: BTreeSet<&str> = now
            .iter()
            .filter(|(name, bytes)| before.get(*name) != Some(bytes))
            .map(|(name, _)| name.as_str())
            .collect();
        let made: BTreeSet<&str> = ran
            .out
            .lines()
            .filter_map(|line| line.split_once(' ').filter(|(_, rest)| rest.trim_start().starts_with("made: ")))
            .map(|(name, _)| name)
            .collect();
        assert_eq!(made, differ, "{said}\n{}", ran.out);
        assert!(files(&folder, "out") == now, "{said}");
        before = now;
    }
}

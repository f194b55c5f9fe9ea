//! Whatever is changed, the preview sets anew what two full builds, before and
//! after, would have made otherwise, and nothing else.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use porringer::cli::Input;
use porringer::cli::build::choice::Look;
use porringer::watch::board::Board;
use porringer::watch::scan::{Call, scan};
use proptest::prelude::*;
use serde_json::Value;

use super::{BOWL, DAY, LARDER, PROFILE, ROOT, SETTINGS, TABLE, WEED};
use crate::Folder;

/// The files that make up the workspace, each in one of several states.
const FILES: [&str; 8] = [
    "recipes/weed.dish",
    "recipes/root.dish",
    "recipes/bowl.dish",
    "recipes/day.menu",
    "lake.csv",
    "own.toml",
    "national.toml",
    "porringer.toml",
];
const STATES: u8 = 6;

/// The text of a file in a state; none where it is not there.
fn text(file: usize, state: u8) -> Option<String> {
    let dish = |text: &str, name: &str| match state {
        0 => Some(text.to_owned()),
        // The same for the child, and to the letter.
        1 => Some(format!("# a word to the editor\n{}", text.replace("dish ", "dish  "))),
        2 => Some(text.replace("440 g", "470 g")),
        3 => Some(text.replace(name, &format!("{name}, well mashed"))),
        // A fault, and no file at all.
        4 => Some(text.replace("mash ", "mesh ")),
        _ => None,
    };
    Some(match file {
        0 => return dish(WEED, "Weed mash"),
        1 => return dish(ROOT, "Root mash"),
        2 => return dish(BOWL, "Two in a bowl"),
        3 => match state {
            0 | 1 => format!("{DAY}# {state}\n"),
            2 => DAY.replace("1/4 cup ripe mango", "1/2 cup ripe mango"),
            3 => DAY.replace("12:00 lunch: 1/2 cup dish root", "12:00 lunch: 1/2 cup dish weed"),
            4 => DAY.replace("dish root", "dish rooot"),
            _ => return None,
        },
        4 => match state {
            0 | 1 => format!("{TABLE}9,Nothing that is eaten,{state},1,1\n"),
            2 => TABLE.replace("30,2.0", "80,6.0"),
            3 => TABLE.replace("90,0.5", "120,0.9"),
            4 => TABLE.replace("30,2.0", "31,"),
            _ => TABLE.to_owned(),
        },
        5 => match state {
            0 | 1 => format!("{LARDER}# {state}\n"),
            2 => LARDER.replace("density = 0.5\n", "density = 0.6\n"),
            3 => LARDER.replace("density = 0.6\n", "density = 0.7\n"),
            4 => LARDER.replace("[\"reed root\"]", "[\"reed root\", \"marsh root\"]"),
            _ => LARDER.replace("class = \"root\"", "class = \"vegetable\""),
        },
        6 => match state {
            0..=2 => format!("{PROFILE}# {state}\n"),
            3 => PROFILE.replace("2026", "2027"),
            _ => PROFILE.replace("Halamoya guidance", "Guidance of the lakeshore"),
        },
        _ => match state {
            0 | 1 => format!("{SETTINGS}# {state}\n"),
            2 => format!("{SETTINGS}footer = \"Of the lake\"\n"),
            3 => format!("{SETTINGS}paper = \"A4\"\n"),
            4 => SETTINGS.replace("[\"en\"]", "[\"en\", \"sw\"]"),
            _ => format!("{SETTINGS}template = \"wall\"\n"),
        },
    })
}

/// A card as a full build makes it.
#[derive(PartialEq)]
struct Built {
    pdf: Vec<u8>,
    data: Value,
}

/// All cards, by name.
fn build(folder: &Folder) -> BTreeMap<String, Built> {
    let _ = fs::remove_dir_all(folder.path("out"));
    let ran = folder.run(&["build", "recipes", "--format", "pdf,json"]);
    assert!(ran.code < 2, "{ran:?}");
    let mut built = BTreeMap::new();
    for name in folder.names("out").iter().filter_map(|name| name.strip_suffix(".pdf")) {
        let (stem, tag) = name.split_once('.').unwrap();
        let data: Value = serde_json::from_slice(&folder.read(&format!("out/{stem}.json"))).unwrap();
        let data = data["cards"].as_array().unwrap().iter().find(|card| card["lang"] == tag).unwrap().clone();
        built.insert(name.to_owned(), Built { pdf: folder.read(&format!("out/{name}.pdf")), data });
    }
    built
}

fn agrees(changes: &[Vec<(usize, u8)>]) {
    let folder = Folder::with("prices.csv", "food,unit,price,currency,date,place\n");
    let mut states = [0; FILES.len()];
    let write = |file: usize, state: u8| match text(file, state) {
        Some(text) => folder.write(FILES[file], text),
        None => drop(fs::remove_file(folder.path(FILES[file]))),
    };
    (0..FILES.len()).for_each(|file| write(file, 0));
    let call = Call {
        input: Input { paths: vec![folder.path("recipes")], foods: Vec::new() },
        look: Look { language: Vec::new(), paper: None, template: None, font: Vec::new() },
    };
    let (board, mut look) = (Board::default(), None);
    let mut known: BTreeMap<String, Built> = BTreeMap::new();
    for change in std::iter::once(&Vec::new()).chain(changes) {
        for &(file, state) in change {
            states[file] = state;
            write(file, state);
        }
        let news: BTreeSet<String> = board.take(scan(&call, &mut look)).cards.into_iter().collect();
        let now = build(&folder);
        for (name, built) in &now {
            let was = known.get(name);
            let pages = was.is_none_or(|was| was.pdf != built.pdf);
            // A figure may change in a place that its template does not print.
            let data = was.is_none_or(|was| was.data != built.data);
            assert!(news.contains(name) || !pages, "{name} would be another card, and is not set: {states:?}");
            assert!(!news.contains(name) || pages || data, "{name} is set for nothing: {states:?}");
        }
        for name in &news {
            assert!(now.contains_key(name), "{name} is set and not built: {states:?}");
        }
        // A document with faults keeps its cards; one that is gone, or is not
        // made in a language any more, has none.
        let sound: BTreeSet<&str> = now.keys().map(|name| name.split('.').next().unwrap()).collect();
        known.retain(|name, _| {
            let stem = name.split('.').next().unwrap();
            let file = FILES.iter().position(|file| file.contains(&format!("/{stem}."))).unwrap();
            !sound.contains(stem) && text(file, states[file]).is_some()
        });
        known.extend(now);
    }
}

/// One of each kind, so that no luck is needed.
#[test]
fn of_every_kind_of_change() {
    let changes: Vec<Vec<(usize, u8)>> = vec![
        vec![(0, 1), (3, 1), (4, 1), (5, 1), (6, 1), (7, 1)],
        vec![(1, 2)],
        vec![(5, 2)],
        vec![(1, 4)],
        vec![(1, 2), (4, 3)],
        vec![(2, 5), (7, 4)],
        vec![(2, 0), (7, 0), (6, 3)],
        vec![(7, 5)],
    ];
    agrees(&changes);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn of_any_changes(changes in prop::collection::vec(prop::collection::vec((0..FILES.len(), 0..STATES), 1..4), 1..5)) {
        agrees(&changes);
    }
}

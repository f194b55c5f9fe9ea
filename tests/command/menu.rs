//! `porringer menu`, and menus in `trace`, `nutrients`, `check` and `build`

use std::path::Path;

use lopdf::Document;
use serde_json::Value;

use crate::{Folder, exactly};

/// Two foods and a fruit of an own table, so that every sum below can be
/// worked out by hand.
const TABLE: &str = "\
food,name,ENERC_KCAL,FE,RETOL
1,Lake porridge,80,0.5,0
2,Lake fish,120,1.0,20
3,Lake fruit,50,0.2,
4,Lake liver,140,6.0,700
";

const DAY: &str = "\
menu     A day by hand
for      12 to 23 months, breastfed
meal     7:00 breakfast: 200 g lake:1
meal     12:30 lunch: 150 g lake:1, 50 g lake:2
snack    15:00: 60 g lake:3
meal     18:00 supper: 100 g lake:2 or 100 g lake:4
";

fn by_hand() -> Folder {
    let folder = Folder::with("lake.csv", TABLE);
    folder.write("day.menu", DAY);
    folder
}

/// The demo set in a folder of its own.
fn demo() -> Folder {
    let folder = Folder::new();
    let recipes = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    for entry in std::fs::read_dir(recipes).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.extension().is_some_and(|ending| ending == "dish" || ending == "menu") {
            folder.write(&format!("recipes/{name}"), std::fs::read(&path).unwrap());
        }
    }
    folder.write("recipes/porringer.toml", "languages = [\"en\"]\n");
    folder
}

fn close(value: &Value, wanted: f64) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((value - wanted).abs() < 1e-6, "{value} is not {wanted}");
}

#[test]
fn the_day_s_sums_are_those_of_a_hand() {
    let folder = by_hand();
    folder.write("day.menu", DAY.replace(" or 100 g lake:4", ""));
    let ran = folder.run(&["nutrients", "day.menu", "--foods", "lake.csv", "--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str(), ran.out.lines().count()), (0, "", 1), "{ran:?}");
    let menu = ran.json();
    assert_eq!((&menu["schema"], &menu["id"]), (&"porringer-menu/1".into(), &"day".into()));
    let day = &menu["bands"]["12-23"];
    // Energy: 200 g x 0.80 + 150 g x 0.80 + 50 g x 1.20 + 60 g x 0.50 + 100 g x 1.20
    //       = 160 + 120 + 60 + 30 + 120 = 490 kcal; milk 346 kcal (Dewey and
    //       Brown 2003); 490 of 550 and 836 of 894.
    let energy = &day["nutrients"]["ENERC_KCAL"];
    close(&energy["food"], 490.0);
    close(&energy["milk"], 346.0);
    close(&day["energy"]["food_need"], 550.0);
    close(&day["energy"]["day"], 836.0);
    close(&day["energy"]["day_need"], 894.0);
    // Iron: 1.0 + 0.75 + 0.5 + 0.12 + 1.0 = 3.37 mg; milk 494 mL x 1.04 g/mL x
    //       0.03 mg / 100 g = 0.154128 mg (SR28 row 1107); need 7 mg (NASEM).
    let iron = &day["nutrients"]["FE"];
    close(&iron["food"], 3.37);
    close(&iron["milk"], 0.154128);
    close(&iron["day"], 3.524128);
    close(&iron["need"], 7.0);
    close(&iron["share"], 3.524128 / 7.0);
    assert_eq!(iron["complete"], true);
    // Retinol: 10 + 20 µg of fish; the fruit's is not known: a lower bound,
    // and no figure to hold a limit against.
    let retinol = &day["nutrients"]["RETOL"];
    close(&retinol["food"], 30.0);
    assert_eq!((&retinol["complete"], &retinol["at_most"]), (&false.into(), &Value::Null));
    close(&day["breast_milk"]["ml"], 494.0);
    close(&day["breast_milk"]["g"], 513.76);
    assert_eq!(day["breast_milk"]["volume_status"], "computed");
    assert_eq!((&day["meals"], &day["snacks"]), (&3.into(), &1.into()));
}

#[test]
fn trace_shows_every_sum() {
    let folder = by_hand();
    let ran = folder.run(&["trace", "day.menu", "FE", "--foods", "lake.csv"]);
    let table = "\
FE Iron, mg, 12-23 months

item         row          g  per 100 g    brings    at most
lake:1       lake:1     200        0.5         1          1
lake:1       lake:1     150        0.5      0.75       0.75
lake:2       lake:2      50          1       0.5        0.5
lake:3       lake:3      60        0.2      0.12       0.12
lake:2       lake:2     100          1         1          1
breast milk  usda:1107  513.76       0.03    0.1541     0.1541

food: 3.37 mg
day: 3.5241 mg = 3.37 food + 0.1541 breast milk
need: 7 mg (NASEM, Dietary Reference Intakes, summary tables in Sodium and Potassium, appendix J, checked-official); the day is 50.3 %
";
    let squeezed = |text: &str| -> String {
        text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ") + "\n").collect()
    };
    assert!(squeezed(&ran.out).contains(&squeezed(table)), "{}", ran.out);
    assert!(ran.out.contains("  or (alternative 1) lake:4: 100 g, 100 g\n"), "{}", ran.out);
}

#[test]
fn every_alternative_is_judged() {
    let folder = by_hand();
    let ran = folder.run(&["check", "day.menu", "--foods", "lake.csv", "--format", "json"]);
    let messages = ran.json();
    let over = messages.as_array().unwrap().iter().find(|one| one["code"] == "safety/retinol-over-limit");
    // 10 µg of fish and 700 µg of liver in place of 20.
    let over = over.unwrap_or_else(|| panic!("{messages}"));
    assert_eq!(over["message"], "the day at 12-23 months has 710 µg retinol; the limit is 600");
    assert!(over["labels"].to_string().contains("with `lake:4` instead"), "{over}");
    // Without the alternative there is nothing to say about retinol.
    folder.write("day.menu", DAY.replace(" or 100 g lake:4", ""));
    let ran = folder.run(&["check", "day.menu", "--foods", "lake.csv", "--format", "json"]);
    assert!(!ran.out.contains("retinol"), "{}", ran.out);
}

#[test]
fn the_limit_of_retinol_is_reached_by_a_few_grams_of_liver() {
    // 6.4 g of braised beef liver (usda:13326, 9428 µg per 100 g) hold 603 µg.
    let folder = Folder::new();
    let menu = |grams: &str| {
        format!(
            "menu A day\nfor 12 to 23 months, breastfed\nmeal 7:00: 1/2 cup plain yogurt\n\
             meal 12:00: {grams} g usda:13326, 3/4 cup potato, boiled\nmeal 18:00: 3/4 cup white rice, boiled\n"
        )
    };
    folder.write("more.menu", menu("6.5"));
    folder.write("less.menu", menu("2"));
    let over = |name: &str| folder.check_json(name).places().iter().any(|place| place.contains("retinol-over-limit"));
    assert!(over("more.menu"));
    assert!(!over("less.menu"));
}

#[test]
fn a_single_food_meets_the_rules_of_a_dish() {
    let folder = Folder::with(
        "day.menu",
        "menu A day\nfor 6 to 8 months, breastfed\nmeal 7:00: 1 tsp honey\nmeal 12:00: 1 egg, raw\n",
    );
    let codes = folder.check_json("day.menu").places();
    assert!(codes.iter().any(|place| place == "3:12 safety/honey-under-12-months"), "{codes:?}");
    assert!(codes.iter().any(|place| place == "4:13 safety/raw-animal-food"), "{codes:?}");
}

#[test]
fn menu_check_prints_the_day() {
    let folder = demo();
    let ran = folder.run(&["menu", "check", "recipes/market-day.menu"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, "porringer: 1 menu checked: no errors\n"), "{}", ran.out);
    for line in [
        "A market day  (recipes/market-day.menu)\nfor 12 to 23 months, breastfed\n",
        "meals 3, snacks 1: 4 in all, 3 needed\n",
        "the cook's day\n",
        "soak red kidney beans (184 g) for 8 h to 12 h, for lunch",
        "the day before",
    ] {
        assert!(ran.out.contains(line), "`{line}` is not in {}", ran.out);
    }
    // Soaking is the first thing that the cook does.
    let work = ran.out.split("the cook's day\n").nth(1).unwrap();
    assert!(work.lines().next().unwrap().contains("soak red kidney beans"), "{work}");
    let none = folder.run(&["menu", "check", "recipes/avocado-banana-mash.dish"]);
    assert_eq!(none, exactly(2, "", "porringer: there is no menu among these files\n"));
}

#[test]
fn a_comma_parts_items_and_states() {
    let folder = demo();
    folder.write(
        "recipes/commas.menu",
        "menu Commas\nfor 12 to 23 months, breastfed\nmeal 7:00: millet-groundnut-porridge, 1 small banana\n\
         meal 12:00: red-bean-pumpkin-mash, avocado-banana-mash\nmeal 18:00: 1/4 cup ripe papaya, mashed, dish soft-maize-porridge\n",
    );
    let ran = folder.run(&["nutrients", "recipes/commas.menu", "--format", "json"]);
    let menu = ran.json();
    let rows: Vec<String> = menu["bands"]["12-23"]["items"]
        .as_array()
        .unwrap()
        .iter()
        .map(|item| item["row"].as_str().unwrap().to_owned())
        .collect();
    assert_eq!(
        rows,
        [
            "dish millet-groundnut-porridge",
            "usda:9040",
            "dish red-bean-pumpkin-mash",
            "dish avocado-banana-mash",
            "usda:9226",
            "dish soft-maize-porridge"
        ]
    );
    // A dish without an amount is its own portion for the age: 3/4 cup.
    let dish = folder.run(&["nutrients", "recipes/millet-groundnut-porridge.dish", "--format", "json"]).json();
    let portion = dish["portions"]["12-23"]["grams"].as_f64().unwrap();
    close(&menu["bands"]["12-23"]["items"][0]["g"], portion);
}

#[test]
fn a_menu_card_is_made_in_each_language() {
    let folder = demo();
    let ran = folder.run(&["menu", "build", "recipes/day-at-home.menu", "--language", "en,sw,fr", "--out", "cards"]);
    assert_eq!(ran, exactly(0, "", "porringer: 3 files in cards: no errors\n"));
    for (lang, title, head) in [
        ("en", "A day at home", "What the day gives"),
        ("sw", "Siku ya nyumbani", "Siku hii inatoa nini"),
        ("fr", "Une journée à la maison", "Ce que donne la journée"),
    ] {
        let document = Document::load_mem(&folder.read(&format!("cards/day-at-home.{lang}.pdf"))).unwrap();
        assert_eq!(document.get_pages().len(), 2, "{lang}");
        let pages: Vec<u32> = document.get_pages().into_keys().collect();
        let text: String = document.extract_text(&pages).unwrap().split_whitespace().collect();
        for words in [title, head] {
            let words: String = words.split_whitespace().collect();
            assert!(text.contains(&words), "{lang}: `{words}` is not in {text}");
        }
        let catalog = document.catalog().unwrap();
        assert!(catalog.has(b"StructTreeRoot"), "{lang}");
    }
    // Plain `build` makes them too, and the same bytes.
    let again = folder.run(&["build", "recipes/day-at-home.menu", "--language", "en", "--out", "again"]);
    assert_eq!(again.code, 0, "{again:?}");
    assert_eq!(folder.read("cards/day-at-home.en.pdf"), folder.read("again/day-at-home.en.pdf"));
}

#[test]
fn a_menu_with_an_error_makes_no_card() {
    let folder = demo();
    folder
        .write("recipes/day.menu", "menu A day\nfor 12 to 23 months, breastfed\nmeal 7:00: 1 cup dish no-such-dish\n");
    let ran = folder.run(&["build", "recipes/day.menu", "--out", "cards"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.ends_with("0 files in cards, 1 menu left out: 1 error, 1 warning\n"), "{}", ran.err);
}

#[test]
fn proposed_days_pass_the_check() {
    let folder = demo();
    let call = ["menu", "suggest", "--for", "12 to 23 months", "--days", "3", "--meals", "3", "--snacks", "1"];
    let ran = folder.run(&[&call[..], &["--out", "recipes/plan.menu"]].concat());
    assert_eq!(ran.code, 0, "{ran:?}");
    let written: Vec<String> = folder.names("recipes").into_iter().filter(|name| name.starts_with("plan")).collect();
    assert_eq!(written, ["plan-1.menu", "plan-2.menu", "plan-3.menu"]);
    for name in &written {
        let path = format!("recipes/{name}");
        let checked = folder.run(&["menu", "check", &path, "--deny", "warnings"]);
        assert_eq!(checked.code, 0, "{checked:?}");
        let text = String::from_utf8(folder.read(&path)).unwrap();
        assert_eq!(text.lines().filter(|line| line.starts_with("meal ")).count(), 3, "{text}");
        assert_eq!(text.lines().filter(|line| line.starts_with("snack ")).count(), 1, "{text}");
        // What no day can reach is named.
        assert!(text.contains("vitamin D ("), "{text}");
    }
    // No dish more than twice over the days.
    let all: String =
        written.iter().map(|name| String::from_utf8(folder.read(&format!("recipes/{name}"))).unwrap()).collect();
    for name in folder.names("recipes").iter().filter_map(|name| name.strip_suffix(".dish")) {
        let servings = all
            .lines()
            .filter(|line| !line.starts_with('#'))
            .map(|line| line.matches(&format!("dish {name}")).count())
            .sum::<usize>();
        assert!(servings <= 2, "{name}: {servings} in {all}");
    }
    // The same call gives the same bytes.
    let first = folder.run(&call);
    assert_eq!(folder.run(&call), first);
}

#[test]
fn a_day_without_breast_milk_has_milk_twice() {
    let folder = demo();
    let ran = folder.run(&[
        "menu",
        "suggest",
        "--for",
        "12 to 23 months",
        "--not-breastfed",
        "--meals",
        "3",
        "--snacks",
        "2",
        "--out",
        "plan.menu",
    ]);
    assert_eq!(ran.code, 0, "{ran:?}");
    folder.write("recipes/plan.menu", folder.read("plan.menu"));
    let checked = folder.run(&["menu", "check", "recipes/plan.menu", "--deny", "warnings"]);
    assert_eq!(checked.code, 0, "{checked:?}");
}

#[test]
fn a_wrong_wish_is_a_fault_of_usage() {
    let folder = demo();
    let ran = folder.run(&["menu", "suggest", "--for", "9 to 23 months"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("within one band: \"6 to 8 months\""), "{}", ran.err);
    let ran = folder.run(&["menu", "suggest", "--for", "12 to 23 months", "--season", "marhc"]);
    assert_eq!(ran, exactly(2, "", "porringer: `marhc` is no month; did you mean `march`?\n"));
    let ran = folder.run(&["menu", "suggest", "--for", "12 to 23 months", "--out", "plan.txt"]);
    assert_eq!(ran, exactly(2, "", "porringer: `plan.txt` does not end in .menu\n"));
    // One porridge alone has no flesh food and too few groups.
    let ran = folder.run(&["menu", "suggest", "recipes/millet-groundnut-porridge.dish", "--for", "12 to 23 months"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.err.starts_with("porringer: no day 1 can be made"), "{}", ran.err);
}

/// A day of the demo set, with these prices and settings.
fn priced(prices: &str, settings: &str, more: &[&str]) -> (Folder, crate::Ran) {
    let folder = demo();
    folder.write("recipes/prices.csv", prices);
    folder.write("recipes/porringer.toml", format!("languages = [\"en\"]\nprices = \"prices.csv\"\n{settings}"));
    let ran =
        folder.run(&[&["menu", "suggest", "--for", "12 to 23 months", "--meals", "3", "--snacks", "1"], more].concat());
    (folder, ran)
}

fn demo_prices() -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes/prices.csv")).unwrap()
}

/// The lines of a proposed menu that say what is eaten.
fn eaten(text: &str) -> Vec<&str> {
    text.lines().filter(|line| line.starts_with("meal ") || line.starts_with("snack ")).collect()
}

/// The comments of a proposed menu as one line.
fn said(text: &str) -> String {
    let lines: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("# ")).collect();
    lines.join(" ")
}

fn cost(text: &str) -> f64 {
    let said = said(text);
    let sum = said.split("needs as well: ").nth(1).and_then(|rest| rest.split(" shilling").next());
    sum.unwrap_or_else(|| panic!("{said}")).trim_start_matches("at least ").parse().unwrap()
}

#[test]
fn a_proposed_day_is_the_cheapest() {
    let prices = demo_prices();
    let (_, day) = priced(&prices, "", &[]);
    assert_eq!(day.code, 0, "{day:?}");
    // Ten times the prices: the same day, ten times the sum.
    let dear: String = prices
        .lines()
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            match cells.iter().position(|cell| *cell == "shilling") {
                Some(at) if !line.starts_with('#') => {
                    let mut cells: Vec<String> = cells.iter().map(|cell| (*cell).to_owned()).collect();
                    cells[at - 1].push('0');
                    cells.join(",") + "\n"
                }
                _ => format!("{line}\n"),
            }
        })
        .collect();
    let (_, again) = priced(&dear, "", &[]);
    assert_eq!(eaten(&again.out), eaten(&day.out));
    assert!((cost(&again.out) - 10.0 * cost(&day.out)).abs() < 0.1, "{} {}", again.out, day.out);
    // Without a list, weight is made least, and that is said.
    let weight = demo().run(&["menu", "suggest", "--for", "12 to 23 months", "--meals", "3", "--snacks", "1"]);
    assert!(said(&weight.out).contains("Least weight of food"), "{}", weight.out);
    assert!(said(&weight.out).contains("the workspace has no price list"), "{}", weight.out);
}

#[test]
fn what_has_no_price_is_named_and_never_guessed() {
    // Every dish with maize flour in it has no full price.
    let prices: String =
        demo_prices().lines().filter(|line| !line.contains("maize flour")).map(|line| format!("{line}\n")).collect();
    let (folder, day) = priced(&prices, "", &["--out", "plan.menu"]);
    assert_eq!(day.code, 0, "{day:?}");
    let text = String::from_utf8(folder.read("plan.menu")).unwrap();
    let behind = said(&text);
    let behind = behind.split("taken only where needs are not met as well without it: ").nth(1).unwrap();
    assert!(behind.contains("maize flour"), "{text}");
    // What is in the day and has no price is told beside the sum.
    let maize = eaten(&text).iter().any(|line| line.contains("soft-maize-porridge") || line.contains("maize-cakes"));
    assert_eq!(said(&text).split("taken only").next().unwrap().contains("maize flour"), maize, "{text}");
    // A fault of the list is told, at its place.
    let (_, ran) = priced("food,unit,price,currency\negg,piece,12,shilling\nmnago,kg,1,shilling\n", "", &[]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("prices.csv:3:1: error[workspace/table-error] no food is called `mnago`"), "{}", ran.err);
}

#[test]
fn a_season_leaves_out_what_is_not_to_be_had() {
    let settings = "[season]\n\"ripe papaya\" = \"may to july\"\nonion = \"may to july\"\n";
    let day = |month: &str| priced(&demo_prices(), settings, &["--season", month, "--days", "3"]).1;
    let december = day("december");
    let comments = said(&december.out);
    let out = comments.split("Left out, not in season in december: ").nth(1).unwrap();
    // A food of the list, and a dish by its own line.
    assert!(out.contains("ripe papaya (may to july)"), "{comments}");
    assert!(out.contains("avocado-banana-mash (march to september)"), "{comments}");
    assert!(!eaten(&december.out).iter().any(|line| line.contains("papaya")), "{}", december.out);
    // A dish with onion in it says itself that it is made all year.
    assert!(comments.contains("whose own `season` line goes before that of a food"), "{comments}");
    assert!(!said(&day("june").out).contains("ripe papaya (may"), "{comments}");
    // Without the dish's own line its foods decide.
    let folder = demo();
    folder.write("recipes/porringer.toml", settings);
    let stew = String::from_utf8(folder.read("recipes/lake-fish-leaf-stew.dish")).unwrap();
    folder.write("recipes/lake-fish-leaf-stew.dish", stew.replace("season   all year\n", ""));
    let ran = folder.run(&["menu", "suggest", "--for", "12 to 23 months", "--season", "december"]);
    assert!(said(&ran.out).contains("lake-fish-leaf-stew (for want of onion)"), "{ran:?}");
}

#[test]
fn what_would_help_is_of_the_region_and_in_season() {
    let menu = "menu A day\nfor 12 to 23 months, breastfed\nmeal 7:00: 3/4 cup white rice, boiled\n\
                meal 12:00: 3/4 cup potato, boiled\nmeal 18:00: 3/4 cup white rice, boiled\nseason december\n";
    let short = |settings: &str| {
        let folder = Folder::with("porringer.toml", settings);
        folder.write("day.menu", menu);
        let out = folder.run(&["menu", "check", "day.menu"]).out;
        let lines: Vec<String> = out.lines().filter(|line| line.starts_with("short of ")).map(str::to_owned).collect();
        (lines.join("\n"), out)
    };
    let (any, _) = short("");
    for region in ["east-africa", "andes"] {
        let (lines, out) = short(&format!("region = \"{region}\"\n"));
        assert!(!lines.is_empty() && lines != any, "{out}");
        for food in lines.lines().flat_map(|line| line.split([';', ':']).skip(2)).flat_map(|list| list.split(" or ")) {
            let Some((_, name)) = food.trim().split_once(" g ") else { continue };
            let found = Folder::new().run(&["foods", "--region", region, name.split(',').next().unwrap()]);
            assert_eq!(found.code, 0, "{region}: {name}");
        }
        for never in ["spleen", "linseed", "chia"] {
            assert!(!lines.contains(never), "{lines}");
        }
    }
    // Pumpkin leaves close vitamin A only where they are to be had.
    let (lines, out) = short(
        "region = \"east-africa\"\n[season]\n\"sweet potato\" = \"may to july\"\n\"orange sweet potato\" = \"may to july\"\ncarrot = \"june\"\n",
    );
    let vitamin_a =
        lines.lines().find(|line| line.starts_with("short of vitamin A")).unwrap_or_else(|| panic!("{out}"));
    let (now, later) = vitamin_a.split_once("; only in ").unwrap_or_else(|| panic!("{vitamin_a}"));
    assert!(!now.contains("carrot") && !now.contains("orange sweet potato"), "{vitamin_a}");
    assert!(later.contains("carrot") || later.contains("orange sweet potato"), "{vitamin_a}");
}

#[test]
fn a_small_need_is_met_with_smaller_portions() {
    let folder = demo();
    let ran = folder.run(&["menu", "suggest", "--for", "9 to 11 months", "--out", "recipes/plan.menu"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let text = String::from_utf8(folder.read("recipes/plan.menu")).unwrap();
    assert!(said(&text).contains("Meals from half the usual portion"), "{text}");
    assert_eq!(folder.run(&["menu", "check", "recipes/plan.menu", "--deny", "warnings"]).code, 0);
}

#[test]
fn a_meal_has_a_name_in_each_language() {
    let folder = Folder::with(
        "day.menu",
        "menu A day\nfor 12 to 23 months, breastfed\nmeal 7:00 first porridge: 3/4 cup plain yogurt\nin sw uji wa kwanza\n\
         snack 10:00 mid-morning: 1 banana\nmeal 12:00 lunch: 3/4 cup white rice, boiled, 1 egg, boiled\n\
         meal 18:00: 3/4 cup lentils, boiled\n",
    );
    let names = |language: &str| -> Vec<String> {
        let ran = folder.run(&["build", "day.menu", "--language", language, "--format", "json", "--out", "data"]);
        assert_eq!(ran.code, 0, "{ran:?}");
        let data: Value = serde_json::from_slice(&folder.read("data/day.json")).unwrap();
        let card = if data["cards"].is_array() { data["cards"][0].clone() } else { data };
        let meals = card["eat"]["meals"].as_array().unwrap().clone();
        meals.iter().map(|meal| meal["name"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(names("sw"), ["Uji wa kwanza", "Katikati ya asubuhi", "Chakula cha mchana", "Mlo"]);
    assert_eq!(names("fr"), ["First porridge", "Milieu de matinée", "Déjeuner", "Repas"]);
    // A meal without a name has nothing to translate.
    folder.write("bad.menu", "menu A day\nfor 12 to 23 months\nmeal 7:00: 1 banana\nin sw ndizi\n");
    let ran = folder.run(&["check", "bad.menu", "--format", "short"]);
    assert!(ran.out.contains("the `meal` line above has no text to translate"), "{}", ran.out);
}

#[test]
fn a_menu_of_hundreds_of_items_is_told_to_be_unjudged() {
    let meal = |at: usize| format!("meal {}:{:02}: 10 g banana or 10 g honey\n", at / 60, at % 60);
    let text = |items: usize| -> String {
        let lines: String = (0..items).map(meal).collect();
        format!("menu Long\nfor 12 to 23 months, breastfed\n{lines}")
    };
    let folder = Folder::new();
    let told = |items: usize| {
        folder.write("long.menu", text(items));
        let places = folder.check_json("long.menu").places();
        places.iter().any(|place| place.ends_with("syntax/too-large"))
    };
    assert!(told(201));
    assert!(!told(200));
}

const POOR: &str = "\
menu     A poor day
in sw    Siku haba
for      12 to 23 months, breastfed
meal     8:00 breakfast: 1 small banana
meal     12:00 elevenses: 1 small banana
meal     18:00 night cup: 1/2 cup white rice, boiled
in sw    Kikombe cha usiku
";

#[test]
fn a_meal_of_an_own_name_wants_it_in_every_language() {
    let folder = Folder::with("day.menu", POOR);
    folder.write("porringer.toml", "languages = [\"en\", \"sw\"]\n");
    let ran = folder.run(&["check", "day.menu", "--format", "short"]);
    let told: Vec<&str> = ran.out.lines().filter(|line| line.contains("text/missing-translation")).collect();
    assert_eq!(told, ["day.menu:5:16: warning[text/missing-translation] this meal has no name in `sw`"], "{ran:?}");
    // What is said to be missing is what `translate` offers a place for.
    let ran = folder.run(&["translate", "day.menu", "--to", "sw"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let text = String::from_utf8(folder.read("day.menu")).unwrap();
    assert!(text.contains("elevenses: 1 small banana\nin sw"), "{text}");
    folder.write("day.menu", text.replace("small banana\nin sw", "small banana\nin sw    Chai"));
    let ran = folder.run(&["check", "day.menu", "--format", "short"]);
    assert!(!ran.out.contains("text/missing-translation"), "{ran:?}");
}

#[test]
fn what_is_proposed_against_a_gap_is_what_a_child_eats() {
    let folder = Folder::with("day.menu", POOR);
    let iron = |more: &str| {
        folder.write("own.toml", format!("extends = \"default\"\n\n[profile]\nid = \"own\"\ntitle = \"Own\"\nedition = \"1\"\nnote = \"A test.\"\n{more}"));
        folder.write("porringer.toml", "profile = \"own.toml\"\n");
        let ran = folder.run(&["menu", "check", "day.menu"]);
        assert_eq!(ran.code, 0, "{ran:?}");
        ran.out.lines().find(|line| line.starts_with("short of iron")).unwrap_or_else(|| panic!("{ran:?}")).to_owned()
    };
    let cap = |grams: &str| {
        format!(
            "\n[menu]\nhelping_most = {{ value = {grams}, source = \"Own practice\", year = 2026, status = \"memory\" }}\n"
        )
    };
    // 69 g of heart would close it: more than is proposed unless the profile
    // says so.
    assert!(!iron("").contains("chicken heart"), "{}", iron(""));
    assert!(iron(&cap("100.0")).contains("69 g chicken heart"), "{}", iron(&cap("100.0")));
}

#[test]
fn a_day_says_what_it_costs_and_by_which_old_prices() {
    let folder = Folder::with("day.menu", POOR);
    folder.write("porringer.toml", "prices = \"prices.csv\"\n");
    // A kilogram of banana flesh is bought as 1000 / 0.64 g, by SR28's refuse.
    folder.write(
        "prices.csv",
        "food,unit,price,currency,date,place\nbanana,kg,64,shilling,2024-05-01,market\nlentils,kg,90,shilling,2026-05-01,market\n",
    );
    let line = |ran: &crate::Ran, from: &str| {
        ran.out.lines().find(|line| line.trim_start().starts_with(from)).map(str::to_owned)
    };
    let ran = folder.run(&["menu", "check", "day.menu"]);
    assert_eq!(
        line(&ran, "cost:").as_deref(),
        Some("cost: at least 20.20 shilling, what the child eats as bought"),
        "{ran:?}"
    );
    assert_eq!(
        line(&ran, "without a price").as_deref().map(str::trim),
        Some("without a price, not in the sum: white rice, boiled")
    );
    assert_eq!(
        line(&ran, "prices over").as_deref().map(str::trim),
        Some("prices over twelve months old, or of no known date: banana, raw")
    );
    // On a day of that year none was old.
    let then = folder.run_with(&["menu", "check", "day.menu"], &[("SOURCE_DATE_EPOCH", "1735689600")]);
    assert_eq!(line(&then, "prices over"), None, "{then:?}");
    folder.write("porringer.toml", "");
    assert_eq!(line(&folder.run(&["menu", "check", "day.menu"]), "cost:"), None);
}

#[test]
fn a_proposal_points_out_old_prices() {
    let old = demo_prices().replace("2026-", "2019-").replace("2025-", "2019-");
    let (_, day) = priced(&old, "", &[]);
    let text = said(&day.out);
    assert!(text.contains("Prices over twelve months old, or of no known date: "), "{text}");
    let (_, fresh) = priced(&demo_prices(), "", &[]);
    assert!(!said(&fresh.out).contains("twelve months old"), "{}", fresh.out);
}

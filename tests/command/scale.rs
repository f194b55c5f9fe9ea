//! `porringer scale`

use std::collections::BTreeMap;

use serde_json::Value;

use crate::{BROKEN, Folder, MASH, demo};

const EGG: &str = "recipes/egg-sweet-potato-mash.dish";

#[test]
fn the_table_of_a_demo_dish() {
    let ran = demo().run(&["scale", EGG, "--portions", "20", "--age", "9 to 11 months"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert_eq!(ran.out, TABLE);
}

const TABLE: &str = "\
Egg and sweet potato mash  (recipes/egg-sweet-potato-mash.dish)
5 5/7 times the recipe: 20 portions of 1/2 cup (129 g) at 9-11 months; makes 10 cups

                                    measure        error       exactly    recipe   weight  as bought
white sweet potatoes, peeled        11            -3.8 %        11 3/7         2  1.43 kg    1.99 kg
  or orange sweet potatoes, peeled  11            -3.8 %                          1.43 kg    1.99 kg
tomato                              5 1/2 medium  -3.8 %  5 5/7 medium  1 medium    676 g      743 g
sunflower oil                       1/3 cup       -2.8 %    5 5/7 tbsp    1 tbsp     77 g       77 g
eggs                                11            -3.8 %        11 3/7         2    484 g      550 g

eggs: stays whole, 11 for 11 3/7 (-3.8 %); by 5 1/2 it comes out even
pot: 4.5 L or more, so that it is filled to two thirds (common practice, no source)
times: cooking times do not scale; count them from the boil (common practice, no source)
";

#[test]
fn alternatives_swaps_family_and_other_dishes_scale() {
    let folder = demo();
    let ran = folder.run(&["scale", "recipes/red-bean-pumpkin-mash.dish", "--makes", "10 cups"]);
    assert_eq!((ran.code, ran.out.as_str()), (0, BEANS));
    let ran = folder.run(&["scale", "recipes/pumpkin-leaf-relish.dish", "--by", "2", "1/2"]);
    assert!(ran.out.contains("`porringer scale soft-maize-porridge.dish --makes \"3 3/4 cups\"`"), "{}", ran.out);
}

const BEANS: &str = "\
Red bean and pumpkin mash  (recipes/red-bean-pumpkin-mash.dish)
3 1/3 times the recipe: 13.3 portions of 3/4 cup (197 g) at 12-23 months; makes 10 cups

                            measure             error     exactly   recipe  weight  as bought
red kidney beans, dry       3 1/3 cups          exact  3 1/3 cups    1 cup   613 g      613 g
pumpkin, peeled, cubed      6 2/3 cups          exact  6 2/3 cups   2 cups   817 g    1.17 kg
  swap orange sweet potato  6 2/3 cups          exact                        937 g     1.3 kg
  swap butternut squash     6 2/3 cups          exact                        987 g    1.17 kg
groundnut paste, smooth     6 2/3 tbsp          exact  6 2/3 tbsp   2 tbsp   108 g      108 g
red palm oil                1/4 cup + 3/4 tsp  -0.6 %  13 1/3 tsp    4 tsp    60 g       60 g
  or sunflower oil          1/4 cup + 3/4 tsp  -0.6 %                         61 g       61 g
iodised salt (family)       1 2/3 tsp           exact   1 2/3 tsp  1/2 tsp    10 g       10 g

pot: 4 L or more, so that it is filled to two thirds (common practice, no source)
times: cooking times do not scale; count them from the boil (common practice, no source)
";

fn factor(arguments: &[&str]) -> (i64, i64, bool) {
    let object = demo().run(&[&["scale"], arguments, &["--format", "json"]].concat()).json();
    let factor = &object["factor"];
    (
        factor["numerator"].as_i64().unwrap(),
        factor["denominator"].as_i64().unwrap(),
        object["approximate"].as_bool().unwrap(),
    )
}

#[test]
fn factors_are_exact_where_the_recipe_is() {
    // 20 × 1/2 cup of 1 3/4 cups; 10 of 3 cups; 20 portions of 2 of 12 pieces.
    assert_eq!(factor(&[EGG, "--portions", "20", "--age", "9 to 11 months"]), (40, 7, false));
    // Without an age the largest portion, 3/4 cup.
    assert_eq!(factor(&[EGG, "--portions", "20"]), (60, 7, false));
    assert_eq!(factor(&["recipes/red-bean-pumpkin-mash.dish", "--makes", "10 cups"]), (10, 3, false));
    // 2 1/2 L are 10 cups of 250 mL.
    assert_eq!(factor(&["recipes/red-bean-pumpkin-mash.dish", "--makes", "2.5 L"]), (10, 3, false));
    assert_eq!(factor(&["recipes/maize-cakes-cowpea-filling.dish", "--portions", "20"]), (10, 3, false));
    assert_eq!(factor(&["recipes/green-banana-beef-mash.dish", "--from", "1 kg minced beef"]), (20, 3, false));
    assert_eq!(factor(&["recipes/red-bean-pumpkin-mash.dish", "--from", "1 kg red kidney beans"]), (125, 23, false));
    assert_eq!(factor(&[EGG, "--from", "12 eggs"]), (6, 1, false));
    assert_eq!(factor(&[EGG, "--by", "2 1/2"]), (5, 2, false));
    assert_eq!(factor(&[EGG, "--by", "2", "1/2"]), (5, 2, false));
    // 2 cups of pumpkin weigh what the larder says: near, and said so. As
    // bought, 30 % of it is refuse.
    let beans = "recipes/red-bean-pumpkin-mash.dish";
    let (top, bottom, near) = factor(&[beans, "--from", "3 kg pumpkin"]);
    assert!(near);
    let (bought, parts, _) = factor(&[beans, "--from", "3 kg pumpkin, as bought"]);
    let ratio = (bought as f64 / parts as f64) / (top as f64 / bottom as f64);
    assert!((ratio - 0.7).abs() < 1e-4, "{ratio}");
}

#[test]
fn eggs_stay_whole_and_say_when_they_come_out_even() {
    let object = demo().run(&["scale", EGG, "--by", "1.3", "--format", "json"]).json();
    let eggs = object["lines"].as_array().unwrap().iter().find(|line| line["food"] == "eggs").unwrap();
    // 2 × 1.3 = 2.6
    assert_eq!((&eggs["exactly"], &eggs["measure"]), (&"2.6".into(), &"3".into()));
    assert!((eggs["error"].as_f64().unwrap() - (3.0 / 2.6 - 1.0)).abs() < 1e-12);
    assert_eq!(eggs["even_by"]["value"], 1.5);
    assert_eq!(eggs["within_tolerance"], false);
}

/// Nutrients of a portion by band and tag.
fn portions(folder: &Folder, dish: &str) -> BTreeMap<String, f64> {
    let ran = folder.run(&["nutrients", dish, "--format", "json"]);
    let dish = ran.json();
    let mut found = BTreeMap::new();
    for (tag, figure) in dish["nutrients"].as_object().unwrap() {
        for (band, value) in figure["portions"].as_object().unwrap() {
            found.extend(value.as_f64().map(|value| (format!("{band} {tag}"), value)));
        }
    }
    assert!(found.len() > 40, "{ran:?}");
    found
}

#[test]
fn a_scaled_dish_is_the_same_dish() {
    let folder = demo();
    let dishes: Vec<String> = folder
        .names("recipes")
        .into_iter()
        .filter(|name| name.ends_with(".dish"))
        .map(|name| format!("recipes/{name}"))
        .collect();
    assert!(dishes.len() >= 13);
    for dish in &dishes {
        let before = portions(&folder, dish);
        for by in ["1", "7/3", "5", "1.85", "3/2", "12"] {
            let ran = folder.run(&["scale", dish, "--by", by, "--format", "dish"]);
            assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{dish}");
            let old = String::from_utf8(folder.read(dish)).unwrap();
            if by == "1" {
                assert_eq!(ran.out, old, "{dish}");
                continue;
            }
            // Comments, prose and portions are as they were.
            assert_eq!(ran.out.lines().count(), old.lines().count());
            let amount = |line: &&str| {
                ["take ", "family ", "makes ", "cooked ", "swap "].iter().any(|word| line.starts_with(word))
            };
            let kept = |text: &str| text.lines().filter(|line| !amount(line)).collect::<Vec<_>>().join("\n");
            assert_eq!(kept(&ran.out), kept(&old), "{dish}");
            let stated = folder.run(&["scale", dish, "--by", by, "--format", "json"]).json();
            let largest = stated["largest_error"].as_f64().unwrap();
            folder.write(dish, &ran.out);
            let check = folder.run(&["check", dish, "--format", "short"]);
            assert_eq!((check.code, check.out.contains("error")), (0, false), "{dish} by {by}: {check:?}\n{}", ran.out);
            // Weights in brackets are whole grams, half a percent at most.
            let allowed = (1.0 + largest) / (1.0 - largest) - 1.0 + 0.005;
            for (key, after) in portions(&folder, dish) {
                let gap = (after - before[&key]).abs() / before[&key].abs().max(1e-9);
                assert!(gap <= allowed, "{dish} by {by}, {key}: {after} is not {} ({allowed})", before[&key]);
            }
            folder.write(dish, &old);
        }
    }
}

#[test]
fn only_amounts_change() {
    let text = "\
# Kept.
dish     Odd amounts
for      12 to 23 months
makes    2 portions of 3/4 cup
cooked   0.4 kg
portion  3/4 cup

take     2 cups of pumpkin, peeled, cubed (245 g)   # no comment: part of the line
";
    let text = text.replace("   # no comment: part of the line", "");
    let text = format!(
        "{text}take     ½ tbsp
   # a note between
   groundnut paste, smooth as paste
family   a pinch of iodised salt as salt
swap     pumpkin for 1 cup orange sweet potato (133 g)
# And kept.
step     boil pumpkin for 20 min: Add 2 cups of water.
step     mash pumpkin with paste for 3 min
step     set aside child portion
step     add salt
"
    );
    let folder = Folder::with("odd.dish", &text);
    let ran = folder.run(&["scale", "odd.dish", "--by", "4", "--format", "dish"]);
    let expected = text
        .replace("2 portions of", "8 portions of")
        .replace("0.4 kg", "1600 g")
        .replace("2 cups of pumpkin, peeled, cubed (245 g)", "8 cups of pumpkin, peeled, cubed (980 g)")
        .replace("½ tbsp", "2 tbsp")
        .replace("a pinch of", "1/4 tsp of")
        .replace("1 cup orange sweet potato (133 g)", "4 cups orange sweet potato (532 g)");
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (0, expected.as_str(), ""));
    let table = folder.run(&["scale", "odd.dish", "--by", "4"]).out;
    assert!(table.contains("line 15: a number in the text stays as it is: `Add 2 cups of water.`"), "{table}");
}

#[test]
fn a_dish_too_small_for_its_portion_is_told() {
    let ran = demo().run(&["scale", "recipes/mango-sour-milk-cup.dish", "--by", "1/4", "--format", "dish"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("makes    3/8 cup"), "{}", ran.out);
    assert!(ran.err.contains("line 7 of the scaled dish: one portion is"), "{}", ran.err);
}

#[test]
fn a_wrong_wish_is_told_with_what_to_write() {
    let folder = demo();
    folder.write("broken.dish", BROKEN);
    let wrong = |arguments: &[&str]| {
        let ran = folder.run(&[&["scale"], arguments].concat());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{ran:?}");
        ran.err
    };
    assert_eq!(
        wrong(&[EGG, "--from", "3 kg pumpkin"]),
        format!("porringer: {EGG}: the dish has no `pumpkin`; it has sweet potatoes, tomato, oil, eggs\n")
    );
    assert_eq!(
        wrong(&[EGG, "--portions", "20", "--age", "6 to 8 months"]),
        format!("porringer: {EGG}: the dish is not for children of this age\n")
    );
    assert_eq!(wrong(&[EGG, "--by", "0"]), "porringer: `--by 0`: write a number above zero, such as 20\n");
    assert_eq!(
        wrong(&[EGG, "--makes", "1,5 L"]),
        "porringer: `--makes 1,5 L`: `1,5` has a decimal comma; write it with a point: `1.5`\n"
    );
    assert_eq!(
        wrong(&[EGG, "--by", "5000"]),
        format!("porringer: {EGG}: a factor of 5000 is none that can be cooked\n")
    );
    assert!(wrong(&[EGG]).contains("--portions <N>"));
    assert!(wrong(&[EGG, "--by", "2", "--format", "pdf"]).contains("add `--out sheet.pdf`"));
    assert!(wrong(&["recipes/market-day.menu", "--by", "2"]).contains("is no dish file"));
    let ran = folder.run(&["scale", "broken.dish", "--by", "2"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, "porringer: nothing is scaled: mend the dish first\n"));
    assert!(ran.out.contains("food/unknown"));
}

#[test]
fn the_sheet_is_an_accessible_pdf_in_each_language() {
    let folder = demo();
    for (tag, paper) in [("en", "A4"), ("sw", "A4"), ("fr", "A5")] {
        let dish = "recipes/maize-cakes-cowpea-filling.dish";
        let sheet = |name: &str| {
            let arguments = [
                "scale",
                dish,
                "--portions",
                "15",
                "--format",
                "pdf",
                "--language",
                tag,
                "--paper",
                paper,
                "--out",
                name,
            ];
            let ran = folder.run(&arguments);
            assert_eq!(ran.code, 0, "{ran:?}");
            folder.read(name)
        };
        let bytes = sheet("a.pdf");
        assert!(bytes == sheet("b.pdf"), "the same bytes every time");
        let pdf = lopdf::Document::load_mem(&bytes).unwrap();
        assert!(pdf.get_pages().len() >= 2);
        let catalog = pdf.catalog().unwrap();
        assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), tag.as_bytes());
        assert!(catalog.get(b"StructTreeRoot").is_ok());
        let metadata = catalog.get(b"Metadata").and_then(|one| one.as_reference()).unwrap();
        let metadata = pdf.get_object(metadata).unwrap().as_stream().unwrap();
        let text = String::from_utf8_lossy(&metadata.content).into_owned();
        assert!(text.contains("pdfuaid"), "{text}");
    }
}

#[test]
fn json_has_every_line_unrounded() {
    let folder = Folder::with("mash.dish", MASH);
    let object = folder.run(&["scale", "mash.dish", "--portions", "10", "--format", "json"]).json();
    assert_eq!(object["schema"], "porringer-scale/1");
    // 10 × 1/2 of 1 1/2 cups
    assert_eq!(object["factor"]["numerator"], 10);
    assert_eq!(object["factor"]["denominator"], 3);
    let lines: Vec<&Value> = object["lines"].as_array().unwrap().iter().collect();
    assert_eq!(lines.len(), 2);
    // 300 g × 10/3; 70 % of a pumpkin can be eaten.
    assert_eq!((&lines[0]["measure"], &lines[0]["error"]), (&"1 kg".into(), &0.0.into()));
    assert!((lines[0]["bought_g"].as_f64().unwrap() - 1000.0 / 0.7).abs() < 1e-9);
    // 2 tbsp × 10/3
    assert_eq!(lines[1]["measure"], "6 2/3 tbsp");
    assert_eq!(lines[1]["error"], 0.0);
}

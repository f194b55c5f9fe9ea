//! `porringer shop`

use crate::{Folder, MASH, demo};

const PRICES: &str = "\
# Invented.
food,unit,price,currency,date,place
pumpkin,kg,40,shilling,2026-09-05,market
\"groundnut paste, smooth\",400 g jar,220,shilling,2026-09-05,shop
egg,piece,14,shilling,,market
banana,piece,8,ferry token,2025-01-10,=landing()
";

fn priced() -> Folder {
    let folder = Folder::with("recipes/mash.dish", MASH);
    folder.write("porringer.toml", "prices = \"prices.csv\"\n");
    folder.write("prices.csv", PRICES);
    folder.write(
        "recipes/twice.dish",
        "dish     Mash with egg\nfor      9 to 11 months\nmakes    1 cup\ncooked   240 g\nportion  1/2 cup\n\
         take     1/2 cup dish mash as mash\ntake     2 eggs as egg\nfamily   2 tbsp groundnut paste, smooth as more\n\
         step     boil egg for 12 min; peel egg\nstep     mash mash with egg for 3 min\nstep     set aside child portion\n\
         step     add more\n",
    );
    folder.write(
        "recipes/day.menu",
        "menu     A day\nfor      9 to 11 months, breastfed\nmeal     7:00: 1/2 cup dish mash\nmeal     12:00: mash or 1/2 cup plain yogurt\nsnack    15:00: 1 small banana or 1/2 cup ripe papaya\n",
    );
    folder
}

#[test]
fn totals_worked_out_by_hand() {
    let folder = priced();
    let ran = folder.run(&[
        "shop",
        "recipes/mash.dish",
        "recipes/twice.dish",
        "recipes/day.menu",
        "--children",
        "6",
        "--from-date",
        "2026-11-25",
        "--format",
        "json",
    ]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let list = ran.json();
    let item = |name: &str| {
        list["items"]
            .as_array()
            .unwrap()
            .iter()
            .find(|item| item["food"] == name)
            .unwrap_or_else(|| panic!("{list:#}"))
            .clone()
    };
    let close = |left: &serde_json::Value, right: f64| {
        let left = left.as_f64().unwrap();
        assert!((left - right).abs() < 1e-9 * right.abs().max(1.0), "{left} is not {right}");
    };
    // The mash makes 1 1/2 cups, of 300 g pumpkin and 2 tbsp = 32.46 g paste.
    //   mash.dish: 6 portions of 1/2 cup = 3 cups                      2 times
    //   twice.dish: 6 portions of 1/2 cup = 3 cups of 1 cup, 3 times;
    //     1/2 cup of mash is 1/3 of it                                 1 time
    //   day.menu, 6 children: 1/2 cup is 1/3 of it, once written and
    //     once as one portion                                          4 times
    // In all 7 times. Pumpkin: 7 × 300 g = 2100 g; 70 % can be eaten, so 3 kg
    // are bought: 3 × 40 = 120.
    let pumpkin = item("pumpkin, raw");
    close(&pumpkin["edible_g"], 2100.0);
    close(&pumpkin["bought_g"], 3000.0);
    close(&pumpkin["cost"], 120.0);
    // Paste: 7 × 32.46 g, and for the family 3 × 32.46 g: 324.6 g, one jar.
    let paste = item("groundnut paste, smooth");
    close(&paste["bought_g"], 324.6);
    close(&paste["family_g"], 97.38);
    close(&paste["lots"], 1.0);
    close(&paste["cost"], 220.0);
    // Eggs: 3 × 2, by the piece: 6 × 14 = 84.
    let egg = item("hen's egg, raw");
    close(&egg["pieces"], 6.0);
    close(&egg["cost"], 84.0);
    // Bananas: 6 small ones, 6 × 8 = 48 of another currency.
    close(&item("banana, raw")["cost"], 48.0);
    // What may be taken instead is told and not counted.
    assert_eq!(item("banana, raw")["instead"][0]["food"], "ripe papaya, raw");
    assert_eq!(list["instead"], serde_json::json!([{ "what": "plain yogurt", "of": "mash", "in": "A day" }]));
    close(&list["totals"]["shilling"], 120.0 + 220.0 + 84.0);
    close(&list["totals"]["ferry token"], 48.0);
    assert_eq!(
        list["warnings"],
        serde_json::json!([
            "the price of banana, raw is of 2025-01-10, over twelve months old",
            "the price of hen's egg, raw has no date",
        ])
    );
}

#[test]
fn the_list_of_demo_files() {
    let arguments = [
        "shop",
        "recipes/market-day.menu",
        "recipes/egg-sweet-potato-mash.dish",
        "--children",
        "12",
        "--from-date",
        "2026-11-25",
    ];
    let ran = demo().run(&arguments);
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (0, LIST, ""));
}

const LIST: &str = "\
To buy for 12 children
  A market day (recipes/market-day.menu): one day each
  Egg and sweet potato mash (recipes/egg-sweet-potato-mash.dish): 5.14 times the recipe

Grains, flours, roots
  finger millet flour            216 g                25.87 shilling                 120 a kg
  potato, raw                    488 g     3 medium   34.13 shilling                  70 a kg
  white sweet potato, raw        1.86 kg  11 pieces   92.86 shilling                  50 a kg
    or orange sweet potato, raw  1.86 kg  11 pieces  111.43 shilling                  60 a kg

Beans, nuts, seeds
  groundnut flour, roasted       86 g                 27.43 shilling                 320 a kg
  groundnut paste, smooth        176 g               220.00 shilling      1 × 220 a 400 g jar
    or sesame paste, smooth      104 g                      no price
  red kidney beans, dry          368 g                58.88 shilling                 160 a kg

Vegetables, leaves, fruit
  amaranth leaves, raw           97 g                  7.78 shilling                  80 a kg
    or sweet potato leaves, raw  97 g                  5.84 shilling                  60 a kg
  banana, raw                    1.89 kg   12 small   96.00 shilling                8 a piece
  onion, raw                     140 g     2 medium   15.37 shilling                 110 a kg
  pumpkin, raw                   700 g                28.00 shilling                  40 a kg
    or orange sweet potato, raw  781 g     5 pieces   46.83 shilling                  60 a kg
    or butternut squash, raw     705 g                      no price
  ripe papaya, raw               742 g     3 pieces   44.49 shilling                  60 a kg
    or ripe mango, raw           736 g     2 pieces   40.00 shilling               20 a piece
  tomato, raw                    1 kg      8 medium   90.37 shilling                  90 a kg

Meat, fish, eggs
  hen's egg, raw                 514 g    11 pieces  154.00 shilling               14 a piece
  tilapia fillet, raw            457 g               237.71 shilling                 520 a kg
    or catfish fillet, raw       457 g               210.29 shilling                 460 a kg

Oil, salt and the rest
  iodised salt                   13 g                 25.00 shilling    1 × 25 a 500 g packet
    for the family
  red palm oil                   40 mL                12.00 shilling                  300 a L
    or sunflower oil             40 mL               190.00 shilling  1 × 190 a 500 mL bottle
  sunflower oil                  146 mL              190.00 shilling  1 × 190 a 500 mL bottle
    or red palm oil              17 mL                 5.14 shilling                  300 a L

In all: 1359.89 shilling
";

#[test]
fn the_whole_demo_set_has_a_list() {
    let ran = demo().run(&["shop", "recipes", "--from-date", "2026-11-25"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    // No dish takes water from a shop, and what a dish is made of is unfolded.
    assert!(!ran.out.contains("water"), "{}", ran.out);
    assert!(!ran.out.contains("porridge\n") && ran.out.contains("maize flour, whole"), "{}", ran.out);
}

#[test]
fn a_missing_price_is_named_and_not_guessed() {
    let folder = priced();
    folder.write("prices.csv", "food,unit,price,currency\npumpkin,L,40,shilling\n");
    let ran = folder.run(&["shop", "recipes/mash.dish", "--from-date", "2026-11-25"]);
    assert!(ran.out.contains("not in the sum, without a price: groundnut paste, smooth\n"), "{}", ran.out);
    assert!(
        ran.out.contains("warning: the price of pumpkin, raw has no date\n")
            || ran.out.contains("priced by another unit: pumpkin, raw"),
        "{}",
        ran.out
    );
    folder.write("porringer.toml", "");
    let ran = folder.run(&["shop", "recipes/mash.dish"]);
    assert!(
        ran.out.ends_with("no prices: name a list in `porringer.toml`: `prices = \"prices.csv\"`\n"),
        "{}",
        ran.out
    );
}

#[test]
fn bad_rows_are_told_by_check_and_shop() {
    let folder = priced();
    folder.write(
        "prices.csv",
        format!("{PRICES}tomatto,kg,5,shilling,,\nonion,bag,5,shilling,,\nmilk,kg,cheap,shilling,,\n"),
    );
    let expected = "\
prices.csv:7:1: error[workspace/table-error] no food is called `tomatto`
prices.csv:8:7: error[workspace/table-error] `bag` is no unit that food is sold in
prices.csv:9:9: error[workspace/table-error] `cheap` is no price
";
    let ran = folder.run(&["check", "recipes/mash.dish", "--format", "short"]);
    assert_eq!((ran.code, ran.out.as_str()), (1, expected));
    let ran = folder.run(&["shop", "recipes/mash.dish"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("17.14 shilling") && ran.err.contains("prices.csv:8:7"), "{ran:?}");
    // A card rests on no price.
    assert_eq!(
        folder.run(&["build", "recipes/mash.dish", "--language", "en", "--format", "json", "--out", "out"]).code,
        0
    );
    folder.write("porringer.toml", "prices = \"../prices.csv\"\n");
    let ran = folder.run(&["check", "recipes/mash.dish", "--format", "short"]);
    assert!(ran.out.contains("porringer.toml:1:10: error[workspace/path-outside]"), "{ran:?}");
}

#[test]
fn csv_is_one_row_a_food_and_no_formula() {
    let folder = priced();
    let ran = folder.run(&["shop", "recipes/day.menu", "--format", "csv", "--from-date", "2026-11-25"]);
    let mut lines = ran.out.lines();
    assert_eq!(
        lines.next(),
        Some("section,food,instead_of,bought_g,ml,pieces,size,family_g,cost,currency,price,unit,date,place,used_in")
    );
    let banana = lines.find(|line| line.contains("banana")).unwrap();
    assert!(banana.ends_with(",1,small,0,8,ferry token,8,piece,2025-01-10,'=landing(),A day"), "{banana}");
}

#[test]
fn a_dish_with_errors_makes_no_list() {
    let folder = priced();
    folder.write("recipes/broken.dish", crate::BROKEN);
    let ran = folder.run(&["shop", "recipes"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.starts_with("porringer: no list is made: "), "{}", ran.err);
    assert!(ran.out.contains("food/unknown"));
    let ran = folder.run(&["shop", "recipes/mash.dish", "--from-date", "yesterday"]);
    assert_eq!(
        (ran.code, ran.err.as_str()),
        (2, "porringer: `--from-date yesterday`: write year, month and day: `2026-05-01`\n")
    );
}

#[test]
fn the_age_of_prices_counts_from_the_day_that_is_stated() {
    let folder = priced();
    let old = |day: &str| {
        let ran = folder.run_with(&["shop", "recipes/day.menu", "--format", "json"], &[("SOURCE_DATE_EPOCH", day)]);
        assert_eq!(ran.code, 0, "{ran:?}");
        ran.json()["warnings"].as_array().unwrap().len()
    };
    // 2025-06-01 and 2026-11-25; the banana's price is of 2025-01-10.
    assert!(old("1748736000") < old("1795564800"));
}

//! FoodData Central downloads, in both layouts.

use std::collections::HashMap;
use std::fs;

use porringer::import::{File, Import, Map, fdc, read_file, read_folder};
use porringer::reference::composition;
use porringer::reference::nutrient::NutrientId;
use porringer::reference::table::Amount;

use crate::{amount, errors, file, said, samples};

/// The sample folder, some of its files changed.
fn folder(change: &[(&str, &dyn Fn(String) -> String)]) -> Vec<File> {
    fdc::TABLES
        .iter()
        .filter_map(|name| {
            let text = fs::read_to_string(samples().join(name)).ok()?;
            let text = change.iter().filter(|(own, _)| own == name).fold(text, |text, (_, change)| change(text));
            Some(file(name, text))
        })
        .collect()
}

fn json(change: &dyn Fn(&mut serde_json::Value)) -> Import {
    let text = fs::read_to_string(samples().join("sr-legacy.json")).unwrap();
    let mut value = serde_json::from_str(&text).unwrap();
    change(&mut value);
    read_file(&file("legacy.json", value.to_string()), &Map::default())
}

/// Every figure of the imported foods against the program's own USDA SR28, by
/// NDB number: FoodData Central's SR Legacy is SR28 (USDA, checked-official).
#[test]
fn an_imported_food_is_the_embedded_one() {
    let import = read_folder(&folder(&[]));
    assert_eq!(errors(&import), [""; 0]);
    let ndb: HashMap<String, u32> = fs::read_to_string(samples().join("sr_legacy_food.csv"))
        .unwrap()
        .lines()
        .skip(1)
        .map(|line| {
            let (fdc, ndb) = line.split_once(',').unwrap();
            (fdc.trim_matches('"').to_owned(), ndb.trim_matches('"').parse().unwrap())
        })
        .collect();
    let mut compared = 0;
    for row in &import.rows {
        let own = composition::row(ndb[&row.id]).unwrap();
        assert_eq!(row.name, own.name());
        for id in NutrientId::all() {
            assert_eq!(row.amount(id), own.value(id).map(Amount::Known), "{} of {}", id.get().tag, row.name);
            compared += usize::from(own.value(id).is_some());
        }
    }
    assert_eq!((import.rows.len(), compared), (3, 147));
}

#[test]
fn both_layouts_say_the_same() {
    let (csv, json) = (read_folder(&folder(&[])), json(&|_| {}));
    assert_eq!(errors(&json), [""; 0]);
    assert_eq!(json.rows.len(), 2);
    for row in &json.rows {
        for id in NutrientId::all() {
            assert_eq!(row.amount(id), amount(&csv, &row.id, id.get().tag));
        }
    }
    // A bare list, and the short form of the service.
    let text = r#"[{"fdcId": 7, "description": "Leaf", "dataType": "Foundation", "foodNutrients": [
        {"number": "303", "name": "Iron, Fe", "amount": 2.5, "unitName": "MG", "derivationCode": "A"},
        {"number": "957", "name": "Energy (Atwater General Factors)", "amount": 31, "unitName": "KCAL"},
        {"number": "958", "name": "Energy (Atwater Specific Factors)", "amount": 29, "unitName": "KCAL"},
        {"nutrient": {"number": "317", "name": "Selenium, Se", "unitName": "\u00b5g"}, "amount": 0, "loq": 2.5},
        {"nutrient": {"number": "309", "name": "Zinc, Zn", "unitName": "mg"}, "amount": 0.4, "foodNutrientDerivation":
            {"code": "BFZN", "description": "Based on another form of the food or similar food"}}]}]"#;
    let import = read_file(&file("list.json", text), &Map::default());
    assert_eq!(said(&import), [""; 0]);
    assert_eq!(amount(&import, "7", "FE"), Some(Amount::Known(2.5)));
    assert_eq!(amount(&import, "7", "ENERC_KCAL"), Some(Amount::Known(29.0)));
    assert_eq!(amount(&import, "7", "SE"), Some(Amount::Below(2.5)));
    assert_eq!(amount(&import, "7", "ZN"), Some(Amount::Estimated(0.4)));
    assert_eq!(amount(&import, "7", "CA"), None);
}

#[test]
fn what_is_left_out_is_said() {
    assert_eq!(
        said(&read_folder(&folder(&[]))),
        [
            "note food.csv: 1 row of the kind `sub_sample_food`: no food, left out",
            "note food_nutrient.csv: 3 figures of `510 Valine` left out: no component known here",
            "note food_portion.csv: 2 household weights left out",
        ]
    );
}

#[test]
fn every_fault_of_a_folder_is_at_its_row_and_column() {
    let import = read_folder(&folder(&[
        ("food.csv", &|text| {
            text + "\"168482\",\"sr_legacy_food\",\"Again\",\"11\",\"2019-04-01\"\n,sr_legacy_food,None,,\n"
        }),
        ("nutrient.csv", &|text| text.replace("\"Zinc, Zn\",\"MG\"", "\"Zinc, Zn\",\"MMOL\"")),
        ("food_nutrient.csv", &|text| {
            // Row 2 is protein, row 3 fat, of the first food.
            let text = text.replacen("\"1.57\"", "\"1,57\"", 1).replacen("\"0.05\"", "\"500\"", 1);
            text + "1,168482,1089,0.99,,1,,,,,\n2,168482,1089,0.61,,1,,,,,\n3,42,1089,1,,1,,,,,\n4,168482,77,1,,1,,,,,\n"
        }),
    ]));
    assert_eq!(
        errors(&import),
        [
            "food.csv row 6, column 1 (fdc_id): the food 168482 stands twice: this row is left out",
            "food.csv row 7, column 1 (fdc_id): `` is no food number: the row is left out",
            "nutrient.csv row 16, column 3 (unit_name): Zinc, Zn in `MMOL` cannot be converted: it is left out",
            "food_nutrient.csv row 2, column 4 (amount): `1,57` has a comma: PROCNT of food 168482 stays unknown",
            "food_nutrient.csv row 3, column 4 (amount): 500 g FAT cannot be in 100 g: it stays unknown",
            "food_nutrient.csv row 152, column 4 (amount): 303 Iron, Fe of food 168482 stands in row 11 too, and \
         differs: that one is kept",
            "food_nutrient.csv row 154, column 2 (fdc_id): `42` is no food of food.csv: the figure is left out",
            "food_nutrient.csv row 155, column 3 (nutrient_id): `77` is no component of nutrient.csv: the figure is \
         left out",
        ]
    );
    // Nothing else is lost, and nothing is guessed.
    assert_eq!(import.rows.len(), 3);
    assert_eq!(amount(&import, "168482", "PROCNT"), None);
    assert_eq!(amount(&import, "168482", "FE"), Some(Amount::Known(0.61)));
    assert_eq!(amount(&import, "168482", "CA"), Some(Amount::Known(30.0)));
}

#[test]
fn missing_columns_and_files_are_named() {
    let import = read_folder(&folder(&[
        ("food.csv", &|text| text.replace("fdc_id", "id")),
        ("food_nutrient.csv", &|text| text.replace("\"amount\"", "\"figure\"")),
    ]));
    assert_eq!(
        errors(&import),
        ["food.csv row 1: there is no column `fdc_id`", "food_nutrient.csv row 1: there is no column `amount`",]
    );
    let mut files = folder(&[]);
    files.retain(|file| file.name != "nutrient.csv");
    assert_eq!(errors(&read_folder(&files)), ["the folder: there is no readable `nutrient.csv`"]);
}

#[test]
fn every_fault_of_a_json_file_is_at_its_entry() {
    let import = json(&|value| {
        let foods = value["SRLegacyFoods"].as_array_mut().unwrap();
        foods[0]["foodNutrients"][0]["amount"] = "1,57".into();
        foods[0]["foodNutrients"][1]["nutrient"]["unitName"] = "MMOL".into();
        foods[0]["foodNutrients"][2]["amount"] = 2012.into();
        let again = foods[0].clone();
        foods.push(again);
        foods.push(serde_json::json!({"description": "no number"}));
        foods.push(serde_json::json!({"fdcId": 9, "description": "no figures"}));
    });
    assert_eq!(
        errors(&import),
        [
            "legacy.json SRLegacyFoods[0].foodNutrients[0]: `1,57` has a comma: PROCNT of food 168482 stays unknown",
            "legacy.json SRLegacyFoods[0].foodNutrients[1]: Total lipid (fat) of food 168482 in `MMOL` cannot be \
         converted: it stays unknown",
            "legacy.json SRLegacyFoods[0].foodNutrients[2]: 2012 g CHOCDF of food 168482 cannot be in 100 g: it stays \
         unknown",
            "legacy.json SRLegacyFoods[2]: the food 168482 stands twice: this one is left out",
            "legacy.json SRLegacyFoods[3]: `` is no food number: the food is left out",
            "legacy.json SRLegacyFoods[4]: food 9 has no list `foodNutrients`",
        ]
    );
    assert_eq!(amount(&import, "168482", "CHOCDF"), None);
    assert_eq!(amount(&import, "171287", "FE"), Some(Amount::Known(1.75)));
    // A download that broke off keeps what came before.
    let text = fs::read_to_string(samples().join("sr-legacy.json")).unwrap();
    let half = read_file(&file("half.json", &text[..text.len() * 3 / 4]), &Map::default());
    assert_eq!(half.rows.len(), 1);
    assert!(errors(&half)[0].contains("from here on this cannot be read as JSON"), "{:?}", errors(&half));
}

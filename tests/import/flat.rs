//! Tables with one row a food: INFOODS tagnames, maps, units, signs.

use porringer::import::{Map, Remarks, read_file};
use porringer::reference::table::Amount::{self, Below, Estimated, Known, Trace};

use crate::{again, amount, csv, errors, file, map, said};

/// A table as FAO's users publish them: units in the heads, a heading, signs.
const LAKE: &str = "\
Code,Food name in English,EDIBLE1,ENERC(kJ),ENERC(kcal),WATER(g),PROTCNT(g),FAT(g),CHOAVLDF(g),FIBTG(g),ASH(g),CA(mg),FE(mg),VITA_RAE(mcg),VITD(IU),PHYTCPP(mg),FATCE(g)
,CEREALS,,,,,,,,,,,,,,,
01_001,\"Millet, lake, grain, raw\",1,1490,354,11.2,10.8,4.1,64.6,7.6,1.7,16,[9.3],0,,590,4.2
01_002,Millet porridge,1,,63,84.0,1.9,0.7,11.9,1.3,0.3,tr,(1.6),-,,N,0.8
,LEAVES,,,,,,,,,,,,,,,
02_001,\"Lake spinach, raw\",0.8,96,23,91.4,2.9,0.4,1.4,2.2,1.7,99,2.7,469,<40,*,0.4
";

#[test]
fn infoods_heads_units_and_signs() {
    let import = csv(LAKE);
    assert_eq!(errors(&import), [""; 0]);
    assert_eq!(
        said(&import),
        [
            "note lake.csv row 1, column 3 (EDIBLE1): `EDIBLE1` is no food component: the column is left out",
            "note lake.csv row 1, column 17 (FATCE(g)): `FATCE(g)` is no INFOODS tagname known here: the column is left \
         out",
        ]
    );
    assert_eq!(import.rows.len(), 3);
    for (food, tag, expected) in [
        ("01_001", "ENERC_KCAL", Some(Known(354.0))),
        ("01_001", "ENERC_KJ", Some(Known(1490.0))),
        ("01_001", "PROCNT", Some(Known(10.8))),
        ("01_001", "FE", Some(Estimated(9.3))),
        ("01_001", "VITA_RAE", Some(Known(0.0))),
        ("01_001", "VITD", None),
        ("01_002", "ENERC_KJ", None),
        ("01_002", "CA", Some(Trace)),
        ("01_002", "FE", Some(Estimated(1.6))),
        ("01_002", "VITA_RAE", None),
        ("01_002", "PHYTCPP", None),
        // 40 IU are 1 µg.
        ("02_001", "VITD", Some(Below(1.0))),
        ("02_001", "PHYTCPP", None),
        ("02_001", "FAT", Some(Known(0.4))),
    ] {
        assert_eq!(amount(&import, food, tag), expected, "{tag} of {food}");
    }
    // Written and read again it says the same.
    let table = again(&import);
    for row in &import.rows {
        for id in porringer::reference::nutrient::NutrientId::all() {
            assert_eq!(table.row(&row.id).unwrap().amount(id), row.amount(id));
        }
    }
}

#[test]
fn every_fault_is_at_its_row_and_column() {
    let import = csv("\
food,name,CA(mg),FE(mg),ENERC(kcal),VITA_RAE(IU),ZN(mmol),CA(g),FOO
a1,A,1.5,\"1,5\",100,2,3,4,5
a2,B,12 mg,2-3,4000,2,3,4,5
a1,C,7,8,9,,,,
,D,7,8,9,,,,
a 3,E,-1,>5,low,,,,
a4,F,#N/A,,,,,,
");
    assert_eq!(
        errors(&import),
        [
            "lake.csv row 1, column 6 (VITA_RAE(IU)): VITA_RAE in IU cannot be converted: the column is left out",
            "lake.csv row 1, column 7 (ZN(mmol)): the unit of `ZN(mmol)` is not known: the column is left out",
            "lake.csv row 1, column 8 (CA(g)): CA stands twice: `CA(mg)` is used, this column is left out",
            "lake.csv row 2, column 4 (FE(mg)): `1,5` has a comma: the amount stays unknown",
            "lake.csv row 3, column 3 (CA(mg)): `12 mg` is more than a number: the amount stays unknown",
            "lake.csv row 3, column 4 (FE(mg)): `2-3` is a range: the amount stays unknown",
            "lake.csv row 3, column 5 (ENERC(kcal)): 4000 kcal ENERC_KCAL cannot be in 100 g: the amount stays unknown",
            "lake.csv row 4, column 1: the food code `a1` stands twice, first in row 2: this row is left out",
            "lake.csv row 5, column 1: the row `D` has no food code: it is left out",
            "lake.csv row 6, column 3 (CA(mg)): `-1` is below zero: the amount stays unknown",
            "lake.csv row 6, column 4 (FE(mg)): `>5` is only a lower bound: the amount stays unknown",
            "lake.csv row 6, column 5 (ENERC(kcal)): `low` is no amount: the amount stays unknown",
            "lake.csv row 7, column 3 (CA(mg)): `#N/A` is no amount: the amount stays unknown",
        ]
    );
    // What could be read is there.
    assert_eq!(import.rows.iter().map(|row| row.id.as_str()).collect::<Vec<_>>(), ["a1", "a2", "a-3", "a4"]);
    assert_eq!(amount(&import, "a1", "CA"), Some(Known(1.5)));
    assert_eq!(amount(&import, "a1", "FE"), None);
    assert_eq!(amount(&import, "a1", "ENERC_KCAL"), Some(Known(100.0)));
}

#[test]
fn a_table_that_cannot_be_used_says_what_is_missing() {
    for (text, expected) in [
        ("Name,Iron\nleaf,2\n", "lake.csv row 1: no column's head is an INFOODS tagname"),
        ("Name,FE\nleaf,2\n", "lake.csv row 1: there is no column with the foods' codes"),
        ("Code,Name,FE(mmol)\n1,leaf,2\n", "lake.csv row 1: no column's head is an INFOODS tagname"),
        ("Code,Name,FE\n", "lake.csv: the table has no foods"),
        (" \n", "lake.csv: the file is empty"),
        ("PK\u{3}\u{4}rest", "lake.csv: the spreadsheet is damaged"),
        ("{\"foo\": 1}", "lake.csv: there is no list of foods"),
    ] {
        let import = csv(text);
        assert_eq!(errors(&import), [expected], "{text}");
        assert!(import.rows.is_empty());
    }
}

const FRENCH: &str = "\
Table nationale;;;;\n\
Code;Aliment;Énergie;Fer (mg);Calcium\n\
;;kJ;;mg\n\
1;Lait de vache;276;0,03;s.d.\n\
2;Lait caillé;\"251,5\";(0,05);T\n";

const FRENCH_MAP: &str = "\
name = \"Aliment\"\nbasis = \"100 mL\"\ndensity = 1.04\nunknown = [\"s.d.\"]\ntrace = [\"T\"]\n\
[columns]\n\"énergie\" = \"ENERC_KJ\"\n\"Fer (mg)\" = \"FE\"\n\"Calcium\" = { tag = \"CA\", unit = \"mg\" }\n";

#[test]
fn a_map_says_what_heads_do_not() {
    let (windows, _, _) = encoding_rs::WINDOWS_1252.encode(FRENCH);
    let import = read_file(&file("national.csv", windows), &map(FRENCH_MAP));
    assert_eq!(
        said(&import),
        [
            "note national.csv: the file is not UTF-8: it is read as Windows-1252",
            "note national.csv row 2, column 3 (Énergie): energy is given in kJ alone: kcal are worked out, and marked \
         as estimated",
        ]
    );
    assert_eq!(import.rows[1].name, "Lait caillé");
    // Per 100 mL at 1.04 g/mL: 276 / 1.04.
    let near = |food: &str, tag: &str, expected: f64| match amount(&import, food, tag).unwrap() {
        Known(value) | Estimated(value) => assert!((value - expected).abs() < 1e-9, "{tag} {value}"),
        other => panic!("{other:?}"),
    };
    near("1", "ENERC_KJ", 276.0 / 1.04);
    near("1", "FE", 0.03 / 1.04);
    assert_eq!(amount(&import, "1", "ENERC_KCAL"), Some(Estimated(63.4)));
    assert!(matches!(amount(&import, "2", "FE"), Some(Estimated(_))));
    assert_eq!(amount(&import, "1", "CA"), None);
    assert_eq!(amount(&import, "2", "CA"), Some(Trace));
}

#[test]
fn without_a_density_nothing_per_volume_is_guessed() {
    let text = "food,name,dens,FE\n1,Milk,1.03,1\n2,Juice,,1\n3,Tea,9,1\n";
    let import = read_file(&file("drinks.csv", text), &map("basis = \"100 ml\"\ndensity = \"dens\"\n"));
    assert_eq!(
        errors(&import),
        [
            "drinks.csv row 3, column 3 (density): `2` has no density: its figures per 100 mL are left out",
            "drinks.csv row 4, column 3 (density): `3` has no density: its figures per 100 mL are left out",
        ]
    );
    assert_eq!(import.rows.len(), 1);
}

#[test]
fn faults_of_a_map_are_said() {
    let read = |text: &str| {
        let mut remarks = Remarks::default();
        let map = Map::read("map.toml", text, &mut remarks);
        (map.is_some(), remarks.all().iter().map(|remark| format!("{}: {}", remark.place, remark.message)).collect())
    };
    let one = |there: bool, said: &str| (there, vec![said.to_owned()]);
    assert_eq!(
        read("[columns]\nA = \"FEE\"\n"),
        one(true, "map.toml: `FEE` of the column `A` is no INFOODS tagname known here")
    );
    assert_eq!(
        read("[columns]\nA = { tag = \"FE\", unit = \"lb\" }\n"),
        one(true, "map.toml: `lb` of the column `A` is no unit known here")
    );
    assert_eq!(read("basis = \"1 lb\"\n"), one(false, "map.toml: `basis` is neither `100 g` nor `100 mL`"));
    let (there, said): (bool, Vec<String>) = read("food = \"a\"\nfod = 1\n");
    assert!(!there && said[0].starts_with("map.toml row 2: this is no map"), "{said:?}");
    let import = read_file(&file("a.csv", "food,FE\n1,2\n"), &map("[columns]\n\"Irn\" = \"FE\"\n"));
    assert_eq!(errors(&import), ["a.csv row 1: there is no column `Irn`, which the map names"]);
}

#[test]
fn energy_in_the_other_unit_is_doubted() {
    // USDA SR28's foods with energy in kJ under a head that says kcal.
    let mut text = "food,name,ENERC(kcal),WATER(g),PROCNT(g),FAT(g),CHOCDF(g),ASH(g)\n".to_owned();
    for (ndb, kcal) in [(11507, 86), (9040, 89), (20137, 144), (1077, 61), (11422, 26)] {
        let row = porringer::reference::composition::row(ndb);
        let parts: Vec<String> = ["WATER", "PROCNT", "FAT", "CHOCDF", "ASH"]
            .iter()
            .map(|tag| {
                let id = porringer::reference::nutrient::NutrientId::from_tag(tag).unwrap();
                row.and_then(|row| row.value(id)).unwrap_or(1.0).to_string()
            })
            .collect();
        text.push_str(&format!("{ndb},x,{},{}\n", f64::from(kcal) * 4.184, parts.join(",")));
    }
    let import = csv(&text);
    assert_eq!(errors(&import), [""; 0]);
    let doubts: Vec<String> = said(&import).into_iter().filter(|line| line.contains("looks like kJ")).collect();
    assert_eq!(doubts.len(), 1, "{:?}", said(&import));
    // And one whose parts are more than the whole.
    let import = csv("food,name,WATER,PROCNT,FAT,CHOCDF,ASH\n1,x,91,50,1,5,1\n");
    assert_eq!(
        said(&import),
        ["warning the table: water, protein, fat, carbohydrate and ash of 1 add up to 148 g in 100 g"]
    );
}

#[test]
fn a_written_table_is_imported_as_it_is() {
    let first = csv(LAKE);
    let text = porringer::import::write::table(&first, &[file("lake.csv", LAKE)], "2026-01-01");
    assert!(text.contains("# source   lake.csv, SHA-256 "), "{text}");
    assert!(text.contains("# column   VITD = VITD(IU), IU x 0.025 = µg (1 µg vitamin D = 40 IU"), "{text}");
    let second = csv(&text);
    assert_eq!(said(&second), [""; 0]);
    let all = |import: &porringer::import::Import| -> Vec<(String, String, Vec<Option<Amount>>)> {
        let ids = porringer::reference::nutrient::NutrientId::all;
        import
            .rows
            .iter()
            .map(|row| (row.id.clone(), row.name.clone(), ids().map(|id| row.amount(id)).collect()))
            .collect()
    };
    assert_eq!(all(&first), all(&second));
}

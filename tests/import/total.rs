//! Importing is total: any bytes give a table or remarks, and what is written
//! can be read.

use porringer::import::{Map, read_file, read_folder};
use proptest::prelude::*;

use crate::{again, csv, file, map, samples};

fn whole(bytes: &[u8]) {
    for name in ["a.csv", "a.xlsx", "a.json"] {
        let import = read_file(&file(name, bytes), &Map::default());
        if import.rows.is_empty() {
            assert!(!import.remarks.all().is_empty());
        } else {
            assert_eq!(again(&import).rows.len(), import.rows.len());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        whole(&bytes);
        let mut archive = b"PK\x03\x04".to_vec();
        archive.extend(&bytes);
        whole(&archive);
        read_folder(&[file("food.csv", &bytes), file("nutrient.csv", &bytes), file("food_nutrient.csv", &bytes)]);
    }

    #[test]
    fn any_cells(
        cells in prop::collection::vec("[0-9tTr.,;<\\[\\]()*\\-eE \"'#=+@µé\\n]{0,8}", 24),
        separator in prop::sample::select(vec![",", ";", "\t"]),
    ) {
        let mut text = ["food", "name", "FE(mg)", "CA", "VITD(IU)", "ENERC(kJ)"].join(separator);
        for row in cells.chunks(6) {
            text.push('\n');
            text.push_str(&row.join(separator));
        }
        let import = csv(&text);
        if !import.rows.is_empty() {
            let table = again(&import);
            for row in &import.rows {
                let same = table.row(&row.id).unwrap();
                for id in porringer::reference::nutrient::NutrientId::all() {
                    prop_assert_eq!(same.amount(id), row.amount(id));
                }
            }
        }
    }

    #[test]
    fn any_damage_to_a_download(at in 0usize..38_000, with in any::<u8>(), cut in 0usize..60) {
        let mut bytes = std::fs::read(samples().join("sr-legacy.json")).unwrap();
        let end = (at + cut).min(bytes.len());
        if at < end {
            bytes.splice(at..end, [with]);
        }
        whole(&bytes);
        let mut bytes = std::fs::read(samples().join("food_nutrient.csv")).unwrap();
        let at = at % bytes.len();
        let end = (at + cut).min(bytes.len());
        bytes.splice(at..end, [with]);
        let other = |name: &str| file(name, std::fs::read(samples().join(name)).unwrap());
        let import = read_folder(&[other("food.csv"), other("nutrient.csv"), file("food_nutrient.csv", bytes)]);
        prop_assert_eq!(again(&import).rows.len(), import.rows.len());
    }

    #[test]
    fn any_map(text in "(food|name|basis|density|header|decimal|\\[columns\\]|=|\"|\n|[a-z0-9 .])*") {
        let mut remarks = porringer::import::Remarks::default();
        if let Some(map) = Map::read("m", &text, &mut remarks) {
            read_file(&file("a.csv", "food,name,FE\n1,a,2\n"), &map);
        }
    }
}

/// Nothing is unfolded that a few bytes ask for.
#[test]
fn a_header_far_below_is_no_matter() {
    let import = read_file(&file("a.csv", "food,FE\n1,2\n"), &map("header = 4000000000\n"));
    assert!(import.rows.is_empty());
}

//! Source: USDA National Nutrient Database for Standard Reference, release 28
//! (SR28), public domain: frozen okra, unprepared (NDB 11280) and boiled and
//! drained (NDB 11281). USDA worked the boiled values out from the raw ones
//! (derivation codes BFSY and BFSN) by the solids, (100 - 90.82) / (100 -
//! 91.12), and retention code 3774 of its Table of Nutrient Retention Factors,
//! release 6. Status: checked against the data files. 36 of the 37 published
//! values come out after rounding; choline comes to 11.0 mg against 11.1.
//!
//! Four single fatty acids of the 37 (16:0, 18:0, 16:1 and 18:1) are left
//! out: the project has no place for them.

use porringer::reference::nutrient::NutrientId;
use porringer::reference::{composition, retention};

use crate::decimal::{units, units_of};
use crate::dish::{Dish, Take, compute, percent_by_solids};

const RAW: u32 = 11280;
const BOILED: u32 = 11281;
const RAW_WATER: f64 = 90.82;
const BOILED_WATER: f64 = 91.12;
const CODE: u32 = 3774;

struct Cell {
    tag: &'static str,
    raw: &'static str,
    /// Percent kept.
    kept: u8,
    decimals: usize,
    boiled: &'static str,
}

const fn cell(tag: &'static str, raw: &'static str, kept: u8, decimals: usize, boiled: &'static str) -> Cell {
    Cell { tag, raw, kept, decimals, boiled }
}

const TABLE: [Cell; 33] = [
    cell("PROCNT", "1.69", 100, 2, "1.63"),
    cell("FAT", "0.25", 100, 2, "0.24"),
    cell("ASH", "0.61", 100, 2, "0.59"),
    cell("SUGAR", "2.97", 100, 2, "2.87"),
    cell("FIBTG", "2.2", 100, 1, "2.1"),
    cell("CA", "81", 95, 0, "74"),
    cell("FE", "0.57", 95, 2, "0.52"),
    cell("MG", "43", 95, 0, "40"),
    cell("P", "42", 90, 0, "37"),
    cell("K", "211", 90, 0, "184"),
    cell("NA", "3", 95, 0, "3"),
    cell("ZN", "0.53", 95, 2, "0.49"),
    cell("CU", "0.083", 95, 3, "0.076"),
    cell("MN", "0.873", 100, 3, "0.844"),
    cell("SE", "0.6", 100, 1, "0.6"),
    cell("CARTB", "210", 90, 0, "183"),
    cell("TOCPHA", "0.33", 100, 2, "0.32"),
    cell("LUT+ZEA", "482", 90, 0, "420"),
    cell("VITC", "12.4", 80, 1, "9.6"),
    cell("THIA", "0.089", 85, 3, "0.073"),
    cell("RIBF", "0.105", 95, 3, "0.096"),
    cell("NIA", "0.708", 90, 3, "0.616"),
    cell("PANTAC", "0.216", 100, 3, "0.209"),
    cell("VITB6A", "0.042", 90, 3, "0.037"),
    cell("FOL", "148", 70, 0, "100"),
    cell("CHOLN", "11.4", 100, 1, "11.1"),
    cell("VITK1", "49.4", 100, 1, "47.8"),
    cell("FOLFD", "148", 70, 0, "100"),
    cell("FASAT", "0.065", 100, 3, "0.063"),
    cell("F18D2", "0.065", 100, 3, "0.063"),
    cell("F18D3", "0.001", 100, 3, "0.001"),
    cell("FAMS", "0.041", 100, 3, "0.040"),
    cell("FAPU", "0.066", 100, 3, "0.064"),
];

fn id(tag: &str) -> NutrientId {
    NutrientId::from_tag(tag).unwrap_or_else(|| panic!("{tag}"))
}

/// The embedded tables hold what the published vector was worked out from.
#[test]
fn embedded_figures() {
    let water = |ndb| composition::row(ndb).unwrap().value(id("WATER"));
    assert_eq!((water(RAW), water(BOILED)), (Some(RAW_WATER), Some(BOILED_WATER)));
    let code = retention::code(CODE).unwrap();
    for cell in &TABLE {
        let kept = id(cell.tag).get().retention.map_or(100, |column| code.percent(column));
        assert_eq!(kept, cell.kept, "{}", cell.tag);
        for (ndb, published) in [(RAW, cell.raw), (BOILED, cell.boiled)] {
            let value =
                composition::row(ndb).unwrap().value(id(cell.tag)).unwrap_or_else(|| panic!("{ndb} {}", cell.tag));
            assert_eq!(units(value, cell.decimals), units_of(published, cell.decimals), "{ndb} {}", cell.tag);
        }
    }
}

/// The same through the program, once from the figures above and once from
/// the embedded food.
#[test]
fn boiled_from_raw() {
    let heads: Vec<&str> = TABLE.iter().map(|cell| cell.tag).collect();
    let raw: Vec<&str> = TABLE.iter().map(|cell| cell.raw).collect();
    let table = format!("food,name,WATER,{}\n{RAW},okra,{RAW_WATER},{}\n", heads.join(","), raw.join(","));
    let dish = |id: &str, row: String| Dish {
        id: id.to_owned(),
        title: "Okra, boiled".to_owned(),
        cooked_percent: percent_by_solids(RAW_WATER, BOILED_WATER),
        takes: vec![Take::new("100", row).keep(CODE)],
    };
    let dishes = [dish("transcribed", format!("okra:{RAW}")), dish("embedded", format!("usda:{RAW}"))];
    let figures = compute(&dishes, &[("okra", &table)]);
    for dish in ["transcribed", "embedded"] {
        let figures = &figures[dish];
        assert_eq!(units(figures.per_100g("WATER").unwrap(), 2), 9112, "{dish}");
        for cell in &TABLE {
            let found = figures.per_100g(cell.tag).unwrap_or_else(|| panic!("{dish} {}", cell.tag));
            let gap = units(found, cell.decimals) - units_of(cell.boiled, cell.decimals);
            let expected = if cell.tag == "CHOLN" { -1 } else { 0 };
            assert_eq!(gap, expected, "{dish} {}: published {}, computed {found}", cell.tag, cell.boiled);
        }
    }
}

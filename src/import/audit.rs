//! What cannot well be true of a whole table: figures of one food that do not
//! fit one another, energy in the other unit.

use crate::import::{Import, Place};
use crate::reference::nutrient::{self as n, NutrientId};
use crate::reference::table::Row;

/// What 100 g of food add up to, g. Carbohydrate by difference makes 100; what
/// is analysed one by one falls a little short or goes a little over.
const WHOLE: std::ops::RangeInclusive<f64> = 88.0..=112.0;
/// Energy against its parts: kilojoules in the place of kilocalories are 4.2.
const OTHER_UNIT: std::ops::RangeInclusive<f64> = 3.3..=5.2;
/// Foods that must agree before a whole column is doubted.
const ENOUGH: usize = 5;

pub fn audit(import: &mut Import) {
    let mut remarks = Vec::new();
    for row in &import.rows {
        if let Some(sum) = whole(row).filter(|sum| !WHOLE.contains(sum)) {
            remarks
                .push(format!("water, protein, fat, carbohydrate and ash of {} add up to {sum:.0} g in 100 g", row.id));
        }
    }
    for message in remarks {
        import.remarks.warning(Place::file("the table"), message, "compare the row with the printed table");
    }
    for (id, factor, other) in [(n::ENERC_KCAL, 1.0, "kJ"), (n::ENERC_KJ, 4.184 * 4.184, "kcal")] {
        let mut ratios: Vec<f64> = import
            .rows
            .iter()
            .filter_map(|row| {
                let parts = energy_of_parts(row).filter(|parts| *parts > 20.0)?;
                let energy = value(row, id).filter(|energy| *energy > 0.0)?;
                Some(energy * factor / parts)
            })
            .collect();
        ratios.sort_by(f64::total_cmp);
        let Some(middle) = ratios.get(ratios.len() / 2).filter(|_| ratios.len() >= ENOUGH) else {
            continue;
        };
        if OTHER_UNIT.contains(middle) {
            let head = import.columns.iter().find(|column| column.id == id).map_or("", |column| column.head.as_str());
            import.remarks.warning(
                Place::file("the table"),
                format!("the column `{head}` looks like {other}: it is {middle:.1} times what the foods' parts give"),
                format!("say in a map what it is: `\"{head}\" = {{ tag = \"{}\", unit = \"{other}\" }}`", id.get().tag),
            );
        }
    }
}

fn value(row: &Row, id: NutrientId) -> Option<f64> {
    row.values.get(id.index()).copied().flatten()
}

fn carbohydrate(row: &Row) -> Option<f64> {
    value(row, n::CHOCDF).or_else(|| Some(value(row, n::CHOAVLDF)? + value(row, n::FIBTG)?))
}

fn whole(row: &Row) -> Option<f64> {
    let parts = [n::WATER, n::PROCNT, n::FAT, n::ASH].iter().map(|id| value(row, *id)).sum::<Option<f64>>()?;
    Some(parts + carbohydrate(row)? + value(row, n::ALC).unwrap_or(0.0))
}

/// kcal by the general factors.
fn energy_of_parts(row: &Row) -> Option<f64> {
    Some(4.0 * value(row, n::PROCNT)? + 9.0 * value(row, n::FAT)? + 4.0 * carbohydrate(row)?)
}

//! Yield factors: what an ingredient weighs after a process, over what it
//! weighed before. Every one is an estimate; a card that uses one says so.
//!
//! The computed ones compare a raw and a cooked row of SR28 and take the
//! solids (100 minus water) to stay: factor = raw solids / cooked solids.
//! Where fat drips off or solids leach out, that comes out high. The two rows
//! are often different samples. The remaining ones are common practice and
//! have no source.

use super::larder::row;
use super::retention::{Heat, table as retention_table};
use row::FoodClass;
use std::sync::OnceLock;
pub use table::{Process, YieldRow};

pub mod table;

fn rows() -> &'static [YieldRow] {
    static ROWS: OnceLock<Vec<YieldRow>> = OnceLock::new();
    ROWS.get_or_init(|| {
        // Written by build.rs from a checked table; a test reads it back.
        let bytes = include_bytes!(concat!(env!("OUT_DIR"), "/yields.postcard"));
        postcard::from_bytes(bytes).unwrap_or_default()
    })
}

/// Every row, by class and process.
pub fn all() -> impl ExactSizeIterator<Item = &'static YieldRow> {
    rows().iter()
}

/// The factor of a class under a heat; `None` where none is known.
pub fn yield_factor(class: FoodClass, heat: Heat) -> Option<&'static YieldRow> {
    process_factor(class, Process::Heat(heat))
}

/// The factor of a class under any process. `Process::Pot` belongs to a whole
/// pot, not to an ingredient: [`pot_factor`] gives it.
pub fn process_factor(class: FoodClass, process: Process) -> Option<&'static YieldRow> {
    let rows = rows();
    let index = rows.binary_search_by_key(&(class, process), |row| (row.class, row.process)).ok()?;
    rows.get(index)
}

/// What is left of a pot whose own water is among the ingredients.
pub fn pot_factor() -> Option<&'static YieldRow> {
    process_factor(FoodClass::Other, Process::Pot)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::reference::{composition, nutrient::WATER};

    /// A water-only ingredient has no factor of its own: the pot has.
    #[test]
    fn every_class_and_heat_but_drinks_has_a_factor() {
        let without = [FoodClass::Water, FoodClass::Alcohol, FoodClass::BreastMilk];
        for &class in FoodClass::ALL {
            for &heat in Heat::ALL {
                let known = yield_factor(class, heat).is_some();
                assert!(known || without.contains(&class), "{class:?} {heat:?}");
            }
        }
    }

    #[test]
    fn status_and_source_agree() {
        assert!(all().len() > 400);
        for row in all() {
            match row.status.as_str() {
                "computed" => assert!(row.source.starts_with("SR28 "), "{row:?}"),
                "common practice, no source" => assert!(row.source.starts_with("none"), "{row:?}"),
                other => panic!("unknown status {other}"),
            }
        }
    }

    /// Works every computed factor out again from the two rows it names.
    #[test]
    fn computed_factors_follow_from_sr28() {
        let solids = |ndb: &str| {
            let row = composition::row(ndb.parse().unwrap()).unwrap();
            100.0 - row.value(WATER).unwrap()
        };
        for row in all().filter(|row| row.status == "computed") {
            let pair = row.source.strip_prefix("SR28 ").unwrap();
            let (raw, cooked) = (&pair[..5], &pair[6..11]);
            let factor = solids(raw) / solids(cooked);
            if row.source.contains("not above 1.00") {
                assert!(factor > 1.0 && row.factor == 1.0, "{row:?}");
            } else {
                assert!((factor - row.factor).abs() <= 0.005_001, "{row:?} {factor}");
            }
        }
    }

    #[test]
    fn known_rows() {
        let kidney_beans = yield_factor(FoodClass::PulseDry, Heat::BoilUsed).unwrap();
        assert_eq!(kidney_beans.factor, 2.67);
        assert_eq!(kidney_beans.source, "SR28 16027/16028, by solids");
        assert_eq!(pot_factor().unwrap().factor, 0.9);
        assert_eq!(process_factor(FoodClass::PulseDry, Process::Soak).unwrap().factor, 2.0);
        assert_eq!(yield_factor(FoodClass::Water, Heat::BoilUsed), None);
    }
}

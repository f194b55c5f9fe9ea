//! What is left of a component after heat: the USDA Table of Nutrient
//! Retention Factors, release 6 (public domain), and which of its codes a food
//! class under a heat takes.

use super::larder::row;
use row::FoodClass;
use std::sync::OnceLock;
pub use table::{ChoiceRow, Heat, RetentionColumn, RetentionRow};

pub mod table;

fn rows() -> &'static [RetentionRow] {
    static ROWS: OnceLock<Vec<RetentionRow>> = OnceLock::new();
    ROWS.get_or_init(|| {
        // Written by build.rs from a checked table; a test reads it back.
        let bytes = include_bytes!(concat!(env!("OUT_DIR"), "/retention.postcard"));
        postcard::from_bytes(bytes).unwrap_or_default()
    })
}

fn choices() -> &'static [ChoiceRow] {
    static CHOICES: OnceLock<Vec<ChoiceRow>> = OnceLock::new();
    CHOICES.get_or_init(|| {
        let bytes = include_bytes!(concat!(env!("OUT_DIR"), "/choice.postcard"));
        postcard::from_bytes(bytes).unwrap_or_default()
    })
}

/// Every code, ascending.
pub fn all() -> impl ExactSizeIterator<Item = &'static RetentionRow> {
    rows().iter()
}

/// The row of a code.
pub fn code(code: u32) -> Option<&'static RetentionRow> {
    let rows = rows();
    let index = rows.binary_search_by_key(&code, |row| row.code).ok()?;
    rows.get(index)
}

/// The code a food takes under a heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choice {
    /// 0 where no retention applies.
    pub code: u32,
    /// The table has no code for this; a near one stands for it.
    pub nearest: bool,
    /// What the code stands for, or why none applies; empty for an exact one.
    pub note: &'static str,
}

impl Choice {
    /// The row of the code; `None` where no retention applies.
    pub fn row(&self) -> Option<&'static RetentionRow> {
        code(self.code)
    }
}

/// The code for a food class under a heat. Without `minutes` the longest
/// cooking is assumed, which keeps the least.
pub fn choose(class: FoodClass, heat: Heat, minutes: Option<f64>) -> Option<Choice> {
    let all = choices();
    let start = all.partition_point(|row| (row.class, row.heat) < (class, heat));
    let mut own = all.iter().skip(start).take_while(|row| row.class == class && row.heat == heat);
    // Rows are ordered by time, the one without a limit last.
    let row = own.find(|row| match (row.minutes_to, minutes) {
        (None, _) => true,
        (Some(limit), Some(minutes)) => minutes <= limit,
        (Some(_), None) => false,
    })?;
    Some(Choice { code: row.code, nearest: row.code != 0 && !row.note.is_empty(), note: &row.note })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]
mod tests {
    use super::*;

    #[test]
    fn every_code_of_release_6() {
        assert_eq!(all().len(), 270);
        assert_eq!(all().next().unwrap().code, 1);
        assert_eq!(all().last().unwrap().code, 5010);
    }

    /// Transcribed from the USDA table, release 6, code 3774.
    #[test]
    fn other_vegetables_boiled_in_little_water() {
        let row = code(3774).unwrap();
        assert_eq!(row.description, "VEG,OTHER,BLD,LITTLE WATER,DRAINED");
        let expected =
            [95, 95, 95, 90, 90, 95, 95, 95, 80, 85, 95, 90, 90, 70, 70, 70, 100, 100, 90, 90, 100, 90, 90, 90, 90, 90];
        let found = RetentionColumn::ALL.map(|column| row.percent(column));
        assert_eq!(found, expected);
        assert_eq!(code(3773), None);
    }

    #[test]
    fn every_class_and_heat_has_a_choice() {
        for &class in FoodClass::ALL {
            for &heat in Heat::ALL {
                for minutes in [None, Some(0.0), Some(20.0), Some(60.0), Some(1e9)] {
                    let choice = choose(class, heat, minutes).unwrap();
                    assert_eq!(choice.code == 0, choice.row().is_none(), "{class:?} {heat:?}");
                    assert!(choice.code != 0 || !choice.note.is_empty());
                    assert!(!choice.nearest || choice.code != 0);
                }
            }
        }
    }

    /// A note beside a code says which code stands in, one beside none why.
    #[test]
    fn no_miss_is_silent() {
        for row in choices() {
            let place = format!("{}, {}", row.class.word(), row.heat.word());
            if row.code == 0 {
                assert!(row.note.len() > 20, "{place}");
            } else if !row.note.is_empty() {
                let says = ["used", "taken", "go by time"].iter().any(|word| row.note.contains(word));
                assert!(says, "{place}: {}", row.note);
            }
        }
    }

    #[test]
    fn pulses_go_by_time() {
        let pulse = |heat, minutes| choose(FoodClass::PulseDry, heat, minutes).unwrap().code;
        assert_eq!(pulse(Heat::BoilUsed, Some(30.0)), 502);
        assert_eq!(pulse(Heat::BoilUsed, Some(30.5)), 522);
        assert_eq!(pulse(Heat::BoilUsed, Some(100.0)), 522);
        assert_eq!(pulse(Heat::BoilUsed, Some(150.0)), 542);
        assert_eq!(pulse(Heat::BoilUsed, None), 542);
        assert_eq!(pulse(Heat::BoilDrained, Some(60.0)), 521);
    }

    #[test]
    fn some_choices() {
        let of = |class, heat| choose(class, heat, None).unwrap();
        let vegetable = of(FoodClass::Vegetable, Heat::BoilUsed);
        assert_eq!((vegetable.code, vegetable.nearest), (3776, false));
        let insect = of(FoodClass::Insect, Heat::BoilDrained);
        assert!(insect.nearest && insect.note.contains("insect"));
        assert_eq!(of(FoodClass::BreastMilk, Heat::Warm).code, 0);
    }

    #[test]
    fn the_reader_refuses() {
        assert!(table::parse_csv("a,b\n1,2\n").is_err());
        let head = "class,heat,minutes_to,code,note\n";
        for bad in ["egg,boil,,105,", "egg,fry,x,103,", "egg,fry,,0,", "egg,fry,,103,"] {
            assert!(table::parse_choices(&format!("{head}{bad}\n"), &[]).is_err(), "{bad}");
        }
    }
}

//! What a workspace decides beside its tables, and what day it is: handed to
//! the rules as data, since the core reads neither files nor clocks.

use crate::diagnostic::rules::RuleBook;

/// Age of a review, in months, from which it is stale by default: a choice of
/// this project, no source.
pub const REVIEW_MONTHS: u16 = 24;

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day {
    pub year: i32,
    pub month: u8,
    pub day: u8,
}

impl Day {
    /// The day in UTC, so many seconds after the start of 1970.
    pub fn of_seconds(seconds: i64) -> Self {
        // Days to civil date, by the 400-year cycle of the calendar that
        // begins in March, so that the leap day comes last.
        let days = seconds.div_euclid(86_400).saturating_add(719_468);
        let cycle = days.div_euclid(146_097);
        let of_cycle = days.rem_euclid(146_097);
        let year = (of_cycle - of_cycle / 1_460 + of_cycle / 36_524 - of_cycle / 146_096) / 365;
        let of_year = of_cycle - (365 * year + year / 4 - year / 100);
        let from_march = (5 * of_year + 2) / 153;
        let day = of_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        let year = year + cycle * 400 + i64::from(month <= 2);
        Self {
            year: i32::try_from(year).unwrap_or(i32::MAX),
            month: u8::try_from(month).unwrap_or(1),
            day: u8::try_from(day).unwrap_or(1),
        }
    }

    /// Completed months from another day to this one; negative where it lies
    /// ahead.
    pub fn months_since(self, earlier: Self) -> i64 {
        let whole =
            (i64::from(self.year) - i64::from(earlier.year)) * 12 + i64::from(self.month) - i64::from(earlier.month);
        if self.day < earlier.day { whole - 1 } else { whole }
    }
}

/// What a workspace decides beside its tables.
#[derive(Debug, Clone)]
pub struct Practice {
    /// Rules that it switches off or judges otherwise.
    pub rules: RuleBook,
    /// Age of a review, in months, from which it is stale.
    pub review_months: u16,
    /// The day that reviews are compared with; without one they are not.
    pub today: Option<Day>,
    /// Language of prose whose document does not say.
    pub language: String,
}

impl Default for Practice {
    fn default() -> Self {
        Self { rules: RuleBook::default(), review_months: REVIEW_MONTHS, today: None, language: "en".to_owned() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seconds_become_days() {
        let day = |year, month, day| Day { year, month, day };
        // Known instants of the Unix clock.
        for (seconds, expected) in [
            (0, day(1970, 1, 1)),
            (-1, day(1969, 12, 31)),
            (951_782_400, day(2000, 2, 29)),
            (1_234_567_890, day(2009, 2, 13)),
            (1_893_456_000, day(2030, 1, 1)),
        ] {
            assert_eq!(Day::of_seconds(seconds), expected, "{seconds}");
        }
        assert_eq!(day(2028, 6, 14).months_since(day(2026, 6, 15)), 23);
        assert_eq!(day(2028, 6, 15).months_since(day(2026, 6, 15)), 24);
        assert!(day(2026, 6, 15).months_since(day(2028, 6, 15)) < 0);
    }
}

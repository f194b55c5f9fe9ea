//! Days of the calendar.

use time::{Date, Month};

/// `2026-05-01`
pub fn date(text: &str) -> Option<Date> {
    let mut parts = text.splitn(3, '-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    if year.len() != 4 || month.len() != 2 || day.len() != 2 {
        return None;
    }
    let month = Month::try_from(month.parse::<u8>().ok()?).ok()?;
    Date::from_calendar_date(year.parse().ok()?, month, day.parse().ok()?).ok()
}

/// Completed months from one day to another; negative where the second lies
/// before the first.
pub fn months_between(earlier: Date, later: Date) -> i64 {
    let months = |day: Date| i64::from(day.year()) * 12 + i64::from(u8::from(day.month()));
    let whole = months(later) - months(earlier);
    if later.day() < earlier.day() { whole - 1 } else { whole }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn only_days_of_the_calendar_are_dates() {
        assert_eq!(date("2028-02-29").unwrap().to_string(), "2028-02-29");
        for text in ["2026-02-29", "2026-13-01", "26-01-01", "2026-1-1", "2026-01", ""] {
            assert_eq!(date(text), None, "{text}");
        }
    }

    #[test]
    fn a_month_is_completed_on_its_day() {
        let day = |text| date(text).unwrap();
        assert_eq!(months_between(day("2026-06-15"), day("2028-06-14")), 23);
        assert_eq!(months_between(day("2026-06-15"), day("2028-06-15")), 24);
        assert!(months_between(day("2028-06-15"), day("2026-06-15")) < 0);
    }
}

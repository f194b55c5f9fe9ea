//! The normalised table as a text: a provenance header in remarks, then one
//! row a food, as `reference::table` reads it.

use std::fmt::Write;

use sha2::{Digest, Sha256};

use crate::import::{File, Import, grid};
use crate::reference::nutrient::NutrientId;

/// SHA-256 of a file in hexadecimal digits.
pub fn digest(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::with_capacity(64), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// Days since 1970-01-01 as a date, by the usual rule of four, one hundred and
/// four hundred years.
pub fn date(seconds: u64) -> String {
    let mut days = seconds / 86_400;
    let leap = |year: u64| year.is_multiple_of(4) && !year.is_multiple_of(100) || year.is_multiple_of(400);
    let mut year = 1970;
    // A clock that is far ahead is cut off rather than counted out.
    while year < 9999 {
        let length = if leap(year) { 366 } else { 365 };
        if days < length {
            break;
        }
        days -= length;
        year += 1;
    }
    let february = if leap(year) { 29 } else { 28 };
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30] {
        if days < length {
            break;
        }
        days -= length;
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", days.min(30) + 1)
}

/// The table's text.
pub fn table(import: &Import, files: &[File], date: &str) -> String {
    let mut out = format!("{} 1: composition per 100 g edible portion; blank is unknown, never zero\n", grid::OWN);
    out.push_str("# tr: a trace; <0.1: less than 0.1; [12]: estimated by the source\n");
    for file in files {
        let _ = writeln!(out, "# source   {}, SHA-256 {}", line(&file.name), digest(&file.bytes));
    }
    let _ = writeln!(out, "# form     {}, figures per {}", import.form, import.basis);
    let _ = writeln!(out, "# dated    {date}");
    let _ = writeln!(out, "# foods    {}", import.rows.len());
    for column in &import.columns {
        let own = column.id.get();
        let _ = write!(out, "# column   {} = {}, {}", own.tag, line(&column.head), column.unit);
        if column.factor != 1.0 {
            let _ = write!(out, " x {} = {}", crate::import::unit::tidy(column.factor), own.unit);
        }
        if !column.reason.is_empty() {
            let _ = write!(out, " ({})", column.reason);
        }
        out.push('\n');
    }
    let ids: Vec<NutrientId> =
        NutrientId::all().filter(|id| import.rows.iter().any(|row| row.amount(*id).is_some())).collect();
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut record = vec!["food".to_owned(), "name".to_owned()];
    record.extend(ids.iter().map(|id| id.get().tag.to_owned()));
    let _ = writer.write_record(&record);
    for row in &import.rows {
        record.clear();
        record.push(row.id.clone());
        record.push(guarded(&row.name));
        record.extend(ids.iter().map(|id| row.amount(*id).map_or(String::new(), |amount| amount.to_string())));
        let _ = writer.write_record(&record);
    }
    if let Ok(bytes) = writer.into_inner() {
        out.push_str(&String::from_utf8_lossy(&bytes));
    }
    out
}

/// A source's word on one line of remarks.
fn line(text: &str) -> String {
    crate::diagnostic::render::visible(text).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A name that a spreadsheet program would run as a formula loses what makes
/// it one.
fn guarded(name: &str) -> String {
    line(name).trim_start_matches(['=', '+', '-', '@', '＝', '＋', '－', '＠', '\t', '\r', ' ']).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_the_calendar_s() {
        for (seconds, day) in [
            (0, "1970-01-01"),
            (951_782_400, "2000-02-29"),
            (951_868_800, "2000-03-01"),
            (1_735_603_200, "2024-12-31"),
            (1_795_564_800, "2026-11-25"),
            (4_107_542_400, "2100-03-01"),
        ] {
            assert_eq!(date(seconds), day, "{seconds}");
        }
        assert_eq!(date(u64::MAX).len(), "9999-12-31".len());
    }

    /// FIPS 180-2, appendix B.1 (memory).
    #[test]
    fn the_digest_is_sha_256() {
        assert_eq!(digest(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}

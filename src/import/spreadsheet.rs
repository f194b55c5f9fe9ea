//! Spreadsheets to grids. A few kilobytes can unfold into more than a machine
//! holds, so everything is measured before it is opened.

use std::io::{Cursor, Read};
use std::panic::{AssertUnwindSafe, catch_unwind};

use calamine::{Data, Ods, Reader, Xlsx};

use crate::import::grid::{Cell, Grid, Line, too_large};
use crate::import::unit::tidy;
use crate::import::{File, MOST_CELLS, Place, Remarks};

/// Most bytes that a spreadsheet may unfold to.
const MOST_BYTES: u64 = 256 << 20;
/// Most files inside of one.
const MOST_PARTS: usize = 10_000;
/// Columns of a spreadsheet.
const MOST_COLUMNS: usize = 16_384;

/// Reads one sheet: the named one, or the first.
pub fn read(file: &File, sheet: Option<&str>, remarks: &mut Remarks) -> Option<Grid> {
    let place = Place::file(&file.name);
    let content = match measured(&file.bytes) {
        Ok(content) => content,
        Err(message) => {
            remarks.error(place, message, "open it in a spreadsheet program and save it anew as .xlsx or .ods");
            return None;
        }
    };
    let mut grid = Grid { file: file.name.clone(), may_have_commas: true, ..Grid::default() };
    // The library has its own doubts about damaged files, and some of them are
    // panics: here they are one more damaged file.
    let read = catch_unwind(AssertUnwindSafe(|| match &content {
        Content::Xlsx => xlsx(&file.bytes, sheet, &mut grid),
        Content::Ods(cells) if *cells > MOST_CELLS => Err(Trouble::TooLarge),
        Content::Ods(_) => ods(&file.bytes, sheet, &mut grid),
    }))
    .unwrap_or(Err(Trouble::Broken));
    match read {
        Ok(()) => Some(grid),
        Err(Trouble::TooLarge) => {
            too_large(&grid, remarks);
            None
        }
        Err(Trouble::NoSheet(names)) => {
            let asked = sheet.map_or("it has no sheet".to_owned(), |sheet| format!("it has no sheet `{sheet}`"));
            remarks.error(place, asked, format!("its sheets are {}", names.join(", ")));
            None
        }
        Err(Trouble::Broken) => {
            remarks.error(
                place,
                "the spreadsheet is damaged",
                "open it in a spreadsheet program and save it anew as .xlsx or .ods",
            );
            None
        }
    }
}

enum Trouble {
    TooLarge,
    NoSheet(Vec<String>),
    Broken,
}

enum Content {
    Xlsx,
    /// How many cells its sheets unfold to.
    Ods(usize),
}

/// Unfolds every part into nothing, to see how large it is.
fn measured(bytes: &[u8]) -> Result<Content, String> {
    let damaged = || "the spreadsheet is damaged".to_owned();
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|_| damaged())?;
    if archive.len() > MOST_PARTS {
        return Err("the file holds more parts than any spreadsheet".to_owned());
    }
    let mut left = MOST_BYTES;
    let mut content = None;
    for at in 0..archive.len() {
        let part = archive.by_index(at).map_err(|_| damaged())?;
        let name = part.name().map_err(|_| damaged())?.into_owned();
        let mut limited = part.take(left + 1);
        let mut kept = Vec::new();
        let size = if name == "content.xml" {
            limited.read_to_end(&mut kept).map(|size| size as u64)
        } else {
            std::io::copy(&mut limited, &mut std::io::sink())
        };
        let size = size.map_err(|_| damaged())?;
        left = left.checked_sub(size).ok_or_else(|| {
            format!("the spreadsheet unfolds to more than {} MB: it is no table of foods", MOST_BYTES >> 20)
        })?;
        match name.as_str() {
            "xl/workbook.xml" => content = Some(Content::Xlsx),
            "content.xml" => content = Some(Content::Ods(unfolded_cells(&String::from_utf8_lossy(&kept)))),
            _ => {}
        }
    }
    content.ok_or_else(|| "this archive is no .xlsx and no .ods spreadsheet".to_owned())
}

/// How many cells an OpenDocument text unfolds to: a cell and a row may be
/// repeated any number of times. Counts at least as many as are made.
fn unfolded_cells(text: &str) -> usize {
    let (mut most, mut rows, mut widest, mut pushed) = (0usize, 0usize, 0usize, 0usize);
    let (mut row_repeats, mut waiting_rows) = (1usize, 0usize);
    let (mut width, mut waiting) = (0usize, 0usize);
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        rest = rest.get(at + 1..).unwrap_or_default();
        let length = tag_length(rest);
        let tag = rest.get(..length).unwrap_or_default();
        rest = rest.get(length..).unwrap_or_default();
        let name = tag.split(|c: char| c.is_whitespace() || c == '/').next().unwrap_or_default();
        let repeated = |what: &str| {
            tag.split_once(what)
                .and_then(|(_, rest)| rest.get(2..))
                .map(|rest| rest.split(['"', '\'']).next().unwrap_or_default())
                .map_or(1, |number| number.trim().parse::<usize>().unwrap_or(usize::MAX))
        };
        match name {
            "table:table-row" => {
                row_repeats = repeated("number-rows-repeated");
                (width, waiting) = (0, 0);
                if tag.ends_with('/') {
                    waiting_rows = waiting_rows.saturating_add(row_repeats);
                }
            }
            "table:table-cell" | "table:covered-table-cell" => {
                let cells = repeated("number-columns-repeated").min(MOST_COLUMNS);
                if tag.contains("value") || tag.contains("formula") {
                    width = width.saturating_add(waiting).saturating_add(cells);
                    waiting = 0;
                } else {
                    waiting = waiting.saturating_add(cells).min(MOST_COLUMNS);
                }
                if width > 0 && row_repeats > 0 {
                    // Rows between count once a row below them has something.
                    rows = rows.saturating_add(waiting_rows).saturating_add(row_repeats);
                    (waiting_rows, row_repeats) = (0, 0);
                }
            }
            "" if tag.starts_with("/table:table-row") => {
                waiting_rows = waiting_rows.saturating_add(row_repeats);
                pushed = pushed.saturating_add(width);
                widest = widest.max(width);
            }
            "" if tag.starts_with("/table:table") && !tag.starts_with("/table:table-") => {
                most = most.max(rows.saturating_mul(widest));
                (rows, widest, waiting_rows) = (0, 0, 0);
            }
            _ => {}
        }
    }
    most.max(rows.saturating_mul(widest)).max(pushed)
}

/// Bytes up to the end of a tag; what stands in quotes does not end it.
fn tag_length(text: &str) -> usize {
    let mut quote = None;
    for (at, byte) in text.bytes().enumerate() {
        match (quote, byte) {
            (None, b'>') => return at,
            (None, b'"' | b'\'') => quote = Some(byte),
            (Some(open), _) if open == byte => quote = None,
            _ => {}
        }
    }
    text.len()
}

fn chosen(names: Vec<String>, sheet: Option<&str>) -> Result<String, Trouble> {
    let found = match sheet {
        Some(sheet) => names.iter().find(|name| name.as_str() == sheet),
        None => names.first(),
    };
    match found {
        Some(name) => Ok(name.clone()),
        None => Err(Trouble::NoSheet(names)),
    }
}

fn xlsx(bytes: &[u8], sheet: Option<&str>, grid: &mut Grid) -> Result<(), Trouble> {
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(|_| Trouble::Broken)?;
    let name = chosen(book.sheet_names(), sheet)?;
    grid.sheet = Some(name.clone());
    let mut reader = book.worksheet_cells_reader(&name).map_err(|_| Trouble::Broken)?;
    let mut count = 0usize;
    // Cells come in the order of the file, which is that of the sheet; one
    // that goes back is a damaged file's.
    while let Some(record) = reader.next_cell_with_formula_metadata().map_err(|_| Trouble::Broken)? {
        let (row, column) = record.pos;
        let (Ok(row), Ok(column)) = (usize::try_from(row), usize::try_from(column)) else {
            continue;
        };
        if column >= MOST_COLUMNS {
            continue;
        }
        let mut cell = of(Data::from(record.value));
        cell.formula = record.formula.is_some();
        if cell.text.is_empty() && cell.flaw.is_none() && !cell.formula {
            continue;
        }
        if grid.lines.last().is_none_or(|line| line.number < row + 1) {
            grid.lines.push(Line { number: row + 1, cells: Vec::new() });
        }
        let Some(line) = grid.lines.last_mut().filter(|line| line.number == row + 1) else {
            return Err(Trouble::Broken);
        };
        count += (column + 1).saturating_sub(line.cells.len());
        if count > MOST_CELLS {
            return Err(Trouble::TooLarge);
        }
        if line.cells.len() <= column {
            line.cells.resize(column + 1, Cell::default());
        }
        if let Some(slot) = line.cells.get_mut(column) {
            *slot = cell;
        }
    }
    Ok(())
}

fn ods(bytes: &[u8], sheet: Option<&str>, grid: &mut Grid) -> Result<(), Trouble> {
    let mut book = Ods::new(Cursor::new(bytes)).map_err(|_| Trouble::Broken)?;
    let name = chosen(book.sheet_names(), sheet)?;
    grid.sheet = Some(name.clone());
    let range = book.worksheet_range(&name).map_err(|_| Trouble::Broken)?;
    let formulas = book.worksheet_formula(&name).map_err(|_| Trouble::Broken)?;
    let (first_row, first_column) = range.start().unwrap_or((0, 0));
    for (row, cells) in (first_row..).zip(range.rows()) {
        let mut line = Line { number: usize::try_from(row).unwrap_or(0) + 1, cells: Vec::new() };
        line.cells.resize(usize::try_from(first_column).unwrap_or(0), Cell::default());
        for (column, data) in (first_column..).zip(cells) {
            let mut cell = of(data.clone());
            cell.formula = formulas.get_value((row, column)).is_some_and(|formula| !formula.is_empty());
            line.cells.push(cell);
        }
        if !line.is_blank() {
            grid.lines.push(line);
        }
    }
    Ok(())
}

/// A cell's value as text.
fn of(data: Data) -> Cell {
    let flawed = |flaw| Cell { flaw: Some(flaw), ..Cell::default() };
    let number = |text| Cell { text, number: true, ..Cell::default() };
    match data {
        Data::Empty => Cell::default(),
        Data::String(text) => Cell { text, ..Cell::default() },
        Data::Int(value) => number(value.to_string()),
        Data::Float(value) => number(tidy(value).to_string()),
        Data::Bool(_) => flawed("is true or false, no amount"),
        Data::DateTime(_) | Data::DateTimeIso(_) | Data::DurationIso(_) => flawed("was turned into a date or a time"),
        Data::Error(_) => flawed("is an error of the spreadsheet"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unfolding_is_counted_before_it_is_done() {
        let row = "<table:table-row table:number-rows-repeated=\"1000\">\
                   <table:table-cell table:number-columns-repeated=\"50\"/>\
                   <table:table-cell office:value-type=\"float\" office:value=\"1\" table:number-columns-repeated='150'/>\
                   <table:table-cell table:number-columns-repeated=\"16000\"/></table:table-row>";
        let empty = "<table:table-row table:number-rows-repeated=\"1048000\">\
                     <table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>";
        let table = |rows: &str| format!("<table:table table:name=\"a>b\">{rows}</table:table>");
        assert_eq!(unfolded_cells(&table(row)), 200_000);
        assert_eq!(unfolded_cells(&table(&format!("{row}{empty}"))), 200_000);
        assert_eq!(unfolded_cells(&table(&format!("{row}{empty}{row}"))), 1_050_000 * 200);
        assert_eq!(unfolded_cells("<<<\"<table:table-row"), 0);
    }
}

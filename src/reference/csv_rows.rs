//! The rows of a CSV file with their places, so that a fault of a cell is told
//! where it stands. Lines that begin with `#` are remarks.

use crate::diagnostic::{Code, Diagnostic, Sink};
use crate::source::{Source, Span};

/// Most columns of a table that is read: each of many bad cells is looked for
/// from the start of its row.
const MOST_COLUMNS: usize = 1_000;

/// One row.
pub struct CsvRow<'a> {
    record: &'a csv::StringRecord,
    text: &'a str,
    start: usize,
    /// Of the whole row.
    pub span: Span,
}

impl<'a> CsvRow<'a> {
    /// Cells without the blanks about them.
    pub fn cells(&self) -> impl Iterator<Item = &'a str> {
        self.record.iter().map(str::trim)
    }

    pub fn cell(&self, column: usize) -> Option<&'a str> {
        self.record.get(column).map(str::trim)
    }

    /// Where a column stands, blanks and quotes left out.
    pub fn place(&self, column: usize) -> Span {
        cell_span(self.text, self.start, column)
    }
}

/// Hands each row on, the first of them the one that names the columns, until
/// the visitor has seen enough.
pub fn each(source: &Source, sink: &mut Sink, mut visit: impl FnMut(&CsvRow<'_>, &mut Sink) -> bool) {
    let text = source.text.strip_prefix('\u{FEFF}').unwrap_or(&source.text);
    let shift = source.text.len() - text.len();
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).comment(Some(b'#')).from_reader(text.as_bytes());
    let mut record = csv::StringRecord::new();
    loop {
        let before = shift + usize::try_from(reader.position().byte()).unwrap_or(usize::MAX);
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => return,
            Err(error) => {
                sink.push(
                    Diagnostic::new(
                        Code::WorkspaceTableError,
                        Span::new(before, before),
                        format!("this row cannot be read as CSV: {error}"),
                    )
                    .help("cells are parted by commas; text with a comma stands in double quotes"),
                );
                return;
            }
        }
        let end = shift + usize::try_from(reader.position().byte()).unwrap_or(usize::MAX);
        let (start, row_text) = after_remarks(source.text.get(before..end).unwrap_or_default(), before);
        if record.len() > MOST_COLUMNS {
            let columns = record.len();
            sink.push(
                Diagnostic::new(
                    Code::WorkspaceTableError,
                    Span::new(start, start),
                    format!("this table has {columns} columns; the most that is read is {MOST_COLUMNS}"),
                )
                .help("keep the columns that are needed and remove the rest"),
            );
            return;
        }
        let first = start + (row_text.len() - row_text.trim_start().len());
        let span = Span::new(first, first + row_text.trim().len());
        if !visit(&CsvRow { record: &record, text: row_text, start, span }, sink) {
            return;
        }
    }
}

/// The row's own text and its place, without the remarks above it.
fn after_remarks(mut text: &str, mut start: usize) -> (usize, &str) {
    loop {
        let blank = text.len() - text.trim_start_matches(['\n', '\r']).len();
        let rest = text.get(blank..).unwrap_or_default();
        if !rest.starts_with('#') {
            return (start, text);
        }
        let line = rest.find('\n').map_or(rest.len(), |at| at + 1);
        start += blank + line;
        text = rest.get(line..).unwrap_or_default();
    }
}

/// Where a column stands in its row, blanks and quotes left out.
fn cell_span(row: &str, start: usize, column: usize) -> Span {
    let (mut at, mut begin, mut quoted) = (0, 0, false);
    let mut end = row.len();
    for (byte, character) in row.char_indices() {
        match character {
            '"' => quoted = !quoted,
            ',' if !quoted => {
                if at == column {
                    end = byte;
                    break;
                }
                at += 1;
                begin = byte + 1;
            }
            _ => {}
        }
    }
    let cell = row.get(begin..end).unwrap_or_default();
    let inner = cell.trim_matches(|c: char| c.is_whitespace() || c == '"');
    let shift = cell.find(inner).unwrap_or(0);
    Span::new(start + begin + shift, start + begin + shift + inner.len())
}

//! A further composition table: CSV with the columns `food`, `name` and one
//! column for each INFOODS tagname, per 100 g edible portion. A blank cell is
//! unknown, never zero.

use std::collections::HashMap;

use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::nutrient::{COUNT, NUTRIENTS, NutrientId};
use crate::source::{Source, Span};

/// Values of one food per 100 g, by nutrient.
pub type Values = Box<[Option<f64>; COUNT]>;

#[derive(Debug, Clone)]
pub struct Row {
    pub id: String,
    pub name: String,
    pub values: Values,
}

#[derive(Debug, Clone)]
pub struct Table {
    /// The name foods are addressed by: the file's stem.
    pub stem: String,
    pub path: String,
    pub rows: Vec<Row>,
    index: HashMap<String, usize>,
}

impl Table {
    pub fn row(&self, id: &str) -> Option<&Row> {
        self.index.get(id).and_then(|at| self.rows.get(*at))
    }

    /// Reads a table. Every bad cell is one message at its place; the rest of
    /// the table is kept.
    pub fn read(stem: &str, source: &Source, sink: &mut Sink) -> Self {
        let mut table =
            Self { stem: stem.to_owned(), path: source.name.clone(), rows: Vec::new(), index: HashMap::new() };
        let text = source.text.strip_prefix('\u{FEFF}').unwrap_or(&source.text);
        let shift = source.text.len() - text.len();
        let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
        let mut record = csv::StringRecord::new();
        let mut columns: Vec<Option<NutrientId>> = Vec::new();
        let (mut id_column, mut name_column) = (None, None);
        let mut first = true;
        loop {
            let start = shift + usize::try_from(reader.position().byte()).unwrap_or(usize::MAX);
            match reader.read_record(&mut record) {
                Ok(true) => {}
                Ok(false) => break,
                Err(error) => {
                    sink.push(
                        Diagnostic::new(
                            Code::WorkspaceTableError,
                            Span::new(start, start),
                            format!("this row cannot be read as CSV: {error}"),
                        )
                        .help("cells are parted by commas; text with a comma stands in double quotes"),
                    );
                    break;
                }
            }
            let end = shift + usize::try_from(reader.position().byte()).unwrap_or(usize::MAX);
            let row_text = source.text.get(start..end).unwrap_or_default();
            let row_start = start + (row_text.len() - row_text.trim_start().len());
            let row_span = Span::new(row_start, start + row_text.trim_end().len());
            if first {
                first = false;
                for (at, head) in record.iter().enumerate() {
                    let head = head.trim();
                    match head {
                        "food" => id_column = Some(at),
                        "name" => name_column = Some(at),
                        _ => {}
                    }
                    let tag = NutrientId::from_tag(head);
                    columns.push(tag);
                    if tag.is_none() && !matches!(head, "food" | "name" | "") {
                        sink.push(
                            Diagnostic::new(
                                Code::WorkspaceTableError,
                                cell_span(row_text, start, at),
                                format!("{} is no INFOODS tagname", quote(head)),
                            )
                            .maybe_help(
                                did_you_mean(head, NUTRIENTS.iter().map(|nutrient| nutrient.tag))
                                    .map(|near| format!("did you mean `{near}`? The column is left out"))
                                    .or_else(|| {
                                        Some("the column is left out; rename it to an INFOODS tagname".to_owned())
                                    }),
                            ),
                        );
                    }
                }
                if id_column.is_none() {
                    sink.push(
                        Diagnostic::new(Code::WorkspaceTableError, row_span, "the table has no column `food`")
                            .help("the first line names the columns: food,name,ENERC_KCAL,PROCNT,…"),
                    );
                    return table;
                }
                continue;
            }
            let id = id_column.and_then(|at| record.get(at)).unwrap_or_default().trim().to_owned();
            if id.is_empty() {
                if record.iter().any(|cell| !cell.trim().is_empty()) {
                    sink.push(
                        Diagnostic::new(Code::WorkspaceTableError, row_span, "this row names no food")
                            .help("write the food's number or name in the column `food`"),
                    );
                }
                continue;
            }
            let mut row = Row {
                id: id.clone(),
                name: name_column.and_then(|at| record.get(at)).unwrap_or_default().trim().to_owned(),
                values: Box::new([None; COUNT]),
            };
            for (at, (cell, column)) in record.iter().zip(&columns).enumerate() {
                let (Some(column), cell) = (column, cell.trim()) else {
                    continue;
                };
                if cell.is_empty() {
                    continue;
                }
                match cell.parse::<f64>() {
                    Ok(value) if value.is_finite() && (0.0..=1e9).contains(&value) => {
                        if let Some(slot) = row.values.get_mut(column.index()) {
                            *slot = Some(value);
                        }
                    }
                    _ => sink.push(
                        Diagnostic::new(
                            Code::WorkspaceTableError,
                            cell_span(row_text, start, at),
                            format!("{} is no amount of {}", quote(cell), column.get().tag),
                        )
                        .help("write a number with a decimal point, or leave the cell blank for unknown"),
                    ),
                }
            }
            if table.index.contains_key(&id) {
                sink.push(
                    Diagnostic::new(
                        Code::WorkspaceTableError,
                        row_span,
                        format!("the food {} stands twice", quote(&id)),
                    )
                    .help("the first row is used; remove one of the two"),
                );
                continue;
            }
            table.index.insert(id, table.rows.len());
            table.rows.push(row);
        }
        table
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

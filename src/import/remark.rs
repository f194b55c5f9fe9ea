//! What an import has to say, each at its row and column.

use std::fmt;

use crate::diagnostic::Severity;

/// Where in a source something stands.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Place {
    pub file: String,
    pub sheet: Option<String>,
    /// Line of a text, row of a sheet, from one.
    pub row: Option<usize>,
    /// Number of the column from one, and its head.
    pub column: Option<(usize, String)>,
    /// Inside a JSON file: the food and the component.
    pub path: Option<String>,
}

impl Place {
    pub fn file(name: &str) -> Self {
        Self { file: name.to_owned(), ..Self::default() }
    }

    pub fn row(mut self, row: usize) -> Self {
        self.row = Some(row);
        self
    }

    pub fn column(mut self, at: usize, head: &str) -> Self {
        self.column = Some((at + 1, head.split_whitespace().collect::<Vec<_>>().join(" ")));
        self
    }

    pub fn path(mut self, path: impl Into<String>) -> Self {
        self.path = Some(path.into());
        self
    }
}

/// `lake.csv row 7, column 3 (FE)`, `lake.xlsx sheet Foods, row 7, column C (FE)`
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        let mut part = " ";
        if let Some(sheet) = &self.sheet {
            write!(f, "{part}sheet {sheet}")?;
            part = ", ";
        }
        if let Some(path) = &self.path {
            write!(f, "{part}{path}")?;
            part = ", ";
        }
        if let Some(row) = self.row {
            write!(f, "{part}row {row}")?;
            part = ", ";
        }
        if let Some((column, head)) = &self.column {
            if self.sheet.is_some() {
                write!(f, "{part}column {}", letters(*column))?;
            } else {
                write!(f, "{part}column {column}")?;
            }
            if !head.is_empty() {
                write!(f, " ({head})")?;
            }
        }
        Ok(())
    }
}

/// A column's letters in a spreadsheet: 1 is A, 27 is AA.
pub fn letters(mut column: usize) -> String {
    let mut found = Vec::new();
    while column > 0 {
        column -= 1;
        found.push(char::from(b'A' + u8::try_from(column % 26).unwrap_or(0)));
        column /= 26;
    }
    found.iter().rev().collect()
}

/// An error: something of the source is not in the table. A warning: it is, and
/// is doubtful. A note: how something was understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    pub severity: Severity,
    pub place: Place,
    pub message: String,
    pub help: String,
}

/// Remarks in the order of the source.
#[derive(Debug, Default)]
pub struct Remarks {
    list: Vec<Remark>,
}

impl Remarks {
    pub fn error(&mut self, place: Place, message: impl Into<String>, help: impl Into<String>) {
        self.push(Severity::Error, place, message, help);
    }

    pub fn warning(&mut self, place: Place, message: impl Into<String>, help: impl Into<String>) {
        self.push(Severity::Warning, place, message, help);
    }

    pub fn note(&mut self, place: Place, message: impl Into<String>, help: impl Into<String>) {
        self.push(Severity::Note, place, message, help);
    }

    fn push(&mut self, severity: Severity, place: Place, message: impl Into<String>, help: impl Into<String>) {
        self.list.push(Remark { severity, place, message: message.into(), help: help.into() });
    }

    pub fn all(&self) -> &[Remark] {
        &self.list
    }

    pub fn count(&self, severity: Severity) -> usize {
        self.list.iter().filter(|remark| remark.severity == severity).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_read_like_the_source() {
        assert_eq!(Place::file("a.csv").row(7).column(2, "FE").to_string(), "a.csv row 7, column 3 (FE)");
        let sheet = Place { sheet: Some("Foods".to_owned()), ..Place::file("a.xlsx") };
        assert_eq!(sheet.row(7).column(27, "FE \n(mg)").to_string(), "a.xlsx sheet Foods, row 7, column AB (FE (mg))");
        assert_eq!([1, 26, 27, 702, 703].map(letters), ["A", "Z", "AA", "ZZ", "AAA"]);
    }
}

//! A table as rows of cells, whatever file it came from.

use crate::import::{File, MOST_CELLS, Map, Place, Remarks};

/// A cell with what is to be said of it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Cell {
    pub text: String,
    /// A number to the spreadsheet, not digits.
    pub number: bool,
    /// The value of a formula, as the spreadsheet last worked it out.
    pub formula: bool,
    /// Why the cell holds no text: an error, a date.
    pub flaw: Option<&'static str>,
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self { text: text.to_owned(), ..Self::default() }
    }
}

#[derive(Debug, Clone, Default)]
pub struct Line {
    /// Line of the text or row of the sheet, from one.
    pub number: usize,
    pub cells: Vec<Cell>,
}

impl Line {
    pub fn text(&self, at: usize) -> &str {
        self.cells.get(at).map_or("", |cell| cell.text.trim())
    }

    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(|cell| cell.text.trim().is_empty() && cell.flaw.is_none())
    }
}

#[derive(Debug, Clone, Default)]
pub struct Grid {
    pub file: String,
    pub sheet: Option<String>,
    pub lines: Vec<Line>,
    /// A comma can be a decimal one: it does not part the cells.
    pub may_have_commas: bool,
}

impl Grid {
    pub fn place(&self) -> Place {
        Place { file: self.file.clone(), sheet: self.sheet.clone(), ..Place::default() }
    }
}

/// The text of a file: UTF-8, UTF-16 with a byte order mark, or Windows-1252.
pub fn decode(file: &File, remarks: &mut Remarks) -> Option<String> {
    let text = match encoding_rs::Encoding::for_bom(&file.bytes) {
        Some((encoding, mark)) => {
            let (text, broken) = encoding.decode_without_bom_handling(file.bytes.get(mark..).unwrap_or_default());
            if broken {
                remarks.warning(
                    Place::file(&file.name),
                    format!("some characters are not {}", encoding.name()),
                    "they are shown as �; save the file anew as UTF-8",
                );
            }
            text.into_owned()
        }
        None => match std::str::from_utf8(&file.bytes) {
            Ok(text) => text.to_owned(),
            Err(_) => {
                let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(&file.bytes);
                remarks.note(
                    Place::file(&file.name),
                    "the file is not UTF-8: it is read as Windows-1252",
                    "if names look wrong, save the file as UTF-8",
                );
                text.into_owned()
            }
        },
    };
    if text.trim().is_empty() {
        remarks.error(Place::file(&file.name), "the file is empty", "name the file that holds the table");
        return None;
    }
    // Text has no zero bytes; what has is a program, a picture or an archive.
    if text.contains('\0') {
        remarks.error(
            Place::file(&file.name),
            "this is neither text nor a spreadsheet",
            "name a .csv, .json, .xlsx or .ods file, or an unpacked folder of FoodData Central",
        );
        return None;
    }
    Some(text)
}

/// First line of a table that this program wrote.
pub const OWN: &str = "# porringer table";

/// Parts a CSV text into cells.
pub fn csv(name: &str, text: &str, map: &Map, remarks: &mut Remarks) -> Option<Grid> {
    let mut text = text;
    let mut skipped = 0;
    let mut separator = map.separator.as_deref().and_then(|separator| separator.bytes().next());
    // A spreadsheet program's own hint.
    let first = text.lines().next().unwrap_or_default().trim();
    if let Some(hint) = first.strip_prefix("sep=")
        && let ([own], Some((_, rest))) = (hint.as_bytes(), text.split_once('\n'))
    {
        separator = separator.or(Some(*own));
        text = rest;
        skipped = 1;
    }
    let separator = separator.unwrap_or_else(|| sniffed(text));
    let mut reader = csv::ReaderBuilder::new();
    reader.has_headers(false).flexible(true).delimiter(separator);
    let own = text.starts_with(OWN);
    if own {
        reader.comment(Some(b'#'));
    }
    let mut reader = reader.from_reader(text.as_bytes());
    let mut grid = Grid { file: name.to_owned(), may_have_commas: separator != b',', ..Grid::default() };
    let mut record = csv::StringRecord::new();
    let mut count = 0;
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => {
                let row = error.position().map_or(0, |position| position.line());
                let place = grid.place().row(usize::try_from(row).unwrap_or(0) + skipped);
                remarks.error(
                    place,
                    "from here on this cannot be read as CSV",
                    "text with a separator or a quotation mark stands in double quotes",
                );
                break;
            }
        }
        count += record.len();
        if count > MOST_CELLS {
            too_large(&grid, remarks);
            return None;
        }
        let (line, byte) = record.position().map_or((0, 0), |position| (position.line(), position.byte()));
        let above =
            usize::try_from(byte).ok().and_then(|byte| text.get(byte..)).map_or(0, |text| lines_above(text, own));
        grid.lines.push(Line {
            number: usize::try_from(line).unwrap_or(0) + skipped + above,
            cells: record.iter().map(Cell::from).collect(),
        });
    }
    Some(grid)
}

/// Blank lines and remarks that the reader passes over before a row.
fn lines_above(text: &str, own: bool) -> usize {
    let passed = |line: &&str| line.trim_end_matches(['\r', '\n']).is_empty() || own && line.starts_with('#');
    text.split_inclusive('\n').take_while(passed).count()
}

pub fn too_large(grid: &Grid, remarks: &mut Remarks) {
    remarks.error(
        grid.place(),
        format!("the table has more than {} million cells", MOST_CELLS / 1_000_000),
        "part it into several files, or take out the columns that are no food components",
    );
}

/// The separator that parts the first lines into the most columns of one
/// width.
fn sniffed(text: &str) -> u8 {
    const LOOKED_AT: usize = 40;
    let score = |separator: u8| {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .from_reader(text.as_bytes());
        let widths: Vec<usize> =
            reader.records().take(LOOKED_AT).map_while(Result::ok).map(|record| record.len()).collect();
        let usual =
            widths.iter().copied().max_by_key(|width| (widths.iter().filter(|other| *other == width).count(), *width));
        let usual = usual.unwrap_or(1);
        if usual < 2 { 0 } else { usual * widths.iter().filter(|width| **width == usual).count() }
    };
    [b',', b';', b'\t'].into_iter().rev().max_by_key(|separator| score(*separator)).unwrap_or(b',')
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    fn grid(bytes: &[u8]) -> (Grid, Remarks) {
        let mut remarks = Remarks::default();
        let file = File { name: "a.csv".to_owned(), bytes: bytes.to_vec() };
        let text = decode(&file, &mut remarks).unwrap();
        (csv("a.csv", &text, &Map::default(), &mut remarks).unwrap(), remarks)
    }

    #[test]
    fn separators_and_encodings_are_found() {
        let utf16: Vec<u8> = "\u{FEFF}food;näme\na;1,5\n".encode_utf16().flat_map(|unit| unit.to_le_bytes()).collect();
        let cases: [(&[u8], &str); 5] = [
            ("food,näme\na,\"1,5\"\n".as_bytes(), ""),
            ("food;näme\na;1,5\n".as_bytes(), ""),
            ("\u{FEFF}food\tnäme\na\t1,5\n".as_bytes(), ""),
            (&utf16, ""),
            (b"food;n\xE4me\na;1,5\n", "the file is not UTF-8: it is read as Windows-1252"),
        ];
        for (bytes, said) in cases {
            let (grid, remarks) = grid(bytes);
            assert_eq!(grid.lines.len(), 2);
            assert_eq!(grid.lines[0].text(1), "näme");
            assert_eq!(grid.lines[1].text(1), "1,5");
            assert_eq!(remarks.all().first().map_or("", |remark| remark.message.as_str()), said);
        }
    }

    #[test]
    fn rows_are_counted_as_an_editor_counts_them() {
        let (grid, _) = grid(b"sep=;\nfood;name\n\"a\nb\";c\n\nd;e\n");
        let numbers: Vec<usize> = grid.lines.iter().map(|line| line.number).collect();
        assert_eq!(numbers, [2, 3, 6]);
    }
}

//! Spreadsheets: an .xlsx from another library's hand, an .ods as its standard
//! has it, and both as traps.

use std::io::{Cursor, Write};

use porringer::import::{Import, Map, read_file};
use porringer::reference::table::Amount::{Below, Estimated, Known, Trace};
use proptest::prelude::*;
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use crate::{amount, errors, file, map, said};

fn read(name: &str, bytes: &[u8]) -> Import {
    read_file(&file(name, bytes), &Map::default())
}

/// Tags in one row, units in the next, a title above.
fn xlsx() -> Vec<u8> {
    let mut book = Workbook::new();
    book.add_worksheet().set_name("About").unwrap().write(0, 0, "Read me").unwrap();
    let sheet = book.add_worksheet().set_name("Foods").unwrap();
    sheet.write(0, 0, "Lake district food composition, per 100 g").unwrap();
    for (column, (head, unit)) in
        [("Code", ""), ("Name", ""), ("ENERC", "kcal"), ("FE", "mg"), ("CA", "g"), ("VITA_RAE", "µg"), ("ZN", "mg")]
            .iter()
            .enumerate()
    {
        let column = u16::try_from(column).unwrap();
        sheet.write(2, column, *head).unwrap();
        sheet.write(3, column, *unit).unwrap();
    }
    sheet.write(4, 0, 1001).unwrap().write(4, 1, "Lake spinach, raw").unwrap().write(4, 2, 23).unwrap();
    sheet.write(4, 3, "[2.7]").unwrap().write(4, 4, 0.099).unwrap().write(4, 5, "tr").unwrap();
    sheet.write(4, 6, "<0.2").unwrap();
    sheet.write(5, 0, 1002).unwrap().write(5, 1, "Shore millet").unwrap();
    sheet.write_formula(5, 2, Formula::new("=350+20").set_result("370")).unwrap();
    sheet.write_formula(5, 3, Formula::new("=NA()").set_result("#N/A")).unwrap();
    sheet.write(5, 4, true).unwrap();
    let day = Format::new().set_num_format("yyyy-mm-dd");
    sheet.write_with_format(5, 5, ExcelDateTime::from_ymd(2024, 1, 2).unwrap(), &day).unwrap();
    sheet.write(5, 6, "2,5").unwrap();
    sheet.write(7, 0, 1001).unwrap().write(7, 1, "Again").unwrap().write(7, 2, 1).unwrap();
    sheet.write(8, 1, "No code").unwrap().write(8, 2, 1).unwrap();
    book.save_to_buffer().unwrap()
}

#[test]
fn a_spreadsheet_is_read_cell_by_cell() {
    let import = read_file(&file("lake.xlsx", xlsx()), &map("sheet = \"Foods\"\n"));
    assert_eq!(
        errors(&import),
        [
            "lake.xlsx sheet Foods, row 6, column D (FE): the cell is an error of the spreadsheet: the amount stays unknown",
            "lake.xlsx sheet Foods, row 6, column E (CA): the cell is true or false, no amount: the amount stays unknown",
            "lake.xlsx sheet Foods, row 6, column F (VITA_RAE): the cell was turned into a date or a time: the amount \
         stays unknown",
            "lake.xlsx sheet Foods, row 6, column G (ZN): `2,5` has a comma: the amount stays unknown",
            "lake.xlsx sheet Foods, row 8, column A: the food code `1001` stands twice, first in row 5: this row is left \
         out",
            "lake.xlsx sheet Foods, row 9, column A: the row `No code` has no food code: it is left out",
        ]
    );
    let notes: Vec<String> = said(&import).into_iter().filter(|line| line.starts_with("note")).collect();
    assert_eq!(
        notes,
        ["note lake.xlsx sheet Foods, row 6, column C (ENERC): a formula: its last value `370` is taken"]
    );
    for (food, tag, expected) in [
        ("1001", "ENERC_KCAL", Some(Known(23.0))),
        ("1001", "FE", Some(Estimated(2.7))),
        ("1001", "CA", Some(Known(99.0))),
        ("1001", "VITA_RAE", Some(Trace)),
        ("1001", "ZN", Some(Below(0.2))),
        ("1002", "ENERC_KCAL", Some(Known(370.0))),
        ("1002", "FE", None),
        ("1002", "CA", None),
        ("1002", "VITA_RAE", None),
        ("1002", "ZN", None),
    ] {
        assert_eq!(amount(&import, food, tag), expected, "{tag} of {food}");
    }
    let import = read_file(&file("lake.xlsx", xlsx()), &map("sheet = \"Food\"\n"));
    assert_eq!(errors(&import), ["lake.xlsx: it has no sheet `Food`"]);
    assert_eq!(import.remarks.all()[0].help, "its sheets are About, Foods");
}

fn archive(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        let method = if *name == "mimetype" { CompressionMethod::Stored } else { CompressionMethod::Deflated };
        writer.start_file(*name, SimpleFileOptions::default().compression_method(method)).unwrap();
        writer.write_all(bytes).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// An OpenDocument spreadsheet (ODF 1.2) with one sheet of these rows.
fn ods(rows: &str) -> Vec<u8> {
    let content = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\" office:version=\"1.2\"><office:body>\
         <office:spreadsheet><table:table table:name=\"Foods\">{rows}</table:table></office:spreadsheet></office:body>\
         </office:document-content>"
    );
    let manifest = "<?xml version=\"1.0\" encoding=\"UTF-8\"?><manifest:manifest \
                    xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\" manifest:version=\"1.2\">\
                    <manifest:file-entry manifest:full-path=\"/\" \
                    manifest:media-type=\"application/vnd.oasis.opendocument.spreadsheet\"/>\
                    <manifest:file-entry manifest:full-path=\"content.xml\" manifest:media-type=\"text/xml\"/>\
                    </manifest:manifest>";
    archive(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"),
        ("content.xml", content.as_bytes()),
        ("META-INF/manifest.xml", manifest.as_bytes()),
    ])
}

fn words(cells: &[&str]) -> String {
    let cells: String = cells
        .iter()
        .map(|cell| match cell.parse::<f64>() {
            Ok(value) => format!("<table:table-cell office:value-type=\"float\" office:value=\"{value}\"><text:p>{value}</text:p></table:table-cell>"),
            Err(_) if cell.is_empty() => "<table:table-cell/>".to_owned(),
            Err(_) => format!("<table:table-cell office:value-type=\"string\"><text:p>{cell}</text:p></table:table-cell>"),
        })
        .collect();
    format!("<table:table-row>{cells}</table:table-row>")
}

#[test]
fn an_open_document_is_read_cell_by_cell() {
    let rest = "<table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell \
                table:number-columns-repeated=\"16384\"/></table:table-row>";
    let formula = "<table:table-row><table:table-cell office:value-type=\"string\"><text:p>c</text:p></table:table-cell>\
                   <table:table-cell/><table:table-cell table:formula=\"of:=1+2\" office:value-type=\"float\" \
                   office:value=\"3\"/></table:table-row>";
    let rows = [
        words(&["code", "name", "FE(mg)", "VITC(mg)"]),
        words(&["a", "Reed, raw", "1.25", "tr"]),
        words(&["b", "Reed cake", "(0.5)", "low"]),
        formula.to_owned(),
        words(&["a", "Again", "1", ""]),
        rest.to_owned(),
    ];
    let import = read("reed.ods", &ods(&rows.concat()));
    assert_eq!(
        errors(&import),
        [
            "reed.ods sheet Foods, row 3, column D (VITC(mg)): `low` is no amount: the amount stays unknown",
            "reed.ods sheet Foods, row 5, column A: the food code `a` stands twice, first in row 2: this row is left out",
        ]
    );
    assert_eq!(amount(&import, "a", "FE"), Some(Known(1.25)));
    assert_eq!(amount(&import, "a", "VITC"), Some(Trace));
    assert_eq!(amount(&import, "b", "FE"), Some(Estimated(0.5)));
    assert_eq!(amount(&import, "c", "FE"), Some(Known(3.0)));
}

/// A kilobyte that asks for gigabytes is refused before it is given them.
#[test]
fn bombs_are_refused() {
    let cell =
        "<table:table-cell table:number-columns-repeated=\"16384\" office:value-type=\"float\" office:value=\"1\"/>";
    let row =
        |repeats: usize| format!("<table:table-row table:number-rows-repeated=\"{repeats}\">{cell}</table:table-row>");
    for rows in [row(1_000_000), row(1).repeat(50_000)] {
        let import = read("bomb.ods", &ods(&rows));
        assert_eq!(errors(&import), ["bomb.ods: the table has more than 20 million cells"]);
    }
    let zeros = vec![b' '; 300 << 20];
    let import = read("bomb.xlsx", &archive(&[("xl/workbook.xml", &zeros)]));
    assert_eq!(errors(&import), ["bomb.xlsx: the spreadsheet unfolds to more than 256 MB: it is no table of foods"]);
    // Two cells, one in each far corner of a sheet.
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write(0, 0, "food").unwrap().write(0, 1, "FE").unwrap();
    sheet.write(1, 0, "a").unwrap().write(1, 1, 2).unwrap();
    sheet.write(1_048_575, 16_383, 1).unwrap();
    let import = read("wide.xlsx", &book.save_to_buffer().unwrap());
    assert_eq!(import.rows.len(), 1);
}

#[test]
fn what_is_no_spreadsheet_is_said() {
    for (bytes, expected) in [
        (archive(&[("a.txt", b"text")]), "a.xlsx: this archive is no .xlsx and no .ods spreadsheet"),
        (archive(&[("xl/workbook.xml", b"<")]), "a.xlsx: the spreadsheet is damaged"),
        (b"PK\x03\x04".to_vec(), "a.xlsx: the spreadsheet is damaged"),
        (vec![0xD0, 0xCF, 0x11, 0xE0, 0], "a.xlsx: this is a spreadsheet of an old kind"),
    ] {
        assert_eq!(errors(&read("a.xlsx", &bytes)), [expected]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn damage_is_survived(at in 0usize..8_000, with in any::<u8>(), cut in 0usize..40) {
        for bytes in [xlsx(), ods(&words(&["food", "FE"]))] {
            let mut bytes = bytes;
            let at = at % bytes.len();
            let end = (at + cut).min(bytes.len());
            bytes.splice(at..end, [with]);
            let import = read("a.xlsx", &bytes);
            prop_assert!(!import.rows.is_empty() || !import.remarks.all().is_empty());
        }
    }

    /// The same with the parts whole and their text damaged.
    #[test]
    fn damaged_parts_are_survived(at in 0usize..4_000, with in "[<>/a-z0-9\" =:]{0,6}", part in 0usize..4) {
        let bytes = xlsx();
        let mut archive_of = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
        let names = ["xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml", "xl/sharedStrings.xml"];
        let mut parts: Vec<(String, Vec<u8>)> = Vec::new();
        for index in 0..archive_of.len() {
            let mut entry = archive_of.by_index(index).unwrap();
            let mut text = Vec::new();
            let name = entry.name().unwrap().into_owned();
            std::io::Read::read_to_end(&mut entry, &mut text).unwrap();
            if name == names[part] {
                let at = at % text.len();
                let end = (at + with.len()).min(text.len());
                text.splice(at..end, with.bytes());
            }
            parts.push((name, text));
        }
        let parts: Vec<(&str, &[u8])> = parts.iter().map(|(name, text)| (name.as_str(), text.as_slice())).collect();
        let import = read_file(&file("a.xlsx", archive(&parts)), &map("sheet = \"Foods\"\n"));
        prop_assert!(!import.rows.is_empty() || !import.remarks.all().is_empty());
    }
}

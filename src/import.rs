//! Other people's composition tables into ours: files in, a normalised table
//! and a list of remarks out. Reads no files itself and cannot fail: what
//! cannot be understood is a remark at its row and column, and the figure stays
//! unknown.
//!
//! What a cell means is kept: a blank is unknown, `tr` a trace, `[12]` the
//! table's own estimate, `<0.1` less than can be measured. None of them is ever
//! a plain zero.

pub mod audit;
pub mod cell;
pub mod fdc;
pub mod fdc_json;
pub mod flat;
pub mod grid;
pub mod map;
pub mod remark;
pub mod spreadsheet;
pub mod unit;
pub mod write;

use crate::reference::nutrient::NutrientId;
use crate::reference::table::Row;

pub use map::Map;
pub use remark::{Place, Remark, Remarks};

/// A file as it was found.
#[derive(Debug, Clone)]
pub struct File {
    /// Shown in remarks: no folder in front.
    pub name: String,
    pub bytes: Vec<u8>,
}

/// How a column was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// As the source calls it.
    pub head: String,
    pub id: NutrientId,
    /// The unit of the source's figures.
    pub unit: String,
    /// What they were multiplied by to get ours.
    pub factor: f64,
    /// Where a factor comes from that is no power of ten.
    pub reason: &'static str,
}

/// What an import gives.
#[derive(Debug, Default)]
pub struct Import {
    /// What kind of source it was taken for.
    pub form: &'static str,
    /// Unit of quantity of the source: `100 g` or `100 mL`.
    pub basis: String,
    pub columns: Vec<Column>,
    pub rows: Vec<Row>,
    pub remarks: Remarks,
}

/// Most cells of a grid: a table of 50,000 foods with 400 columns.
pub const MOST_CELLS: usize = 20_000_000;

/// Reads a table from one file: CSV, a spreadsheet or JSON.
pub fn read_file(file: &File, map: &Map) -> Import {
    let mut import = Import::default();
    one(file, map, &mut import);
    audit::audit(&mut import);
    import
}

/// Reads the tables of a FoodData Central folder.
pub fn read_folder(files: &[File]) -> Import {
    let mut import = Import { form: "FoodData Central, CSV", basis: "100 g".to_owned(), ..Import::default() };
    fdc::read(files, &mut import);
    audit::audit(&mut import);
    import
}

fn one(file: &File, map: &Map, import: &mut Import) {
    if file.bytes.starts_with(b"PK\x03\x04") {
        import.form = "a spreadsheet";
        if let Some(grid) = spreadsheet::read(file, map.sheet.as_deref(), &mut import.remarks) {
            flat::read(&grid, map, import);
        }
        return;
    }
    if file.bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        import.remarks.error(
            Place::file(&file.name),
            "this is a spreadsheet of an old kind",
            "open it in a spreadsheet program and save it as .xlsx or .ods",
        );
        return;
    }
    let Some(text) = grid::decode(file, &mut import.remarks) else {
        return;
    };
    if text.trim_start().starts_with(['{', '[']) {
        import.form = "FoodData Central, JSON";
        import.basis = "100 g".to_owned();
        fdc_json::read(&file.name, &text, import);
        return;
    }
    import.form = "CSV";
    if let Some(grid) = grid::csv(&file.name, &text, map, &mut import.remarks) {
        flat::read(&grid, map, import);
    }
}

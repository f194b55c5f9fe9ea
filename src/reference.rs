//! Built-in tables and their loaders. Everything is embedded in a form that
//! can be used as it lies; nothing is parsed when the program starts.

pub mod composition;
pub mod csv_rows;
pub mod larder;
pub mod measure;
pub mod nutrient;
pub mod practice;
pub mod price;
pub mod process;
pub mod profile;
pub mod retention;
pub mod season;
pub mod table;
pub mod yields;

use std::sync::Arc;

use larder::Foods;
use measure::Standard;
use practice::Practice;
use profile::Profile;
use table::Table;

/// What a computation may look things up in: the built-in tables and what a
/// workspace adds to them.
#[derive(Debug, Clone)]
pub struct Reference {
    pub larder: Foods,
    /// Further composition tables, in the order of precedence.
    pub tables: Vec<Arc<Table>>,
    pub profile: Arc<Profile>,
    pub standard: Standard,
    /// What the workspace decides beside its tables.
    pub practice: Practice,
}

impl Default for Reference {
    fn default() -> Self {
        Self {
            larder: Foods::BuiltIn,
            tables: Vec::new(),
            profile: Profile::built_in(),
            standard: Standard::DEFAULT,
            practice: Practice::default(),
        }
    }
}

impl Reference {
    pub fn table(&self, stem: &str) -> Option<&Arc<Table>> {
        self.tables.iter().find(|table| table.stem == stem)
    }
}

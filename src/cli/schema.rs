//! `porringer schema`

use crate::card::{self, Card};
use crate::cli::{CLEAN, Failure, say};

/// What a template may read.
#[derive(Debug, Clone, Copy, Default, clap::ValueEnum)]
pub enum Data {
    /// The card of a dish.
    #[default]
    Card,
    /// A part of a booklet.
    Booklet,
}

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Which templates' data.
    #[arg(value_enum, default_value = "card")]
    data: Data,
}

/// The JSON Schema of a card's data, from the types themselves.
pub fn schema() -> serde_json::Value {
    let mut schema = schemars::schema_for!(Card);
    schema.insert("title".to_owned(), card::SCHEMA.into());
    schema.into()
}

/// The JSON Schema of a part of a booklet.
pub fn booklet() -> serde_json::Value {
    let mut schema = schemars::schema_for!(crate::card::booklet::Part);
    schema.insert("title".to_owned(), crate::card::booklet::SCHEMA.into());
    schema.into()
}

/// # Errors
/// None: it prints a constant.
pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let schema = match arguments.data {
        Data::Card => schema(),
        Data::Booklet => booklet(),
    };
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    say(&text);
    Ok(CLEAN)
}

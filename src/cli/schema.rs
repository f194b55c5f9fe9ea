//! `porringer schema`

use crate::card::{self, Card};
use crate::cli::{CLEAN, Failure, say};

#[derive(Debug, clap::Args)]
pub struct Arguments {}

/// The JSON Schema of a card's data, from the types themselves.
pub fn schema() -> serde_json::Value {
    let mut schema = schemars::schema_for!(Card);
    schema.insert("title".to_owned(), card::SCHEMA.into());
    schema.into()
}

/// # Errors
/// None: it prints a constant.
pub fn run(_: &Arguments) -> Result<u8, Failure> {
    let mut text = serde_json::to_string_pretty(&schema()).unwrap_or_default();
    text.push('\n');
    say(&text);
    Ok(CLEAN)
}

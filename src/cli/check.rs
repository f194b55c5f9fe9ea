//! `porringer check`

use std::path::PathBuf;

use crate::cli::gather::{self, Format, Report};
use crate::cli::{CLEAN, Deny, ERRORS, Failure, Input, complain, say};
use crate::workspace::Shelf;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    input: Input,
    /// How messages are printed.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
    /// Let warnings fail the check.
    #[arg(long, value_enum)]
    deny: Option<Deny>,
    /// Further font files, or folders of them, beside the workspace's.
    #[arg(long, value_name = "FILE|DIR")]
    font: Vec<PathBuf>,
    /// Print notes for the card too (always in JSON).
    #[arg(long)]
    notes: bool,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let mut workspace = gather::workspace(&arguments.input)?;
    let paths = gather::files(&arguments.input, &workspace)?;
    // Only a shopping list uses the prices, but a slip in them is told here.
    let _ = workspace.prices();
    let further = super::build::fonts_and(&arguments.font, &workspace)?;
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    let mut report = Report::new(&workspace, arguments.format, arguments.notes);
    for paths in paths.chunks(gather::at_a_time()) {
        let languages = &workspace.settings.languages;
        for file in gather::with_texts_on(paths, &workspace, languages, &further, &shelf) {
            report.add(&file.source, &file.diagnostics);
        }
        say(&report.take());
    }
    let (text, count) = report.finish();
    say(&text);
    if arguments.format == Format::Human {
        let files = if paths.len() == 1 { "1 file".to_owned() } else { format!("{} files", paths.len()) };
        complain(&format!("{files} checked: {}", count.words()));
    }
    let failed = count.errors > 0 || (arguments.deny == Some(Deny::Warnings) && count.warnings > 0);
    Ok(if failed { ERRORS } else { CLEAN })
}

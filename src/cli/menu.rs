//! `porringer menu`: check a day, print its card, propose days.

pub mod nutrients;
pub mod offer;
pub mod proposal;
pub mod report;
pub mod suggest;
pub mod trace;

use std::path::PathBuf;

use clap::{Args, Subcommand};

use crate::cli::gather::{self, Format};
use crate::cli::{CLEAN, Deny, ERRORS, Failure, Input, build, complain, say, say_plain};
use crate::compute::cost::Purse;
use crate::syntax::Kind;

#[derive(Debug, Args)]
pub struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Check menus and show the day's sums against what the child needs.
    #[command(after_help = "Example: porringer menu check recipes/market-day.menu")]
    Check(Check),
    /// Make the menu cards; a menu with errors is left out.
    #[command(after_help = "Example: porringer menu build recipes --language en,sw --out out")]
    Build(build::Arguments),
    /// Propose days from the workspace's dishes and foods.
    #[command(after_help = "Example: porringer menu suggest --for \"12 to 23 months\" --days 3 --out days")]
    Suggest(suggest::Arguments),
}

#[derive(Debug, Args)]
struct Check {
    #[command(flatten)]
    input: Input,
    /// How messages are printed; the day's sums are for people only.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
    /// Let warnings fail the run.
    #[arg(long, value_enum)]
    deny: Option<Deny>,
    /// Further font files, or folders of them, beside the workspace's.
    #[arg(long, value_name = "FILE|DIR")]
    font: Vec<PathBuf>,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    match &arguments.command {
        Command::Check(arguments) => check(arguments),
        Command::Build(arguments) => build::of_kind(arguments, Some(Kind::Menu)),
        Command::Suggest(arguments) => suggest::run(arguments),
    }
}

fn check(arguments: &Check) -> Result<u8, Failure> {
    let mut workspace = gather::workspace(&arguments.input)?;
    let prices = workspace.prices();
    let mut paths = gather::files(&arguments.input, &workspace)?;
    paths.retain(|path| Kind::of_path(path) == Some(Kind::Menu));
    if paths.is_empty() {
        return Err(Failure("there is no menu among these files".to_owned()));
    }
    let languages = workspace.settings.languages.clone();
    let checked = gather::with_texts(&paths, &workspace, &languages, &build::fonts_and(&arguments.font, &workspace)?);
    // What the notes say stands in the day below.
    let notes = arguments.format != Format::Human;
    let (text, count) = gather::report(&workspace, &checked, arguments.format, notes);
    say(&text);
    if arguments.format == Format::Human {
        let purse = Purse::new(&prices, &workspace.reference.larder);
        let purse = purse.map(|purse| purse.on(workspace.reference.practice.today));
        let mut out = String::new();
        for file in &checked {
            if let Some(menu) = &file.menu {
                report::day(menu, &file.source.name, &workspace, purse, &mut out);
            }
        }
        say_plain(&out);
    }
    let menus = if checked.len() == 1 { "1 menu".to_owned() } else { format!("{} menus", checked.len()) };
    complain(&format!("{menus} checked: {}", count.words()));
    let failed = count.errors > 0 || (arguments.deny.is_some() && count.warnings > 0);
    Ok(if failed { ERRORS } else { CLEAN })
}

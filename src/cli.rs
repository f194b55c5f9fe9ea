//! The command line: arguments in, exit code out. One command a file.

pub mod alternatives;
pub mod build;
pub mod check;
pub mod claims;
pub mod compare;
pub mod completions;
pub mod explain;
pub mod fault;
pub mod foods;
pub mod format;
pub mod gather;
pub mod graph;
pub mod import;
pub mod init;
pub mod lsp;
pub mod man;
pub mod menu;
pub mod month;
pub mod new;
pub mod nutrients;
pub mod profile;
pub mod scale;
pub mod schema;
pub mod shop;
pub mod trace;
pub mod translate;
pub mod watch;

use std::io::{IsTerminal, Write};
use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::diagnostic::render::human::Look;

/// Exit codes.
pub const CLEAN: u8 = 0;
pub const ERRORS: u8 = 1;
pub const USAGE: u8 = 2;

/// Compiles plain-text recipes for young children into checked, printable cards.
#[derive(Debug, Parser)]
#[command(name = "porringer", version, propagate_version = true)]
pub struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Begin: a workspace, dish, menu or booklet to write over, or a workflow.
    #[command(after_help = "Example: porringer new workspace lakeshore")]
    New(new::Arguments),
    /// Make an existing folder of recipes a workspace.
    #[command(after_help = "Example: porringer init")]
    Init(init::Arguments),
    /// Check recipes and say everything that is wrong with them.
    #[command(after_help = "Example: porringer check recipes --deny warnings")]
    Check(check::Arguments),
    /// Make the cards; a dish with errors is left out and the others are made.
    #[command(after_help = "Example: porringer build recipes --language en,sw --out out")]
    Build(build::Arguments),
    /// Follow the files and show cards and messages on a page of this machine.
    #[command(after_help = "Example: porringer watch recipes --open")]
    Watch(watch::Arguments),
    /// Print the nutrients of dishes, even where a rule objects.
    #[command(after_help = "Example: porringer nutrients recipes/mash.dish --format json")]
    Nutrients(nutrients::Arguments),
    /// Show where every figure of a dish comes from.
    #[command(after_help = "Example: porringer trace recipes/mash.dish FE")]
    Trace(trace::Arguments),
    /// Check a day's menu, make its card, or propose days.
    #[command(after_help = "Example: porringer menu suggest --for \"12 to 23 months\"")]
    Menu(menu::Arguments),
    /// Print the proof of every claim, what else could be claimed, and which
    /// foods would close what a failed claim lacks.
    #[command(after_help = "Example: porringer claims recipes/mash.dish")]
    Claims(claims::Arguments),
    /// Scale a dish to so many portions, in measures that a kitchen owns.
    #[command(after_help = "Example: porringer scale recipes/mash.dish --portions 20 --age \"9 to 11 months\"")]
    Scale(scale::Arguments),
    /// Add up what has to be bought for dishes and menus, and what it costs.
    #[command(after_help = "Example: porringer shop recipes/market-day.menu --children 12")]
    Shop(shop::Arguments),
    /// Explain a message: what it means, why, by which source, how to mend it.
    #[command(after_help = "Example: porringer explain safety/bean-not-boiled")]
    Explain(explain::Arguments),
    /// Show, check or begin a guidance profile: what an authority decides.
    #[command(after_help = "Example: porringer profile show --status memory")]
    Profile(profile::Arguments),
    /// Align the contents of recipes in a column; nothing else changes.
    #[command(after_help = "Example: porringer format recipes --check")]
    Format(format::Arguments),
    /// Write a stub for every text that a language lacks, and say how much of a
    /// set is translated.
    #[command(after_help = "Example: porringer translate recipes --to sw --check")]
    Translate(translate::Arguments),
    /// Say what changed for the child between two states of recipes.
    #[command(after_help = "Example: porringer compare --since main --format markdown")]
    Compare(compare::Arguments),
    /// Print the JSON Schema of the data that card templates read.
    #[command(after_help = "Example: porringer schema > card.schema.json")]
    Schema(schema::Arguments),
    /// Write which file is made from which, for make, ninja or a drawing.
    #[command(after_help = "Example: porringer graph --format ninja --to build.ninja && ninja")]
    Graph(graph::Arguments),
    /// Find foods by name, with their composition rows and measures.
    #[command(after_help = "Example: porringer foods pumpkin")]
    Foods(foods::Arguments),
    /// Take over another composition table: FoodData Central, CSV, a spreadsheet.
    #[command(after_help = "Example: porringer import national.xlsx --as national --map national-map.toml --add")]
    Import(import::Arguments),
    /// Serve an editor: messages, fixes, names and figures as you type.
    #[command(after_help = "Example: porringer lsp (an editor starts it and talks to it; see README.md)")]
    Lsp(lsp::Arguments),
    /// Print what a shell needs to complete the commands.
    #[command(
        after_help = "Example: porringer completions bash > ~/.local/share/bash-completion/completions/porringer"
    )]
    Completions(completions::Arguments),
    /// Write the manual pages.
    #[command(after_help = "Example: porringer man ~/.local/share/man/man1")]
    Man(man::Arguments),
}

/// Which recipes, and with which tables.
#[derive(Debug, Clone, Args)]
pub struct Input {
    /// Recipe files or folders of them; default: the workspace's recipes.
    #[arg(value_name = "PATHS")]
    pub paths: Vec<PathBuf>,
    /// A further composition table: CSV with the columns food, name and one
    /// for each INFOODS tagname, per 100 g; addressed as STEM:food.
    #[arg(long, value_name = "FILE.csv")]
    pub foods: Vec<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Deny {
    Warnings,
}

/// A failure of the environment or of the call, not of a recipe.
#[derive(Debug)]
pub struct Failure(pub String);

impl Cli {
    /// The call of this process. A wrong one ends it; what was called is shown
    /// in the message, and never obeyed by the terminal.
    pub fn called() -> Self {
        Self::try_parse().unwrap_or_else(|error| {
            let text = error.render().to_string();
            let shown = crate::diagnostic::render::visible(&text);
            if !error.use_stderr() || shown == text {
                error.exit();
            }
            let _ = write!(std::io::stderr(), "{shown}");
            std::process::exit(i32::from(USAGE))
        })
    }

    /// Runs the command and gives the exit code.
    pub fn run(self) -> u8 {
        let result = match self.command {
            Command::Check(arguments) => check::run(&arguments),
            Command::Build(arguments) => build::run(&arguments),
            Command::Watch(arguments) => watch::run(&arguments),
            Command::Nutrients(arguments) => nutrients::run(&arguments),
            Command::Trace(arguments) => trace::run(&arguments),
            Command::Menu(arguments) => menu::run(&arguments),
            Command::Claims(arguments) => claims::run(&arguments),
            Command::Scale(arguments) => scale::run(&arguments),
            Command::Shop(arguments) => shop::run(&arguments),
            Command::Explain(arguments) => explain::run(&arguments),
            Command::Profile(arguments) => profile::run(&arguments),
            Command::Format(arguments) => format::run(&arguments),
            Command::Translate(arguments) => translate::run(&arguments),
            Command::Compare(arguments) => compare::run(&arguments),
            Command::Schema(arguments) => schema::run(&arguments),
            Command::Graph(arguments) => graph::run(&arguments),
            Command::Foods(arguments) => foods::run(&arguments),
            Command::Import(arguments) => import::run(&arguments),
            Command::New(arguments) => new::run(&arguments),
            Command::Init(arguments) => init::run(&arguments),
            Command::Lsp(arguments) => lsp::run(&arguments),
            Command::Completions(arguments) => completions::run(&arguments),
            Command::Man(arguments) => man::run(&arguments),
        };
        match result {
            Ok(code) => code,
            Err(Failure(message)) => {
                complain(&message);
                USAGE
            }
        }
    }
}

/// One line on standard error.
pub fn complain(message: &str) {
    // File names and arguments are shown, never obeyed by the terminal.
    let _ = writeln!(std::io::stderr(), "porringer: {}", crate::diagnostic::render::visible(message));
}

/// Text for people in which an author's words may stand: control characters
/// are shown, not obeyed.
pub fn say_plain(text: &str) {
    say(&crate::diagnostic::render::visible(text));
}

/// Everything on standard output at once. A reader that went away (`| head`)
/// is no fault.
pub fn say(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(text.as_bytes());
    let _ = out.flush();
}

/// Colour and width only for a person at a terminal.
pub fn look() -> Look {
    let terminal = std::io::stdout().is_terminal();
    let colour = terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    let said = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    let seen = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0)).filter(|width| *width >= 40);
    let width = said.or_else(seen).unwrap_or(100);
    Look { colour, unicode: true, width: if terminal { width } else { 100 } }
}

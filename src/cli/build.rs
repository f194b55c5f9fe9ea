//! `porringer build`

pub mod choice;
mod data;
pub mod outputs;
mod set;
mod sheets;
mod table;
mod web;

use std::path::PathBuf;

pub use choice::{further_fonts, unknown_language};
pub use outputs::write;

use crate::card::Imprint;
use crate::check::Checked;
use crate::cli::gather::{self, Format as Messages};
use crate::cli::{CLEAN, Deny, ERRORS, Failure, Input, complain, say};
use crate::diagnostic::Severity;
use crate::graph::Needs;
use crate::syntax::Kind;
use crate::typeset::Forms;
use crate::workspace::shown;

use outputs::Outputs;
use sheets::Common;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    input: Input,
    /// Output folder; default: the workspace's `out`.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// What is written.
    #[arg(long, value_enum, value_delimiter = ',', default_value = "pdf")]
    format: Vec<Format>,
    /// Languages of the cards, such as en,sw; default: the workspace's.
    #[arg(long, value_delimiter = ',', value_name = "TAGS")]
    language: Vec<String>,
    /// A4, A5, A6 or Letter; default: the workspace's.
    #[arg(long)]
    paper: Option<String>,
    /// How the cards look: card, wall, pocket, or a template's folder;
    /// default: the workspace's.
    #[arg(long, value_name = "NAME|DIR")]
    template: Option<String>,
    /// Further font files, or folders of them, beside the workspace's.
    #[arg(long, value_name = "FILE|DIR")]
    font: Vec<PathBuf>,
    /// Let warnings keep a card from being made.
    #[arg(long, value_enum)]
    deny: Option<Deny>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// The printed card.
    Pdf,
    /// A picture of each page, one phone wide.
    Png,
    /// The same without pixels.
    Svg,
    /// Figures and card as data.
    Json,
    /// Pages for a browser or a phone, with a table of contents.
    Html,
    /// The nutrients of all dishes in one table.
    Csv,
    /// Each dish as linked data: schema.org's Recipe.
    Jsonld,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    of_kind(arguments, None)
}

/// Builds documents of one kind, or all that are printed.
pub fn of_kind(arguments: &Arguments, only: Option<Kind>) -> Result<u8, Failure> {
    let workspace = gather::workspace(&arguments.input)?;
    let mut paths = gather::files(&arguments.input, &workspace)?;
    if let Some(kind) = only {
        paths.retain(|path| Kind::of_path(path) == Some(kind));
        if paths.is_empty() {
            return Err(Failure(format!("there is no {} among these files", kind.word())));
        }
    }
    if workspace.faults.iter().flat_map(|fault| &fault.diagnostics).any(|message| message.severity == Severity::Error) {
        // With other settings than were meant every card would be wrong.
        let (text, count) = gather::report(&workspace, &[], Messages::Human, false);
        say(&text);
        complain(&format!("no card is made with these settings: {}", count.words()));
        return Ok(ERRORS);
    }
    let languages = choice::languages(arguments, &workspace)?;
    let template = choice::template(arguments, &workspace)?;
    let paper = choice::paper(arguments, &workspace, &template)?;
    let out = arguments.out.clone().unwrap_or_else(|| workspace.root.join(&workspace.settings.out.value));
    let mut further = further_fonts(&workspace)?;
    further.extend(choice::named_fonts(&arguments.font)?);
    let mut checked = gather::with_texts(&paths, &workspace, &languages, &further);
    let denied = arguments.deny == Some(Deny::Warnings);
    let sound = |file: &Checked| {
        !file
            .diagnostics
            .iter()
            .any(|message| message.severity == Severity::Error || (denied && message.severity == Severity::Warning))
    };
    let mut fonts: Vec<String> = further.iter().map(|font| font.info().family.to_string()).collect();
    fonts.dedup();
    let imprint = Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper,
        fonts,
    };
    let common = Common { workspace: &workspace, languages: &languages, imprint: &imprint, needs: Needs::default() };
    let jobs = sheets::jobs(&common, &checked, &sound)?;
    let mut outputs = Outputs::new(out)?;
    if arguments.format.contains(&Format::Json) {
        data::write(&jobs, &checked, &workspace, &mut outputs);
    }
    if arguments.format.contains(&Format::Html) {
        web::write(&common, &jobs, &checked, &mut outputs)?;
    }
    if arguments.format.contains(&Format::Csv) {
        table::write(&jobs, &checked, &workspace.reference, &mut outputs);
    }
    if arguments.format.contains(&Format::Jsonld) {
        web::write_linked(&jobs, &checked, &mut outputs);
    }
    let forms = Forms {
        pdf: arguments.format.contains(&Format::Pdf),
        svg: arguments.format.contains(&Format::Svg),
        png: arguments.format.contains(&Format::Png),
    };
    set::set(&jobs, forms, further, &template, &mut checked, &mut outputs)?;
    let (text, count) = gather::report(&workspace, &checked, Messages::Human, false);
    say(&text);
    for trouble in outputs.troubles() {
        complain(trouble);
    }
    let skipped = |kind: Kind| checked.iter().filter(|file| file.tree.kind == kind && !sound(file)).count();
    let others = checked.iter().filter(|file| file.tree.kind == Kind::Booklet).count();
    if others > 0 {
        let what = if others == 1 { "1 booklet is" } else { &format!("{others} booklets are") };
        complain(&format!("{what} checked only; this version prints dishes and menus"));
    }
    let mut skipped_text = String::new();
    for (kind, one, many) in [(Kind::Dish, "dish", "dishes"), (Kind::Menu, "menu", "menus")] {
        match skipped(kind) {
            0 => {}
            1 => skipped_text.push_str(&format!(", 1 {one} left out")),
            more => skipped_text.push_str(&format!(", {more} {many} left out")),
        }
    }
    let made = outputs.made();
    let files = if made == 1 { "1 file".to_owned() } else { format!("{made} files") };
    let failures = outputs.troubles().len();
    let failed_text = if failures == 0 { String::new() } else { format!(", {failures} not written") };
    let skipped_text = format!("{skipped_text}{failed_text}");
    complain(&format!("{files} in {}{skipped_text}: {}", shown(outputs.folder()), count.words()));
    if failures > 0 {
        return Ok(crate::cli::USAGE);
    }
    let failed = count.errors > 0 || (denied && count.warnings > 0);
    Ok(if failed { ERRORS } else { CLEAN })
}

//! `porringer build`

mod booklet;
pub mod choice;
mod data;
pub mod outputs;
mod plan;
pub mod set;
pub mod sheets;
mod table;
mod web;
pub mod why;

use std::path::{Path, PathBuf};

pub use choice::{further_fonts, unknown_language};
pub use outputs::write;

use crate::card::Imprint;
use crate::check::Checked;
use crate::cli::gather::{self, Format as Messages};
use crate::cli::{CLEAN, Deny, ERRORS, Failure, Input, complain, say, say_plain};
use crate::diagnostic::{Diagnostic, Severity};
use crate::graph::Content;
use crate::graph::stamps::Unit;
use crate::source::Source;
use crate::syntax::{Kind, Tree};
use crate::typeset::Forms;
use crate::typeset::impose::{Impose, Sheets};
use crate::workspace::{read_text, shown};

use outputs::{Mode, Outputs, file_name};
use plan::Plan;
use sheets::{Common, Rests};
use why::Why;

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
    #[command(flatten)]
    look: choice::Look,
    /// How a booklet's own pages look: booklet, or a template's folder; default:
    /// the workspace's.
    #[arg(long, value_name = "NAME|DIR")]
    booklet_template: Option<String>,
    /// Make sheets for a printer beside each PDF: fold, for a booklet that is
    /// folded and stitched; two-up, each page twice, to be cut in two. They are
    /// for paper only: the PDF beside them is the one that can be read aloud.
    #[arg(long, value_enum)]
    impose: Option<Impose>,
    /// Give the sheets marks where to cut and fold, on a margin of 10 mm.
    #[arg(long)]
    crop_marks: bool,
    /// Let warnings keep a card from being made.
    #[arg(long, value_enum)]
    deny: Option<Deny>,
    /// Make everything, what is up to date too.
    #[arg(long)]
    force: bool,
    /// Say of each card why it was made or kept.
    #[arg(long)]
    explain: bool,
    /// Write nothing; fail if the output folder is not what would be made.
    #[arg(long, conflicts_with_all = ["force", "explain"])]
    locked: bool,
    /// Keep no record of what was built, for programs that keep their own.
    #[arg(long)]
    no_stamps: bool,
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

impl Format {
    /// How its files end.
    fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Png => "png",
            Self::Svg => "svg",
            Self::Json => "json",
            Self::Html => "html",
            Self::Csv => "csv",
            Self::Jsonld => "jsonld",
        }
    }
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
    let languages = choice::languages(&arguments.look, &workspace)?;
    let template = choice::template(&arguments.look, &workspace)?;
    let paper = choice::paper(&arguments.look, &workspace, &template)?;
    let look = choice::booklet_template(arguments.booklet_template.as_deref(), &workspace)?;
    let printed = Sheets::new(arguments.impose, arguments.crop_marks);
    let out = arguments.out.clone().unwrap_or_else(|| workspace.root.join(&workspace.settings.out.value));
    let mode = match arguments {
        Arguments { locked: true, .. } => Mode::Compared,
        Arguments { force: true, .. } => Mode::All,
        _ => Mode::Differing,
    };
    let mut outputs = Outputs::open(out, &workspace.root, mode, !arguments.no_stamps);
    let forms = Forms {
        pdf: arguments.format.contains(&Format::Pdf),
        svg: arguments.format.contains(&Format::Svg),
        png: arguments.format.contains(&Format::Png),
    };
    let data = arguments.format.contains(&Format::Json);
    let denied = arguments.deny == Some(Deny::Warnings);

    let mut plan = Plan::new(&workspace, &arguments.look, &languages, &paper, &template, &mut outputs.stamps)?;
    // What stands as it was checked last, and what has to be checked again.
    let mut standing: Vec<Option<Unit>> =
        paths.iter().map(|path| plan.standing(path, &workspace, &mut outputs.stamps)).collect();
    // Outputs of all documents at once want all of them checked.
    let of_all: Vec<(Format, &str)> = [(Format::Html, "html"), (Format::Csv, "csv"), (Format::Jsonld, "jsonld")]
        .into_iter()
        .filter(|(format, _)| arguments.format.contains(format))
        .collect();
    let mut whole = all_stand(&standing, denied);
    let of_all: Vec<(Format, &str)> =
        of_all.into_iter().filter(|(_, name)| !whole.is_some_and(|whole| outputs.stands(name, whole))).collect();
    // A booklet binds what others say.
    let binds = (forms.pdf || data) && paths.iter().any(|path| Kind::of_path(path) == Some(Kind::Booklet));
    for unit in &mut standing {
        let stands = of_all.is_empty()
            && !binds
            && printed.is_none()
            && mode == Mode::Differing
            && unit.as_ref().is_some_and(|unit| {
                !sound(&unit.messages, denied) || stands(unit, &languages, forms, data, &mut outputs)
            });
        if !stands {
            *unit = None;
        }
    }
    let open: Vec<PathBuf> =
        paths.iter().zip(&standing).filter(|(_, unit)| unit.is_none()).map(|(path, _)| path.clone()).collect();
    let mut further = Vec::new();
    let mut fresh = Vec::new();
    let mut shelf = None;
    if !open.is_empty() {
        if forms.pdf || forms.svg || forms.png {
            template.ahead();
        }
        further = choice::fonts(&arguments.look, &workspace)?;
        let shelf = shelf.insert(plan.shelf(&workspace));
        fresh = gather::with_texts_on(&open, &workspace, &languages, &further, shelf);
    }
    let mut fresh = fresh.into_iter();
    let mut checked = Vec::with_capacity(paths.len());
    let mut rests = Vec::with_capacity(paths.len());
    let mut ids: Vec<Option<String>> = Vec::with_capacity(paths.len());
    let mut units: Vec<Option<Unit>> = Vec::new();
    for (path, unit) in paths.iter().zip(&standing) {
        let (file, own) = match unit {
            Some(unit) => (as_it_stood(path, unit), Rests::default()),
            None => {
                let (Some(file), Some(shelf)) = (fresh.next(), &shelf) else { continue };
                let unit = plan.unit(path, &file, shelf, &workspace, &mut outputs.stamps);
                let key = outputs.stamps.key(path);
                let own = unit.as_ref().map_or_else(Rests::default, |unit| Rests {
                    standing: Some(unit.standing),
                    told: plan.told(&key, unit, &file),
                });
                if let Some(unit) = unit.as_ref().filter(|_| mode != Mode::Compared) {
                    outputs.stamps.keep_unit(key, unit.clone());
                }
                units.push(unit);
                (file, own)
            }
        };
        let id = unit.as_ref().map_or_else(|| file.id(), |unit| unit.id.as_deref());
        ids.push(id.filter(|_| sound(&file.diagnostics, denied)).map(str::to_owned));
        checked.push(file);
        rests.push(own);
    }
    drop(shelf);
    if !of_all.is_empty() {
        whole = all_stand(&units, denied);
    }
    let named = checked.iter().zip(&ids).filter_map(|(file, id)| Some((file.source.name.as_str(), id.as_deref()?)));
    sheets::each_its_own(named)?;

    let mut fonts: Vec<String> = further.iter().map(|font| font.info().family.to_string()).collect();
    fonts.dedup();
    let imprint = Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper,
        fonts,
    };
    let common = Common {
        workspace: &workspace,
        languages: &languages,
        imprint: &imprint,
        look: &plan.look,
        template: &template,
        rests: &rests,
    };
    let jobs = sheets::jobs(&common, &checked, &|file| sound(&file.diagnostics, denied))?;
    // What booklets bind besides has no card of its own here.
    if binds {
        booklet::gather(&workspace, &languages, &further, &mut checked);
    }
    outputs.ready(!arguments.no_stamps)?;
    if data {
        data::write(&jobs, &checked, &workspace, &mut outputs);
    }
    for (format, name) in of_all {
        outputs.begin();
        match format {
            Format::Html => web::write(&common, &jobs, &checked, &mut outputs)?,
            Format::Csv => table::write(&jobs, &checked, &workspace.reference, &mut outputs),
            _ => web::write_linked(&jobs, &checked, &mut outputs),
        }
        if let Some(standing) = whole {
            outputs.close(name, standing);
        }
    }
    set::set(&jobs, forms, printed, further.clone(), &template, &mut checked, &mut outputs)?;
    for (file, unit) in checked.iter_mut().zip(&standing) {
        // A card that stands may be one that no sheet holds.
        let Some(unit) = unit.as_ref().filter(|unit| sound(&unit.messages, denied)) else { continue };
        for (lang, target) in cards(unit, &languages, forms) {
            let refused = outputs.refused(&target).map(|refused| set::too_long(&lang, unit.title, refused));
            if let Some(message) = refused.filter(|message| !file.diagnostics.contains(message)) {
                set::add(file, message);
            }
        }
    }
    if binds {
        let bindery = booklet::Bindery { common: &common, arguments, cards: &template, look: &look, further, printed };
        bindery.make(&mut checked, &mut outputs)?;
    }
    let (text, count) = gather::report(&workspace, &checked, Messages::Human, false);
    say(&text);
    for trouble in outputs.troubles() {
        complain(trouble);
    }
    let others = checked.iter().filter(|file| file.tree.kind == Kind::Booklet).count();
    if others > 0 && !binds {
        let what = if others == 1 { "1 booklet is" } else { &format!("{others} booklets are") };
        complain(&format!("{what} checked only: a booklet is made as PDF"));
    }
    if arguments.explain {
        explain(&outputs);
    }
    let skipped =
        |kind: Kind| checked.iter().filter(|file| file.tree.kind == kind && !sound(&file.diagnostics, denied)).count();
    let mut left_out = String::new();
    for (kind, one, many) in
        [(Kind::Dish, "dish", "dishes"), (Kind::Menu, "menu", "menus"), (Kind::Booklet, "booklet", "booklets")]
    {
        match skipped(kind) {
            0 => {}
            1 => left_out.push_str(&format!(", 1 {one} left out")),
            more => left_out.push_str(&format!(", {more} {many} left out")),
        }
    }
    let failures = outputs.troubles().len();
    let failed = count.errors > 0 || (denied && count.warnings > 0);
    if mode == Mode::Compared {
        let whole = arguments.input.paths.is_empty() && only.is_none();
        return Ok(compared(&outputs, arguments, whole, failed, failures, &left_out));
    }
    if failures > 0 {
        left_out.push_str(&format!(", {failures} not written"));
    }
    let (made, kept) = (outputs.made(), outputs.kept());
    let files = if made == 1 { "1 file".to_owned() } else { format!("{made} files") };
    let up_to_date = if kept == 0 { String::new() } else { format!(", {kept} up to date") };
    complain(&format!("{files} in {}{up_to_date}{left_out}: {}", shown(outputs.folder()), count.words()));
    outputs.finish();
    if failures > 0 {
        return Ok(crate::cli::USAGE);
    }
    Ok(if failed { ERRORS } else { CLEAN })
}

/// Whether a card may be made of a document with these messages.
fn sound(messages: &[Diagnostic], denied: bool) -> bool {
    !messages
        .iter()
        .any(|message| message.severity == Severity::Error || (denied && message.severity == Severity::Warning))
}

/// What all documents together stand on, if nothing of it is unknown.
fn all_stand(units: &[Option<Unit>], denied: bool) -> Option<Content> {
    let all: Vec<Content> = units.iter().map(|unit| unit.as_ref().map(|unit| unit.standing)).collect::<Option<_>>()?;
    Some(Content::of_data(&(denied, all)))
}

/// The cards of a document that is not checked again: language and target.
fn cards(unit: &Unit, languages: &[String], forms: Forms) -> Vec<(String, String)> {
    let Some(id) = &unit.id else { return Vec::new() };
    let mut all = Vec::new();
    for tag in gather::languages_of(&unit.language, languages) {
        let name = format!("{}.{tag}", file_name(id));
        all.extend(set::targets(&name, forms).into_iter().map(|target| (tag.clone(), target)));
    }
    all
}

/// Whether all outputs of a document that is sound are up to date.
fn stands(unit: &Unit, languages: &[String], forms: Forms, data: bool, outputs: &mut Outputs) -> bool {
    let Some(id) = &unit.id else { return true };
    let mut targets: Vec<String> = cards(unit, languages, forms).into_iter().map(|(_, target)| target).collect();
    targets.extend(data.then(|| format!("{}.json", file_name(id))));
    let all = targets.iter().all(|target| outputs.stamps.stands(target, unit.standing));
    if all {
        targets.iter().for_each(|target| outputs.keep(target, Why::Nothing));
    }
    all
}

/// A document that is not checked again, with what it was told.
fn as_it_stood(path: &Path, unit: &Unit) -> Checked {
    let name = shown(path);
    let told = unit.messages.iter().any(|message| message.severity > Severity::Note);
    // Its text is only wanted to show the places of its messages.
    let source = told.then(|| read_text(path, &name).ok()).flatten();
    Checked {
        source: source.map_or_else(|| Source::new(name, ""), |(source, _)| source),
        tree: Tree { kind: unit.kind, nodes: Vec::new() },
        document: unit.kind.empty_document(),
        dish: None,
        menu: None,
        diagnostics: unit.messages.clone(),
        changed: Vec::new(),
    }
}

/// Says of each target what was done with it and why.
fn explain(outputs: &Outputs) {
    let width = outputs.reasons().keys().map(|target| target.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    for (target, why) in outputs.reasons() {
        let verb = if outputs.refused(target).is_some() { "left out" } else { why.verb() };
        text.push_str(&format!("{target:<width$}  {verb}: {}\n", why.words()));
    }
    say_plain(&text);
}

/// Says what `--locked` found.
fn compared(
    outputs: &Outputs,
    arguments: &Arguments,
    whole: bool,
    failed: bool,
    failures: usize,
    left_out: &str,
) -> u8 {
    let mut lines: Vec<(String, String)> = Vec::new();
    let (mut missing, mut stale) = (0, 0);
    for (name, why) in outputs.differing() {
        if *why == Why::New {
            missing += 1;
            lines.push((name.clone(), "missing".to_owned()));
        } else {
            stale += 1;
            lines.push((name.clone(), format!("stale: {}", why.words())));
        }
    }
    // What else lies there is only known when everything is made.
    let endings: Vec<&str> = arguments.format.iter().map(|format| format.ending()).collect();
    let extra = if whole { outputs.extra(&endings) } else { Vec::new() };
    lines.extend(extra.iter().map(|name| (name.clone(), "extra: no recipe makes it".to_owned())));
    lines.sort();
    let width = lines.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    for (name, what) in &lines {
        text.push_str(&format!("{name:<width$}  {what}\n"));
    }
    say_plain(&text);
    let folder = shown(outputs.folder());
    if lines.is_empty() && !failed {
        let kept = outputs.kept();
        let files = if kept == 1 { "1 file".to_owned() } else { format!("{kept} files") };
        complain(&format!("{folder} is what these recipes make: {files}{left_out}"));
    } else {
        let mut words = Vec::new();
        for (count, word) in [(missing, "missing"), (stale, "stale"), (extra.len(), "extra")] {
            if count > 0 {
                words.push(format!("{count} {word}"));
            }
        }
        let what = if words.is_empty() { "some cards could not be made".to_owned() } else { words.join(", ") };
        complain(&format!("{folder} is not what these recipes make: {what}{left_out}"));
    }
    match (failures, failed || !lines.is_empty()) {
        (0, true) => ERRORS,
        (0, false) => CLEAN,
        _ => crate::cli::USAGE,
    }
}

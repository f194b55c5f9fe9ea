//! `porringer build`

use std::collections::BTreeMap;
use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};

use crate::card::menu::{MenuCard, MenuMaker};
use crate::card::{self, Card, Imprint, Locale, locale};
use crate::check::Checked;
use crate::cli::gather::{self, Format as Messages};
use crate::cli::{CLEAN, Deny, ERRORS, Failure, Input, complain, nutrients, say};
use crate::diagnostic::{Code, Diagnostic, Severity, did_you_mean};
use crate::source::Span;
use crate::syntax::Kind;
use crate::typeset::{Engine, Pages, SIDES};
use crate::workspace::{Workspace, settings, shown};

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
    /// Let warnings keep a card from being made.
    #[arg(long, value_enum)]
    deny: Option<Deny>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// The printed card.
    Pdf,
    /// Figures and card as data.
    Json,
}

/// What is printed on one sheet.
enum Sheet {
    Card(Box<Card>),
    Menu(Box<MenuCard>),
}

/// One card to be made.
struct Job {
    sheet: Sheet,
    path: PathBuf,
    /// Index of the checked file.
    file: usize,
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
    let languages = languages(arguments, &workspace)?;
    let paper = paper(arguments, &workspace)?;
    let out = arguments.out.clone().unwrap_or_else(|| workspace.root.join(&workspace.settings.out.value));
    let further = further_fonts(&workspace)?;
    let mut checked = gather::with_texts(&paths, &workspace, &languages, &further);
    let denied = arguments.deny == Some(Deny::Warnings);
    let sound = |file: &Checked| {
        !file
            .diagnostics
            .iter()
            .any(|message| message.severity == Severity::Error || (denied && message.severity == Severity::Warning))
    };
    let imprint =
        Imprint { programme: workspace.settings.programme.clone(), footer: workspace.settings.footer.clone(), paper };
    let mut locales: BTreeMap<String, Locale> = BTreeMap::new();
    let mut jobs = Vec::new();
    let mut data = Vec::new();
    // File systems that fold case would write one card over the other.
    let mut names: BTreeMap<String, (String, String)> = BTreeMap::new();
    for (at, file) in checked.iter().enumerate() {
        let Some(own_id) = file.id().filter(|_| sound(file)) else { continue };
        let key = file_name(own_id).to_lowercase();
        if let Some((other, id)) = names.insert(key, (file.source.name.clone(), own_id.to_owned())) {
            return Err(Failure(if id == own_id {
                format!("`{}` and `{other}` are both called `{id}`; give one another `id`", file.source.name)
            } else {
                format!(
                    "the cards of `{}` (`{own_id}`) and `{other}` (`{id}`) would have one file name; give one another `id`",
                    file.source.name
                )
            }));
        }
        let own = gather::own_language(&file.document, &workspace);
        for tag in gather::languages_of(&own, &languages) {
            if !locales.contains_key(&tag) {
                let Some(locale) = Locale::new(&tag) else {
                    return Err(Failure(unknown_language(&tag)));
                };
                locales.insert(tag.clone(), locale);
            }
            let Some(locale) = locales.get(&tag) else { continue };
            let (reference, own_language, imprint) = (&workspace.reference, own.as_str(), &imprint);
            let sheet = match (&file.dish, &file.menu) {
                (Some(dish), _) => {
                    let maker = card::Maker { dish, reference, locale, own_language, imprint, changed: &file.changed };
                    Sheet::Card(Box::new(card::make(&maker)))
                }
                (None, Some(menu)) => {
                    let maker = MenuMaker { menu, reference, locale, own_language, imprint, changed: &file.changed };
                    Sheet::Menu(Box::new(card::menu::make(&maker)))
                }
                (None, None) => continue,
            };
            let path = out.join(format!("{}.{}", file_name(own_id), locale.tag()));
            jobs.push(Job { sheet, path, file: at });
        }
        if arguments.format.contains(&Format::Json) {
            data.push((at, out.join(format!("{}.json", file_name(own_id)))));
        }
    }
    std::fs::create_dir_all(&out)
        .map_err(|error| Failure(format!("the folder `{}` cannot be made: {error}", shown(&out))))?;
    let mut made = 0;
    let mut troubles: Vec<String> = Vec::new();
    if arguments.format.contains(&Format::Json) {
        for (at, path) in &data {
            let Some(file) = checked.get(*at) else { continue };
            let figures = match (&file.dish, &file.menu) {
                (Some(dish), _) => nutrients::object(dish, &workspace),
                (None, Some(menu)) => super::menu::nutrients::object(menu, &workspace),
                (None, None) => continue,
            };
            let cards: Vec<serde_json::Value> = jobs
                .iter()
                .filter(|job| job.file == *at)
                .filter_map(|job| match &job.sheet {
                    Sheet::Card(card) => serde_json::to_value(card).ok(),
                    Sheet::Menu(card) => serde_json::to_value(card).ok(),
                })
                .collect();
            let object = serde_json::json!({ "figures": figures, "cards": cards });
            let mut text = serde_json::to_string_pretty(&object).unwrap_or_default();
            text.push('\n');
            match write(path, text.as_bytes()) {
                Ok(()) => made += 1,
                Err(trouble) => troubles.push(trouble),
            }
        }
    }
    if arguments.format.contains(&Format::Pdf) {
        made += set(&jobs, further, &mut checked, &mut troubles)?;
    }
    let (text, count) = gather::report(&workspace, &checked, Messages::Human, false);
    say(&text);
    for trouble in &troubles {
        complain(trouble);
    }
    let skipped = |kind: Kind| checked.iter().filter(|file| file.tree.kind == kind && !sound(file)).count();
    let others = checked.iter().filter(|file| file.tree.kind == Kind::Booklet).count();
    if others > 0 {
        let what = if others == 1 { "1 booklet is" } else { &format!("{others} booklets are") };
        complain(&format!("{what} checked only; this version prints dishes and menus"));
    }
    let pictures = checked
        .iter()
        .filter_map(|file| file.dish.as_ref())
        .filter(|dish| dish.resolved.ast.header.picture.is_some())
        .count();
    if pictures > 0 {
        complain("pictures are not printed by this version; their lines are checked only");
    }
    let mut skipped_text = String::new();
    for (kind, one, many) in [(Kind::Dish, "dish", "dishes"), (Kind::Menu, "menu", "menus")] {
        match skipped(kind) {
            0 => {}
            1 => skipped_text.push_str(&format!(", 1 {one} left out")),
            more => skipped_text.push_str(&format!(", {more} {many} left out")),
        }
    }
    let files = if made == 1 { "1 file".to_owned() } else { format!("{made} files") };
    let failed_text = if troubles.is_empty() { String::new() } else { format!(", {} not written", troubles.len()) };
    let skipped_text = format!("{skipped_text}{failed_text}");
    complain(&format!("{files} in {}{skipped_text}: {}", shown(&out), count.words()));
    if !troubles.is_empty() {
        return Ok(crate::cli::USAGE);
    }
    let failed = count.errors > 0 || (denied && count.warnings > 0);
    Ok(if failed { ERRORS } else { CLEAN })
}

/// Typesets on all cores and writes each card when it is whole.
fn set(
    jobs: &[Job],
    further: Vec<typst::text::Font>,
    checked: &mut [Checked],
    troubles: &mut Vec<String>,
) -> Result<usize, Failure> {
    if jobs.is_empty() {
        return Ok(0);
    }
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get).min(jobs.len());
    let engine = Engine::new(cores, further).map_err(|fault| Failure(fault.to_string()))?;
    let terminal = std::io::stderr().is_terminal();
    let (mut made, mut seen) = (0, 0);
    let mut long: Vec<(usize, Diagnostic)> = Vec::new();
    let mut faults: Vec<(usize, String)> = Vec::new();
    engine.each(
        jobs,
        |slot, job| match &job.sheet {
            Sheet::Card(card) => engine.card(slot, card),
            Sheet::Menu(menu) => engine.menu(slot, menu),
        },
        |at, result| {
            seen += 1;
            if terminal {
                let _ = write!(std::io::stderr(), "\r{seen} of {} cards", jobs.len());
            }
            let Some(job) = jobs.get(at) else { return };
            match result {
                Ok(pages) if pages.count > SIDES => {
                    long.push((job.file, too_long(&job.sheet, &pages, checked.get(job.file))));
                }
                Ok(pages) => match write(&with_ending(&job.path, "pdf"), &pages.pdf) {
                    Ok(()) => made += 1,
                    Err(trouble) => faults.push((at, trouble)),
                },
                Err(fault) => faults.push((at, format!("{}: {fault}", shown(&job.path)))),
            }
        },
    );
    if terminal {
        let _ = write!(std::io::stderr(), "\r{:30}\r", "");
    }
    // Threads finish in any order; messages keep the order of the files.
    faults.sort();
    troubles.extend(faults.into_iter().map(|(_, trouble)| trouble));
    for (file, message) in long {
        if let Some(file) = checked.get_mut(file) {
            file.diagnostics.push(message);
            file.diagnostics.sort_by_key(|message| (message.span.start, message.message.clone()));
        }
    }
    Ok(made)
}

/// Says what would make the card fit, in the author's terms.
fn too_long(sheet: &Sheet, pages: &Pages, file: Option<&Checked>) -> Diagnostic {
    let title = file.and_then(Checked::title).map_or(Span::default(), |title| title.span);
    let reliefs: Vec<&str> = pages.reliefs.iter().map(|relief| relief.words()).collect();
    let (lang, paper) = match sheet {
        Sheet::Card(card) => (&card.lang, &card.paper),
        Sheet::Menu(menu) => (&menu.lang, &menu.paper),
    };
    let help = match sheet {
        Sheet::Menu(_) => "take fewer items or shorter remarks, or print on a larger paper: `--paper A4`".to_owned(),
        Sheet::Card(_) if reliefs.is_empty() => {
            "shorten the prose and the remarks, take fewer ingredients, or print on a larger paper: `--paper A4`"
                .to_owned()
        }
        Sheet::Card(_) => format!(
            "it would fit without {}: shorten there, or print on a larger paper: `--paper A4`",
            reliefs.join("; or without ")
        ),
    };
    Diagnostic::new(
        Code::TextTooLongForCard,
        title,
        format!("the {lang} card takes {} {paper} pages; a sheet has two sides", pages.count),
    )
    .help(help)
}

/// Writes beside the target and renames, so that an earlier file stays until
/// the new one is whole.
pub(super) fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let trouble = |error: std::io::Error| format!("`{}` cannot be written: {error}", shown(path));
    let mut file = tempfile::Builder::new().prefix(".porringer-").tempfile_in(folder).map_err(trouble)?;
    file.write_all(bytes).map_err(trouble)?;
    file.as_file().sync_all().map_err(trouble)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // A temporary file is private; a card is for everybody.
        let _ = file.as_file().set_permissions(std::fs::Permissions::from_mode(0o644));
    }
    file.persist(path).map_err(|error| trouble(error.error))?;
    Ok(())
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".");
    name.push(ending);
    PathBuf::from(name)
}

/// An id as a file name: nothing that leads elsewhere.
fn file_name(id: &str) -> String {
    let name: String =
        id.chars().map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_') { c } else { '-' }).collect();
    if name.is_empty() { "dish".to_owned() } else { name }
}

fn languages(arguments: &Arguments, workspace: &Workspace) -> Result<Vec<String>, Failure> {
    let tags =
        if arguments.language.is_empty() { workspace.settings.languages.clone() } else { arguments.language.clone() };
    let mut languages = Vec::new();
    for tag in tags {
        if Locale::new(&tag).is_none() {
            return Err(Failure(unknown_language(&tag)));
        }
        if !languages.contains(&tag) {
            languages.push(tag);
        }
    }
    Ok(languages)
}

pub fn unknown_language(tag: &str) -> String {
    match did_you_mean(tag, locale::languages()) {
        Some(near) => format!("the card's words are not there in `{tag}`; did you mean `{near}`?"),
        None => {
            let known: Vec<&str> = locale::languages().collect();
            format!("the card's words are not there in `{tag}`; there are {}", known.join(", "))
        }
    }
}

fn paper(arguments: &Arguments, workspace: &Workspace) -> Result<String, Failure> {
    match &arguments.paper {
        None => Ok(workspace.settings.paper.clone()),
        Some(word) => settings::paper(word).map(str::to_owned).ok_or_else(|| {
            Failure(match did_you_mean(word, settings::PAPERS) {
                Some(near) => format!("`{word}` is no paper; did you mean `{near}`?"),
                None => format!("`{word}` is no paper; there are {}", settings::PAPERS.join(", ")),
            })
        }),
    }
}

pub fn further_fonts(workspace: &Workspace) -> Result<Vec<typst::text::Font>, Failure> {
    let mut further = Vec::new();
    for entry in &workspace.settings.fonts {
        let path = [workspace.root.join(&entry.value), workspace.recipes().join(&entry.value)]
            .into_iter()
            .find(|path| path.is_file())
            .and_then(|path| workspace.guard(&path))
            .ok_or_else(|| Failure(format!("the font `{}` is not in the workspace", entry.value)))?;
        let bytes = std::fs::read(&path)
            .map_err(|error| Failure(format!("the font `{}` cannot be read: {error}", entry.value)))?;
        let found: Vec<_> = typst::text::Font::iter(typst::foundations::Bytes::new(bytes)).collect();
        if found.is_empty() {
            return Err(Failure(format!("`{}` is no font", entry.value)));
        }
        further.extend(found);
    }
    Ok(further)
}

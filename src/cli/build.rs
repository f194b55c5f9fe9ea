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
use crate::typeset::guard::{Guard, Limits};
use crate::typeset::picture::Picture;
use crate::typeset::{Engine, Forms, Pages, Template, template};
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
    /// How the cards look: card, wall, pocket, or a template's folder;
    /// default: the workspace's.
    #[arg(long, value_name = "NAME|DIR")]
    template: Option<String>,
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
}

/// What is printed on one sheet.
enum Sheet {
    Card(Box<Card>),
    Menu(Box<MenuCard>),
}

/// One card to be made.
struct Job {
    sheet: Sheet,
    picture: Option<Picture>,
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
    let template = template(arguments, &workspace)?;
    let paper = paper(arguments, &workspace, &template)?;
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
    let mut fonts: Vec<String> = further.iter().map(|font| font.info().family.to_string()).collect();
    fonts.dedup();
    let imprint = Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper,
        fonts,
    };
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
        let picture =
            file.dish.as_ref().and_then(|dish| gather::read_picture(&dish.resolved.ast, &file.source, &workspace));
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
                    let mut card = card::make(&maker);
                    let described = dish.resolved.ast.header.picture.as_ref().and_then(|own| own.description.as_ref());
                    card.picture = picture.as_ref().zip(described).map(|(picture, description)| card::Picture {
                        path: picture.path.clone(),
                        alt: maker.text(description),
                    });
                    Sheet::Card(Box::new(card))
                }
                (None, Some(menu)) => {
                    let maker = MenuMaker { menu, reference, locale, own_language, imprint, changed: &file.changed };
                    Sheet::Menu(Box::new(card::menu::make(&maker)))
                }
                (None, None) => continue,
            };
            let path = out.join(format!("{}.{}", file_name(own_id), locale.tag()));
            jobs.push(Job { sheet, picture: picture.clone(), path, file: at });
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
    let forms = Forms {
        pdf: arguments.format.contains(&Format::Pdf),
        svg: arguments.format.contains(&Format::Svg),
        png: arguments.format.contains(&Format::Png),
    };
    if forms.pdf || forms.svg || forms.png {
        made += set(&jobs, forms, further, template, &mut checked, &mut troubles)?;
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
    forms: Forms,
    further: Vec<typst::text::Font>,
    template: Template,
    checked: &mut [Checked],
    troubles: &mut Vec<String>,
) -> Result<usize, Failure> {
    if jobs.is_empty() {
        return Ok(0);
    }
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get).min(jobs.len());
    let Some(menus) = Template::built_in("menu") else { return Err(Failure("there is no look for menus".to_owned())) };
    let sides = |sheet: &Sheet| {
        match sheet {
            Sheet::Card(card) => template.manifest.sides(&card.paper),
            Sheet::Menu(menu) => menus.manifest.sides(&menu.paper),
        }
        .unwrap_or(usize::MAX)
    };
    let mut engine = Engine::new(cores, further).map_err(|fault| Failure(fault.to_string()))?;
    if !template.built_in {
        engine = engine.guarded(Guard::start(cores, Limits::default(), |why| {
            complain(&format!("{why}; nothing more is made"));
            std::process::exit(i32::from(crate::cli::USAGE));
        }));
    }
    let terminal = std::io::stderr().is_terminal();
    let (mut made, mut seen) = (0, 0);
    let mut long: Vec<(usize, Diagnostic)> = Vec::new();
    let mut faults: Vec<(usize, String)> = Vec::new();
    engine.each(
        jobs,
        |job| match &job.sheet {
            Sheet::Card(card) => engine.card(&template, card, job.picture.as_ref(), forms),
            Sheet::Menu(menu) => engine.menu(&menus, menu, forms),
        },
        |at, result| {
            seen += 1;
            if terminal {
                let _ = write!(std::io::stderr(), "\r{seen} of {} cards", jobs.len());
            }
            let Some(job) = jobs.get(at) else { return };
            match result {
                Ok(pages) if pages.count > sides(&job.sheet) => {
                    long.push((job.file, too_long(&job.sheet, &pages, sides(&job.sheet), checked.get(job.file))));
                }
                Ok(pages) => {
                    for (ending, bytes) in files_of(&pages) {
                        match write(&with_ending(&job.path, &ending), bytes) {
                            Ok(()) => made += 1,
                            Err(trouble) => faults.push((at, trouble)),
                        }
                    }
                }
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

/// The files of a card: their endings and bytes. Pictures of its pages count
/// from one.
fn files_of(pages: &Pages) -> Vec<(String, &[u8])> {
    let mut files: Vec<(String, &[u8])> = Vec::new();
    if !pages.pdf.is_empty() {
        files.push(("pdf".to_owned(), &pages.pdf));
    }
    files.extend(pages.svg.iter().enumerate().map(|(at, svg)| (format!("{}.svg", at + 1), svg.as_bytes())));
    files.extend(pages.png.iter().enumerate().map(|(at, png)| (format!("{}.png", at + 1), png.as_slice())));
    files
}

/// Says what would make the card fit, in the author's terms.
fn too_long(sheet: &Sheet, pages: &Pages, sides: usize, file: Option<&Checked>) -> Diagnostic {
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
        if sides == 2 {
            format!("the {lang} card takes {} {paper} pages; a sheet has two sides", pages.count)
        } else {
            format!("the {lang} card takes {} {paper} pages of {sides}", pages.count)
        },
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

/// The paper asked for; a template that is not made for the workspace's paper
/// takes its own.
fn paper(arguments: &Arguments, workspace: &Workspace, template: &Template) -> Result<String, Failure> {
    let Some(word) = &arguments.paper else { return Ok(template.paper(&workspace.settings.paper)) };
    let paper = settings::paper(word).ok_or_else(|| {
        Failure(match did_you_mean(word, settings::PAPERS) {
            Some(near) => format!("`{word}` is no paper; did you mean `{near}`?"),
            None => format!("`{word}` is no paper; there are {}", settings::PAPERS.join(", ")),
        })
    })?;
    if !template.takes(paper) {
        let manifest = &template.manifest;
        return Err(Failure(format!(
            "the template `{}` is not made for {paper}; it takes {}",
            manifest.name,
            manifest.papers.join(", ")
        )));
    }
    Ok(paper.to_owned())
}

/// The template asked for: a built-in one by its name, else a folder. One that
/// the settings name lies in the workspace; one on the command line lies where
/// it is named.
fn template(arguments: &Arguments, workspace: &Workspace) -> Result<Template, Failure> {
    let word = arguments.template.as_ref().unwrap_or(&workspace.settings.template.value);
    let found = match Template::built_in(word) {
        Some(template) => template,
        None => {
            let own = |folder: PathBuf| workspace.guard(&folder).filter(|folder| folder.is_dir());
            let named = Path::new(word);
            let folder = if arguments.template.is_some() && named.is_dir() { Some(named.to_path_buf()) } else { None };
            let folder = folder
                .or_else(|| own(workspace.root.join(word)))
                .or_else(|| own(workspace.root.join("templates").join(word)))
                .or_else(|| own(workspace.recipes().join(word)));
            let Some(folder) = folder else {
                let known: Vec<&str> = template::names(card::SCHEMA).collect();
                return Err(Failure(match did_you_mean(word, known.iter().copied()) {
                    Some(near) => format!("there is no template `{word}`; did you mean `{near}`?"),
                    None => format!(
                        "there is no template `{word}`; there are {}, or a folder of the workspace",
                        known.join(", ")
                    ),
                }));
            };
            Template::from_folder(&folder).map_err(Failure)?
        }
    };
    if found.manifest.data != card::SCHEMA {
        return Err(Failure(format!(
            "the template `{}` reads `{}`; cards are `{}`",
            found.manifest.name,
            found.manifest.data,
            card::SCHEMA
        )));
    }
    Ok(found)
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

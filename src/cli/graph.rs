//! `porringer graph`: which file is made from which, for other programs.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use typst::text::Font;

use crate::ast::{Booklet, Document, Entry};
use crate::check::Checked;
use crate::cli::build::outputs::{file_name, write};
use crate::cli::build::{booklet_id, choice, table};
use crate::cli::{CLEAN, Failure, Input, gather, say};
use crate::graph::files::{Files, Node, Step, Steps, Unnamable};
use crate::graph::{dot, make, ninja};
use crate::syntax::Kind;
use crate::workspace::{Shelf, Workspace, shelf, shown};

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    input: Input,
    /// For which program the graph is written.
    #[arg(long, value_enum, default_value = "ninja")]
    format: Format,
    /// Write it into a file that keeps itself up to date, such as build.ninja.
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    /// What is made of each recipe.
    #[arg(long, value_enum, value_delimiter = ',', default_value = "pdf")]
    of: Vec<Form>,
    /// Output folder; default: the workspace's `out`.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    #[command(flatten)]
    look: choice::Look,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// A makefile for GNU make.
    Make,
    /// For ninja, and engines that read its files.
    Ninja,
    /// A drawing for Graphviz.
    Dot,
}

impl Format {
    fn word(self) -> &'static str {
        match self {
            Self::Make => "make",
            Self::Ninja => "ninja",
            Self::Dot => "dot",
        }
    }
}

/// Forms of which the names of the files are known beforehand: how many
/// pictures a card is, only its pages tell, and a web site is one whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Form {
    /// The printed card.
    Pdf,
    /// Figures and card as data.
    Json,
    /// The nutrients of all dishes in one table.
    Csv,
    /// Each dish as linked data.
    Jsonld,
}

impl Form {
    fn word(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Json => "json",
            Self::Csv => "csv",
            Self::Jsonld => "jsonld",
        }
    }
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let workspace = gather::workspace(&arguments.input)?;
    let paths = gather::files(&arguments.input, &workspace)?;
    let languages = choice::languages(&arguments.look, &workspace)?;
    let template = choice::template(&arguments.look, &workspace)?;
    choice::paper(&arguments.look, &workspace, &template)?;
    let further = choice::fonts(&arguments.look, &workspace)?;
    let mut files = of(&workspace, &paths, &languages, &further)?;
    files.common.extend(choice::all_font_files(&arguments.look, &workspace)?);
    files.common.extend(template.places.iter().cloned());
    let out = arguments.out.clone().unwrap_or_else(|| workspace.root.join(&workspace.settings.out.value));
    let look = choice::booklet_template(None, &workspace)?;
    for booklet in &mut files.bound {
        booklet.files.extend(look.places.iter().cloned());
        // Languages of the call go before those that a booklet names.
        if !arguments.look.language.is_empty() {
            booklet.languages.clone_from(&languages);
        }
    }
    let made = |node: &Node| made(node, arguments, &out);
    let text = match arguments.format {
        Format::Dot => {
            let outputs = |at: usize| {
                let node = files.all().nth(at);
                node.into_iter().flat_map(&made).map(|(output, _)| output).collect()
            };
            dot::write(&files, shown, outputs)
        }
        Format::Make | Format::Ninja => {
            let steps = steps(arguments, &workspace, &files, &made);
            let text = if arguments.format == Format::Make { make::write(&steps) } else { ninja::write(&steps) };
            text.map_err(|Unnamable(name)| {
                Failure(format!("{} cannot be told of `{name}`; give it another name", arguments.format.word()))
            })?
        }
    };
    match &arguments.to {
        Some(path) => write(path, text.as_bytes()).map_err(Failure)?,
        None => say(&text),
    }
    Ok(CLEAN)
}

/// The graph of some documents. What a document takes is found by checking it,
/// so that nothing else has to know how dishes name each other.
///
/// # Errors
/// A font that is not there.
pub fn of(workspace: &Workspace, paths: &[PathBuf], languages: &[String], further: &[Font]) -> Result<Files, Failure> {
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    let checked = gather::with_texts_on(paths, workspace, languages, further, &shelf);
    let mut files = Files::default();
    let mut booklets = Vec::new();
    files.common.extend(workspace.read.iter().map(|(path, _)| path.clone()));
    files.common.extend(choice::font_files(workspace)?);
    for (path, file) in paths.iter().zip(&checked) {
        if let Document::Booklet(booklet) = &file.document {
            booklets.push((path, file, booklet));
        }
        files.documents.push(node(path, file, workspace, languages, &shelf));
    }
    for (path, file, booklet) in booklets {
        files.bound.push(bound(path, file, booklet, &files, workspace, languages, &shelf));
    }
    Ok(files)
}

fn node(path: &Path, file: &Checked, workspace: &Workspace, languages: &[String], shelf: &Shelf<'_>) -> Node {
    let asked = shelf.asked_by(path);
    let mut own: BTreeSet<PathBuf> =
        asked.dishes.iter().filter_map(|name| shelf.path_of(name)).map(Path::to_path_buf).collect();
    own.extend(picture(file, workspace));
    own.remove(path);
    let tag = gather::own_language(&file.document, workspace);
    Node {
        document: path.to_path_buf(),
        name: file.id().map(file_name).unwrap_or_default(),
        languages: if file.id().is_some() { gather::languages_of(&tag, languages) } else { Vec::new() },
        files: own,
        names: asked.names,
    }
}

fn picture(file: &Checked, workspace: &Workspace) -> Option<PathBuf> {
    let picture = file.document.header().picture.as_ref()?;
    let places = gather::picture_places(picture, &file.source, workspace);
    places.into_iter().find(|place| place.is_file())
}

/// A booklet with all that its pages rest on, whether the call names the pages
/// or not.
fn bound(
    path: &Path,
    file: &Checked,
    booklet: &Booklet,
    files: &Files,
    workspace: &Workspace,
    languages: &[String],
    shelf: &Shelf<'_>,
) -> Node {
    let named: Vec<String> = booklet.header.language.iter().map(|tag| tag.value.clone()).collect();
    let own = gather::own_language(&file.document, workspace);
    let mut whole = Node {
        document: path.to_path_buf(),
        name: file_name(&booklet_id(booklet, &file.source.name)),
        languages: gather::languages_of(&own, if named.is_empty() { languages } else { &named }),
        files: picture(file, workspace).into_iter().collect(),
        names: false,
    };
    for entry in &booklet.entries {
        let Entry::Page { menu, slug } = entry else { continue };
        let place = if *menu { shelf.menu_path(&slug.value) } else { shelf.path_of(&slug.value) };
        let Some(place) = place else {
            // A new file may be the page that is missing.
            whole.names = true;
            continue;
        };
        let known = files.documents.iter().find(|node| node.document == place).cloned();
        let page = known.unwrap_or_else(|| node(place, &gather::one(place, workspace, shelf), workspace, &[], shelf));
        whole.files.insert(page.document);
        whole.files.extend(page.files);
        whole.names |= page.names;
    }
    whole
}

/// Outputs, each with the program's arguments.
type Made = Vec<(String, Vec<String>)>;

/// Outputs of a document, each with the arguments that make it alone.
fn made(node: &Node, arguments: &Arguments, out: &Path) -> Made {
    let mut all = Vec::new();
    for form in &arguments.of {
        let call = |languages: &[String]| {
            let mut words = vec![shown(&node.document)];
            words.extend(["--language".to_owned(), languages.join(",")]);
            build(&words, *form, arguments, out)
        };
        let dish = Kind::of_path(&node.document) == Some(Kind::Dish);
        let each = |ending: &str| {
            let of = |tag: &String| {
                let output = shown(&out.join(format!("{}.{tag}.{ending}", node.name)));
                (output, call(std::slice::from_ref(tag)))
            };
            node.languages.iter().map(of).collect::<Made>()
        };
        match form {
            Form::Pdf => all.extend(each("pdf")),
            Form::Jsonld if dish => all.extend(each("jsonld")),
            Form::Csv if dish && !node.languages.is_empty() => {
                // One table of all dishes of the call.
                let paths: Vec<String> = arguments.input.paths.iter().map(|path| shown(path)).collect();
                all.push((shown(&out.join(table::NAME)), build(&paths, *form, arguments, out)));
            }
            Form::Jsonld | Form::Csv => {}
            Form::Json if !node.languages.is_empty() => {
                all.push((shown(&out.join(format!("{}.json", node.name))), call(&node.languages)));
            }
            Form::Json => {}
        }
    }
    all
}

/// The program's arguments that make one form of some documents.
fn build(documents: &[String], form: Form, arguments: &Arguments, out: &Path) -> Vec<String> {
    let mut words = vec!["build".to_owned()];
    words.extend(documents.iter().cloned());
    words.extend(["--format".to_owned(), form.word().to_owned()]);
    words.extend(["--out".to_owned(), shown(out), "--no-stamps".to_owned()]);
    words.extend(arguments.input.foods.iter().flat_map(|table| ["--foods".to_owned(), shown(table)]));
    words.extend(arguments.look.words());
    words
}

fn steps(arguments: &Arguments, workspace: &Workspace, files: &Files, made: &dyn Fn(&Node) -> Made) -> Steps {
    let program = std::env::current_exe().map_or_else(|_| "porringer".to_owned(), |path| shown(&path));
    let mut common: Vec<String> = files.common.iter().map(|path| shown(path)).collect();
    common.push(program.clone());
    let recipes: Vec<PathBuf> = shelf::files(&workspace.recipes());
    let mut steps: Vec<Step> = Vec::new();
    let mut table: Option<Step> = None;
    for node in files.all() {
        let mut inputs = vec![shown(&node.document)];
        inputs.extend(node.files.iter().map(|path| shown(path)));
        if node.names {
            inputs.extend(recipes.iter().map(|path| shown(path)).filter(|path| *path != shown(&node.document)));
            inputs.dedup();
        }
        inputs.extend(common.iter().cloned());
        for (output, arguments) in made(node) {
            let step = Step { output, inputs: inputs.clone(), arguments };
            match &mut table {
                Some(table) if table.output == step.output => {
                    let new = step.inputs.into_iter().filter(|input| !table.inputs.contains(input)).collect::<Vec<_>>();
                    table.inputs.extend(new);
                }
                None if Path::new(&step.output).file_name().is_some_and(|name| name == table::NAME) => {
                    table = Some(step);
                }
                _ => steps.push(step),
            }
        }
    }
    steps.extend(table);
    let again = arguments.to.as_ref().map(|to| {
        // A recipe that comes or goes changes its folder.
        let mut inputs: BTreeSet<String> = recipes.iter().map(|path| shown(path)).collect();
        inputs.extend(files.documents.iter().map(|node| shown(&node.document)));
        let mut folders: BTreeSet<&Path> = recipes.iter().filter_map(|path| path.parent()).collect();
        let own = workspace.recipes();
        folders.insert(&own);
        inputs.extend(folders.into_iter().map(shown).map(|name| if name.is_empty() { ".".to_owned() } else { name }));
        inputs.extend(common.iter().cloned());
        let mut words = vec!["graph".to_owned()];
        words.extend(arguments.input.paths.iter().map(|path| shown(path)));
        words.extend(arguments.input.foods.iter().flat_map(|table| ["--foods".to_owned(), shown(table)]));
        words.extend(["--format".to_owned(), arguments.format.word().to_owned()]);
        words.extend(["--of".to_owned(), arguments.of.iter().map(|form| form.word()).collect::<Vec<_>>().join(",")]);
        words.extend(["--to".to_owned(), shown(to)]);
        words.extend(arguments.out.iter().flat_map(|out| ["--out".to_owned(), shown(out)]));
        words.extend(arguments.look.all_words());
        Step { output: shown(to), inputs: inputs.into_iter().collect(), arguments: words }
    });
    Steps { program, steps, again }
}

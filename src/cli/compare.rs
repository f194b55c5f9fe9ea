//! `porringer compare`

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use typst::text::Font;

use crate::card::{Imprint, Locale};
use crate::check::Checked;
use crate::cli::{CLEAN, ERRORS, Failure, Input, build, complain, gather, say};
use crate::compare::{Comparison, NOTHING, Named, READING, SCHEMA, Side, compare, human, markdown};
use crate::diagnostic::Severity;
use crate::workspace::revision::Revision;
use crate::workspace::{Workspace, shelf, shown};

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// Two files, or two folders of recipes: before and after. With --since:
    /// any files and folders; default the workspace's recipes.
    #[arg(value_name = "PATHS")]
    paths: Vec<PathBuf>,
    /// Compare with a revision of the git repository, such as HEAD or main.
    #[arg(long, value_name = "REVISION")]
    since: Option<String>,
    /// How the comparison is written.
    #[arg(long, value_enum, default_value = "human")]
    format: Format,
    /// Exit with 1 if a caregiver would notice anything.
    #[arg(long)]
    exit_code: bool,
    /// Further font files, or folders of them, beside the workspace's.
    #[arg(long, value_name = "FILE|DIR")]
    font: Vec<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Format {
    /// For a person.
    Human,
    /// For a pull request.
    Markdown,
    /// For a program.
    Json,
}

/// One state of a set of documents.
struct State {
    /// As it is called in the comparison.
    name: String,
    workspace: Workspace,
    imprint: Imprint,
    files: Vec<File>,
}

struct File {
    /// Path as it is shown, and below the workspace's root.
    shown: String,
    place: PathBuf,
    checked: Checked,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let fonts = build::named_fonts(&arguments.font)?;
    let comparison = match &arguments.since {
        Some(revision) => since(arguments, revision, &fonts)?,
        None => match arguments.paths.as_slice() {
            [before, after] => two(before, after, &fonts)?,
            _ => {
                return Err(Failure(
                    "name two files or two folders, or a revision: `porringer compare --since HEAD`".to_owned(),
                ));
            }
        },
    };
    match arguments.format {
        Format::Human => say(&human::render(&comparison)),
        Format::Markdown => say(&markdown::render(&comparison)),
        Format::Json => {
            let mut text = serde_json::to_string_pretty(&comparison).unwrap_or_default();
            text.push('\n');
            say(&text);
        }
    }
    if arguments.format == Format::Human {
        complain(&summary(&comparison));
    }
    Ok(if arguments.exit_code && comparison.noticed { ERRORS } else { CLEAN })
}

fn summary(comparison: &Comparison) -> String {
    let Comparison { before, after, new, removed, changed, same, noticed, .. } = comparison;
    let mut parts = Vec::new();
    let mut part = |count: usize, word: &str| {
        if count > 0 {
            parts.push(format!("{count} {word}"));
        }
    };
    part(new.len(), "new");
    part(removed.len(), "removed");
    part(changed.len(), "changed");
    part(*same, "the same");
    let verdict = if *noticed { String::new() } else { format!(": {NOTHING}") };
    format!("{before} and {after}: {}{verdict}", parts.join(", "))
}

/// Two files are held beside each other whatever their names; two folders by
/// the names of what is in them.
fn two(before: &Path, after: &Path, fonts: &[Font]) -> Result<Comparison, Failure> {
    let files = !before.is_dir() && !after.is_dir();
    let one_of_each = before.is_dir() != after.is_dir();
    if one_of_each {
        if let Some(path) = [before, after].into_iter().find(|path| !path.exists()) {
            return Err(Failure(format!("there is no file or folder `{}`", path.display())));
        }
        return Err(Failure("name two files or two folders, not one of each".to_owned()));
    }
    let [old, new] = [before, after].map(|path| {
        let input = Input { paths: vec![path.to_path_buf()], foods: Vec::new() };
        let workspace = gather::workspace(&input)?;
        let paths = gather::files(&input, &workspace)?;
        let base = if path.is_dir() { path } else { path.parent().unwrap_or(path) };
        Ok(state(shown(path), workspace, &paths, base, fonts, &|path| shown(path)))
    });
    let (old, new) = (old?, new?);
    let pairs = match (old.files.as_slice(), new.files.as_slice()) {
        ([before], [after]) if files => {
            if before.checked.tree.kind != after.checked.tree.kind {
                return Err(Failure("these two are no documents of one kind".to_owned()));
            }
            vec![(Some(before), Some(after))]
        }
        _ => pairs(&old.files, &new.files),
    };
    Ok(told(&old, &new, &pairs))
}

fn since(arguments: &Arguments, revision: &str, fonts: &[Font]) -> Result<Comparison, Failure> {
    let first = match arguments.paths.first() {
        Some(path) => path.clone(),
        None => std::env::current_dir().map_err(|error| Failure(format!("no working folder: {error}")))?,
    };
    // A document that was removed is named by a path that is there no more.
    let there: Vec<PathBuf> = arguments.paths.iter().filter(|path| path.exists()).cloned().collect();
    for path in &there {
        if Workspace::root_of(path) != Workspace::root_of(&first) {
            return Err(Failure("these belong to two workspaces; compare them in two calls".to_owned()));
        }
    }
    let workspace = Workspace::of(&first);
    let root = std::fs::canonicalize(&workspace.root).unwrap_or_else(|_| workspace.root.clone());
    let out = root.join(&workspace.settings.out.value);
    let laid = Revision::lay_out(&root, revision, &out).map_err(Failure)?;
    let old_workspace = Workspace::of(&laid.root);
    // Places below the workspace's root that were asked for.
    let asked: Vec<PathBuf> = arguments
        .paths
        .iter()
        .map(|path| {
            let path =
                std::fs::canonicalize(path).or_else(|_| std::path::absolute(path)).unwrap_or_else(|_| path.clone());
            path.strip_prefix(&root).map(Path::to_path_buf).unwrap_or(path)
        })
        .collect();
    let wanted = |place: &Path| asked.is_empty() || asked.iter().any(|asked| place.starts_with(asked));
    let paths = if arguments.paths.is_empty() {
        shelf::files(&workspace.recipes())
    } else if there.is_empty() {
        Vec::new()
    } else {
        gather::files(&Input { paths: there, foods: Vec::new() }, &workspace)?
    };
    // The old folder has the new one's name, so `recipes` is found alike.
    let old_paths: Vec<PathBuf> = shelf::files(&old_workspace.recipes())
        .into_iter()
        .filter(|path| path.strip_prefix(&laid.root).is_ok_and(wanted))
        .collect();
    for (path, place) in arguments.paths.iter().zip(&asked) {
        let known = path.exists()
            || old_paths.iter().any(|old| old.strip_prefix(&laid.root).is_ok_and(|old| old.starts_with(place)));
        if !known {
            return Err(Failure(format!(
                "there is no file or folder `{}`, and there was none at {}",
                path.display(),
                laid.name
            )));
        }
    }
    if paths.is_empty() && old_paths.is_empty() {
        return Err(Failure(format!("no recipes below `{}`, now or at {}", shown(&workspace.recipes()), laid.name)));
    }
    let new = state("the working files".to_owned(), workspace, &paths, &root, fonts, &|path| shown(path));
    let old_name = |path: &Path| shown(&root.join(path.strip_prefix(&laid.root).unwrap_or(path)));
    let old = state(laid.name.clone(), old_workspace, &old_paths, &laid.root, fonts, &old_name);
    Ok(told(&old, &new, &pairs(&old.files, &new.files)))
}

fn state(
    name: String,
    workspace: Workspace,
    paths: &[PathBuf],
    base: &Path,
    fonts: &[Font],
    named: &dyn Fn(&Path) -> String,
) -> State {
    // Without the settings' fonts, a letter that only they have is reported as
    // missing on both sides alike.
    let mut further = build::further_fonts(&workspace).unwrap_or_default();
    further.extend(fonts.iter().cloned());
    let checked = gather::with_texts(paths, &workspace, &workspace.settings.languages, &further);
    let base = std::fs::canonicalize(base).unwrap_or_else(|_| base.to_path_buf());
    let files = paths
        .iter()
        .zip(checked)
        .map(|(path, checked)| {
            let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.clone());
            let place = real.strip_prefix(&base).unwrap_or(path).to_path_buf();
            File { shown: named(path), place, checked }
        })
        .collect();
    if workspace.faults.iter().flat_map(|fault| &fault.diagnostics).any(|message| message.severity == Severity::Error) {
        complain(&format!("the settings or tables of {name} have errors; what differs may come from them"));
    }
    let imprint = Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper: workspace.settings.paper.clone(),
        // The look of the letters is no change for the child.
        fonts: Vec::new(),
    };
    State { name, workspace, imprint, files }
}

type Pairing<'a> = (Option<&'a File>, Option<&'a File>);

/// Documents go together by their place; what is left, by kind and name, so
/// that a file that was renamed with its `id` is one document still.
fn pairs<'a>(old: &'a [File], new: &'a [File]) -> Vec<Pairing<'a>> {
    let key = |file: &File| {
        let named = Named::of(&file.checked, &file.shown);
        (named.kind, named.id)
    };
    let mut by_place: BTreeMap<&Path, &File> = old.iter().map(|file| (file.place.as_path(), file)).collect();
    let mut found: Vec<Pairing<'a>> =
        new.iter().map(|file| (by_place.remove(file.place.as_path()), Some(file))).collect();
    let mut by_name: BTreeMap<(&str, String), &File> = by_place.into_values().map(|file| (key(file), file)).collect();
    for (before, after) in &mut found {
        if let (None, Some(file)) = (&before, &after) {
            *before = by_name.remove(&key(file));
        }
    }
    let used: Vec<*const File> = found.iter().filter_map(|(before, _)| *before).map(std::ptr::from_ref).collect();
    found.extend(old.iter().filter(|file| !used.contains(&std::ptr::from_ref(*file))).map(|file| (Some(file), None)));
    found
}

fn told(old: &State, new: &State, pairs: &[Pairing<'_>]) -> Comparison {
    let locales = locales(old, new);
    let mut comparison = Comparison {
        schema: SCHEMA,
        before: old.name.clone(),
        after: new.name.clone(),
        noticed: false,
        new: Vec::new(),
        removed: Vec::new(),
        changed: Vec::new(),
        same: 0,
    };
    for pair in pairs {
        match pair {
            (Some(before), Some(after)) => {
                let mut change = compare(&side(before, old), &side(after, new), &locales);
                // Another folder is no news where two folders are compared.
                if before.place == after.place {
                    change.was = None;
                }
                comparison.noticed |= change.noticed;
                if change.is_empty() {
                    comparison.same += 1;
                } else {
                    comparison.changed.push(change);
                }
            }
            (None, Some(after)) => comparison.new.push(Named::of(&after.checked, &after.shown)),
            (Some(before), None) => comparison.removed.push(Named::of(&before.checked, &before.shown)),
            (None, None) => {}
        }
    }
    comparison.noticed |= !comparison.new.is_empty() || !comparison.removed.is_empty();
    comparison
}

fn side<'a>(file: &'a File, state: &'a State) -> Side<'a> {
    let own_language = gather::own_language(&file.checked.document, &state.workspace);
    Side {
        file: &file.checked,
        name: file.shown.clone(),
        reference: &state.workspace.reference,
        languages: gather::languages_of(&own_language, &state.workspace.settings.languages),
        own_language,
        imprint: &state.imprint,
    }
}

fn locales(old: &State, new: &State) -> Vec<Locale> {
    let mut tags = vec![READING.to_owned()];
    for state in [old, new] {
        let written = state.files.iter().map(|file| gather::own_language(&file.checked.document, &state.workspace));
        tags.extend(state.workspace.settings.languages.iter().cloned().chain(written));
    }
    let mut seen = std::collections::BTreeSet::new();
    tags.retain(|tag| seen.insert(tag.to_lowercase()));
    tags.iter().filter_map(|tag| Locale::new(tag)).collect()
}

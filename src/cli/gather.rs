//! From paths on the command line to checked files.

mod report;

use std::path::{Path, PathBuf};

use rayon::prelude::*;
pub use report::{Format, Report, complain_of, report};
use typst::text::Font;

use crate::ast::Document;
use crate::check::{Checked, check};
use crate::cli::{Failure, Input};
use crate::diagnostic::{Code, Diagnostic};
use crate::source::{Source, Span};
use crate::syntax::Kind;
use crate::typeset::fonts;
use crate::typeset::picture::Picture;
use crate::workspace::{Shelf, Workspace, read_text, shelf, shown};

/// The workspace of a call with its further tables.
///
/// # Errors
/// A table file that cannot be read, or a path that is not there.
pub fn workspace(input: &Input) -> Result<Workspace, Failure> {
    let first = match input.paths.first() {
        Some(path) => path.clone(),
        None => std::env::current_dir().map_err(|error| Failure(format!("no working folder: {error}")))?,
    };
    for path in &input.paths {
        if !path.exists() {
            return Err(Failure(format!("there is no file or folder `{}`", path.display())));
        }
    }
    let mut workspace = Workspace::of(&first);
    for path in input.paths.iter().skip(1) {
        if Workspace::root_of(path) != Workspace::root_of(&first) {
            return Err(Failure(format!(
                "`{}` and `{}` belong to two workspaces with settings of their own; name them in two calls",
                first.display(),
                path.display()
            )));
        }
    }
    for path in &input.foods {
        match read_text(path, &shown(path)) {
            Ok((source, None)) => {
                workspace.note_read(path.clone(), &source);
                workspace.add_table(source);
            }
            Ok((_, Some(_))) => {
                return Err(Failure(format!("`{}` is not UTF-8 text", path.display())));
            }
            Err(error) => {
                return Err(Failure(format!("the table `{}` cannot be read: {error}", path.display())));
            }
        }
    }
    Ok(workspace)
}

/// The recipe files that the call means, in order, each once.
///
/// # Errors
/// A named file that is no recipe; nothing to do at all.
pub fn files(input: &Input, workspace: &Workspace) -> Result<Vec<PathBuf>, Failure> {
    let mut found = Vec::new();
    if input.paths.is_empty() {
        found = shelf::files(&workspace.recipes());
        if found.is_empty() {
            return Err(Failure(format!(
                "no recipes below `{}`; name a file, such as `porringer check mash.dish`",
                shown(&workspace.recipes())
            )));
        }
        return Ok(found);
    }
    for path in &input.paths {
        if path.is_dir() {
            found.extend(shelf::files(path));
        } else if Kind::of_path(path).is_some() {
            found.push(path.clone());
        } else {
            return Err(Failure(format!(
                "`{}` is no recipe: the name ends in .dish, .menu or .booklet",
                path.display()
            )));
        }
    }
    // A folder's files are each found once; asking where each really lies
    // takes longer than looking at it.
    let mut seen = std::collections::HashSet::new();
    let several = input.paths.len() > 1;
    found.retain(|path| !several || seen.insert(std::fs::canonicalize(path).unwrap_or_else(|_| path.clone())));
    if found.is_empty() {
        return Err(Failure("these folders hold no recipes".to_owned()));
    }
    Ok(found)
}

/// Checks one file from the disk.
pub fn one(path: &Path, workspace: &Workspace, shelf: &Shelf<'_>) -> Checked {
    let kind = Kind::of_path(path).unwrap_or(Kind::Dish);
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let name = shown(path);
    // Not read at all when it is larger than any recipe.
    let size = std::fs::metadata(path).map_or(0, |meta| meta.len());
    if size > crate::syntax::LARGEST_FILE as u64 {
        let message = Diagnostic::new(
            Code::SyntaxTooLarge,
            Span::default(),
            format!(
                "this file has {} MB; the most that is read is {} MB",
                size >> 20,
                crate::syntax::LARGEST_FILE >> 20
            ),
        )
        .help("keep one dish, menu or booklet in a file");
        return failed(Source::new(name, ""), kind, message);
    }
    match read_text(path, &name) {
        Ok((source, None)) => {
            // A dish may not be made of itself; a menu may be called like one.
            let view = shelf.seen_by(path, if kind == Kind::Dish { &stem } else { "" });
            check(source, kind, &stem, &workspace.reference, &view)
        }
        Ok((source, Some(fault))) => failed(source, kind, fault),
        Err(error) => {
            let message = Diagnostic::new(
                Code::WorkspaceTableError,
                Span::default(),
                format!("the file cannot be read: {}", error.kind()),
            );
            failed(Source::new(name, ""), kind, message)
        }
    }
}

fn failed(source: Source, kind: Kind, message: Diagnostic) -> Checked {
    Checked {
        source,
        tree: crate::syntax::Tree { kind, nodes: Vec::new() },
        document: kind.empty_document(),
        dish: None,
        menu: None,
        diagnostics: vec![message],
        changed: Vec::new(),
    }
}

/// Checks files on all cores; the order stays.
pub fn all(paths: &[PathBuf], workspace: &Workspace) -> Vec<Checked> {
    all_on(paths, workspace, &Shelf::new(workspace.recipes(), &workspace.reference))
}

fn all_on(paths: &[PathBuf], workspace: &Workspace, shelf: &Shelf<'_>) -> Vec<Checked> {
    if let [one_path] = paths {
        // A thread pool costs more than one file.
        return vec![one(one_path, workspace, shelf)];
    }
    paths.par_iter().map(|path| one(path, workspace, shelf)).collect()
}

/// How many checked documents are kept at a time: everything that is known of
/// one takes some 50 kB. So many that all cores are busy.
pub fn at_a_time() -> usize {
    const LEAST: usize = 256;
    LEAST.max(32 * rayon::current_num_threads())
}

/// Checks files and their texts against the languages and fonts of the cards.
pub fn with_texts(paths: &[PathBuf], workspace: &Workspace, languages: &[String], further: &[Font]) -> Vec<Checked> {
    with_texts_on(paths, workspace, languages, further, &Shelf::new(workspace.recipes(), &workspace.reference))
}

/// The same with a shelf at hand, which then knows who asked for what.
pub fn with_texts_on(
    paths: &[PathBuf],
    workspace: &Workspace,
    languages: &[String],
    further: &[Font],
    shelf: &Shelf<'_>,
) -> Vec<Checked> {
    let mut checked = all_on(paths, workspace, shelf);
    for file in &mut checked {
        texts(file, workspace, languages, further);
    }
    checked
}

/// Checks the texts of one file against the languages and fonts of the cards.
pub fn texts(file: &mut Checked, workspace: &Workspace, languages: &[String], further: &[Font]) {
    let own = own_language(&file.document, workspace);
    let of_menu;
    let dish = match &file.document {
        Document::Dish(dish) => dish,
        Document::Menu(menu) => {
            // A menu's texts are those of its header.
            of_menu = crate::ast::Dish { header: menu.header.clone(), ..crate::ast::Dish::default() };
            &of_menu
        }
        Document::Booklet(booklet) => {
            // A booklet may be made in languages of its own.
            let named: Vec<String> = booklet.header.language.iter().map(|tag| tag.value.clone()).collect();
            let languages = languages_of(&own, if named.is_empty() { languages } else { &named });
            let covers = |character| fonts::covers(character, further);
            let texts = crate::card::booklet::texts(booklet);
            let mut found = Vec::new();
            crate::card::texts::check_texts(&texts, &[], &own, &languages, &covers, &mut found);
            let header = crate::ast::Dish { header: booklet.header.clone(), ..crate::ast::Dish::default() };
            picture(&header, &file.source, workspace, &mut found);
            workspace.reference.practice.rules.apply(&mut found, file.document.youngest(), &mut file.changed);
            file.diagnostics.extend(found);
            file.diagnostics.sort_by_key(|message| message.span.start);
            return;
        }
    };
    let mut found = Vec::new();
    let languages = languages_of(&own, languages);
    crate::card::texts::check(dish, &own, &languages, &|character| fonts::covers(character, further), &mut found);
    if let Document::Menu(menu) = &file.document {
        // The signs of meals' names; the words for them come below.
        let names: Vec<_> = menu.meals.iter().filter_map(|meal| Some(("meal", meal.name.as_ref()?))).collect();
        let covers = |character| fonts::covers(character, further);
        crate::card::texts::check_texts(&names, &[], &own, &[], &covers, &mut found);
        for tag in &languages {
            for item in crate::translate::nameless_meals(file, &own, tag) {
                found.push(
                    Diagnostic::new(
                        Code::TextMissingTranslation,
                        item.span,
                        format!("this meal has no name in `{tag}`"),
                    )
                    .help(format!("add a line below it: `in {tag} …`; until then the card prints it as it is")),
                );
            }
        }
    }
    for tag in &languages {
        for item in crate::translate::nameless(file, &own, tag) {
            found.push(
                Diagnostic::new(Code::TextMissingTranslation, item.span, format!("this food has no name in `{tag}`"))
                    .help(format!("add a line below it: `in {tag} …`; until then the card prints it in English")),
            );
        }
    }
    picture(dish, &file.source, workspace, &mut found);
    workspace.reference.practice.rules.apply(&mut found, file.document.youngest(), &mut file.changed);
    if !found.is_empty() {
        file.diagnostics.extend(found);
        file.diagnostics.sort_by_key(|message| message.span.start);
    }
}

/// Where a picture may lie: beside the dish, or at the workspace's root.
pub fn picture_places(picture: &crate::ast::Picture, source: &Source, workspace: &Workspace) -> Vec<PathBuf> {
    let folder = Path::new(&source.name).parent().unwrap_or(Path::new(".")).join(&picture.path.value);
    let folder = std::path::absolute(&folder).unwrap_or(folder);
    let at_root = workspace.root.join(&picture.path.value);
    [folder, at_root].iter().filter_map(|path| workspace.guard(path)).collect()
}

/// A dish's picture as it goes on the card. What is wrong with one was said
/// when the file was checked.
pub fn read_picture(dish: &crate::ast::Dish, source: &Source, workspace: &Workspace) -> Option<Picture> {
    let picture = dish.header.picture.as_ref()?;
    let path = picture_places(picture, source, workspace).into_iter().find(|path| path.is_file())?;
    crate::typeset::picture::read(&path, &picture.path.value).ok()
}

/// A picture lies in the workspace, has a description and can be printed.
fn picture(dish: &crate::ast::Dish, source: &Source, workspace: &Workspace, found: &mut Vec<Diagnostic>) {
    let Some(picture) = &dish.header.picture else { return };
    let place = picture.path.span;
    let inside = picture_places(picture, source, workspace);
    let name = crate::diagnostic::quote(&picture.path.value);
    if picture.description.is_none() {
        found.push(
            Diagnostic::new(
                Code::TextPictureWithoutDescription,
                place,
                format!("the picture {name} has no description"),
            )
            .help(format!("say what it shows: `picture {}: A bowl of orange mash`", picture.path.value)),
        );
    }
    if inside.is_empty() {
        found.push(
            Diagnostic::new(Code::WorkspacePathOutside, place, format!("{name} leads out of the workspace"))
                .help("copy the picture into the workspace and name it there"),
        );
    } else if !inside.iter().any(|path| path.is_file()) {
        found.push(
            Diagnostic::new(Code::WorkspaceTableError, place, format!("there is no picture {name}"))
                .help("correct the path; it counts from the dish's folder or the workspace's root"),
        );
    } else if let Some(path) = inside.iter().find(|path| path.is_file())
        && let Err((message, help)) = crate::typeset::picture::read(path, &picture.path.value)
    {
        found.push(Diagnostic::new(Code::WorkspaceTableError, place, message).help(help));
    }
}

/// The language of an author's prose.
pub fn own_language(document: &Document, workspace: &Workspace) -> String {
    document
        .header()
        .language
        .first()
        .map(|tag| tag.value.clone())
        .or_else(|| workspace.settings.languages.first().cloned())
        .unwrap_or_else(|| "en".to_owned())
}

/// The languages a card is made in: those asked for, else that of its prose.
pub fn languages_of(own: &str, asked: &[String]) -> Vec<String> {
    if asked.is_empty() { vec![own.to_owned()] } else { asked.to_vec() }
}

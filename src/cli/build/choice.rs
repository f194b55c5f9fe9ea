//! What a call asks for: languages, paper, look, fonts.

use std::path::{Path, PathBuf};

use typst::foundations::Bytes;
use typst::text::Font;

use super::Arguments;
use crate::card::{self, Locale, locale};
use crate::cli::Failure;
use crate::diagnostic::did_you_mean;
use crate::typeset::{Template, template};
use crate::workspace::{Workspace, settings};

pub fn languages(arguments: &Arguments, workspace: &Workspace) -> Result<Vec<String>, Failure> {
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
pub fn paper(arguments: &Arguments, workspace: &Workspace, template: &Template) -> Result<String, Failure> {
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
pub fn template(arguments: &Arguments, workspace: &Workspace) -> Result<Template, Failure> {
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

/// The fonts that the settings name: files or folders of the workspace.
pub fn further_fonts(workspace: &Workspace) -> Result<Vec<Font>, Failure> {
    let mut further = Vec::new();
    for entry in &workspace.settings.fonts {
        let path = [workspace.root.join(&entry.value), workspace.recipes().join(&entry.value)]
            .into_iter()
            .find(|path| path.exists())
            .and_then(|path| workspace.guard(&path))
            .ok_or_else(|| Failure(format!("the font `{}` is not in the workspace", entry.value)))?;
        further.extend(fonts_at(&path, &entry.value)?);
    }
    Ok(further)
}

/// The fonts that a call names, wherever they lie.
pub fn named_fonts(paths: &[PathBuf]) -> Result<Vec<Font>, Failure> {
    let mut further = Vec::new();
    for path in paths {
        further.extend(fonts_at(path, &path.display().to_string())?);
    }
    Ok(further)
}

/// The fonts of a file, or of the files of a folder in the order of their names.
fn fonts_at(path: &Path, name: &str) -> Result<Vec<Font>, Failure> {
    let unread = |error: std::io::Error| Failure(format!("the font `{name}` cannot be read: {error}"));
    if !path.is_dir() {
        let bytes = std::fs::read(path).map_err(unread)?;
        let found: Vec<Font> = Font::iter(Bytes::new(bytes)).collect();
        return if found.is_empty() { Err(Failure(format!("`{name}` is no font"))) } else { Ok(found) };
    }
    let mut files = Vec::new();
    for entry in std::fs::read_dir(path).map_err(unread)? {
        let file = entry.map_err(unread)?.path();
        let ending = file.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if ending.is_some_and(|ending| matches!(ending.as_str(), "ttf" | "otf" | "ttc" | "otc")) {
            files.push(file);
        }
    }
    files.sort();
    let mut found = Vec::new();
    for file in &files {
        found.extend(fonts_at(file, &file.display().to_string())?);
    }
    if found.is_empty() {
        return Err(Failure(format!("the folder `{name}` holds no fonts (.ttf, .otf)")));
    }
    Ok(found)
}

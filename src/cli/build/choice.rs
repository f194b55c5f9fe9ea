//! What a call asks for: languages, paper, look, fonts.

use std::path::{Path, PathBuf};

use typst::foundations::Bytes;
use typst::text::Font;

use crate::card::{self, Imprint, Locale, locale};
use crate::cli::Failure;
use crate::diagnostic::did_you_mean;
use crate::typeset::{Template, template};
use crate::workspace::{Workspace, settings, shown};

pub fn languages(look: &Look, workspace: &Workspace) -> Result<Vec<String>, Failure> {
    let tags = if look.language.is_empty() { workspace.settings.languages.clone() } else { look.language.clone() };
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

/// How cards are asked for on the command line.
#[derive(Debug, clap::Args)]
pub struct Look {
    /// Languages of the cards, such as en,sw; default: the workspace's.
    #[arg(long, value_delimiter = ',', value_name = "TAGS")]
    pub language: Vec<String>,
    /// A4, A5, A6 or Letter; default: the workspace's.
    #[arg(long)]
    pub paper: Option<String>,
    /// How the cards look: card, wall, pocket, or a template's folder;
    /// default: the workspace's.
    #[arg(long, value_name = "NAME|DIR")]
    pub template: Option<String>,
    /// Further font files, or folders of them, beside the workspace's.
    #[arg(long, value_name = "FILE|DIR")]
    pub font: Vec<PathBuf>,
}

impl Look {
    /// As it was asked for, without the languages.
    pub fn words(&self) -> Vec<String> {
        let mut words = Vec::new();
        for (flag, value) in [("--paper", &self.paper), ("--template", &self.template)] {
            words.extend(value.iter().flat_map(|value| [flag.to_owned(), value.clone()]));
        }
        words.extend(self.font.iter().flat_map(|path| ["--font".to_owned(), path.display().to_string()]));
        words
    }

    /// As it was asked for.
    pub fn all_words(&self) -> Vec<String> {
        let mut words = self.words();
        if !self.language.is_empty() {
            words.extend(["--language".to_owned(), self.language.join(",")]);
        }
        words
    }
}

/// The paper asked for; a template that is not made for the workspace's paper
/// takes its own.
pub fn paper(look: &Look, workspace: &Workspace, template: &Template) -> Result<String, Failure> {
    let Some(word) = &look.paper else { return Ok(template.paper(&workspace.settings.paper)) };
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

/// What every card of a call says or looks like.
pub fn imprint(workspace: &Workspace, paper: &str, further: &[Font]) -> Imprint {
    let mut fonts: Vec<String> = further.iter().map(|font| font.info().family.to_string()).collect();
    fonts.dedup();
    Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper: paper.to_owned(),
        fonts,
    }
}

/// The template asked for: a built-in one by its name, else a folder. One that
/// the settings name lies in the workspace; one on the command line lies where
/// it is named.
pub fn template(look: &Look, workspace: &Workspace) -> Result<Template, Failure> {
    let asked = look.template.as_deref();
    find_template(asked, &workspace.settings.template.value, card::SCHEMA, "cards are", workspace)
}

/// The same for a booklet's own pages.
pub fn booklet_template(asked: Option<&str>, workspace: &Workspace) -> Result<Template, Failure> {
    let set = &workspace.settings.booklet_template.value;
    find_template(asked, set, card::booklet::SCHEMA, "a booklet is", workspace)
}

fn find_template(
    asked: Option<&str>,
    set: &str,
    data: &str,
    what: &str,
    workspace: &Workspace,
) -> Result<Template, Failure> {
    let word = asked.unwrap_or(set);
    let found = match Template::built_in(word) {
        Some(template) => template,
        None => {
            let own = |folder: PathBuf| workspace.guard(&folder).filter(|folder| folder.is_dir());
            let named = Path::new(word);
            let folder = if asked.is_some() && named.is_dir() { Some(named.to_path_buf()) } else { None };
            let folder = folder
                .or_else(|| own(workspace.root.join(word)))
                .or_else(|| own(workspace.root.join("templates").join(word)))
                .or_else(|| own(workspace.recipes().join(word)));
            let Some(folder) = folder else {
                let known: Vec<&str> = template::names(data).collect();
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
    if found.manifest.data != data {
        return Err(Failure(format!(
            "the template `{}` reads `{}`; {what} `{data}`",
            found.manifest.name, found.manifest.data
        )));
    }
    Ok(found)
}

/// Bytes of the largest font that is read; those of whole scripts have some 20 MB.
const LARGEST_FONT: u64 = 32 << 20;

/// The font files that the settings name, by themselves or by their folder.
///
/// # Errors
/// One that is not there, or not in the workspace.
pub fn font_files(workspace: &Workspace) -> Result<Vec<PathBuf>, Failure> {
    let mut files = Vec::new();
    for entry in &workspace.settings.fonts {
        let path = [workspace.root.join(&entry.value), workspace.recipes().join(&entry.value)]
            .into_iter()
            .find(|path| path.exists())
            .and_then(|path| workspace.guard(&path))
            .ok_or_else(|| Failure(format!("the font `{}` is not in the workspace", entry.value)))?;
        files.extend(files_at(&path, &entry.value)?);
    }
    Ok(files)
}

/// The font files of a call: those of the settings and those that it names,
/// wherever they lie.
///
/// # Errors
/// As `font_files`.
pub fn all_font_files(look: &Look, workspace: &Workspace) -> Result<Vec<PathBuf>, Failure> {
    let mut files = font_files(workspace)?;
    files.extend(named_files(&look.font)?);
    Ok(files)
}

fn named_files(named: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut files = Vec::new();
    for path in named {
        files.extend(files_at(path, &path.display().to_string())?);
    }
    Ok(files)
}

/// The further fonts of the settings.
///
/// # Errors
/// One that is not there, or is no font.
pub fn further_fonts(workspace: &Workspace) -> Result<Vec<Font>, Failure> {
    read(&font_files(workspace)?)
}

/// The further fonts of a call.
///
/// # Errors
/// As `further_fonts`.
pub fn fonts(look: &Look, workspace: &Workspace) -> Result<Vec<Font>, Failure> {
    read(&all_font_files(look, workspace)?)
}

/// The further fonts of the settings, and those that a call names.
///
/// # Errors
/// As `further_fonts`.
pub fn fonts_and(named: &[PathBuf], workspace: &Workspace) -> Result<Vec<Font>, Failure> {
    let mut further = further_fonts(workspace)?;
    further.extend(named_fonts(named)?);
    Ok(further)
}

/// The fonts that a call names.
///
/// # Errors
/// One that is not there, or is no font.
pub fn named_fonts(named: &[PathBuf]) -> Result<Vec<Font>, Failure> {
    read(&named_files(named)?)
}

fn read(files: &[PathBuf]) -> Result<Vec<Font>, Failure> {
    let mut further = Vec::new();
    for path in files {
        let name = shown(path);
        let unreadable = |error| Failure(format!("the font `{name}` cannot be read: {error}"));
        let size = std::fs::metadata(path).map_err(unreadable)?.len();
        if size > LARGEST_FONT {
            let (size, most) = (size >> 20, LARGEST_FONT >> 20);
            return Err(Failure(format!("the font `{name}` has {size} MB; the most is {most} MB")));
        }
        let bytes = std::fs::read(path).map_err(unreadable)?;
        let before = further.len();
        further.extend(Font::iter(Bytes::new(bytes)));
        if further.len() == before {
            return Err(Failure(format!("`{name}` is no font")));
        }
    }
    Ok(further)
}

/// A font's file, or the files of a folder of fonts.
fn files_at(path: &Path, name: &str) -> Result<Vec<PathBuf>, Failure> {
    if !path.is_dir() {
        return Ok(vec![path.to_path_buf()]);
    }
    let unread = |error: std::io::Error| Failure(format!("the folder `{name}` cannot be read: {error}"));
    let mut files = Vec::new();
    for entry in std::fs::read_dir(path).map_err(unread)? {
        let file = entry.map_err(unread)?.path();
        let ending = file.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        if ending.is_some_and(|ending| matches!(ending.as_str(), "ttf" | "otf" | "ttc" | "otc")) {
            files.push(file);
        }
    }
    files.sort();
    if files.is_empty() {
        return Err(Failure(format!("the folder `{name}` holds no fonts (.ttf, .otf)")));
    }
    Ok(files)
}

//! Which documents rest on something that changed since they were checked.

use std::path::{Path, PathBuf};

use super::choice;
use super::record::{binds, worth_saying};
use crate::check::{Checked, CheckedDish, CheckedMenu};
use crate::cli::Failure;
use crate::cli::gather;
use crate::graph::Content;
use crate::graph::stamps::{Stamps, Taken, Unit};
use crate::resolve::food::{Figures, Food};
use crate::resolve::menu::What;
use crate::typeset::Template;
use crate::workspace::shelf::{self, Asked, Index};
use crate::workspace::{Shelf, Workspace};

/// An input by its word.
pub type Told = Vec<(String, Content)>;

/// What all documents of a call rest on.
#[derive(Debug)]
pub struct Plan {
    /// The program and the fonts: they decide how a card looks.
    pub look: Told,
    /// All that a document's messages and data rest on beside its own file.
    pub told: Told,
    common: Content,
    index: Option<(Index, Content)>,
}

impl Plan {
    /// # Errors
    /// A font that is not there.
    pub fn new(
        workspace: &Workspace,
        look: &choice::Look,
        languages: &[String],
        paper: &str,
        template: &Template,
        stamps: &mut Stamps,
    ) -> Result<Self, Failure> {
        let asked = look;
        let mut look = vec![("the program".to_owned(), program(stamps))];
        for path in choice::all_font_files(asked, workspace)? {
            let content = stamps.content(&path).unwrap_or_else(|| Content::of(""));
            look.push((stamps.key(&path), content));
        }
        let mut told = look.clone();
        told.extend(workspace.read.iter().map(|(path, content)| (stamps.key(path), *content)));
        let day = workspace.reference.practice.today.map(|day| (day.year(), u8::from(day.month()), day.day()));
        told.push(("the day".to_owned(), Content::of_data(&day)));
        told.push(("the languages asked for".to_owned(), Content::of_data(languages)));
        told.push(("the paper".to_owned(), Content::of(paper)));
        told.push((word_of(template), template.content));
        let common = Content::of_data(&told);
        Ok(Self { look, told, common, index: None })
    }

    /// What is kept of a document, if nothing that it rests on changed.
    pub fn standing(&mut self, path: &Path, workspace: &Workspace, stamps: &mut Stamps) -> Option<Unit> {
        let own = stamps.content(path)?;
        let key = stamps.key(path);
        let unit = stamps.unit(&key).filter(|unit| unit.common == self.common && unit.own == own)?.clone();
        let pictures = unit.pictures.iter().all(|(key, content)| stamps.content(&stamps.path(key)) == *content);
        if !pictures {
            return None;
        }
        if unit.taken.is_empty() && unit.names.is_none() {
            return Some(unit);
        }
        let (index, names) = self.index(workspace, stamps);
        let taken = unit.taken.iter().all(|taken| *taken == take(&taken.name, index, stamps));
        (taken && unit.names.is_none_or(|kept| kept == names)).then_some(unit)
    }

    /// Names of all documents, from what is kept of their files.
    fn index(&mut self, workspace: &Workspace, stamps: &mut Stamps) -> (&Index, Content) {
        let (index, names) = self.index.get_or_insert_with(|| {
            let index = Index::new(shelf::files(&workspace.recipes()), |path| stamps.id(path));
            let key = |(name, path): (&String, &PathBuf)| (name.clone(), stamps.key(path));
            let names: [Vec<(String, String)>; 2] =
                [index.dishes.iter().map(key).collect(), index.menus.iter().map(key).collect()];
            let names = Content::of_data(&names);
            (index, names)
        });
        (index, *names)
    }

    /// Where a dish or a menu lies, by its name.
    pub fn place(&mut self, menu: bool, name: &str, workspace: &Workspace, stamps: &mut Stamps) -> Option<PathBuf> {
        let (index, _) = self.index(workspace, stamps);
        if menu { index.menus.get(name) } else { index.dishes.get(name) }.cloned()
    }

    /// A shelf for the documents that have to be checked. Where no other asked
    /// for one, none of these may either: then the shelf finds out by itself.
    pub fn shelf<'w>(&self, workspace: &'w Workspace) -> Shelf<'w> {
        match &self.index {
            Some((index, _)) => Shelf::indexed(workspace.recipes(), &workspace.reference, index.clone()),
            None => Shelf::new(workspace.recipes(), &workspace.reference),
        }
    }

    /// What is to be kept of a document that was checked: nothing where its
    /// text is not that of its file.
    pub fn unit(
        &mut self,
        path: &Path,
        file: &Checked,
        shelf: &Shelf<'_>,
        workspace: &Workspace,
        stamps: &mut Stamps,
    ) -> Option<Unit> {
        let own = stamps.content(path).filter(|own| *own == Content::of(file.source.text.as_bytes()))?;
        let Asked { dishes, names } = shelf.asked_by(path);
        let (taken, all) = if dishes.is_empty() && !names {
            (Vec::new(), None)
        } else {
            let (index, all) = self.index(workspace, stamps);
            (dishes.iter().map(|name| take(name, index, stamps)).collect(), names.then_some(all))
        };
        let picture = file.document.header().picture.as_ref();
        let pictures = picture
            .into_iter()
            .flat_map(|picture| gather::picture_places(picture, &file.source, workspace))
            .map(|place| (stamps.key(&place), stamps.content(&place)))
            .collect();
        let unit = Unit {
            common: self.common,
            own,
            taken,
            names: all,
            pictures,
            kind: file.tree.kind,
            id: file.id().map(str::to_owned),
            language: gather::own_language(&file.document, workspace),
            title: file.title().map(|title| title.span).unwrap_or_default(),
            messages: worth_saying(&file.diagnostics),
            binds: binds(file),
            standing: own,
        };
        Some(unit.stand())
    }

    /// All that a document's card says something of, by words.
    pub fn told(&self, key: &str, unit: &Unit, file: &Checked) -> Told {
        let mut told = self.told.clone();
        told.push((key.to_owned(), unit.own));
        let nothing = Content::of("");
        told.extend(unit.taken.iter().map(|taken| (taken.file.clone(), taken.content.unwrap_or(nothing))));
        told.extend(unit.pictures.iter().map(|(key, content)| (key.clone(), content.unwrap_or(nothing))));
        if let Some(dish) = &file.dish {
            rows_of_dish(dish, &mut told);
        }
        if let Some(menu) = &file.menu {
            rows_of_menu(menu, &mut told);
        }
        told
    }
}

/// The word of a template.
pub fn word_of(template: &Template) -> String {
    format!("the template `{}`", template.manifest.name)
}

fn take(name: &str, index: &Index, stamps: &mut Stamps) -> Taken {
    let path = index.dishes.get(name);
    Taken {
        name: name.to_owned(),
        file: path.map(|path| stamps.key(path)).unwrap_or_default(),
        content: path.and_then(|path| stamps.content(path)),
    }
}

fn rows_of_dish(dish: &CheckedDish, told: &mut Told) {
    for food in dish.resolved.ingredients.iter().flat_map(|line| &line.options).filter_map(|one| one.food.as_ref()) {
        row(food, told);
    }
}

fn rows_of_menu(menu: &CheckedMenu, told: &mut Told) {
    let choices = menu.resolved.meals.iter().flat_map(|meal| &meal.items).flat_map(|item| &item.options);
    for choice in choices {
        if let What::Food(food) = &choice.what {
            row(food, told);
        }
    }
}

/// The rows of the larder and of further tables that a food stands on. The
/// built-in tables are part of the program.
fn row(food: &Food, told: &mut Told) {
    if let Some(row) = &food.larder {
        told.push((format!("{LARDER_ROW}{}", row.id), Content::of_data(row.as_ref())));
    }
    if let Figures::Table(table, at) = &food.figures {
        told.push((format!("{TABLE_ROW}{}", food.row_id()), Content::of(format!("{:?}", table.rows.get(*at)))));
    }
}

/// How the words of rows begin.
pub const LARDER_ROW: &str = "larder row ";
pub const TABLE_ROW: &str = "row ";

/// The program that runs. Its file's time stands for its content, unless it
/// was set to the same for every file, as packages do.
fn program(stamps: &mut Stamps) -> Content {
    let version = env!("CARGO_PKG_VERSION");
    let Ok(path) = std::env::current_exe() else { return Content::of(version) };
    let time = std::fs::metadata(&path).ok().and_then(|meta| {
        let time = meta.modified().ok()?.duration_since(std::time::UNIX_EPOCH).ok()?;
        (time.subsec_nanos() != 0).then_some((meta.len(), time.as_secs(), time.subsec_nanos()))
    });
    match time {
        Some(time) => Content::of_data(&(version, time)),
        None => Content::of_data(&(version, stamps.content(&path))),
    }
}

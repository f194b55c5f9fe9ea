//! What is printed on each sheet: the cards of the checked files.

use std::collections::BTreeMap;

use super::outputs::file_name;
use super::plan::{Told, word_of};
use super::why::DATA;
use crate::card::menu::{MenuCard, MenuMaker};
use crate::card::{self, Card, Imprint, Locale};
use crate::check::Checked;
use crate::cli::Failure;
use crate::cli::gather;
use crate::graph::{Content, Needs};
use crate::typeset::Template;
use crate::typeset::picture::Picture;
use crate::workspace::Workspace;

/// What is printed on one sheet.
#[derive(Debug)]
pub enum Sheet {
    Card(Box<Card>),
    Menu(Box<MenuCard>),
}

impl Sheet {
    pub fn lang(&self) -> &str {
        match self {
            Self::Card(card) => &card.lang,
            Self::Menu(menu) => &menu.lang,
        }
    }

    pub fn right_to_left(&self) -> bool {
        let dir = match self {
            Self::Card(card) => card.dir,
            Self::Menu(card) => card.dir,
        };
        dir == "rtl"
    }

    pub fn paper(&self) -> &str {
        match self {
            Self::Card(card) => &card.paper,
            Self::Menu(menu) => &menu.paper,
        }
    }
}

/// One card to be made.
#[derive(Debug)]
pub struct Job {
    pub sheet: Sheet,
    pub picture: Option<Picture>,
    /// Its name in the output folder, without the form: `mash.en`.
    pub name: String,
    /// Index of the checked file.
    pub file: usize,
    pub needs: Needs,
}

/// What all cards of a call have in common.
#[derive(Debug)]
pub struct Common<'a> {
    pub workspace: &'a Workspace,
    pub languages: &'a [String],
    pub imprint: &'a Imprint,
    /// What decides a card's bytes beside its data.
    pub look: &'a Told,
    /// The look of the dishes' cards.
    pub template: &'a Template,
    /// For each checked file, what it rests on and what of that is told.
    pub rests: &'a [Rests],
}

impl Common<'_> {
    /// What decides the bytes of anything that is typeset: the program and the
    /// fonts. Data, template and pictures come to it.
    pub fn needs(&self) -> Needs {
        self.look.iter().fold(Needs::default(), |needs, (word, content)| needs.with(word.clone(), *content))
    }
}

/// What a document rests on.
#[derive(Debug, Clone, Default)]
pub struct Rests {
    /// Unknown where its file changed while it was read.
    pub standing: Option<Content>,
    pub told: Told,
}

/// The cards of every sound file, in each language.
///
/// # Errors
/// A language without words.
pub fn jobs(common: &Common<'_>, checked: &[Checked], sound: &dyn Fn(&Checked) -> bool) -> Result<Vec<Job>, Failure> {
    let &Common { workspace, languages, imprint, .. } = common;
    let mut locales: BTreeMap<String, Locale> = BTreeMap::new();
    let mut jobs = Vec::new();
    for (at, file) in checked.iter().enumerate() {
        let Some(own_id) = file.id().filter(|_| sound(file)) else { continue };
        let mut shared = common.needs();
        if let Some(rests) = common.rests.get(at) {
            shared = shared.all_told(rests.told.iter().cloned());
            shared = rests.standing.into_iter().fold(shared, Needs::under);
        }
        let own = gather::own_language(&file.document, workspace);
        let picture =
            file.dish.as_ref().and_then(|dish| gather::read_picture(&dish.resolved.ast, &file.source, workspace));
        for tag in gather::languages_of(&own, languages) {
            if !locales.contains_key(&tag) {
                let Some(locale) = Locale::with_digits(&tag, workspace.settings.digits) else {
                    return Err(Failure(super::choice::unknown_language(&tag)));
                };
                locales.insert(tag.clone(), locale);
            }
            let Some(locale) = locales.get(&tag) else { continue };
            let (reference, own_language) = (&workspace.reference, own.as_str());
            let mut needs = shared.clone();
            let sheet = match (&file.dish, &file.menu) {
                (Some(dish), _) => {
                    let maker = card::Maker { dish, reference, locale, own_language, imprint, changed: &file.changed };
                    let card = card_of(&maker, picture.as_ref());
                    let look = word_of(common.template);
                    needs = needs.with(DATA, Content::of_data(&card)).with(look, common.template.content);
                    Sheet::Card(Box::new(card))
                }
                (None, Some(menu)) => {
                    let maker = MenuMaker { menu, reference, locale, own_language, imprint, changed: &file.changed };
                    let card = card::menu::make(&maker);
                    needs = needs.with(DATA, Content::of_data(&card));
                    Sheet::Menu(Box::new(card))
                }
                (None, None) => continue,
            };
            if let Some(picture) = &picture {
                needs = needs.with("the picture", Content::of(&picture.bytes));
            }
            let name = format!("{}.{}", file_name(own_id), locale.tag());
            jobs.push(Job { sheet, picture: picture.clone(), name, file: at, needs });
        }
    }
    Ok(jobs)
}

/// Documents whose cards would be written one over the other, from the names
/// of their files and their own. File systems may fold case.
///
/// # Errors
/// In words.
pub fn each_its_own<'a>(documents: impl Iterator<Item = (&'a str, &'a str)>) -> Result<(), Failure> {
    let mut names: BTreeMap<String, (&str, &str)> = BTreeMap::new();
    for (file, own) in documents {
        if let Some((other, id)) = names.insert(file_name(own).to_lowercase(), (file, own)) {
            return Err(Failure(if id == own {
                format!("`{file}` and `{other}` are both called `{id}`; give one another `id`")
            } else {
                format!(
                    "the cards of `{file}` (`{own}`) and `{other}` (`{id}`) would have one file name; give one another `id`"
                )
            }));
        }
    }
    Ok(())
}

/// The card of a dish, with its picture.
pub fn card_of(maker: &card::Maker<'_>, picture: Option<&Picture>) -> Card {
    let mut card = card::make(maker);
    let described = maker.dish.resolved.ast.header.picture.as_ref().and_then(|own| own.description.as_ref());
    card.picture = picture
        .zip(described)
        .map(|(picture, description)| card::Picture { path: picture.path.clone(), alt: maker.text(description) });
    card
}

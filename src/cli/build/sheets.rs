//! What is printed on each sheet: the cards of the checked files.

use std::collections::BTreeMap;

use super::outputs::file_name;
use crate::card::menu::{MenuCard, MenuMaker};
use crate::card::{self, Card, Imprint, Locale};
use crate::check::Checked;
use crate::cli::Failure;
use crate::cli::gather;
use crate::graph::{Content, Needs};
use crate::typeset::picture::Picture;
use crate::workspace::Workspace;

/// What is printed on one sheet.
#[derive(Debug)]
pub enum Sheet {
    Card(Box<Card>),
    Menu(Box<MenuCard>),
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
    pub needs: Needs,
}

/// The cards of every sound file, in each language.
///
/// # Errors
/// Two documents of one name; a language without words.
pub fn jobs(common: &Common<'_>, checked: &[Checked], sound: &dyn Fn(&Checked) -> bool) -> Result<Vec<Job>, Failure> {
    let &Common { workspace, languages, imprint, .. } = common;
    let mut locales: BTreeMap<String, Locale> = BTreeMap::new();
    let mut jobs = Vec::new();
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
            let mut needs = common.needs.clone();
            let sheet = match (&file.dish, &file.menu) {
                (Some(dish), _) => {
                    let maker = card::Maker { dish, reference, locale, own_language, imprint, changed: &file.changed };
                    let mut card = card::make(&maker);
                    let described = dish.resolved.ast.header.picture.as_ref().and_then(|own| own.description.as_ref());
                    card.picture = picture.as_ref().zip(described).map(|(picture, description)| card::Picture {
                        path: picture.path.clone(),
                        alt: maker.text(description),
                    });
                    needs = needs.with("data", Content::of_data(&card));
                    Sheet::Card(Box::new(card))
                }
                (None, Some(menu)) => {
                    let maker = MenuMaker { menu, reference, locale, own_language, imprint, changed: &file.changed };
                    let card = card::menu::make(&maker);
                    needs = needs.with("data", Content::of_data(&card));
                    Sheet::Menu(Box::new(card))
                }
                (None, None) => continue,
            };
            if let Some(picture) = &picture {
                needs = needs.with("picture", Content::of(&picture.bytes));
            }
            let name = format!("{}.{}", file_name(own_id), locale.tag());
            jobs.push(Job { sheet, picture: picture.clone(), name, file: at, needs });
        }
    }
    Ok(jobs)
}

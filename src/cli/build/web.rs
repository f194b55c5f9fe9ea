//! Pages for a browser, and dishes as linked data.

use std::collections::BTreeMap;

use super::outputs::{Outputs, file_name};
use super::sheets::{Common, Job, Sheet};
use crate::ast::Document;
use crate::card::Locale;
use crate::check::Checked;
use crate::cli::{Failure, gather};
use crate::diagnostic::Severity;
use crate::graph::{Content, Needs};
use crate::syntax::Kind;
use crate::typeset::Engine;
use crate::web::{self, Book, Face, Leaf, linked};

/// The folder of the pages, below the output folder: it can be copied to a
/// phone or a server as it is.
const FOLDER: &str = "web";

/// Writes one page for each card, and the pages that lead to them.
///
/// # Errors
/// The drawings cannot be made.
pub fn write(common: &Common<'_>, jobs: &[Job], checked: &[Checked], outputs: &mut Outputs) -> Result<(), Failure> {
    let leaves: Vec<Leaf<'_>> = jobs
        .iter()
        .filter_map(|job| {
            let file = checked.get(job.file)?;
            let face = match &job.sheet {
                Sheet::Card(card) => Face::Dish(card),
                Sheet::Menu(card) => Face::Menu(card),
            };
            Some(Leaf { file, face, picture: job.picture.as_ref(), slug: file_name(file.id()?) })
        })
        .collect();
    let mut locales: BTreeMap<String, Locale> = BTreeMap::new();
    for leaf in &leaves {
        let tag = leaf.face.lang();
        if let (false, Some(locale)) =
            (locales.contains_key(tag), Locale::with_digits(tag, common.workspace.settings.digits))
        {
            locales.insert(tag.to_owned(), locale);
        }
    }
    let sound = |file: &&Checked| {
        file.tree.kind == Kind::Booklet && !file.diagnostics.iter().any(|message| message.severity == Severity::Error)
    };
    let own_language = |document: &Document| gather::own_language(document, common.workspace);
    let book = Book {
        leaves,
        booklets: checked.iter().filter(sound).collect(),
        reference: &common.workspace.reference,
        locales: &locales,
        languages: common.languages.to_vec(),
        own_language: &own_language,
        programme: common.workspace.settings.programme.clone(),
        footer: common.workspace.settings.footer.clone(),
    };
    let failure = |fault: crate::typeset::Fault| Failure(fault.to_string());
    let engine = Engine::new(1, Vec::new()).map_err(failure)?;
    for (name, text) in web::pages(&book, &engine).map_err(failure)? {
        let target = format!("{FOLDER}/{name}");
        let needs = Needs::of("data", Content::of(&text));
        if outputs.wants(&target, &needs) {
            outputs.put(&target, &needs, &[(target.clone(), text.as_bytes())]);
        }
    }
    Ok(())
}

/// Writes each dish as linked data, one file a language.
pub fn write_linked(jobs: &[Job], checked: &[Checked], outputs: &mut Outputs) {
    for job in jobs {
        let dish = checked.get(job.file).and_then(|file| file.dish.as_ref());
        let (Sheet::Card(card), Some(dish)) = (&job.sheet, dish) else { continue };
        let mut text = serde_json::to_string_pretty(&linked::recipe(card, dish)).unwrap_or_default();
        text.push('\n');
        let target = format!("{}.jsonld", job.name);
        let needs = Needs::of("data", Content::of(&text));
        if outputs.wants(&target, &needs) {
            outputs.put(&target, &needs, &[(target.clone(), text.as_bytes())]);
        }
    }
}

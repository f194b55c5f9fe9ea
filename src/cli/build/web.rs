//! Pages for a browser, and dishes as linked data.

use std::collections::{BTreeMap, BTreeSet};

use super::outputs::{Outputs, file_name};
use super::sheets::{Common, Job, Sheet};
use crate::ast::Document;
use crate::card::Locale;
use crate::check::Checked;
use crate::cli::{Failure, complain, gather};
use crate::diagnostic::Severity;
use crate::graph::{Content, Needs};
use crate::syntax::Kind;
use crate::typeset::Engine;
use crate::web::{self, Book, Face, Leaf, linked};
use crate::workspace::shelf;

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
    let mut now: BTreeSet<String> = BTreeSet::new();
    for (name, text) in web::pages(&book, &engine).map_err(failure)? {
        let target = format!("{FOLDER}/{name}");
        now.insert(target.clone());
        let needs = Needs::of("data", Content::of(&text));
        if outputs.wants(&target, &needs) {
            outputs.put(&target, &needs, &[(target.clone(), text.as_bytes())]);
        }
    }
    sweep(common, checked, &now, outputs);
    Ok(())
}

/// Removes the pages of documents whose file is gone: nothing leads to them
/// any more, and a browser would still find them. The page of a document that
/// has errors, or that was not asked for this time, stays as its card does.
fn sweep(common: &Common<'_>, checked: &[Checked], now: &BTreeSet<String>, outputs: &mut Outputs) {
    let mut there: BTreeSet<String> = outputs.stamps.ids().map(file_name).collect();
    there.extend(checked.iter().filter_map(Checked::id).map(file_name));
    for path in shelf::files(&common.workspace.recipes()) {
        there.extend(path.file_stem().map(|stem| file_name(&stem.to_string_lossy())));
        there.extend(outputs.stamps.id(&path).map(|id| file_name(&id)));
    }
    let removed = outputs.sweep(|target| {
        // A document's page is named by its id and its language.
        let page =
            target.strip_prefix(FOLDER).and_then(|name| name.strip_prefix('/')).filter(|_| !now.contains(target));
        let id = page.and_then(|name| name.strip_suffix(".html")).and_then(|name| name.rsplit_once('.'));
        id.is_some_and(|(id, _)| !there.contains(id))
    });
    match removed {
        0 => {}
        1 => complain("1 web page removed: its document is no longer there"),
        more => complain(&format!("{more} web pages removed: their documents are no longer there")),
    }
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

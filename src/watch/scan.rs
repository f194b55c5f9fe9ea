//! One look at the files: settings, tables, recipes, and the data of every
//! card, as `build` makes them. Nothing is typeset here.

use std::sync::Arc;

use super::board::{Card, Document, Found, Inputs, Look, Version};
use super::message::Message;
use crate::card::Imprint;
use crate::check::Checked;
use crate::cli::build::choice;
use crate::cli::build::sheets::{Common, Job, Sheet, each_its_own, jobs};
use crate::cli::{Failure, Input, gather};
use crate::diagnostic::render::{Count, visible};
use crate::diagnostic::{Diagnostic, Severity};
use crate::graph::Content;
use crate::source::{Source, Span};
use crate::workspace::Workspace;

/// What the preview is of, and how its cards look.
#[derive(Debug, clap::Args)]
pub struct Call {
    #[command(flatten)]
    pub input: Input,
    #[command(flatten)]
    pub look: choice::Look,
}

/// Looks at all files of a call. `look` is how cards were set so far; it stays
/// the same object while template and fonts do.
pub fn scan(call: &Call, look: &mut Option<Arc<Look>>) -> Found {
    let mut found = Found::default();
    let (documents, trouble) = match all(call, look, &mut found) {
        Ok(documents) => documents,
        Err(Failure(trouble)) => (None, Some(trouble)),
    };
    found.documents = documents;
    found.trouble = trouble.map(|trouble| visible(&trouble));
    found
}

/// The documents, where they can be looked at, and why there are no cards.
type Looked = (Option<Vec<Document>>, Option<String>);

fn all(call: &Call, look: &mut Option<Arc<Look>>, found: &mut Found) -> Result<Looked, Failure> {
    let mut workspace = gather::workspace(&call.input)?;
    let paths = gather::files(&call.input, &workspace)?;
    // No card rests on them, but a slip in them is told here as in `check`.
    let _ = workspace.prices();
    for fault in &workspace.faults {
        found.general.extend(messages(&fault.diagnostics, &fault.source));
    }
    let faulty = |diagnostics: &[Diagnostic]| diagnostics.iter().any(|message| message.severity == Severity::Error);
    if workspace.faults.iter().any(|fault| faulty(&fault.diagnostics)) {
        return Ok((None, Some("no card is made with these settings".to_owned())));
    }
    found.inputs = Some(inputs(&workspace));
    let languages = choice::languages(&call.look, &workspace)?;
    let template = choice::template(&call.look, &workspace)?;
    let paper = choice::paper(&call.look, &workspace, &template)?;
    let fonts = choice::fonts(&call.look, &workspace)?;
    let checked = gather::with_texts(&paths, &workspace, &languages, &fonts);
    let mut families: Vec<String> = fonts.iter().map(|font| font.info().family.to_string()).collect();
    families.dedup();
    let imprint = Imprint {
        programme: workspace.settings.programme.clone(),
        footer: workspace.settings.footer.clone(),
        paper,
        fonts: families,
    };
    found.programme = workspace.settings.programme.as_deref().map(visible);
    let of_fonts: Vec<Content> = fonts.iter().map(|font| Content::of(font.data().as_slice())).collect();
    let of_fonts = Content::of_data(&of_fonts);
    let content = name_of(Content::of_data(&(&of_fonts, template.content)));
    let look = match look {
        Some(look) if look.content == content => Arc::clone(look),
        _ => Arc::clone(look.insert(Arc::new(Look { template, fonts, content }))),
    };
    let sound = |file: &Checked| !file.has_errors();
    let named = checked.iter().filter(|file| sound(file));
    let named = named.filter_map(|file| Some((file.source.name.as_str(), file.id()?)));
    let common = Common {
        workspace: &workspace,
        languages: &languages,
        imprint: &imprint,
        // The fonts come below; the program stays the same.
        look: &Vec::new(),
        template: &look.template,
        rests: &[],
    };
    let made = each_its_own(named).and_then(|()| jobs(&common, &checked, &sound));
    let (jobs, trouble) = match made {
        Ok(jobs) => (Some(jobs), None),
        // Two documents of one name: each says what is wrong with itself, and
        // none has a new card.
        Err(Failure(trouble)) => (None, Some(trouble)),
    };
    let unmade = jobs.is_none();
    let mut documents: Vec<Document> = checked.iter().map(|file| document(file, &workspace, unmade)).collect();
    for job in jobs.into_iter().flatten() {
        if let Some(document) = documents.get_mut(job.file) {
            document.cards.push(card(job, &look, of_fonts));
        }
    }
    Ok((Some(documents), trouble))
}

/// What the settings name lies in the workspace, but version control may be
/// told to ignore it.
fn inputs(workspace: &Workspace) -> Inputs {
    let settings = &workspace.settings;
    let single = settings.profile.iter().chain(&settings.prices);
    let lists = settings.tables.iter().chain(&settings.larder).chain(&settings.fonts);
    let places = [workspace.root.clone(), workspace.recipes()];
    let files = single
        .chain(lists)
        .flat_map(|entry| places.iter().filter_map(|place| workspace.guard(&place.join(&entry.value))))
        .filter(|path| path.is_file())
        .collect();
    Inputs { out: workspace.root.join(&settings.out.value), files }
}

fn document(file: &Checked, workspace: &Workspace, unmade: bool) -> Document {
    let mut count = Count::default();
    count.add(&file.diagnostics);
    let header = file.document.header();
    let own = header.title.as_ref().map(|title| title.value.clone());
    let lang = gather::own_language(&file.document, workspace);
    Document {
        file: file.source.name.clone(),
        kind: file.tree.kind.word(),
        title: visible(own.as_deref().unwrap_or(&file.source.name)),
        lang,
        title_span: file.title().map_or(Span::default(), |title| title.span),
        messages: messages(&file.diagnostics, &file.source),
        source: file.source.clone(),
        count,
        broken: unmade || file.has_errors(),
        cards: Vec::new(),
    }
}

fn card(job: Job, look: &Arc<Look>, of_fonts: Content) -> Card {
    let (tag, direction) = match &job.sheet {
        Sheet::Card(card) => (card.lang.clone(), card.dir),
        Sheet::Menu(menu) => (menu.lang.clone(), menu.dir),
    };
    let name = job.name.clone();
    // The data, the template and the picture decide; the fonts are told here.
    let key = name_of(Content::of_data(&(job.needs.decided(), of_fonts, &name)));
    Card::new(name, tag, direction, Version { key, job: Arc::new(job), look: Arc::clone(look) })
}

/// Content as a word that can stand in an address.
fn name_of(content: Content) -> String {
    let text = serde_json::to_vec(&content).unwrap_or_default();
    blake3::hash(&text).to_hex().chars().take(32).collect()
}

/// Notes are for the card.
fn messages(diagnostics: &[Diagnostic], source: &Source) -> Vec<Message> {
    diagnostics
        .iter()
        .filter(|message| message.severity > Severity::Note)
        .map(|message| Message::new(message, source))
        .collect()
}

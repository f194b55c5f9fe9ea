//! From a card's data to pages: one shared engine, templates and fonts as
//! bytes, nothing from the network or the file system.

pub mod fonts;

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::Mutex;
use std::sync::PoisonError;

use serde::Serialize;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Smart};
use typst::syntax::{FileId, Source};
use typst::text::Font;
use typst_as_lib::conversions::{IntoFileId, IntoSource};
use typst_as_lib::file_resolver::FileResolver;
use typst_as_lib::{TypstAsLibError, TypstEngine, TypstTemplateCollection};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::card::Card;
use crate::card::menu::MenuCard;

/// Sides of one sheet: what a card has to fit on.
pub const SIDES: usize = 2;
/// Steps of spacing, from generous to tight; the middle one is tried first.
pub const FITS: [u8; 4] = [0, 1, 2, 3];
/// Cards between two clearings of the typesetter's memory, and how many
/// clearings an entry outlives. Measured: a quarter of the memory of every
/// ten and ten, for a twentieth more time.
const CLEAR_EVERY: usize = 5;
const CLEAR_AGE: usize = 1;

/// Every file of every template, by its path below `templates/`.
const FILES: [(&str, &str); 4] = [
    ("card/card.typ", include_str!("../templates/card/card.typ")),
    ("card/drawings.typ", include_str!("../templates/card/drawings.typ")),
    ("menu/menu.typ", include_str!("../templates/menu/menu.typ")),
    ("demonstration/demonstration.typ", include_str!("../templates/demonstration/demonstration.typ")),
];

/// What can be set. A template reads `data.json` beside itself and may import
/// any other file below `templates/`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Template {
    Card,
    Menu,
    /// A dish scaled for a group.
    Demonstration,
}

impl Template {
    const ALL: [Self; 3] = [Self::Card, Self::Menu, Self::Demonstration];

    /// The file that is compiled, below `templates/`.
    fn main(self) -> &'static str {
        match self {
            Self::Card => "card/card.typ",
            Self::Menu => "menu/menu.typ",
            Self::Demonstration => "demonstration/demonstration.typ",
        }
    }

    /// Where it finds its data.
    fn data(self) -> String {
        let folder = self.main().rsplit_once('/').map_or("", |(folder, _)| folder);
        format!("{folder}/data.json")
    }
}

/// Why a card could not be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// The template and the data do not agree, or a file is not there.
    Template(String),
    /// The pages exist but the PDF standard refuses them.
    Export(String),
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Template(message) => write!(f, "the template cannot be set: {message}"),
            Self::Export(message) => write!(f, "the pages cannot be written as PDF/UA: {message}"),
        }
    }
}

/// A card's pages as PDF.
#[derive(Debug, Clone, Default)]
pub struct Pages {
    pub pdf: Vec<u8>,
    pub count: usize,
    /// For a card that takes more than one sheet: what alone, left out, would
    /// make it fit.
    pub reliefs: Vec<Relief>,
}

/// Text of a card that its author can shorten.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relief {
    Remarks,
    Prose,
    Alternatives,
    Claims,
}

impl Relief {
    const ALL: [Self; 4] = [Self::Remarks, Self::Alternatives, Self::Claims, Self::Prose];

    /// In the author's terms.
    pub fn words(self) -> &'static str {
        match self {
            Self::Remarks => "the serve, store, tip and caution lines",
            Self::Prose => "the prose of the steps",
            Self::Alternatives => "the foods after `or` and `swap`",
            Self::Claims => "the claims",
        }
    }

    fn without(self, card: &Card) -> Card {
        let mut card = card.clone();
        match self {
            Self::Remarks => card.remarks.clear(),
            Self::Prose => card.method.steps.iter_mut().for_each(|step| step.prose = None),
            Self::Alternatives => card
                .ingredients
                .sections
                .iter_mut()
                .flat_map(|section| &mut section.items)
                .for_each(|item| item.alternatives.clear()),
            Self::Claims => {
                card.back.claims.items.clear();
                card.back.claims.note.clear();
            }
        }
        card
    }
}

/// One compilation at a time has its own virtual folder, laid out as
/// `templates/` is, so that threads share the engine and a template names its
/// data plainly, as `data.json`.
type Slot = HashMap<Template, Place>;

/// Where a template of one slot stands.
#[derive(Debug)]
struct Place {
    main: FileId,
    data: FileId,
}

/// The typesetter. Build one and share it.
pub struct Engine {
    engine: TypstEngine<TypstTemplateCollection>,
    slots: Vec<Slot>,
    shared: std::sync::Arc<Shared>,
    options: PdfStandards,
}

#[derive(Debug, Default)]
struct Shared {
    sources: HashMap<FileId, Source>,
    data: HashMap<FileId, Mutex<Bytes>>,
}

/// Gives templates their sources and the data of their slot, nothing else.
struct Folder(std::sync::Arc<Shared>);

impl FileResolver for Folder {
    fn resolve_binary(&self, id: FileId) -> FileResult<Cow<'_, Bytes>> {
        self.0
            .data
            .get(&id)
            .map(|bytes| Cow::Owned(bytes.lock().unwrap_or_else(PoisonError::into_inner).clone()))
            .ok_or_else(|| FileError::NotFound(id.vpath().get_without_slash().into()))
    }

    fn resolve_source(&self, id: FileId) -> FileResult<Cow<'_, Source>> {
        self.0
            .sources
            .get(&id)
            .map(Cow::Borrowed)
            .ok_or_else(|| FileError::NotFound(id.vpath().get_without_slash().into()))
    }
}

impl Engine {
    /// An engine for so many threads, with further fonts beside the bundled
    /// ones.
    ///
    /// # Errors
    /// The PDF standard is not to be had, which a test rules out.
    pub fn new(threads: usize, fonts: Vec<Font>) -> Result<Self, Fault> {
        let mut shared = Shared::default();
        let mut slots = Vec::new();
        for slot in 0..threads.max(1) {
            for (path, text) in FILES {
                let source = (format!("/slot-{slot}/{path}").as_str(), text).into_source();
                shared.sources.insert(source.id(), source);
            }
            let place = |template: Template| Place {
                main: format!("/slot-{slot}/{}", template.main()).as_str().into_file_id(),
                data: format!("/slot-{slot}/{}", template.data()).as_str().into_file_id(),
            };
            let places: Slot = Template::ALL.into_iter().map(|template| (template, place(template))).collect();
            for place in places.values() {
                shared.data.insert(place.data, Mutex::new(Bytes::new(Vec::<u8>::new())));
            }
            slots.push(places);
        }
        let shared = std::sync::Arc::new(shared);
        let mut all = fonts::bundled();
        all.extend(fonts);
        let engine = TypstEngine::builder()
            .fonts(all)
            .add_file_resolver(Folder(std::sync::Arc::clone(&shared)))
            // Clearing is ours: typst's own memory, every few cards.
            .comemo_evict_max_age(None)
            .build();
        let options =
            PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|error| Fault::Export(error.message().to_string()))?;
        Ok(Self { engine, slots, shared, options })
    }

    pub fn threads(&self) -> usize {
        self.slots.len()
    }

    /// Sets a card on the thread of a slot, with as much air as fits on one
    /// sheet. A card that does not fit even when tight is returned with the
    /// pages it takes.
    ///
    /// # Errors
    /// [`Fault`]
    pub fn card(&self, slot: usize, card: &Card) -> Result<Pages, Fault> {
        // No sheet holds so much; setting it would take minutes to say so.
        const MOST_TEXT: usize = 20_000;
        let text: usize =
            card.method.steps.iter().filter_map(|step| step.prose.as_ref()).map(String::len).sum::<usize>()
                + card.remarks.iter().map(|remark| remark.text.len()).sum::<usize>()
                + card.title.len();
        let pieces = card.method.steps.len()
            + card.remarks.len()
            + card.ingredients.sections.iter().map(|s| s.items.len()).sum::<usize>();
        if text > MOST_TEXT || pieces > 400 {
            return Ok(Pages { pdf: Vec::new(), count: SIDES + text / 2_000 + pieces / 20, reliefs: Vec::new() });
        }
        let mut card = card.clone();
        let mut set = |fit: u8| -> Result<(PagedDocument, bool), Fault> {
            card.fit = fit;
            let document = self.lay_out(slot, &card)?;
            let fits = document.pages().len() <= SIDES;
            Ok((document, fits))
        };
        // Each try costs a layout: most cards are neither short nor long.
        let (mut document, fits) = set(1)?;
        if fits {
            let (airy, fits) = set(0)?;
            if fits {
                document = airy;
            }
        } else {
            for fit in [2, 3] {
                let (tighter, fits) = set(fit)?;
                document = tighter;
                if fits {
                    break;
                }
            }
        }
        let mut pages = self.export(&document, &format!("{}.{}", card.id, card.lang))?;
        if pages.count > SIDES {
            for relief in Relief::ALL {
                let shorter = self.lay_out(slot, &relief.without(&card))?;
                if shorter.pages().len() <= SIDES {
                    pages.reliefs.push(relief);
                }
            }
        }
        Ok(pages)
    }

    /// Sets a day's menu like a card: with as much air as fits on one sheet.
    ///
    /// # Errors
    /// [`Fault`]
    pub fn menu(&self, slot: usize, menu: &MenuCard) -> Result<Pages, Fault> {
        // No sheet holds so much; setting it would take minutes to say so.
        const MOST_LINES: usize = 60;
        let lines = menu.eat.meals.iter().map(|meal| 1 + meal.items.len()).sum::<usize>() + menu.remarks.len();
        let text: usize = menu.remarks.iter().map(|remark| remark.text.len()).sum::<usize>() + menu.title.len();
        if lines > MOST_LINES || text > 6_000 {
            return Ok(Pages { pdf: Vec::new(), count: SIDES + lines / 20 + text / 2_000, reliefs: Vec::new() });
        }
        let mut menu = menu.clone();
        let mut document = None;
        for fit in FITS {
            menu.fit = fit;
            let set = self.document(slot, Template::Menu, &menu)?;
            let fits = set.pages().len() <= SIDES;
            document = Some(set);
            if fits {
                break;
            }
        }
        let Some(document) = document else { return Ok(Pages::default()) };
        self.export(&document, &format!("{}.{}", menu.id, menu.lang))
    }

    /// Compiles a card as it is.
    ///
    /// # Errors
    /// [`Fault::Template`]
    pub fn lay_out(&self, slot: usize, card: &Card) -> Result<PagedDocument, Fault> {
        self.document(slot, Template::Card, card)
    }

    /// Compiles a template with its data on the thread of a slot.
    ///
    /// # Errors
    /// [`Fault::Template`]
    pub fn document(&self, slot: usize, template: Template, data: &impl Serialize) -> Result<PagedDocument, Fault> {
        let Some(place) = self.slots.get(slot).and_then(|places| places.get(&template)) else {
            return Err(Fault::Template("no such thread".to_owned()));
        };
        let json = serde_json::to_vec(data).map_err(|error| Fault::Template(error.to_string()))?;
        if let Some(data) = self.shared.data.get(&place.data) {
            *data.lock().unwrap_or_else(PoisonError::into_inner) = Bytes::new(json);
        }
        self.engine.compile(place.main).output.map_err(|error| Fault::Template(reason(&error)))
    }

    /// Writes pages as PDF/UA-1. Without a date, so that the same pages are
    /// the same bytes on any day.
    ///
    /// # Errors
    /// [`Fault::Export`]
    pub fn export(&self, document: &PagedDocument, identity: &str) -> Result<Pages, Fault> {
        let options = PdfOptions {
            ident: Smart::Custom(identity.to_owned()),
            creator: Smart::Custom(Some(concat!("Porringer ", env!("CARGO_PKG_VERSION")).to_owned())),
            standards: self.options.clone(),
            ..PdfOptions::default()
        };
        let pdf = typst_pdf::pdf(document, &options).map_err(|errors| Fault::Export(messages(&errors)))?;
        Ok(Pages { pdf, count: document.pages().len(), reliefs: Vec::new() })
    }

    /// Sets many cards on dedicated threads and hands each result over as it
    /// comes. Never inside a pool's task: the typesetter uses one itself, and
    /// a waiting task would take the next card onto its own stack.
    pub fn each<T, F, G>(&self, jobs: &[T], work: F, mut done: G)
    where
        T: Sync,
        F: Fn(usize, &T) -> Result<Pages, Fault> + Sync,
        G: FnMut(usize, Result<Pages, Fault>),
    {
        const STACK: usize = 16 << 20;
        let next = std::sync::atomic::AtomicUsize::new(0);
        let (send, receive) = std::sync::mpsc::sync_channel(self.threads() * 2);
        std::thread::scope(|scope| {
            for slot in 0..self.threads().min(jobs.len().max(1)) {
                let send = send.clone();
                let (next, work) = (&next, &work);
                let spawned = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, move || {
                    loop {
                        let at = next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
                        let Some(job) = jobs.get(at) else { break };
                        let result = work(slot, job);
                        if at % CLEAR_EVERY == CLEAR_EVERY - 1 || result.is_err() {
                            typst::comemo::evict(CLEAR_AGE);
                        }
                        if send.send((at, result)).is_err() {
                            break;
                        }
                    }
                });
                if let (Err(error), 0) = (spawned, slot) {
                    // No thread at all: say so for every card.
                    for at in 0..jobs.len() {
                        done(at, Err(Fault::Template(format!("no thread could be started: {error}"))));
                    }
                    return;
                }
            }
            drop(send);
            for (at, result) in receive {
                done(at, result);
            }
        });
    }
}

fn reason(error: &TypstAsLibError) -> String {
    match error {
        TypstAsLibError::TypstSource(list) => messages(list),
        TypstAsLibError::TypstFile(error) => error.to_string(),
        TypstAsLibError::HintedString(hinted) => hinted.message().to_string(),
        TypstAsLibError::MainSourceFileDoesNotExist(_) => "the template is not there".to_owned(),
        TypstAsLibError::Unspecified(message) => message.to_string(),
    }
}

fn messages(list: &[SourceDiagnostic]) -> String {
    let mut all: Vec<String> = list.iter().map(|one| one.message.to_string()).collect();
    all.dedup();
    all.truncate(5);
    all.join("; ")
}

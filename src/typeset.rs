//! From a card's data to pages: a template, fonts as bytes, nothing from the
//! network or the file system.

pub mod binding;
pub mod fonts;
pub mod guard;
pub mod impose;
pub mod picture;
pub mod spacing;
mod svg;
pub mod template;
mod volume;
mod world;

use serde::Serialize;
use typst::WorldExt;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Bytes, Smart};
use typst::text::Font;
use typst::{World, layout::Abs};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::card::Card;
use crate::card::menu::MenuCard;
use crate::source::Source as Lines;
use guard::Guard;
use picture::Picture;
pub use template::Template;
use typst_as_lib::TypstEngine;
use world::Sight;

/// Sides of one sheet: what a card has to fit on.
pub const SIDES: usize = 2;
/// Cards between two clearings of the typesetter's memory, and how many
/// clearings an entry outlives. Measured: a quarter of the memory of every
/// ten and ten, for a twentieth more time.
const CLEAR_EVERY: usize = 5;
const CLEAR_AGE: usize = 1;

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

/// What a card became.
#[derive(Debug, Clone, Default)]
pub struct Pages {
    /// Empty where no PDF was asked for.
    pub pdf: Vec<u8>,
    /// One picture a page, where asked for.
    pub svg: Vec<String>,
    pub png: Vec<Vec<u8>>,
    pub count: usize,
    /// For a card that takes more than one sheet: what alone, left out, would
    /// make it fit.
    pub reliefs: Vec<Relief>,
}

impl Pages {
    /// Adds a document in the forms asked for.
    fn fill(&mut self, engine: &Engine, document: &PagedDocument, forms: Forms, identity: &str) -> Result<(), Fault> {
        if forms.pdf {
            self.pdf = engine.export(document, identity)?;
        }
        if forms.svg {
            let options = typst_svg::SvgOptions::default();
            self.svg = document.pages().iter().map(|page| typst_svg::svg(page, &options)).collect();
        }
        if forms.png {
            self.png = document.pages().iter().map(png).collect::<Result<_, _>>()?;
        }
        Ok(())
    }
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
    /// In the order in which they are tried.
    pub const ALL: [Self; 4] = [Self::Remarks, Self::Alternatives, Self::Claims, Self::Prose];

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

/// A card at the spacing found for it.
#[derive(Debug)]
pub struct Settled {
    pub document: PagedDocument,
    /// Spacing of the front.
    pub fit: u8,
    /// Spacing of the back.
    pub fit_back: u8,
    /// Layouts it took to find out.
    pub layouts: usize,
}

/// In which forms a card is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Forms {
    pub pdf: bool,
    pub svg: bool,
    pub png: bool,
}

impl Forms {
    pub const PDF: Self = Self { pdf: true, svg: false, png: false };
}

/// Width of a page as PNG, in pixels: that of a common phone held upright.
pub const PNG_WIDTH: f64 = 1080.0;

/// The typesetter. Build one and share it between threads and templates.
pub struct Engine {
    /// Library and fonts, shared by all compilations.
    engine: TypstEngine,
    options: PdfStandards,
    threads: usize,
    guard: Option<Guard>,
}

impl Engine {
    /// An engine for so many threads, with further fonts beside the bundled
    /// ones.
    ///
    /// # Errors
    /// The PDF standard is not to be had, which a test rules out.
    pub fn new(threads: usize, fonts: Vec<Font>) -> Result<Self, Fault> {
        let mut all = fonts::bundled();
        all.extend(fonts);
        let options =
            PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|error| Fault::Export(error.message().to_string()))?;
        let engine = TypstEngine::builder()
            .fonts(all)
            // Clearing is ours: typst's own memory, every few cards.
            .comemo_evict_max_age(None)
            .build();
        Ok(Self { engine, options, threads: threads.max(1), guard: None })
    }

    /// Lets a guard look on: for templates that did not come with the program.
    #[must_use]
    pub fn guarded(self, guard: Guard) -> Self {
        Self { guard: Some(guard), ..self }
    }

    pub fn threads(&self) -> usize {
        self.threads
    }

    /// Sets a card with as much air as fits on the template's sides. A card
    /// that does not fit even when tight is returned with the pages it takes
    /// and in no form.
    ///
    /// # Errors
    /// [`Fault`]
    pub fn card(
        &self,
        template: &Template,
        card: &Card,
        picture: Option<&Picture>,
        forms: Forms,
    ) -> Result<Pages, Fault> {
        // No sheet holds so much; setting it would take minutes to say so.
        const MOST_TEXT: usize = 20_000;
        let text: usize =
            card.method.steps.iter().filter_map(|step| step.prose.as_ref()).map(String::len).sum::<usize>()
                + card.remarks.iter().map(|remark| remark.text.len()).sum::<usize>()
                + card.title.len();
        let pieces = card.method.steps.len()
            + card.remarks.len()
            + card.ingredients.sections.iter().map(|s| s.items.len()).sum::<usize>();
        let sides = template.manifest.sides(&card.paper).unwrap_or(usize::MAX);
        if text > MOST_TEXT || pieces > 400 {
            return Ok(Pages { count: SIDES + text / 2_000 + pieces / 20, ..Pages::default() });
        }
        let Settled { document, fit, fit_back, .. } = self.settle(template, card, picture)?;
        let mut pages = Pages { count: document.pages().len(), ..Pages::default() };
        if pages.count > sides {
            let card = Card { fit, fit_back, ..card.clone() };
            for relief in Relief::ALL {
                let shorter = self.lay_out(template, &relief.without(&card), picture)?;
                if shorter.pages().len() <= sides {
                    pages.reliefs.push(relief);
                }
            }
            return Ok(pages);
        }
        pages.fill(self, &document, forms, &format!("{}.{}", card.id, card.lang))?;
        Ok(pages)
    }

    /// Sets a day's menu like a card: with as much air as fits on its sides.
    ///
    /// # Errors
    /// [`Fault`]
    pub fn menu(&self, template: &Template, menu: &MenuCard, forms: Forms) -> Result<Pages, Fault> {
        // No sheet holds so much; setting it would take minutes to say so.
        const MOST_LINES: usize = 60;
        let lines = menu.eat.meals.iter().map(|meal| 1 + meal.items.len()).sum::<usize>() + menu.remarks.len();
        let text: usize = menu.remarks.iter().map(|remark| remark.text.len()).sum::<usize>() + menu.title.len();
        if lines > MOST_LINES || text > 6_000 {
            return Ok(Pages { count: SIDES + lines / 20 + text / 2_000, ..Pages::default() });
        }
        let sides = template.manifest.sides(&menu.paper).unwrap_or(usize::MAX);
        let mut menu = menu.clone();
        let mut pages = Pages::default();
        for fit in 0..template.manifest.spacings {
            menu.fit = fit;
            let document = self.document(template, &menu)?;
            pages.count = document.pages().len();
            if pages.count <= sides {
                pages.fill(self, &document, forms, &format!("{}.{}", menu.id, menu.lang))?;
                break;
            }
        }
        Ok(pages)
    }

    /// Sets a part of a booklet, on as many pages as it takes.
    ///
    /// # Errors
    /// [`Fault`]
    pub fn part(
        &self,
        template: &Template,
        data: &impl Serialize,
        picture: Option<&Picture>,
        identity: &str,
    ) -> Result<Pages, Fault> {
        let document = self.compile(template, data, picture)?;
        let mut pages = Pages { count: document.pages().len(), ..Pages::default() };
        pages.fill(self, &document, Forms::PDF, identity)?;
        Ok(pages)
    }

    /// Finds the most generous spacing at which a card keeps to its sides, else
    /// the tightest.
    ///
    /// # Errors
    /// [`Fault::Template`]
    pub fn settle(&self, template: &Template, card: &Card, picture: Option<&Picture>) -> Result<Settled, Fault> {
        let mut search = spacing::Search::new(card, &template.manifest);
        let mut card = card.clone();
        let mut layouts = 0;
        loop {
            (card.fit, card.fit_back) = search.next();
            let document = self.lay_out(template, &card, picture)?;
            layouts += 1;
            if let Some(document) = search.judge(document) {
                let (fit, fit_back) = search.next();
                return Ok(Settled { document, fit, fit_back, layouts });
            }
        }
    }

    /// Compiles a card at the spacing it names.
    ///
    /// # Errors
    /// [`Fault::Template`]
    pub fn lay_out(&self, template: &Template, card: &Card, picture: Option<&Picture>) -> Result<PagedDocument, Fault> {
        self.compile(template, card, picture)
    }

    /// Compiles a template with data of its own kind.
    ///
    /// # Errors
    /// [`Fault::Template`]
    pub fn document(&self, template: &Template, data: &impl Serialize) -> Result<PagedDocument, Fault> {
        self.compile(template, data, None)
    }

    fn compile(
        &self,
        template: &Template,
        data: &impl Serialize,
        picture: Option<&Picture>,
    ) -> Result<PagedDocument, Fault> {
        let json = serde_json::to_vec(data).map_err(|error| Fault::Template(error.to_string()))?;
        let mut given = Vec::with_capacity(2);
        given.extend(template.place(template::DATA).map(|id| (id, Bytes::new(json))));
        if let Some(picture) = picture {
            given.extend(template.place(&picture.path).map(|id| (id, picture.bytes.clone())));
        }
        let engine = self
            .engine
            .world_builder(template.main)
            .build()
            .map_err(|_| Fault::Template("the typesetter's library cannot be made".to_owned()))?;
        let world = Sight { engine, template, given };
        let watch = self.guard.as_ref().map(Guard::watch);
        let output = typst::compile::<PagedDocument>(&world).output;
        drop(watch);
        let document = output.map_err(|list| Fault::Template(reasons(&world, &list)))?;
        // What came with the program may be long: an annex over a large set.
        if !template.built_in && document.pages().len() > guard::MOST_PAGES {
            return Err(Fault::Template(format!("it makes more than {} pages", guard::MOST_PAGES)));
        }
        Ok(document)
    }

    /// Writes pages as PDF/UA-1. Without a date, so that the same pages are
    /// the same bytes on any day.
    ///
    /// # Errors
    /// [`Fault::Export`]
    pub fn export(&self, document: &PagedDocument, identity: &str) -> Result<Vec<u8>, Fault> {
        let options = PdfOptions {
            ident: Smart::Custom(identity.to_owned()),
            creator: Smart::Custom(Some(concat!("Porringer ", env!("CARGO_PKG_VERSION")).to_owned())),
            standards: self.options.clone(),
            ..PdfOptions::default()
        };
        typst_pdf::pdf(document, &options).map_err(|errors| Fault::Export(messages(&errors)))
    }

    /// Sets many cards on dedicated threads and hands each result over as it
    /// comes. Never inside a pool's task: the typesetter uses one itself, and
    /// a waiting task would take the next card onto its own stack.
    pub fn each<T, R, F, G>(&self, jobs: &[T], work: F, mut done: G)
    where
        T: Sync,
        R: Send,
        F: Fn(&T) -> Result<R, Fault> + Sync,
        G: FnMut(usize, Result<R, Fault>),
    {
        const STACK: usize = 16 << 20;
        let next = std::sync::atomic::AtomicUsize::new(0);
        let (send, receive) = std::sync::mpsc::sync_channel(self.threads() * 2);
        std::thread::scope(|scope| {
            for thread in 0..self.threads().min(jobs.len().max(1)) {
                let send = send.clone();
                let (next, work) = (&next, &work);
                let spawned = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, move || {
                    loop {
                        let at = next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
                        let Some(job) = jobs.get(at) else { break };
                        let result = work(job);
                        if at % CLEAR_EVERY == CLEAR_EVERY - 1 || result.is_err() {
                            typst::comemo::evict(CLEAR_AGE);
                        }
                        if send.send((at, result)).is_err() {
                            break;
                        }
                    }
                });
                if let (Err(error), 0) = (spawned, thread) {
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

/// What the typesetter says, with the place for those who write templates.
fn reasons(world: &Sight<'_>, list: &[SourceDiagnostic]) -> String {
    if world.template.built_in {
        return messages(list);
    }
    let mut all: Vec<String> = list
        .iter()
        .map(|one| {
            let place = one.span.id().and_then(|id| {
                let source = world.source(id).ok()?;
                let range = world.range(one.span)?;
                let place = Lines::new("", source.text()).place(range.start);
                Some(format!("{}:{}:{}: ", id.vpath().get_without_slash(), place.line, place.column))
            });
            format!("{}{}", place.unwrap_or_default(), one.message)
        })
        .collect();
    all.dedup();
    all.truncate(5);
    all.join("; ")
}

/// A page as PNG, one phone wide.
fn png(page: &typst_layout::Page) -> Result<Vec<u8>, Fault> {
    let width = page.frame.width().max(Abs::pt(1.0)).to_pt();
    let options = typst_render::RenderOptions { pixel_per_pt: (PNG_WIDTH / width).into(), ..Default::default() };
    typst_render::render(page, &options).encode_png().map_err(|error| Fault::Export(error.to_string()))
}

fn messages(list: &[SourceDiagnostic]) -> String {
    let mut all: Vec<String> = list.iter().map(|one| one.message.to_string()).collect();
    all.dedup();
    all.truncate(5);
    all.join("; ")
}

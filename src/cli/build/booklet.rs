//! Booklets: cards of a set bound in one file a language, with contents,
//! annexes and index.

use std::collections::BTreeMap;
use std::path::Path;
use std::path::PathBuf;

use typst::text::Font;

use super::orders::{Order, Terms};
use super::outputs::{Outputs, file_name};
use super::plan::Plan;
use super::reader::Reader;
use super::record::Record;
use super::set::{engine, too_long_help};
use super::sheets::{Common, card_of};
use super::{Format, unknown_language};
use crate::ast::{Document, Entry};
use crate::card::booklet::{Binder, Content, Leaf, Place, Unit};
use crate::card::menu::MenuMaker;
use crate::card::{self, Imprint, Locale, Maker};
use crate::check::Checked;
use crate::cli::{Failure, complain, gather};
use crate::diagnostic::{Code, Diagnostic, quote};
use crate::graph;
use crate::source::Spanned;
use crate::syntax::Kind;
use crate::typeset::binding::{Hangs, Leaves, bind};
use crate::typeset::impose::impose;
use crate::typeset::picture::Picture;
use crate::typeset::{Engine, Forms, Pages};
use crate::workspace::{Workspace, settings};

/// What booklets are made with.
pub struct Bindery<'a> {
    pub common: &'a Common<'a>,
    pub terms: &'a Terms<'a>,
    pub further: Vec<Font>,
}

/// What sets them.
struct Press<'a> {
    engine: Engine,
    bindery: &'a Bindery<'a>,
}

/// One page of a booklet's list.
struct Page<'a> {
    file: &'a Checked,
    slug: &'a Spanned<String>,
    section: Option<usize>,
    picture: Option<Picture>,
}

fn find<'a>(checked: &'a [Checked], menu: bool, id: &str) -> Option<&'a Checked> {
    let kind = if menu { Kind::Menu } else { Kind::Dish };
    checked.iter().find(|file| file.tree.kind == kind && file.id() == Some(id))
}

/// Its stable name: that of its `id` line, else its file's.
pub fn id(booklet: &crate::ast::Booklet, file: &str) -> String {
    let stem = Path::new(file).file_stem().map(|stem| stem.to_string_lossy().into_owned());
    booklet.header.id.as_ref().map(|id| id.value.clone()).or(stem).unwrap_or_default()
}

impl Bindery<'_> {
    /// Makes booklets in their languages.
    ///
    /// # Errors
    /// A language without a catalogue, a paper that a template is not for.
    pub fn make(
        &self,
        orders: Vec<Order>,
        records: &mut [Record],
        reader: &mut Reader<'_>,
        plan: &Plan,
        outputs: &mut Outputs,
    ) -> Result<(), Failure> {
        let built_in = self.terms.cards.built_in && self.terms.look.built_in;
        let press = Press { engine: engine(usize::MAX, self.further.clone(), built_in)?, bindery: self };
        for Order { at, bound, standing, group } in orders {
            let records_of: Vec<&Record> = std::iter::once(at).chain(bound).filter_map(|at| records.get(at)).collect();
            let paths: Vec<PathBuf> = records_of.iter().map(|record| record.path.clone()).collect();
            let mut checked = reader.check(&paths, plan)?;
            let same =
                |(record, file): (&&Record, &Checked)| record.text == graph::Content::of(file.source.text.as_bytes());
            let steady = records_of.iter().zip(&checked).all(same);
            let bound = checked.split_off(1.min(checked.len()));
            let Some(file) = checked.pop() else { continue };
            let Document::Booklet(booklet) = &file.document else { continue };
            let Some(pages) = press.pages(&file, &bound) else { continue };
            let id = id(booklet, &file.source.name);
            outputs.begin();
            let mut overflows = Vec::new();
            press.booklet(&file, booklet, &id, &pages, outputs, &mut |message| overflows.push(message))?;
            let targets = outputs.end();
            if let Some(standing) = standing.filter(|_| steady && overflows.is_empty() && self.terms.printed.is_none())
            {
                outputs.close(&group, standing, targets);
            }
            if let Some(record) = records.get_mut(at) {
                overflows.into_iter().for_each(|message| record.add(message, Some(&file.source)));
            }
        }
        Ok(())
    }
}

impl Press<'_> {
    fn terms(&self) -> &Terms<'_> {
        self.bindery.terms
    }

    fn workspace(&self) -> &Workspace {
        self.bindery.common.workspace
    }

    /// One booklet in its languages.
    fn booklet(
        &self,
        file: &Checked,
        booklet: &crate::ast::Booklet,
        id: &str,
        pages: &[Page<'_>],
        outputs: &mut Outputs,
        overflow: &mut dyn FnMut(Diagnostic),
    ) -> Result<(), Failure> {
        let common = self.bindery.common;
        let own = gather::own_language(&file.document, self.workspace());
        let named: Vec<String> = booklet.header.language.iter().map(|tag| tag.value.clone()).collect();
        let languages = if named.is_empty() || !self.terms().arguments.look.language.is_empty() {
            gather::languages_of(&own, common.languages)
        } else {
            named
        };
        let paper = self.paper(booklet.paper.as_ref().map(|paper| paper.value.as_str()))?;
        let imprint = Imprint { paper, ..common.imprint.clone() };
        let picture = self.cover(file);
        let json = self.terms().arguments.format.contains(&Format::Json);
        let pdf = self.terms().arguments.format.contains(&Format::Pdf);
        let mut data = Vec::new();
        for tag in languages {
            let locale = Locale::with_digits(&tag, self.workspace().settings.digits)
                .ok_or_else(|| Failure(unknown_language(&tag)))?;
            let binder = self.binder(booklet, id, pages, &locale, &own, &imprint, picture.as_ref());
            let name = format!("{}.{}", file_name(id), locale.tag());
            let target = format!("{name}.pdf");
            let sheets = self.terms().printed.map(|sheets| (sheets, format!("{name}.{}.pdf", sheets.name())));
            let needs = self.needs(&binder, pages, picture.as_ref());
            let mut wanted = pdf && outputs.wants(&target, &needs);
            if let Some((_, target)) = sheets.as_ref().filter(|_| pdf) {
                wanted |= outputs.wants(target, &needs);
            }
            if !wanted && !json {
                continue;
            }
            let bound = match self.set(&binder, pages, picture.as_ref()) {
                Ok((parts, places)) => {
                    data.extend(own_parts(&binder, &places));
                    bind(parts, &|page| binder.page_words(page))
                }
                Err(Stop::Fault(why)) => Err(why),
                Err(Stop::Overflow(messages)) => {
                    messages.into_iter().for_each(&mut *overflow);
                    continue;
                }
            };
            match bound {
                Ok(_) if !pdf => {}
                Ok(bytes) => {
                    outputs.put(&target, &needs, &[(target.clone(), &bytes)]);
                    if let Some((sheets, target)) = sheets {
                        match impose(&bytes, sheets, locale.direction() == "rtl") {
                            Ok(bytes) => outputs.put(&target, &needs, &[(target.clone(), &bytes)]),
                            Err(why) => outputs.trouble(format!("{target}: {why}")),
                        }
                    }
                }
                Err(why) => outputs.trouble(format!("{target}: {why}")),
            }
        }
        if json && !data.is_empty() {
            let target = format!("{}.json", file_name(id));
            let mut text = serde_json::to_string_pretty(&serde_json::json!({ "parts": data })).unwrap_or_default();
            text.push('\n');
            let needs = graph::Needs::of("data", graph::Content::of(&text));
            if outputs.wants(&target, &needs) {
                outputs.put(&target, &needs, &[(target.clone(), text.as_bytes())]);
            }
        }
        Ok(())
    }

    /// What decides a booklet's bytes: its cards, and all its own pages at the
    /// places that are guessed for them, from which the true ones follow.
    fn needs(&self, binder: &Binder<'_>, pages: &[Page<'_>], cover: Option<&Picture>) -> graph::Needs {
        let places = binder.places(&self.guess(binder));
        let own = own_parts(binder, &places);
        let terms = self.terms();
        let mut needs = self.bindery.common.needs().with("data", graph::Content::of_data(&own));
        for (word, template) in [("cards", terms.cards), ("days", &terms.menus), ("own pages", terms.look)] {
            needs = needs.with(word, template.content);
        }
        for (at, leaf) in binder.leaves.iter().enumerate() {
            let content = match &leaf.content {
                Content::Dish(_, card) => graph::Content::of_data(card),
                Content::Menu(_, card) => graph::Content::of_data(card),
            };
            needs = needs.with(format!("page {at}"), content);
        }
        let pictures = pages.iter().map(|page| page.picture.as_ref()).chain([cover]);
        for (at, picture) in pictures.enumerate() {
            if let Some(picture) = picture {
                needs = needs.with(format!("picture {at}"), graph::Content::of(&picture.bytes));
            }
        }
        needs
    }

    /// Pages that each part is taken to have until it is set.
    fn guess(&self, binder: &Binder<'_>) -> Vec<(Unit, usize)> {
        let sides = |leaf: &Leaf<'_>| match &leaf.content {
            Content::Dish(_, card) => self.terms().cards.manifest.sides(&card.paper),
            Content::Menu(_, card) => self.terms().menus.manifest.sides(&card.paper),
        };
        let pages = |unit| match unit {
            Unit::Front => 2,
            Unit::Leaf(at) => binder.leaves.get(at).and_then(sides).unwrap_or(2),
            _ => 1,
        };
        binder.units().into_iter().map(|unit| (unit, pages(unit))).collect()
    }

    /// The pages that a booklet lists; `None`, and a word about it, where one
    /// has faults of its own: a booklet with a gap would be printed as it is.
    fn pages<'a>(&self, file: &'a Checked, checked: &'a [Checked]) -> Option<Vec<Page<'a>>> {
        let Document::Booklet(booklet) = &file.document else { return None };
        let mut section = None;
        let mut pages = Vec::new();
        let mut faulty = Vec::new();
        for entry in &booklet.entries {
            match entry {
                Entry::Section(_) => section = Some(section.map_or(0, |at: usize| at + 1)),
                Entry::Page { menu, slug } => {
                    match find(checked, *menu, &slug.value).filter(|found| self.terms().sound(&found.diagnostics)) {
                        Some(found) => {
                            let dish = found.dish.as_ref().map(|dish| &dish.resolved.ast);
                            let picture =
                                dish.and_then(|dish| gather::read_picture(dish, &found.source, self.workspace()));
                            pages.push(Page { file: found, slug, section, picture });
                        }
                        None => faulty.push(quote(&slug.value)),
                    }
                }
                Entry::Annex(_) => {}
            }
        }
        if faulty.is_empty() {
            return Some(pages);
        }
        complain(&format!("{} is left out until these pages are mended: {}", file.source.name, faulty.join(", ")));
        None
    }

    /// The paper of a booklet: that of the call, else its own, else the
    /// workspace's.
    fn paper(&self, own: Option<&str>) -> Result<String, Failure> {
        let asked = self.terms().arguments.look.paper.as_deref().and_then(settings::paper);
        let paper = asked.or_else(|| own.and_then(settings::paper)).unwrap_or(&self.workspace().settings.paper);
        // As with single cards: a look that is not made for it takes its own.
        let paper = self.terms().cards.paper(paper);
        for template in [self.terms().look, &self.terms().menus] {
            if !template.takes(&paper) {
                return Err(Failure(format!(
                    "the template `{}` is not made for {paper}; it takes {}",
                    template.manifest.name,
                    template.manifest.papers.join(", ")
                )));
            }
        }
        Ok(paper)
    }

    fn cover(&self, file: &Checked) -> Option<Picture> {
        let header = crate::ast::Dish { header: file.document.header().clone(), ..crate::ast::Dish::default() };
        gather::read_picture(&header, &file.source, self.workspace())
    }

    #[allow(clippy::too_many_arguments)]
    fn binder<'b>(
        &'b self,
        booklet: &'b crate::ast::Booklet,
        id: &str,
        pages: &[Page<'b>],
        locale: &'b Locale,
        own: &'b str,
        imprint: &'b Imprint,
        picture: Option<&Picture>,
    ) -> Binder<'b> {
        let reference = &self.workspace().reference;
        let mut leaves = Vec::new();
        for page in pages {
            let own_language = gather::own_language(&page.file.document, self.workspace());
            let content = match (&page.file.dish, &page.file.menu) {
                (Some(dish), _) => {
                    let maker = Maker {
                        dish,
                        reference,
                        locale,
                        own_language: &own_language,
                        imprint,
                        changed: &page.file.changed,
                    };
                    Content::Dish(dish, Box::new(card_of(&maker, page.picture.as_ref())))
                }
                (None, Some(menu)) => {
                    let maker = MenuMaker {
                        menu,
                        reference,
                        locale,
                        own_language: &own_language,
                        imprint,
                        changed: &page.file.changed,
                    };
                    Content::Menu(menu, Box::new(card::menu::make(&maker)))
                }
                (None, None) => continue,
            };
            leaves.push(Leaf { content, section: page.section });
        }
        let mut binder =
            Binder { booklet, id: id.to_owned(), reference, locale, own_language: own, imprint, leaves, picture: None };
        let described = booklet.header.picture.as_ref().and_then(|own| own.description.as_ref());
        binder.picture = picture
            .zip(described)
            .map(|(picture, text)| card::Picture { path: picture.path.clone(), alt: binder.text(text) });
        binder
    }

    /// Sets all parts. How many pages one takes is known once it is set, and
    /// the numbers in the others follow from it: what stands before the dishes
    /// and behind them is set again until nothing moves, the dishes only where
    /// their own pages moved.
    fn set(
        &self,
        binder: &Binder<'_>,
        pages: &[Page<'_>],
        cover: Option<&Picture>,
    ) -> Result<(Vec<Leaves>, Vec<Place>), Stop> {
        const ROUNDS: usize = 5;
        let mut counts = self.guess(binder);
        // What was set, and the page it was set for.
        let mut leaves: BTreeMap<usize, (usize, Pages)> = BTreeMap::new();
        for _ in 0..ROUNDS {
            let places = binder.places(&counts);
            let own: Vec<Place> = places.iter().copied().filter(|place| !matches!(place.unit, Unit::Leaf(_))).collect();
            let (own_pages, moved) = self.set_own(binder, &own, &places, cover, &mut counts)?;
            if moved {
                continue;
            }
            if self.set_leaves(binder, pages, &places, &mut leaves, &mut counts)? {
                continue;
            }
            let mut own_pages = own_pages.into_iter();
            let parts = places
                .iter()
                .filter_map(|place| match place.unit {
                    Unit::Leaf(at) => {
                        let below = binder.leaves.get(at).is_some_and(|leaf| leaf.section.is_some());
                        let hangs = if below { Hangs::Below } else { Hangs::Top };
                        leaves.remove(&at).map(|(_, pages)| Leaves { pdf: pages.pdf, hangs })
                    }
                    unit => {
                        let hangs = match unit {
                            Unit::Nutrients(0) => Hangs::FirstOnTop,
                            Unit::Nutrients(_) => Hangs::Below,
                            _ => Hangs::Top,
                        };
                        own_pages.next().map(|pages| Leaves { pdf: pages.pdf, hangs })
                    }
                })
                .collect();
            return Ok((parts, places));
        }
        Err(Stop::Fault("its pages do not come to rest: a template's pages depend on their numbers".to_owned()))
    }

    /// Sets what is no card; tells whether a part takes other than the pages
    /// it was counted with.
    fn set_own(
        &self,
        binder: &Binder<'_>,
        own: &[Place],
        places: &[Place],
        cover: Option<&Picture>,
        counts: &mut [(Unit, usize)],
    ) -> Result<(Vec<Pages>, bool), Stop> {
        let identity = format!("{}.{}", binder.id, binder.locale.tag());
        let mut found: Vec<(usize, Pages)> = Vec::new();
        let mut fault = None;
        self.engine.each(
            own,
            |place| {
                let part = binder.part(*place, places);
                let picture = cover.filter(|_| part.front.is_some());
                self.engine.part(self.terms().look, &part, picture, &identity)
            },
            |at, result| match result {
                Ok(pages) => found.push((at, pages)),
                Err(error) => fault = Some(error.to_string()),
            },
        );
        if let Some(fault) = fault {
            return Err(Stop::Fault(fault));
        }
        found.sort_by_key(|(at, _)| *at);
        let mut moved = false;
        for ((_, pages), place) in found.iter().zip(own) {
            if let Some((_, count)) = counts.iter_mut().find(|(unit, _)| *unit == place.unit)
                && *count != pages.count
            {
                *count = pages.count;
                moved = true;
            }
        }
        Ok((found.into_iter().map(|(_, pages)| pages).collect(), moved))
    }

    /// Sets the cards that are not set for their page yet; tells whether one
    /// takes other than the pages it was counted with.
    fn set_leaves(
        &self,
        binder: &Binder<'_>,
        pages: &[Page<'_>],
        places: &[Place],
        done: &mut BTreeMap<usize, (usize, Pages)>,
        counts: &mut [(Unit, usize)],
    ) -> Result<bool, Stop> {
        let jobs: Vec<(usize, usize)> = places
            .iter()
            .filter_map(|place| match place.unit {
                Unit::Leaf(at) => Some((at, place.page)),
                _ => None,
            })
            .filter(|(at, page)| done.get(at).is_none_or(|(set_for, _)| set_for != page))
            .collect();
        let mut fault = None;
        let mut overflows = Vec::new();
        let mut moved = false;
        self.engine.each(
            &jobs,
            |(at, page)| {
                let Some(leaf) = binder.leaves.get(*at) else { return Ok(Pages::default()) };
                let folio = Some(binder.folio(leaf, *page));
                match &leaf.content {
                    Content::Dish(_, card) => {
                        let card = card::Card { folio, ..(**card).clone() };
                        let picture = pages.get(*at).and_then(|page| page.picture.as_ref());
                        self.engine.card(self.terms().cards, &card, picture, Forms::PDF)
                    }
                    Content::Menu(_, card) => {
                        let card = card::menu::MenuCard { folio, ..(**card).clone() };
                        self.engine.menu(&self.terms().menus, &card, Forms::PDF)
                    }
                }
            },
            |job, result| {
                let Some((at, page)) = jobs.get(job) else { return };
                match result {
                    Ok(set) if set.pdf.is_empty() => overflows.push((*at, set)),
                    Ok(set) => {
                        if let Some((_, count)) = counts.iter_mut().find(|(unit, _)| *unit == Unit::Leaf(*at))
                            && *count != set.count
                        {
                            *count = set.count;
                            moved = true;
                        }
                        done.insert(*at, (*page, set));
                    }
                    Err(error) => {
                        let name = pages.get(*at).map(|page| quote(&page.slug.value)).unwrap_or_default();
                        fault = Some(format!("page {name}: {error}"));
                    }
                }
            },
        );
        if let Some(fault) = fault {
            return Err(Stop::Fault(fault));
        }
        if overflows.is_empty() {
            return Ok(moved);
        }
        overflows.sort_by_key(|(at, _)| *at);
        let messages = overflows
            .into_iter()
            .filter_map(|(at, set)| Some(self.overflow(&binder.leaves.get(at)?.content, pages.get(at)?.slug, &set)))
            .collect();
        Err(Stop::Overflow(messages))
    }

    /// A page that does not fit, said at the booklet's line.
    fn overflow(&self, content: &Content<'_>, slug: &Spanned<String>, set: &Pages) -> Diagnostic {
        let (lang, paper, template, menu) = match content {
            Content::Dish(_, card) => (&card.lang, &card.paper, self.terms().cards, false),
            Content::Menu(_, card) => (&card.lang, &card.paper, &self.terms().menus, true),
        };
        let sides = template.manifest.sides(paper).unwrap_or(usize::MAX);
        let reliefs: Vec<&str> = set.reliefs.iter().map(|relief| relief.words()).collect();
        let help = too_long_help(paper, sides, menu, &reliefs);
        Diagnostic::new(
            Code::BookletOverflow,
            slug.span,
            format!("{} takes {} {paper} pages in {lang}; there is room for {sides}", quote(&slug.value), set.count),
        )
        .help(help.replace("`--paper A4`", "`paper A4`"))
    }
}

/// The data of all parts that are no cards.
fn own_parts(binder: &Binder<'_>, places: &[Place]) -> Vec<card::booklet::Part> {
    let own = places.iter().filter(|place| !matches!(place.unit, Unit::Leaf(_)));
    own.map(|place| binder.part(*place, places)).collect()
}

/// Why a booklet is not made.
enum Stop {
    Overflow(Vec<Diagnostic>),
    Fault(String),
}

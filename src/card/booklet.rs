//! A booklet as plain data: what its own pages print, in one language. The
//! pages of dishes and menus are cards with data of their own; what stands
//! before, between and after them is here.

mod annex;
mod index;
mod measures;

use schemars::JsonSchema;
use serde::Serialize;

use super::menu::MenuCard;
use super::{Ages, Card, FONT, Imprint, Locale, Month};
use crate::ast::{self, Entry, RemarkKind, Text};
use crate::check::{CheckedDish, CheckedMenu};
use crate::reference::Reference;

pub use annex::{Colophon, NutrientTables, Sources};
pub use index::Index;
pub use measures::Measures;

/// Name and version of the booklet's data.
pub const SCHEMA: &str = "porringer-booklet/1";

/// A page number at the foot of a card that stands in a booklet.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Folio {
    /// Number of the card's first page.
    pub page: usize,
    pub booklet: String,
    pub section: Option<String>,
}

/// One part of a booklet. The template is compiled once for each part, and
/// prints what is there.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Part {
    /// Name and version of this form: `porringer-booklet/1`.
    pub schema: &'static str,
    /// Language tag (BCP 47).
    pub lang: String,
    /// Direction of the script: `ltr` or `rtl`.
    #[schemars(extend("enum" = ["ltr", "rtl"]))]
    pub dir: &'static str,
    /// What parts a label from its text.
    pub colon: String,
    /// `A4`, `A5`, `A6` or `Letter`.
    pub paper: String,
    /// Families of type, in the order in which they are asked for a sign.
    pub fonts: Vec<String>,
    /// The booklet's id: its file's stem, or its `id` line.
    pub id: String,
    /// The booklet's title.
    pub title: String,
    pub programme: Option<String>,
    pub footer: Option<String>,
    /// Number of this part's first page.
    pub page: usize,
    /// Name of the section that this part belongs to.
    pub running: Option<String>,
    /// Before all others: the cover, then the contents.
    pub front: Option<Front>,
    /// Before the pages of a section.
    pub section: Option<SectionPage>,
    /// A page for the reader's own notes, where a dish begins on the next left
    /// page.
    pub notes: Option<String>,
    pub measures: Option<Measures>,
    pub nutrients: Option<NutrientTables>,
    pub index: Option<Index>,
    pub sources: Option<Sources>,
    pub colophon: Option<Colophon>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Front {
    pub picture: Option<super::Picture>,
    pub ages: Ages,
    /// How many dishes and days.
    pub counts: Vec<String>,
    /// The author's `note` lines.
    pub notes: Vec<String>,
    pub standing: Vec<String>,
    pub contents: Contents,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Contents {
    pub title: String,
    pub entries: Vec<ContentsEntry>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ContentsEntry {
    /// 1 for sections and annexes, 2 for what is in a section.
    pub level: u8,
    pub text: String,
    /// Ages, for a dish or a day.
    pub detail: Option<String>,
    pub page: PageLink,
}

/// A page to look up.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PageLink {
    pub number: usize,
    /// The number in print.
    pub text: String,
    /// Address for a link.
    pub to: String,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SectionPage {
    pub title: String,
    pub items: Vec<SectionItem>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SectionItem {
    pub title: String,
    pub page: PageLink,
    pub ages: Ages,
    /// Time and yield of a dish, feeding for a day.
    pub facts: Vec<super::Fact>,
    /// Proven statements.
    pub claims: Vec<String>,
}

/// A card in the booklet.
pub struct Leaf<'a> {
    pub content: Content<'a>,
    /// Index of its section.
    pub section: Option<usize>,
}

pub enum Content<'a> {
    Dish(&'a CheckedDish, Box<Card>),
    Menu(&'a CheckedMenu, Box<MenuCard>),
}

impl Leaf<'_> {
    pub fn title(&self) -> &str {
        match &self.content {
            Content::Dish(_, card) => &card.title,
            Content::Menu(_, card) => &card.title,
        }
    }

    pub fn ages(&self) -> &Ages {
        match &self.content {
            Content::Dish(_, card) => &card.ages,
            Content::Menu(_, card) => &card.ages,
        }
    }

    fn months(&self) -> (u16, u16) {
        match &self.content {
            Content::Dish(dish, _) => dish.resolved.months,
            Content::Menu(menu, _) => menu.resolved.months,
        }
    }
}

/// What a part is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    Front,
    /// Index of the section.
    Section(usize),
    Notes,
    /// Index of the card.
    Leaf(usize),
    Measures,
    /// Index of a piece of the table.
    Nutrients(usize),
    Index,
    Sources,
    Colophon,
}

/// Everything a booklet is made of, in one language.
pub struct Binder<'a> {
    pub booklet: &'a ast::Booklet,
    pub id: String,
    pub reference: &'a Reference,
    pub locale: &'a Locale,
    /// Language of the author's prose.
    pub own_language: &'a str,
    pub imprint: &'a Imprint,
    pub leaves: Vec<Leaf<'a>>,
    pub picture: Option<super::Picture>,
}

/// Where a unit begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    pub unit: Unit,
    /// Counted from 1.
    pub page: usize,
}

/// Titles of the sections, in order.
pub fn sections(booklet: &ast::Booklet) -> Vec<&Text> {
    booklet
        .entries
        .iter()
        .filter_map(|entry| match entry {
            Entry::Section(title) => Some(title),
            _ => None,
        })
        .collect()
}

/// The texts that a booklet prints, with what they are.
pub fn texts(booklet: &ast::Booklet) -> Vec<(&'static str, &Text)> {
    let header = &booklet.header;
    let mut texts: Vec<(&'static str, &Text)> = header.title.iter().map(|text| ("title", text)).collect();
    let notes = header.remarks.iter().filter(|remark| remark.kind == RemarkKind::Note);
    texts.extend(notes.map(|remark| ("note", &remark.text)));
    texts.extend(sections(booklet).into_iter().map(|text| ("section", text)));
    texts
}

impl Binder<'_> {
    pub fn text(&self, text: &Text) -> String {
        if self.own_language.eq_ignore_ascii_case(self.locale.tag()) {
            return text.value.clone();
        }
        text.in_language(self.locale.tag()).unwrap_or(&text.value).to_owned()
    }

    pub fn title(&self) -> String {
        self.booklet.header.title.as_ref().map(|title| self.text(title)).unwrap_or_default()
    }

    /// Parts in the order of print, without the pages for notes. The index and
    /// the colophon are always there: without them nobody finds a dish, and
    /// nobody knows what the figures rest on.
    pub fn units(&self) -> Vec<Unit> {
        let mut units = vec![Unit::Front];
        let mut leaves = 0;
        let mut section = 0;
        let mut annexes: Vec<Unit> = Vec::new();
        for entry in &self.booklet.entries {
            match entry {
                Entry::Section(_) => {
                    units.push(Unit::Section(section));
                    section += 1;
                }
                Entry::Page { .. } => {
                    units.push(Unit::Leaf(leaves));
                    leaves += 1;
                }
                Entry::Annex(words) => {
                    for unit in words.iter().filter_map(|word| annex(&word.value)) {
                        match unit {
                            Unit::Nutrients(_) => {
                                annexes.extend((0..self.pieces().len()).map(Unit::Nutrients));
                            }
                            other => annexes.push(other),
                        }
                    }
                }
            }
        }
        // Nobody looks for a dish among the sources.
        if !annexes.contains(&Unit::Index) {
            let at = annexes.iter().position(|unit| *unit == Unit::Sources).unwrap_or(annexes.len());
            annexes.insert(at, Unit::Index);
        }
        for unit in annexes.into_iter().chain([Unit::Colophon]) {
            if !units.contains(&unit) {
                units.push(unit);
            }
        }
        units
    }

    /// Places of all parts, from the number of pages each takes. A card of two
    /// pages begins on the left, so that an open booklet shows both; a section
    /// begins on the right.
    pub fn places(&self, counts: &[(Unit, usize)]) -> Vec<Place> {
        let mut places = Vec::new();
        let mut page = 1;
        for (unit, count) in counts {
            let turn = match unit {
                Unit::Section(_) => page % 2 == 0,
                Unit::Leaf(_) => *count > 1 && page % 2 == 1,
                _ => false,
            };
            if turn {
                places.push(Place { unit: Unit::Notes, page });
                page += 1;
            }
            places.push(Place { unit: *unit, page });
            page += count;
        }
        places
    }

    /// What a card prints at its foot.
    pub fn folio(&self, leaf: &Leaf<'_>, page: usize) -> Folio {
        Folio { page, booklet: self.title(), section: leaf.section.and_then(|at| self.section_title(at)) }
    }

    /// A page as it is read aloud.
    pub fn page_words(&self, page: usize) -> String {
        self.locale.with("booklet-page", &[("n", self.locale.integer(page as i64))])
    }

    fn section_title(&self, at: usize) -> Option<String> {
        sections(self.booklet).get(at).map(|title| self.text(title))
    }

    fn link(&self, number: usize) -> PageLink {
        PageLink {
            number,
            text: self.locale.integer(number as i64),
            to: format!("{}{number}", crate::card::booklet::PAGE_LINK),
        }
    }

    /// The data of a part that is no card.
    pub fn part(&self, place: Place, places: &[Place]) -> Part {
        let locale = self.locale;
        let mut part = Part {
            schema: SCHEMA,
            lang: locale.tag().to_owned(),
            dir: locale.direction(),
            colon: locale.word("colon"),
            paper: self.imprint.paper.clone(),
            fonts: std::iter::once(FONT)
                .chain(self.imprint.fonts.iter().map(String::as_str))
                .map(str::to_owned)
                .collect(),
            id: self.id.clone(),
            title: self.title(),
            programme: self.imprint.programme.clone(),
            footer: self.imprint.footer(self.locale),
            page: place.page,
            running: None,
            front: None,
            section: None,
            notes: None,
            measures: None,
            nutrients: None,
            index: None,
            sources: None,
            colophon: None,
        };
        match place.unit {
            Unit::Front => part.front = Some(self.front(places)),
            Unit::Section(at) => {
                part.running = self.section_title(at);
                part.section = Some(self.section(at, places));
            }
            Unit::Notes => part.notes = Some(locale.word("booklet-notes")),
            Unit::Leaf(_) => {}
            Unit::Measures => part.measures = Some(self.measures()),
            Unit::Nutrients(at) => part.nutrients = self.nutrients(at, places),
            Unit::Index => part.index = Some(self.index(places)),
            Unit::Sources => part.sources = Some(self.sources(places)),
            Unit::Colophon => part.colophon = Some(self.colophon()),
        }
        part
    }

    /// Where a card stands.
    fn place_of(&self, leaf: usize, places: &[Place]) -> PageLink {
        let page = places.iter().find(|place| place.unit == Unit::Leaf(leaf)).map_or(1, |place| place.page);
        self.link(page)
    }

    fn front(&self, places: &[Place]) -> Front {
        let locale = self.locale;
        let (mut dishes, mut days) = (0_usize, 0_usize);
        for leaf in &self.leaves {
            match &leaf.content {
                Content::Dish(..) => dishes += 1,
                Content::Menu(..) => days += 1,
            }
        }
        let counts = [("booklet-dishes", dishes), ("booklet-days", days)]
            .into_iter()
            .filter(|(_, count)| *count > 0)
            .map(|(key, count)| {
                locale.counted(
                    key,
                    count as f64,
                    &[("count", locale.integer(i64::try_from(count).unwrap_or(i64::MAX)))],
                )
            })
            .collect();
        Front {
            picture: self.picture.clone(),
            ages: self.all_ages(),
            counts,
            notes: self
                .booklet
                .header
                .remarks
                .iter()
                .filter(|remark| remark.kind == RemarkKind::Note)
                .map(|remark| self.text(&remark.text))
                .collect(),
            standing: vec![locale.word("standing-guidance"), locale.word("standing-help")],
            contents: self.contents(places),
        }
    }

    /// The ages for which there is something in the booklet.
    fn all_ages(&self) -> Ages {
        let locale = self.locale;
        let months: Vec<(u16, u16)> = self.leaves.iter().map(Leaf::months).collect();
        let bands = self.reference.profile.bands();
        let first = bands.first().map_or(6, |band| band.from_months);
        let last = bands.last().map_or(23, |band| band.to_months);
        let from = months.iter().map(|(from, _)| *from).min().unwrap_or(first);
        let to = months.iter().map(|(_, to)| *to).max().unwrap_or(last);
        let text = locale
            .with("ages-range", &[("from", locale.integer(i64::from(from))), ("to", locale.integer(i64::from(to)))]);
        Ages {
            label: locale.word("ages-label"),
            alt: locale.with("booklet-ages-alt", &[("text", text.clone())]),
            text,
            months: (first..=last)
                .map(|month| Month {
                    month,
                    text: locale.integer(i64::from(month)),
                    on: months.iter().any(|(from, to)| (*from..=*to).contains(&month)),
                })
                .collect(),
        }
    }

    fn contents(&self, places: &[Place]) -> Contents {
        let locale = self.locale;
        let has_sections = places.iter().any(|place| matches!(place.unit, Unit::Section(_)));
        let entries = places
            .iter()
            .filter_map(|place| {
                let (level, text, detail) = match place.unit {
                    Unit::Front | Unit::Notes => return None,
                    Unit::Nutrients(at) if at > 0 => return None,
                    Unit::Section(at) => (1, self.section_title(at)?, None),
                    Unit::Leaf(at) => {
                        let leaf = self.leaves.get(at)?;
                        let level = if has_sections && leaf.section.is_some() { 2 } else { 1 };
                        (level, leaf.title().to_owned(), Some(leaf.ages().text.clone()))
                    }
                    Unit::Measures => (1, locale.word("booklet-measures"), None),
                    Unit::Nutrients(_) => (1, locale.word("booklet-nutrients"), None),
                    Unit::Index => (1, locale.word("booklet-index"), None),
                    Unit::Sources => (1, locale.word("booklet-sources"), None),
                    Unit::Colophon => (1, locale.word("booklet-colophon"), None),
                };
                Some(ContentsEntry { level, text, detail, page: self.link(place.page) })
            })
            .collect();
        Contents { title: locale.word("booklet-contents"), entries }
    }

    fn section(&self, at: usize, places: &[Place]) -> SectionPage {
        let items = self
            .leaves
            .iter()
            .enumerate()
            .filter(|(_, leaf)| leaf.section == Some(at))
            .map(|(number, leaf)| SectionItem {
                title: leaf.title().to_owned(),
                page: self.place_of(number, places),
                ages: leaf.ages().clone(),
                facts: match &leaf.content {
                    Content::Dish(_, card) => card.times.iter().chain(&card.makes).cloned().collect(),
                    Content::Menu(..) => Vec::new(),
                },
                claims: match &leaf.content {
                    Content::Dish(_, card) => card.back.claims.items.iter().map(|claim| claim.text.clone()).collect(),
                    Content::Menu(_, card) => vec![super::words::capital(&card.feeding)],
                },
            })
            .collect();
        SectionPage { title: self.section_title(at).unwrap_or_default(), items }
    }
}

/// The annex of a word.
pub fn annex(word: &str) -> Option<Unit> {
    match word.to_lowercase().as_str() {
        "measures" => Some(Unit::Measures),
        "nutrients" => Some(Unit::Nutrients(0)),
        "index" => Some(Unit::Index),
        "sources" => Some(Unit::Sources),
        _ => None,
    }
}

/// What the address of a link to a page of the booklet begins with.
pub const PAGE_LINK: &str = "porringer-page:";

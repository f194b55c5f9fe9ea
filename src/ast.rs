//! What an author wrote, typed and placed. Nothing here is looked up yet:
//! foods are names, ingredients of a step are words.

use crate::quantity::{Exact, Measure, Range};
use crate::source::{Span, Spanned};

/// One parsed file.
#[derive(Debug, Clone, PartialEq)]
pub enum Document {
    Dish(Dish),
    Menu(Menu),
    Booklet(Booklet),
}

impl Document {
    pub fn header(&self) -> &Header {
        match self {
            Self::Dish(dish) => &dish.header,
            Self::Menu(menu) => &menu.header,
            Self::Booklet(booklet) => &booklet.header,
        }
    }

    /// Age of the youngest child it is for, completed months; the start of
    /// complementary feeding where it does not say.
    pub fn youngest(&self) -> u16 {
        self.header().ages.as_ref().map_or(6, |ages| ages.value.from)
    }
}

/// Prose with its translations.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    pub value: String,
    pub span: Span,
    pub translations: Vec<Translation>,
    /// Tags of `in TAG` lines without a text: still to be written, so the same
    /// as missing.
    pub stubs: Vec<Spanned<String>>,
}

impl Text {
    /// The text as a card in a language prints it: the author's own where there
    /// is none.
    pub fn printed(&self, tag: &str) -> &str {
        self.in_language(tag).unwrap_or(&self.value)
    }

    /// The text in a language, or the author's own when there is none.
    pub fn in_language(&self, tag: &str) -> Option<&str> {
        self.translations
            .iter()
            .find(|translation| translation.tag.eq_ignore_ascii_case(tag))
            .map(|translation| translation.value.as_str())
    }
}

/// `in TAG text`
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Translation {
    pub tag: String,
    pub value: String,
    pub span: Span,
}

/// What every kind of document may carry.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Header {
    pub title: Option<Text>,
    pub id: Option<Spanned<String>>,
    pub language: Vec<Spanned<String>>,
    pub ages: Option<Spanned<Ages>>,
    pub remarks: Vec<Remark>,
    pub season: Option<Spanned<Vec<u8>>>,
    pub reviewed: Option<Reviewed>,
    pub source: Option<Text>,
    pub picture: Option<Picture>,
    /// Lines that could not be read: checks that need every line keep silent
    /// about what one of these may have held.
    pub torn: Vec<TornLine>,
}

/// A line that could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TornLine {
    /// The keyword, or the one that was probably meant.
    pub keyword: String,
    /// The rest of the line in lower case.
    pub text: String,
}

impl Header {
    pub fn tore(&self, keyword: &str) -> bool {
        self.torn.iter().any(|line| line.keyword == keyword)
    }

    /// Whether an unreadable line of one of these keywords holds the word.
    pub fn torn_mentions(&self, keywords: &[&str], word: &str) -> bool {
        let word = word.to_lowercase();
        self.torn.iter().any(|line| keywords.contains(&line.keyword.as_str()) && line.text.contains(&word))
    }
}

/// Completed months of age, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ages {
    pub from: u16,
    /// `None` for "from 12 months".
    pub to: Option<u16>,
    /// Whether the children are breastfed, where the author says.
    pub breastfed: Option<bool>,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Dish {
    pub header: Header,
    pub makes: Option<Spanned<Makes>>,
    pub cooked: Option<Spanned<Cooked>>,
    pub portions: Vec<Portion>,
    pub claims: Vec<Claim>,
    pub diets: Vec<Spanned<String>>,
    /// The first has no name: lines above any `part`.
    pub parts: Vec<Part>,
    pub swaps: Vec<Swap>,
}

/// What comes out of the pot, or one serving of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Makes {
    /// A volume or a weight.
    Measured(Range, Measure),
    /// Pieces, with the author's word for them.
    Pieces(Range, String),
    /// `2 portions of 3/4 cup`
    Portions(Range, Option<(Range, Measure)>),
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cooked {
    Grams(Exact),
    /// Percent of the raw weight.
    Percent(Exact),
}

#[derive(Debug, Clone, PartialEq)]
pub struct Portion {
    pub ages: Option<Spanned<Ages>>,
    pub amount: Spanned<Makes>,
    pub span: Span,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClaimKind {
    SourceOf,
    RichIn,
    LowIn,
    FreeOf,
}

impl ClaimKind {
    pub fn words(self) -> &'static str {
        match self {
            Self::SourceOf => "source of",
            Self::RichIn => "rich in",
            Self::LowIn => "low in",
            Self::FreeOf => "free of",
        }
    }
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Claim {
    pub kind: ClaimKind,
    pub subject: Spanned<String>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Part {
    pub name: Option<Text>,
    pub takes: Vec<Take>,
    pub steps: Vec<Step>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Take {
    pub family: bool,
    /// The first is computed; the others are alternatives to it.
    pub options: Vec<TakeOption>,
    pub alias: Option<Spanned<String>>,
    /// The printed name in other languages, where the author gives it.
    pub translations: Vec<Translation>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq)]
pub struct TakeOption {
    pub amount: Amount,
    pub food: Spanned<FoodName>,
    pub states: Vec<Spanned<String>>,
    pub weight: Option<Spanned<Range>>,
    pub keep: Option<Spanned<Keep>>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// An alternative without an amount of its own takes the first one's.
    Missing,
    ToTaste(Span),
    Measured {
        range: Range,
        measure: Measure,
        span: Span,
    },
    /// A number and no unit: pieces of the food.
    Count {
        range: Range,
        span: Span,
    },
    /// Written, but not readable; a message has been given.
    Unreadable(Span),
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FoodName {
    Name(String),
    /// `usda:16032`
    Row {
        table: String,
        id: String,
    },
    /// `dish white-sauce`
    Dish(String),
}

/// A retention code that the author pins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    Code(u32),
    None,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    pub actions: Vec<Action>,
    pub prose: Option<Text>,
    /// Translations of a step without prose.
    pub translations: Vec<Translation>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Action {
    pub process: Spanned<String>,
    pub objects: Vec<Spanned<String>>,
    pub with: Vec<Spanned<String>>,
    pub medium: Option<Spanned<String>>,
    pub duration: Option<Spanned<Duration>>,
    pub heat: Option<HeatLevel>,
    pub celsius: Option<i64>,
    pub until: Option<Spanned<String>>,
    pub unattended: bool,
    /// A part of it could not be read; a message has been given.
    pub torn: bool,
    pub span: Span,
}

/// Minutes, or a cue that stands for them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Duration {
    Minutes {
        low: Exact,
        high: Exact,
        unit: TimeUnit,
    },
    Overnight,
    /// Whistles of a pressure cooker: a cue; its minutes are an estimate.
    Whistles(Range),
}

/// The unit in which an author wrote a duration, kept for print.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeUnit {
    Second,
    Minute,
    Hour,
    Day,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeatLevel {
    Low,
    Medium,
    High,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Swap {
    pub from: Spanned<String>,
    pub to: Vec<TakeOption>,
    pub span: Span,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RemarkKind {
    Serve,
    Store,
    Tip,
    Caution,
    Note,
}

impl RemarkKind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Serve => "serve",
            Self::Store => "store",
            Self::Tip => "tip",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }
}

#[derive(Debug, Clone, PartialEq)]
pub struct Remark {
    pub kind: RemarkKind,
    pub text: Text,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reviewed {
    pub day: time::Date,
    /// Who looked at it.
    pub by: Option<Text>,
    pub span: Span,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    pub path: Spanned<String>,
    pub description: Option<Text>,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Menu {
    pub header: Header,
    pub meals: Vec<Meal>,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Meal {
    pub snack: bool,
    /// Minutes after midnight.
    pub at: Spanned<u16>,
    pub name: Option<Text>,
    pub items: Vec<MealItem>,
    pub span: Span,
}

/// What is served at a meal: the first option is computed, the others may
/// stand in for it.
#[derive(Debug, Clone, PartialEq)]
pub struct MealItem {
    pub options: Vec<TakeOption>,
    pub span: Span,
}

/// Papers that pages can be set on.
pub const PAPERS: [&str; 4] = ["A4", "A5", "A6", "Letter"];
/// Words of an `annex` line.
pub const ANNEXES: [&str; 4] = ["measures", "nutrients", "index", "sources"];

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Booklet {
    pub header: Header,
    pub paper: Option<Spanned<String>>,
    pub entries: Vec<Entry>,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    Section(Text),
    Page { menu: bool, slug: Spanned<String> },
    Annex(Vec<Spanned<String>>),
}

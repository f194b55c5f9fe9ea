//! The keys of `porringer.toml`.

use toml::de::{DeTable, DeValue};

use crate::card::Worded;
use crate::card::locale::numbers::Digits;
use crate::diagnostic::{Code, Diagnostic, Sink, did_you_mean, quote};
use crate::reference::larder::Region;
use crate::reference::measure::Standard;
use crate::reference::practice::REVIEW_MONTHS;
use crate::reference::season::FoodSeason;
use crate::source::{Source, Span, Spanned};
use crate::workspace::rules::{self, RuleLine};
use crate::workspace::season;

pub use crate::ast::PAPERS;

#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Languages of the cards; the first is the prose's default. None: each
    /// card in the language of its prose.
    pub languages: Vec<String>,
    /// The same with their places.
    pub language_spans: Vec<Spanned<String>>,
    pub measures: Standard,
    pub tables: Vec<Spanned<String>>,
    pub larder: Vec<Spanned<String>>,
    pub profile: Option<Spanned<String>>,
    /// What foods cost, for shopping lists.
    pub prices: Option<Spanned<String>>,
    /// Only foods of this region are proposed; of any, where none is named.
    pub region: Option<Region>,
    /// In which months foods are to be had.
    pub season: Vec<FoodSeason>,
    pub paper: String,
    /// A built-in template, or a folder of the workspace.
    pub template: Spanned<String>,
    /// The same for a booklet's own pages.
    pub booklet_template: Spanned<String>,
    /// Output folder, from the workspace's root.
    pub out: Spanned<String>,
    /// Further font files, from the settings file's folder.
    pub fonts: Vec<Spanned<String>>,
    /// Which digits the cards have.
    pub digits: Digits,
    /// Printed on top of every card.
    pub programme: Option<String>,
    /// Printed at the foot of every card.
    pub footer: Option<Worded>,
    /// Age of a review, in months, from which it is stale.
    pub review_months: u16,
    /// Rules that are judged otherwise here.
    pub rules: Vec<RuleLine>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            languages: Vec::new(),
            language_spans: Vec::new(),
            measures: Standard::DEFAULT,
            tables: Vec::new(),
            larder: Vec::new(),
            profile: None,
            prices: None,
            region: None,
            season: Vec::new(),
            paper: "A5".to_owned(),
            template: Spanned::new("card".to_owned(), Span::default()),
            booklet_template: Spanned::new("booklet".to_owned(), Span::default()),
            out: Spanned::new("out".to_owned(), Span::default()),
            fonts: Vec::new(),
            digits: Digits::Usual,
            programme: None,
            footer: None,
            review_months: REVIEW_MONTHS,
            rules: Vec::new(),
        }
    }
}

const KEYS: &[&str] = &[
    "languages",
    "measures",
    "tables",
    "larder",
    "profile",
    "prices",
    "region",
    "season",
    "paper",
    "template",
    "booklet_template",
    "out",
    "fonts",
    "digits",
    "programme",
    "footer",
    "review_months",
    "rules",
];

impl Settings {
    /// Reads the settings; what is wrong keeps its default.
    pub fn read(source: &Source, sink: &mut Sink) -> Self {
        let mut settings = Self::default();
        let table = match DeTable::parse(&source.text) {
            Ok(table) => table,
            Err(error) => {
                let span = error.span().map_or(Span::default(), |span| Span::new(span.start, span.end));
                let message = error.message().lines().next().unwrap_or_default().to_lowercase();
                sink.push(
                    Diagnostic::new(Code::WorkspaceUnknownKey, span, format!("this is not TOML: {message}"))
                        .help("a line is written like this: `paper = \"A5\"`"),
                );
                return settings;
            }
        };
        for (key, value) in table.get_ref() {
            let place = Span::new(key.span().start, key.span().end);
            let value_span = Span::new(value.span().start, value.span().end);
            let name: &str = key.get_ref();
            let one = || Self::text(value.get_ref());
            let mut wrong = |what: &str| {
                sink.push(
                    Diagnostic::new(Code::WorkspaceUnknownKey, value_span, format!("`{name}` wants {what}"))
                        .help(format!("it is written like this: `{}`", pattern(name))),
                );
            };
            match name {
                "languages" => match list(value.get_ref()) {
                    Some(list) if !list.is_empty() => {
                        settings.languages = list.iter().map(|entry| entry.value.clone()).collect();
                        settings.language_spans = list;
                    }
                    _ => wrong("a list of language tags"),
                },
                "measures" => match one().as_deref().and_then(Standard::from_word) {
                    Some(standard) => settings.measures = standard,
                    None => {
                        let words: Vec<&str> = Standard::ALL.iter().map(|standard| standard.word()).collect();
                        wrong(&format!("one of {}", words.join(", ")));
                    }
                },
                "tables" | "larder" | "fonts" => match list(value.get_ref()) {
                    Some(list) => match name {
                        "tables" => settings.tables = list,
                        "larder" => settings.larder = list,
                        _ => settings.fonts = list,
                    },
                    None => wrong("a list of file names"),
                },
                "profile" => match one() {
                    Some(text) => settings.profile = Some(Spanned::new(text, value_span)),
                    None => wrong("a file name"),
                },
                "prices" => match one() {
                    Some(text) => settings.prices = Some(Spanned::new(text, value_span)),
                    None => wrong("a file name"),
                },
                "region" => match one() {
                    Some(text) => match Region::ALL.iter().find(|region| region.word() == text.trim()) {
                        Some(region) => settings.region = Some(*region),
                        None => {
                            let words = || Region::ALL.iter().map(|region| region.word());
                            let message = Diagnostic::new(
                                Code::WorkspaceUnknownKey,
                                value_span,
                                format!("{} is no region that is known here", quote(&text)),
                            );
                            sink.push(match did_you_mean(text.trim(), words()) {
                                Some(near) => message
                                    .help(format!("did you mean `{near}`?"))
                                    .fix(value_span, format!("\"{near}\"")),
                                None => {
                                    message.help(format!("the regions are {}", words().collect::<Vec<_>>().join(", ")))
                                }
                            });
                        }
                    },
                    None => wrong("a region's name"),
                },
                "season" => settings.season = season::read(value, sink),
                "paper" => match one().and_then(|text| paper(&text)) {
                    Some(paper) => settings.paper = paper.to_owned(),
                    None => wrong(&format!("one of {}", PAPERS.join(", "))),
                },
                "template" => match one() {
                    Some(text) => settings.template = Spanned::new(text, value_span),
                    None => wrong("a name or a folder"),
                },
                "booklet_template" => match one() {
                    Some(text) => settings.booklet_template = Spanned::new(text, value_span),
                    None => wrong("a name or a folder"),
                },
                "out" => match one() {
                    Some(text) => settings.out = Spanned::new(text, value_span),
                    None => wrong("a folder"),
                },
                "digits" => match one().as_deref().and_then(Digits::from_word) {
                    Some(digits) => settings.digits = digits,
                    None => wrong("`native` or `latin`"),
                },
                "programme" => match one() {
                    Some(text) => settings.programme = Some(text),
                    None => wrong("a text"),
                },
                "footer" => match worded(value.get_ref()) {
                    Some(text) => settings.footer = Some(text),
                    None => wrong("a text, or one for each language: `{ en = \"…\", sw = \"…\" }`"),
                },
                "review_months" => {
                    let months = match value.get_ref() {
                        DeValue::Integer(number) => number.as_str().parse().ok().filter(|months| *months > 0),
                        _ => None,
                    };
                    match months {
                        Some(months) => settings.review_months = months,
                        None => wrong("months"),
                    }
                }
                "rules" => settings.rules = rules::read(value, sink),
                _ => {
                    let mut message =
                        Diagnostic::new(Code::WorkspaceUnknownKey, place, format!("{} is no setting", quote(name)));
                    message = match did_you_mean(name, KEYS.iter().copied()) {
                        Some(near) => message.help(format!("did you mean `{near}`?")).fix(place, near),
                        None => message.help(format!("the settings are {}", KEYS.join(", "))),
                    };
                    sink.push(message);
                }
            }
        }
        settings
    }

    fn text(value: &DeValue<'_>) -> Option<String> {
        value.as_str().map(str::to_owned)
    }
}

/// The paper's usual spelling.
pub fn paper(word: &str) -> Option<&'static str> {
    PAPERS.into_iter().find(|paper| paper.eq_ignore_ascii_case(word))
}

/// One text, or one for each language: the first in the file stands for the
/// languages that have none.
fn worded(value: &DeValue<'_>) -> Option<Worded> {
    if let Some(text) = value.as_str() {
        return Some(Worded::plain(text.to_owned()));
    }
    let mut texts: Vec<(usize, (String, String))> = Vec::new();
    for (tag, text) in value.as_table()? {
        texts.push((tag.span().start, (tag.get_ref().to_string(), text.get_ref().as_str()?.to_owned())));
    }
    texts.sort_by_key(|(at, _)| *at);
    let texts: Vec<_> = texts.into_iter().map(|(_, text)| text).collect();
    (!texts.is_empty()).then_some(Worded { texts })
}

fn list(value: &DeValue<'_>) -> Option<Vec<Spanned<String>>> {
    value
        .as_array()?
        .iter()
        .map(|entry| {
            let span = Span::new(entry.span().start, entry.span().end);
            entry.get_ref().as_str().map(|text| Spanned::new(text.to_owned(), span))
        })
        .collect()
}

fn pattern(key: &str) -> &'static str {
    match key {
        "languages" => "languages = [\"en\", \"sw\"]",
        "measures" => "measures = \"metric\"",
        "tables" => "tables = [\"tables/national.csv\"]",
        "larder" => "larder = [\"larder.toml\"]",
        "profile" => "profile = \"guidance.toml\"",
        "prices" => "prices = \"prices.csv\"",
        "region" => "region = \"east-africa\"",
        "paper" => "paper = \"A5\"",
        "template" => "template = \"wall\"",
        "booklet_template" => "booklet_template = \"templates/own\"",
        "out" => "out = \"out\"",
        "fonts" => "fonts = [\"fonts/Own.ttf\"]",
        "digits" => "digits = \"native\"",
        "review_months" => "review_months = 24",
        "programme" => "programme = \"Lakeshore child-feeding circle\"",
        _ => "footer = \"Printed for the lakeshore health posts\"",
    }
}

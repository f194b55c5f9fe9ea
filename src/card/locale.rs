//! Words and numbers of one language, from its Fluent catalogue.

mod article;
pub mod numbers;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use icu_plurals::PluralCategory;
use unic_langid::LanguageIdentifier;

use self::numbers::{Digits, Numbers};
use crate::quantity::{Exact, Range, round_half_even};
use crate::reference::larder::FoodRow;

/// No-break space between a number and its unit.
pub const TIE: char = '\u{A0}';

/// Catalogues that come with the program.
const BUILT_IN: &[(&str, &str)] = &[
    ("en", include_str!("../../templates/locales/en.ftl")),
    ("sw", include_str!("../../templates/locales/sw.ftl")),
    ("fr", include_str!("../../templates/locales/fr.ftl")),
    ("hi", include_str!("../../templates/locales/hi.ftl")),
    ("am", include_str!("../../templates/locales/am.ftl")),
    ("ar", include_str!("../../templates/locales/ar.ftl")),
];

/// One language. Where its catalogue lacks a word, English stands in.
pub struct Locale {
    tag: String,
    numbers: Numbers,
    bundle: FluentBundle<FluentResource>,
    fallback: Option<Box<Locale>>,
}

impl std::fmt::Debug for Locale {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Locale").field("tag", &self.tag).finish_non_exhaustive()
    }
}

/// Languages the card's words are there for.
pub fn languages() -> impl Iterator<Item = &'static str> {
    BUILT_IN.iter().map(|(tag, _)| *tag)
}

/// The built-in catalogue of a language, as its file is.
pub fn catalogue(tag: &str) -> Option<&'static str> {
    BUILT_IN.iter().find(|(own, _)| *own == tag).map(|(_, text)| *text)
}

impl Locale {
    /// `None` where there is no catalogue for the language.
    pub fn new(tag: &str) -> Option<Self> {
        Self::with_digits(tag, Digits::Usual)
    }

    /// The same with a choice of digits.
    pub fn with_digits(tag: &str, digits: Digits) -> Option<Self> {
        let base = tag.split('-').next().unwrap_or(tag);
        let (_, text) = BUILT_IN.iter().find(|(own, _)| own.eq_ignore_ascii_case(base))?;
        // A damaged message costs that message; tests/locales reads every
        // catalogue without a fault.
        let resource = match FluentResource::try_new((*text).to_owned()) {
            Ok(resource) | Err((resource, _)) => resource,
        };
        let language: LanguageIdentifier = tag.parse().ok()?;
        let mut bundle = FluentBundle::new_concurrent(vec![language]);
        // The marks would be read aloud and copied out of the PDF.
        bundle.set_use_isolating(false);
        bundle.add_resource_overriding(resource);
        let fallback = if base.eq_ignore_ascii_case("en") { None } else { Self::new("en").map(Box::new) };
        Some(Self { tag: tag.to_owned(), numbers: Numbers::new(tag, digits), bundle, fallback })
    }

    pub fn tag(&self) -> &str {
        &self.tag
    }

    pub fn direction(&self) -> &'static str {
        match self.tag.split('-').next() {
            Some("ar" | "fa" | "he" | "ur" | "ps" | "ckb") => "rtl",
            _ => "ltr",
        }
    }

    pub fn has(&self, key: &str) -> bool {
        self.bundle.has_message(key)
    }

    fn format(&self, key: &str, arguments: Option<&FluentArgs<'_>>) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|message| message.value()) else {
            return match &self.fallback {
                Some(fallback) => fallback.format(key, arguments),
                None => key.to_owned(),
            };
        };
        let mut errors = Vec::new();
        self.bundle.format_pattern(pattern, arguments, &mut errors).into_owned()
    }

    /// A word without variables.
    pub fn word(&self, key: &str) -> String {
        self.format(key, None)
    }

    /// A sentence with texts in it.
    pub fn with(&self, key: &str, texts: &[(&str, String)]) -> String {
        let mut arguments = FluentArgs::new();
        for (name, text) in texts {
            arguments.set(*name, text.clone());
        }
        self.format(key, Some(&arguments))
    }

    /// A sentence whose grammar depends on a number, `$n`, from 0 up.
    pub fn counted(&self, key: &str, number: f64, texts: &[(&str, String)]) -> String {
        let mut arguments = FluentArgs::new();
        arguments.set("n", FluentValue::from(self.stands_for(number)));
        for (name, text) in texts {
            if *name != "n" {
                arguments.set(*name, text.clone());
            }
        }
        self.format(key, Some(&arguments))
    }

    /// The CLDR plural form of a number as it is printed here. A part of one
    /// (`½`) is read as half *a* cup, so it has the form of one.
    pub fn form(&self, number: f64) -> PluralCategory {
        let shown = if number > 0.0 && number < 1.0 { 1.0 } else { round_half_even(number, 3) };
        self.numbers.form(&plain(shown, 3))
    }

    /// Plural forms that the language has.
    pub fn forms(&self) -> Vec<PluralCategory> {
        self.numbers.forms()
    }

    /// A whole number with the same plural form: the catalogues' reader has rules
    /// of its own, which are ICU4X's only for whole numbers below a hundred.
    fn stands_for(&self, number: f64) -> f64 {
        if number.fract() == 0.0 && number < 100.0 {
            return number;
        }
        let form = self.form(number);
        (0..=100_u8).map(f64::from).find(|whole| self.form(*whole) == form).unwrap_or(number)
    }

    pub fn integer(&self, value: i64) -> String {
        self.numbers.written(&value.to_string())
    }

    /// Two digits, as minutes of a clock have.
    pub fn two_digits(&self, value: i64) -> String {
        self.numbers.written(&format!("{value:02}"))
    }

    /// A number with so many decimals, half to even.
    pub fn decimal(&self, value: f64, decimals: u8) -> String {
        self.numbers.written(&plain(round_half_even(value, decimals), decimals))
    }

    /// The same, keeping zeros at the end.
    pub fn fixed(&self, value: f64, decimals: u8) -> String {
        self.numbers.written(&format!("{:.*}", usize::from(decimals), round_half_even(value, decimals)))
    }

    /// A mixed number with the fraction as one sign: `1½`.
    pub fn exact(&self, value: Exact) -> String {
        let (whole, rest) = value.split();
        let shown = || self.numbers.written(&whole.to_string());
        if rest.is_zero() {
            return shown();
        }
        let sign = match (rest.numerator(), rest.denominator()) {
            (1, 2) => "½",
            (1, 3) => "⅓",
            (2, 3) => "⅔",
            (1, 4) => "¼",
            (3, 4) => "¾",
            (1, 8) => "⅛",
            (3, 8) => "⅜",
            (5, 8) => "⅝",
            (7, 8) => "⅞",
            _ => return self.decimal(value.value(), 2),
        };
        if whole == 0 { sign.to_owned() } else { format!("{}{sign}", shown()) }
    }

    pub fn range(&self, range: Range) -> String {
        if range.is_single() {
            return self.exact(range.low);
        }
        self.with("range", &[("low", self.exact(range.low)), ("high", self.exact(range.high))])
    }

    pub fn grams(&self, grams: f64) -> String {
        // A pinch weighs less than a gram; nobody weighs tenths of five grams.
        let decimals = if grams < 5.0 { 1 } else { 0 };
        self.with("grams", &[("n", self.decimal(grams, decimals))]).replace(' ', "\u{A0}")
    }

    /// A list in words.
    pub fn list(&self, items: &[String]) -> String {
        self.numbers.list(items)
    }

    /// `75 to 90 min`, `10 h 20 min`
    pub fn minutes(&self, range: (f64, f64)) -> String {
        // A night's soak is not planned to the minute: whole hours, outward.
        const LONG: f64 = 5.0 * 60.0;
        let range =
            if range.0 >= LONG { ((range.0 / 60.0).floor() * 60.0, (range.1 / 60.0).ceil() * 60.0) } else { range };
        let low = self.one_time(range.0);
        if (range.1 - range.0).abs() < 0.5 {
            return low;
        }
        if range.0 >= LONG {
            let both = self.with(
                "time-range",
                &[("low", self.integer((range.0 / 60.0) as i64)), ("high", self.integer((range.1 / 60.0) as i64))],
            );
            return self.tied("time-hours", both);
        }
        if range.1 < 100.0 {
            let both = self.with(
                "time-range",
                &[("low", self.integer(range.0.round() as i64)), ("high", self.integer(range.1.round() as i64))],
            );
            return self.tied("time-minutes", both);
        }
        self.with("time-range", &[("low", low), ("high", self.one_time(range.1))])
    }

    fn one_time(&self, minutes: f64) -> String {
        let minutes = minutes.round() as i64;
        let (hours, rest) = (minutes / 60, minutes % 60);
        let h = || self.tied(if hours == 1 { "time-hour" } else { "time-hours" }, self.integer(hours));
        let m = || self.tied("time-minutes", self.integer(rest));
        match (hours, rest) {
            (0, _) => m(),
            (_, 0) => h(),
            _ => self.with("time-both", &[("hours", h()), ("minutes", m())]),
        }
    }

    /// The title of a guidance profile: of one that comes with the program in
    /// the language of the card, else as its author wrote it.
    pub fn profile(&self, id: &str, title: &str) -> String {
        let key = format!("profile-{id}");
        if self.has(&key) { self.word(&key) } else { title.to_owned() }
    }

    /// A number with its unit, never parted at a line's end.
    pub fn tied(&self, key: &str, number: String) -> String {
        let text = self.with(key, &[("n", number)]);
        if text.split(' ').count() == 2 { text.replace(' ', &TIE.to_string()) } else { text }
    }

    /// Words in a row, as the states of a food: `raw, peeled`.
    pub fn in_a_row(&self, words: &[String]) -> String {
        words.join(&format!("{} ", self.word("comma")))
    }

    /// Ended as a sentence, unless it is one already.
    pub fn ended(&self, mut text: String) -> String {
        if !text.ends_with(['.', '!', '?', '।', '።', '؟']) {
            text.push_str(&self.word("stop"));
        }
        text
    }

    /// A larder row's name in print.
    pub fn food(&self, row: &FoodRow) -> String {
        row.printed(&self.tag).replace('\'', "’")
    }

    /// A food's name as the object of a verb, with an article where the language
    /// wants one: `les haricots rouges`.
    pub fn definite(&self, name: &str) -> String {
        if self.base() == "fr" { article::definite(name) } else { name.to_owned() }
    }

    /// The language without its region.
    fn base(&self) -> &str {
        self.tag.split('-').next().unwrap_or(&self.tag)
    }

    /// A dish's title in the middle of a line: languages differ in whether it
    /// keeps its capital there.
    pub fn title_in_line(&self, title: &str) -> String {
        if self.word("title-in-line") == "lower" { super::words::lower(title) } else { title.to_owned() }
    }

    /// A state of food. In the author's language the author's word stands.
    pub fn state(&self, state: &str, own: bool) -> String {
        let key = format!("state-{}", state.replace(' ', "-"));
        if own || !self.has(&key) { state.to_owned() } else { self.word(&key) }
    }
}

/// A number in digits with a point, without zeros at its end.
fn plain(value: f64, decimals: u8) -> String {
    let text = format!("{value:.*}", usize::from(decimals));
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_title_in_a_line_begins_as_the_language_has_it() {
        for tag in ["en", "sw", "fr"] {
            let locale = Locale::new(tag).unwrap();
            assert_eq!(locale.title_in_line("Mango sauce"), "mango sauce", "{tag}");
            assert_eq!(locale.title_in_line("ORS drink"), "ORS drink", "{tag}");
        }
    }

    #[test]
    fn numbers_are_written_for_print() {
        let locale = Locale::new("en").unwrap();
        assert_eq!(locale.exact(Exact::fraction(3, 2).unwrap()), "1½");
        assert_eq!(locale.minutes((60.0, 75.0)), "60 to 75\u{A0}min");
        assert_eq!(locale.minutes((78.0, 100.0)), "1\u{A0}h 18\u{A0}min to 1\u{A0}h 40\u{A0}min");
        assert_eq!(locale.minutes((558.0, 813.0)), "9 to 14\u{A0}h");
        assert_eq!(locale.list(&["a".into(), "b".into(), "c".into()]), "a, b and c");
    }
}

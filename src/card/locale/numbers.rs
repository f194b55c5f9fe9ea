//! Digits, decimals, plural forms and lists of one language, by CLDR through
//! ICU4X.

use icu_decimal::DecimalFormatter;
use icu_decimal::input::Decimal;
use icu_decimal::options::{DecimalFormatterOptions, GroupingStrategy};
use icu_list::ListFormatter;
use icu_list::options::ListFormatterOptions;
use icu_locale_core::Locale as Identifier;
use icu_plurals::{PluralCategory, PluralRules};

/// Which digits a card has, where its language has some of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Digits {
    /// Those that CLDR names first for the language.
    #[default]
    Usual,
    /// The digits of the language's script, where it has decimal ones.
    Native,
    /// 0 to 9.
    Latin,
}

impl Digits {
    pub const ALL: [(&'static str, Self); 2] = [("native", Self::Native), ("latin", Self::Latin)];

    /// As the setting `digits` spells it.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(own, _)| *own == word).map(|(_, digits)| *digits)
    }
}

/// Decimal digits of the languages that have some besides 0 to 9 (CLDR,
/// `numbers.xml`, `native`). Ethiopic numerals are not decimal, so Amharic
/// keeps 0 to 9.
const NATIVE: &[(&str, &str)] = &[
    ("ar", "arab"),
    ("bn", "beng"),
    ("fa", "arabext"),
    ("hi", "deva"),
    ("mr", "deva"),
    ("my", "mymr"),
    ("ne", "deva"),
    ("ps", "arabext"),
    ("ur", "arabext"),
];

pub struct Numbers {
    // Where ICU4X has no data for a language, English stands in: none of these
    // is missing for a language with a catalogue (a test holds that).
    decimal: Option<DecimalFormatter>,
    list: Option<ListFormatter>,
    plural: Option<PluralRules>,
}

impl Numbers {
    pub fn new(tag: &str, digits: Digits) -> Self {
        let base = tag.split('-').next().unwrap_or(tag).to_lowercase();
        let system = match digits {
            Digits::Usual => None,
            Digits::Latin => Some("latn"),
            Digits::Native => Some(NATIVE.iter().find(|(own, _)| *own == base).map_or("latn", |(_, system)| system)),
        };
        let identifier = |extension: &str| -> Identifier {
            // The prose of this project is British: no comma before "and".
            let tag = if tag == "en" { "en-GB" } else { tag };
            format!("{tag}{extension}").parse().unwrap_or(Identifier::UNKNOWN)
        };
        let numbered = identifier(&system.map(|system| format!("-u-nu-{system}")).unwrap_or_default());
        let mut options = DecimalFormatterOptions::default();
        // No card has a number of five digits, and a comma or a point among
        // four is read as a decimal sign.
        options.grouping_strategy = Some(GroupingStrategy::Never);
        let plain = identifier("");
        Self {
            decimal: DecimalFormatter::try_new((&numbered).into(), options).ok(),
            list: ListFormatter::try_new_and((&plain).into(), ListFormatterOptions::default()).ok(),
            plural: PluralRules::try_new_cardinal((&plain).into()).ok(),
        }
    }

    /// A number that is written with digits, `-`, `.`: `-1.50`.
    pub fn written(&self, text: &str) -> String {
        match (&self.decimal, text.parse::<Decimal>()) {
            (Some(formatter), Ok(number)) => formatter.format(&number).to_string(),
            _ => text.to_owned(),
        }
    }

    /// The plural form of a number that is written like this.
    pub fn form(&self, text: &str) -> PluralCategory {
        match (&self.plural, text.parse::<Decimal>()) {
            (Some(rules), Ok(number)) => rules.category_for(&number),
            _ => PluralCategory::Other,
        }
    }

    /// The forms that the language has.
    pub fn forms(&self) -> Vec<PluralCategory> {
        self.plural.as_ref().map(|rules| rules.categories().collect()).unwrap_or_default()
    }

    /// Items joined in words: `a, b and c`.
    pub fn list(&self, items: &[String]) -> String {
        match &self.list {
            Some(formatter) => formatter.format(items.iter()).to_string(),
            None => items.join(", "),
        }
    }
}

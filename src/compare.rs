//! Two states of a document, and what differs for the child first of all.
//!
//! Held side by side is what the card prints, after its rounding: figures
//! that print the same are the same. Only then come the author's lines and
//! words. A comment, a blank or a line end is no difference at all.

mod day;
mod facts;
pub mod human;
mod lines;
pub mod markdown;
pub mod sections;
pub mod words;

use serde::Serialize;

use crate::card::{Imprint, Locale};
use crate::check::Checked;
use crate::diagnostic::Severity;
use crate::reference::Reference;
use crate::syntax::Kind;

use facts::Facts;
pub use facts::NOTICED;
use lines::{gains, many};
pub use words::TextChange;

/// Name and version of the data.
pub const SCHEMA: &str = "porringer-compare/1";
/// The language in which the program speaks of figures and steps.
pub const READING: &str = "en";
/// Said where the printed cards are equal.
pub const NOTHING: &str = "nothing that a caregiver would notice";

/// One state of a document, with what it was checked by.
pub struct Side<'a> {
    pub file: &'a Checked,
    /// Path as it is shown.
    pub name: String,
    pub reference: &'a Reference,
    /// Languages of its cards.
    pub languages: Vec<String>,
    /// Language of its prose.
    pub own_language: String,
    pub imprint: &'a Imprint,
}

/// All that differs between two states of a set of documents.
#[derive(Debug, Clone, Serialize)]
pub struct Comparison {
    pub schema: &'static str,
    pub before: String,
    pub after: String,
    /// Whether a caregiver would notice anything.
    pub noticed: bool,
    pub new: Vec<Named>,
    pub removed: Vec<Named>,
    pub changed: Vec<Change>,
    /// Documents in which nothing differs that this comparison looks at.
    pub same: usize,
}

/// A document that is only there before or after.
#[derive(Debug, Clone, Serialize)]
pub struct Named {
    pub kind: &'static str,
    pub id: String,
    pub title: String,
    pub file: String,
}

/// What differs in one document.
#[derive(Debug, Clone, Serialize)]
pub struct Change {
    #[serde(flatten)]
    pub named: Named,
    /// The file's name before, where it is another.
    pub was: Option<String>,
    /// Whether the printed cards differ, sources of figures apart.
    pub noticed: bool,
    /// Errors before and after: a document with errors has no card.
    pub errors: [usize; 2],
    pub child: Child,
    pub ingredients: Vec<Pair>,
    pub steps: Vec<Pair>,
    pub times: Vec<Pair>,
    /// Lines of a menu or a booklet.
    pub lines: Vec<Pair>,
    /// The author's prose in every language, word by word.
    pub texts: Vec<TextChange>,
    /// Further parts of the card that differ.
    pub elsewhere: Vec<String>,
    /// The card's lines on where its figures come from.
    pub sources: Gains,
}

/// What reaches the child, as the card prints it.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Child {
    pub bands: Vec<Band>,
    pub claims: Gains,
    pub messages: Gains,
    pub ages: Option<Pair>,
    pub food_groups: Gains,
    pub allergens: Gains,
    pub family_allergens: Gains,
    pub cautions: Gains,
}

/// A portion of a dish, or a menu's day, at one age.
#[derive(Debug, Clone, Serialize)]
pub struct Band {
    /// `portion` or `day`.
    pub of: &'static str,
    /// The profile's key, such as `9-11`.
    pub band: String,
    /// The ages in words.
    pub ages: String,
    pub nutrients: Vec<NutrientChange>,
    /// Energy in all and for each gram.
    pub energy: Vec<Pair>,
    pub portion: Option<Pair>,
}

/// One component in a portion.
#[derive(Debug, Clone, Serialize)]
pub struct NutrientChange {
    /// INFOODS tagname.
    pub tag: String,
    pub unit: String,
    /// Unrounded, in that unit; null where it is not known.
    pub values: [Option<f64>; 2],
    #[serde(flatten)]
    pub printed: Pair,
}

/// Something before and after; null on the side where it is not.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Pair {
    pub what: String,
    pub before: Option<String>,
    pub after: Option<String>,
}

impl Pair {
    fn of(what: &str, before: Option<String>, after: Option<String>) -> Option<Self> {
        (before != after).then(|| Self { what: what.to_owned(), before, after })
    }
}

/// What came and what went.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Gains {
    pub gained: Vec<String>,
    pub lost: Vec<String>,
}

impl Gains {
    pub fn is_empty(&self) -> bool {
        self.gained.is_empty() && self.lost.is_empty()
    }
}

impl Band {
    fn is_empty(&self) -> bool {
        self.nutrients.is_empty() && self.energy.is_empty() && self.portion.is_none()
    }
}

impl Child {
    fn is_empty(&self) -> bool {
        let gains =
            [&self.claims, &self.messages, &self.food_groups, &self.allergens, &self.family_allergens, &self.cautions];
        self.bands.is_empty() && self.ages.is_none() && gains.iter().all(|gains| gains.is_empty())
    }
}

impl Change {
    /// Whether there is nothing at all to say.
    pub fn is_empty(&self) -> bool {
        let Self { named: _, was, noticed, errors, child, ingredients, steps, times, lines, texts, elsewhere, sources } =
            self;
        let [before, after] = errors;
        was.is_none()
            && !noticed
            && before == after
            && child.is_empty()
            && [ingredients, steps, times, lines].iter().all(|pairs| pairs.is_empty())
            && texts.is_empty()
            && elsewhere.is_empty()
            && sources.is_empty()
    }
}

impl Named {
    pub fn of(file: &Checked, name: &str) -> Self {
        let stem = std::path::Path::new(name).file_stem().map(|stem| stem.to_string_lossy().into_owned());
        let header = file.document.header();
        let id = header.id.as_ref().map(|id| id.value.clone()).or(stem).unwrap_or_default();
        Self {
            kind: file.tree.kind.word(),
            title: header.title.as_ref().map_or_else(|| id.clone(), |title| title.value.clone()),
            id,
            file: name.to_owned(),
        }
    }
}

/// Compares two states of one document. `locales` holds the reading language
/// and those of the cards; a language that is not among them is passed over.
pub fn compare(before: &Side<'_>, after: &Side<'_>, locales: &[Locale]) -> Change {
    let errors = [before, after]
        .map(|side| side.file.diagnostics.iter().filter(|message| message.severity == Severity::Error).count());
    let mut change = Change {
        named: Named::of(after.file, &after.name),
        was: (before.name != after.name).then(|| before.name.clone()),
        noticed: false,
        errors,
        child: Child { messages: messages(before, after), ..Child::default() },
        ingredients: Vec::new(),
        steps: Vec::new(),
        times: Vec::new(),
        lines: Vec::new(),
        texts: words::texts(before, after),
        elsewhere: Vec::new(),
        sources: Gains::default(),
    };
    let [broken_before, broken_after] = errors.map(|count| count > 0);
    // A card that is no longer made, or made at last, is noticed.
    change.noticed = broken_before != broken_after;
    let Some(reading) = locales.iter().find(|locale| locale.tag() == READING) else { return change };
    match (Facts::of(before, reading), Facts::of(after, reading)) {
        (Some(old), Some(new)) => facts::differences(&old, &new, &mut change),
        (None, None) => {
            change.lines = many(&lines::of(before), &lines::of(after), "line");
            day::differences(before, after, reading, &mut change);
            // A booklet has no card of its own to look at.
            let booklet = after.file.tree.kind == Kind::Booklet;
            change.noticed |= booklet && (!change.lines.is_empty() || !change.texts.is_empty());
        }
        _ => change.noticed = true,
    }
    facts::cards(before, after, locales, &mut change);
    change
}

/// Messages that came or went, by their words. Notes are for the card, and
/// are compared there.
fn messages(before: &Side<'_>, after: &Side<'_>) -> Gains {
    let of = |side: &Side<'_>| -> Vec<String> {
        side.file
            .diagnostics
            .iter()
            .filter(|message| message.severity > Severity::Note)
            .map(|message| format!("{}[{}] {}", message.severity.word(), message.code.name(), message.message))
            .collect()
    };
    gains(&of(before), &of(after))
}

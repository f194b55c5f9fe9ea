//! The larder: everyday foods with their names, composition rows, household
//! weights, classes and hazards.

pub mod row;

use std::borrow::Cow;
use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, OnceLock};

pub use row::{FoodClass, FoodGroup, FoodRow, Region};

use unicode_normalization::UnicodeNormalization;

use crate::diagnostic::quote;

#[derive(Debug, Clone)]
pub struct Larder {
    rows: Vec<Arc<FoodRow>>,
    /// Normalised name → rows, in the order of the files.
    by_name: HashMap<String, Vec<u32>>,
    by_composition: HashMap<String, Vec<u32>>,
    /// Every state word of any row.
    states: BTreeSet<String>,
}

/// The larder of a workspace. The built-in one is decoded when a food is first
/// asked for: a build in which nothing changed asks for none.
#[derive(Debug, Clone)]
pub enum Foods {
    BuiltIn,
    Own(Arc<Larder>),
}

impl std::ops::Deref for Foods {
    type Target = Larder;

    fn deref(&self) -> &Larder {
        match self {
            Self::BuiltIn => Larder::built_in(),
            Self::Own(larder) => larder,
        }
    }
}

impl Larder {
    /// The larder that is embedded in the program, decoded once.
    pub fn built_in() -> &'static Self {
        static LARDER: OnceLock<Larder> = OnceLock::new();
        LARDER.get_or_init(|| {
            // Written by build.rs from checked files; a test reads it back.
            let bytes = include_bytes!(concat!(env!("OUT_DIR"), "/larder.postcard"));
            Self::new(postcard::from_bytes(bytes).unwrap_or_default())
        })
    }

    pub fn new(rows: Vec<FoodRow>) -> Self {
        let mut larder =
            Self { rows: Vec::new(), by_name: HashMap::new(), by_composition: HashMap::new(), states: BTreeSet::new() };
        larder.extend(rows);
        larder
    }

    /// Adds rows; a row with the id of an older one takes its place.
    pub fn extend(&mut self, rows: Vec<FoodRow>) {
        let mut places: HashMap<String, usize> =
            self.rows.iter().enumerate().map(|(at, row)| (row.id.clone(), at)).collect();
        for row in rows {
            match places.get(&row.id).and_then(|at| self.rows.get_mut(*at)) {
                Some(old) => *old = Arc::new(row),
                None => {
                    places.insert(row.id.clone(), self.rows.len());
                    self.rows.push(Arc::new(row));
                }
            }
        }
        self.by_name.clear();
        self.by_name.reserve(self.rows.len() * 3);
        self.by_composition.clear();
        self.by_composition.reserve(self.rows.len());
        for (at, row) in self.rows.iter().enumerate() {
            let at = at as u32;
            for name in row.names() {
                let rows = self.by_name.entry(normal_name(name)).or_default();
                if rows.last() != Some(&at) {
                    rows.push(at);
                }
            }
            for state in &row.states {
                if !self.states.contains(state) {
                    self.states.insert(state.clone());
                }
            }
            self.by_composition.entry(row.row.clone()).or_default().push(at);
        }
        // A food that borrows a row must not stand for the food whose row it is.
        for places in self.by_composition.values_mut() {
            places.sort_by_key(|at| self.rows.get(*at as usize).is_some_and(|row| row.borrowed.is_some()));
        }
    }

    pub fn states(&self) -> &BTreeSet<String> {
        &self.states
    }

    pub fn rows(&self) -> &[Arc<FoodRow>] {
        &self.rows
    }

    /// Every row that answers to a name in any language, whatever the plural.
    pub fn named(&self, name: &str) -> Vec<Arc<FoodRow>> {
        self.pick(self.by_name.get(&normal_name(name)))
    }

    /// Rows that stand on a composition row, such as `usda:16032`.
    pub fn on_row(&self, row: &str) -> Vec<Arc<FoodRow>> {
        self.pick(self.by_composition.get(row))
    }

    fn pick(&self, found: Option<&Vec<u32>>) -> Vec<Arc<FoodRow>> {
        found.into_iter().flatten().filter_map(|at| self.rows.get(*at as usize).cloned()).collect()
    }

    /// Names near to one that was not found, best first.
    pub fn near(&self, name: &str, limit: usize) -> Vec<String> {
        // No food has so long a name, and the search grows with its length.
        const LONGEST: usize = 60;
        if name.len() > LONGEST {
            return Vec::new();
        }
        let wanted = normal_name(name);
        let words: Vec<&str> = wanted.split(' ').collect();
        let allowed = (wanted.chars().count() / 3).max(1);
        let mut found: Vec<(usize, String)> = Vec::new();
        for row in &self.rows {
            let best = row
                .names()
                .filter_map(|candidate| {
                    let normal = normal_name(candidate);
                    let distance = strsim::osa_distance(&wanted, &normal);
                    let shared = normal
                        .split(' ')
                        .filter(|word| word.chars().count() > 2 && words.iter().any(|other| near_word(word, other)))
                        .count();
                    if distance <= allowed {
                        Some(distance)
                    } else if shared > 0 {
                        Some(100 + distance - shared.min(9) * 10)
                    } else {
                        None
                    }
                })
                .min();
            if let Some(rank) = best {
                found.push((rank, row.printed("en").to_owned()));
            }
        }
        found.sort();
        let mut names: Vec<String> = Vec::new();
        for (_, name) in found {
            if !names.contains(&name) {
                names.push(name);
            }
            if names.len() == limit {
                break;
            }
        }
        names
    }
}

impl Larder {
    /// What to say of a name, with or without states, that no row answers to:
    /// the message and its help.
    pub fn no_such_food(&self, food: &str) -> (String, String) {
        let name = food.split(',').next().unwrap_or_default();
        let forms: Vec<String> = self.named(name).iter().map(|row| row.full_name()).collect();
        let help = match (forms.as_slice(), self.near(name, 1).into_iter().next()) {
            ([], Some(near)) => format!("did you mean `{near}`? Names are those of `porringer foods`"),
            ([], None) => "write a name that `porringer foods` knows".to_owned(),
            (forms, _) => format!("say which: {}", forms.join("; ")),
        };
        (format!("no food is called {}", quote(food)), help)
    }
}

fn near_word(a: &str, b: &str) -> bool {
    a == b || (a.chars().count() > 4 && strsim::osa_distance(a, b) <= 1)
}

impl FoodRow {
    /// Names in every language.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.en.iter().chain(&self.sw).chain(&self.fr).map(String::as_str)
    }

    /// The name to print in a language; English where there is none.
    pub fn printed(&self, language: &str) -> &str {
        let list = match language.split('-').next().unwrap_or_default() {
            "sw" if !self.sw.is_empty() => &self.sw,
            "fr" if !self.fr.is_empty() => &self.fr,
            _ => &self.en,
        };
        list.first().map_or(self.id.as_str(), String::as_str)
    }

    /// Whether [`FoodRow::printed`] gives a name in this language.
    pub fn has_name_in(&self, language: &str) -> bool {
        match language.split('-').next().unwrap_or_default() {
            "sw" => !self.sw.is_empty(),
            "fr" => !self.fr.is_empty(),
            base => base == "en",
        }
    }

    /// Name and first state, as an author would write it to mean this row.
    pub fn full_name(&self) -> String {
        let name = self.printed("en");
        match self.states.first() {
            Some(state) => format!("{name}, {state}"),
            None => name.to_owned(),
        }
    }

    pub fn has_hazard(&self, tag: &str) -> bool {
        self.hazards.iter().any(|hazard| hazard == tag)
    }

    /// A row of food that keeps over the seasons.
    pub fn is_kept(&self) -> bool {
        const KEPT: [&str; 9] =
            ["dry", "dried", "powdered", "canned", "tinned", "smoked", "salted", "frozen", "pickled"];
        self.states.iter().any(|state| KEPT.contains(&state.as_str()))
    }

    /// A row of dried food.
    pub fn is_dried(&self) -> bool {
        self.states.iter().any(|state| matches!(state.as_str(), "dried" | "dry"))
    }

    /// A row of cooked food: further heat only warms it.
    pub fn is_cooked(&self) -> bool {
        const COOKED: [&str; 12] = [
            "cooked",
            "boiled",
            "steamed",
            "baked",
            "fried",
            "roasted",
            "grilled",
            "simmered",
            "braised",
            "stewed",
            "scrambled",
            "blanched",
        ];
        self.states.iter().any(|state| COOKED.contains(&state.as_str()))
    }
}

/// Lower case, composed, one blank between words, each word in the singular.
/// Names and queries both pass through here, so the singular only has to be
/// the same on both sides, not correct. Every name of the larder does so when
/// the program starts, so nothing is allocated for a word.
pub fn normal_name(name: &str) -> String {
    let lower = if name.is_ascii() {
        if name.bytes().any(|byte| byte.is_ascii_uppercase()) {
            Cow::Owned(name.to_ascii_lowercase())
        } else {
            Cow::Borrowed(name)
        }
    } else if unicode_normalization::is_nfc(name) {
        Cow::Owned(name.to_lowercase().replace('’', "'"))
    } else {
        Cow::Owned(name.nfc().collect::<String>().to_lowercase().replace('’', "'"))
    };
    let mut normal = String::with_capacity(lower.len());
    for word in lower.split(|c: char| c.is_whitespace() || c == '-').filter(|word| !word.is_empty()) {
        if !normal.is_empty() {
            normal.push(' ');
        }
        let (stem, ending) = singular(word.trim_matches('\''));
        normal.push_str(stem);
        normal.push_str(ending);
    }
    normal
}

/// A word without its plural ending, and the ending it has in the singular.
fn singular(word: &str) -> (&str, &'static str) {
    const PLURALS: [(&str, &str); 9] = [
        ("ies", "y"),
        ("aves", "af"),
        ("oaves", "oaf"),
        ("alves", "alf"),
        ("oes", "o"),
        ("ches", "ch"),
        ("shes", "sh"),
        ("xes", "x"),
        ("s", ""),
    ];
    let short = word.chars().nth(3).is_none();
    if !word.ends_with('s') || short || word.ends_with("ss") || word.ends_with("us") || word.ends_with("is") {
        return (word, "");
    }
    let found = PLURALS.iter().find_map(|(plural, one)| Some((word.strip_suffix(plural)?, *one)));
    found.unwrap_or((word, ""))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn plural_and_case_are_one_name() {
        assert_eq!(normal_name("Tomatoes"), normal_name("tomato"));
        assert_eq!(normal_name("Sweet  potato-leaves"), normal_name("sweet potato leaf"));
        assert_eq!(normal_name("chick-peas"), normal_name("chick pea"));
    }

    #[test]
    fn the_embedded_larder_decodes() {
        let larder = Larder::built_in();
        assert!(larder.rows().len() >= 850, "{}", larder.rows().len());
        assert!(!larder.named("Red kidney beans").is_empty());
        // Sardines borrow the row of herring.
        assert_eq!(larder.on_row("usda:15039").first().map(|row| row.id.as_str()), Some("herring-raw"));
    }
}

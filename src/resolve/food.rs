//! Names of foods to composition rows.

mod fault;
mod inferred;

use std::sync::Arc;

use crate::ast::{FoodName, TakeOption};
use crate::diagnostic::{Changed, Sink};
use crate::reference::larder::{FoodClass, FoodGroup, FoodRow};
use crate::reference::nutrient::NutrientId;
use crate::reference::table::{self, Mark, Table};
use crate::reference::{Reference, composition};
use crate::resolve::tables;
use crate::source::Spanned;

/// A food as the computation sees it.
#[derive(Debug, Clone)]
pub struct Food {
    pub larder: Option<Arc<FoodRow>>,
    pub figures: Figures,
    pub class: FoodClass,
    /// The class was read off the composition row's group, not the larder.
    pub class_inferred: bool,
    /// `None` where nobody has said.
    pub group: Option<FoodGroup>,
    /// States that describe the preparation, not the choice of the row.
    pub preparation: Vec<String>,
    /// A row of food that is cooked already.
    pub cooked: bool,
}

/// Where a food's values stand.
#[derive(Debug, Clone)]
pub enum Figures {
    BuiltIn(composition::Row),
    Table(Arc<Table>, usize),
    Dish(Arc<PreparedDish>),
}

/// Another dish of the workspace, as an ingredient.
#[derive(Debug, Clone)]
pub struct PreparedDish {
    pub id: String,
    pub title: String,
    /// Language tag and title.
    pub titles: Vec<(String, String)>,
    /// Its cooked weight or one of its weights is an estimate.
    pub estimated: bool,
    /// As the dish leaves the pot.
    pub texture: Option<crate::reference::process::Texture>,
    /// Per 100 g cooked, where every part of the dish is known.
    pub per_100g: Vec<Option<f64>>,
    /// The same before heat took its share: what a limit is held against.
    pub before_heat_per_100g: Vec<Option<f64>>,
    /// The lowest and highest of these, where its author wrote ranges.
    pub ends: Option<Vec<Option<crate::compute::Ends>>>,
    pub density: Option<f64>,
    pub allergens: Vec<String>,
    pub hazards: Vec<String>,
    pub groups: Vec<FoodGroup>,
    /// Minutes from start to end, if it is made for this.
    pub minutes: (f64, f64),
    /// What a menu needs beyond that.
    pub served: crate::resolve::menu::Served,
    /// Attended minutes of these.
    pub hands_on: (f64, f64),
    /// Where the workspace's changes of rules met it.
    pub changed: Vec<Changed>,
}

impl PreparedDish {
    /// The title in a language; the author's own where there is none.
    pub fn title_in(&self, language: &str) -> &str {
        self.titles
            .iter()
            .find(|(tag, _)| tag.eq_ignore_ascii_case(language))
            .map_or(self.title.as_str(), |(_, title)| title.as_str())
    }
}

/// What the workspace answers when a dish asks for another.
pub enum DishAnswer {
    Found(Arc<PreparedDish>),
    /// Names of all dishes, for did-you-mean.
    Unknown(Vec<String>),
    /// The whole circle, first name repeated at the end.
    Circle(Vec<String>),
    /// It is there but has errors of its own.
    Broken,
}

/// Gives a dish of the workspace by its name.
pub trait DishBook {
    fn dish(&self, name: &str) -> DishAnswer;

    /// Names of the workspace's menus.
    fn menus(&self) -> Vec<String> {
        Vec::new()
    }
}

/// A book without dishes.
pub struct NoDishes;

impl DishBook for NoDishes {
    fn dish(&self, _: &str) -> DishAnswer {
        DishAnswer::Unknown(Vec::new())
    }
}

impl Food {
    /// Per 100 g: the row's own figure, or that of the row that fills its gaps.
    pub fn value(&self, id: NutrientId) -> Option<f64> {
        self.own_value(id).or_else(|| self.filled(id))
    }

    /// The USDA row that the larder names for what the food's own row does not
    /// say.
    pub fn fill(&self) -> Option<composition::Row> {
        usda_row(self.larder.as_ref()?.fill.as_ref()?)
    }

    /// A figure that is not the row's own. A trace is no gap.
    pub fn filled(&self, id: NutrientId) -> Option<f64> {
        if self.own_value(id).is_some() || self.mark(id).is_some() { None } else { self.fill()?.value(id) }
    }

    /// The figure of the food's own row.
    pub fn own_value(&self, id: NutrientId) -> Option<f64> {
        match &self.figures {
            Figures::BuiltIn(row) => row.value(id),
            Figures::Table(table, at) => {
                table.rows.get(*at).and_then(|row| row.amount(id)).and_then(table::Amount::value)
            }
            Figures::Dish(dish) => dish.per_100g.get(id.index()).copied().flatten(),
        }
    }

    /// What a table says of a component beside its figure, or in its place.
    pub fn mark(&self, id: NutrientId) -> Option<Mark> {
        match &self.figures {
            Figures::Table(table, at) => table.rows.get(*at).and_then(|row| row.mark(id)),
            Figures::BuiltIn(_) | Figures::Dish(_) => None,
        }
    }

    /// `usda:16032`, `fndds:1077`, `dish white-sauce`
    pub fn row_id(&self) -> String {
        match &self.figures {
            Figures::BuiltIn(row) => format!("usda:{}", row.ndb()),
            Figures::Table(table, at) => {
                format!("{}:{}", table.stem, table.rows.get(*at).map_or("", |row| row.id.as_str()))
            }
            Figures::Dish(dish) => format!("dish {}", dish.id),
        }
    }

    /// The row's own description.
    pub fn row_name(&self) -> String {
        match &self.figures {
            Figures::BuiltIn(row) => row.name().to_owned(),
            Figures::Table(table, at) => table.rows.get(*at).map(|row| row.name.clone()).unwrap_or_default(),
            Figures::Dish(dish) => dish.title.clone(),
        }
    }

    pub fn has_hazard(&self, tag: &str) -> bool {
        match &self.figures {
            Figures::Dish(dish) => dish.hazards.iter().any(|hazard| hazard == tag),
            _ => self.larder.as_ref().is_some_and(|row| row.has_hazard(tag)) || self.inferred_hazard(tag),
        }
    }

    pub fn hazards(&self) -> Vec<String> {
        match &self.figures {
            Figures::Dish(dish) => dish.hazards.clone(),
            _ => self.larder.as_ref().map(|row| row.hazards.clone()).unwrap_or_default(),
        }
    }

    pub fn allergens(&self) -> Vec<String> {
        match &self.figures {
            Figures::Dish(dish) => dish.allergens.clone(),
            _ => self.larder.as_ref().map(|row| row.allergens.clone()).unwrap_or_default(),
        }
    }

    pub fn groups(&self) -> Vec<FoodGroup> {
        match &self.figures {
            Figures::Dish(dish) => dish.groups.clone(),
            _ => self.group.into_iter().collect(),
        }
    }
}

/// The row of `usda:16032`.
fn usda_row(row: &str) -> Option<composition::Row> {
    row.strip_prefix("usda:")?.parse().ok().and_then(composition::row)
}

/// Words that say how a food was preserved or cooked. Written, they must fit
/// the row; they are never taken for a mere preparation.
pub(super) const FORMS: &[&str] = &[
    "dry",
    "dried",
    "cooked",
    "boiled",
    "canned",
    "tinned",
    "fried",
    "roasted",
    "toasted",
    "steamed",
    "baked",
    "smoked",
    "sprouted",
    "fermented",
    "powdered",
    "condensed",
    "evaporated",
    "grilled",
    "stewed",
    "raw",
    // Other foods under the same name: what is in them differs.
    "skimmed",
    "semi-skimmed",
    "brown",
    "white",
    "yolk",
    "corned",
    "frozen",
    "sweetened",
    "salted",
    "candied",
    "pickled",
    "instant",
    "flavoured",
    "strawberry",
    "sun-dried",
];

/// Words that say how a food is cut or cleaned.
pub const PREPARATIONS: &[&str] = &[
    "peeled",
    "unpeeled",
    "cubed",
    "diced",
    "chopped",
    "sliced",
    "grated",
    "mashed",
    "ground",
    "minced",
    "whole",
    "halved",
    "quartered",
    "boned",
    "deboned",
    "shelled",
    "hulled",
    "seeded",
    "pitted",
    "stoned",
    "washed",
    "trimmed",
    "sieved",
    "smooth",
    "crunchy",
    "ripe",
    "unripe",
    "fresh",
    "thick",
    "thin",
    "warm",
    "cold",
    "melted",
    "beaten",
    "crushed",
    "pounded",
    "shredded",
    "flaked",
    "skinless",
    "lean",
    "young",
    "finely",
    "coarsely",
    "cleaned",
    "iodised",
    "unsalted",
    "pasteurised",
    "soft",
    "firm",
    "split",
    "skinned",
];

/// The food of one option, or a message why there is none.
pub fn find(option: &TakeOption, reference: &Reference, book: &dyn DishBook, sink: &mut Sink) -> Option<Food> {
    let span = option.food.span;
    match &option.food.value {
        FoodName::Row { table, id } => by_row(table, id, option, reference, sink),
        FoodName::Dish(name) => match book.dish(name) {
            DishAnswer::Found(dish) => Some(Food {
                larder: None,
                figures: Figures::Dish(dish),
                class: FoodClass::Other,
                class_inferred: false,
                group: None,
                preparation: states(option),
                cooked: true,
            }),
            DishAnswer::Unknown(names) => {
                sink.push(fault::no_dish(name, &names, span));
                None
            }
            DishAnswer::Circle(names) => {
                sink.push(fault::circle(&names, span));
                None
            }
            DishAnswer::Broken => {
                sink.push(fault::broken(name, span));
                None
            }
        },
        FoodName::Name(name) => by_name(name, option, reference, sink),
    }
}

pub(super) fn states(option: &TakeOption) -> Vec<String> {
    option.states.iter().map(|state| state.value.clone()).collect()
}

fn by_row(table: &str, id: &str, option: &TakeOption, reference: &Reference, sink: &mut Sink) -> Option<Food> {
    let span = option.food.span;
    if table.eq_ignore_ascii_case("usda") {
        let row = id.parse::<u32>().ok().and_then(composition::row);
        let Some(row) = row else {
            sink.push(fault::no_usda_row(id, span));
            return None;
        };
        let larder = reference.larder.on_row(&format!("usda:{}", row.ndb())).into_iter().next();
        return Some(from_composition(row, larder, states(option)));
    }
    let Some(found) = reference.table(table) else {
        sink.push(fault::no_table(table, id, reference, span));
        return None;
    };
    let Some(at) = found.position(id) else {
        sink.push(fault::not_in_table(table, id, found, span));
        return None;
    };
    Some(tables::row(found, at, states(option), reference))
}

fn from_composition(row: composition::Row, larder: Option<Arc<FoodRow>>, preparation: Vec<String>) -> Food {
    let name = row.name().to_lowercase();
    let cooked_by_name = cooked_by_name(&name);
    let (class, group) = inferred::class_and_group(row.group(), &name);
    Food {
        class: larder.as_ref().map_or(class, |row| row.class),
        class_inferred: larder.is_none(),
        group: larder.as_ref().map(|row| row.group).or(group),
        cooked: larder.as_ref().map_or(cooked_by_name, |row| row.is_cooked()),
        larder,
        figures: Figures::BuiltIn(row),
        preparation,
    }
}

pub(super) fn cooked_by_name(name: &str) -> bool {
    ["cooked", "boiled", "roasted", "baked", "fried", "canned", "braised", "simmered"]
        .iter()
        .any(|word| name.contains(word))
}

/// Whether every word of a text is a state.
fn all_states(text: &str, rows: &[Arc<FoodRow>]) -> bool {
    let own = |word: &str| rows.iter().any(|row| row.states.iter().any(|state| state == word));
    text.split_whitespace().all(|word| {
        let word = word.to_lowercase();
        PREPARATIONS.contains(&word.as_str()) || FORMS.contains(&word.as_str()) || own(&word)
    })
}

/// Whether a word says how the food of an option is, and names no food.
pub(super) fn is_state_of(word: &str, option: &TakeOption, reference: &Reference) -> bool {
    let FoodName::Name(name) = &option.food.value else { return false };
    reference.larder.named(word).is_empty() && all_states(word, &reference.larder.named(name))
}

fn by_name(name: &str, option: &TakeOption, reference: &Reference, sink: &mut Sink) -> Option<Food> {
    let span = option.food.span;
    if name.is_empty() {
        return None;
    }
    let mut written = states(option);
    let mut rows = reference.larder.named(name);
    if rows.is_empty() {
        // "dry red beans", "boiled pumpkin", "pumpkin boiled"
        let words: Vec<&str> = name.split_whitespace().collect();
        // No name has so many words, and each cut looks the rest up anew.
        const MOST_WORDS: usize = 16;
        for cut in 1..words.len().min(MOST_WORDS) {
            let (head, tail) = words.split_at(cut);
            let (head, tail) = (head.join(" "), tail.join(" "));
            let after = reference.larder.named(&tail);
            if !after.is_empty() && all_states(&head, &after) {
                written.extend(head.split(' ').map(str::to_lowercase));
                rows = after;
                break;
            }
            let before = reference.larder.named(&head);
            if words.len() <= MOST_WORDS && !before.is_empty() && all_states(&tail, &before) {
                written.extend(tail.split(' ').map(str::to_lowercase));
                rows = before;
                break;
            }
        }
    }
    if rows.is_empty() {
        if let Some(found) = tables::named(name, option, reference, sink) {
            return found;
        }
        let mut full = name.to_owned();
        for state in &option.states {
            full.push_str(", ");
            full.push_str(&state.value);
        }
        let bracketed = full.replace(", (", " (");
        if let Some(row) = composition::by_full_name(&full)
            .or_else(|| composition::by_full_name(&bracketed))
            .or_else(|| composition::by_full_name(name))
        {
            let larder = reference.larder.on_row(&format!("usda:{}", row.ndb())).into_iter().next();
            return Some(from_composition(row, larder, Vec::new()));
        }
        fault::unknown(name, option, reference, sink);
        return None;
    }
    // "dagaa, powdered" is dagaa powder, where that has a row of its own.
    let powdered = |state: &String| state == "powdered";
    if written.iter().any(powdered) && !rows.iter().any(|row| row.states.iter().any(powdered)) {
        let powder = reference.larder.named(&format!("{name} powder"));
        if !powder.is_empty() {
            rows = powder;
        }
    }
    if let Some(bracket) = option.states.iter().find(|state| state.value.starts_with('(')) {
        sink.push(fault::no_weight(&bracket.value, bracket.span));
        written.retain(|state| !state.starts_with('('));
    }
    misspelt_states(&rows, option, reference, sink);
    let row = pick(name, &rows, &written, option, sink)?;
    let figures = match row.row.split_once(':') {
        Some(("usda", id)) => id.parse().ok().and_then(composition::row).map(Figures::BuiltIn),
        Some((stem, id)) => {
            reference.table(stem).and_then(|table| table.position(id).map(|at| Figures::Table(Arc::clone(table), at)))
        }
        None => None,
    };
    let Some(figures) = figures else {
        sink.push(fault::row_of_no_table(name, &row, span));
        return None;
    };
    if let Some(fill) = row.fill.as_ref().filter(|fill| usda_row(fill).is_none()) {
        sink.push(fault::no_fill(name, fill, span));
    }
    let preparation: Vec<String> = written.into_iter().filter(|state| !row.states.contains(state)).collect();
    Some(Food {
        class: row.class,
        class_inferred: false,
        group: Some(row.group),
        cooked: row.is_cooked(),
        figures,
        preparation,
        larder: Some(row),
    })
}

/// A state near to one that means something is a slip, and a slip in
/// "unpasteurised" matters. Other words describe and are left alone.
fn misspelt_states(rows: &[Arc<FoodRow>], option: &TakeOption, reference: &Reference, sink: &mut Sink) {
    for state in &option.states {
        let word = state.value.as_str();
        let long = word.chars().count() >= 5 && !word.contains([' ', '(']);
        let known = |word: &str| {
            reference.larder.states().contains(word) || PREPARATIONS.contains(&word) || FORMS.contains(&word)
        };
        if !long || known(word) || rows.iter().any(|row| row.densities.iter().any(|form| form.state == word)) {
            continue;
        }
        let all = reference.larder.states().iter().map(String::as_str).chain(PREPARATIONS.iter().copied());
        let near = all.chain(FORMS.iter().copied()).find(|other| {
            let allowed = if word.chars().count() >= 8 { 2 } else { 1 };
            other.chars().count() >= 5 && strsim::osa_distance(word, other) <= allowed
        });
        if let Some(near) = near {
            sink.push(fault::misspelt_state(word, near, state.span));
        }
    }
}

/// The one row that name and states mean.
fn pick(
    name: &str,
    rows: &[Arc<FoodRow>],
    written: &[String],
    option: &TakeOption,
    sink: &mut Sink,
) -> Option<Arc<FoodRow>> {
    let matched = |row: &FoodRow| written.iter().filter(|state| row.states.contains(state)).count();
    let best = rows.iter().map(|row| matched(row)).max().unwrap_or(0);
    let forms: Vec<&String> = written
        .iter()
        .filter(|state| state.split(' ').any(|word| FORMS.contains(&word)))
        .filter(|state| !rows.iter().any(|row| row.states.contains(state)))
        .collect();
    // "raw" means the row without a state where no row says so itself.
    let misfit = forms.iter().find(|form| {
        !rows.iter().any(|row| {
            let plain_raw = form.as_str() == "raw" && !row.is_cooked();
            let in_name = row.names().any(|name| name.to_lowercase().contains(form.as_str()))
                || row
                    .row
                    .strip_prefix("usda:")
                    .and_then(|id| id.parse().ok())
                    .and_then(composition::row)
                    .is_some_and(|found| found.name().to_lowercase().contains(form.as_str()));
            plain_raw || in_name
        })
    });
    if let (Some(form), 0) = (misfit, best) {
        let written = option.states.iter().find(|state| &state.value == *form).map(|state| state.span);
        sink.push(fault::no_such_form(name, form, rows, written, option.food.span));
        return None;
    }
    let chosen: Vec<&Arc<FoodRow>> = if best > 0 {
        rows.iter().filter(|row| matched(row) == best).collect()
    } else if rows.len() == 1 {
        rows.iter().collect()
    } else {
        rows.iter().filter(|row| row.plain).collect()
    };
    match chosen.as_slice() {
        [one] => Some(Arc::clone(one)),
        several => {
            let several: Vec<Arc<FoodRow>> =
                if several.is_empty() { rows.to_vec() } else { several.iter().map(|row| Arc::clone(row)).collect() };
            sink.push(fault::ambiguous(name, &several, rows, option.food.span));
            None
        }
    }
}

/// Whether a written state is among the given words, alone or in a phrase
/// ("finely chopped").
pub fn has_state<'a>(mut states: impl Iterator<Item = &'a str>, words: &[&str]) -> bool {
    states.any(|state| state.split([' ', '-']).any(|word| words.contains(&word)))
}

/// A name with its place, for messages.
pub fn label(option: &TakeOption) -> Spanned<String> {
    let text = match &option.food.value {
        FoodName::Name(name) => name.clone(),
        FoodName::Row { table, id } => format!("{table}:{id}"),
        FoodName::Dish(name) => format!("dish {name}"),
    };
    Spanned::new(text, option.food.span)
}

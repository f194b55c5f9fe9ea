//! The sheet for a cooking demonstration as plain data: a dish scaled for a
//! group, in one language, every number already written out.

use serde::Serialize;

use super::locale::TIE;
use super::{Drawn, Fact, Maker, RemarkText, steps, words};
use crate::ast::{Amount, Makes};
use crate::check::CheckedDish;
use crate::compute::portion;
use crate::compute::scaling::{Line, Part, Scaled, Target};
use crate::quantity::{Exact, Range, round_half_even};
use crate::reference::Reference;
use crate::reference::process::Process;
use crate::resolve::Ingredient;
use crate::resolve::grams::{heap_factor, millilitres};

/// Name and version of the sheet's data.
pub const SCHEMA: &str = "porringer-demonstration/1";

/// Food fills so much of a pot that does not boil over, as numerator and
/// denominator. Common practice, no source.
const POT_FILL: (f64, f64) = (2.0, 3.0);

#[derive(Debug, Clone, Serialize)]
pub struct Sheet {
    pub schema: &'static str,
    pub lang: String,
    pub dir: &'static str,
    pub colon: String,
    pub paper: String,
    /// Families of the workspace's own fonts, after the bundled one.
    pub fonts: Vec<String>,
    pub id: String,
    pub heading: String,
    pub title: String,
    pub programme: Option<String>,
    pub footer: Option<String>,
    /// For how many children of which age, how much each gets, what it makes.
    pub facts: Vec<Fact>,
    pub times: Vec<Fact>,
    pub start: Option<String>,
    pub ingredients: Ingredients,
    pub before: Lines,
    pub method: steps::Method,
    pub remarks: Vec<RemarkText>,
    pub standing: Vec<String>,
    pub notes: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Ingredients {
    pub label: String,
    pub weight: String,
    pub bought: String,
    pub food_first: bool,
    pub sections: Vec<Section>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Section {
    pub title: Option<String>,
    pub family: bool,
    pub items: Vec<Item>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Item {
    pub measures: Vec<Drawn>,
    pub amount: String,
    pub food: String,
    pub grams: String,
    pub bought: String,
    /// Where the measure is not within the tolerance.
    pub note: Option<String>,
    pub alternatives: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Lines {
    pub label: String,
    pub lines: Vec<String>,
}

/// What the sheet is made from, beside the scaled dish in the maker.
pub struct Brief<'a> {
    /// The recipe as written.
    pub original: &'a CheckedDish,
    pub scaled: &'a Scaled,
    pub target: &'a Target,
}

pub fn make(maker: &Maker<'_>, brief: &Brief<'_>) -> Sheet {
    let locale = maker.locale;
    let header = &maker.dish.resolved.ast.header;
    Sheet {
        schema: SCHEMA,
        lang: locale.tag().to_owned(),
        dir: locale.direction(),
        colon: locale.word("colon"),
        paper: maker.imprint.paper.clone(),
        fonts: maker.imprint.fonts.clone(),
        id: maker.dish.id.clone(),
        heading: locale.word("demo-heading"),
        title: header.title.as_ref().map(|title| maker.text(title)).unwrap_or_default(),
        programme: maker.imprint.programme.clone(),
        footer: maker.imprint.footer(maker.locale),
        facts: facts(maker, brief),
        times: maker.times(),
        start: maker.start(),
        ingredients: ingredients(maker, brief),
        before: before(maker, brief),
        method: steps::method(maker),
        remarks: maker.remarks(),
        standing: vec![locale.word("standing-guidance"), locale.word("standing-help")],
        notes: notes(maker, brief),
    }
}

fn facts(maker: &Maker<'_>, brief: &Brief<'_>) -> Vec<Fact> {
    let locale = maker.locale;
    let mut facts = Vec::new();
    // Portions are those of the recipe: scaling leaves them as they are.
    let portion = brief.target.portion.and_then(|at| brief.original.computed.portions.get(at));
    if let (Some(portion), Some(count)) = (portion, brief.target.portions) {
        // A part of a portion feeds nobody.
        let children = (count + 1e-6).floor();
        if children >= 1.0 {
            let ages = maker.band_label(portion.band);
            facts.push(Fact {
                label: locale.word("demo-for-label"),
                text: locale.counted(
                    "demo-for",
                    children,
                    &[("count", locale.integer(children as i64)), ("ages", ages)],
                ),
            });
        }
        let grams = portion.grams.map(|grams| locale.grams(grams));
        // A share of the whole dish has no meaning once the dish is another.
        let words = match &portion.amount {
            Some(Makes::Portions(_, None)) => None,
            _ => Some(maker.portion_words(portion)),
        };
        let text = match (words, grams) {
            (Some(words), Some(grams)) => format!("{words} ({grams})"),
            (words, grams) => words.or(grams).unwrap_or_default(),
        };
        if !text.is_empty() {
            facts.push(Fact { label: locale.word("demo-each"), text });
        }
    }
    if let Some((makes, _)) = &brief.scaled.makes {
        facts.push(Fact { label: locale.word("makes-label"), text: words::makes(&about(makes), locale) });
    }
    facts.push(Fact {
        label: locale.word("demo-factor-label"),
        text: locale.with("demo-factor", &[("n", factor(brief.scaled.factor, maker))]),
    });
    facts
}

/// Sevenths of a cup are nothing to look for: to the quarter.
fn about(makes: &Makes) -> Makes {
    let quarter = |value: Exact| -> Exact {
        if matches!(value.denominator(), 1..=4) {
            return value;
        }
        Exact::fraction((value.value() * 4.0).round() as i64, 4).filter(|value| !value.is_zero()).unwrap_or(value)
    };
    let both = |range: Range| Range { low: quarter(range.low), high: quarter(range.high) };
    match makes {
        Makes::Measured(range, measure) => Makes::Measured(both(*range), *measure),
        Makes::Pieces(range, word) => Makes::Pieces(*range, word.clone()),
        Makes::Portions(range, each) => Makes::Portions(both(*range), *each),
    }
}

fn factor(value: Exact, maker: &Maker<'_>) -> String {
    maker.locale.exact(value)
}

fn ingredients(maker: &Maker<'_>, brief: &Brief<'_>) -> Ingredients {
    let locale = maker.locale;
    let dish = &maker.dish.resolved;
    let mut sections = Vec::new();
    let items = |keep: &dyn Fn(&Ingredient) -> bool| -> Vec<Item> {
        dish.ingredients
            .iter()
            .enumerate()
            .filter(|(_, ingredient)| keep(ingredient))
            .map(|(at, ingredient)| item(maker, brief, at, ingredient))
            .collect()
    };
    for (at, part) in dish.ast.parts.iter().enumerate() {
        let found = items(&|ingredient| ingredient.part == at && !ingredient.family);
        if !found.is_empty() {
            let title = part.name.as_ref().map(|name| words::capital(&maker.text(name)));
            sections.push(Section { title, family: false, items: found });
        }
    }
    let family = items(&|ingredient| ingredient.family);
    if !family.is_empty() {
        sections.push(Section { title: Some(locale.word("family-title")), family: true, items: family });
    }
    Ingredients {
        label: locale.word("ingredients-label"),
        weight: locale.word("demo-weight"),
        bought: locale.word("demo-bought"),
        food_first: locale.word("ingredient-order") == "food-first",
        sections,
    }
}

fn item(maker: &Maker<'_>, brief: &Brief<'_>, at: usize, ingredient: &Ingredient) -> Item {
    let locale = maker.locale;
    let lines: Vec<&Line> = brief.scaled.lines.iter().filter(|line| line.ingredient == at).collect();
    let first = lines.first();
    let alternatives = lines
        .iter()
        .skip(1)
        .filter_map(|line| {
            let choice = ingredient.options.get(line.option)?;
            let food = maker.food_name(ingredient, choice, false);
            let what = if line.exactly.is_empty() {
                food
            } else {
                locale.with("amount-of-food", &[("amount", parts(maker, &line.parts)), ("food", food)])
            };
            let what = match line.grams.filter(|_| !line.exactly.is_empty()) {
                Some(grams) => format!("{what} ({})", weight(maker, grams)),
                None => what,
            };
            Some(locale.with("or", &[("what", what)]))
        })
        .collect();
    let off = first.filter(|line| line.is_off()).map(|line| {
        let percent = locale.tied("percent", locale.decimal(line.error.abs() * 100.0, 0));
        let key = if line.error > 0.0 { "demo-more" } else { "demo-less" };
        locale.with(key, &[("n", percent)])
    });
    let amount = first.map_or(String::new(), |line| {
        if line.parts.is_empty() {
            words::amount(&ingredient.first().map_or(Amount::Missing, |choice| choice.option.amount.clone()), locale)
        } else {
            parts(maker, &line.parts)
        }
    });
    Item {
        measures: first.map_or(Vec::new(), |line| line.parts.iter().map(|part| drawn(maker, part)).collect()),
        amount,
        food: ingredient.first().map(|choice| maker.food_name(ingredient, choice, true)).unwrap_or_default(),
        grams: first
            .and_then(|line| line.grams.map(|grams| marked(line.estimated, "≈", weight(maker, grams))))
            .unwrap_or_default(),
        bought: first
            .and_then(|line| line.bought)
            .map(|bought| marked(!bought.known, "≥", weight(maker, bought.grams)))
            .unwrap_or_default(),
        note: off,
        alternatives,
    }
}

fn marked(yes: bool, mark: &str, text: String) -> String {
    if yes { format!("{mark}{TIE}{text}") } else { text }
}

/// Grams, from a kilogram on in kilograms.
fn weight(maker: &Maker<'_>, grams: f64) -> String {
    if grams < 1000.0 {
        return maker.locale.grams(grams);
    }
    maker.locale.tied("demo-kilograms", maker.locale.decimal(grams / 1000.0, 2))
}

fn amount_of(part: &Part) -> Amount {
    let span = crate::source::Span::default();
    match part.measure {
        Some(measure) => Amount::Measured { range: part.number, measure, span },
        None => Amount::Count { range: part.number, span },
    }
}

fn parts(maker: &Maker<'_>, list: &[Part]) -> String {
    let mut texts = list.iter().map(|part| words::amount(&amount_of(part), maker.locale));
    match (texts.next(), texts.next()) {
        (Some(first), Some(second)) => maker.locale.with("demo-plus", &[("first", first), ("second", second)]),
        (first, _) => first.unwrap_or_default(),
    }
}

fn drawn(maker: &Maker<'_>, part: &Part) -> Drawn {
    words::drawn(&amount_of(part), maker.locale)
}

/// The smallest pot for what the dish makes, in litres, and whether its
/// volume is an estimate; `None` where nothing is heated.
pub fn pot_litres(dish: &CheckedDish, reference: &Reference, factor: Exact) -> Option<(f64, bool)> {
    let heated = dish.resolved.flow.journeys.iter().any(|journey| !journey.heats.is_empty());
    if !heated {
        return None;
    }
    let volume = |range: Range, measure: crate::quantity::Measure| {
        millilitres(measure.unit, reference.standard).map(|(ml, _)| range.high.value() * ml * heap_factor(measure))
    };
    let made = match dish.resolved.makes() {
        Some(Makes::Measured(range, measure)) => volume(*range, *measure),
        Some(Makes::Portions(count, Some((each, measure)))) => {
            volume(*each, *measure).map(|ml| ml * count.high.value())
        }
        _ => None,
    };
    let density = portion::dish_density(&dish.resolved, &dish.computed.nutrition, reference).unwrap_or(1.0);
    // Before it boils down there may be more in the pot than comes out.
    let raw = dish.computed.nutrition.raw_g / density.max(0.1);
    let ml = made.unwrap_or(dish.computed.nutrition.cooked_g).max(raw) * factor.value() * POT_FILL.1 / POT_FILL.0;
    // To the next half litre, so that it is never too small.
    (ml > 0.0).then(|| ((ml / 500.0 - 1e-9).ceil() / 2.0, made.is_none()))
}

fn before(maker: &Maker<'_>, brief: &Brief<'_>) -> Lines {
    let locale = maker.locale;
    let mut lines = Vec::new();
    if let Some((litres, _)) = pot_litres(brief.original, maker.reference, brief.scaled.factor) {
        lines.push(locale.with("demo-pot", &[("litres", locale.tied("demo-litres", locale.decimal(litres, 1)))]));
    }
    let heats = || {
        maker
            .dish
            .resolved
            .ast
            .parts
            .iter()
            .flat_map(|part| &part.steps)
            .flat_map(|step| &step.actions)
            .filter_map(|action| Process::from_word(&action.process.value))
            .filter(|process| process.heat.is_some())
    };
    if heats().next().is_some() {
        lines.push(locale.word("demo-times"));
    }
    if heats().any(|process| {
        matches!(process.word, "fry" | "deep-fry" | "brown" | "bake" | "roast" | "toast" | "grill" | "scramble")
    }) {
        lines.push(locale.word("demo-batches"));
    }
    for (name, _) in &brief.scaled.dishes {
        let found = maker
            .dish
            .resolved
            .ingredients
            .iter()
            .flat_map(|ingredient| ingredient.options.iter().map(move |choice| (ingredient, choice)))
            .find(|(_, choice)| matches!(&choice.option.food.value, crate::ast::FoodName::Dish(own) if own == name));
        if let Some((ingredient, choice)) = found {
            lines.push(locale.with("demo-dish", &[("dish", maker.food_name(ingredient, choice, false))]));
        }
    }
    if !lines.is_empty() {
        lines.push(locale.word("demo-practice"));
    }
    Lines { label: locale.word("demo-before"), lines }
}

fn notes(maker: &Maker<'_>, brief: &Brief<'_>) -> Vec<String> {
    let locale = maker.locale;
    let largest = brief.scaled.largest_error();
    let mut notes = Vec::new();
    if largest > 1e-9 {
        // Up, so that "at most" stays true.
        let percent = round_half_even((largest * 100.0).ceil(), 0);
        notes.push(locale.with("demo-rounded", &[("n", locale.tied("percent", locale.decimal(percent, 0)))]));
    }
    if brief.scaled.lines.iter().any(|line| line.bought.is_some_and(|bought| !bought.known)) {
        notes.push(locale.word("demo-refuse"));
    }
    if !brief.scaled.texts.is_empty() && brief.scaled.factor != Exact::whole(1) {
        notes.push(locale.word("demo-texts"));
    }
    if brief.scaled.lines.iter().any(|line| line.estimated) {
        notes.push(locale.word("figures-estimated"));
    }
    notes.push(crate::card::panel::measures(maker.reference, locale));
    notes.push(locale.with("figures-program", &[("version", env!("CARGO_PKG_VERSION").to_owned())]));
    notes
}

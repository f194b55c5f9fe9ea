//! The method in words: one sentence from each step's head in every language,
//! the author's prose below it, and the cautions that rules put beside it.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;

use super::{Maker, words};
use crate::ast::{Action, HeatLevel};
use crate::reference::larder::{FoodClass, normal_name};
use crate::reference::process::Process;
use crate::resolve::Ingredient;

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Method {
    pub label: String,
    pub steps: Vec<Step>,
}

#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Step {
    /// `step`, `set-aside` or `part`.
    #[schemars(extend("enum" = ["step", "set-aside", "part"]))]
    pub kind: &'static str,
    /// Counts through all parts; 0 for the head of a part.
    pub number: usize,
    /// The same in the digits of the language; empty for the head of a part.
    pub number_text: String,
    /// Of a part.
    pub title: Option<String>,
    /// Name of the drawing.
    pub process: &'static str,
    /// The step's head as a sentence.
    pub sentence: String,
    /// The longest time of the step.
    pub duration: Option<String>,
    pub unattended: Option<String>,
    pub until: Option<String>,
    /// The author's words.
    pub prose: Option<String>,
    /// What the rules want said beside this step.
    pub cautions: Vec<String>,
    /// It no longer concerns the child's portion.
    pub family: bool,
}

pub fn method(maker: &Maker<'_>) -> Method {
    let dish = &maker.dish.resolved;
    let mut steps = Vec::new();
    let mut number = 0;
    let mut index = 0;
    let mut cautioned = BTreeSet::new();
    for part in &dish.ast.parts {
        if let (Some(name), false) = (&part.name, part.steps.is_empty()) {
            steps.push(Step {
                kind: "part",
                number: 0,
                number_text: String::new(),
                title: Some(words::capital(&maker.text(name))),
                process: "other",
                sentence: String::new(),
                duration: None,
                unattended: None,
                until: None,
                prose: None,
                cautions: Vec::new(),
                family: false,
            });
        }
        for step in &part.steps {
            number += 1;
            steps.push(one(maker, step, number, index, &mut cautioned));
            index += 1;
        }
    }
    Method { label: maker.locale.word("method-label"), steps }
}

fn one(
    maker: &Maker<'_>,
    step: &crate::ast::Step,
    number: usize,
    index: usize,
    cautioned: &mut BTreeSet<&'static str>,
) -> Step {
    let locale = maker.locale;
    let number_text = locale.integer(number as i64);
    let set_aside = maker.dish.resolved.flow.set_aside == Some(index);
    let prose = step.prose.as_ref().map(|prose| maker.text(prose)).or_else(|| {
        // A step without prose may still have a translated sentence.
        let own = maker.is_own();
        step.translations
            .iter()
            .find(|line| !own && line.tag.eq_ignore_ascii_case(locale.tag()))
            .map(|line| line.value.clone())
    });
    if set_aside {
        return Step {
            kind: "set-aside",
            number,
            number_text,
            title: None,
            process: "set-aside",
            sentence: locale.word("set-aside"),
            duration: None,
            unattended: None,
            until: None,
            prose: prose.or_else(|| Some(locale.word("set-aside-why"))),
            cautions: Vec::new(),
            family: false,
        };
    }
    // The longest time stands large; the others stay beside their verbs.
    let length = |at: &usize| {
        step.actions
            .get(*at)
            .and_then(|action| action.duration.as_ref())
            .map_or(0.0, |duration| crate::resolve::flow::minutes(&duration.value).1)
    };
    let longest = (0..step.actions.len()).max_by(|a, b| length(a).total_cmp(&length(b))).unwrap_or(0);
    let timed = |at: usize| {
        step.actions
            .get(at)
            .and_then(|action| action.duration.as_ref())
            .map(|duration| words::duration(&duration.value, locale))
    };
    let sentences: Vec<String> = step
        .actions
        .iter()
        .enumerate()
        .map(|(at, action)| {
            let text = sentence(maker, action);
            match timed(at).filter(|_| at != longest) {
                Some(time) => locale.ended(format!("{} ({time})", text.trim_end_matches(['.', '।', '።']))),
                None => text,
            }
        })
        .collect();
    let durations: Vec<String> = timed(longest).into_iter().collect();
    let until = step.actions.iter().filter_map(|action| action.until.as_ref()).next_back();
    let unattended = step.actions.iter().any(|action| action.unattended);
    // The drawing is that of the heat, where there is one, else of what takes
    // the longest: it is what a cook looks for.
    let process = (0..step.actions.len())
        .filter_map(|at| {
            let action = step.actions.get(at)?;
            Process::from_word(&action.process.value).map(|process| (process.heat.is_some(), length(&at), process))
        })
        .reduce(|best, next| if (next.0, next.1) > (best.0, best.1) { next } else { best })
        .map_or("other", |(_, _, process)| process.drawing);
    Step {
        kind: "step",
        number,
        number_text,
        title: None,
        process,
        sentence: sentences.join(" "),
        duration: (!durations.is_empty()).then(|| durations.join(" + ")),
        unattended: unattended.then(|| locale.word("unattended")),
        until: until.and_then(|cue| cue_words(maker, &cue.value)).map(|cue| locale.with("until", &[("cue", cue)])),
        prose,
        cautions: cautions(maker, index, cautioned),
        family: maker.dish.resolved.flow.for_family.get(index).copied().unwrap_or(false),
    }
}

/// "Boil the beans with onion."
fn sentence(maker: &Maker<'_>, action: &Action) -> String {
    let locale = maker.locale;
    let word = Process::from_word(&action.process.value).map_or(action.process.value.as_str(), |process| process.word);
    // Keys are ASCII.
    let key = format!("do-{}", word.replace(' ', "-").replace('é', "e"));
    let named = |object: &crate::source::Spanned<String>| locale.definite(&name_of(maker, &object.value));
    let objects: Vec<String> = action.objects.iter().map(named).collect();
    let mut pieces = Vec::new();
    if !action.with.is_empty() {
        let list: Vec<String> = action.with.iter().map(named).collect();
        let key = if word == "fill" { "piece-with-fill" } else { "piece-with" };
        pieces.push(locale.with(key, &[("what", locale.list(&list))]));
    }
    if let Some(medium) = &action.medium
        && let Some(name) = medium_name(maker, &medium.value)
    {
        pieces.push(locale.with("piece-in", &[("what", name)]));
    }
    if let Some(heat) = action.heat {
        pieces.push(locale.word(match heat {
            HeatLevel::Low => "piece-heat-low",
            HeatLevel::Medium => "piece-heat-medium",
            HeatLevel::High => "piece-heat-high",
        }));
    }
    if let Some(celsius) = action.celsius {
        pieces.push(locale.with("piece-celsius", &[("n", locale.integer(celsius))]));
    }
    let mut what = locale.list(&objects);
    // Where the verb stands last, all else stands before it.
    let verb_last = locale.word("sentence-order") == "verb-last";
    if verb_last {
        let before = std::mem::take(&mut what);
        what = std::iter::once(before)
            .chain(pieces.drain(..))
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(" ");
    }
    let mut text = locale.with(&key, &[("what", what.clone())]);
    if what.is_empty() {
        // No object: the verb alone, without the gap it leaves.
        text = text.split_whitespace().collect::<Vec<_>>().join(" ").replace(" ,", ",");
    }
    pieces.insert(0, text);
    locale.ended(pieces.join(" "))
}

/// What a step's word is called on the card: the author's word in the
/// author's language, the food's name in another.
fn name_of(maker: &Maker<'_>, word: &str) -> String {
    let locale = maker.locale;
    let bare = word.to_lowercase();
    let bare = bare.trim_start_matches("the ").trim();
    match bare {
        "everything" | "all" | "all ingredients" | "ingredients" => return locale.word("everything"),
        "rest" | "remaining" | "others" | "remaining ingredients" => return locale.word("the-rest"),
        _ => {}
    }
    if bare.split(|c: char| !c.is_alphabetic()).any(|part| matches!(part, "child" | "baby")) {
        return locale.word("child-portion");
    }
    if maker.is_own() {
        return word.to_owned();
    }
    if bare == "water" || bare.ends_with(" water") && ingredient_of(maker, bare).is_none() {
        return locale.word("water");
    }
    if let Some(part) = maker
        .dish
        .resolved
        .ast
        .parts
        .iter()
        .filter_map(|part| part.name.as_ref())
        .find(|name| normal_name(&name.value) == normal_name(bare))
    {
        return maker.text(part);
    }
    let exact = maker.dish.resolved.ingredients.iter().find(|own| normal_name(&own.name) == normal_name(bare));
    if let Some(ingredient) = exact {
        return short_name(maker, ingredient);
    }
    match bare {
        "batter" => return locale.word("the-batter"),
        "dough" => return locale.word("the-dough"),
        "porridge" => return locale.word("the-porridge"),
        _ => {}
    }
    if matches!(bare, "it" | "them" | "mixture" | "mix" | "pot" | "food" | "batter" | "dough" | "mash" | "porridge") {
        return locale.word("the-pot");
    }
    match ingredient_of(maker, bare) {
        Some(ingredient) => short_name(maker, ingredient),
        None => word.to_owned(),
    }
}

/// The food's name without its states, in the author's word where that is the
/// card's language; with the article it wants.
fn plain_name(maker: &Maker<'_>, ingredient: &Ingredient) -> String {
    let name = if maker.is_own() { ingredient.name.clone() } else { short_name(maker, ingredient) };
    maker.locale.definite(&name)
}

fn short_name(maker: &Maker<'_>, ingredient: &Ingredient) -> String {
    let Some(choice) = ingredient.first() else { return ingredient.name.clone() };
    let mut plain = choice.clone();
    plain.option.states.clear();
    let name = maker.food_name(ingredient, &plain, true);
    // A translation line may carry states; its head is the name.
    name.split([',', '،', '፣', '、']).next().unwrap_or_default().trim().to_owned()
}

fn ingredient_of<'d>(maker: &Maker<'d>, word: &str) -> Option<&'d Ingredient> {
    let all = &maker.dish.resolved.ingredients;
    let mut rest = Some(word);
    while let Some(now) = rest {
        let wanted = normal_name(now);
        let exact = all.iter().find(|ingredient| normal_name(&ingredient.name) == wanted);
        let found = exact.or_else(|| {
            all.iter().find(|ingredient| normal_name(&ingredient.name).split(' ').any(|own| own == wanted))
        });
        if found.is_some() {
            return found;
        }
        rest = now.split_once(' ').map(|(_, tail)| tail);
    }
    None
}

/// Vessels have no words in other languages and the drawing shows them.
fn medium_name(maker: &Maker<'_>, word: &str) -> Option<String> {
    if maker.is_own() {
        return Some(word.to_owned());
    }
    let bare = word.to_lowercase();
    if ingredient_of(maker, &bare).is_some() || bare.contains("water") {
        return Some(name_of(maker, &bare));
    }
    None
}

fn cue_words(maker: &Maker<'_>, cue: &str) -> Option<String> {
    if maker.is_own() {
        return Some(cue.trim_end_matches(['.', '!']).to_owned());
    }
    let key = format!("cue-{}", cue.to_lowercase().replace(' ', "-"));
    maker.locale.has(&key).then(|| maker.locale.word(&key))
}

/// Hazards with a caution of their own, and the kind of step it stands beside.
///
/// Fish that is dry never gets firm: what it is toasted or boiled to is said
/// in words of its own.
const CAUTIONS: &[(&str, Beside)] = &[
    ("raw-kidney-bean", Beside::Heat),
    ("raw-meat", Beside::Heat),
    ("raw-fish", Beside::Heat),
    ("raw-egg", Beside::Heat),
    ("raw-milk", Beside::Heat),
    ("raw-cassava", Beside::Heat),
    ("choke-bones", Beside::First),
    ("mould-prone", Beside::First),
    ("nut-paste", Beside::Last),
    ("liver", Beside::First),
    ("nitrate-leaf", Beside::Last),
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum Beside {
    /// The first step that touches the food.
    First,
    /// The first step that cooks it.
    Heat,
    /// The step that brings it into the dish, the last that names it.
    Last,
}

fn cautions(maker: &Maker<'_>, index: usize, cautioned: &mut BTreeSet<&'static str>) -> Vec<String> {
    let dish = &maker.dish.resolved;
    let step = dish.ast.parts.iter().flat_map(|part| &part.steps).nth(index);
    let Some(step) = step else { return Vec::new() };
    let mut found = Vec::new();
    for (tag, beside) in CAUTIONS {
        if cautioned.contains(tag) {
            continue;
        }
        let here = dish.ingredients.iter().enumerate().position(|(at, ingredient)| {
            let hazard =
                ingredient.options.iter().any(|choice| choice.food.as_ref().is_some_and(|food| food.has_hazard(tag)));
            if !hazard || !dish.flow.child.get(at).copied().unwrap_or(true) {
                return false;
            }
            let food = ingredient.first().and_then(|choice| choice.food.as_ref());
            let ground = dish
                .flow
                .journeys
                .get(at)
                .is_some_and(|journey| journey.texture == Some(crate::reference::process::Texture::Smooth));
            let milled = food.is_some_and(|food| food.class == FoodClass::Flour || food.has_hazard("nut-paste"));
            // Bones that are ground and sieved, and mould in a paste, are past
            // what a cook can see.
            if (*tag == "choke-bones" && ground) || (*tag == "mould-prone" && milled) {
                return false;
            }
            let first = dish.flow.first_use.get(at).copied().flatten();
            match beside {
                Beside::First | Beside::Last => first == Some(index),
                Beside::Heat => {
                    let cooks = |event: &crate::resolve::HeatEvent| {
                        event.span.start >= step.span.start
                            && event.span.end <= step.span.end
                            && Process::from_word(event.process).is_some_and(|process| process.cooks())
                    };
                    dish.flow.journeys.get(at).is_some_and(|journey| journey.heats.iter().any(cooks))
                }
            }
        });
        if let Some(here) = here {
            cautioned.insert(tag);
            let food = dish.ingredients.get(here).and_then(Ingredient::first).and_then(|choice| choice.food.as_ref());
            let dried = food.and_then(|food| food.larder.as_ref()).is_some_and(|row| row.is_dried());
            let tag = if *tag == "raw-fish" && dried { "raw-fish-dried" } else { *tag };
            let what = dish.ingredients.get(here).map(|ingredient| plain_name(maker, ingredient)).unwrap_or_default();
            let minutes = maker.reference.profile.hazard("bean-boil").and_then(|hazard| hazard.value).unwrap_or(30.0);
            found.push(
                maker
                    .locale
                    .with(&format!("caution-{tag}"), &[("minutes", maker.locale.decimal(minutes, 0)), ("what", what)]),
            );
        }
    }
    found
}

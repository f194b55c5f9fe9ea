//! What the card prints of a dish, ready to be held beside another state.

use std::collections::BTreeMap;

use serde_json::Value;

use super::lines::{gains, many};
use super::{Band, Change, Gains, NutrientChange, Pair, Side, day};
use crate::card::panel::Cell;
use crate::card::{self, Card, Item, Locale, Maker};
use crate::check::CheckedDish;
use crate::compute::Portion;
use crate::reference::Reference;
use crate::reference::nutrient::NutrientId;
use crate::resolve::Ingredient;

/// What a caregiver is taken to notice, in one sentence.
pub const NOTICED: &str = "anything that the printed card says in any of its languages, once figures are rounded; \
     not where the figures come from";

/// Parts of the card that are for programs.
const UNSEEN: [&str; 5] = ["schema", "fit", "id", "profile", "changed_rules"];

/// Parts of the card that the comparison has a section of its own for.
const COVERED: [&str; 20] = [
    "title",
    "ages",
    "times",
    "start",
    "makes",
    "portions",
    "ingredients",
    "method",
    "remarks",
    "feeding",
    "strip",
    "eat",
    "back.bands",
    "back.groups",
    "back.energy",
    "back.food_groups",
    "back.allergens",
    "back.claims",
    "lang",
    "dir",
];

pub struct Facts<'a> {
    dish: &'a CheckedDish,
    card: Card,
    /// A portion for each age, with the profile's key of the age.
    portions: Vec<(String, &'a Portion)>,
    ingredients: Vec<(String, String)>,
}

impl<'a> Facts<'a> {
    /// `None` for what is no dish.
    pub fn of(side: &'a Side<'_>, locale: &Locale) -> Option<Self> {
        let dish = side.file.dish.as_ref()?;
        let maker = maker(side, dish, locale);
        let card = card::make(&maker);
        let portions =
            dish.computed.portions.iter().map(|portion| (band_key(side.reference, portion.band), portion)).collect();
        let ingredients = dish.resolved.ingredients.iter().map(|ingredient| line(&maker, ingredient)).collect();
        Some(Self { dish, card, portions, ingredients })
    }

    fn portion(&self, key: &str) -> Option<usize> {
        self.portions.iter().position(|(own, _)| own == key)
    }

    /// A row of the back: its name, unit-bearing cell, and unrounded amount.
    fn cell(&self, tag: &str, at: usize) -> Option<(&str, &Cell, Option<f64>)> {
        let row = self.card.back.groups.iter().flat_map(|group| &group.rows).find(|row| row.tag == tag)?;
        let cell = row.cells.get(at)?;
        let grams = self.portions.get(at).and_then(|(_, portion)| portion.grams);
        let nutrition = &self.dish.computed.nutrition;
        let value = NutrientId::from_tag(tag).zip(grams).and_then(|(id, grams)| {
            if cell.limit { nutrition.most_in_grams(id, grams) } else { nutrition.in_grams(id, grams) }
        });
        Some((&row.name, cell, value))
    }

    fn heads(&self) -> Vec<String> {
        self.card
            .method
            .steps
            .iter()
            .map(|step| {
                let parts = [&step.title, &Some(step.sentence.clone()), &step.duration, &step.unattended, &step.until];
                let mut parts: Vec<&str> =
                    parts.into_iter().flatten().map(String::as_str).filter(|part| !part.is_empty()).collect();
                if step.family {
                    parts.push("for the family only");
                }
                untied(&parts.join(", ").replace(".,", ","))
            })
            .collect()
    }

    fn cautions(&self) -> Vec<String> {
        let remarks = self.card.remarks.iter().filter(|remark| remark.kind == "caution").map(|remark| &remark.text);
        let steps = self.card.method.steps.iter().flat_map(|step| &step.cautions);
        remarks.chain(steps).map(|text| untied(text)).collect()
    }

    fn claims(&self) -> Vec<String> {
        let diets = self.dish.resolved.ast.diets.iter().map(|diet| format!("diet {}", diet.value));
        self.card.back.claims.items.iter().map(|claim| untied(&claim.text)).chain(diets).collect()
    }

    fn food_groups(&self) -> Vec<String> {
        self.card.back.food_groups.items.iter().filter(|mark| mark.on).map(|mark| mark.name.clone()).collect()
    }

    fn times(&self) -> BTreeMap<String, String> {
        let mut times: BTreeMap<String, String> = self
            .card
            .times
            .iter()
            .chain(&self.card.makes)
            .map(|fact| (fact.label.clone(), untied(&fact.text)))
            .collect();
        if let Some(start) = &self.card.start {
            times.insert("start".to_owned(), untied(start));
        }
        times
    }
}

fn maker<'a>(side: &'a Side<'_>, dish: &'a CheckedDish, locale: &'a Locale) -> Maker<'a> {
    Maker {
        dish,
        reference: side.reference,
        locale,
        own_language: &side.own_language,
        imprint: side.imprint,
        changed: &side.file.changed,
    }
}

pub fn band_key(reference: &Reference, at: usize) -> String {
    reference.profile.bands().get(at).map(|band| band.key.clone()).unwrap_or_default()
}

/// Blanks that tie a number to its unit are for the typesetter.
pub fn untied(text: &str) -> String {
    text.replace(card::locale::TIE, " ").trim().to_owned()
}

/// An ingredient's name, and its line as the card has it.
fn line(maker: &Maker<'_>, ingredient: &Ingredient) -> (String, String) {
    let Item { amount, grams, food, alternatives, estimated, .. } = maker.item(ingredient);
    let mut text = format!("{amount} {food}");
    if !grams.is_empty() {
        text.push_str(&format!(" ({}{grams})", if estimated { "about " } else { "" }));
    }
    for alternative in alternatives {
        text.push_str(", ");
        text.push_str(&alternative);
    }
    if ingredient.family {
        text.push_str(", for the family only");
    }
    (crate::reference::larder::normal_name(&ingredient.name), untied(&text))
}

/// Fills in what differs between two states of a dish.
pub fn differences(old: &Facts<'_>, new: &Facts<'_>, change: &mut Change) {
    let child = &mut change.child;
    child.bands = bands(old, new);
    child.claims = gains(&old.claims(), &new.claims());
    child.ages = Pair::of("ages", Some(untied(&old.card.ages.text)), Some(untied(&new.card.ages.text)));
    child.food_groups = gains(&old.food_groups(), &new.food_groups());
    let (was, is) = (&old.card.back.allergens, &new.card.back.allergens);
    child.allergens = gains(&was.items, &is.items);
    child.family_allergens = gains(&was.family, &is.family);
    child.cautions = gains(&old.cautions(), &new.cautions());
    change.ingredients = ingredients(&old.ingredients, &new.ingredients);
    change.steps = many(&old.heads(), &new.heads(), "step");
    let (was, is) = (old.times(), new.times());
    let mut labels: Vec<&String> = was.keys().chain(is.keys()).collect();
    labels.sort();
    labels.dedup();
    change.times = labels
        .into_iter()
        .filter_map(|label| Pair::of(label, was.get(label).cloned(), is.get(label).cloned()))
        .collect();
    change.sources = gains(&old.card.back.figures.lines, &new.card.back.figures.lines);
    let untie = |list: &mut Vec<String>| list.iter_mut().for_each(|line| *line = untied(line));
    let Gains { gained, lost } = &mut change.sources;
    untie(gained);
    untie(lost);
}

fn bands(old: &Facts<'_>, new: &Facts<'_>) -> Vec<Band> {
    let mut keys: Vec<&String> = new.portions.iter().chain(&old.portions).map(|(key, _)| key).collect();
    let mut seen = std::collections::BTreeSet::new();
    keys.retain(|key| seen.insert(key.as_str()));
    keys.into_iter().map(|key| band(old, new, key)).filter(|band| !band.is_empty()).collect()
}

fn band(old: &Facts<'_>, new: &Facts<'_>, key: &str) -> Band {
    let places = [old.portion(key), new.portion(key)];
    let [was, is] = places;
    let sides = [(old, was), (new, is)];
    let both = |what: &str, of: &dyn Fn(&Card, usize) -> Option<String>| {
        let [before, after] = sides.map(|(facts, at)| at.and_then(|at| of(&facts.card, at)).map(|text| untied(&text)));
        Pair::of(what, before, after)
    };
    let ages = sides
        .iter()
        .rev()
        .find_map(|(facts, at)| at.and_then(|at| facts.card.back.bands.get(at)))
        .map(|band| untied(&band.label))
        .unwrap_or_default();
    // An age that is only there before or after has no figures to hold beside
    // each other; its portion says that it came or went.
    let nutrients = match places {
        [Some(was), Some(is)] => nutrients(old, was, new, is),
        _ => Vec::new(),
    };
    let there = was.is_some() && is.is_some();
    Band {
        of: "portion",
        band: key.to_owned(),
        ages,
        nutrients,
        energy: [
            both("energy", &|card, at| {
                card.back.energy.get(at).map(|energy| {
                    if energy.share_text.is_empty() {
                        energy.kcal.clone()
                    } else {
                        format!("{}, {}", energy.kcal, energy.share_text)
                    }
                })
            }),
            both("energy per gram", &|card, at| card.back.energy.get(at).map(|energy| energy.density.clone())),
        ]
        .into_iter()
        .flatten()
        .filter(|_| there)
        .collect(),
        portion: both("portion", &|card, at| card.back.bands.get(at).map(|band| band.portion.clone())),
    }
}

fn nutrients(old: &Facts<'_>, was: usize, new: &Facts<'_>, is: usize) -> Vec<NutrientChange> {
    let rows = |facts: &Facts<'_>| -> Vec<String> {
        facts.card.back.groups.iter().flat_map(|group| &group.rows).map(|row| row.tag.clone()).collect()
    };
    let mut tags = rows(new);
    tags.extend(rows(old).into_iter().filter(|tag| !rows(new).contains(tag)));
    tags.into_iter()
        .filter_map(|tag| {
            let before = old.cell(&tag, was);
            let after = new.cell(&tag, is);
            let name = after.or(before).map(|(name, _, _)| name.to_owned()).unwrap_or_default();
            let [text_before, text_after] = [before, after].map(|cell| cell.map(|(_, cell, _)| printed(cell)));
            let values = [before, after].map(|cell| cell.and_then(|(_, _, value)| value));
            Pair::of(&name, text_before, text_after).map(|printed| NutrientChange {
                unit: NutrientId::from_tag(&tag).map_or("", |id| id.get().unit).to_owned(),
                tag,
                values,
                printed,
            })
        })
        .collect()
}

/// A cell of the back as it is printed.
pub fn printed(cell: &Cell) -> String {
    let mut text = cell.at_least.as_ref().map(|words| format!("{words} ")).unwrap_or_default();
    text.push_str(&cell.amount);
    if !cell.share_text.is_empty() {
        if !cell.amount.is_empty() {
            text.push_str(", ");
        }
        text.push_str(&cell.share_text);
    }
    untied(&text)
}

/// Ingredients are the same thing while steps call them the same.
fn ingredients(old: &[(String, String)], new: &[(String, String)]) -> Vec<Pair> {
    let mut rest: Vec<&(String, String)> = old.iter().collect();
    let mut found = Vec::new();
    for (name, text) in new {
        let before = rest.iter().position(|(other, _)| other == name).map(|at| rest.remove(at).1.clone());
        found.extend(Pair::of(name, before, Some(text.clone())));
    }
    found.extend(rest.into_iter().map(|(name, text)| Pair {
        what: name.clone(),
        before: Some(text.clone()),
        after: None,
    }));
    let order = |list: &[(String, String)]| list.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    let (was, is) = (order(old), order(new));
    let same = |a: &[String], b: &[String]| {
        let (mut a, mut b) = (a.to_vec(), b.to_vec());
        a.sort();
        b.sort();
        a == b
    };
    if was != is && same(&was, &is) {
        found.push(Pair { what: "order".to_owned(), before: Some(was.join(", ")), after: Some(is.join(", ")) });
    }
    found
}

/// Holds the printed cards of every language beside each other.
pub fn cards(before: &Side<'_>, after: &Side<'_>, locales: &[Locale], change: &mut Change) {
    let mut languages: Vec<&String> = after.languages.iter().chain(&before.languages).collect();
    let mut seen = std::collections::BTreeSet::new();
    languages.retain(|tag| seen.insert(tag.to_lowercase()));
    let mut elsewhere: Vec<String> = Vec::new();
    for tag in languages {
        let there = |side: &Side<'_>| side.languages.iter().any(|other| other.eq_ignore_ascii_case(tag));
        match (there(before), there(after)) {
            (true, true) => {}
            (false, _) => elsewhere.push(format!("a card in `{tag}`, which is new")),
            (_, false) => elsewhere.push(format!("a card in `{tag}`, which is no more made")),
        }
        if there(before) != there(after) {
            change.noticed = true;
            continue;
        }
        let Some(locale) = locales.iter().find(|locale| locale.tag().eq_ignore_ascii_case(tag)) else { continue };
        let (Some(old), Some(new)) = (seen_of(before, locale), seen_of(after, locale)) else { continue };
        for name in old.keys().chain(new.keys()) {
            if old.get(name) == new.get(name) {
                continue;
            }
            change.noticed = true;
            let name = name.strip_prefix("back.").filter(|_| !COVERED.contains(&name.as_str())).unwrap_or(name);
            if !COVERED.contains(&name) && !elsewhere.iter().any(|known| known == name) {
                elsewhere.push(name.to_owned());
            }
        }
    }
    change.elsewhere = elsewhere;
}

/// The parts of a card that are printed, by name, numbers rounded as far as a
/// drawing can show them.
fn seen_of(side: &Side<'_>, locale: &Locale) -> Option<BTreeMap<String, Value>> {
    let card = match (&side.file.dish, &side.file.menu) {
        (Some(dish), _) => serde_json::to_value(card::make(&maker(side, dish, locale))),
        (None, Some(menu)) => serde_json::to_value(card::menu::make(&day::maker(side, menu, locale))),
        (None, None) => return None,
    };
    let Value::Object(card) = card.ok()? else { return None };
    let mut parts = BTreeMap::new();
    for (name, value) in card {
        match value {
            _ if UNSEEN.contains(&name.as_str()) => {}
            Value::Object(back) if name == "back" => {
                for (name, value) in back.into_iter().filter(|(name, _)| name != "figures") {
                    parts.insert(format!("back.{name}"), rounded(value));
                }
            }
            value => {
                parts.insert(name, rounded(value));
            }
        }
    }
    Some(parts)
}

fn rounded(value: Value) -> Value {
    match value {
        Value::Number(number) if number.is_f64() => {
            number.as_f64().map_or(Value::Null, |number| Value::from(crate::quantity::round_half_even(number, 2)))
        }
        Value::Array(list) => list.into_iter().map(rounded).collect(),
        Value::Object(object) => object.into_iter().map(|(name, value)| (name, rounded(value))).collect(),
        other => other,
    }
}

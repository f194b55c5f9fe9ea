//! A dish as linked data: schema.org's Recipe, in JSON-LD. Only what is known
//! and complete is said: a component that some food's figure is missing for is
//! left out, since these terms have no word for "at least".

use serde_json::{Map, Value, json};

use crate::assess::contradicts_diet;
use crate::card::steps::Step;
use crate::card::{Card, Item};
use crate::check::CheckedDish;
use crate::quantity::round_half_even;
use crate::reference::nutrient::{self, NutrientId};

/// Terms of NutritionInformation, and the component that each is.
const NUTRITION: &[(&str, NutrientId)] = &[
    ("calories", nutrient::ENERC_KCAL),
    ("proteinContent", nutrient::PROCNT),
    ("fatContent", nutrient::FAT),
    ("saturatedFatContent", nutrient::FASAT),
    ("carbohydrateContent", nutrient::CHOCDF),
    ("sugarContent", nutrient::SUGAR),
    ("fiberContent", nutrient::FIBTG),
    ("cholesterolContent", nutrient::CHOLE),
    ("sodiumContent", nutrient::NA),
];

/// Diets that schema.org has a word for, by the author's.
const DIETS: &[(&str, &str)] = &[
    ("vegetarian", "https://schema.org/VegetarianDiet"),
    ("vegan", "https://schema.org/VeganDiet"),
    ("no gluten", "https://schema.org/GlutenFreeDiet"),
];

/// A dish's Recipe in the language of its card.
pub fn recipe(card: &Card, dish: &CheckedDish) -> Value {
    let mut recipe = Map::new();
    let mut put = |key: &str, value: Value| {
        if !matches!(&value, Value::Null) && value != json!([]) && value != json!("") {
            recipe.insert(key.to_owned(), value);
        }
    };
    put("@context", json!("https://schema.org"));
    put("@type", json!("Recipe"));
    put("name", json!(card.title));
    put("inLanguage", json!(card.lang));
    put("description", json!(description(card)));
    if let Some(programme) = &card.programme {
        put("author", json!({ "@type": "Organization", "name": programme }));
    }
    let (from, to) = dish.resolved.months;
    put(
        "audience",
        json!({
            "@type": "PeopleAudience",
            "suggestedAge": { "@type": "QuantitativeValue", "minValue": from, "maxValue": to, "unitCode": "MON" },
        }),
    );
    put("recipeYield", json!(card.makes.as_ref().map(|makes| makes.text.clone())));
    if !card.times.is_empty() {
        put("totalTime", json!(duration(dish.resolved.flow.one_fire().1)));
    }
    put("recipeIngredient", json!(ingredients(card)));
    put("recipeInstructions", json!(instructions(card)));
    put("nutrition", nutrition(card, dish));
    put("suitableForDiet", json!(diets(dish)));
    Value::Object(recipe)
}

/// For whom it is, and every caution that does not stand beside a step: who
/// reads the data alone must not lose them.
fn description(card: &Card) -> String {
    let mut sentences = vec![format!("{} {}.", card.ages.label, card.ages.text)];
    let cautions = card.remarks.iter().filter(|remark| remark.kind == "caution");
    sentences.extend(cautions.map(|remark| format!("{}{} {}", remark.label, card.colon, remark.text)));
    sentences.extend(card.standing.iter().cloned());
    sentences.join(" ")
}

fn ingredients(card: &Card) -> Vec<String> {
    let line = |item: &Item| {
        let mut pieces =
            if card.ingredients.food_first { vec![&item.food, &item.amount] } else { vec![&item.amount, &item.food] };
        pieces.retain(|piece| !piece.is_empty());
        let mut text = pieces.into_iter().cloned().collect::<Vec<_>>().join(" ");
        if !item.grams.is_empty() {
            text.push_str(&format!(" ({}{})", if item.estimated { "≈ " } else { "" }, item.grams));
        }
        for alternative in &item.alternatives {
            text.push_str(", ");
            text.push_str(alternative);
        }
        text
    };
    let mut lines: Vec<String> =
        card.ingredients.sections.iter().flat_map(|section| &section.items).map(line).collect();
    // Without these words a reader would give the family's salt to the child.
    if let Some(family) = &card.ingredients.family {
        let title = family.title.clone().unwrap_or_default();
        lines.extend(family.items.iter().map(|item| format!("{} ({title})", line(item))));
    }
    lines
}

fn instructions(card: &Card) -> Vec<Value> {
    let mut all: Vec<Value> = Vec::new();
    let mut section: Option<(String, Vec<Value>)> = None;
    let close = |section: &mut Option<(String, Vec<Value>)>, all: &mut Vec<Value>| {
        if let Some((name, steps)) = section.take() {
            all.push(json!({ "@type": "HowToSection", "name": name, "itemListElement": steps }));
        }
    };
    for step in &card.method.steps {
        if step.kind == "part" {
            close(&mut section, &mut all);
            section = Some((step.title.clone().unwrap_or_default(), Vec::new()));
            continue;
        }
        let own = json!({ "@type": "HowToStep", "position": step.number, "text": words(step) });
        match &mut section {
            Some((_, steps)) => steps.push(own),
            None => all.push(own),
        }
    }
    close(&mut section, &mut all);
    all
}

/// A step as one text, its cautions with it.
fn words(step: &Step) -> String {
    let mut text = step.sentence.clone();
    if let Some(duration) = &step.duration {
        text.push_str(&format!(" ({duration})"));
    }
    for more in [&step.until, &step.prose, &step.unattended].into_iter().flatten().chain(&step.cautions) {
        text.push(' ');
        text.push_str(more);
    }
    text
}

/// One NutritionInformation for each portion, named by its ages.
fn nutrition(card: &Card, dish: &CheckedDish) -> Value {
    let sums = &dish.computed.nutrition;
    let mut all: Vec<Value> = Vec::new();
    for (portion, band) in dish.computed.portions.iter().zip(&card.back.bands) {
        let Some(grams) = portion.grams else { continue };
        let mut own = Map::new();
        own.insert("@type".to_owned(), json!("NutritionInformation"));
        own.insert("name".to_owned(), json!(band.label));
        own.insert("servingSize".to_owned(), json!(band.portion));
        for (term, id) in NUTRITION {
            let Some(value) = sums.in_grams(*id, grams).filter(|_| sums.complete(*id)) else { continue };
            let unit = id.get().unit;
            let decimals = if unit == "g" { 1 } else { 0 };
            own.insert((*term).to_owned(), json!(format!("{} {unit}", round_half_even(value, decimals))));
        }
        all.push(Value::Object(own));
    }
    if all.len() == 1 { all.remove(0) } else { Value::Array(all) }
}

/// Diets that the author names and that every food is known to agree with.
fn diets(dish: &CheckedDish) -> Vec<&'static str> {
    let foods: Vec<_> =
        dish.resolved.ingredients.iter().flat_map(|own| &own.options).map(|choice| choice.food.as_ref()).collect();
    let proven = |word: &str| {
        !foods.is_empty()
            && foods.iter().all(|food| {
                // Of a row that is not in the larder nobody knows what it holds.
                food.is_some_and(|food| {
                    let known = food.larder.is_some() || matches!(food.figures, crate::resolve::food::Figures::Dish(_));
                    known && !contradicts_diet(word, food)
                })
            })
    };
    let said = |word: &str| dish.resolved.ast.diets.iter().any(|diet| diet.value.eq_ignore_ascii_case(word));
    DIETS.iter().filter(|(word, _)| said(word) && proven(word)).map(|(_, term)| *term).collect()
}

/// Minutes as ISO 8601 writes them: `PT1H15M`.
fn duration(minutes: f64) -> String {
    let minutes = minutes.round().max(0.0) as u64;
    let (hours, rest) = (minutes / 60, minutes % 60);
    match (hours, rest) {
        (0, rest) => format!("PT{rest}M"),
        (hours, 0) => format!("PT{hours}H"),
        (hours, rest) => format!("PT{hours}H{rest}M"),
    }
}

/// JSON-LD as it may stand between the tags of a page: no text can end the
/// element or begin a comment.
pub fn within_page(value: &Value) -> String {
    let text = serde_json::to_string(value).unwrap_or_default();
    text.chars().fold(String::with_capacity(text.len()), |mut safe, character| {
        match character {
            '<' | '>' | '&' | '\u{2028}' | '\u{2029}' => safe.push_str(&format!("\\u{:04x}", u32::from(character))),
            other => safe.push(other),
        }
        safe
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;

    #[test]
    fn durations_are_those_of_iso_8601() {
        for (minutes, text) in [(5.0, "PT5M"), (60.0, "PT1H"), (75.4, "PT1H15M"), (3_000.0, "PT50H")] {
            assert_eq!(duration(minutes), text);
        }
    }

    #[test]
    fn no_text_leaves_its_element() {
        let nasty = "</script><!--<script>&\u{2028}\"'";
        let text = within_page(&json!({ "name": nasty }));
        assert!(!text.contains(['<', '>', '&', '\u{2028}']), "{text}");
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap()["name"], nasty);
    }
}

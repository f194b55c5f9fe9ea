//! A food: its row, how it was weighed, and what it brings.

use std::fmt::Write;

use super::{COMPONENTS, Told, grams};
use crate::cli::nutrients::columns;
use crate::compute::nutrition::{percent_kept, value_of};
use crate::lsp::view::{View, touches};
use crate::quantity::round_half_even;
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::retention;
use crate::resolve::food::label;
use crate::resolve::menu::What;
use crate::resolve::{Choice, Food};

/// A food of a `take` or `swap` line.
pub fn taken(view: &View<'_>, at: usize, choice: &Choice) -> String {
    let mut text = String::new();
    let Some(dish) = &view.checked.dish else { return text };
    let name = label(&choice.option).value;
    let Some(food) = &choice.food else {
        let _ = writeln!(text, "{name}: no figures; see the message");
        return text;
    };
    let weight = choice.weight.as_ref();
    match weight {
        Some(weight) => {
            let about = if weight.estimated { "about " } else { "" };
            let _ = writeln!(text, "{name}: {about}{} g", grams(weight.grams));
            for step in &weight.how {
                let _ = writeln!(text, "  weight     {step}");
            }
        }
        None => {
            let _ = writeln!(text, "{name}: weight not known");
        }
    }
    rows(food, &mut text);
    let nutrition = &dish.computed.nutrition;
    let first =
        dish.resolved.ingredients.get(at).and_then(|one| one.first()).is_some_and(|one| std::ptr::eq(one, choice));
    let part = nutrition.contributions.iter().find(|part| part.ingredient == at).filter(|_| first);
    let codes: Vec<_> = part.iter().flat_map(|part| &part.codes).collect();
    for code in &codes {
        let description = retention::code(code.code).map_or("", |row| row.description.as_str());
        let _ = writeln!(text, "  retention  r6:{} {description} ({})", code.code, code.why);
    }
    let kept: Vec<_> = codes.iter().filter_map(|code| retention::code(code.code)).collect();
    let mut table = vec![vec![String::new(), String::new(), "per 100 g".to_owned(), "this brings".to_owned()]];
    if part.is_some() {
        table.iter_mut().for_each(|row| row.push("of the dish".to_owned()));
    }
    for id in COMPONENTS {
        let per_100g = value_of(food, id);
        let brings =
            per_100g.zip(weight).map(|(value, weight)| weight.grams * value / 100.0 * percent_kept(id, &kept) / 100.0);
        let mut row =
            vec![id.get().name.to_owned(), id.get().unit.to_owned(), figure(per_100g, id), figure(brings, id)];
        if part.is_some() {
            let whole = nutrition.whole(id).filter(|whole| *whole > 0.0);
            let share = brings.zip(whole).map(|(value, whole)| value / whole * 100.0);
            row.push(share.map_or(String::new(), |share| format!("{} %", round_half_even(share, 1))));
        }
        table.push(row);
    }
    columns(&table, &mut text);
    let reaches = dish.resolved.flow.child.get(at).copied().unwrap_or(true);
    if !reaches {
        text.push_str("not in the child's portion\n");
    } else if !first {
        text.push_str("may stand in for the first food of the line; before heat\n");
    }
    text
}

/// A dish or food of a `meal` line.
pub fn served(view: &View<'_>, byte: usize) -> Option<Told> {
    let menu = &view.checked.menu.as_ref()?.resolved;
    let (_, _, item) = menu.items().find(|(_, _, item)| touches(item.span, byte))?;
    let choice = item.options.iter().find(|choice| touches(choice.option.span, byte))?;
    let mut text = String::new();
    let _ = writeln!(text, "{}", choice.title());
    if let What::Food(food) = &choice.what {
        rows(food, &mut text);
    }
    let mut table = vec![["months", "", "g", "kcal"].map(str::to_owned).to_vec()];
    for (band, serving) in menu.bands.iter().zip(&choice.servings) {
        let band = view.reference().profile.bands().get(*band)?;
        let per_100g = match &choice.what {
            What::Food(food) => value_of(food, nutrient::ENERC_KCAL),
            What::Dish(dish) => {
                dish.served.figures.get(nutrient::ENERC_KCAL.index()).and_then(|figure| figure.at_least)
            }
            What::Nothing => None,
        };
        let energy = per_100g.zip(serving.grams).map(|(value, grams)| value * grams / 100.0);
        table.push(vec![
            band.key.clone(),
            serving.ml.map_or(String::new(), |ml| format!("{} mL", grams(ml))),
            serving.grams.map_or("not known".to_owned(), grams),
            energy.map_or("unknown".to_owned(), grams),
        ]);
    }
    columns(&table, &mut text);
    for step in choice.servings.first().iter().flat_map(|serving| &serving.how) {
        let _ = writeln!(text, "  weight     {step}");
    }
    Some(Told { span: choice.option.span, text })
}

/// Where a food's figures stand.
fn rows(food: &Food, text: &mut String) {
    let _ = writeln!(text, "  row        {}  {}", food.row_id(), food.row_name());
    if let Some(borrowed) = food.larder.as_ref().and_then(|row| row.borrowed.as_ref()) {
        let _ = writeln!(text, "  borrowed   {borrowed}");
    }
    if let Some(row) = food.larder.as_ref().filter(|row| !row.unknown.is_empty()) {
        let _ = writeln!(text, "  unknown    {}", row.unknown.join(", "));
    }
    if let Some(fill) = food.fill() {
        let _ = writeln!(text, "  fill       usda:{}  {}, where the row says nothing", fill.ndb(), fill.name());
    }
}

/// Unknown is unknown, never zero.
fn figure(value: Option<f64>, id: NutrientId) -> String {
    value.map_or("unknown".to_owned(), |value| round_half_even(value, id.get().decimals).to_string())
}

//! `porringer nutrients --alternatives`: each `or` and `swap` in turn.

use std::fmt::Write;

use serde_json::{Map, Value, json};

use crate::check::CheckedDish;
use crate::cli::nutrients::{columns, in_band, number};
use crate::compute::{Computed, Ends, Selection, compute, spread};
use crate::quantity::round_half_even;
use crate::reference::nutrient::NutrientId;
use crate::reference::profile::data::AgeBand;
use crate::workspace::Workspace;

/// How the bounds over all combinations come about, for data output.
const METHOD: &str = "whole: the sum of each line's least or most; portions: the exact least or most over every \
                      combination of options, the cooked weight moving with them; an unknown value counts as nothing, \
                      so `high` is no bound where known_share is below 1";

fn each<'d>(dish: &'d CheckedDish, workspace: &'d Workspace) -> impl Iterator<Item = (usize, usize, Computed)> + 'd {
    dish.resolved.alternatives().into_iter().map(|(at, option)| {
        let selection = Selection::with(&dish.resolved, at, option);
        (at, option, compute(&dish.resolved, &workspace.reference, &selection))
    })
}

pub fn csv_head(bands: &[AgeBand]) -> String {
    let mut head = ",alternative".to_owned();
    for band in bands {
        let _ = write!(head, ",difference_{}", band.key);
    }
    head
}

/// Adds `alternatives`, one object an option, and `combinations`, the ends over
/// all of them.
pub fn into_object(dish: &CheckedDish, workspace: &Workspace, object: &mut Value) {
    let bands = workspace.reference.profile.bands();
    let mut list = Vec::new();
    for (at, option, computed) in each(dish, workspace) {
        let Some(ingredient) = dish.resolved.ingredients.get(at) else { continue };
        let Some(choice) = ingredient.options.get(option) else { continue };
        let mut nutrients = Map::new();
        for id in NutrientId::all() {
            let Some(whole) = computed.nutrition.whole(id) else { continue };
            let mut portions = Map::new();
            let mut difference = Map::new();
            for portion in &computed.portions {
                let Some(band) = bands.get(portion.band) else { continue };
                let value = in_band(&computed, portion.band, id);
                let first = in_band(&dish.computed, portion.band, id);
                portions.insert(band.key.clone(), number(value));
                difference.insert(band.key.clone(), number(value.zip(first).map(|(value, first)| value - first)));
            }
            nutrients.insert(
                id.get().tag.to_owned(),
                json!({
                    "unit": id.get().unit,
                    "whole": number(Some(whole)),
                    "per_100g": number(computed.nutrition.per_100g(id)),
                    "portions": portions,
                    "difference": difference,
                    "known_share": number(Some(computed.nutrition.known_share(id))),
                }),
            );
        }
        list.push(json!({
            "ingredient": ingredient.name,
            "option": option,
            "by": if choice.swapped { "swap" } else { "or" },
            "food": dish.resolved.option_name(at, option),
            "row": choice.food.as_ref().map(|food| food.row_id()),
            "grams": number(choice.weight.as_ref().map(|weight| weight.grams)),
            "raw_g": number(Some(computed.nutrition.raw_g)),
            "cooked_g": number(Some(computed.nutrition.cooked_g)),
            "nutrients": nutrients,
        }));
    }
    let combinations = spread::combinations(&dish.resolved, &dish.computed).map(|spread| {
        let end = |id: NutrientId, pick: fn(Ends) -> f64| {
            let mut portions = Map::new();
            for (at, portion) in dish.computed.portions.iter().enumerate() {
                if let (Some(band), Some(ends)) = (bands.get(portion.band), spread.portion(at, id)) {
                    portions.insert(band.key.clone(), number(Some(pick(ends))));
                }
            }
            json!({ "whole": number(Some(pick(spread.whole(id)))), "portions": portions })
        };
        let nutrients: Map<String, Value> = NutrientId::all()
            .filter(|id| dish.computed.nutrition.whole(*id).is_some())
            .map(|id| {
                let ends = json!({ "low": end(id, |ends| ends.low), "high": end(id, |ends| ends.high) });
                (id.get().tag.to_owned(), ends)
            })
            .collect();
        json!({ "method": METHOD, "nutrients": nutrients })
    });
    if let Value::Object(map) = object {
        map.insert("alternatives".to_owned(), Value::Array(list));
        map.insert("combinations".to_owned(), combinations.unwrap_or(Value::Null));
    }
}

/// One block an alternative: the portions and how they differ from the first
/// food's, where print shows a difference; then the ends over all
/// combinations.
pub fn table(dish: &CheckedDish, workspace: &Workspace, out: &mut String) {
    let bands = workspace.reference.profile.bands();
    let mut any = false;
    for (at, option, computed) in each(dish, workspace) {
        any = true;
        let Some(ingredient) = dish.resolved.ingredients.get(at) else { continue };
        let Some(choice) = ingredient.options.get(option) else { continue };
        let name = dish.resolved.option_name(at, option).unwrap_or_default();
        let by = if choice.swapped { "swap" } else { "or" };
        let grams = choice
            .weight
            .as_ref()
            .map_or("weight not known".to_owned(), |weight| format!("{} g", round_half_even(weight.grams, 1)));
        let estimate = if computed.cooked.estimated { "about " } else { "" };
        let _ = writeln!(
            out,
            "with {name} ({by}, {grams}) for {}: cooked {estimate}{} g",
            ingredient.name,
            round_half_even(computed.nutrition.cooked_g, 0)
        );
        let mut heads = vec![String::new(), "unit".to_owned()];
        for portion in &computed.portions {
            let Some(band) = bands.get(portion.band) else { continue };
            heads.push(format!("{} mo", band.key));
            heads.push("difference".to_owned());
        }
        let mut rows = vec![heads];
        for id in NutrientId::all() {
            if computed.nutrition.whole(id).is_none() {
                continue;
            }
            let decimals = id.get().decimals;
            let show = |value: f64| format!("{:.*}", usize::from(decimals), round_half_even(value, decimals));
            let bound = if computed.nutrition.complete(id) { "" } else { "≥ " };
            let mut row = vec![format!("{} {}", id.get().tag, id.get().name), id.get().unit.to_owned()];
            let mut differs = false;
            for portion in &computed.portions {
                let value = in_band(&computed, portion.band, id);
                let first = in_band(&dish.computed, portion.band, id);
                row.push(value.map_or("?".to_owned(), |value| format!("{bound}{}", show(value))));
                let pair = value.zip(first);
                differs |= pair.is_none_or(|(value, first)| show(value) != show(first));
                row.push(pair.map_or("?".to_owned(), |(value, first)| {
                    let difference = show(value - first);
                    if value > first { format!("+{difference}") } else { difference }
                }));
            }
            if differs {
                rows.push(row);
            }
        }
        if rows.len() > 1 {
            columns(&rows, out);
        } else {
            out.push_str("no figure of a portion differs in print\n");
        }
        out.push('\n');
    }
    if !any {
        let _ = writeln!(out, "{} has no alternatives\n", dish.resolved.title());
        return;
    }
    combinations(dish, bands, out);
}

fn combinations(dish: &CheckedDish, bands: &[AgeBand], out: &mut String) {
    if dish.resolved.alternatives().len() < 2 {
        return;
    }
    let Some(spread) = spread::combinations(&dish.resolved, &dish.computed) else { return };
    out.push_str("a portion over every combination of these, least to most\n");
    let mut heads = vec![String::new(), "unit".to_owned()];
    for portion in &dish.computed.portions {
        if let Some(band) = bands.get(portion.band) {
            heads.push(format!("{} mo", band.key));
        }
    }
    let mut rows = vec![heads];
    for id in NutrientId::all().filter(|id| dish.computed.nutrition.complete(*id)) {
        let decimals = id.get().decimals;
        let show = |value: f64| format!("{:.*}", usize::from(decimals), round_half_even(value, decimals));
        let mut row = vec![format!("{} {}", id.get().tag, id.get().name), id.get().unit.to_owned()];
        let mut differs = false;
        for at in 0..dish.computed.portions.len() {
            let Some(ends) = spread.portion(at, id) else {
                row.push("?".to_owned());
                continue;
            };
            let (low, high) = (show(ends.low), show(ends.high));
            differs |= low != high;
            row.push(if low == high { low } else { format!("{low} to {high}") });
        }
        if differs {
            rows.push(row);
        }
    }
    columns(&rows, out);
    out.push('\n');
}

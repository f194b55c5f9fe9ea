//! A menu's sums as data and as a table.

use std::fmt::Write;

use serde_json::{Map, Value, json};

use super::report;
use crate::assess::menu::{group_least, need};
use crate::check::CheckedMenu;
use crate::cli::nutrients::number;
use crate::compute::day::timeline::EventKind;
use crate::compute::day::{BandDay, energy_needs, frequency};
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::AgeBand;
use crate::workspace::Workspace;

/// Name and version of a menu's object.
pub const SCHEMA: &str = "porringer-menu/1";

/// The menu as one JSON object: `{schema, id, title, months, breastfed,
/// breastfed_assumed, bands: {BAND: {energy, breast_milk, nutrients: {TAG:
/// {unit, food, milk, day, at_most, complete, estimated, need, share}},
/// food_groups, meals, snacks, items}}, timeline, profile}`. Amounts are
/// unrounded; `complete` false makes `food` and `day` lower bounds.
pub fn object(menu: &CheckedMenu, workspace: &Workspace) -> Value {
    let mut bands = Map::new();
    for (at, day) in menu.day.bands.iter().enumerate() {
        if let Some(row) = workspace.reference.profile.bands().get(day.band) {
            bands.insert(row.key.clone(), band(menu, at, day, row, workspace));
        }
    }
    let profile = &workspace.reference.profile.file.profile;
    json!({
        "schema": SCHEMA,
        "id": menu.id,
        "title": menu.resolved.title(),
        "months": [menu.resolved.months.0, menu.resolved.months.1],
        "breastfed": menu.resolved.breastfed,
        "breastfed_assumed": menu.resolved.assumed,
        "bands": bands,
        "timeline": menu.day.timeline.iter().map(|event| {
            let (kind, what) = match &event.kind {
                EventKind::Wait { process, foods } | EventKind::Pot { process, foods } => (
                    if matches!(event.kind, EventKind::Wait { .. }) { "wait" } else { "one pot" },
                    json!({
                        "process": process,
                        "foods": foods.iter().map(|food| json!({
                            "row": food.row, "name": food.name, "g": number(Some(food.grams)),
                        })).collect::<Vec<_>>(),
                    }),
                ),
                EventKind::Cook { dish } => ("cook", json!({ "dish": dish })),
                EventKind::Eat { meal } => ("eat", json!({ "meal": meal })),
            };
            json!({
                "minutes_after_midnight": number(Some(event.at)),
                "kind": kind,
                "what": what,
                "minutes": [number(Some(event.minutes.0)), number(Some(event.minutes.1))],
                "meals": event.meals,
            })
        }).collect::<Vec<_>>(),
        "profile": { "id": profile.id, "edition": profile.edition },
    })
}

fn band(menu: &CheckedMenu, at: usize, day: &BandDay, row: &AgeBand, workspace: &Workspace) -> Value {
    let reference = &workspace.reference;
    let mut nutrients = Map::new();
    for id in NutrientId::all() {
        let sum = day.sum(id);
        if !sum.known && sum.milk <= 0.0 {
            continue;
        }
        let need = reference.profile.nutrient(id.get().tag).and_then(|nutrient| need(reference, nutrient, row));
        let need = need.map(|(value, _)| value);
        nutrients.insert(
            id.get().tag.to_owned(),
            json!({
                "unit": id.get().unit,
                "food": number(Some(sum.food)),
                "milk": number(Some(sum.milk)),
                "day": number(Some(sum.total())),
                "at_most": if sum.complete { number(Some(sum.most + sum.milk)) } else { Value::Null },
                "complete": sum.complete,
                "estimated": sum.estimated,
                "need": number(need),
                "share": number(need.map(|need| sum.total() / need)),
            }),
        );
    }
    let kcal = day.sum(nutrient::ENERC_KCAL);
    let (food, total) = energy_needs(row, menu.resolved.breastfed);
    let items: Vec<Value> = day
        .lines
        .iter()
        .filter_map(|line| {
            let (_, choice) = report::item_at(&menu.resolved, line.meal, line.item, line.option)?;
            let serving = choice.servings.get(at)?;
            Some(json!({
                "meal": line.meal,
                "row": choice.row_id(),
                "title": choice.title(),
                "g": number(Some(line.grams)),
                "estimated": serving.estimated,
            }))
        })
        .collect();
    json!({
        "energy": {
            "food": number(Some(kcal.food)), "food_need": number(Some(food.value)),
            "day": number(Some(kcal.total())), "day_need": number(Some(total.value)),
        },
        "breast_milk": day.milk.as_ref().map(|milk| json!({
            "ml": number(Some(milk.ml)), "g": number(Some(milk.grams)), "kcal": number(Some(milk.kcal)),
            "volume_status": report::status(row.milk_volume.status),
            "row": format!("usda:{}", crate::compute::day::HUMAN_MILK),
        })),
        "nutrients": nutrients,
        "food_groups": day.groups_of(group_least(reference)).iter().map(|group| group.word()).collect::<Vec<_>>(),
        "food_groups_needed": number(Some(reference.profile.file.iycf.groups_needed.value)),
        "meals": day.meals,
        "snacks": day.snacks,
        "meals_and_snacks_needed": frequency(reference, row, menu.resolved.breastfed).map(|row| row.times),
        "allergens": day.allergens,
        "items": items,
    })
}

/// One row a band and component, in the columns of a dish's rows: `whole` is
/// the day, and there is no share of a weight.
pub fn csv_rows(menu: &CheckedMenu, workspace: &Workspace, out: &mut String) {
    let bands = workspace.reference.profile.bands();
    let mut writer = csv::Writer::from_writer(Vec::new());
    for id in NutrientId::all() {
        let sums: Vec<Option<f64>> = (0..bands.len())
            .map(|at| {
                let day = menu.day.bands.iter().find(|day| day.band == at)?;
                let sum = day.sum(id);
                (sum.known || sum.milk > 0.0).then(|| sum.total())
            })
            .collect();
        if sums.iter().all(Option::is_none) {
            continue;
        }
        let mut row = vec![
            crate::cli::nutrients::guarded(&menu.id),
            crate::cli::nutrients::guarded(menu.resolved.title()),
            id.get().tag.to_owned(),
            id.get().unit.to_owned(),
            String::new(),
            String::new(),
            String::new(),
        ];
        row.extend(sums.into_iter().map(|sum| sum.map(|sum| sum.to_string()).unwrap_or_default()));
        let _ = writer.write_record(&row);
    }
    if let Ok(bytes) = writer.into_inner() {
        let _ = write!(out, "{}", String::from_utf8_lossy(&bytes));
    }
}

//! `porringer trace MENU [TAG]`: every sum of the day, so that a person can
//! work it out again by hand.

use std::fmt::Write;

use super::report::{ages, clock, item_at, status};
use crate::assess::menu::need;
use crate::check::CheckedMenu;
use crate::cli::nutrients::{columns, written};
use crate::compute::day::{BandDay, HUMAN_MILK, energy_needs, figure, in_milk};
use crate::quantity::round_half_even;
use crate::reference::composition;
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::{AgeBand, Scope};
use crate::workspace::Workspace;

fn plain(value: f64) -> String {
    round_half_even(value, 4).to_string()
}

pub fn menu(menu: &CheckedMenu, tag: Option<NutrientId>, workspace: &Workspace, out: &mut String) {
    let _ = writeln!(out, "{}", menu.resolved.title());
    let _ = writeln!(out, "for {}\n", ages(&menu.resolved));
    for (at, day) in menu.day.bands.iter().enumerate() {
        let Some(band) = workspace.reference.profile.bands().get(day.band) else { continue };
        weights(menu, at, day, band, out);
        match tag {
            Some(id) => component(menu, day, band, id, workspace, out),
            None => {
                component(menu, day, band, nutrient::ENERC_KCAL, workspace, out);
                for row in workspace.reference.profile.file.nutrient.iter().filter(|row| row.on_card) {
                    if let Some(id) = NutrientId::from_tag(&row.tag) {
                        component(menu, day, band, id, workspace, out);
                    }
                }
            }
        }
    }
}

fn weights(menu: &CheckedMenu, at: usize, day: &BandDay, band: &AgeBand, out: &mut String) {
    let _ = writeln!(out, "{} months\n", band.key);
    for meal in &menu.resolved.meals {
        let name =
            meal.name.as_ref().map(|name| name.value.as_str()).unwrap_or(if meal.snack { "snack" } else { "meal" });
        let _ = writeln!(out, "{} {name}", clock(f64::from(meal.at)));
        for item in &meal.items {
            for (option, choice) in item.options.iter().enumerate() {
                let serving = choice.servings.get(at);
                let grams = serving
                    .and_then(|serving| serving.grams)
                    .map_or("weight not known".to_owned(), |grams| format!("{} g", round_half_even(grams, 2)));
                let amount = serving.and_then(|serving| serving.amount.as_ref()).map(written).unwrap_or_default();
                let head = if option == 0 { String::new() } else { format!("or (alternative {option}) ") };
                let gap = if amount.is_empty() { "" } else { ", " };
                let _ = writeln!(out, "  {head}{}: {amount}{gap}{grams}", choice.title());
                let _ = writeln!(out, "    row        {}", choice.row_id());
                for step in serving.iter().flat_map(|serving| &serving.how) {
                    let _ = writeln!(out, "    weight     {step}");
                }
            }
        }
    }
    if let Some(milk) = &day.milk {
        let _ = writeln!(out, "breast milk: {} mL = {} g", round_half_even(milk.ml, 0), round_half_even(milk.grams, 2));
        let volume = &band.milk_volume;
        let _ = writeln!(out, "    volume     {} ({})", volume.source, status(volume.status));
        out.push_str("    weight     1.04 g/mL (USDA SR28: 1 fl oz = 30.8 g)\n");
        let name = composition::row(HUMAN_MILK).map(|row| row.name().to_owned()).unwrap_or_default();
        let _ = writeln!(out, "    row        usda:{HUMAN_MILK}  {name}");
        let energy = &band.milk_energy;
        let _ = writeln!(out, "    energy     {} kcal, {} ({})", energy.value, energy.source, status(energy.status));
    }
    out.push('\n');
}

fn component(
    menu: &CheckedMenu,
    day: &BandDay,
    band: &AgeBand,
    id: NutrientId,
    workspace: &Workspace,
    out: &mut String,
) {
    let about = id.get();
    let sum = day.sum(id);
    let _ = writeln!(out, "{} {}, {}, {} months\n", about.tag, about.name, about.unit, band.key);
    let mut rows = vec![["item", "row", "g", "per 100 g", "brings", "at most"].map(str::to_owned).to_vec()];
    for line in &day.lines {
        let Some((_, choice)) = item_at(&menu.resolved, line.meal, line.item, line.option) else { continue };
        let figure = figure(choice, id);
        let brings = |value: Option<f64>| value.map_or("unknown".to_owned(), |value| plain(value * line.grams / 100.0));
        let bound = if figure.complete || figure.at_least.is_none() { "" } else { "≥ " };
        rows.push(vec![
            choice.title(),
            choice.row_id(),
            round_half_even(line.grams, 2).to_string(),
            figure.at_least.map_or("unknown".to_owned(), |value| format!("{bound}{}", plain(value))),
            format!("{bound}{}", brings(figure.at_least)),
            brings(figure.most),
        ]);
    }
    if let Some(milk) = &day.milk {
        let value = in_milk(milk, id);
        let per = if id == nutrient::ENERC_KCAL || id == nutrient::ENERC_KJ {
            "see above".to_owned()
        } else {
            composition::row(HUMAN_MILK).and_then(|row| row.value(id)).map_or("unknown".to_owned(), plain)
        };
        let brings = value.map_or("unknown".to_owned(), plain);
        rows.push(vec![
            "breast milk".to_owned(),
            format!("usda:{HUMAN_MILK}"),
            round_half_even(milk.grams, 2).to_string(),
            per,
            brings.clone(),
            brings,
        ]);
    }
    columns(&rows, out);
    let bound = if sum.complete { "" } else { "at least " };
    let _ = writeln!(out, "\nfood: {bound}{} {}", plain(sum.food), about.unit);
    if day.milk.is_some() {
        let _ = writeln!(
            out,
            "day: {bound}{} {} = {} food + {} breast milk",
            plain(sum.total()),
            about.unit,
            plain(sum.food),
            plain(sum.milk)
        );
    }
    if id == nutrient::ENERC_KCAL {
        energy(menu, day, band, out);
    } else if let Some(row) = workspace.reference.profile.nutrient(about.tag)
        && let Some((need, intake)) = need(&workspace.reference, row, band)
    {
        let value = crate::assess::menu::held(day, row).map_or(0.0, |(value, _)| value);
        let word = if row.aim == crate::reference::profile::data::Aim::AtMost { "limit" } else { "need" };
        let _ = writeln!(
            out,
            "{word}: {need} {} ({}, {}); the day is {bound}{} %",
            about.unit,
            intake.source,
            status(intake.status),
            round_half_even(value / need * 100.0, 1)
        );
    }
    for limit in workspace.reference.profile.file.upper_limit.iter().filter(|limit| {
        limit.tag == about.tag
            && (limit.from_months..=limit.to_months).contains(&band.from_months)
            && matches!(limit.scope, Scope::All | Scope::PreformedRetinol)
    }) {
        let milk = if limit.scope == Scope::All { sum.milk } else { 0.0 };
        let without = if limit.scope == Scope::All { "" } else { ", breast milk not counted" };
        let _ = writeln!(
            out,
            "upper limit: {} {} ({}, {}); at most {}{without}",
            limit.value,
            limit.unit,
            limit.source,
            status(limit.status),
            if sum.complete { plain(sum.most + milk) } else { "not known".to_owned() }
        );
    }
    out.push('\n');
}

fn energy(menu: &CheckedMenu, day: &BandDay, band: &AgeBand, out: &mut String) {
    let sum = day.sum(nutrient::ENERC_KCAL);
    let (food, total) = energy_needs(band, menu.resolved.breastfed);
    let mut line = |what: &str, value: f64, need: &crate::reference::profile::data::Figure| {
        let _ = writeln!(
            out,
            "need, {what}: {} kcal ({}, {}); {} is {} %",
            need.value,
            need.source,
            status(need.status),
            plain(value),
            round_half_even(value / need.value * 100.0, 1)
        );
    };
    line("from food", sum.food, food);
    if day.milk.is_some() {
        line("in all", sum.total(), total);
    }
}

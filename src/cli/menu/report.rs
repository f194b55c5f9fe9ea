//! The day for a person at a terminal.

use std::fmt::Write;

use crate::assess::menu::{group_least, held, need};
use crate::check::CheckedMenu;
use crate::cli::nutrients::{columns, minutes};
use crate::compute::cost::{Cost, Purse};
use crate::compute::day::timeline::{Event, EventFood, EventKind};
use crate::compute::day::{BandDay, energy_needs, figure, frequency};
use crate::quantity::round_half_even;
use crate::reference::nutrient;
use crate::reference::profile::data::{AgeBand, Aim, Status};
use crate::reference::season;
use crate::resolve::menu::{Choice, Item, Menu, What};
use crate::workspace::Workspace;

pub fn status(status: Status) -> &'static str {
    match status {
        Status::CheckedOfficial => "checked-official",
        Status::CheckedSecondary => "checked-secondary",
        Status::Computed => "computed",
        Status::Memory => "memory",
    }
}

/// `7:00`, `21:20 the evening before`
pub fn clock(at: f64) -> String {
    let whole = at.round() as i64;
    let (days, rest) = (whole.div_euclid(1440), whole.rem_euclid(1440));
    let time = format!("{}:{:02}", rest / 60, rest % 60);
    match days {
        0 => time,
        -1 => format!("{time} the day before"),
        more => format!("{time}, {} days before", -more),
    }
}

/// The menu's ages and feeding in words.
pub fn ages(menu: &Menu) -> String {
    let feeding = if menu.breastfed { "breastfed" } else { "not breastfed" };
    let assumed = if menu.assumed { " (assumed: the menu does not say)" } else { "" };
    format!("{} to {} months, {feeding}{assumed}", menu.months.0, menu.months.1)
}

/// The item that a line of the day stands for.
pub fn item_at(menu: &Menu, meal: usize, item: usize, option: usize) -> Option<(&Item, &Choice)> {
    let item = menu.meals.get(meal)?.items.get(item)?;
    item.options.get(option).map(|choice| (item, choice))
}

/// `purse` adds what the day costs.
pub fn day(menu: &CheckedMenu, file: &str, workspace: &Workspace, purse: Option<Purse<'_>>, out: &mut String) {
    let _ = writeln!(out, "{}  ({file})", menu.resolved.title());
    let _ = writeln!(out, "for {}\n", ages(&menu.resolved));
    for at in 0..menu.day.bands.len() {
        band(menu, at, workspace, purse, out);
    }
    timeline(menu, out);
}

/// What the food of a day costs: what the child eats, bought with its refuse.
fn cost(menu: &CheckedMenu, day: &BandDay, purse: Purse<'_>, out: &mut String) {
    let mut sum = Cost::default();
    for line in &day.lines {
        if let Some((_, choice)) = item_at(&menu.resolved, line.meal, line.item, line.option) {
            sum.add(&purse.of_choice(choice, line.grams));
        }
    }
    let bound = if sum.is_whole() { "" } else { "at least " };
    let _ = writeln!(out, "cost: {bound}{:.2} {}, what the child eats as bought", sum.price, purse.currency);
    for (names, what) in [
        (&sum.unpriced, "without a price, not in the sum"),
        (&sum.old, "prices over twelve months old, or of no known date"),
    ] {
        if !names.is_empty() {
            let _ = writeln!(out, "      {what}: {}", names.join("; "));
        }
    }
}

fn band(menu: &CheckedMenu, at: usize, workspace: &Workspace, purse: Option<Purse<'_>>, out: &mut String) {
    let profile = &workspace.reference.profile;
    let Some(day) = menu.day.bands.get(at) else { return };
    let Some(band) = profile.bands().get(day.band) else { return };
    let _ = writeln!(out, "{} months", band.key);
    lines(menu, at, day, out);
    let kcal = day.sum(nutrient::ENERC_KCAL);
    let (food_need, total_need) = energy_needs(band, menu.resolved.breastfed);
    let percent = |value: f64, need: f64| round_half_even(value / need * 100.0, 0);
    let _ = writeln!(
        out,
        "energy: {:.0} kcal from food, {} % of {:.0}",
        kcal.food,
        percent(kcal.food, food_need.value),
        food_need.value
    );
    if day.milk.is_some() {
        let _ = writeln!(
            out,
            "        {:.0} kcal with breast milk, {} % of {:.0}",
            kcal.total(),
            percent(kcal.total(), total_need.value),
            total_need.value
        );
    }
    if let Some(purse) = purse {
        cost(menu, day, purse, out);
    }
    groups(day, band, menu, workspace, out);
    sums(day, band, workspace, out);
    if let Some(report) = menu.report.bands.get(at) {
        for short in &report.short {
            let closers: Vec<String> = short
                .closers
                .iter()
                .map(|closer| format!("{:.0} g {}", closer.grams.ceil(), closer.food.full_name()))
                .collect();
            let name = profile.nutrient(&short.tag).map_or(short.tag.as_str(), |row| row.en.as_str());
            let closed = if closers.is_empty() { "no food alone closes it".to_owned() } else { closers.join(" or ") };
            let bound = if short.complete { "" } else { "at least " };
            let seasons = &workspace.reference.practice.seasons;
            let later: String = short
                .out_of_season
                .iter()
                .map(|closer| {
                    let months = season::words(seasons.months(&closer.food).unwrap_or(&[]));
                    format!("; only in {months} {:.0} g {}", closer.grams.ceil(), closer.food.full_name())
                })
                .collect();
            let _ = writeln!(out, "short of {name}: {bound}{:.0} %; {closed}{later}", short.percent());
        }
        for limit in report.limits.iter().filter(|limit| limit.most > limit.value) {
            let _ = writeln!(
                out,
                "over the limit of {}: {} {} of {}",
                limit.tag,
                round_half_even(limit.most, 2),
                limit.unit,
                limit.value
            );
        }
    }
    out.push('\n');
}

fn lines(menu: &CheckedMenu, at: usize, day: &BandDay, out: &mut String) {
    let mut rows = vec![["time", "what", "amount", "g", "kcal"].map(str::to_owned).to_vec()];
    for (index, meal) in menu.resolved.meals.iter().enumerate() {
        for (place, item) in meal.items.iter().enumerate() {
            let Some(choice) = item.options.first() else { continue };
            let serving = choice.servings.get(at);
            let grams = serving.and_then(|serving| serving.grams);
            let line = day.lines.iter().find(|line| line.meal == index && line.item == place);
            let kcal = line
                .and_then(|line| figure(choice, nutrient::ENERC_KCAL).at_least.map(|value| value * line.grams / 100.0));
            let amount = serving
                .and_then(|serving| serving.amount.as_ref())
                .map(crate::cli::nutrients::written)
                .unwrap_or_default();
            let show = |value: Option<f64>| value.map_or("?".to_owned(), |value| round_half_even(value, 0).to_string());
            let mark = if serving.is_some_and(|serving| serving.estimated) { "about " } else { "" };
            rows.push(vec![
                if place == 0 { clock(f64::from(meal.at)) } else { String::new() },
                choice.title(),
                amount,
                format!("{mark}{}", show(grams)),
                show(kcal),
            ]);
            for other in item.options.iter().skip(1) {
                rows.push(vec![
                    String::new(),
                    format!("or {}", other.title()),
                    String::new(),
                    show(other.servings.get(at).and_then(|serving| serving.grams)),
                    String::new(),
                ]);
            }
        }
    }
    if let Some(milk) = &day.milk {
        rows.push(vec![
            "all day".to_owned(),
            "breast milk".to_owned(),
            format!("{} mL", round_half_even(milk.ml, 0)),
            round_half_even(milk.grams, 0).to_string(),
            round_half_even(milk.kcal, 0).to_string(),
        ]);
    }
    columns(&rows, out);
}

fn groups(day: &BandDay, band: &AgeBand, menu: &CheckedMenu, workspace: &Workspace, out: &mut String) {
    let iycf = &workspace.reference.profile.file.iycf;
    let counted = day.groups_of(group_least(&workspace.reference));
    let names: Vec<&str> = counted.iter().map(|group| group.word()).collect();
    let _ = writeln!(
        out,
        "food groups: {} of {}, {} needed: {}",
        counted.len(),
        iycf.group.len(),
        iycf.groups_needed.value,
        names.join(", ")
    );
    let needed = frequency(&workspace.reference, band, menu.resolved.breastfed).map_or(0, |row| row.times);
    let _ = writeln!(out, "meals {}, snacks {}: {} in all, {needed} needed", day.meals, day.snacks, day.feeds());
}

fn sums(day: &BandDay, band: &AgeBand, workspace: &Workspace, out: &mut String) {
    let mut rows = vec![["nutrient", "", "day", "need", "%"].map(str::to_owned).to_vec()];
    for row in workspace.reference.profile.file.nutrient.iter().filter(|row| row.on_card) {
        let need = need(&workspace.reference, row, band).map(|(value, _)| value);
        let Some((value, complete)) = held(day, row) else {
            rows.push(vec![row.en.clone(), row.unit.clone(), "?".to_owned(), String::new(), String::new()]);
            continue;
        };
        let limit = row.aim == Aim::AtMost;
        // A limit may not rest on an incomplete figure.
        if limit && !complete {
            rows.push(vec![row.en.clone(), row.unit.clone(), "not known".to_owned(), String::new(), String::new()]);
            continue;
        }
        let bound = if complete { "" } else { "≥ " };
        let most = if limit { "at most " } else { "" };
        rows.push(vec![
            row.en.clone(),
            row.unit.clone(),
            format!("{bound}{:.*}", usize::from(row.step), round_half_even(value, row.step)),
            need.map_or("none set".to_owned(), |need| format!("{most}{need}")),
            need.map_or(String::new(), |need| format!("{bound}{:.0}", round_half_even(value / need * 100.0, 0))),
        ]);
    }
    columns(&rows, out);
}

fn foods(foods: &[EventFood]) -> String {
    let names: Vec<String> = foods
        .iter()
        .map(|food| {
            let name = food.printed.get("en").unwrap_or(&food.name);
            format!("{name} ({} g)", round_half_even(food.grams, 0))
        })
        .collect();
    names.join(", ")
}

fn timeline(menu: &CheckedMenu, out: &mut String) {
    let events = &menu.day.timeline;
    if events.is_empty() {
        return;
    }
    out.push_str("the cook's day\n");
    let mut rows: Vec<Vec<String>> = Vec::new();
    for event in events {
        rows.push(vec![clock(event.at), what(menu, event)]);
    }
    columns(&rows, out);
    out.push('\n');
}

/// One sentence of the cook's day.
fn what(menu: &CheckedMenu, event: &Event) -> String {
    let meals: Vec<String> = event
        .meals
        .iter()
        .filter_map(|at| menu.resolved.meals.get(*at))
        .map(|meal| meal.name.as_ref().map(|name| name.value.clone()).unwrap_or_else(|| clock(f64::from(meal.at))))
        .collect();
    let meals = meals.join(" and ");
    match &event.kind {
        EventKind::Wait { process, foods: list } => {
            format!("{process} {} for {}, for {meals}", foods(list), minutes(event.minutes))
        }
        EventKind::Pot { process, foods: list } => {
            format!("one pot for {meals}: {process} {}, {}", foods(list), minutes(event.minutes))
        }
        EventKind::Cook { dish } => {
            let title = dish_title(&menu.resolved, dish);
            format!("start {title}, {} (work {})", minutes(event.minutes), minutes(event.hands_on))
        }
        EventKind::Eat { meal } => {
            let meal = menu.resolved.meals.get(*meal);
            let name = meal.and_then(|meal| meal.name.as_ref()).map(|name| name.value.clone());
            let snack = meal.is_some_and(|meal| meal.snack);
            format!("the child eats: {}", name.unwrap_or_else(|| if snack { "snack" } else { "meal" }.to_owned()))
        }
    }
}

fn dish_title(menu: &Menu, id: &str) -> String {
    menu.items()
        .flat_map(|(_, _, item)| &item.options)
        .find_map(|choice| match &choice.what {
            What::Dish(dish) if dish.id == id => Some(dish.title.clone()),
            _ => None,
        })
        .unwrap_or_else(|| id.to_owned())
}

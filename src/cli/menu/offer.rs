//! What `porringer menu suggest` may serve: dishes in several amounts, and
//! foods that a child may have as they are.

use std::collections::BTreeSet;

use crate::check::Checked;
use crate::quantity::{Exact, Unit};
use crate::reference::larder::{FoodClass, FoodGroup, FoodRow};
use crate::reference::profile::data::AgeBand;
use crate::reference::season;
use crate::resolve::grams;
use crate::resolve::menu::Served;
use crate::workspace::Workspace;

/// A line that may be tried, with the roles it may have.
pub struct Text {
    pub words: String,
    pub key: String,
    pub main: bool,
    pub snack: bool,
    pub side: bool,
}

/// What may be served, and what the season keeps from it.
pub struct Offer {
    pub texts: Vec<Text>,
    /// Sentences for the proposal's comments.
    pub remarks: Vec<String>,
}

/// The least share of a dish's usual portion that is a meal.
pub const WHOLE: f64 = 0.66;
/// The same where whole portions bring more energy than the child needs.
pub const HALF: f64 = 0.5;

/// Every amount of every dish and ready food, as text. A dish's own `season`
/// line decides for it; without one its foods do.
pub fn offer(
    checked: &[Checked],
    at: usize,
    band: &AgeBand,
    month: Option<u8>,
    least: f64,
    workspace: &Workspace,
) -> Offer {
    let practice = &workspace.reference.practice;
    let months: Vec<u8> = month.into_iter().collect();
    let absent = |row: &FoodRow| practice.seasons.fits(row, &months) == Some(false);
    let mut texts = Vec::new();
    let mut foods: BTreeSet<String> = BTreeSet::new();
    let mut out: BTreeSet<String> = BTreeSet::new();
    let mut doubtful: Vec<String> = Vec::new();
    for file in checked.iter().filter(|file| !file.has_errors()) {
        let Some(dish) = &file.dish else { continue };
        let rows = dish.resolved.ingredients.iter().flat_map(|one| &one.options);
        foods.extend(
            rows.filter_map(|choice| choice.food.as_ref()?.larder.as_ref()).filter_map(|row| row.en.first().cloned()),
        );
        if dish.resolved.months.0 > band.from_months || dish.resolved.months.1 < band.to_months {
            continue;
        }
        let served = crate::compute::day::served::served(&dish.resolved, &dish.computed, &workspace.reference);
        let missing: Vec<&str> = served
            .foods
            .iter()
            .filter_map(|(food, _)| food.larder.as_deref())
            .filter(|row| absent(row))
            .map(|row| row.printed("en"))
            .collect();
        let fresh = month.is_none_or(|month| served.season.contains(&month));
        if served.season.is_empty() && !missing.is_empty() {
            out.insert(format!("{} (for want of {})", dish.id, missing.join(", ")));
        } else if !served.season.is_empty() && !fresh {
            out.insert(format!("{} ({})", dish.id, season::words(&served.season)));
        } else {
            if !missing.is_empty() {
                doubtful.push(format!("{} ({})", dish.id, missing.join(", ")));
            }
            of_dish(&dish.id, &served, at, band, least, workspace, &mut texts);
        }
    }
    // What the workspace says is ripe is there too, in a dish or not.
    foods.extend(practice.seasons.lines().map(|line| line.food.split(',').next().unwrap_or_default().to_owned()));
    for name in &foods {
        for row in workspace.reference.larder.named(name) {
            if practice.region.is_some_and(|region| !row.regions.contains(&region)) || row.seldom {
                continue;
            }
            let mut may = Vec::new();
            of_food(&row, &mut may);
            if absent(&row) && !may.is_empty() {
                out.insert(format!(
                    "{} ({})",
                    row.printed("en"),
                    season::words(practice.seasons.months(&row).unwrap_or(&[]))
                ));
                continue;
            }
            for text in may {
                if !texts.iter().any(|known: &Text| known.words == text.words) {
                    texts.push(text);
                }
            }
        }
    }
    let mut remarks = Vec::new();
    let list = |set: &BTreeSet<String>| set.iter().map(String::as_str).collect::<Vec<_>>().join(", ");
    if let Some(month) = month {
        if !out.is_empty() {
            remarks.push(format!("Left out, not in season in {}: {}.", season::name(month), list(&out)));
        }
        if !doubtful.is_empty() {
            remarks.push(format!(
                "Dishes whose own `season` line goes before that of a food, not in season then: {}.",
                doubtful.join(", ")
            ));
        }
    }
    if least < WHOLE {
        remarks
            .push("Meals from half the usual portion: whole ones bring more energy than the child needs.".to_owned());
    }
    if let Some(region) = practice.region {
        remarks.push(format!("Single foods are those of {}.", region.word()));
    }
    Offer { texts, remarks }
}

fn of_dish(
    id: &str,
    served: &Served,
    at: usize,
    band: &AgeBand,
    least: f64,
    workspace: &Workspace,
    texts: &mut Vec<Text>,
) {
    let Some(portion) = served.portions.iter().find(|portion| portion.band == at) else { return };
    let share = |group: FoodGroup| served.groups.iter().find(|(own, _)| *own == group).map_or(0.0, |(_, share)| *share);
    // A meal has a staple, flesh or egg in it, or pulses as more than a
    // sprinkling; fruit and milk alone are a snack.
    let meal = share(FoodGroup::Grains) > 0.0
        || share(FoodGroup::Flesh) > 0.0
        || share(FoodGroup::Eggs) > 0.0
        || share(FoodGroup::Pulses) >= 15.0;
    let mut push = |words: String, main: bool, snack: bool| {
        if main || snack {
            texts.push(Text { words, key: format!("dish {id}"), main, snack, side: false });
        }
    };
    if let Some(ml) = portion.ml {
        let Some((cup, _)) = grams::millilitres(Unit::Cup, workspace.reference.standard) else { return };
        let most = band.portion_most.value.max(ml);
        for quarters in 1..=8_i64 {
            let Some(cups) = Exact::fraction(quarters, 4) else { continue };
            let amount = cups.value() * cup;
            if amount > most + 0.5 {
                break;
            }
            let plural = if cups.value() > 1.0 { "cups" } else { "cup" };
            let full = amount >= ml * 0.99;
            let half = amount >= ml * 0.3 && amount <= ml * 0.7;
            let main = meal && amount >= ml * least;
            push(format!("{cups} {plural} dish {id}"), main, half || full && !meal);
        }
    } else if let (Some(each), Some(grams)) = (served.piece_g.filter(|each| *each > 0.0), portion.grams) {
        let pieces = (grams / each).round().max(1.0) as i64;
        let words = |pieces: i64| {
            if pieces == 1 { format!("1 piece dish {id}") } else { format!("{pieces} pieces dish {id}") }
        };
        push(words(pieces), meal, pieces == 1);
        if pieces > 1 {
            push(words((pieces + 1) / 2), false, true);
        }
    } else {
        push(format!("dish {id}"), meal, !meal);
    }
}

/// Foods that a child may have as they are, in amounts of a side or a snack.
fn of_food(row: &FoodRow, texts: &mut Vec<Text>) {
    let Some(name) = row.en.first() else { return };
    let measured = row.density.is_some() || !row.densities.is_empty();
    let mut push = |words: String, snack: bool, side: bool| {
        texts.push(Text { words, key: name.clone(), main: false, snack, side });
    };
    let juice = name.contains("juice") || ["lemon", "lime", "tamarind"].contains(&name.as_str());
    match row.class {
        FoodClass::Fruit | FoodClass::Citrus if row.plain && !juice && measured && row.group != FoodGroup::None => {
            push(format!("1/4 cup {name}, mashed"), true, true);
            push(format!("1/2 cup {name}, mashed"), true, false);
        }
        FoodClass::Milk if row.group == FoodGroup::Dairy && measured => {
            let kept = ["dry", "dried", "powdered", "condensed", "evaporated", "sweetened"];
            if !row.states.iter().any(|state| kept.contains(&state.as_str())) && row.plain {
                push(format!("1/2 cup {name}, pasteurised"), true, false);
            }
        }
        FoodClass::Egg if row.states.iter().any(|state| state == "boiled") && !row.pieces.is_empty() => {
            push(format!("1 {name}, boiled"), true, false);
        }
        _ => {}
    }
}

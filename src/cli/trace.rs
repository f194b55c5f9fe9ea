//! `porringer trace`

use std::fmt::Write;
use std::path::PathBuf;

use crate::check::CheckedDish;
use crate::cli::nutrients::{columns, minutes, weighty, written};
use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, gather, say_plain};
use crate::compute::nutrition::{kept_whole, percent_kept, value_of};
use crate::compute::{Selection, estimate, spread};
use crate::diagnostic::did_you_mean;
use crate::quantity::round_half_even;
use crate::reference::nutrient::{self, NUTRIENTS, NutrientId};
use crate::reference::profile::data::Status;
use crate::reference::retention;
use crate::reference::table::Mark;
use crate::workspace::Workspace;

#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The dish or menu file.
    dish: PathBuf,
    /// INFOODS tagname of one component, such as FE.
    tag: Option<String>,
    /// A further composition table, as for `check`.
    #[arg(long, value_name = "FILE.csv")]
    foods: Vec<PathBuf>,
}

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let input = Input { paths: vec![arguments.dish.clone()], foods: arguments.foods.clone() };
    let workspace = gather::workspace(&input)?;
    let paths = gather::files(&input, &workspace)?;
    let tag = match &arguments.tag {
        None => None,
        Some(word) => Some(
            NutrientId::from_tag(&word.to_uppercase()).or_else(|| NutrientId::from_tag(word)).ok_or_else(|| {
                let near = did_you_mean(word, NUTRIENTS.iter().map(|nutrient| nutrient.tag));
                Failure(match near {
                    Some(near) => {
                        format!("`{word}` is no INFOODS tagname; did you mean `{near}`?")
                    }
                    None => format!(
                        "`{word}` is no INFOODS tagname; there are {}",
                        NUTRIENTS.iter().map(|nutrient| nutrient.tag).collect::<Vec<_>>().join(", ")
                    ),
                })
            })?,
        ),
    };
    let checked = gather::all(&paths, &workspace);
    let mut out = String::new();
    let mut errors = false;
    for file in &checked {
        errors |= file.has_errors();
        if let Some(menu) = &file.menu {
            super::menu::trace::menu(menu, tag, &workspace, &mut out);
            continue;
        }
        let Some(dish) = &file.dish else {
            return Err(Failure(format!("`{}` is no dish and no menu", file.source.name)));
        };
        weights(dish, &workspace, &mut out);
        let ids = tag.map_or_else(|| weighty(dish), |id| vec![id]);
        estimated(dish, &ids, &mut out);
        if let Some(id) = tag {
            component(dish, id, &workspace, &mut out);
        }
    }
    say_plain(&out);
    if errors {
        let what = if checked.iter().any(|file| file.menu.is_some()) { "menu" } else { "dish" };
        complain(&format!("this {what} has errors; see `porringer check`"));
    }
    Ok(if errors { ERRORS } else { CLEAN })
}

pub(super) fn status(status: Status) -> &'static str {
    match status {
        Status::CheckedOfficial => "checked-official",
        Status::CheckedSecondary => "checked-secondary",
        Status::Computed => "computed",
        Status::Memory => "memory",
    }
}

fn plain(value: f64) -> String {
    round_half_even(value, 2).to_string()
}

fn weights(dish: &CheckedDish, workspace: &Workspace, out: &mut String) {
    let resolved = &dish.resolved;
    let nutrition = &dish.computed.nutrition;
    let _ = writeln!(out, "{}\n", resolved.title());
    for (at, ingredient) in resolved.ingredients.iter().enumerate() {
        let Some(choice) = ingredient.first() else {
            continue;
        };
        let reaches = resolved.flow.child.get(at).copied().unwrap_or(true);
        let discarded = resolved.flow.journeys.get(at).is_some_and(|journey| journey.discarded);
        let fate = match (reaches, discarded) {
            (_, true) => "  (poured away)",
            (false, _) => "  (not in the child's portion)",
            _ => "",
        };
        match &choice.weight {
            Some(weight) => {
                let mark = if weight.estimated { "about " } else { "" };
                let range = if weight.low < weight.high {
                    format!(" ({} to {})", plain(weight.low), plain(weight.high))
                } else {
                    String::new()
                };
                let _ = writeln!(out, "{}: {mark}{} g{range}{fate}", ingredient.name, plain(weight.grams));
                for step in &weight.how {
                    let _ = writeln!(out, "    weight     {step}");
                }
            }
            None => {
                let _ = writeln!(out, "{}: weight not known{fate}", ingredient.name);
            }
        }
        if let Some(food) = &choice.food {
            let _ = writeln!(out, "    row        {}  {}", food.row_id(), food.row_name());
            if let Some(borrowed) = food.larder.as_ref().and_then(|row| row.borrowed.as_ref()) {
                let _ = writeln!(out, "    borrowed   {borrowed}");
            }
            if let Some(row) = food.larder.as_ref().filter(|row| !row.unknown.is_empty()) {
                let _ = writeln!(out, "    unknown    {}", row.unknown.join(", "));
            }
            if let Some(fill) = food.fill() {
                let _ =
                    writeln!(out, "    fill       usda:{}  {}, where the row says nothing", fill.ndb(), fill.name());
            }
        }
        let found = nutrition.contributions.iter().find(|contribution| contribution.ingredient == at);
        for code in found.iter().flat_map(|contribution| &contribution.codes) {
            let name = retention::code(code.code).map(|row| row.description.as_str()).unwrap_or_default();
            let near = if code.nearest { "nearest code" } else { "code" };
            let _ = writeln!(out, "    retention  r6:{} {name} ({near}; {})", code.code, code.why);
        }
        if let Some(food) = choice.food.as_ref().filter(|_| found.is_some()) {
            for why in kept_whole(choice, food, resolved.flow.journeys.get(at)) {
                let _ = writeln!(out, "    retention  none ({why})");
            }
        }
        for (other, choice) in ingredient.options.iter().enumerate().skip(1) {
            let weight = choice
                .weight
                .as_ref()
                .map_or("weight not known".to_owned(), |weight| format!("{} g", plain(weight.grams)));
            let row = choice.food.as_ref().map(|food| food.row_id()).unwrap_or_default();
            let _ = writeln!(
                out,
                "    or         {} {weight} {row}  (alternative {other})",
                crate::resolve::food::label(&choice.option).value
            );
        }
    }
    let cooked = &dish.computed.cooked;
    let mark = if cooked.estimated { "about " } else { "" };
    let _ = writeln!(out, "\nraw weight {} g, cooked {mark}{} g", plain(cooked.raw_g), plain(cooked.cooked_g));
    for step in &cooked.how {
        let _ = writeln!(out, "    yield      {step}");
    }
    let flow = &resolved.flow;
    let _ = writeln!(out, "hands-on {}, in all {}", minutes(flow.hands_on), minutes(flow.one_fire()));
    for portion in &dish.computed.portions {
        let Some(band) = workspace.reference.profile.bands().get(portion.band) else {
            continue;
        };
        let amount = portion
            .amount
            .as_ref()
            .map_or_else(|| format!("usual amount of the profile, {} mL", band.portion_usual.value), written);
        let grams = portion.grams.map_or("weight not known".to_owned(), |grams| format!("{} g", plain(grams)));
        let assumed = if portion.assumed_density { "  (density assumed 1 g/mL)" } else { "" };
        let _ = writeln!(out, "portion {} months: {amount} = {grams}{assumed}", band.key);
    }
    if let Some(spread) = spread::ranges(resolved, &dish.computed, &Selection::default()) {
        let show = |ends: crate::compute::Ends| match plain(ends.low) == plain(ends.high) {
            true => plain(ends.low),
            false => format!("{} to {}", plain(ends.low), plain(ends.high)),
        };
        let _ = writeln!(out, "ranges: raw {} g, cooked {} g", show(spread.raw_g), show(spread.cooked_g));
        for (at, portion) in dish.computed.portions.iter().enumerate() {
            let band = workspace.reference.profile.bands().get(portion.band);
            let ends = spread.portion_g(at).zip(spread.portion(at, nutrient::ENERC_KCAL));
            if let (Some(band), Some((grams, energy))) = (band, ends) {
                let _ = writeln!(out, "    portion {} months: {} g, {} kcal", band.key, show(grams), show(energy));
            }
        }
    }
    out.push('\n');
}

/// What is estimated, in the order of its weight on the result.
fn estimated(dish: &CheckedDish, ids: &[NutrientId], out: &mut String) {
    let found = estimate::estimates(&dish.resolved, &dish.computed, &Selection::default(), ids);
    if found.is_empty() {
        return;
    }
    out.push_str("estimates, first what weighs most on a portion; if one is 10 % higher, the figure moves by\n\n");
    let mut heads = vec![String::new(), String::new()];
    heads.extend(ids.iter().map(|id| id.get().tag.to_owned()));
    heads.push(String::new());
    let mut rows = vec![heads];
    for one in &found {
        let name = one.ingredient.and_then(|at| dish.resolved.ingredients.get(at));
        let mut row = vec![
            name.map_or_else(|| "the dish".to_owned(), |ingredient| ingredient.name.clone()),
            one.what.word().to_owned(),
        ];
        row.extend(ids.iter().map(|id| format!("{:+.1} %", round_half_even(one.effect(*id) * 10.0, 1) + 0.0)));
        row.push(one.why.clone());
        rows.push(row);
    }
    // The reasons are text, so they stand to the left.
    let widest = rows.iter().filter_map(|row| row.last()).map(|why| why.chars().count()).max().unwrap_or(0);
    for row in &mut rows {
        if let Some(why) = row.last_mut() {
            let fill = widest.saturating_sub(why.chars().count());
            why.push_str(&" ".repeat(fill));
        }
    }
    columns(&rows, out);
    out.push('\n');
}

/// What the signs in the column of figures mean.
fn legend(marks: &[Mark], out: &mut String) {
    if marks.contains(&Mark::Estimated) {
        out.push_str("[ ] the table's own estimate\n");
    }
    if marks.iter().any(|mark| matches!(mark, Mark::Trace | Mark::Below(_))) {
        out.push_str("tr, < too little to be measured: counted as nothing, so that the sum is a lower bound\n");
    }
}

fn component(dish: &CheckedDish, id: NutrientId, workspace: &Workspace, out: &mut String) {
    let nutrition = &dish.computed.nutrition;
    let nutrient = id.get();
    let _ = writeln!(out, "{} {}, {}\n", nutrient.tag, nutrient.name, nutrient.unit);
    let mut rows =
        vec![["ingredient", "row", "g", "per 100 g", "kept %", "brings", "share %"].map(str::to_owned).to_vec()];
    let whole = nutrition.whole(id).unwrap_or(0.0);
    let mut marks = Vec::new();
    for contribution in &nutrition.contributions {
        let Some(ingredient) = dish.resolved.ingredients.get(contribution.ingredient) else {
            continue;
        };
        let Some(food) = ingredient.first().and_then(|choice| choice.food.as_ref()) else {
            continue;
        };
        let codes: Vec<_> = contribution.codes.iter().filter_map(|code| retention::code(code.code)).collect();
        let kept = percent_kept(id, &codes);
        let value = value_of(food, id);
        marks.extend(food.mark(id));
        let brings = value.map(|value| contribution.grams * value / 100.0 * kept / 100.0);
        rows.push(vec![
            ingredient.name.clone(),
            match food.fill().filter(|_| food.filled(id).is_some()) {
                Some(fill) => format!("usda:{} (fill)", fill.ndb()),
                None => food.row_id(),
            },
            plain(contribution.grams),
            match (food.mark(id), value) {
                (Some(Mark::Trace), _) => "tr".to_owned(),
                (Some(Mark::Below(limit)), _) => format!("<{limit}"),
                (Some(Mark::Estimated), Some(value)) => format!("[{value}]"),
                (_, Some(value)) => value.to_string(),
                (_, None) => "unknown".to_owned(),
            },
            kept.to_string(),
            match (brings, food.mark(id)) {
                (Some(value), _) => round_half_even(value, 4).to_string(),
                (None, Some(_)) => "0".to_owned(),
                (None, None) => "unknown".to_owned(),
            },
            brings
                .filter(|_| whole > 0.0)
                .map_or(String::new(), |value| round_half_even(value / whole * 100.0, 1).to_string()),
        ]);
    }
    columns(&rows, out);
    legend(&marks, out);
    if nutrient.tag == "WATER" {
        let gained = nutrition.cooked_g - nutrition.raw_g;
        let _ = writeln!(out, "change of weight in cooking, all water: {} g", plain(gained));
    }
    let bound = if nutrition.complete(id) { "" } else { "at least " };
    let _ = writeln!(out, "\nwhole dish: {bound}{} {}", round_half_even(whole, 4), nutrient.unit);
    if let Some(per_100g) = nutrition.per_100g(id) {
        let _ = writeln!(
            out,
            "100 g: {bound}{} {} = 100 × {} / {} g",
            round_half_even(per_100g, 4),
            nutrient.unit,
            round_half_even(whole, 4),
            plain(nutrition.cooked_g)
        );
    }
    let _ = writeln!(out, "known for {} % of the weight", round_half_even(nutrition.known_share(id) * 100.0, 1));
    for portion in &dish.computed.portions {
        let Some(band) = workspace.reference.profile.bands().get(portion.band) else {
            continue;
        };
        let Some(value) = portion.grams.and_then(|grams| nutrition.in_grams(id, grams)) else {
            continue;
        };
        let need = workspace.reference.profile.intake(nutrient.tag, &band.key);
        let share =
            need.and_then(|intake| intake.value.map(|need| (need, intake))).map_or(String::new(), |(need, intake)| {
                format!(
                    ", {} % of {need} {} ({}, {})",
                    round_half_even(value / need * 100.0, 1),
                    nutrient.unit,
                    intake.source,
                    status(intake.status)
                )
            });
        let _ =
            writeln!(out, "portion {} months: {bound}{} {}{share}", band.key, round_half_even(value, 4), nutrient.unit);
    }
    if let Some(spread) = spread::ranges(&dish.resolved, &dish.computed, &Selection::default()) {
        let show = |ends: crate::compute::Ends| {
            format!("{} to {} {}", round_half_even(ends.low, 4), round_half_even(ends.high, 4), nutrient.unit)
        };
        let _ = writeln!(out, "ranges of quantity: the lowest and highest over the ends of every line");
        let _ = writeln!(out, "    whole dish  {bound}{}", show(spread.whole(id)));
        let _ = writeln!(out, "    100 g       {bound}{}", show(spread.per_100g(id)));
        for (at, portion) in dish.computed.portions.iter().enumerate() {
            let band = workspace.reference.profile.bands().get(portion.band);
            if let (Some(band), Some(ends)) = (band, spread.portion(at, id)) {
                let _ = writeln!(out, "    portion {} months  {bound}{}", band.key, show(ends));
            }
        }
    }
    out.push('\n');
}

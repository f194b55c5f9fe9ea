//! `porringer menu suggest`

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use crate::assess::menu::need;
use crate::check::{Checked, check};
use crate::cli::menu::offer::{HALF, Offer, Text, WHOLE, offer};
use crate::cli::menu::proposal::{Head, Money, Proposal};
use crate::cli::menu::report;
use crate::cli::month::month;
use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, gather, say_plain};
use crate::compute::cost::{Cost, Purse};
use crate::compute::day::plan::{Candidate, Hard, Need, NoDay, Wish, most, plan};
use crate::compute::day::{energy_needs, figure, frequency, in_milk, milk};
use crate::diagnostic::{Diagnostic, Severity};
use crate::reference::larder::FoodGroup;
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::{AgeBand, Aim, Scope};
use crate::resolve::menu::{Choice, What};
use crate::source::Source;
use crate::syntax::Kind;
use crate::workspace::{Shelf, Workspace, shown};

#[derive(Debug, clap::Args)]
pub struct Arguments {
    #[command(flatten)]
    input: Input,
    /// Ages within one band, as on a menu's line: "12 to 23 months".
    #[arg(long = "for", value_name = "AGES")]
    ages: String,
    /// The child is not breastfed.
    #[arg(long)]
    not_breastfed: bool,
    /// Month in which the day is: dishes of other months are left out.
    #[arg(long, value_name = "MONTH")]
    season: Option<String>,
    /// Days to propose.
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=14))]
    days: u8,
    /// Meals a day; default: as many as the guidance asks.
    #[arg(long, value_parser = clap::value_parser!(u8).range(1..=6))]
    meals: Option<u8>,
    /// Snacks a day; default: 1.
    #[arg(long, value_parser = clap::value_parser!(u8).range(0..=4))]
    snacks: Option<u8>,
    /// The most servings of one dish over all days.
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=14))]
    same: u8,
    /// File to write, ending in .menu; several days are numbered.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

/// A proposed day may bring a fifth more energy than is needed; this project's
/// choice.
const ENERGY_ROOM: f64 = 1.2;

/// Name of the text that is tried out.
const SCRATCH: &str = "proposal";

pub fn run(arguments: &Arguments) -> Result<u8, Failure> {
    let mut workspace = gather::workspace(&arguments.input)?;
    let prices = workspace.prices();
    let mut paths = gather::files(&arguments.input, &workspace)?;
    paths.retain(|path| Kind::of_path(path) == Some(Kind::Dish));
    if paths.is_empty() {
        return Err(Failure("there is no dish among these files".to_owned()));
    }
    if let Some(out) = &arguments.out
        && Kind::of_path(out) != Some(Kind::Menu)
    {
        return Err(Failure(format!("`{}` does not end in .menu", out.display())));
    }
    let feeding = if arguments.not_breastfed { "not breastfed" } else { "breastfed" };
    let ages = arguments.ages.split(',').next().unwrap_or_default().trim();
    let head = Head {
        ages: format!("{ages}, {feeding}"),
        month: arguments.season.as_deref().map(month).transpose()?,
        season: arguments.season.clone(),
    };
    let shelf = Shelf::new(workspace.recipes(), &workspace.reference);
    let at = band_of(&head, &workspace, &shelf)?;
    let band = workspace.reference.profile.bands().get(at).ok_or_else(|| Failure("no age band".to_owned()))?;
    let checked = gather::all(&paths, &workspace);
    let purse =
        Purse::new(&prices, &workspace.reference.larder).map(|purse| purse.on(workspace.reference.practice.today));
    let wish = wish(arguments, band, &workspace);
    let served = |least: f64| {
        let Offer { texts, remarks } = offer(&checked, at, band, head.month, least, &workspace);
        let (mut candidates, costs) = candidates(&texts, at, &head, &workspace, &shelf, purse);
        weigh(&mut candidates, &costs, &wish);
        (candidates, costs, remarks)
    };
    let (mut candidates, mut costs, mut remarks) = served(WHOLE);
    if candidates.iter().all(|one| !one.main) {
        return Err(Failure(format!("no dish of these files is a meal for a child of {} months", band.key)));
    }
    let mut first = plan(&candidates, &wish, &BTreeMap::new());
    if first.as_ref().is_err_and(|no_day| no_day.0.contains(&Hard::MostEnergy)) {
        let half = served(HALF);
        if let Ok(day) = plan(&half.0, &wish, &BTreeMap::new()) {
            first = Ok(day);
            (candidates, costs, remarks) = half;
        }
    }
    let mut first = Some(first);
    let money = Money { purse, costs: &costs, remarks: &remarks, list: workspace.settings.prices.as_ref() };
    let mut out = String::new();
    let mut failed = gather::complain_of(&workspace);
    let name = |tag: &str| workspace.reference.profile.nutrient(tag).map_or(tag.to_owned(), |row| row.en.clone());
    let beyond = beyond_reach(&candidates, &wish, &name);
    let mut used: BTreeMap<String, usize> = BTreeMap::new();
    let mut yesterday: Vec<String> = Vec::new();
    for day in 1..=usize::from(arguments.days) {
        // No dish two days running, where there is another way.
        let mut rested = used.clone();
        rested.extend(yesterday.iter().map(|key| (key.clone(), wish.same)));
        let found = first
            .take()
            .unwrap_or_else(|| plan(&candidates, &wish, &rested).or_else(|_| plan(&candidates, &wish, &used)));
        let chosen = match found {
            Ok(chosen) => chosen,
            Err(no_day) => {
                say_plain(&out);
                complain(&impossible(day, &no_day));
                return Ok(ERRORS);
            }
        };
        yesterday.clear();
        for at in chosen.meals.iter().map(|(main, _)| main).chain(&chosen.snacks) {
            if let Some(one) = candidates.get(*at) {
                *used.entry(one.key.clone()).or_default() += 1;
                if one.minutes > 0.0 {
                    yesterday.push(one.key.clone());
                }
            }
        }
        let about = Proposal {
            name: &name,
            day,
            of: usize::from(arguments.days),
            chosen: &chosen,
            beyond: &beyond,
            money: &money,
        };
        let text = about.text(&candidates, &wish, &head, band);
        let again = tried(&text, &workspace, &shelf);
        let loud: Vec<&Diagnostic> =
            again.diagnostics.iter().filter(|message| message.severity > Severity::Note).collect();
        for message in &loud {
            failed = true;
            complain(&format!("day {day}: {}[{}] {}", message.severity.word(), message.code.name(), message.message));
        }
        match &arguments.out {
            Some(path) => {
                let path = numbered(path, day, usize::from(arguments.days));
                super::super::build::write(&path, text.as_bytes()).map_err(Failure)?;
                if let Some(menu) = &again.menu {
                    report::day(menu, &shown(&path), &workspace, purse, &mut out);
                }
            }
            None => {
                out.push_str(&text);
                if day < usize::from(arguments.days) {
                    out.push('\n');
                }
            }
        }
    }
    say_plain(&out);
    if let Some(path) = &arguments.out {
        let what = if arguments.days == 1 { "1 day".to_owned() } else { format!("{} days", arguments.days) };
        complain(&format!("{what} written beside `{}`", shown(path)));
    }
    Ok(if failed { ERRORS } else { CLEAN })
}

/// The one band that the ages lie in.
fn band_of(head: &Head, workspace: &Workspace, shelf: &Shelf<'_>) -> Result<usize, Failure> {
    let file = tried(&format!("menu x\nfor {}\n", head.ages), workspace, shelf);
    let bands = file.menu.as_ref().map(|menu| menu.resolved.bands.clone()).unwrap_or_default();
    let said = matches!(&file.document, crate::ast::Document::Menu(menu) if menu.header.ages.is_some());
    let faulty =
        file.diagnostics.iter().any(|message| message.code.family() != "menu" && message.severity == Severity::Error);
    match bands.as_slice() {
        [one] if said && !faulty => Ok(*one),
        _ => {
            let keys: Vec<String> = workspace
                .reference
                .profile
                .bands()
                .iter()
                .map(|band| format!("\"{} to {} months\"", band.from_months, band.to_months))
                .collect();
            Err(Failure(format!("`--for` takes ages within one band: {}", keys.join(", "))))
        }
    }
}

fn tried(text: &str, workspace: &Workspace, shelf: &Shelf<'_>) -> Checked {
    let view = shelf.seen_from(SCRATCH);
    check(Source::new(format!("{SCRATCH}.menu"), text), Kind::Menu, SCRATCH, &workspace.reference, &view)
}

/// The texts that the program itself finds nothing wrong with, computed, and
/// what each costs.
fn candidates(
    texts: &[Text],
    at: usize,
    head: &Head,
    workspace: &Workspace,
    shelf: &Shelf<'_>,
    purse: Option<Purse<'_>>,
) -> (Vec<Candidate>, Vec<Option<Cost>>) {
    let mut menu = format!("menu x\nfor {}\n", head.ages);
    let mut places = Vec::new();
    // One line each: so many minutes has a day.
    for (minute, text) in texts.iter().take(24 * 60).enumerate() {
        let start = menu.len();
        let _ = writeln!(menu, "meal {}:{:02}: {}", minute / 60, minute % 60, text.words);
        places.push(start..menu.len());
    }
    let file = tried(&menu, workspace, shelf);
    let Some(checked) = &file.menu else { return Default::default() };
    let Some(band) = workspace.reference.profile.bands().get(at) else { return Default::default() };
    let (mut found, mut costs) = (Vec::new(), Vec::new());
    for ((text, place), meal) in texts.iter().zip(&places).zip(&checked.resolved.meals) {
        let faulty = file
            .diagnostics
            .iter()
            .any(|message| message.severity > Severity::Note && place.contains(&message.span.start));
        let [item] = meal.items.as_slice() else { continue };
        let Some(choice) = item.options.first() else { continue };
        let Some(grams) = choice.servings.first().and_then(|serving| serving.grams) else { continue };
        if !faulty && grams > 0.0 {
            found.push(candidate(text, choice, grams, band, workspace));
            costs.push(purse.map(|purse| purse.of_choice(choice, grams)));
        }
    }
    (found, costs)
}

/// What the search makes least, where needs are met alike: first servings with
/// a food that has no price, then money; the weight where there is no list.
fn weigh(candidates: &mut [Candidate], costs: &[Option<Cost>], wish: &Wish) {
    let dearest = costs.iter().flatten().map(|cost| cost.price).fold(0.0, f64::max);
    // No day of priced servings costs as much.
    let beyond = dearest * (wish.meals * 2 + wish.snacks + 1) as f64 + 1.0;
    for (one, cost) in candidates.iter_mut().zip(costs) {
        if let Some(cost) = cost {
            one.cost = cost.price + if cost.is_whole() { 0.0 } else { beyond };
        }
    }
}

fn candidate(text: &Text, choice: &Choice, grams: f64, band: &AgeBand, workspace: &Workspace) -> Candidate {
    let brings = |id: NutrientId| figure(choice, id).at_least.unwrap_or(0.0) * grams / 100.0;
    let most = |id: NutrientId| {
        let figure = figure(choice, id);
        figure.most.or(figure.at_least).unwrap_or(0.0) * grams / 100.0
    };
    Candidate {
        text: text.words.clone(),
        key: text.key.clone(),
        main: text.main,
        snack: text.snack,
        side: text.side,
        grams,
        cost: grams,
        kcal: brings(nutrient::ENERC_KCAL),
        brings: needs(band, workspace).into_iter().map(|(id, _)| brings(id)).collect(),
        most: limits(band, workspace).into_iter().map(|(id, _, _)| most(id)).collect(),
        groups: choice
            .groups()
            .into_iter()
            .filter(|(group, share)| *group != FoodGroup::None && share * grams > 0.0)
            .map(|(group, _)| group)
            .collect(),
        leafy: choice.has_hazard("nitrate-leaf"),
        minutes: match &choice.what {
            What::Dish(dish) => dish.served.minutes.1,
            _ => 0.0,
        },
    }
}

/// Nutrients that the card prints and that a child needs at least so much of.
fn needs(band: &AgeBand, workspace: &Workspace) -> Vec<(NutrientId, f64)> {
    let nutrients = workspace.reference.profile.file.nutrient.iter();
    nutrients
        .filter(|row| row.on_card && row.aim == Aim::AtLeast)
        .filter_map(|row| {
            let (need, _) = need(&workspace.reference, row, band)?;
            NutrientId::from_tag(&row.tag).map(|id| (id, need))
        })
        .collect()
}

/// Limits of ordinary food: component, the most a day, breast milk counted.
fn limits(band: &AgeBand, workspace: &Workspace) -> Vec<(NutrientId, f64, bool)> {
    let profile = &workspace.reference.profile;
    let upper = profile
        .file
        .upper_limit
        .iter()
        .filter(|limit| (limit.from_months..=limit.to_months).contains(&band.from_months))
        .filter(|limit| matches!(limit.scope, Scope::All | Scope::PreformedRetinol))
        .filter_map(|limit| NutrientId::from_tag(&limit.tag).map(|id| (id, limit.value, limit.scope == Scope::All)));
    let most = profile.file.nutrient.iter().filter(|row| row.aim == Aim::AtMost).filter_map(|row| {
        let (value, _) = need(&workspace.reference, row, band)?;
        NutrientId::from_tag(&row.tag).map(|id| (id, value, true))
    });
    upper.chain(most).collect()
}

fn wish(arguments: &Arguments, band: &AgeBand, workspace: &Workspace) -> Wish {
    let reference = &workspace.reference;
    let breastfed = !arguments.not_breastfed;
    let milk = breastfed.then(|| milk(band));
    let of_milk = |id: NutrientId| milk.as_ref().and_then(|milk| in_milk(milk, id)).unwrap_or(0.0);
    let (food, _) = energy_needs(band, breastfed);
    let snacks = usize::from(arguments.snacks.unwrap_or(1));
    let times = usize::from(frequency(reference, band, breastfed).map_or(3, |row| row.times));
    let least = usize::from(band.meals.from).max(times.saturating_sub(snacks));
    let meals = arguments.meals.map_or(least, usize::from);
    // Food beyond the need takes the place of breast milk, or is wasted.
    let most = (band.energy_total_high.value - of_milk(nutrient::ENERC_KCAL)).min(food.value * ENERGY_ROOM);
    Wish {
        meals,
        snacks,
        kcal: (food.value, most),
        needs: needs(band, workspace)
            .into_iter()
            .map(|(id, need)| Need { tag: id.get().tag.to_owned(), need, milk: of_milk(id) })
            .collect(),
        limits: limits(band, workspace)
            .into_iter()
            .map(|(id, value, with_milk)| value - if with_milk { of_milk(id) } else { 0.0 })
            .collect(),
        groups: reference.profile.file.iycf.groups_needed.value as usize,
        breastfed,
        milk_feeds: if breastfed { 0 } else { reference.profile.file.iycf.milk_feeds_not_breastfed.value as usize },
        leafy: reference.profile.hazard("leafy-nitrate").and_then(|row| row.value).unwrap_or(1.0) as usize,
        capacity: band.capacity.value,
        same: usize::from(arguments.same),
    }
}

/// Needs that no allowed day can meet: name, and the largest share.
fn beyond_reach(candidates: &[Candidate], wish: &Wish, name: &dyn Fn(&str) -> String) -> Vec<(String, f64)> {
    wish.needs
        .iter()
        .enumerate()
        .filter_map(|(at, need)| {
            let share = most(candidates, wish, at)? / need.need;
            (share < 0.9995).then(|| (name(&need.tag), share))
        })
        .collect()
}

fn impossible(day: usize, no_day: &NoDay) -> String {
    let which: Vec<&str> = no_day.0.iter().map(|hard| hard.words()).collect();
    let why = match which.as_slice() {
        [] => "with so many meals and snacks from these dishes".to_owned(),
        one => format!("only by giving up one of these: {}", one.join("; ")),
    };
    format!("no day {day} can be made {why}")
}

fn numbered(path: &Path, day: usize, of: usize) -> PathBuf {
    if of == 1 {
        return path.to_path_buf();
    }
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    path.with_file_name(format!("{stem}-{day}.menu"))
}

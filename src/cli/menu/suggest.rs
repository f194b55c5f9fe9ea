//! `porringer menu suggest`

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::{Path, PathBuf};

use crate::assess::menu::need;
use crate::check::{Checked, CheckedDish, check};
use crate::cli::menu::report;
use crate::cli::{CLEAN, ERRORS, Failure, Input, complain, gather, say_plain};
use crate::compute::day::plan::{Candidate, Need, NoDay, Plan, Wish, most, plan};
use crate::compute::day::{energy_needs, figure, frequency, in_milk, milk};
use crate::diagnostic::{Diagnostic, Severity, did_you_mean};
use crate::quantity::{Exact, Unit};
use crate::reference::larder::{FoodClass, FoodGroup, FoodRow};
use crate::reference::nutrient::{self, NutrientId};
use crate::reference::profile::data::{AgeBand, Aim, Scope};
use crate::resolve::grams;
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
    let workspace = gather::workspace(&arguments.input)?;
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
    let texts = texts(&checked, at, band, &head, &workspace);
    let candidates = candidates(&texts, at, &head, &workspace, &shelf);
    if candidates.iter().all(|one| !one.main) {
        return Err(Failure(format!("no dish of these files is a meal for a child of {} months", band.key)));
    }
    let wish = wish(arguments, band, &workspace);
    let mut out = String::new();
    let mut failed = false;
    let name = |tag: &str| workspace.reference.profile.nutrient(tag).map_or(tag.to_owned(), |row| row.en.clone());
    let beyond = beyond_reach(&candidates, &wish, &name);
    let mut used: BTreeMap<String, usize> = BTreeMap::new();
    let mut yesterday: Vec<String> = Vec::new();
    for day in 1..=usize::from(arguments.days) {
        // No dish two days running, where there is another way.
        let mut rested = used.clone();
        rested.extend(yesterday.iter().map(|key| (key.clone(), wish.same)));
        let found = plan(&candidates, &wish, &rested).or_else(|_| plan(&candidates, &wish, &used));
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
        let about = Proposal { name: &name, day, of: usize::from(arguments.days), chosen: &chosen, beyond: &beyond };
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
                    report::day(menu, &shown(&path), &workspace, &mut out);
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

/// What every proposed menu has on top.
struct Head {
    ages: String,
    month: Option<u8>,
    season: Option<String>,
}

fn month(word: &str) -> Result<u8, Failure> {
    const NAMES: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let lower = word.trim().to_lowercase();
    let found = NAMES.iter().position(|name| *name == lower || (lower.len() == 3 && name.starts_with(&lower)));
    found.map(|at| at as u8 + 1).ok_or_else(|| {
        Failure(match did_you_mean(&lower, NAMES) {
            Some(near) => format!("`{word}` is no month; did you mean `{near}`?"),
            None => format!("`{word}` is no month; write one in English, such as `march`"),
        })
    })
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

/// A line that may be tried, with the roles it may have.
struct Text {
    words: String,
    key: String,
    main: bool,
    snack: bool,
    side: bool,
}

/// Every amount of every dish and ready food, as text.
fn texts(checked: &[Checked], at: usize, band: &AgeBand, head: &Head, workspace: &Workspace) -> Vec<Text> {
    let mut texts = Vec::new();
    let mut foods: BTreeSet<String> = BTreeSet::new();
    for file in checked.iter().filter(|file| !file.has_errors()) {
        let Some(dish) = &file.dish else { continue };
        let rows = dish.resolved.ingredients.iter().flat_map(|one| &one.options);
        foods.extend(
            rows.filter_map(|choice| choice.food.as_ref()?.larder.as_ref()).filter_map(|row| row.en.first().cloned()),
        );
        let season = dish.resolved.ast.header.season.as_ref().map(|season| &season.value);
        let fits = dish.resolved.months.0 <= band.from_months && dish.resolved.months.1 >= band.to_months;
        let fresh = match (season, head.month) {
            (Some(months), Some(month)) => months.contains(&month),
            _ => true,
        };
        if fits && fresh {
            of_dish(dish, at, band, workspace, &mut texts);
        }
    }
    for name in &foods {
        for row in workspace.reference.larder.named(name) {
            of_food(&row, &mut texts);
        }
    }
    texts
}

fn of_dish(dish: &CheckedDish, at: usize, band: &AgeBand, workspace: &Workspace, texts: &mut Vec<Text>) {
    let served = crate::compute::day::served::served(&dish.resolved, &dish.computed, &workspace.reference);
    let Some(portion) = served.portions.iter().find(|portion| portion.band == at) else { return };
    let share = |group: FoodGroup| served.groups.iter().find(|(own, _)| *own == group).map_or(0.0, |(_, share)| *share);
    // A meal has a staple, flesh or egg in it, or pulses as more than a
    // sprinkling; fruit and milk alone are a snack.
    let meal = share(FoodGroup::Grains) > 0.0
        || share(FoodGroup::Flesh) > 0.0
        || share(FoodGroup::Eggs) > 0.0
        || share(FoodGroup::Pulses) >= 15.0;
    let id = &dish.id;
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
            let main = meal && amount >= ml * 0.66;
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
        if !texts.iter().any(|text| text.words == words) {
            texts.push(Text { words, key: name.clone(), main: false, snack, side });
        }
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

/// The texts that the program itself finds nothing wrong with, computed.
fn candidates(texts: &[Text], at: usize, head: &Head, workspace: &Workspace, shelf: &Shelf<'_>) -> Vec<Candidate> {
    let mut menu = format!("menu x\nfor {}\n", head.ages);
    let mut places = Vec::new();
    // One line each: so many minutes has a day.
    for (minute, text) in texts.iter().take(24 * 60).enumerate() {
        let start = menu.len();
        let _ = writeln!(menu, "meal {}:{:02}: {}", minute / 60, minute % 60, text.words);
        places.push(start..menu.len());
    }
    let file = tried(&menu, workspace, shelf);
    let Some(checked) = &file.menu else { return Vec::new() };
    let Some(band) = workspace.reference.profile.bands().get(at) else { return Vec::new() };
    let mut found = Vec::new();
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
        }
    }
    found
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

struct Proposal<'a> {
    /// English name of a component.
    name: &'a dyn Fn(&str) -> String,
    day: usize,
    of: usize,
    chosen: &'a Plan,
    beyond: &'a [(String, f64)],
}

impl Proposal<'_> {
    /// A whole menu file; what it lacks stands in its comments.
    fn text(&self, candidates: &[Candidate], wish: &Wish, head: &Head, band: &AgeBand) -> String {
        let one = |at: usize| candidates.get(at);
        let taken = || {
            let sides = self.chosen.meals.iter().filter_map(|(_, side)| *side);
            self.chosen.meals.iter().map(|(main, _)| *main).chain(sides).chain(self.chosen.snacks.iter().copied())
        };
        let kcal: f64 = taken().filter_map(one).map(|one| one.kcal).sum();
        let mut out = String::from("# Proposed by `porringer menu suggest`; look it over before you use it.\n");
        let _ = writeln!(out, "# Food {kcal:.0} kcal; {:.0} are needed at {} months.", wish.kcal.0, band.key);
        let short: Vec<String> = wish
            .needs
            .iter()
            .zip(&self.chosen.have)
            .filter(|(need, have)| **have < need.need * 0.9995)
            .map(|(need, have)| format!("{} {:.0} %", (self.name)(&need.tag), (have / need.need * 100.0).floor()))
            .collect();
        if !short.is_empty() {
            comment(&format!("Less than the day's need: {}.", short.join(", ")), &mut out);
        }
        if !self.beyond.is_empty() {
            let names: Vec<String> = self
                .beyond
                .iter()
                .map(|(name, share)| format!("{name} ({:.0} % at most)", (share * 100.0).ceil()))
                .collect();
            comment(&format!("No such day from these dishes meets the need of: {}.", names.join(", ")), &mut out);
        }
        if !self.chosen.proven {
            out.push_str("# The search ended at its bound: a better day may exist.\n");
        }
        let title = if self.of == 1 { "Proposed day".to_owned() } else { format!("Proposed day {}", self.day) };
        let _ = writeln!(out, "menu     {title}\nfor      {}", head.ages);
        for (at, snack, name, items) in self.places() {
            let words: Vec<&str> = items.iter().filter_map(|at| one(*at)).map(|one| one.text.as_str()).collect();
            let keyword = if snack { "snack" } else { "meal" };
            let name = if name.is_empty() { String::new() } else { format!(" {name}") };
            let _ = writeln!(out, "{keyword:8} {}:{:02}{name}: {}", at / 60, at % 60, words.join(", "));
        }
        if let Some(season) = &head.season {
            let _ = writeln!(out, "season   {}", season.trim().to_lowercase());
        }
        out
    }

    /// Times of the day: meals spread from seven to half past six, snacks
    /// between them and after them.
    fn places(&self) -> Vec<(u16, bool, &'static str, Vec<usize>)> {
        let meals: &[(u16, &str)] = match self.chosen.meals.len() {
            1 => &[(750, "lunch")],
            2 => &[(480, "breakfast"), (1020, "supper")],
            3 => &[(420, "breakfast"), (750, "lunch"), (1080, "supper")],
            4 => &[(420, "breakfast"), (690, ""), (900, "lunch"), (1110, "supper")],
            5 => &[(390, "breakfast"), (570, ""), (750, "lunch"), (930, ""), (1110, "supper")],
            _ => &[(390, "breakfast"), (540, ""), (690, ""), (840, "lunch"), (990, ""), (1140, "supper")],
        };
        const SNACKS: [u16; 4] = [600, 960, 1200, 825];
        let mut places: Vec<(u16, bool, &'static str, Vec<usize>)> = self
            .chosen
            .meals
            .iter()
            .zip(meals)
            .map(|((main, side), (at, name))| (*at, false, *name, std::iter::once(*main).chain(*side).collect()))
            .collect();
        for (snack, at) in self.chosen.snacks.iter().zip(SNACKS) {
            places.push((at, true, "", vec![*snack]));
        }
        places.sort();
        places
    }
}

/// A comment over several lines.
fn comment(text: &str, out: &mut String) {
    const WIDTH: usize = 78;
    let mut line = String::from("#");
    for word in text.split(' ') {
        if line.chars().count() + word.chars().count() + 1 > WIDTH && line.len() > 1 {
            out.push_str(&line);
            out.push('\n');
            line = String::from("#");
        }
        line.push(' ');
        line.push_str(word);
    }
    out.push_str(&line);
    out.push('\n');
}

fn numbered(path: &Path, day: usize, of: usize) -> PathBuf {
    if of == 1 {
        return path.to_path_buf();
    }
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    path.with_file_name(format!("{stem}-{day}.menu"))
}
